package yard

import (
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
)

// OnComputer says on which computer the folder is open, by its word: what
// stands behind the last dash of its writers. It then remembers how the journal
// ended, and keeps daily copies, in files of its own, which no other computer
// writes over where the folder is kept alike on several. Without a word, or
// with one that cannot be in a file's name, the files have none. FORMAT.md,
// Several computers.
func (f *Folder) OnComputer(word string) {
	if f.computer = ""; computerForm.MatchString(word) {
		f.computer = word
	}
}

var (
	computerForm = regexp.MustCompile(`^[a-z0-9]{1,24}$`)
	lastForm     = regexp.MustCompile(`^last(?:-([a-z0-9]{1,24}))?\.toml$`)
	copyForm     = regexp.MustCompile(`^journal-((?:mon|tues|wednes|thurs|fri|satur|sun)day)(?:-([a-z0-9]{1,24}))?\.toml$`)
)

// mostComputers is how many computers' memories and copies are looked into, by
// their words' order.
const mostComputers = 16

// fileOf is the name of a file of the program's for a computer.
func fileOf(computer, name string) string {
	if computer == "" {
		return name
	}
	return strings.TrimSuffix(name, ".toml") + "-" + computer + ".toml"
}

// lastName is this computer's lastFile.
func (f *Folder) lastName() string { return fileOf(f.computer, lastFile) }

// copyName is this computer's daily copy.
func (f *Folder) copyName(d Date) string { return fileOf(f.computer, copyName(d)) }

// ownWith are the files in the program's own folder whose names have a form.
func (f *Folder) ownWith(form *regexp.Regexp) map[string]bool {
	list, _ := fs.ReadDir(f.files, ownFolder) // a folder that is not there has none
	names := map[string]bool{}
	for _, e := range list {
		if form.MatchString(e.Name()) {
			names[ownFolder+"/"+e.Name()] = true
		}
	}
	return names
}

// computers are the words in the names of such files, "" for those without one
// first, and this computer last, whether it has any or not.
func (f *Folder) computers(names map[string]bool, form *regexp.Regexp) []string {
	words := map[string]bool{}
	for name := range names {
		m := form.FindStringSubmatch(strings.TrimPrefix(name, ownFolder+"/"))
		words[m[len(m)-1]] = true
	}
	delete(words, f.computer)
	list := slices.Sorted(maps.Keys(words))
	return append(list[:min(len(list), mostComputers)], f.computer)
}

// dailyCopy is a file that holds a daily copy.
type dailyCopy struct {
	name  string
	other bool // of another computer
}

// copies are the daily copies of all computers, those of the newest day last,
// and of one day this computer's last.
func (f *Folder) copies(l last) (out []dailyCopy) {
	newest, err := ParseDate(l.Copied)
	if err != nil {
		newest = f.today
	}
	names := f.ownWith(copyForm)
	words := f.computers(names, copyForm)
	for i := range daysOfWeek {
		day := newest - Date(daysOfWeek-1-i)
		for _, w := range words {
			c := dailyCopy{fileOf(w, copyName(day)), w != f.computer && w != ""}
			if names[c.name] || w == f.computer {
				out = append(out, c)
			}
		}
	}
	return out
}

// numbersElsewhere are the highest numbers by writer that the memories of other
// computers, and one that an older program left, have.
func (f *Folder) numbersElsewhere() map[string]int {
	numbers := map[string]int{}
	names := f.ownWith(lastForm)
	for _, w := range f.computers(names, lastForm) {
		var l last
		if w == f.computer || readOwn(f.files, fileOf(w, lastFile), &l) != nil {
			continue
		}
		for writer, n := range l.Numbers {
			numbers[writer] = max(n, numbers[writer])
		}
	}
	return numbers
}

// staleCopies is after how many days a copy that another computer left, and of
// which everything is in the journal, is taken away.
const staleCopies = 30

// dropStale takes away copies of computers that no longer write here, and
// those without a word that an older program left. What only they have stays.
func (a *appender) dropStale() {
	if a.f.computer == "" {
		return
	}
	journal, err := a.f.bytesOf(JournalFile)
	if err != nil {
		return
	}
	in, terms := a.f.lackingIn(journal, nil), a.f.Terms()
	for _, c := range a.f.copies(a.last) {
		own := copyForm.FindStringSubmatch(strings.TrimPrefix(c.name, ownFolder+"/"))[2] == a.f.computer
		old, err := a.f.bytesOf(c.name)
		if own || err != nil || len(old) == 0 || a.now.Day()-lastWritten(old) <= staleCopies {
			continue
		}
		if in.entries == nil {
			in.entries = readJournal(journal, &terms).entries
		}
		lack := in.of(c.name, old)
		if len(lack.onlyThere()) == 0 && len(byHandOnly(old, in.entries, &terms)) == 0 && a.keepChanged(lack.changed) {
			_ = a.f.files.Remove(c.name) // tomorrow again
		}
	}
}

// lastWritten is the latest day on which an entry of a journal was written.
func lastWritten(b []byte) (day Date) {
	for _, m := range writtenDay.FindAllSubmatch(b, -1) {
		if d, err := ParseDate(string(m[1])); err == nil {
			day = max(day, d)
		}
	}
	return day
}

var writtenDay = regexp.MustCompile(`(?m)^[ \t]*written[ \t]*=[ \t]*(\d{4}-\d{2}-\d{2})T`)
