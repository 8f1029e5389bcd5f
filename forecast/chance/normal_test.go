package chance

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Conjugate update of a normal mean with known standard deviation, worked out
// with NumPy from the textbook formula. The first two are the weights of
// students of a textbook's exercise (from memory).
func TestAgainstUpdateWithKnownSpread(t *testing.T) {
	for _, c := range []struct {
		prior              Normal
		n                  int
		mean, sd           float64
		want, spread, next float64
		tolerance          float64
	}{
		{Normal{180, 40}, 10, 150, 20, 150.731707, 6.246950, 20.952909, 5e-7},
		{Normal{180, 40}, 100, 150, 20, 150.074813, 1.997505, 20.099503, 5e-7},
		{Normal{400, 60}, 3, 352, 45, 359.5789474, 23.8415824, 50.9256424, 5e-8},
	} {
		got := c.prior.Update(c.mean, c.n, c.sd)
		if math.Abs(got.Mean-c.want) > c.tolerance || math.Abs(got.SD-c.spread) > c.tolerance {
			t.Errorf("%d values: mean %.7f, sd %.7f; want %.7f, %.7f", c.n, got.Mean, got.SD, c.want, c.spread)
		}
		if next := got.Next(c.sd); next.Mean != got.Mean || math.Abs(next.SD-c.next) > c.tolerance {
			t.Errorf("%d values: the next has sd %.7f, want %.7f", c.n, next.SD, c.next)
		}
	}
}

// Values at once or one by one, in any order: the same is believed.
func TestUpdateOneByOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior := Normal{rapid.Float64Range(-10, 10).Draw(t, "mean"), rapid.Float64Range(0.01, 10).Draw(t, "sd")}
		sd := rapid.Float64Range(0.01, 10).Draw(t, "scatter")
		values := rapid.SliceOfN(rapid.Float64Range(-10, 10), 1, 8).Draw(t, "values")
		one, back, sum := prior, prior, 0.0
		for i, v := range values {
			one = one.Update(v, 1, sd)
			back = back.Update(values[len(values)-1-i], 1, sd)
			sum += v
		}
		all := prior.Update(sum/float64(len(values)), len(values), sd)
		for _, b := range []Normal{one, back} {
			if math.Abs(b.Mean-all.Mean) > 1e-9 || math.Abs(b.SD-all.SD) > 1e-9 {
				t.Fatalf("%+v one by one, %+v at once", b, all)
			}
		}
		if all.SD >= prior.SD || all.Next(sd).SD <= sd {
			t.Fatalf("%+v became %+v", prior, all)
		}
	})
}

func TestUpdateWithNothing(t *testing.T) {
	b := Normal{1, 2}
	for _, got := range []Normal{b.Update(5, 0, 1), b.Update(5, 1, 0), b.Update(5, 1, math.NaN()), b.Update(5, 1, math.Inf(1))} {
		if got != b {
			t.Errorf("%+v became %+v", b, got)
		}
	}
}

// Two halves of a normal distribution, drawn as such, have the mean and the
// variance of the one that is matched to them; alike, it is that one itself.
func TestMatched(t *testing.T) {
	low, half, high := Matched(1, 3, 5).Tenths()
	if math.Abs(low-1) > 1e-12 || half != 3 || math.Abs(high-5) > 1e-12 {
		t.Errorf("1, 3, 5 became %g, %g, %g", low, half, high)
	}
	const n = 400000
	rng := NewStreams(1, "halves", "").Draw(0)
	sum, squares := 0.0, 0.0
	for range n {
		z := rng.NormFloat64()
		v := 3 + z*4/z90
		if z < 0 {
			v = 3 + z*1/z90
		}
		sum, squares = sum+v, squares+v*v
	}
	mean := sum / n
	sd := math.Sqrt(squares/n - mean*mean)
	got := Matched(2, 3, 7)
	if math.Abs(got.Mean-mean) > 0.015 || math.Abs(got.SD-sd) > 0.015 {
		t.Errorf("%+v, drawn %g and %g", got, mean, sd)
	}
	if p := Matched(2, 2, 2); p != (Normal{2, 0}) {
		t.Errorf("a point became %+v", p)
	}
}
