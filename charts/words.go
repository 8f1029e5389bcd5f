package charts

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"hodaba/forecast"
	"hodaba/yard"
)

// percent writes a chance. A number of possible weathers can show neither
// that something is certain nor that it is all but impossible, so the ends
// are written as bounds; a plain 0 means that it happened in none of them.
func percent(p float64) string { return chance(p) + " %" }

// chance is percent without its sign, for the month boxes.
func chance(p float64) string {
	switch {
	case !(p > 0):
		return "0"
	case p < 0.005:
		return "<1"
	case p > 0.995:
		return ">99"
	}
	return strconv.Itoa(int(math.Round(p * 100)))
}

// units writes amounts in the units the grower asked for.
type units struct{ us bool }

const (
	poundKG      = 0.45359237    // international avoirdupois pound, by definition
	ounceG       = 28.349523125  // a sixteenth of it
	fluidOunceML = 29.5735295625 // US customary, by definition
	inchCM       = 2.54          // by definition
)

// kg writes a mass given in kilograms.
func (u units) kg(x float64) string {
	if u.us {
		return figure(x/poundKG) + " lb"
	}
	return figure(x) + " kg"
}

// g writes a mass given in grams.
func (u units) g(x float64) string {
	if u.us {
		return figure(x/ounceG) + " oz"
	}
	if math.Abs(x) >= 1000 {
		return figure(x/1000) + " kg"
	}
	return strconv.FormatFloat(math.Round(x), 'f', -1, 64) + " g"
}

// ml writes a volume given in millilitres.
func (u units) ml(x float64) string {
	if u.us {
		return figure(x/fluidOunceML) + " fl oz"
	}
	if math.Abs(x) >= 1000 {
		return figure(x/1000) + " l"
	}
	return strconv.FormatFloat(math.Round(x), 'f', -1, 64) + " ml"
}

// cm writes a length given in centimetres.
func (u units) cm(s yard.Span) string {
	unit, by := " cm", 1.0
	if u.us {
		unit, by = " in", inchCM
	}
	if s.Low == s.High {
		return figure(s.Low/by) + unit
	}
	return figure(s.Low/by) + " to " + figure(s.High/by) + unit
}

// kgScale is the number of kilograms in the unit of kg, and its name.
func (u units) kgScale() (float64, string) {
	if u.us {
		return poundKG, "lb"
	}
	return 1, "kg"
}

// figure writes an amount as finely as a forecast deserves: two figures below
// one, one decimal below ten, whole numbers above.
func figure(x float64) string {
	switch a := math.Abs(x); {
	case math.IsNaN(x) || math.IsInf(x, 0):
		return "?"
	case a < 0.005:
		return "0"
	case a < 0.0995:
		return trim(x, 2)
	case a < 9.95:
		return trim(x, 1)
	}
	return strconv.FormatFloat(math.Round(x), 'f', 0, 64)
}

