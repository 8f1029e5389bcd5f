package main

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"hodaba/forecast/season"
	"hodaba/yard"
)

// A line of a plan becomes an entry that can be written down; what is buried or
// bought is named instead.
func TestSeasonLineIsWrittenDown(t *testing.T) {
	folder, _ := speakers(t)
	a := benchApp()
	l := season.Line{Pile: "lions-mane-27-1", Kind: "pile", Species: "lion's mane", Wood: "white oak", Diameter: yard.Span{Low: 10, High: 14.5}, Length: yard.Span{Low: 100, High: 100},
		Spawn: "plug", Method: "holes", Place: "wall", Month: yard.NewDate(2027, 3, 1), Logs: 30}
	want := map[string]string{"pile": "lions-mane-27-1", "species": "lion's mane", "wood": "white oak", "diameter": "10-14.5 cm", "length": "100 cm", "spawn": "plug", "method": "holes",
		"place": "wall", "month": "2027-03", "logs": "30"}
	got := a.plannedValues(&l)
	delete(got, "by")
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	text, problems := yard.Compose("planned", got, folder.Terms())
	if text == "" || !strings.Contains(text, `month    = "2027-03"`) {
		t.Errorf("%q %v", text, problems)
	}
	l.Kind = "bed"
	if said := notInoculated(&l); !strings.Contains(said, "30 ready-colonised logs of lion's mane to bury in 2027-03") {
		t.Error(said)
	}
	l.Kind = "buy"
	if said := notInoculated(&l); !strings.Contains(said, "shopping list") {
		t.Error(said)
	}
}

// A plan is not written down twice: of the year that is asked for, or of any to
// come where none is.
func TestSeasonIsAcceptedOnce(t *testing.T) {
	plan := func(month string, soak string) yard.Planning {
		w, err := yard.ParseWhen(month)
		if err != nil {
			t.Fatal(err)
		}
		return yard.Planning{Pile: "birch", Month: w, Soak: soak, Left: 3, Entry: &yard.Entry{ID: "kitchen-1", Kind: "planned"}}
	}
	s := &yard.State{AsOf: yard.NewDate(2026, 11, 26), Planned: []yard.Planning{plan("2026-03", ""), plan("2028-03", ""), plan("2027-03", "oak")}}
	for year, refused := range map[int]bool{0: true, 2026: true, 2027: false, 2028: true, 2029: false} {
		if err := notTwice(s, year); (err != nil) != refused {
			t.Errorf("%d: %v", year, err)
		}
	}
	s.Planned = s.Planned[:1]
	if err := notTwice(s, 0); err != nil {
		t.Errorf("a plan of a year that is past stands in the way: %v", err)
	}
}
