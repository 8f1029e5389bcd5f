package yard

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// fateFix is a correction of one entry by another, as the program writes it.
func fateFix(id, at, replaces, rest string) string {
	return "\n[[corrected]]\nwritten = 2026-04-" + at + "\nreplaces = \"" + replaces + "\"\n" + rest + "\nentry = \"" + id + "\"\n"
}

func fateKg(kg string) string {
	return "on = 2025-10-03\nkind = \"harvested\"\npile = \"oak-north\"\nfresh = \"" + kg + " kg\""
}

// fateSum are the weights that count, in kilograms.
func fateSum(s *State) (out []float64) {
	for _, p := range s.Picks {
		out = append(out, p.Fresh.Mid())
	}
	return out
}

// Of corrections made apart, or twice on one computer, the one written last
// counts alone, whatever stands between it and the entry.
func TestOneCorrectionCounts(t *testing.T) {
	chain := fateFix("kitchen-3", "01T10:00:00", "kitchen-2", fateKg("2")) + fateFix("kitchen-4", "02T10:00:00", "kitchen-3", fateKg("3"))
	for name, c := range map[string]struct {
		text string
		want string
	}{
		"the entry again, last":            {chain + fateFix("barn-1", "03T10:00:00", "kitchen-2", fateKg("5")), "[5]"},
		"the entry again, before":          {chain + fateFix("barn-1", "01T12:00:00", "kitchen-2", fateKg("5")), "[3]"},
		"the end of the chain void":        {chain + fateFix("barn-1", "01T12:00:00", "kitchen-2", fateKg("5")) + fateFix("kitchen-5", "04T10:00:00", "kitchen-4", "void = true"), "[5]"},
		"the last void":                    {chain + fateFix("barn-1", "03T10:00:00", "kitchen-2", fateKg("5")) + fateFix("barn-2", "04T10:00:00", "barn-1", "void = true"), "[3]"},
		"void, and the void corrected":     {fateFix("kitchen-3", "01T10:00:00", "kitchen-2", "void = true") + fateFix("kitchen-4", "02T10:00:00", "kitchen-3", fateKg("3")), "[3]"},
		"void of a correction, corrected":  {chain + fateFix("kitchen-5", "03T10:00:00", "kitchen-4", "void = true") + fateFix("kitchen-6", "04T10:00:00", "kitchen-5", fateKg("7")), "[7]"},
		"the entry void, last":             {chain + fateFix("barn-1", "03T10:00:00", "kitchen-2", "void = true"), "[]"},
		"the entry void, and that void":    {chain + fateFix("barn-1", "03T10:00:00", "kitchen-2", "void = true") + fateFix("barn-2", "04T10:00:00", "barn-1", "void = true"), "[3]"},
		"the chain void, then the entry":   {chain + fateFix("kitchen-5", "03T10:00:00", "kitchen-3", "void = true"), "[2.4]"},
		"at the same second, by the names": {fateFix("kitchen-3", "01T10:00:00", "kitchen-2", fateKg("2")) + fateFix("barn-1", "01T10:00:00", "kitchen-2", fateKg("5")), "[2]"},
	} {
		s, problems := stateOf(t, oak+pick+c.text)
		if got := fmt.Sprint(fateSum(s)); got != c.want || len(problems) > 0 {
			t.Errorf("%s: %s kg count, want %s\n%s", name, got, c.want, lines(problems))
		}
	}
}

// Whatever corrects what, of one entry one text counts at most, the same one
// in any order of the file, and whoever no longer counts leads to it.
func TestAnyForestOfCorrections(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		ids := []string{"kitchen-2"}
		var tables []string
		for i := range rapid.IntRange(0, 9).Draw(rt, "corrections") {
			id := fmt.Sprintf("%s-%d", rapid.SampledFrom([]string{"kitchen", "barn"}).Draw(rt, "writer"), i+3)
			rest := fateKg(fmt.Sprint(i + 3))
			if rapid.IntRange(0, 2).Draw(rt, "void") == 0 {
				rest = "void = true"
			}
			at := fmt.Sprintf("%02dT10:00:00", rapid.IntRange(1, 4).Draw(rt, "day"))
			tables = append(tables, fateFix(id, at, rapid.SampledFrom(ids).Draw(rt, "replaces"), rest))
			ids = append(ids, id)
		}
		picked := strings.Replace(pick, "[[harvested]]\n", "[[harvested]]\nwritten = 2025-10-03T18:00:00\n", 1)
		s, problems := stateOf(t, oak+picked+strings.Join(tables, ""))
		if len(s.Picks) > 1 || len(problems) > 0 {
			rt.Fatalf("%v kg count\n%s\n%s", fateSum(s), lines(problems), strings.Join(tables, ""))
		}
		tables = append(tables, picked)
		mixed := oak + strings.Join(rapid.Permutation(tables).Draw(rt, "order"), "")
		other, _ := stateOf(t, mixed)
		if fmt.Sprint(fateSum(s)) != fmt.Sprint(fateSum(other)) {
			rt.Fatalf("%v in another order: %v\n%s", fateSum(s), fateSum(other), mixed)
		}
		f, _ := yardOf(t, mixed)
		entries, _ := f.Entries()
		for _, e := range entries[1:] {
			for n := 0; e.Replaced != nil; e = e.Replaced {
				if n++; n > len(entries) {
					rt.Fatal("what replaces what goes round in a circle")
				}
			}
			x := e.effective()
			if x != nil && len(s.Picks) == 1 && s.Picks[0].Entry.ID != x.ID {
				rt.Fatalf("%s stands, and %s counts", x.ID, s.Picks[0].Entry.ID)
			}
		}
	})
}

