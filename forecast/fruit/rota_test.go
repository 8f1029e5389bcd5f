package fruit

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const poundKG = 0.45359237

// A nine-week rotation of about a hundred logs, rounded up to a multiple of
// nine: 108 = 9 × 12 (University of Kentucky FOR-85).
func TestAgainstNineWeekRotation(t *testing.T) {
	if got := RotaFor(100, 9); got != (Rota{9, 12, 108}) {
		t.Errorf("a hundred logs on nine weeks: %+v, want 9 groups of 12, 108 logs", got)
	}
}

// Thirty-two logs, four a week on eight weeks, at a quarter to half a pound a
// log and flush: one to two pounds a week; eight logs are one a week (a Cornell
// extension author, 2012).
func TestAgainstWeeklyScale(t *testing.T) {
	r := RotaFor(32, 8)
	if r.PerGroup != 4 || RotaFor(8, 8).PerGroup != 1 {
		t.Errorf("32 logs: %+v, 8 logs: %+v, want four and one a week", r, RotaFor(8, 8))
	}
	for _, c := range []struct{ flush, week float64 }{{0.25, 1}, {0.5, 2}} {
		if got := r.Weekly(c.flush * poundKG); math.Abs(got-c.week*poundKG) > 1e-12 {
			t.Errorf("at %g lb a flush %.4f kg a week, want %.4f", c.flush, got, c.week*poundKG)
		}
	}
}

// Five kg a week on nine weeks at a quarter and at half a pound: 45 × 9 and
// 23 × 9 logs, rounded up by week (derived from the two above).
func TestLogsForAWeeklySupply(t *testing.T) {
	for _, c := range []struct {
		flush float64
		want  Rota
	}{{0.25, Rota{9, 45, 405}}, {0.5, Rota{9, 23, 207}}} {
		if got := RotaOf(5, c.flush*poundKG, 9); got != c.want {
			t.Errorf("5 kg a week at %g lb: %+v, want %+v", c.flush, got, c.want)
		}
	}
}

func TestRotaLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		logs, weeks := rapid.IntRange(1, 2000).Draw(t, "logs"), rapid.IntRange(1, 30).Draw(t, "weeks")
		r := RotaFor(logs, weeks)
		if r.Logs < logs || r.Logs >= logs+weeks || r.PerGroup*r.Groups != r.Logs {
			t.Fatalf("%d logs on %d weeks: %+v", logs, weeks, r)
		}
		kg, flush := rapid.Float64Range(0.01, 50).Draw(t, "kg"), rapid.Float64Range(0.05, 1).Draw(t, "flush")
		s := RotaOf(kg, flush, weeks)
		if s.Weekly(flush) < kg-1e-6 || s.Weekly(flush) > kg+flush {
			t.Fatalf("%g kg a week at %g: %+v brings %g", kg, flush, s, s.Weekly(flush))
		}
		tank := rapid.IntRange(1, 100).Draw(t, "tank")
		if n := s.Loads(tank); n*tank < s.PerGroup || (n-1)*tank >= s.PerGroup {
			t.Fatalf("%d loads of %d for %d logs", n, tank, s.PerGroup)
		}
	})
	if (RotaOf(0, 0.1, 9) != Rota{}) || (RotaOf(5, 0, 9) != Rota{}) || (RotaFor(10, 0) != Rota{}) || Flushes(1, 0) != 0 {
		t.Error("nonsense gives a rota")
	}
	if f := Flushes(12*0.25, 0.25); f != 12 {
		t.Errorf("a life of twelve flushes has %g", f)
	}
	if got := (Rota{9, 12, 108}).Renewal(26, 12); math.Abs(got-26) > 1e-12 {
		t.Errorf("renewal %g logs a year, want 26", got)
	}
}
