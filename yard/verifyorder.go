package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// oddOrder points at days that cannot come in this order.
func oddOrder(s *State, _ *data.Set) (out []Problem) {
	for _, b := range s.Batches {
		out = append(out, b.oddDays(s)...)
	}
	return append(out, driedTooEarly(s)...)
}

// oddDays points at steps of a batch that come before those they need.
func (b *Batch) oddDays(s *State) (out []Problem) {
	before := func(e *Entry, what string, needs When, done string) {
		if !needs.IsZero() && e.On.To < needs.From {
			out = append(out, e.odd("on", fmt.Sprintf("batch %s was %s on %s, before it was %s, on %s", b.Lot, what, e.On, done, needs), "look at both days"))
		}
	}
	if b.Made {
		return nil
	}
	for _, x := range b.Blendings {
		before(x.Entry, "blended", firstStraining(b), "strained")
	}
	for _, x := range b.Bottlings {
		before(x.Entry, "bottled", firstStraining(b), "strained")
	}
	if r := s.recipe(b.Recipe); r != nil && r.Method == "marc decocted" {
		for _, x := range b.Decoctions {
			before(x.Entry, "decocted", firstStraining(b), "strained")
		}
	}
	return out
}

func firstStraining(b *Batch) When {
	if len(b.Strainings) == 0 {
		return When{}
	}
	return b.Strainings[0].On
}

// driedTooEarly points at own dried goods of a lot or a species of which
// nothing had been picked by then, and was later.
func driedTooEarly(s *State) (out []Problem) {
	for _, e := range s.Entries {
		x, ok := e.Event.(*Dried)
		if !ok || x.Species == "" {
			continue
		}
		first := firstPick(s, x)
		if first != nil && e.On.To < first.On.From {
			out = append(out, e.odd("on", fmt.Sprintf("%s was dried on %s, and first picked on %s", first.Species, e.On, first.On),
				"look at both days, or record what was picked before"))
		}
	}
	return out
}

// firstPick is the first picking that what was dried can have come from.
func firstPick(s *State, x *Dried) (first *Pick) {
	for _, k := range s.Picks {
		ofLot := x.Lot != "" && folded(k.Lot) == folded(x.Lot)
		if !ofLot && folded(k.Species) != folded(x.Species) {
			continue
		}
		if first == nil || k.On.From < first.On.From {
			first = k
		}
	}
	return first
}

// tooEarly says of entries that name a batch before it was begun that this is
// what is wrong with them.
func tooEarly(s *State, problems []Problem) []Problem {
	sorting := map[string]*Entry{}
	for _, e := range s.Sort {
		sorting[e.ID] = e
	}
	problems = slices.Clone(problems)
	for i, p := range problems {
		e := sorting[p.Entry]
		if e == nil || !strings.HasPrefix(p.Text, "no batch is called ") {
			continue
		}
		b := s.batch(e.Values()["batch"])
		if b != nil && e.On.To < b.On.From {
			problems[i].Line = e.lineOf("on")
			problems[i].Text = fmt.Sprintf("batch %s was begun on %s, after this, on %s: the entry is kept in the tray \"to sort\"", b.Lot, b.On, e.On)
			problems[i].Remedy = "look at both days"
		}
	}
	return problems
}

// oddClock points at entries that say of themselves that they were written
// before the event, or in the future: the computer's clock was wrong, or the day.
func (f *Folder) oddClock() (out []Problem) {
	for _, e := range f.journal().entries {
		day := e.Written.Day()
		switch {
		case e.Event == nil || day == 0 || e.Replaced != nil:
		case f.today != 0 && day > f.today+1:
			out = append(out, e.odd("written", fmt.Sprintf("it was written on %s, and today is %s", day, f.today), "look at the computer's clock"))
		case e.On.From > day+1:
			out = append(out, e.odd("on", fmt.Sprintf("it happened on %s, and was written before, on %s", e.On, day), "look at the day, and at the computer's clock"))
		}
	}
	return out
}
