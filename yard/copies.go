package yard

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"time"
)

// copyName is the daily copy's file: one for each day of the week.
func copyName(d Date) string { return copyOf(d.Weekday()) }

func copyOf(w time.Weekday) string {
	return ownFolder + "/journal-" + strings.ToLower(w.String()) + ".toml"
}

// daysOfWeek is how many daily copies there are.
const daysOfWeek = 7

// copyDaily copies the journal at the first entry of a day, and again where
// the copy may lack something. A copy that fails stops nothing: it is said,
// and tried again with the next entry. FORMAT.md, Daily copies.
func (a *appender) copyDaily() {
	day := a.now.Day()
	if a.last.Copied == day.String() && a.copied {
		return
	}
	a.last.Copied = ""
	if err := a.copyTo(a.f.copyName(day)); err != nil {
		a.noCopy(err)
		return
	}
	a.last.Copied = day.String()
	a.dropStale()
}

// copyAsLeft reports whether the last daily copy still is as the program left
// it, by its size and its end: a program that keeps folders alike, or an
// editor, may have put another in its place.
func (f *Folder) copyAsLeft(l last) bool {
	day, err := ParseDate(l.Copied)
	if err != nil || l.CopyDigest == "" {
		return false
	}
	size, tail, err := f.tail(f.copyName(day), l.CopyLength)
	return err == nil && size == l.CopySize && digest(tail) == l.CopyDigest
}

// oddCopy points at a daily copy that is not as the program left it.
func (f *Folder) oddCopy() []Problem {
	l := f.last()
	day, err := ParseDate(l.Copied)
	if err != nil || l.CopyDigest == "" || !exists(f.files, f.copyName(day)) || f.copyAsLeft(l) {
		return nil
	}
	return []Problem{{File: f.copyName(day), Grade: Odd, Text: "the daily copy is not as the program left it, and may lack entries",
		Remedy: "`verify --mend` makes it anew from the journal, and so does the next `record`"}}
}

// copyTo puts a copy of the journal in the place of an older one. Entries that
// only the older one has are written behind it: a copy never loses one.
func (a *appender) copyTo(name string) error {
	b, err := a.f.bytesOf(JournalFile)
	if err != nil {
		return err
	}
	old, err := a.f.bytesOf(name)
	if err != nil {
		return err
	}
	if !bytes.HasPrefix(b, old) {
		terms := a.f.Terms()
		lack := a.f.lackingIn(b, readJournal(b, &terms).entries).of(name, old)
		for _, text := range lack.onlyThere() {
			b = fmt.Appendf(b, "\n%s\n", text)
		}
		a.keepChanged(lack.changed)
	}
	return a.putCopy(name, b)
}

// putCopy writes a daily copy and remembers how it ends.
func (a *appender) putCopy(name string, b []byte) error {
	if err := a.f.files.Replace(name, b); err != nil {
		return err
	}
	n := min(len(b), endRemembered)
	a.last.CopySize, a.last.CopyLength, a.last.CopyDigest = int64(len(b)), int64(n), digest(b[len(b)-n:])
	return nil
}

// addToCopy adds to today's copy what was added to the journal.
func (a *appender) addToCopy(block []byte) {
	day := a.now.Day()
	if a.last.Copied != day.String() {
		return
	}
	info, err := fs.Stat(a.f.files, a.f.copyName(day))
	if err == nil {
		err = plainFile(info)
	}
	if err == nil {
		err = a.f.files.Append(a.f.copyName(day), block, info.Size())
	}
	if err != nil {
		a.last.Copied = ""
		a.noCopy(err)
		return
	}
	a.last.CopySize, a.last.CopyLength, a.last.CopyDigest = info.Size()+int64(len(block)), int64(len(block)), digest(block)
}

func (a *appender) noCopy(err error) {
	if p, odd := a.f.inTheWay(a.f.copyName(a.now.Day())); odd {
		a.problems = append(a.problems, p)
		return
	}
	a.problems = append(a.problems, Problem{File: JournalFile, Grade: Odd,
		Text:   fmt.Sprintf("the entry is recorded, but the daily copy in %s could not be written (%v)", ownFolder, err),
		Remedy: "until it can, nothing could bring back what an editor writes over: make room on the disk, or look whether you may write there"})
}
