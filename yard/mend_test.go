package yard

import (
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const mendWhole = `# head
[[walked]]
written = 2026-04-01T10:00:00
on      = 2026-04-01
entry   = "kitchen-1"
`

func mended(t testing.TB, f *Folder) string {
	t.Helper()
	done, err := f.Mend(t.Context(), atSix)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(done, "\n")
}

// What one side and the other wrote between the marks of version control.
const (
	mendMine   = "[[walked]]\nwritten = 2026-04-02T10:00:00\non      = 2026-04-02\nentry   = \"kitchen-2\"\n"
	mendTheirs = "[[walked]]\nwritten = 2026-04-03T10:00:00\non      = 2026-04-03\nentry   = \"barn-1\"\n"
)

func TestMend(t *testing.T) {
	const memory = "made the memory"
	for name, c := range map[string]struct {
		journal string
		says    []string // what is done beside the memory and the daily copy
		is      string   // the journal afterwards; "" as it was
	}{
		"nothing": {journal: mendWhole},
		"torn": {journal: mendWhole + "\n[[walked]]\nwritten = 2026-04-02T10:0", is: mendWhole + "\n",
			says: []string{"kept journal.toml", "cut short while it was written; what there was of it is in journal-torn-2026-05-01.toml"}},
		"no end of line":    {journal: mendWhole + "[[walked]]\non = 2026-04-02", is: mendWhole + "[[walked]]\non = 2026-04-02\n", says: []string{"kept", "ended the last line"}},
		"zeros at the end":  {journal: mendWhole + "\x00\x00\x00", is: mendWhole, says: []string{"kept", "cut 3 zero bytes"}},
		"carriage returns":  {journal: strings.ReplaceAll(mendWhole, "\n", "\r\n")},
		"a byte order mark": {journal: "\xef\xbb\xbf" + mendWhole},
		"whole sides": {journal: mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n" + mendTheirs + ">>>>>>> barn\n",
			is: mendWhole + mendMine + "\n" + mendTheirs, says: []string{"kept", "entries taken from the second 1"}},
		"sides with their base": {journal: mendWhole + "<<<<<<< HEAD\n" + mendMine + "||||||| base\n=======\n" + mendTheirs + ">>>>>>> barn\n",
			is: mendWhole + mendMine + "\n" + mendTheirs, says: []string{"kept", "entries taken from the second 1"}},
		// Lines that both sides share are taken out of the marks.
		"the header in common": {journal: mendWhole + "[[walked]]\n<<<<<<< HEAD\n" + strings.TrimPrefix(mendMine, "[[walked]]\n") + "=======\n" + strings.TrimPrefix(mendTheirs, "[[walked]]\n") + ">>>>>>> barn\n",
			is: mendWhole + mendMine + "\n" + mendTheirs, says: []string{"kept", "entries taken from the second 1"}},
		"one entry said in two ways": {journal: "<<<<<<< HEAD\n" + mendWhole + "=======\n" + strings.Replace(mendWhole, "on      = 2026-04-01", "on = 2026-03-31", 1) + ">>>>>>> barn\n"},
		"marks never closed":         {journal: mendWhole + "<<<<<<< HEAD\n" + mendMine + "=======\n" + mendTheirs},
		"a broken side":              {journal: mendWhole + "<<<<<<< HEAD\n[[walked]]\non = \n=======\n" + mendTheirs + ">>>>>>> barn\n"},
		"nothing written":            {journal: "# head\n"},
	} {
		f, m := yardOf(t, c.journal)
		said := mended(t, f)
		for _, part := range c.says {
			if !strings.Contains(said, part) {
				t.Errorf("%s: %q is not in\n%s", name, part, said)
			}
		}
		want := c.journal
		if c.is != "" {
			want = c.is
		}
		if got := m.Text(JournalFile); got != want {
			t.Errorf("%s: the journal is\n%q\nnot\n%q", name, got, want)
		}
		if kept := m.Text(ownFolder + "/journal-before-2026-05-01.toml"); c.is != "" && kept != c.journal || c.is == "" && kept != "" {
			t.Errorf("%s: kept is\n%q", name, kept)
		}
		if strings.Contains(said, memory) && m.Text(lastFile) == "" {
			t.Errorf("%s: no memory", name)
		}
		if again := mended(t, mergeReopen(t, m)); again != "" {
			t.Errorf("%s: a second time it does\n%s", name, again)
		}
	}
}

// After mending, an entry is recorded without reading the journal through, and
// nothing is pointed at.
func TestMendMemory(t *testing.T) {
	f, m := yardOf(t, mendWhole+mendMine)
	if said := mended(t, f); !strings.Contains(said, "made the memory") || !strings.Contains(said, "daily copy .hodaba/journal-friday.toml") {
		t.Error(said)
	}
	if m.Text(copyName(may)) != mendWhole+mendMine {
		t.Error("the daily copy is not the journal")
	}
	id, problems := record(t, f, walk(t, f))
	if id != "kitchen-3" || len(problems) > 0 {
		t.Error(id, problems)
	}
	before := m.Text(lastFile)
	if said := mended(t, f); said != "" || m.Text(lastFile) != before {
		t.Error(said)
	}
	m.files[lastFile] = []byte("size = [")
	if said := mended(t, f); !strings.Contains(said, "made the memory") {
		t.Error(said)
	}
}

// What shows that entries vanished stays until they are put back.
func TestMendLeavesWhatVanished(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(mendWhole) // an editor saved an older text
	before := maps.Clone(m.files)
	f = mergeReopen(t, m)
	if said := mended(t, f); said != "" || !maps.EqualFunc(before, m.files, slices.Equal) {
		t.Error(said)
	}
	if ids, _, err := f.PutBack(t.Context(), atSix); len(ids) != 1 || err != nil {
		t.Error(ids, err)
	}
}

// A copy of last week that has entries which the journal has not is kept.
func TestMendKeepsOldCopies(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	m.files[copyName(may)] = []byte(mendWhole + mendTheirs)
	mended(t, f)
	if m.Text(copyName(may)) != mendWhole+mendTheirs {
		t.Error("written over")
	}
	if again := mended(t, mergeReopen(t, m)); again != "" {
		t.Error(again)
	}
}

func TestMendLeftovers(t *testing.T) {
	dir := t.TempDir()
	old := time.Date(2026, 4, 20, 12, 0, 0, 0, time.UTC)
	write := func(name string, when time.Time) {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(mendWhole), 0o644), os.Chtimes(path, when, when)); err != nil {
			t.Fatal(err)
		}
	}
	write(JournalFile, old)
	gone := []string{".journal.toml82734987234", ".hodaba/.last.toml5234523452", ".hodaba/.journal-friday.toml12345678", ".hodaba/.writers12345678", ".new-1234567",
		".hodaba/.left-out.toml123456", ".hodaba/.archived123456", ".weather-before-2026-04-01-2.csv123456", ".journal-torn-2026-04-01.toml123456"}
	kept := []string{".notes1234567", "journal.toml12345", ".journal.toml12345678/x", "pages/.last.toml12345678", ".journal.toml123", ".weather-mine.csv123456", ".journal.toml.swp"}
	for _, name := range append(gone, kept...) {
		write(name, old)
	}
	write(".journal.toml999999999", time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)) // of today: another program may be at it
	if err := os.WriteFile(filepath.Join(dir, YardFile), []byte(smallYard), 0o644); err != nil {
		t.Fatal(err)
	}
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	said := mended(t, f)
	for _, name := range gone {
		if exists(f.files, name) || !strings.Contains(said, name) {
			t.Errorf("%s is there:\n%s", name, said)
		}
	}
	for _, name := range append(kept, ".journal.toml999999999") {
		if !exists(f.files, name) {
			t.Errorf("%s is gone", name)
		}
	}
	if again := mended(t, f); again != "" {
		t.Error(again)
	}
}

