package yard

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// An archive is one zip file with what would be missed of a yard:
//
//	yard.toml, recipes.toml, journal.toml, weather.csv
//	any other *.toml, *.csv, *.txt and *.md of the folder itself
//	.hodaba/journal-*.toml   daily copies, and what --mend kept
//	.hodaba/last-*.toml      how the journal ended
//	.hodaba/changed-by-hand-*.toml  what entries said before
//	.hodaba/left-out.toml    entries taken out on purpose
//	.hodaba/writers          which computer writes under which name
//	.hodaba/archived         on which day the archive was made
//
// Names are as in the folder, without a folder in front; there are no folders,
// links or times in it, and of permissions the owner's. Links are followed for
// the first four alone. What else lies in the folder is left out and named, but
// for what may be thrown away. Unpacked with any program it is a yard again.

// Bounds of an archive, when it is written and when it is read.
const (
	mostArchive    = 64 << 20 // bytes of the zip file
	mostUnpacked   = 256 << 20
	mostArchived   = mostJournal // bytes of one file in it
	mostMembers    = 200
	mostDirectory  = 1 << 20 // bytes of the list of files at its end
	longestMember  = 200     // bytes of a name
	endOfDirectory = 22      // bytes of the record that closes a zip without a remark
)

// archivedFile tells on which day the folder was last put into an archive.
const archivedFile = ownFolder + "/archived"

// Archive is what an archive holds, file by file.
type Archive struct {
	Made  Date // zero: not known
	files map[string][]byte
	owner map[string]fs.FileMode // files that others may not read
}

// Names are the files of an archive, in order.
func (a *Archive) Names() []string {
	names := make([]string, 0, len(a.files))
	for n := range a.files {
		names = append(names, n)
	}
	slices.Sort(names)
	return names
}

// Pack gathers what goes into an archive of the folder, as of a day. leftOut
// are files and folders beside the yard's own that are not taken.
func (f *Folder) Pack(ctx context.Context, today Date) (a *Archive, leftOut []string, err error) {
	if !f.Later() { // nothing is written into such a folder, not even a lock
		unlock, err := f.lock(ctx)
		if err != nil {
			return nil, nil, undone("no archive was made", err)
		}
		defer unlock()
	}
	a = &Archive{Made: today, files: map[string][]byte{archivedFile: archivedText(today)}, owner: map[string]fs.FileMode{}}
	for _, dir := range []string{".", ownFolder} {
		list, err := fs.ReadDir(f.files, dir)
		if err != nil && !(dir == ownFolder && errors.Is(err, fs.ErrNotExist)) {
			return nil, nil, fmt.Errorf("no archive was made: %w", err)
		}
		for _, e := range list {
			name := strings.TrimPrefix(dir+"/"+e.Name(), "./")
			switch {
			case name == archivedFile:
			case e.Type()&fs.ModeSymlink != 0 && !mayBeLink(name):
				leftOut = append(leftOut, name+" (a link)")
			case memberName(name) == nil && !noFile(f.files, name):
				if err := a.add(f.files, name); err != nil {
					return nil, nil, undone("no archive was made", err)
				}
			case !passing(name):
				leftOut = append(leftOut, name)
			}
		}
	}
	if err := f.journalIn(a); err != nil {
		return nil, nil, err
	}
	var copies []string
	for _, c := range f.copies(last{Copied: today.String()}) {
		copies = append(copies, c.name)
	}
	leftOut = append(leftOut, a.lighten(copies)...)
	return a, leftOut, a.fits()
}

// mayBeLink reports whether a file of the folder may be a link that an archive
// follows: the yard's own files may lie on another disk. Any other link could
// lead to what is nobody's business.
func mayBeLink(name string) bool {
	return slices.Contains([]string{YardFile, RecipesFile, JournalFile, WeatherFile}, name)
}

// passing reports whether nothing is lost with a file or folder: it is made
// again, here or by a program that shows folders, is left from a program that
// was stopped, or is an archive itself.
func passing(name string) bool {
	if slices.Contains([]string{".ds_store", "thumbs.db", "desktop.ini"}, strings.ToLower(name)) {
		return true
	}
	return slices.Contains([]string{pagesFolder, ownFolder, lockFile, nextFile}, name) || earlierArchive.MatchString(name) || leftover.MatchString(path.Base(name))
}

// earlierArchive is how an archive is called where nobody says otherwise.
var earlierArchive = regexp.MustCompile(`-\d{4}-\d{2}-\d{2}(-\d+)?\.zip$`)

// pagesFolder holds what was rendered.
const pagesFolder = "pages"

