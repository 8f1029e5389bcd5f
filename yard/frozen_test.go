package yard

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
)

// TestFrozenYard opens a folder of format 1 as it was written in 2026, with
// every kind of event, and finds in it what was found then. It is kept for
// ever: no later version may change a file of testdata/yards/frozen-1 or this
// list of facts; a change of the format gets a frozen folder of its own
// (FORMAT.md, Changes).
func TestFrozenYard(t *testing.T) {
	const dir = "../testdata/yards/frozen-1"
	day := NewDate(2025, 7, 1)
	f, problems, err := Open(dir, loaded(t), day)
	if err != nil || len(problems) > 0 {
		t.Fatal(lines(problems), err)
	}
	s, problems := f.State(day, 0)
	problems = slices.DeleteFunc(problems, func(p Problem) bool { return p.Grade == Odd })
	if len(problems) > 0 {
		t.Error(lines(problems))
	}
	entries, _ := f.Entries()
	for _, k := range Kinds() {
		if !slices.ContainsFunc(entries, func(e *Entry) bool { return e.Kind == k.Name }) && slices.Contains(frozenKinds, k.Name) {
			t.Errorf("no %s stands in the frozen journal", k.Name)
		}
	}
	want, err := os.ReadFile(dir + "/state.txt")
	if err != nil {
		t.Fatal(err)
	}
	if got := frozenState(s); got != string(want) {
		t.Errorf("the frozen yard is now\n%s\nwhere it must be\n%s", got, want)
	}
}

// frozenKinds are the kinds of events of the first version of format 1.
var frozenKinds = strings.Fields(`inoculated arrived buried moved split checked walked noticed pinned harvested lost
	retired counted dried received bought macerated added shaken strained decocted blended bottled discarded
	rained weighed watered soaked loaded ground spoiled sold given eaten cleaned broken changed planned put_off corrected`)

// frozenState lists what a journal of format 1 says, in facts that no change
// of the program may alter.
func frozenState(s *State) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("entries %d, tray %d, tank %d logs", len(s.Entries), len(s.Sort), s.Config.Soak.TankLogs)
	for _, p := range s.Piles {
		say("%s %s [%s]: %s, %s of %s, since %s (%s %s), %d of %d logs, at %q", p.Kind, p.Name, p.Code, p.Species, p.Strain, p.Wood, p.Since, p.Origin, p.Arrived, p.Logs, p.Started, p.Place)
		for _, x := range p.Seen {
			say("  %s %s at %d with %d spots %d springy %d dull %d logs %d %s", x.On, x.Kind, x.LookedAt, x.With, x.Spots, x.Springy, x.Dull, x.Logs, x.What)
		}
		for _, x := range p.Gone {
			say("  %s gone %d %s %s", x.On, x.Logs, x.How, x.Cause)
		}
		for _, x := range p.Soaked {
			say("  %s soaked %s %d logs %g h", x.On, x.Part, x.Logs, x.Hours)
		}
		for _, x := range p.Watered {
			say("  %s watered %s", x.On, x.How)
		}
		for _, x := range p.Weighed {
			say("  %s weighed %d logs", x.On, x.Logs)
		}
	}
	for _, x := range s.Picks {
		say("picked %s of %s: %.3f-%.3f kg %s %s", x.On, strings.Join(x.Piles, " and "), x.Fresh.Low, x.Fresh.High, x.Species, x.Lot)
	}
	for _, x := range s.Dry {
		say("dry %s %s %s (%s): %.1f of %.1f g", x.Lot, x.Species, x.Form, x.From, x.LeftG, x.InG)
	}
	for _, x := range s.Batches {
		say("batch %s %s %s: %d jars, %.0f ml of %.0f %%, took %v, bottled %v", x.Lot, x.Recipe, x.On, x.Jars, x.SpiritML, x.SpiritABV, x.Ingredients, x.Bottled)
	}
	say("bottles %v", s.Bottles)
	for _, x := range s.Bought {
		say("bought %s %s %s", x.On, x.Item, x.Amount.Text)
	}
	for _, x := range s.Changed {
		say("changed %s to %s on %s", x.Entry.Values()["key"], x.Entry.Values()["value"], x.Entry.On)
	}
	say("loads %d, went %d, put off %d, broken %d, cleaned %d, planned %d", len(s.Loads), len(s.Went), len(s.PutOff), len(s.Broken), len(s.Cleaned), len(s.Planned))
	if w := s.Weather; w != nil {
		for i, d := range w.Days {
			if d.HasTemp || d.HasRain {
				say("weather %s %.1f %.1f %.1f", w.From+Date(i), d.TMin, d.TMax, d.Rain)
			}
		}
	}
	return b.String()
}
