package yard

import (
	"strings"
	"testing"
)

// The number of an entry that was left out is not given again, also where
// nothing else remembers it: no memory of the end, and no copy.
func TestNumberOfALeftOutEntry(t *testing.T) {
	f, m := yardOf(t, oak)
	before := m.Text(JournalFile)
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(before)
	if ids, err := f.Leave(t.Context()); err != nil || len(ids) != 1 || ids[0] != "kitchen-2" {
		t.Fatal(ids, err)
	}
	delete(m.files, lastFile)
	delete(m.files, copyName(may))
	if id, problems := record(t, f, walk(t, f)); id != "kitchen-3" || len(problems) > 0 {
		t.Errorf("the next entry is %s: an identifier of one that was left out\n%s", id, lines(problems))
	}
}

// A journal of the same size with other bytes at its end is not the one that
// was remembered: it is read through, what vanished is said, and its numbers
// count.
func TestSameSizeOtherEnd(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(strings.NewReplacer("kitchen-2", "kitchen-7", "2026-05-01T18", "2026-05-01T17").Replace(m.Text(JournalFile)))
	if same, _, err := f.endsAs(f.last()); err != nil || same {
		t.Error("other bytes are taken for those that were written", err)
	}
	id, problems := record(t, f, walk(t, f))
	if id != "kitchen-8" || !has(problems, 0, "entry kitchen-2 was recorded and is not in the journal any more") {
		t.Errorf("the next entry is %s\n%s", id, lines(problems))
	}
}
