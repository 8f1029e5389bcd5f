package yard

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"strings"
)

// Preview is what an import would bring: nothing is written yet.
type Preview struct {
	Weather  *Weather // what the table says; for WriteWeather
	Columns  []WeatherColumn
	Unused   []string // headings of columns that are not taken
	Months   [12]MonthMean
	Merge    Merge     // with weather.csv
	Problems []Problem // what was left out, mended, or is not known
}

// WeatherColumn is a column of a table and what it was taken for.
type WeatherColumn struct {
	Heading string // as written
	Holds   string // "date", "minimum", "maximum", "rain", "location", "year" or "month"
	Unit    string // "" where it has none
	Why     string // how the unit is known
}

// Merge is what becomes of weather.csv when other weather is merged into it.
type Merge struct {
	New    int // days of which it knows nothing
	Filled int // days of which some cells were blank and are filled, and nothing differs
	Same   int // days that stay as they are
	// Differ are the cells in which both know something else; which of the two
	// counts is for the caller to say.
	Differ []Difference
}

// Changed is the number of days with differing cells.
func (m Merge) Changed() int {
	n := 0
	for i, d := range m.Differ {
		if i == 0 || d.On != m.Differ[i-1].On {
			n++
		}
	}
	return n
}

// Difference is a cell of weather.csv against one of other weather.
type Difference struct {
	On       Date
	What     string  // "minimum", "maximum" or "rain"
	Old, New float64 // °C or mm
}

// ImportWeather reads a table of daily weather and tells what it holds and
// what WriteWeather would make of it. The error is for a table of which
// nothing can be used, or a weather.csv that must be mended first; it says the
// way out.
func ImportWeather(f *Folder, r io.Reader, hints Hints) (Preview, error) {
	t, err := readWeather(r, f.today, hints)
	if err != nil {
		return Preview{}, inLine(err)
	}
	p := Preview{Weather: t.weather, Months: t.weather.Months(), Problems: sorted(slices.Concat(t.problems, t.notes))}
	p.Columns, p.Unused = t.head.taken(), t.head.unused()
	if t.weather == nil {
		err := mistake{"no day in the table can be used", "look at its days and columns; " + strings.TrimSpace(weatherHeading) + " is a heading that is understood"}
		if len(p.Problems) > 0 {
			err.remedy = p.Problems[0].String()
		}
		return p, err
	}
	old, _, err := f.storedWeather()
	if err != nil {
		return p, err
	}
	_, p.Merge = merged(old, t.weather, false)
	return p, nil
}

// inLine names the line of an error, if it has one.
func inLine(err error) error {
	var at lineError
	if !errors.As(err, &at) {
		return err
	}
	text, remedy := parts(at.error)
	return mistake{fmt.Sprintf("line %d: %s", at.line, text), remedy}
}

// taken are the columns that are taken, in their order in the table.
func (h *weatherHead) taken() (columns []WeatherColumn) {
	for i, e := range h.holds {
		if e == noColumn {
			continue
		}
		c := WeatherColumn{Heading: h.headings[i], Holds: columnHolds[e]}
		if e < measured && h.unit[e] != nil {
			c.Unit, c.Why = h.unit[e].name, h.why[e]
		}
		columns = append(columns, c)
	}
	return columns
}

// weather reads weather.csv once; a folder without one has none.
func (f *Folder) weather() *weatherTable {
	if f.sky != nil {
		return f.sky
	}
	f.sky = &weatherTable{}
	b, err := readBounded(f.files, WeatherFile, mostWeather)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return f.sky
	case err != nil:
		p := unreadable(WeatherFile, err)
		p.Grade = Aside
		f.sky.problems = []Problem{p}
		return f.sky
	}
	t, err := readWeather(bytes.NewReader(b), f.today, Hints{})
	if err != nil {
		f.sky.problems = []Problem{leftOut(WeatherFile, err)}
		return f.sky
	}
	f.sky = t
	t.rows = nil
	return t
}

// measuredBy is the weather that was measured up to asOf and, unless it is
// zero, knownBy.
func (f *Folder) measuredBy(asOf, knownBy Date) *Weather {
	w := f.weather().weather
	if w == nil {
		return nil
	}
	if knownBy != 0 {
		asOf = min(asOf, knownBy)
	}
	return w.Slice(w.From, asOf)
}

// storedWeather reads weather.csv as it is now, and its text.
func (f *Folder) storedWeather() (*Weather, []byte, error) {
	b, err := readBounded(f.files, WeatherFile, mostWeather)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(bytes.TrimSpace(b)) == 0 {
		return nil, nil, nil
	}
	if err != nil {
		return nil, nil, fmt.Errorf("reading %s: %w", WeatherFile, err)
	}
	t, err := readWeather(bytes.NewReader(b), f.today, Hints{})
	if err != nil {
		text, remedy := parts(inLine(err))
		return nil, nil, mistake{WeatherFile + " cannot be used as it is: " + text, remedy + "; or move it out of the way"}
	}
	return t.weather, b, nil
}

