package yard

import (
	"fmt"
	"strings"
	"testing"
)

// A pile whose first entry cannot be read is named once, with the line to mend,
// however much was written of it since; mended, nothing is left to say.
func TestPileBeginsUnread(t *testing.T) {
	broken := strings.Replace(oak, `"shiitake"`, `"shiitake`, 1)
	var rest strings.Builder
	for n := range 600 {
		fmt.Fprintf(&rest, "\n[[checked]]\non = 2025-05-0%d\npile = \"oak-north\"\nlooked_at = %d\nwith_mycelium = 1\nentry = \"kitchen-%d\"\n", 1+n%9, 1+n%40, n+10)
	}
	rest.WriteString("\n[[walked]]\non = 2025-05-01\npiles = \"oak-nroth\"\nentry = \"kitchen-1000\"\n")
	_, problems := stateOf(t, strings.NewReplacer("oak-north", "oak-low", "kitchen-1", "kitchen-2").Replace(oak)+broken+rest.String())
	if len(problems) != 3 || !has(problems, 9, "a quote is opened") && !has(problems, 12, "a quote is opened") ||
		!has(problems, 0, "\"to sort\" (and 599 more): it begins in line 9, with an entry that cannot be read: mend that first") || !has(problems, 0, `"oak-nroth"`) {
		t.Errorf("%d: %.2000s", len(problems), lines(problems))
	}
	if _, problems := stateOf(t, oak+strings.ReplaceAll(rest.String(), "nroth", "north")); len(problems) > 0 {
		t.Errorf("%.2000s", lines(problems))
	}
	// What is said of a pile that is not known can be done.
	f, _ := yardOf(t, oak+"\n[[noticed]]\non = 2025-01-01\npile = \"hazel\"\nwhat = \"slugs\"\n")
	if _, problems := f.State(may, 0); !has(problems, 0, "or a [[counted]] one with its species") {
		t.Error(lines(problems))
	}
	text, _ := Compose("counted", map[string]string{"on": "2025-01-01", "pile": "hazel", "logs": "30", "species": "shiitake"}, f.Terms())
	record(t, f, text)
	if s, problems := f.State(may, 0); len(problems) > 0 || s.Pile("hazel") == nil {
		t.Error(lines(problems))
	}
}
