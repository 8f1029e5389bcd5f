package yard

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"regexp"
	"strings"
	"syscall"
	"time"

	"hodaba/data"
)

// lockTime is how long Record waits for another program to finish.
const lockTime = 5 * time.Second

// mostNumber is the highest number of an identifier that is counted on from: a
// yard never comes near, and what lies beyond was not given by the program. It
// is our judgement.
const mostNumber = 1_000_000_000

var writerForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,23}$`)

// IsWriter reports whether a word can begin identifiers, as kitchen does
// kitchen-118.
func IsWriter(word string) bool { return writerForm.MatchString(word) }

// Record appends one entry, as Compose writes it, to the journal, and returns
// its identifier. It costs the same however long the journal is, and a wrong
// older line never stops it. The problems are oddities worth a look, such as
// a pile that is not known; the entry is written all the same. An error means
// that nothing was written, and says why.
func (f *Folder) Record(text, writer string, now Moment) (id string, problems []Problem, err error) {
	ids, problems, err := f.RecordAll(context.Background(), []string{text}, writer, now)
	if err != nil {
		return "", problems, err
	}
	return ids[0], problems, nil
}

// RecordAll appends several entries in one write. It waits for other writers
// until ctx ends, and no longer than some seconds. An error means that none of
// them was written; only where the power goes in the middle, the first of them
// may be there without the others.
func (f *Folder) RecordAll(ctx context.Context, texts []string, writer string, now Moment) (ids []string, problems []Problem, err error) {
	return f.RecordStill(ctx, texts, writer, now, nil)
}

// RecordStill is RecordAll for entries that rest on what the journal says, such
// as a correction. Where it is not what f read any more once no other program
// can write, still is asked: it looks at the journal anew and returns what is
// still to be recorded, or why nothing is.
func (f *Folder) RecordStill(ctx context.Context, texts []string, writer string, now Moment, still func() ([]string, error)) (ids []string, problems []Problem, err error) {
	if !writerForm.MatchString(writer) {
		return nil, nil, mistake{shown(writer) + " cannot name a writer", `use small letters, digits and dashes, such as "kitchen"`}
	}
	if now.Day() == 0 {
		return nil, nil, mistake{shown(string(now)) + " is no date and time", "write it as 2026-04-12T18:02:00"}
	}
	entries, problems, err := f.readable(texts)
	if err != nil || len(texts) == 0 {
		return nil, problems, err
	}
	unlock, err := f.lock(ctx)
	if err != nil {
		return nil, problems, notRecorded(err)
	}
	defer unlock()
	if still != nil && f.movedOn() {
		f.read = nil
		if texts, err = still(); err != nil || len(texts) == 0 {
			return nil, nil, err
		}
		if entries, problems, err = f.readable(texts); err != nil {
			return nil, problems, err
		}
	}
	a := &appender{f: f, writer: writer, now: now}
	ids, err = a.append(texts, entries)
	if err != nil {
		return nil, problems, notRecorded(err)
	}
	f.read = nil
	return ids, append(problems, f.notTwice(a.problems)...), nil
}

// movedOn reports whether the journal is not what f read any more.
func (f *Folder) movedOn() bool {
	b, err := f.bytesOf(JournalFile)
	return f.read == nil || err != nil || digest(b) != f.readOf
}

// lock waits for other writers, but not for ever. What is recorded while it is
// held stays so, whether giving it back fails or not: the lock ends with the
// program.
func (f *Folder) lock(ctx context.Context) (unlock func(), err error) {
	ctx, cancel := context.WithTimeout(ctx, lockTime)
	defer cancel()
	u, err := f.files.Lock(ctx)
	if err != nil {
		return nil, err
	}
	return func() { _ = u() }, nil
}

// notRecorded says how to go on after an error of the disk.
func notRecorded(err error) error { return undone("nothing was recorded", err) }

func undone(what string, err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: %w: look whether you may write in the folder", what, err)
	case readOnly(err):
		return fmt.Errorf("%s: %w: the disk may only be read; copy the folder to one that may be written to", what, err)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("%s: %w: make room on the disk and try again", what, err)
	}
	return fmt.Errorf("%s: %w", what, err)
}

// readable makes sure that every text is one entry that can be read.
func (f *Folder) readable(texts []string) (entries []*Entry, problems []Problem, err error) {
	terms := f.Terms()
	for _, text := range texts {
		if err := fitsEntry(text); err != nil {
			return nil, problems, notRecorded(err)
		}
		got, odd := readText(text, &terms)
		problems = append(problems, odd...)
		worst, any := Worst(odd)
		if any && worst > Odd {
			return nil, problems, mistake{"nothing was recorded: " + odd[0].Text, odd[0].Remedy}
		}
		if len(got) != 1 || got[0].Event == nil || got[0].Written != "" || !validText(text) || hasEntry.MatchString(text) {
			return nil, problems, mistake{"nothing was recorded: the text is not one entry without `written` and `entry`", "use Compose"}
		}
		entries = append(entries, got[0])
	}
	return entries, problems, nil
}

// appender writes to the end of a journal whose lock is held: FORMAT.md,
// Appending.
type appender struct {
	f        *Folder
	writer   string
	now      Moment
	last     last
	size     int64
	copied   bool // today's copy is as it was left
	missing  []Missed
	problems []Problem
}

// append writes the block and remembers how the journal ends now.
func (a *appender) append(texts []string, entries []*Entry) ([]string, error) {
	if err := a.lookAtEnd(); err != nil {
		return nil, err
	}
	a.askAbout(entries)
	a.copyDaily()
	block, ids := a.block(texts)
	if err := a.write(block); err != nil {
		return nil, err
	}
	a.remember(block, ids, entries)
	return ids, nil
}

// write appends a block to the journal: from then on it is recorded.
func (a *appender) write(block []byte) error {
	err := a.f.files.Append(JournalFile, block, a.size)
	switch {
	case errors.Is(err, ErrChanged):
		return mistake{JournalFile + " is being changed by another program", "close it there and try again"}
	case err != nil:
		return fmt.Errorf("writing %s: %w", JournalFile, err)
	}
	return nil
}

func exists(files fs.FS, name string) bool {
	_, err := fs.Stat(files, name)
	return err == nil
}

// askAbout points at piles that no entry has begun.
func (a *appender) askAbout(entries []*Entry) {
	known := map[string]bool{}
	for _, n := range a.last.Names {
		known[folded(n)] = true
	}
	for _, e := range entries {
		n, ok := e.effectiveNamer()
		if !ok {
			continue
		}
		for _, b := range addNames(nil, e) {
			known[folded(b)] = true
		}
		piles, _ := n.names()
		for _, p := range piles {
			if known[folded(p)] {
				continue
			}
			remedy := "record it with inoculated, arrived, buried, or counted with its species"
			if near, ok := data.Nearest(p, a.last.Names); ok {
				remedy = fmt.Sprintf("did you mean %s? Then correct the entry", near)
			}
			a.problems = append(a.problems, Problem{Grade: Odd, Text: "no pile or bed is called " + shown(p) + " so far", Remedy: remedy})
		}
	}
}

func (e *Entry) effectiveNamer() (namer, bool) {
	x := e.effective()
	if x == nil {
		return nil, false
	}
	n, ok := x.Event.(namer)
	return n, ok
}

// block is what is appended: the entries with `written` first and `entry`
// last, each after a newline, which also ends a last line that has none
// (FORMAT.md, Entries of the program).
func (a *appender) block(texts []string) (block []byte, ids []string) {
	var b bytes.Buffer
	if n := a.last.Numbers[a.writer]; n < 0 || n > mostNumber {
		a.f.read = nil
		a.last.Numbers[a.writer] = 0 // somebody wrote it into the memory: the journal tells
		for _, e := range a.f.journal().entries {
			a.last.number(e.ID)
		}
	}
	for _, text := range texts {
		a.last.Numbers[a.writer]++
		id := fmt.Sprintf("%s-%d", a.writer, a.last.Numbers[a.writer])
		ids = append(ids, id)
		b.WriteByte('\n')
		b.WriteString(signed(text, a.now, id))
	}
	return b.Bytes(), ids
}

// signed puts `written` behind the header of an entry and `entry` at its end,
// in the column of its equals signs.
func signed(text string, now Moment, id string) string {
	head, body, _ := strings.Cut(strings.TrimSpace(text), "\n")
	width := len("written")
	if first, _, ok := strings.Cut(body, "="); ok && !strings.ContainsAny(first, "\n#") {
		width = max(width, len(first)-1)
	}
	body = strings.TrimRight(body, "\n")
	if body != "" {
		body += "\n"
	}
	return fmt.Sprintf("%s\n%-*s = %s\n%s%-*s = %s\n", head, width, "written", now, body, width, "entry", quote(id))
}
