package yard

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"
)

// lastFile remembers how the journal ended, so that an append need not read
// it: FORMAT.md, The memory of the end. It may be thrown away: it is then made
// anew from the journal.
const lastFile = ownFolder + "/last.toml"

// last is what lastFile holds.
type last struct {
	Sum     string         `toml:"sum"`     // digest of the lines behind it
	Size    int64          `toml:"size"`    // of the journal
	Length  int64          `toml:"length"`  // of what was written last
	Digest  string         `toml:"digest"`  // of what was written last
	Entry   string         `toml:"entry"`   // its identifier
	Copied  string         `toml:"copied"`  // day of the last daily copy
	Numbers map[string]int `toml:"numbers"` // highest number by writer
	Names   []string       `toml:"names"`   // of piles and beds, and their codes

	// How that copy ended.
	CopySize   int64  `toml:"copy_size"`
	CopyLength int64  `toml:"copy_length"` // of what the digest is of
	CopyDigest string `toml:"copy_digest"`
}

// Names are the names and codes of all piles and beds, without reading the
// journal if it ends as it was last written.
func (f *Folder) Names() []string {
	l := f.last()
	if same, _, err := f.endsAs(l); err == nil && same {
		return l.Names
	}
	var names []string
	for _, e := range f.journal().entries {
		names = addNames(names, e)
	}
	return names
}

// last is what is remembered of the journal's end; nothing where that is
// missing or cannot be read. Where it is not as it was written, or an older
// program wrote it, it confirms nothing, and the journal is read through.
func (f *Folder) last() last {
	var l last
	older := false
	b, err := readBounded(f.files, f.lastName(), mostSettings)
	if errors.Is(err, fs.ErrNotExist) && f.computer != "" { // an older program knew no computers
		b, err = readBounded(f.files, lastFile, mostSettings)
		older = true
	}
	if err != nil || decodeOwn(b, lastFile, &l) != nil {
		return last{}
	}
	if older || !l.whole(b) {
		l.Digest, l.CopyDigest = "", ""
	}
	return l
}

// whole reports whether the file still is what was written.
func (l last) whole(b []byte) bool {
	_, behind, ok := strings.Cut(string(b), sumLine(l.Sum))
	return ok && digest([]byte(behind)) == l.Sum
}

func sumLine(sum string) string { return fmt.Sprintf("\nsum = %q\n", sum) }

// readOwn reads a small file of the program's own, which anyone may have
// written over.
func readOwn(files fs.FS, name string, to any) error {
	b, err := readBounded(files, name, mostSettings)
	if err != nil {
		return err
	}
	return decodeOwn(b, name, to)
}

func decodeOwn(b []byte, name string, to any) error {
	if deep, _ := nesting(string(b)); deep > deepestNesting {
		return fmt.Errorf("%s is nested too deeply", name)
	}
	_, err := toml.Decode(string(b), to)
	return err
}

// endsAs reports whether the journal ends as it was last written to, and how
// long it is.
func (f *Folder) endsAs(l last) (same bool, size int64, err error) {
	size, tail, err := f.tail(JournalFile, l.Length)
	if err != nil {
		return false, 0, fmt.Errorf("reading the end of %s: %w", JournalFile, err)
	}
	return l.Digest != "" && size == l.Size && digest(tail) == l.Digest, size, nil
}

