package yard

import "testing"

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
