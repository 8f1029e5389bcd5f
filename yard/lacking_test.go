package yard

import (
	"strings"
	"testing"
)

// lackTable is a picking that was recorded.
func lackTable(id, minute, fresh string) string {
	return "\n[[harvested]]\nwritten = 2026-04-30T10:" + minute + ":00\non      = 2026-04-30\npile    = \"oak-north\"\nfresh   = " + fresh + "\nentry   = \"" + id + "\"\n"
}

// lackSaid are the identifiers and lines of what is missing.
func lackSaid(t *testing.T, f *Folder) string {
	t.Helper()
	missing, err := f.Missing()
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, m := range missing {
		is := m.ID
		if m.Line > 0 {
			is += " spoilt"
		}
		out = append(out, is)
	}
	return strings.Join(out, ", ")
}

// Two entries under one identifier, as after a merge of copies that shared it,
// are two: where one of them vanishes, the other does not stand for it.
func TestSecondEntryOfOneIdentifierVanishes(t *testing.T) {
	one, seven := lackTable("laptop-3", "01", `"1 kg"`), lackTable("laptop-3", "02", `"7 kg"`)
	f, m := yardOf(t, oak+one+seven)
	record(t, f, walk(t, f))
	after := m.Text(JournalFile)
	m.files[JournalFile] = []byte(strings.Replace(after, seven, "", 1))
	f = mergeReopen(t, m)
	if got := lackSaid(t, f); got != "laptop-3" || !has(f.Check(), 0, "entry laptop-3 was recorded and is not in the journal any more") {
		t.Errorf("missing: %s\n%s", got, lines(f.Check()))
	}
	for day := range Date(9) { // a whole week of copies
		if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil {
			t.Fatal(err)
		}
	}
	if missing, _ := f.Missing(); len(missing) != 1 || !strings.Contains(missing[0].Text, "7 kg") {
		t.Fatalf("%+v", missing)
	}
	if ids, _, err := f.PutBack(t.Context(), "2026-05-10T08:00:00"); err != nil || len(ids) != 1 {
		t.Fatal(ids, err)
	}
	if got := lackSaid(t, f); got != "" || strings.Count(m.Text(JournalFile), seven[1:]) != 1 {
		t.Errorf("then missing: %s\n%s", got, m.Text(JournalFile))
	}
	// What verify says of the two, followed to the letter, also at the end of the journal.
	if !has(f.Check(), 0, "both entries count") {
		t.Error(lines(f.Check()))
	}
	alone := strings.NewReplacer("entry   = \"laptop-3\"\n", "", "written = 2026-04-30T10:02:00\n", "").Replace(seven)
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), seven, alone, 1))
	f = mergeReopen(t, m)
	if s, problems := f.State(may, 0); lackSaid(t, f) != "" || len(s.Picks) != 2 || len(problems) > 0 {
		t.Errorf("without its identifier missing: %s, %d pickings\n%s", lackSaid(t, f), len(s.Picks), lines(problems))
	}
}

// What was changed by hand is not missing: neither what it says, nor when it
// was written.
func TestChangedByHandIsNotMissing(t *testing.T) {
	pick := lackTable("kitchen-2", "01", `"2.4 kg"`)
	f, m := yardOf(t, oak+pick)
	record(t, f, walk(t, f))
	whole := m.Text(JournalFile)
	for _, change := range [][2]string{{"2.4 kg", "24 kg"}, {"T10:01", "T10:44"}, {"fresh   = \"2.4 kg\"\n", ""}, {"entry   = \"kitchen-2\"\n", ""},
		{"written = 2026-04-30T10:01:00\n", ""}, {"pile ", "# rain\npile "}} {
		if change[0] == "entry   = \"kitchen-2\"\n" || strings.HasPrefix(change[0], "written") {
			m.files[JournalFile] = []byte(strings.Replace(whole, pick, strings.Replace(pick, change[0], change[1], 1), 1))
		} else {
			m.files[JournalFile] = []byte(strings.Replace(whole, change[0], change[1], 1))
		}
		if got := lackSaid(t, mergeReopen(t, m)); got != "" {
			t.Errorf("%q for %q: missing is %s", change[1], change[0], got)
		}
	}
}

// An entry that an editor spoilt, so that it cannot be read, is not in the
// journal: what it said stays in the copies, is put back, and counts alone.
func TestSpoiltEntry(t *testing.T) {
	for name, spoil := range map[string][2]string{
		"a quote":      {`"2.4 kg"`, `"2.4 kg`},
		"the day":      {"on      = 2026-04-30\npile", "on      = 2062-04-30\npile"},
		"its kind":     {"[[harvested]]", "[[harvestd]]"},
		"a bracket":    {"[[harvested]]", "[[harvested"},
		"its own name": {"entry   = \"kitchen-2\"", "entry   = \"kitchen-2"},
	} {
		f, m := yardOf(t, oak+lackTable("kitchen-2", "01", `"2.4 kg"`))
		record(t, f, walk(t, f))
		whole := m.Text(JournalFile)
		spoilt := strings.Replace(whole, spoil[0], spoil[1], 1)
		m.files[JournalFile] = []byte(spoilt)
		f = mergeReopen(t, m)
		want := "kitchen-2 spoilt"
		if name == "its own name" {
			want = "kitchen-2" // nobody can tell which it was
		}
		if got := lackSaid(t, f); got != want {
			t.Errorf("%s: missing is %q", name, got)
		}
		for day := range Date(9) { // the copy is made anew again and again
			if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T20:00:00")); err != nil {
				t.Fatal(err)
			}
		}
		if got := lackSaid(t, f); got != want {
			t.Errorf("%s: after a week missing is %q", name, got)
		}
		longer := m.Text(JournalFile)
		m.files[JournalFile] = []byte(strings.Replace(longer, spoil[1], spoil[0], 1)) // written right by hand
		if got := lackSaid(t, mergeReopen(t, m)); got != "" {
			t.Errorf("%s: written right, and missing is %q", name, got)
		}
		m.files[JournalFile] = []byte(longer)
		f = mergeReopen(t, m)
		if ids, _, err := f.PutBack(t.Context(), "2026-05-10T08:00:00"); err != nil || len(ids) != 1 {
			t.Fatal(name, ids, err)
		}
		s, _ := mergeReopen(t, m).State(may, 0)
		if got := lackSaid(t, mergeReopen(t, m)); got != "" || len(s.Picks) != 1 || s.Picks[0].Entry.ID != "kitchen-2" || s.Picks[0].Fresh.Low != 2.4 {
			t.Errorf("%s: put back, missing is %q, picks %v", name, got, s.Picks)
		}
		if worst, any := Worst(f.Check()); name != "its own name" && (!any || worst != Odd) {
			t.Errorf("%s: put back\n%s", name, lines(f.Check()))
		}
	}
}
