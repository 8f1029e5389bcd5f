package yard

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"hodaba/data"
)

// A journal that nobody can read is never taken for one from which nothing is
// missing, and no archive is made without it.
func TestJournalThatCannotBeRead(t *testing.T) {
	utf16le := []byte("\xff\xfe")
	for _, u := range utf16.Encode([]rune(mendWhole)) {
		utf16le = binary.LittleEndian.AppendUint16(utf16le, u)
	}
	for name, c := range map[string]struct {
		put  func(path string) error
		want string
		pack bool // it is kept as it is
	}{
		"a folder": {func(path string) error { return os.Mkdir(path, 0o755) }, "it is a folder and no file: move it out of the way", false},
		"too large": {func(path string) error {
			return errors.Join(os.WriteFile(path, nil, 0o644), os.Truncate(path, mostJournal+1))
		}, "larger than 128 MB", false},
		"UTF-16": {func(path string) error { return os.WriteFile(path, utf16le, 0o644) }, "saved as UTF-16", true},
		"lines of carriage returns": {func(path string) error {
			return os.WriteFile(path, []byte(strings.ReplaceAll(mendWhole+mendMine, "\n", "\r")), 0o644)
		}, "carriage return", true},
		"a link to nowhere": {func(path string) error { return os.Symlink(filepath.Join(path+" of a stick", "journal.toml"), path) }, "is the disk there", false},
	} {
		t.Run(name, func(t *testing.T) {
			f, dir := diskYard(t, Machine())
			record(t, f, walk(t, f))
			path := filepath.Join(dir, JournalFile)
			if err := errors.Join(os.Remove(path), c.put(path)); err != nil {
				t.Fatal(err)
			}
			f, _, err := Open(dir, loaded(t), may)
			if err != nil {
				t.Fatal(err)
			}
			wants := func(what string, err error) {
				t.Helper()
				if err == nil || !strings.Contains(err.Error(), c.want) || strings.Count(err.Error(), ": ") > 4 {
					t.Errorf("%s: %v", what, err)
				}
			}
			_, err = f.Missing()
			wants("missing", err)
			_, _, err = f.PutBack(t.Context(), atSix)
			wants("put back", err)
			_, err = f.Leave(t.Context(), "kitchen-1")
			wants("leave", err)
			_, _, err = f.Record(walk(t, f), "kitchen", atSix)
			wants("record", err)
			told := 0
			for _, p := range f.Check() {
				if p.File == JournalFile {
					told++
				}
				if strings.Contains(p.String(), "put-back") {
					t.Errorf("it says what nobody knows: %s", p)
				}
			}
			if told != 1 {
				t.Errorf("told %d times:\n%s", told, lines(f.Check()))
			}
			if _, _, err := f.Pack(t.Context(), may); c.pack != (err == nil) {
				t.Errorf("archive: %v", err)
			}
		})
	}
}

// Where a journal was, no archive is made without one; where there never was,
// it is.
func TestArchiveWithoutAJournal(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	delete(m.files, JournalFile)
	if _, _, err := f.Pack(t.Context(), may); err != nil {
		t.Error(err)
	}
	m.files[copyName(may)] = []byte(mendWhole)
	if _, _, err := f.Pack(t.Context(), may); err == nil || !strings.Contains(err.Error(), "shows that there was one") {
		t.Error(err)
	}
}

// A journal as large as is read fits an archive, if need be without the daily
// copies.
func TestArchiveOfALargeJournal(t *testing.T) {
	if mostArchived < mostJournal {
		t.Error("a journal that is read does not fit an archive")
	}
	a := &Archive{files: map[string][]byte{JournalFile: make([]byte, mostUnpacked-1), copyName(may): make([]byte, 2), copyName(may - 1): nil}}
	if left := a.lighten([]string{copyName(may - 1), copyName(may)}); len(left) != 2 || a.fits() != nil {
		t.Error(left)
	}
}

// within fails where something waits without end.
func within(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan struct{})
	go func() { defer close(done); do() }()
	select {
	case <-done:
	case <-time.After(20 * time.Second):
		t.Fatalf("%s waits without end", what)
	}
}

// commandsOn are what a folder is asked to do, whatever lies in it.
func commandsOn(set *data.Set, dir string) map[string]func() error {
	return map[string]func() error{
		"verify": func() error {
			f, _, err := Open(dir, set, may)
			if err == nil {
				f.Check()
			}
			return err
		},
		"record": func() error {
			f, _, err := Open(dir, set, may)
			if err == nil {
				_, _, err = f.Record("[[walked]]\non = 2026-04-30\n", "kitchen", atSix)
			}
			return err
		},
		"mend": func() error {
			f, _, err := Open(dir, set, may)
			if err == nil {
				_, err = f.Mend(context.Background(), atSix)
			}
			return err
		},
		"archive": func() error {
			f, _, err := Open(dir, set, may)
			if err == nil {
				_, _, err = f.Pack(context.Background(), may)
			}
			return err
		},
		"merge": func() error { _, err := OpenCopy(filepath.Join(dir, JournalFile)); return err },
	}
}

