package yard

import (
	"bytes"
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/BurntSushi/toml"

	"hodaba/data"
)

// lockTime is how long Record waits for another program to finish.
const lockTime = 5 * time.Second

// lastFile remembers how the journal ended, so that an append need not read
// it. It may be thrown away: it is then made anew from the journal.
const lastFile = ownFolder + "/last.toml"

// last is what lastFile holds.
type last struct {
	Size    int64          `toml:"size"`    // of the journal
	Length  int64          `toml:"length"`  // of what was written last
	Digest  string         `toml:"digest"`  // of what was written last
	Entry   string         `toml:"entry"`   // its identifier
	Copied  string         `toml:"copied"`  // day of the last daily copy
	Numbers map[string]int `toml:"numbers"` // highest number by writer
	Names   []string       `toml:"names"`   // of piles and beds, and their codes
}

var writerForm = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{0,23}$`)

// Record appends one entry, as Compose writes it, to the journal, and returns
// its identifier. It costs the same however long the journal is, and a wrong
// older line never stops it. The problems are oddities worth a look, such as
// a pile that is not known; the entry is written all the same. An error means
// that nothing was written, and says why.
func (f *Folder) Record(text, writer string, now Moment) (id string, problems []Problem, err error) {
	ctx, cancel := context.WithTimeout(context.Background(), lockTime)
	defer cancel()
	ids, problems, err := f.RecordAll(ctx, []string{text}, writer, now)
	if err != nil {
		return "", problems, err
	}
	return ids[0], problems, nil
}

// RecordAll appends several entries in one write: all of them or none. It
// waits for other writers until ctx ends.
func (f *Folder) RecordAll(ctx context.Context, texts []string, writer string, now Moment) (ids []string, problems []Problem, err error) {
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
	unlock, err := f.files.Lock(ctx)
	if err != nil {
		return nil, problems, notRecorded(err)
	}
	defer func() { err = errors.Join(err, unlock()) }()
	a := &appender{f: f, writer: writer, now: now}
	ids, err = a.append(texts, entries)
	if err != nil {
		return nil, problems, notRecorded(err)
	}
	f.read = nil
	return ids, append(problems, a.problems...), nil
}

// notRecorded says how to go on after an error of the disk.
func notRecorded(err error) error {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("nothing was recorded: %w: look whether you may write in the folder", err)
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("nothing was recorded: %w: make room on the disk and record it again", err)
	}
	return fmt.Errorf("nothing was recorded: %w", err)
}

// readable makes sure that every text is one entry that can be read.
func (f *Folder) readable(texts []string) (entries []*Entry, problems []Problem, err error) {
	terms := f.Terms()
	for _, text := range texts {
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

// appender writes to the end of a journal whose lock is held.
type appender struct {
	f        *Folder
	writer   string
	now      Moment
	last     last
	size     int64
	problems []Problem
}

// append writes the block and remembers how the journal ends now.
func (a *appender) append(texts []string, entries []*Entry) ([]string, error) {
	if err := a.lookAtEnd(); err != nil {
		return nil, err
	}
	a.askAbout(entries)
	a.copyDaily()
	if a.last.Numbers == nil {
		a.last.Numbers = map[string]int{}
	}
	block, ids := a.block(texts)
	if err := a.f.files.Append(JournalFile, block, a.size); err != nil {
		if errors.Is(err, ErrChanged) {
			return nil, mistake{JournalFile + " is being changed by another program", "close it there and try again"}
		}
		return nil, fmt.Errorf("writing %s: %w", JournalFile, err)
	}
	a.remember(block, ids, entries)
	return ids, nil
}

// lookAtEnd compares the end of the journal with what was remembered. Where
// they differ, someone has changed it by hand, and it is read through once.
func (a *appender) lookAtEnd() error {
	if b, err := fs.ReadFile(a.f.files, lastFile); err == nil {
		if _, err := toml.Decode(string(b), &a.last); err != nil {
			a.last = last{}
		}
	}
	size, tail, err := a.f.tail(a.last.Length)
	if err != nil {
		return fmt.Errorf("reading the end of %s: %w", JournalFile, err)
	}
	a.size = size
	if a.last.Digest != "" && size == a.last.Size && digest(tail) == a.last.Digest {
		return nil
	}
	return a.readThrough()
}

// tail returns the size of the journal and its last n bytes.
func (f *Folder) tail(n int64) (size int64, b []byte, err error) {
	file, err := f.files.Open(JournalFile)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil, nil
	}
	if err != nil {
		return 0, nil, err
	}
	defer func() { err = errors.Join(err, file.Close()) }()
	info, err := file.Stat()
	if err != nil {
		return 0, nil, err
	}
	size = info.Size()
	at, ok := file.(io.ReaderAt)
	if !ok || n <= 0 || n > size {
		return size, nil, nil
	}
	b = make([]byte, n)
	_, err = at.ReadAt(b, size-n)
	if err == io.EOF {
		err = nil
	}
	return size, b, err
}

func digest(b []byte) string { return fmt.Sprintf("%x", sha256.Sum256(b)) }

// readThrough finds the highest numbers and the names in the whole journal,
// moves a torn entry out of the way, and points at entries that vanished.
func (a *appender) readThrough() error {
	b, err := fs.ReadFile(a.f.files, JournalFile)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("reading %s: %w", JournalFile, err)
	}
	if err := notText(b); err != nil {
		return err
	}
	terms := a.f.Terms()
	j := readJournal(b, &terms)
	if j.torn >= 0 {
		if err := a.moveTorn(b[j.torn:]); err != nil {
			return err
		}
		b = b[:j.torn]
	}
	a.size = int64(len(b))
	a.last.Numbers = map[string]int{}
	a.last.Names = nil
	gone := a.last.Entry != ""
	for _, e := range j.entries {
		if writer, n, ok := numbered(e.ID); ok {
			a.last.Numbers[writer] = max(n, a.last.Numbers[writer])
		}
		gone = gone && e.ID != a.last.Entry
		a.last.Names = addNames(a.last.Names, e)
	}
	if writer, n, ok := numbered(a.last.Entry); ok && gone {
		a.last.Numbers[writer] = max(n, a.last.Numbers[writer])
		a.problems = append(a.problems, vanished(a.last.Entry))
	}
	return nil
}

// vanished tells of an entry that was recorded and is not there any more.
func vanished(id string) Problem {
	return Problem{File: JournalFile, Grade: Odd, Entry: id,
		Text:   fmt.Sprintf("entry %s was recorded and is not in the journal any more: an editor may have saved an older text over it", id),
		Remedy: "the daily copies in " + ownFolder + " have what is missing; if you took it out on purpose, all is well"}
}

// numbered splits "kitchen-118" into its writer and number.
func numbered(id string) (writer string, n int, ok bool) {
	i := strings.LastIndexByte(id, '-')
	if i <= 0 {
		return "", 0, false
	}
	n, err := strconv.Atoi(id[i+1:])
	return id[:i], n, err == nil && n >= 0 && writerForm.MatchString(id[:i])
}

// addNames adds the piles and beds that begin with an entry.
func addNames(names []string, e *Entry) []string {
	x := e.effective()
	if x == nil {
		return names
	}
	var begins []string
	if n, ok := x.Event.(namer); ok {
		_, begins = n.names()
	}
	if c, ok := x.Event.(*Counted); ok && c.Species != "" {
		begins = append(begins, c.Pile)
	}
	for _, b := range begins {
		if b != "" && !slices.Contains(names, b) {
			names = append(names, b)
		}
	}
	return names
}

// moveTorn puts a torn entry into a file of its own and takes it out of the
// journal; nothing before it is touched.
func (a *appender) moveTorn(b []byte) error {
	name := tornName(a.now.Day().String())
	for n := 2; exists(a.f.files, name); n++ {
		name = tornName(fmt.Sprintf("%s-%d", a.now.Day(), n))
	}
	if err := a.f.files.Replace(name, b); err != nil {
		return fmt.Errorf("moving a torn entry to %s: %w", name, err)
	}
	info, err := fs.Stat(a.f.files, JournalFile)
	if err != nil {
		return err
	}
	if err := a.f.files.Cut(JournalFile, info.Size()-int64(len(b))); err != nil {
		return fmt.Errorf("taking a torn entry out of %s: %w", JournalFile, err)
	}
	a.problems = append(a.problems, Problem{File: JournalFile, Grade: Odd,
		Text:   "the last entry had been cut short while it was written; what there was of it is in " + name,
		Remedy: "record it again"})
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
			remedy := "record it with inoculated, arrived, buried or counted"
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

// copyName is the daily copy's file: one for each day of the week.
func copyName(d Date) string {
	return ownFolder + "/journal-" + strings.ToLower(d.Weekday().String()) + ".toml"
}

// copyDaily copies the journal at the first entry of a day. A copy that fails
// stops nothing: it is tried again with the next entry.
func (a *appender) copyDaily() {
	day := a.now.Day()
	if a.last.Copied == day.String() {
		return
	}
	a.last.Copied = ""
	b, err := fs.ReadFile(a.f.files, JournalFile)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return
	}
	if a.f.files.Replace(copyName(day), b) == nil {
		a.last.Copied = day.String()
	}
}

// block is what is appended: the entries with `written` first and `entry`
// last, each after a newline, which also ends a last line that has none.
func (a *appender) block(texts []string) (block []byte, ids []string) {
	var b bytes.Buffer
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

// remember writes how the journal ends now, and adds to the daily copy. Both
// may fail: what is lost is made anew from the journal.
func (a *appender) remember(block []byte, ids []string, entries []*Entry) {
	day := a.now.Day()
	if info, err := fs.Stat(a.f.files, copyName(day)); err == nil && a.last.Copied != "" {
		if a.f.files.Append(copyName(day), block, info.Size()) != nil {
			a.last.Copied = ""
		}
	}
	a.last.Size, a.last.Length = a.size+int64(len(block)), int64(len(block))
	a.last.Digest, a.last.Entry = digest(block), ids[len(ids)-1]
	for _, e := range entries {
		a.last.Names = addNames(a.last.Names, e)
	}
	_ = a.f.files.Replace(lastFile, []byte(a.last.text())) // see above
}

// text is the content of lastFile.
func (l last) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# How the journal ended when it was last written to. May be thrown away.\n")
	fmt.Fprintf(&b, "size = %d\nlength = %d\ndigest = %q\nentry = %s\ncopied = %q\n", l.Size, l.Length, l.Digest, quote(l.Entry), l.Copied)
	names := make([]string, len(l.Names))
	for i, n := range l.Names {
		names[i] = quote(n)
	}
	fmt.Fprintf(&b, "names = [%s]\n\n[numbers]\n", strings.Join(names, ", "))
	for _, w := range slices.Sorted(maps.Keys(l.Numbers)) {
		fmt.Fprintf(&b, "%s = %d\n", quote(w), l.Numbers[w])
	}
	return b.String()
}

// Names are the names and codes of all piles and beds, without reading the
// journal if it ends as it was last written.
func (f *Folder) Names() []string {
	a := &appender{f: f}
	if b, err := fs.ReadFile(f.files, lastFile); err == nil {
		if _, err := toml.Decode(string(b), &a.last); err == nil {
			size, tail, err := f.tail(a.last.Length)
			if err == nil && a.last.Digest != "" && size == a.last.Size && digest(tail) == a.last.Digest {
				return a.last.Names
			}
		}
	}
	var names []string
	for _, e := range f.journal().entries {
		names = addNames(names, e)
	}
	return names
}
