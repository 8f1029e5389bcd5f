package yard

import (
	"strings"
	"testing"
)

// What was mended by hand in one copy comes back with a merge, and is said with
// a way out that works in both.
func TestMergeOfWhatWasMendedByHand(t *testing.T) {
	hand := func(kg string) string {
		return "\n[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"" + kg + " kg\"\n"
	}
	fa, ma := yardOf(t, twinsPiles+hand("2.4"))
	fb, mb := yardOf(t, twinsPiles+hand("24"))
	o := mergeInto(t, fa, mb)
	if o.Undecided != 1 || len(o.Taken) != 1 || !has(o.Problems, 0, "fresh 2.4 kg; there: harvested oak-n: fresh 24 kg") {
		t.Fatalf("%d\n%s", o.Undecided, lines(o.Problems))
	}
	wrong := o.Taken[0].Name()
	if !has(o.Problems, 0, "hodaba correct "+wrong+" void=true") {
		t.Error(lines(o.Problems))
	}
	text, _ := Compose("corrected", map[string]string{"replaces": wrong, "void": "true"}, fa.Terms())
	if _, _, err := fa.Record(text, "kitchen", atSix); err != nil {
		t.Fatal(err)
	}
	if o := mergeInto(t, fa, mb); len(o.Taken) > 0 || o.Undecided > 0 {
		t.Error(lines(o.Problems))
	}
	mergeInto(t, fb, ma)
	if a, b := twinsWhole(t, fa), twinsWhole(t, fb); a != "map[oak-n:2.4]" || a != b {
		t.Error(a, b)
	}
}

// Two counts of one pile and day are said, by hand as something to decide.
func TestMergeOfTwoCounts(t *testing.T) {
	count := func(logs, sign string) string {
		return "\n[[counted]]\n" + sign + "on = 2026-04-20\npile = \"oak-n\"\nlogs = " + logs + "\n"
	}
	signed := func(logs, id string) string {
		return count(logs, "written = 2026-04-20T10:00:00\n") + "entry = \"" + id + "\"\n"
	}
	logs := func(f *Folder) int {
		f.read = nil
		s, _ := f.State(may, 0)
		return s.Pile("oak-n").Logs
	}
	for _, c := range []struct {
		a, b      string
		undecided int
		problem   string
	}{
		{count("30", ""), count("20", ""), 1, "in each copy the one counts that stands last"},
		{signed("30", "kitchen-9"), signed("20", "barn-3"), 0, "the count that was written last counts"},
		{signed("30", "kitchen-9"), signed("30", "barn-3"), 0, ""},
		{signed("30", "kitchen-9"), count("20", ""), 0, "the one that the program wrote counts"},
	} {
		fa, ma := yardOf(t, twinsPiles+c.a)
		fb, mb := yardOf(t, twinsPiles+c.b)
		o := mergeInto(t, fa, mb)
		mergeInto(t, fb, ma)
		if o.Undecided != c.undecided || !has(append(o.Problems, Problem{}), 0, c.problem) || c.problem == "" && len(o.Problems) > 0 {
			t.Errorf("%s%s: %d\n%s", c.a, c.b, o.Undecided, lines(o.Problems))
		}
		if c.undecided == 0 && (logs(fa) != logs(fb) || logs(fa) != 30) {
			t.Errorf("%s%s: %d logs here, %d there", c.a, c.b, logs(fa), logs(fb))
		}
	}
}

// Entries that two computers wrote in one second, or one of which was put back
// behind a later one, stand in one order wherever they are.
func TestOrderOfOneSecond(t *testing.T) {
	count := func(logs, id string) string {
		return "\n[[counted]]\nwritten = 2026-04-20T10:00:00\non = 2026-04-20\npile = \"oak-n\"\nlogs = " + logs + "\nentry = \"" + id + "\"\n"
	}
	for _, ids := range [][2]string{{"kitchen-4", "kitchen-6"}, {"barn-9", "kitchen-1"}, {"kitchen-9", "kitchen-10"}} {
		first, second := count("30", ids[0]), count("20", ids[1])
		for _, journal := range []string{first + second, second + first} {
			s, _ := stateOf(t, twinsPiles+journal)
			if n := s.Pile("oak-n").Logs; n != 20 {
				t.Errorf("%s: %d", journal, n)
			}
		}
	}
}