// tail returns the size of a file and its last n bytes.
func (f *Folder) tail(name string, n int64) (size int64, b []byte, err error) {
	err = plain(f.files, name)
	if errors.Is(err, fs.ErrNotExist) {
		return 0, nil, nil
	}
	if err != nil {
		return 0, nil, err
	}
	file, err := f.files.Open(name)
	if err != nil {
		return 0, nil, err
	}
	defer file.Close() // it was only read
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

// lookAtEnd compares the end of the journal with what was remembered. Where
// they differ, someone has changed it by hand or a program was stopped, and it
// is read through once; and where a daily copy knows of higher numbers, as after
// journal and memory were both put back to an older day.
func (a *appender) lookAtEnd() error {
	a.last = a.f.last()
	same, size, err := a.f.endsAs(a.last)
	if err != nil {
		return err
	}
	a.size = size
	if a.last.Numbers == nil {
		a.last.Numbers = map[string]int{}
	}
	if same && !a.rolledBack() {
		return nil
	}
	return a.readThrough()
}

// rolledBack reports whether a daily copy has an entry whose number is above what
// is remembered. The copies are looked at with the first entry of a day, when the
// journal is copied, and where that copy is not as it was left.
func (a *appender) rolledBack() bool {
	if a.copied = a.last.Copied == a.now.Day().String() && a.f.copyAsLeft(a.last); a.copied {
		return false
	}
	for _, c := range a.f.copies(a.last) {
		b, err := a.f.bytesOf(c.name)
		if err != nil {
			continue // told where it is looked for what vanished
		}
		for id := range identifiersIn(b) {
			if writer, n, ok := numbered(id); ok && n > a.last.Numbers[writer] {
				return true
			}
		}
	}
	return false
}

// readThrough finds the highest numbers and the names in the whole journal,
// moves a torn entry out of the way, and points at entries that vanished. The
// copy of today may lack what was written before a stop: it is made anew.
func (a *appender) readThrough() error {
	b, err := a.f.bytesOf(JournalFile)
	if err != nil {
		return fmt.Errorf("reading %s: %w", JournalFile, err)
	}
	if err := notLines(b); err != nil {
		return err
	}
	terms := a.f.Terms()
	j := readJournalAfter(b, &terms, a.last.Entry)
	if j.torn >= 0 {
		if err := a.moveTorn(b, j.torn); err != nil {
			return err
		}
		b = b[:j.torn]
	}
	if b, err = a.cutZeros(b); err != nil {
		return err
	}
	a.size = int64(len(b))
	a.last.Names = nil
	for _, e := range j.entries {
		a.last.number(e.ID)
		a.last.Names = addNames(a.last.Names, e)
	}
	missing, nameless := a.f.compared(b, j.entries, a.last)
	a.last.Copied = ""
	for _, m := range missing {
		a.last.number(m.ID)
	}
	for id := range a.f.left() {
		a.last.number(id)
	}
	for writer, n := range a.f.numbersElsewhere() {
		a.last.Numbers[writer] = max(n, a.last.Numbers[writer])
	}
	for id := range nameless {
		a.last.number(id)
	}
	a.missing = missing
	a.problems = append(a.problems, missed(missing)...)
	a.protectAgain(j.entries)
	return nil
}

// cutZeros cuts off what a disk leaves behind a file when the power goes: no
// text holds a zero byte, and behind a new entry they would stand for ever
// (FORMAT.md, Zero bytes).
func (a *appender) cutZeros(b []byte) ([]byte, error) {
	body := bytes.TrimRight(b, "\x00")
	if len(body) == len(b) {
		return b, nil
	}
	err := a.f.files.Cut(JournalFile, int64(len(body)), int64(len(b)))
	switch {
	case errors.Is(err, ErrChanged):
		return nil, mistake{JournalFile + " is being changed by another program", "close it there and try again"}
	case err != nil:
		return nil, fmt.Errorf("cutting zero bytes off %s: %w", JournalFile, err)
	}
	a.problems = append(a.problems, Problem{File: JournalFile, Grade: Odd,
		Text:   fmt.Sprintf("%d zero bytes stood at its end, as after a power cut, and were cut off: they held nothing", len(b)-len(body)),
		Remedy: "look whether the last entry before them is whole"})
	return body, nil
}

// bytesOf is the content of a file, nothing where it is missing.
func (f *Folder) bytesOf(name string) ([]byte, error) {
	b, err := readBounded(f.files, name, mostJournal)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return b, err
}

// number notes an identifier among the highest numbers by writer. They never
// fall: an entry that vanished may come back, and none is to have its name.
func (l last) number(id string) {
	if writer, n, ok := numbered(id); ok {
		l.Numbers[writer] = max(n, l.Numbers[writer])
	}
}

// numbered splits "kitchen-118" into its writer and number.
func numbered(id string) (writer string, n int, ok bool) {
	i := strings.LastIndexByte(id, '-')
	if i <= 0 {
		return "", 0, false
	}
	n, err := strconv.Atoi(id[i+1:])
	return id[:i], n, err == nil && n >= 0 && n <= mostNumber && writerForm.MatchString(id[:i])
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

// moveTorn puts a torn entry, which begins at an offset of the journal, into a
// file of its own and takes it out of the journal; nothing before it is
// touched: FORMAT.md, Torn entries.
func (a *appender) moveTorn(b []byte, at int) error {
	name, err := a.tornFile(b[at:])
	if err != nil {
		return err
	}
	if err := a.f.files.Replace(name, b[at:]); err != nil {
		return fmt.Errorf("moving a torn entry to %s: %w", name, err)
	}
	err = a.f.files.Cut(JournalFile, int64(at), int64(len(b)))
	if errors.Is(err, ErrChanged) {
		return mistake{JournalFile + " is being changed by another program", "close it there and try again"}
	}
	if err != nil {
		return fmt.Errorf("taking a torn entry out of %s: %w", JournalFile, err)
	}
	a.problems = append(a.problems, Problem{File: JournalFile, Grade: Odd,
		Text:   "the last entry had been cut short while it was written; what there was of it is in " + name,
		Remedy: "record it again"})
	return nil
}

// tornFile is the name of a file for a torn entry: one that is free, or has it
// already, because the program was stopped between the two steps.
func (a *appender) tornFile(torn []byte) (string, error) {
	for n := 1; n <= mostTorn; n++ {
		name := tornName(a.now.Day().String())
		if n > 1 {
			name = tornName(fmt.Sprintf("%s-%d", a.now.Day(), n))
		}
		b, err := readBounded(a.f.files, name, mostJournal)
		if errors.Is(err, fs.ErrNotExist) || err == nil && bytes.Equal(b, torn) {
			return name, nil
		}
	}
	return "", mistake{fmt.Sprintf("there is no free name for a torn entry: %s to %s-%d are there", tornName(a.now.Day().String()), a.now.Day(), mostTorn),
		"look at them, and move away what is no longer missed"}
}

// mostTorn is how many torn entries of one day are set aside.
const mostTorn = 1000

// remember adds to the daily copy and writes how the journal ends now. Both
// may fail: what is lost is made anew from the journal.
func (a *appender) remember(block []byte, ids []string, entries []*Entry) {
	a.addToCopy(block)
	a.keepEnd(block, ids[len(ids)-1], entries)
}

// keepEnd writes how the journal ends now.
func (a *appender) keepEnd(block []byte, id string, entries []*Entry) {
	a.last.Size, a.last.Length = a.size+int64(len(block)), int64(len(block))
	a.last.Digest, a.last.Entry = digest(block), id
	for _, e := range entries {
		a.last.Names = addNames(a.last.Names, e)
	}
	if err := a.f.files.Replace(a.f.lastName(), []byte(a.last.text())); err != nil { // the next entry reads the journal through instead
		if p, odd := a.f.inTheWay(a.f.lastName()); odd {
			a.problems = append(a.problems, p)
		}
	}
}

// text is the content of lastFile.
func (l last) text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "size = %d\nlength = %d\ndigest = %q\nentry = %s\ncopied = %q\n", l.Size, l.Length, l.Digest, quote(l.Entry), l.Copied)
	fmt.Fprintf(&b, "copy_size = %d\ncopy_length = %d\ncopy_digest = %q\n", l.CopySize, l.CopyLength, l.CopyDigest)
	names := make([]string, len(l.Names))
	for i, n := range l.Names {
		names[i] = quote(n)
	}
	fmt.Fprintf(&b, "names = [%s]\n\n[numbers]\n", strings.Join(names, ", "))
	for _, w := range slices.Sorted(maps.Keys(l.Numbers)) {
		fmt.Fprintf(&b, "%s = %d\n", quote(w), l.Numbers[w])
	}
	return "# How the journal ended when it was last written to. May be thrown away." + sumLine(digest([]byte(b.String()))) + b.String()
}
