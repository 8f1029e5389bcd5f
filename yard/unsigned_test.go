package yard

import (
	"strconv"
	"strings"
	"testing"
)

// unsignedOf is a yard with rows imported in one second, kitchen-1 to
// kitchen-3, of which the daily copy knows.
func unsignedOf(t *testing.T, kilos ...string) (*Folder, *Memory, string) {
	t.Helper()
	f, m := yardOf(t, twinsPiles)
	var rows []string
	for _, kg := range kilos {
		rows = append(rows, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \""+kg+" kg\"\n")
	}
	if _, _, err := f.RecordAll(t.Context(), rows, "kitchen", atSix); err != nil {
		t.Fatal(err)
	}
	return f, m, m.Text(JournalFile)
}

// unsignedTable is the table of an entry in a journal, with the newline before it.
func unsignedTable(t *testing.T, journal, id string) string {
	t.Helper()
	end := strings.Index(journal, "\""+id+"\"\n")
	at := strings.LastIndex(journal[:max(end, 0)], "\n[[")
	if end < 0 || at < 0 {
		t.Fatalf("no %s in\n%s", id, journal)
	}
	return journal[at : end+len(id)+3]
}

func unsignedWrite(f *Folder, m *Memory, journal string) {
	m.files[JournalFile] = []byte(journal)
	f.read = nil
}

// What stands without its identifier is taken for what says the same, and not
// for another entry of its second that vanished.
func TestUnsignedIsNotAnotherOfItsSecond(t *testing.T) {
	f, m, whole := unsignedOf(t, "0.71", "0.72", "0.73")
	first := unsignedTable(t, whole, "kitchen-1")
	unsignedWrite(f, m, strings.Replace(strings.Replace(whole, first, "", 1), "entry   = \"kitchen-2\"\n", "", 1))
	if got := lackSaid(t, f); got != "kitchen-1" || !has(f.Unnamed(), 0, "recorded as kitchen-2") {
		t.Fatalf("missing %s\n%s", got, lines(f.Unnamed()))
	}
	for day := range Date(9) { // it stays in the copies
		if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := f.PutBack(t.Context(), "2026-05-20T08:00:00"); err != nil {
		t.Fatal(err)
	}
	if now := m.Text(JournalFile); strings.Count(now, "0.71") != 1 || strings.Count(now, "0.72") != 1 {
		t.Error(now)
	}
}

// A table by hand that has kept the moment of a vanished entry is not that
// entry; one that says most of it likely is, and what was recorded stays in the
// copies.
func TestUnsignedThatSaysSomethingElse(t *testing.T) {
	for name, c := range map[string]struct {
		from, to, missing string
		changed           int
	}{
		"other day":    {"2026-04-20", "2026-04-21", "kitchen-2", 0},
		"other pile":   {"oak-n", "oak-s", "kitchen-2", 0},
		"other weight": {"1.4 kg", "0.9 kg", "", 1},
	} {
		f, m, _ := unsignedOf(t, "2.4")
		if _, _, err := f.Record("[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1.4 kg\"\n", "kitchen", "2026-04-20T19:00:00"); err != nil {
			t.Fatal(err)
		}
		whole := m.Text(JournalFile)
		table := unsignedTable(t, whole, "kitchen-2")
		other := strings.Replace(table[:strings.LastIndex(table, "entry")], c.from, c.to, 1)
		if !strings.Contains(other, c.to) {
			t.Fatal(other)
		}
		for strings.Contains(strings.Replace(other, "written = 2026", "", 1), c.from) {
			other = strings.Replace(other, c.from, c.to, 1)
		}
		other = strings.Replace(other, "written = 2026-04-21", "written = 2026-04-20", 1)
		unsignedWrite(f, m, strings.Replace(whole, table, other, 1)+"\n[[walked]]\non = 2026-04-22\n")
		for day := range Date(9) {
			if got := lackSaid(t, f); got != c.missing {
				t.Fatalf("%s: missing %q", name, got)
			}
			if got := f.ChangedByHand(); len(got) != c.changed {
				t.Errorf("%s: changed %v", name, got)
			}
			if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil {
				t.Fatal(err)
			}
			f.read = nil
		}
		copies := 0
		for file, b := range m.files {
			if strings.HasPrefix(file, ownFolder+"/journal-") && strings.Contains(string(b), "1.4 kg") {
				copies++
			}
		}
		if copies == 0 {
			t.Errorf("%s: %d copies have what was recorded", name, copies)
		}
	}
}

// An identifier that was typed over with another number is not missing; of two
// entries that said the same in one second one may be.
func TestIdentifierTypedOver(t *testing.T) {
	f, m, whole := unsignedOf(t, "2.4")
	unsignedWrite(f, m, strings.Replace(whole, `"kitchen-1"`, `"kitchen-11"`, 1))
	if got := lackSaid(t, f); got != "" || !has(f.Unnamed(), 0, "recorded as kitchen-1;") {
		t.Fatalf("missing %s\n%s", got, lines(f.Unnamed()))
	}
	for day := range Date(9) { // the copies learn the new one
		if id, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil || id != "kitchen-"+strconv.Itoa(12+int(day)) {
			t.Error(id, err)
		}
		f.read = nil
		if got := lackSaid(t, f); got != "" {
			t.Fatalf("missing %s", got)
		}
	}
	f, m, whole = unsignedOf(t, "2.4", "2.4")
	unsignedWrite(f, m, strings.Replace(whole, unsignedTable(t, whole, "kitchen-1"), "", 1))
	if got := lackSaid(t, f); got != "kitchen-1" {
		t.Errorf("missing %q", got)
	}
	f, m, whole = unsignedOf(t, "2.4")
	unsignedWrite(f, m, strings.Replace(whole, `"kitchen-1"`, `"barn-1"`, 1)) // another computer
	if got := lackSaid(t, f); got != "kitchen-1" {
		t.Errorf("missing %q", got)
	}
}
