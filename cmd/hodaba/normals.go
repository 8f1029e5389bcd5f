package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"hodaba/yard"
)

// The limits of what is believed of a month's mean, °C and mm.
const (
	coldestMonth = -60
	hottestMonth = 55
	wettestMonth = 3000
)

// normalList is one of the lists of twelve that make normals.
type normalList struct {
	column   string // in a table, in metric units
	question string
	needed   bool
	least    float64
	most     float64
	to       func(*yard.Normals) *[12]float64
}

var normalLists = []normalList{
	{"tmin_c", "mean daily minimum", true, coldestMonth, hottestMonth, func(n *yard.Normals) *[12]float64 { return &n.TMin }},
	{"tmax_c", "mean daily maximum", true, coldestMonth, hottestMonth, func(n *yard.Normals) *[12]float64 { return &n.TMax }},
	{"rain_mm", "rain of the month", true, 0, wettestMonth, func(n *yard.Normals) *[12]float64 { return &n.Rain }},
	{"rain_days", "days with 1 mm of rain or more (Enter: not known)", false, 0, 31, func(n *yard.Normals) *[12]float64 { return &n.RainDays }},
}

// whereNormals says where growers find normals.
const whereNormals = "The national weather service publishes them for its stations, mostly under the name of climate normals or climate averages, 1991 to 2020: take the station that lies most like the yard, in height too."

// askNormals asks for twelve values each; nil where they were not at hand.
func (a *app) askNormals(us bool) (*yard.Normals, error) {
	a.note("Own normals speak for it instead: the means of each month, twelve numbers in a row, January first.")
	a.note("%s", whereNormals)
	n := &yard.Normals{RainDayMM: 1}
	for i, l := range normalLists {
		unit := ""
		if strings.HasSuffix(l.column, "_c") {
			unit = choose(us, ", °F", ", °C")
		} else if strings.HasSuffix(l.column, "_mm") {
			unit = choose(us, ", inches", ", mm")
		}
		how := ":"
		if i == 0 {
			how = " (Enter: later, in yard.toml):"
		}
		skipped := false
		_, err := a.askUntil(l.question+unit+how, func(s string) error {
			if skipped = s == "" && (i == 0 || !l.needed); skipped {
				return nil
			}
			values, err := twelveOf(s)
			if err != nil {
				return err
			}
			return l.take(n, values, us)
		})
		switch {
		case errors.Is(err, errNoAnswer) && i == 0, skipped && i == 0:
			return nil, nil
		case errors.Is(err, errNoAnswer) && !l.needed:
		case err != nil:
			return nil, err
		}
	}
	return n, nil
}

func choose[T any](yes bool, a, b T) T {
	if yes {
		return a
	}
	return b
}

// twelveOf reads twelve numbers with blanks, commas or semicolons between.
func twelveOf(s string) (out [12]float64, err error) {
	words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ';' || r == '\t' })
	if len(words) != len(out) { // no blanks between: then commas part the numbers
		words = strings.FieldsFunc(s, func(r rune) bool { return strings.ContainsRune(" ,;\t", r) })
	}
	if len(words) != len(out) {
		return out, fmt.Errorf("these are %d numbers: twelve are needed, January first", len(words))
	}
	for i, w := range words {
		if out[i], err = decimal(strings.Trim(w, ",")); err != nil {
			return out, fmt.Errorf("%s: %w", time.Month(i+1), err)
		}
	}
	return out, nil
}

// decimal reads a number with a decimal point or comma.
func decimal(s string) (float64, error) {
	s = strings.Replace(strings.TrimSpace(s), "−", "-", 1)
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, fmt.Errorf("%.60q is no number", s)
	}
	return v, nil
}

// take brings twelve values to °C and mm and checks them.
func (l *normalList) take(n *yard.Normals, values [12]float64, us bool) error {
	for i := range values {
		switch {
		case us && strings.HasSuffix(l.column, "_c"):
			values[i] = hundredth((values[i] - 32) * 5 / 9)
		case us && strings.HasSuffix(l.column, "_mm"):
			values[i] = hundredth(values[i] * 25.4)
		}
		if values[i] < l.least || values[i] > l.most {
			return fmt.Errorf("%s of %s cannot be %g %s: look at the unit", l.question, time.Month(i+1), values[i], unitOf(l.column))
		}
	}
	*l.to(n) = values
	if l.column == "tmax_c" {
		return inOrder(n)
	}
	return nil
}

// inOrder wants every minimum below its maximum.
func inOrder(n *yard.Normals) error {
	for i := range n.TMin {
		if n.TMin[i] >= n.TMax[i] {
			return fmt.Errorf("%s: the mean minimum, %g °C, is not below the mean maximum, %g °C", time.Month(i+1), n.TMin[i], n.TMax[i])
		}
	}
	return nil
}

func hundredth(v float64) float64 { return math.Round(v*100) / 100 }

func unitOf(column string) string {
	switch {
	case strings.HasSuffix(column, "_c"):
		return "°C"
	case strings.HasSuffix(column, "_mm"):
		return "mm"
	}
	return "days"
}

