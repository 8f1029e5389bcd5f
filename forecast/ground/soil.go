package ground

import "math"

// soil conducts the warmth of its surface downwards: the heat equation in one
// dimension on nodes that grow apart with depth, one implicit step a day, the
// bottom insulated. The daily swing, which a daily step cannot see, follows
// the analytic damping e^(−z/d), d = √(2κ/ω), ω = 2π per day (Carslaw &
// Jaeger, Conduction of Heat in Solids, 1959, section 2.6, from memory).
type soil struct {
	depth   float64   // m, of the log's middle
	kappa   float64   // m²/s
	z       []float64 // node depths; z[0] = 0 is the surface
	lower   []float64 // of the tridiagonal matrix
	factor  []float64 // eliminated upper diagonal
	inverse []float64 // of the pivots
	below   int       // node at or above depth
	share   float64   // weight of the node beneath it
	daily   float64   // share of the daily swing at depth
}

const (
	soilBottom = 9.0   // m: more than four damping depths of the year
	soilFirst  = 0.04  // m, thickness of the first layer
	soilGrowth = 1.5   // from layer to layer
	secondsDay = 86400 // s
)

func newSoil(depth, kappa float64) *soil {
	s := &soil{depth: depth, kappa: kappa, z: []float64{0}}
	for step := soilFirst; s.z[len(s.z)-1] < soilBottom; step *= soilGrowth {
		s.z = append(s.z, s.z[len(s.z)-1]+step)
	}
	s.eliminate()
	for s.below+2 < len(s.z) && s.z[s.below+1] <= depth {
		s.below++
	}
	s.share = math.Min((depth-s.z[s.below])/(s.z[s.below+1]-s.z[s.below]), 1)
	s.daily = math.Exp(-depth / DampingDepth(kappa, 1))
	return s
}

// DampingDepth is the depth in m at which a wave of a period in days keeps
// 1/e of its height, for a diffusivity in m²/s: √(2κ/ω).
func DampingDepth(kappa, days float64) float64 {
	omega := 2 * math.Pi / (days * secondsDay)
	return math.Sqrt(2 * kappa / omega)
}

// eliminate prepares the implicit step (T_new − T_old)/Δt = κ T_new″ for the
// nodes beneath the surface.
func (s *soil) eliminate() {
	n := len(s.z)
	s.lower, s.factor, s.inverse = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := 1; i < n; i++ {
		up := s.z[i] - s.z[i-1]
		down, width := 0.0, up
		if i+1 < n {
			down = s.z[i+1] - s.z[i]
			width = (up + down) / 2
		}
		a := s.kappa * secondsDay / (width * up)
		c := 0.0
		if i+1 < n {
			c = s.kappa * secondsDay / (width * down)
		}
		s.lower[i] = a
		pivot := 1 + a + c
		if i > 1 {
			pivot -= a * s.factor[i-1]
		}
		s.inverse[i] = 1 / pivot
		s.factor[i] = c / pivot
	}
}

// advance moves the column one day on under a surface temperature.
func (s *soil) advance(t []float64, surface float64) {
	lower, inverse, factor := s.lower[:len(t)], s.inverse[:len(t)], s.factor[:len(t)]
	t[0] = surface
	prev := surface
	for i := 1; i < len(t); i++ {
		prev = (t[i] + lower[i]*prev) * inverse[i]
		t[i] = prev
	}
	for i := len(t) - 2; i >= 1; i-- {
		prev = t[i] + factor[i]*prev
		t[i] = prev
	}
}

// at is the column's temperature at the log's depth.
func (s *soil) at(t []float64) float64 {
	return t[s.below]*(1-s.share) + t[s.below+1]*s.share
}

// fill runs the column over n days, after a first year that lets it forget
// how it began.
func (s *soil) fill(out *Series, n int, surface func(int) (mean, swing float64), step func()) {
	t := make([]float64, len(s.z))
	s.settle(t, n, surface)
	for i := range n {
		mean, swing := surface(i)
		before := s.at(t)
		s.advance(t, mean)
		// The day's mean lies between the implicit ends of yesterday and today.
		out.Mean[i] = float32((before + s.at(t)) / 2)
		out.Swing[i] = float32(swing * s.daily)
		step()
	}
}

// settle starts the column from the first year's mean and runs through that
// year, so that the depths carry last year's warmth.
func (s *soil) settle(t []float64, n int, surface func(int) (mean, swing float64)) {
	year := min(n, 365)
	sum := 0.0
	for i := range year {
		mean, _ := surface(i)
		sum += mean
	}
	for i := range t {
		t[i] = sum / float64(year)
	}
	if year < 365 {
		return
	}
	for i := range year {
		mean, _ := surface(i)
		s.advance(t, mean)
	}
}
