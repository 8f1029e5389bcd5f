package yard

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"hodaba/data"
)

// Folder is a yard folder that was opened. The journal is read when it is
// first asked for, and once. A Folder is not safe for concurrent use; several
// may be open on the same folder.
type Folder struct {
	files   Files
	dir     string
	data    *data.Set
	today   Date
	config  Config
	recipes []Recipe
	reading []Problem // of yard.toml and recipes.toml

	computer string // whose memory and copies are this folder's own
	read     *journal
	readOf   string // digest of the journal that was read
	sky      *weatherTable
}

// Find looks for a yard in a folder, then in its parents.
func Find(start string) (dir string, err error) {
	dir, err = filepath.Abs(start)
	if err != nil {
		return "", err
	}
	for at := dir; ; at = filepath.Dir(at) {
		if info, err := os.Stat(filepath.Join(at, YardFile)); err == nil && !info.IsDir() {
			return at, nil
		}
		if at == filepath.Dir(at) {
			return "", mistake{fmt.Sprintf("no yard in %s or above: there is no %s", dir, YardFile), "begin one with `start DIR`, or name its folder with --yard"}
		}
	}
}

// Open opens the yard in a folder on the disk: it reads yard.toml and
// recipes.toml. today is the real today; an entry after it is a mistake. The
// error is for a folder that is no yard; what is wrong inside the files comes
// as problems, and everything else in them is used.
func Open(dir string, set *data.Set, today Date) (*Folder, []Problem, error) {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, mistake{"there is no folder " + dir, "look at the name, or begin a yard there with `start " + dir + "`"}
	case err != nil:
		return nil, nil, fmt.Errorf("opening the yard: %w", err)
	case !info.IsDir():
		return nil, nil, mistake{dir + " is a file, not a folder", "name the folder that holds " + YardFile}
	}
	return open(OnDisk(dir), dir, set, today)
}

// OpenFiles is Open for files that need not lie on a disk.
func OpenFiles(files Files, set *data.Set, today Date) (*Folder, []Problem, error) {
	return open(files, "the folder", set, today)
}

func open(files Files, dir string, set *data.Set, today Date) (*Folder, []Problem, error) {
	b, err := readBounded(files, YardFile, mostSettings)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil, noYard(files, dir)
	case err != nil:
		p := unreadable(YardFile, err)
		return nil, nil, mistake{YardFile + ": " + p.Text, p.Remedy}
	}
	f := &Folder{files: files, dir: dir, data: set, today: today}
	f.config, f.reading = readConfig(b, set)
	if i := slices.IndexFunc(f.reading, IsLater); i >= 0 {
		f.files = sealed{files, f.reading[i]}
	}
	b, err = readBounded(files, RecipesFile, mostSettings)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		f.reading = append(f.reading, unreadable(RecipesFile, err))
	}
	var problems []Problem
	f.recipes, problems = readRecipes(b, &f.config, set)
	f.reading = append(f.reading, problems...)
	f.reading = sorted(append(f.reading, f.config.Plan.knownRecipes(f.recipes)...))
	return f, slices.Clone(f.reading), nil
}

// noYard says what a folder without yard.toml holds instead.
func noYard(files Files, dir string) error {
	remedy := "begin a yard with `start " + dir + "`"
	list, err := fs.ReadDir(files, ".")
	switch {
	case err != nil:
		return mistake{fmt.Sprintf("%s cannot be read: %v", dir, err), "look at the folder's permissions"}
	case len(list) == 0:
		return mistake{dir + " is empty: there is no " + YardFile, remedy}
	}
	for _, e := range list {
		if e.Name() == JournalFile {
			return mistake{fmt.Sprintf("%s has a %s and no %s", dir, JournalFile, YardFile),
				"put " + YardFile + " back, or write a new one: [site] with a station is enough"}
		}
	}
	return mistake{dir + " is no yard: there is no " + YardFile, remedy + ", in a folder of its own"}
}

