package yard

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
)

// machineWith is the machine with some of its calls replaced.
type machineWith struct {
	System
	lock   func(path string) (func() error, bool, error)
	open   func(path string, flag int, mode fs.FileMode) (SystemFile, error)
	folder func(path string) error
}

func (m machineWith) TryLock(path string) (func() error, bool, error) {
	if m.lock == nil {
		return m.System.TryLock(path)
	}
	return m.lock(path)
}

func (m machineWith) Open(path string, flag int, mode fs.FileMode) (SystemFile, error) {
	if m.open == nil {
		return m.System.Open(path, flag, mode)
	}
	return m.open(path, flag, mode)
}

func (m machineWith) MakeFolder(path string) error {
	if m.folder == nil {
		return m.System.MakeFolder(path)
	}
	return m.folder(path)
}

// diskYard is a yard on the disk, over a system.
func diskYard(t testing.TB, s System) (*Folder, string) {
	t.Helper()
	dir := t.TempDir()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(Under(s))
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	return f, dir
}

// Where a folder cannot be locked, or may only be read, nothing is written and
// the message names the way out.
func TestFolderThatCannotBeWrittenTo(t *testing.T) {
	for name, c := range map[string]struct {
		s    machineWith
		want string
	}{
		"no locks there": {machineWith{lock: func(string) (func() error, bool, error) { return nil, false, syscall.ENOLCK }},
			"network share: move it to a disk of this computer"},
		"locks not known": {machineWith{lock: func(string) (func() error, bool, error) { return nil, false, syscall.ENOSYS }},
			"cannot be locked"},
		"someone else's folder": {machineWith{folder: func(string) error { return syscall.EACCES }},
			"look whether you may write in the folder"},
		"a disk to read": {machineWith{folder: func(string) error { return syscall.EROFS }},
			"the disk may only be read; copy the folder"},
		"someone else's lock": {machineWith{lock: func(string) (func() error, bool, error) { return nil, false, syscall.EPERM }},
			"look whether you may write in the folder"},
		"someone else's journal": {machineWith{open: func(path string, flag int, mode fs.FileMode) (SystemFile, error) {
			if filepath.Base(path) == JournalFile {
				return nil, syscall.EACCES
			}
			return os.OpenFile(path, flag, mode)
		}}, "look whether you may write in the folder"},
	} {
		c.s.System = Machine()
		t.Run(name, func(t *testing.T) {
			f, dir := diskYard(t, c.s)
			_, _, err := f.Record(walk(t, f), "kitchen", atSix)
			if err == nil || !strings.HasPrefix(err.Error(), "nothing was recorded: ") || !strings.Contains(err.Error(), c.want) {
				t.Error(err)
			}
			if b, err := os.ReadFile(filepath.Join(dir, JournalFile)); err != nil || string(b) != journalHead {
				t.Errorf("%q %v", b, err)
			}
		})
	}
}

