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
// p the precision of a cell. Draws of the posterior are draws of the prior
// moved: for the zeros, whose p can be negative, to μ + Σ^½·x, of all maps
// between two Gaussians the one that moves least (Olkin & Pukelsheim 1982,
// Linear Algebra and its Applications 48:257–263; from memory); then for the
// amounts by Matheron's rule, x + K·(d − H·x − noise) (Wilson et al. 2021,
// Pathwise conditioning of Gaussian processes, Journal of Machine Learning
// Research 22(105):1–47; from memory). Parameters: none. State: none. Needs
// nothing from others. Errors: none.
type Factors struct {
	mean []float64
	cov  *mat.Dense

	zeros *gaussian // what the zeros alone leave, nil without any
	cells []Cell    // as given, nil loads where passed over or zero
	gain  *mat.Dense
}

type gaussian struct {
	mean []float64
	root *mat.Dense // symmetric square root of the covariance
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
	f := &Factors{mean: make([]float64, max(factors, 0))}
	if factors <= 0 {
		return f
	}
	var rows [][]float64
	var kept []Cell
	var sites []site
	zeros := false
	f.cells = make([]Cell, len(cells))
	for i, c := range cells {
		if !(c.Noise > 0) || math.IsInf(c.Above, 0) || math.IsNaN(c.Above) || c.Zero && c.None >= 1 {
			continue
		}
		p := 1 / (c.Noise * c.Noise)
		s := site{p, p * c.Above}
		if c.Zero {
			s, zeros = site{}, true
		} else {
			f.cells[i] = c
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
	f.cov, _ = powers(precision)
	times(f.mean, f.cov, shift)
	if zeros {
		f.zeros = alone(factors, kept, rows, sites)
	}
	f.gains()
	return f
}

// alone is what the zeros leave without the amounts.
func alone(n int, cells []Cell, rows [][]float64, sites []site) *gaussian {
	only := make([]site, len(sites))
	for i, s := range sites {
		if cells[i].Zero {
			only[i] = s
		}
	}
	precision, shift := join(n, rows, only)
	g := &gaussian{mean: make([]float64, n)}
	cov, root := powers(precision)
	g.root = root
	times(g.mean, cov, shift)
	return g
}

// gains are by how much each amount moves each factor.
func (f *Factors) gains() {
	if len(f.cells) == 0 {
		return
	}
	f.gain = mat.NewDense(len(f.mean), len(f.cells), nil)
	for k, c := range f.cells {
		for _, l := range c.Loads {
			if l.Factor < 0 || l.Factor >= len(f.mean) {
				continue
			}
			for i := range f.mean {
				f.gain.Set(i, k, f.gain.At(i, k)+f.cov.At(i, l.Factor)*l.By/(c.Noise*c.Noise))
			}
		}
	}
}

func times(dst []float64, m *mat.Dense, x []float64) {
	for i := range dst {
		sum := 0.0
		for j, a := range m.RawRowView(i) {
			sum += a * x[j]
		}
		dst[i] = sum
	}
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

// powers are the inverse of a precision and its symmetric square root.
func powers(precision *mat.SymDense) (cov, root *mat.Dense) {
	n := precision.SymmetricDim()
	var eigen mat.EigenSym
	if !eigen.Factorize(precision, true) {
		cov = mat.NewDense(n, n, nil)
		for i := range n {
			cov.Set(i, i, 1)
		}
		return cov, cov
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
	return scaled(-1), scaled(-0.5)
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
// given the record, in place. noise is that of each cell in the same draw, in
// its standard deviations, in the order of Learn; that of zeros is not asked
// for. Where whatever makes the noise goes on mattering, its own draw is to be
// given here: a crop that was large by luck is then not taken for a good one.
func (f *Factors) Move(draw, noise []float64) {
	if f.zeros != nil {
		moved := make([]float64, len(draw))
		times(moved, f.zeros.root, draw)
		for i := range draw {
			draw[i] = moved[i] + f.zeros.mean[i]
		}
	}
	off := make([]float64, len(f.cells))
	for k, c := range f.cells {
		if c.Noise <= 0 {
			continue
		}
		off[k] = c.Above - c.Noise*noise[k]
		for _, l := range c.Loads {
			if l.Factor >= 0 && l.Factor < len(draw) {
				off[k] -= l.By * draw[l.Factor]
			}
		}
	}
	if f.gain == nil {
		return
	}
	for i := range draw {
		for k, g := range f.gain.RawRowView(i) {
			draw[i] += g * off[k]
		}
	}
}