func unreadable(file string, err error) Problem {
	if m := (mistake{}); errors.As(err, &m) {
		return Problem{File: file, Grade: Broken, Text: m.text, Remedy: m.remedy}
	}
	var pe *fs.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return Problem{File: file, Grade: Broken, Text: fmt.Sprintf("the file cannot be read (%v)", err), Remedy: "look at its permissions, or put a copy in its place"}
}

// Dir is the folder's path on the disk.
func (f *Folder) Dir() string { return f.dir }

// Config is what yard.toml says.
func (f *Folder) Config() Config { return f.config }

// Recipes are those of recipes.toml, in the grower's order.
func (f *Folder) Recipes() []Recipe { return f.recipes }

// Data is the reference data against which the folder is read.
func (f *Folder) Data() *data.Set { return f.data }

// Terms are what Compose and ReadTable read words and measures against.
func (f *Folder) Terms() Terms {
	return Terms{Data: f.data, Own: f.config.Own, Measures: f.config.Measures, Today: f.today}
}

// journal reads the journal once. A journal that is missing is empty.
func (f *Folder) journal() *journal {
	if f.read != nil {
		return f.read
	}
	terms := f.Terms()
	b, err := readBounded(f.files, JournalFile, mostJournal)
	f.readOf = digest(b)
	f.read = readJournalAfter(b, &terms, f.last().Entry)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		f.read.problems = append(f.read.problems, unreadable(JournalFile, err))
	}
	c := settle(f.read.entries, f.left)
	for _, e := range f.read.entries {
		e.Replaced, e.Corrects, e.Astray = c.replaced[e], c.targets[e], c.astray[e]
	}
	return f.read
}

// Entries are all entries of the journal that can be used, in the order of
// the file; those that were corrected or voided point at what replaced them.
// The problems are those of reading the journal.
func (f *Folder) Entries() ([]*Entry, []Problem) {
	j := f.journal()
	var out []*Entry
	for _, e := range j.entries {
		if e.Event != nil {
			out = append(out, e)
		}
	}
	return out, sorted(j.all())
}

// State replays the journal: the yard as it stood on asOf, by what was known
// on knownBy (zero: by all that is written by now). What was known is told by
// `written`, else by `on`. Entries after asOf are not yet known, and no
// mistake. The problems are those of reading the journal and of replaying it.
func (f *Folder) State(asOf, knownBy Date) (*State, []Problem) {
	j := f.journal()
	entries := knownThen(j.entries, knownBy)
	c := settle(entries, f.left)
	problems := append(c.problems, j.problems...)
	for _, e := range entries {
		if c.replaced[e] == nil {
			problems = append(problems, e.problems...)
			problems = append(problems, e.sayTwin()...)
		}
	}
	s := &State{AsOf: asOf, Config: f.config, Recipes: f.recipes, Weather: f.measuredBy(asOf, knownBy)}
	problems = append(problems, f.weather().problems...)
	problems = append(problems, onceBegun(replay(s, knownOn(c.standing, asOf), f.data), entries)...)
	return s, sorted(problems)
}

// knownOn are the entries of what had happened by a day, as they stand.
func knownOn(standing []*Entry, asOf Date) []*Entry {
	var live []*Entry
	for _, e := range standing {
		x := e.effective()
		if x == nil || x.On.From > asOf {
			continue
		}
		if x.On.To > asOf {
			clipped := *x
			clipped.On.To = asOf
			x = &clipped
		}
		live = append(live, x)
	}
	return live
}

// knownThen leaves out what was not written yet.
func knownThen(entries []*Entry, knownBy Date) []*Entry {
	if knownBy == 0 {
		return entries
	}
	var out []*Entry
	for _, e := range entries {
		if cmp.Or(e.Written.Day(), e.On.From) <= knownBy {
			out = append(out, e)
		}
	}
	return out
}
