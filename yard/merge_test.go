package yard

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// mergeCopy is a copy of a folder in memory.
func mergeCopy(t testing.TB, m *Memory) *Copy {
	t.Helper()
	c, err := CopyIn(m, "other", JournalFile)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func mergeInto(t testing.TB, f *Folder, m *Memory) *Takeover {
	t.Helper()
	o, err := f.TakeOver(t.Context(), mergeCopy(t, m), false, atSix)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func mergeReopen(t testing.TB, m *Memory) *Folder {
	t.Helper()
	f, _, err := OpenFiles(m, loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// mergeTexts are the entries of a folder, sorted: what a union must agree in.
func mergeTexts(f *Folder) []string {
	f.read = nil
	var out []string
	for _, e := range f.journal().entries {
		out = append(out, e.Text)
	}
	slices.Sort(out)
	return out
}

// mergeStanding are the identifiers of the entries that stand, as replayed.
func mergeStanding(f *Folder) string {
	f.read = nil
	s, _ := f.State(may, 0)
	var out []string // two entries by hand of one day stand in the order of the file
	for _, e := range s.Entries {
		out = append(out, e.ID+" "+e.happened())
	}
	slices.Sort(out)
	for _, p := range s.Piles {
		out = append(out, fmt.Sprintf("%s has %d", p.Name, p.Logs))
	}
	for _, p := range s.Picks {
		out = append(out, fmt.Sprintf("%v %v", p.Piles, p.Fresh))
	}
	return strings.Join(out, "\n")
}

// mergeWrite draws what a person writes on one computer within a week: events,
// corrections of what is there, and entries by hand without an identifier.
func mergeWrite(t *rapid.T, f *Folder, m *Memory, writer string, clock *int) {
	n := rapid.IntRange(0, 6).Draw(t, writer+" writes")
	for range n {
		*clock += 2 * rapid.IntRange(0, 2).Draw(t, "minutes") // more than one may be written in a second, on either
		now := Moment(fmt.Sprintf("2026-04-%02dT%02d:%02d:00", 1+*clock/1440%28, *clock/60%24, *clock%60))
		switch rapid.IntRange(0, 4).Draw(t, "what") {
		case 4:
			mergeRecord(t, f, "counted", map[string]string{"pile": "a", "on": fmt.Sprintf("2026-04-%02d", rapid.IntRange(1, 28).Draw(t, "day")),
				"logs": fmt.Sprint(rapid.IntRange(1, 19).Draw(t, "logs"))}, writer, now)
		case 0:
			text := fmt.Sprintf("[[walked]]\non = 2026-04-%02d\npiles = [\"a\"]\nnote = %q\n", rapid.IntRange(1, 28).Draw(t, "day"), rapid.StringMatching(`[a-z]{1,3}`).Draw(t, "note"))
			m.files[JournalFile] = append(m.files[JournalFile], []byte("\n"+text)...)
			f.read = nil
		case 1:
			entries, _ := f.Entries()
			e := rapid.SampledFrom(entries).Draw(t, "which")
			v := map[string]string{"replaces": e.Name(), "void": "true"}
			if e.Kind == "harvested" && rapid.Bool().Draw(t, "right it") {
				v = e.Values()
				v["replaces"], v["kind"], v["fresh"] = e.Name(), "harvested", fmt.Sprint(rapid.IntRange(1, 9).Draw(t, "kg"))+" kg"
			}
			mergeRecord(t, f, "corrected", v, writer, now)
		default:
			mergeRecord(t, f, "harvested", map[string]string{"pile": "a", "on": fmt.Sprintf("2026-04-%02d", rapid.IntRange(1, 28).Draw(t, "day")),
				"fresh": fmt.Sprint(rapid.IntRange(1, 9).Draw(t, "kg")) + " kg"}, writer, now)
		}
	}
}

func mergeRecord(t *rapid.T, f *Folder, kind string, v map[string]string, writer string, now Moment) {
	text, problems := Compose(kind, v, f.Terms())
	if text == "" {
		t.Fatal(problems)
	}
	if _, _, err := f.Record(text, writer, now); err != nil {
		t.Fatal(err)
	}
}

// Two copies edited apart for a week and merged both ways come to the same
// entries and the same state, whichever is merged first, and merging again
// takes nothing. A copy that is merged stale, or by way of a third, brings no
// entry twice.
func TestMergeBothWays(t *testing.T) {
	set := loaded(t)
	rapid.Check(t, func(t *rapid.T) {
		base := began("a", "logs = 20") + entry("harvested", "2025-09-01", `pile = "a"`, `fresh = "2 kg"`)
		open := func(journal string) (*Folder, *Memory) {
			m := InMemory(map[string]string{YardFile: smallYard, JournalFile: journal})
			f, _, err := OpenFiles(m, set, may)
			if err != nil {
				t.Fatal(err)
			}
			return f, m
		}
		clock, later := 0, 1
		fa, ma := open(base)
		mergeWrite(t, fa, ma, "shared", &clock)
		common := ma.Text(JournalFile)
		fb, mb := open(common)
		barn, clockThere := "barn", &clock
		if rapid.Bool().Draw(t, "one word for two computers") {
			barn, clockThere = "kitchen", &later // they differ in when they wrote
		}
		for range rapid.IntRange(1, 3).Draw(t, "rounds") {
			before := clock
			mergeWrite(t, fa, ma, "kitchen", &clock)
			if clockThere == &clock {
				clock = before // both write in the same minutes
			}
			mergeWrite(t, fb, mb, barn, clockThere)
			if rapid.Bool().Draw(t, "one way in between") {
				take(t, fa, mb)
			}
		}
		stale, staleMemory := open(mb.Text(JournalFile))
		_ = stale
		if rapid.Bool().Draw(t, "first") {
			take(t, fa, mb)
			take(t, fb, ma)
		} else {
			take(t, fb, ma)
			take(t, fa, mb)
		}
		a, b := mergeTexts(fa), mergeTexts(fb)
		if !slices.Equal(a, b) {
			t.Fatalf("a has\n%s\nb has\n%s", strings.Join(a, "\n"), strings.Join(b, "\n"))
		}
		if a, b := mergeStanding(fa), mergeStanding(fb); a != b {
			t.Fatalf("a stands as\n%s\nb as\n%s", a, b)
		}
		for _, again := range []*Memory{mb, ma, staleMemory} {
			if o := take(t, fa, again); len(o.Taken) > 0 {
				t.Fatalf("taken again: %s", o.Taken[0].Text)
			}
		}
		fc, _ := open(common)
		take(t, fc, ma)
		if c := mergeTexts(fc); !slices.Equal(a, c) {
			t.Fatalf("a third copy has\n%s\nnot\n%s", strings.Join(c, "\n"), strings.Join(a, "\n"))
		}
		mergeRemembers(t, fa)
	})
}

func take(t *rapid.T, f *Folder, other *Memory) *Takeover {
	c, err := CopyIn(other, "other", JournalFile)
	if err != nil {
		t.Fatal(err)
	}
	o, err := f.TakeOver(context.Background(), c, false, atSix)
	if err != nil {
		t.Fatal(err)
	}
	if o.LeftOut() {
		t.Fatalf("left out: %v %s", o.Differ, lines(o.Problems))
	}
	return o
}

// mergeRemembers makes sure that the next entry gets a number of its own.
func mergeRemembers(t *rapid.T, f *Folder) {
	for _, writer := range []string{"kitchen", "barn", "shared"} {
		text, _ := Compose("walked", map[string]string{"on": "2026-04-30"}, f.Terms())
		id, problems, err := f.Record(text, writer, atSix)
		if err != nil || len(problems) > 0 {
			t.Fatal(err, problems)
		}
		n := 0
		for _, e := range f.journal().entries {
			if e.signature() == id {
				n++
			}
		}
		if n != 1 {
			t.Fatalf("%s stands %d times", id, n)
		}
	}
}

const mergeBase = `# head
[[walked]]
written = 2026-04-01T10:00:00
on      = 2026-04-01
entry   = "kitchen-1"
`

func TestMergeTable(t *testing.T) {
	more := func(text string) string { return mergeBase + "\n" + text }
	for name, c := range map[string]struct {
		here, there     string
		taken, same     int
		differ, left    int
		problem, inText string
	}{
		"nothing new":      {here: more(""), there: mergeBase, same: 1},
		"carriage returns": {here: mergeBase, there: strings.ReplaceAll(mergeBase, "\n", "\r\n"), same: 1},
		"other spaces, remarks and order": {here: mergeBase, same: 1,
			there: "[[walked]]\nentry=\"kitchen-1\" # mine\non=2026-04-01\n\nwritten=2026-04-01T10:00:00\n"},
		"one more": {here: mergeBase, there: more("[[walked]]\nwritten = 2026-04-02T10:00:00\non = 2026-04-02\nentry = \"barn-1\"\n"), same: 1, taken: 1,
			inText: "[[walked]]\nwritten = 2026-04-02T10:00:00\non = 2026-04-02\nentry = \"barn-1\"\n"},
		"by hand":                   {here: mergeBase, there: more("[[walked]]\non = 2026-04-02\n"), same: 1, taken: 1},
		"by hand and here":          {here: more("[[walked]]\non = 2026-04-02\n"), there: more("[[walked]]\non   = 2026-04-02 # x\n"), same: 2},
		"by hand twice there":       {here: more("[[walked]]\non = 2026-04-02\n"), there: more("[[walked]]\non = 2026-04-02\n[[walked]]\non = 2026-04-02\n"), same: 2, taken: 1},
		"edited there":              {here: mergeBase, there: strings.Replace(mergeBase, "on      = 2026-04-01", "on = 2026-03-31", 1), differ: 1},
		"corrected to it":           {here: more("[[corrected]]\nwritten = 2026-04-02T10:00:00\non = 2026-03-31\nreplaces = \"kitchen-1\"\nkind = \"walked\"\nentry = \"kitchen-2\"\n"), there: strings.Replace(mergeBase, "on      = 2026-04-01", "on = 2026-03-31", 1), same: 1},
		"one name for two":          {here: mergeBase, there: strings.Replace(mergeBase, "T10:00:00", "T11:00:00", 1), taken: 1, problem: "names one entry here and another there"},
		"and one of them corrected": {here: mergeBase, there: strings.Replace(mergeBase, "T10:00:00", "T11:00:00", 1) + "\n[[corrected]]\nwritten = 2026-04-03T10:00:00\nreplaces = \"kitchen-1\"\nvoid = true\nentry = \"kitchen-2\"\n", taken: 2, problem: "this corrects kitchen-1, and that is the identifier of several entries"},
		"cut short there":           {here: mergeBase, there: more("[[walked]]\nwritten = 2026-04-02T10:00:00\non = 2026"), same: 1, left: 1, problem: "cut short"},
		"never ended by hand":       {here: mergeBase, there: more("[[walked]]\nwritten = 2026-04-02T10:00:00\non = 2026-04-02\n\n[[walked]]\non = 2026-04-03\n"), same: 1, taken: 1, left: 1, problem: "delete the line `written`"},
		"broken there":              {here: mergeBase, there: more("[[walked]]\non = 2026-04-02\nnote = \"x\nentry = \"barn-1\"\n[[walked]]\non = 2026-04-04\n"), same: 1, taken: 1, left: 1, problem: "a quote is opened and not closed: it is not taken over"},
		"of a later version":        {here: mergeBase, there: more("[[felled]]\nwritten = 2026-04-02T10:00:00\non = 2026-04-02\nentry = \"barn-1\"\n"), same: 1, taken: 1},
		"both correct":              {here: more("[[corrected]]\nwritten = 2026-04-02T10:00:00\nreplaces = \"kitchen-1\"\nvoid = true\nentry = \"kitchen-2\"\n"), there: more("[[corrected]]\nwritten = 2026-04-03T10:00:00\nreplaces = \"kitchen-1\"\nvoid = true\nentry = \"barn-2\"\n"), same: 1, taken: 1, problem: "both copies correct kitchen-1: barn-2"},
		"no end of line here":       {here: strings.TrimSpace(mergeBase) + "\n[[walked]]\non = 2026-04-04", there: more("[[walked]]\non = 2026-04-02\n"), same: 1, taken: 1},
		"a broken one here stands":  {here: strings.Replace(mergeBase, "on      = 2026-04-01", "on = 2026-4-1", 1), there: mergeBase, differ: 1},
	} {
		f, m := yardOf(t, c.here)
		other := InMemory(map[string]string{YardFile: smallYard, JournalFile: c.there})
		o, err := f.TakeOver(t.Context(), mergeCopy(t, other), true, atSix)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		left := 0
		for _, p := range o.Problems {
			if p.Grade != Odd {
				left++
			}
			if p.Line == 0 || p.Remedy == "" {
				t.Errorf("%s: %+v", name, p)
			}
		}
		if len(o.Taken) != c.taken || o.Same != c.same || len(o.Differ) != c.differ || left != c.left || !has(append(o.Problems, Problem{}), 0, c.problem) {
			t.Errorf("%s: taken %d, same %d, differ %d, left out %d\n%s", name, len(o.Taken), o.Same, len(o.Differ), left, lines(o.Problems))
		}
		now := m.Text(JournalFile)
		if !strings.HasPrefix(now, c.here) || !strings.Contains(now, c.inText) {
			t.Errorf("%s: the journal is now\n%s", name, now)
		}
		if again := mergeInto(t, mergeReopen(t, m), other); len(again.Taken) > 0 {
			t.Errorf("%s: a second merge takes\n%s", name, again.Taken[0].Text)
		}
		before := len(readJournal([]byte(c.here), &Terms{}).entries)
		if n := len(f.journal().entries); n != before+c.taken {
			t.Errorf("%s: %d entries, not %d", name, n, before+c.taken)
		}
	}
}

func TestMergeRefuses(t *testing.T) {
	other := func(name, journal string) *Memory {
		return InMemory(map[string]string{YardFile: strings.Replace(smallYard, "Fernbrook", name, 1), JournalFile: journal})
	}
	one := "[[walked]]\non = 2026-04-02\n"
	marked := mergeBase + "<<<<<<< mine\n" + one + "=======\n>>>>>>> theirs\n"
	for name, c := range map[string]struct {
		here  string
		there *Memory
		want  string
	}{
		"another yard":   {mergeBase, other("Withy Hanger", one), "not known to be a copy of this yard"},
		"marks here":     {marked, other("Fernbrook", one), "hodaba verify --mend"},
		"marks there":    {mergeBase, other("Fernbrook", marked), "mend it there first"},
		"no text at all": {mergeBase, other("Fernbrook", "\xff\xfe["), "UTF-16"},
	} {
		f, m := yardOf(t, c.here)
		_, err := f.TakeOver(t.Context(), mergeCopy(t, c.there), false, atSix)
		if err == nil || !strings.Contains(err.Error(), c.want) || m.Text(JournalFile) != c.here {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := CopyIn(InMemory(map[string]string{"letter.txt": "x"}), "letters", JournalFile); err == nil || !strings.Contains(err.Error(), "letters is no yard") {
		t.Error(err)
	}
	// The same name is enough where one of the two is still empty, and a
	// journal alone has to share an entry.
	f, _ := yardOf(t, "")
	if o := mergeInto(t, f, other("Fernbrook", one)); len(o.Taken) != 1 {
		t.Errorf("%+v", o)
	}
	f, _ = yardOf(t, mergeBase)
	c, err := CopyIn(InMemory(map[string]string{"journal (2).toml": one}), "journal (2).toml", "journal (2).toml")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.TakeOver(t.Context(), c, false, atSix); err == nil || !strings.Contains(err.Error(), "--anyway") {
		t.Error(err)
	}
}

// A disk that fails leaves the journal as it was.
func TestMergeFaults(t *testing.T) {
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: mergeBase + "\n[[walked]]\non = 2026-04-02\n"})
	for _, op := range []string{"append", "lock"} {
		f, m := yardOf(t, mergeBase)
		m.Fault = func(o, name string) error {
			if o == op && name != copyName(may) {
				return errors.New("disk on fire")
			}
			return nil
		}
		_, err := f.TakeOver(t.Context(), mergeCopy(t, there), false, atSix)
		if err == nil || !strings.Contains(err.Error(), "nothing was taken over") || m.Text(JournalFile) != mergeBase {
			t.Errorf("%s: %v", op, err)
		}
	}
}

func TestMergeSettingsAndWeather(t *testing.T) {
	f, m := yardOf(t, mergeBase)
	m.files[WeatherFile] = []byte("date,tmin_c,tmax_c,rain_mm\n2026-04-01,1,9,0\n2026-04-02,1,9,0\n")
	other := InMemory(map[string]string{JournalFile: mergeBase, YardFile: strings.Replace(smallYard, "1.8 kg", "2 kg", 1), RecipesFile: m.Text(RecipesFile),
		WeatherFile: "date,tmin_c,tmax_c,rain_mm\n2026-04-02,2,9,0\n2026-04-03,1,9,0\n"})
	before := m.Text(YardFile)
	o := mergeInto(t, f, other)
	if len(o.Settings) != 1 || o.Settings[0].File != YardFile || len(o.Settings[0].There) != 1 || o.Settings[0].There[0] != (TextLine{8, `basket = "2 kg"`}) {
		t.Errorf("%+v", o.Settings)
	}
	if o.Weather.New != 1 || len(o.Weather.Differ) != 1 || o.LeftOut() || m.Text(YardFile) != before {
		t.Errorf("%+v", o.Weather)
	}
}

// Whatever stands in two journals, laying one over the other never panics,
// loses nothing of the own one, and takes nothing the second time.
func FuzzMergeJournals(f *testing.F) {
	f.Add(mergeBase, mergeBase+"\n[[walked]]\non = 2026-04-02\n")
	f.Add(mergeBase+"[[harvested]]\nfresh = \"\"\"\n", "[[walked]]\nwritten = 2026-04-02T10:00:00\nentry = \"x\n[[a")
	f.Add("<<<<<<< a\n[[walked]]\non = 2026-04-01\n=======\n[[walked]]\non = 2026-04-02\n>>>>>>> b\n", "")
	f.Add("[[walked]]\non = 2026-04-02\n\x00\x00", "\xef\xbb\xbf[walked]\ron=1")
	set := loaded(f)
	f.Fuzz(func(t *testing.T, here, there string) {
		m := InMemory(map[string]string{YardFile: smallYard, JournalFile: here})
		folder, _, err := OpenFiles(m, set, may)
		if err != nil {
			t.Fatal(err)
		}
		other := InMemory(map[string]string{YardFile: smallYard, JournalFile: there})
		_, _ = folder.Mend(t.Context(), atSix)
		before := mergeTexts(folder)
		o, err := folder.TakeOver(t.Context(), mergeCopy(t, other), true, atSix)
		if err != nil {
			return
		}
		after := mergeTexts(folder)
		for _, text := range before {
			if !slices.Contains(after, text) {
				t.Fatalf("lost\n%q", text)
			}
		}
		if len(o.Taken) == 0 {
			return
		}
		again, err := folder.TakeOver(t.Context(), mergeCopy(t, other), true, atSix)
		if err != nil || len(again.Taken) > 0 {
			t.Fatalf("taken again: %v %q of %q", err, again.Taken[0].Text, there)
		}
	})
}

// What is taken over is appended in the order in which it was written, by hand
// without a moment first, wherever it stood.
func TestMergeOrder(t *testing.T) {
	day := func(n int) string {
		return fmt.Sprintf("\n[[walked]]\nwritten = 2026-04-%02dT10:00:00\non = 2026-04-01\nentry = \"barn-%d\"\n", n, n)
	}
	f, _ := yardOf(t, mergeBase)
	other := InMemory(map[string]string{YardFile: smallYard, JournalFile: mergeBase + day(9) + day(3) + "\n[[walked]]\non = 2026-04-05\n" + day(7)})
	var got []string
	for _, e := range mergeInto(t, f, other).Taken {
		got = append(got, e.signature())
	}
	if want := []string{"", "barn-3", "barn-7", "barn-9"}; !slices.Equal(got, want) {
		t.Error(got)
	}
	if last := f.journal().entries[4]; last.ID != "barn-9" {
		t.Error(last.ID)
	}
}
