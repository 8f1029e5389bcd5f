package score

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// Kind is what an outcome is of.
type Kind string

// The kinds of outcome, all of them things that are seen.
const (
	FirstHarvest Kind = "first harvest"
	Look         Kind = "look"
	Kilograms    Kind = "kilograms"
)

// Kinds are all of them, in the order in which they are told.
var Kinds = []Kind{FirstHarvest, Look, Kilograms}

// Outcome is one thing that was seen and could have been forecast.
type Outcome struct {
	Yard    string // name of the yard
	Climate string // name of its normals
	Pile    string
	Species string
	Kind    Kind
	On      yard.Date // the day by which it was seen
	// Odd is true where a mean year is so far from that of the place to which the
	// trade's window of the strain belongs that to beat the rule of thumb is no
	// feat.
	Odd bool

	// First harvest: it came on or after From and on or before To. To is zero
	// where it had not come: then it is only known not to come before From.
	From, To yard.Date
	// Look: With of LookedAt log ends had a white ring.
	With, LookedAt int
	// Kilograms: fresh, picked from the pile in a calendar year, at least and
	// at most.
	Year            int
	LowKG, HighKG   float64
	began           yard.Date // first day on which it may have been there
	since           yard.Date // the pile's first day
	strain          *data.Strain
	speciesOfStrain *data.Species
}

// Open reports whether a first harvest had not come when it was last looked
// for.
func (o *Outcome) Open() bool { return o.Kind == FirstHarvest && o.To == 0 }

// Since is the first day on which a first harvest could have come: From is that
// day where no visit before it is written down.
func (o *Outcome) Since() yard.Date { return o.since }

// weeksSeen is in how many weeks of a year somebody must have gone round, for
// nothing written to mean that nothing came. Our own judgement.
const weeksSeen = 3

// vagueDays is how vague the day of a visit may be to count as one.
const vagueDays = 31

// outcomesOf collects what was seen on the piles of a yard up to a day.
func outcomesOf(s *yard.State, set *data.Set, today yard.Date) []Outcome {
	var all []Outcome
	for _, p := range s.Piles {
		sp, strain := grownAs(p, set)
		if strain == nil || p.Since.IsZero() {
			continue
		}
		about := Outcome{Yard: s.Config.Name, Pile: p.Name, Species: p.Species, strain: strain, speciesOfStrain: sp}
		if o, ok := firstHarvest(about, p); ok {
			all = append(all, o)
		}
		all = append(all, looks(about, p)...)
		all = append(all, kilograms(about, p, today)...)
	}
	return all
}

// grownAs is the species and strain as which a pile is forecast; nil where it
// is not.
func grownAs(p *yard.Pile, set *data.Set) (*data.Species, *data.Strain) {
	sp, ok := set.FindSpecies(p.Like)
	if !ok || !sp.Grown || len(sp.Strains) == 0 {
		return nil, nil
	}
	if st, ok := sp.FindStrain(p.Strain); ok {
		return sp, st
	}
	return sp, &sp.Strains[0]
}

// fruited is the first picking of a pile after a day, or nil; pins count as one
// where none is written within the time that they take to grow; st is nil where
// nobody knows how long that is.
func fruited(p *yard.Pile, st *data.Strain, after yard.Date) *yard.Seen {
	var pins, picking *yard.Seen
	for i := range p.Seen {
		s := &p.Seen[i]
		if s.On.To <= after {
			continue
		}
		switch {
		case s.Kind == "harvested" && (picking == nil || s.On.To < picking.On.To):
			picking = s
		case s.Kind == "pinned" && (pins == nil || s.On.To < pins.On.To):
			pins = s
		}
	}
	grow := yard.Date(0)
	if st != nil {
		grow = yard.Date(pinsGrow * st.Fruit.DaysCool.Value)
	}
	if picking == nil || pins != nil && pins.On.To < picking.On.To-grow {
		return pins
	}
	return picking
}

// pinsGrow is in how many times the slowest growth of its strain pins have
// become a picking. Our own judgement.
const pinsGrow = 2

