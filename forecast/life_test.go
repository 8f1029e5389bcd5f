package forecast

import (
	"math"
	"testing"
	"time"

	"hodaba/yard"
)

// Growers say that a log lasts a year for each 2.5 cm of diameter: thicker logs
// are spent later and bring a smaller share of their crop each year, but all of
// it in the end. Were they not, a log of 24 cm would bring four times the
// mushrooms of one of 12 in the same four years.
func TestThickLogsLastLonger(t *testing.T) {
	set, on := mustLoad(t), yard.NewDate(2026, time.April, 15)
	wood, _ := set.FindWood("white oak")
	spent, share := 0.0, math.Inf(1)
	for _, cm := range []float64{8, 10, 12, 16, 20, 24} {
		p := referencePile("oak", on, "shiitake", "wide-range")
		p.Diameter = yard.Span{Low: cm, High: cm}
		r := soakedRun(t, set, p, on, nil, size(400), 40)
		w, a := newWalker(r), r.open(r.tasks[0])
		day, all, lifeCrop, bestShare := 0.0, 0.0, 0.0, 0.0
		for n := range r.draws {
			w.drawPile(a, n)
			w.makeCrops(w.crops, a, n, cropLearned)
			life, sum, done := w.left(), 0.0, false
			first, year := int32(-1), make([]float64, 60)
			for _, f := range w.flushes {
				kg := w.crops[f.Cohort].Flush(f.Day, r.factor(n, f.Day))
				if first < 0 {
					first = f.Day
				}
				year[min(int(f.Day-first)/daysOfYear, len(year)-1)] += kg
				if sum += kg; !done && sum >= 0.9*life {
					day, done = day+float64(f.Day-first)/daysInYear/float64(r.draws), true
				}
			}
			most := 0.0
			for _, kg := range year {
				most = math.Max(most, kg)
			}
			all, lifeCrop, bestShare = all+sum, lifeCrop+life, bestShare+most/life/float64(r.draws)
		}
		dry := 1000 * wood.Gravity * math.Pi / 4 * cm * cm / 1e4 / (1 + wood.Bark/100)
		t.Logf("%2.0f cm: nine tenths within %.1f years of the first picking, best year %.2f of the crop, %.3f of dry wood", cm, day, bestShare, all/float64(r.draws)/40/dry)
		if day <= spent || bestShare >= share {
			t.Errorf("%g cm: nine tenths within %.2f years and a best year of %.3f; thinner logs %.2f and %.3f", cm, day, bestShare, spent, share)
		}
		if math.Abs(all/lifeCrop-1) > 1e-3 {
			t.Errorf("%g cm: %.4f of the life crop come in forty years", cm, all/lifeCrop)
		}
		spent, share = day, bestShare
	}
}

// A log of reference diameter forecasts the same whatever is thought of how
// life goes with thickness, and a bed keeps the years of its species.
func TestReferenceDiameterIsUnmoved(t *testing.T) {
	set := mustLoad(t)
	bed := reishiBed(yard.NewDate(2025, 11, 10), "asian")
	bed.Diameter = yard.Span{Low: 18, High: 18}
	thick := referencePile("thick", yard.NewDate(2024, 4, 20), "shiitake", "wide-range")
	thick.Diameter = yard.Span{Low: 18, High: 18}
	piles := []*yard.Pile{referencePile("oak", yard.NewDate(2024, 4, 20), "shiitake", "wide-range"), bed, thick}
	forecast := func() []*Pile {
		return mustRun(t, Input{State: yardOf(set, "richmond_va", lawsAsOf, piles...), Data: set, Draws: 200, Years: 3}).Piles
	}
	before := forecast()
	was := set.Practice.LifeExponent
	set.Practice.LifeExponent.Low, set.Practice.LifeExponent.Typical, set.Practice.LifeExponent.High = 2, 2, 2
	after := forecast()
	set.Practice.LifeExponent = was
	for i, same := range []bool{true, true, false} {
		b, a := before[i], after[i]
		if got := b.YearsAhead[1] == a.YearsAhead[1] && b.YearsAhead[2] == a.YearsAhead[2]; got != same {
			t.Errorf("%s: the same whatever the exponent: %v, want %v", b.Name, got, same)
		}
	}
}
