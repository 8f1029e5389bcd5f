package yard

import (
	"strings"
	"testing"
)

// An entry that an editor left without its identifier, or gave another, stands:
// it is not put back beside itself. One that says the same as another is.
func TestUnnamedIsNotMissing(t *testing.T) {
	pick := "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1 kg\"\n"
	for name, c := range map[string]struct {
		from, to string
		missing  int
		unnamed  bool
	}{
		"line gone":     {"entry   = \"kitchen-1\"\n", "", 0, true},
		"other word":    {`"kitchen-1"`, `"Kitchen-1"`, 0, true},
		"changed":       {`"1 kg"`, `"2 kg"`, 0, false},
		"whole":         {"", "", 0, false},
		"the last gone": {"entry   = \"kitchen-2\"\n", "", 0, true},
	} {
		f, m := yardOf(t, twinsPiles)
		if _, _, err := f.RecordAll(t.Context(), []string{pick, pick}, "kitchen", atSix); err != nil {
			t.Fatal(err)
		}
		whole := m.Text(JournalFile)
		m.files[JournalFile] = []byte(strings.Replace(whole, c.from, c.to, 1) + "\n[[walked]]\non = 2026-04-21\n")
		f.read = nil
		missing, err := f.Missing()
		if err != nil || len(missing) != c.missing || (len(f.Unnamed()) > 0) != c.unnamed {
			t.Errorf("%s: missing %v, %s (%v)", name, missing, lines(f.Unnamed()), err)
		}
		at := strings.LastIndex(whole, "\n[[harvested]]")
		m.files[JournalFile] = []byte(whole[:at])
		f.read = nil
		if missing, err := f.Missing(); err != nil || len(missing) != 1 || missing[0].ID != "kitchen-2" {
			t.Errorf("%s: %v %v", name, missing, err)
		}
	}
}

// Of two entries under one identifier the one that vanished is put back, and
// not the other.
func TestTwinThatVanished(t *testing.T) {
	own, other := twinsPick("20T10", "oak-n", "1 kg", "laptop-3"), twinsPick("20T09", "oak-s", "7 kg", "laptop-3")
	for _, gone := range []string{own, other} {
		f, m := yardOf(t, twinsPiles+own+other)
		record(t, f, "[[walked]]\non = 2026-04-21\n")
		m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), gone, "", 1))
		f.read = nil
		if ids, _, err := f.PutBack(t.Context(), atSix); err != nil || len(ids) != 1 {
			t.Fatal(ids, err)
		}
		if got := twinsWhole(t, f); got != "map[oak-n:1 oak-s:7]" {
			t.Error(got)
		}
		if missing, err := f.Missing(); err != nil || len(missing) > 0 {
			t.Error(missing, err)
		}
	}
}

// Of a table that was copied, and of which the identifier was taken out later,
// nobody is told to write it in again.
func TestCopiedTableWithoutItsIdentifier(t *testing.T) {
	pick := lackTable("kitchen-2", "01", `"1.4 kg"`)
	kept := strings.Replace(pick, "1.4", "0.9", 1)
	f, m := yardOf(t, oak+pick+kept)
	record(t, f, walk(t, f))
	without := strings.Replace(kept, "entry   = \"kitchen-2\"\n", "", 1)
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), kept, without, 1))
	f.read = nil
	check := f.Check()
	if lackSaid(t, f) != "" || len(check) != 1 || !has(check, 0, "delete its line `written`, too") {
		t.Fatalf("missing %q\n%s", lackSaid(t, f), lines(check))
	}
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), without, strings.Replace(without, "written = 2026-04-30T10:01:00\n", "", 1), 1))
	f.read = nil
	if s, problems := f.State(may, 0); lackSaid(t, f) != "" || len(f.Check()) > 0 || len(s.Picks) != 2 || len(problems) > 0 {
		t.Errorf("missing %q\n%s", lackSaid(t, f), lines(f.Check()))
	}
}