// readNormals reads a table of normals: a row for each month, columns month,
// tmin_c, tmax_c, rain_mm and rain_days, or tmin_f, tmax_f and rain_in.
func readNormals(path string) (*yard.Normals, error) {
	name := filepath.Base(path)
	wrong := func(format string, args ...any) error {
		return folderWrong("a row for each month under month,tmin_c,tmax_c,rain_mm,rain_days (or tmin_f, tmax_f, rain_in)",
			"%s: %s", name, fmt.Sprintf(format, args...))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, folderWrong("name a file with --normals FILE", "the normals cannot be read: %s", err)
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, largestTable+1))
	if err != nil {
		return nil, wrong("%s", err)
	}
	if len(b) > largestTable {
		return nil, wrong("the file is larger than %d MB, too large for twelve months", largestTable>>20)
	}
	t := normalTable{text: strings.TrimPrefix(string(b), "\ufeff"), n: &yard.Normals{RainDayMM: 1}}
	if err := t.read(); err != nil {
		return nil, wrong("%s", err)
	}
	return t.n, nil
}

// normalTable is a table of normals while it is read.
type normalTable struct {
	text   string
	n      *yard.Normals
	month  int // its column
	column map[string]int
	us     map[string]bool // columns in °F or inches
	lists  map[string]*[12]float64
	seen   [12]int // line of each month
}

func (t *normalTable) read() error {
	r := csv.NewReader(strings.NewReader(t.text))
	r.TrimLeadingSpace, r.FieldsPerRecord = true, -1
	if head, _, _ := strings.Cut(t.text, "\n"); strings.Contains(head, ";") {
		r.Comma = ';'
	}
	head, err := r.Read()
	if err != nil {
		return errors.New("there is no heading")
	}
	if err := t.head(head); err != nil {
		return err
	}
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			return t.finish()
		}
		if err != nil {
			return fmt.Errorf("the table is torn: %w", err)
		}
		line, _ := r.FieldPos(0)
		if err := t.row(row, line); err != nil {
			return fmt.Errorf("line %d: %w", line, err)
		}
	}
}

// head finds the columns.
func (t *normalTable) head(head []string) error {
	t.month, t.column, t.us, t.lists = -1, map[string]int{}, map[string]bool{}, map[string]*[12]float64{}
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		metric, us := h, false
		switch h {
		case "month":
			t.month = i
			continue
		case "tmin_f", "tmax_f":
			metric, us = strings.TrimSuffix(h, "f")+"c", true
		case "rain_in":
			metric, us = "rain_mm", true
		}
		if _, twice := t.column[metric]; twice {
			return fmt.Errorf("the column %q stands there twice", metric)
		}
		t.column[metric], t.us[metric], t.lists[metric] = i, us, &[12]float64{}
	}
	if t.month < 0 {
		return errors.New("there is no column \"month\"")
	}
	for _, l := range normalLists {
		if _, ok := t.column[l.column]; l.needed && !ok {
			return fmt.Errorf("there is no column %q", l.column)
		}
	}
	return nil
}

// row takes the values of one month; a row without any is passed over.
func (t *normalTable) row(row []string, line int) error {
	if strings.TrimSpace(strings.Join(row, "")) == "" {
		return nil
	}
	if t.month >= len(row) {
		return errors.New("the month is missing")
	}
	m, err := monthNumber(row[t.month])
	if err != nil {
		return err
	}
	if t.seen[m] > 0 {
		return fmt.Errorf("%s stands in line %d already", time.Month(m+1), t.seen[m])
	}
	t.seen[m] = line
	for _, l := range normalLists {
		i, ok := t.column[l.column]
		if !ok {
			continue
		}
		if i >= len(row) {
			return fmt.Errorf("%s is missing", l.column)
		}
		if t.lists[l.column][m], err = decimal(row[i]); err != nil {
			return fmt.Errorf("%s: %w", l.column, err)
		}
	}
	return nil
}

// finish wants all twelve months and checks the values.
func (t *normalTable) finish() error {
	for m, line := range t.seen {
		if line == 0 {
			return fmt.Errorf("%s is missing", time.Month(m+1))
		}
	}
	for _, l := range normalLists {
		if _, ok := t.column[l.column]; !ok {
			continue
		}
		if err := l.take(t.n, *t.lists[l.column], t.us[l.column]); err != nil {
			return err
		}
	}
	return nil
}

// monthNumber reads 1 to 12, or a name of at least three letters; January is
// 0.
func monthNumber(s string) (int, error) {
	s = strings.ToLower(strings.TrimSpace(s))
	if n, err := strconv.Atoi(s); err == nil && n >= 1 && n <= 12 {
		return n - 1, nil
	}
	for m := time.January; m <= time.December; m++ {
		if len(s) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), s) {
			return int(m) - 1, nil
		}
	}
	return -1, fmt.Errorf("%.60q is no month", s)
}
