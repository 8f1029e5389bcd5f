package yard

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// frozenFiles are the files of the frozen yards, with their SHA-256: a test
// could be made to pass by changing what it is compared to.
var frozenFiles = map[string]string{
	"frozen-1/journal.toml":  "3dad18f40b583dc280c253190e483272d982ecb04ac146439104be08aa34a027",
	"frozen-1/recipes.toml":  "1d3377b5f9867d3e8d2b90124cbe7d3415af31ce69ba69b3bc1784c0355b5e1c",
	"frozen-1/state.txt":     "225a0481457f7d01ba87dfbbe757a5568e2421e56bd507959a99bc1aeb151a52",
	"frozen-1/weather.csv":   "8ccbb5b87bbf9b578f99c2d421ba32d5497100de487a95f13b4bac081dccb0e5",
	"frozen-1/yard.toml":     "3072c34f4d67a3f560cb11d7ff5391f350a365d8f50275a4261acd1a4694a811",
	"frozen-1b/journal.toml": "cda5a7f3f2ba64620c103e1b937fa8a9bd07e38375366ff0cbe318fdc03ddfde",
	"frozen-1b/recipes.toml": "e0c2b38095fdf6d3757d00331bb4dc3f6fc2081b9108f9b5507c3ab0e1728e9c",
	"frozen-1b/state.txt":    "23b3a4d8eeefb6d9dd71be893f9491af368f97336c074de4da8b318d50c3ca9d",
	"frozen-1b/yard.toml":    "73ce96d6461418402fc96713d0a2d84e9ea087d6f166c290b892da34bbc846a9",
}

// TestFrozenYard opens folders of format 1 as they were written in 2026, with
// every kind of event, and finds in them what was found then. They are kept
// for ever: no later version may change a file of testdata/yards/frozen-* or
// this list of facts; a change of the format gets a frozen folder of its own
// (FORMAT.md, Changes).
func TestFrozenYard(t *testing.T) {
	var seen []*Entry
	for name, say := range map[string]func(*State) string{"frozen-1": frozenState, "frozen-1b": frozenMore} {
		t.Run(name, func(t *testing.T) {
			dir := "../testdata/yards/" + name
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
			seen = append(seen, entries...)
			want, err := os.ReadFile(dir + "/state.txt")
			if err != nil {
				t.Fatal(err)
			}
			if got := say(s); got != string(want) {
				t.Errorf("the frozen yard is now\n%s\nwhere it must be\n%s", got, want)
			}
		})
	}
	for _, k := range Kinds() {
		if !slices.ContainsFunc(seen, func(e *Entry) bool { return e.Kind == k.Name }) && slices.Contains(frozenKinds, k.Name) {
			t.Errorf("no %s stands in a frozen journal", k.Name)
		}
	}
}

// TestFrozenFilesAreFrozen: nobody changed a file of a frozen yard, and none
// was added or taken away.
func TestFrozenFilesAreFrozen(t *testing.T) {
	paths, _ := filepath.Glob("../testdata/yards/frozen-*/*")
	if len(paths) != len(frozenFiles) {
		t.Errorf("%d files, not %d: %v", len(paths), len(frozenFiles), paths)
	}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.ToSlash(strings.TrimPrefix(p, filepath.FromSlash("../testdata/yards/")))
		if got := fmt.Sprintf("%x", sha256.Sum256(b)); got != frozenFiles[name] {
			t.Errorf("%s has the digest %s", name, got)
		}
	}
}

// frozenKinds are the kinds of events of format 1 in 2026.
var frozenKinds = strings.Fields(`inoculated arrived buried moved split checked walked noticed pinned harvested lost
	retired counted dried received bought macerated added shaken strained decocted blended bottled discarded
	rained weighed watered soaked loaded ground spoiled sold given eaten cleaned broken changed planned put_off corrected felled joined renamed`)

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

