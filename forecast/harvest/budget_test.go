package harvest

import (
	"math"
	"testing"

	"hodaba/data"
)

// What printed budgets of shiitake yards take a log to bring, against what the
// forecast holds for a log of 5 by 40 inches of white oak. They do not agree
// with each other; the range of the forecast covers all but the best of them:
//
//   - an Alabama budget of white oak by the cord: gross $2,475, net $1,509 at
//     $6.44 a log, so 150 logs a cord and $16.50 a log;
//   - Cornell's budget of 1,000 logs: 1,040 lb a year at $12, so $12,480 and
//     1.04 lb a log and year, 3.12 lb over three seasons;
//   - another Cornell page: 4 to 5 lb a log over its life;
//   - a Cornell budget of 300 bearing logs and $6,000, lion's mane among them:
//     $20 a log and year, which is 1.25 lb at $16 and 1.667 lb at $12; three
//     years of the latter, 5 lb, lie above what the forecast thinks likely;
//   - a yard of 500 logs that pays from 2.97 lb a log: 1,485 lb, $6,682.50 at
//     $4.50.
func TestAgainstPrintedBudgets(t *testing.T) {
	const pound = 0.45359237
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"logs a cord", (2475 - 1509) / 6.44, 150},
		{"$ a log of it", 2475.0 / 150, 16.50},
		{"lb a log and year of 1,040 lb from 1,000 logs", 1040.0 / 1000, 1.04},
		{"its money", 1040 * 12, 12480},
		{"over three seasons", 3 * 1040.0 / 1000, 3.12},
		{"lb that $6,000 of 300 logs are at $16", 6000.0 / 300 / 16, 1.25},
		{"at $12", 6000.0 / 300 / 12, 1.667},
		{"lb of a yard of 500 at the threshold", 500 * 2.97, 1485},
		{"its money at $4.50", 500 * 2.97 * 4.50, 6682.50},
	} {
		if math.Abs(c.got-c.want) > 5e-4*c.want {
			t.Errorf("%s: %g, printed %g", c.what, c.got, c.want)
		}
	}
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	oak, _ := set.FindWood("white oak")
	sp, _ := set.FindSpecies("shiitake")
	st, _ := sp.FindStrain("wide-range")
	wood := DryWood(oak, 5*2.54, 40*2.54)
	life := func(efficiency float64) float64 { return wood * efficiency / pound } // lb
	e := st.Yield.Efficiency
	t.Logf("a log of 5 by 40 inches: %.2f, %.2f and %.2f lb over its life", life(e.Low), life(e.Typical), life(e.High))
	if got := life(e.Typical); math.Abs(got-3.12) > 0.15*3.12 {
		t.Errorf("a log usually brings %.2f lb over its life, the budget 3.12", got)
	}
	if got := life(e.High); got < 4 || got > 6 {
		t.Errorf("a good log brings %.2f lb over its life, in print 4 to 5", got)
	}
	for _, lb := range []float64{3 * 1.25, 2.97} {
		if lb < life(e.Low) || lb > life(e.High) {
			t.Errorf("%.2f lb a log lies outside %.2f to %.2f", lb, life(e.Low), life(e.High))
		}
	}
}
