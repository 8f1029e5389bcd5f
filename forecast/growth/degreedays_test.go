package growth

import (
	"math"
	"testing"
)

// Zalom et al. 1983, table 7 (lower 55, upper 90 °F), as carried in the tests
// of the R package degday (UCANR-IGIS/degday, commit 17d1500). One printed
// value, the double triangle of 60, 100, 75, is wrong (24.88): the formula
// gives 27.125, and that package leaves it out as a suspected error.
func TestAgainstZalom(t *testing.T) {
	for _, r := range []struct {
		lo, hi, next                   float64
		tri, triDouble, sine, sineBoth float64
	}{
		{96, 110, 91, 35, 35, 35, 35},
		{91, 105, 96, 35, 35, 35, 35},
		{45, 54, 38, 0, 0, 0, 0},
		{38, 50, 45, 0, 0, 0, 0},
		{60, 80, 75, 15, 18.75, 15, 18.75},
		{75, 88, 60, 26.50, 22.75, 26.50, 22.75},
		{50, 82, 45, 11.39, 10.62, 11.85, 11.31},
		{45, 70, 50, 4.50, 5.06, 5.31, 5.70},
		{60, 100, 75, 23.75, 27.125, 22.82, 26.26},
		{75, 95, 60, 29.38, 25.76, 28.91, 25.30},
		{50, 101, 48, 19.56, 19.19, 18.95, 18.69},
		{48, 95, 50, 16.76, 17.13, 16.96, 17.23},
	} {
		for name, x := range map[string][2]float64{
			"single triangle": {SingleTriangle(r.lo, r.hi, 55, 90), r.tri},
			"double triangle": {DoubleTriangle(r.lo, r.hi, r.next, 55, 90), r.triDouble},
			"single sine":     {SingleSine(r.lo, r.hi, 55, 90), r.sine},
			"double sine":     {DoubleSine(r.lo, r.hi, r.next, 55, 90), r.sineBoth},
		} {
			if math.Abs(x[0]-x[1]) > 0.00501 {
				t.Errorf("%s of %g to %g, then %g: %.4f, printed %.2f", name, r.lo, r.hi, r.next, x[0], x[1])
			}
		}
	}
}

// Six days of station Esparto A, 2020 (lower 50, upper 70 °F), from the
// results of the University of California's service in
// UCANR-IGIS/degree-day-challenge, commit 1766f1c (MIT).
func TestAgainstDegreeDayChallenge(t *testing.T) {
	for _, r := range []struct {
		lo, hi, next                   float64 // NaN: the next minimum is not in the extract
		sine, sineBoth, tri, triDouble float64
	}{
		{38, 55, 36, 1.19, 1.15, 0.74, 0.70},
		{36, 67, 33, 5.71, 5.56, 4.66, 4.46},
		{33, 59, 37, 2.34, 2.45, 1.56, 1.70},
		{52, 72, math.NaN(), 11.73, 0, 11.90, 0},
		{60, 96, math.NaN(), 17.69, 0, 18.61, 0},
		{72, 95, math.NaN(), 20.00, 0, 20.00, 0},
	} {
		check := func(name string, got, want float64) {
			if !math.IsNaN(got) && math.Abs(got-want) > 0.00501 {
				t.Errorf("%s of %g to %g: %.4f, printed %.2f", name, r.lo, r.hi, got, want)
			}
		}
		check("single sine", SingleSine(r.lo, r.hi, 50, 70), r.sine)
		check("single triangle", SingleTriangle(r.lo, r.hi, 50, 70), r.tri)
		check("double sine", DoubleSine(r.lo, r.hi, r.next, 50, 70), r.sineBoth)
		check("double triangle", DoubleTriangle(r.lo, r.hi, r.next, 50, 70), r.triDouble)
	}
}

// McMaster & Wilhelm 1997, table 1 (base 0 °C), both readings, as carried in
// the tests of the R package degday.
func TestAgainstMcMaster(t *testing.T) {
	for _, r := range [][4]float64{
		{20, 10, 15, 15}, {10, 1, 5.5, 5.5}, {8, -2, 3, 4}, {6, 0, 3, 3}, {10, 5, 7.5, 7.5},
		{5, -5, 0, 2.5}, {-2, -7, 0, 0}, {-5, -10, 0, 0}, {10, -2, 4, 5}, {15, 2, 8.5, 8.5},
	} {
		if a, b := Average(r[1], r[0], 0), AverageRaised(r[1], r[0], 0); a != r[2] || b != r[3] {
			t.Errorf("%g to %g: %g and %g, printed %g and %g", r[1], r[0], a, b, r[2], r[3])
		}
	}
}

// Yearly degree-days (base 5, upper 30 °C) over the open daily series,
// computed outside the project; the last day takes its own minimum as the
// next.
func TestAgainstYearlyDegreeDays(t *testing.T) {
	for _, r := range []struct {
		file                                     string
		year                                     int
		avg, raised, tri, triBoth, sine, sineTwo float64
	}{
		{"seattle.csv", 2012, 2396.20, 2502.10, 2431.60, 2431.09, 2447.32, 2446.97},
		{"seattle.csv", 2015, 3017.95, 3084.20, 3034.03, 3033.01, 3040.74, 3040.07},
		{"new-york.csv", 2012, 3440.80, 3561.80, 3469.40, 3466.43, 3483.04, 3480.82},
		{"new-york.csv", 2014, 3187.80, 3284.40, 3218.94, 3213.75, 3234.09, 3230.20},
	} {
		s := series(t, r.file, newYear(r.year), newYear(2016)-1)
		n := int(newYear(r.year+1) - newYear(r.year))
		var got [6]float64
		for i := range n {
			lo, hi := float64(s.Mean[i]-s.Swing[i]), float64(s.Mean[i]+s.Swing[i])
			next := lo
			if i+1 < len(s.Mean) {
				next = float64(s.Mean[i+1] - s.Swing[i+1])
			}
			for k, x := range []float64{Average(lo, hi, 5), AverageRaised(lo, hi, 5),
				SingleTriangle(lo, hi, 5, 30), DoubleTriangle(lo, hi, next, 5, 30),
				SingleSine(lo, hi, 5, 30), DoubleSine(lo, hi, next, 5, 30)} {
				got[k] += x
			}
		}
		for k, want := range []float64{r.avg, r.raised, r.tri, r.triBoth, r.sine, r.sineTwo} {
			if math.Abs(got[k]-want) > 0.02 {
				t.Errorf("%s %d, method %d: %.3f, want %.2f", r.file, r.year, k+1, got[k], want)
			}
		}
	}
}

// The table's mean over a day agrees with the exact integral of a sine where
// the response is a straight line above a threshold.
func TestDaySineAgainstDegreeDays(t *testing.T) {
	for _, r := range [][2]float64{{4, 18}, {2, 14}, {10, 34}, {-3, 6}, {8, 20}} {
		mean, swing := (r[0]+r[1])/2, (r[1]-r[0])/2
		sum := 0.0
		for h := range hours {
			sum += math.Max(mean+swing*math.Sin(2*math.Pi*(float64(h)+0.5)/hours)-5, 0) / hours
		}
		if exact := sineAbove(r[0], r[1], 5); math.Abs(sum-exact) > 0.02 {
			t.Errorf("%g to %g: %.4f by the hour, %.4f exactly", r[0], r[1], sum, exact)
		}
	}
}
