package yard

import (
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestAddMonths(t *testing.T) {
	for _, c := range []struct {
		from string
		n    int
		want string
	}{
		{"2026-01-31", 1, "2026-02-28"},
		{"2024-01-31", 1, "2024-02-29"},
		{"2026-03-31", -1, "2026-02-28"},
		{"2026-12-15", 1, "2027-01-15"},
		{"2026-01-15", -13, "2024-12-15"},
		{"2024-02-29", 12, "2025-02-28"},
	} {
		d, err := ParseDate(c.from)
		if err != nil || d.AddMonths(c.n).String() != c.want {
			t.Errorf("%s and %d months: %v, want %s", c.from, c.n, d.AddMonths(c.n), c.want)
		}
	}
}

// A Date agrees with the time package on every day, and a month later is in
// the next month.
func TestDate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date(rapid.IntRange(-20000, 60000).Draw(t, "day"))
		u := time.Date(1970, 1, 1+int(d), 0, 0, 0, 0, time.UTC)
		if d.Year() != u.Year() || d.Month() != u.Month() || d.Day() != u.Day() || d.Weekday() != u.Weekday() || d.YearDay() != u.YearDay() || Of(u) != d {
			t.Fatalf("day %d is %v, and %v by the time package", int32(d), d, u)
		}
		next := d.AddMonths(1)
		if d.MonthStart().AddMonths(1) != next.MonthStart() || next.Day() > d.Day() {
			t.Fatalf("a month after %v is %v", d, next)
		}
		if back, err := ParseDate(d.String()); d != 0 && (err != nil || back != d) {
			t.Fatalf("%v came back as %v, %v", d, back, err)
		}
	})
	for _, s := range []string{"2026-02-29", "2026-13-01", "26-01-01", "2026-1-1", ""} {
		if d, err := ParseDate(s); err == nil {
			t.Errorf("%q was read as %v", s, d)
		}
	}
	if Moment("2026-02-30T10:00:00").Day() != 0 || Moment("x").Day() != 0 {
		t.Error("a moment that is none has a day")
	}
	if w := (When{From: 10, To: 20}); w.Mid() != 15 || w.Exact() || w.IsZero() {
		t.Error(w.Mid())
	}
}