// noFile reports whether something is no plain file, or a link that leads
// nowhere: nothing that an archive could hold.
func noFile(files fs.FS, name string) bool {
	err := plain(files, name)
	return errors.As(err, &mistake{}) || errors.Is(err, fs.ErrNotExist)
}

// journalIn makes sure that the journal is in an archive, if there ever was
// one: without it nobody would want the archive back.
func (f *Folder) journalIn(a *Archive) error {
	if _, ok := a.files[JournalFile]; ok {
		return nil
	}
	err := plain(f.files, JournalFile)
	if !errors.Is(err, fs.ErrNotExist) {
		p := unreadable(JournalFile, err)
		return mistake{"no archive was made: " + JournalFile + ": " + p.Text, p.Remedy}
	}
	for name := range a.files {
		if lastForm.MatchString(strings.TrimPrefix(name, ownFolder+"/")) || strings.HasPrefix(name, ownFolder+"/journal-") {
			return mistake{"no archive was made: there is no " + JournalFile + ", and " + name + " shows that there was one",
				"`put-back` brings back what the daily copies have of it; or put a copy of it in its place"}
		}
	}
	return nil
}

// lighten leaves daily copies out of an archive that would be too large, the
// oldest first, and returns their names.
func (a *Archive) lighten(copies []string) (leftOut []string) {
	for _, name := range copies {
		if _, ok := a.files[name]; !ok || a.size() <= mostUnpacked {
			continue
		}
		delete(a.files, name)
		leftOut = append(leftOut, name)
	}
	return leftOut
}

// size is how many bytes the files of an archive have.
func (a *Archive) size() (n int) {
	for _, b := range a.files {
		n += len(b)
	}
	return n
}

func (a *Archive) add(files fs.FS, name string) error {
	b, err := readBounded(files, name, mostArchived)
	if err != nil {
		return fmt.Errorf("reading %s: %w", name, err)
	}
	a.files[name] = b
	if info, err := fs.Stat(files, name); err == nil && info.Mode().Perm()&0o044 == 0 {
		a.owner[name] = info.Mode().Perm() & 0o600
	}
	return nil
}

// fits refuses what could not be read back.
func (a *Archive) fits() error {
	seen := map[string]string{}
	for name := range a.files {
		if other, twice := seen[folded(name)]; twice {
			return mistake{fmt.Sprintf("%s and %s differ only by capitals or in how they are stored, and one would be lost on some computers", min(name, other), max(name, other)), "give one of them another name"}
		}
		seen[folded(name)] = name
	}
	switch {
	case len(a.files) > mostMembers:
		return mistake{fmt.Sprintf("the folder holds %d files, more than the %d that fit an archive", len(a.files), mostMembers), "move what is not the yard's out of it"}
	case a.size() > mostUnpacked:
		return mistake{fmt.Sprintf("the folder holds more than %d MB", mostUnpacked>>20), "move what is not the yard's out of it"}
	}
	return nil
}

