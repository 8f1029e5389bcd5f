package charts

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// formResult is a small forecast with everything that JSON must tell apart: a
// pile, a bed of ready-colonised logs, dates not reached, a vague beginning.
func formResult() *forecast.Result {
	day := yard.NewDate(2026, 5, 1)
	months := func() []forecast.Month {
		var out []forecast.Month
		for i := range 30 {
			m := day.MonthStart().AddMonths(i)
			out = append(out, forecast.Month{Month: m, ColonisedChance: 0.71, ShareThrough: 0.68, HarvestChance: float64(i%9) / 9,
				Fresh: forecast.Amount{P50: 1.1, P90: 4, Mean: 1.5}, Winter: m.Month() < 3})
		}
		return out
	}
	years := []forecast.Year{{Year: 2026, Fresh: forecast.Amount{P10: 1, P50: 2, P90: 3, Mean: 2}}, {Year: 2027}, {Year: 2028}, {Year: 2029}}
	return &forecast.Result{
		AsOf: day, Seed: 1, Draws: 2000, Years: 6, Horizon: yard.NewDate(2032, 4, 30),
		Site: forecast.Site{Name: "Oxford", Key: "oxford", Period: "1991-2020", DistanceKM: 12.34, WarmerNow: 0.6},
		Piles: []*forecast.Pile{
			{Name: "oak-north-with-a-very-long-name-that-someone-typed", Kind: "pile", Species: "shiitake", Strain: "wide-range",
				Since: yard.When{From: yard.NewDate(2022, 1, 1), To: yard.NewDate(2022, 12, 31), Text: "2022"}, Logs: 40,
				Colonised: &forecast.Colonised{ShareNow: 0.34, ChanceNow: 0.31, Dates: forecast.Dates{P10: day, P50: day + 100}},
				First:     forecast.FirstHarvest{Chance: 0.97, Dates: forecast.Dates{P10: day + 30, P50: day + 60}},
				Months:    months(), YearsAhead: years, Notes: []forecast.Note{{Kind: "odd", Text: "look \u001b[2J"}}},
			{Name: "reishi-bed", Kind: "bed", Species: "reishi", Since: yard.When{From: day - 200, To: day - 200}, Logs: 12, LogsKnown: true,
				Months: months(), YearsAhead: years},
		},
		Species: []forecast.Species{{Species: "shiitake", Months: []forecast.SpeciesMonth{{Month: day.MonthStart(), Fresh: forecast.Amount{Mean: 1}}},
			Years: []forecast.SpeciesYear{{Year: 2026, Fresh: forecast.Amount{P50: 2}}}}},
		LeftOut: []forecast.LeftOut{{Pile: "shed", Why: "its species is not known"}},
	}
}

func decoded(t *testing.T, b []byte, err error) map[string]any {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatalf("no JSON: %s", err)
	}
	return v
}

func TestForecastJSONTellsNullFromNought(t *testing.T) {
	b, err := ForecastJSON(formResult())
	v := decoded(t, b, err)
	piles := v["piles"].([]any)
	oak, bed := piles[0].(map[string]any), piles[1].(map[string]any)
	through := oak["colonised"].(map[string]any)
	if through["p90"] != nil || through["p10"] != "2026-05-01" || through["share_now"] != 0.34 {
		t.Errorf("colonised: %v", through)
	}
	if first := oak["first_harvest"].(map[string]any); first["p90"] != nil || first["p50"] != "2026-06-30" {
		t.Errorf("first harvest: %v", first)
	}
	if c, there := bed["colonised"]; !there || c != nil {
		t.Errorf("a ready-colonised bed has colonised %v", c)
	}
	if m := bed["months"].([]any)[0].(map[string]any); m["colonised_chance"] != nil || m["share_through"] != nil {
		t.Errorf("month of a ready-colonised bed: %v", m)
	}
	if oak["since"] != "2022-07-02" || oak["since_written"] != "2022" || oak["since_from"] != "2022-01-01" || oak["since_to"] != "2022-12-31" {
		t.Errorf("a vague beginning: %v %v", oak["since"], oak["since_written"])
	}
	if _, there := bed["since_from"]; there {
		t.Error("an exact day has a range")
	}
}

func TestForecastJSONIsTheSameTwice(t *testing.T) {
	one, err1 := ForecastJSON(formResult())
	two, err2 := ForecastJSON(formResult())
	if err1 != nil || err2 != nil || !bytes.Equal(one, two) {
		t.Errorf("differs (%v, %v)", err1, err2)
	}
}

func TestNumbersOfJSON(t *testing.T) {
	for _, c := range []struct {
		n    jsonNumber
		want string
	}{
		{jsonNumber{1.23456, 3}, "1.235"},
		{jsonNumber{-0.0001, 3}, "0"},
		{jsonNumber{2, 3}, "2"},
		{jsonNumber{math.NaN(), 3}, "null"},
		{jsonNumber{math.Inf(1), 3}, "null"},
	} {
		if b, err := c.n.MarshalJSON(); err != nil || string(b) != c.want {
			t.Errorf("%v: %s, want %s (%v)", c.n, b, c.want, err)
		}
	}
}

func TestBatchesJSON(t *testing.T) {
	plan := &tincture.Plan{Holds: 0.7, Batches: []tincture.Batch{
		{Lot: "A", Recipe: "r", Start: yard.NewDate(2026, 6, 1), StartChance: 0.8, Bottles: tincture.Amount{P10: 10, P50: 11, P90: 12},
			Needs: []tincture.Need{{Species: "reishi", Grams: 250, OnHand: 90, ShortChance: 0.2, Form: "powder",
				Grind: []tincture.Grinding{{Species: "reishi", Lot: "D 1", Grams: 90}}}}},
		{Lot: "B", Recipe: "r"},
	}}
	b, err := BatchesJSON(yard.NewDate(2026, 5, 1), 0.8, plan)
	v := decoded(t, b, err)
	list := v["batches"].([]any)
	a, never := list[0].(map[string]any), list[1].(map[string]any)
	need := a["needs"].([]any)[0].(map[string]any)
	if need["dry_g"] != 250.0 || need["on_hand_g"] != 90.0 || need["short_chance"] != 0.2 {
		t.Errorf("need: %v", need)
	}
	grind := need["grind"].([]any)[0].(map[string]any)
	if need["form"] != "powder" || grind["lot"] != "D 1" || grind["dry_g"] != 90.0 || grind["command"] != "hodaba record ground reishi dry=90g lot='D 1'" {
		t.Errorf("form: %v", need)
	}
	if a["start"] != "2026-06-01" || never["start"] != nil || never["cautions"] == nil || v["confidence_percent"] != 80.0 {
		t.Errorf("batches: %s", b)
	}
	if b, err = BatchesJSON(yard.NewDate(2026, 5, 1), 0.8, nil); decoded(t, b, err)["batches"] == nil {
		t.Error("without a plan there is no list")
	}
}

func TestVerifyJSONCountsByGrade(t *testing.T) {
	b, err := VerifyJSON([]yard.Problem{{Grade: yard.Odd, Text: "a"}, {Grade: yard.Aside, Text: "b"}, {Grade: yard.Broken, Text: "c"}})
	v := decoded(t, b, err)
	if v["errors"] != 2.0 || v["warnings"] != 1.0 {
		t.Errorf("%s", b)
	}
}

func TestCSVRunsNoFormula(t *testing.T) {
	r := formResult()
	r.Piles[0].Name = "=1+1"
	b, err := ForecastCSV(r)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(b), "pile,'=1+1,") {
		t.Errorf("%s", strings.SplitN(string(b), "\n", 3)[1])
	}
}
