package yard

import (
	"strings"
	"testing"
)

// A stale copy goes only once what it said of entries that were changed by hand
// is kept, and stays while an entry by hand is in it alone.
func TestStaleCopyThatSaysMore(t *testing.T) {
	pick, hand := lackTable("kitchen-2", "01", `"1.4 kg"`), "\n[[harvested]]\non = 2026-04-29\npile = \"oak-north\"\nfresh = \"0.3 kg\"\n"
	for name, c := range map[string]struct {
		now   string // the journal
		stays bool
	}{
		"changed":      {oak + strings.Replace(pick, "1.4", "4.1", 1) + hand, false},
		"by hand gone": {oak + pick, true},
	} {
		f, m := yardOf(t, oak+pick+hand)
		record(t, f, walk(t, f))
		late := strings.TrimPrefix(m.Text(JournalFile), oak+pick+hand)
		m.files[JournalFile] = []byte(c.now + late)
		f = onComputer(t, m, "kitchen")
		if _, _, err := f.Record(walk(t, f), "kitchen", Moment((may+40).String()+"T08:00:00")); err != nil {
			t.Fatal(err)
		}
		f.read = nil
		if got := m.Text(copyName(may)) != ""; got != c.stays {
			t.Errorf("%s: the old copy is there: %v", name, got)
		}
		switch changed := f.ChangedByHand(); {
		case c.stays:
			if byHand := f.ByHand(); len(byHand) != 1 || !strings.Contains(byHand[0].Text, "0.3 kg") {
				t.Errorf("%s: %v", name, byHand)
			}
		case len(changed) != 1 || !strings.Contains(changed[0].Text, "1.4 kg"):
			t.Errorf("%s: %v", name, changed)
		}
	}
}
