package yard

import (
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/gofrs/flock"
)

// System is what a folder on the disk asks of the operating system to write,
// call by call, so that tests can let each of them fail or be the last one
// before the power goes.
type System interface {
	// FS is the folder at dir, for reading.
	FS(dir string) fs.FS
	// Open opens a file for writing, as os.OpenFile does.
	Open(path string, flag int, mode fs.FileMode) (SystemFile, error)
	// Beside makes a new file in the folder of path that is to take its
	// place, with its permissions.
	Beside(path string) (PendingFile, error)
	// MakeFolder makes one folder.
	MakeFolder(path string) error
	// SyncFolder brings the names in a folder to the disk.
	SyncFolder(path string) error
	// Remove takes away a file, or a folder that is empty.
	Remove(path string) error
	// TryLock takes the lock of a file, which is made if it is missing; ok is
	// false where someone else has it.
	TryLock(path string) (unlock func() error, ok bool, err error)
}

// SystemFile is a file that was opened for writing.
type SystemFile interface {
	io.WriteCloser
	io.ReaderAt
	Stat() (fs.FileInfo, error)
	Truncate(size int64) error
	Sync() error
}

// PendingFile is a new file that is to take the place of another.
type PendingFile interface {
	io.Writer
	Sync() error
	// Replace closes the file and gives it the other's name.
	Replace() error
	// Drop deletes it, where it has not taken the place.
	Drop() error
}

// under is the system under every folder on the disk.
var under System = machine{}

// Under puts another system under all folders that OnDisk returns from then
// on, for tests that plant faults; back puts the machine's own there again.
// No folder may be in use meanwhile.
func Under(s System) (back func()) {
	old := under
	under = s
	return func() { under = old }
}

// Machine is the operating system itself.
func Machine() System { return machine{} }

type machine struct{}

func (machine) FS(dir string) fs.FS { return os.DirFS(dir) }

func (machine) Open(path string, flag int, mode fs.FileMode) (SystemFile, error) {
	return os.OpenFile(path, flag, mode)
}

func (machine) Beside(path string) (PendingFile, error) { return beside(path) }
func (machine) MakeFolder(path string) error            { return os.Mkdir(path, 0o755) }
func (machine) Remove(path string) error                { return os.Remove(path) }
func (machine) SyncFolder(path string) error            { return syncFolder(path) }

// TryLock opens the lock for reading alone, so that whoever may read the
// folder's lock can wait for it, and makes sure that the lock it got is the
// one that lies there: .hodaba may be thrown away at any moment.
func (machine) TryLock(path string) (unlock func() error, ok bool, err error) {
	if info, err := os.Stat(path); err == nil && plainFile(info) != nil {
		what, _ := parts(plainFile(info))
		return nil, false, mistake{path + " is no lock, as " + what, "delete it: it is made anew"}
	}
	l := flock.New(path, flock.SetPermissions(0o644))
	ok, err = l.TryLock()
	if err != nil || !ok {
		return nil, false, err
	}
	mine, err := l.Stat()
	if err != nil {
		return nil, false, err
	}
	if lies, err := os.Stat(path); err != nil || !os.SameFile(mine, lies) {
		return nil, false, l.Unlock()
	}
	return l.Unlock, true, nil
}

// mostLinks bounds a chain of links to a file that is missing.
const mostLinks = 40

// followed is the place to which a path leads through symbolic links. A file
// that lies elsewhere is changed there, and the link stays a link; also where
// the file it leads to is missing.
func followed(path string) string {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		return real
	}
	for range mostLinks {
		to, err := os.Readlink(path)
		if err != nil {
			return path
		}
		if !filepath.IsAbs(to) {
			to = filepath.Join(filepath.Dir(path), to)
		}
		path = to
	}
	return path
}
