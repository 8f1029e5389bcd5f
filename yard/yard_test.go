package yard

import (
	"strings"
	"testing"

	"hodaba/data"
)

// may is the day on which the tests live.
var may = NewDate(2026, 5, 1)

func loaded(t testing.TB) *data.Set {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// smallYard is a yard.toml without mistakes.
const smallYard = `format = 1
name = "Fernbrook"
[site]
station = "oxford"
[[place]]
name = "under the hazel"
[measures]
basket = "1.8 kg"
`

// yardOf is a yard in memory with a journal.
func yardOf(t testing.TB, journal string) (*Folder, *Memory) {
	t.Helper()
	set := loaded(t)
	m := InMemory(map[string]string{YardFile: smallYard, RecipesFile: strings.TrimSpace(set.Recipes[0].Text), JournalFile: journal})
	f, problems, err := OpenFiles(m, set, may)
	if err != nil {
		t.Fatal(err)
	}
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return f, m
}

// stateOf replays a journal.
func stateOf(t testing.TB, journal string) (*State, []Problem) {
	t.Helper()
	f, _ := yardOf(t, journal)
	return f.State(may, 0)
}

// has reports whether a problem of a line says something.
func has(problems []Problem, line int, part string) bool {
	for _, p := range problems {
		if (line == 0 || p.Line == line) && strings.Contains(p.String(), part) {
			return true
		}
	}
	return false
}

func lines(problems []Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString("  " + p.String() + "\n")
	}
	return b.String()
}
