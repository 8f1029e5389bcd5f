package yard

import (
	"cmp"
	"fmt"
	"slices"
)

// identifier is the identifier of an entry, also one that it shares.
func (e *Entry) identifier() string { return cmp.Or(e.shared, e.ID) }

// Unnamed points at entries that the program recorded and that stand in the
// journal without their identifier, or under another: they are not missing.
func (f *Folder) Unnamed() []Problem {
	_, nameless, _ := f.vanished() // that the journal cannot be read is told already
	return f.unnamed(nameless)
}

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

func (f *Folder) unnamed(nameless map[string]*Entry) (out []Problem) {
	for id, x := range nameless {
		p := Problem{File: JournalFile, Line: x.Line, Entry: x.ID, Grade: Odd,
			Text:   fmt.Sprintf("this is what was recorded as %s; it stands here without its identifier or under another, and is not missing", id),
			Remedy: "write entry = " + quote(id) + " as its last line again, so that corrections and other copies find it"}
		if other := stated(f.journal().entries, id); other != nil { // of a table that was copied the identifier was taken out, as it should be
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
