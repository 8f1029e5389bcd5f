package yard

import (
	"context"
	"fmt"
	"io/fs"
	"sync"
	"testing/fstest"
)

// Memory is a yard folder in memory, for tests and demonstrations. Fault, if
// set, is asked before every change and every lock; its error is returned,
// and of an Append the first Torn bytes are written all the same.
type Memory struct {
	mu    sync.Mutex
	files fstest.MapFS
	lock  chan struct{}

	Fault func(op, name string) error
	Torn  int
}

// InMemory is a folder with these files.
func InMemory(files map[string]string) *Memory {
	m := &Memory{files: fstest.MapFS{}, lock: make(chan struct{}, 1)}
	for name, text := range files {
		m.files[name] = &fstest.MapFile{Data: []byte(text), Mode: 0o644}
	}
	return m
}

// Open opens a file for reading.
func (m *Memory) Open(name string) (fs.File, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.Fault != nil {
		if err := m.Fault("open", name); err != nil {
			return nil, &fs.PathError{Op: "open", Path: name, Err: err}
		}
	}
	return m.files.Open(name)
}

// Text is the content of a file, or "".
func (m *Memory) Text(name string) string {
	m.mu.Lock()
	defer m.mu.Unlock()
	if f := m.files[name]; f != nil {
		return string(f.Data)
	}
	return ""
}

func (m *Memory) fault(op, name string) error {
	if m.Fault == nil {
		return nil
	}
	return m.Fault(op, name)
}

func (m *Memory) data(name string) []byte {
	if f := m.files[name]; f != nil {
		return f.Data
	}
	return nil
}

func (m *Memory) put(name string, b []byte) {
	m.files[name] = &fstest.MapFile{Data: b, Mode: 0o644}
}

// Append is that of Files.
func (m *Memory) Append(name string, b []byte, after int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	old := m.data(name)
	if int64(len(old)) != after {
		return fmt.Errorf("%s: %w", name, ErrChanged)
	}
	if err := m.fault("append", name); err != nil {
		m.put(name, append(old[:len(old):len(old)], b[:min(m.Torn, len(b))]...))
		return err
	}
	m.put(name, append(old, b...))
	return nil
}

// Replace is that of Files.
func (m *Memory) Replace(name string, b []byte) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("replace", name); err != nil {
		return err
	}
	m.put(name, append([]byte(nil), b...))
	return nil
}

// Cut is that of Files.
func (m *Memory) Cut(name string, after int64) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if err := m.fault("cut", name); err != nil {
		return err
	}
	old := m.data(name)
	m.put(name, append([]byte(nil), old[:min(after, int64(len(old)))]...))
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
		return nil, fmt.Errorf("another program is writing to this yard: wait a moment and try again: %w", ctx.Err())
	}
}
