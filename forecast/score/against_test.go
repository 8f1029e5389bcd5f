package score

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"hodaba/forecast/chance"
)

var inf = math.Inf(1)

// stratified is the ensemble of the quantiles at the middles of m equal parts
// of the chance: as near as steps come to a smooth distribution.
func stratified(m int, quantile func(p float64) float64) Steps {
	draws := make([]float64, m)
	for i := range draws {
		draws[i] = quantile((float64(i) + 0.5) / float64(m))
	}
	return Ensemble(draws)
}

// The values for the normal, lognormal and N(400, 30) are the closed forms
// (Gneiting & Raftery 2007, equation 21, for the normal) worked out with
// SciPy; those of the other distributions are pinned in the tests of the R
// package scoringRules. Ours are ensembles of 20,000 strata, which differ from
// the smooth distribution by what is written beside each.
func TestAgainstCRPSOfDistributions(t *testing.T) {
	normal := distuv.UnitNormal.Quantile
	lognormal := func(m, s float64) func(float64) float64 {
		return func(p float64) float64 { return math.Exp(m + s*normal(p)) }
	}
	for _, c := range []struct {
		name      string
		quantile  func(float64) float64
		y, want   float64
		tolerance float64
	}{
		{"N(0,1), 0", normal, 0, 0.2336949773, 1e-6},
		{"N(0,1), 0.5", normal, 0.5, 0.3314035313, 1e-6},
		{"N(0,1), 1", normal, 1, 0.6024413576, 1e-6},
		{"N(0,1), 2", normal, 2, 1.452791822, 1e-6},
		{"N(0,1), -3", normal, -3, 2.436574725, 1e-6},
		{"N(400,30), 437", func(p float64) float64 { return 400 + 30*normal(p) }, 437, 23.21670703, 3e-5},
		{"lognormal(0.1,0.9), 3", lognormal(0.1, 0.9), 3, 1.135526446, 2e-5},
		{"lognormal(6,0.18), 380", lognormal(6, 0.18), 380, 20.09105978, 2e-4},
		{"logistic(0,1), -3", func(p float64) float64 { return math.Log(p / (1 - p)) }, -3, 2.0971747, 5e-6},
		{"gamma(1.1,1), 0.2", distuv.Gamma{Alpha: 1.1, Beta: 1}.Quantile, 0.2, 0.399009355, 5e-6},
		{"gamma(1.1,0.7), 0.2", distuv.Gamma{Alpha: 1.1, Beta: 0.7}.Quantile, 0.2, 0.6343718, 5e-6},
		{"exponential(0.7), 3", distuv.Exponential{Rate: 0.7}.Quantile, 3, 1.20701837, 5e-6},
		{"three normals, 0.3", mixture, 0.3, 0.4510451, 1e-6},
	} {
		if got := stratified(20_000, c.quantile).CRPS(c.y, inf); !(math.Abs(got-c.want) <= c.tolerance) {
			t.Errorf("%s: got %.9f, want %.9f within %g", c.name, got, c.want, c.tolerance)
		}
	}
}

