package yard

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"hodaba/data"
)

// columns are those of the first evening's table: what an old yard knows of
// its piles. Only the name and the species must be filled.
var columns = []string{"name", "species", "when", "logs then", "logs now", "wood", "fruited since", "kilograms so far",
	"strain", "diameter", "length", "spawn", "method", "place", "code", "kind", "note"}

// askedColumns is how many of them a blank table shows.
const askedColumns = 8

// columnWords are other headings that are understood.
var columnWords = map[string]string{
	"pile": "name", "bed": "name", "mushroom": "species", "inoculated": "when", "date": "when", "since": "when", "year": "when",
	"logs": "logs then", "logs at the start": "logs then", "logs today": "logs now", "logs left": "logs now",
	"fruiting since": "fruited since", "first fruited": "fruited since", "kg so far": "kilograms so far", "kilograms": "kilograms so far",
	"kg": "kilograms so far", "tag": "code", "notes": "note",
}

// TableHeader is the first line of a blank table for the first evening.
func TableHeader() string { return strings.Join(columns[:askedColumns], ",") }

// oldestPile is the number of years before today within which a pile was
// begun of which nobody knows when: our judgement, wide on purpose.
const oldestPile = 7

// mostTable is the size beyond which a table is none.
const mostTable = 16 << 20

// ReadTable reads what already stands in a yard: one pile or bed a line, with
// commas, semicolons or tabs between, under a heading with the names of the
// columns in any order. Each line becomes an `inoculated` (or `buried`), a
// `counted` and a `harvested` entry, as far as its cells are filled; the texts
// are for RecordAll. Days may be vague, and cells blank. A cell that cannot be
// read is left blank and pointed at by its line.
func ReadTable(r io.Reader, terms Terms) (texts []string, problems []Problem) {
	b, err := io.ReadAll(io.LimitReader(r, mostTable+1))
	if err != nil {
		return nil, []Problem{{File: "table", Grade: Broken, Text: "the table cannot be read: " + err.Error(), Remedy: "look at the file"}}
	}
	if len(b) > mostTable {
		return nil, []Problem{{File: "table", Grade: Broken, Text: fmt.Sprintf("the table is larger than %d MB, and is not read", mostTable>>20),
			Remedy: "take one with a line for each pile and nothing else"}}
	}
	e := &evening{terms: terms, names: map[string]int{}}
	if err := notText(b); err != nil {
		e.lineNo = 1
		e.say(Broken, err)
		return nil, e.problems
	}
	b = bytes.TrimPrefix(b, byteOrderMark)
	if !utf8.Valid(b) {
		e.say(Odd, mistake{"some letters are not saved as UTF-8 and show as �", "save the table as UTF-8, or mend the words afterwards"})
		b = bytes.ToValidUTF8(b, []byte("�"))
	}
	e.table(b)
	return e.texts, e.problems
}

// evening reads the table.
type evening struct {
	terms    Terms
	columns  []string // by position; "" is not understood
	units    []string // unit in the heading, by position
	names    map[string]int
	lineNo   int
	texts    []string
	problems []Problem
}

func (e *evening) say(g Grade, err error) {
	text, remedy := parts(err)
	e.problems = append(e.problems, Problem{File: "table", Line: e.lineNo, Grade: g, Text: text, Remedy: remedy})
}

func (e *evening) table(b []byte) {
	c := csv.NewReader(bytes.NewReader(b))
	c.Comma, c.FieldsPerRecord, c.LazyQuotes, c.TrimLeadingSpace = separator(b), -1, true, true
	for n := 0; ; n++ {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if n > mostLines {
			if err == nil {
				e.lineNo, _ = c.FieldPos(0)
			}
			e.say(Aside, mistake{fmt.Sprintf("the table has more than %d lines: this one and all below it are left out", mostLines), "write one line for each pile or bed"})
			break
		}
		if err != nil {
			var pe *csv.ParseError
			if errors.As(err, &pe) {
				e.lineNo = pe.Line
			}
			e.say(Aside, mistake{"this line cannot be read: " + err.Error(), "look at its quotes"})
			if !errors.As(err, &pe) {
				break
			}
			continue
		}
		e.lineNo, _ = c.FieldPos(0)
		switch {
		case blank(row) || strings.HasPrefix(row[0], "#"):
		case e.columns == nil:
			if !e.heading(row) {
				return
			}
		default:
			e.row(row)
		}
	}
	if e.columns == nil {
		e.say(Broken, mistake{"the table is empty", "write the heading " + TableHeader() + " and one pile a line"})
	}
}

