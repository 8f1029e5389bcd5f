package yard

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"hodaba/data"
)

// A weatherUnit is one in which temperatures or rain stand in a table:
// (v + add) * mul / div is in °C or mm.
type weatherUnit struct {
	name          string
	add, mul, div float64
	exact         bool // the result needs no rounding
}

// base brings a value to °C or mm. Converted values are rounded to the
// hundredth, finer than any of them was read.
func (u *weatherUnit) base(v float64) float64 {
	if u.exact {
		return v / u.div
	}
	return rounded((v + u.add) * u.mul / u.div)
}

var (
	celsius    = &weatherUnit{"°C", 0, 1, 1, true}
	tenthC     = &weatherUnit{"0.1 °C", 0, 1, 10, true}
	fahrenheit = &weatherUnit{"°F", -32, 5, 9, false}
	tenthF     = &weatherUnit{"0.1 °F", -320, 5, 90, false}
	kelvin     = &weatherUnit{"K", -273.15, 1, 1, false}
	millimetre = &weatherUnit{"mm", 0, 1, 1, true}
	tenthMM    = &weatherUnit{"0.1 mm", 0, 1, 10, true}
	centimetre = &weatherUnit{"cm", 0, 10, 1, false}
	inch       = &weatherUnit{"in", 0, 25.4, 1, false}
	hundredIn  = &weatherUnit{"0.01 in", 0, 25.4, 100, false}
)

// What a column can hold beside the elements.
const (
	dateColumn  = measured + iota
	placeColumn // where it was measured, in a table of several places
	yearColumn
	monthColumn
	columnKinds
	noColumn = -1
)

var columnHolds = [columnKinds]string{"minimum", "maximum", "rain", "date", "location", "year", "month"}

// Words in headings. A heading is recognised if every word of it is known,
// and one of them says what the column holds: "Min Temp (°C)", "temp_min",
// "TN". Words of the open daily series are among them.
var (
	holdWords = [columnKinds][]string{
		minimum:     {"min", "minimum", "tmin", "tn", "mint", "mintemp", "tempmin", "low", "lowest"},
		maximum:     {"max", "maximum", "tmax", "tx", "maxt", "maxtemp", "tempmax", "high", "highest"},
		rainfall:    {"rain", "rainfall", "precipitation", "precip", "prec", "prcp", "pcp", "ppt", "rr", "rh", "neerslag", "niederschlag", "pluie"},
		dateColumn:  {"date", "day", "datum", "yyyymmdd", "datetime", "time", "timestamp", "fecha"},
		placeColumn: {"location", "station", "site", "stn", "staid"},
		yearColumn:  {"year", "yyyy"},
		monthColumn: {"month"},
	}
	temperatureWords = []string{"temp", "temperature", "air", "t", "daily", "day", "of", "the", "in", "2m", "deg", "degree", "degrees", "graden",
		"c", "degc", "celsius", "centigrade", "f", "degf", "fahrenheit", "k", "kelvin", "tenth", "tenths", "0.1"}
	rainWords = []string{"daily", "day", "of", "the", "in", "per", "total", "sum", "amount", "depth", "24h", "24hr", "gauge",
		"mm", "millimetre", "millimetres", "millimeter", "millimeters", "cm", "inch", "inches", "tenth", "tenths", "hundredth", "hundredths", "0.1", "0.01"}
	fillWords = [columnKinds][]string{
		minimum: temperatureWords, maximum: temperatureWords, rainfall: rainWords,
		dateColumn:  {"of", "local", "utc", "iso", "yyyy", "mm", "dd", "observation", "measurement"},
		placeColumn: {"id", "name", "code", "number"},
	}
)

var (
	signs = strings.NewReplacer("&#176;", "°", "°C", " c ", "°F", " f ", "°c", " c ", "°f", " f ", "ºC", " c ", "ºF", " f ",
		"℃", " c ", "℉", " f ", "0,1", "0.1", "1/100", "0.01", "1/10", "0.1")
	camelCase = regexp.MustCompile(`([a-z])([A-Z])`)
)