// frozenMore is frozenState with the settings and recipes, and with what came
// into the format after the first frozen yard.
func frozenMore(s *State) string {
	var b strings.Builder
	b.WriteString(frozenState(s))
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	c := s.Config
	say("format %d, %s, US units %v, confidence %.2f, people %v", c.Format, c.Name, c.US, c.Confidence, c.People)
	say("site %s %.1f %.1f %.0f m shade %.0f %s warming %.1f, normals %v %v %v %v %.0f", c.Site.Station, c.Site.Latitude, c.Site.Longitude, c.Site.Elevation, c.Site.Shade, c.Site.Exposure, c.Site.Warming, c.Site.Normals.TMin, c.Site.Normals.TMax, c.Site.Normals.Rain, c.Site.Normals.RainDays, c.Site.Normals.RainDayMM)
	for _, p := range c.Places {
		say("place %s %.0f %s", p.Name, p.Shade, p.Cover)
	}
	say("drier %.0f kg in %.0f h, share %.1f, cold %.0f kg for %.0f days, soak %d logs every %.0f weeks for %.0f h %s, kitchen %d %.0f %.0f %.0f %s", c.Drier.LoadKG, c.Drier.HoursPerLoad, c.Drier.Share, c.Cold.HoldsKG, c.Cold.Days, c.Soak.TankLogs, c.Soak.CycleWeeks, c.Soak.Hours, c.Soak.First, c.Kitchen.Jars, c.Kitchen.JarML, c.Kitchen.PotML, c.Kitchen.BoilMLH, c.Kitchen.Press)
	say("working %s %v closed %v open %v", c.Working.Country, c.Working.Weekdays, c.Working.Closed, c.Working.Open)
	for _, a := range c.Working.Away {
		say("away %s to %s", a.From, a.To)
	}
	for _, x := range c.Expected {
		say("expected %s %.0f g every %d from %s, %.1f", x.Species, x.Grams, x.Every, x.By, x.Chance)
	}
	for _, x := range c.Promised {
		say("promised %s %s %s from %s every %d", x.To, x.What, x.Amount.Text, x.By, x.Every)
	}
	for _, w := range c.Plan.Wants {
		say("want %d-%d %s %d bottles", w.From, w.To, w.Recipe, w.Bottles)
	}
	for _, l := range c.Plan.Logs {
		say("logs %s %.0f-%.0f cm %.0f-%.0f cm %d at %.2f %s", l.Wood, l.Diameter.Low, l.Diameter.High, l.Length.Low, l.Length.High, l.Most, l.Price, c.Plan.Currency)
	}
	for _, r := range s.Recipes {
		say("recipe %s: %d jars of %.0f ml at %.0f %%, %d-%d days, shaken %d, %s, %.0f to %.0f ml in %.1f h, to %.0f %%", r.Name, r.Jars, r.SpiritMLJar, r.SpiritABV, r.MacerateMin, r.MacerateMax, r.ShakeDays, r.Method, r.WaterML, r.DecoctToML, r.SimmerHours, r.ToABV)
		for _, x := range r.Bottles {
			say("  %.2f in %.0f ml", x.Share, x.ML)
		}
		for _, i := range r.Ingredients {
			say("  %s %s %.0f g, or %v, optional %v", i.Species, i.Form, i.GramsJar, i.Or, i.Optional)
		}
	}
	for _, x := range s.Felled {
		say("felled %s on %s: %d %s, %d left, %.0f-%.0f cm, from %s, untreated %v", x.Lot, x.On, x.Logs, x.Wood, x.Left, x.Diameter.Low, x.Diameter.High, x.From, x.Untreated)
	}
	for _, p := range s.Piles {
		say("pile %s was %v", p.Name, p.Formerly)
	}
	for _, x := range s.Planned {
		say("planned %s %d %s %s %s %s in %s; soak %s %s in %s", x.Pile, x.Logs, x.Species, x.Strain, x.Wood, x.Spawn, x.Month, x.Soak, x.Part, x.Week)
	}
	for _, x := range s.Batches {
		say("batch %s begun at %v, strained %.0f ml, marc %.0f g, blended %.0f ml %.1f %%, kept back %.0f ml", x.Lot, x.Begun.At, x.StrainedML, x.MarcG, x.BlendedML, x.ABV, x.KeptBackML)
		for _, d := range x.Decoctions {
			say("  %s: %.0f to %.0f ml from %v to %v, cooled %s, %s", d.On, d.WaterML, d.ML, d.From, d.To, d.Cooled.Text, d.Step.Temperature.Text)
		}
		for _, d := range x.Deviations {
			say("  %s: %s", d.On, d.Text)
		}
	}
	for _, p := range s.Piles {
		say("pile %s is of logs %.1f-%.1f cm thick", p.Name, p.Diameter.Low, p.Diameter.High)
		for _, x := range p.Soaked {
			say("  part %s", x.Part)
		}
		for _, x := range p.Seen {
			say("  %s, part %q", x.Kind, x.Part)
		}
	}
	for _, e := range s.Entries {
		say("entry %s of %s by %s", e.ID, e.On, e.By)
	}
	return b.String()
}
