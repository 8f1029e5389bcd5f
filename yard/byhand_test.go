package yard

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// An entry by hand keeps its name while it says the same, whatever spaces,
// remarks or order its lines have, and corrections by the digest of its text,
// as earlier programs wrote them, hold.
func TestNamesByHand(t *testing.T) {
	hand := "\n[[harvested]]\non = 2025-10-03\npile = \"oak-north\"\nfresh = \"2.4 kg\"\n"
	f, _ := yardOf(t, oak+hand)
	entries, _ := f.Entries()
	name := entries[1].ID
	for why, text := range map[string]string{
		"a remark":           strings.Replace(hand, "on =", "# in the rain\non =", 1),
		"a remark behind":    strings.Replace(hand, "2025-10-03", "2025-10-03 # or the 4th", 1),
		"spaces":             strings.Replace(hand, "on =", "on    =", 1),
		"another order":      "\n[[harvested]]\nfresh = \"2.4 kg\"\non = 2025-10-03\npile = \"oak-north\"\n",
		"other quotes":       strings.Replace(hand, `"2.4 kg"`, `'2.4 kg'`, 1),
		"a day in quotes":    strings.Replace(hand, "2025-10-03", `"2025-10-03"`, 1),
		"other ends of line": strings.ReplaceAll(hand, "\n", "\r\n"),
	} {
		s, problems := stateOf(t, oak+text+fateFix("kitchen-3", "01T10:00:00", name, fateKg("3")))
		if got := fmt.Sprint(fateSum(s)); got != "[3]" || len(problems) > 0 {
			t.Errorf("%s: %s kg count\n%s", why, got, lines(problems))
		}
		byText := digestName(strings.TrimSpace(strings.ReplaceAll(text, "\r", "")))
		s, problems = stateOf(t, oak+text+fateFix("kitchen-3", "01T10:00:00", byText, fateKg("3")))
		if got := fmt.Sprint(fateSum(s)); got != "[3]" || len(problems) > 0 {
			t.Errorf("%s, by its text: %s kg count\n%s", why, got, lines(problems))
		}
		if f, _ := yardOf(t, oak+text); !f.All()[1].Called(byText) || f.All()[1].ID != name {
			t.Errorf("%s: it is called %s, not %s", why, f.All()[1].ID, name)
		}
	}
	// Of two that say the same each can be corrected, also by its old name.
	old := digestName(strings.TrimSpace(hand) + "#2")
	if s, _ := stateOf(t, oak+hand+hand+fateFix("kitchen-3", "01T10:00:00", old, fateKg("3"))); fmt.Sprint(fateSum(s)) != "[2.4 3]" {
		t.Errorf("the second of two: %v kg count", fateSum(s))
	}
	// What says something else now has another name: the likely one is told.
	changed := strings.Replace(hand, "2.4", "2.6", 1)
	f, _ = yardOf(t, oak+changed)
	likely := f.All()[1].ID
	s, problems := stateOf(t, oak+changed+fateFix("kitchen-3", "01T10:00:00", name, fateKg("3")))
	if len(problems) != 1 || !strings.Contains(lines(problems), likely+", in line 9, is likely meant") || !strings.Contains(lines(problems), "hodaba correct kitchen-3 void=true") || fmt.Sprint(fateSum(s)) != "[2.6]" {
		t.Errorf("%v kg count\n%s", fateSum(s), lines(problems))
	}
}

// Of two that say the same, one in plain writing, earlier programs named each by
// its text: their corrections of both hold, in whatever order the two stand.
func TestNamesByHandOfTwo(t *testing.T) {
	odd := "[[harvested]]\non = 2025-10-03\nfresh = \"0.4kg\"\npile = \"oak-north\""
	plain := "[[harvested]]\non    = 2025-10-03\npile  = \"oak-north\"\nfresh = \"0.4kg\""
	fixes := fateFix("kitchen-3", "01T10:00:00", digestName(odd), fateKg("3")) + fateFix("kitchen-4", "01T11:00:00", digestName(plain), fateKg("5"))
	for _, hand := range [][]string{{odd, plain}, {plain, odd}} {
		journal := oak + "\n" + hand[0] + "\n\n" + hand[1] + "\n"
		if s, problems := stateOf(t, journal+fixes); fmt.Sprint(slices.Sorted(slices.Values(fateSum(s)))) != "[3 5]" {
			t.Errorf("%v kg count\n%s", fateSum(s), lines(problems))
		}
		// The third, word for word the plain one, was named by its number.
		third := fateFix("kitchen-5", "01T12:00:00", digestName(plain+"#2"), fateKg("7"))
		if s, problems := stateOf(t, journal+"\n"+plain+"\n"+fixes+third); fmt.Sprint(slices.Sorted(slices.Values(fateSum(s)))) != "[3 5 7]" {
			t.Errorf("%v kg count of three\n%s", fateSum(s), lines(problems))
		}
	}
}
