package yard

import (
	"slices"
	"strings"
	"testing"
)

// leftTwins is a yard in which two entries have one identifier, with the
// second of them and a correction of it in another copy.
func leftTwins(t *testing.T) (f *Folder, m *Memory, there *Memory, id, second string) {
	t.Helper()
	f, m = yardOf(t, twinsPiles)
	id, _ = record(t, f, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"0.6 kg\"\n")
	second = "\n[[harvested]]\nwritten = 2026-04-21T10:00:00\non = 2026-04-21\npile = \"oak-n\"\nfresh = \"0.8 kg\"\nentry = \"" + id + "\"\n"
	there = InMemory(map[string]string{YardFile: smallYard, JournalFile: twinsPiles + second})
	if o := mergeInto(t, f, there); len(o.Taken) != 1 {
		t.Fatal(lines(o.Problems))
	}
	f.read = nil
	record(t, f, "[[walked]]\non = 2026-04-22\n")
	there.files[JournalFile] = []byte(there.Text(JournalFile) +
		"\n[[corrected]]\nwritten = 2026-04-30T10:00:00\nreplaces = \"" + id + "\"\nkind = \"harvested\"\non = 2026-04-21\npile = \"oak-n\"\nfresh = \"0.9 kg\"\nentry = \"barn-1\"\n")
	return f, m, there, id, second
}

// leftMissing is how many entries are missed in a journal.
func leftMissing(t *testing.T, f *Folder, m *Memory, journal string) []Missed {
	t.Helper()
	m.files[JournalFile] = []byte(journal)
	f.read = nil
	missing, err := f.Missing()
	if err != nil {
		t.Fatal(err)
	}
	return missing
}

// Of two entries of one identifier one is left out: it stays out while the
// other stands, and the other is missed when it vanishes, whether or not
// something was recorded in between.
func TestLeaveOneOfTwins(t *testing.T) {
	for _, between := range []bool{false, true} {
		f, m, there, id, second := leftTwins(t)
		if got := leftMissing(t, f, m, strings.Replace(m.Text(JournalFile), second, "", 1)); len(got) != 1 {
			t.Fatal(got)
		}
		if ids, err := f.Leave(t.Context(), id); err != nil || !slices.Equal(ids, []string{id}) {
			t.Fatal(ids, err)
		}
		if between {
			if _, problems := record(t, f, "[[walked]]\non = 2026-04-23\n"); len(problems) > 0 {
				t.Error(lines(problems))
			}
			if got := leftMissing(t, f, m, m.Text(JournalFile)); len(got) > 0 || !f.left().names(id) {
				t.Errorf("missed again: %v\n%s", got, m.Text(leftFile))
			}
		}
		if o := mergeInto(t, f, there); len(o.Taken) > 0 || !has(o.Problems, 0, "this entry was left out here") || !has(o.Problems, 0, "this correction is of "+id) {
			t.Errorf("%d taken over\n%s", len(o.Taken), lines(o.Problems))
		}
		before, _, _ := strings.Cut(m.Text(JournalFile), "\n[[harvested]]")
		for range 2 {
			if got := leftMissing(t, f, m, before); !slices.ContainsFunc(got, func(x Missed) bool { return x.ID == id && strings.Contains(x.Text, "0.6 kg") }) {
				t.Errorf("recorded in between %t: the other one is missed by nobody: %v", between, got)
			}
			record(t, f, "[[walked]]\non = 2026-04-24\n")
			before = m.Text(JournalFile)
		}
	}
}

// A list of an older program, which knows identifiers alone, holds for all
// entries of them.
func TestLeftOutByIdentifierAlone(t *testing.T) {
	f, m, _, id, _ := leftTwins(t)
	m.files[leftFile] = []byte("entries = [\"" + id + "\"]\n")
	if got := leftMissing(t, f, m, twinsPiles); slices.ContainsFunc(got, func(x Missed) bool { return x.ID == id }) {
		t.Error(got)
	}
	if _, err := f.Leave(t.Context()); err != nil || !f.left().has(id, "2020-01-01T10:00:00") {
		t.Error(err, m.Text(leftFile))
	}
}

// An entry that stands and cannot be read is not left out: both ways out that
// are named end it.
func TestLeaveWhatCannotBeRead(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	id, _ := record(t, f, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1 kg\"\n")
	whole := m.Text(JournalFile)
	broken := strings.Replace(whole, "\"1 kg\"", "\"1 kg", 1)
	if got := leftMissing(t, f, m, broken); len(got) != 1 || got[0].Line == 0 {
		t.Fatal(got)
	}
	_, err := f.Leave(t.Context(), id)
	if err == nil || !strings.Contains(err.Error(), "delete the table that begins in line ") || !strings.Contains(err.Error(), "hodaba correct "+id+" void=true") {
		t.Fatal(err)
	}
	if f.left().names(id) || len(leftMissing(t, f, m, broken)) != 1 {
		t.Error(m.Text(leftFile))
	}
	record(t, f, "[[corrected]]\nreplaces = \""+id+"\"\nvoid = true\n")
	if got := leftMissing(t, f, m, m.Text(JournalFile)); len(got) > 0 {
		t.Error(got)
	}
	leftMissing(t, f, m, twinsPiles)
	if _, err := f.Leave(t.Context()); err != nil {
		t.Error(err)
	}
	record(t, f, "[[walked]]\non = 2026-04-23\n")
	if got := leftMissing(t, f, m, m.Text(JournalFile)); len(got) > 0 || !f.left().names(id) {
		t.Error(got)
	}
	// One that was left out and stands again, but cannot be read, stays out,
	// also by a list of an older program.
	m.files[leftFile] = []byte("entries = [\"" + id + "\"]\n")
	leftMissing(t, f, m, m.Text(JournalFile)+strings.TrimPrefix(broken, twinsPiles))
	record(t, f, "[[walked]]\non = 2026-04-25\n")
	if !f.left().names(id) {
		t.Error(m.Text(leftFile))
	}
}
