package charts

import (
	"cmp"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// steppedJournal is a batch of which everything was written down, one that
// stands, and one blended of batches of two recipes.
const steppedJournal = `
[[received]]
on = 2025-10-05
species = "reishi"
dry = "300 g"
from = "indoor"
lot = "R-25"
entry = "kitchen-1"

[[macerated]]
on = 2026-02-02
batch = "S-1"
recipe = "two in one"
jars = 2
ingredients = [{species = "reishi", dry = "90 g"}]
at = "09:30"
temperature = "17 C"
by = "mk"
entry = "kitchen-2"

[[strained]]
on = 2026-03-02
batch = "S-1"
volume = "840 ml"
at = 09:00:00
by = "mk"
entry = "kitchen-3"

[[decocted]]
on = 2026-03-02
batch = "S-1"
water = "1600 ml"
volume = "600 ml"
simmer_from = "10:05"
simmer_to = "12:05"
cooled = "12:30 57C, 14:40 21C, 18:00 5C"
deviation = "no ice in the house"
by = "to"
entry = "kitchen-4"

[[blended]]
on = 2026-03-02
batch = "S-1"
spirit_part = "840 ml"
decoction_part = "560 ml"
volume = "1390 ml"
abv_percent = 23
temperature = "19 C"
entry = "kitchen-5"

[[bottled]]
on = 2026-03-03
batch = "S-1"
bottles = [{size = "100 ml", count = 13}]
kept_back = "50 ml"
where = "the dark cupboard"
closed = "pipette caps"
by = "mk"
entry = "kitchen-6"

[[macerated]]
on = 2026-04-13
batch = "S-2"
recipe = "two in one"
jars = 1
ingredients = [{species = "reishi", dry = "45 g"}]
entry = "kitchen-7"

[[macerated]]
on = 2026-03-02
batch = "S-3"
recipe = "plain"
jars = 1
ingredients = [{species = "reishi", dry = "40 g"}]
entry = "kitchen-8"

[[strained]]
on = 2026-04-01
batch = "S-3"
volume = "430 ml"
entry = "kitchen-9"

[[macerated]]
on = 2026-03-02
batch = "S-4"
recipe = "two in one"
jars = 1
ingredients = [{species = "shiitake", dry = "45 g"}]
entry = "kitchen-10"

[[strained]]
on = 2026-04-01
batch = "S-4"
volume = "420 ml"
entry = "kitchen-11"

[[blended]]
on = 2026-04-02
batch = "S-5"
from = ["S-3", "S-4"]
volume = "845 ml"
abv_percent = 46
entry = "kitchen-12"
`

const steppedRecipes = kitchenRecipes + `
[[recipe]]
name = "plain"
jars = 1
spirit_per_jar = "500 ml"
spirit_abv_percent = 50
macerate_days = [21, 35]
method = "maceration only"
bottle = "100 ml"

[[recipe.ingredient]]
species = "reishi"
per_jar = "40 g"
`

// stepped is that yard on 4 May 2026, with what its calendar says without a
// forecast.
func stepped(t *testing.T) Input {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	folder := yard.InMemory(map[string]string{yard.YardFile: "format = 1\nname = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n[working]\ncountry = \"gb\"\nclosed = [2026-05-05]\n",
		yard.RecipesFile: steppedRecipes, yard.JournalFile: steppedJournal})
	f, _, err := yard.OpenFiles(folder, set, day("2026-05-04"))
	if err != nil {
		t.Fatal(err)
	}
	s, _ := f.State(day("2026-05-01"), 0)
	plan, err := forecast.Stands(s, set)
	if err != nil {
		t.Fatal(err)
	}
	return Input{State: s, Data: set, Result: &forecast.Result{AsOf: s.AsOf, Plan: plan}}
}

// The page of a batch, its sheet and the story of its lot all say what came
// out against what was to be expected, what went otherwise, how it cooled, what
// was kept back, where it went and who did it.
func TestRecordOfABatch(t *testing.T) {
	in := stepped(t)
	b := newBook(in)
	page := renderedBatch(t, b, "S-1")
	story, ok := LotOf(in, "s-1")
	if !ok || story.Record == nil {
		t.Fatal("no story")
	}
	term := Terminal{}.Lot(story)
	sheet := parse(t, aPaper(t, in, PrintBatch, "S-1")).words()
	for what, want := range map[string][]string{
		page: {"The decoction of 2 March 2026 cooled too slowly: from 57 to 21 °C within 2 hours is what keeps it safe, and it is first read so cold after 2 h 10 min",
			"Went otherwise: no ice in the house (to)", "strained, of what was expected840 ml858 ml98 %", "bottled, of what was expected1350 ml1433 ml94 %",
			"12:30 57C, 14:40 21C, 18:00 5C", "cooledtoo slow21 °C in 2 h, 5 °C in 6 h in all", "50 ml kept back, closed with pipette caps, put in the dark cupboard", "13 bottles of 100 ml", "mk"},
		term: {"cooled too slowly", "Went otherwise: no ice in the house [kitchen-4, to]", "strained, of what was expected: 840 ml, against 858 ml: 98 %", "cooled: too slow, against 21 °C in 2 h", "cooled: 12:30 57C,",
			"at 09:30, at 17 C. [kitchen-2, mk]", "simmering from 10:05 until 12:05", "50 ml kept back, closed with pipette caps, put in the dark cupboard. [kitchen-6, mk]", "Measured at 23.0 %", "2 h"},
		sheet: {"no ice in the house (to)", "840 ml (", "expected)", "on the heat at 10:05", "simmered 2 h", "off the heat at 12:05", "12:30 57C, 14:40 21C, 18:00 5C: too slow",
			"read at 19 C", "room 17 C", "closed with pipette caps", "put in the dark cupboard", "kept back 50 ml", "2 March 2026, 09:00", "2 February 2026, 09:30"},
	} {
		plain := strings.Join(strings.Fields(strings.ReplaceAll(what, "\u00a0", " ")), " ")
		for _, w := range want {
			if !strings.Contains(plain, w) {
				_, body, _ := strings.Cut(plain, "Batch S-1")
				t.Errorf("nothing says %q:\n%s", w, cmp.Or(body, plain))
			}
		}
	}
	j, err := LotJSON(story)
	if err != nil || !strings.Contains(string(j), `"otherwise":[{`) && !strings.Contains(string(j), `"otherwise": [`) {
		t.Errorf("%v %s", err, j)
	}
}

func renderedBatch(t *testing.T, b *book, lot string) string {
	t.Helper()
	files, err := Pages(b.Input)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if f.Name == b.batches[lot] {
			return parse(t, f).words()
		}
	}
	t.Fatalf("no page of %s", lot)
	return ""
}

