package yard

import (
	"strings"
	"testing"
)

// A cycle that nobody practises is taken and pointed at: 5 to 13 weeks are.
func TestOddCycle(t *testing.T) {
	for weeks, odd := range map[string]bool{"1": true, "4": true, "5": false, "9": false, "13": false, "14": true} {
		c, problems := readConfig([]byte("format = 1\n[site]\nstation = \"oxford\"\n[soak]\ntank_logs = 12\ncycle_weeks = "+weeks+"\n"), loaded(t))
		if c.Soak.CycleWeeks == 0 {
			t.Errorf("%s weeks are not taken", weeks)
		}
		if got := strings.Contains(lines(problems), "5 to 13 are practised"); got != odd || odd && (problems[0].Grade != Odd || problems[0].Line != 6) {
			t.Errorf("%s weeks: %s", weeks, lines(problems))
		}
	}
}
