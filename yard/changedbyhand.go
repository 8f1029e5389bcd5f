package yard

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
)

// changedFile keeps what recorded entries said before somebody changed them by
// hand, so that a slip can be found again: FORMAT.md, Changed by hand.
const changedFile = ownFolder + "/changed-by-hand.toml"

var changedForm = regexp.MustCompile(`^changed-by-hand(?:-([a-z0-9]{1,24}))?\.toml$`)

// mostChanged is the size in bytes of what is kept of it: some thousand
// entries, the oldest of which make room.
const mostChanged = 256 << 10

const changedHead = "# What entries said before they were changed by hand. May be thrown away.\n"

// ChangedByHand are recorded entries that say something else in the journal
// now, as they were before: somebody changed them by hand, which they may.
func (f *Folder) ChangedByHand() (out []Missed) {
	b, err := f.bytesOf(JournalFile)
	if err != nil || notLines(b) != nil {
		return nil
	}
	in := f.lackingIn(b, f.journal().entries)
	seen := map[string]bool{}
	add := func(changed []Missed) {
		for _, m := range changed {
			if !seen[m.Text] {
				seen[m.Text] = true
				out = append(out, m)
			}
		}
	}
	for _, w := range f.computers(f.ownWith(changedForm), changedForm) {
		name := fileOf(w, changedFile)
		was, err := readBounded(f.files, name, mostSettings)
		if err != nil {
			continue
		}
		for _, text := range tablesOf(was) { // one by one: an entry may have been changed twice
			add(in.of(name, []byte(text+"\n")).changed)
		}
	}
	for _, c := range f.copies(f.last()) {
		if old, err := f.bytesOf(c.name); err == nil {
			add(in.of(c.name, old).changed)
		}
	}
	return out
}

// keepChanged keeps what a copy that is replaced had of entries that were
// changed by hand, and reports whether it is kept. Where it cannot be, nothing is
// stopped.
func (a *appender) keepChanged(changed []Missed) bool {
	if len(changed) == 0 {
		return true
	}
	name := fileOf(a.f.computer, changedFile)
	b, err := readBounded(a.f.files, name, mostSettings)
	if err != nil {
		b = nil
	}
	texts := tablesOf(b)
	had := len(texts)
	for _, m := range changed {
		if !slices.Contains(texts, m.Text) {
			texts = append(texts, m.Text)
		}
	}
	if len(texts) == had {
		return true
	}
	size := 0
	for i, text := range slices.Backward(texts) {
		if size += len(text) + 2; size > mostChanged {
			texts = texts[i+1:]
			break
		}
	}
	out := bytes.NewBufferString(changedHead)
	for _, text := range texts {
		fmt.Fprintf(out, "\n%s\n", text)
	}
	return a.f.files.Replace(name, out.Bytes()) == nil
}

// tablesOf are the texts of the tables in a file.
func tablesOf(b []byte) (texts []string) {
	c := &cutter{b: b, line: 1}
	for {
		p, ok := c.next()
		if !ok {
			return texts
		}
		if text, _ := cleaned(changedFile, p); p.header {
			texts = append(texts, trimTail(text))
		}
	}
}
