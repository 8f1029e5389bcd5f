//go:build unix

package yard

import (
	"errors"
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// Nothing in a folder makes a command wait without end: neither a pipe nor a
// socket in the place of any file. Where a link leads to one it stays.
func TestPipesAndSockets(t *testing.T) {
	far := filepath.Join(t.TempDir(), "pipe of someone else")
	if err := syscall.Mkfifo(far, 0o644); err != nil {
		t.Fatal(err)
	}
	set := loaded(t)
	for kind, put := range map[string]func(path string) error{
		"a pipe": func(path string) error { return syscall.Mkfifo(path, 0o644) },
		"a socket": func(path string) error {
			l, err := net.Listen("unix", path)
			if err == nil {
				t.Cleanup(func() { l.Close() })
			}
			return err
		},
		"a link to a pipe": func(path string) error { return os.Symlink(far, path) },
	} {
		for _, name := range []string{YardFile, JournalFile, RecipesFile, WeatherFile, lastFile, leftFile, copyName(may), hostsFile, archivedFile, lockFile, nextFile, "journal (1).toml", "notes.txt"} {
			dir, err := os.MkdirTemp("", "y") // short: the path of a socket is
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { os.RemoveAll(dir) })
			if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, filepath.FromSlash(name))
			_ = os.Remove(path)
			if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), put(path)); err != nil {
				t.Fatal(err)
			}
			for what, do := range commandsOn(set, dir) {
				within(t, kind+" "+name+": "+what, func() {
					err = do()
				})
				bad := name == YardFile && what != "merge" || name == JournalFile && what != "verify" ||
					(name == lockFile || name == nextFile) && (what == "record" || what == "mend" || what == "archive")
				if kind == "a link to a pipe" && (name == lastFile || name == copyName(may)) && what == "mend" {
					continue // it fails where it would have to put a file there, which hangs on what was done before
				}
				if bad != (err != nil) {
					t.Errorf("%s %s: %s: %v", kind, name, what, err)
				}
			}
		}
	}
	if info, err := os.Lstat(far); err != nil || info.Mode()&os.ModeNamedPipe == 0 {
		t.Errorf("what a link led to is gone: %v %v", info, err)
	}
}
