package yard

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"pgregory.net/rapid"
)

const atSix = Moment("2026-05-01T18:02:00")

// walk is an entry of which nothing can go wrong.
func walk(t testing.TB, f *Folder) string {
	t.Helper()
	text, problems := Compose("walked", map[string]string{"on": "2026-04-30"}, f.Terms())
	if text == "" {
		t.Fatal(problems)
	}
	return text
}

func record(t testing.TB, f *Folder, text string) (string, []Problem) {
	t.Helper()
	id, problems, err := f.Record(text, "kitchen", atSix)
	if err != nil {
		t.Fatal(err)
	}
	return id, problems
}

// What Compose makes of typed values is read back into the same values.
func TestComposeRoundTrip(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may, Measures: baskets}
	word := rapid.StringMatching(`[a-z"\\#'\[\]= äß½,]{1,12}`)
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		v := examples(k)
		if other := otherExamples(k); other != nil && rapid.Bool().Draw(t, "the other") {
			v = other
		}
		for _, key := range k.Keys {
			switch {
			case !key.Required && rapid.Bool().Draw(t, "leave out "+key.Name):
				delete(v, key.Name)
			case key.Kind == TextKey || key.Kind == NewPileKey || key.Kind == LotKey:
				if s := strings.TrimSpace(word.Draw(t, key.Name)); s != "" && v[key.Name] != "" {
					v[key.Name] = s
				}
			case key.Kind == CountKey && v[key.Name] != "":
				v[key.Name] = fmt.Sprint(rapid.IntRange(0, 500).Draw(t, key.Name))
			case key.Kind == DayKey && v[key.Name] != "":
				v[key.Name] = rapid.SampledFrom([]string{"2024", "2024-05", "2024-W20", "2025-02-28"}).Draw(t, key.Name)
			}
		}
		text, problems := Compose(k.Name, v, terms)
		if text == "" {
			t.Skip(lines(problems))
		}
		entries, _ := readText(text, &terms)
		back := entries[0].Values()
		again, problems := Compose(k.Name, back, terms)
		if again != text {
			t.Fatalf("%v became\n%s\nthen %v became\n%s%s", v, text, back, again, lines(problems))
		}
		if n := len(entries[0].Says()); n == 0 {
			t.Fatal("it says nothing")
		}
	})
}

func TestComposeRefuses(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for _, c := range []struct {
		kind string
		v    map[string]string
		want string
	}{
		{"harvestd", nil, "did you mean [[harvested]]?"},
		{"harvested", map[string]string{"pile": "a", "fersh": "2 kg"}, "did you mean fresh?"},
		{"harvested", map[string]string{"pile": "a", "fresh": "2.4"}, `"2.4" has no unit: write "2.4 kg"`},
		{"harvested", map[string]string{"pile": "a", "logs": "many"}, "logs: \"many\" is not a whole number"},
		{"harvested", map[string]string{"pile": "a", "on": "2026-05-02"}, "lies in the future"},
		{"harvested", map[string]string{"pile": "a", "on": "tomorrow"}, `"tomorrow" is not a day`},
		{"harvested", map[string]string{}, "neither pile nor species"},
		{"walked", map[string]string{"hours": "two"}, "hours: \"two\" is not a number"},
		{"walked", map[string]string{"hours": "-2"}, "outside 0 to 1000"},
		{"buried", map[string]string{"bed": "b", "species": "reishi", "colonised": "maybe"}, "neither yes nor no"},
		{"bottled", map[string]string{"batch": "b", "bottles": "ten"}, "is no number of bottles"},
		{"bottled", map[string]string{"batch": "b", "bottles": "10 x 8 oz"}, `"8 floz"`},
		{"macerated", map[string]string{"batch": "b", "recipe": "r", "ingredients": "shiitake"}, "is no ingredient"},
		{"macerated", map[string]string{"batch": "b", "recipe": "r", "ingredients": "[{species = \"x\"\n}]\n[[walked]]"}, "several lines"},
		{"inoculated", map[string]string{"pile": "a", "species": "shiitake", "code": "O1"}, "cannot be a code"},
		{"inoculated", map[string]string{"pile": "a", "species": "shiitake", "spawn": "plugs"}, `did you mean "plug"?`},
	} {
		text, problems := Compose(c.kind, c.v, terms)
		if text != "" || !strings.Contains(lines(problems), c.want) {
			t.Errorf("%s %v: %q\n%s", c.kind, c.v, text, lines(problems))
		}
	}
}

