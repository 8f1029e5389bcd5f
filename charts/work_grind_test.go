package charts

import (
	"strings"
	"testing"

	"hodaba/forecast/tincture"
)

// What is to be ground stands before the batch for which it is.
func TestGrindingComesBeforeTheBatch(t *testing.T) {
	in := aYard()
	n := &in.Result.Plan.Batches[0].Needs[0]
	n.Form, n.Grind = "powder", []tincture.Grinding{{Species: "shiitake", Lot: "D-25-03", Grams: 30}, {Species: "shiitake", Grams: 20}}
	list := Work(in)
	at := -1
	for i, task := range list {
		if task.Kind == "grind" && at < 0 {
			at = i
		}
	}
	if at < 0 || list[at+2].Kind != "start" {
		t.Fatalf("%+v", list)
	}
	one, two := list[at], list[at+1]
	if one.From != day("2026-05-13") || one.To != day("2026-05-14") ||
		one.Do != "Grind 30 g of shiitake, lot D-25-03, to powder for T-26-03." || one.Close[0] != "hodaba record ground shiitake dry=30g lot=D-25-03" ||
		two.Do != "Grind 20 g of shiitake, as soon as it is dry, to powder for T-26-03." {
		t.Errorf("%+v\n%+v", one, two)
	}
	if start := list[at+2].Do; !strings.Contains(start, "50 g of shiitake powder") {
		t.Error(start)
	}
}
