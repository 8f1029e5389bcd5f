package yard

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// onComputer opens files as on one computer.
func onComputer(t *testing.T, m *Memory, word string) *Folder {
	t.Helper()
	f := mergeReopen(t, m)
	f.OnComputer(word)
	return f
}

// newestWins lays what another computer's folder has over a folder, as a
// program does that keeps folders alike and takes the newest file: those that a
// computer alone writes are newest there.
func newestWins(to *Memory, word string, from *Memory) {
	for name, b := range from.files {
		if !strings.HasSuffix(name, "-"+word+".toml") {
			to.files[name] = slices.Clone(b)
		}
	}
}

// Two computers record apart, and the newest file wins: what was written over
// is missed, put back, and its identifier given to no other.
func TestNewestFileWins(t *testing.T) {
	_, a := yardOf(t, oak)
	at := func(m *Memory, word string) string {
		f := onComputer(t, m, word)
		ids, problems, err := f.RecordAll(t.Context(), []string{walk(t, f)}, word, atSix)
		if err != nil {
			t.Fatal(err, lines(problems))
		}
		return ids[0]
	}
	at(a, "kitchen")
	_, b := yardOf(t, "")
	newestWins(b, "barn", a)
	if id := at(b, "barn"); id != "barn-1" {
		t.Fatal(id)
	}
	if id := at(a, "kitchen"); id != "kitchen-3" {
		t.Fatal(id)
	}
	at(b, "barn")
	newestWins(a, "kitchen", b) // the barn wrote last
	if strings.Contains(a.Text(JournalFile), "kitchen-3") {
		t.Fatal("nothing was written over")
	}
	if got := lackSaid(t, onComputer(t, a, "kitchen")); got != "kitchen-3" {
		t.Errorf("missing is %q", got)
	}
	if id := at(a, "kitchen"); id != "kitchen-4" {
		t.Errorf("the next entry is %s", id)
	}
	if ids, _, err := onComputer(t, a, "kitchen").PutBack(t.Context(), atSix); err != nil || len(ids) != 1 {
		t.Fatal(ids, err)
	}
	newestWins(b, "barn", a)
	for word, m := range map[string]*Memory{"kitchen": a, "barn": b} {
		f := onComputer(t, m, word)
		if entries, problems := f.Entries(); len(entries) != 6 || len(problems) > 0 || lackSaid(t, f) != "" {
			t.Errorf("%s: %d entries, missing %s\n%s", word, len(entries), lackSaid(t, f), lines(problems))
		}
	}
	if a.Text(copyName(may)) != "" || a.Text(lastFile) != "" {
		t.Error("a file without the computer's word was written")
	}
}

// What only another computer's copies have is missed, but not on the day on
// which it was written: its journal may be on its way.
func TestCopiesOfAnotherComputer(t *testing.T) {
	f, m := yardOf(t, oak)
	m.files[fileOf("barn", copyName(may))] = []byte(oak + lackTable("barn-7", "30", `"1 kg"`) + strings.Replace(lackTable("barn-8", "31", `"1 kg"`), "written = 2026-04-30", "written = 2026-05-01", 1))
	m.files[fileOf("barn", lastFile)] = []byte("entry = \"barn-9\"\n[numbers]\n\"barn\" = 9\n")
	f.OnComputer("kitchen")
	if got := lackSaid(t, f); got != "barn-7" {
		t.Error(got)
	}
	if f.OnComputer(""); lackSaid(t, f) != "barn-7" {
		t.Error("without a word of its own:", lackSaid(t, f))
	}
	if ids, _, err := f.RecordAll(t.Context(), []string{walk(t, f)}, "barn", atSix); err != nil || ids[0] != "barn-10" {
		t.Error(ids, err)
	}
}

// A folder in which an older program wrote: its numbers go on, what vanished is
// found in its copies, and they go when they are old and hold nothing more.
func TestFolderOfAnOlderProgram(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(oak)
	f = onComputer(t, m, "kitchen")
	if got := lackSaid(t, f); got != "kitchen-2, kitchen-3" {
		t.Fatal(got)
	}
	if id, problems := record(t, f, walk(t, f)); id != "kitchen-4" || !has(problems, 0, "2 entries were recorded") {
		t.Error(id, lines(problems))
	}
	for _, day := range []Date{8, 40} {
		if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+day).String()+"T08:00:00")); err != nil {
			t.Fatal(err)
		}
		if m.Text(copyName(may)) == "" {
			t.Fatal("what only the old copy has is gone")
		}
	}
	if _, _, err := f.PutBack(t.Context(), Moment((may+40).String()+"T09:00:00")); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+41).String()+"T08:00:00")); err != nil {
		t.Fatal(err)
	}
	if m.Text(copyName(may)) != "" {
		t.Error("the old copy is still there")
	}
	for name := range maps.Keys(m.files) {
		if strings.HasPrefix(name, ownFolder+"/journal-") && !strings.HasSuffix(name, "-kitchen.toml") {
			t.Error(name)
		}
	}
}

// A folder in the place of the memory or of a copy stops no entry, and is said
// with the way out, in plain words.
func TestFolderInTheWay(t *testing.T) {
	for _, name := range []string{lastFile, copyName(may)} {
		dir := t.TempDir()
		if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
			t.Fatal(err)
		}
		f, _, err := Open(dir, loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		f.OnComputer("kitchen")
		path := filepath.Join(dir, filepath.FromSlash(fileOf("kitchen", name)))
		if err := os.MkdirAll(filepath.Join(path, "x"), 0o755); err != nil {
			t.Fatal(err)
		}
		for range 2 {
			if _, problems := record(t, f, "[[cleaned]]\non = 2026-05-01\nwhat = \"sieves\"\n"); !has(problems, 0, "it is a folder and no file: entries are recorded") {
				t.Errorf("%s: %s", name, lines(problems))
			}
		}
		if problems := f.Check(); !has(problems, 0, "it is a folder and no file") {
			t.Errorf("%s: verify says\n%s", name, lines(problems))
		}
		if _, err := f.Mend(t.Context(), atSix); err == nil || !strings.Contains(err.Error(), "it is a folder and no file") || strings.Contains(err.Error(), "exists") {
			t.Errorf("%s: mend says %v", name, err)
		}
		if err := os.RemoveAll(path); err != nil { // the way out
			t.Fatal(err)
		}
		if done, err := f.Mend(t.Context(), atSix); err != nil || len(done) == 0 || len(f.Check()) > 0 {
			t.Errorf("%s: %v %v\n%s", name, done, err, lines(f.Check()))
		}
	}
}
