package forecast

import (
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// Without a forecast the calendar says of what stands the same days as with
// one, and plans nothing.
func TestStandsWithoutAForecast(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	today := yard.NewDate(2026, 5, 4)
	folder := yard.InMemory(map[string]string{
		yard.YardFile:    "format = 1\nname = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n[kitchen]\njars = 6\n[working]\ncountry = \"gb\"\n",
		yard.RecipesFile: set.Recipes[0].Text,
		yard.JournalFile: "[[macerated]]\non = 2026-04-13\nbatch = \"A\"\nrecipe = \"five mushrooms\"\n\n" +
			"[[macerated]]\non = 2026-04-20\nbatch = \"B\"\nrecipe = \"five mushrooms\"\njars = 1\n\n" +
			"[[strained]]\non = 2026-05-01\nbatch = \"A\"\nvolume = \"600 ml\"\n",
	})
	f, _, err := yard.OpenFiles(folder, set, today)
	if err != nil {
		t.Fatal(err)
	}
	s, _ := f.State(today, 0)
	alone, err := Stands(s, set)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := Run(t.Context(), Input{State: s, Data: set, Draws: 20}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(alone.Batches) > 0 || len(alone.Standing) != 2 || len(alone.Made) != 1 {
		t.Fatalf("%d planned, %d stand, %d came out", len(alone.Batches), len(alone.Standing), len(alone.Made))
	}
	for i, a := range alone.Standing {
		b := whole.Plan.Standing[i]
		if a.Lot != b.Lot || a.Strain != b.Strain || a.Decoct != b.Decoct || a.Bottled != b.Bottled || a.StrainFrom != b.StrainFrom || a.StrainTo != b.StrainTo || a.ABV != b.ABV {
			t.Errorf("alone %+v\nwith a forecast %+v", a, b)
		}
	}
	if b := alone.Standing[1]; b.Strain == 0 || b.StrainFrom == 0 || b.StrainTo < b.StrainFrom {
		t.Errorf("%+v", b)
	}
}
