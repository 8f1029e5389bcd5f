package yard

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const oak = `
[[inoculated]]
on = 2024-04-12
pile = "oak-north"
species = "shiitake"
logs = 40
entry = "kitchen-1"
`

const pick = `
[[harvested]]
on = 2025-10-03
pile = "oak-north"
fresh = "2.4 kg"
entry = "kitchen-2"
`

// broken are tables that cannot be read, each with what must be said about
// it. Between valid ones they must hide neither.
var broken = map[string]string{
	"[[noticed]]\non = 2025-01-01\npile = \"oak-north\nwhat = \"slugs\"\n":                 "a quote is opened",
	"[[noticed]]\non = 2025-01-01\nnote = \"\"\"never closed\n":                            "a quote is opened",
	"[[noticed]]\non = 2025-01-01\nnote = '''never closed\n":                               "a quote is opened",
	"[[noticed]\non = 2025-01-01\n":                                                        "not a table header",
	"[[noticed\non = 2025-01-01\n":                                                         "not a table header",
	"[[noticed]] slugs\non = 2025-01-01\n":                                                 "stands behind the header",
	"[[noticed]]\non 2025-01-01\n":                                                         "not of the form key = value",
	"[[noticed]]\non = 2025-01-01\njust words\n":                                           "not of the form key = value",
	"[[noticed]]\non = 2025-01-01\npile = oak-north\n":                                     "holds a value that cannot be read",
	"[[noticed]]\non = 2025-01-01\npile = \n":                                              "nothing stands behind the equals sign",
	"[[noticed]]\non = 2025-02-30\npile = \"a\"\n":                                         "2025-02-30 is not a day of the calendar",
	"[[noticed]]\non = 2025-01-01\non = 2025-01-02\n":                                      "stands twice",
	"[[noticed]]\non = 2025-01-01\npiles = [\"a\", \"b\"\n":                                "list is not closed",
	"[[noticed]]\non = 2025-01-01\nlogs = 007\n":                                           "begins with a zero",
	"[[noticed]]\non = 2025-01-01\nnote = \"C:\\mushrooms\"\n":                             "backslash",
	"[[noticed]]\non = 2025-01-01\nnote = \"" + strings.Repeat("x", longestTable) + "\"\n": "too long",
}

func TestBrokenTablesHideNothing(t *testing.T) {
	for bad, want := range broken {
		j := readJournal([]byte(oak+"\n"+bad+pick), &Terms{Today: may})
		if len(j.entries) != 3 || j.entries[0].ID != "kitchen-1" || j.entries[2].ID != "kitchen-2" ||
			j.entries[0].Event == nil || j.entries[2].Event == nil {
			t.Errorf("%.60q: its neighbours were lost: %d entries", bad, len(j.entries))
			continue
		}
		problems := j.all()
		line := strings.Count(oak+"\n", "\n") + 1
		if !has(problems, 0, want) || len(problems) != 1 {
			t.Errorf("%.60q: %s", bad, lines(problems))
			continue
		}
		if p := problems[0]; p.Line < line || p.Line > line+3 || p.Remedy == "" || p.Grade != Aside || p.File != JournalFile {
			t.Errorf("%.60q: %d %+v", bad, line, p)
		}
	}
}

func TestMultiLineStringsAreNotCut(t *testing.T) {
	for _, note := range []string{
		"note = \"\"\"\n[[harvested]]\non = 2025-01-01\n\"\"\"",
		"note = '''\n[[harvested]]\n'''",
		"note = \"\"\"one \\\"\"\" two\n[[lost]]\n\"\"\"\"",
		"note = \"a \\\" quote ''' and # no remark\" # a remark with \"\"\" in it",
		"note = 'it''' # two quotes",
	} {
		if strings.HasPrefix(note, "note = 'it") {
			note = `note = "it's"   # '''`
		}
		text := oak + "\n[[noticed]]\non = 2025-01-01\npile = \"oak-north\"\nwhat = \"slugs\"\n" + note + "\n" + pick
		s, problems := stateOf(t, text)
		if len(problems) > 0 || len(s.Entries) != 3 {
			t.Errorf("%s: %d entries\n%s", note, len(s.Entries), lines(problems))
		}
	}
}

