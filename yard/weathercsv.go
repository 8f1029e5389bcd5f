package yard

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// WeatherFile holds the daily weather of a yard folder.
const WeatherFile = "weather.csv"

// mostWeather is the size beyond which a table holds no daily weather of one
// place.
const mostWeather = 64 << 20

// The years between which a day of weather can lie: before, nobody measured.
const firstWeatherYear = 1750

// ReadWeather reads a table of daily weather: weather.csv, or one as weather
// services and stations give it. The columns are known by their headings, in
// any order; see Hints for what a table may leave unsaid. The weather is nil
// where nothing can be used. What is left out, mended or missing comes as
// problems with their lines; many alike are told as one. Days after today are
// left out, unless today is zero.
func ReadWeather(r io.Reader, today Date) (*Weather, []Problem) {
	t, err := readWeather(r, today, Hints{})
	if err != nil {
		return nil, []Problem{leftOut(WeatherFile, err)}
	}
	return t.weather, sorted(slices.Concat(t.problems, t.notes))
}

// leftOut is the problem of a file that cannot be used at all.
func leftOut(file string, err error) Problem {
	p := Problem{File: file, Grade: Aside}
	var at lineError
	if errors.As(err, &at) {
		p.Line, err = at.line, at.error
	}
	p.Text, p.Remedy = parts(err)
	p.Text += ": the file is left out"
	return p
}

// lineError is a mistake that stands in a line.
type lineError struct {
	error
	line int
}

