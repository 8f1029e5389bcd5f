package yard

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// An editor that saves a longer text into the same file just before the write
// has what was written behind it: it is recorded.
func TestLandedBehindALongerText(t *testing.T) {
	path := filepath.Join(t.TempDir(), JournalFile)
	block := []byte("\n" + pick)
	for text, want := range map[string]bool{
		oak + string(block):                          true,
		oak + "# a remark of mine\n" + string(block): true,
		oak + "# a remark of mine\n":                 false,
		"#\n":                                        false,
		"":                                           false,
	} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := landed(path, info, block, int64(len(oak))); got != want {
			t.Errorf("%q: %t", text, got)
		}
	}
}

// A file in the place of .hodaba is named, with the way out, by verify and record.
func TestOwnFolderIsAFile(t *testing.T) {
	dir := t.TempDir()
	own := filepath.Join(dir, ownFolder)
	for path, text := range map[string]string{filepath.Join(dir, YardFile): smallYard, filepath.Join(dir, JournalFile): oak, own: "x"} {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	const way = "delete or rename it"
	if problems := f.Check(); !has(problems, 0, ".hodaba: it is a file, not a folder") || !has(problems, 0, way) {
		t.Error(lines(problems))
	}
	if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err == nil || !strings.Contains(err.Error(), way) {
		t.Error(err)
	}
	if b, err := os.ReadFile(filepath.Join(dir, JournalFile)); err != nil || !bytes.Equal(b, []byte(oak)) {
		t.Errorf("%v %q", err, b)
	}
	if err := os.Rename(own, own+"-mine"); err != nil {
		t.Fatal(err)
	}
	if id, problems := record(t, f, walk(t, f)); id != "kitchen-2" || len(problems) > 0 {
		t.Error(id, lines(problems))
	}
}
