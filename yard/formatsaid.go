package yard

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// formatSaid is what yard.toml says of its format, wherever that stands: on
// either side of marks of version control, twice, or as the program would not
// write it (FORMAT.md, The format number).
type formatSaid struct {
	number int // the highest; 1 where none stands
	line   int
	odd    string // a value that is no number, "" where there is none
	oddAt  int
}

// formatIn reads the format numbers of a yard.toml line by line, so that
// nothing else in it can hide one.
func formatIn(b []byte) formatSaid {
	said := formatSaid{number: thisFormat}
	b = bytes.TrimPrefix(b, byteOrderMark)
	s := sidesOf(b)
	if s == nil {
		said.read(b, false)
		return said
	}
	said.read(s.here, !s.closed())
	said.read(s.there, !s.closed())
	return said
}

var formatForm = regexp.MustCompile(`^[ \t]*["']?format["']?[ \t]*=(.*)`)

// read looks at the lines before the first table; beyond says that marks which
// do not come in order may have put a table before the number.
func (f *formatSaid) read(b []byte, beyond bool) {
	n, inTable := 0, false
	for line := range bytes.Lines(b) {
		n++
		inTable = inTable || isHeader(line)
		if inTable && !beyond {
			return
		}
		m := formatForm.FindSubmatch(bytes.TrimRight(line, "\r\n"))
		if m == nil {
			continue
		}
		value := withoutRemark(string(m[1]))
		number, ok := formatNumber(value)
		switch {
		case ok && number > f.number:
			f.number, f.line = number, n
		case !ok && !inTable && f.oddAt == 0:
			f.odd, f.oddAt = value, n
		}
	}
}

// formatNumber is a number in quotes or not, with zeros before it or not.
func formatNumber(value string) (n int, ok bool) {
	value = strings.Trim(value, `"' `)
	x, err := strconv.ParseFloat(strings.ReplaceAll(value, "_", ""), 64)
	if err == nil && !math.IsNaN(x) && !math.IsInf(x, 0) {
		return int(math.Ceil(min(max(x, 0), math.MaxInt32))), true
	}
	whole, err := strconv.ParseInt(value, 0, 32) // as 0x2
	return int(whole), err == nil
}

// problem says why nothing is written into the folder; nil where that may be.
func (f *formatSaid) problem() *Problem {
	p := &Problem{File: YardFile, Line: f.line, Grade: Broken, Remedy: "use a newer version of the program; nothing was changed"}
	switch {
	case f.number > thisFormat:
		p.Text = laterWords(f.number)
	case f.oddAt > 0:
		p.Line = f.oddAt
		p.Text = fmt.Sprintf(laterBegins+"%s, and that is no number", shown(f.odd))
		p.Remedy = fmt.Sprintf("write format = %d, unless a newer version of the program wrote another number there: then use that version; nothing was changed", thisFormat)
	default:
		return nil
	}
	return p
}
