package colonise

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/optimize"
)

// A pile whose half needs ln growing days N(mean, sd²) beforehand; what is
// seen is its own alone.
func believed(t testing.TB, mean, sd float64) *Belief {
	t.Helper()
	b := Prior(need, practice(t), reference, Names{Species: "s", Pile: "p"}, 1)
	common := math.Sqrt(1 - b.ofLog[0]*b.ofLog[0])
	b.mu, b.blanks, b.blankMean, b.blankSD = mean, false, 0, 0
	for c := range b.sigma {
		b.sigma[c] = sd / common
	}
	return b
}

// interval is the log likelihood that a time lies between two days, its
// logarithm being normal about half; an end that is not finite is open. Share
// is the distribution function that the forecast computes with.
func interval(lo, hi, half, sd float64) float64 {
	share := func(day float64) float64 {
		switch {
		case math.IsInf(day, 1):
			return 1
		case day <= 0:
			return 0
		}
		return normalCDF((math.Log(day) - half) / sd)
	}
	return math.Log(share(hi) - share(lo))
}

var open = math.Inf(1)

// Data set I of twelve intervals in days, made up for a comparison outside the
// project: fits by survreg of the R package survival 3, computed there.
var intervals = [][2]float64{{300, 330}, {330, 365}, {350, 380}, {365, 395}, {380, 400}, {400, 430},
	{410, 450}, {430, 460}, {450, open}, {480, 510}, {0, 340}, {520, open}}

// Maximum likelihood of a lognormal on intervals: R survreg, Surv(L, R, type =
// "interval2") ~ 1. The forecast fits nothing by maximum likelihood; its
// likelihood is what is tested.
func TestAgainstIntervalFit(t *testing.T) {
	minus := func(x []float64) float64 {
		ll := 0.0
		for _, in := range intervals {
			ll += interval(in[0], in[1], x[0], math.Exp(x[1]))
		}
		return -ll
	}
	res, err := optimize.Minimize(optimize.Problem{Func: minus}, []float64{5.9, -1.5},
		&optimize.Settings{Converger: &optimize.FunctionConverge{Absolute: 1e-13, Iterations: 200}}, &optimize.NelderMead{})
	if err != nil {
		t.Fatal(err)
	}
	mu, sd := res.X[0], math.Exp(res.X[1])
	for _, c := range []struct {
		what            string
		got, want, slip float64
	}{
		{"log likelihood", -res.F, -23.99824462, 1e-7},
		{"intercept", mu, 6.008570746, 1e-5},
		{"scale", sd, 0.186234628, 1e-5},
		{"tenth", math.Exp(mu - 1.2815515655446004*sd), 320.5061505, 5e-3},
		{"half", math.Exp(mu), 406.9013389, 5e-3},
		{"nine tenths", math.Exp(mu + 1.2815515655446004*sd), 516.5850931, 5e-3},
	} {
		if math.Abs(c.got-c.want) > c.slip {
			t.Errorf("%s %.9f, want %.9f", c.what, c.got, c.want)
		}
	}
	// Covariance of (intercept, log scale): the inverse of the curvature.
	const h = 1e-4
	f := func(i, j float64) float64 { return minus([]float64{res.X[0] + i*h, res.X[1] + j*h}) }
	a := (f(1, 0) - 2*f(0, 0) + f(-1, 0)) / h / h
	d := (f(0, 1) - 2*f(0, 0) + f(0, -1)) / h / h
	c := (f(1, 1) - f(1, -1) - f(-1, 1) + f(-1, -1)) / 4 / h / h
	det := a*d - c*c
	for i, pair := range [][2]float64{{d / det, 0.00309461566}, {-c / det, 0.00068062298}, {a / det, 0.06400020847}} {
		if math.Abs(pair[0]-pair[1]) > 1e-3*math.Abs(pair[1])+1e-6 {
			t.Errorf("covariance %d: %.8f, want %.8f", i, pair[0], pair[1])
		}
	}
}

