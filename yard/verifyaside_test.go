package yard

import (
	"fmt"
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

// Of an entry that was cut short and is missing, too, only that it can be put
// back is said, by verify, record and mending; doing so leaves it there once.
func TestCutShortAndMissing(t *testing.T) {
	cut := func() (*Folder, *Memory, string) {
		f, m := yardOf(t, oak)
		text, _ := Compose("harvested", map[string]string{"pile": "oak-north", "fresh": "2.4 kg"}, f.Terms())
		record(t, f, text)
		whole := m.Text(JournalFile)
		m.files[JournalFile] = []byte(whole[:strings.Index(whole, "fresh")])
		return mergeReopen(t, m), m, whole
	}
	const way = "`hodaba put-back kitchen-2` brings it back whole; record nothing again"
	f, m, _ := cut()
	if problems := f.Check(); !has(problems, 0, tornSays+": "+way) || has(problems, 0, "record it again") {
		t.Error(lines(problems))
	}
	if _, problems := record(t, f, walk(t, f)); !has(problems, 0, way) || has(problems, 0, "record it again") {
		t.Error(lines(problems))
	}
	if _, _, err := f.PutBack(t.Context(), atSix, "kitchen-2"); err != nil || len(mergeReopen(t, m).Check()) > 0 {
		t.Errorf("%v\n%s", err, lines(mergeReopen(t, m).Check()))
	}
	f, _, _ = cut()
	if said := mended(t, f); !strings.Contains(said, way) || strings.Contains(said, "record it again") {
		t.Error(said)
	}
	_, m, whole := cut()
	m.files[JournalFile] = []byte(strings.Replace(whole, "entry   = \"kitchen-2\"\n", "\n[[walked]]\non = 2026-04-01\n", 1))
	f = mergeReopen(t, m)
	if problems := f.Check(); !has(problems, 0, "this is what was recorded as kitchen-2") || has(problems, 0, namelessSays) || has(problems, 0, "put-back") {
		t.Error(lines(problems))
	}
}

// What was typed by hand and recorded, too, is odd, and so is one day of shaking
// that stands twice.
func TestOddTwiceByHand(t *testing.T) {
	written := strings.Replace(pick, "on =", "written = 2025-10-03T18:00:00\non =", 1)
	hand := strings.Replace(pick, "entry = \"kitchen-2\"\n", "", 1)
	f, _ := yardOf(t, oak+written+hand)
	if problems := f.Check(); !has(problems, 16, "delete the one by hand in line 16") {
		t.Error(lines(problems))
	}
	shaken := func(n string) string {
		return "\n[[shaken]]\nwritten = 2026-04-0" + n + "T10:00:00\non = 2026-04-01\nbatch = \"26-1\"\nentry = \"kitchen-" + n + "\"\n"
	}
	f, _ = yardOf(t, oak+shaken("4")+shaken("5"))
	if problems := f.Check(); !has(problems, 0, "this says the same as entry kitchen-4") {
		t.Error(lines(problems))
	}
}

// Two entries by hand whose short digests are the same: nothing is said of a
// line that is not there.
func TestDigestsThatClash(t *testing.T) {
	seen := map[string]string{}
	for n := 0; ; n++ {
		text := fmt.Sprintf("[[walked]]\non   = 2026-01-01\nnote = \"%d\"", n)
		id := digestName(text)
		if seen[id] == "" {
			seen[id] = text
			continue
		}
		j := readJournal([]byte(seen[id]+"\n"+text+"\n"), &Terms{Today: may})
		if problems := j.all(); len(j.entries) != 2 || j.entries[0].ID == j.entries[1].ID || !has(problems, 4, "nothing need be done") || has(problems, 0, "delete") {
			t.Errorf("%d entries\n%s", len(j.entries), lines(problems))
		}
		return
	}
}
