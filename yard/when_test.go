package yard

import (
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"
	"pgregory.net/rapid"
)

func TestParseWhen(t *testing.T) {
	for _, c := range []struct{ in, from, to string }{
		{"2026-04-12", "2026-04-12", "2026-04-12"},
		{"2026-04", "2026-04-01", "2026-04-30"},
		{"2024-02", "2024-02-01", "2024-02-29"},
		{"2022", "2022-01-01", "2022-12-31"},
		{"2022-W20", "2022-05-16", "2022-05-22"},
		{"2022W20", "2022-05-16", "2022-05-22"},
		{"2022-05 to 2022-07", "2022-05-01", "2022-07-31"},
		{"2021 to 2026-05-01", "2021-01-01", "2026-05-01"},
	} {
		w, err := ParseWhen(c.in)
		if err != nil || w.From.String() != c.from || w.To.String() != c.to || w.String() != c.in {
			t.Errorf("%s: %v to %v, %v", c.in, w.From, w.To, err)
		}
	}
}

// ISO 8601 weeks about the turn of the year, from the examples of the
// standard's own definition (week 1 has the year's first Thursday).
func TestAgainstISOWeeks(t *testing.T) {
	for in, monday := range map[string]string{
		"2020-W53": "2020-12-28", // 2020 is a long year
		"2021-W01": "2021-01-04",
		"2026-W01": "2025-12-29",
		"2026-W53": "2026-12-28",
		"2008-W01": "2007-12-31",
	} {
		w, err := ParseWhen(in)
		if err != nil || w.From.String() != monday || w.To != w.From+6 {
			t.Errorf("%s: %v to %v, %v", in, w.From, w.To, err)
		}
	}
	if _, err := ParseWhen("2022-W53"); err == nil {
		t.Error("2022 has no week 53")
	}
}

func TestParseWhenRefuses(t *testing.T) {
	for in, want := range map[string]string{
		"2025-02-29":   "not a day of the calendar",
		"2025-13":      "not a month",
		"2025-W54":     "no week 54",
		"2025-W00":     "no week 00",
		"1825":         "year",
		"9999":         "year",
		"last May":     "is not a day",
		"":             "is not a day",
		"12.4.2026":    "is not a day",
		"2026 to 2024": "ends before it begins",
		"2026 to ":     "is not a day",
	} {
		_, err := ParseWhen(in)
		if err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), ": ") {
			t.Errorf("%q: %v", in, err)
		}
	}
}

// A local date stays the day it is in every time zone; the library's own
// time.Time does not (it moves by the zone's offset on the way out).
func TestWhenKeepsItsDay(t *testing.T) {
	var f struct {
		On, Vague When
		Year      When
	}
	text := "On = 2027-04-01\nVague = \"2027-04\"\nYear = 2027\n"
	if _, err := toml.Decode(text, &f); err != nil {
		t.Fatal(err)
	}
	if f.On.TOML() != "2027-04-01" || f.Vague.TOML() != `"2027-04"` || f.Year.TOML() != `"2027"` {
		t.Errorf("%s %s %s", f.On.TOML(), f.Vague.TOML(), f.Year.TOML())
	}
	var b strings.Builder
	if err := toml.NewEncoder(&b).Encode(f); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), "On = 2027-04-01\n") {
		t.Errorf("written back as %s", b.String())
	}
}

// The zones at the ends of the earth, and one with a clock change, within one
// process: what `now` shows is what is written.
func TestMomentOfZones(t *testing.T) {
	for _, name := range []string{"Pacific/Kiritimati", "America/New_York", "UTC"} {
		zone, err := time.LoadLocation(name)
		if err != nil {
			t.Skip(err)
		}
		at := time.Date(2026, 3, 8, 23, 30, 0, 0, zone)
		if m := MomentOf(at); m != "2026-03-08T23:30:00" || m.Day() != NewDate(2026, 3, 8) || Of(at) != m.Day() {
			t.Errorf("%s: %s", name, m)
		}
	}
}

func TestWhenRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.IntRange(int(NewDate(firstYear, 1, 1)), int(NewDate(lastYear, 12, 31))).Draw(t, "day"))
		if d == 0 {
			return
		}
		y, w := d.Week()
		for _, s := range []string{d.String(), d.MonthString(), d.String()[:4], When{From: d, To: d + 40}.String()} {
			got, err := ParseWhen(s)
			if d+40 > NewDate(lastYear, 12, 31) && err != nil {
				continue
			}
			if err != nil || d < got.From || d > got.To {
				t.Fatalf("%s: %v, %v", s, got, err)
			}
		}
		if y >= firstYear+1 && y < lastYear {
			if got := weekStart(y, w); d < got || d > got+6 {
				t.Fatalf("%v is not in week %d of %d", d, w, y)
			}
		}
	})
}

func FuzzWhen(f *testing.F) {
	for _, s := range []string{"2026-04-12", "2026-04", "2026", "2026-W15", "2025 to 2026", "2026-02-30", "0000", "2026-W99"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseWhen(s)
		if err != nil {
			return
		}
		if w.From > w.To {
			t.Fatalf("%q ends before it begins", s)
		}
		back, err := ParseWhen(w.String())
		if err != nil || back != w {
			t.Fatalf("%q: %v came back as %v, %v", s, w, back, err)
		}
		_ = isoDay(s)
	})
}
