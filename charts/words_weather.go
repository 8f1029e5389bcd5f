package charts

import (
	"math"
	"strconv"
	"time"

	"hodaba/forecast"
)

const inchMM = 10 * inchCM

// c writes a temperature given in °C.
func (u units) c(x float64) string {
	by, unit := u.degrees()
	return decimal1(by(x)) + " " + unit
}

// mark writes a temperature that was set, given in °C, as shortly as it can.
func (u units) mark(x float64) string {
	by, unit := u.degrees()
	return strconv.FormatFloat(math.Round(by(x)*10)/10, 'f', -1, 64) + " " + unit
}

// degrees is how °C are written, and the unit.
func (u units) degrees() (func(float64) float64, string) {
	if u.us {
		return func(c float64) float64 { return c*9/5 + 32 }, "°F"
	}
	return func(c float64) float64 { return c }, "°C"
}

// floor is where an axis begins that has to show a temperature given in °C:
// with °C as the chart does by itself, at nought or below; with °F, whose
// nought means nothing, at the ten below it.
func (u units) floor(coldest float64) any {
	if !u.us {
		return nil
	}
	by, _ := u.degrees()
	return math.Floor(by(coldest)/10) * 10
}

// apart writes a difference of temperatures given in °C, without its sign.
func (u units) apart(x float64) string {
	if u.us {
		return decimal1(math.Abs(x)*9/5) + " °F"
	}
	return decimal1(math.Abs(x)) + " °C"
}

// rain writes a depth of rain given in mm.
func (u units) rain(x float64) string {
	by, unit := u.rainScale()
	if u.us {
		return number(x/by, 2) + " " + unit
	}
	return number(x/by, 0) + " " + unit
}

// rainScale is the number of mm in the unit of rain, and its name.
func (u units) rainScale() (float64, string) {
	if u.us {
		return inchMM, "in"
	}
	return 1, "mm"
}

// whole0 writes a number of days, or of other things that are whole.
func whole0(x float64) string { return number(x, 0) }

// decimal1 writes a number with one decimal, and nothing for what is none.
func decimal1(x float64) string { return number(x, 1) }

// number writes x with a fixed number of decimals; what is no number stays
// blank, and nought has no sign.
func number(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "–"
	}
	p := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(x*p)/p+0, 'f', decimals, 64)
}

// warmer compares as a sentence does: "1.2 °C warmer than", "as warm as".
func (u units) warmer(x float64) string {
	switch s := u.apart(x); {
	case math.Abs(x) < 0.05:
		return "as warm as"
	case x > 0:
		return s + " warmer than"
	default:
		return s + " colder than"
	}
}

// inDays says on which days the inner eight tenths of d fall.
func inDays(d forecast.Dates) string {
	switch {
	case d.P10 == 0:
		return ""
	case d.P90 == 0:
		return "as early as " + fullDay(d.P10)
	case d.P10 == d.P90:
		return "8 years in 10 on " + fullDay(d.P10)
	case d.P10.Year() == d.P90.Year():
		return "8 years in 10 between " + d.P10.Time().Format("2 January") + " and " + fullDay(d.P90)
	}
	return "8 years in 10 between " + fullDay(d.P10) + " and " + fullDay(d.P90)
}

// wetness writes a moisture given as a fraction.
func wetness(x float64) string { return strconv.Itoa(int(math.Round(100*x))) + " %" }

// growingOf names whose growing days are counted.
func growingOf(a *forecast.SiteAhead) string {
	if a.Species == "" {
		return "growing days"
	}
	return "growing days of " + speciesWords(a.Species, a.Strain)
}

// monthName names a month, January 0.
func monthName(m int) string { return time.Month(m + 1).String() }