// Bytes is the archive as a zip file: the same files give the same bytes.
func (a *Archive) Bytes() ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, name := range a.Names() {
		h := &zip.FileHeader{Name: name, Method: zip.Deflate}
		h.SetMode(0o644)
		if own, ok := a.owner[name]; ok {
			h.SetMode(own | 0o600)
		}
		to, err := w.CreateHeader(h)
		if err == nil {
			_, err = to.Write(a.files[name])
		}
		if err != nil {
			return nil, fmt.Errorf("putting %s into the archive: %w", name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("closing the archive: %w", err)
	}
	if b.Len() > mostArchive {
		return nil, mistake{fmt.Sprintf("the archive would be larger than %d MB", mostArchive>>20), "move what is not the yard's out of the folder"}
	}
	return b.Bytes(), nil
}

// Equal reports whether two archives hold the same files.
func (a *Archive) Equal(b *Archive) bool {
	return slices.Equal(a.Names(), b.Names()) && !slices.ContainsFunc(a.Names(), func(n string) bool { return !bytes.Equal(a.files[n], b.files[n]) })
}

// ReadArchive reads an archive, and refuses as a whole one that holds anything
// but the files of a yard: other names, paths that lead elsewhere, links, one
// name twice, or more than a yard has.
func ReadArchive(r io.Reader) (*Archive, error) {
	b, err := io.ReadAll(io.LimitReader(r, mostArchive+1))
	if err != nil {
		return nil, fmt.Errorf("reading the archive: %w", err)
	}
	if len(b) > mostArchive {
		return nil, noArchive("it is larger than %d MB", mostArchive>>20)
	}
	if err := directoryFits(b); err != nil {
		return nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return nil, damagedZip(b, "it cannot be read (%v)", err)
	}
	if len(z.File) > mostMembers {
		return nil, noArchive("it holds %d files", len(z.File))
	}
	a := &Archive{files: map[string][]byte{}, owner: map[string]fs.FileMode{}}
	members := slices.DeleteFunc(z.File, func(m *zip.File) bool {
		return m.Name == ownFolder+"/" && m.UncompressedSize64 == 0 // packed again by another program
	})
	if err := membersFit(members); err != nil {
		return nil, err
	}
	for _, m := range members {
		if a.files[m.Name], err = unpack(m); err != nil {
			return nil, damagedZip(b, "%s %v", shown(m.Name), err)
		}
		if m.Mode().Perm()&0o777 == 0o600 {
			a.owner[m.Name] = 0o600
		}
	}
	if _, ok := a.files[YardFile]; !ok {
		return nil, noArchive("there is no %s in it", YardFile)
	}
	a.Made = archivedDay(a.files[archivedFile])
	return a, nil
}

func noArchive(format string, args ...any) error {
	return mistake{"this is no archive of a yard: " + fmt.Sprintf(format, args...), "name one that `export --all` wrote"}
}

// damagedArchive is an archive of which something cannot be read any more.
type damagedArchive struct{ mistake }

// Damaged reports whether the error of ReadArchive is of one that was an
// archive and is damaged, and not of something else.
func Damaged(err error) bool { return errors.As(err, &damagedArchive{}) }

// damagedZip says what is damaged in a file that begins as an archive does;
// anything else is none.
func damagedZip(b []byte, format string, args ...any) error {
	if !bytes.HasPrefix(b, []byte("PK\x03\x04")) {
		return noArchive(format, args...)
	}
	return damagedArchive{mistake{"the archive is damaged: " + fmt.Sprintf(format, args...),
		"take another archive of the yard; without one, a program that unpacks a zip may rescue the other files: unpack it into a new folder, and look at that with hodaba verify"}}
}

// directoryFits looks at the record that closes a zip file before anything is
// made of it: the list of files must be short, and end where the file does.
func directoryFits(b []byte) error {
	if len(b) < endOfDirectory || !bytes.HasPrefix(b[len(b)-endOfDirectory:], []byte("PK\x05\x06")) {
		return damagedZip(b, "it does not end like one; it may be cut short")
	}
	end := b[len(b)-endOfDirectory:]
	members := int64(binary.LittleEndian.Uint16(end[10:]))
	size, offset := int64(binary.LittleEndian.Uint32(end[12:])), int64(binary.LittleEndian.Uint32(end[16:]))
	if members > mostMembers || size > mostDirectory {
		return noArchive("it lists %d files", members)
	}
	if offset+size+endOfDirectory != int64(len(b)) {
		return damagedZip(b, "its list of files is not where it says")
	}
	return nil
}

// membersFit refuses files by what the archive says of them, before any of
// them is unpacked.
func membersFit(members []*zip.File) error {
	sum := uint64(0)
	seen := map[string]bool{}
	for _, m := range members {
		if err := memberName(m.Name); err != nil {
			return err
		}
		folded := folded(m.Name)
		switch {
		case !m.Mode().IsRegular():
			return noArchive("%s is no plain file", shown(m.Name))
		case seen[folded]:
			return noArchive("%s stands in it twice", shown(m.Name))
		case m.UncompressedSize64 > mostArchived:
			return noArchive("%s is too large", shown(m.Name))
		}
		seen[folded] = true
		if sum += m.UncompressedSize64; sum > mostUnpacked {
			return noArchive("its files are larger than %d MB together", mostUnpacked>>20)
		}
	}
	return nil
}

// memberKinds are the kinds of files that a grower keeps in the folder itself.
var memberKinds = []string{".toml", ".csv", ".txt", ".md"}

// memberName refuses a name that no file of a yard has.
func memberName(name string) error {
	dir, base := path.Split(name)
	ok := len(name) <= longestMember && validText(name) && printable(name) && !strings.ContainsFunc(name, formats) && !strings.ContainsAny(name, "\\:*?\"<>|\t\n") && fs.ValidPath(name) &&
		strings.TrimRight(base, ". ") == base
	switch dir {
	case "":
		ok = ok && !strings.HasPrefix(base, ".") && slices.Contains(memberKinds, strings.ToLower(path.Ext(base))) && !reserved(base)
	case ownFolder + "/":
		ok = ok && (slices.Contains([]string{hostsFile, archivedFile, leftOutFile}, name) || lastForm.MatchString(base) || changedForm.MatchString(base) || strings.HasPrefix(base, "journal-") && path.Ext(base) == ".toml")
	default:
		ok = false
	}
	if !ok {
		return noArchive("a yard has no file %s", shown(name))
	}
	return nil
}

// formats reports whether a letter only changes how others are shown: with one
// a name can be read as another.
func formats(r rune) bool { return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) }

