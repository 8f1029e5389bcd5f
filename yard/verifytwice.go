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
var harmlessTwice = []string{"walked", "cleaned", "rained", "put_off", "broken", "changed", "moved", "noticed", "pinned", "counted"}

// oddTwice points at entries that say the same but for their identifier: as
// when one evening's notes were typed by two people.
func oddTwice(s *State, _ *data.Set) (out []Problem) {
	first := map[string]*Entry{}
	entries := slices.Clone(s.Entries)
	slices.SortStableFunc(entries, func(a, b *Entry) int { return cmp.Compare(a.Line, b.Line) })
	for _, e := range entries {
		if slices.Contains(harmlessTwice, e.Kind) {
			continue
		}
		k := e.happened()
		other := first[k]
		if other == nil {
			first[k] = e
			continue
		}
		if e.Written == "" && other.Written == "" && e.Text == other.Text {
			continue // told when the journal is read
		}
		remedy := "if it happened once: hodaba correct " + e.ID + " void=true; if twice, all is well"
		for _, hand := range []*Entry{other, e} {
			if hand.Written == "" {
				remedy = fmt.Sprintf("if it happened once, delete the one by hand in line %d; if twice, all is well", hand.Line)
			}
		}
		out = append(out, e.odd("", fmt.Sprintf("this says the same as entry %s (line %d), and both count", other.ID, other.Line), remedy))
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