func TestComposeDays(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	for typed, want := range map[string]string{"": "2026-05-01", "today": "2026-05-01", "Yesterday": "2026-04-30", "2026-W15": `"2026-W15"`, "2025": `"2025"`} {
		text, problems := Compose("walked", map[string]string{"on": typed}, terms)
		if typed == "" {
			text, problems = Compose("walked", nil, terms)
		}
		if !strings.Contains(text, "= "+want+"\n") {
			t.Errorf("%q: %s%s", typed, text, lines(problems))
		}
	}
}

func TestRecord(t *testing.T) {
	f, m := yardOf(t, "# my journal\n"+oak)
	text, _ := Compose("harvested", map[string]string{"pile": "oak-north", "fresh": "2.4kg"}, f.Terms())
	id, problems := record(t, f, text)
	if id != "kitchen-2" || len(problems) > 0 {
		t.Error(id, problems)
	}
	want := "# my journal\n" + oak + `
[[harvested]]
written = 2026-05-01T18:02:00
on      = 2026-05-01
pile    = "oak-north"
fresh   = "2.4kg"
entry   = "kitchen-2"
`
	if got := m.Text(JournalFile); got != want {
		t.Errorf("the journal is now\n%s", got)
	}
	if id, _ := record(t, f, text); id != "kitchen-3" {
		t.Error(id)
	}
	if id, _, err := f.Record(text, "phone-mk", atSix); err != nil || id != "phone-mk-1" {
		t.Error(id, err)
	}
	s, problems := f.State(may, 0)
	if len(s.Picks) != 3 || len(problems) > 0 {
		t.Error(summary(s, problems))
	}
	_, problems = record(t, f, strings.Replace(text, "oak-north", "oak-nroth", 1))
	if !has(problems, 0, "did you mean oak-north?") {
		t.Error(lines(problems))
	}
}

func TestRecordRefuses(t *testing.T) {
	f, m := yardOf(t, oak)
	before := m.Text(JournalFile)
	for _, c := range []struct{ text, writer, now, want string }{
		{"[[walked]]\non = 2026-05-01\n", "Kitchen!", string(atSix), "cannot name a writer"},
		{"[[walked]]\non = 2026-05-01\n", "kitchen", "yesterday", "no date and time"},
		{"[[walkd]]\non = 2026-05-01\n", "kitchen", string(atSix), "no kind of event"},
		{"[[walked]]\non = 2026-05-02\n", "kitchen", string(atSix), "lies in the future"},
		{"[[walked]]\non = 2026-05-01\n[[walked]]\non = 2026-04-01\n", "kitchen", string(atSix), "not one entry"},
		{"[[walked]]\non = 2026-05-01\nentry = \"x\"\n", "kitchen", string(atSix), "not one entry"},
		{"", "kitchen", string(atSix), "not one entry"},
		{"[[walked]]\non = \n", "kitchen", string(atSix), "nothing stands behind"},
	} {
		if _, _, err := f.Record(c.text, c.writer, Moment(c.now)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v", c.text, err)
		}
	}
	if m.Text(JournalFile) != before {
		t.Error("the journal was touched")
	}
}

// An identifier is never given twice, whatever happens to the memory of the
// last one, and hand edits never stop a record.
func TestNumbersGoOn(t *testing.T) {
	for name, change := range map[string]func(m *Memory){
		"nothing":               func(*Memory) {},
		"memory thrown away":    func(m *Memory) { delete(m.files, lastFile) },
		"memory broken":         func(m *Memory) { m.files[lastFile] = []byte("size = = 4") },
		"memory of another end": func(m *Memory) { m.files[lastFile] = []byte("size = 12\nlength = 4\ndigest = \"x\"") },
		"a remark added":        func(m *Memory) { m.files[JournalFile] = slices.Concat(m.files[JournalFile], []byte("# note")) },
		"a broken table added": func(m *Memory) {
			m.files[JournalFile] = slices.Concat(m.files[JournalFile], []byte("[[walked]]\non = \"\n"))
		},
		"the middle changed": func(m *Memory) { m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), "40", "41", 1)) },
	} {
		f, m := yardOf(t, oak)
		record(t, f, walk(t, f))
		change(m)
		id, problems := record(t, f, walk(t, f))
		if id != "kitchen-3" || len(problems) > 0 {
			t.Errorf("%s: %s %s", name, id, lines(problems))
		}
		j := readJournal([]byte(m.Text(JournalFile)), &Terms{Today: may})
		if e := j.entries[len(j.entries)-1]; e.ID != "kitchen-3" || e.Kind != "walked" {
			t.Errorf("%s: the last entry is %s %s", name, e.ID, e.Kind)
		}
	}
}

