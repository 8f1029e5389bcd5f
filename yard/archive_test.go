package yard

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func packed(t testing.TB, f *Folder) ([]byte, []string) {
	t.Helper()
	a, leftOut, err := f.Pack(t.Context(), may)
	if err != nil {
		t.Fatal(err)
	}
	b, err := a.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return b, leftOut
}

// An archive restores the files of a yard bit for bit, and nothing else goes
// into it.
func TestArchiveRestores(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	record(t, f, walk(t, f))
	for name, text := range map[string]string{WeatherFile: "date,tmin_c,tmax_c,rain_mm\r\n2026-04-01,1,9,0\r\n", "journal-torn-2026-04-01.toml": "[[w", "weather-before-2026-04-01.csv": "x",
		"Notes of the yard.TXT": "a\x00b\xff", ".hodaba/writers": "kitchen.example kitchen\n", ".hodaba/journal-before-2026-04-01.toml": "old",
		"pages/index.html": "<html>", "photo.jpg": "x", "plans/2027.txt": "x", ".hidden.toml": "x", ".hodaba/cache/x": "y", ".hodaba/lock": "", "aux.txt": "x", "COM¹.txt": "x", ".DS_Store": "x", ".journal.toml12345": "x", "fern-2026-04-01-2.zip": "x"} {
		m.files[name] = []byte(text)
	}
	b, leftOut := packed(t, f)
	if again, _ := packed(t, f); !bytes.Equal(b, again) {
		t.Error("the same folder gives other bytes")
	}
	if !slices.Equal(leftOut, []string{".hidden.toml", "COM¹.txt", "aux.txt", "photo.jpg", "plans", ".hodaba/cache"}) {
		t.Error(leftOut)
	}
	want := maps.Clone(m.files)
	for _, name := range []string{"pages/index.html", "photo.jpg", "plans/2027.txt", ".hidden.toml", ".hodaba/cache/x", ".hodaba/lock", "aux.txt", "COM¹.txt", ".DS_Store", ".journal.toml12345", "fern-2026-04-01-2.zip"} {
		delete(want, name)
	}
	want[archivedFile] = archivedText(may)
	a, err := ReadArchive(bytes.NewReader(b))
	if err != nil || a.Made != may {
		t.Fatal(err)
	}
	to := InMemory(nil)
	if err := a.RestoreIn(to, "there"); err != nil {
		t.Fatal(err)
	}
	if !maps.EqualFunc(to.files, want, bytes.Equal) {
		t.Errorf("restored %v\nnot %v", slices.Sorted(maps.Keys(to.files)), slices.Sorted(maps.Keys(want)))
	}
	r := mergeReopen(t, to)
	if day, kept := r.Archived(); day != may || !kept {
		t.Error(day, kept)
	}
	if id, problems := record(t, r, walk(t, r)); id != "kitchen-3" || len(problems) > 0 {
		t.Error(id, problems)
	}
	if err := a.RestoreIn(to, "there"); err == nil || !strings.Contains(err.Error(), "there holds something already") {
		t.Error(err)
	}
}

