package yard

import (
	"strings"
	"testing"
)

const (
	runGiven  = "\n[[given]]\nwritten = 2026-01-02T10:00:00\non      = 2026-01-02\nspecies = \"shiitake\"\ndry     = \"20 g\"\nto      = \"MK\"\nentry   = \"kitchen-2\"\n"
	runRained = "\n[[rained]]\nwritten = 2026-01-03T10:00:00\non      = 2026-01-03\nrain    = \"7 mm\"\nentry   = \"kitchen-3\"\n"
	runWalked = "\n[[walked]]\nwritten = 2026-01-04T10:00:00\non      = 2026-01-04\nentry   = \"kitchen-4\"\n"
)

// A header that is missing, broken or below its first line takes no other entry
// with it, what is said of it names the line and the header, and nothing is
// missing or cut off. Who writes the header there has all entries.
func TestHeaderIsMissing(t *testing.T) {
	all := oak + runGiven + runRained + runWalked
	for name, c := range map[string]struct{ from, to, says, remedy, back string }{
		"deleted":            {"[[rained]]\n", "", "a header is missing above line 17", "write it there: [[rained]]", ""},
		"of several kinds":   {"[[given]]\n", "", "a header is missing above line 9", "[[sold]], [[given]] or [[eaten]], whichever it was", ""},
		"the last":           {"[[walked]]\n", "", "a header is missing above line 23", "in two brackets", ""},
		"the first":          {"[[inoculated]]\n", "", "a header is missing above line 2", "in two brackets", ""},
		"a wrong bracket":    {"[[rained]]", "[}[rained]]", "`[}[rained]]` is not a table header", "write [[rained]]", "[[rained]]"},
		"no first bracket":   {"[[rained]]", "rained]]", "`rained]]` is not a table header", "write [[rained]]", "[[rained]]"},
		"round brackets":     {"[[rained]]", "((rained))", "`((rained))` is not a table header", "write [[rained]]", "[[rained]]"},
		"a slip in it":       {"[[rained]]", "{[raind]]", "`{[raind]]` is not a table header", "write [[rained]]", "[[rained]]"},
		"a bare word":        {"[[rained]]", "rained", "`rained` stands where an entry should begin", "write the header of the entry there", "[[rained]]"},
		"swapped":            {"[[rained]]\nwritten = 2026-01-03T10:00:00\n", "written = 2026-01-03T10:00:00\n[[rained]]\n", "`written` stands above the header of its entry, in line 18", "move the line below that header", ""},
		"swapped at the end": {"[[walked]]\nwritten = 2026-01-04T10:00:00\n", "written = 2026-01-04T10:00:00\n[[walked]]\n", "`written` stands above the header", "move the line", ""},
	} {
		for _, ends := range []string{"\n", "\r\n"} {
			text := strings.ReplaceAll(strings.Replace(all, c.from, c.to, 1), "\n", ends)
			f, m := yardOf(t, text)
			entries, problems := f.Entries()
			want := 3
			if strings.HasPrefix(name, "swapped") {
				want = 4 // it counts, and only its `written` does not
			}
			if len(entries) != want || len(problems) != 1 || !strings.Contains(problems[0].Text, c.says) || !strings.Contains(problems[0].Remedy, c.remedy) {
				t.Errorf("%s: %d entries\n%s", name, len(entries), lines(problems))
			}
			if missing, err := f.Missing(); err != nil || len(missing) > 0 {
				t.Errorf("%s: missing %v %v", name, missing, err)
			}
			if _, problems := record(t, f, walk(t, f)); len(problems) > 0 || !strings.HasPrefix(m.Text(JournalFile), text) {
				t.Errorf("%s: %s%s", name, lines(problems), m.Text(JournalFile))
			}
			if c.back == "" {
				continue
			}
			f, _ = yardOf(t, strings.Replace(text, c.to, c.back, 1))
			if entries, problems := f.Entries(); len(entries) != 4 || len(problems) > 0 {
				t.Errorf("%s, mended: %d entries\n%s", name, len(entries), lines(problems))
			}
		}
	}
}

// Also where several headers are gone, and where no entry is the program's.
func TestHeadersAreMissing(t *testing.T) {
	text := oak + strings.NewReplacer("[[given]]\n", "", "[[rained]]\n", "").Replace(runGiven+runRained) + runWalked
	j := readJournal([]byte(text), &Terms{Today: may})
	if problems := j.all(); len(j.entries) != 4 || len(problems) != 2 || j.entries[3].Event == nil || j.entries[0].Event == nil {
		t.Errorf("%d entries\n%s", len(j.entries), lines(problems))
	}
	hand := "[[walked]]\non = 2026-01-01\n[}[walked]]\non = 2026-01-02\n"
	j = readJournal([]byte(hand), &Terms{Today: may})
	if problems := j.all(); len(j.entries) != 2 || j.entries[0].Event == nil || !has(problems, 3, "write [[walked]]") {
		t.Errorf("%d entries\n%s", len(j.entries), lines(problems))
	}
	j = readJournal([]byte(strings.Replace(hand, "[}[walked]]\n", "", 1)), &Terms{Today: may})
	if problems := j.all(); !has(problems, 3, "write the header that is missing between them") {
		t.Error(lines(problems))
	}
	one := readJournal([]byte(runWalked+"on = 2026-01-05\n"), &Terms{Today: may})
	if problems := one.all(); len(one.entries) != 2 || one.entries[0].Event == nil || len(problems) != 1 {
		t.Errorf("%d entries\n%s", len(one.entries), lines(problems))
	}
	// What is no entry at all is not merged into another.
	f, _ := yardOf(t, oak)
	other := InMemory(map[string]string{YardFile: smallYard, JournalFile: oak + strings.Replace(runRained, "[[rained]]\n", "", 1)})
	if o, err := f.TakeOver(t.Context(), mergeCopy(t, other), true, atSix); err != nil || len(o.Taken) > 0 || !o.LeftOut() {
		t.Errorf("%v %+v", err, o)
	}
	if !isTorn([]byte("written = 2026-01-03T10:00:00\nentry = \"kitchen-3\"\n")) {
		t.Error("whole without a header")
	}
}

// Reading takes time and memory by the length, however many tables run together.
func TestRunTogetherStaysCheap(t *testing.T) {
	for _, text := range []string{"[[walked]]\n" + strings.Repeat("written = 1\n", 20_000), strings.Repeat("(walked)\n", 20_000), strings.Repeat("entry = 1\n", 20_000)} {
		if got := allocated(func() { readJournal([]byte(text), &Terms{Today: may}) }); got > 2000*uint64(len(text)) {
			t.Errorf("%.30q: %d bytes for each", text, got/uint64(len(text)))
		}
	}
}
