package yard

import (
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"strings"
	"testing"
	"time"
)

// hostileTables are texts on which reading once took time or memory by the
// square of their length, or more: 20 kB of braces in one another took the
// TOML library 3 GB, 200 kB the whole machine.
var hostileTables = map[string]string{
	"lists in lists":          "[[lost]]\nlogs = " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000) + "\n",
	"lists not closed":        "[[lost]]\nlogs = " + strings.Repeat("[", 100_000) + "\n",
	"braces in braces":        "[[lost]]\nlogs = " + strings.Repeat("{a=", 50_000) + "1" + strings.Repeat("}", 50_000) + "\n",
	"braces and lists":        "[[lost]]\nlogs = " + strings.Repeat("[{a=", 20_000) + "1" + strings.Repeat("}]", 20_000) + "\n",
	"dots in a key":           "[[lost]]\n" + strings.Repeat("a.", 100_000) + "b = 1\n",
	"dots in quoted keys":     "[[lost]]\n" + strings.Repeat(`"a" . `, 40_000) + "b = 1\n",
	"dots in a header":        "[[" + strings.Repeat("a.", 100_000) + "b]]\n",
	"dots in braces":          "[[lost]]\nlogs = {" + strings.Repeat("a.", 100_000) + "b = 1}\n",
	"behind a quote":          "[[lost]]\nnote = \"\\\"]\" # \"\nlogs = " + strings.Repeat("{a=", 50_000) + "\n",
	"behind a long string":    "[[lost]]\nnote = \"\"\"\n]\"\"\"\"\"\nlogs = " + strings.Repeat("{a=", 50_000) + "\n",
	"behind single quotes":    "[[lost]]\nnote = '\\'\nlogs = " + strings.Repeat("{a=", 50_000) + "\n",
	"many keys":               "[[lost]]\n" + manyLines(20_000, "k%d = 1\n"),
	"many dotted keys":        "[[lost]]\n" + manyLines(12_000, "a.b.c.d.k%d = 1\n"),
	"many rows":               "[[lost]]\nlogs = [" + strings.Repeat("{a={b={c=1}}},", 15_000) + "]\n",
	"one long text":           "[[lost]]\nnote = \"" + strings.Repeat("x", 200_000) + "\"\n",
	"one longer text":         "[[lost]]\nnote = \"" + strings.Repeat("x", 2_000_000) + "\"\n",
	"long text, folded":       "[[lost]]\nnote = \"\"\"" + strings.Repeat("\\\n", 100_000) + "\"\"\"\n",
	"a long amount":           "[[harvested]]\non = 2025-01-01\npile = \"a\"\nfresh = \"" + strings.Repeat("1 kg ", 40_000) + "\"\n",
	"a long day":              "[[harvested]]\non = \"" + strings.Repeat("1 to ", 40_000) + "\"\n",
	"a number of many digits": "[[lost]]\nlogs = " + strings.Repeat("9", 200_000) + "\n",
}

func manyLines(n int, form string) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, form, i)
	}
	return b.String()
}

// allocated is what f allocates, in bytes.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

// Whatever stands in a table, reading it takes memory by its length, in every
// file, and what stands behind it is read.
func TestHostileTablesStayCheap(t *testing.T) {
	const most = 600 // bytes allocated for each of the text, of which some 400 are used
	set := loaded(t)
	for name, text := range hostileTables {
		t.Run(name, func(t *testing.T) {
			terms := &Terms{Data: set, Today: may}
			var j *journal
			if got := allocated(func() { j = readJournal([]byte(text+oak), terms) }); got > most*uint64(len(text)) {
				t.Errorf("%d MB for a journal of %d kB: %d bytes each", got>>20, len(text)>>10, got/uint64(len(text)))
			}
			if last := j.entries[len(j.entries)-1]; last.ID != "kitchen-1" || last.Event == nil {
				t.Error("the entry behind it was lost")
			}
			for _, p := range j.all() {
				if len(p.String()) > 1000 || p.Remedy == "" {
					t.Errorf("a message of %d letters: %.200s", len(p.String()), p)
				}
			}
			if got := allocated(func() { readConfig([]byte(strings.Replace(text, "[[lost]]", "[site]", 1)), set) }); got > most*uint64(len(text)) {
				t.Errorf("%d MB for a yard.toml of %d kB", got>>20, len(text)>>10)
			}
			if got := allocated(func() { readRecipes([]byte(strings.Replace(text, "lost", "recipe", 1)), &Config{}, set) }); got > most*uint64(len(text)) {
				t.Errorf("%d MB for recipes.toml of %d kB", got>>20, len(text)>>10)
			}
		})
	}
}

