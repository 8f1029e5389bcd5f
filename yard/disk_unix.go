//go:build !windows

package yard

import (
	"errors"
	"io/fs"
	"os"

	"github.com/google/renameio/v2"
)

// replaceFile writes aside and renames: a reader sees the old file or the
// new one, never a part.
func replaceFile(path string, b []byte, mode fs.FileMode) error {
	return renameio.WriteFile(path, b, mode)
}

// syncFolder brings new names in a folder to the disk.
func syncFolder(dir string) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
