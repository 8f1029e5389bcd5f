package tincture

import (
	"regexp"
	"strings"
	"testing"

	"hodaba/yard"
)

func lots(ws []Wish) string {
	var s []string
	for _, w := range ws {
		s = append(s, w.Lot)
	}
	return strings.Join(s, " ")
}

func TestWishesTurnAndTurnAbout(t *testing.T) {
	long := trade()
	long.Name, long.MacerateMin, long.MacerateMax = "Winter", 150, 180
	recipes := []yard.Recipe{trade(), long}
	today, until := day(2026, 5, 1), day(2032, 5, 1)
	for _, c := range []struct {
		name    string
		kitchen yard.Kitchen
		until   yard.Date
		taken   []string
		want    string
	}{
		{"nothing said", yard.Kitchen{}, until, nil, "TF-26-01 WIN-26-01 TF-26-02 WIN-26-02 TF-26-03 TF-26-04"},
		{"two each", yard.Kitchen{Batches: 2}, until, nil, "TF-26-01 WIN-26-01 TF-26-02 WIN-26-02"},
		{"lots in use", yard.Kitchen{Batches: 1}, until, []string{"TF-26-01", "TF-26-03"}, "TF-26-02 WIN-26-01"},
		{"short horizon", yard.Kitchen{}, today + 40, nil, "TF-26-01 WIN-26-01 TF-26-02"},
	} {
		if got := lots(Wishes(recipes, c.kitchen, today, c.until, c.taken...)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	if got := Wishes(nil, yard.Kitchen{}, today, until); len(got) != 0 {
		t.Errorf("no recipe, and %d wishes", len(got))
	}
}

// A recipe that cannot be made is wished for once, so that the plan says why.
func TestUnfitRecipeIsWishedForOnce(t *testing.T) {
	r := trade()
	r.Jars = 0
	if got := len(Wishes([]yard.Recipe{r}, yard.Kitchen{}, day(2026, 5, 1), day(2030, 5, 1))); got != 1 {
		t.Errorf("%d wishes", got)
	}
}

// Lots are of at most 20 signs out of A–Z, 0–9 and hyphen (as GS1 allows for
// AI 10), and no two are the same.
func TestLots(t *testing.T) {
	ok := regexp.MustCompile(`^[A-Z0-9-]{1,20}$`)
	seen := map[string]bool{}
	used := map[string]bool{}
	for i, name := range []string{"Hanger five", "hanger fine", "Süße Mischung", "香菇", "", "x", "a b c d e f g h i j", "Reishi"} {
		for range 120 {
			lot := nextLot(name, 2026, used)
			if !ok.MatchString(lot) || seen[lot] {
				t.Fatalf("%d %q: lot %q", i, name, lot)
			}
			seen[lot] = true
		}
	}
	for name, want := range map[string]string{"Hanger five": "HF", "Reishi": "REI", "香菇": "B", "a b c d e f g": "ABCDE"} {
		if got := initials(name); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	terms := Terms{AsOf: day(2026, 5, 1), Standing: []*yard.Batch{{Lot: "TF-26-01"}}}
	ws := uniqueLots([]Wish{{Recipe: trade(), Lot: "TF-26-01"}, {Recipe: trade()}, {Recipe: trade(), Lot: "X"}, {Recipe: trade(), Lot: "X"}}, terms)
	if got, want := lots(ws), "TF-26-02 TF-26-03 X TF-26-04"; got != want {
		t.Errorf("lots %s, want %s", got, want)
	}
}
