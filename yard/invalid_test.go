package yard

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// invalid is one case of testdata/invalid: a yard with a mistake, and what
// must be said about it. Its file is a txtar archive; before the files stand
//
//	expect FILE:LINE | part of what is wrong | part of the way out
//	kept ID …        every entry that is used all the same, and no other
//	entries N        of the first evening's table
//	unreadable FILE  this file cannot be read
//	bare             the yard has no files but these
type invalid struct {
	expect     []expected
	kept       []string
	keptSaid   bool
	entries    int
	unreadable string
	files      map[string]string
}

type expected struct{ where, text, remedy string }

func readInvalid(t *testing.T, path string) invalid {
	t.Helper()
	a, err := txtar.ParseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c := invalid{files: map[string]string{YardFile: smallYard, RecipesFile: loaded(t).Recipes[0].Text}}
	for _, l := range strings.Split(string(a.Comment), "\n") {
		word, rest, _ := strings.Cut(l, " ")
		switch word {
		case "expect":
			p := strings.SplitN(rest, " | ", 3)
			c.expect = append(c.expect, expected{p[0], p[1], p[2]})
		case "kept":
			c.kept, c.keptSaid = strings.Fields(rest), true
		case "entries":
			c.entries, _ = strconv.Atoi(rest)
		case "unreadable":
			c.unreadable = rest
		case "bare":
			clear(c.files)
		case "#", "":
		default:
			t.Fatalf("%s: %q is no word of a case", path, word)
		}
	}
	for _, f := range a.Files {
		c.files[strings.TrimSuffix(f.Name, ".quoted")] = content(t, f)
	}
	return c
}

// content is a file of a case; one that ends in .quoted is a Go string a line.
func content(t *testing.T, f txtar.File) string {
	t.Helper()
	if !strings.HasSuffix(f.Name, ".quoted") {
		return string(f.Data)
	}
	var b strings.Builder
	for _, l := range strings.Split(strings.TrimSpace(string(f.Data)), "\n") {
		s, err := strconv.Unquote(l)
		if err != nil {
			t.Fatal(l, err)
		}
		b.WriteString(s)
	}
	return b.String()
}

// Every mistake is told with its line and the way out, once, and hides
// nothing else.
func TestInvalid(t *testing.T) {
	paths, err := filepath.Glob("../testdata/invalid/*.txtar")
	if err != nil || len(paths) < 100 {
		t.Fatalf("%d cases, %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".txtar"), func(t *testing.T) {
			c := readInvalid(t, path)
			problems := c.problems(t)
			t.Log("\n" + lines(problems)) // go test -v shows what a grower reads
			if len(problems) != len(c.expect) {
				t.Errorf("%d problems, want %d:\n%s", len(problems), len(c.expect), lines(problems))
			}
			for _, x := range c.expect {
				if !slices.ContainsFunc(problems, x.is) {
					t.Errorf("nothing says %q, %q at %s:\n%s", x.text, x.remedy, x.where, lines(problems))
				}
			}
		})
	}
}

// Among them is a mistake in every kind of event, and in every table of
// yard.toml and recipes.toml.
func TestInvalidMissesNoTable(t *testing.T) {
	paths, err := filepath.Glob("../testdata/invalid/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	met := map[string]bool{}
	for _, path := range paths {
		c := readInvalid(t, path)
		for _, x := range c.expect {
			file, line, _ := strings.Cut(x.where, ":")
			n, _ := strconv.Atoi(line)
			met[file+" "+headerAbove(c.files[file], n)] = true
		}
	}
	for _, k := range kinds {
		if !met[JournalFile+" "+k.Name] {
			t.Errorf("no case has a mistake in [[%s]]", k.Name)
		}
	}
	for name := range newYardFile(Config{}, nil).readers {
		if !met[YardFile+" "+name] {
			t.Errorf("no case has a mistake in [%s] of %s", name, YardFile)
		}
	}
	for _, name := range []string{"recipe", "recipe.ingredient"} {
		if !met[RecipesFile+" "+name] {
			t.Errorf("no case has a mistake in [[%s]]", name)
		}
	}
}

// headerAbove is the name in the nearest header at or above a line.
func headerAbove(text string, n int) string {
	all := strings.Split(text, "\n")
	for i := min(n, len(all)) - 1; i >= 0; i-- {
		if l := strings.TrimSpace(all[i]); isHeader([]byte(l)) {
			return strings.Trim(l, "[] ")
		}
	}
	return ""
}

func (x expected) is(p Problem) bool {
	where := p.File
	if p.Line > 0 {
		where += ":" + strconv.Itoa(p.Line)
	}
	return where == strings.TrimSuffix(x.where, ":0") && strings.Contains(p.Text, x.text) && strings.Contains(p.Remedy, x.remedy)
}

// problems reads the case, and checks what is kept.
func (c invalid) problems(t *testing.T) []Problem {
	t.Helper()
	set := loaded(t)
	if table, ok := c.files["table.csv"]; ok {
		texts, problems := ReadTable(strings.NewReader(table), Terms{Data: set, Today: may})
		if len(texts) != c.entries {
			t.Errorf("%d entries, want %d: %q", len(texts), c.entries, texts)
		}
		return problems
	}
	m := InMemory(c.files)
	m.Fault = func(op, name string) error {
		if op == "open" && name == c.unreadable {
			return fs.ErrPermission
		}
		return nil
	}
	f, problems, err := OpenFiles(m, set, may)
	if err != nil {
		var is mistake
		if !errors.As(err, &is) {
			t.Fatal(err)
		}
		return []Problem{{File: "error", Text: is.text, Remedy: is.remedy}}
	}
	s, more := f.State(may, 0)
	var kept []string
	for _, e := range s.Entries {
		kept = append(kept, e.ID)
	}
	kept = slices.DeleteFunc(kept, func(id string) bool { return len(id) == 6 && !strings.Contains(id, "-") })
	slices.Sort(kept)
	if c.keptSaid && !slices.Equal(kept, c.kept) {
		t.Errorf("kept %v, want %v", kept, c.kept)
	}
	return append(problems, more...)
}