// The label of a jar that stands says on which working day it is strained, and
// between which; it has a box for each day of shaking and none for the others.
// Put up on Monday 13 April 2026, it may be strained from Monday 4 May, a bank
// holiday in Great Britain, and 5 May is closed, to Monday 18 May.
func TestJarLabelHasWorkingDays(t *testing.T) {
	b := newBook(stepped(t))
	l := b.jarLabels(Batch(b.State, "S-2")).Pages[0][0]
	if l.Strain != "Wed 6 May 2026" || l.Between != "Wed 6 May 2026 and Mon 18 May 2026" {
		t.Errorf("%+v", l)
	}
	if len(l.Boxes) != 14 || l.Boxes[0] != "14" || l.Boxes[13] != "27" {
		t.Errorf("boxes %v", l.Boxes)
	}
	if got := parse(t, aPaper(t, b.Input, PrintJar, "S-2")).words(); !strings.Contains(got, "Strain: Wed 6 May 2026 , on a working day between") && !strings.Contains(got, "Strain: Wed 6 May 2026, on a working day between") {
		t.Error(got)
	}
	// The sheet says what to expect of it.
	if got := parse(t, aPaper(t, b.Input, PrintBatch, "S-2")).words(); !strings.Contains(strings.ReplaceAll(got, "\u00a0", " "), "bottles of 100 ml") || !strings.Contains(got, "(about") {
		t.Error(got)
	}
}

