package yard

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestLoaded(t *testing.T) {
	s, problems := stateOf(t, began("a", "logs = 40")+
		entry("loaded", "2025-10-01", `load = "25-1"`, `from = "a"`, `fresh = "2.4 kg"`)+
		entry("loaded", "2025-10-01", `species = "oyster"`, `fresh = "1 kg"`)+
		entry("loaded", "2025-10-03", `load = "25-2"`, `species = "shiitake"`)+
		entry("dried", "2025-10-02", `load = "25-1"`, `dry = "240 g"`, `lot = "D1"`)+
		entry("dried", "2025-10-02", `species = "oyster"`, `dry = "90 g"`)+
		entry("dried", "2025-10-03", `species = "shiitake"`, `fresh = "1 kg"`, `dry = "100 g"`))
	if len(problems) > 0 || len(s.Loads) != 3 {
		t.Fatal(lines(problems))
	}
	var got []string
	for _, l := range s.Loads {
		got = append(got, fmt.Sprintf("%s %v %v %v", l.Species, l.FreshKG.Mid(), l.DryG, l.In()))
	}
	if want := []string{"shiitake 2.4 240 false", "oyster 1 90 false", "shiitake 1 100 false"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if len(s.Dryings) != 3 || s.Dryings[0].FreshKG != 2.4 || s.Dryings[1].FreshKG != 1 || s.Dryings[1].Species != "oyster" || s.dryLot("D1").Species != "shiitake" {
		t.Errorf("%+v", s.Dryings)
	}
	if b := s.FreshTermsOf("", 0, 0); !near(b.Dried, 4.4) {
		t.Errorf("%s", b)
	}
	// A fresh weight that comes with what came out is that of the load, once.
	s, problems = stateOf(t, entry("loaded", "2025-10-01", `load = "25-1"`, `species = "oyster"`)+entry("dried", "2025-10-02", `load = "25-1"`, `fresh = "1 kg"`, `dry = "90 g"`))
	if b := s.FreshTermsOf("oyster", 0, 0); len(problems) > 0 || b.Dried != 1 || s.Loads[0].FreshKG.Mid() != 1 {
		t.Errorf("%s\n%s", b, lines(problems))
	}
	s, problems = stateOf(t, entry("loaded", "2025-10-01", `load = "25-1"`, `species = "oyster"`, `fresh = "1 kg"`)+
		entry("dried", "2025-10-02", `load = "25-1"`, `dry = "90 g"`)+entry("dried", "2025-10-03", `load = "25-1"`, `fresh = "1 kg"`, `dry = "10 g"`))
	if b := s.FreshTermsOf("oyster", 0, 0); !has(problems, 0, "came out already") || b.Dried != 1 || s.OnHand("oyster") != 100 || s.Loads[0].DryG != 100 || len(s.Dryings) != 1 {
		t.Errorf("%s\n%s", b, lines(problems))
	}
}

// What came out without the name of its load is that load all the same, and a
// fresh weight that is said again counts once.
func TestDriedWithoutALoad(t *testing.T) {
	in := func(day, load, fresh string) string {
		lines := []string{`species = "shiitake"`}
		if load != "" {
			lines = append(lines, text2("load", load))
		}
		if fresh != "" {
			lines = append(lines, text2("fresh", fresh))
		}
		return entry("loaded", day, lines...)
	}
	out := func(day string, lines ...string) string {
		return entry("dried", day, append(lines, `species = "shiitake"`)...)
	}
	for name, x := range map[string]struct{ journal, loads, dried, odd string }{
		"named, weight again":   {in("2025-09-01", "25-14", "2.4 kg") + out("2025-09-02", `fresh = "2.4 kg"`, `dry = "240 g"`), "25-14 2.4 240 2025-09-02", "2.4", ""},
		"in other units":        {in("2025-09-01", "25-14", "2.4 kg") + out("2025-09-02", `fresh = "2400 g"`, `dry = "240 g"`), "25-14 2.4 240 2025-09-02", "2.4", ""},
		"unnamed, weight again": {in("2025-09-01", "", "1 kg") + out("2025-09-02", `fresh = "1 kg"`, `dry = "100 g"`), "* 1 100 2025-09-02", "1", ""},
		"named, no weight":      {in("2025-09-01", "25-14", "2.4 kg") + out("2025-09-02", `dry = "240 g"`), "25-14 2.4 240 2025-09-02", "2.4", ""},
		"another weight": {in("2025-09-01", "25-14", "2.4 kg") + out("2025-09-02", `fresh = "1 kg"`, `dry = "100 g"`), "25-14 2.4 0 in", "3.4",
			"load 25-14 is still in, with 2.4 kg of shiitake, and 1 kg is another weight"},
		"another weight, by name": {in("2025-09-01", "25-14", "2.4 kg") + out("2025-09-02", `load = "25-14"`, `fresh = "1 kg"`, `dry = "100 g"`), "25-14 2.4 100 2025-09-02", "2.4",
			"load 25-14 went in with 2.4 kg, and here it is 1 kg"},
		"weight said at the end": {in("2025-09-01", "25-14", "") + out("2025-09-02", `load = "25-14"`, `dry = "100 g"`) + out("2025-09-03", `load = "25-14"`, `fresh = "1 kg"`, `dry = "5 g"`),
			"25-14 1 105 2025-09-02", "1", "came out already"},
		"two of one evening, two lines": {in("2025-09-01", "", "3 kg") + in("2025-09-01", "", "2.5 kg") + out("2025-09-02", `dry = "290 g"`) + out("2025-09-02", `dry = "240 g"`, `lot = "D"`),
			"* 3 290 2025-09-02, * 2.5 240 2025-09-02", "5.5", "2 loads of shiitake are in, and"},
		"two alike": {in("2025-09-01", "", "3 kg") + in("2025-09-01", "", "3000 g") + out("2025-09-02", `dry = "290 g"`) + out("2025-09-02", `dry = "240 g"`, `lot = "D"`),
			"* 3 290 2025-09-02, * 3 240 2025-09-02", "6", ""},
		"of two days, the older": {in("2025-09-01", "", "3 kg") + in("2025-09-02", "", "2 kg") + out("2025-09-03", `dry = "290 g"`), "* 3 290 2025-09-03, * 2 0 in", "5", ""},
		"by weight, the younger": {in("2025-09-01", "", "3 kg") + in("2025-09-01", "", "2 kg") + out("2025-09-03", `fresh = "2 kg"`, `dry = "190 g"`), "* 3 0 in, * 2 190 2025-09-03", "5", ""},
		"not a forgotten one":    {in("2025-03-01", "", "3 kg") + in("2025-09-02", "", "2 kg") + out("2025-09-03", `dry = "190 g"`), "* 3 0 in, * 2 190 2025-09-03", "5", ""},
	} {
		s, problems := stateOf(t, x.journal)
		var got []string
		for _, l := range s.Loads {
			when, called := l.Out.String(), l.Name
			if l.In() {
				when = "in"
			}
			if l.Name == l.Entry.ID {
				called = "*"
			}
			got = append(got, fmt.Sprintf("%s %v %v %s", called, l.FreshKG.Mid(), l.DryG, when))
		}
		if g := strings.Join(got, ", "); g != x.loads {
			t.Errorf("%s: %s, not %s", name, g, x.loads)
		}
		if d := fmt.Sprint(toMicro(s.FreshTermsOf("shiitake", 0, 0).Dried)); d != x.dried {
			t.Errorf("%s: dried %s kg, not %s", name, d, x.dried)
		}
		if x.odd == "" != (len(problems) == 0) || x.odd != "" && (len(problems) != 1 || !strings.Contains(problems[0].Text, x.odd)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
	// What is told to say works: the entry's own name is that of the load.
	first, second := in("2025-09-01", "", "3 kg")+"entry = \"vm-3\"\n", in("2025-09-01", "", "2.5 kg")+"entry = \"vm-4\"\n"
	if _, problems := stateOf(t, first+second+out("2025-09-02", `dry = "240 g"`)); len(problems) != 1 || problems[0].Remedy != "say load=vm-3 or load=vm-4" {
		t.Error(lines(problems))
	}
	s, problems := stateOf(t, first+second+out("2025-09-02", `load = "vm-4"`, `dry = "240 g"`))
	if len(problems) > 0 || !s.Loads[0].In() || s.Loads[1].In() || s.Dryings[0].FreshKG != 2.5 {
		t.Errorf("%+v\n%s", s.Loads, lines(problems))
	}
	// A day that cannot be is named as what is wrong.
	_, problems = stateOf(t, in("2025-09-05", "C", "1 kg")+entry("dried", "2025-09-04", `load = "C"`, `dry = "100 g"`))
	if len(problems) != 1 || !strings.Contains(problems[0].Text, "load C went in on 2025-09-05, after this, on 2025-09-04") {
		t.Error(lines(problems))
	}
}

// What cannot be of a drier is pointed at; today is 2026-05-01.
func TestOddDrier(t *testing.T) {
	in := func(day, fresh string, lines ...string) string {
		return entry("loaded", day, append(lines, `species = "shiitake"`, text2("fresh", fresh))...)
	}
	pick := began("a", "logs = 40") + entry("harvested", "2026-04-20", `pile = "a"`, `fresh = "20 kg"`, `lot = "L1"`)
	for name, c := range map[string]struct{ text, want string }{
		"a full one":            {in("2026-04-30", "3 kg"), ""},
		"two runs of it":        {in("2026-04-30", "3 kg") + in("2026-04-30", "3.4 kg"), ""},
		"too much":              {in("2026-04-30", "8 kg"), "8 kg went into the drier on 2026-04-30, and in a day it takes 6 kg"},
		"too much together":     {in("2026-04-30", "4 kg") + in("2026-04-30", "4.5 kg"), "8.5 kg went into the drier on 2026-04-30"},
		"a larger one since":    {in("2026-04-29", "12 kg") + entry("changed", "2026-04-30", `key = "drier.load"`, `value = "4 kg"`), ""},
		"a load from the last":  {in("2026-04-25", "3 kg"), ""},
		"never out":             {in("2026-04-21", "3 kg", `load = "26-1"`), "load 26-1 of shiitake is in the drier for 10 days"},
		"out late":              {in("2026-04-21", "3 kg", `load = "26-1"`) + entry("dried", "2026-04-30", `load = "26-1"`, `dry = "300 g"`), "load 26-1 of shiitake came out after 9 days in the drier"},
		"from a picking":        {in("2026-04-30", "3 kg", `from = "L1"`), ""},
		"from a pile":           {in("2026-04-30", "3 kg", `from = "A"`), ""},
		"from two":              {in("2026-04-30", "3 kg", `from = "a, L1"`), ""},
		"from nowhere":          {in("2026-04-30", "3 kg", `from = "B"`), "no pile or picking is called \"B\": write the pile, or the lot of the picking; if it is the name of the load, correct the entry with load = \"B\""},
		"out before in":         {in("2026-04-30", "3 kg", `load = "C"`) + entry("dried", "2026-04-29", `load = "C"`, `dry = "300 g"`), "load C went in on 2026-04-30, after this, on 2026-04-29"},
		"the picking says what": {entry("loaded", "2026-04-30", `from = "L1"`, `fresh = "2 kg"`) + entry("dried", "2026-05-01", `species = "shiitake"`, `dry = "200 g"`), ""},
	} {
		_, m := yardOf(t, pick+c.text)
		m.files[YardFile] = []byte(smallYard + "\n[drier]\nload = \"3 kg\"\nhours_per_load = 10\n")
		problems := mergeReopen(t, m).Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !strings.Contains(problems[0].String(), c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}

func TestWent(t *testing.T) {
	shelf := entry("received", "2025-01-02", `species = "shiitake"`, `dry = "40 g"`, `lot = "new"`) +
		entry("received", "2025-01-01", `species = "shiitake"`, `dry = "30 g"`, `lot = "old"`)
	s, problems := stateOf(t, shelf+
		entry("sold", "2025-02-01", `species = "Shiitake"`, `dry = "50 g"`, `to = "the market"`, "price = 7.5")+
		entry("given", "2025-02-02", `species = "oyster"`, `fresh = "about 1 kg"`)+
		entry("sold", "2025-02-03", `species = "oyster"`, `took = "5 kg"`, `back = "800 g"`)+
		entry("sold", "2025-02-04", `lot = "new"`, `took = "20 g"`, `back = "15 g"`)+
		entry("sold", "2025-02-05", `species = "shiitake"`, "logs = 4"))
	if len(problems) > 0 || s.dryLot("old").LeftG != 0 || !near(s.dryLot("new").LeftG, 15) || len(s.Went) != 5 {
		t.Fatal(summary(s, problems))
	}
	w := s.Went[0]
	if w.Kind != "sold" || w.Species != "shiitake" || w.DryG != 50 || w.To != "the market" || w.Price != "7.5" || len(w.From) != 2 || w.From[0].Lot != "old" {
		t.Errorf("%+v", w)
	}
	if !near(s.Went[2].FreshKG.Mid(), 4.2) || !near(s.Went[3].DryG, 5) || s.Went[3].FreshKG.Known() || s.Went[4].Logs != 4 {
		t.Errorf("%+v", s.Went)
	}
	s, problems = stateOf(t, shelf+entry("sold", "2025-02-01", `lot = "old"`, `dry = "50 g"`))
	if s.dryLot("old").LeftG != -20 || !has(problems, 0, "lot old held 20 g less") {
		t.Error(summary(s, problems))
	}
	// A lot nobody knows takes nothing from another, and renames none.
	s, problems = stateOf(t, shelf+entry("sold", "2025-02-01", `lot = "old"`, `dry = "30 g"`)+entry("sold", "2025-02-02", `species = "shiitake"`, `lot = "odl"`, `dry = "5 g"`))
	if s.dryLot("old") == nil || s.dryLot("odl").LeftG != -5 || !has(problems, 0, "did you mean old?") {
		t.Error(summary(s, problems))
	}
}

func TestSpoiled(t *testing.T) {
	for what, want := range map[string][3]float64{ // kg fresh, g of pieces, g of powder
		`"shiitake"`:        {0.02, 0, 0},
		`"fresh shiitake"`:  {0.02, 0, 0},
		`"Dried Shiitake"`:  {0, 20, 0},
		`"shiitake powder"`: {0, 0, 20},
		`"P1"`:              {0, 0, 20},
		`"L1"`:              {0.02, 0, 0},
	} {
		s, problems := stateOf(t, entry("harvested", "2025-01-01", `species = "shiitake"`, `fresh = "1 kg"`, `lot = "L1"`)+
			entry("received", "2025-01-01", `species = "shiitake"`, `dry = "40 g"`, `lot = "D1"`)+
			entry("received", "2025-01-02", `species = "shiitake"`, `dry = "40 g"`, `lot = "P1"`, `form = "powder"`)+
			entry("spoiled", "2025-02-01", "what = "+what, `amount = "20 g"`))
		got := [3]float64{s.FreshTermsOf("shiitake", 0, 0).Spoiled, s.DryTermsOf("shiitake", "pieces", "").Spoiled, s.DryTermsOf("shiitake", "powder", "").Spoiled}
		if got != want || len(problems) > 0 {
			t.Errorf("%s: %v\n%s", what, got, lines(problems))
		}
	}
	s, problems := stateOf(t, entry("received", "2025-01-01", `species = "shiitake"`, `dry = "40 g"`, `lot = "D1"`)+entry("spoiled", "2025-02-01", `what = "D1"`))
	if s.dryLot("D1").LeftG != 0 || s.Went[0].DryG != 40 || len(problems) > 0 {
		t.Error(summary(s, problems))
	}
}

func TestGround(t *testing.T) {
	shelf := entry("received", "2025-01-01", `species = "chaga"`, `dry = "40 g"`, `lot = "old"`, `identified_by = "mk"`, `from = "gathered"`) +
		entry("received", "2025-01-02", `species = "chaga"`, `dry = "40 g"`, `lot = "new"`)
	s, problems := stateOf(t, shelf+entry("ground", "2025-02-01", `species = "chaga"`, `dry = "50 g"`)+entry("ground", "2025-02-02", `lot = "new"`, `into = "P1"`))
	p := s.dryLot("old powder")
	if len(problems) > 0 || p.LeftG != 40 || p.Form != "powder" || p.Of != "old" || p.From != "ground" || p.IdentifiedBy != "mk" ||
		s.dryLot("new powder").LeftG != 10 || s.dryLot("P1").LeftG != 30 || s.dryLot("new").LeftG != 0 || s.OnHand("chaga") != 80 {
		t.Error(summary(s, problems))
	}
	s, problems = stateOf(t, shelf+entry("ground", "2025-02-01", `species = "chaga"`, `dry = "90 g"`))
	if !has(problems, 0, "10 g of chaga were ground beyond the pieces") || s.DryTermsOf("chaga", "powder", "").Left != 90 {
		t.Error(summary(s, problems))
	}
	// A stock-take of powder leaves the pieces alone.
	s, problems = stateOf(t, shelf+entry("ground", "2025-02-01", `lot = "old"`)+entry("counted", "2025-03-01", `species = "chaga"`, `form = "powder"`, `dry = "35 g"`))
	if got := s.DryTermsOf("chaga", "powder", ""); len(problems) > 0 || got.Left != 35 || got.Unexplained != -5 || s.dryLot("new").LeftG != 40 {
		t.Error(got, summary(s, problems))
	}
}

func TestBottlesGo(t *testing.T) {
	put := entry("macerated", "2025-01-01", `batch = "b"`, `recipe = "five mushrooms"`, "ingredients = []") +
		entry("bottled", "2025-03-01", `batch = "b"`, `bottles = [{size = "100 ml", count = 7}, {size = "50 ml", count = 3}]`)
	for sold, want := range map[string]string{
		"bottles = 8": "[{100 0} {50 2}]",
		`bottles = [{size = "50 ml", count = 2}]`: "[{100 7} {50 1}]",
	} {
		for _, lot := range []string{`lot = "b"`, `species = "shiitake"`} {
			s, problems := stateOf(t, put+entry("sold", "2025-04-01", lot, sold))
			if got := fmt.Sprint(s.Bottles[0].Bottles); got != want || len(problems) > 0 || fmt.Sprint(s.Batches[0].Bottles) != "[{100 7} {50 3}]" {
				t.Errorf("%s: %s\n%s", sold, got, lines(problems))
			}
		}
	}
	s, problems := stateOf(t, put+entry("sold", "2025-04-01", `lot = "b"`, `bottles = [{size = "50 ml", count = 5}]`))
	if fmt.Sprint(s.Bottles[0].Bottles) != "[{100 7} {50 -2}]" || !has(problems, 0, "5 bottles were sold, 2 more than the record has") {
		t.Error(summary(s, problems))
	}
	// After a stock-take the shelf tells no lots apart, and the lot still names the recipe.
	s, problems = stateOf(t, put+entry("counted", "2025-03-15", `recipe = "five mushrooms"`, "bottles = 6")+entry("sold", "2025-04-01", `lot = "b"`, "bottles = 2"))
	if b := s.BottleBook(); len(b) != 1 || b[0].String() != "in 10 - unexplained 4 = left 4 + sold 2" || len(problems) > 0 {
		t.Error(b, lines(problems))
	}
}

// More that went than was picked is pointed at once, with the terms, and only
// where picks are written down at all.
func TestMoreWentThanWasPicked(t *testing.T) {
	check := func(journal string) []Problem {
		f, _ := yardOf(t, journal)
		return f.Check()
	}
	pick := entry("harvested", "2025-10-01", `species = "shiitake"`, `fresh = "1-1.2 kg"`)
	sale := entry("sold", "2025-10-02", `species = "shiitake"`, `fresh = "700 g"`)
	problems := check(pick + sale + strings.Replace(sale, "10-02", "10-03", 1) + strings.Replace(sale, "10-02", "10-04", 1))
	if len(problems) != 1 || !has(problems, 15, "more shiitake went than was picked until then: in kg, picked 1.1 = sold 1.4 - not written down 0.3") {
		t.Error(lines(problems))
	}
	for _, fine := range []string{pick + sale, sale, pick + entry("sold", "2025-10-02", `species = "shiitake"`, `fresh = "1.15 kg"`),
		entry("harvested", "2025", `species = "shiitake"`, `fresh = "14 kg"`) + sale} {
		if problems := check(fine); len(problems) > 0 {
			t.Errorf("%s\n%s", fine, lines(problems))
		}
	}
}
