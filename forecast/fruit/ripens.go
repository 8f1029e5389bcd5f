package fruit

import "hodaba/data"

// RipensIn is how many days after a soak its flush is to be expected, by the
// mean temperature of each day after it, °C: the days in which a flush grows
// whole, as in Next. Where it does not within FlushPatience times DaysCool, it
// is as long as that.
func RipensIn(f *data.Fruit, pr *data.Practice, mean func(after int) float64) int {
	limit := int(pr.FlushPatience.Value * f.DaysCool.Value)
	grown := 0.0
	for after := 1; after < limit; after++ {
		if grown += rateAt(f, pr, mean(after)); grown >= 1 {
			return after
		}
	}
	return limit
}

// rateAt is the share of a flush that grows in a day at t °C: 1/days(T), less
// and less under the band down to none.
func rateAt(f *data.Fruit, pr *data.Practice, t float64) float64 {
	low, high := f.BandLow.Value, f.BandHigh.Value
	slow, fast := f.DaysCool.Value, f.DaysWarm.Value
	x := (min(max(t, low), high) - low) / (high - low)
	rate := 1 / (slow + (fast-slow)*x)
	if t < low {
		rate *= max(0, 1-(low-t)/pr.FlushStops.Value)
	}
	return rate
}
