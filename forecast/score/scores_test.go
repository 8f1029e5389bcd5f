package score

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"hodaba/forecast/chance"
)

// Outside the interval the score is that of thresholds, by hand: one draw at
// 10 and one at 20.
func TestBetweenByHand(t *testing.T) {
	s := Ensemble([]float64{10, 20})
	for _, c := range []struct {
		name            string
		low, high, most float64
		want            float64
	}{
		{"known to the day, between the draws", 15, 15, inf, 0.25*5 + 0.25*5},
		{"an interval that holds both draws", 5, 25, inf, 0},
		{"an interval after both", 30, 40, inf, 0.25*10 + 10},
		{"an interval before both", 0, 4, inf, 6 + 0.25*10},
		{"not before", 15, inf, inf, 0.25 * 5},
		{"at the latest", -inf, 15, inf, 0.25 * 5},
		{"nothing known", -inf, inf, inf, 0},
		{"looked at up to 12 only", 0, 4, 12, 6 + 0.25*2},
	} {
		if got := s.Between(c.low, c.high, c.most); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: got %g, want %g", c.name, got, c.want)
		}
	}
	never := Steps{At: []float64{10}, UpTo: []float64{0.5}}
	if got := never.CRPS(10, 50); math.Abs(got-0.25*40) > 1e-12 {
		t.Errorf("half never: got %g, want 10", got)
	}
	if got := (Steps{}).CRPS(10, 50); got != 40 {
		t.Errorf("nothing said: got %g, want 40", got)
	}
}

// What is known less exactly scores no worse, and a perfect forecast scores
// nought.
func TestBetweenIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draws := rapid.SliceOfN(rapid.Float64Range(0, 100), 1, 20).Draw(t, "draws")
		y := rapid.Float64Range(0, 100).Draw(t, "y")
		before, after := rapid.Float64Range(0, 30).Draw(t, "before"), rapid.Float64Range(0, 30).Draw(t, "after")
		s := Ensemble(draws)
		exact, wide := s.CRPS(y, 200), s.Between(y-before, y+after, 200)
		if wide < 0 || wide > exact+1e-9 {
			t.Fatalf("within an interval %g, exactly %g", wide, exact)
		}
		if got := Ensemble([]float64{y, y, y}).Between(y-before, y+after, 200); got != 0 {
			t.Fatalf("a perfect forecast scores %g", got)
		}
		// The same by the sum over pairs.
		off, pairs := 0.0, 0.0
		for _, a := range draws {
			off += math.Abs(a - y)
			for _, b := range draws {
				pairs += math.Abs(a - b)
			}
		}
		m := float64(len(draws))
		if want := off/m - pairs/(2*m*m); math.Abs(exact-want) > 1e-9 {
			t.Fatalf("by steps %g, by pairs %g", exact, want)
		}
	})
}

func TestRPSByHand(t *testing.T) {
	for _, c := range []struct {
		chances []float64
		k       int
		want    float64
	}{
		{[]float64{0, 0, 1}, 2, 0}, {[]float64{1, 0, 0}, 2, 1}, {[]float64{0, 1, 0}, 2, 0.5},
		{[]float64{0.5, 0.3, 0.2}, 1, (0.25 + 0.04) / 2}, {[]float64{1}, 0, 0}, {nil, 0, 0},
	} {
		if got := RPS(c.chances, c.k); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%v, %d: got %g, want %g", c.chances, c.k, got, c.want)
		}
	}
	if got := Brier(0.3, true); math.Abs(got-0.49) > 1e-12 {
		t.Errorf("Brier: %g", got)
	}
}

func TestAfterDropsWhatIsGone(t *testing.T) {
	s := Ensemble([]float64{10, 20, 30, 40})
	got := s.After(20)
	if len(got.At) != 2 || got.At[0] != 30 || got.UpTo[0] != 0.5 || got.UpTo[1] != 1 {
		t.Errorf("after 20: %v", got)
	}
	if got := s.After(40); len(got.At) != 1 || got.At[0] != 41 || got.UpTo[0] != 1 {
		t.Errorf("overdue: %v", got)
	}
}

// A forecaster whose draws come from where the truth comes from has an even
// PIT and holds 8 in 10, also where the truth has a lump at nought as
// kilograms have, and where it is only known between two visits; one who is
// too sure has neither.
func TestPITIsEvenForWhoeverIsRight(t *testing.T) {
	const n = 4000
	for _, c := range []struct {
		name   string
		spread float64 // of what is said, over that of the truth
		visits float64 // days between visits
		even   bool
	}{{"right", 1, 0, true}, {"right, seen on visits", 1, 7, true}, {"too sure", 0.5, 0, false}} {
		var bins [10]float64
		held := 0.0
		streams := chance.NewStreams(1, "test of the PIT", c.name)
		for i := range n {
			rnd := streams.Draw(i)
			mean := 20 * rnd.NormFloat64()
			truth := math.Max(mean+10*rnd.NormFloat64(), 0)
			draws := make([]float64, 200)
			for d := range draws {
				draws[d] = math.Max(mean+c.spread*10*rnd.NormFloat64(), 0)
			}
			s := Ensemble(draws)
			below, upTo := s.Below(truth), s.P(truth)
			if c.visits > 0 && truth > 0 {
				low := math.Floor(truth/c.visits) * c.visits
				below, upTo = s.P(low), s.P(low+c.visits)
			}
			bins[min(int(10*PIT(below, upTo, rnd.Float64())), 9)]++
			held += Held(below, upTo, 0.8)
		}
		worst := 0.0
		for _, b := range bins {
			worst = math.Max(worst, math.Abs(b/n-0.1))
		}
		if even := worst < 0.025; even != c.even {
			t.Errorf("%s: a tenth of the PIT is off by %.3f: %v", c.name, worst, bins)
		}
		if within := math.Abs(held/n-0.8) < 0.02; within != c.even {
			t.Errorf("%s: held %.3f", c.name, held/n)
		}
	}
}

func TestHeldIsTheMeanOfThePIT(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, c := range [][2]float64{{0, 0.3}, {0.05, 0.95}, {0.92, 1}, {0.5, 0.5}, {0, 1}} {
		in := 0.0
		for range 20_000 {
			if u := PIT(c[0], c[1], rnd.Float64()); u >= 0.1 && u <= 0.9 {
				in++
			}
		}
		if got := Held(c[0], c[1], 0.8); math.Abs(got-in/20_000) > 0.02 {
			t.Errorf("%v: got %g, drawn %g", c, got, in/20_000)
		}
	}
}
