//go:build !windows

package yard

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// pending is a file that takes another's place by renaming: a reader sees the
// old file or the new one, never a part.
type pending struct{ *renameio.PendingFile }

func (p pending) Replace() error { return p.CloseAtomicallyReplace() }
func (p pending) Drop() error    { return p.Cleanup() }

func beside(path string) (PendingFile, error) {
	f, err := renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
	if err != nil {
		return nil, err
	}
	return pending{f}, nil
}

// syncFolder brings new names in a folder to the disk, where the folder may be
// read and its file system can do that.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil && !errors.Is(err, syscall.EINVAL) && !errors.Is(err, errors.ErrUnsupported) {
		return err
	}
	return nil
}

// readOnly reports whether an error says that the whole disk may only be read.
func readOnly(err error) bool { return errors.Is(err, syscall.EROFS) }
