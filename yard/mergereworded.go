package yard

import (
	"fmt"
	"slices"
	"strings"
)

// together are copies of all entries as they stand once all is taken over, and
// what corrections then make of them. of finds the copy of an entry.
func (l *layer) together(here []*Entry) (of map[*Entry]*Entry, s settled) {
	of = make(map[*Entry]*Entry, len(here)+len(l.t.Taken))
	var all []*Entry
	for _, e := range slices.Concat(here, l.t.Taken) {
		x := *e
		of[e], all = &x, append(all, &x)
	}
	j := journal{entries: all}
	j.tellApart()
	return of, settle(j.entries, nil)
}

// end is the last of the corrections of an entry, which stands for it.
func (s *settled) end(e *Entry) *Entry {
	for n := 0; s.replaced[e] != nil && n < mostCorrected; n++ {
		e = s.replaced[e]
	}
	return e
}

// reword points at corrections taken over that name an entry by hand by the
// digest of its exact text, as earlier programs wrote them, where that entry
// stands here with other spaces, remarks or order of keys: they count there,
// and find nothing here (FORMAT.md, Two copies of one yard).
func (l *layer) reword(here, there []*Entry) {
	named := map[string]*Entry{}
	for x, own := range l.reworded {
		if x.byText != "" && x.byText != own.byText {
			named[x.byText] = x
		}
	}
	if len(named) == 0 {
		return
	}
	names := byName(slices.Concat(here, l.t.Taken))
	s := settle(there, nil)
	for _, e := range l.t.Taken {
		c, ok := e.Event.(*Corrected)
		if !ok || named[c.Replaces] == nil {
			continue
		}
		x := named[c.Replaces]
		own, end := l.reworded[x], s.end(x)
		if delete(named, c.Replaces); names[c.Replaces] == own || end == x {
			continue
		}
		l.undecided(Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Odd,
			Text: fmt.Sprintf("this corrects an entry by hand by the letter, and it stands here in line %d in other letters, with other spaces, remarks or order of lines: it counts here as it stands (%s), and there as %s",
				own.Line, own.Stands().shortly(), endSays(end)),
			Remedy: strings.Join(append(own.Stands().makeIt(end), s.takeBack(e)...), ", then ")})
	}
}

func endSays(end *Entry) string {
	if end.Voids() {
		return "void"
	}
	return end.shortly()
}

// makeIt are the commands that make an entry say what another says.
func (e *Entry) makeIt(other *Entry) []string {
	if other.Voids() && !e.Voids() {
		return []string{"hodaba correct " + e.Name() + " void=true"}
	}
	right := apart(e, other)
	if k := right["kind"]; e.Voids() || k != "" && k != e.Kind {
		return []string{"look at it: hodaba history " + e.Name()}
	}
	words := []string{"hodaba correct", e.Name()}
	for _, k := range sortedKeys(right) {
		switch {
		case k == "replaces" || k == "kind" || k == "mended_by" || k == "void":
		case right[k] == "":
			words = append(words, k+"=")
		default:
			words = append(words, k+"="+CommandWord(right[k]))
		}
	}
	if len(words) == 2 {
		return nil
	}
	return []string{strings.Join(words, " ")}
}

// takeBack are the commands that take a correction and those of it back, the
// last one first.
func (s *settled) takeBack(e *Entry) (out []string) {
	if e != s.end(e) && s.end(e).Voids() {
		return nil // it is taken back
	}
	for n := 0; e != nil && n < mostCorrected; n++ {
		out = append(out, "hodaba correct "+e.Name()+" void=true")
		e = s.replaced[e]
	}
	slices.Reverse(out)
	return out
}
