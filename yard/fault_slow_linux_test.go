//go:build slow

package yard

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestFullDisk fills a small file system for real and records until nothing
// fits: every entry that was recorded is there, what failed is said and is
// not, and with room again the next one goes in. Then it makes the whole of it
// read-only. Where this machine lets no test mount one, faults in memory stand
// in for it (TestFaults).
func TestFullDisk(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=192k"); err != nil {
		t.Logf("no file system can be mounted here (%v): full disks are tried in memory alone", err)
		TestFaults(t)
		return
	}
	defer func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	}()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	recorded, refused := map[string]bool{}, 0
	for refused < 50 {
		id, _, err := f.Record(crashText("kitchen", len(recorded)), "kitchen", atSix)
		if err == nil {
			recorded[id] = true
			continue
		}
		refused++
		if !errors.Is(err, syscall.ENOSPC) || !strings.Contains(err.Error(), "nothing was recorded") || !strings.Contains(err.Error(), "make room on the disk") {
			t.Fatal(err)
		}
		if refused == 25 { // a little room, less than a page
			if err := os.Remove(filepath.Join(dir, RecipesFile)); err != nil {
				t.Fatal(err)
			}
		}
	}
	fullDiskHolds(t, f, recorded)
	if err := os.RemoveAll(filepath.Join(dir, ownFolder)); err != nil {
		t.Fatal(err)
	}
	id, _ := record(t, f, walk(t, f))
	recorded[id] = true
	fullDiskHolds(t, f, recorded)
	if err := syscall.Mount("tmpfs", dir, "tmpfs", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err == nil || !strings.Contains(err.Error(), "the disk may only be read; copy the folder") {
		t.Error(err)
	}
	fullDiskHolds(t, f, recorded)
	t.Logf("%d entries recorded, %d refused", len(recorded), refused)
}

func fullDiskHolds(t *testing.T, f *Folder, recorded map[string]bool) {
	t.Helper()
	f.read = nil
	entries, problems := f.Entries()
	if len(problems) > 0 || len(entries) != len(recorded) {
		t.Fatalf("%d entries, not %d\n%s", len(entries), len(recorded), lines(problems))
	}
	for _, e := range entries {
		if !recorded[e.ID] {
			t.Fatalf("%s was refused and is there", e.ID)
		}
	}
}