// A correction that leaves the day counts where the entry stood among those of
// its day: what was counted before a loss is not counted after it.
func TestCorrectionKeepsItsPlace(t *testing.T) {
	on := func(kind, id, at, day, rest string) string {
		return "\n[[" + kind + "]]\nwritten = " + at + "\non = " + day + "\n" + rest + "\nentry = \"" + id + "\"\n"
	}
	day := on("counted", "kitchen-3", "2026-03-01T10:00:00", "2026-03-01", "pile = \"oak-north\"\nlogs = 36") +
		on("lost", "kitchen-4", "2026-03-01T11:00:00", "2026-03-01", "pile = \"oak-north\"\nlogs = 6")
	right := func(id, replaces, day string) string {
		return on("corrected", id, "2026-03-01T12:00:00", day, "replaces = \""+replaces+"\"\nkind = \"counted\"\npile = \"oak-north\"\nlogs = 36\nnote = \"twice\"")
	}
	for name, c := range map[string]struct {
		text string
		logs int
	}{
		"not corrected":           {day, 30},
		"the day left":            {day + right("kitchen-5", "kitchen-3", "2026-03-01"), 30},
		"twice":                   {day + right("kitchen-5", "kitchen-3", "2026-03-01") + right("kitchen-6", "kitchen-5", "2026-03-01"), 30},
		"the day moved":           {day + right("kitchen-5", "kitchen-3", "2026-03-02"), 36},
		"the day moved, and back": {day + right("kitchen-5", "kitchen-3", "2026-03-02") + right("kitchen-6", "kitchen-5", "2026-03-01"), 30},
	} {
		s, problems := stateOf(t, oak+c.text)
		if got := s.Pile("oak-north").Logs; got != c.logs || len(problems) > 0 {
			t.Errorf("%s: %d logs, want %d\n%s", name, got, c.logs, lines(problems))
		}
	}
}

// A correction of an entry that was left out on purpose is not missing it,
// nor is what corrects that correction.
func TestCorrectionOfWhatIsLeftOut(t *testing.T) {
	chain := fateFix("barn-1", "01T10:00:00", "kitchen-2", fateKg("2")) + fateFix("barn-2", "02T10:00:00", "barn-1", fateKg("3"))
	f, m := yardOf(t, oak+chain)
	if _, problems := f.State(may, 0); len(problems) != 1 || !has(problems, 0, "there is no such entry") {
		t.Fatal(lines(problems))
	}
	m.files[leftFile] = []byte("entries = [\"kitchen-2\"]\n")
	if s, problems := f.State(may, 0); len(problems) > 0 || len(s.Picks) > 0 {
		t.Errorf("%v kg count\n%s", fateSum(s), lines(problems))
	}
	if problems := f.Check(); len(problems) > 0 {
		t.Error(lines(problems))
	}
	if _, err := f.Leave(context.Background()); err != nil {
		t.Error(err)
	}
}

// A correction that replaces nothing is told until somebody takes it back.
func TestStrayCorrectionTakenBack(t *testing.T) {
	stray := fateFix("barn-1", "01T10:00:00", "kitchen-3", fateKg("2"))
	if _, problems := stateOf(t, oak+pick+stray); len(problems) != 1 || strings.Contains(lines(problems), "did you mean") {
		t.Error(lines(problems))
	}
	s, problems := stateOf(t, oak+pick+stray+fateFix("barn-2", "02T10:00:00", "barn-1", "void = true"))
	if got := fmt.Sprint(fateSum(s)); got != "[2.4]" || len(problems) > 0 {
		t.Errorf("%s kg count\n%s", got, lines(problems))
	}
}

// Another number of a writer is never what was meant.
func TestNearestID(t *testing.T) {
	ids := []string{"kitchen-1", "kitchen-2", "jk-kitchen-2", "577424"}
	for word, want := range map[string]string{"kitchen-3": "", "kitchne-2": "kitchen-2", "kitchen-": "kitchen-1", "Kitchen-1": "kitchen-1", "577425": "577424", "kitchen-22": "kitchen-2", "kitchen-12": ""} {
		if got, _ := NearestID(word, ids); got != want {
			t.Errorf("%s: %q, want %q", word, got, want)
		}
	}
}