// The message of a lock that is held says who holds it.
func TestLockSaysWhoHasIt(t *testing.T) {
	d := OnDisk(t.TempDir())
	unlock, err := d.Lock(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := d.Lock(ctx); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("another program (process %d on ", os.Getpid())) {
		t.Error(err)
	}
	if err := unlock(); err != nil {
		t.Fatal(err)
	}
	unlock, err = d.Lock(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if err := unlock(); err != nil {
		t.Fatal(err)
	}
}

// Whoever throws .hodaba away while the lock is held makes no second lock that
// is good for anything: the old one is taken for none.
func TestLockThatWasThrownAway(t *testing.T) {
	dir := t.TempDir()
	d := OnDisk(dir)
	old, ok, err := Machine().TryLock(func() string { _ = os.Mkdir(filepath.Join(dir, ownFolder), 0o755); return filepath.Join(dir, lockFile) }())
	if !ok || err != nil {
		t.Fatal(ok, err)
	}
	if err := os.RemoveAll(filepath.Join(dir, ownFolder)); err != nil {
		t.Fatal(err)
	}
	unlock, err := d.Lock(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(unlock(), old()); err != nil {
		t.Fatal(err)
	}
}

// An editor that puts another file in the journal's place between the look at
// its end and the write would take the entry with it: that is seen, and not
// called recorded.
func TestEditorInBetween(t *testing.T) {
	for name, saves := range map[string]func(path string) error{
		"by renaming": func(path string) error {
			return errors.Join(os.WriteFile(path+"~", []byte(journalHead), 0o644), os.Rename(path+"~", path))
		},
		"by writing over": func(path string) error { return os.WriteFile(path, []byte(journalHead), 0o644) },
	} {
		t.Run(name, func(t *testing.T) {
			s := machineWith{System: Machine()}
			s.open = func(path string, flag int, mode fs.FileMode) (SystemFile, error) {
				f, err := os.OpenFile(path, flag, mode)
				if filepath.Base(path) != JournalFile || err != nil {
					return f, err
				}
				return savedOver{f, func() error { return saves(path) }}, nil
			}
			f, dir := diskYard(t, s)
			_, _, err := f.Record(walk(t, f), "kitchen", atSix)
			if err == nil || !strings.Contains(err.Error(), "being changed by another program: close it there and try again") {
				t.Error(err)
			}
			if b, err := os.ReadFile(filepath.Join(dir, JournalFile)); err != nil || string(b) != journalHead {
				t.Errorf("%q %v", b, err)
			}
		})
	}
}

// savedOver is a file over which an editor saves as soon as it is synced.
type savedOver struct {
	SystemFile
	save func() error
}

func (f savedOver) Sync() error { return errors.Join(f.SystemFile.Sync(), f.save()) }

// Where locks fail, a write that fails takes back its own part and never what
// another program recorded behind it.
func TestWriteThatFailsCutsNothingOfOthers(t *testing.T) {
	const other = "\n[[walked]]\non = 2026-05-03\n"
	for name, c := range map[string]struct {
		between string
		want    string
		says    string
	}{
		"alone":         {"", journalHead, "planted"},
		"another wrote": {other, journalHead + "\n[[walked]" + other, "another program wrote behind"},
	} {
		t.Run(name, func(t *testing.T) {
			s := machineWith{System: Machine()}
			s.open = func(path string, flag int, mode fs.FileMode) (SystemFile, error) {
				f, err := os.OpenFile(path, flag, mode)
				if filepath.Base(path) != JournalFile || err != nil {
					return f, err
				}
				return writesTen{f, c.between}, nil
			}
			f, dir := diskYard(t, s)
			if err := os.WriteFile(filepath.Join(dir, JournalFile), []byte(journalHead), 0o644); err != nil {
				t.Fatal(err)
			}
			_, _, err := f.Record(walk(t, f), "kitchen", atSix)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Error(err)
			}
			if b, err := os.ReadFile(filepath.Join(dir, JournalFile)); err != nil || string(b) != c.want {
				t.Errorf("%q %v", b, err)
			}
		})
	}
}

// writesTen is a file that takes the first ten bytes of a write, behind which
// another program writes.
type writesTen struct {
	SystemFile
	between string
}

func (f writesTen) Write(b []byte) (int, error) {
	n, err := f.SystemFile.Write(b[:10])
	_, more := f.SystemFile.Write([]byte(f.between))
	return n, errors.Join(err, more, errors.New("planted"))
}

// A link stays a link, and its file is changed where it lies, also where the
// file is missing; permissions stay, and nothing is left beside it.
func TestReplaceThroughLinks(t *testing.T) {
	dir, far := t.TempDir(), t.TempDir()
	d := OnDisk(dir)
	target := filepath.Join(far, "w.csv")
	if err := errors.Join(os.Symlink(target, filepath.Join(dir, "link")), os.Symlink("link", filepath.Join(dir, "second"))); err != nil {
		t.Fatal(err)
	}
	for i, mode := range []fs.FileMode{0o644, 0o640, 0o444} { // at first there is no file
		if i > 0 {
			if err := os.Chmod(target, mode); err != nil {
				t.Fatal(err)
			}
		}
		text := fmt.Sprint("text ", i)
		if err := d.Replace("second", []byte(text)); err != nil {
			t.Fatal(err)
		}
		info, err := os.Lstat(target)
		b, _ := os.ReadFile(target)
		if err != nil || string(b) != text || !info.Mode().IsRegular() || i > 0 && info.Mode().Perm() != mode {
			t.Errorf("%q %v %v", b, info, err)
		}
	}
	for _, name := range []string{"link", "second"} {
		if info, err := os.Lstat(filepath.Join(dir, name)); err != nil || info.Mode()&fs.ModeSymlink == 0 {
			t.Errorf("%s is no link any more: %v", name, err)
		}
	}
	for _, in := range []string{dir, far} {
		if list, err := os.ReadDir(in); err != nil || len(list) > 2 {
			t.Errorf("%v %v", list, err)
		}
	}
}

// A journal that is a link is appended to where it lies.
func TestJournalThatIsALink(t *testing.T) {
	f, dir := diskYard(t, Machine())
	far := filepath.Join(t.TempDir(), "kept elsewhere.toml")
	if err := errors.Join(os.Rename(filepath.Join(dir, JournalFile), far), os.Symlink(far, filepath.Join(dir, JournalFile))); err != nil {
		t.Fatal(err)
	}
	record(t, f, walk(t, f))
	if b, err := os.ReadFile(far); err != nil || !strings.Contains(string(b), "kitchen-1") {
		t.Errorf("%s %v", b, err)
	}
}

// A yard of a later format is read, and never written to.
func TestLaterFormat(t *testing.T) {
	m := InMemory(map[string]string{YardFile: "format = 2\n" + strings.TrimPrefix(smallYard, "format = 1\n"), JournalFile: oak})
	f, problems, err := OpenFiles(m, loaded(t), may)
	if err != nil || !has(problems, 1, "of format 2, and this program knows format 1: use a newer version") {
		t.Fatal(lines(problems), err)
	}
	if s, _ := f.State(may, 0); len(s.Piles) != 1 {
		t.Error("it is not read")
	}
	_, _, recorded := f.Record(walk(t, f), "kitchen", atSix)
	_, _, back := f.PutBack(context.Background(), atSix)
	_, left := f.Leave(context.Background())
	_, _, weather := f.WriteWeather(&Weather{From: may, Days: make([]WeatherDay, 1)}, true)
	for _, err := range []error{recorded, back, left, weather} {
		if err == nil || !strings.Contains(err.Error(), "of format 2") || !strings.Contains(err.Error(), "nothing was changed") {
			t.Error(err)
		}
	}
	if len(m.files) != 2 || m.Text(JournalFile) != oak {
		t.Error("something was written")
	}
}

// A clock that is set back changes no order: of one writer the numbers tell
// it, whatever `written` says. Copies of other days keep what they alone have.
func TestClockSetBack(t *testing.T) {
	f, m := yardOf(t, oak+pick)
	fix := func(kg, when string) {
		t.Helper()
		text, problems := Compose("corrected", map[string]string{"replaces": "kitchen-2", "kind": "harvested", "on": "2025-10-03", "pile": "oak-north", "fresh": kg}, f.Terms())
		if text == "" {
			t.Fatal(problems)
		}
		if _, _, err := f.Record(text, "kitchen", Moment(when)); err != nil {
			t.Fatal(err)
		}
	}
	fix("3 kg", "2026-05-01T18:00:00")
	fix("4 kg", "2026-04-30T09:00:00")
	fix("5 kg", "2026-04-30T08:00:00")
	s, problems := f.State(may, 0)
	if len(problems) > 0 || len(s.Picks) != 1 || s.Picks[0].Fresh.Mid() != 5 {
		t.Errorf("%v\n%s", s.Picks, lines(problems))
	}
	j := f.journal()
	mixed := slices.Clone(j.entries)
	slices.Reverse(mixed)
	slices.SortStableFunc(mixed, byWriting)
	for i := range mixed {
		if mixed[i] != j.entries[i] {
			t.Errorf("in another order of the file %s comes at place %d", mixed[i].ID, i)
		}
	}
	if m.Text(".hodaba/journal-thursday.toml") != m.Text(JournalFile) {
		t.Error("the copy of the day to which the clock went back is not the journal")
	}
}

// Copies are never made worse: what only an old one has is written behind the
// new text, week after week, until it was put back or left out.
func TestCopiesKeepWhatVanished(t *testing.T) {
	f, m := yardOf(t, oak)
	old := m.Text(JournalFile)
	record(t, f, walk(t, f))
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(old)
	for day := range Date(30) {
		if _, _, err := f.Record(walk(t, f), "barn", Moment((may+day).String()+"T08:00:00")); err != nil {
			t.Fatal(err)
		}
	}
	missing, _ := f.Missing()
	if len(missing) != 2 || missing[0].ID != "kitchen-2" || missing[1].ID != "kitchen-3" {
		t.Fatalf("%v", missing)
	}
	if id, _ := record(t, f, walk(t, f)); id != "kitchen-4" {
		t.Errorf("the next entry is %s: an identifier of one that is missing", id)
	}
	if ids, err := f.Leave(context.Background(), "kitchen-3"); err != nil || len(ids) != 1 {
		t.Fatal(ids, err)
	}
	ids, problems, err := f.PutBack(context.Background(), atSix)
	if err != nil || fmt.Sprint(ids) != "[kitchen-2]" || len(problems) > 0 {
		t.Fatal(ids, problems, err)
	}
	delete(m.files, lastFile)
	m.files[JournalFile] = []byte(strings.NewReplacer("kitchen-2", "by hand 2", "kitchen-4", "by hand 4").Replace(m.Text(JournalFile)))
	if id, _ := record(t, f, walk(t, f)); id != "kitchen-5" {
		t.Errorf("the next entry is %s", id)
	}
	if _, err := f.Leave(context.Background()); err != nil {
		t.Fatal(err)
	}
	for day := range Date(7) {
		if _, _, err := f.Record(walk(t, f), "barn", Moment((may+40+day).String()+"T08:00:00")); err != nil {
			t.Fatal(err)
		}
	}
	for name, b := range m.files {
		if strings.HasPrefix(name, ".hodaba/journal-") && strings.Contains(string(b), `"kitchen-3"`) {
			t.Errorf("%s still has what was left out", name)
		}
	}
	if missing, err := f.Missing(); err != nil || len(missing) > 0 {
		t.Errorf("%v", missing)
	}
}

// A program that was stopped between the journal and the daily copy leaves a
// copy that lags behind: the next entry makes it anew, before anything could
// vanish from the journal alone.
func TestCopyThatLagsBehind(t *testing.T) {
	for _, stop := range []string{"append .hodaba/journal-friday.toml", "replace " + lastFile} {
		f, m := yardOf(t, oak)
		record(t, f, walk(t, f))
		dead := false
		m.Fault = func(op, name string) error {
			if dead = dead || op+" "+name == stop; dead {
				return syscall.EIO
			}
			return nil
		}
		if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err != nil || !dead {
			t.Fatal(stop, dead, err)
		}
		m.Fault = nil
		record(t, f, walk(t, f))
		m.files[JournalFile] = []byte(oak)
		if ids, _, err := f.PutBack(context.Background(), atSix); err != nil || fmt.Sprint(ids) != "[kitchen-2 kitchen-3 kitchen-4]" {
			t.Errorf("%s: %v %v", stop, ids, err)
		}
	}
}

// A copy that cannot be written stops no entry, and is told.
func TestCopyThatFails(t *testing.T) {
	f, m := yardOf(t, oak)
	m.Fault = func(op, name string) error {
		if strings.HasPrefix(name, ".hodaba/journal-") && op != "open" {
			return syscall.ENOSPC
		}
		return nil
	}
	if _, problems := record(t, f, walk(t, f)); !has(problems, 0, "the daily copy in .hodaba could not be written") {
		t.Error(lines(problems))
	}
	m.Fault = nil
	if _, problems := record(t, f, walk(t, f)); len(problems) > 0 || m.Text(copyName(may)) != m.Text(JournalFile) {
		t.Error(lines(problems))
	}
}

// An editor that trims the last newline makes no torn entry of one that was
// recorded, whether .hodaba knows of it or not, and mending keeps it.
func TestNewlineTakenAway(t *testing.T) {
	for _, ends := range []string{"\n", "\r\n"} {
		for _, known := range []bool{true, false} {
			for _, mending := range []bool{true, false} {
				newlineTakenAway(t, ends, known, mending)
			}
		}
	}
}

func newlineTakenAway(t *testing.T, ends string, known, mending bool) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(strings.ReplaceAll(strings.TrimRight(m.Text(JournalFile), "\n"), "\n", ends))
	if !known {
		delete(m.files, lastFile)
		delete(m.files, copyName(may))
	}
	f, _, _ = OpenFiles(m, loaded(t), may)
	if mending {
		if said := mended(t, f); strings.Contains(said, "cut short") || !strings.Contains(said, "ended the last line") || m.Text(tornName("2026-05-01")) != "" {
			t.Errorf("%q %t: %s", ends, known, said)
		}
	}
	if entries, problems := f.Entries(); len(entries) != 2 || len(problems) > 0 {
		t.Errorf("%d entries\n%s", len(entries), lines(problems))
	}
	if id, problems := record(t, f, walk(t, f)); id != "kitchen-3" || len(problems) > 0 {
		t.Error(id, lines(problems))
	}
	if entries, problems := f.Entries(); len(entries) != 3 || len(problems) > 0 {
		t.Errorf("%d entries\n%s", len(entries), lines(problems))
	}
}

