package harvest

import "math"

// Lasts is how many times as long as a log of reference diameter a log keeps
// fruiting, both diameters in cm: (d/reference)^exponent. The growers' rule of
// one year for each inch of diameter is an exponent of one; it is common
// practice, nobody has measured it. Diameters of zero or less last as long as
// the reference.
func Lasts(diameter, reference, exponent float64) float64 {
	if !(diameter > 0) || !(reference > 0) {
		return 1
	}
	return math.Pow(diameter/reference, exponent)
}

// due is the share of a life crop due by the end of a fruiting year, from 0,
// of logs that last so many times as long as those of which the weights speak:
// the weights are stretched over the years, each evenly over its own.
func due(weights []float64, year int, lasts float64) float64 {
	at := float64(year+1) / lasts // years of the weights
	if !(at < float64(len(weights))) {
		return 1
	}
	whole := int(max(at, 0))
	sum := 0.0
	for _, w := range weights[:whole] {
		sum += w
	}
	return sum + (at-float64(whole))*weights[whole]
}
