package yard

import "testing"

// Where powder is wanted and pieces are taken, or the other way, that is
// pointed at; where there is the form that is wanted, it is taken first.
func TestOtherFormThanAsked(t *testing.T) {
	shelf := entry("received", "2025-10-01", `species = "reishi"`, `dry = "100 g"`, `lot = "R-1"`)
	powder := entry("ground", "2025-10-02", `species = "reishi"`, `dry = "40 g"`, `lot = "R-1"`, `into = "P-1"`)
	put := func(in string) string {
		return entry("macerated", "2025-11-02", `batch = "26-9"`, `recipe = "five mushrooms"`, "jars = 1", `ingredients = [{`+in+`}]`)
	}
	s, problems := stateOf(t, shelf+put(`species = "reishi", form = "powder", dry = "30 g"`))
	if !has(problems, 0, "30 g of reishi were taken from lot R-1, which is pieces, and powder was asked for") || s.OnHand("reishi") != 70 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+powder+put(`species = "reishi", form = "powder", dry = "30 g"`))
	if len(problems) > 0 || s.dryLot("P-1").LeftG != 10 || s.dryLot("R-1").LeftG != 60 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+powder+put(`species = "reishi", form = "powder", dry = "50 g"`))
	if len(problems) != 1 || !has(problems, 0, "10 g of reishi were taken from lot R-1, which is pieces") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+powder+put(`species = "reishi", form = "pieces", lot = "P-1", dry = "20 g"`))
	if len(problems) != 1 || !has(problems, 0, "lot P-1, which is powder, and pieces was asked for") {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+put(`species = "reishi", dry = "30 g"`)+
		entry("added", "2025-11-10", `batch = "26-9"`, `species = "reishi"`, `form = "powder"`, `dry = "10 g"`))
	if !has(problems, len(problems)-1, "10 g of reishi were taken from lot R-1, which is pieces") {
		t.Error(summary(s, problems))
	}
}
