package yard

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
)

// twoSides is a text in which version control left marks, as it stood on
// either side. Both are as long as the text, and what is in them stands on its
// line: FORMAT.md, Marks of version control.
type twoSides struct {
	here, there []byte
	marks       []mark
	stray       []int // lines of marks that belong to none
	end         int   // offset behind the last mark
}

// sidesOf takes the marks out of a text; nil where there are none.
func sidesOf(b []byte) *twoSides {
	if !slices.ContainsFunc([]string{markHere, markBase, markThere, markEnd}, func(s string) bool { return bytes.Contains(b, []byte(s)) }) {
		return nil
	}
	s := &twoSides{here: bytes.Clone(b), there: bytes.Clone(b), marks: marksIn(b)}
	for _, m := range s.marks {
		blankOut(s.here[m.from:m.hereFrom])
		blankOut(s.there[m.from:m.hereFrom])
		s.end = m.hereFrom
		if m.to < 0 {
			continue // what else marks it is stray
		}
		blankOut(s.here[m.hereTo:m.to])
		blankOut(s.there[m.hereFrom:m.thereFrom])
		blankOut(s.there[m.thereTo:m.to])
		s.end = m.to
	}
	s.dropStray(s.here)
	s.dropStray(s.there)
	if len(s.marks)+len(s.stray) == 0 {
		return nil
	}
	slices.Sort(s.stray)
	s.stray = slices.Compact(s.stray)
	return s
}

// blankOut writes spaces over everything but line ends.
func blankOut(b []byte) {
	for i, c := range b {
		if c != '\n' && c != '\r' {
			b[i] = ' '
		}
	}
}

// dropStray blanks marks that are left in one side, but not within a text that
// runs over several lines.
func (s *twoSides) dropStray(b []byte) {
	for at, line := range strayMarks(b) {
		end := lineEnd(b, at)
		blankOut(b[at:end])
		s.stray = append(s.stray, line)
		s.end = max(s.end, end)
	}
}

// strayMarks are the offsets and lines of marks, where no text over several
// lines is open.
func strayMarks(b []byte) func(yield func(at, line int) bool) {
	return func(yield func(at, line int) bool) {
		open, n := "", 0
		for at := 0; at < len(b); {
			end := lineEnd(b, at)
			line := b[at:end]
			n++
			if open == "" && anyMark(line) && !yield(at, n) {
				return
			}
			open = stringState(line, open)
			at = end
		}
	}
}

func anyMark(line []byte) bool {
	return len(line) >= len(markHere) && (isMark(line, markHere) || isMark(line, markBase) || isMark(line, markThere) || isMark(line, markEnd))
}

// closed reports whether all marks come in order.
func (s *twoSides) closed() bool {
	return len(s.stray) == 0 && !slices.ContainsFunc(s.marks, func(m mark) bool { return m.to < 0 })
}

// mostMarks is how many marked places of one file are told.
const mostMarks = 20

// problems tell of each marked place, with one way out.
func (s *twoSides) problems(file, remedy string) (out []Problem) {
	for _, m := range s.marks[:min(len(s.marks), mostMarks)] {
		out = append(out, Problem{File: file, Line: m.line, Grade: Aside,
			Text: "two copies of the file were laid together, and what differs stands between lines of < = and >", Remedy: remedy})
	}
	if len(s.marks) > 0 {
		return out // what is stray belongs to one that is not closed, or to one in another
	}
	for _, line := range s.stray[:min(len(s.stray), mostMarks)] {
		out = append(out, Problem{File: file, Line: line, Grade: Aside,
			Text:   "a line of signs is left of two copies that were laid together; it is passed over",
			Remedy: "delete the line, and look whether what stands around it is right"})
	}
	return out
}

// readMarked reads a journal in which version control left marks: this side,
// and the entries that only the other has.
func readMarked(s *twoSides, size int, terms *Terms, recorded string) *journal {
	j := readSide(s.here, terms, recorded)
	err := errMarks
	if len(s.stray) == 0 || len(s.marks) > 0 {
		other := readSide(s.there, terms, recorded)
		var t *Takeover
		if t, err = joinable(j, other); err == nil && !s.closed() {
			err = errMarks
		}
		j.takeSide(t.Taken, other)
	}
	j.size = size
	if j.torn >= 0 && j.torn < s.end { // it cannot be cut off: the other side stands behind it
		j.torn = -1
	}
	remedy := "`hodaba verify --mend` keeps the entries of both sides"
	if err != nil {
		remedy = err.Error() + "; take the lines of signs out by hand, so that every entry is whole, and keep the entries of both sides"
	}
	j.problems = append(j.problems, s.problems(JournalFile, remedy)...)
	return j
}

// takeSide takes in what only the other side has, also what cannot be read
// there, in the order of the file.
func (j *journal) takeSide(taken []*Entry, other *journal) {
	known := map[string]bool{}
	for _, e := range j.entries {
		known[e.ID] = true
	}
	j.entries = append(j.entries, taken...)
	for _, e := range other.entries {
		if _, _, err := decode(e.Text); err != nil && !known[e.ID] {
			j.entries = append(j.entries, e)
		}
	}
	slices.SortStableFunc(j.entries, func(a, b *Entry) int { return cmp.Compare(a.Line, b.Line) })
	j.tellApart()
}

// joinable lays one side over the other. The error says why the two cannot be
// made one without somebody's decision.
func joinable(own, other *journal) (*Takeover, error) {
	t := lay(own, other, JournalFile)
	switch {
	case !own.whole() || !other.whole():
		return t, errNotWhole
	case len(t.Differ) > 0:
		return t, fmt.Errorf("both sides have the entry %s, and say different things", t.Differ[0].Here.ID)
	case t.LeftOut():
		return t, errNotWhole
	}
	return t, nil
}

// settings is a marked file of settings as it is read until somebody has
// decided: both sides of a place where they can stand together, else the
// first.
func (s *twoSides) settings(b []byte) []byte {
	out := s.here
	faults := faultsIn(out)
	for _, m := range s.marks[:min(len(s.marks), mostMarks)] {
		if m.to < 0 {
			continue
		}
		both := bytes.Clone(out)
		copy(both[m.thereFrom:m.thereTo], s.there[m.thereFrom:m.thereTo])
		if faultsIn(both) <= faults {
			out = both
		}
	}
	return out
}

// faultsIn counts the tables of a file of settings that cannot be read, and
// those that stand twice and may not.
func faultsIn(b []byte) (n int) {
	seen := map[string]bool{}
	c := &cutter{b: b, line: 1}
	for {
		p, ok := c.next()
		if !ok {
			return n
		}
		text, _ := cleaned("", p)
		if _, _, err := decode(text); err != nil {
			n++
		}
		head := lineOf(text, 1)
		if p.header && !bytes.HasPrefix([]byte(head), []byte("[[")) {
			if seen[head] {
				n++
			}
			seen[head] = true
		}
	}
}