func TestListsOverLines(t *testing.T) {
	text := oak + strings.ReplaceAll(oak, "oak-north", "birch") + "[[walked]]\non = 2025-01-01\npiles = [\n  \"oak-north\", # first\n  \"birch\",\n]\n"
	text = strings.Replace(text, "kitchen-1", "kitchen-9", 1)
	s, problems := stateOf(t, text)
	if len(problems) > 0 || len(s.Pile("birch").Seen) != 1 {
		t.Error(lines(problems))
	}
}

// The same journal, saved by other editors.
func TestOtherEditors(t *testing.T) {
	for name, text := range map[string]string{
		"byte order mark":      "\ufeff" + oak + pick,
		"mark at once":         "\ufeff" + strings.TrimSpace(oak) + "\n" + pick,
		"carriage returns":     strings.ReplaceAll(oak+pick, "\n", "\r\n"),
		"no last newline":      strings.TrimRight(oak+pick, "\n"),
		"trailing blanks":      oak + pick + "\n\n  \n",
		"trailing remark":      oak + pick + "# done\n",
		"spaces":               strings.ReplaceAll(oak+pick, "on =", "  on   =\t"),
		"spaces in the header": strings.ReplaceAll(oak+pick, "[[harvested]]", "[[ harvested ]]  # picked"),
	} {
		s, problems := stateOf(t, text)
		if len(problems) > 0 || len(s.Entries) != 2 || len(s.Picks) != 1 {
			t.Errorf("%s: %d entries\n%s", name, len(s.Entries), lines(problems))
		}
	}
}

func TestForeignBytes(t *testing.T) {
	s, problems := stateOf(t, oak+"[[noticed]]\non = 2025-01-01\npile = \"oak-north\"\nwhat = \"K\xe4fer\"\n"+pick)
	if len(s.Entries) != 3 || !has(problems, 11, "not saved as UTF-8") {
		t.Errorf("%d entries\n%s", len(s.Entries), lines(problems))
	}
	s, problems = stateOf(t, oak+"[[noticed]]\non = 2025-01-01\npile = \"oak-north\"\nwhat = \"slugs\x00\"\n"+pick)
	if len(s.Entries) != 3 || !has(problems, 11, "zero bytes") {
		t.Errorf("%d entries\n%s", len(s.Entries), lines(problems))
	}
	_, problems = stateOf(t, "\xff\xfe[\x00[\x00")
	if !has(problems, 1, "UTF-16") {
		t.Error(lines(problems))
	}
}

// Wherever the program is stopped while it writes the last entry, that entry
// is reported and left out, and what stood before is untouched. Where only the
// newline at its end is missing, nothing of the entry is: it counts.
func TestTornAnywhere(t *testing.T) {
	block := "\n" + signed("[[harvested]]\non = 2025-10-03\npile = \"oak-north\"\nfresh = \"2.4 kg\"\n", "2025-10-03T18:02:00", "kitchen-2")
	for n := range len(block) - len("\n") {
		s, problems := stateOf(t, oak+block[:n])
		if len(s.Entries) != 1 || s.Entries[0].ID != "kitchen-1" {
			t.Fatalf("after %q: %d entries", block[:n], len(s.Entries))
		}
		if torn := strings.TrimSpace(block[:n]) != ""; torn != has(problems, 0, "cut short") || len(problems) > 1 {
			t.Fatalf("after %q: %s", block[:n], lines(problems))
		}
	}
	for _, whole := range []string{block, strings.TrimSuffix(block, "\n"), strings.ReplaceAll(strings.TrimSuffix(block, "\n"), "\n", "\r\n"), strings.TrimSuffix(block, "\n") + " # mine"} {
		s, problems := stateOf(t, oak+whole)
		if len(s.Entries) != 2 || len(problems) > 0 {
			t.Errorf("%q: %s", whole, lines(problems))
		}
	}
	s, problems := stateOf(t, oak+block[:40]+strings.Repeat("\x00", 300))
	if len(s.Entries) != 1 || !has(problems, 0, "cut short") {
		t.Errorf("zero-filled: %d entries\n%s", len(s.Entries), lines(problems))
	}
}

