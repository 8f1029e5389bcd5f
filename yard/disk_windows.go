package yard

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// replaceFile writes aside and renames. Windows gives no promise that a power
// cut in between leaves the old file or the new one.
func replaceFile(path string, b []byte, mode fs.FileMode) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".new-*")
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	err = errors.Join(err, f.Sync(), f.Close(), os.Chmod(f.Name(), mode))
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// syncFolder does nothing: Windows cannot sync a folder.
func syncFolder(string) error { return nil }
