package yard

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hodaba/data"
)

// All are all entries of the journal in the order of the file, also those that
// cannot be used: they have no Event, and Trouble says why.
func (f *Folder) All() []*Entry { return slices.Clone(f.journal().entries) }

// Trouble is what was wrong or odd with the entry when it was read.
func (e *Entry) Trouble() []Problem { return slices.Clone(e.problems) }

// Stands is the entry that has the last word about this one: itself where no
// correction replaced it.
func (e *Entry) Stands() *Entry {
	for n := 0; e.Replaced != nil && n < mostCorrected; n++ {
		e = e.Replaced
	}
	return e
}

// Voids reports whether an entry takes another one back and says nothing
// itself.
func (e *Entry) Voids() bool {
	c, ok := e.Event.(*Corrected)
	return ok && c.Void
}

// Voided reports whether an entry was taken back, and nothing was written in
// its place.
func (e *Entry) Voided() bool { return e.Replaced != nil && e.Stands().Voids() }

// Sort puts entries into the order of the replay: by the first day on which
// they can have happened, then as they were written. A correction that leaves
// the day as it was comes right behind what it replaces.
func Sort(entries []*Entry) {
	slices.SortStableFunc(entries, func(a, b *Entry) int {
		return cmp.Or(cmp.Compare(a.Day().From, b.Day().From), byWriting(a.place(), b.place()), byWriting(a, b))
	})
}

// place is the entry in whose place among those of its day this one counts.
func (e *Entry) place() *Entry {
	if e.inPlaceOf != nil && !e.On.IsZero() {
		return e.inPlaceOf
	}
	return e
}

// NearestID is the identifier for which one may have been mistyped. Another
// number of a writer is another entry and no slip of the pen, unless a key was
// hit twice: of what looks like an identifier only the writer can be mistyped.
func NearestID(id string, among []string) (near string, ok bool) {
	if _, n, is := numbered(strings.ToLower(id)); is {
		among = slices.DeleteFunc(slices.Clone(among), func(other string) bool {
			_, m, is := numbered(other)
			return !is || hitOnce(m) != hitOnce(n)
		})
	}
	return data.Nearest(id, among)
}

// hitOnce are the digits of a number without those that repeat the one before.
func hitOnce(n int) string {
	return string(slices.Compact([]byte(strconv.Itoa(n))))
}
