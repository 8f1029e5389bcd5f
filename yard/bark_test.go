package yard

import (
	"strings"
	"testing"
)

// Whether a diameter is over or under the bark goes wherever the diameter goes:
// from a felled lot to its pile, from a pile to its bed, to a pile split off.
// Nobody saying so, it is over it.
func TestBarkGoesWithTheDiameter(t *testing.T) {
	for name, c := range map[string]struct {
		journal, pile string
		under         bool
	}{
		"not said":           {inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`), "a", false},
		"over":               {inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`, `bark = "over"`), "a", false},
		"under":              {inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`, `bark = "under"`), "a", true},
		"without a diameter": {inoculatedOn("2025-03-01", "a", "logs = 30", `bark = "under"`), "a", false},
		"of a felled lot": {felledOn("2025-02-01", "F-1", "logs = 40", `diameter = "12 cm"`, `bark = "under"`) +
			inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "F-1"`), "a", true},
		"over that of its lot": {felledOn("2025-02-01", "F-1", "logs = 40", `diameter = "12 cm"`, `bark = "under"`) +
			inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "F-1"`, `diameter = "13 cm"`), "a", false},
		"on the second day": {inoculatedOn("2025-03-01", "a", "logs = 30") + inoculatedOn("2025-03-02", "a", "logs = 10", `diameter = "12 cm"`, `bark = "under"`), "a", true},
		"arrived":           {entry("arrived", "2025-03-01", `pile = "a"`, `species = "shiitake"`, "logs = 6", `diameter = "12 cm"`, `bark = "under"`), "a", true},
		"buried":            {entry("buried", "2025-03-01", `bed = "b"`, `species = "reishi"`, "logs = 6", `diameter = "12 cm"`, `bark = "under"`), "b", true},
		"from a pile": {inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`, `bark = "under"`) +
			entry("buried", "2025-09-01", `bed = "b"`, `from = "a"`, "logs = 6"), "b", true},
		"split off": {inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`, `bark = "under"`) +
			entry("split", "2025-09-01", `pile = "a"`, `into = "b"`, "logs = 6"), "b", true},
	} {
		s, problems := stateOf(t, c.journal)
		p := s.Pile(c.pile)
		if len(problems) > 0 || p == nil || p.UnderBark != c.under {
			t.Errorf("%s: %+v\n%s", name, p, lines(problems))
		}
	}
	if _, problems := stateOf(t, inoculatedOn("2025-03-01", "a", "logs = 30", `diameter = "12 cm"`, `bark = "udner"`)); !strings.Contains(lines(problems), "under") {
		t.Errorf("a slip: %s", lines(problems))
	}
}
