package tincture

import (
	"cmp"
	"slices"
	"strings"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Kept is a promise of bottles, and how surely it is kept.
type Kept struct {
	To, Recipe string
	Bottles    int
	By         yard.Date
	Chance     float64 // that the bottles are there on the day, with all that is promised of the recipe before it
}

// filling is the bottles that a batch brings: how many, and when.
type filling struct {
	recipe string
	table  []float64   // bottles at rising retention, see balanceDraws
	day    yard.Date   // on which they are filled, in every draw; zero: see days
	days   []yard.Date // by draw; zero: never
}

// count is the bottles that are there by a day in a draw, at the share u of
// what the marc may hold.
func (f *filling) count(draw int, by yard.Date, u float64) float64 {
	day := f.day
	if f.days != nil {
		day = f.days[draw]
	}
	if day == 0 || day > by {
		return 0
	}
	return f.table[min(int(u*float64(len(f.table))), len(f.table)-1)]
}

// pressing is, by draw, the share of what the marc may hold that it does hold.
// It is the same for all batches of a draw: what one pair of hands leaves in
// one batch it leaves in the next.
func (s *scheduler) pressing() []float64 {
	if s.pressed == nil {
		streams := chance.NewStreams(s.terms.Seed, "marc", "kitchen")
		for d := range s.follow {
			s.pressed = append(s.pressed, streams.Draw(d).Float64())
		}
	}
	return s.pressed
}

// bottledIn notes in which draw the batch that was described last is bottled
// when, the calendar being followed.
func (s *scheduler) bottledIn(r yard.Recipe, l *placing) {
	f := &s.fills[len(s.fills)-1]
	f.day, f.days = 0, make([]yard.Date, len(l.follow))
	for d, at := range l.follow {
		if at.start != 0 {
			f.days[d] = s.diary.bottledOn(r, at.strain)
		}
	}
}

// onShelf is the bottles of a recipe on hand.
func (s *scheduler) onShelf(recipe string) (n int) {
	for _, b := range s.terms.Shelf {
		if strings.EqualFold(b.Recipe, recipe) {
			for _, c := range b.Bottles {
				n += c.Count
			}
		}
	}
	return max(n, 0)
}

// promisedAhead is how far ahead a promise that comes again is followed, days.
const promisedAhead = 365

// due are the bottles promised of the recipes that are known, in order of day.
// What was due before today is taken as handed over.
func (s *scheduler) due(known []yard.Recipe) (due []Kept) {
	for _, p := range s.terms.Promised {
		i := slices.IndexFunc(known, func(r yard.Recipe) bool { return strings.EqualFold(r.Name, p.What) })
		if i < 0 || p.Amount.Unit != yard.Piece && p.Amount.Unit != yard.Millilitre || !(known[i].BottleML > 0) {
			continue
		}
		n := int(p.Amount.High + 0.5)
		if p.Amount.Unit == yard.Millilitre {
			n = bottlesHolding(p.Amount.High, known[i].BottleSizes())
		}
		day := p.By
		if day == 0 {
			day = s.terms.AsOf + yard.Date(p.Every)
		}
		for ; day <= s.terms.Until; day += yard.Date(p.Every) {
			if day >= s.terms.AsOf && n > 0 {
				due = append(due, Kept{To: p.To, Recipe: known[i].Name, Bottles: n, By: day})
			}
			if p.Every <= 0 || day > s.terms.AsOf+promisedAhead {
				break
			}
		}
	}
	slices.SortStableFunc(due, func(a, b Kept) int { return cmp.Compare(a.By, b.By) })
	return due
}

// promises counts the draws in which each promise is kept, and all of them.
func (s *scheduler) promises(known []yard.Recipe) {
	due := s.due(known)
	s.plan.Keeps, s.plan.Promises = 1, due
	if len(due) == 0 {
		return
	}
	kept, all := make([]int, len(due)), 0
	for d, u := range s.pressing() {
		every := true
		wanted := map[string]int{}
		for i, k := range due {
			wanted[k.Recipe] += k.Bottles
			if s.there(k.Recipe, d, k.By, u) >= float64(wanted[k.Recipe]) {
				kept[i]++
			} else {
				every = false
			}
		}
		if every {
			all++
		}
	}
	for i := range due {
		due[i].Chance = float64(kept[i]) / float64(len(s.follow))
	}
	s.plan.Keeps = float64(all) / float64(len(s.follow))
}

// there is the bottles of a recipe that are filled by a day in a draw, with
// those on the shelf.
func (s *scheduler) there(recipe string, draw int, by yard.Date, u float64) float64 {
	n := float64(s.onShelf(recipe))
	for i := range s.fills {
		if f := &s.fills[i]; strings.EqualFold(f.recipe, recipe) {
			n += f.count(draw, by, u)
		}
	}
	return n
}
