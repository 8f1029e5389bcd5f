package yard

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// leftList is what leftFile holds.
type leftList struct {
	Entries []string          `toml:"entries"`
	Since   map[string]string `toml:"since"` // by identifier: the day on which it was left out
}

// leftText is the content of leftFile.
func leftText(left map[string]bool, since map[string]string) string {
	var b strings.Builder
	b.WriteString("# Entries that were taken out of the journal on purpose.\nentries = [\n")
	for _, id := range slices.Sorted(maps.Keys(left)) {
		fmt.Fprintf(&b, "\t%s,\n", quote(id))
	}
	b.WriteString("]\n\n[since]\n")
	for _, id := range slices.Sorted(maps.Keys(since)) {
		if left[id] {
			fmt.Fprintf(&b, "%s = %s\n", quote(id), quote(since[id]))
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

// protectAgain takes identifiers that stand in the journal again off the list
// of what is left out: should they vanish once more, they are missed.
func (a *appender) protectAgain(entries []*Entry) {
	left := a.f.left()
	before := len(left)
	for _, e := range entries {
		delete(left, e.ID)
		delete(left, cmp.Or(e.shared, e.ID))
	}
	if len(left) == before {
		return
	}
	if err := a.f.files.Replace(leftFile, []byte(leftText(left, a.f.leftSince()))); err != nil {
		a.problems = append(a.problems, Problem{File: leftFile, Grade: Odd,
			Text:   fmt.Sprintf("it names entries that stand in the journal again, and could not be written (%v): should an editor write over them, nothing would say so", err),
			Remedy: "make room on the disk, or look whether you may write there"})
	}
}

// passLeftOut leaves entries of another copy that were left out here, and the
// corrections of them, where they are, and says so.
func (l *layer) passLeftOut(there []*Entry, left map[string]bool, since map[string]string) (rest []*Entry) {
	if len(left) == 0 {
		return there
	}
	for _, e := range there {
		id, what := cmp.Or(e.shared, e.ID), "this entry"
		if c, ok := e.Event.(*Corrected); ok && left[c.Replaces] && len(l.signed[c.Replaces]) == 0 {
			id, what = c.Replaces, "this correction is of "+c.Replaces+", which"
		}
		if !left[id] || len(l.signed[id]) > 0 {
			rest = append(rest, e)
			continue
		}
		when := ""
		if d := since[id]; d != "" {
			when = " on " + d
		}
		l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Aside,
			Text:   fmt.Sprintf("%s was left out here on purpose%s, and is not taken over: %s", what, when, e.shortly()),
			Remedy: "to take it all the same, merge once more with --left-out"})
	}
	return rest
}
