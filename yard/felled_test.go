package yard

import "testing"

func felledOn(day, lot string, lines ...string) string {
	return entry("felled", day, append([]string{`lot = "` + lot + `"`}, lines...)...)
}

// Logs are taken from their lot, and give the pile what is known of the wood.
func TestFelled(t *testing.T) {
	lot := felledOn("2025-02-01", "F-1", "logs = 40", `wood = "white oak"`, `diameter = "10-15 cm"`, `length = "100 cm"`, `from = "own hedge"`, `place = "by the gate"`)
	for name, c := range map[string]struct {
		journal string
		left    int
		resting bool
	}{
		"not touched":       {"", 40, true},
		"some":              {inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "f-1"`), 10, true},
		"all":               {inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "F-1"`) + inoculatedOn("2025-03-02", "a", "logs = 10", `felled = "F-1"`), 0, false},
		"not counted":       {inoculatedOn("2025-03-01", "a", `felled = "F-1"`), 0, false},
		"again takes none":  {inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "F-1"`) + inoculatedOn("2025-03-20", "a", "logs = 30", `felled = "F-1"`, "again = true"), 10, true},
		"more was felled":   {felledOn("2025-02-03", "F-1", "logs = 5") + inoculatedOn("2025-03-01", "a", "logs = 42", `felled = "F-1"`), 3, true},
		"with a second lot": {felledOn("2025-02-03", "F-2", "logs = 5") + inoculatedOn("2025-03-01", "a", "logs = 42", `felled = "F-2, F-1"`), 3, true},
		"by its day":        {inoculatedOn("2025-03-01", "a", "logs = 30", `felled = "2025-02"`), 40, true},
	} {
		s, problems := stateOf(t, lot+c.journal)
		l := s.Felled[0]
		if len(problems) > 0 || l.Left != c.left || l.Resting() != c.resting {
			t.Errorf("%s: %d left, resting %v\n%s", name, l.Left, l.Resting(), lines(problems))
		}
		if p := s.Pile("a"); p != nil && name == "some" && (p.Wood != "white oak" || p.Diameter != Span{10, 15} || p.Length.Mid() != 100) {
			t.Errorf("%s: %+v", name, p)
		}
	}
	s, _ := stateOf(t, lot)
	if l := s.Felled[0]; l.From != "own hedge" || l.Place != "by the gate" || !l.Untreated {
		t.Errorf("%+v", l)
	}
	if least, most := s.Felled[0].Rested(On(NewDate(2025, 3, 13))); least != 40 || most != 40 { // 28 days of February and 12 of March
		t.Errorf("rested %d to %d days", least, most)
	}
	s, _ = stateOf(t, entry("felled", "2025-02-01", "logs = 4", `entry = "kitchen-7"`)+entry("put_off", "2025-02-20", `task = "inoculate kitchen-7"`, "until = 2025-03-10"))
	if l := s.Felled[0]; l.Lot != "kitchen-7" || l.Until != NewDate(2025, 3, 10) {
		t.Errorf("%+v", l)
	}
}

// The days of rest within which nothing is pointed at: two weeks of a
// supplier's sheets to the two months of a New Hampshire guide.
func TestRest(t *testing.T) {
	for day, odd := range map[string]string{"2025-02-14": "fresh wood", "2025-02-15": "", "2025-04-02": "", "2025-04-03": "other fungi", "2025-01-31": "before its wood was felled"} {
		_, problems := stateOf(t, felledOn("2025-02-01", "F-1", "logs = 40")+inoculatedOn(day, "a", "logs = 40", `felled = "2025-02-01"`))
		if (odd == "") != (len(problems) == 0) || odd != "" && !has(problems, 0, odd) {
			t.Errorf("%s: %s", day, lines(problems))
		}
	}
	// A day that is vague is believed as far as it can be right.
	for felled, odd := range map[string]bool{"2025-02": false, "2025-01": false, "2024-12": true, "2024": true} {
		_, problems := stateOf(t, inoculatedOn("2025-03-05", "a", "logs = 40", `felled = "`+felled+`"`))
		if odd != (len(problems) > 0) {
			t.Errorf("%s: %s", felled, lines(problems))
		}
	}
}