// mixture is the quantile of three normals that weigh alike, by bisection.
func mixture(p float64) float64 {
	means, sds := []float64{0, -2.9, 0.9}, []float64{0.5, 1.4, 0.7}
	low, high := -20.0, 20.0
	for range 80 {
		mid, f := (low+high)/2, 0.0
		for i := range means {
			f += distuv.UnitNormal.CDF((mid-means[i])/sds[i]) / 3
		}
		if f < p {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// The binomial is made of steps, so it is exact: pinned in the tests of the R
// package scoringRules. The ranked probability score of counts is the CRPS of
// their steps, over n.
func TestAgainstCRPSOfTheBinomial(t *testing.T) {
	var counts Steps
	chances, acc := []float64{}, 0.0
	for k := range 11 {
		p := distuv.Binomial{N: 10, P: 0.9}.Prob(float64(k))
		acc += p
		chances = append(chances, p)
		counts.At, counts.UpTo = append(counts.At, float64(k)), append(counts.UpTo, acc)
	}
	const want = 0.6685115
	if got := counts.CRPS(8, inf); math.Abs(got-want) > 1e-7 {
		t.Errorf("CRPS of steps: %.7f, want %.7f", got, want)
	}
	if got := 10 * RPS(chances, 8); math.Abs(got-want) > 1e-7 {
		t.Errorf("ranked probability: %.7f, want %.7f", got, want)
	}
}

// Worked out with NumPy, for both forms and outcomes inside and outside.
func TestAgainstCRPSOfAnEnsemble(t *testing.T) {
	draws := []float64{340, 365, 372, 390, 410}
	for y, want := range map[float64]float64{380: 7.4, 300: 62.2, 450: 61.4} {
		if got := Ensemble(draws).CRPS(y, inf); math.Abs(got-want) > 1e-9 {
			t.Errorf("plain, %g: got %g, want %g", y, got, want)
		}
	}
	if got := FairCRPS(draws, nil, 380); math.Abs(got-4.1) > 1e-9 {
		t.Errorf("fair: got %g, want 4.1", got)
	}
	if got := FairCRPS(draws, []float64{2, 2, 2, 2, 2}, 380); math.Abs(got-4.1) > 1e-9 {
		t.Errorf("fair, with equal weights: got %g, want 4.1", got)
	}
	// Weights of two stand for the draw twice.
	twice := Weighted(draws, []float64{2, 1, 1, 1, 1}).CRPS(380, inf)
	if want := Ensemble([]float64{340, 340, 365, 372, 390, 410}).CRPS(380, inf); math.Abs(twice-want) > 1e-9 {
		t.Errorf("a draw of double weight: %g, counted twice %g", twice, want)
	}
}

// Worked out with NumPy from the definitions of Gneiting & Raftery 2007.
func TestAgainstPinballAndIntervalScore(t *testing.T) {
	for _, c := range []struct{ p, x, want float64 }{{0.1, 350, 4.5}, {0.5, 380, 7.5}, {0.9, 420, 2.5}} {
		if got := Pinball(c.p, c.x, 395); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("pinball at %g: got %g, want %g", c.p, got, c.want)
		}
	}
	for y, want := range map[float64]float64{395: 70, 430: 170, 340: 170} {
		if got := IntervalScore(0.8, 350, 420, y); math.Abs(got-want) > 1e-9 {
			t.Errorf("interval score, %g: got %g, want %g", y, got, want)
		}
	}
}

// The central 95 % of binomial hits, from SciPy.
func TestAgainstCoverageRanges(t *testing.T) {
	for _, c := range []struct{ n, low, high int }{
		{10, 5, 10}, {20, 12, 19}, {50, 34, 45}, {100, 72, 88}, {200, 149, 171}, {500, 382, 417},
	} {
		if low, high := Hits(c.n, 0.8); low != c.low || high != c.high {
			t.Errorf("%d: got %d to %d, want %d to %d", c.n, low, high, c.low, c.high)
		}
	}
}

// R's quantile(…, type = 1), which is the type of Steps and of the tallies:
// the only type used here, since an actual draw avoids half days.
func TestAgainstQuantileType1(t *testing.T) {
	shares := []float64{0.10, 0.25, 0.50, 0.75, 0.90}
	for _, c := range []struct{ data, at, want []float64 }{
		{[]float64{6, 7, 15, 36, 39, 40, 41, 42, 43, 47, 49}, shares, []float64{7, 15, 40, 43, 47}},
		{[]float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}, []float64{0.1, 0.9}, []float64{1, 9}},
	} {
		tally := chance.Days(0, 100)
		for _, v := range c.data {
			tally.Add(v, 1)
		}
		for i, p := range c.at {
			a, _ := Ensemble(c.data).Quantile(p)
			b, _ := tally.At(p)
			d, _ := Tallied(tally).Quantile(p)
			if a != c.want[i] || b != c.want[i] || d != c.want[i] {
				t.Errorf("share %g: steps %g, tally %g, steps of the tally %g, want %g", p, a, b, d, c.want[i])
			}
		}
	}
}