// A blend of two recipes carries both names and all species wherever it shows.
func TestBlendOfTwoRecipesShows(t *testing.T) {
	in := stepped(t)
	b := newBook(in)
	l := b.bottleLabels(Batch(b.State, "S-5")).Pages[0][0]
	if l.Name != "plain and two in one" || l.Of != "reishi and shiitake" || l.Ratio != "1 : 9.9" || l.Strength != "46" || l.Net != "" {
		t.Errorf("%+v", l)
	}
	page := strings.ReplaceAll(renderedBatch(t, b, "S-5"), "\u00a0", " ")
	for _, w := range []string{"plain and two in one", "About 8 bottles of 100 ml", "Strength as measured: 46 % by volume", "1 : 9.9", "another batchS-3plainall that was left", "dried shiitakenot recorded: shiitakewith batch S-445 g"} {
		if !strings.Contains(page, w) {
			t.Errorf("the page does not say %q:\n%s", w, page)
		}
	}
	out := Terminal{}.Batches(in.State, in.Result.Plan)
	for _, w := range []string{"S-5, plain and two in one: blended of other batches Thu 2 Apr 2026.", "About 8 bottles of 100 ml, measured at 46 % by volume", "Bottle Fri 1 May 2026."} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), w) {
			t.Errorf("the calendar does not say %q:\n%s", w, out)
		}
	}
	cal, err := BatchesICS(in)
	if err != nil || !strings.Contains(strings.ReplaceAll(string(cal), "\r\n ", ""), "Bottle S-5 (plain and two in one)") {
		t.Errorf("%v\n%s", err, cal)
	}
}

// Bottles are recorded by size: of several sizes each, of one not known neither.
func TestBottlesToFill(t *testing.T) {
	amount := func(n float64) tincture.Amount { return tincture.Amount{P10: n - 1, P50: n, P90: n + 1, Mean: n} }
	two := tincture.Batch{BottleML: 100, Bottles: amount(12), Sizes: []tincture.Sized{{ML: 100, Bottles: amount(7)}, {ML: 50, Bottles: amount(5)}}}
	one := tincture.Batch{BottleML: 100, Bottles: amount(10), Sizes: []tincture.Sized{{ML: 100, Bottles: amount(10)}}}
	for want, got := range map[string]string{
		"… x 100 ml, … x 50 ml": toFill(two), "… x 100 ml": toFill(one), "… x … ml": toFill(tincture.Batch{}),
		"7 bottles of 100 ml and 5 of 50 ml (11 to 13 in all)": bottlesOf(two, units{}.ml), "10 bottles of 100 ml (9 to 11)": bottlesOf(one, units{}.ml),
	} {
		if got != want {
			t.Errorf("%q, not %q", got, want)
		}
	}
	in := aYard()
	in.Result.Plan.Batches[0].Sizes = two.Sizes
	b, err := BatchesJSON(day("2026-05-04"), 0.8, in.Result.Plan)
	if err != nil || strings.Count(string(b), `"bottle_sizes"`) != 1 || !strings.Contains(string(b), `"bottle_ml":50`) && !strings.Contains(string(b), `"bottle_ml": 50`) {
		t.Errorf("%v %d", err, strings.Count(string(b), `"bottle_sizes"`))
	}
}

// A strength that nobody measured stands on the label as worked out, and what is
// weak is to be kept cold.
func TestLabelOfAStrengthWorkedOut(t *testing.T) {
	in := stepped(t)
	in.State.Batches[0].ABV = 0
	plan, err := forecast.Stands(in.State, in.Data)
	if err != nil {
		t.Fatal(err)
	}
	in.Result.Plan = plan
	b := newBook(in)
	l := b.bottleLabels(Batch(b.State, "S-1")).Pages[0][0]
	if !l.WorkedOut || l.Strength == "" || l.Lot != "S-1" || l.Net != "100 ml" {
		t.Errorf("%+v", l)
	}
	if got := parse(t, aPaper(t, in, PrintLabels, "S-1")).words(); !strings.Contains(got, "% vol, worked out") {
		t.Error(got)
	}
	for abv, keep := range map[float64]string{19: keepCold, 30: keepSafe} {
		plan.Worked = []tincture.Worked{{Lot: "S-1", ABV: abv}}
		if l := b.bottleLabel(Batch(b.State, "S-1"), 100); l.Keep != keep {
			t.Errorf("%g %%: %s", abv, l.Keep)
		}
	}
}
