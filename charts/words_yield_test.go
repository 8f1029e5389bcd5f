package charts

import (
	"encoding/json"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
)

func yieldOfPile(e data.Range) forecast.YieldBasis {
	return forecast.YieldBasis{DryWoodKG: forecast.Amount{P10: 5, P50: 5.8, P90: 7}, Efficiency: e, Per: data.PerInoculated, Over: data.OverDry}
}

// The share, what it is a share of, which logs count and who says so stand
// beside a pile's kilograms, in words.
func TestRestsOnSaysItsBasis(t *testing.T) {
	e := data.Range{Low: 0.09, Typical: 0.2, High: 0.3, Quality: data.Derived, Source: "a bulletin"}
	judged := data.Range{Low: 0.03, Typical: 0.1, High: 0.16, Quality: data.Judgement, Source: "a trade article"}
	ours := data.Range{Low: 0.05, Typical: 0.12, High: 0.25, Quality: data.Judgement, Source: "our own judgement; no published source"}
	green, wide, onBeech := yieldOfPile(e), yieldOfPile(judged), yieldOfPile(e)
	green.Over, green.Per = data.OverGreen, data.PerFruiting
	wide.Wide, onBeech.Wood = "only bags were tried", "beech"
	for name, row := range map[string]struct {
		y    forecast.YieldBasis
		says []string
	}{
		"worked out": {yieldOfPile(e), []string{"5.8 kg of dry wood a log", "9–20–30 % of the weight of its dry wood", "low, typical and high", "All logs inoculated", "worked out from what was read in a bulletin."}},
		"green":      {green, []string{"9–20–30 % of the weight of its green wood", "Only logs that bear"}},
		"a guess":    {wide, []string{"3–10–16 %", "our judgement, guided by a trade article.", "It is a wide guess: only bags were tried."}},
		"ours":       {yieldOfPile(ours), []string{"How well that is founded: our judgement, no published source."}},
		"on beech":   {onBeech, []string{"of its dry wood, as found on beech: low"}},
	} {
		said := strings.Join(restsOn(row.y, units{}.kg), " ")
		for _, want := range row.says {
			if !strings.Contains(said, want) {
				t.Errorf("%s: no %q in %q", name, want, said)
			}
		}
	}
	if said := restsOn(forecast.YieldBasis{}, units{}.kg); said != nil {
		t.Errorf("of no wood: %q", said)
	}
}

// Of every strain that is grown the terminal, the page and the JSON say low,
// typical and high as they stand in the data, and a caution where it has one.
func TestBasisOfEveryStrain(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for i := range set.Species {
		for _, st := range set.Species[i].Strains {
			y := st.Yield
			basis := yieldOfPile(y.Efficiency)
			basis.Per, basis.Over, basis.Wide, basis.Conflict = y.Per, y.Over, y.Wide(), y.Conflict
			page, terminal := strings.Join(restsOn(basis, units{}.kg), " "), (Terminal{}).basis(&forecast.Pile{Yield: basis})
			for where, said := range map[string]string{"page": page, "terminal": strings.Join(strings.Fields(terminal), " ")} {
				if !strings.Contains(said, shares(y.Efficiency)) || y.Unpublished && !strings.Contains(said, "wide guess: "+y.Wide()) {
					t.Errorf("%s %s, %s: %q", set.Species[i].Name, st.Name, where, said)
				}
			}
			b, err := json.Marshal(basisOf(basis))
			var got struct {
				Efficiency struct {
					Low, Typical, High                float64
					Per, Over, Basis, Quality, Source string
				}
				Caution, Conflict string
			}
			if err != nil || json.Unmarshal(b, &got) != nil {
				t.Fatal(err, string(b))
			}
			if e := got.Efficiency; e.Low != y.Efficiency.Low || e.Typical != y.Efficiency.Typical || e.High != y.Efficiency.High || e.Per != y.Per || e.Over != y.Over ||
				e.Basis != y.Efficiency.Basis || e.Quality != string(y.Efficiency.Quality) || e.Source != y.Efficiency.Source || got.Caution != y.Wide() || got.Conflict != y.Conflict {
				t.Errorf("%s %s: %s", set.Species[i].Name, st.Name, b)
			}
		}
	}
}

// A species with a caution has it under the table of kilograms, one without any
// figure the plain words.
func TestTheTableOfYearsSaysWhatIsWide(t *testing.T) {
	year := []forecast.SpeciesYear{{Year: 2026}}
	said := (Terminal{}).Years([]forecast.Species{
		{Species: "maitake", Years: year, Unpublished: true, Wide: data.NoLogYield},
		{Species: "reishi", Years: year, Unpublished: true, Wide: "only bags were tried"},
		{Species: "shiitake", Years: year},
	})
	for _, want := range []string{"maitake *", "reishi *", "\n* no log yield is published: a wide guess\n", "\n* reishi: a wide guess: only bags were tried\n"} {
		if !strings.Contains(said, want) {
			t.Errorf("no %q in\n%s", want, said)
		}
	}
	if strings.Contains(said, "shiitake *") {
		t.Error(said)
	}
}