// An identifier changed by hand, without changing the size, and identifiers
// out of order, as after a merge, are seen too.
func TestNumbersOfOtherOrigin(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	m.files[JournalFile] = []byte(strings.Replace(m.Text(JournalFile), "kitchen-2", "kitchen-7", 1))
	if id, _ := record(t, f, walk(t, f)); id != "kitchen-8" {
		t.Error(id)
	}
	f, _ = yardOf(t, strings.Replace(oak, "kitchen-1", "kitchen-30", 1)+pick)
	if id, _ := record(t, f, walk(t, f)); id != "kitchen-31" {
		t.Error(id)
	}
}

// A number that no program gave, in the journal or in the memory, never makes one
// that is there already.
func TestNumbersTooHigh(t *testing.T) {
	f, m := yardOf(t, oak+strings.Replace(pick, "kitchen-2", "kitchen-9223372036854775807", 1))
	for _, want := range []string{"kitchen-2", "kitchen-3"} {
		if id, _ := record(t, f, walk(t, f)); id != want {
			t.Error(id)
		}
	}
	m.files[lastFile] = []byte(strings.Replace(m.Text(lastFile), "\"kitchen\" = 3", "\"kitchen\" = 9223372036854775807", 1))
	for _, want := range []string{"kitchen-4", "kitchen-5"} {
		if id, _ := record(t, f, walk(t, f)); id != want {
			t.Error(id)
		}
	}
}

// What stood in the journal before is there after a record, byte for byte, but
// for zero bytes at its end.
func TestRecordOnlyAppends(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		before := rapid.SampledFrom([]string{"", "\n", "# x", oak, oak + pick, strings.TrimSpace(oak), strings.ReplaceAll(oak, "\n", "\r\n"), "\ufeff" + oak,
			oak + "[[walked]]\non = \"\n", oak + "[[walked]]\nnote = \"\"\"\n", "\x00", oak + "\xff"}).Draw(rt, "before")
		f, m := yardOf(t, before)
		record(t, f, walk(t, f))
		if !strings.HasPrefix(m.Text(JournalFile), strings.TrimRight(before, "\x00")) {
			rt.Fatalf("%q became %q", before, m.Text(JournalFile))
		}
		entries, _ := f.Entries()
		if len(entries) == 0 || entries[len(entries)-1].Kind != "walked" {
			rt.Fatalf("after %q the entry cannot be read", before)
		}
	})
}

func TestTornIsMoved(t *testing.T) {
	torn := "\n[[harvested]]\nwritten = 2026-04-30T10:00:00\non      = 2026-04-30\npile    = \"oak-no"
	f, m := yardOf(t, oak+torn)
	if _, problems := f.State(may, 0); !has(problems, 9, "cut short") {
		t.Error(lines(problems))
	}
	_, problems := record(t, f, walk(t, f))
	if !has(problems, 0, "journal-torn-2026-05-01.toml") {
		t.Error(lines(problems))
	}
	if got := m.Text("journal-torn-2026-05-01.toml"); got != torn[1:] && got != torn {
		t.Errorf("what was torn is now %q", got)
	}
	if !strings.HasPrefix(m.Text(JournalFile), oak) || strings.Contains(m.Text(JournalFile), "oak-no\"") {
		t.Error(m.Text(JournalFile))
	}
	if s, problems := f.State(may, 0); len(problems) > 0 || len(s.Entries) != 2 {
		t.Error(lines(problems))
	}
	m.files[JournalFile] = slices.Concat(m.files[JournalFile], []byte(torn+"rth\""))
	record(t, f, walk(t, f))
	if m.Text("journal-torn-2026-05-01-2.toml") == "" {
		t.Error("a second torn entry of the day has no file of its own")
	}
}

