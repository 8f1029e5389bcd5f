package yard

import (
	"slices"

	"hodaba/data"
)

// The ways out of what was short: whoever counts then has looked, and what is
// left is known again.
const (
	countLogs    = "count them and record it with [[counted]]"
	countLeft    = "count what is left and record it with [[counted]]"
	countPile    = "count the pile with [[counted]], or correct the entry"
	countShelf   = "count the shelf with [[counted]]"
	countSource  = "record where they came from, or count the shelf with [[counted]]"
	weighLeft    = "weigh what is left and record it with [[counted]]"
	countThatLot = "count what is left of them, if only as 0, with [[counted]]: recipe, bottles, and this lot"
	countNoLot   = "count what is left of them, if only as 0, with [[counted]]: recipe and bottles"
)

func asksForCount(p Problem) bool {
	switch p.Remedy {
	case countLogs, countLeft, countPile, countShelf, countSource, weighLeft, countThatLot, countNoLot:
		return true
	}
	return false
}

// settled leaves out what was short until somebody counted: the count stands,
// and what it found otherwise is in the books.
func (s *State) settled(problems []Problem, d *data.Set) []Problem {
	var counts []int // places in s.Entries
	for i, e := range s.Entries {
		if _, ok := e.Event.(*Counted); ok {
			counts = append(counts, i)
		}
	}
	if len(counts) == 0 || !slices.ContainsFunc(problems, asksForCount) {
		return problems
	}
	m := s.movedBy()
	return slices.DeleteFunc(problems, func(p Problem) bool {
		i, ok := m.at[p.Entry]
		return ok && asksForCount(p) && slices.ContainsFunc(counts, func(c int) bool {
			return c > i && s.countsOf(s.Entries[c].Event.(*Counted), s.Entries[i], m, d)
		})
	})
}

// movedBy is what each entry moved, and where it stands.
type movedBy struct {
	at      map[string]int // by identifier
	dry     map[*Entry][]DryMove
	bottles map[*Entry][]BottleMove
}

func (s *State) movedBy() movedBy {
	m := movedBy{map[string]int{}, map[*Entry][]DryMove{}, map[*Entry][]BottleMove{}}
	for i, e := range s.Entries {
		m.at[e.ID] = i
	}
	for _, x := range s.DryMoves {
		m.dry[x.Entry] = append(m.dry[x.Entry], x)
	}
	for _, x := range s.BottleMoves {
		m.bottles[x.Entry] = append(m.bottles[x.Entry], x)
	}
	return m
}

// countsOf reports whether a count is of what an entry moved or named.
func (s *State) countsOf(c *Counted, e *Entry, m movedBy, d *data.Set) bool {
	switch {
	case c.Pile != "":
		of := s.Pile(c.Pile)
		return of != nil && slices.ContainsFunc(e.Piles(), func(name string) bool { return s.Pile(name) == of })
	case c.Dry.Text != "" && c.Lot != "":
		return slices.ContainsFunc(m.dry[e], func(x DryMove) bool { return folded(x.Lot) == folded(c.Lot) })
	case c.Dry.Text != "":
		name, _, _ := s.resolve(c.Species, d)
		return slices.ContainsFunc(m.dry[e], func(x DryMove) bool { return x.Species == name && (c.Form == "" || c.Form == x.Form) })
	case c.Lot != "":
		return slices.ContainsFunc(m.bottles[e], func(x BottleMove) bool { return folded(x.Lot) == folded(c.Lot) })
	}
	return slices.ContainsFunc(m.bottles[e], func(x BottleMove) bool {
		return folded(x.Recipe) == folded(c.Recipe) || x.Recipe == "" && x.Lot == ""
	})
}
