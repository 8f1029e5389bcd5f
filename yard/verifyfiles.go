package yard

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// oddFiles points at what programs that keep folders alike, or version
// control, leave behind where two copies were changed apart.
func (f *Folder) oddFiles() []Problem {
	return slices.Concat(f.noFolder(), f.marked(), f.otherCopies(), f.setAside())
}

// noFolder points at a file in the place of the program's own folder: nothing
// can be recorded beside it.
func (f *Folder) noFolder() []Problem {
	if info, err := fs.Stat(f.files, ownFolder); err != nil || info.IsDir() {
		return nil // it is made when it is first needed
	}
	return []Problem{{File: ownFolder, Grade: Aside, Text: "it is a file, not a folder, and nothing can be recorded",
		Remedy: "delete or rename it: the program makes the folder anew"}}
}

// marked points at marks in the weather table; those of the other files are
// told where they are read.
func (f *Folder) marked() []Problem {
	b, err := readBounded(f.files, WeatherFile, mostJournal)
	if err != nil {
		return nil // told where the file is read
	}
	s := twoSides{marks: marksIn(b)}
	return s.problems(WeatherFile, "of each such place keep what is right, and take the three lines of signs out")
}

// withoutMarked leaves out what is wrong only because of the marks.
func (f *Folder) withoutMarked(problems []Problem) []Problem {
	between := map[string][][2]int{} // first line, and the one behind the last
	for _, name := range []string{JournalFile, YardFile, RecipesFile, WeatherFile} {
		b, err := readBounded(f.files, name, mostJournal)
		if err != nil {
			continue
		}
		for _, m := range marksIn(b) {
			first := m.line + 1
			if name == WeatherFile {
				first = m.line // the mark was read as a day
			}
			if m.to >= 0 {
				between[name] = append(between[name], [2]int{first, m.line + bytes.Count(b[m.from:m.to], []byte("\n"))})
			}
		}
	}
	return slices.DeleteFunc(problems, func(p Problem) bool {
		return slices.ContainsFunc(between[p.File], func(r [2]int) bool { return p.Line >= r[0] && p.Line < r[1] })
	})
}

// Bounds of the search for other versions of the journal.
const (
	mostCopies  = 50       // files that are looked into
	largestCopy = 16 << 20 // bytes of one of them
)

// otherCopies points at files beside the journal that hold entries of this
// yard, and at second ones of the other files: where a folder is kept alike on
// two computers and both were changed, one version is laid beside the other
// under a name of its own. FORMAT.md, Other versions.
func (f *Folder) otherCopies() (out []Problem) {
	looked := 0
	for _, dir := range []string{".", ownFolder} {
		list, err := fs.ReadDir(f.files, dir)
		if err != nil {
			continue // a folder that is not there has none
		}
		for _, e := range list {
			name := strings.TrimPrefix(dir+"/"+e.Name(), "./")
			info, err := fs.Stat(f.files, name)
			if err != nil || !info.Mode().IsRegular() || isOurs(name) || f.same(info) {
				continue
			}
			if original := secondOf(name); original != "" {
				out = append(out, secondFile(name, original))
				continue
			}
			if !mayBeJournal(name) || info.Size() > largestCopy {
				continue
			}
			if looked++; looked > mostCopies {
				return out
			}
			if p, ok := f.otherJournal(name); ok {
				out = append(out, p)
			}
		}
	}
	return out
}

// same reports whether a file is one of the yard's own under another name: by
// a link, or where capitals make no difference.
func (f *Folder) same(info fs.FileInfo) bool {
	for _, name := range []string{JournalFile, YardFile, RecipesFile, WeatherFile} {
		if own, err := fs.Stat(f.files, name); err == nil && os.SameFile(own, info) {
			return true
		}
	}
	return false
}

// mayBeJournal reports whether a file is worth a look by its name: one that
// has the journal's in it, in whatever way, and any other TOML in the folder.
func mayBeJournal(name string) bool {
	return strings.Contains(strings.ToLower(path.Base(name)), "journal") || path.Dir(name) == "." && strings.EqualFold(path.Ext(name), ".toml")
}

// Files that have their name by the layout of a yard: in the folder itself,
// and in the program's own.
var (
	ourNames = regexp.MustCompile(`^(?:\..*|(?:yard|recipes|journal)\.toml|weather\.csv|weather-before-.*` +
		`|journal-torn-\d{4}-\d{2}-\d{2}(?:-\d+)?\.toml|journal-kept-\d+\.toml)$`)
	ownNames = regexp.MustCompile(`^(?:\..*|journal-(?:mon|tues|wednes|thurs|fri|satur|sun)day(?:-[a-z0-9]{1,24})?\.toml|journal-before-\d{4}-\d{2}-\d{2}(?:-\d+)?\.toml)$`)
)

// isOurs reports whether a file has its name by the layout of a yard.
func isOurs(name string) bool {
	if own, inside := strings.CutPrefix(name, ownFolder+"/"); inside {
		return ownNames.MatchString(own)
	}
	return ourNames.MatchString(name)
}

// secondOf is the file of which another one seems to be a second version, by
// its name: "recipes (1).toml" is one of recipes.toml, and so is "Copy of
// recipes.toml" or "recipes.toml.orig".
func secondOf(name string) string {
	lower := strings.ToLower(path.Base(name))
	for _, original := range []string{YardFile, RecipesFile, WeatherFile} {
		ext := path.Ext(original)
		stem := strings.TrimSuffix(original, ext)
		at := strings.Index(lower, stem)
		if at < 0 || at > 0 && isLetter(lower[at-1]) && lower[at-1] != '_' {
			continue
		}
		rest := lower[at+len(stem):]
		if strings.HasPrefix(rest, ext) || strings.HasSuffix(rest, ext) && (!isLetter(rest[0]) || rest[0] == '_') {
			return original
		}
	}
	return ""
}

func secondFile(name, original string) Problem {
	p := Problem{File: name, Grade: Odd, Text: fmt.Sprintf("this seems to be another version of %s, and is not read", original),
		Remedy: "compare the two, bring what is missing into " + original + ", then delete this one"}
	if original == WeatherFile {
		p.Remedy = fmt.Sprintf("`hodaba import weather %s` shows what it has and %s has not; then delete it", CommandPath(name), original)
	}
	return p
}

// otherJournal looks whether a file holds entries of this yard.
func (f *Folder) otherJournal(name string) (Problem, bool) {
	b, err := readBounded(f.files, name, mostJournal)
	if err != nil || notLines(b) != nil || !utf8.Valid(b) {
		return Problem{}, false
	}
	terms := f.Terms()
	there := readJournal(b, &terms)
	written := 0
	for _, e := range there.entries {
		if e.Event != nil && e.Written != "" {
			written++
		}
	}
	if written == 0 {
		return Problem{}, false
	}
	t := layWithout(f.journal(), there, name, f.left(), nil)
	way := "`hodaba merge " + CommandPath(name) + "`"
	if n := len(t.Taken); n > 0 {
		return Problem{File: name, Grade: Aside, Text: fmt.Sprintf("another version of the journal lies beside it; entries that only it has: %d", n),
			Remedy: way + " takes them over; then delete it"}, true
	}
	if t.LeftOut() {
		return Problem{File: name, Grade: Odd, Text: "another version of the journal lies beside it, and says some things otherwise", Remedy: way + " shows what"}, true
	}
	return Problem{File: name, Grade: Odd, Text: "another version of the journal lies beside it; everything in it is in the journal, too", Remedy: "delete it"}, true
}
