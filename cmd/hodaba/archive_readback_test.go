package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hodaba/yard"
)

// rottingDisk keeps other bytes of an archive than it was given, and says
// nothing.
type rottingDisk struct{ yard.System }

func (d rottingDisk) Beside(path string) (yard.PendingFile, error) {
	f, err := d.System.Beside(path)
	if err != nil || filepath.Ext(path) != ".zip" {
		return f, err
	}
	return rottingFile{f}, nil
}

type rottingFile struct{ yard.PendingFile }

func (f rottingFile) Write(b []byte) (int, error) {
	rotten := append([]byte{}, b...)
	rotten[len(b)/2] ^= 1
	return f.PendingFile.Write(rotten)
}

// An archive that is not on the disk as it was written is no archive: it is
// said, and the day is not noted.
func TestArchiveIsReadBack(t *testing.T) {
	root := t.TempDir()
	dir := filepath.Join(root, "yard")
	runHealthy(dir, "start", "DIR", "--station", "oxford", "--units", "metric")
	back := yard.Under(rottingDisk{yard.Machine()})
	status, out := runIn(dir, "", 1, "export", "--all", "ARCHIVE", "--yard", "DIR")
	back()
	if status == statusDone || status == statusPartial || !strings.Contains(out, "what is read back differs") {
		t.Errorf("%d %s", status, out)
	}
	if _, err := os.Stat(filepath.Join(dir, ".hodaba", "archived")); err == nil {
		t.Error("the day of an archive that is none was noted")
	}
	faultless(os.Remove(filepath.Join(root, "all.zip")))
	runHealthy(dir, "export", "--all", "ARCHIVE", "--yard", "DIR")
	if _, err := os.Stat(filepath.Join(dir, ".hodaba", "archived")); err != nil {
		t.Error(err)
	}
}
