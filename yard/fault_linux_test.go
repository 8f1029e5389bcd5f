package yard

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// nobody is a user to whom nothing belongs.
const nobody = 65534

// A folder that belongs to someone else, for real: it is read, and the message
// of a record says what to look at.
func TestFolderOfSomeoneElse(t *testing.T) {
	dir := t.TempDir()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.Chmod(filepath.Dir(dir), 0o755), os.Chmod(dir, 0o555), os.Chmod(filepath.Join(dir, JournalFile), 0o444)); err != nil {
		t.Fatal(err)
	}
	set := loaded(t)
	done, root := make(chan error), errors.New("this machine lets root not become nobody")
	go func() {
		runtime.LockOSThread() // and never unlocked: the thread ends with the goroutine
		if os.Geteuid() == 0 {
			syscall.RawSyscall(syscall.SYS_SETFSUID, nobody, 0, 0) // root may write anywhere: this thread may not
			if is, _, _ := syscall.RawSyscall(syscall.SYS_SETFSUID, ^uintptr(0), 0, 0); is != nobody {
				done <- root
				return
			}
		}
		f, _, err := Open(dir, set, may)
		if err == nil {
			_, _, err = f.Record("[[walked]]\non = 2026-04-30\n", "kitchen", atSix)
		}
		done <- err
	}()
	err := <-done
	if errors.Is(err, root) {
		t.Log(err, "- TestFolderThatCannotBeWrittenTo stands in for it")
		return
	}
	if !errors.Is(err, fs.ErrPermission) || !strings.Contains(err.Error(), "nothing was recorded") || !strings.Contains(err.Error(), "look whether you may write in the folder") {
		t.Error(err)
	}
	if err := os.Chmod(dir, 0o755); err != nil {
		t.Fatal(err)
	}
}
