package yard

import (
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// Copy is another copy of a yard: a folder, or a journal alone.
type Copy struct {
	files   fs.FS
	name    string // as it was named
	journal string // file name of the journal in it
	alone   bool   // only the journal counts
	dir     string // of a journal alone on the disk

	leftOutToo bool
}

// LeftOutToo lets what was left out here on purpose be taken over as well.
func (c *Copy) LeftOutToo() { c.leftOutToo = true }

// OpenCopy opens a copy on the disk: a folder with a journal, or a journal
// under any name.
func OpenCopy(path string) (*Copy, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, mistake{"there is no " + path, "name the folder of the other copy, or its journal"}
	case err != nil:
		return nil, fmt.Errorf("opening the other copy: %w", err)
	case info.IsDir():
		return CopyIn(os.DirFS(path), path, JournalFile)
	case !info.Mode().IsRegular():
		text, _ := parts(plainFile(info))
		return nil, mistake{path + " cannot be read, as " + text, "name the folder of the other copy, or its journal"}
	}
	c, err := CopyIn(os.DirFS(filepath.Dir(path)), path, filepath.Base(path))
	if err == nil && filepath.Base(path) != JournalFile {
		c.alone, c.dir = true, filepath.Dir(path)
	}
	return c, err
}

// beside reports whether a journal lies in the folder of this yard, or among
// its daily copies: nobody keeps that of another yard there.
func (c *Copy) beside(f *Folder) bool {
	if c.dir == "" {
		return false
	}
	there, err := os.Stat(c.dir)
	if err != nil {
		return false
	}
	for _, dir := range []string{f.dir, filepath.Join(f.dir, ownFolder)} {
		if here, err := os.Stat(dir); err == nil && os.SameFile(here, there) {
			return true
		}
	}
	return false
}

// CopyIn is OpenCopy for files that need not lie on a disk. name is how it is
// called in messages.
func CopyIn(files fs.FS, name, journal string) (*Copy, error) {
	if !exists(files, journal) {
		return nil, mistake{fmt.Sprintf("%s is no yard: there is no %s", name, journal), "name the folder of the other copy, or its journal"}
	}
	return &Copy{files: files, name: name, journal: journal, alone: journal != JournalFile}, nil
}

// Takeover is what becomes of a yard when the entries of another copy of it
// are taken over.
type Takeover struct {
	From   string
	Taken  []*Entry // only there, in the order in which they are appended
	Same   int      // entries that both have
	Here   int      // entries only here
	Differ []Clash  // entries that both have, and that say something else there: those here stand
	// Problems are entries that cannot be taken over, with their line in the
	// other copy, and what is odd about those that are.
	Problems []Problem
	// Undecided is how many of the problems ask for a decision, though nothing is
	// left out.
	Undecided int
	Settings  []FileDifference // lines of yard.toml and recipes.toml only in one of them
	Weather   Merge            // what importing the other weather.csv would bring
	Foreign   bool             // nothing says that it is a copy of the same yard
}

// LeftOut reports whether anything of the other copy is not here now.
func (t *Takeover) LeftOut() bool {
	if len(t.Differ) > 0 {
		return true
	}
	worst, any := Worst(t.Problems)
	return any && worst != Odd
}

// Clash is one entry that says one thing here and another there.
type Clash struct {
	Here, There *Entry
	// Right are the keys that differ, as the other copy has them: what would
	// have to be corrected here. A key that is not there is "".
	Right map[string]string
}

// LookAt says what TakeOver would do, and writes nothing.
func (f *Folder) LookAt(c *Copy) (*Takeover, error) {
	f.read = nil
	here, err := f.wholeJournal()
	if err != nil {
		return nil, err
	}
	text, err := c.journalText()
	if err != nil {
		return nil, err
	}
	terms := f.Terms()
	there := readJournal(text, &terms)
	var left onPurpose
	if !c.leftOutToo {
		left = f.left()
	}
	_, here.nameless, _ = f.vanished() // that the journal cannot be read is told already
	t := layWithout(here, there, c.journal, left, f.leftSince())
	t.From = c.name
	t.Foreign = f.foreign(c, here, there, t)
	if !c.alone {
		t.Settings = f.settingsApart(c)
		t.Weather = f.weatherApart(c)
	}
	return t, nil
}

