package yard

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/data"
)

// gramsPerKilogram turns the base unit of weights into that of dry stock.
const gramsPerKilogram = 1000

// grams is the middle of a weight, in grams.
func (q Quantity) grams() float64 { return q.Mid() * gramsPerKilogram }

// stored puts a new lot of dried goods on the shelf. how is what the book of
// dried goods calls it.
func (s *State) stored(species, form, lot, from, how string, grams float64, e *Entry) *DryLot {
	l := &DryLot{Lot: cmp.Or(lot, e.ID), Species: species, Form: cmp.Or(form, "pieces"), On: e.On, From: from,
		InG: grams, Entry: e}
	s.Dry = append(s.Dry, l)
	s.moveDry(l, how, grams, e)
	return l
}

// dryLot finds a lot of dried goods by its number.
func (s *State) dryLot(lot string) *DryLot {
	for _, l := range s.Dry {
		if lot != "" && folded(l.Lot) == folded(lot) {
			return l
		}
	}
	return nil
}

// onHand lists the lots of a species that hold something, in the order in
// which they are used: the wanted form first, then the oldest. Lots stand in
// the order of their days.
func (s *State) onHand(species, form string) []*DryLot {
	var lots []*DryLot
	for _, l := range s.Dry {
		if l.Species == species && l.LeftG > 0 {
			lots = append(lots, l)
		}
	}
	slices.SortStableFunc(lots, func(a, b *DryLot) int {
		return otherForm(a, form) - otherForm(b, form)
	})
	return lots
}

func otherForm(l *DryLot, form string) int {
	if form == "" || l.Form == form {
		return 0
	}
	return 1
}

// OnHand is the dried weight of a species on the shelf, in grams; lots below
// zero count as empty.
func (s *State) OnHand(species string) float64 {
	sum := 0.0
	for _, l := range s.Dry {
		if l.Species == species {
			sum += max(0, l.LeftG)
		}
	}
	return sum
}

// usable is what of it can be had in a form: powder is ground of pieces too, and
// pieces are never had of powder.
func (s *State) usable(species, form string) float64 {
	sum := 0.0
	for _, l := range s.Dry {
		if l.Species == species && (form != "pieces" || l.Form != "powder") {
			sum += max(0, l.LeftG)
		}
	}
	return sum
}

// A use takes dried goods from the shelf.
type use struct {
	how string // what the book of dried goods calls it: DryUsed, DrySold, …
	key string // of the entry, at which is pointed
	e   *Entry
}

// useDry takes grams of a species from the shelf, from the lot named or from
// the oldest first, and returns what came from where. What is not there is
// taken all the same: the last lot goes below zero, and that is pointed at.
func (s *State) useDry(species, form, lot string, grams float64, u use) (taken []Taken, problems []Problem) {
	if lot != "" {
		return s.useLot(species, lot, grams, u)
	}
	last := (*DryLot)(nil)
	want := grams
	for _, l := range s.onHand(species, form) {
		g := min(want, l.LeftG)
		s.moveDry(l, u.how, -g, u.e)
		want -= g
		taken = append(taken, Taken{species, l.Lot, g})
		if last = l; want <= 0 {
			return taken, nil
		}
	}
	if last == nil {
		last = s.emptyLot(species, form, u.e)
		taken = append(taken, Taken{species, last.Lot, 0})
	}
	s.moveDry(last, u.how, -want, u.e)
	taken[len(taken)-1].Grams += want
	return taken, []Problem{u.e.odd(u.key, fmt.Sprintf("%.0f g of dried %s were %s, %.0f g more than the record has", grams, species, u.how, want),
		countSource)}
}

// useLot takes from one named lot.
func (s *State) useLot(species, lot string, grams float64, u use) ([]Taken, []Problem) {
	l := s.dryLot(lot)
	var problems []Problem
	switch {
	case l == nil:
		problems = append(problems, u.e.odd(u.key, fmt.Sprintf("no lot of dried goods is called %s", shown(lot)), s.lotRemedy(lot)))
		l = s.stored(species, "", lot, "", DryIn, 0, u.e)
	case species != "" && l.Species != species:
		problems = append(problems, u.e.odd(u.key, fmt.Sprintf("lot %s is %s, not %s", l.Lot, l.Species, species), "look at the lot's label"))
	}
	s.moveDry(l, u.how, -grams, u.e)
	if l.LeftG < -0.5 && l.InG > 0 {
		problems = append(problems, u.e.odd(u.key, fmt.Sprintf("lot %s held %.0f g less than was taken from it", l.Lot, -l.LeftG),
			weighLeft))
	}
	return []Taken{{l.Species, l.Lot, grams}}, problems
}

func (s *State) lotRemedy(lot string) string {
	names := make([]string, len(s.Dry))
	for i, l := range s.Dry {
		names[i] = l.Lot
	}
	if near, ok := data.Nearest(lot, names); ok {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return "record it with [[received]] or [[counted]]"
}

// emptyLot is a lot of which nothing is known but that something was taken
// from it; there is one for each species.
func (s *State) emptyLot(species, form string, e *Entry) *DryLot {
	for _, l := range slices.Backward(s.Dry) {
		if l.Species == species && (l.LeftG <= 0 || l.InG == 0) {
			return l
		}
	}
	l := s.stored(species, form, "not recorded: "+species, "", DryIn, 0, e)
	return l
}

// recipe finds a recipe by name.
func (s *State) recipe(name string) *Recipe {
	for i := range s.Recipes {
		if folded(s.Recipes[i].Name) == folded(name) {
			return &s.Recipes[i]
		}
	}
	return nil
}

func (s *State) recipeRemedy(name string) string {
	names := make([]string, len(s.Recipes))
	for i, r := range s.Recipes {
		names[i] = r.Name
	}
	if near, ok := data.Nearest(name, names); ok {
		return fmt.Sprintf("did you mean %s?", near)
	}
	return "add a [[recipe]] of that name to " + RecipesFile
}

// batch finds a batch by its lot.
func (s *State) batch(lot string) *Batch {
	for _, b := range s.Batches {
		if folded(b.Lot) == folded(lot) {
			return b
		}
	}
	return nil
}
