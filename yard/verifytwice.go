package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// harmlessTwice are kinds of which a second entry of the same day changes
// nothing, or is pointed at elsewhere.
var harmlessTwice = []string{"walked", "shaken", "cleaned", "rained", "put_off", "broken", "changed", "moved", "noticed", "pinned", "counted"}

// oddTwice points at entries that say the same but for their identifier: as
// when one evening's notes were typed by two people.
func oddTwice(s *State, _ *data.Set) (out []Problem) {
	first := map[string]*Entry{}
	entries := slices.Clone(s.Entries)
	slices.SortStableFunc(entries, func(a, b *Entry) int { return cmp.Compare(a.Line, b.Line) })
	for _, e := range entries {
		if e.Written == "" || slices.Contains(harmlessTwice, e.Kind) {
			continue // by hand: told when the journal is read
		}
		k := e.happened()
		other := first[k]
		if other == nil {
			first[k] = e
			continue
		}
		out = append(out, e.odd("", fmt.Sprintf("this says the same as entry %s (line %d), and both count", other.ID, other.Line),
			"if it happened once: hodaba correct "+e.ID+" void=true; if twice, all is well"))
	}
	return out
}

// happened is what an entry says happened, without who wrote it and how it
// came to stand there.
func (e *Entry) happened() string {
	vals := e.Values()
	var b strings.Builder
	fmt.Fprintf(&b, "%q", e.Kind)
	for _, k := range sortedKeys(vals) {
		switch k {
		case "by", "note", "hours", "people", "kind", "replaces":
			continue
		}
		fmt.Fprintf(&b, " %s=%q", k, folded(vals[k]))
	}
	return b.String()
}
