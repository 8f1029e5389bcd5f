package yard

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// lockFile holds the lock of a yard; it stays when the lock is given back. In
// it stands who had the lock last.
const lockFile = ownFolder + "/lock"

// nextFile is the lock of the one who waits for the lock next. Whoever wants
// the lock takes this first, so that a program that records without a pause
// does not keep all others waiting.
const nextFile = ownFolder + "/lock-next"

// lockRetry is the pause between two tries to get a lock.
const lockRetry = 5 * time.Millisecond

// disk is a folder on a real disk.
type disk struct {
	fs.FS
	dir string
	sys System
}

// OnDisk is the folder at dir.
func OnDisk(dir string) Files { return diskAt(dir) }

func diskAt(dir string) disk { return disk{under.FS(dir), dir, under} }

// path is a file's place on the disk.
func (d disk) path(name string) string {
	return followed(filepath.Join(d.dir, filepath.FromSlash(name)))
}

// Stat looks at a file without opening it: a pipe would be waited for. A link
// to a folder that is not there is no file that is missing.
func (d disk) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(d.FS, name)
	if errors.Is(err, fs.ErrNotExist) {
		if nowhere := d.leadsNowhere(name); nowhere != nil {
			return nil, nowhere
		}
	}
	return info, err
}

// leadsNowhere points at a link to a file in a folder that is not there: the
// disk may be missing on which it lies.
func (d disk) leadsNowhere(name string) error {
	path := filepath.Join(d.dir, filepath.FromSlash(name))
	info, err := os.Lstat(path)
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return nil
	}
	to := followed(path)
	if _, err := os.Stat(filepath.Dir(to)); err == nil {
		return nil
	}
	return mistake{fmt.Sprintf("it is a link to %s, and that folder is not there", to),
		"is the disk there on which it lies? Else put the file itself in the place of the link"}
}

// Append is that of Files: FORMAT.md, Appending.
func (d disk) Append(name string, b []byte, after int64) error {
	path, flag := d.path(name), os.O_RDWR|os.O_APPEND
	if after == 0 {
		flag |= os.O_CREATE
	}
	f, err := d.sys.Open(path, flag, 0o644)
	if errors.Is(err, fs.ErrNotExist) && after > 0 {
		return fmt.Errorf("%s: %w", path, ErrChanged)
	}
	if err != nil {
		return err
	}
	defer f.Close() // after the sync there is nothing that closing could lose
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() != after {
		return fmt.Errorf("%s: %w", path, ErrChanged)
	}
	if err := d.bring(f, b, filepath.Dir(path), after == 0); err != nil {
		return errors.Join(err, d.takeBack(path, info, b, after))
	}
	if !landed(path, info, b, after) {
		return fmt.Errorf("%s: %w", path, ErrChanged)
	}
	return nil
}

// bring writes b and waits until it is on the disk, and the file's name, too,
// where it is new.
func (d disk) bring(f SystemFile, b []byte, dir string, fresh bool) error {
	if _, err := f.Write(b); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if fresh {
		return d.sys.SyncFolder(dir)
	}
	return nil
}

