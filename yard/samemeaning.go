package yard

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
)

// identifier is the identifier of an entry, also one that it shares.
func (e *Entry) identifier() string { return cmp.Or(e.shared, e.ID) }

// Unnamed points at entries that the program recorded and that stand in the
// journal without their identifier, or under another: they are not missing.
func (f *Folder) Unnamed() []Problem { return f.unnamed(f.journal().entries) }

// withoutNameless adds what is known of entries without identifier, and leaves
// out what is only guessed of them.
func withoutNameless(problems, unnamed []Problem) []Problem {
	known := map[string]bool{}
	for _, p := range unnamed {
		known[p.Entry] = true
	}
	problems = slices.DeleteFunc(problems, func(p Problem) bool { return p.Text == namelessSays && known[p.Entry] })
	return append(problems, unnamed...)
}

func (f *Folder) unnamed(entries []*Entry) (out []Problem) {
	for id, x := range f.nameless(entries) {
		p := Problem{File: JournalFile, Line: x.Line, Entry: x.ID, Grade: Odd,
			Text:   fmt.Sprintf("this is what was recorded as %s; it stands here without its identifier or under another, and is not missing", id),
			Remedy: "write entry = " + quote(id) + " as its last line again, so that corrections and other copies find it"}
		if other := stated(entries, id); other != nil { // of a table that was copied the identifier was taken out, as it should be
			if x.Written == "" {
				continue
			}
			p.Text = fmt.Sprintf("this was recorded under %s, as is the entry in line %d", id, other.Line)
			p.Remedy = "delete its line `written`, too: then it is an entry by hand"
		}
		out = append(out, p)
	}
	return sorted(out)
}

// stated is an entry in which an identifier stands.
func stated(entries []*Entry, id string) *Entry {
	for _, e := range entries {
		if statedIn(e.Text) == id {
			return e
		}
	}
	return nil
}

// nameless are the entries that Unnamed tells of, by the identifier under which
// they were recorded.
func (f *Folder) nameless(entries []*Entry) map[string]*Entry {
	out := map[string]*Entry{}
	b, err := f.bytesOf(JournalFile)
	if err != nil {
		return out // told where the journal is read
	}
	in := f.lackingIn(b, entries)
	for _, c := range f.copies(f.last()) {
		old, err := f.bytesOf(c.name)
		if err != nil {
			continue
		}
		maps.Copy(out, in.of(c.name, old).unnamed)
	}
	return out
}