// A table by hand at the end, without a newline, is no torn one.
func TestByHandAtTheEnd(t *testing.T) {
	s, problems := stateOf(t, oak+"[[walked]]\non = 2025-01-01")
	if len(s.Entries) != 2 || len(problems) > 0 {
		t.Errorf("%d entries\n%s", len(s.Entries), lines(problems))
	}
	if id := s.Entries[1].ID; len(id) != 6 || strings.Trim(id, "0123456789abcdef") != "" {
		t.Errorf("an entry by hand is called %s", id)
	}
}

// An entry by hand keeps its name whatever stands around it.
func TestDigestNameIsStable(t *testing.T) {
	name := func(text string) string {
		j := readJournal([]byte(text), &Terms{Today: may})
		return j.entries[0].ID
	}
	hand := "[[walked]]\non = 2025-01-01\n"
	want := name(hand)
	for _, text := range []string{"\n\n" + hand, hand + "\n# a remark\n" + pick, strings.ReplaceAll(hand, "\n", "\r\n"), strings.TrimSpace(hand)} {
		if got := name(text); got != want {
			t.Errorf("%q is called %s, not %s", text, got, want)
		}
	}
	if name("[[walked]]\non = 2025-01-02\n") == want {
		t.Error("another entry has the same name")
	}
}

func TestSameNameTwice(t *testing.T) {
	written := strings.Replace(pick, "on =", "written = 2025-10-03T18:00:00\non =", 1)
	s, problems := stateOf(t, oak+written+written)
	if len(s.Picks) != 1 || !has(problems, 0, "stands twice, word for word") {
		t.Errorf("merged: %d picks\n%s", len(s.Picks), lines(problems))
	}
	s, problems = stateOf(t, oak+pick+strings.Replace(pick, "2.4", "1.1", 1))
	if len(s.Picks) != 2 || !has(problems, 0, "is that of line") {
		t.Errorf("copied by hand: %d picks\n%s", len(s.Picks), lines(problems))
	}
	hand := strings.Replace(pick, "entry = \"kitchen-2\"\n", "", 1)
	s, problems = stateOf(t, oak+hand+hand)
	if len(s.Picks) != 2 || !has(problems, 0, "says the same as line") || s.Entries[1].ID == s.Entries[2].ID {
		t.Errorf("twice by hand: %d picks\n%s", len(s.Picks), lines(problems))
	}
}

// Who does what is advised about two entries under one identifier has both, also
// where the second is the last of the file, and the next record takes neither away.
func TestSameNameTwiceMended(t *testing.T) {
	second := strings.Replace(strings.Replace(pick, "2.4", "1.1", 1), "on =", "written = 2025-10-03T18:00:00\non =", 1)
	text := oak + pick + second
	if _, problems := stateOf(t, text); !has(problems, 0, "both entries count") {
		t.Fatal(lines(problems))
	}
	f, _ := yardOf(t, oak+pick+strings.Replace(strings.Replace(second, "written = 2025-10-03T18:00:00\n", "", 1), "entry = \"kitchen-2\"\n", "", 1))
	record(t, f, walk(t, f))
	if s, problems := f.State(may, 0); len(s.Picks) != 2 || len(problems) > 0 {
		t.Errorf("%d picks\n%s", len(s.Picks), lines(problems))
	}
	// A copy that lost only its `entry` cannot be told from one that was cut
	// short; what is said of it leads to the same.
	cut := strings.Replace(second, "entry = \"kitchen-2\"\n", "", 1)
	f, _ = yardOf(t, oak+pick+cut)
	if _, problems := f.State(may, 0); !has(problems, 0, "if it was typed by hand, delete its line `written`") {
		t.Fatal(lines(problems))
	}
	f, _ = yardOf(t, oak+pick+strings.Replace(cut, "written = 2025-10-03T18:00:00\n", "", 1))
	record(t, f, walk(t, f))
	if s, problems := f.State(may, 0); len(s.Picks) != 2 || len(problems) > 0 {
		t.Errorf("%d picks\n%s", len(s.Picks), lines(problems))
	}
}