// TakeOver appends the entries that another copy of the yard has and this one
// has not, as they stand there, in the order in which they were written. Where
// both have an entry under one identifier, and say different things, the one
// here stands and the other is told. A folder that is not known to be a copy of
// the same yard is refused unless anyway. Taking over twice takes nothing the
// second time, and both ways come to the same entries.
func (f *Folder) TakeOver(ctx context.Context, c *Copy, anyway bool, now Moment) (t *Takeover, err error) {
	unlock, err := f.lock(ctx)
	if err != nil {
		return nil, undone("nothing was taken over", err)
	}
	defer unlock()
	t, err = f.LookAt(c)
	switch {
	case err != nil:
		return t, err
	case t.Foreign && !anyway:
		return t, mistake{fmt.Sprintf("%s is not known to be a copy of this yard: no entry is in both", c.name),
			"look whether it is the right folder; --anyway takes its entries all the same"}
	case len(t.Taken) == 0:
		return t, nil
	}
	a := &appender{f: f, now: now}
	if err := a.takeIn(t.Taken); err != nil {
		return t, undone("nothing was taken over", err)
	}
	t.Problems = append(t.Problems, a.stillMissed(t.Taken)...)
	f.read = nil
	return t, nil
}

// stillMissed is what is to be said once some entries came back.
func (a *appender) stillMissed(back []*Entry) []Problem {
	said := slices.DeleteFunc(slices.Clone(a.problems), func(p Problem) bool { return p.Entry != "" })
	return append(said, missed(slices.DeleteFunc(slices.Clone(a.missing), func(m Missed) bool {
		return slices.ContainsFunc(back, func(e *Entry) bool {
			return cmp.Or(e.shared, e.ID) == m.ID && (m.written == "" || m.written == e.Written)
		})
	}))...)
}

// takeIn appends entries of another copy as they are.
func (a *appender) takeIn(entries []*Entry) error {
	if err := a.lookAtEnd(); err != nil {
		return err
	}
	a.copyDaily()
	var block bytes.Buffer
	if a.last.Numbers == nil {
		a.last.Numbers = map[string]int{}
	}
	for _, e := range entries {
		fmt.Fprintf(&block, "\n%s\n", e.Text)
		a.last.number(cmp.Or(e.shared, e.ID))
	}
	if err := a.write(block.Bytes()); err != nil {
		return err
	}
	a.protectAgain(entries)
	a.remember(block.Bytes(), []string{cmp.Or(lastSigned(entries), a.last.Entry)}, entries)
	return nil
}

// wholeJournal is the own journal, unless it has to be mended first.
func (f *Folder) wholeJournal() (*journal, error) {
	b, err := readBounded(f.files, JournalFile, mostJournal)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("reading %s: %w", JournalFile, err)
	}
	if m := marksIn(b); len(m) > 0 {
		return nil, mistake{fmt.Sprintf("%s:%d holds the marks of two copies laid together", JournalFile, m[0].line), "mend it first: hodaba verify --mend"}
	}
	j := f.journal()
	if worst, _ := Worst(j.problems); worst == Broken {
		return nil, mistake{j.problems[0].String(), "mend it first"}
	}
	return j, nil
}

// journalText is the journal of the other copy.
func (c *Copy) journalText() ([]byte, error) {
	b, err := readBounded(c.files, c.journal, mostJournal)
	if err != nil {
		return nil, fmt.Errorf("reading %s of the other copy: %w", c.journal, err)
	}
	if err := notLines(b); err != nil {
		return nil, fmt.Errorf("%s of the other copy: %w", c.journal, err)
	}
	if m := marksIn(b); len(m) > 0 {
		return nil, mistake{fmt.Sprintf("%s of the other copy holds in line %d the marks of two copies laid together", c.journal, m[0].line),
			"mend it there first: hodaba verify --mend"}
	}
	return b, nil
}

// foreign reports whether nothing says that the other copy is of the same
// yard: no entry in common, and no name either.
func (f *Folder) foreign(c *Copy, here, there *journal, t *Takeover) bool {
	if t.Same+len(t.Differ) > 0 || len(there.entries) == 0 {
		return false
	}
	if c.alone {
		return len(here.entries) > 0 && !c.beside(f)
	}
	b, err := readBounded(c.files, YardFile, mostSettings)
	if err != nil {
		return len(here.entries) > 0
	}
	config, _ := readConfig(b, f.data)
	return folded(config.Name) != folded(f.config.Name)
}
