package harvest

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Load is by how much the logarithm of a record changes when one factor
// changes by one standard deviation.
type Load struct {
	Factor int
	By     float64
}

// Cell is one thing on record: its logarithm is the sum of its loads times
// the factors, and noise.
type Cell struct {
	Loads []Load
	// Above is the logarithm of what was recorded over what is expected with
	// all factors at their middle; in a zero, of the least that would have
	// been recorded.
	Above float64
	Noise float64 // standard deviation, above zero
	Zero  bool    // nothing was there
	None  float64 // of a zero: the chance of nothing whatever the factors
}

// Factors is what is known of factors that were independent standard normals
// before anything was on record.
//
// Purpose: joint posterior of the factors by which crops differ, species,
// pile and year, and draws from it. Equations: with a row h of loads for each
// cell, an amount is ln R = h·x + noise, exactly Gaussian; a zero has the
// likelihood
//
//	None + (1−None)·Φ((Above − h·x)/Noise)
//
// which is matched in mean and variance along h, given all others, by
// expectation propagation (Rasmussen & Williams 2006, Gaussian Processes for
// Machine Learning, section 3.6, with the moments of a probit of their
// equation 3.58; from memory). The precision of all factors is I + Σ p·h·hᵀ,
// p the precision of a cell. Move carries a draw x of the prior to
// μ + Σ^½·x: of all maps that turn the prior into the posterior the one that
// moves draws least (Olkin & Pukelsheim 1982, Linear Algebra and its
// Applications 48:257–263; from memory). Parameters: none. State: none.
// Needs nothing from others. Errors: none.
type Factors struct {
	mean []float64
	cov  *mat.Dense
	root *mat.Dense // symmetric square root of cov
}

// site is a cell as a Gaussian in h·x: its precision, and that times its
// place.
type site struct{ precision, shift float64 }

// The sweeps of expectation propagation: it has settled long before.
const (
	sweeps = 40
	damp   = 0.7
)

// Learn returns what cells tell of so many factors. Loads of factors that do
// not exist are passed over, as are cells without noise.
func Learn(factors int, cells []Cell) *Factors {
	if factors <= 0 {
		return &Factors{}
	}
	var rows [][]float64
	var kept []Cell
	var sites []site
	zeros := false
	for _, c := range cells {
		if !(c.Noise > 0) || math.IsInf(c.Above, 0) || math.IsNaN(c.Above) || c.Zero && c.None >= 1 {
			continue
		}
		p := 1 / (c.Noise * c.Noise)
		s := site{p, p * c.Above}
		if c.Zero {
			s, zeros = site{}, true
		}
		rows, kept, sites = append(rows, row(factors, c.Loads)), append(kept, c), append(sites, s)
	}
	precision, shift := join(factors, rows, sites)
	for n := 0; zeros && n < sweeps; n++ {
		cov, ok := inverse(precision)
		if !ok {
			break
		}
		sweep(kept, rows, sites, cov, shift)
		precision, shift = join(factors, rows, sites)
	}
	return newFactors(precision, shift)
}

func row(factors int, loads []Load) []float64 {
	h := make([]float64, factors)
	for _, l := range loads {
		if l.Factor >= 0 && l.Factor < factors {
			h[l.Factor] += l.By
		}
	}
	return h
}

// join puts the sites and the prior together.
func join(n int, rows [][]float64, sites []site) (precision *mat.SymDense, shift []float64) {
	precision, shift = mat.NewSymDense(n, nil), make([]float64, n)
	for i := range n {
		precision.SetSym(i, i, 1)
	}
	for k, h := range rows {
		for i, a := range h {
			if a == 0 {
				continue
			}
			shift[i] += sites[k].shift * a
			for j := i; j < n; j++ {
				precision.SetSym(i, j, precision.At(i, j)+sites[k].precision*a*h[j])
			}
		}
	}
	return precision, shift
}

func inverse(s *mat.SymDense) (*mat.SymDense, bool) {
	var c mat.Cholesky
	if !c.Factorize(s) {
		return nil, false
	}
	var inv mat.SymDense
	return &inv, c.InverseTo(&inv) == nil
}

