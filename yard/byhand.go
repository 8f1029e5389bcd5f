package yard

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// meaning is what a table says, as it would stand there in plain writing: the
// day first, then its keys in the order of the kind, the equals signs in one
// column behind the longest, and no remarks. An entry by hand keeps its name
// while it says the same (FORMAT.md, Names of entries by hand).
func (t *table) meaning() string {
	of := KeysOf(t.name)
	place := func(key string) int {
		if key == "on" {
			return -1
		}
		if i := slices.IndexFunc(of, func(k Key) bool { return k.Name == key }); i >= 0 {
			return i
		}
		return len(of)
	}
	keys, width := make([]string, 0, len(t.vals)), 0
	for k := range t.vals {
		keys, width = append(keys, k), max(width, len(k))
	}
	slices.SortFunc(keys, func(a, b string) int { return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(a, b)) })
	var b strings.Builder
	fmt.Fprintf(&b, "[[%s]]", t.name)
	for _, k := range keys {
		fmt.Fprintf(&b, "\n%-*s = %s", width, k, inWriting(t.vals[k]))
	}
	return b.String()
}

// inWriting is a value as the program would write it.
func inWriting(v any) string {
	switch v := v.(type) {
	case string:
		if dayForm.MatchString(v) {
			return v
		}
		return quote(v)
	case []map[string]any:
		rows := make([]any, len(v))
		for i := range v {
			rows[i] = v[i]
		}
		return inWriting(rows)
	case []any:
		parts := make([]string, len(v))
		for i, x := range v {
			parts[i] = inWriting(x)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	}
	return typed(v)
}

// nameByText gives entries by hand the name that they have by their exact text,
// too: corrections of earlier programs know them by it. Entries with an
// identifier, and those that cannot be read, which have no other, get none.
func nameByText(entries []*Entry) {
	next := map[string]int{} // by text: the next number
	for _, e := range entries {
		if !digestForm.MatchString(e.ID) || e.Kind == "" || hasEntry.MatchString(e.Text) {
			continue
		}
		e.byText = digestName(e.Text)
		if n := next[e.Text]; n > 1 {
			e.byText = digestName(fmt.Sprintf("%s#%d", e.Text, n))
		}
		next[e.Text] = max(next[e.Text], 1) + 1
	}
}

// plainFirst are entries in the order in which they are named: as they stand,
// but of those by hand that would have one name, first those whose text is the
// plain writing that the name is the digest of. That was their name to earlier
// programs, too, wherever they stand.
func plainFirst(entries []*Entry) []*Entry {
	at := map[string][]int{} // places by name
	for i, e := range entries {
		if digestForm.MatchString(e.ID) {
			at[e.ID] = append(at[e.ID], i)
		}
	}
	out := entries
	for name, places := range at {
		if len(places) == 1 {
			continue
		}
		if len(out) > 0 && &out[0] == &entries[0] {
			out = slices.Clone(entries)
		}
		var plain, other []*Entry
		for _, p := range places {
			if e := entries[p]; digestName(e.Text) == name {
				plain = append(plain, e)
			} else {
				other = append(other, e)
			}
		}
		for i, e := range append(plain, other...) {
			out[places[i]] = e
		}
	}
	return out
}

var digestForm = regexp.MustCompile(`^[0-9a-f]{6}$`)

// byName are entries by every name that they have; where two have one, the
// last, and identifiers before names by text.
func byName(entries []*Entry) map[string]*Entry {
	names := make(map[string]*Entry, len(entries))
	for _, e := range entries {
		if e.byText != "" {
			names[e.byText] = e
		}
	}
	for _, e := range entries {
		names[e.ID] = e
	}
	return names
}

// likelyMeant is the entry by hand that a correction of a name by digest most
// likely means, where there is no entry of that name: of the same kind, of the
// same day if any is, and otherwise with the most in common.
func likelyMeant(e *Entry, c *Corrected, entries []*Entry) (likely *Entry) {
	if !digestForm.MatchString(c.Replaces) || c.Of == "" {
		return nil
	}
	right := e.Values()
	most := 0
	for _, x := range entries {
		if x.byText == "" || x.Kind != c.Of {
			continue
		}
		alike := 0
		for k, v := range x.Values() {
			if right[k] == v {
				alike++
			}
		}
		if x.On.From == e.On.From {
			alike += len(right)
		}
		if alike > most {
			most, likely = alike, x
		}
	}
	return likely
}