// Whatever fails, and however much of the entry was written by then: the
// error says so, the journal as it was can be read, and the next record works.
func TestFaults(t *testing.T) {
	full := error(syscall.ENOSPC)
	for _, op := range []string{"lock", "append", "replace", "open"} {
		for torn := 0; torn < 200; torn += 7 {
			f, m := yardOf(t, oak)
			text := walk(t, f)
			m.Torn = torn
			m.Fault = func(o, name string) error {
				if o == op && (op != "append" || name == JournalFile) {
					return full
				}
				return nil
			}
			_, _, err := f.Record(text, "kitchen", atSix)
			if op == "replace" {
				if err != nil {
					t.Errorf("replace: only the memory of the end is lost, and yet %v", err)
				}
			} else if !errors.Is(err, full) || !strings.Contains(err.Error(), "nothing was recorded") || !strings.Contains(err.Error(), "make room") {
				t.Fatalf("%s: %v", op, err)
			}
			m.Fault = nil
			f, _, err = OpenFiles(m, loaded(t), may)
			if err != nil {
				t.Fatal(err)
			}
			if _, _, err = f.Record(text, "kitchen", atSix); err != nil {
				t.Fatalf("%s, %d bytes written: then %v", op, torn, err)
			}
			s, problems := f.State(may, 0)
			if !strings.HasPrefix(m.Text(JournalFile), oak) || len(s.Piles) != 1 || len(problems) > 0 {
				t.Fatalf("%s, %d bytes written: %s%s", op, torn, m.Text(JournalFile), lines(problems))
			}
		}
	}
}

