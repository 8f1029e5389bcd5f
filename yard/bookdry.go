package yard

import (
	"cmp"
	"slices"
)

// How dried goods come to the shelf and leave it.
const (
	DryIn          = "in"   // dried, received, bought, or counted where nothing was written before
	DryUsed        = "used" // went into a batch
	DrySold        = "sold"
	DryGiven       = "given"
	DryEaten       = "eaten"
	DrySpoiled     = "spoiled"
	DryGround      = "ground" // from one lot to another: it goes out there and comes in here
	DryUnexplained = "unexplained"
)

// DryMove is dried goods that came to a lot, above zero, or left it, below.
type DryMove struct {
	On                 When
	Lot, Species, Form string
	How                string // DryIn, DryUsed, …
	G                  float64
	Entry              *Entry
}

// moveDry changes what is left of a lot, and notes it in the book. Nothing
// else changes LeftG.
func (s *State) moveDry(l *DryLot, how string, grams float64, e *Entry) {
	if grams == 0 {
		return
	}
	l.LeftG += grams
	s.DryMoves = append(s.DryMoves, DryMove{e.On, l.Lot, l.Species, l.Form, how, grams, e})
}

// afterCount is what a count calls the goods it finds beyond the record: an
// opening stock where nothing of the kind was ever written but what stood in jars
// already, else unexplained.
func (s *State) afterCount(species, form string) string {
	form = cmp.Or(form, "pieces")
	if slices.ContainsFunc(s.DryMoves, func(m DryMove) bool { return m.Species == species && m.Form == form && m.How != DryUsed }) {
		return DryUnexplained
	}
	return DryIn
}

// DryTerms is the book of dried goods of one kind, in grams:
//
//	In + Unexplained = Left + Used + Sold + Given + Eaten + Spoiled + Ground
type DryTerms struct {
	Species, Form, Lot string // what it is of; "" all of them
	In, Used           float64
	Sold, Given, Eaten float64
	Spoiled            float64
	Ground             float64   // to another lot; below zero: from another one
	Unexplained        float64   // above zero: more was there than the record had; below: less
	Differences        []DryMove // each unexplained difference, with its day
	Left               float64   // below zero: more was taken than the record had
}

// DryTermsOf is the book of the dried goods of a species, form and lot; ""
// takes all of them.
func (s *State) DryTermsOf(species, form, lot string) DryTerms {
	return s.dryTerms(DryTerms{Species: species, Form: form, Lot: lot}, func(sp, f, l string) bool {
		return (species == "" || sp == species) && (form == "" || f == form) && (lot == "" || folded(l) == folded(lot))
	})
}

// dryTerms fills in the terms of what is meant.
func (s *State) dryTerms(t DryTerms, is func(species, form, lot string) bool) DryTerms {
	for _, m := range s.DryMoves {
		if is(m.Species, m.Form, m.Lot) {
			t.add(m)
		}
	}
	for _, l := range s.Dry {
		if is(l.Species, l.Form, l.Lot) {
			t.Left += l.LeftG
		}
	}
	return t
}

func (t *DryTerms) add(m DryMove) {
	switch m.How {
	case DryIn:
		t.In += m.G
	case DryUsed:
		t.Used -= m.G
	case DrySold:
		t.Sold -= m.G
	case DryGiven:
		t.Given -= m.G
	case DryEaten:
		t.Eaten -= m.G
	case DrySpoiled:
		t.Spoiled -= m.G
	case DryGround:
		t.Ground -= m.G
	case DryUnexplained:
		t.Unexplained += m.G
		t.Differences = append(t.Differences, m)
	}
}

// DryBook is the book of dried goods by species and form, in the order in
// which they first came.
func (s *State) DryBook() []DryTerms {
	var out []DryTerms
	for _, l := range s.Dry {
		if !slices.ContainsFunc(out, func(t DryTerms) bool { return t.Species == l.Species && t.Form == l.Form }) {
			out = append(out, s.dryTerms(DryTerms{Species: l.Species, Form: l.Form}, func(species, form, _ string) bool {
				return species == l.Species && form == l.Form
			}))
		}
	}
	return out
}

// DryBookByLot is the book of each lot, in the order of s.Dry. Lots of one
// name are one.
func (s *State) DryBookByLot() []DryTerms {
	var out []DryTerms
	for _, l := range s.Dry {
		if !slices.ContainsFunc(out, func(t DryTerms) bool {
			return folded(t.Lot) == folded(l.Lot) && t.Species == l.Species && t.Form == l.Form
		}) {
			out = append(out, s.dryTerms(DryTerms{Species: l.Species, Form: l.Form, Lot: l.Lot}, func(species, form, lot string) bool {
				return species == l.Species && form == l.Form && folded(lot) == folded(l.Lot)
			}))
		}
	}
	return out
}

func (t DryTerms) sides() (in, out []posting) {
	return []posting{{"in", t.In}, {"unexplained", t.Unexplained}},
		[]posting{{"left", t.Left}, {"used", t.Used}, {"sold", t.Sold}, {"given", t.Given}, {"eaten", t.Eaten}, {"spoiled", t.Spoiled}, {"ground", t.Ground}}
}

// Balance is an error if goods came of nothing or went to nothing.
func (t DryTerms) Balance() error {
	in, out := t.sides()
	return balance(bookOf(bookOf(bookOf("dried goods", t.Species), t.Form), t.Lot), "g", in, out)
}

// String is the book in one line, in grams: "in 240 = left 190 + used 50".
func (t DryTerms) String() string {
	in, out := t.sides()
	return inTerms(in) + " = " + inTerms(out)
}
