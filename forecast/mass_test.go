package forecast

import (
	"math"
	"slices"
	"testing"
	"time"

	"hodaba/yard"
)

// lives draws the life crops of a pile, kg fresh a log, and the dry wood of one
// log, kg.
func lives(t testing.TB, p *yard.Pile, draws int) (crops, wood []float64) {
	t.Helper()
	set := mustLoad(t)
	r, err := prepare(Input{State: yardOf(set, "oxford", p.Since.From, p), Data: set, Draws: draws, Seed: 11})
	if err != nil {
		t.Fatal(err)
	}
	w, a := newWalker(r), r.account(r.tasks[0])
	w.fit(a.t)
	for n := range draws {
		dry := w.makeCrops(w.crops, a, n, cropDrawn)
		crops, wood = append(crops, w.left()/logsOf(p)), append(wood, dry)
	}
	return crops, wood
}

// at is the value that a share of a list does not exceed.
func at(x []float64, share float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	return x[min(int(share*float64(len(x))), len(x)-1)]
}

// shareOfDraws for which something holds.
func shareOfDraws(n int, holds func(int) bool) float64 {
	sum := 0
	for i := range n {
		if holds(i) {
			sum++
		}
	}
	return float64(sum) / float64(n)
}

// Cornell unit 4: shiitake 0.9 to 1.8 kg a log in 3 to 5 years. Sabota 1996:
// unmanaged logs 0 to 8.8 % of dry wood, 8.8 the best of eight strains on five
// woods. They conflict; the range keeps the first in the middle and the second
// in its lower tail. Median, tenth and nine tenths are bounds of our own about
// Cornell's figures.
func TestAgainstShiitakePerLog(t *testing.T) {
	for _, logs := range []int{1, 40} {
		p := referencePile("oak", yard.NewDate(2026, time.April, 15), "shiitake", "wide-range")
		p.Logs, p.Started = logs, logs
		kg, wood := lives(t, p, 4000)
		low, mid, high := at(kg, 0.1), at(kg, 0.5), at(kg, 0.9)
		cornell := shareOfDraws(len(kg), func(i int) bool { return kg[i] >= 0.9 && kg[i] <= 1.8 })
		sabota := shareOfDraws(len(kg), func(i int) bool { return kg[i] < 0.088*wood[i] })
		t.Logf("%d logs: %.2f, %.2f, %.2f kg a log; %.3f within 0.9 to 1.8 kg, %.3f under 8.8 %% of dry wood", logs, low, mid, high, cornell, sabota)
		if mid < 0.9 || mid > 1.4 || low < 0.4 || high > 2.3 {
			t.Errorf("%d logs: %.2f, %.2f, %.2f kg a log, want at least 0.4, 0.9 to 1.4, at most 2.3", logs, low, mid, high)
		}
		if cornell < 0.40 {
			t.Errorf("%d logs: %.2f of draws give 0.9 to 1.8 kg a log, want at least 0.40", logs, cornell)
		}
		if sabota < 0.05 || sabota > 0.20 {
			t.Errorf("%d logs: %.2f of draws stay under 8.8 %% of dry wood, want 0.05 to 0.20", logs, sabota)
		}
	}
}

// Journal of Forest Science, January 2013: oyster 29.05 % of dry wood on beech
// and 21.69 % on aspen, the best isolates of one trial: an everyday crop, so
// the middle half of draws holds them. With the range of 15, 22 and 29 % that
// took the better of the two for the ninth of ten, beech lay outside.
func TestAgainstOysterByWood(t *testing.T) {
	for _, c := range []struct {
		wood       string
		efficiency float64
	}{{"beech", 0.2905}, {"aspen", 0.2169}} {
		p := referencePile("totems", yard.NewDate(2026, time.April, 15), "oyster", "")
		p.Wood = c.wood
		if _, ok := mustLoad(t).FindWood(c.wood); !ok {
			t.Fatalf("%s is not embedded", c.wood)
		}
		kg, wood := lives(t, p, 4000)
		eff := make([]float64, len(kg))
		for i := range kg {
			eff[i] = kg[i] / wood[i]
		}
		low, high := at(eff, 0.25), at(eff, 0.75)
		t.Logf("%s: %.3f to %.3f, middle %.3f", c.wood, low, high, at(eff, 0.5))
		if c.efficiency < low || c.efficiency > high {
			t.Errorf("%s: the middle half of draws is %.3f to %.3f of dry wood, want %.4f in it", c.wood, low, high, c.efficiency)
		}
	}
}

// However many parts a pile is soaked in, its life crop is the same but for
// the draws of its logs.
func TestPartsAddNothing(t *testing.T) {
	mean := func(parts int) (sum float64) {
		set := mustLoad(t)
		p := referencePile("oak", yard.NewDate(2026, time.April, 15), "shiitake", "wide-range")
		in := Input{State: yardOf(set, "oxford", p.Since.From, p), Data: set, Draws: 3000}
		in.Decision.Soaks = map[string][]Soak{"oak": {{On: p.Since.From + 800, Part: parts - 1, Of: parts}}}
		r, err := prepare(in)
		if err != nil {
			t.Fatal(err)
		}
		w, a := newWalker(r), r.account(r.tasks[0])
		w.fit(a.t)
		for n := range r.draws {
			w.makeCrops(w.crops, a, n, cropDrawn)
			sum += w.left() / float64(r.draws)
		}
		return sum
	}
	whole := mean(1)
	for _, parts := range []int{2, 5} {
		if got := mean(parts); math.Abs(got/whole-1) > 0.01 {
			t.Errorf("%d parts bring %.2f kg in their life, as one %.2f", parts, got, whole)
		}
	}
}
