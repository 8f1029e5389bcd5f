package yard

import (
	"fmt"
	"strings"
	"testing"
)

// twinsPick is a pick as the program writes it.
func twinsPick(at, pile, fresh, id string) string {
	return fmt.Sprintf("\n[[harvested]]\nwritten = 2026-04-%s:00:00\non      = 2026-04-20\npile    = %q\nfresh   = %q\nentry   = %q\n", at, pile, fresh, id)
}

// twinsWhole is how much was picked from each pile.
func twinsWhole(t *testing.T, f *Folder) string {
	t.Helper()
	f.read = nil
	s, _ := f.State(may, 0)
	kg := map[string]float64{}
	for _, p := range s.Picks {
		kg[strings.Join(p.Piles, "+")] += p.Fresh.Mid()
	}
	return fmt.Sprint(kg)
}

const twinsPiles = "[[inoculated]]\non = 2024-04-01\npile = \"oak-n\"\nspecies = \"shiitake\"\nlogs = 40\nentry = \"laptop-1\"\n" +
	"\n[[inoculated]]\non = 2024-04-01\npile = \"oak-s\"\nspecies = \"shiitake\"\nlogs = 40\nentry = \"laptop-2\"\n"

// Two computers wrote under one word: whatever was corrected on either of them
// counts on both for the entry that was meant there, before the two met and
// after.
func TestTwins(t *testing.T) {
	fix := func(replaces, pile, fresh, id string) string {
		return fmt.Sprintf("\n[[corrected]]\nwritten = 2026-04-22T10:00:00\non = 2026-04-20\nreplaces = %q\nkind = \"harvested\"\npile = %q\nfresh = %q\nentry = %q\n", replaces, pile, fresh, id)
	}
	own := twinsPick("20T10", "oak-n", "1 kg", "laptop-3")
	other := twinsPick("20T09", "oak-s", "7 kg", "laptop-3")
	name := func(text string) string { return twinName(strings.TrimSpace(text), 2) }
	for what, c := range map[string]struct{ a, b, want string }{
		"nothing corrected":    {own, other, "map[oak-n:1 oak-s:7]"},
		"by the identifier":    {own + fix("laptop-3", "oak-n", "1.5 kg", "laptop-4"), other, "map[oak-n:1.5 oak-s:7]"},
		"the other":            {own, other + fix("laptop-3", "oak-s", "6 kg", "laptop-4"), "map[oak-n:1 oak-s:6]"},
		"both":                 {own + fix("laptop-3", "oak-n", "1.5 kg", "laptop-4"), other + fix("laptop-3", "oak-s", "6 kg", "laptop-5"), "map[oak-n:1.5 oak-s:6]"},
		"both under one":       {own + fix("laptop-3", "oak-n", "1.5 kg", "laptop-4"), strings.Replace(other+fix("laptop-3", "oak-s", "6 kg", "laptop-4"), "22T10", "22T11", 1), "map[oak-n:1.5 oak-s:6]"},
		"by its own name":      {own + other + fix(name(other), "oak-s", "6 kg", "laptop-4"), other, "map[oak-n:1 oak-s:6]"},
		"the first by its own": {own + other + fix(name(own), "oak-n", "6 kg", "laptop-4"), other, "map[oak-n:6 oak-s:7]"},
	} {
		fa, ma := yardOf(t, twinsPiles+c.a)
		fb, mb := yardOf(t, twinsPiles+c.b)
		first := mergeInto(t, fa, mb)
		second := mergeInto(t, fb, ma)
		if a, b := twinsWhole(t, fa), twinsWhole(t, fb); a != c.want || b != c.want {
			t.Errorf("%s: %s here, %s there, not %s\n%s", what, a, b, c.want, ma.Text(JournalFile))
		}
		// A correction that names just the identifier is told on either side.
		if plain := strings.Count(c.a+c.b, `replaces = "laptop-3"`); first.Undecided != plain || second.Undecided > plain || second.Undecided == 0 && plain > 0 && !strings.Contains(what, "by its own") {
			t.Errorf("%s: to be decided %d and %d\n%s\n%s", what, first.Undecided, second.Undecided, lines(first.Problems), lines(second.Problems))
		}
		if a, b := mergeStanding(fa), mergeStanding(fb); a != b {
			t.Errorf("%s: %s\nand %s", what, a, b)
		}
	}
}

// Where nothing tells which was meant, the first counts, it is said, and the
// way out works as it is written.
func TestTwinsVoid(t *testing.T) {
	void := func(replaces, id string) string {
		return fmt.Sprintf("\n[[corrected]]\nwritten = 2026-04-22T10:00:00\nreplaces = %q\nvoid = true\nentry = %q\n", replaces, id)
	}
	journal := twinsPiles + twinsPick("20T10", "oak-n", "1 kg", "laptop-3") + twinsPick("20T09", "oak-s", "7 kg", "laptop-3") + void("laptop-3", "laptop-4")
	f, _ := yardOf(t, journal)
	if got := twinsWhole(t, f); got != "map[oak-n:1]" {
		t.Error(got)
	}
	_, problems := f.State(may, 0)
	if !has(problems, 0, "this corrects laptop-3, and that is the identifier of several entries") {
		t.Fatal(lines(problems))
	}
	other := twinName(strings.TrimSpace(twinsPick("20T10", "oak-n", "1 kg", "laptop-3")), 2)
	if !has(problems, 0, "is not the one that was meant: hodaba correct laptop-4 void=true, then hodaba correct "+other+" void=true") {
		t.Error(lines(problems))
	}
	f, _ = yardOf(t, journal+void("laptop-4", "laptop-5")+void(other, "laptop-6"))
	if got := twinsWhole(t, f); got != "map[oak-s:7]" {
		t.Error(got)
	}
	if _, problems = f.State(may, 0); has(problems, 0, "this corrects laptop-3") {
		t.Error(lines(problems))
	}
}

// A table that was copied with its identifier is two entries there, and here
// after a merge; neither is lost.
func TestTwinsOfACopiedTable(t *testing.T) {
	one, two := twinsPick("20T10", "oak-n", "1 kg", "laptop-3"), twinsPick("20T10", "oak-n", "9 kg", "laptop-3")
	fa, ma := yardOf(t, twinsPiles+one)
	fb, mb := yardOf(t, twinsPiles+one+two)
	if o := mergeInto(t, fa, mb); len(o.Taken) != 1 || len(o.Differ) > 0 {
		t.Errorf("taken %d, different %d\n%s", len(o.Taken), len(o.Differ), lines(o.Problems))
	}
	mergeInto(t, fb, ma)
	if a, b := twinsWhole(t, fa), twinsWhole(t, fb); a != "map[oak-n:10]" || a != b {
		t.Error(a, b)
	}
}
