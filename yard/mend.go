package yard

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strings"
)

// Mend does to the folder what is safe, and says what it did: both sides of a
// journal that version control left marked are laid together if each is a row
// of whole entries; an entry that was cut short is set aside; zeros that a
// power cut left behind are cut off; a last line is ended; files left over
// from writing are removed; the daily copy and the memory of how the journal
// ended are made anew. Before it changes the journal it keeps a copy of it.
// Entries that vanished are left for PutBack, and with them everything that
// shows they were there. A second Mend finds nothing to do. FORMAT.md, Mending.
func (f *Folder) Mend(ctx context.Context, now Moment) (done []string, err error) {
	unlock, err := f.lock(ctx)
	if err != nil {
		return nil, undone("nothing was mended", err)
	}
	defer unlock()
	f.read = nil
	m := &mender{f: f, now: now}
	for _, step := range []func() error{m.marks, m.torn, m.zeros, m.newline, m.leftovers, m.memory} {
		if err := step(); err != nil {
			return m.done, err
		}
	}
	f.read = nil
	return m.done, nil
}

// mender mends a folder whose lock is held.
type mender struct {
	f    *Folder
	now  Moment
	kept string // the copy of the journal as it was
	done []string
}

func (m *mender) say(format string, args ...any) {
	m.done = append(m.done, fmt.Sprintf(format, args...))
}

// journal is the journal as it is now.
func (m *mender) journal() ([]byte, *journal, error) {
	b, err := readBounded(m.f.files, JournalFile, mostJournal)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, nil, fmt.Errorf("reading %s: %w", JournalFile, err)
	}
	terms := m.f.Terms()
	return b, readJournalAfter(b, &terms, m.f.last().Entry), notLines(b)
}

// keep copies the journal before it is changed for the first time.
func (m *mender) keep(b []byte) error {
	if m.kept != "" {
		return nil
	}
	name := m.f.freeName(ownFolder + "/journal-before-%s.toml")
	if err := m.f.files.Replace(name, b); err != nil {
		return fmt.Errorf("nothing was changed: keeping %s as %s: %w", JournalFile, name, err)
	}
	m.kept = name
	m.say("kept %s as it was in %s", JournalFile, name)
	return nil
}

// marks lays the two sides of a marked journal together.
func (m *mender) marks() error {
	b, err := readBounded(m.f.files, JournalFile, mostJournal)
	if err != nil || len(marksIn(b)) == 0 {
		return nil // what cannot be read is told by Check
	}
	terms := m.f.Terms()
	clean, taken, err := unmarked(b, &terms)
	if err != nil {
		return nil // Check says why, and what to do
	}
	if err := m.keep(b); err != nil {
		return err
	}
	if now, err := readBounded(m.f.files, JournalFile, mostJournal); err != nil || !bytes.Equal(now, b) { // an editor saved meanwhile
		return errors.Join(err, mistake{JournalFile + " is being changed by another program", "close it there and try again"})
	}
	if err := m.f.files.Replace(JournalFile, clean); err != nil {
		return fmt.Errorf("writing %s: %w", JournalFile, err)
	}
	m.say("laid both sides of %s together: entries taken from the second %d", JournalFile, len(taken))
	return nil
}

// torn sets an entry aside that was cut short.
func (m *mender) torn() error {
	b, j, err := m.journal()
	if err != nil || j.torn < 0 {
		return err
	}
	if err := m.keep(b); err != nil {
		return err
	}
	a := &appender{f: m.f, now: m.now}
	if err := a.moveTorn(b, j.torn); err != nil {
		return err
	}
	m.f.read = nil
	for _, p := range m.f.notTwice(a.problems) {
		m.say("%s: %s", p.Text, p.Remedy)
	}
	return nil
}

// zeros cuts off what a disk leaves behind a file when the power goes.
func (m *mender) zeros() error {
	b, _, err := m.journal()
	body := bytes.TrimRight(b, "\x00")
	if err != nil || len(body) == len(b) {
		return err
	}
	if err := m.keep(b); err != nil {
		return err
	}
	if err := m.f.files.Cut(JournalFile, int64(len(body)), int64(len(b))); err != nil {
		return fmt.Errorf("cutting %s: %w", JournalFile, err)
	}
	m.say("cut %d zero bytes off the end of %s", len(b)-len(body), JournalFile)
	return nil
}

// newline ends the last line.
func (m *mender) newline() error {
	b, _, err := m.journal()
	if err != nil || len(b) == 0 || b[len(b)-1] == '\n' {
		return err
	}
	if err := m.keep(b); err != nil {
		return err
	}
	if err := m.f.files.Append(JournalFile, []byte("\n"), int64(len(b))); err != nil {
		return fmt.Errorf("writing %s: %w", JournalFile, err)
	}
	m.say("ended the last line of %s", JournalFile)
	return nil
}