// Nothing is changed before the journal is kept, and a disk that fails is told.
func TestMendFaults(t *testing.T) {
	torn := mendWhole + "\n[[walked]]\nwritten = 2026-04-02T10:0"
	for _, op := range []string{"replace", "cut", "lock"} {
		f, m := yardOf(t, torn)
		m.Fault = func(o, _ string) error {
			if o == op {
				return errors.New("disk on fire")
			}
			return nil
		}
		if _, err := f.Mend(t.Context(), atSix); err == nil || !strings.Contains(err.Error(), "disk on fire") || m.Text(JournalFile) != torn {
			t.Errorf("%s: %v", op, err)
		}
	}
}

// Marks around any two copies of a journal: what is mended has the entries of
// both, and a second time nothing is done.
func TestMendMarksProperty(t *testing.T) {
	set := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		n := 0
		some := func(writer string) (out []string) {
			for range rapid.IntRange(0, 3).Draw(t, writer) {
				n++
				out = append(out, "[[walked]]\nwritten = 2026-04-02T10:0"+string(rune('0'+n%10))+":00\non      = 2026-04-02\nentry   = \""+writer+"-"+string(rune('a'+n))+"\"\n")
			}
			return out
		}
		before, mine, theirs, after := some("all"), some("mine"), some("theirs"), some("late")
		text := strings.Join(before, "\n") + "\n<<<<<<< a\n" + strings.Join(mine, "\n") + "=======\n" + strings.Join(theirs, "\n") + ">>>>>>> b\n" + strings.Join(after, "\n")
		m := InMemory(map[string]string{YardFile: smallYard, JournalFile: text})
		f, _, err := OpenFiles(m, set, may)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Mend(t.Context(), atSix); err != nil {
			t.Fatal(err)
		}
		got := mergeTexts(f)
		var want []string
		for _, e := range slices.Concat(before, mine, theirs, after) {
			want = append(want, strings.TrimSpace(e))
		}
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Fatalf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
		if done, err := f.Mend(t.Context(), atSix); err != nil || len(done) > 0 {
			t.Fatal(done, err)
		}
	})
}
