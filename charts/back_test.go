package charts

import (
	"strings"
	"testing"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// sampleBack is an answer with every part of it.
func sampleBack() *tincture.Back {
	day := yard.NewDate(2026, 10, 1)
	return &tincture.Back{
		Recipe: "five mushrooms", By: day + 60, Bottles: 24, OnShelf: 3, Standing: tincture.Amount{P10: 9, P50: 10, P90: 10}, Promised: 1,
		Batches:     []tincture.BackBatch{{Start: day, Strain: day + 16, Bottled: day + 17, Jars: 3}},
		LatestStart: day, Scaled: 1.26, Chance: 0.62,
		Needs: []tincture.BackNeed{
			{Need: tincture.Need{Species: "piopino", Grams: 63, OnHand: 20, ShortChance: 0.4, Or: []string{"nameko"}}, Missing: 43, Early: day - 40, Likely: day - 9},
			{Need: tincture.Need{Species: "reishi", Grams: 63, OnHand: 200, Optional: true}, Early: day - 90, Likely: day - 90, Late: day - 90},
		},
		Without:    []tincture.Gain{{Species: []string{"piopino"}, Start: day - 70, Days: 58, Chance: 0.97, Or: true}},
		CanPromise: []tincture.Sure{{Chance: 0.5, Bottles: 40}, {Chance: 0.8, Bottles: 30}, {Chance: 0.95, Bottles: 20}},
		Notes:      []string{"A note."},
	}
}

func TestBackInTheTerminal(t *testing.T) {
	said := Terminal{}.Back(sampleBack())
	for _, want := range []string{
		"24 bottles of five mushrooms by Mon 30 Nov 2026", "3 bottles are on the shelf", "9 to 10 more come from batches", "promised already",
		"Start at the latest on Thu 1 Oct 2026", "6 in\n  10", "in 3 jars", "piopino or nam", "43 g", "may be", "Without piopino: 8 weeks earlier, in time >9 in 10.",
		"9.5 in 10", "A note.",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("missing %q in\n%s", want, said)
		}
	}
	for _, line := range strings.Split(said, "\n") {
		if len([]rune(line)) > TerminalWidth {
			t.Errorf("too wide: %q", line)
		}
	}
	never := Terminal{}.Back(&tincture.Back{Recipe: "x", By: yard.NewDate(2026, 1, 1), Why: "the recipe has no ingredient"})
	if !strings.Contains(never, "The recipe has no ingredient.") {
		t.Errorf("%s", never)
	}
}

func TestBackJSON(t *testing.T) {
	plan := &tincture.Plan{Holds: 1, Keeps: 0.4, Back: sampleBack(),
		Promises: []tincture.Kept{{To: "market", Recipe: "five mushrooms", Bottles: 4, By: yard.NewDate(2026, 12, 1), Chance: 0.4}},
		Made:     []tincture.Made{{Lot: "FM-25-01", Recipe: "five mushrooms", Yields: []tincture.Yield{{Step: "strained", ActualML: 580, Theoretical: 605}}}},
		Batches:  []tincture.Batch{{Lot: "FM-26-01", Ratio: tincture.Amount{P50: 4.8}, Without: []tincture.Gain{{Species: []string{"reishi"}, Days: 14}}}}}
	b, err := BatchesJSON(yard.NewDate(2026, 5, 1), 0.8, plan)
	v := decoded(t, b, err)
	back := v["plan_back"].(map[string]any)
	if back["latest_start"] != "2026-10-01" || back["chance"] != 0.62 || back["promised_before"] != 1.0 {
		t.Errorf("%v", back)
	}
	need := back["needs"].([]any)[0].(map[string]any)
	if need["species"] != "piopino" || need["missing_g"] != 43.0 || need["there_p90"] != nil || need["short_chance"] != 0.4 {
		t.Errorf("%v", need)
	}
	if v["all_promises_chance"] != 0.4 || v["made"].([]any)[0].(map[string]any)["yields"].([]any)[0].(map[string]any)["percent"] == nil {
		t.Errorf("%s", b)
	}
	if v["batches"].([]any)[0].(map[string]any)["without"].([]any)[0].(map[string]any)["days_earlier"] != 14.0 {
		t.Errorf("%s", b)
	}
}
