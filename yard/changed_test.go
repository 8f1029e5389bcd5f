package yard

import (
	"fmt"
	"reflect"
	"testing"
	"time"
)

const changeable = `format = 1
name = "Fernbrook"
[farm]
name = "Fernbrook"
[site]
station = "oxford"
shade_percent = 80
[[place]]
name = "under the hazel"
shade_percent = 90
[[place]]
name = "north wall"
[measures]
crate = "6 kg"
[drier]
load = "6 kg"
hours_per_load = 12
share_percent = 75
[cold]
holds = "20 kg"
days = 5
[soak]
tank_logs = 12
cycle_weeks = 8
hours = 24
first = "after a year"
[kitchen]
jars = 6
jar = "1 l"
pot = "5 l"
boils_down = "1 l in 2 h"
press = "hand"
[working]
country = "gb"
weekdays = ["Mon", "Tue"]
closed = [2026-12-24]
away = [{from = 2026-07-20, to = 2026-08-02}]
[plan]
confidence_percent = 80
`

func changedYard(t *testing.T, journal string) *Folder {
	t.Helper()
	f, problems, err := OpenFiles(InMemory(map[string]string{YardFile: changeable, JournalFile: journal}), loaded(t), may)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return f
}

// configWords is a configuration in words: an elevation that nobody gave equals no
// other.
func configWords(c Config) string { return fmt.Sprintf("%+v", c) }

func changeTo(on, key, value string) string {
	return entry("changed", on, fmt.Sprintf("key = %q", key), "value = "+value)
}

// Each setting, changed alone, changes that one and nothing else.
func TestChanged(t *testing.T) {
	for _, c := range []struct {
		key, value string
		want       func(c *Config)
	}{
		{"soak.tank_logs", "24", func(c *Config) { c.Soak.TankLogs = 24 }},
		{"soak.tank_logs", `"24"`, func(c *Config) { c.Soak.TankLogs = 24 }},
		{"Soak.cycle_weeks", `"7.5"`, func(c *Config) { c.Soak.CycleWeeks = 7.5 }},
		{"soak.first", `"after the first flush"`, func(c *Config) { c.Soak.First = "after the first flush" }},
		{"drier.load", `"9 kg"`, func(c *Config) { c.Drier.LoadKG = 9 }},
		{"drier.load", `"1 crate"`, func(c *Config) { c.Drier.LoadKG = 6 }},
		{"drier.hours_per_load", "10", func(c *Config) { c.Drier.HoursPerLoad = 10 }},
		{"drier.share_percent", "50", func(c *Config) { c.Drier.Share = 0.5 }},
		{"cold.holds", `"30 kg"`, func(c *Config) { c.Cold.HoldsKG = 30 }},
		{"cold.days", "7", func(c *Config) { c.Cold.Days = 7 }},
		{"kitchen.jars", "8", func(c *Config) { c.Kitchen.Jars = 8 }},
		{"kitchen.boils_down", `"1 l in 1 h"`, func(c *Config) { c.Kitchen.BoilMLH = 1000 }},
		{"kitchen.press", `"press"`, func(c *Config) { c.Kitchen.Press = "press" }},
		{"working.country", `"us"`, func(c *Config) { c.Working.Country = "us" }},
		{"working.weekdays", `["Wed", "Sat"]`, func(c *Config) { c.Working.Weekdays = []time.Weekday{3, 6} }},
		{"working.weekdays", `"Wed, Sat"`, func(c *Config) { c.Working.Weekdays = []time.Weekday{3, 6} }},
		{"working.weekdays", `"Sat"`, func(c *Config) { c.Working.Weekdays = []time.Weekday{6} }},
		{"working.open", `"2026-05-03"`, func(c *Config) { c.Working.Open = []Date{NewDate(2026, 5, 3)} }},
		{"working.closed", `[]`, func(c *Config) { c.Working.Closed = nil }},
		{"working.away", `"[{from = 2026-09-01, to = 2026-09-08}]"`, func(c *Config) { c.Working.Away = []Absence{{NewDate(2026, 9, 1), NewDate(2026, 9, 8)}} }},
		{"site.shade_percent", "60", func(c *Config) { c.Site.Shade, c.Places[1].Shade = 60, 60 }},
		{"site.exposure", `"south"`, func(c *Config) { c.Site.Exposure = "south" }},
		{"site.warming_c_per_decade", "0.4", func(c *Config) { c.Site.Warming, c.Site.WarmingSet = 0.4, true }},
		{"site.resample", "true", func(c *Config) { c.Site.Resample = true }},
		{"site.resample", `"true"`, func(c *Config) { c.Site.Resample = true }},
		{"farm.area", `"0.4 ha"`, func(c *Config) { c.Farm.Area = "0.4 ha" }},
		{"farm.area", "4", func(c *Config) { c.Farm.Area = "4" }},
		{"plan.confidence_percent", "90", func(c *Config) { c.Confidence = 0.9 }},
	} {
		f := changedYard(t, changeTo("2025-03-01", c.key, c.value))
		before, problems := f.State(NewDate(2025, 2, 28), 0)
		if configWords(before.Config) != configWords(f.Config()) || len(problems) > 0 {
			t.Errorf("%s = %s holds before its day\n%s", c.key, c.value, lines(problems))
		}
		want := copied(f.Config())
		c.want(&want)
		s, problems := f.State(NewDate(2025, 3, 1), 0)
		if configWords(s.Config) != configWords(want) || len(problems) > 0 || len(s.Changed) != 1 {
			t.Errorf("%s = %s:\n got %+v\nwant %+v\n%s", c.key, c.value, s.Config, want, lines(problems))
		}
	}
}