// wordsOf cuts a heading into words in small letters.
func wordsOf(heading string) []string {
	s := camelCase.ReplaceAllString(signs.Replace(heading), "$1 $2")
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' })
	var out []string
	for _, w := range words {
		switch w = strings.Trim(w, "."); {
		case w == "":
		case strings.ContainsAny(w, "0123456789"):
			out = append(out, w) // 0.1
		default:
			out = append(out, strings.Split(w, ".")...)
		}
	}
	return out
}

// holdsOf is what a column of some heading holds.
func holdsOf(words []string) element {
	for e := range element(columnKinds) {
		said := false
		known := !slices.ContainsFunc(words, func(w string) bool {
			if slices.Contains(holdWords[e], w) {
				said = true
				return false
			}
			return !slices.Contains(fillWords[e], w)
		})
		if known && said {
			return e
		}
	}
	return noColumn
}

// unitOf finds the unit of an element among words; nil if none is named.
func unitOf(words []string, e element) *weatherUnit {
	has := func(any ...string) bool {
		return slices.ContainsFunc(any, func(w string) bool { return slices.Contains(words, w) })
	}
	tenth := has("0.1", "tenth", "tenths")
	if e == rainfall {
		switch {
		case has("mm", "millimetre", "millimetres", "millimeter", "millimeters"):
			return choose(tenth, tenthMM, millimetre)
		case has("cm"):
			return centimetre
		case has("inch", "inches"), has("in") && !tenth:
			return choose(has("0.01", "hundredth", "hundredths"), hundredIn, inch)
		}
		return choose(tenth, tenthMM, nil)
	}
	switch {
	case has("f", "fahrenheit", "degf"):
		return choose(tenth, tenthF, fahrenheit)
	case has("c", "celsius", "centigrade", "degc"):
		return choose(tenth, tenthC, celsius)
	case has("k", "kelvin"):
		return kelvin
	}
	return choose(tenth, tenthC, nil)
}

// choose is a where first is true, else b.
func choose[T any](first bool, a, b T) T {
	if first {
		return a
	}
	return b
}

// weatherHead is the heading of a table: what stands in which column and in
// which unit.
type weatherHead struct {
	separator byte
	line      int
	headings  []string // as written
	holds     []element
	at        [columnKinds]int // position, −1 where there is none
	unit      [measured]*weatherUnit
	why       [measured]string // how the unit is known
	problems  []Problem
	columns   int // how many are understood
}

// has reports whether some column holds e.
func (h *weatherHead) has(e element) bool { return h.at[e] >= 0 }

// heading reads a line as a heading. ok is false if it is none: it must name
// the day and something that was measured.
func heading(line string, number int, hints *Hints, file string) (best *weatherHead, ok bool) {
	for _, sep := range []byte{',', ';', '\t'} {
		if n := strings.Count(line, string(sep)); n == 0 || n >= mostHeadings {
			continue
		}
		h := &weatherHead{separator: sep, line: number}
		h.read(cells(line, sep), hints, file)
		if h.dated() && (h.has(minimum) || h.has(maximum) || h.has(rainfall)) && (best == nil || h.columns > best.columns) {
			best = h
		}
	}
	return best, best != nil
}

// dated settles how the day is given: in one column, or as day of the month
// beside year and month. A day beside a year alone is that of the year, which
// is not read.
func (h *weatherHead) dated() bool {
	if !h.has(dateColumn) {
		return false
	}
	ofMonth := isWord(wordsOf(h.headings[h.at[dateColumn]]), "day")
	if ofMonth && h.has(yearColumn) {
		return h.has(monthColumn)
	}
	for _, e := range []element{yearColumn, monthColumn} {
		if h.has(e) {
			h.holds[h.at[e]], h.at[e] = noColumn, -1
		}
	}
	return true
}

// cells are the cells of a line, without quotes and spaces around them.
func cells(line string, sep byte) []string {
	if strings.IndexByte(line, '"') >= 0 {
		return quotedCells(line, sep)
	}
	out := strings.Split(line, string(sep))
	for i := range out {
		out[i] = strings.TrimSpace(out[i])
	}
	return out
}

// quotedCells are the cells of a line some of which stand in double quotes; a
// quote in them is written twice. A quote that is not closed ends with the
// line.
func quotedCells(line string, sep byte) []string {
	var out []string
	var cell strings.Builder
	open := false
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case open && c == '"' && i+1 < len(line) && line[i+1] == '"':
			cell.WriteByte(c)
			i++
		case c == '"':
			open = !open
		case c == sep && !open:
			out = append(out, strings.TrimSpace(cell.String()))
			cell.Reset()
		default:
			cell.WriteByte(c)
		}
	}
	return append(out, strings.TrimSpace(cell.String()))
}