// Wherever a write of an entry of any kind is cut, also between two keys, what
// there is of it is set aside by the next record, and nothing else is touched.
func TestEveryKindTornAnywhere(t *testing.T) {
	f, m := yardOf(t, oak)
	terms := f.Terms()
	for _, k := range Kinds() {
		text, problems := Compose(k.Name, examples(k), terms)
		if text == "" {
			t.Fatalf("%s: %v", k.Name, problems)
		}
		block, next := "\n"+signed(text, atSix, "kitchen-2"), walk(t, f)
		step := 1
		if testing.Short() {
			step = 17
		}
		for n := 1; n < len(block)-len("\n"); n += step { // with its last quote it is whole
			f.read, m.files = nil, map[string][]byte{JournalFile: []byte(oak + block[:n])}
			_, problems := record(t, f, next)
			if n > 1 && (!has(problems, 0, "cut short") || strings.TrimSpace(m.Text(tornName("2026-05-01"))) != strings.TrimSpace(block[:n])) {
				t.Fatalf("%s after %q: %s%q", k.Name, block[:n], lines(problems), m.Text(tornName("2026-05-01")))
			}
			entries, left := f.Entries()
			if len(entries) != 2 || len(left) > 0 || !strings.HasPrefix(m.Text(JournalFile), oak) {
				t.Fatalf("%s after %q: %s%s", k.Name, block[:n], m.Text(JournalFile), lines(left))
			}
		}
	}
}

