package yard

import (
	"context"
	"errors"
	"io/fs"
)

// Files is the yard folder as this package sees it. It is the only way to the
// disk, so that every fault can be planted in tests.
type Files interface {
	fs.FS
	// Append writes b behind the file's first after bytes in one write and
	// brings it to the disk. It returns ErrChanged, and writes nothing, if
	// the file does not end there. A write that fails leaves the file as it
	// was, if the disk allows. A file that is missing is created.
	Append(name string, b []byte, after int64) error
	// Replace puts b in the place of a whole file, in one step, and keeps
	// its permissions. Folders on the way are created.
	Replace(name string, b []byte) error
	// Cut drops what stands in a file behind its first after bytes.
	Cut(name string, after int64) error
	// Lock waits until no one else writes to the folder, or until ctx ends.
	Lock(ctx context.Context) (unlock func() error, err error)
}

// ErrChanged says that a file does not end where it was last seen to end.
var ErrChanged = errors.New("the file was changed by someone else in the meantime")