func TestFutureAndPast(t *testing.T) {
	late := "\n[[walked]]\non = 2026-05-02\nentry = \"kitchen-3\"\n"
	s, problems := stateOf(t, oak+late)
	if len(s.Entries) != 1 || !has(problems, 10, "2026-05-02 lies in the future") {
		t.Error(lines(problems))
	}
	f, _ := yardOf(t, oak+pick)
	s, problems = f.State(NewDate(2025, 1, 1), 0)
	if len(problems) > 0 || len(s.Entries) != 1 || len(s.Picks) != 0 {
		t.Errorf("as of an earlier day: %d entries\n%s", len(s.Entries), lines(problems))
	}
}

// What was known on a day is told by `written`, else by `on`.
func TestKnownBy(t *testing.T) {
	text := oak + "\n[[harvested]]\nwritten = 2026-02-01T10:00:00\non = 2025-10-03\npile = \"oak-north\"\nfresh = \"2 kg\"\nentry = \"kitchen-2\"\n" +
		"\n[[corrected]]\nwritten = 2026-03-01T10:00:00\non = 2025-10-03\nreplaces = \"kitchen-2\"\nkind = \"harvested\"\npile = \"oak-north\"\nfresh = \"3 kg\"\nentry = \"kitchen-3\"\n"
	f, _ := yardOf(t, text)
	for day, want := range map[Date]float64{NewDate(2026, 1, 1): 0, NewDate(2026, 2, 1): 2, NewDate(2026, 3, 1): 3, 0: 3} {
		s, problems := f.State(may, day)
		got := 0.0
		for _, p := range s.Picks {
			got += p.Fresh.Mid()
		}
		if got != want || len(problems) > 0 {
			t.Errorf("known by %v: %v kg, want %v\n%s", day, got, want, lines(problems))
		}
	}
}

// A vague day ends where it was written, and on the day that is asked about.
func TestVagueDaysEnd(t *testing.T) {
	s, problems := stateOf(t, "[[inoculated]]\nwritten = 2024-06-01T10:00:00\non = \"2024\"\npile = \"a\"\nspecies = \"shiitake\"\nentry = \"kitchen-1\"\n"+
		"[[inoculated]]\non = \"2026\"\npile = \"b\"\nspecies = \"shiitake\"\n")
	if len(problems) > 0 || s.Pile("a").Since.To != NewDate(2024, 6, 1) || s.Pile("a").Since.String() != "2024" || s.Pile("b").Since.To != may {
		t.Errorf("%+v %+v\n%s", s.Pile("a").Since, s.Pile("b").Since, lines(problems))
	}
	f, _ := yardOf(t, "[[inoculated]]\non = \"2025\"\npile = \"a\"\nspecies = \"shiitake\"\n")
	s, _ = f.State(NewDate(2025, 3, 1), 0)
	if s.Pile("a").Since.To != NewDate(2025, 3, 1) {
		t.Error("a day after the day asked about")
	}
}

