package yard

import (
	"context"
	"errors"
	"io/fs"
)

// Files is the yard folder as this package sees it. It is the only way to the
// disk, so that every fault can be planted in tests; what each call promises
// stands in FORMAT.md, Order of writes.
type Files interface {
	fs.FS
	// Append writes b behind the file's first after bytes in one write and
	// brings it to the disk. It returns ErrChanged if the file does not end
	// there, or if someone else put another file in its place meanwhile. An
	// error leaves the file as it was, if the disk allows. A file that is
	// missing is created where after is 0.
	Append(name string, b []byte, after int64) error
	// Replace puts b in the place of a whole file, in one step, and keeps
	// its permissions. Folders on the way are created.
	Replace(name string, b []byte) error
	// Cut drops what stands in a file of this size behind its first after
	// bytes. It returns ErrChanged, and drops nothing, where the file has
	// another size.
	Cut(name string, after, size int64) error
	// Remove takes a file out of the folder, or a folder in it that is empty.
	Remove(name string) error
	// Lock waits until no one else writes to the folder, or until ctx ends.
	// What was written stands, whatever unlock returns.
	Lock(ctx context.Context) (unlock func() error, err error)
}

// ErrChanged says that a file does not end where it was last seen to end.
var ErrChanged = errors.New("the file was changed by someone else in the meantime")
