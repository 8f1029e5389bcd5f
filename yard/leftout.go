package yard

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// onPurpose are the entries that were taken out of the journal on purpose: by
// identifier, which several may share, the moments in which they were written.
// No moments are all of that identifier, as an older program wrote them.
type onPurpose map[string][]Moment

// names reports whether an entry of an identifier is left out.
func (l onPurpose) names(id string) bool {
	_, ok := l[id]
	return ok
}

// has reports whether the entry of an identifier and moment is left out.
func (l onPurpose) has(id string, at Moment) bool {
	moments, ok := l[id]
	return ok && (len(moments) == 0 || slices.Contains(moments, at))
}

// add leaves an entry out; where its moment is not known, all of its identifier.
func (l onPurpose) add(id string, at Moment) {
	switch moments, ok := l[id]; {
	case at == "":
		l[id] = nil
	case !ok || len(moments) > 0 && !slices.Contains(moments, at):
		l[id] = append(moments, at)
	}
}

// takeBack takes an entry off the list, and reports whether it was on it.
func (l onPurpose) takeBack(id string, at Moment) bool {
	if !l.has(id, at) {
		return false
	}
	rest := slices.DeleteFunc(l[id], func(m Moment) bool { return m == at })
	if l[id] = rest; len(rest) == 0 {
		delete(l, id)
	}
	return true
}

// leftList is what leftFile holds.
type leftList struct {
	Entries []string            `toml:"entries"`
	Since   map[string]string   `toml:"since"`   // by identifier: the day on which it was left out
	Written map[string][]Moment `toml:"written"` // by identifier: which of those that share it
}

// leftText is the content of leftFile.
func leftText(left onPurpose, since map[string]string) string {
	var b strings.Builder
	b.WriteString("# Entries that were taken out of the journal on purpose.\nentries = [\n")
	ids := slices.Sorted(maps.Keys(left))
	for _, id := range ids {
		fmt.Fprintf(&b, "\t%s,\n", quote(id))
	}
	b.WriteString("]\n\n[since]\n")
	for _, id := range slices.Sorted(maps.Keys(since)) {
		if left.names(id) {
			fmt.Fprintf(&b, "%s = %s\n", quote(id), quote(since[id]))
		}
	}
	b.WriteString("\n[written]\n")
	for _, id := range ids {
		if len(left[id]) > 0 {
			var moments []string
			for _, m := range left[id] {
				moments = append(moments, quote(string(m)))
			}
			fmt.Fprintf(&b, "%s = [%s]\n", quote(id), strings.Join(moments, ", "))
		}
	}
	return b.String()
}

// leftSince are the days on which entries were left out, where that is known.
func (f *Folder) leftSince() map[string]string {
	var l leftList
	if readOwn(f.files, leftFile, &l) != nil || l.Since == nil {
		return map[string]string{}
	}
	return l.Since
}

// protectAgain takes entries that stand in the journal again, and can be read
// there, off the list of what is left out: should they vanish once more, they
// are missed.
func (a *appender) protectAgain(entries []*Entry) {
	left := a.f.left()
	changed := false
	for _, e := range entries {
		if e.Event != nil && left.takeBack(e.identifier(), e.Written) {
			changed = true
		}
	}
	if !changed {
		return
	}
	if err := a.f.files.Replace(leftFile, []byte(leftText(left, a.f.leftSince()))); err != nil {
		a.problems = append(a.problems, Problem{File: leftFile, Grade: Odd,
			Text:   fmt.Sprintf("it names entries that stand in the journal again, and could not be written (%v): should an editor write over them, nothing would say so", err),
			Remedy: "make room on the disk, or look whether you may write there"})
	}
}

// stillStands refuses to leave out an entry that stands in the journal and
// cannot be read.
func (f *Folder) stillStands(m Missed) error {
	name := m.ID
	for _, e := range f.journal().entries {
		if e.Line == m.Line {
			name = e.Name()
		}
	}
	return mistake{fmt.Sprintf("%s still stands in %s, and cannot be read there", m.ID, JournalFile),
		fmt.Sprintf("delete the table that begins in line %d, then once more; or hodaba correct %s void=true", m.Line, name)}
}

// passLeftOut leaves entries of another copy that were left out here, and the
// corrections of them, where they are, and says so. all are the entries of that
// copy, there those that are not here.
func (l *layer) passLeftOut(there, all []*Entry, left onPurpose, since map[string]string) (rest []*Entry) {
	if len(left) == 0 {
		return there
	}
	targets := targetsOf(all)
	for _, e := range there {
		first := e
		for n := 0; targets[first] != nil && n < mostCorrected; n++ {
			first = targets[first]
		}
		id, out := first.identifier(), l.isLeft(first, left)
		if c, ok := first.Event.(*Corrected); ok && left.names(c.Replaces) && len(l.signed[c.Replaces]) == 0 {
			id, out = c.Replaces, true
		}
		if !out {
			rest = append(rest, e)
			continue
		}
		what, when := "this entry", ""
		if id != e.identifier() {
			what = "this correction is of " + id + ", which"
		}
		if d := since[id]; d != "" {
			when = " on " + d
		}
		l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Aside,
			Text:   fmt.Sprintf("%s was left out here on purpose%s, and is not taken over: %s", what, when, e.shortly()),
			Remedy: "to take it all the same, merge once more with --left-out"})
	}
	return rest
}

// isLeft reports whether an entry of another copy is left out here and does
// not stand here again.
func (l *layer) isLeft(e *Entry, left onPurpose) bool {
	id := e.identifier()
	return left.has(id, e.Written) && !slices.ContainsFunc(l.signed[id], func(x *Entry) bool {
		return len(left[id]) == 0 || wroteAt(x, e.Written)
	})
}