// On a disk, permissions are sane, and an archive that fails halfway leaves no
// yard behind.
func TestArchiveOnDisk(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	m.files["zones.txt"] = []byte("north, south")
	b, _ := packed(t, f)
	a, err := ReadArchive(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(t.TempDir(), "new", "yard")
	if err := a.Restore(dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range a.Names() {
		info, err := os.Stat(filepath.Join(dir, name))
		if err != nil || info.Mode().Perm()&0o133 != 0 && os.PathSeparator == '/' {
			t.Error(name, err, info.Mode())
		}
	}
	for _, full := range []string{RecipesFile, "zones.txt"} { // one comes before yard.toml by its name, one behind it
		m := InMemory(nil)
		m.Fault = func(op, name string) error {
			if op == "replace" && name == full {
				return errors.New("disk full")
			}
			return nil
		}
		if err := a.RestoreIn(m, "there"); err == nil || !strings.Contains(err.Error(), "delete it and try again") || m.Text(YardFile) != "" {
			t.Errorf("%s: %v", full, err)
		}
	}
	if err := a.Restore(filepath.Join(dir, YardFile)); err == nil || !strings.Contains(err.Error(), "is a file, not a folder") {
		t.Error(err)
	}
}

// zipped is a zip file of these headers.
func zipped(t testing.TB, members ...any) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(members); i += 2 {
		h, ok := members[i].(*zip.FileHeader)
		if !ok {
			h = &zip.FileHeader{Name: members[i].(string), Method: zip.Deflate}
		}
		to, err := w.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := to.Write([]byte(members[i+1].(string))); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func moded(name string, mode fs.FileMode) *zip.FileHeader {
	h := &zip.FileHeader{Name: name}
	h.SetMode(mode)
	return h
}

// Archives that would write elsewhere, or too much, are refused whole.
func TestHostileArchives(t *testing.T) {
	good := []any{YardFile, smallYard, JournalFile, mendWhole}
	with := func(more ...any) []byte { return zipped(t, append(slices.Clone(good), more...)...) }
	var many []any
	for i := range 1000 {
		many = append(many, "notes-"+strings.Repeat("x", i%90)+string(rune('a'+i%26))+".txt", "")
	}
	bomb := with("notes.txt", strings.Repeat("\x00", mostArchived+1))
	bombs := with("a.txt", "", "b.txt", "", "c.txt", "", "d.txt", "", "e.txt", "")
	for at := 0; ; at++ {
		next := bytes.Index(bombs[at:], []byte("PK\x01\x02"))
		if next < 0 {
			break
		}
		at += next
		binary.LittleEndian.PutUint32(bombs[at+24:], mostArchived) // each says it fills the most of one file
	}
	lying := with("notes.txt", strings.Repeat("\x00", 1<<20))
	at := bytes.LastIndex(lying, []byte("PK\x01\x02"))
	binary.LittleEndian.PutUint32(lying[at+24:], 10) // says ten bytes, holds a million
	damaged := with()
	damaged[60] ^= 0xff
	prefixed := append([]byte("#!/bin/sh\nexit\n"), with()...)
	for name, c := range map[string]struct {
		b    []byte
		want string
	}{
		"up and out":           {with("../evil.toml", "x"), `a yard has no file "../evil.toml"`},
		"up in between":        {with(".hodaba/../../evil.toml", "x"), "a yard has no file"},
		"backslashes":          {with(`..\evil.toml`, "x"), "a yard has no file"},
		"an absolute path":     {with("/etc/evil.toml", "x"), "a yard has no file"},
		"a drive":              {with("C:evil.toml", "x"), "a yard has no file"},
		"a subfolder":          {with("plans/a.toml", "x"), "a yard has no file"},
		"a program":            {with("run.sh", "x"), "a yard has no file"},
		"hidden":               {with(".bashrc", "x"), "a yard has no file"},
		"the lock":             {with(".hodaba/lock", "x"), "a yard has no file"},
		"a device":             {with("nul.txt", "x"), "a yard has no file"},
		"one with a raised 1":  {with("COM¹.txt", "x"), "a yard has no file"},
		"the keyboard":         {with("CONIN$.txt", "x"), "a yard has no file"},
		"another device":       {with("COM1.toml", "x"), "a yard has no file"},
		"a zero byte":          {with("a\x00.toml", "x"), "a yard has no file"},
		"a stream":             {with("a.toml:b.toml", "x"), "a yard has no file"},
		"a point at the end":   {with("a.toml.", "x"), "a yard has no file"},
		"a very long name":     {with(strings.Repeat("a", 300)+".toml", "x"), "a yard has no file"},
		"a folder":             {with("plans/", ""), "a yard has no file"},
		"a folder like a file": {with(moded("plans.toml", fs.ModeDir|0o755), ""), "is no plain file"},
		"a link":               {with(moded("link.toml", fs.ModeSymlink|0o777), "/etc/passwd"), `"link.toml" is no plain file`},
		"a pipe":               {with(moded("pipe.toml", fs.ModeNamedPipe|0o644), ""), "is no plain file"},
		"one name twice":       {with(JournalFile, "x"), "stands in it twice"},
		"names alike":          {with("Journal.TOML", "x"), "stands in it twice"},
		"thousands":            {with(many...), "it lists 1002 files"},
		"a bomb":               {bomb, "is too large"},
		"many bombs":           {bombs, "larger than 256 MB together"},
		"a bomb that lies":     {lying, "cannot be read"},
		"damaged":              {damaged, "it may be damaged"},
		"cut short":            {with()[:200], "it may be cut short"},
		"something before it":  {prefixed, "its list of files is not where it says"},
		"no zip at all":        {[]byte("Dear all,\n"), "does not end like one"},
		"nothing":              {nil, "does not end like one"},
		"no yard":              {zipped(t, JournalFile, mendWhole), "there is no yard.toml in it"},
		"empty":                {zipped(t), "there is no yard.toml in it"},
		"larger than any":      {bytes.Repeat([]byte{0}, mostArchive+1), "larger than 64 MB"},
	} {
		a, err := ReadArchive(bytes.NewReader(c.b))
		if err == nil || a != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := ReadArchive(bytes.NewReader(with(".hodaba/", "", "notes.txt", ""))); err != nil {
		t.Errorf("packed again by another program: %v", err)
	}
}

func TestPackRefuses(t *testing.T) {
	f, m := yardOf(t, mendWhole)
	m.files["Notes.txt"], m.files["notes.txt"] = []byte("a"), []byte("b")
	if _, _, err := f.Pack(t.Context(), may); err == nil || !strings.Contains(err.Error(), "Notes.txt and notes.txt differ only by capitals or in how") {
		t.Error(err)
	}
	f, m = yardOf(t, mendWhole)
	for i := range mostMembers {
		m.files[fmt.Sprintf("n%d.txt", i)] = nil
	}
	if _, _, err := f.Pack(t.Context(), may); err == nil || !strings.Contains(err.Error(), "more than the 200") {
		t.Error(err)
	}
	f, m = yardOf(t, mendWhole)
	m.Fault = func(op, name string) error {
		if op == "open" && name == JournalFile {
			return errors.New("bad sector")
		}
		return nil
	}
	if _, _, err := f.Pack(t.Context(), may); err == nil || !strings.Contains(err.Error(), "no archive was made: reading journal.toml: ") {
		t.Error(err)
	}
}

func TestArchivedDay(t *testing.T) {
	f, m := yardOf(t, "")
	if day, kept := f.Archived(); day != 0 || kept {
		t.Error(day, kept)
	}
	if err := f.NoteArchived(may); err != nil {
		t.Fatal(err)
	}
	if day, _ := f.Archived(); day != may {
		t.Error(day)
	}
	m.files[archivedFile] = archivedText(may + 1) // by a clock that was wrong
	if day, _ := f.Archived(); day != 0 {
		t.Error(day)
	}
	m.files[archivedFile] = []byte("soon\n\xff")
	if day, _ := f.Archived(); day != 0 {
		t.Error(day)
	}
}

// Whatever is given as an archive, reading it never panics, and what it holds
// are files of a yard that fit into one again.
func FuzzReadArchive(f *testing.F) {
	f.Add(zipped(f, YardFile, smallYard, JournalFile, mendWhole, ".hodaba/last.toml", "size = 1"))
	f.Add(zipped(f, YardFile, smallYard, "../x.toml", "x"))
	f.Add(zipped(f))
	f.Add([]byte("PK\x05\x06" + strings.Repeat("\x00", 18)))
	f.Fuzz(func(t *testing.T, b []byte) {
		a, err := ReadArchive(bytes.NewReader(b))
		if err != nil {
			return
		}
		for _, name := range a.Names() {
			if memberName(name) != nil || strings.Contains(name, "..") || strings.HasPrefix(name, "/") {
				t.Fatalf("%q", name)
			}
		}
		again, err := a.Bytes()
		if err != nil {
			t.Fatal(err)
		}
		if back, err := ReadArchive(bytes.NewReader(again)); err != nil || !back.Equal(a) {
			t.Fatal(err)
		}
	})
}
