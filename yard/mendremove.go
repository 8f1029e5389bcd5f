package yard

import (
	"io/fs"
	"os"
	"path/filepath"
)

// Remove takes a file out of the folder.
func (d disk) Remove(name string) error {
	if !fs.ValidPath(name) {
		return &fs.PathError{Op: "remove", Path: name, Err: fs.ErrInvalid}
	}
	return os.Remove(filepath.Join(d.dir, filepath.FromSlash(name)))
}

// Remove takes a file out of the folder.
func (m *Memory) Remove(name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("remove", name); err != nil {
		return err
	}
	delete(m.files, name)
	return nil
}
