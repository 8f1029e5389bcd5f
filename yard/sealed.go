package yard

import (
	"context"
	"fmt"
	"io/fs"
	"strings"
)

// sealed is a folder of a format that this program does not know yet: it is
// read as far as it can be, and never written to (FORMAT.md, The format
// number).
type sealed struct {
	fs.FS
	why Problem
}

func (s sealed) err() error { return mistake{s.why.Text, s.why.Remedy} }

// Later reports whether the folder is of a format that this program does not
// know yet: it may be read, and every write fails.
func (f *Folder) Later() bool {
	_, is := f.files.(sealed)
	return is
}

// IsLater reports whether a problem says that of a folder: it stops nobody
// from reading.
func IsLater(p Problem) bool {
	return p.File == YardFile && p.Grade == Broken && strings.HasPrefix(p.Text, laterBegins)
}

const laterBegins = "this yard is of format "

func laterWords(format int) string {
	return fmt.Sprintf(laterBegins+"%d, and this program knows format %d", format, thisFormat)
}

// Stat looks at a file without opening it.
func (s sealed) Stat(name string) (fs.FileInfo, error) { return fs.Stat(s.FS, name) }

// Append is that of Files.
func (s sealed) Append(string, []byte, int64) error { return s.err() }

// Replace is that of Files.
func (s sealed) Replace(string, []byte) error { return s.err() }

// Cut is that of Files.
func (s sealed) Cut(string, int64, int64) error { return s.err() }

// Remove is that of Files.
func (s sealed) Remove(string) error { return s.err() }

// Lock is that of Files.
func (s sealed) Lock(context.Context) (func() error, error) { return nil, s.err() }
