package charts

import (
	"math"
	"strconv"
	"strings"

	"hodaba/yard"
)

// A record says what was weighed and measured as finely as it was written
// down, not as finely as a forecast deserves.

// weighed writes a mass given in grams.
func (u units) weighed(g float64) string {
	switch {
	case u.us:
		return exact(g/ounceG, 1) + " oz"
	case math.Abs(g) >= 1000:
		return exact(g/1000, 3) + " kg"
	}
	return exact(g, 1) + " g"
}

// freshly writes a mass of fresh mushrooms given in kilograms.
func (u units) freshly(kg float64) string {
	switch {
	case u.us:
		return exact(kg/poundKG, 2) + " lb"
	case math.Abs(kg) < 1:
		return u.weighed(1000 * kg)
	}
	return exact(kg, 2) + " kg"
}

// litrePoint is the volume, ml, from which litres are easier to read.
const litrePoint = 10_000

// poured writes a volume given in millilitres.
func (u units) poured(ml float64) string {
	switch {
	case u.us:
		return exact(ml/fluidOunceML, 1) + " fl oz"
	case math.Abs(ml) >= litrePoint:
		return exact(ml/1000, 2) + " l"
	}
	return exact(ml, 0) + " ml"
}

// liquid writes an amount of liquid that was measured in a vessel or on the
// scale; anything else stays as it was written.
func (u units) liquid(q yard.Quantity) string {
	about := ""
	if q.About {
		about = "about "
	}
	switch {
	case q.Text == "" || q.Low != q.High:
		return q.Text
	case q.Unit == yard.Millilitre:
		return about + u.poured(q.Mid())
	case q.Unit == yard.Kilogram:
		return about + u.weighed(1000*q.Mid())
	}
	return q.Text
}

// exact rounds to decimals and leaves noughts at the end out.
func exact(x float64, decimals int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "?"
	}
	s := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// tenth writes a strength as it is read: to a tenth, without a nought.
func tenth(x float64) string { return exact(x, 1) }
