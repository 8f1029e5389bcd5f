package yard

import "testing"

// Some keyboards and file systems send a letter and its mark as two signs, and
// the names are the same; identifiers are of the bytes, and stay.
func TestNamesInOneOrTwoSigns(t *testing.T) {
	const composed, apart = "chêne", "che\u0302ne"
	journal := inoculatedOn("2024-04-08", composed) + entry("walked", "2025-04-02", `piles = ["`+apart+`"]`) + entry("received", "2025-04-02", `species = "reishi"`, `dry = "10 g"`, `lot = "`+apart+`"`)
	s, problems := stateOf(t, journal)
	if len(problems) > 0 || len(s.Piles) != 1 || s.Pile(apart) != s.Piles[0] || s.Pile("CHE\u0302NE") == nil || s.Pile("chene") != nil {
		t.Error(summary(s, problems))
	}
	if !SameName(composed, apart) || SameName(composed, "chene") {
		t.Error("names are told apart, or not")
	}
	f, _ := yardOf(t, entry("walked", "2025-04-02", `piles = ["`+composed+`"]`))
	g, _ := yardOf(t, entry("walked", "2025-04-02", `piles = ["`+apart+`"]`))
	if f.journal().entries[0].ID == g.journal().entries[0].ID {
		t.Error("the identifiers of entries by hand have changed")
	}
}
