package forecast

import (
	"reflect"
	"testing"

	"hodaba/yard"
)

// The tags are of the parts that the tank book takes; without a tank, of those
// that the record names.
func TestTankPartsAreThoseOfTheBook(t *testing.T) {
	set := mustLoad(t)
	s, p := soakWritten(t, 12)
	got := TankParts(s, set)["oak"]
	res := mustRun(t, Input{State: s, Data: set, Draws: 5, Years: 1})
	logs, in := 0, map[string]int{}
	for _, l := range res.Loads {
		for _, part := range l.Parts {
			in[part.Part] = part.Logs
			if part.Of != len(got) {
				t.Fatalf("the book has %d parts, the tags %v", part.Of, got)
			}
		}
	}
	for _, part := range got {
		logs += part.Logs
		if n, any := in[part.Part]; any && n != part.Logs {
			t.Errorf("part %s has %d logs in the book, %d on its tag", part.Part, n, part.Logs)
		}
	}
	if logs != 40 || len(in) == 0 {
		t.Errorf("%d logs have tags: %v", logs, got)
	}
	s.Config.Soak.TankLogs, p.Soaked = 0, []yard.Soaking{{On: yard.On(s.AsOf - 30), Part: "A", Logs: 14}}
	if got, want := TankParts(s, set)["oak"], []TankPart{{"A", 14}, {"B", 13}, {"C", 13}}; !reflect.DeepEqual(got, want) {
		t.Errorf("by the record: %v", got)
	}
	s.Config.Site = yard.Site{}
	if got := TankParts(s, set)["oak"]; len(got) != 3 {
		t.Errorf("where no weather is known: %v", got)
	}
}
