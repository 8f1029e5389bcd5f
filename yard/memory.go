package yard

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
	"sync"
	"time"
)

// Memory is a yard folder in memory, for tests and demonstrations. Fault, if
// set, is asked before every change and every lock; its error is returned,
// and of an Append the first Torn bytes are written all the same.
type Memory struct {
	mu    sync.Mutex
	files map[string][]byte
	lock  chan struct{}

	Fault func(op, name string) error
	Torn  int
}

// InMemory is a folder with these files.
func InMemory(files map[string]string) *Memory {
	m := &Memory{files: map[string][]byte{}, lock: make(chan struct{}, 1)}
	for name, text := range files {
		m.files[name] = []byte(text)
	}
	return m
}

// Open opens a file for reading.
func (m *Memory) Open(name string) (fs.File, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("open", name); err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	b, ok := m.files[name]
	if !ok {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memoryFile{bytes.NewReader(b), memoryInfo{path.Base(name), int64(len(b)), false}}, nil
}

// ReadDir lists a folder: what stands in front of the first slash counts as a
// folder of its own.
func (m *Memory) ReadDir(dir string) ([]fs.DirEntry, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	found := map[string]memoryInfo{}
	for name, b := range m.files {
		rest := name
		if dir != "." {
			inside, ok := strings.CutPrefix(name, dir+"/")
			if !ok {
				continue
			}
			rest = inside
		}
		first, _, deeper := strings.Cut(rest, "/")
		found[first] = memoryInfo{first, int64(len(b)), deeper}
	}
	if len(found) == 0 && dir != "." {
		return nil, &fs.PathError{Op: "open", Path: dir, Err: fs.ErrNotExist}
	}
	var out []fs.DirEntry
	for _, name := range slices.Sorted(maps.Keys(found)) {
		out = append(out, fs.FileInfoToDirEntry(found[name]))
	}
	return out, nil
}

// memoryFile is a file opened for reading.
type memoryFile struct {
	*bytes.Reader
	info memoryInfo
}

func (f *memoryFile) Stat() (fs.FileInfo, error) { return f.info, nil }
func (f *memoryFile) Close() error               { return nil }

// memoryInfo describes a file or a folder in memory.
type memoryInfo struct {
	name string
	size int64
	dir  bool
}

func (i memoryInfo) Name() string       { return i.name }
func (i memoryInfo) Size() int64        { return i.size }
func (i memoryInfo) ModTime() time.Time { return time.Time{} }
func (i memoryInfo) IsDir() bool        { return i.dir }
func (i memoryInfo) Sys() any           { return nil }

func (i memoryInfo) Mode() fs.FileMode {
	if i.dir {
		return fs.ModeDir | 0o755
	}
	return 0o644
}

// Text is the content of a file, or "".
func (m *Memory) Text(name string) string {
	m.mu.Lock()
	defer m.mu.Unlock()
	return string(m.files[name])
}

func (m *Memory) fault(op, name string) error {
	if m.Fault == nil {
		return nil
	}
	return m.Fault(op, name)
}

// Append is that of Files. Whoever reads the file meanwhile keeps the part that
// was there.
func (m *Memory) Append(name string, b []byte, after int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	old := m.files[name]
	if int64(len(old)) != after {
		return fmt.Errorf("%s: %w", name, ErrChanged)
	}
	if err := m.fault("append", name); err != nil {
		m.files[name] = slices.Concat(old, b[:min(m.Torn, len(b))])
		return err
	}
	m.files[name] = append(old, b...)
	return nil
}

// Replace is that of Files.
func (m *Memory) Replace(name string, b []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("replace", name); err != nil {
		return err
	}
	m.files[name] = slices.Clone(b)
	return nil
}

// Cut is that of Files.
func (m *Memory) Cut(name string, after, size int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	old := m.files[name]
	if int64(len(old)) != size || after > size {
		return fmt.Errorf("%s: %w", name, ErrChanged)
	}
	if err := m.fault("cut", name); err != nil {
		return err
	}
	m.files[name] = slices.Clone(old[:after])
	return nil
}

// Remove is that of Files.
func (m *Memory) Remove(name string) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("remove", name); err != nil {
		return err
	}
	delete(m.files, name)
	return nil
}

// Lock is that of Files.
func (m *Memory) Lock(ctx context.Context) (func() error, error) {
	if err := m.fault("lock", lockFile); err != nil {
		return nil, err
	}
	select {
	case m.lock <- struct{}{}:
		return func() error { <-m.lock; return nil }, nil
	case <-ctx.Done():
		return nil, busy("", ctx.Err())
	}
}
