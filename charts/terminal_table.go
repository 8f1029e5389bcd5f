package charts

import (
	"fmt"
	"strings"

	"hodaba/yard"
)

// The lengths to which the preview of an import is cut.
const (
	entriesPreviewed  = 5
	problemsPreviewed = 20
)

// TablePreview says what a table of piles or harvests would bring.
func (t Terminal) TablePreview(file, what string, x *yard.TableImport) string {
	leftOut := x.Rows - x.New - x.Same
	head := fmt.Sprintf("%s: %s; new %s: %d", file, count(x.Rows, "row", "rows"), what, x.New)
	if len(x.Texts) != x.New {
		head += fmt.Sprintf(" (%s)", count(len(x.Texts), "entry", "entries"))
	}
	head += fmt.Sprintf("; in the journal already: %d; left out: %d", x.Same, max(0, leftOut))
	return t.write(wrap("", "  ", head), entriesPreview(x.Texts), t.tableProblems(x.Problems))
}

// entriesPreview shows the first entries, a line each.
func entriesPreview(texts []string) string {
	var b strings.Builder
	for _, text := range texts[:min(len(texts), entriesPreviewed)] {
		b.WriteString(wrap("  ", "    ", oneLine(text)))
	}
	if n := len(texts) - entriesPreviewed; n > 0 {
		fmt.Fprintf(&b, "  … and %d more\n", n)
	}
	return b.String()
}

// oneLine is an entry in one line, as it will stand in the journal.
func oneLine(text string) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	for i, l := range lines {
		key, value, ok := strings.Cut(l, "=")
		if ok {
			lines[i] = strings.TrimSpace(key) + " = " + strings.TrimSpace(value)
		}
	}
	return Clean(lines[0] + " " + strings.Join(lines[1:], ", "))
}

func (t Terminal) tableProblems(problems []yard.Problem) string {
	if len(problems) == 0 {
		return ""
	}
	s := t.Problems(problems[:min(len(problems), problemsPreviewed)])
	if n := len(problems) - problemsPreviewed; n > 0 {
		s += fmt.Sprintf("… and %d more\n", n)
	}
	return s
}

// TablePreviewJSON is the same; ids are those of the entries that were
// recorded, if they were.
func TablePreviewJSON(file string, x *yard.TableImport, ids []string) ([]byte, error) {
	out := struct {
		File     string        `json:"file"`
		Rows     int           `json:"rows"`
		New      int           `json:"new"`
		Same     int           `json:"in_journal"`
		Entries  []string      `json:"entries"`
		Recorded []string      `json:"recorded"`
		Problems []problemJSON `json:"problems"`
	}{file, x.Rows, x.New, x.Same, append([]string{}, x.Texts...), append([]string{}, ids...), []problemJSON{}}
	for _, p := range x.Problems {
		out.Problems = append(out.Problems, problemJSON{p.File, p.Line, p.Entry, GradeWord(p.Grade), p.Text, p.Remedy})
	}
	return encode(out)
}