// leftover are names under which a file of ours is written aside before it
// takes its place: with a point before the name and digits behind it.
var leftover = regexp.MustCompile(`^\.(?:(?:yard|recipes|left-out|changed-by-hand|(?:journal|last)(?:-[a-z0-9-]+)?)\.toml|weather(?:-before-[0-9-]+)?\.csv|writers|archived|renameio-TempDir|new-)\d{4,20}$`)

// leftovers removes what a writing left behind that was cut off, if it is not
// of today: another program may be writing.
func (m *mender) leftovers() error {
	for _, dir := range []string{".", ownFolder} {
		list, err := fs.ReadDir(m.f.files, dir)
		if err != nil {
			continue // a folder that is not there has none
		}
		for _, e := range list {
			info, err := e.Info()
			if err != nil || !e.Type().IsRegular() || !leftover.MatchString(e.Name()) || MomentOf(info.ModTime()).Day() >= m.now.Day() {
				continue
			}
			name := strings.TrimPrefix(dir+"/"+e.Name(), "./")
			if err := m.f.files.Remove(name); err != nil {
				return fmt.Errorf("removing %s, which is left over from writing: %w", name, err)
			}
			m.say("removed %s, left over from writing", name)
		}
	}
	return nil
}

// memory makes the daily copy and lastFile anew where they are missing or do
// not fit the journal, unless an entry vanished: then they are what is left
// of it.
func (m *mender) memory() error {
	b, j, err := m.journal()
	if err != nil {
		return err
	}
	m.f.read = nil
	missing, err := m.f.Missing()
	if err != nil || len(j.entries) == 0 || len(missing) > 0 || len(marksIn(b)) > 0 {
		return err
	}
	a := &appender{f: m.f, now: m.now}
	if p, odd := m.f.inTheWay(m.f.lastName()); odd {
		return mistake{p.File + ": " + p.Text, p.Remedy}
	}
	was, _ := readBounded(m.f.files, m.f.lastName(), mostSettings)
	a.last = m.f.last()
	size, tail, err := m.f.tail(JournalFile, a.last.Length)
	if err != nil {
		return fmt.Errorf("reading the end of %s: %w", JournalFile, err)
	}
	if a.last.Digest == "" || size != a.last.Size || digest(tail) != a.last.Digest {
		if err := a.rebuild(b, j); err != nil {
			return err
		}
		m.say("made the memory of how %s ends anew (%s)", JournalFile, m.f.lastName())
	}
	if err := m.copy(a, b); err != nil {
		return err
	}
	if now := a.last.text(); now != string(was) {
		if err := m.f.files.Replace(m.f.lastName(), []byte(now)); err != nil {
			return fmt.Errorf("writing %s: %w", m.f.lastName(), err)
		}
	}
	return nil
}

// endRemembered is how many bytes of the end of a journal are remembered that
// was not written to.
const endRemembered = 4096

// rebuild finds out how the journal ends.
func (a *appender) rebuild(b []byte, j *journal) error {
	if a.last.Numbers == nil {
		a.last.Numbers = map[string]int{}
	}
	if err := a.readThrough(); err != nil {
		return err
	}
	n := min(len(b), endRemembered)
	a.last.Size, a.last.Length, a.last.Digest = int64(len(b)), int64(n), digest(b[len(b)-n:])
	a.last.Entry = ""
	for _, e := range j.entries {
		if e.Written != "" && e.signature() == e.ID {
			a.last.Entry = e.ID
		}
	}
	return nil
}

// copy makes the daily copy anew if it is missing, or not as it was left. One of a week ago that has
// entries which the journal has not is not written over.
func (m *mender) copy(a *appender, b []byte) error {
	if m.f.copyAsLeft(a.last) {
		return nil
	}
	name := m.f.copyName(m.now.Day())
	if p, odd := m.f.inTheWay(name); odd {
		return mistake{p.File + ": " + p.Text, p.Remedy}
	}
	if old, err := readBounded(m.f.files, name, mostJournal); err == nil && !bytes.Equal(old, b) {
		terms := m.f.Terms()
		if t := lay(readJournalAfter(b, &terms, m.f.last().Entry), readJournal(old, &terms), name); len(t.Taken) > 0 {
			a.last.Copied = ""
			return nil
		}
	}
	if err := a.putCopy(name, b); err != nil {
		return fmt.Errorf("writing %s: %w", name, err)
	}
	a.last.Copied = m.now.Day().String()
	m.say("made the daily copy %s anew", name)
	return nil
}
