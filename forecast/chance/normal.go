package chance

import "math"

// Normal is what is believed of a quantity: a normal distribution. What cannot
// be below zero is best held by its logarithm.
type Normal struct{ Mean, SD float64 }

// Matched is the normal distribution with the mean and the variance of a
// quantity whose tenth, half and nine tenths are given: half a normal
// distribution on each side of the half, with spreads of their own.
//
// Equation: with s = (half − low)/z90 below and t = (high − half)/z90 above,
//
//	mean     = half + (t − s)/√(2π)
//	variance = (s² + t²)/2 − (t − s)²/(2π)
//
// (moments of the half-normal distribution). Where both sides are alike it has
// the very tenth and nine tenths given.
func Matched(low, half, high float64) Normal {
	s, t := (half-low)/z90, (high-half)/z90
	return Normal{
		Mean: half + (t-s)/math.Sqrt(2*math.Pi),
		SD:   math.Sqrt(math.Max((s*s+t*t)/2-(t-s)*(t-s)/(2*math.Pi), 0)),
	}
}

// Update is what is believed of a mean after n values were seen that scatter
// about it normally with a known standard deviation, their own mean being
// mean. None, or a deviation that is not above zero, changes nothing.
//
// Equation: the conjugate update of a normal mean with known variance (for
// example Gelman et al., Bayesian Data Analysis, 3rd edition, section 2.5),
//
//	1/SD'² = 1/SD² + n/sd²
//	Mean'  = SD'² (Mean/SD² + n mean/sd²)
//
// Parameters: sd in the unit of the values.
func (b Normal) Update(mean float64, n int, sd float64) Normal {
	if n <= 0 || !(sd > 0) || math.IsInf(sd, 0) || !(b.SD > 0) {
		return b
	}
	// As a weight, so that no square of a small number is divided by.
	ratio := sd / b.SD
	w := float64(n) / (float64(n) + ratio*ratio)
	return Normal{Mean: b.Mean + w*(mean-b.Mean), SD: b.SD * math.Sqrt(1-w)}
}

// Next is what is believed of the next value, which scatters about the mean
// with a standard deviation:
//
//	SD'² = SD² + sd²
func (b Normal) Next(sd float64) Normal { return Normal{b.Mean, math.Hypot(b.SD, sd)} }

// Tenths are the tenth, half and nine tenths.
func (b Normal) Tenths() (low, half, high float64) {
	return b.Mean - z90*b.SD, b.Mean, b.Mean + z90*b.SD
}
