package forecast

import (
	"cmp"
	"math"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// Waiting is what is left of a picking.
type Waiting struct {
	Species string
	KG      float64
	Picked  yard.Date // the earliest day it can have been
	Until   yard.Date // last day on which it is fresh, as long as it is kept cold
	Lot     string
	Piles   []string
}

// InTheCold is what is fresh in the cold by the record: what was picked, less
// what was sold, given, eaten, dried and spoiled, soonest last day first. older
// is what is left by the record of pickings of the year of AsOf that can no
// longer be fresh: nobody wrote what became of them.
//
// Purpose: stock of fresh mushrooms. Equations: what went on a day is taken
// from the picking that it names, else from the oldest that can still have been
// fresh then, else from the last before. Parameters: keeps of data.Species, days of
// [cold], the lesser of both. State: none. Errors: none; what went and was never
// picked is taken from nothing.
func InTheCold(s *yard.State, d *data.Set) (fresh, older []Waiting) {
	all := picksOf(s, d)
	for _, m := range s.FreshMoves() {
		if m.How == "picked" || m.On.From > s.AsOf {
			continue
		}
		takeFrom(all, m, namedPick(s, m.Entry))
	}
	for _, w := range all {
		switch {
		case w.KG < leastPicking:
		case w.Until >= s.AsOf:
			fresh = append(fresh, *w)
		case w.Picked.Year() == s.AsOf.Year():
			older = append(older, *w)
		}
	}
	return fresh, older
}

// picksOf are the weighed pickings up to today, by their last day.
func picksOf(s *yard.State, d *data.Set) (all []*Waiting) {
	for _, k := range s.Picks {
		if !k.Weighed || k.Season || k.On.From > s.AsOf || !k.Fresh.Known() {
			continue
		}
		all = append(all, &Waiting{Species: k.Species, KG: k.Fresh.Mid(), Picked: k.On.From,
			Until: k.On.From + keepsDays(s, d, k.Species), Lot: k.Lot, Piles: k.Piles})
	}
	slices.SortStableFunc(all, func(a, b *Waiting) int { return cmp.Compare(a.Until, b.Until) })
	return all
}

// takeFrom takes what went from the pickings.
func takeFrom(all []*Waiting, m yard.FreshMove, lot string) {
	kg := m.KG.Mid()
	take := func(w *Waiting) {
		got := min(kg, w.KG)
		w.KG -= got
		kg -= got
	}
	ours := func(w *Waiting) bool { return w.Species == m.Species && w.Picked <= m.On.To }
	for _, w := range all {
		if lot != "" && word(w.Lot) == word(lot) && ours(w) {
			take(w)
		}
	}
	for _, w := range all {
		if ours(w) && w.Until >= m.On.From {
			take(w)
		}
	}
	for _, w := range slices.Backward(all) {
		if ours(w) {
			take(w)
		}
	}
}

// namedPick is the lot that an entry names of what went, "" none.
func namedPick(s *yard.State, e *yard.Entry) string {
	if e == nil {
		return ""
	}
	for _, w := range s.Went {
		if w.Entry == e {
			return w.Lot
		}
	}
	for _, l := range s.Loads {
		if l.Entry == e {
			return l.From
		}
	}
	return ""
}

// keepsDays is for how many days a species keeps in the cold: as its kind
// does, or as the grower keeps it, the lesser. Where neither says, as the one
// that keeps least of all known.
func keepsDays(s *yard.State, d *data.Set, species string) yard.Date {
	days := 0.0
	name := species
	for _, o := range s.Config.Own {
		if o.Name == species && o.Like != "" {
			name = o.Like
		}
	}
	if sp, ok := d.FindSpecies(name); ok {
		days = sp.Keeps.Value
	}
	if c := s.Config.Cold.Days; c > 0 && (days == 0 || c < days) {
		days = c
	}
	if days == 0 {
		days = leastKeeps(d)
	}
	return yard.Date(math.Floor(days))
}

func leastKeeps(d *data.Set) (days float64) {
	for i := range d.Species {
		if k := d.Species[i].Keeps.Value; k > 0 && (days == 0 || k < days) {
			days = k
		}
	}
	return days
}