func blank(row []string) bool {
	return !slices.ContainsFunc(row, func(s string) bool { return strings.TrimSpace(s) != "" })
}

// separator is the sign that stands most often in the first line.
func separator(b []byte) rune {
	first := b
	for len(first) > 0 {
		end := lineEnd(first, 0)
		if s := bytes.TrimSpace(first[:end]); len(s) > 0 && s[0] != '#' {
			first = first[:end]
			break
		}
		first = first[end:]
	}
	best := ','
	for _, sep := range []rune{';', '\t'} {
		if bytes.Count(first, []byte(string(sep))) > bytes.Count(first, []byte(string(best))) {
			best = sep
		}
	}
	return best
}

var unitInHeading = regexp.MustCompile(`^(.*?)[ _]*[(\[ _](cm|mm|m|in|inch|inches|ft|kg|g|lb|oz)[)\]]?$`)

// heading reads which column is which.
func (e *evening) heading(row []string) bool {
	if len(row) > mostColumns {
		e.say(Broken, mistake{fmt.Sprintf("the first line has more than %d cells", mostColumns), "write the heading " + TableHeader()})
		return false
	}
	if !slices.ContainsFunc(row, func(cell string) bool { return columnOf(folded(strings.ReplaceAll(cell, "_", " "))) != "" }) {
		e.say(Broken, mistake{"the first line is no heading: it names none of the columns", "write above it the heading " + TableHeader()})
		return false
	}
	for _, cell := range row {
		name, unit := folded(strings.ReplaceAll(cell, "_", " ")), ""
		if m := unitInHeading.FindStringSubmatch(name); m != nil && columnOf(name) == "" && columnOf(m[1]) != "" {
			name, unit = m[1], m[2]
		}
		column := columnOf(name)
		switch {
		case name == "":
		case column == "":
			e.say(Aside, mistake{"no column is called " + shown(cell) + ": it is left out", nearestKey(name, columns)})
		case slices.Contains(e.columns, column):
			e.say(Aside, mistake{"the column " + column + " stands twice: the first counts", "take one of them out"})
			column = ""
		}
		e.columns, e.units = append(e.columns, column), append(e.units, unit)
	}
	if !slices.Contains(e.columns, "name") {
		e.say(Broken, mistake{"the heading names no column `name`", "write the heading " + TableHeader()})
		return false
	}
	if !slices.Contains(e.columns, "species") {
		e.say(Broken, mistake{"the heading names no column `species`", "write the heading " + TableHeader()})
		return false
	}
	return true
}

func columnOf(name string) string {
	if slices.Contains(columns, name) {
		return name
	}
	return columnWords[name]
}

// row turns one line into entries.
func (e *evening) row(row []string) {
	cell := map[string]string{}
	for i, s := range row {
		if s = strings.TrimSpace(s); i < len(e.columns) && e.columns[i] != "" && !nothing(s) {
			if e.units[i] != "" && plainNumber.MatchString(s) {
				s += " " + e.units[i]
			}
			cell[e.columns[i]] = s
		}
	}
	if len(row) > len(e.columns) && !blank(row[len(e.columns):]) {
		e.say(Aside, mistake{"the line has more cells than the heading, and is left out", "put a cell that holds a comma in double quotes"})
		return
	}
	if !e.named(cell) {
		return
	}
	p := e.pile(cell)
	e.add(p.begins())
	e.add(p.counted())
	e.add(p.harvested())
}

var plainNumber = regexp.MustCompile(`^[~\d.,/ –-]+$`)

// nothing is what stands in a cell for "not known".
func nothing(s string) bool {
	switch strings.ToLower(s) {
	case "", "-", "–", "?", "n/a", "unknown", "not known":
		return true
	}
	return false
}

