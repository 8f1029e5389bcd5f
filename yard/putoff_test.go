package yard

import (
	"strings"
	"testing"
)

// A task of soaking names all soaks, a pile or a part; one that names nothing
// is kept and pointed at.
func TestSoakTask(t *testing.T) {
	piles := inoculatedOn("2024-04-08", "oak-north") + inoculatedOn("2024-04-08", "oak") + inoculatedOn("2024-04-08", "oak b")
	for _, c := range []struct {
		task, pile, part string
		ok               bool
	}{
		{"soak", "", "", true}, {" Soak ", "", "", true},
		{"soak oak", "oak", "", true}, {"soak OAK-north a", "oak-north", "A", true},
		{"soak oak-north part A", "oak-north", "A", true},
		{"soak oak b", "oak b", "", true}, {"soak oak b c", "oak b", "C", true},
		{"soak elm", "", "", false}, {"soak oak-nor", "", "", false}, {"soak oak-north AB", "", "", false}, {"soak  A", "", "", false},
		{"soak\xff \xff", "", "", false},
		{"inoculate oak", "", "", false}, {"soaking", "", "", false}, {"", "", "", false},
	} {
		s, _ := stateOf(t, piles)
		got, ok := s.SoakTask(c.task)
		name := ""
		if got.Pile != nil {
			name = got.Pile.Name
		}
		if ok != c.ok || name != c.pile || got.Part != c.part {
			t.Errorf("%q: pile %q part %q, %v", c.task, name, got.Part, ok)
		}
	}
	for task, want := range map[string]string{"soak elm": `"elm" names no pile`, "soak oak": "", "soak": "", "inoculate elm": "", "backup": "",
		"Put the yard into one file, and keep it on another disk.": "", "mow the paths": `"mow the paths" is no task that can be put off`} {
		s, problems := stateOf(t, piles+entry("put_off", "2025-04-02", `task = "`+task+`"`, "until = 2025-04-20"))
		said := ""
		for _, p := range problems {
			if p.Grade == Odd {
				said += p.Text
			}
		}
		if len(s.PutOff) != 1 || !strings.Contains(said, want) || want == "" && said != "" {
			t.Errorf("%q: %q", task, said)
		}
	}
}