// Cutting a file takes time by its length, also where every table seems to
// begin a string that ends far away or nowhere.
func TestCuttingTakesTimeByLength(t *testing.T) {
	for name, table := range map[string]string{
		"never closed":       "[[lost]]\nnote = \\\"\"\"\n",
		"closed far away":    "[[lost]]\nnote = \\\"\"\"\n",
		"closed and opened":  "[[lost]]\nnote = \\\"\"\"\n",
		"opened and closed":  "[[lost]]\nnote = \"\"\"\n",
		"single quotes":      "[[lost]]\nnote = '''\nx = \"\"\"\n",
		"all in one line":    "[[lost]] \\\"\"\" ''' \"\"\" '''\n",
		"plain":              "[[lost]]\non = 2025-04-12\n",
		"a list not closed":  "[[lost]]\nx = [\n",
		"backslashes in one": "[[lost]]\nx = \"\"\"\\\"\"\"\\\"\"\"\n",
	} {
		t.Run(name, func(t *testing.T) {
			text := strings.Repeat(table, 3000)
			switch name {
			case "closed far away":
				text += "\"\"\"\n"
			case "closed and opened":
				text += "\"\"\" \"\"\"\n" + strings.Repeat(table, 3000)
			}
			c := &cutter{b: []byte(text), line: 1}
			cut, at := 0, 0
			for {
				p, ok := c.next()
				if !ok {
					break
				}
				cut += len(p.text)
				if p.start != at {
					t.Fatalf("bytes %d to %d are in no piece", at, p.start)
				}
				if _, _, err := decode(string(p.text)); err != nil {
					c.shorten(&p)
				}
				at = p.start + len(p.text)
			}
			if at != len(text) {
				t.Fatalf("bytes from %d on are in no piece", at)
			}
			if cut > (mostTries+4)*max(len(text), longestTable) {
				t.Errorf("%d kB were cut out of a file of %d kB", cut>>10, len(text)>>10)
			}
		})
	}
}

// hugeFile is a file without end.
type hugeFile struct{ name string }

func (h hugeFile) Stat() (fs.FileInfo, error) { return hugeInfo(h), nil }
func (h hugeFile) Close() error               { return nil }
func (h hugeFile) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = '#'
	}
	return len(b), nil
}

type hugeInfo struct{ name string }

func (h hugeInfo) Name() string     { return h.name }
func (hugeInfo) Size() int64        { return 1 << 60 }
func (hugeInfo) Mode() fs.FileMode  { return 0 }
func (hugeInfo) ModTime() time.Time { return time.Time{} }
func (hugeInfo) IsDir() bool        { return false }
func (hugeInfo) Sys() any           { return nil }

// hugeFiles is a folder in which one file has no end.
type hugeFiles struct {
	Files
	huge string
}

func (h hugeFiles) Open(name string) (fs.File, error) {
	if name == h.huge {
		return hugeFile{name}, nil
	}
	return h.Files.Open(name)
}

