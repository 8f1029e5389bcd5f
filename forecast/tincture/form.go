package tincture

import (
	"fmt"
	"math"
	"strconv"

	"hodaba/yard"
)

// level says which goods an ingredient can be met from. Each has all that the
// one before it has.
type level uint8

const (
	fromPickings level = iota // what is still to be picked
	asPieces                  // and pieces on hand
	asPowder                  // and powder on hand
)

func levelOf(form string) level {
	switch form {
	case fresh:
		return fromPickings
	case powder:
		return asPowder
	}
	return asPieces
}

func (l level) form() string { return [...]string{fresh, pieces, powder}[l] }

// asks notes at which levels species are asked for.
func (p *planner) asks(l line) {
	for _, s := range l.species {
		p.asked[s] |= 1 << l.level
	}
}

// DryLot is a lot of dried goods on hand.
type DryLot struct {
	Lot, Species, Form string
	Grams              float64
}

// Grinding is pieces that are to be ground for a batch before it is put up.
type Grinding struct {
	Species string
	Lot     string // "" of what is still to be dried
	Grams   float64
}

// says is what is to be ground, such as "200 g of lot D-26-03".
func (g Grinding) says() string {
	if g.Lot != "" {
		return gramsWords(g.Grams) + " g of lot " + g.Lot + " first"
	}
	return gramsWords(g.Grams) + " g as soon as it is dry"
}

// Command is the line that records it.
func (g Grinding) Command() string {
	s := "hodaba record ground " + yard.CommandWord(g.Species) + " dry=" + gramsWords(g.Grams) + "g"
	if g.Lot != "" {
		s += " lot=" + yard.CommandWord(g.Lot)
	}
	return s
}

func gramsWords(g float64) string { return strconv.FormatFloat(math.Round(10*g)/10, 'f', -1, 64) }

// worthGrinding is the least that is worth a word, g.
const worthGrinding = 0.5

// grind says what is to be ground for a batch with a date. Lots go to batches
// in the order of priority, the oldest first.
func (s *scheduler) grind(b *Batch, w *want, l *placing) {
	if l.start == 0 {
		return
	}
	for i, in := range w.lines {
		s.grindLine(b, w, in, s.mostPicked(l, i, in))
	}
	for _, in := range w.extra {
		if w.needs[in.need].ShortChance <= 0.5 {
			s.grindLine(b, w, in, in.species[0])
		}
	}
}

// powderNotes says where there is powder of what is wanted as pieces: it is
// counted out, and the recipe may not have meant that.
func (s *scheduler) powderNotes(b *Batch) {
	for _, n := range b.Needs {
		g := 0.0
		for _, l := range s.terms.Lots {
			if l.Species == n.Species && l.Form == powder {
				g += l.Grams
			}
		}
		if levelOf(n.Form) == asPieces && n.OnHand < n.Grams && g >= worthGrinding {
			b.Notes = append(b.Notes, fmt.Sprintf("%s g of %s powder are on hand and not counted on, because the recipe wants pieces: where powder will do, write form = \"powder\" in recipes.toml.", gramsWords(g), n.Species))
		}
	}
}

// grindLine takes one ingredient from the lots.
func (s *scheduler) grindLine(b *Batch, w *want, in line, species int) {
	n, name := &w.needs[in.need], s.species[species]
	if in.level == fromPickings {
		return
	}
	want := n.Grams
	if in.level == asPowder {
		want = s.fromLots(name, powder, want, nil)
	}
	ground := func(lot string, g float64) {
		if in.level == asPowder && g >= worthGrinding {
			n.Grind = append(n.Grind, Grinding{name, lot, g})
		}
	}
	want = s.fromLots(name, pieces, want, ground)
	ground("", want)
	for _, g := range n.Grind {
		b.Notes = append(b.Notes, fmt.Sprintf("%s goes in as powder: grind %s: %s", g.Species, g.says(), g.Command()))
	}
}

// fromLots takes grams from the lots of a form, and returns what they lack.
func (s *scheduler) fromLots(species, form string, grams float64, each func(lot string, g float64)) float64 {
	for i := range s.lots {
		l := &s.lots[i]
		if l.Species != species || (l.Form == powder) != (form == powder) {
			continue
		}
		if g := math.Min(grams, l.Grams); g > 0 {
			l.Grams -= g
			grams -= g
			if each != nil {
				each(l.Lot, g)
			}
		}
	}
	return grams
}

// mostPicked is the species that a line mostly takes where the calendar is
// followed.
func (s *scheduler) mostPicked(l *placing, i int, in line) int {
	if len(in.species) == 1 {
		return in.species[0]
	}
	best, most := in.species[0], 0
	for _, sp := range in.species {
		n := 0
		for d := range l.follow {
			if p := l.follow[d].picks; l.follow[d].start != 0 && i < len(p) && p[i].species == sp {
				n++
			}
		}
		if n > most {
			best, most = sp, n
		}
	}
	return best
}
