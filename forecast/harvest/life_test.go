package harvest

import (
	"math"
	"testing"

	"hodaba/data"
	"pgregory.net/rapid"
)

// A log lasts longer the thicker it is, and the reference as long as its
// species says.
func TestLastsGrowsWithDiameter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := rapid.Float64Range(0.3, 2).Draw(t, "exponent")
		a := rapid.Float64Range(4, 40).Draw(t, "diameter")
		b := a + rapid.Float64Range(0.1, 20).Draw(t, "more")
		if Lasts(a, 12, e) >= Lasts(b, 12, e) || Lasts(12, 12, e) != 1 {
			t.Fatalf("%g cm lasts %g, %g cm %g, the reference %g", a, Lasts(a, 12, e), b, Lasts(b, 12, e), Lasts(12, 12, e))
		}
	})
	for _, bad := range []float64{0, -3, math.NaN()} {
		if Lasts(bad, 12, 1) != 1 || Lasts(12, bad, 1) != 1 {
			t.Errorf("a diameter of %g", bad)
		}
	}
}

// Growers say one year for each 2.5 cm of diameter, and 8 years and more of
// thick oak; bulletins 3 to 5 years for logs of 10 to 15 cm (Cornell unit 4).
func TestAgainstYearsByDiameter(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	sp, _ := set.FindSpecies("shiitake")
	y, pr := &sp.Strains[0].Yield, &set.Practice
	years := func(cm, life, exponent float64) float64 {
		return life * Lasts(cm, pr.ReferenceDiameter.Value, exponent)
	}
	for cm := 10.0; cm <= 20; cm += 2.5 {
		low, high := years(cm, y.LifeYears.Low, pr.LifeExponent.Typical), years(cm, y.LifeYears.High, pr.LifeExponent.Typical)
		if rule := cm / 2.5; rule < low || rule > high {
			t.Errorf("%g cm: %.1f to %.1f years, growers say %.1f", cm, low, high, rule)
		}
	}
	for _, cm := range []float64{10, 12.5, 15} {
		if got := years(cm, y.LifeYears.Typical, pr.LifeExponent.Typical); got < 3 || got > 5 {
			t.Errorf("%g cm: %.2f years, bulletins say 3 to 5", cm, got)
		}
	}
	if got := years(20, y.LifeYears.High, pr.LifeExponent.Typical); got < 8 {
		t.Errorf("oak of 20 cm lasts at most %.1f years, growers say 8 and more", got)
	}
}

// Stretching changes when, not how much: shares ascend to all of it, later the
// longer a log lasts, and for the reference they are the weights to the bit.
func TestStretchKeepsTheTotal(t *testing.T) {
	weights := []float64{0.166667, 0.333333, 0.333333, 0.166667}
	sum := 0.0
	for k, w := range weights {
		sum += w
		want := sum
		if k == len(weights)-1 {
			want = 1
		}
		if got := due(weights, k, 1); got != want {
			t.Errorf("year %d of the reference: %v, want %v", k+1, got, want)
		}
	}
	y := shiitakeYield(t)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.3, 4).Draw(t, "lasts")
		b := a + rapid.Float64Range(0.01, 2).Draw(t, "longer")
		before := 0.0
		for k := range 30 {
			x := due(y.YearWeights, k, a)
			if x < before || x > 1+1e-5 || due(y.YearWeights, k, b) > x+1e-5 {
				t.Fatalf("by year %d %g is due of one, %g of the longer, %g a year before", k+1, x, due(y.YearWeights, k, b), before)
			}
			before = x
		}
		if before != 1 {
			t.Fatalf("after thirty years %g is due", before)
		}
		life, got := rapid.Float64Range(0.1, 30).Draw(t, "life"), 0.0
		c := NewCrop(y, life).Lasting(a)
		for day := int32(0); day < 60*366; day += 90 {
			got += c.Flush(day, 1)
		}
		if math.Abs(got-life) > 1e-6*life {
			t.Fatalf("%g of %g kg in all", got, life)
		}
	})
}
