package yard

import (
	"bytes"
	"errors"
	"slices"
	"strings"
)

// A mark is one region in which version control left both sides of a file,
// between lines of seven signs each.
type mark struct {
	line int // of the first sign, counted from 1
	// Offsets: the region, and in it what stands here and what stands there.
	from, to           int // to is -1 where it is not closed
	hereFrom, hereTo   int
	thereFrom, thereTo int
}

// The lines that mark such a region.
const (
	markHere  = "<<<<<<<"
	markBase  = "|||||||"
	markThere = "======="
	markEnd   = ">>>>>>>"
)

// isMark reports whether a line is a mark: seven signs, then nothing or a
// blank and a name.
func isMark(line []byte, sign string) bool {
	rest, ok := bytes.CutPrefix(line, []byte(sign))
	rest = bytes.TrimRight(rest, "\r\n")
	return ok && (len(rest) == 0 || rest[0] == ' ')
}

// marksIn finds the marked regions of a text; a region that is not closed runs
// to the end. Lines of equals signs alone are no mark.
func marksIn(b []byte) (out []mark) {
	if !bytes.Contains(b, []byte(markHere)) {
		return nil
	}
	var m *mark
	n := 0
	for at := 0; at < len(b); {
		end := lineEnd(b, at)
		line := b[at:end]
		n++
		switch {
		case m == nil && isMark(line, markHere):
			m = &mark{line: n, from: at, to: -1, hereFrom: end, hereTo: -1, thereFrom: -1, thereTo: -1}
		case m == nil:
		case isMark(line, markBase) && m.hereTo < 0:
			m.hereTo = at
		case isMark(line, markThere) && m.thereFrom < 0:
			if m.hereTo < 0 {
				m.hereTo = at
			}
			m.thereFrom = end
		case isMark(line, markEnd) && m.thereFrom >= 0:
			m.thereTo, m.to = at, end
			out = append(out, *m)
			m = nil
		}
		at = end
	}
	if m != nil {
		out = append(out, *m)
	}
	return out
}

// sides are the two texts of which a marked one was made.
func sides(b []byte, marks []mark) (here, there []byte, err error) {
	at := 0
	for _, m := range marks {
		if m.to < 0 {
			return nil, nil, errMarks
		}
		here = append(append(here, b[at:m.from]...), b[m.hereFrom:m.hereTo]...)
		there = append(append(there, b[at:m.from]...), b[m.thereFrom:m.thereTo]...)
		at = m.to
	}
	here, there = append(here, b[at:]...), append(there, b[at:]...)
	if sidesOf(here) != nil || sidesOf(there) != nil {
		return nil, nil, errMarks
	}
	return here, there, nil
}

// Why two sides cannot be laid together.
var (
	errMarks    = errors.New("the marks do not come in order")
	errNotWhole = errors.New("one of the two sides is no row of whole entries")
)

// unmarked is a journal without its marks: this side whole, then the entries
// that only the other has. It fails where either side does not consist of
// whole entries, or where both have one entry and say different things in it.
func unmarked(b []byte, terms *Terms) (clean []byte, taken []*Entry, err error) {
	here, there, err := sides(b, marksIn(b))
	if err != nil {
		return nil, nil, err
	}
	own, other := readJournal(here, terms), readJournal(there, terms)
	t, err := joinable(own, other)
	if err != nil {
		return nil, nil, err
	}
	clean = here
	if len(clean) > 0 && clean[len(clean)-1] != '\n' {
		clean = append(clean, '\n')
	}
	for _, e := range t.Taken {
		clean = append(clean, []byte("\n"+e.Text+"\n")...)
	}
	return clean, t.Taken, nil
}

// whole reports whether every table of a journal can be read and none was cut
// short.
func (j *journal) whole() bool {
	if j.torn >= 0 {
		return false
	}
	for _, p := range j.problems {
		if p.Grade != Odd && !strings.Contains(p.Text, "word for word") {
			return false
		}
	}
	return !slices.ContainsFunc(j.entries, func(e *Entry) bool {
		_, _, err := decode(e.Text)
		return err != nil
	})
}