// Stopped before either of the two steps of setting a torn entry aside, and all
// that follows, it is never in memory alone: it is kept first, then cut, and set
// aside once.
func TestTornAndStopped(t *testing.T) {
	const torn = "\n[[walked]]\nwritten = 2026-05-01T10:00:00\non = 2026-"
	aside := tornName("2026-05-01")
	for _, stop := range []string{"replace " + aside, "cut " + JournalFile} {
		f, m := yardOf(t, oak+torn)
		dead := false
		m.Fault = func(op, name string) error {
			if dead = dead || op+" "+name == stop; dead {
				return syscall.EIO
			}
			return nil
		}
		if _, _, err := f.Record(walk(t, f), "kitchen", atSix); !errors.Is(err, syscall.EIO) || !dead {
			t.Fatal(stop, err)
		}
		if m.Text(JournalFile) != oak+torn {
			t.Errorf("stopped before %q: the torn entry is cut off and %q holds %q", stop, aside, m.Text(aside))
		}
		m.Fault = nil
		record(t, f, walk(t, f))
		if m.Text(aside) != strings.TrimPrefix(torn, "\n") || m.Text(tornName("2026-05-01-2")) != "" {
			t.Errorf("stopped before %q: set aside are %q and %q", stop, m.Text(aside), m.Text(tornName("2026-05-01-2")))
		}
	}
}

