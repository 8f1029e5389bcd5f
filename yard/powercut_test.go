package yard

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// uncertain is the machine, of which it is known at any moment what a power cut
// may leave of each file: what was synced last, or anything since.
type uncertain struct {
	System
	names   map[string][]*uncertainFile // what may lie at a path; nil for nothing
	folders map[string]bool             // those whose names may be lost
	watch   func(call string)           // is told of each call before it is made
	fail    func(call string) error     // lets a call fail
}

// uncertainFile is a file, whatever its name: what may be in it.
type uncertainFile struct{ may []string }

func newUncertain() *uncertain {
	return &uncertain{System: Machine(), names: map[string][]*uncertainFile{}, folders: map[string]bool{}}
}

// after are the texts that may stand at a path after a power cut, and "(none)"
// where there may be no file.
func (u *uncertain) after(path string) (texts []string) {
	for folder := range u.folders {
		if rel, err := filepath.Rel(folder, path); err == nil && filepath.IsLocal(rel) {
			texts = append(texts, "(none)")
		}
	}
	for _, f := range u.at(path) {
		if f == nil {
			texts = append(texts, "(none)")
			continue
		}
		texts = append(texts, f.may...)
	}
	slices.Sort(texts)
	return slices.Compact(texts)
}

// at are the files that may lie at a path; what was there before is certain.
func (u *uncertain) at(path string) []*uncertainFile {
	if _, known := u.names[path]; !known {
		u.names[path] = []*uncertainFile{nil}
		if b, err := os.ReadFile(path); err == nil {
			u.names[path][0] = &uncertainFile{[]string{string(b)}}
		}
	}
	return u.names[path]
}

// call tells of a call and lets it fail.
func (u *uncertain) call(op, path string) error {
	call := op + " " + filepath.Base(path)
	if u.watch != nil {
		u.watch(call)
	}
	if u.fail != nil {
		return u.fail(call)
	}
	return nil
}

func (u *uncertain) Open(path string, flag int, mode fs.FileMode) (SystemFile, error) {
	at := u.at(path)
	if err := u.call("open", path); err != nil {
		return nil, err
	}
	f, err := u.System.Open(path, flag, mode)
	if err != nil {
		return nil, err
	}
	is := at[len(at)-1]
	if is == nil {
		is = &uncertainFile{[]string{""}}
		u.names[path] = append(at, is)
	}
	if flag&os.O_TRUNC != 0 {
		is.may = append(is.may, "")
	}
	return &uncertainHandle{f, u, is, path, path}, nil
}

func (u *uncertain) MakeFolder(path string) error {
	if err := u.call("make folder", path); err != nil {
		return err
	}
	u.folders[path] = true
	return u.System.MakeFolder(path)
}

func (u *uncertain) SyncFolder(path string) error {
	if err := u.call("sync folder", path); err != nil {
		return err
	}
	for name, may := range u.names {
		if filepath.Dir(name) == path {
			u.names[name] = may[len(may)-1:]
		}
	}
	for folder := range u.folders {
		if filepath.Dir(folder) == path {
			delete(u.folders, folder)
		}
	}
	return u.System.SyncFolder(path)
}