// takeBack takes back what a write of b that failed may have left in the file
// that was at path. The file is opened once more, as Windows cuts none that was
// opened to append. Where locks fail, another program may have written behind
// it meanwhile: that is never cut.
func (d disk) takeBack(path string, was fs.FileInfo, b []byte, after int64) error {
	f, err := d.sys.Open(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close() // after the sync there is nothing that closing could lose
	is, err := f.Stat()
	if err != nil {
		return err
	}
	left := is.Size() - after
	if !os.SameFile(was, is) || left <= 0 {
		return nil
	}
	got := make([]byte, min(left, int64(len(b))+1))
	if _, err := f.ReadAt(got, after); err != nil && err != io.EOF {
		return err
	}
	if !strings.HasPrefix(string(b), string(got)) {
		return mistake{"another program wrote behind what was written, so that it stays", "look with hodaba verify"}
	}
	return cutBack(f, after)
}

// cutBack makes a file end there, on the disk too.
func cutBack(f SystemFile, after int64) error {
	if err := f.Truncate(after); err != nil {
		return err
	}
	return f.Sync()
}

// landed reports whether what was written stands in the file that lies at
// path now: an editor may have put another one there between the look at its
// end and the write.
func landed(path string, was fs.FileInfo, b []byte, after int64) bool {
	is, err := os.Stat(path)
	if err != nil {
		return false
	}
	if os.SameFile(was, is) && is.Size() == after+int64(len(b)) {
		return true
	}
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	got := make([]byte, len(b))
	// The editor may also have saved a longer text in its place: then it stands
	// behind that.
	for _, at := range []int64{after, is.Size() - int64(len(b))} {
		if at < 0 {
			continue
		}
		if _, err = f.ReadAt(got, at); (err == nil || err == io.EOF) && string(got) == string(b) {
			return true
		}
	}
	return false
}

// Cut is that of Files.
func (d disk) Cut(name string, after, size int64) error {
	f, err := d.sys.Open(d.path(name), os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if info.Size() != size || after > size {
		return fmt.Errorf("%s: %w", d.path(name), ErrChanged)
	}
	return cutBack(f, after)
}

// Replace is that of Files: FORMAT.md, Replacing.
func (d disk) Replace(name string, b []byte) error {
	path := d.path(name)
	if err := d.elsewhere(name); err != nil {
		return err
	}
	if err := d.makeFolders(filepath.Dir(path)); err != nil {
		return err
	}
	f, err := d.sys.Beside(path)
	if err != nil {
		return err
	}
	if _, err = f.Write(b); err == nil {
		err = f.Sync()
	}
	if err == nil {
		err = f.Replace()
	}
	if err != nil {
		return errors.Join(err, f.Drop())
	}
	return d.sys.SyncFolder(filepath.Dir(path))
}

// elsewhere refuses to put a file in the place of what is none, where a link
// leads to it: it belongs to someone else.
func (d disk) elsewhere(name string) error {
	link := filepath.Join(d.dir, filepath.FromSlash(name))
	if info, err := os.Lstat(link); err != nil || info.Mode()&fs.ModeSymlink == 0 {
		return nil
	}
	info, err := os.Stat(link)
	if err != nil || info.Mode().IsRegular() {
		return nil
	}
	text, _ := parts(plainFile(info))
	return mistake{fmt.Sprintf("%s is a link, and where it leads %s", name, text), "delete the link"}
}

// makeFolders makes a folder and those above it. A new folder's name is
// brought to the disk before anything is written into it: what is in it would
// be lost with the name.
func (d disk) makeFolders(dir string) error {
	if info, err := os.Stat(dir); err == nil {
		if info.IsDir() {
			return nil
		}
		return mistake{dir + " is a file, not a folder", "delete or rename it: the program makes the folder anew"}
	}
	parent := filepath.Dir(dir)
	if parent != dir {
		if err := d.makeFolders(parent); err != nil {
			return err
		}
	}
	if err := d.sys.MakeFolder(dir); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	return d.sys.SyncFolder(parent)
}

// Remove is that of Files. A link goes, and not where it leads.
func (d disk) Remove(name string) error {
	if !fs.ValidPath(name) {
		return &fs.PathError{Op: "remove", Path: name, Err: fs.ErrInvalid}
	}
	return d.sys.Remove(filepath.Join(d.dir, filepath.FromSlash(name)))
}

// Lock is that of Files: FORMAT.md, The lock.
func (d disk) Lock(ctx context.Context) (func() error, error) {
	path := d.path(lockFile)
	if err := d.makeFolders(filepath.Dir(path)); err != nil {
		return nil, fmt.Errorf("making the folder of the lock: %w", err)
	}
	stepBack, err := d.wait(ctx, d.path(nextFile), path)
	if err != nil {
		return nil, err
	}
	unlock, err := d.wait(ctx, path, path)
	_ = stepBack() // it ends with the program
	if err != nil {
		return nil, err
	}
	d.sign(path)
	return unlock, nil
}

// wait tries to get a lock until ctx ends; at signed stands who has the yard.
func (d disk) wait(ctx context.Context, path, signed string) (unlock func() error, err error) {
	for {
		unlock, ok, err := d.sys.TryLock(path)
		switch {
		case errors.As(err, &mistake{}):
			return nil, err
		case err != nil:
			return nil, cannotLock(path, err)
		case ok:
			return unlock, nil
		}
		select {
		case <-ctx.Done():
			return nil, busy(holder(signed), ctx.Err())
		case <-time.After(lockRetry):
		}
	}
}

// sign writes into the lock who has it, for the message of those who wait. It
// does not matter if that fails.
func (d disk) sign(path string) {
	f, err := d.sys.Open(path, os.O_WRONLY|os.O_TRUNC, 0)
	if err != nil {
		return
	}
	defer f.Close()
	host, err := os.Hostname()
	if err != nil {
		host = "a computer without a name"
	}
	fmt.Fprintf(f, "process %d on %s\n", os.Getpid(), host)
}

// longestSign bounds what is read of a lock.
const longestSign = 200

// holder is who has a lock, as it says in it.
func holder(path string) string {
	if info, err := os.Stat(path); err != nil || plainFile(info) != nil {
		return ""
	}
	f, err := os.Open(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	b, err := io.ReadAll(io.LimitReader(f, longestSign))
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(b))
}

// busy says that someone else is writing, and who.
func busy(who string, err error) error {
	if who != "" {
		who = " (" + who + ")"
	}
	return waited{fmt.Sprintf("another program%s is writing to this yard: wait a moment and try again; if that program hangs, end it, and the lock goes with it", who), err}
}

// waited is an error of waiting in vain; why the waiting ended can be asked
// for, and is nothing that a grower needs to read.
type waited struct {
	text string
	why  error
}

func (w waited) Error() string { return w.text }
func (w waited) Unwrap() error { return w.why }

// cannotLock says how to go on where a folder cannot be locked at all.
func cannotLock(path string, err error) error {
	if errors.Is(err, fs.ErrPermission) || readOnly(err) {
		return fmt.Errorf("locking %s: %w", path, err)
	}
	return fmt.Errorf("the folder cannot be locked (%s: %w), so two programs could write over each other; it may lie on a network share: move it to a disk of this computer, and copy it back to the share when you are done", path, err)
}
