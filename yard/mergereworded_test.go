package yard

import (
	"strings"
	"testing"
)

// An old correction, by the exact text of an entry by hand, of one that stands
// here with other spaces: the merge says so, and what it says to do works in
// both copies.
func TestMergeOfARewordedEntry(t *testing.T) {
	hand := "\n[[harvested]]\non    = 2026-04-20\npile  = \"oak-n\"\nfresh = \"0.4kg\"\n"
	other := "\n[[harvested]]\non = 2026-04-20\nfresh = \"0.4kg\" # wet\npile = \"oak-n\"\n"
	fix := func(id, replaces, rest string) string {
		return "\n[[corrected]]\nwritten = 2026-04-2" + id[len(id)-1:] + "T10:00:00\nreplaces = \"" + replaces + "\"\n" + rest + "entry = \"" + id + "\"\n"
	}
	kg := func(kg string) string {
		return "on = 2026-04-20\nkind = \"harvested\"\npile = \"oak-n\"\nfresh = \"" + kg + "kg\"\n"
	}
	old := digestName(strings.TrimSpace(other))
	for corrections, want := range map[string]struct {
		kg, commands string
	}{
		fix("barn-1", old, kg("0.44")):                                           {"map[oak-n:0.44]", "hodaba correct NAME fresh=0.44kg, then hodaba correct barn-1 void=true"},
		fix("barn-1", old, kg("0.5")) + fix("barn-2", "barn-1", kg("0.44")):      {"map[oak-n:0.44]", "hodaba correct NAME fresh=0.44kg, then hodaba correct barn-2 void=true, then hodaba correct barn-1 void=true"},
		fix("barn-1", old, "void = true\n"):                                      {"map[]", "hodaba correct NAME void=true, then hodaba correct barn-1 void=true"},
		fix("barn-1", old, kg("0.5")) + fix("barn-2", "barn-1", "void = true\n"): {"map[oak-n:0.4]", ""},
	} {
		fa, ma := yardOf(t, twinsPiles+hand)
		fb, mb := yardOf(t, twinsPiles+other+corrections)
		if kg := twinsWhole(t, fb); kg != want.kg {
			t.Fatal(kg)
		}
		name := fa.All()[2].Name()
		o := mergeInto(t, fa, mb)
		if want.commands == "" {
			if o.Undecided > 0 {
				t.Error(lines(o.Problems))
			}
			continue
		}
		commands := strings.ReplaceAll(want.commands, "NAME", name)
		if o.Undecided != 1 || !has(o.Problems, 0, "stands here in line 15 in other letters") || !has(o.Problems, 0, commands) {
			t.Errorf("%d, want %s\n%s", o.Undecided, commands, lines(o.Problems))
		}
		for _, command := range strings.Split(commands, ", then hodaba correct ") {
			words := strings.Fields(strings.TrimPrefix(command, "hodaba correct "))
			right := map[string]string{"replaces": words[0], "void": "true"}
			if k, v, _ := strings.Cut(words[1], "="); k != "void" {
				right = map[string]string{"replaces": words[0], "kind": "harvested", "on": "2026-04-20", "pile": "oak-n", k: v}
			}
			text, _ := Compose("corrected", right, fa.Terms())
			if _, _, err := fa.Record(text, "kitchen", atSix); err != nil {
				t.Fatal(err)
			}
		}
		mergeInto(t, fb, ma)
		if a, b := twinsWhole(t, fa), twinsWhole(t, fb); a != want.kg || a != b {
			t.Errorf("%s here, %s there, want %s", a, b, want.kg)
		}
		if _, problems := fa.State(may, 0); len(problems) > 0 {
			t.Error(lines(problems))
		}
		if o := mergeInto(t, fa, mb); o.Undecided > 0 || o.LeftOut() {
			t.Error(lines(o.Problems))
		}
	}
}
