package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"hodaba/charts"
	"hodaba/yard"
)

// mostBeside is how many names are tried for an archive beside a better one.
const mostBeside = 1000

// archivePlace refuses a place where something else would be lost, or where no
// disk is: a folder that is missing is more likely a stick that is not plugged
// in than one to be made. It returns the archive that is there already.
func archivePlace(path string) (older *yard.Archive, err error) {
	if path == "" {
		return nil, lineWrong("name a file, such as my-yard.zip, or leave it out", "the name of the archive is empty")
	}
	if err := goodFolder(path, "is the disk there? Make the folder, or name another"); err != nil {
		return nil, err
	}
	if info, err := os.Stat(path); err == nil {
		if info.IsDir() {
			return nil, folderWrong("name a file in it, such as "+filepath.Join(path, "my-yard.zip"), "%s is a folder", path)
		}
		if older, err = readArchive(path); err != nil {
			is := "no archive of a yard"
			if yard.Damaged(err) {
				is = "an archive that is damaged"
			}
			return nil, folderWrong("name another file", "%s is there already and is %s: nothing was touched", path, is)
		}
	}
	if !strings.EqualFold(filepath.Ext(path), ".zip") {
		return nil, lineWrong("such as "+yard.CommandPath(path+".zip"), "the name of an archive ends in .zip, and %s does not", path)
	}
	return older, ownPlace(path)
}

// goodFolder makes sure that the folder of a file is there.
func goodFolder(path, remedy string) error {
	if info, err := os.Stat(filepath.Dir(path)); err != nil || !info.IsDir() {
		return folderWrong(remedy, "there is no folder %s", filepath.Dir(path))
	}
	return nil
}

// ownPlace refuses the names that a program reads or writes in the folder of a
// yard, whether such a file is there or not.
func ownPlace(path string) error {
	dir, base := filepath.Split(path)
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	own := strings.EqualFold(filepath.Base(dir), ".hodaba")
	for _, name := range []string{yard.YardFile, yard.JournalFile, ".hodaba"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			own = own || yard.OwnFile(base)
		}
	}
	if own {
		return folderWrong("name another file", "%s is a name of the yard's own, and nothing was written", path)
	}
	return nil
}

// besideBetter is where an archive goes: where it was asked for, or beside it
// if an older one there holds what the new one has not. whole says whether the
// yard lacks nothing that an older archive of it has.
func (a *app) besideBetter(folder *yard.Folder, path string, archive, older *yard.Archive) (place string, whole bool, err error) {
	if older == nil {
		return path, true, nil
	}
	lost := folder.LostIn(archive, older)
	if lost.Nothing() {
		return path, true, nil
	}
	ext := filepath.Ext(path)
	for n := 2; n <= mostBeside; n++ {
		place = fmt.Sprintf("%s-%d%s", strings.TrimSuffix(path, ext), n, ext)
		if _, err := os.Lstat(place); errors.Is(err, fs.ErrNotExist) {
			break
		}
		if there, err := readArchive(place); err == nil && folder.LostIn(archive, there).Nothing() {
			break
		}
		if n == mostBeside {
			return "", false, folderWrong("name another file", "%s holds what the yard has not, and all names beside it are taken", path)
		}
	}
	a.note("%s", a.betterSaid(path, place, lost))
	return place, lost.Other, nil
}

// betterSaid says why an archive stays, and how to get at what is in it.
func (a *app) betterSaid(path, place string, lost yard.WouldLose) string {
	if lost.Other {
		return fmt.Sprintf("%s is the archive of another yard and stays as it is; this one goes into %s", path, place)
	}
	var what []string
	if n := len(lost.Entries); n > 0 {
		names := slices.Clone(lost.Entries[:min(n, 3)])
		if n > len(names) {
			names = append(names, "…")
		}
		what = append(what, fmt.Sprintf("entries that the journal has not: %d (%s)", n, strings.Join(names, ", ")))
	}
	if len(lost.Files) > 0 {
		what = append(what, "files that the folder has not: "+strings.Join(lost.Files, ", "))
	}
	yardFlag := ""
	if a.flags.yard != "" {
		yardFlag = " --yard " + yard.CommandPath(a.flags.yard)
	}
	return fmt.Sprintf("%s holds %s; it stays as it is, and the new archive goes into %s. To have them back: hodaba start NEW-FOLDER --from %s, then hodaba merge NEW-FOLDER%s for the entries",
		path, strings.Join(what, ", and "), place, yard.CommandPath(path), yardFlag)
}

func writeArchive(path string, archive *yard.Archive) error {
	b, err := archive.Bytes()
	if err != nil {
		return folderWrong("", "%s", err)
	}
	if err := writeBeside(path, b); err != nil {
		return folderWrong(writeRemedy(err), "the archive cannot be written: %s", err)
	}
	back, err := readArchive(path)
	if err != nil || !back.Equal(archive) {
		return folderWrong("look at the disk, and write it to another one", "%s was written, and what is read back differs", path)
	}
	return nil
}

// writeBeside writes a whole file anywhere on the disk.
func writeBeside(path string, b []byte) error {
	dir, base := filepath.Split(path)
	return yard.OnDisk(filepath.Clean(dir)).Replace(base, b)
}

// writeRemedy is the way out where a file cannot be written.
func writeRemedy(err error) string {
	if errors.Is(err, syscall.ENOSPC) {
		return "make room on that disk, or name a file on another one"
	}
	return "name a file that can be written"
}

// tablePlace refuses a place where something else would be lost: only an
// earlier table of the same kind may be written over, if no row was added to it
// by hand.
func tablePlace(path, what string, t charts.Table, b []byte) error {
	if err := goodFolder(path, "make it, or name another"); err != nil {
		return err
	}
	if err := ownPlace(path); err != nil {
		return err
	}
	old, err := readPlain(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return folderWrong("name a file that can be written", "%s cannot be written over: %s", path, err)
	}
	if len(old) == 0 {
		return nil
	}
	if firstLine(old) != firstLine(b) {
		return folderWrong("name another file", "%s is there already and is no such table: nothing was touched", path)
	}
	if n := addedRows(old, what, t); n > 0 {
		return folderWrong("name another file", "%s holds rows that the new table has not, such as those that somebody added: %d; nothing was touched", path, n)
	}
	return nil
}

// firstLine is the heading of a table in whatever style it was written.
func firstLine(b []byte) string {
	line, _, _ := strings.Cut(strings.TrimPrefix(string(b), "\ufeff"), "\n")
	return strings.ReplaceAll(strings.TrimSpace(line), ";", ",")
}