// Where both copies correct one entry, perhaps more than once, the merge names
// the correction that counts, and that is the one that can be corrected.
func TestMergeNamesTheCorrectionThatCounts(t *testing.T) {
	pick := twinsPick("20T10", "oak-n", "1 kg", "kitchen-5")
	fix := func(hour, id, replaces, rest string) string {
		return "\n[[corrected]]\nwritten = 2026-04-21T" + hour + ":00:00\non = 2026-04-20\nreplaces = \"" + replaces + "\"\n" + rest + "\nentry = \"" + id + "\"\n"
	}
	kg := func(kg string) string { return "kind = \"harvested\"\npile = \"oak-n\"\nfresh = \"" + kg + " kg\"" }
	there := fix("10", "attic-1", "kitchen-5", kg("2")) + fix("12", "attic-2", "attic-1", kg("3"))
	for _, c := range []struct{ here, there, says, whole string }{
		{fix("09", "kitchen-6", "kitchen-5", kg("4")) + fix("13", "kitchen-7", "kitchen-6", kg("5")), there, "kitchen-7, which was written last, counts", "map[oak-n:5]"},
		{fix("11", "kitchen-6", "kitchen-5", kg("4")), there, "attic-2, which was written last, counts", "map[oak-n:3]"},
		{fix("13", "kitchen-6", "kitchen-5", "void = true"), there, "kitchen-6, which was written last, counts, and makes it void", "map[]"},
		{fix("09", "kitchen-6", "kitchen-5", kg("4")) + fix("13", "kitchen-7", "kitchen-6", "void = true"),
			fix("10", "attic-1", "kitchen-5", kg("2")) + fix("12", "attic-2", "attic-1", "void = true"), "it counts as it was", "map[oak-n:1]"},
	} {
		f, _ := yardOf(t, twinsPiles+pick+c.here)
		_, other := yardOf(t, twinsPiles+pick+c.there)
		o := mergeInto(t, f, other)
		if !has(o.Problems, 0, "both copies correct kitchen-5") || !has(o.Problems, 0, c.says) || twinsWhole(t, f) != c.whole {
			t.Errorf("want %s: %s\n%s", c.says, twinsWhole(t, f), lines(o.Problems))
		}
	}
}

// An entry that had vanished and comes back with a merge is not said to be
// missing; one that is still missing is.
func TestMergeBringsBackWhatVanished(t *testing.T) {
	f, m := yardOf(t, twinsPiles)
	one, _ := record(t, f, "[[harvested]]\non = 2026-04-20\npile = \"oak-n\"\nfresh = \"1 kg\"\n")
	there := InMemory(map[string]string{YardFile: smallYard, JournalFile: m.Text(JournalFile)})
	two, _ := record(t, f, "[[walked]]\non = 2026-04-21\n")
	for _, c := range []struct{ here, missing string }{
		{strings.Replace(m.Text(JournalFile), there.Text(JournalFile)[len(twinsPiles):], "", 1), ""},
		{twinsPiles, two},
	} {
		m.files[JournalFile] = []byte(c.here)
		f.read = nil
		o := mergeInto(t, f, there)
		if len(o.Taken) != 1 || o.Taken[0].ID != one {
			t.Fatal(len(o.Taken), lines(o.Problems))
		}
		if said := has(o.Problems, 0, "is not in the journal any more"); said != (c.missing != "") || said && !has(o.Problems, 0, c.missing) || has(o.Problems, 0, one+" was") {
			t.Errorf("missing %q\n%s", c.missing, lines(o.Problems))
		}
	}
}
