package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// namesInFormat are the rows of FORMAT.md's table of the folder: the name as it
// stands there, and what is called so.
func namesInFormat(t *testing.T) map[string]*regexp.Regexp {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "yard", "FORMAT.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(b), "\n## The folder\n")
	table, _, _ := strings.Cut(rest, "\n## ")
	stands := map[string]string{"COMPUTER": `[a-z0-9]+`, "DATE": `\d{4}-\d\d-\d\d(-\d+)?`, "DAY": `\d{4}-\d\d-\d\d(-\d+)?`, "WEEKDAY": `(mon|tues|wednes|thurs|fri|satur|sun)day`, "N": `\d+`}
	names := map[string]*regexp.Regexp{}
	for _, row := range regexp.MustCompile("(?m)^\\| `([^`]+)` \\|").FindAllStringSubmatch(table, -1) {
		form := regexp.MustCompile("[A-Z]+").ReplaceAllStringFunc(regexp.QuoteMeta(row[1]), func(word string) string {
			if stands[word] == "" {
				t.Fatalf("what does %s stand for in %s?", word, row[1])
			}
			return stands[word]
		})
		if strings.HasSuffix(form, "/") {
			form += ".*"
		}
		names[row[1]] = regexp.MustCompile("^" + form + "$")
	}
	if len(names) == 0 {
		t.Fatal("FORMAT.md has no table of the folder")
	}
	return names
}

// Every file that a command writes into a yard has a row in FORMAT.md's table of
// the folder, and every row is of a file that some command writes.
func TestFolderHoldsWhatFormatSays(t *testing.T) {
	b, names := newFaultBench(t), namesInFormat(t)
	written := map[string]bool{}
	for _, c := range faultCases() {
		if c.slow && testing.Short() && c.name != "pages" && !strings.HasPrefix(c.name, "demo over") {
			continue // they write as the others do
		}
		prepared := b.prepared(c)
		r := b.run(c, prepared, fault{call: -1})
		err := filepath.WalkDir(r.dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			rel, err := filepath.Rel(r.dir, path)
			name := filepath.ToSlash(rel)
			before, missing := os.ReadFile(filepath.Join(prepared, rel))
			if missing == nil && string(before) == faultRead(r.dir, name) || slices.Contains(c.args, "DIR/"+name) {
				return err // not written, or where somebody asked for it
			}
			known := false
			for row, is := range names {
				if is.MatchString(name) {
					known, written[row] = true, true
				}
			}
			if !known {
				t.Errorf("%s writes %s, which is not in FORMAT.md's table of the folder", c.name, name)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	for row := range names {
		if !written[row] {
			t.Errorf("no command writes %s, which is in FORMAT.md's table of the folder", row)
		}
	}
}