func TestCorrected(t *testing.T) {
	fix := func(id, replaces, rest string) string {
		return "\n[[corrected]]\nwritten = 2026-04-0" + id + "T10:00:00\nreplaces = \"" + replaces + "\"\n" + rest + "\nentry = \"fix-" + id + "\"\n"
	}
	right := func(kg string) string {
		return "on = 2025-10-04\nkind = \"harvested\"\npile = \"oak-north\"\nfresh = \"" + kg + "\""
	}
	for name, c := range map[string]struct {
		text string
		kg   float64
		said string
	}{
		"once":                    {fix("1", "kitchen-2", right("3 kg")), 3, ""},
		"void":                    {fix("1", "kitchen-2", "void = true"), 0, ""},
		"chain":                   {fix("1", "kitchen-2", right("3 kg")) + fix("2", "fix-1", right("4 kg")), 4, ""},
		"twice the same":          {fix("1", "kitchen-2", right("3 kg")) + fix("2", "kitchen-2", right("4 kg")), 4, ""},
		"void of a correction":    {fix("1", "kitchen-2", right("3 kg")) + fix("2", "fix-1", "void = true"), 2.4, ""},
		"void of a void":          {fix("1", "kitchen-2", "void = true") + fix("2", "fix-1", "void = true"), 2.4, ""},
		"right after void":        {fix("1", "kitchen-2", "void = true") + fix("2", "kitchen-2", right("5 kg")), 5, ""},
		"unknown":                 {fix("1", "kitchen-22", right("3 kg")), 2.4, "there is no such entry"},
		"itself":                  {fix("1", "fix-1", right("3 kg")), 2.4, "replaces itself"},
		"unknown kind":            {fix("1", "kitchen-2", "on = 2025-10-04\nkind = \"harvestd\""), 2.4, `did you mean kind = "harvested"?`},
		"corrected to correction": {fix("1", "kitchen-2", "on = 2025-10-04\nkind = \"corrected\""), 2.4, "no kind of event to which an entry can be corrected"},
		"key of another kind":     {fix("1", "kitchen-2", right("3 kg")+"\nlooked_at = 4"), 3, "looked_at is no key"},
		"another kind":            {fix("1", "kitchen-2", "on = 2025-10-04\nkind = \"walked\"\npiles = \"oak-north\""), 0, ""},
	} {
		s, problems := stateOf(t, oak+pick+c.text)
		got := 0.0
		for _, p := range s.Picks {
			got += p.Fresh.Mid()
		}
		if got != c.kg || (c.said == "") != (len(problems) == 0) || c.said != "" && !has(problems, 0, c.said) {
			t.Errorf("%s: %v kg, want %v\n%s", name, got, c.kg, lines(problems))
		}
	}
	f, _ := yardOf(t, oak+pick+fix("1", "kitchen-2", right("3 kg")))
	entries, _ := f.Entries()
	if len(entries) != 3 || entries[1].Replaced != entries[2] || entries[0].Replaced != nil {
		t.Error("the replaced entry does not point at the one that replaces it")
	}
}

func TestCorrectionsInACircle(t *testing.T) {
	text := "[[corrected]]\nreplaces = \"b\"\nvoid = true\nentry = \"a\"\n[[corrected]]\nreplaces = \"a\"\nvoid = true\nentry = \"b\"\n"
	s, problems := stateOf(t, oak+text)
	if len(s.Entries) != 1 || len(problems) != 2 || !has(problems, 0, "replaces itself") {
		t.Errorf("%d entries\n%s", len(s.Entries), lines(problems))
	}
}

// A mistake is gone once the entry is corrected, even one that could not be
// read at all.
func TestCorrectionMendsWhatCouldNotBeRead(t *testing.T) {
	bad := "\n[[harvested]]\non = 2025-02-30\npile = \"oak-north\"\nentry = \"kitchen-2\"\n"
	fix := "\n[[corrected]]\non = 2025-02-28\nreplaces = \"kitchen-2\"\nkind = \"harvested\"\npile = \"oak-north\"\nentry = \"kitchen-3\"\n"
	if _, problems := stateOf(t, oak+bad); len(problems) != 1 || problems[0].Entry != "kitchen-2" {
		t.Fatal(lines(problems))
	}
	s, problems := stateOf(t, oak+bad+fix)
	if len(problems) > 0 || len(s.Picks) != 1 || s.Picks[0].On.String() != "2025-02-28" {
		t.Error(lines(problems))
	}
}