// Beside makes a plain file: the machine's own way syncs where it renames.
func (u *uncertain) Beside(path string) (PendingFile, error) {
	if err := u.call("beside", path); err != nil {
		return nil, err
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if err != nil {
		return nil, err
	}
	return uncertainPending{&uncertainHandle{f, u, &uncertainFile{[]string{""}}, f.Name(), path}}, nil
}

// uncertainHandle is an open file.
type uncertainHandle struct {
	SystemFile
	u    *uncertain
	file *uncertainFile
	lies string // where it is now
	path string // whose name it has, or is to have
}

// is notes what is in the file now.
func (h *uncertainHandle) is() error {
	b, err := os.ReadFile(h.lies)
	h.file.may = append(h.file.may, string(b))
	return err
}

// Write writes half where it is to fail.
func (h *uncertainHandle) Write(b []byte) (int, error) {
	failed := h.u.call("write", h.path)
	if failed != nil {
		b = b[:len(b)/2]
	}
	n, err := h.SystemFile.Write(b)
	return n, errors.Join(failed, err, h.is())
}

func (h *uncertainHandle) Truncate(size int64) error {
	if err := h.u.call("cut", h.path); err != nil {
		return err
	}
	return errors.Join(h.SystemFile.Truncate(size), h.is())
}

func (h *uncertainHandle) Sync() error {
	if err := h.u.call("sync", h.path); err != nil {
		return err
	}
	h.file.may = h.file.may[len(h.file.may)-1:]
	return nil
}

// uncertainPending is a file that is to take another's place.
type uncertainPending struct{ *uncertainHandle }

func (p uncertainPending) Replace() error {
	at := p.u.at(p.path)
	if err := p.u.call("rename", p.path); err != nil {
		return err
	}
	p.u.names[p.path] = append(at, p.file)
	return errors.Join(p.Close(), os.Rename(p.lies, p.path))
}

func (p uncertainPending) Drop() error {
	return errors.Join(p.u.call("drop", p.path), p.Close(), os.Remove(p.lies))
}

// mayBe fails unless a power cut now leaves one of these texts at a path, and
// may leave each of them.
func (u *uncertain) mayBe(t *testing.T, when, path string, texts ...string) {
	t.Helper()
	slices.Sort(texts)
	if is := u.after(path); !slices.Equal(is, texts) {
		t.Errorf("%s, a power cut leaves %q in %s, not %q", when, is, filepath.Base(path), texts)
	}
}

// What was appended is on the disk before Append returns, and so is the name of
// a file that is new.
func TestAppendedForGood(t *testing.T) {
	for _, old := range []string{"", "old\n"} {
		u := newUncertain()
		dir := t.TempDir()
		path := filepath.Join(dir, JournalFile)
		if old != "" {
			if err := os.WriteFile(path, []byte(old), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if err := (disk{os.DirFS(dir), dir, u}).Append(JournalFile, []byte("new\n"), int64(len(old))); err != nil {
			t.Fatal(err)
		}
		u.mayBe(t, "appended", path, old+"new\n")
	}
}

// Whatever of a write fails, the file is on the disk as it was before Append
// returns: no power cut brings what was taken back.
func TestTakenBackForGood(t *testing.T) {
	for _, fails := range []string{"write " + JournalFile, "sync " + JournalFile} {
		u := newUncertain()
		dir := t.TempDir()
		path := filepath.Join(dir, JournalFile)
		if err := os.WriteFile(path, []byte("old\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		failed := false
		u.fail = func(call string) error {
			if call != fails || failed {
				return nil
			}
			failed = true
			return errors.New("planted")
		}
		if err := (disk{os.DirFS(dir), dir, u}).Append(JournalFile, []byte("torn bytes\n"), 4); err == nil || !failed {
			t.Error(fails, err)
		}
		u.mayBe(t, fails+" failed", path, "old\n")
	}
}

// What is cut off is cut off for good.
func TestCutForGood(t *testing.T) {
	u := newUncertain()
	dir := t.TempDir()
	path := filepath.Join(dir, JournalFile)
	if err := os.WriteFile(path, []byte("whole\ntor"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := (disk{os.DirFS(dir), dir, u}).Cut(JournalFile, 6, 9); err != nil {
		t.Fatal(err)
	}
	u.mayBe(t, "cut", path, "whole\n")
}

// At any moment of a replacing a power cut leaves the old text or the new one,
// and the new one for certain when it is done.
func TestReplacedForGood(t *testing.T) {
	for _, old := range []string{"(none)", "old"} {
		u := newUncertain()
		dir := t.TempDir()
		path := filepath.Join(dir, lastFile)
		if old != "(none)" {
			if err := errors.Join(os.Mkdir(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(old), 0o644)); err != nil {
				t.Fatal(err)
			}
		}
		calls := 0
		u.watch = func(call string) {
			calls++
			for _, text := range u.after(path) {
				if text != old && text != "new" {
					t.Errorf("before %s, a power cut leaves %q", call, text)
				}
			}
		}
		if err := (disk{os.DirFS(dir), dir, u}).Replace(lastFile, []byte("new")); err != nil || calls == 0 {
			t.Fatal(calls, err)
		}
		u.mayBe(t, "replaced", path, "new")
	}
}

// The name of a new folder is on the disk before anything is written into it.
func TestNewFoldersForGood(t *testing.T) {
	u := newUncertain()
	dir := filepath.Join(t.TempDir(), "new", "yard")
	u.watch = func(call string) {
		if call == "beside "+YardFile && len(u.folders) > 0 {
			t.Errorf("it is written into folders that a power cut takes: %v", u.folders)
		}
	}
	if err := (disk{os.DirFS(dir), dir, u}).Replace(YardFile, []byte(smallYard)); err != nil {
		t.Fatal(err)
	}
	u.mayBe(t, "written", filepath.Join(dir, YardFile), smallYard)
}

// A whole record: when it is answered, the entry is on the disk in the journal
// and in the daily copy, and so is the memory of the end.
func TestRecordedForGood(t *testing.T) {
	u := newUncertain()
	f, dir := diskYard(t, u)
	for n := range 2 { // the first makes the daily copy, the second adds to it
		record(t, f, walk(t, f))
		for _, name := range []string{JournalFile, copyName(may), lastFile} {
			b, err := os.ReadFile(filepath.Join(dir, name))
			if err != nil {
				t.Fatal(err)
			}
			u.mayBe(t, fmt.Sprintf("entry %d recorded", n+1), filepath.Join(dir, name), string(b))
		}
	}
}
