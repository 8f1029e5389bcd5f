package yard

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Copy is another copy of a yard: a folder, or a journal alone.
type Copy struct {
	files   fs.FS
	name    string // as it was named
	journal string // file name of the journal in it
	alone   bool   // only the journal counts
	dir     string // of a journal alone on the disk
}

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
	Settings []FileDifference // lines of yard.toml and recipes.toml only in one of them
	Weather  Merge            // what importing the other weather.csv would bring
	Foreign  bool             // nothing says that it is a copy of the same yard
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
	t := lay(here, there, c.journal)
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
	unlock, err := f.files.Lock(ctx)
	if err != nil {
		return nil, fmt.Errorf("nothing was taken over: %w", err)
	}
	defer func() { err = errors.Join(err, unlock()) }()
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
		return t, fmt.Errorf("nothing was taken over: %w", err)
	}
	t.Problems = append(t.Problems, a.problems...)
	f.read = nil
	return t, nil
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
	ids := make([]string, len(entries))
	for i, e := range entries {
		fmt.Fprintf(&block, "\n%s\n", e.Text)
		ids[i] = e.ID
		if writer, n, ok := numbered(e.ID); ok {
			a.last.Numbers[writer] = max(n, a.last.Numbers[writer])
		}
	}
	if err := a.f.files.Append(JournalFile, block.Bytes(), a.size); err != nil {
		return fmt.Errorf("writing %s: %w", JournalFile, err)
	}
	a.remember(block.Bytes(), ids, entries)
	return nil
}

// wholeJournal is the own journal, unless it has to be mended first.
func (f *Folder) wholeJournal() (*journal, error) {
	b, err := fs.ReadFile(f.files, JournalFile)
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
	if err := notText(b); err != nil {
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

// FileDifference is what stands in one of two files only, line by line.
type FileDifference struct {
	File        string
	Here, There []TextLine
}

// TextLine is a line of a file.
type TextLine struct {
	Line int
	Text string
}

// settingsApart compares the files that the grower writes.
func (f *Folder) settingsApart(c *Copy) (out []FileDifference) {
	for _, name := range []string{YardFile, RecipesFile} {
		here, err1 := readBounded(f.files, name, mostSettings)
		there, err2 := readBounded(c.files, name, mostSettings)
		if err1 != nil || err2 != nil {
			continue // missing on one side: nothing to compare line by line
		}
		d := FileDifference{File: name, Here: linesOnlyIn(here, there), There: linesOnlyIn(there, here)}
		if len(d.Here)+len(d.There) > 0 {
			out = append(out, d)
		}
	}
	return out
}

// linesOnlyIn are the lines of a that b has not, or not as often; remarks and
// spaces count for nothing.
func linesOnlyIn(a, b []byte) (out []TextLine) {
	left := map[string]int{}
	for l := range strings.Lines(string(b)) {
		left[withoutRemark(l)]++
	}
	n := 0
	for l := range strings.Lines(string(a)) {
		n++
		l = withoutRemark(l)
		if left[l]--; left[l] < 0 && l != "" {
			out = append(out, TextLine{n, l})
		}
	}
	return out
}

// withoutRemark is a line of TOML with single spaces and no remark.
func withoutRemark(l string) string {
	open := byte(0)
	for i := 0; i < len(l); i++ {
		switch c := l[i]; {
		case open != 0 && c == '\\' && open == '"':
			i++
		case open != 0 && c == open:
			open = 0
		case open != 0:
		case c == '"' || c == '\'':
			open = c
		case c == '#':
			l = l[:i]
		}
	}
	return strings.Join(strings.Fields(l), " ")
}

// weatherApart is what the weather.csv of the other copy would bring.
func (f *Folder) weatherApart(c *Copy) (m Merge) {
	b, err := readBounded(c.files, WeatherFile, mostJournal)
	if err != nil {
		return m
	}
	t, err := readWeather(bytes.NewReader(b), f.today, Hints{})
	if err != nil || t.weather == nil {
		return m
	}
	old, _, err := f.storedWeather()
	if err != nil {
		return m
	}
	_, m = merged(old, t.weather, false)
	return m
}

// lay lays another journal over this one.
func lay(here, there *journal, file string) *Takeover {
	l := &layer{t: &Takeover{}, file: file, texts: map[string][]*Entry{}, named: map[string]*Entry{}, met: map[*Entry]bool{}, twain: map[string]bool{}}
	for _, e := range here.entries {
		l.texts[e.Text] = append(l.texts[e.Text], e)
		l.named[e.ID] = e
	}
	rest := l.wordForWord(there.entries)
	rest = l.inOtherWords(rest, here.entries)
	for _, e := range rest {
		l.take(e)
	}
	if there.torn >= 0 {
		for _, p := range there.problems {
			if strings.Contains(p.Text, "cut short") {
				p.File, p.Remedy = file, "nothing of it is taken over: record it again if it is missed"
				l.t.Problems = append(l.t.Problems, p)
			}
		}
	}
	l.t.Here = len(here.entries) - len(l.met)
	slices.SortStableFunc(l.t.Taken, byWriting)
	l.both(here.entries)
	return l.t
}

// layer is one journal while another is laid over it.
type layer struct {
	t     *Takeover
	file  string
	texts map[string][]*Entry // own entries by their text, those not met yet
	named map[string]*Entry   // own entries by identifier
	met   map[*Entry]bool     // own entries that the other copy has, too
	twain map[string]bool     // identifiers that name one entry here and another there
}

// wordForWord meets the entries that both have, and returns the others.
func (l *layer) wordForWord(there []*Entry) (rest []*Entry) {
	for _, e := range there {
		own := l.texts[e.Text]
		if len(own) == 0 {
			rest = append(rest, e)
			continue
		}
		l.met[own[0]] = true
		l.texts[e.Text] = own[1:]
		l.t.Same++
	}
	return rest
}

// inOtherWords meets the entries that say the same with other spaces, remarks
// or order of keys.
func (l *layer) inOtherWords(there, here []*Entry) (rest []*Entry) {
	if len(there) == 0 {
		return nil
	}
	says := map[string][]*Entry{}
	for _, e := range here {
		if !l.met[e] {
			k := e.meaning()
			says[k] = append(says[k], e)
		}
	}
	for _, e := range there {
		k := e.meaning()
		if own := says[k]; len(own) > 0 {
			says[k] = own[1:]
			l.met[own[0]] = true
			l.t.Same++
			continue
		}
		rest = append(rest, e)
	}
	return rest
}

// take decides on an entry of which the own journal has no equal.
func (l *layer) take(e *Entry) {
	name := e.signature()
	own := l.named[name]
	_, _, err := decode(e.Text)
	switch {
	case err != nil || isTorn([]byte(e.Text+"\n")):
		l.leave(e, own)
	case own == nil || name == "":
		l.t.Taken = append(l.t.Taken, e)
	case e.Written != own.Written && e.Written != "" && own.Written != "":
		// Two computers gave one identifier to two things that happened.
		l.twain[name] = true
		l.t.Taken = append(l.t.Taken, e)
		l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: name, Grade: Odd,
			Text:   fmt.Sprintf("the identifier %s names two entries, written at different times: both are kept", name),
			Remedy: "two computers write under one name: give one another with --by"})
	case own.standsAs(e):
		l.met[own] = true
		l.t.Same++ // corrected here to what stands there
	default:
		l.met[own] = true
		l.t.Differ = append(l.t.Differ, Clash{own, e, apart(own, e)})
	}
}

