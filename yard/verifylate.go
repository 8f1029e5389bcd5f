package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

// atOnce are kinds that are written down when they happen: a day long before
// is a slip of the pen, unless it is an old harvest from before the yard was
// kept.
var atOnce = []string{"checked", "walked", "noticed", "pinned", "harvested", "lost", "dried", "received", "bought", "added", "shaken",
	"strained", "decocted", "blended", "bottled", "discarded", "rained", "weighed", "watered", "soaked", "loaded", "ground",
	"spoiled", "sold", "given", "eaten", "cleaned", "broken"}

// oddLate points at entries that were written down long after their day, each
// by itself. Old notes come several at a time or in the first weeks of a yard,
// a day that is known only vaguely is old on purpose, and what was put right
// was looked at twice.
func oddLate(s *State, d *data.Set) (out []Problem) {
	if d == nil {
		return nil
	}
	bound := &d.Practice.Odd
	var first Date // something was written down
	type batch struct {
		kind string
		day  Date
	}
	old := map[batch]int{}
	late := func(e *Entry) bool {
		return e.Written.Day() != 0 && slices.Contains(atOnce, e.Kind) && keyLine(e.Text, "replaces") == 0 && float64(e.Written.Day()-e.On.To) > bound.Late.Value
	}
	for _, e := range s.Entries {
		if w := e.Written.Day(); w != 0 && (first == 0 || w < first) {
			first = w
		}
		if late(e) {
			old[batch{e.Kind, e.Written.Day()}]++
		}
	}
	for _, e := range s.Entries {
		w := e.Written.Day()
		switch {
		case !late(e) || !e.On.Exact() || float64(old[batch{e.Kind, w}]) >= bound.OldNotes.Value:
		case float64(w-first) <= bound.FirstDays.Value || e.Kind == harvestedKind.Name && e.On.To < first:
		default:
			out = append(out, e.odd("on", fmt.Sprintf("it happened on %s, and was written down only on %s", e.On, w), "look at the year; if it is right, all is well"))
		}
	}
	return out
}