// Two writers at once, ten thousand entries in all: none is lost, none is
// doubled, and each writer's stand in their order. TestTwoWritersOnDisk does it
// on a disk.
func TestTwoWritersOfThousands(t *testing.T) {
	each := 5000
	if testing.Short() {
		each = 250
	}
	_, m := yardOf(t, journalHead)
	writeBoth(t, m, each)
}

// writeBoth lets two writers record so many entries each.
func writeBoth(t *testing.T, files Files, each int) {
	var both sync.WaitGroup
	for _, w := range []string{"kitchen", "barn"} {
		both.Go(func() {
			f, _, err := OpenFiles(files, loaded(t), may)
			for n := 0; n < each && err == nil; n++ {
				_, _, err = f.Record(fmt.Sprintf("[[walked]]\non = 2026-04-30\nnote = \"%s %d\"\n", w, n), w, atSix)
			}
			if err != nil {
				t.Error(err)
			}
		})
	}
	both.Wait()
	f, _, err := OpenFiles(files, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	entries, problems := f.Entries()
	if len(problems) > 0 || len(entries) != 2*each {
		t.Fatalf("%d entries, not %d\n%s", len(entries), 2*each, lines(problems[:min(3, len(problems))]))
	}
	next, names := map[string]int{}, map[string]bool{}
	for _, e := range entries {
		w, n := "", 0
		if _, err := fmt.Sscanf(e.Note, "%s %d", &w, &n); err != nil || n != next[w] || names[e.ID] {
			t.Fatalf("%s, %q, comes where %s %d should: %v", e.ID, e.Note, w, next[w], err)
		}
		next[w]++
		names[e.ID] = true
	}
	copied, err := fs.ReadFile(files, copyName(may))
	if journal, err2 := fs.ReadFile(files, JournalFile); err != nil || err2 != nil || string(copied) != string(journal) {
		t.Error("the daily copy is not the journal", err, err2)
	}
}

// A lock that cannot be given back undoes nothing: it ends with the program.
func TestLockThatCannotBeGivenBack(t *testing.T) {
	s := machineWith{System: Machine()}
	s.lock = func(path string) (func() error, bool, error) {
		unlock, ok, err := Machine().TryLock(path)
		if !ok || err != nil {
			return nil, ok, err
		}
		return func() error { return errors.Join(unlock(), errors.New("disk on fire")) }, true, nil
	}
	f, dir := diskYard(t, s)
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: mendMine})
	if took, err := f.TakeOver(t.Context(), mergeCopy(t, there), true, atSix); err != nil || len(took.Taken) != 1 {
		t.Errorf("merge: %v", err)
	}
	if err := os.WriteFile(filepath.Join(dir, JournalFile), []byte(mendWhole+"\x00"), 0o644); err != nil {
		t.Fatal(err)
	}
	if done, err := f.Mend(t.Context(), atSix); err != nil || len(done) == 0 {
		t.Errorf("mend: %v %v", done, err)
	}
	if _, _, err := f.Pack(t.Context(), may); err != nil {
		t.Errorf("archive: %v", err)
	}
	w := &Weather{From: may - 1, Days: []WeatherDay{{TMin: 1, TMax: 9, HasTemp: true}}}
	if _, _, err := f.WriteWeather(w, false); err != nil {
		t.Errorf("weather: %v", err)
	}
}

// Whoever waits in vain reads no words of the programming language.
func TestWaitingInVain(t *testing.T) {
	d := OnDisk(t.TempDir())
	unlock, err := d.Lock(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	defer unlock()
	ctx, cancel := context.WithTimeout(t.Context(), lockRetry)
	defer cancel()
	if _, err := d.Lock(ctx); !errors.Is(err, context.DeadlineExceeded) || strings.Contains(err.Error(), "context") {
		t.Error(err)
	}
}

// What merge appends is refused in the same words as what record appends.
func TestMergeIntoAJournalThatChanges(t *testing.T) {
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: mergeBase + mendMine})
	f, m := yardOf(t, mergeBase)
	m.Fault = func(op, name string) error {
		if op == "append" && name == JournalFile {
			return ErrChanged
		}
		return nil
	}
	if _, err := f.TakeOver(t.Context(), mergeCopy(t, there), false, atSix); err == nil || !strings.Contains(err.Error(), "close it there and try again") {
		t.Error(err)
	}
}