// A file without end is no end of the program: it is said which one, and what
// to do.
func TestEndlessFilesAreRefused(t *testing.T) {
	set := loaded(t)
	files := map[string]string{YardFile: smallYard, JournalFile: oak}
	for _, name := range []string{YardFile, RecipesFile, WeatherFile} {
		f, problems, err := OpenFiles(hugeFiles{InMemory(files), name}, set, may)
		if err == nil {
			_, more := f.State(may, 0)
			problems = append(problems, more...)
			err = fmt.Errorf("%s", lines(problems))
		}
		if !strings.Contains(err.Error(), name) || !strings.Contains(err.Error(), "larger than") {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := readBounded(hugeFiles{InMemory(files), JournalFile}, JournalFile, mostSettings); err == nil || !strings.Contains(err.Error(), "larger than 1 MB") {
		t.Errorf("a journal without end: %v", err)
	}
	if _, problems := ReadTable(io.MultiReader(strings.NewReader(TableHeader()+"\n"), hugeFile{}), Terms{Data: set, Today: may}); len(problems) != 1 || !strings.Contains(problems[0].Text, "larger than 16 MB") {
		t.Errorf("a table without end: %s", lines(problems))
	}
}

// depthOf is how deeply a value that was read is nested.
func depthOf(v any) (deepest int) {
	switch v := v.(type) {
	case map[string]any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
		return deepest + 1
	case []map[string]any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
		return deepest
	case []any:
		for _, x := range v {
			deepest = max(deepest, depthOf(x))
		}
		return deepest + 1
	}
	return 0
}

// FuzzNesting: what is counted before reading is never less than what is met
// when reading, so that nothing deep reaches the library.
func FuzzNesting(f *testing.F) {
	for _, text := range hostileTables {
		if len(text) < 50_000 {
			f.Add(text)
		}
	}
	f.Add("[[a.b]]\n\"x\".'y' . z = [{a.b = [[1]]}, \"]\\\"]\"] # [[\n")
	f.Add("a = '''[''' # '\nb = \"\"\"\"[\"\"\"\"\"\nc.d = [\n[1.5]\n]\n")
	f.Add("a = 2026-04-12T18:02:00.5\nb = '\\' # '\n")
	f.Fuzz(func(t *testing.T, text string) {
		counted, line := nesting(text)
		if line < 1 || line > strings.Count(text, "\n")+1 {
			t.Fatalf("%q: deepest in line %d", text, line)
		}
		if counted > deepestNesting {
			return
		}
		vals, _, err := decode(text)
		if got := depthOf(vals) - 1; err == nil && got > counted { // the whole is a table, and no bracket
			t.Fatalf("%q: %d deep, counted %d", text, got, counted)
		}
	})
}

// What there is too much of is said once, and what stands before it is used.
func TestTooManyIsSaidOnce(t *testing.T) {
	set := loaded(t)
	terms := Terms{Data: set, Today: may}
	one := func(name string, problems []Problem, part string) {
		t.Helper()
		if len(problems) != 1 || !strings.Contains(problems[0].String(), part) {
			t.Errorf("%s: %d problems, not one that says %q: %.600s", name, len(problems), part, lines(problems))
		}
	}
	c, problems := readConfig([]byte(smallYard+"\n"+manyLines(mostTables+50, "[[place]]\nname = \"p%d\"\n")), set)
	one("places", problems, "more than 2000 tables")
	if n := len(c.Places); n < mostTables-10 || n > mostTables {
		t.Errorf("%d places are kept", n)
	}
	texts, problems := ReadTable(strings.NewReader("name,species\n"+manyLines(mostLines+50, "p%d,shiitake\n")), terms)
	one("piles", problems, "more than 10000 lines")
	if n := len(texts); n != mostLines {
		t.Errorf("%d piles are taken over", n)
	}
	_, problems = ReadTable(strings.NewReader(strings.Repeat("name,species,", mostColumns)+"\n"), terms)
	one("columns", problems, "more than 200 cells")
	_, problems = readConfig([]byte(smallYard+"\n[kitchen]\n"+manyLines(500, "zz%d = 1\n")), set)
	if len(problems) != mostUnknown+1 || !strings.Contains(lines(problems), "480 more keys are none of [kitchen]") {
		t.Errorf("unknown keys: %d problems: %.600s", len(problems), lines(problems))
	}
	if _, err := ParseWhen("2025" + strings.Repeat(" ", 80) + "to 2026"); err == nil || len(err.Error()) > 300 {
		t.Errorf("a long day: %.400v", err)
	}
	var b strings.Builder
	b.WriteString("station,date,tmin_c,tmax_c,rain_mm\n")
	for i := range mostPlaces + 500 {
		fmt.Fprintf(&b, "s%d,2026-04-12,1,9,0\n", i)
	}
	_, problems = ReadWeather(strings.NewReader(b.String()), may)
	one("stations", problems, "the table is of several places")
}