// named makes sure that a line has a name of its own and a species.
func (e *evening) named(cell map[string]string) bool {
	name, species := cell["name"], cell["species"]
	switch {
	case name == "":
		e.say(Aside, mistake{"this line has no name, and is left out", "give the pile a name, such as oak-north"})
		return false
	case species == "":
		e.say(Aside, mistake{shown(name) + " has no species, and is left out", "say which mushroom it is"})
		return false
	case e.names[folded(name)] > 0:
		e.say(Aside, mistake{fmt.Sprintf("%s stands in line %d already, and this line is left out", shown(name), e.names[folded(name)]), "give each pile a name of its own"})
		return false
	}
	e.names[folded(name)] = e.lineNo
	if _, _, known := resolveSpecies(species, e.terms.Own, e.terms.Data); !known && e.terms.Data != nil {
		remedy := "add to " + YardFile + " a [[species]] of that name with like = a species that is built in"
		if near, ok := data.Nearest(species, e.terms.Data.SpeciesNames()); ok {
			remedy = fmt.Sprintf("did you mean %s? If not, %s", near, remedy)
		}
		e.say(Odd, mistake{"no species is called " + shown(species) + ": it is kept, and not forecast", remedy})
	}
	return true
}

// oldPile is one line of the table, read.
type oldPile struct {
	cell          map[string]string
	bed           bool
	when, fruited When
	yes           bool // it has fruited, nobody knows since when
	then, now     int  // NotSaid where blank
	fresh         string
	today         Date
}

// pile reads the cells of a line; one that cannot be read is left blank.
func (e *evening) pile(cell map[string]string) *oldPile {
	p := &oldPile{cell: cell, then: e.count(cell, "logs then"), now: e.count(cell, "logs now"), today: e.terms.Today}
	p.when = e.day(cell, "when")
	p.fruited, p.yes = e.fruited(cell)
	if kg := cell["kilograms so far"]; kg != "" {
		if plainNumber.MatchString(strings.TrimPrefix(kg, "about ")) {
			kg += " kg"
		}
		if _, err := ParseQuantity(kg, Kilogram, e.terms.Measures); err != nil {
			e.cellProblem("kilograms so far", err)
			kg = ""
		}
		p.fresh = kg
	}
	p.bed = folded(cell["kind"]) == "bed"
	for _, key := range []Key{diameterKey, lengthKey, spawnKey, methodKey, codeKey} {
		e.try(cell, key)
	}
	return p
}

// try reads a cell as an entry would, and blanks it if it cannot be read.
func (e *evening) try(cell map[string]string, key Key) {
	if cell[key.Name] == "" {
		return
	}
	t := &table{terms: &e.terms}
	var err error
	switch key.Kind {
	case LengthKey:
		err = t.put(&key, cell[key.Name], new(Quantity))
	default:
		err = t.put(&key, cell[key.Name], new(string))
	}
	if err != nil {
		e.cellProblem(key.Name, err)
		delete(cell, key.Name)
	}
}

func (e *evening) cellProblem(column string, err error) {
	text, remedy := parts(err)
	e.say(Aside, mistake{column + ": " + text + ", and is left blank", remedy})
}

var aboutNumber = regexp.MustCompile(`^(?:about |ca\.? |~)?(\d+)(?: logs?)?$`)

func (e *evening) count(cell map[string]string, column string) int {
	s := strings.ToLower(cell[column])
	if s == "" {
		return NotSaid
	}
	if m := aboutNumber.FindStringSubmatch(s); m != nil {
		if n, err := strconv.ParseInt(m[1], 10, 64); err == nil {
			c, err := countOf(n)
			if err == nil {
				return c
			}
		}
	}
	e.cellProblem(column, mistake{shown(s) + " is not a number of logs", "write it in digits, such as 40"})
	return NotSaid
}

func (e *evening) day(cell map[string]string, column string) When {
	s := cell[column]
	if s == "" {
		return When{}
	}
	w, err := ParseWhen(isoDay(s))
	if err == nil && w.From > e.terms.Today && e.terms.Today != 0 {
		err = mistake{s + " lies in the future", "look at its year"}
	}
	if err != nil {
		e.cellProblem(column, err)
		return When{}
	}
	return w
}

// fruited reads since when a pile fruits; "no" is not yet, and a plain "yes"
// some day up to today.
func (e *evening) fruited(cell map[string]string) (since When, yes bool) {
	switch folded(cell["fruited since"]) {
	case "no", "not yet", "never":
		return When{}, false
	case "yes", "y", "has", "fruited":
		return When{}, true
	}
	return e.day(cell, "fruited since"), false
}