func TestLockIsWaitedFor(t *testing.T) {
	for name, files := range map[string]Files{"memory": InMemory(map[string]string{YardFile: smallYard}), "disk": OnDisk(t.TempDir())} {
		if err := files.Replace(YardFile, []byte(smallYard)); err != nil {
			t.Fatal(err)
		}
		f, _, err := OpenFiles(files, loaded(t), may)
		if err != nil {
			t.Fatal(err)
		}
		unlock, err := files.Lock(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(context.Background(), 120*time.Millisecond)
		_, _, err = f.RecordAll(ctx, []string{walk(t, f)}, "kitchen", atSix)
		cancel()
		if err == nil || !strings.Contains(err.Error(), "is writing to this yard") || !errors.Is(err, context.DeadlineExceeded) {
			t.Errorf("%s: %v", name, err)
		}
		if err := unlock(); err != nil {
			t.Fatal(err)
		}
		if _, _, err := f.Record(walk(t, f), "kitchen", atSix); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Two writers at the same time: every entry arrives, under a name of its own.
func TestTwoWriters(t *testing.T) {
	dir := t.TempDir()
	if err := Create(dir, Answers{Name: "Fernbrook", Station: "oxford"}); err != nil {
		t.Fatal(err)
	}
	const each = 12
	done := make(chan error, 2)
	for range 2 {
		go func() {
			f, _, err := Open(dir, loaded(t), may)
			for i := 0; i < each && err == nil; i++ {
				_, _, err = f.Record(walk(t, f), "kitchen", atSix)
			}
			done <- err
		}()
	}
	for range 2 {
		if err := <-done; err != nil {
			t.Fatal(err)
		}
	}
	f, _, _ := Open(dir, loaded(t), may)
	entries, problems := f.Entries()
	seen := map[string]bool{}
	for _, e := range entries {
		seen[e.ID] = true
	}
	if len(entries) != 2*each || len(seen) != 2*each || len(problems) > 0 {
		t.Errorf("%d entries, %d names\n%s", len(entries), len(seen), lines(problems))
	}
}

func TestVanished(t *testing.T) {
	f, m := yardOf(t, oak)
	old := m.files[JournalFile]
	record(t, f, walk(t, f))
	if problems := f.Check(); len(problems) > 0 {
		t.Error(lines(problems))
	}
	m.files[JournalFile] = old // an editor saves what it had read before
	f, _, _ = OpenFiles(m, loaded(t), may)
	if !has(f.Check(), 0, "entry kitchen-2 was recorded and is not in the journal any more") {
		t.Error(lines(f.Check()))
	}
	missing, _ := f.Missing()
	if len(missing) != 1 || missing[0].ID != "kitchen-2" || !strings.Contains(missing[0].Text, `entry   = "kitchen-2"`) || missing[0].Copy != ".hodaba/journal-friday.toml" {
		t.Errorf("%+v", missing)
	}
	ids, problems, err := f.PutBack(context.Background(), atSix)
	if err != nil || fmt.Sprint(ids) != "[kitchen-2]" || len(problems) > 0 {
		t.Fatal(ids, problems, err)
	}
	if problems := f.Check(); len(problems) > 0 {
		t.Error(lines(problems))
	}
	if id, _ := record(t, f, walk(t, f)); id != "kitchen-3" {
		t.Errorf("the next entry is %s", id)
	}
}

func TestDailyCopy(t *testing.T) {
	f, m := yardOf(t, oak)
	record(t, f, walk(t, f))
	record(t, f, walk(t, f))
	if m.Text(".hodaba/journal-friday.toml") != m.Text(JournalFile) {
		t.Error("the daily copy is not the journal")
	}
	if _, _, err := f.Record(walk(t, f), "kitchen", "2026-05-02T08:00:00"); err != nil {
		t.Fatal(err)
	}
	if m.Text(".hodaba/journal-saturday.toml") != m.Text(JournalFile) || m.Text(".hodaba/journal-friday.toml") == m.Text(JournalFile) {
		t.Error("the next day has no copy of its own")
	}
}

func TestNames(t *testing.T) {
	f, m := yardOf(t, oak)
	if got := fmt.Sprint(f.Names()); got != "[oak-north]" {
		t.Error(got)
	}
	record(t, f, walk(t, f))
	text, _ := Compose("inoculated", map[string]string{"pile": "birch", "code": "b2", "species": "shiitake"}, f.Terms())
	record(t, f, text)
	f, _, _ = OpenFiles(m, loaded(t), may)
	if got := fmt.Sprint(f.Names()); got != "[oak-north birch B2]" || f.read != nil {
		t.Error(got, "read through:", f.read != nil)
	}
}

func TestDisk(t *testing.T) {
	dir := t.TempDir()
	d := OnDisk(dir)
	if err := d.Append("a.toml", []byte("one\n"), 0); err != nil {
		t.Fatal(err)
	}
	if err := d.Append("a.toml", []byte("two\n"), 4); err != nil {
		t.Fatal(err)
	}
	if err := d.Append("a.toml", []byte("three\n"), 4); !errors.Is(err, ErrChanged) {
		t.Error(err)
	}
	if b, _ := fs.ReadFile(d, "a.toml"); string(b) != "one\ntwo\n" {
		t.Errorf("%q", b)
	}
	if err := d.Cut("a.toml", 4, 8); err != nil {
		t.Fatal(err)
	}
	if b, _ := fs.ReadFile(d, "a.toml"); string(b) != "one\n" {
		t.Errorf("%q", b)
	}
	if err := os.Chmod(filepath.Join(dir, "a.toml"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("a.toml", filepath.Join(dir, "link.toml")); err != nil {
		t.Fatal(err)
	}
	if err := d.Replace("link.toml", []byte("new\n")); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(filepath.Join(dir, "link.toml"))
	if err != nil || info.Mode()&fs.ModeSymlink == 0 {
		t.Error("the link became a file", err)
	}
	info, _ = os.Stat(filepath.Join(dir, "a.toml"))
	if b, _ := fs.ReadFile(d, "a.toml"); string(b) != "new\n" || info.Mode().Perm() != 0o600 {
		t.Errorf("%q, mode %v", b, info.Mode())
	}
}

// A full disk, for real: /dev/full refuses every write.
func TestAppendToAFullDisk(t *testing.T) {
	if _, err := os.Stat("/dev/full"); err != nil {
		t.Skip("no /dev/full here")
	}
	dir := t.TempDir()
	if err := os.Symlink("/dev/full", filepath.Join(dir, JournalFile)); err != nil {
		t.Fatal(err)
	}
	err := OnDisk(dir).Append(JournalFile, []byte("x"), 0)
	if !errors.Is(err, syscall.ENOSPC) {
		t.Error(err)
	}
}
