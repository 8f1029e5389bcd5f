package chance

import "math"

// z90 is the standard normal quantile of nine tenths.
const z90 = 1.2815515655446004

// Skewed returns the value at z standard normal deviations of a quantity
// whose tenth, half and nine tenths are given: a lognormal on each side of
// the half with a spread of its own. All three must be above zero; equal
// values return that value for any z.
func Skewed(low, typical, high, z float64) float64 {
	if z < 0 {
		return typical * math.Exp(z/z90*math.Log(typical/low))
	}
	return typical * math.Exp(z/z90*math.Log(high/typical))
}