// The state does not depend on the order in which program-written entries
// stand in the file, as after a merge of two folders.
func TestOrderOfTheFileDoesNotMatter(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	var tables []string
	add := func(n int, kind string, v map[string]string) {
		text, problems := Compose(kind, v, terms)
		if text == "" {
			t.Fatal(problems)
		}
		at := NewDate(2026, 1, 1) + Date(n)
		tables = append(tables, "\n"+signed(text, Moment(at.String()+"T10:00:00"), "kitchen-"+at.String()))
	}
	add(1, "inoculated", map[string]string{"on": "2024", "pile": "a", "species": "shiitake", "logs": "40"})
	add(2, "harvested", map[string]string{"on": "2024", "pile": "a", "fresh": "1 kg"})
	add(3, "split", map[string]string{"on": "2025-05-01", "pile": "a", "into": "b", "logs": "10"})
	add(4, "lost", map[string]string{"on": "2025-05-01", "pile": "b", "logs": "2"})
	add(5, "moved", map[string]string{"on": "2025-05-01", "pile": "b", "place": "hazel"})
	add(6, "counted", map[string]string{"on": "2026-01-01", "pile": "a", "logs": "25"})
	add(7, "dried", map[string]string{"on": "2025-10-01", "species": "shiitake", "dry": "200 g", "lot": "D1"})
	add(8, "dried", map[string]string{"on": "2025-10-01", "species": "shiitake", "dry": "100 g", "lot": "D2"})
	add(9, "macerated", map[string]string{"on": "2025-11-01", "batch": "26-1", "recipe": "five mushrooms", "ingredients": "shiitake 250 g"})
	add(10, "bottled", map[string]string{"on": "2025-12-20", "batch": "26-1", "bottles": "10 x 100 ml"})
	want := summary(stateOf(t, strings.Join(tables, "")))
	rapid.Check(t, func(rt *rapid.T) {
		mixed := rapid.Permutation(tables).Draw(rt, "order")
		if got := summary(stateOf(t, strings.Join(mixed, ""))); got != want {
			rt.Fatalf("in another order\n%s\nwant\n%s", got, want)
		}
	})
}

// FuzzJournal: nothing that stands in a journal makes reading panic, and
// nothing that stands before a valid entry hides it.
func FuzzJournal(f *testing.F) {
	for bad := range broken {
		if len(bad) < 1000 {
			f.Add(bad)
		}
	}
	f.Add(oak + pick)
	f.Add("[[corrected]]\nreplaces = \"kitchen-1\"\nvoid = true\n")
	f.Add("[[counted]]\non = 2025-01-01\nspecies = \"reishi\"\npile = \"x\"\nlogs = 3\n")
	f.Add(full() + begunBatch + standing + entry("discarded", "2025-11-09", `batch = "26-1"`, "jars = 1") + entry("blended", "2025-12-03", `batch = "26-5"`, `from = ["26-1 500 ml", {batch = "26-2"}, 7]`))
	f.Add("\x00\xff[[a]]\r\n\"\"\"\n")
	set := loaded(f)
	f.Add(full())
	for _, v := range []string{"24", "{a = 1}", "[[1], []]", `"[{from = 2026-09-01, to = 2026-09-08}]"`, "2026-05-03", "nan"} {
		for _, k := range []string{"soak.tank_logs", "working.away", "working.closed", "drier.load", "site.normals.tmin_c", ".", "plan.x"} {
			f.Add(entry("changed", "2025-03-01", "key = \""+k+"\"", "value = "+v))
		}
	}
	f.Fuzz(func(t *testing.T, s string) {
		terms := &Terms{Data: set, Today: may}
		text := s + "\n" + oak
		if j := readJournal([]byte(text), terms); notLines([]byte(text)) == nil && !slices.ContainsFunc(j.entries, func(e *Entry) bool {
			return e.Event != nil && e.Text == strings.TrimSpace(oak)
		}) {
			t.Fatalf("%q hides an entry: %s", s, lines(j.all()))
		}
		wholeProblems(t, readJournal([]byte(s), terms).all(), JournalFile, s)
		m := InMemory(map[string]string{YardFile: smallYard, JournalFile: text})
		folder, _, err := OpenFiles(m, set, may)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = folder.State(may, 0)
		for _, p := range folder.Check() {
			if p.Text == "" {
				t.Fatalf("%q: an empty problem", s)
			}
		}
		entries, _ := folder.Entries()
		for _, e := range entries {
			_, _, _ = e.Says(), e.Values(), e.Piles()
		}
	})
}