// readWeather reads a table. The error is for one of which nothing can be
// used.
func readWeather(r io.Reader, today Date, hints Hints) (*weatherTable, error) {
	if err := hints.check(); err != nil {
		return nil, err
	}
	b, err := io.ReadAll(io.LimitReader(r, mostWeather+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the file cannot be read: %w", err)
	case len(b) > mostWeather:
		return nil, mistake{"the file is too large for daily weather", "take a table of one place with one row a day"}
	}
	if hints.File == "" {
		hints.File = WeatherFile
	}
	t := &weatherTable{hints: hints, today: today, tally: tally{file: hints.File, shown: map[string]*sort{}}}
	return t, t.read(b)
}

// weatherTable is a table of weather while it is read.
type weatherTable struct {
	tally
	hints   Hints
	today   Date
	head    *weatherHead
	days    dayReader
	rows    []weatherRow
	places  []string // in order of appearance
	traces  int      // days with less rain than can be measured
	lines   []int32  // of each day of weather; 0 where it has none
	weather *Weather
	notes   []Problem // what is not known or not used, which is no mistake
}

// weatherRow is one line: numbers as they stand there.
type weatherRow struct {
	day   Date
	line  int32
	has   [measured]bool
	value [measured]float64
}

func (t *weatherTable) read(b []byte) error {
	if err := notText(b); err != nil {
		return err
	}
	text := textOfTable(b)
	rest, number, err := t.findHeading(text)
	if err != nil {
		return err
	}
	t.rows = make([]weatherRow, 0, min(strings.Count(rest, "\n")+1, mostRoom))
	t.readRows(rest, number)
	if err := t.onePlace(); err != nil {
		return err
	}
	if err := t.daily(); err != nil {
		return err
	}
	t.units()
	t.fill()
	t.tally.close()
	t.holes()
	t.noteUnused()
	t.noteRain()
	return nil
}

// textOfTable is the text of a file. Letters that are not UTF-8 are taken as
// Latin-1, in which a degree sign often stands.
func textOfTable(b []byte) string {
	b = bytes.TrimPrefix(b, byteOrderMark)
	text := string(b)
	if !utf8.Valid(b) {
		runes := make([]rune, len(b))
		for i, c := range b {
			runes[i] = rune(c)
		}
		text = string(runes)
	}
	if strings.IndexByte(text, '\n') < 0 {
		text = strings.ReplaceAll(text, "\r", "\n")
	}
	return text
}

var describes = regexp.MustCompile(`^[#\s]*([A-Za-z][A-Za-z0-9_]{0,15})\s*[:=]\s*(\S.*)$`)

// findHeading looks for the line that names the columns, and reads the
// descriptions above it. rest is what stands below it.
func (t *weatherTable) findHeading(text string) (rest string, number int, err error) {
	described := map[string]string{}
	first := 0
	for rest = text; rest != ""; {
		var l string
		l, rest, _ = strings.Cut(rest, "\n")
		number++
		l = strings.TrimSpace(strings.TrimLeft(l, "# \t"))
		if first == 0 && l != "" {
			first = number
		}
		if h, ok := heading(l, number, &t.hints, t.file); ok {
			if err := t.hints.missing(h.headings); err != nil {
				return "", 0, lineError{err, number}
			}
			t.head = h
			t.problems = append(t.problems, h.problems...)
			h.described(described)
			h.lend()
			return rest, number, nil
		}
		if m := describes.FindStringSubmatch(l); m != nil {
			described[strings.ToUpper(m[1])] = m[2]
		}
	}
	return "", 0, lineError{mistake{"no line names the columns for the day and for what was measured",
		"write a first line such as " + strings.TrimSpace(weatherHeading)}, max(1, first)}
}

// readRows reads the lines below the heading.
func (t *weatherTable) readRows(rest string, number int) {
	if t.days.order = orders[folded(t.hints.Days)]; t.days.order == unsaid {
		t.days.order = t.findOrder(rest)
	}
	var row [columnKinds]string
	for rest != "" {
		var l string
		l, rest, _ = strings.Cut(rest, "\n")
		number++
		surplus := t.cut(l, &row)
		t.row(&row, l, surplus, number)
	}
}

// cut puts the cells of a line that are understood into row. surplus reports
// that something stands beyond the last heading.
func (t *weatherTable) cut(l string, row *[columnKinds]string) (surplus bool) {
	*row = [columnKinds]string{}
	l = strings.TrimSuffix(l, "\r")
	holds := t.head.holds
	if strings.IndexByte(l, '"') >= 0 {
		for i, cell := range quotedCells(l, t.head.separator) {
			switch {
			case i >= len(holds):
				surplus = surplus || cell != ""
			case holds[i] != noColumn:
				row[holds[i]] = cell
			}
		}
		return surplus
	}
	for i := 0; ; i++ {
		end := strings.IndexByte(l, t.head.separator)
		cell := l
		if end >= 0 {
			cell = l[:end]
		}
		switch {
		case i >= len(holds):
			surplus = surplus || strings.TrimSpace(cell) != ""
		case holds[i] != noColumn:
			row[holds[i]] = trimmed(cell)
		}
		if end < 0 {
			return surplus
		}
		l = l[end+1:]
	}
}

// trimmed is strings.TrimSpace, quick for cells without spaces.
func trimmed(cell string) string {
	if n := len(cell); n == 0 || cell[0] > ' ' && cell[0] < utf8.RuneSelf && cell[n-1] > ' ' && cell[n-1] < utf8.RuneSelf {
		return cell
	}
	return strings.TrimSpace(cell)
}

// row reads the cells of one line.
func (t *weatherTable) row(row *[columnKinds]string, l string, surplus bool, number int) {
	switch {
	case row[dateColumn] == "" && row[minimum] == "" && row[maximum] == "" && row[rainfall] == "":
		return
	case l[0] == '#':
		return
	case strings.EqualFold(row[dateColumn], t.head.headings[t.head.at[dateColumn]]):
		return // the heading again, where tables were joined
	case !t.placed(row[placeColumn]):
		return
	case surplus:
		t.say("surplus", Aside, number, "the line has more cells than the heading, and is left out",
			"write decimals with a point, or put semicolons between the cells")
		return
	}
	day, err := t.day(row)
	if err != nil {
		text, remedy := parts(err)
		t.say("day", Aside, number, text+": the line is left out", remedy)
		return
	}
	if t.today != 0 && day > t.today {
		t.say("future", Aside, number, fmt.Sprintf("%s lies in the future (today is %s), and is left out", calendarDay(day), t.today),
			"look at the day; weather is what was measured")
		return
	}
	t.numbers(row, day, number)
}

// placed reports whether a line is of the place that is wanted, and notes
// which places there are.
func (t *weatherTable) placed(name string) bool {
	if !t.head.has(placeColumn) {
		return true
	}
	if len(t.places) == 0 || name != t.places[len(t.places)-1] {
		if len(t.places) < mostPlaces && !slices.Contains(t.places, name) {
			t.places = append(t.places, name)
		}
	}
	return t.hints.Location == "" || folded(name) == folded(t.hints.Location)
}

// shownPlaces is how many places of a table are named.
const shownPlaces = 8

// onePlace refuses a table of several places of which none was chosen.
func (t *weatherTable) onePlace() error {
	if t.hints.Location != "" && !t.head.has(placeColumn) {
		return mistake{"the table has no column that names places", "leave the location out, or say which column holds it"}
	}
	if t.hints.Location == "" && len(t.places) <= 1 || t.hints.Location != "" && len(t.rows) > 0 {
		return nil
	}
	names := fewNames(t.places[:min(len(t.places), shownPlaces)])
	if n := len(t.places) - shownPlaces; n > 0 {
		names += fmt.Sprintf(" and %d more", n)
	}
	if t.hints.Location != "" {
		return mistake{fmt.Sprintf("nothing in the table is of %s: it holds %s", shown(t.hints.Location), names), "choose one of them"}
	}
	return lineError{mistake{"the table is of several places: " + names, "choose one of them, or keep only its lines"}, t.head.line}
}

// numbers reads what was measured on a day. Blank cells are not known.
func (t *weatherTable) numbers(row *[columnKinds]string, day Date, number int) {
	r := weatherRow{day: day, line: int32(number)}
	for e := range measured {
		cell := row[e]
		if cell == "" {
			continue
		}
		v, ok := parseReading(cell)
		switch {
		case ok && !t.stands(cell):
			r.has[e], r.value[e] = true, v
		case ok:
			t.mark(cell, number)
		case nothing(cell) || missingWords[strings.ToLower(cell)]:
		case e == rainfall && traceWords[strings.ToLower(cell)]:
			r.has[e] = true
			t.traces++
		default:
			t.say("number", Aside, number, fmt.Sprintf("the %s of %s, %s, is no number, and is left out", elementWords[e], calendarDay(day), shown(cell)),
				"write digits and a point, such as 12.4, or leave the cell blank")
		}
	}
	t.rows = append(t.rows, r)
}

var (
	// missingWords and missingCodes stand for "not measured" in open series.
	missingWords = map[string]bool{"na": true, "nan": true, "null": true, "none": true, "nil": true, "m": true, "--": true, "---": true, "x": true, "missing": true, ".": true}
	missingCodes = []string{"-9999", "-9999.0", "-999.9", "-999", "-999.0", "-99.9", "9999", "999.9"}
	// traceWords stand for less rain than can be measured.
	traceWords = map[string]bool{"t": true, "tr": true, "trace": true}
)

// stands reports whether a number stands for "not measured".
func (t *weatherTable) stands(cell string) bool {
	return len(cell) > 2 && (cell[0] == '-' || cell[0] == '9') && slices.Contains(missingCodes, cell)
}

func (t *weatherTable) mark(cell string, number int) {
	t.say("code "+cell, Odd, number, cell+" is taken as not measured", "nothing needs doing; a blank cell says the same")
}

// parseReading reads a plain decimal number that is not empty: digits with one
// point or comma. It takes no exponents and no words.
func parseReading(s string) (float64, bool) {
	neg := false
	rest := s
	if rest[0] == '-' || rest[0] == '+' {
		neg, rest = rest[0] == '-', rest[1:]
	} else if r, ok := strings.CutPrefix(rest, "−"); ok {
		neg, rest = true, r
	}
	mantissa, scale, digits, pointed := int64(0), 0, 0, false
	for i := range len(rest) {
		switch c := rest[i]; {
		case c >= '0' && c <= '9':
			if digits++; digits <= exactDigits {
				mantissa = mantissa*10 + int64(c-'0')
			}
			if pointed {
				scale++
			}
		case !pointed && (c == '.' || c == ','):
			pointed = true
		default:
			return 0, false
		}
	}
	if digits == 0 {
		return 0, false
	}
	v := float64(mantissa)
	if digits > exactDigits {
		var err error
		if v, err = strconv.ParseFloat(strings.Replace(rest, ",", ".", 1), 64); err != nil {
			return 0, false
		}
	} else if scale > 0 {
		v /= tens[scale]
	}
	if neg {
		v = -v
	}
	return v, true
}

// exactDigits is the number of digits up to which a decimal number is a
// quotient of two floats that are exact, and so rounds rightly.
const exactDigits = 15

var tens = [exactDigits + 1]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// daily refuses a table of hours: most of its lines are of the same day as
// the line before.
func (t *weatherTable) daily() error {
	const least = 8
	same := 0
	for i := 1; i < len(t.rows); i++ {
		if t.rows[i].day == t.rows[i-1].day {
			same++
		}
	}
	if len(t.rows) < least || 2*same < len(t.rows) {
		return nil
	}
	return lineError{mistake{"the table has several lines a day, as of hours", "take one with the minimum, maximum and rain of each day"}, int(t.rows[1].line)}
}
