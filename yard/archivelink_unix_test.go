//go:build unix

package yard

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"
)

// A link is followed for the yard's own files, which may lie on another disk;
// any other is left out and said, wherever it leads. What others may not read
// comes back so.
func TestPackLinksAndPermissions(t *testing.T) {
	dir, far := t.TempDir(), t.TempDir()
	for path, text := range map[string]string{filepath.Join(dir, YardFile): smallYard, filepath.Join(far, "j.toml"): mendWhole, filepath.Join(far, "secret"): "root:x"} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name, to := range map[string]string{JournalFile: "j.toml", "notes.txt": "secret", "gone.txt": "nowhere"} {
		if err := os.Symlink(filepath.Join(far, to), filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	f, _, err := Open(dir, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	a, leftOut, err := f.Pack(t.Context(), may)
	if err != nil || !slices.Equal(leftOut, []string{"gone.txt (a link)", "notes.txt (a link)"}) || string(a.files[JournalFile]) != mendWhole {
		t.Fatal(err, leftOut, a.Names())
	}
	b, err := a.Bytes()
	if err != nil || bytes.Contains(b, []byte("secret")) {
		t.Fatal(err)
	}
	if a, err = ReadArchive(bytes.NewReader(b)); err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), "again")
	if err := a.Restore(to); err != nil {
		t.Fatal(err)
	}
	for name, mode := range map[string]os.FileMode{YardFile: 0o600, JournalFile: 0o600, archivedFile: 0o644} {
		if info, err := os.Stat(filepath.Join(to, name)); err != nil || info.Mode().Perm() != mode {
			t.Error(name, info.Mode(), err)
		}
	}
}
