package yard

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// lockFile holds the lock of a yard; it stays when the lock is given back.
const lockFile = ownFolder + "/lock"

// lockRetry is the pause between two tries to get the lock.
const lockRetry = 50 * time.Millisecond

// disk is a folder on a real disk.
type disk struct {
	fs.FS
	dir string
}

// OnDisk is the folder at dir.
func OnDisk(dir string) Files { return disk{os.DirFS(dir), dir} }

// path is a file's place on the disk. Links are followed, so that a file that
// lies elsewhere is changed there and the link stays.
func (d disk) path(name string) string {
	p := filepath.Join(d.dir, filepath.FromSlash(name))
	if real, err := filepath.EvalSymlinks(p); err == nil {
		return real
	}
	return p
}

func (d disk) Append(name string, b []byte, after int64) (err error) {
	path := d.path(name)
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND|os.O_CREATE, 0o644)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, f.Close()) }()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() != after {
		return fmt.Errorf("%s: %w", path, ErrChanged)
	}
	if _, err = f.Write(b); err == nil {
		err = f.Sync()
	}
	if err != nil {
		return errors.Join(err, f.Truncate(after))
	}
	if after == 0 {
		return syncFolder(filepath.Dir(path))
	}
	return nil
}

func (d disk) Cut(name string, after int64) error {
	f, err := os.OpenFile(d.path(name), os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	if err = f.Truncate(after); err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func (d disk) Replace(name string, b []byte) error {
	path := d.path(name)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	mode := fs.FileMode(0o644)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	if err := replaceFile(path, b, mode); err != nil {
		return err
	}
	return syncFolder(filepath.Dir(path))
}

func (d disk) Lock(ctx context.Context) (func() error, error) {
	path := d.path(lockFile)
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return nil, err
	}
	l := flock.New(path)
	ok, err := l.TryLockContext(ctx, lockRetry)
	if err != nil || !ok {
		if ctx.Err() != nil {
			return nil, fmt.Errorf("another program is writing to this yard (%s): wait a moment and try again: %w", path, ctx.Err())
		}
		return nil, fmt.Errorf("locking %s: %w", path, err)
	}
	return l.Unlock, nil
}