// firstHarvest lies between the last visit on which nothing was up and the
// first picking. A visit is a round on which nothing was up or only pins were, a
// look at log ends or at a pest, or a weighing of logs: somebody stood before the
// pile and wrote down something else. A harvest that is not in the record says
// nothing.
func firstHarvest(o Outcome, p *yard.Pile) (Outcome, bool) {
	o.Kind = FirstHarvest
	first := fruited(p, o.strain, p.Since.From-1)
	o.From, o.since = p.Since.From, p.Since.From
	visited := lastVisit(p, first)
	if visited != 0 {
		o.From = max(o.From, visited+1)
	}
	switch {
	case first != nil:
		o.On, o.To, o.began = first.On.To, first.On.To, first.On.From
	case visited != 0:
		o.On, o.began = visited, visited
	default:
		return o, false
	}
	return o, true
}

// lastVisit is the last day, before anything was up, on which somebody was at
// a pile; zero where none is written.
func lastVisit(p *yard.Pile, first *yard.Seen) (last yard.Date) {
	visit := func(w yard.When) {
		if w.To-w.From <= vagueDays && (first == nil || w.To < first.On.From) {
			last = max(last, w.From)
		}
	}
	for _, s := range p.Seen {
		visit(s.On)
	}
	for _, w := range p.Weighed {
		visit(w.On)
	}
	return last
}

// looks are those at log ends, on a day that is known, the first of each day.
func looks(about Outcome, p *yard.Pile) (all []Outcome) {
	days := map[yard.Date]bool{}
	for _, s := range p.Seen {
		if s.Kind != "checked" || !s.On.Exact() || s.LookedAt <= 0 || s.With < 0 || days[s.On.From] {
			continue
		}
		days[s.On.From] = true
		o := about
		o.Kind, o.On, o.began = Look, s.On.From, s.On.From
		o.With, o.LookedAt = min(s.With, s.LookedAt), s.LookedAt
		all = append(all, o)
	}
	return all
}

// kilograms are those of whole calendar years in which all was weighed. A year
// with a basket from several piles is left out, since nobody knows how much of
// it came from which; and a year in which nothing is written counts as nought
// only where somebody went round in several weeks of it.
func kilograms(about Outcome, p *yard.Pile, today yard.Date) (all []Outcome) {
	for year := p.Since.From.Year(); year < today.Year(); year++ {
		low, high, ok := picked(p, year)
		if !ok || (high == 0 && weeks(p, year) < weeksSeen) {
			continue
		}
		o := about
		o.Kind, o.Year, o.LowKG, o.HighKG = Kilograms, year, low, high
		o.On = yard.NewDate(year, 12, 31)
		o.began = yard.NewDate(year, 1, 1) + 1
		all = append(all, o)
	}
	return all
}

// picked is what was picked from a pile in a year; ok is false where that is
// not known.
func picked(p *yard.Pile, year int) (low, high float64, ok bool) {
	for _, k := range p.Picks {
		if k.On.To.Year() < year || k.On.From.Year() > year || k.Species != p.Species {
			continue
		}
		if k.On.From.Year() != k.On.To.Year() || len(k.Piles) > 1 || !k.Weighed || !finite(k.Fresh.Low, k.Fresh.High) {
			return 0, 0, false
		}
		low, high = low+k.Fresh.Low, high+k.Fresh.High
	}
	return low, high, true
}

func finite(xs ...float64) bool {
	return !slices.ContainsFunc(xs, func(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) })
}

// weeks is in how many weeks of a year somebody is known to have been at a
// pile and to have seen whether anything was up.
func weeks(p *yard.Pile, year int) int {
	seen := map[int]bool{}
	for _, s := range p.Seen {
		if (s.Kind == "walked" && s.Part == "" || s.Kind == "harvested" || s.Kind == "pinned") && s.On.From.Year() == year && s.On.To-s.On.From <= vagueDays {
			_, w := s.On.From.Week()
			seen[w] = true
		}
	}
	return len(seen)
}
