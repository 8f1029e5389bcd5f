package yard

import (
	"fmt"
	"testing"
)

func TestRained(t *testing.T) {
	journal := entry("rained", "2025-07-02", `rain = "14 mm"`) + entry("rained", "2025-07-05", `rain = "0.5 in"`) +
		entry("rained", "2025-06-28", `rain = "about 0 mm"`) + entry("rained", "2025-07-03", `rain = "2-4 mm"`)
	const table = "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10.0,20.0,5.0\n2025-07-02,10.0,20.0,\n2025-07-03,9.0,19.0,3.5\n"
	f, m := yardWith(t, table, journal)
	s, problems := f.State(may, 0)
	if len(problems) > 0 {
		t.Fatal(lines(problems))
	}
	const want = "date,tmin_c,tmax_c,rain_mm\n2025-06-28,,,0.0\n2025-07-01,10.0,20.0,5.0\n2025-07-02,10.0,20.0,14.0\n2025-07-03,9.0,19.0,3.5\n2025-07-05,,,12.7\n"
	if got := string(s.Weather.CSV()); got != want {
		t.Error(got)
	}
	// Neither the file nor the state of another day changes.
	if m.Text(WeatherFile) != table {
		t.Error("weather.csv changed")
	}
	if s, _ := f.State(NewDate(2025, 7, 2), 0); s.Weather.To() != NewDate(2025, 7, 2) || s.Weather.At(NewDate(2025, 7, 2)).Rain != 14 {
		t.Errorf("%s", s.Weather.CSV())
	}
	if s, _ := f.State(NewDate(2025, 7, 1), 0); string(s.Weather.CSV()) != "date,tmin_c,tmax_c,rain_mm\n2025-06-28,,,0.0\n2025-07-01,10.0,20.0,5.0\n" {
		t.Errorf("%s", s.Weather.CSV())
	}
}

// Rain of the gauge within the file's days goes into a copy.
func TestRainedLeavesTheFileAlone(t *testing.T) {
	f, _ := yardWith(t, "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,5\n2025-07-02,10,20,\n2025-07-03,9,19,3\n", entry("rained", "2025-07-02", `rain = "14 mm"`))
	if s, problems := f.State(may, 0); s.Weather.At(NewDate(2025, 7, 2)).Rain != 14 || f.weather().weather.At(NewDate(2025, 7, 2)).HasRain {
		t.Error(s.Weather, lines(problems))
	}
}

func TestRainGaugeAlone(t *testing.T) {
	f, _ := yardWith(t, "", entry("rained", "2025-07-05", `rain = "12 mm"`)+entry("rained", "2025-07-01", `rain = "3 mm"`)+entry("rained", "2025-07-05", `rain = "2 mm"`))
	s, problems := f.State(may, 0)
	if len(problems) != 1 || !has(problems, 0, "the gauge was read twice on 2025-07-05: the two make 14 mm together") {
		t.Error(lines(problems))
	}
	if temps, rains := s.Weather.Known(); temps != 0 || rains != 2 || s.Weather.At(NewDate(2025, 7, 5)).Rain != 14 || s.Weather.From != NewDate(2025, 7, 1) {
		t.Errorf("%+v", s.Weather)
	}
}

// Rain that was corrected counts as corrected.
func TestRainedCorrected(t *testing.T) {
	journal := entry("rained", "2025-07-05", `rain = "12 in"`, `entry = "kitchen-1"`) +
		entry("corrected", "2025-07-05", `replaces = "kitchen-1"`, `kind = "rained"`, `rain = "12 mm"`)
	s, problems := stateOf(t, journal)
	if len(problems) > 0 || s.Weather.At(NewDate(2025, 7, 5)).Rain != 12 {
		t.Errorf("%+v\n%s", s.Weather, lines(problems))
	}
}

func TestRainedIsComposed(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	text, problems := Compose("rained", map[string]string{"rain": "14mm"}, terms)
	if text != "[[rained]]\non      = 2026-05-01\nrain    = \"14mm\"\n" || len(problems) > 0 {
		t.Errorf("%q\n%s", text, lines(problems))
	}
	for rain, want := range map[string]string{"14": `has no unit: write "14 mm"`, "20 in": "outside 0 to 500 mm", "-3 mm": "less than nothing", "3 h": "a time, and a depth of rain is wanted"} {
		if text, problems := Compose("rained", map[string]string{"rain": rain}, terms); text != "" || !has(problems, 0, want) {
			t.Errorf("%s: %q\n%s", rain, text, lines(problems))
		}
	}
	if text, problems := Compose("rained", map[string]string{"rain": "14 mm", "on": "2026-04"}, terms); text != "" || !has(problems, 0, "or one entry a day") {
		t.Errorf("%q\n%s", text, lines(problems))
	}
}

func TestWeighed(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 20")+
		entry("weighed", "2025-08-01", `pile = "a"`, "logs = 3", `mass = "33 lb"`)+
		entry("weighed", "2025-06", `pile = "a"`, "logs = 3", `mass = "about 16-17 kg"`))
	w := s.Pile("a").Weighed
	if len(problems) > 0 || len(w) != 2 || len(s.Pile("a").Entries) != 3 {
		t.Fatal(w, lines(problems))
	}
	if w[0].On.From != NewDate(2025, 6, 1) || w[0].MassKG != (Span{16, 17}) || w[1].Logs != 3 || w[1].MassKG.Mid() < 14.968 || w[1].MassKG.Mid() > 14.969 || w[1].Entry.Kind != "weighed" {
		t.Errorf("%+v", w)
	}
}

func TestWatered(t *testing.T) {
	journal := began("a", `place = "under the hazel"`, `code = "AA2"`) + began("b") + began("c", "logs = 1", `place = "Under the Hazel"`) +
		entry("watered", "2025-07-01", `pile = "a"`, `piles = ["AA2", "b"]`, `how = "sprinkler"`, "hours = 3") +
		entry("watered", "2025-07-02", `place = "under the hazel"`, "hours = 2.5") +
		entry("watered", "2025-07", `note = "all of it"`) +
		entry("lost", "2025-08-01", `pile = "c"`, "logs = 1") +
		entry("watered", "2025-08-02", "hours = 1")
	s, problems := stateOf(t, journal)
	if len(problems) > 0 {
		t.Fatal(lines(problems))
	}
	for name, want := range map[string]string{
		"a": "[2025-07-01 sprinkler 3][2025-07  0][2025-07-02  2.5][2025-08-02  1]",
		"b": "[2025-07-01 sprinkler 3][2025-07  0][2025-08-02  1]",
		"c": "[2025-07  0][2025-07-02  2.5]",
	} {
		got := ""
		for _, w := range s.Pile(name).Watered {
			got += fmt.Sprintf("[%s %s %g]", w.On, w.How, w.Hours)
		}
		if got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	// The hours that water ran are no hours of work.
	for _, e := range s.Entries {
		if e.Kind == "watered" && e.Hours != 0 {
			t.Errorf("%s: %g hours of work", e.On, e.Hours)
		}
	}
}

// Not those of a correction either.
func TestWateredCorrected(t *testing.T) {
	s, problems := stateOf(t, began("a")+entry("watered", "2025-07-01", `pile = "a"`, "hours = 30", `entry = "kitchen-1"`)+
		entry("corrected", "2025-07-01", `replaces = "kitchen-1"`, `kind = "watered"`, `pile = "a"`, "hours = 3"))
	if w := s.Pile("a").Watered; len(problems) > 0 || len(w) != 1 || w[0].Hours != 3 || w[0].Entry.Hours != 0 {
		t.Errorf("%+v\n%s", w, lines(problems))
	}
}