// standsAs reports whether an entry was corrected to what another one says.
func (e *Entry) standsAs(other *Entry) bool {
	last := e
	for n := 0; last.Replaced != nil && n < mostCorrected; n++ {
		last = last.Replaced
	}
	c, ok := last.Event.(*Corrected)
	if !ok || c.Void || last == e {
		return false
	}
	is := last.Values()
	delete(is, "replaces")
	delete(is, "kind")
	return c.Of == other.Kind && maps.Equal(is, other.Values())
}

// mostCorrected is how many corrections of one entry are followed.
const mostCorrected = 100

// leave points at an entry that cannot be read there.
func (l *layer) leave(e, own *Entry) {
	p := Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Aside,
		Text: "this entry cannot be read, or was cut short, and is not taken over", Remedy: "mend it there and merge again"}
	for _, why := range e.problems {
		if why.Grade != Odd || strings.Contains(why.Text, "cut short") {
			p.Line, p.Text, p.Remedy = why.Line, why.Text+": it is not taken over", why.Remedy+", there, and merge again"
		}
	}
	if own != nil {
		l.met[own] = true
		p.Remedy = "the entry " + own.ID + " here stands; look whether it is right"
	}
	l.t.Problems = append(l.t.Problems, p)
}

// both points at corrections taken over of entries that were corrected here,
// too: the one written last counts.
func (l *layer) both(here []*Entry) {
	own := map[string]*Entry{}
	for _, e := range here {
		if c, ok := e.Event.(*Corrected); ok && !l.met[e] {
			own[c.Replaces] = e
		}
	}
	for _, e := range l.t.Taken {
		c, ok := e.Event.(*Corrected)
		if ok && l.twain[c.Replaces] {
			l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Odd,
				Text:   fmt.Sprintf("this corrects %s, which names two entries: of the two it now corrects the one that stands first here", c.Replaces),
				Remedy: "look at both: hodaba history " + c.Replaces})
		}
		if !ok || own[c.Replaces] == nil {
			continue
		}
		last := own[c.Replaces]
		if e.Written >= last.Written {
			last = e
		}
		l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Odd,
			Text:   fmt.Sprintf("both copies correct %s: %s, which was written last, counts", c.Replaces, last.ID),
			Remedy: "correct that one if it is not right"})
	}
}

// signature is the identifier that stands in an entry, "" where none does.
func (e *Entry) signature() string {
	vals, _, err := decode(e.Text)
	if err != nil {
		if m := hasEntry.FindStringSubmatch(e.Text); m != nil {
			return strings.TrimSpace(m[1])
		}
		return ""
	}
	t := table{vals: vals}
	t.open(&Entry{})
	id, _ := t.vals["entry"].(string)
	return strings.TrimSpace(id)
}

// meaning is what an entry says, in one order of keys and without remarks;
// two entries with the same meaning are one.
func (e *Entry) meaning() string {
	vals := e.Values()
	if vals == nil {
		return e.Text
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%q %q %q", e.Kind, e.Written, e.signature())
	for _, k := range sortedKeys(vals) {
		fmt.Fprintf(&b, " %s=%q", k, vals[k])
	}
	return b.String()
}

// apart are the keys in which two entries differ, as the second has them.
func apart(a, b *Entry) map[string]string {
	out := map[string]string{}
	was, is := a.Values(), b.Values()
	for k, v := range is {
		if old, ok := was[k]; !ok || old != v {
			out[k] = v
		}
	}
	for k := range was {
		if _, ok := is[k]; !ok {
			out[k] = ""
		}
	}
	return out
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
