package chance

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Type 1 quantiles of Hyndman & Fan 1996 for a published example set, as R's
// quantile(type = 1) gives them.
func TestAgainstQuantileType1(t *testing.T) {
	for _, row := range []struct {
		data []float64
		at   map[float64]float64
	}{
		{[]float64{6, 7, 15, 36, 39, 40, 41, 42, 43, 47, 49}, map[float64]float64{0.1: 7, 0.25: 15, 0.5: 40, 0.75: 43, 0.9: 47}},
		{[]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, map[float64]float64{0.1: 1, 0.9: 9}},
	} {
		tally := Days(0, 100)
		for _, v := range row.data {
			tally.Add(v, 1)
		}
		for p, want := range row.at {
			if got, ok := tally.At(p); !ok || got != want {
				t.Errorf("%v at %g: %g %v, want %g", row.data, p, got, ok, want)
			}
		}
	}
}

func TestNeverCounts(t *testing.T) {
	tally := Days(0, 10)
	tally.Add(3, 1)
	tally.Never(1)
	tally.Add(200, 1) // beyond the range
	if got, ok := tally.At(0.3); !ok || got != 3 {
		t.Errorf("a third: %g %v, want day 3", got, ok)
	}
	if _, ok := tally.At(0.5); ok {
		t.Error("half is reached, but only one of three draws came to a day")
	}
	if got := tally.Reached(); math.Abs(got-1.0/3) > 1e-12 {
		t.Errorf("reached %g, want a third", got)
	}
	if got := tally.UpTo(3); math.Abs(got-1.0/3) > 1e-12 {
		t.Errorf("up to day 3: %g, want a third", got)
	}
}

// A tally answers as sorting the weighted draws does, to the width of a bin.
func TestTallyAsSorting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 60).Draw(t, "draws")
		tally := Amounts()
		type draw struct{ v, w float64 }
		var all []draw
		total := 0.0
		for range n {
			d := draw{rapid.Float64Range(0, 500).Draw(t, "value"), float64(rapid.IntRange(1, 4).Draw(t, "weight"))}
			all = append(all, d)
			tally.Add(d.v, d.w)
			total += d.w
		}
		slices.SortFunc(all, func(a, b draw) int { return int(math.Copysign(1, a.v-b.v)) })
		p := float64(rapid.IntRange(1, 99).Draw(t, "percent")) / 100
		acc, want := 0.0, 0.0
		for _, d := range all {
			if acc += d.w; acc >= p*total*(1-1e-12) {
				want = d.v
				break
			}
		}
		got, ok := tally.At(p)
		if !ok || math.Abs(got-want) > 0.024*want+smallest {
			t.Fatalf("at %g: %g %v, sorting gives %g", p, got, ok, want)
		}
		if m := tally.Mean(); math.Abs(m*total-mean(all, func(d draw) float64 { return d.v * d.w })) > 1e-6*(1+m*total) {
			t.Fatalf("mean %g", m)
		}
	})
}

func mean[T any](all []T, f func(T) float64) (sum float64) {
	for _, x := range all {
		sum += f(x)
	}
	return sum
}

func TestShares(t *testing.T) {
	tally := Shares()
	for _, v := range []float64{0, 0.25, 0.25, 1, 1} {
		tally.Add(v, 1)
	}
	for p, want := range map[float64]float64{0.1: 0, 0.5: 0.25, 0.9: 1} {
		if got, ok := tally.At(p); !ok || math.Abs(got-want) > 1.0/shareBins {
			t.Errorf("at %g: %g, want %g", p, got, want)
		}
	}
	if m := tally.Mean(); math.Abs(m-0.5) > 1e-12 {
		t.Errorf("mean %g", m)
	}
}

func TestStreams(t *testing.T) {
	s := NewStreams(1, "weather", "oak")
	if s.Draw(3).Uint64() != s.Draw(3).Uint64() {
		t.Error("the same draw gives two different streams")
	}
	seen := map[uint64]string{}
	for _, f := range []struct {
		seed          uint64
		purpose, name string
	}{{1, "weather", "oak"}, {2, "weather", "oak"}, {1, "crop", "oak"}, {1, "weather", "birch"}, {1, "weathero", "ak"}} {
		for d := range 200 {
			v := NewStreams(f.seed, f.purpose, f.name).Draw(d).Uint64()
			if was, dup := seen[v]; dup {
				t.Fatalf("two streams begin alike: %v and %s", f, was)
			}
			seen[v] = f.purpose
		}
	}
}

// Neighbouring draws are unrelated: their first uniforms have the mean and
// the lag-1 correlation of independent numbers.
func TestDrawsAreUnrelated(t *testing.T) {
	const n = 20000
	s := NewStreams(1, "x", "")
	var x [n]float64
	sum := 0.0
	for d := range x {
		x[d] = s.Draw(d).Float64()
		sum += x[d]
	}
	m := sum / n
	if math.Abs(m-0.5) > 4*math.Sqrt(1.0/12/n) {
		t.Errorf("mean %g", m)
	}
	cov := 0.0
	for d := 1; d < n; d++ {
		cov += (x[d] - m) * (x[d-1] - m)
	}
	if r := cov / n * 12; math.Abs(r) > 4/math.Sqrt(n) {
		t.Errorf("lag-1 correlation %g", r)
	}
}

func TestSkewed(t *testing.T) {
	for z, want := range map[float64]float64{-z90: 2, 0: 5, z90: 30} {
		if got := Skewed(2, 5, 30, z); math.Abs(got-want) > 1e-9 {
			t.Errorf("at %g: %g, want %g", z, got, want)
		}
	}
	if got := Skewed(3, 3, 3, 1.7); got != 3 {
		t.Errorf("a point: %g", got)
	}
}
