package yard

import (
	"cmp"
	"fmt"
	"slices"
)

// FreshTerms is the book of what was picked of a species, in kilograms as
// weighed, over the days From to To:
//
//	Picked = Sold + Given + Eaten + Dried + Spoiled + NotWritten
//
// NotWritten is what nobody wrote what became of. Below zero, more went than
// was picked, and something was not written down or weighed wrongly. A pick
// nobody weighed is not in it, and a basket from several piles is in it once.
type FreshTerms struct {
	Species            string
	From, To           Date // both included; zero: open
	Picked             float64
	Sold, Given, Eaten float64
	Dried              float64 // went into the drier
	Spoiled            float64
	NotWritten         float64
}

// FreshMove is fresh mushrooms that were picked or that went somewhere, in
// kilograms.
type FreshMove struct {
	On      When
	Species string
	How     string // "picked", "sold", "given", "eaten", "dried" or "spoiled"
	KG      Span
	Entry   *Entry
}

// FreshMoves are all that the book of fresh mushrooms is made of, by day.
func (s *State) FreshMoves() []FreshMove {
	var out []FreshMove
	for _, k := range s.Picks {
		if k.Weighed {
			out = append(out, FreshMove{k.On, k.Species, "picked", k.Fresh, k.Entry})
		}
	}
	for _, w := range s.Went {
		out = append(out, FreshMove{w.On, w.Species, w.Kind, w.FreshKG, w.Entry})
	}
	for _, l := range slices.Concat(s.Loads, s.unloaded) {
		out = append(out, FreshMove{l.On, l.Species, "dried", l.FreshKG, l.Entry})
	}
	out = slices.DeleteFunc(out, func(m FreshMove) bool { return !m.KG.Known() })
	slices.SortStableFunc(out, func(a, b FreshMove) int { return cmp.Compare(a.On.Mid(), b.On.Mid()) })
	return out
}

// FreshTermsOf is the book of a species over the days from to to, both
// included; zero leaves a side open, and "" takes all species together.
func (s *State) FreshTermsOf(species string, from, to Date) FreshTerms {
	t := FreshTerms{Species: species, From: from, To: to}
	t.sum(s.FreshMoves(), species == "")
	return t
}

// sum fills in the terms of t.Species, or of all species.
func (t *FreshTerms) sum(moves []FreshMove, all bool) {
	within := period{t.From, t.To}
	for _, m := range moves {
		if (all || m.Species == t.Species) && within.has(m.On) {
			t.add(m)
		}
	}
	t.NotWritten = t.Picked - t.gone()
}

func (t *FreshTerms) add(m FreshMove) {
	kg := m.KG.Mid()
	switch m.How {
	case "picked":
		t.Picked += kg
	case "sold":
		t.Sold += kg
	case "given":
		t.Given += kg
	case "eaten":
		t.Eaten += kg
	case "dried":
		t.Dried += kg
	case "spoiled":
		t.Spoiled += kg
	}
}

func (t FreshTerms) gone() float64 { return t.Sold + t.Given + t.Eaten + t.Dried + t.Spoiled }

// FreshBook is the book of each species over the days from to to, both
// included, in the order of their names; zero leaves a side open. "" is what
// was picked of no species that anyone named.
func (s *State) FreshBook(from, to Date) []FreshTerms {
	within := period{from, to}
	moves := s.FreshMoves()
	var names []string
	for _, m := range moves {
		if within.has(m.On) && !slices.Contains(names, m.Species) {
			names = append(names, m.Species)
		}
	}
	slices.Sort(names)
	out := make([]FreshTerms, len(names))
	for i, name := range names {
		out[i] = FreshTerms{Species: name, From: from, To: to}
		out[i].sum(moves, false)
	}
	return out
}

// FreshYears are the books of each species in every calendar year of which
// something is written, oldest first.
func (s *State) FreshYears() []FreshTerms {
	var years []int
	for _, m := range s.FreshMoves() {
		if y := m.On.Mid().Year(); !slices.Contains(years, y) {
			years = append(years, y)
		}
	}
	slices.Sort(years)
	var out []FreshTerms
	for _, y := range years {
		out = append(out, s.FreshBook(NewDate(y, 1, 1), NewDate(y, 12, 31))...)
	}
	return out
}

func (t FreshTerms) sides() (in, out []posting) {
	return []posting{{"picked", t.Picked}},
		[]posting{{"sold", t.Sold}, {"given", t.Given}, {"eaten", t.Eaten}, {"dried", t.Dried}, {"spoiled", t.Spoiled}, {"not written down", t.NotWritten}}
}

// Balance is an error if the terms do not add up.
func (t FreshTerms) Balance() error {
	in, out := t.sides()
	return balance(bookOf("fresh mushrooms", t.Species), "kg", in, out)
}

// String is the book in one line, in kilograms: "picked 2.4 = sold 1.2 + not
// written down 1.2".
func (t FreshTerms) String() string {
	in, out := t.sides()
	return inTerms(in) + " = " + inTerms(out)
}

// oddFresh points at the first thing that went after everything picked of its
// species until then was gone. What is known only between bounds, a day or a
// weight, has the benefit of the doubt.
func oddFresh(s *State) []Problem {
	type sum struct {
		FreshTerms
		most, least float64 // picked at most, gone at least
		said        bool
	}
	moves := s.FreshMoves()
	slices.SortStableFunc(moves, func(a, b FreshMove) int { return cmp.Compare(a.latest(), b.latest()) })
	sums := map[string]*sum{}
	var problems []Problem
	for _, m := range moves {
		t := sums[m.Species]
		if t == nil {
			t = &sum{}
			sums[m.Species] = t
		}
		t.add(m)
		if m.How == "picked" {
			t.most += m.KG.High
			continue
		}
		t.least += m.KG.Low
		if t.said || t.most == 0 || t.least <= t.most*(1+nearlyNothing) {
			continue // where no pick was ever weighed, nobody keeps this book
		}
		t.said = true
		t.NotWritten = t.Picked - t.gone()
		problems = append(problems, m.Entry.odd("fresh", fmt.Sprintf("more %s went than was picked until then: in kg, %s", cmp.Or(m.Species, "of no species that was named"), t),
			"look at the weights; a harvest may not be written down"))
	}
	return problems
}

// latest is the day by which a thing had gone, and for a pick the first day on
// which it can have come.
func (m FreshMove) latest() Date {
	if m.How == "picked" {
		return m.On.From
	}
	return m.On.To
}
