package yard

import (
	"strings"
	"testing"
)

// What was set aside is named until it is in the journal again or the file is gone.
func TestSetAsideStaysVisible(t *testing.T) {
	const torn = "\n[[harvested]]\nwritten = 2025-10-04T10:00:00\non      = 2025-10-03\npile    = \"oak-north\"\nfresh   = \"2."
	again := torn + "4 kg\"\nentry   = \"kitchen-2\"\n"
	name := tornName("2025-10-04")
	for what, c := range map[string]struct{ journal, aside, says, remedy string }{
		"cut short":       {oak, torn, "[[harvested]] with `written = 2025-10-04T10:00:00", "record it again if it is missed, then delete the file"},
		"with zero bytes": {oak, torn + "\x00\x00", "[[harvested]] with", "record it again"},
		"whole":           {oak, again, "[[harvested]] with", "`hodaba merge " + name + "` puts it back"},
		"a beginning":     {oak, "\n[[harvested]]\nwrit", "the beginning of an entry and no more", "nothing can be made of it"},
		"there again":     {oak + again, torn, "", ""},
		"spaces apart":    {oak + strings.ReplaceAll(again, " = ", "="), again, "", ""},
		"another":         {oak + pick, torn, "[[harvested]]", "record it again"},
		"kept of a demo":  {oak, "", "", ""},
	} {
		f, m := yardOf(t, c.journal)
		if c.aside != "" {
			m.files[name] = []byte(c.aside)
		}
		problems := f.Check()
		var said []Problem
		for _, p := range problems {
			if p.File == name {
				said = append(said, p)
			}
		}
		if c.says == "" {
			if len(said) > 0 {
				t.Errorf("%s: %s", what, lines(said))
			}
			continue
		}
		if len(said) != 1 || said[0].Grade != Odd || !strings.Contains(said[0].Text, c.says) || !strings.Contains(said[0].Remedy, c.remedy) {
			t.Errorf("%s: %s", what, lines(said))
		}
	}
	f, m := yardOf(t, oak)
	m.files["journal-kept-1.toml"] = []byte(pick + again)
	if problems := f.Check(); !has(problems, 0, "and 1 more") || !has(problems, 0, "`hodaba merge journal-kept-1.toml`") {
		t.Error(lines(problems))
	}
	m.files[name] = []byte(again)
	other, err := CopyIn(m, "other", name)
	if err != nil {
		t.Fatal(err)
	}
	if o, err := f.TakeOver(t.Context(), other, true, atSix); err != nil || len(o.Taken) != 1 || !strings.HasSuffix(m.Text(JournalFile), again) {
		t.Errorf("%v %+v\n%s", err, o, m.Text(JournalFile))
	}
	if problems := f.Check(); has(problems, 0, name) {
		t.Error(lines(problems))
	}
}