// read finds out what each column holds.
func (h *weatherHead) read(headings []string, hints *Hints, file string) {
	for e := range h.at {
		h.at[e] = -1
	}
	h.headings, h.holds = headings, make([]element, len(headings))
	series := openSeries(headings)
	for i, name := range headings {
		words := wordsOf(name)
		e := hints.column(name, holdsOf(words))
		if e == rainfall && isWord(words, "rh") && !series && unitOf(words, e) == nil && !hints.takes(name) {
			e = noColumn // elsewhere rh is the humidity of the air
		}
		if e == dateColumn && h.at[e] >= 0 && !isWord(words, "day") && !isWord(words, "time") {
			h.holds[h.at[e]], h.at[e] = noColumn, -1 // a date says more than a day or a time
		}
		if e != noColumn && h.at[e] >= 0 {
			if e < measured && len(h.problems) < mostUnknown {
				h.problems = append(h.problems, Problem{File: file, Line: h.line, Grade: Aside,
					Text:   fmt.Sprintf("two columns hold the %s, %s and %s: the first counts", columnHolds[e], clippedName(h.headings[h.at[e]]), clippedName(name)),
					Remedy: "take one of them out, or name the one to take with " + importWith(hints.File, "--column "+CommandPath(columnHolds[e]+"="+name), "")})
			}
			e = noColumn
		}
		if h.holds[i] = e; e == noColumn {
			continue
		}
		h.at[e] = i
		h.columns++
		if e < measured {
			h.unit[e], h.why[e] = hints.unit(e), "as you said"
			if h.unit[e] == nil {
				h.unit[e], h.why[e] = unitOf(words, e), "said in the heading"
			}
			if h.unit[e] == nil && series {
				h.unit[e], h.why[e] = choose(e == rainfall, tenthMM, tenthC), "the unit of that open series"
			}
		}
	}
}

func isWord(words []string, w string) bool { return slices.Contains(words, w) }

// openSeries recognises the headings of the open daily series of weather
// services, whose temperatures are in 0.1 °C and rain in 0.1 mm throughout:
// their day is called YYYYMMDD, or their station and source STAID and SOUID,
// and the elements TN, TX, RH or RR.
func openSeries(headings []string) bool {
	named := func(names ...string) bool {
		return slices.ContainsFunc(headings, func(h string) bool {
			return slices.Contains(names, strings.ToUpper(strings.TrimSpace(h)))
		})
	}
	return (named("YYYYMMDD") || named("STAID") && named("SOUID")) && named("TN", "TX", "RH", "RR")
}

// described takes over units that stand in lines above the heading, as in
// "TN = minimum temperature (in 0.1 degrees Celsius)".
func (h *weatherHead) described(lines map[string]string) {
	for e := range measured {
		if !h.has(e) || h.why[e] == "as you said" {
			continue
		}
		text, ok := lines[strings.ToUpper(h.headings[h.at[e]])]
		if u := unitOf(wordsOf(text), e); ok && u != nil {
			h.unit[e], h.why[e] = u, "said above the table"
		}
	}
}

// lend gives an element without a unit that of its neighbours: the other
// temperature's, and inches where temperatures are in °F.
func (h *weatherHead) lend() {
	for _, e := range []element{minimum, maximum} {
		if other := maximum - e; h.has(e) && h.unit[e] == nil && h.has(other) && h.unit[other] != nil {
			h.unit[e], h.why[e] = h.unit[other], "as the "+columnHolds[other]
		}
	}
	for _, e := range []element{minimum, maximum} {
		if h.has(rainfall) && h.unit[rainfall] == nil && h.has(e) && h.unit[e] == fahrenheit {
			h.unit[rainfall], h.why[rainfall] = inch, "not said; temperatures are in °F"
		}
	}
}

// notSaidUnit is why an element is in °C or mm where nothing says so.
const notSaidUnit = "not said; the usual one"

// settle gives an element whose unit is not said the usual one.
func (h *weatherHead) settle(e element) {
	if h.unit[e] == nil {
		h.unit[e], h.why[e] = choose(e == rainfall, millimetre, celsius), notSaidUnit
	}
}

