package yard

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// pending is a file that takes another's place by renaming. Windows gives no
// promise that a power cut in between leaves the old file or the new one.
type pending struct {
	*os.File
	path string
	mode fs.FileMode
	done bool
}

func beside(path string) (PendingFile, error) {
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if err != nil {
		return nil, err
	}
	return &pending{File: f, path: path, mode: mode}, nil
}

// Replace is that of PendingFile.
func (p *pending) Replace() error {
	if err := errors.Join(p.Close(), os.Chmod(p.Name(), p.mode)); err != nil {
		return err
	}
	if err := os.Rename(p.Name(), p.path); err != nil {
		return err
	}
	p.done = true
	return nil
}

// Drop is that of PendingFile.
func (p *pending) Drop() error {
	if p.done {
		return nil
	}
	_ = p.Close() // it may be closed already
	return os.Remove(p.Name())
}

// syncFolder does nothing: Windows cannot sync a folder.
func syncFolder(string) error { return nil }

// readOnly reports whether an error says that the whole disk may only be read.
func readOnly(error) bool { return false }
