package yard

import (
	"cmp"
	"fmt"
	"strings"
)

// lacks are the entries of the program that a copy has and a journal has not:
// neither as they are, nor changed under their identifier, nor as the same under
// another identifier or none. Those last are unnamed, each with the entry that
// stands in the journal (FORMAT.md, Entries that vanished).
func lacks(copied, here []*Entry, left map[string]bool) (gone []*Entry, unnamed map[*Entry]*Entry) {
	free := map[*Entry]bool{} // entries of the journal that no entry of the copy is yet
	texts, names := map[string][]*Entry{}, map[string][]*Entry{}
	for _, e := range here {
		free[e] = true
		texts[e.Text] = append(texts[e.Text], e)
		names[e.identifier()] = append(names[e.identifier()], e)
	}
	meet := func(list []*Entry) *Entry {
		for _, e := range list {
			if free[e] {
				free[e] = false
				return e
			}
		}
		return nil
	}
	rest := copied
	for _, under := range []func(*Entry) []*Entry{
		func(e *Entry) []*Entry { return texts[e.Text] },
		func(e *Entry) []*Entry { return names[e.identifier()] },
	} {
		var still []*Entry
		for _, e := range rest {
			if meet(under(e)) == nil {
				still = append(still, e)
			}
		}
		rest = still
	}
	unnamed = map[*Entry]*Entry{}
	var says map[string][]*Entry
	for _, e := range rest {
		if e.Written == "" || left[e.identifier()] || left[e.Name()] || !hasEntry.MatchString(e.Text) {
			continue
		}
		if says == nil {
			says = map[string][]*Entry{}
			for _, x := range here {
				if free[x] {
					says[x.saysWithoutName()] = append(says[x.saysWithoutName()], x)
				}
			}
		}
		if x := meet(says[e.saysWithoutName()]); x != nil {
			unnamed[e] = x
			continue
		}
		gone = append(gone, e)
	}
	return gone, unnamed
}

// identifier is the identifier of an entry, also one that it shares.
func (e *Entry) identifier() string { return cmp.Or(e.shared, e.ID) }

// saysWithoutName is what an entry says, but for its identifier.
func (e *Entry) saysWithoutName() string {
	vals := e.Values()
	var b strings.Builder
	fmt.Fprintf(&b, "%q %q", e.Kind, e.Written)
	for _, k := range sortedKeys(vals) {
		fmt.Fprintf(&b, " %s=%q", k, vals[k])
	}
	return b.String()
}

// mayLack reports whether a copy states an identifier more often than a
// journal has it, without reading the copy's tables.
func mayLack(copied []byte, here []*Entry, left map[string]bool) bool {
	has := map[string]int{}
	for _, e := range here {
		has[e.identifier()]++
	}
	for id := range statedIn(copied) {
		if has[id]--; has[id] < 0 && !left[id] {
			return true
		}
	}
	return false
}

// Unnamed points at entries that the program recorded and that stand in the
// journal without their identifier, or under another: they are not missing.
func (f *Folder) Unnamed() []Problem { return f.unnamed(f.journal().entries) }

func (f *Folder) unnamed(entries []*Entry) (out []Problem) {
	for id, x := range f.nameless(entries) {
		out = append(out, Problem{File: JournalFile, Line: x.Line, Entry: x.ID, Grade: Odd,
			Text:   fmt.Sprintf("this is what was recorded as %s; it stands here without its identifier or under another, and is not missing", id),
			Remedy: "write entry = " + quote(id) + " as its last line again, so that corrections and other copies find it"})
	}
	return sorted(out)
}

// nameless are the entries that Unnamed tells of, by the identifier under which
// they were recorded.
func (f *Folder) nameless(entries []*Entry) map[string]*Entry {
	out := map[string]*Entry{}
	terms := f.Terms()
	left := f.left()
	for _, name := range copyNames(f.newestCopy()) {
		old, err := f.bytesOf(name)
		if err != nil || !mayLack(old, entries, left) {
			continue
		}
		_, unnamed := lacks(readJournal(old, &terms).entries, entries, left)
		for e, x := range unnamed {
			out[e.identifier()] = x
		}
	}
	return out
}

// newestCopy is the day of the newest daily copy.
func (f *Folder) newestCopy() Date {
	newest, err := ParseDate(f.last().Copied)
	if err != nil {
		return f.today
	}
	return newest
}
