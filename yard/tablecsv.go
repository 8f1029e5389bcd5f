package yard

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"hodaba/data"
)

// Bounds of a table that is imported.
const (
	mostRows    = 100_000
	mostHeads   = 200
	longestCell = 4 << 10
)

// sheet is a table from a spreadsheet: rows of cells with their line.
type sheet struct {
	raw      []string // headings, folded
	head     []string // name of the column, "" where it is not taken
	units    []string // unit in a heading, ""
	rows     []sheetRow
	comma    bool // decimal commas: cells are parted by something else
	problems []Problem
}

// sheetRow is one row, its cells under their column's name.
type sheetRow struct {
	line int
	cell map[string]string
}

func (s *sheet) say(line int, g Grade, text, remedy string) {
	s.problems = append(s.problems, Problem{File: "table", Line: line, Grade: g, Text: text, Remedy: remedy})
}

// readSheet reads a table with commas, semicolons or tabs between its cells.
// columnOf names the column of a heading, "" where it is not understood. The
// error is for a table of which nothing can be used.
func readSheet(r io.Reader, columnOf func(heading string) string, names []string) (*sheet, error) {
	b, err := io.ReadAll(io.LimitReader(r, mostTable+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("reading the table: %w", err)
	case len(b) > mostTable:
		return nil, mistake{fmt.Sprintf("the table is larger than %d MB", mostTable>>20), "look whether it is the right file"}
	}
	if err := notText(b); err != nil {
		return nil, err
	}
	s := &sheet{}
	b = bytes.TrimPrefix(b, byteOrderMark)
	if !utf8.Valid(b) {
		s.say(1, Odd, "some letters are not saved as UTF-8 and show as �", "save the table as UTF-8, or mend the words afterwards")
		b = bytes.ToValidUTF8(b, []byte("�"))
	}
	sep := separator(b)
	s.comma = sep != ','
	c := csv.NewReader(bytes.NewReader(b))
	c.Comma, c.FieldsPerRecord, c.LazyQuotes, c.TrimLeadingSpace, c.ReuseRecord = sep, -1, true, sep != '\t', true
	if err := s.read(c, columnOf, names); err != nil {
		return nil, err
	}
	if s.head == nil {
		return nil, mistake{"the table is empty", "write a heading such as " + strings.Join(names, ",") + " and a row for each"}
	}
	return s, nil
}

func (s *sheet) read(c *csv.Reader, columnOf func(string) string, names []string) error {
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		var pe *csv.ParseError
		if errors.As(err, &pe) {
			s.say(pe.Line, Aside, "this line cannot be read: "+pe.Err.Error(), "look at its quotes")
			continue
		}
		if err != nil {
			return fmt.Errorf("reading the table: %w", err)
		}
		line, _ := c.FieldPos(0)
		switch {
		case blank(row) || strings.HasPrefix(row[0], "#"):
		case s.head == nil:
			if err := s.heading(line, row, columnOf, names); err != nil {
				return err
			}
		case len(s.rows) >= mostRows:
			s.say(line, Aside, fmt.Sprintf("the table has more than %d rows, and is left out from here", mostRows), "part it into several")
			return nil
		default:
			s.row(line, row)
		}
	}
}

// heading reads which column is which.
func (s *sheet) heading(line int, row []string, columnOf func(string) string, names []string) error {
	if len(row) > mostHeads {
		return mistake{fmt.Sprintf("the heading has %d columns", len(row)), "look whether it is the right file"}
	}
	seen := map[string]bool{}
	var unused []string
	for _, cell := range row {
		cell = unguarded(cell)
		s.raw = append(s.raw, folded(cell))
		name, unit := folded(strings.ReplaceAll(cell, "_", " ")), ""
		if m := unitInHeading.FindStringSubmatch(name); m != nil && columnOf(name) == "" && columnOf(m[1]) != "" {
			name, unit = m[1], m[2]
		}
		column := columnOf(name)
		switch {
		case name == "":
		case column == "":
			unused = append(unused, cell)
		case seen[column]:
			s.say(line, Odd, "the column "+column+" stands twice: the first counts", "take one of them out")
			column = ""
		}
		seen[column] = true
		s.head, s.units = append(s.head, column), append(s.units, unit)
	}
	if len(unused) > 0 {
		s.say(line, Odd, "columns that are not taken: "+shown(strings.Join(unused, ", ")), unusedRemedy(unused, names))
	}
	return nil
}

func unusedRemedy(unused, names []string) string {
	for _, u := range unused {
		if near, ok := data.Nearest(folded(u), names); ok {
			return fmt.Sprintf("did you mean %s by %s?", near, shown(u))
		}
	}
	return "name them " + strings.Join(names, ", ") + ", if they are one of these"
}

// row takes the cells of a row; a row that has more than the heading is left
// out, for nobody knows which cell is which.
func (s *sheet) row(line int, row []string) {
	r := sheetRow{line, map[string]string{}}
	for i, cell := range row {
		if len(cell) > longestCell {
			s.say(line, Aside, "a cell of this row is longer than a page, and the row is left out", "look for a quote that is not closed")
			return
		}
		raw := strings.TrimSpace(cell)
		cell = strings.TrimSpace(unguarded(cell))
		switch {
		case i >= len(s.head) && cell != "":
			s.say(line, Aside, "the row has more cells than the heading, and is left out", "put a cell that holds a comma in double quotes")
			return
		case i < len(s.head) && s.head[i] != "" && cell != "" && (!nothing(raw) || slices.Contains(inWords, s.head[i])):
			if s.units[i] != "" && plainNumber.MatchString(cell) {
				cell += " " + s.units[i]
			}
			r.cell[s.head[i]] = cell
		}
	}
	s.rows = append(s.rows, r)
}

// inWords are columns in which a question mark or "unknown" is a word like any
// other.
var inWords = []string{"name", "pile", "place", "by", "note", "lot", "spawn lot", "code"}

// number is a number in a cell: with a decimal comma where commas do not part
// the cells.
func (s *sheet) number(cell string) string {
	if s.comma {
		return strings.Replace(cell, ",", ".", 1)
	}
	return cell
}

// guarded are cells that a spreadsheet would reckon out as a formula, and
// those that look like a guarded one. Some take the wide signs of East Asian
// type for the narrow ones.
var guarded = regexp.MustCompile(`^'*[=+\-@\t\r＝＋－＠]`)

// Guard makes a cell of text harmless: a spreadsheet would run one that begins
// like a formula, so an apostrophe goes before it. Import takes it away again.
func Guard(cell string) string {
	if guarded.MatchString(cell) {
		return "'" + cell
	}
	return cell
}

// unguarded is a cell as it was before Guard.
func unguarded(cell string) string {
	if rest, ok := strings.CutPrefix(cell, "'"); ok && guarded.MatchString(rest) {
		return rest
	}
	return cell
}
