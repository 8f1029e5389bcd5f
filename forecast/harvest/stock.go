package harvest

import (
	"slices"

	"hodaba/yard"
)

// Stock is the dried stock that can be counted on, by draw, species and day:
// what is on hand, what the piles bring, what comes from outside. Amounts are
// kept in whole milligrams, so that the order in which piles add to it makes
// no difference.
type Stock struct {
	draws   int
	species map[string]*shelf
}

type shelf struct {
	pieces, powder int64    // mg on hand at the start, every draw
	in             [][]inMg // by draw; dries as pieces
	done           bool
}

// Forms in which mushrooms are wanted. What is dried is pieces; pieces can be
// ground, and powder is no more what it was.
const (
	Fresh  = "fresh"  // not dried: what is picked from now on
	Pieces = "pieces" // what is on hand as pieces, and what is still to be dried
	Powder = "powder" // powder on hand, and all pieces
)

type inMg struct {
	day yard.Date
	mg  int64
}

// NewStock returns an empty stock for a number of draws.
func NewStock(draws int) *Stock {
	return &Stock{draws: draws, species: map[string]*shelf{}}
}

// Draws is the number of draws the stock was made for.
func (s *Stock) Draws() int { return s.draws }

// Hold puts g grams of a species on hand from the first day, in every draw: as
// powder, else as pieces.
func (s *Stock) Hold(species, form string, g float64) {
	sh := s.shelf(species)
	if form == Powder {
		sh.powder += mg(g)
	} else {
		sh.pieces += mg(g)
	}
}

// hand is what is on hand for a form, mg.
func (sh *shelf) hand(form string) int64 {
	switch form {
	case Fresh:
		return 0
	case Powder:
		return sh.pieces + sh.powder
	}
	return sh.pieces
}

// Add brings g grams of a species into one draw on a day. It is not safe for
// two goroutines on the same draw.
func (s *Stock) Add(species string, draw int, day yard.Date, g float64) {
	sh := s.shelf(species)
	sh.in[draw] = append(sh.in[draw], inMg{day, mg(g)})
	sh.done = false
}

// Close sorts and sums what was added; it must be called before FirstDay and
// OnHand.
func (s *Stock) Close() {
	for _, sh := range s.species {
		if sh.done {
			continue
		}
		for d := range sh.in {
			slices.SortFunc(sh.in[d], func(a, b inMg) int { return int(a.day - b.day) })
		}
		sh.done = true
	}
}

// FirstDay returns the first day on which g grams of a species have come in
// altogether that can be had in a form, what was on hand included; before any
// inflow that is the zero Date. Fresh grams are those that they would weigh
// dried. ok is false where they never do in this draw.
func (s *Stock) FirstDay(species, form string, draw int, g float64) (day yard.Date, ok bool) {
	want := mg(g)
	sh, found := s.species[species]
	if !found {
		return 0, want <= 0
	}
	have := sh.hand(form)
	if have >= want {
		return 0, true
	}
	for _, in := range sh.in[draw] {
		if have += in.mg; have >= want {
			return in.day, true
		}
	}
	return 0, false
}

// OnHand returns the grams that have come in up to and with a day, in any form.
func (s *Stock) OnHand(species string, draw int, day yard.Date) float64 {
	sh, found := s.species[species]
	if !found {
		return 0
	}
	have := sh.hand(Powder)
	for _, in := range sh.in[draw] {
		if in.day > day {
			break
		}
		have += in.mg
	}
	return float64(have) / 1000
}

// Species lists what the stock holds, in alphabetical order.
func (s *Stock) Species() []string {
	names := make([]string, 0, len(s.species))
	for n := range s.species {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

func (s *Stock) shelf(species string) *shelf {
	sh, ok := s.species[species]
	if !ok {
		sh = &shelf{in: make([][]inMg, s.draws), done: true}
		s.species[species] = sh
	}
	return sh
}

func mg(g float64) int64 { return int64(g*1000 + 0.5) }