// Zero bytes behind a whole last entry are cut off before the next is written,
// and with nothing else; a disk that fails leaves all as it was.
func TestZerosBehindTheEnd(t *testing.T) {
	for name, c := range map[string]struct{ end, keeps string }{
		"behind a whole entry": {strings.Repeat("\x00", 4000), ""},
		"behind no newline":    {"# by hand" + strings.Repeat("\x00", 40), "# by hand"},
	} {
		f, m := yardOf(t, mendWhole+c.end)
		m.Fault = func(op, _ string) error {
			if op == "cut" {
				return errors.New("disk on fire")
			}
			return nil
		}
		if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err == nil || m.Text(JournalFile) != mendWhole+c.end {
			t.Errorf("%s: %v", name, err)
		}
		m.Fault = nil
		id, problems := record(t, f, walk(t, f))
		if now := m.Text(JournalFile); id != "kitchen-2" || strings.Contains(now, "\x00") || !strings.HasPrefix(now, mendWhole+c.keeps+"\n") || !has(problems, 0, "zero bytes stood at its end") {
			t.Errorf("%s: %q\n%s", name, now, lines(problems))
		}
		if entries, odd := mergeReopen(t, m).Entries(); len(entries) != 2 || len(odd) > 0 {
			t.Errorf("%s: %d\n%s", name, len(entries), lines(odd))
		}
	}
}

// A name in which a letter turns others around is refused, wherever it stands.
func TestArchiveNamesThatReadOtherwise(t *testing.T) {
	for _, name := range []string{"notes\u202etxt.md", "a\u200bb.txt", "\ufeffnotes.txt", "no\u2066tes.csv"} {
		if err := memberName(name); err == nil {
			t.Errorf("%q", name)
		}
	}
	for _, name := range []string{"Träume – Notizen.txt", "记录.csv"} {
		if err := memberName(name); err != nil {
			t.Error(err)
		}
	}
}

// A table cell that begins with a wide sign is guarded as one with a narrow.
func TestGuardWideSigns(t *testing.T) {
	for _, cell := range []string{"＝1+1", "＋1", "－1", "＠a", "'＝1"} {
		if g := Guard(cell); g != "'"+cell || unguarded(g) != cell {
			t.Errorf("%q became %q", cell, g)
		}
	}
}

// The search for a free name ends.
func TestTornFilesWithoutEnd(t *testing.T) {
	f, m := yardOf(t, mendWhole+"\n[[lost]]\nwritten = 2026-05-01T1")
	day := atSix.Day()
	m.files[tornName(day.String())] = []byte("x")
	for n := 2; n <= mostTorn; n++ {
		m.files[tornName(fmt.Sprintf("%s-%d", day, n))] = []byte("x")
	}
	if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err == nil || !strings.Contains(err.Error(), "no free name") {
		t.Error(err)
	}
}

// An editor that saves while marks are mended is not written over.
func TestMendMarksMeetsAnEditor(t *testing.T) {
	f, m := yardOf(t, mendWhole+"<<<<<<< HEAD\n"+mendMine+"=======\n"+mendTheirs+">>>>>>> barn\n")
	kept := ""
	m.Fault = func(op, name string) error {
		if op == "replace" && strings.HasPrefix(name, ownFolder+"/journal-before-") {
			m.files[JournalFile] = append(m.files[JournalFile], "# saved meanwhile\n"...)
			kept = string(m.files[JournalFile])
		}
		return nil
	}
	if _, err := f.Mend(t.Context(), atSix); err == nil || !strings.Contains(err.Error(), "close it there") || kept == "" || m.Text(JournalFile) != kept {
		t.Errorf("%v\n%s", err, m.Text(JournalFile))
	}
}

// Entries by hand that an editor wrote over are shown, and no alarm; those
// that are there in other words are not.
func TestGoneByHand(t *testing.T) {
	const hand, other = "[[walked]]\non = 2026-04-11\nnote = \"by hand\"\n", "[[walked]]\non = 2026-04-12\n"
	f, m := yardOf(t, mendWhole+"\n[[walked]]\non   =   2026-04-12 # as it was\n")
	m.files[copyName(may-1)] = []byte(mendWhole + hand + other)
	m.files[copyName(may)] = []byte(mendWhole + hand)
	gone := f.ByHand()
	if len(gone) != 1 || !strings.Contains(gone[0].Text, "by hand") {
		t.Errorf("%v", gone)
	}
	if missing, err := f.Missing(); err != nil || len(missing) > 0 {
		t.Error(missing, err)
	}
	for _, p := range f.Check() {
		t.Error(p)
	}
}
