package yard

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// Every heading of FORMAT.md that code cites is there.
func TestFormatHeadings(t *testing.T) {
	b, err := os.ReadFile("FORMAT.md")
	if err != nil {
		t.Fatal(err)
	}
	headings := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^## (.*)$`).FindAllStringSubmatch(string(b), -1) {
		headings[m[1]] = true
	}
	cites := regexp.MustCompile(`FORMAT\.md,\s([A-Z][A-Za-z ]*[a-z])`)
	gap := regexp.MustCompile(`\s*\n\s*//\s*`)
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	more, _ := filepath.Glob("../cmd/hodaba/*.go") // a pattern that can be read
	cited := 0
	for _, name := range append(files, more...) {
		code, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range cites.FindAllStringSubmatch(gap.ReplaceAllString(string(code), " "), -1) {
			cited++
			for heading := m[1]; !headings[heading]; { // a word of the sentence may follow
				i := strings.LastIndexByte(heading, ' ')
				if i < 0 {
					t.Errorf("%s cites %q, and FORMAT.md has no such heading", name, m[1])
					break
				}
				heading = heading[:i]
			}
		}
	}
	if cited < len(headings)/2 {
		t.Errorf("only %d places cite FORMAT.md, which has %d headings", cited, len(headings))
	}
}
