package main

import (
	"slices"
	"strings"

	"hodaba/yard"
)

// goneAlong says which corrections count for nothing any more because the entry
// that they correct was left out: they stay in the journal, and nobody is told
// of them again (FORMAT.md, Corrections).
func (a *app) goneAlong(f *yard.Folder, done []string) {
	var along []string
	for _, e := range f.All() {
		first := e
		for n := 0; first.Corrects != nil && n < mostAlong; n++ {
			first = first.Corrects
		}
		if c, ok := first.Event.(*yard.Corrected); ok && e.Astray && slices.Contains(done, c.Replaces) {
			along = append(along, e.Name())
		}
	}
	switch {
	case len(along) == 1:
		a.note("With that its correction %s counts for nothing any more; if it did happen, record it again", along[0])
	case len(along) > 0:
		a.note("With that their corrections count for nothing any more: %s; what did happen, record again", strings.Join(along, ", "))
	}
}

// mostAlong is more corrections of corrections than anyone writes.
const mostAlong = 1000