// A posterior of one parameter: mu ~ N(ln 420, 0.25²), the scale 0.18 known,
// four intervals seen; mean, standard deviation and log evidence by adaptive
// quadrature with SciPy, computed outside the project. The tree's grid is that
// of every forecast.
func TestAgainstIntervalPosterior(t *testing.T) {
	b := believed(t, math.Log(420), 0.25)
	y := NewYard([]*Belief{b})
	// What is seen times exp(t·mu) has the moments in the derivatives of its log
	// evidence: no drawing.
	evidence := func(tilt float64) float64 {
		seen := func(half float64) float64 {
			ll := tilt * (half - 5.94)
			for _, in := range [][2]float64{{300, 330}, {330, 365}, {350, 380}, {450, open}} {
				ll += interval(in[0], in[1], half, 0.18)
			}
			return ll
		}
		return y.Draw(make([]float64, 1), []Seen{seen}, 0)
	}
	const h = 0.05
	up, mid, down := evidence(h), evidence(0), evidence(-h)
	for _, c := range []struct {
		what            string
		got, want, slip float64
	}{
		{"log evidence", mid, -8.356118125, 1e-5},
		{"mean", 5.94 + (up-down)/2/h, 5.941869841, 1e-5},
		{"standard deviation", math.Sqrt((up - 2*mid + down) / h / h), 0.08746655087, 1e-5},
	} {
		if math.Abs(c.got-c.want) > c.slip {
			t.Errorf("%s %.9f, want %.9f", c.what, c.got, c.want)
		}
	}
}

// Two parameters: mu ~ N(ln 420, 0.25²) and ln sigma ~ N(ln 0.18, 0.3²), all of
// data set I; means and standard deviations on a grid of 801 × 801, computed
// outside the project. The forecast sums over the scale as it does over the
// splits of the variance: a posterior for each, weighed by its evidence.
func TestAgainstTwoParameterPosterior(t *testing.T) {
	b := believed(t, math.Log(420), 0.25)
	y := NewYard([]*Belief{b})
	var weight, mu, muSquare, sigma, sigmaSquare float64
	for i := -80; i <= 80; i++ {
		z := float64(i) / 20
		sd := 0.18 * math.Exp(0.3*z)
		at := func(tilt float64) float64 {
			seen := func(half float64) float64 {
				ll := tilt * (half - 6)
				for _, in := range intervals {
					ll += math.Max(interval(in[0], in[1], half, sd), -700)
				}
				return ll
			}
			return y.Draw(make([]float64, 1), []Seen{seen}, 0)
		}
		const h = 0.05
		up, mid, down := at(h), at(0), at(-h)
		w := math.Exp(mid - z*z/2)
		mean, variance := 6+(up-down)/2/h, (up-2*mid+down)/h/h
		weight += w
		mu, muSquare = mu+w*mean, muSquare+w*(variance+mean*mean)
		sigma, sigmaSquare = sigma+w*sd, sigmaSquare+w*sd*sd
	}
	mean, scale := mu/weight, sigma/weight
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"mean of mu", mean, 6.011086}, {"its standard deviation", math.Sqrt(muSquare/weight - mean*mean), 0.058433},
		{"mean of sigma", scale, 0.197914}, {"its standard deviation", math.Sqrt(sigmaSquare/weight - scale*scale), 0.039890},
	} {
		if math.Abs(c.got-c.want) > 1e-3 {
			t.Errorf("%s %.6f, want %.6f", c.what, c.got, c.want)
		}
	}
}

// Exact observations: the lognormal that fits 310 340 365 372 390 401 420 455
// best has the mean of the logarithms and their standard deviation with
// divisor n; R survreg, computed outside the project. Intervals of a thousandth
// of a day are as good as exact.
func TestAgainstExactFit(t *testing.T) {
	minus := func(x []float64) float64 {
		ll := 0.0
		for _, d := range []float64{310, 340, 365, 372, 390, 401, 420, 455} {
			ll += interval(d-5e-4, d+5e-4, x[0], math.Exp(x[1]))
		}
		return -ll
	}
	res, err := optimize.Minimize(optimize.Problem{Func: minus}, []float64{5.9, -2},
		&optimize.Settings{Converger: &optimize.FunctionConverge{Absolute: 1e-12, Iterations: 200}}, &optimize.NelderMead{})
	if err != nil {
		t.Fatal(err)
	}
	if mu, sd := res.X[0], math.Exp(res.X[1]); math.Abs(mu-5.938121177) > 1e-5 || math.Abs(sd-0.112857771) > 1e-5 {
		t.Errorf("mean %.9f and standard deviation %.9f, want 5.938121177 and 0.112857771", mu, sd)
	}
}
