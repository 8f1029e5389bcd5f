package yard

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Name is what an entry is called wherever one has to be told from all others,
// as in `replaces`: its identifier, or, where that names several entries, the
// name it has of its own (FORMAT.md, Twins).
func (e *Entry) Name() string {
	if e.twin != "" {
		return e.twin
	}
	return e.ID
}

// Twins are all entries of an identifier that names several, in the order in
// which they were written and e among them; nil where it names one.
func (e *Entry) Twins() []*Entry { return e.twins }

// Called reports whether a word names the entry: its identifier, also one that
// it shares, its own name, or the digest of its text where it was written by
// hand.
func (e *Entry) Called(word string) bool {
	return word == e.ID || word != "" && (word == e.twin || word == e.shared || word == e.byText)
}

// twinName is the name of its own that an entry has beside an identifier it
// shares: six signs of the digest of its text and a mark behind it.
func twinName(text string, n int) string { return digestName(fmt.Sprintf("%s#%d", text, n)) }

// nameTwins gives each entry of every identifier that names several a name of
// its own. The one that was written first keeps the identifier, wherever it
// stands: so all copies of a yard agree.
func nameTwins(groups map[string][]*Entry, taken map[string]*Entry) {
	for _, id := range slices.Sorted(maps.Keys(groups)) {
		group := groups[id]
		slices.SortStableFunc(group, firstOfTwins)
		for i, e := range group {
			n := 2
			for taken[twinName(e.Text, n)] != nil {
				n++
			}
			e.twins, e.shared, e.twin = group, id, twinName(e.Text, n)
			taken[e.twin] = e
			if i > 0 {
				e.ID = e.twin
			}
		}
	}
}

// alone takes back what nameTwins did, as before entries are told apart anew.
func (e *Entry) alone() {
	if e.shared != "" {
		e.ID = e.shared
	}
	e.twins, e.shared, e.twin = nil, "", ""
}

// firstOfTwins is the order of entries of one identifier: what cannot be read
// comes last, then what has no `written`; the others as they were written.
func firstOfTwins(a, b *Entry) int {
	flag := func(is bool) int {
		if is {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(flag(a.Kind == ""), flag(b.Kind == "")), cmp.Compare(flag(a.Written == ""), flag(b.Written == "")), cmp.Compare(a.Written, b.Written))
}

// sayTwin points at an entry that does not keep the identifier it has with
// others.
func (e *Entry) sayTwin() []Problem {
	if e.twin == "" || e == e.twins[0] {
		return nil
	}
	first := e.twins[0]
	return []Problem{{File: JournalFile, Line: e.Line, Entry: e.ID, Grade: Odd,
		Text:   fmt.Sprintf("the identifier %s is that of line %d, too: both entries count, this one as %s and the other as %s", e.shared, first.Line, e.twin, first.twin),
		Remedy: fmt.Sprintf("if one of them is wrong: hodaba correct %s void=true, or %s", e.twin, first.twin)}}
}

// alsoTwins notes twins under their own names, too, and makes sure that an
// identifier that several have is found where the first of them is not among
// the entries.
func alsoTwins(byID map[string]*Entry, entries []*Entry) {
	for _, e := range entries {
		for _, name := range []string{e.twin, e.shared} {
			if name != "" && byID[name] == nil {
				byID[name] = e
			}
		}
	}
}

// meant is which entry a correction replaces, where target is what it names.
// Where that is an identifier of several entries: none that was written after
// it, and of the others the one that says most of what the correction says;
// failing that, guess is true, and it is the one that was written first
// (FORMAT.md, Twins).
func (c *Corrected) meant(e, target *Entry, byID map[string]*Entry) (is *Entry, guess bool) {
	if target.twin == "" || c.Replaces != target.shared {
		return target, false
	}
	var may []*Entry
	for _, t := range target.twins {
		if t != e && byID[t.twin] == t && (t.Written == "" || e.Written == "" || t.Written <= e.Written) {
			may = append(may, t)
		}
	}
	switch {
	case len(may) == 0:
		return target, true
	case len(may) == 1 || c.Void:
		return may[0], len(may) > 1
	}
	most, guess := -1, false
	for _, t := range may {
		switch n := c.agrees(e, t); {
		case n > most:
			is, most, guess = t, n, false
		case n == most:
			guess = true
		}
	}
	return is, guess
}

// agrees counts in how many keys a correction says what an entry says; another
// kind counts less than any key.
func (c *Corrected) agrees(e, t *Entry) (n int) {
	right, was := e.Values(), t.Values()
	kind := t.Kind
	if of, ok := t.Event.(*Corrected); ok {
		kind = of.Of
	}
	if kind != c.Of {
		return 0
	}
	for k, v := range right {
		if k != "replaces" && k != "kind" && k != "mended_by" && folded(was[k]) == folded(v) {
			n++
		}
	}
	return n + 1
}

// guessed points at corrections that count and name just an identifier of
// several entries, where nothing tells which of them was meant.
func guessed(entries []*Entry, replaced map[*Entry]*Entry) (out []Problem) {
	if !slices.ContainsFunc(entries, func(e *Entry) bool { return e.twin != "" }) {
		return nil
	}
	byID := make(map[string]*Entry, len(entries))
	for _, e := range entries {
		byID[e.ID] = e
	}
	alsoTwins(byID, entries)
	for _, e := range entries {
		c, ok := e.Event.(*Corrected)
		if !ok || replaced[e] != nil || byID[c.Replaces] == nil {
			continue
		}
		if is, guess := c.meant(e, byID[c.Replaces], byID); guess {
			out = append(out, c.severalNames(e, is))
		}
	}
	return out
}

// severalNames points at a correction that names just an identifier of several
// entries, and says as which it counts.
func (c *Corrected) severalNames(e, is *Entry) Problem {
	var named []string
	for _, t := range is.twins {
		named = append(named, fmt.Sprintf("%s (%s)", t.Name(), t.shortly()))
	}
	what := "what is right"
	if c.Void {
		what = "void=true"
	}
	return Problem{File: JournalFile, Line: e.lineOf("replaces"), Entry: e.ID, Grade: Odd,
		Text: fmt.Sprintf("this corrects %s, and that is the identifier of several entries: %s; it counts for %s", c.Replaces, strings.Join(named, ", "), is.Name()),
		Remedy: fmt.Sprintf("if that is not the one that was meant: hodaba correct %s void=true, then hodaba correct %s %s",
			e.Name(), other(is, is.twins).Name(), what)}
}

func other(e *Entry, twins []*Entry) *Entry {
	for _, t := range twins {
		if t != e {
			return t
		}
	}
	return e
}

// shortly is an entry in a few words.
func (e *Entry) shortly() string {
	if e.Event == nil {
		return "cannot be read"
	}
	return strings.TrimSpace(e.On.String() + " " + e.Says())
}
