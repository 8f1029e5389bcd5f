package yard

import (
	"strings"
	"testing"
)

// What was left out on purpose does not come back with a merge unless it is
// asked for; then it is protected like any other entry.
func TestLeftOutAndMerged(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	id, _ := record(t, f, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1 kg\"\n")
	whole := m.Text(JournalFile)
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: whole +
		"\n[[corrected]]\nwritten = 2026-04-30T10:00:00\nreplaces = \"" + id + "\"\nvoid = true\nentry = \"barn-1\"\n"})
	m.files[JournalFile] = []byte(twinsPiles)
	f.read = nil
	if ids, err := f.Leave(t.Context()); err != nil || len(ids) != 1 {
		t.Fatal(ids, err)
	}
	o := mergeInto(t, f, there)
	if len(o.Taken) != 0 || !o.LeftOut() || !has(o.Problems, 0, "was left out here on purpose on "+may.String()) || !has(o.Problems, 0, "this correction is of "+id) {
		t.Fatalf("%d\n%s", len(o.Taken), lines(o.Problems))
	}
	c := mergeCopy(t, there)
	c.LeftOutToo()
	if o, err := f.TakeOver(t.Context(), c, false, atSix); err != nil || len(o.Taken) != 2 || o.LeftOut() {
		t.Fatal(o, err)
	}
	if f.left().names(id) {
		t.Errorf("%s stands and is left out:\n%s", id, m.Text(leftFile))
	}
	m.files[JournalFile] = []byte(twinsPiles)
	f.read = nil
	missing, err := f.Missing()
	if err != nil || len(missing) != 2 || missing[0].ID != id && missing[1].ID != id {
		t.Error(missing, err)
	}
}

// The same where somebody put it into the journal again by hand.
func TestLeftOutAndStandsAgain(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	id, _ := record(t, f, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1 kg\"\n")
	whole := m.Text(JournalFile)
	m.files[JournalFile] = []byte(twinsPiles)
	f.read = nil
	if _, err := f.Leave(t.Context()); err != nil {
		t.Fatal(err)
	}
	m.files[JournalFile] = []byte(whole)
	f.read = nil
	record(t, f, "[[walked]]\non = 2026-04-21\n")
	if f.left().names(id) {
		t.Error(m.Text(leftFile))
	}
}

// An entry by hand is none that the memory of the end could miss.
func TestMergeRemembersWhatTheProgramWrote(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	hand := "\n[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"2.4 kg\"\n"
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: twinsPiles + hand})
	mergeInto(t, f, there)
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), "2.4", "2.5", 1))
	f.read = nil
	if missing, err := f.Missing(); err != nil || len(missing) > 0 {
		t.Error(missing, err)
	}
}
