package yard

import (
	"fmt"
	"slices"
)

// How bottles come to the shelf and leave it; what is sold, given, eaten and
// spoiled goes by the names of dried goods.
const (
	BottlesIn          = "in" // filled, or counted where nothing was written before
	BottlesUnexplained = "unexplained"
)

// BottleMove is bottles that came to the shelf, above zero, or left it, below.
type BottleMove struct {
	On          When
	Recipe, Lot string
	How         string // BottlesIn, DrySold, DryGiven, DryEaten, DrySpoiled or BottlesUnexplained
	Count       int
	Entry       *Entry
}

// count is the number of bottles of all sizes.
func (b BottleStock) count() (n int) {
	for _, c := range b.Bottles {
		n += c.Count
	}
	return n
}

// moveBottles notes a change in the book; the stock is changed by the caller.
func (s *State) moveBottles(b BottleStock, how string, n int, e *Entry) {
	if n != 0 {
		s.BottleMoves = append(s.BottleMoves, BottleMove{e.On, b.Recipe, b.Lot, how, n, e})
	}
}

// shelve puts bottles that were filled on the shelf.
func (s *State) shelve(b BottleStock, e *Entry) {
	b.Bottles = slices.Clone(b.Bottles) // the batch keeps what was filled
	s.Bottles = append(s.Bottles, b)
	s.moveBottles(b, BottlesIn, b.count(), e)
}

// takeBottles takes bottles off the shelf: those of a lot, or the oldest
// where no lot is named and all are of one recipe. What is not there is taken
// all the same, and pointed at.
func (s *State) takeBottles(lot string, bottles []BottleCount, how string, e *Entry) []Problem {
	from, problems := s.bottlesOf(lot, e)
	if from == nil {
		return problems
	}
	for _, want := range bottles {
		problems = append(problems, s.takeSize(from, want, how, e)...)
	}
	return problems
}

// bottlesOf finds the stocks that a lot names: of that lot, else of the recipe
// of the batch of that lot, because a stock-take no longer tells lots apart.
func (s *State) bottlesOf(lot string, e *Entry) (from []int, problems []Problem) {
	if lot == "" {
		for i := range s.Bottles {
			if s.Bottles[i].Recipe != s.Bottles[0].Recipe {
				return nil, []Problem{e.odd("bottles", "bottles of several recipes are on the shelf, and of which these are is not said: none are taken off",
					"correct the entry with lot = the lot on their labels")}
			}
			from = append(from, i)
		}
	}
	recipe := ""
	if b := s.batch(lot); b != nil {
		recipe = b.Named()
	}
	for _, is := range []func(b BottleStock) bool{
		func(b BottleStock) bool { return folded(b.Lot) == folded(lot) },
		func(b BottleStock) bool { return recipe != "" && b.Recipe == recipe },
	} {
		for i, b := range s.Bottles {
			if lot != "" && len(from) == 0 && is(b) {
				from = append(from, i)
			}
		}
	}
	if len(from) == 0 {
		of, way := "", countNoLot
		if lot != "" {
			of, way = " of lot "+lot, countThatLot
		}
		problems = []Problem{e.odd("bottles", "the record has no bottles"+of+": they count as taken all the same", way)}
		s.Bottles = append(s.Bottles, BottleStock{Recipe: recipe, Lot: lot})
		from = []int{len(s.Bottles) - 1}
	}
	return from, problems
}

// takeSize takes a number of bottles of one size, of any where it is not said.
func (s *State) takeSize(from []int, want BottleCount, how string, e *Entry) []Problem {
	left := want.Count
	for _, i := range from {
		b := &s.Bottles[i]
		for k := range b.Bottles {
			c := &b.Bottles[k]
			if want.SizeML != 0 && c.SizeML != want.SizeML || c.Count <= 0 {
				continue
			}
			n := min(left, c.Count)
			c.Count -= n
			left -= n
			s.moveBottles(*b, how, -n, e)
		}
	}
	if left == 0 {
		return nil
	}
	b := &s.Bottles[from[len(from)-1]]
	had := len(b.Bottles) > 0
	b.short(BottleCount{want.SizeML, left})
	s.moveBottles(*b, how, -left, e)
	if !had {
		return nil // said already
	}
	return []Problem{e.odd("bottles", fmt.Sprintf("%d bottles were %s, %d more than the record has", want.Count, how, left),
		countShelf)}
}

// short takes bottles that are not there.
func (b *BottleStock) short(c BottleCount) {
	for i := range b.Bottles {
		if c.SizeML == 0 || b.Bottles[i].SizeML == c.SizeML {
			b.Bottles[i].Count -= c.Count
			return
		}
	}
	b.Bottles = append(b.Bottles, BottleCount{c.SizeML, -c.Count})
}

// BottleTerms is the book of the bottles of a recipe:
//
//	In + Unexplained = Left + Sold + Given + Eaten + Spoiled
type BottleTerms struct {
	Recipe             string
	In                 int
	Sold, Given, Eaten int
	Spoiled            int
	Unexplained        int          // above zero: more were there than the record had; below: fewer
	Differences        []BottleMove // each unexplained difference, with its day
	Left               int          // below zero: more were taken than the record had
}

// BottleBook is the book of bottles by recipe, in the order in which they
// first came; "" is bottles of no recipe that is known.
func (s *State) BottleBook() []BottleTerms {
	var out []BottleTerms
	of := func(recipe string) *BottleTerms {
		for i := range out {
			if out[i].Recipe == recipe {
				return &out[i]
			}
		}
		out = append(out, BottleTerms{Recipe: recipe})
		return &out[len(out)-1]
	}
	for _, m := range s.BottleMoves {
		of(m.Recipe).add(m)
	}
	for _, b := range s.Bottles {
		of(b.Recipe).Left += b.count()
	}
	return out
}

func (t *BottleTerms) add(m BottleMove) {
	switch m.How {
	case BottlesIn:
		t.In += m.Count
	case DrySold:
		t.Sold -= m.Count
	case DryGiven:
		t.Given -= m.Count
	case DryEaten:
		t.Eaten -= m.Count
	case DrySpoiled:
		t.Spoiled -= m.Count
	case BottlesUnexplained:
		t.Unexplained += m.Count
		t.Differences = append(t.Differences, m)
	}
}

func (t BottleTerms) sides() (in, out []posting) {
	return []posting{{"in", float64(t.In)}, {"unexplained", float64(t.Unexplained)}},
		[]posting{{"left", float64(t.Left)}, {"sold", float64(t.Sold)}, {"given", float64(t.Given)}, {"eaten", float64(t.Eaten)}, {"spoiled", float64(t.Spoiled)}}
}

// Balance is an error if bottles came of nothing or went to nothing.
func (t BottleTerms) Balance() error {
	in, out := t.sides()
	return balance(bookOf("bottles", t.Recipe), "bottles", in, out)
}

// String is the book in one line: "in 10 = left 7 + sold 3".
func (t BottleTerms) String() string {
	in, out := t.sides()
	return inTerms(in) + " = " + inTerms(out)
}