// fewNames lists names, but not more of them, and of each, than fit a message.
func fewNames(names []string) string {
	const most = 20
	var few []string
	for _, n := range names[:min(len(names), most)] {
		few = append(few, clippedName(n))
	}
	s := strings.Join(few, ", ")
	if n := len(names) - most; n > 0 {
		s += fmt.Sprintf(" and %d more", n)
	}
	return s
}

// clippedName is a name cut to what fits a message.
func clippedName(name string) string {
	const most = 60
	if r := []rune(name); len(r) > most {
		return string(r[:most]) + "…"
	}
	return name
}

// unused are the headings of columns that are not taken.
func (h *weatherHead) unused() (names []string) {
	for i, e := range h.holds {
		if e == noColumn && h.headings[i] != "" {
			names = append(names, h.headings[i])
		}
	}
	return names
}

// Hints say what a table of weather does not say itself. The zero Hints say
// nothing.
type Hints struct {
	File     string            // its name, for problems
	Columns  map[string]string // heading of the column that holds "date", "minimum", "maximum", "rain" or "location"
	Units    map[string]string // unit of "minimum", "maximum" or "rain": "F", "0.1 C", "in"; "temperature" is for both
	Days     string            // "day first" or "month first", for days such as 4/5/2026
	Location string            // the place to take, of several in one table
}

// hintWords are other names for what a column holds.
var hintWords = map[string]element{
	"minimum": minimum, "tmin": minimum, "min": minimum, "maximum": maximum, "tmax": maximum, "max": maximum,
	"rain": rainfall, "date": dateColumn, "day": dateColumn, "location": placeColumn,
}

// check refuses hints that say nothing.
func (h *Hints) check() error {
	for name := range h.Columns {
		if _, ok := hintWords[folded(name)]; !ok {
			return mistake{shown(name) + " is nothing that a column can hold", "say it of date, minimum, maximum, rain or location"}
		}
	}
	for name, unit := range h.Units {
		e, ok := hintWords[folded(name)]
		if folded(name) == "temperature" {
			e, ok = minimum, true
		}
		switch {
		case !ok || e >= measured:
			return mistake{shown(name) + " has no unit", "give units of minimum, maximum, temperature or rain"}
		case unitOf(wordsOf(unit), e) == nil:
			return mistake{shown(unit) + " is no unit of the " + columnHolds[e], choose(e == rainfall, "write mm, cm, in or 0.1 mm", "write C, F, K or 0.1 C")}
		}
	}
	switch folded(h.Days) {
	case "", "day first", "month first":
		return nil
	}
	return mistake{shown(h.Days) + " does not say how days are written", "say day first or month first"}
}

// column is what the column of a heading holds, by the hints or else by its
// own words. A column that was named for something is alone in it.
func (h *Hints) column(heading string, own element) element {
	for name, of := range h.Columns {
		if folded(of) == folded(heading) {
			return hintWords[folded(name)]
		}
	}
	for name := range h.Columns {
		if own != noColumn && hintWords[folded(name)] == own {
			return noColumn
		}
	}
	return own
}

// takes reports whether a heading was named.
func (h *Hints) takes(heading string) bool {
	for _, of := range h.Columns {
		if folded(of) == folded(heading) {
			return true
		}
	}
	return false
}

// missing refuses a hint that names no column of the table.
func (h *Hints) missing(headings []string) error {
	for _, of := range h.Columns {
		if !slices.ContainsFunc(headings, func(s string) bool { return folded(s) == folded(of) }) {
			remedy := "the columns are " + fewNames(headings)
			if near, ok := data.Nearest(of, headings); ok {
				remedy = "did you mean " + near + "?"
			}
			return mistake{"no column is called " + shown(of), remedy}
		}
	}
	return nil
}

// unit is the unit that was named for an element, or nil.
func (h *Hints) unit(e element) *weatherUnit {
	var found *weatherUnit
	for name, unit := range h.Units {
		n := folded(name)
		if of, ok := hintWords[n]; ok && of == e {
			return unitOf(wordsOf(unit), e) // more exact than "temperature"
		}
		if n == "temperature" && e != rainfall {
			found = unitOf(wordsOf(unit), e)
		}
	}
	return found
}
