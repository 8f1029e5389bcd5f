package main

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"hodaba/data"
	"hodaba/yard"
)

// planner is a yard that is asked for a season.
func planner(t testing.TB) (*yard.State, *data.Set) {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	s := &yard.State{AsOf: yard.NewDate(2026, 11, 26), Config: yard.Config{Own: []yard.OwnSpecies{{Name: "velvet foot", Like: "oyster"}}},
		Recipes: []yard.Recipe{{Name: "Dark bracket"}, {Name: "Two of the wood"}}}
	return s, set
}

func TestParseWant(t *testing.T) {
	s, set := planner(t)
	for text, want := range map[string]yard.Want{
		"48 bottles Dark bracket 2028-2030":                 {From: 2028, To: 2030, Recipe: "Dark bracket", Bottles: 48},
		"1 bottle of two of the WOOD 2028":                  {From: 2028, To: 2028, Recipe: "Two of the wood", Bottles: 1},
		"2 kg shiitake a week 5-10 2029":                    {From: 2029, To: 2029, Species: "shiitake", FreshKG: 2, FirstMonth: 5, LastMonth: 10},
		"2kg of fresh shiitake":                             {},
		"500g lion's mane each week May to October 2029":    {From: 2029, To: 2029, Species: "lion's mane", FreshKG: 0.5, FirstMonth: 5, LastMonth: 10},
		"1 kg oyster per week 2028 to 2029":                 {From: 2028, To: 2029, Species: "oyster", FreshKG: 1},
		"1 kg shiitake a week in june 2028":                 {From: 2028, To: 2028, Species: "shiitake", FreshKG: 1, FirstMonth: 6, LastMonth: 6},
		"500 g dried reishi over 2029":                      {From: 2029, To: 2029, Species: "reishi", HoldG: 500},
		"500 g dry of reishi over in 2029":                  {From: 2029, To: 2029, Species: "reishi", HoldG: 500},
		"25 kg shiitake 2029":                               {From: 2029, To: 2029, Species: "shiitake", CropKG: 25},
		"25 kg of velvet foot 2029–2030":                    {From: 2029, To: 2030, Species: "velvet foot", CropKG: 25},
		"6 kg shiitake in 3 years":                          {From: 2029, To: 2029, Species: "shiitake", CropKG: 6},
		"6 kg shiitake in 0 years":                          {},
		"30 kg 2029":                                        {From: 2029, To: 2029, CropKG: 30},
		"":                                                  {},
		"2029":                                              {},
		"shiitake 2029":                                     {},
		"25 kg shiitake":                                    {},
		"-2 kg shiitake 2029":                               {},
		"0 kg shiitake 2029":                                {},
		"25 kg shiitake 2019":                               {},
		"25 kg shiitake 2030-2029":                          {},
		"25 kg shiitake 9999":                               {},
		"25 kg shitakee-like 2029":                          {},
		"0 bottles Dark bracket 2029":                       {},
		"x bottles Dark bracket 2029":                       {},
		"9 bottles Bright bracket 2029":                     {},
		"9 bottles 2029":                                    {},
		"2 kg a week 2029":                                  {},
		"500 g dried 2029":                                  {},
		"500 g dried reishi a week 2029":                    {},
		"2 kg shiitake a week 5-13 2029":                    {},
		"2 kg shiitake a week 1-2-3 2029":                   {},
		"9999999999 kg shiitake 2029":                       {},
		"3 shiitake 2029":                                   {},
		"48 bottles Dark bracket 2028-2030 and some more":   {},
		"48 bottles Dark bracket in the years of 2028,2029": {},
	} {
		got, err := parseWant(text, s, set)
		if want == (yard.Want{}) {
			var f *failure
			if !errors.As(err, &f) || f.status != statusLine || f.remedy == "" {
				t.Errorf("%q: %v, %+v", text, err, got)
			}
			continue
		}
		if err != nil {
			t.Errorf("%q: %v", text, err)
		}
		if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(yard.Want{})); diff != "" {
			t.Errorf("%q: %s", text, diff)
		}
	}
	if _, err := parseWant("9 bottles Dark brackett 2029", s, set); err == nil || !strings.Contains(err.Error(), "did you mean Dark bracket?") {
		t.Error(err)
	}
}

func TestParseLogs(t *testing.T) {
	s, set := planner(t)
	span := func(low, high float64) yard.Span { return yard.Span{Low: low, High: high} }
	usual := span(set.Practice.DefaultLength.Value, set.Practice.DefaultLength.Value)
	across := span(set.Practice.DefaultDiameter.Value, set.Practice.DefaultDiameter.Value)
	for text, want := range map[string][]yard.LogsToHave{
		"60 oak 12cm, 30 birch 15cm":       {{Wood: "oak", Diameter: span(12, 12), Length: usual, Most: 60}, {Wood: "birch", Diameter: span(15, 15), Length: usual, Most: 30}},
		"9 logs of white oak 10-15 cm 1 m": {{Wood: "white oak", Diameter: span(10, 15), Length: span(100, 100), Most: 9}},
		"1 beech":                          {{Wood: "beech", Diameter: across, Length: usual, Most: 1}},
		"60 oak 12":                        nil,
		"oak 12cm":                         nil,
		"0 oak":                            nil,
		"-4 oak":                           nil,
		"60 oka 12cm":                      nil,
		"60 oak 12cm,":                     nil,
		"60 oak 12cm 100cm 30cm":           nil,
		"60 oak 12km":                      nil,
		"60 oak 99999m":                    nil,
		"60 oak 0cm":                       nil,
		"99999999999999999999 oak":         nil,
		"60":                               nil,
		"60 oak 12cm 100cm, and what not":  nil,
		"60 concrete posts 12cm":           nil,
	} {
		got, err := parseLogs(text, s, set)
		if (err != nil) != (want == nil) {
			t.Errorf("%q: %v", text, err)
		}
		if !reflect.DeepEqual(want, got) {
			t.Errorf("%q: %+v, want %+v", text, got, want)
		}
		if err != nil && !strings.Contains(err.Error(), ";") {
			t.Errorf("%q: no way out: %v", text, err)
		}
	}
}

// FuzzSeasonWords throws words at what reads wants and logs: nothing panics,
// and what is taken is something to plan with.
func FuzzSeasonWords(f *testing.F) {
	for _, s := range []string{"48 bottles Dark bracket 2028-2030", "2 kg shiitake a week 5-10 2029", "500 g dried reishi over 2029", "3 lb 2 oz 2029", "60 oak 12cm, 30 birch 10-15 cm 1 m", "2028 to 2029", "1 kg of week 2029", "6 kg shiitake in 3 years"} {
		f.Add(s)
	}
	s, set := planner(f)
	f.Fuzz(func(t *testing.T, text string) {
		if w, err := parseWant(text, s, set); err == nil {
			if n := w.FreshKG + w.HoldG + w.CropKG + float64(w.Bottles); !(n > 0) || w.To < w.From || w.To < 2026 || (w.Recipe == "") == (w.Bottles > 0) || w.FirstMonth < 0 || w.LastMonth > 12 {
				t.Errorf("%q: %+v", text, w)
			}
		}
		if logs, err := parseLogs(text, s, set); err == nil {
			for _, l := range logs {
				if l.Most < 1 || l.Wood == "" || !(l.Diameter.Low > 0) || !(l.Length.Low > 0) {
					t.Errorf("%q: %+v", text, l)
				}
			}
		}
	})
}