// hostsFile tells which computer writes under which name.
const hostsFile = ownFolder + "/writers"

// leftOutFile tells which entries were taken out of the journal on purpose.
const leftOutFile = ownFolder + "/left-out.toml"

// reserved reports whether a name stands for a device on some computers.
func reserved(base string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(base), ".")
	stem = strings.NewReplacer("¹", "1", "²", "2", "³", "3").Replace(strings.TrimSpace(stem))
	if len(stem) == 4 && (strings.HasPrefix(stem, "com") || strings.HasPrefix(stem, "lpt")) {
		return stem[3] >= '0' && stem[3] <= '9'
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul", "conin$", "conout$", "clock$"}, stem)
}

// unpack reads one file, and no more of it than the archive says it has.
func unpack(m *zip.File) ([]byte, error) {
	r, err := m.Open()
	if err != nil {
		return nil, fmt.Errorf("cannot be read (%w)", err)
	}
	defer r.Close()
	b, err := io.ReadAll(io.LimitReader(r, int64(m.UncompressedSize64)+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("cannot be read (%w): it may be damaged", err)
	case uint64(len(b)) > m.UncompressedSize64:
		return nil, errors.New("is larger than it says")
	}
	return b, nil
}

// Restore makes a yard of an archive in a folder on the disk, which is made if
// it is missing. A folder that holds anything but hidden files is refused.
func (a *Archive) Restore(dir string) error {
	if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return mistake{dir + " is a file, not a folder", "name another folder"}
	}
	disk := diskAt(dir)
	if err := disk.makeFolders(dir); err != nil {
		return fmt.Errorf("making the folder of the yard: %w", err)
	}
	return a.RestoreIn(disk, dir)
}

// RestoreIn is Restore for files that need not lie on a disk. yard.toml comes
// last, so that a half-written folder is not taken for a yard.
func (a *Archive) RestoreIn(files Files, dir string) error {
	list, err := fs.ReadDir(files, ".")
	if err != nil {
		return fmt.Errorf("looking into %s: %w", dir, err)
	}
	for _, e := range list {
		if !strings.HasPrefix(e.Name(), ".") || e.Name() == ownFolder {
			return mistake{fmt.Sprintf("%s holds something already, such as %s", dir, e.Name()), "name a new folder, or an empty one"}
		}
	}
	names := slices.DeleteFunc(a.Names(), func(n string) bool { return n == YardFile })
	for _, name := range append(names, YardFile) {
		if err := files.Replace(name, a.files[name]); err != nil {
			if name == YardFile && exists(files, YardFile) { // it stands there, and the disk would not say that it keeps it
				err = errors.Join(err, files.Remove(YardFile))
			}
			return fmt.Errorf("writing %s: %w: the folder is not whole; delete it and try again", name, err)
		}
		if d, ok := files.(disk); ok && a.owner[name] != 0 {
			if err := os.Chmod(d.path(name), a.owner[name]); err != nil {
				return fmt.Errorf("closing %s to others: %w: the folder is whole; look at its permissions", name, err)
			}
		}
	}
	return nil
}

// NoteArchived remembers the day on which the folder was put into an archive.
func (f *Folder) NoteArchived(today Date) error {
	if err := f.files.Replace(archivedFile, archivedText(today)); err != nil {
		return fmt.Errorf("noting the day of the archive: %w", err)
	}
	return nil
}

// Archived is the day on which the folder was last put into an archive, zero
// where it never was, and where it is said to be a day that is still to come,
// as of a clock that was wrong; kept says whether the program has ever written in the
// folder, so that there is something to lose that stands nowhere else.
func (f *Folder) Archived() (day Date, kept bool) {
	b, err := readBounded(f.files, archivedFile, mostSettings)
	if err != nil {
		b = nil
	}
	if day = archivedDay(b); day > f.today {
		day = 0
	}
	return day, len(f.ownWith(lastForm)) > 0
}

func archivedText(day Date) []byte {
	return []byte("# The day on which the folder was last put into one archive.\n" + day.String() + "\n")
}

// archivedDay reads it; zero where it cannot be read.
func archivedDay(b []byte) Date {
	for l := range strings.Lines(string(b)) {
		if d, err := ParseDate(strings.TrimSpace(l)); err == nil {
			return d
		}
	}
	return 0
}