func trim(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

// between writes the range that holds eight tenths, as "2.7 to 9.2 kg".
func between(a forecast.Amount, write func(float64) string) string {
	low, high := write(a.P10), write(a.P90)
	if low == high {
		return low
	}
	if unitOf(low) == unitOf(high) {
		low = bare(low)
	}
	return low + " to " + high
}

// mostly puts the same range into a sentence: "8 years in 10 between 2.7 and
// 9.2 kg". What repeats is "years", or "times" for what has no year.
func mostly(repeats, low, high string) string {
	if low == high {
		return "8 " + repeats + " in 10 the same"
	}
	if unitOf(low) == unitOf(high) {
		low = bare(low)
	}
	return "8 " + repeats + " in 10 between " + low + " and " + high
}

// yearly is mostly for an amount by year.
func yearly(a forecast.Amount, write func(float64) string) string {
	return mostly("years", write(a.P10), write(a.P90))
}

func unitOf(s string) string {
	_, u, _ := strings.Cut(s, " ")
	return u
}

// bare takes the unit off where the other end of a range has it too.
func bare(s string) string {
	n, _, _ := strings.Cut(s, " ")
	return n
}

func monthYear(d yard.Date) string { return d.Time().Format("January 2006") }
func dayMonth(d yard.Date) string  { return d.Time().Format("Mon 2 Jan") }
func fullDay(d yard.Date) string   { return d.Time().Format("2 January 2006") }

// days writes one day or a run of days.
func days(from, to yard.Date) string {
	switch {
	case from == to:
		return dayMonth(from)
	case from.MonthStart() == to.MonthStart():
		return from.Time().Format("2") + "–" + to.Time().Format("2 Jan")
	}
	return from.Time().Format("2 Jan") + " – " + to.Time().Format("2 Jan")
}

// inMonths says in which months the inner eight tenths of d fall; reached is
// the chance that the day comes at all, below zero where it is not known.
func inMonths(d forecast.Dates, reached float64) string { return monthsOf("years", d, reached) }

// monthsOf is inMonths for what repeats in years, or in "times" what has no
// year of its own.
func monthsOf(repeats string, d forecast.Dates, reached float64) string {
	early := monthYear(d.P10)
	switch {
	case d.P10 == 0:
		return ""
	case d.P90 == 0 && reached < 0:
		return "as early as " + early + ", but sometimes not in the years looked at"
	case d.P90 == 0:
		return "as early as " + early + ", but " + percent(1-reached) + " that it does not come in the years looked at"
	case d.P10.MonthStart() == d.P90.MonthStart():
		return "8 " + repeats + " in 10 in " + early
	case d.P10.Year() == d.P90.Year():
		return "8 " + repeats + " in 10 between " + d.P10.Time().Format("January") + " and " + monthYear(d.P90)
	}
	return "8 " + repeats + " in 10 between " + early + " and " + monthYear(d.P90)
}

// capital makes the first letter of a sentence a capital.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 || r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// listing joins as in a sentence: a, b and c.
func listing(s []string) string {
	switch len(s) {
	case 0:
		return ""
	case 1:
		return s[0]
	}
	return strings.Join(s[:len(s)-1], ", ") + " and " + s[len(s)-1]
}

// some lists the first n and says how many there are beyond.
func some(s []string, n int) string {
	if len(s) <= n {
		return listing(s)
	}
	return strings.Join(s[:n], ", ") + " and " + count(len(s)-n, "other", "others")
}

// count writes a number with its noun.
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// shell quotes a word for a command line where it needs it.
func shell(s string) string { return yard.CommandWord(s) }

// leadOf is the sentence over a pile: how surely it is run through, and when
// it fruits.
func leadOf(p *forecast.Pile, r *forecast.Result) string {
	return capital(p.Name) + " " + throughClause(p) + "; " + fruitClause(p, r) + "."
}

func throughClause(p *forecast.Pile) string {
	c := p.Colonised
	switch {
	case c == nil:
		return "was buried run through"
	case !p.GrowthNeeded:
		return "was run through when it came"
	case !(c.ChanceNow > 0):
		return "is not fully run yet"
	case c.ChanceNow < 0.005:
		return "is almost certainly not fully run yet (" + percent(c.ChanceNow) + ")"
	case c.ChanceNow > 0.995:
		return "is almost certainly fully run by today (" + percent(c.ChanceNow) + ")"
	}
	return "is " + percent(c.ChanceNow) + " likely to be fully run by today"
}

func fruitClause(p *forecast.Pile, r *forecast.Result) string {
	what := "its first flush"
	if p.Picked {
		what = "its next flush"
	}
	f := p.First
	if f.P50 == 0 {
		if !(f.Chance > 0) {
			return what + " does not come in any of the " + strconv.Itoa(r.Years) + " years looked at"
		}
		return what + " has a chance of only " + percent(f.Chance) + " before " + monthYear(r.Horizon)
	}
	return fmt.Sprintf("%s is most likely in %s, %s", what, monthYear(f.P50), inMonths(f.Dates, f.Chance))
}