// sweep brings the site of each zero nearer to the Gaussian that matches it,
// given all others.
func sweep(cells []Cell, rows [][]float64, sites []site, cov *mat.SymDense, shift []float64) {
	n := len(shift)
	along := mat.NewVecDense(n, nil)
	for k, c := range cells {
		if !c.Zero {
			continue
		}
		h := mat.NewVecDense(n, rows[k])
		along.MulVec(cov, h)
		variance, mean := mat.Dot(along, h), mat.Dot(along, mat.NewVecDense(n, shift))
		if variance <= 0 {
			continue
		}
		without := 1/variance - sites[k].precision
		if without <= 0 {
			continue
		}
		m := (mean/variance - sites[k].shift) / without
		matchedMean, matchedVar := c.tilted(m, 1/without)
		p, q := 1/matchedVar-without, matchedMean/matchedVar-m*without
		sites[k].precision += damp * (p - sites[k].precision)
		sites[k].shift += damp * (q - sites[k].shift)
	}
}

// tilted is the mean and variance of h·x, a normal of mean m and variance v
// without the cell, given that it was zero.
func (c Cell) tilted(m, v float64) (mean, variance float64) {
	b := math.Sqrt(c.Noise*c.Noise + v)
	k := (c.Above - m) / b
	// Both over the whole likelihood, without falling out of range of floats.
	density, slope := (1-c.None)*normalDensity(k), 0.0
	if whole := c.None + (1-c.None)*normalShare(k); whole > 0 {
		slope = density / whole
	} else {
		slope = -k // what φ/Φ comes to far down
	}
	d1 := -slope / b
	d2 := -k*slope/(b*b) - d1*d1
	mean = m + v*d1
	variance = v + v*v*d2
	return mean, math.Max(variance, 1e-9*v)
}

func normalShare(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }

func normalDensity(x float64) float64 { return math.Exp(-x*x/2) / math.Sqrt(2*math.Pi) }

// leastPrecision is under what no direction's precision is let sink: zeros
// can leave the posterior wider than the prior, but not without end.
const leastPrecision = 0.05

func newFactors(precision *mat.SymDense, shift []float64) *Factors {
	n := len(shift)
	f := &Factors{mean: make([]float64, n), cov: mat.NewDense(n, n, nil), root: mat.NewDense(n, n, nil)}
	var eigen mat.EigenSym
	if !eigen.Factorize(precision, true) {
		for i := range n {
			f.cov.Set(i, i, 1)
			f.root.Set(i, i, 1)
		}
		return f
	}
	var v mat.Dense
	eigen.VectorsTo(&v)
	values := eigen.Values(nil)
	scaled := func(power float64) *mat.Dense {
		var s, out mat.Dense
		s.Apply(func(_, j int, x float64) float64 { return x * math.Pow(math.Max(values[j], leastPrecision), power) }, &v)
		out.Mul(&s, v.T())
		return &out
	}
	f.cov, f.root = scaled(-1), scaled(-0.5)
	mean := mat.NewVecDense(n, f.mean)
	mean.MulVec(f.cov, mat.NewVecDense(n, shift))
	return f
}

// Of is the mean and standard deviation of a sum of loads times the factors.
func (f *Factors) Of(loads ...Load) (mean, sd float64) {
	h := row(len(f.mean), loads)
	variance := 0.0
	for i, a := range h {
		mean += a * f.mean[i]
		for j, b := range h {
			variance += a * b * f.cov.At(i, j)
		}
	}
	return mean, math.Sqrt(math.Max(variance, 0))
}

// Move turns a draw of the factors before anything was on record into one
// given the record, in place. Each draw is moved by itself, so that it is the
// same however many there are.
func (f *Factors) Move(draw []float64) {
	moved := make([]float64, len(f.mean))
	for i := range moved {
		sum := f.mean[i]
		for j, r := range f.root.RawRowView(i) {
			sum += r * draw[j]
		}
		moved[i] = sum
	}
	copy(draw, moved)
}
