package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"hodaba/yard"
)

// A faulty system is the machine, on which one call goes wrong: it fails, or
// the power goes before or after it. After a power cut nothing more is done,
// and what was not synced may be gone.
type faulty struct {
	yard.System
	plan  fault
	calls []call
	dead  bool
	held  []func() error // locks, which the system gives back at the cut
	loose []loose
}

// A fault is what goes wrong with which call.
type fault struct {
	call  int  // counted from 0; -1 for none
	stops bool // the power goes; else the call fails
	after bool // the power goes when the call is done
	bytes int  // of a write: what is written all the same
	loses loss // what of the unsynced the cut takes
}

// loss is what a power cut takes of what was not synced.
type loss int

const (
	losesNothing loss = iota
	losesData
	losesAll // data, and names of new and replaced files
	losses
)

// A call is one that the program made.
type call struct {
	op, path string
	bytes    int // of a write
}

// loose is something that a power cut may undo.
type loose struct {
	data bool // of a file, else its name in a folder
	path string
	undo func()
}

var (
	errPlanted = errors.New("planted: the disk is out of order")
	errPower   = errors.New("planted: the power is gone")
)

// meet counts a call: it is made if do is true, and err is what it returns
// whether it was made or not.
func (s *faulty) meet(op, path string, bytes int) (do bool, err error) {
	if s.dead {
		return false, errPower
	}
	n := len(s.calls)
	s.calls = append(s.calls, call{op, path, bytes})
	if n != s.plan.call {
		return true, nil
	}
	if !s.plan.stops {
		return false, errPlanted
	}
	s.dead = true
	return s.plan.after, errPower
}

// act meets a call without a result of its own.
func (s *faulty) act(op, path string, real func() error) error {
	do, err := s.meet(op, path, 0)
	if do {
		err = errors.Join(err, real())
	}
	return err
}

func (s *faulty) loosen(data bool, path string, undo func()) {
	s.loose = append(s.loose, loose{data, path, undo})
}

// fasten notes that a file's data, or the names in a folder, are on the disk.
func (s *faulty) fasten(data bool, is func(path string) bool) {
	s.loose = slices.DeleteFunc(s.loose, func(l loose) bool { return l.data == data && is(l.path) })
}

// cut is the end of a power cut: what was loose is gone, as planned, and no
// one holds a lock.
func (s *faulty) cut() {
	for _, l := range slices.Backward(s.loose) {
		if s.dead && (s.plan.loses == losesAll || s.plan.loses == losesData && l.data) {
			l.undo()
		}
	}
	for _, unlock := range s.held {
		_ = unlock() // it may have been given back
	}
}

// putBackAs returns a function that makes a file again what it is now.
func putBackAs(path string) func() {
	b, err := os.ReadFile(path)
	return func() {
		if err != nil {
			os.Remove(path)
			return
		}
		if err := os.WriteFile(path, b, 0o644); err != nil && !errors.Is(err, fs.ErrNotExist) {
			panic(err) // the test's own disk is in order
		}
	}
}

func (s *faulty) Open(path string, flag int, mode fs.FileMode) (yard.SystemFile, error) {
	do, err := s.meet("open", path, 0)
	if !do {
		return nil, err
	}
	if _, missing := os.Stat(path); missing != nil && flag&os.O_CREATE != 0 {
		s.loosen(false, path, func() { os.Remove(path) })
	}
	f, realErr := s.System.Open(path, flag, mode)
	if realErr != nil {
		return nil, realErr
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return &faultyFile{f, s, path}, nil
}

func (s *faulty) MakeFolder(path string) error {
	return s.act("make folder", path, func() error {
		if _, missing := os.Stat(path); missing != nil {
			s.loosen(false, path, func() { os.RemoveAll(path) })
		}
		return s.System.MakeFolder(path)
	})
}

func (s *faulty) Remove(path string) error {
	return s.act("remove", path, func() error {
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
			s.loosen(false, path, putBackAs(path))
		} else {
			s.loosen(false, path, func() { _ = os.Mkdir(path, 0o755) }) // a folder, and empty
		}
		return s.System.Remove(path)
	})
}

// SyncFolder only notes it: no power is really cut.
func (s *faulty) SyncFolder(path string) error {
	return s.act("sync folder", path, func() error {
		s.fasten(false, func(p string) bool { return filepath.Dir(p) == path })
		return nil
	})
}

func (s *faulty) TryLock(path string) (func() error, bool, error) {
	do, err := s.meet("lock", path, 0)
	if !do {
		return nil, false, err
	}
	unlock, ok, realErr := s.System.TryLock(path)
	if !ok || realErr != nil {
		return nil, ok, realErr
	}
	s.held = append(s.held, unlock)
	if err != nil {
		return nil, false, err
	}
	return func() error { return s.act("unlock", path, unlock) }, true, nil
}

// Beside makes a plain file: the machine's own way syncs where it renames, and
// tens of thousands of faults would take hours.
func (s *faulty) Beside(path string) (yard.PendingFile, error) {
	do, err := s.meet("create beside", path, 0)
	if !do {
		return nil, err
	}
	f, realErr := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path))
	if realErr != nil {
		return nil, realErr
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return &faultyPending{faultyFile: faultyFile{f, s, path + faultBeside}, f: f, path: path}, nil
}

// faultBeside marks the path of a file that is to take another's place.
const faultBeside = " beside"

// faultyFile is a file of a faulty system.
type faultyFile struct {
	yard.SystemFile
	s    *faulty
	path string
}

func (f *faultyFile) Write(b []byte) (int, error) {
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	f.s.loosen(true, f.path, func() { _ = os.Truncate(f.path, info.Size()) }) // the file may have got another name
	nth, dead := len(f.s.calls), f.s.dead
	do, err := f.s.meet("write", f.path, len(b))
	if !do && (dead || nth != f.s.plan.call) {
		return 0, err
	}
	if !do {
		b = b[:min(f.s.plan.bytes, len(b))]
	}
	n, realErr := f.SystemFile.Write(b)
	return n, errors.Join(err, realErr)
}

func (f *faultyFile) Truncate(size int64) error {
	return f.s.act("truncate", f.path, func() error {
		f.s.loosen(true, f.path, putBackAs(f.path))
		return f.SystemFile.Truncate(size)
	})
}

func (f *faultyFile) Sync() error {
	return f.s.act("sync", f.path, func() error {
		f.s.fasten(true, func(p string) bool { return p == f.path })
		return nil
	})
}

func (f *faultyFile) Close() error {
	return errors.Join(f.s.act("close", f.path, func() error { return nil }), f.SystemFile.Close())
}

// faultyPending is a file that takes another's place on a faulty system.
type faultyPending struct {
	faultyFile
	f    *os.File
	path string
	done bool
}

func (p *faultyPending) Write(b []byte) (int, error) {
	p.s.loosen(true, p.faultyFile.path, func() {
		if p.done {
			_ = os.Truncate(p.path, 0) // renamed before its data were on the disk
		}
	})
	return p.faultyFile.Write(b)
}

func (p *faultyPending) Replace() error {
	return p.s.act("rename", p.path, func() error {
		p.s.loosen(false, p.path, putBackAs(p.path))
		if err := errors.Join(p.f.Close(), os.Rename(p.f.Name(), p.path)); err != nil {
			return err
		}
		p.done = true
		return nil
	})
}

func (p *faultyPending) Drop() error {
	return p.s.act("drop", p.path, func() error {
		if p.done {
			return nil
		}
		_ = p.f.Close() // it may be closed already
		return os.Remove(p.f.Name())
	})
}
