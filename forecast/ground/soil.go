package ground

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// soil conducts the warmth of its surface downwards: the heat equation in one
// dimension on nodes that grow apart with depth, one implicit step a day, the
// bottom insulated. The step is linear, so the column is followed in its own
// modes: each fades by a factor of its own a day and is fed by the surface.
// The daily swing, which a daily step cannot see, follows the analytic
// damping e^(−z/d), d = √(2κ/ω), ω = 2π per day (Carslaw & Jaeger, Conduction
// of Heat in Solids, 1959, section 2.6, from memory).
type soil struct {
	z       []float64 // node depths, m; z[0] = 0 is the surface
	lower   []float64 // of the step's tridiagonal matrix
	upper   []float64
	fade    []float64 // of each mode, a day
	feed    []float64 // share of the surface that a mode takes up in a day
	show    []float64 // weight of each mode in the temperature at depth
	surface float64   // weight of the surface itself
	daily   float64   // share of the daily swing at depth
}

const (
	soilBottom = 9.0   // m: more than four damping depths of the year
	soilFirst  = 0.04  // m, thickness of the first layer
	soilGrowth = 1.5   // from layer to layer
	secondsDay = 86400 // s
)

func newSoil(depth, kappa float64) *soil {
	s := &soil{z: []float64{0}}
	for step := soilFirst; s.z[len(s.z)-1] < soilBottom; step *= soilGrowth {
		s.z = append(s.z, s.z[len(s.z)-1]+step)
	}
	s.conduct(kappa)
	below := 0
	for below+2 < len(s.z) && s.z[below+1] <= depth {
		below++
	}
	share := math.Min((depth-s.z[below])/(s.z[below+1]-s.z[below]), 1)
	s.findModes(below, share)
	s.daily = math.Exp(-depth / DampingDepth(kappa, 1))
	return s
}

// DampingDepth is the depth in m at which a wave of a period in days keeps
// 1/e of its height, for a diffusivity in m²/s: √(2κ/ω).
func DampingDepth(kappa, days float64) float64 {
	omega := 2 * math.Pi / (days * secondsDay)
	return math.Sqrt(2 * kappa / omega)
}

// conduct sets the implicit step (T_new − T_old)/Δt = κ T_new″ for the nodes
// beneath the surface.
func (s *soil) conduct(kappa float64) {
	n := len(s.z)
	s.lower, s.upper = make([]float64, n), make([]float64, n)
	for i := 1; i < n; i++ {
		up := s.z[i] - s.z[i-1]
		width := s.width(i)
		s.lower[i] = kappa * secondsDay / (width * up)
		if i+1 < n {
			s.upper[i] = kappa * secondsDay / (width * (s.z[i+1] - s.z[i]))
		}
	}
}

// width is the thickness of soil that a node stands for, m.
func (s *soil) width(i int) float64 {
	if i+1 < len(s.z) {
		return (s.z[i+1] - s.z[i-1]) / 2
	}
	return s.z[i] - s.z[i-1]
}

// findModes takes the step apart into its modes. The matrix is made symmetric
// by the square roots of the widths, so its modes are real and orthogonal.
func (s *soil) findModes(below int, share float64) {
	n := len(s.z) - 1 // nodes beneath the surface
	step := mat.NewSymDense(n, nil)
	for i := range n {
		step.SetSym(i, i, 1+s.lower[i+1]+s.upper[i+1])
		if i+1 < n {
			step.SetSym(i, i+1, -s.upper[i+1]*math.Sqrt(s.width(i+1)/s.width(i+2)))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(step, true) {
		panic("ground: a symmetric matrix has no modes") // cannot be: QR on a symmetric matrix converges
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	at := func(k, node int) float64 { // of mode k at a node, in degrees
		if node == 0 {
			return 0
		}
		return vectors.At(node-1, k) / math.Sqrt(s.width(node))
	}
	for k, value := range eigen.Values(nil) {
		s.fade = append(s.fade, 1/value)
		s.feed = append(s.feed, vectors.At(0, k)*math.Sqrt(s.width(1))*s.lower[1]/value)
		s.show = append(s.show, (1-share)*at(k, below)+share*at(k, below+1))
	}
	if below == 0 {
		// Between the surface and the first node the surface shows itself.
		s.surface = 1 - share
	}
}

// advance moves the modes one day on under a surface temperature.
func (s *soil) advance(x []float64, surface float64) {
	fade, feed := s.fade[:len(x)], s.feed[:len(x)]
	for k := range x {
		x[k] = fade[k]*x[k] + feed[k]*surface
	}
}

// at is the temperature at the log's depth.
func (s *soil) at(x []float64, surface float64) float64 {
	t := s.surface * surface
	show := s.show[:len(x)]
	for k := range x {
		t += show[k] * x[k]
	}
	return t
}

// rest is the state of a column that has had one temperature for ever.
func (s *soil) rest(x []float64, temperature float64) {
	for k := range x {
		x[k] = s.feed[k] * temperature / (1 - s.fade[k])
	}
}

// fill runs the column over n days, after a first year that lets it forget
// how it began.
func (s *soil) fill(out *Series, n int, surface func(int) (mean, swing float64), step func()) {
	x := make([]float64, len(s.fade))
	s.settle(x, n, surface)
	last, _ := surface(0)
	before := s.at(x, last)
	for i := range n {
		mean, swing := surface(i)
		s.advance(x, mean)
		after := s.at(x, mean)
		// The day's mean lies between the implicit ends of yesterday and today.
		out.Mean[i] = float32((before + after) / 2)
		out.Swing[i] = float32(swing * s.daily)
		before = after
		step()
	}
}

// settle starts the column from the first year's mean and runs through that
// year, so that the depths carry last year's warmth.
func (s *soil) settle(x []float64, n int, surface func(int) (mean, swing float64)) {
	year := min(n, 365)
	sum := 0.0
	for i := range year {
		mean, _ := surface(i)
		sum += mean
	}
	s.rest(x, sum/float64(year))
	if year < 365 {
		return
	}
	for i := range year {
		mean, _ := surface(i)
		s.advance(x, mean)
	}
}