var (
	dottedDay   = regexp.MustCompile(`^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$`)
	slashMonth  = regexp.MustCompile(`^(\d{1,2})[/.](\d{4})$`)
	shortMonth  = regexp.MustCompile(`^(\d{4})-(\d)$`)
	wordedMonth = regexp.MustCompile(`^(?:(\d{1,2})\.?\s+)?(\pL{3,})\.?,?\s+(\d{4})$`)
)

// isoDay brings the ways in which days stand on paper to ISO 8601 where they
// can be read in one way only: "12.4.2022", "4/2022", "April 2022", "12 April
// 2022". Anything else is returned as it is.
func isoDay(s string) string {
	s = strings.TrimSpace(s)
	if m := dottedDay.FindStringSubmatch(s); m != nil {
		return fmt.Sprintf("%s-%02d-%02d", m[3], digits(m[2]), digits(m[1]))
	}
	if m := slashMonth.FindStringSubmatch(s); m != nil {
		return fmt.Sprintf("%s-%02d", m[2], digits(m[1]))
	}
	if m := shortMonth.FindStringSubmatch(s); m != nil {
		return m[1] + "-0" + m[2]
	}
	if m := wordedMonth.FindStringSubmatch(s); m != nil {
		month := monthOf(m[2])
		switch {
		case month == 0:
		case m[1] == "":
			return fmt.Sprintf("%s-%02d", m[3], month)
		default:
			return fmt.Sprintf("%s-%02d-%02d", m[3], month, digits(m[1]))
		}
	}
	return s
}

func monthOf(word string) int {
	for i, name := range []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"} {
		if strings.HasPrefix(name, strings.ToLower(word)) {
			return i + 1
		}
	}
	return 0
}

// begins is the entry with which the pile or bed began. Where nobody knows
// when, the day is as vague as a pile can be old.
func (p *oldPile) begins() (string, map[string]string) {
	v := map[string]string{"on": p.since().String(), "species": p.cell["species"]}
	keys := []string{"strain", "wood", "diameter", "length", "place", "code", "note"}
	kindName := "inoculated"
	if p.bed {
		kindName = "buried"
		v["bed"] = p.cell["name"]
	} else {
		v["pile"] = p.cell["name"]
		keys = append(keys, "spawn", "method")
	}
	for _, k := range keys {
		if p.cell[k] != "" {
			v[k] = p.cell[k]
		}
	}
	if p.then >= 0 {
		v["logs"] = strconv.Itoa(p.then)
	}
	return kindName, v
}

func (p *oldPile) since() When {
	if !p.when.IsZero() {
		return p.when
	}
	latest := On(p.today)
	if !p.fruited.IsZero() {
		latest = p.fruited
	}
	from := latest.From.Year() - oldestPile
	return When{From: NewDate(from, 1, 1), To: latest.To, Text: fmt.Sprintf("%d to %s", from, latest)}
}

func (p *oldPile) counted() (string, map[string]string) {
	if p.now < 0 {
		return "", nil
	}
	return "counted", map[string]string{"on": p.today.String(), "pile": p.cell["name"], "logs": strconv.Itoa(p.now)}
}

// harvested is everything that was picked so far.
func (p *oldPile) harvested() (string, map[string]string) {
	if p.fruited.IsZero() && p.fresh == "" && !p.yes {
		return "", nil
	}
	v := map[string]string{"pile": p.cell["name"], "on": p.fruited.String()}
	if p.yes {
		v["on"] = When{From: p.since().From, To: p.today}.String()
	}
	if p.fresh != "" {
		from := p.fruited
		if p.fruited.IsZero() {
			from = p.since()
		}
		v["on"], v["fresh"] = When{From: from.From, To: p.today}.String(), p.fresh
	}
	return "harvested", v
}

// add composes an entry.
func (e *evening) add(kindName string, values map[string]string) {
	if kindName == "" {
		return
	}
	text, problems := Compose(kindName, values, e.terms)
	for _, p := range problems {
		p.File, p.Line = "table", e.lineNo
		e.problems = append(e.problems, p)
	}
	if text != "" {
		e.texts = append(e.texts, text)
	}
}