// merged is the weather of both. Blank cells of either are filled from the
// other; where both know something else, the new counts if newWins.
func merged(old, new *Weather, newWins bool) (*Weather, Merge) {
	var m Merge
	from, to := new.From, new.To()
	if old != nil {
		from, to = min(from, old.From), max(to, old.To())
	}
	w := &Weather{From: from, Days: make([]WeatherDay, to-from+1)}
	if old != nil {
		copy(w.Days[old.From-from:], old.Days)
	}
	for i := range new.Days {
		if new.Days[i].known() {
			on := new.From + Date(i)
			m.day(&w.Days[on-from], &new.Days[i], on, newWins)
		}
	}
	return w, m
}

// day merges one day into what is there, and counts it.
func (m *Merge) day(old, new *WeatherDay, on Date, newWins bool) {
	known, before := old.known(), len(m.Differ)
	filled := false
	for e := range measured {
		v, ok := new.get(e)
		was, had := old.get(e)
		switch {
		case ok && !had:
			old.set(e, v)
			filled = true
		case ok && math.Abs(v-was) > sameReading:
			m.Differ = append(m.Differ, Difference{on, elementWords[e], was, v})
			if newWins {
				old.set(e, v)
			}
		}
	}
	switch {
	case !known:
		m.New++
	case len(m.Differ) > before:
	case filled:
		m.Filled++
	default:
		m.Same++
	}
}

// WriteWeather merges weather into weather.csv: it fills blank cells, and
// where the file says something else it takes the new value if newWins, else
// leaves the old one. What of the old file does not stand in the new one
// word for word, such as further columns, remarks, or values that were
// replaced, is kept beside it in a file that the problem names. An error means
// that weather.csv is as it was.
func (f *Folder) WriteWeather(w *Weather, newWins bool) (m Merge, problems []Problem, err error) {
	if w == nil || len(w.Days) == 0 {
		return m, nil, nil
	}
	unlock, err := f.lock(context.Background())
	if err != nil {
		return m, nil, undone("nothing was written", err)
	}
	defer unlock()
	old, text, err := f.storedWeather()
	if err != nil {
		return m, nil, fmt.Errorf("nothing was written: %w", err)
	}
	both, m := merged(old, w, newWins)
	b := both.CSV()
	if bytes.Equal(b, text) {
		return m, nil, nil
	}
	if !both.holdsAll(text) {
		name := f.freeName("weather-before-%s.csv")
		if err := f.files.Replace(name, text); err != nil {
			return m, nil, fmt.Errorf("nothing was written: keeping the old file as %s: %w", name, err)
		}
		problems = append(problems, Problem{File: WeatherFile, Grade: Odd,
			Text:   "the file held more than days with minimum, maximum and rain, or other values; as it was it is now " + name,
			Remedy: "look whether anything in it is missed, else delete it"})
	}
	if err := f.files.Replace(WeatherFile, b); err != nil {
		return m, problems, fmt.Errorf("writing %s: %w", WeatherFile, err)
	}
	f.sky = nil
	return m, problems, nil
}

// holdsAll reports whether w says everything that stands in the text of a
// weather.csv: nothing but its heading, and for each day the same numbers.
func (w *Weather) holdsAll(text []byte) bool {
	for l := range strings.SplitSeq(textOfTable(text), "\n") {
		row := cells(strings.TrimSuffix(l, "\r"), ',')
		if blank(row) || strings.EqualFold(strings.Join(row, ","), strings.TrimSpace(weatherHeading)) {
			continue
		}
		if !w.holds(row) {
			return false
		}
	}
	return true
}

// holds reports whether w says what a row of weather.csv says.
func (w *Weather) holds(row []string) bool {
	on, err := ParseDate(row[0])
	if err != nil || len(row) > 1+int(measured) && !blank(row[1+measured:]) {
		return false
	}
	day := w.At(on)
	for e := range min(measured, element(len(row)-1)) {
		if row[1+e] == "" {
			continue
		}
		v, known := day.get(e)
		if old, ok := parseReading(row[1+e]); !ok || !known || old != v {
			return false
		}
	}
	return true
}

// freeName is a file name with today's date that is not taken.
func (f *Folder) freeName(form string) string {
	name := fmt.Sprintf(form, f.today)
	for n := 2; exists(f.files, name); n++ {
		name = fmt.Sprintf(form, fmt.Sprintf("%s-%d", f.today, n))
	}
	return name
}
