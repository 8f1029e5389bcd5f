package yard

import "io/fs"

// inTheWay points at a folder in the place of a file of the program's own: all
// else there is replaced.
func (f *Folder) inTheWay(name string) (Problem, bool) {
	info, err := fs.Stat(f.files, name)
	if err != nil || !info.IsDir() {
		return Problem{}, false
	}
	so := "entries are recorded, but nothing could bring back what an editor writes over"
	switch name {
	case f.lastName():
		so = "entries are recorded, but the journal is read through each time"
	case leftFile:
		so = "what was left out on purpose is missed again"
	}
	return Problem{File: name, Grade: Odd, Text: "it is a folder and no file: " + so, Remedy: "move it out of the way, or delete it; the file is made anew"}, true
}

// oddOwn points at folders in the place of files of the program's own.
func (f *Folder) oddOwn() (out []Problem) {
	names := []string{f.lastName(), leftFile}
	for day := range Date(daysOfWeek) {
		names = append(names, f.copyName(day))
	}
	for _, name := range names {
		if p, odd := f.inTheWay(name); odd {
			out = append(out, p)
		}
	}
	return out
}