// The value in force is that of the latest day, in whatever order the entries
// were written; and yard.toml as it was read stays as it was.
func TestChangedInOrder(t *testing.T) {
	f := changedYard(t, changeTo("2026-01-01", "soak.tank_logs", "36")+changeTo("2025-01-01", "soak.tank_logs", "24")+
		changeTo("2025-06-01", "site.shade_percent", "60")+changeTo("2025-07-01", "soak.tank_logs", `"many"`))
	for day, want := range map[Date]int{NewDate(2024, 12, 31): 12, NewDate(2025, 1, 1): 24, NewDate(2025, 12, 31): 24, NewDate(2026, 1, 1): 36, may: 36} {
		s, _ := f.State(day, 0)
		if s.Config.Soak.TankLogs != want {
			t.Errorf("%v: the tank holds %d logs, want %d", day, s.Config.Soak.TankLogs, want)
		}
	}
	s, problems := f.State(may, 0)
	if c := f.Config(); c.Soak.TankLogs != 12 || c.Places[1].Shade != 80 || s.Config.Places[1].Shade != 60 || s.Config.Places[0].Shade != 90 {
		t.Errorf("%+v", c)
	}
	if len(s.Sort) != 1 || !has(problems, 20, `tank_logs: "many" is not a whole number`) {
		t.Error(lines(problems))
	}
}

// What correct and history make of a value written by hand means the same.
func TestChangedIsTypedAgain(t *testing.T) {
	for _, value := range []string{"24", `"24"`, `["Wed", "Sat"]`, "true", "2026-05-03", "7.5"} {
		terms := Terms{Data: loaded(t), Today: may}
		entries, _ := readText(changeTo("2025-03-01", "working.weekdays", value), &terms)
		text, problems := Compose("changed", entries[0].Values(), terms)
		again, _ := readText(text, &terms)
		if len(problems) > 0 || len(again) != 1 {
			t.Fatal(text, problems)
		}
		if a, b := entries[0].Values(), again[0].Values(); !reflect.DeepEqual(a, b) {
			t.Errorf("%v became %v", a, b)
		}
	}
}
