package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// fullerLoad is how many times what the drier takes can be believed to go into
// it: our judgement, with room for a tight fit, and only ever points at
// something.
const fullerLoad = 1.25

// oddDrier points at loads of the drier that it does not hold, that are or were
// in it for too long, and that came from nowhere.
func oddDrier(s *State, _ *data.Set) (out []Problem) {
	for i := range s.Loads {
		l := &s.Loads[i]
		out = append(out, s.oddStay(l)...)
		out = append(out, s.oddFrom(l)...)
	}
	return append(out, s.oddFill()...)
}

// oddStay points at a load that nobody took out, or only late.
func (s *State) oddStay(l *Load) []Problem {
	switch {
	case l.In() && s.AsOf-l.On.To > s.longestIn():
		return []Problem{l.Entry.odd("on", fmt.Sprintf("load %s of %s is in the drier for %d days", l.Name, l.Species, s.AsOf-l.On.To),
			"record what came out with [[dried]], load = "+quote(l.Name)+"; void the load if it never went in")}
	case !l.In() && l.Out.From-l.On.To > s.longestIn():
		return []Problem{l.Emptied[0].odd("on", fmt.Sprintf("load %s of %s came out after %d days in the drier: it went in on %s", l.Name, l.Species, l.Out.From-l.On.To, l.On), "look at both days and at the load")}
	}
	return nil
}

// oddFrom points at a load that came from neither pile nor picking: the word
// may have been meant for its name.
func (s *State) oddFrom(l *Load) []Problem {
	x, ok := l.Entry.Event.(*Loaded)
	if !ok || x.From == "" || x.Species == "" {
		return nil // without a species it is said in the replay
	}
	for part := range strings.SplitSeq(x.From, ",") {
		from := strings.TrimSpace(part)
		if s.Pile(from) != nil || s.pickOf(from) != nil || slices.ContainsFunc(s.Picks, func(k *Pick) bool { return folded(k.Entry.ID) == folded(from) }) {
			continue
		}
		remedy := "write the pile, or the lot of the picking"
		if x.Load == "" {
			remedy += "; if it is the name of the load, correct the entry with load = " + quote(from)
		}
		return []Problem{l.Entry.odd("from", "no pile or picking is called "+shown(from), remedy)}
	}
	return nil
}

// oddFill points at days on which more went into the drier than it takes.
func (s *State) oddFill() (out []Problem) {
	type day struct {
		least float64 // kg
		on    When
		last  *Entry
	}
	var days []day
	for i := range s.Loads {
		l := &s.Loads[i]
		if l.On.From != l.On.To || s.drierChangedAfter(l.On.From) {
			continue
		}
		at := slices.IndexFunc(days, func(d day) bool { return d.on.From == l.On.From })
		if at < 0 {
			at = len(days)
			days = append(days, day{on: l.On})
		}
		days[at].least += l.FreshKG.Low
		days[at].last = l.Entry
	}
	takes := s.drierTakesKG()
	for _, d := range days {
		if takes > 0 && d.least > fullerLoad*takes {
			out = append(out, d.last.odd("fresh", fmt.Sprintf("%s kg went into the drier on %s, and in a day it takes %s kg", decimal(toMicro(d.least)), d.on, decimal(toMicro(takes))),
				"look at the weights, and at [drier] in "+YardFile))
		}
	}
	return out
}

// drierTakesKG is what the drier takes in a day, kg fresh; 0 where that is not
// known.
func (s *State) drierTakesKG() float64 {
	d := s.Config.Drier
	if d.LoadKG <= 0 || d.HoursPerLoad <= 0 {
		return 0
	}
	return d.LoadKG * float64(d.LoadsADay())
}

// drierChangedAfter reports whether the drier was another one on a day than it
// is now.
func (s *State) drierChangedAfter(day Date) bool {
	return slices.ContainsFunc(s.Changed, func(c Change) bool { return strings.HasPrefix(c.Key, "drier.") && c.On.To > day })
}
