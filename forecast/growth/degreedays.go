package growth

import "math"

// Degree-days of one day between a lower and an upper threshold, with a
// horizontal cutoff: what lies above the upper threshold counts as the upper
// threshold. They are the mean of max(0, T−lower) less that of max(0,
// T−upper) over the day, where T runs between minimum and maximum as the
// method says; all temperatures in one unit, °C or °F.
//
// Growing days, not degree-days, drive the forecast; degree-days are shown
// beside them because growers elsewhere count in them, and check that a day
// is integrated rightly.

// SingleTriangle lets the temperature rise and fall along straight lines
// between the day's minimum and maximum (Zalom et al. 1983).
func SingleTriangle(lo, hi, lower, upper float64) float64 {
	return triangleAbove(lo, hi, lower) - triangleAbove(lo, hi, upper)
}

// DoubleTriangle is the mean of SingleTriangle with today's minimum and with
// that of the next day.
func DoubleTriangle(lo, hi, nextLo, lower, upper float64) float64 {
	return (SingleTriangle(lo, hi, lower, upper) + SingleTriangle(nextLo, hi, lower, upper)) / 2
}

// SingleSine lets the temperature run as a sine between minimum and maximum
// (Baskerville & Emin 1969, Ecology 50:514–517).
func SingleSine(lo, hi, lower, upper float64) float64 {
	return sineAbove(lo, hi, lower) - sineAbove(lo, hi, upper)
}

// DoubleSine is the mean of SingleSine with today's minimum and with that of
// the next day (Allen 1976, Environmental Entomology 5:388–396).
func DoubleSine(lo, hi, nextLo, lower, upper float64) float64 {
	return (SingleSine(lo, hi, lower, upper) + SingleSine(nextLo, hi, lower, upper)) / 2
}

// Average is the day's average of minimum and maximum less the lower
// threshold, none below it, without an upper threshold: the first of two
// readings of the equation (McMaster & Wilhelm 1997, Agricultural and Forest
// Meteorology 87:291–300).
func Average(lo, hi, lower float64) float64 { return math.Max((lo+hi)/2-lower, 0) }

// AverageRaised is Average with a minimum or maximum under the lower
// threshold raised to it: the second reading.
func AverageRaised(lo, hi, lower float64) float64 {
	return (math.Max(lo, lower)+math.Max(hi, lower))/2 - lower
}

func triangleAbove(lo, hi, threshold float64) float64 {
	switch {
	case threshold <= lo:
		return (lo+hi)/2 - threshold
	case threshold >= hi:
		return 0
	}
	return (hi - threshold) * (hi - threshold) / (2 * (hi - lo))
}

func sineAbove(lo, hi, threshold float64) float64 {
	mean, swing := (lo+hi)/2, (hi-lo)/2
	switch {
	case threshold <= lo:
		return mean - threshold
	case threshold >= hi:
		return 0
	}
	angle := math.Asin((threshold - mean) / swing)
	return ((mean-threshold)*(math.Pi/2-angle) + swing*math.Cos(angle)) / math.Pi
}
