package charts

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// kitchenJournal is a batch from the log to the neighbour, one that was made
// of two others, and jars that stood before anything was written down.
const kitchenJournal = `
[[bought]]
on = 2024-03-01
item = "shiitake spawn"
amount = "5 kg"
lot = "S-24"
supplier = "the spawn room"
entry = "kitchen-1"

[[inoculated]]
on = 2024-04-12
pile = "oak-north"
species = "shiitake"
logs = 40
spawn_lot = "S-24"
entry = "kitchen-2"

[[harvested]]
on = 2025-10-01
pile = "oak-north"
fresh = "2.45 kg"
lot = "P-25"
entry = "kitchen-3"

[[loaded]]
on = 2025-10-01
load = "25-1"
species = "shiitake"
fresh = "2.3 kg"
from = "P-25"
entry = "kitchen-4"

[[dried]]
on = 2025-10-02
load = "25-1"
dry = "240 g"
lot = "D-25"
entry = "kitchen-5"

[[received]]
on = 2025-10-05
species = "reishi"
dry = "300 g"
lot = "R-25"
from = "gathered"
who = "an uncle"
identified_by = "mk"
entry = "kitchen-6"

[[bought]]
on = 2025-10-20
item = "spirit"
amount = "5 l"
lot = "SP-25"
entry = "kitchen-7"

[[macerated]]
on = 2025-11-01
batch = "26-03"
recipe = "two in one"
jars = 2
spirit = "1 l"
spirit_abv_percent = 50
spirit_lot = "SP-25"
ingredients = [{species = "shiitake", dry = "50 g", lot = "D-25"}, {species = "reishi", dry = "40 g", lot = "R-25"}]
by = "mk"
entry = "kitchen-8"

[[added]]
on = 2025-11-03
batch = "26-03"
species = "shiitake"
dry = "10 g"
lot = "D-25"
by = "mk"
note = "one jar looked thin"
entry = "kitchen-9"

[[discarded]]
on = 2025-11-08
batch = "26-03"
jars = 1
why = "jar broke"
by = "to"
entry = "kitchen-10"

[[shaken]]
on = 2025-11-15
batch = "26-03"
days = 14
entry = "kitchen-11"

[[strained]]
on = 2025-11-29
batch = "26-03"
volume = "430 ml"
marc = "110 g"
by = "mk"
entry = "kitchen-12"

[[decocted]]
on = 2025-11-29
batch = "26-03"
water = "800 ml"
volume = "300 ml"
simmer_hours = 1.5
entry = "kitchen-13"

[[blended]]
on = 2025-11-30
batch = "26-03"
spirit_part = "420 ml"
decoction_part = "290 ml"
volume = "700 ml"
abv_percent = 28.4
by = "mk"
entry = "kitchen-14"

[[bottled]]
on = 2025-12-01
batch = "26-03"
bottles = [{size = "100 ml", count = 6}, {size = "30 ml", count = 2}]
kept_back = "30 ml"
by = "mk"
entry = "kitchen-15"

[[sold]]
on = 2025-12-06
lot = "26-03"
bottles = 2
to = "the fair"
entry = "kitchen-16"

[[given]]
on = 2025-12-24
lot = "26-03"
bottles = [{size = "30 ml", count = 1}]
entry = "kitchen-17"

[[macerated]]
on = "2026-02"
batch = "old one"
recipe = "grandmother's"
ingredients = []
entry = "kitchen-18"

[[macerated]]
on = 2026-03-01
batch = "26-04"
recipe = "two in one"
jars = 1
ingredients = [{species = "reishi", dry = "40 g", lot = "R-25"}]
entry = "kitchen-19"

[[strained]]
on = 2026-04-01
batch = "26-04"
volume = "430 ml"
entry = "kitchen-20"

[[blended]]
on = 2026-04-02
batch = "26-05"
from = [{batch = "26-04"}, {batch = "old one", volume = "200 ml"}]
volume = "620 ml"
entry = "kitchen-21"
`

const kitchenRecipes = `
[[recipe]]
name = "two in one"
jars = 2
spirit_per_jar = "500 ml"
spirit_abv_percent = 50
macerate_days = [21, 35]
shake_days = 14
method = "marc decocted"
decoct_water = "1600 ml"
decoct_to = "600 ml"
to_abv_percent = 25
bottle = "100 ml"

[[recipe.ingredient]]
species = "shiitake"
per_jar = "25 g"

[[recipe.ingredient]]
species = "reishi"
per_jar = "20 g"
`

// aKitchen is the state of kitchenJournal on 4 May 2026.
func aKitchen(us bool) *yard.State {
	set, err := data.Load()
	if err != nil {
		panic(err)
	}
	units := "metric"
	if us {
		units = "us"
	}
	folder := yard.InMemory(map[string]string{yard.YardFile: "format = 1\nname = \"Fernbrook\"\nunits = \"" + units + "\"\n[site]\nstation = \"oxford\"\n[farm]\nname = \"Fernbrook Farm\"\naddress = \"1 Brook Lane\"\n",
		yard.RecipesFile: kitchenRecipes, yard.JournalFile: kitchenJournal})
	today := day("2026-05-04")
	f, problems, err := yard.OpenFiles(folder, set, today)
	if err != nil || len(problems) > 0 {
		panic(fmt.Sprint(err, problems))
	}
	s, _ := f.State(today, 0)
	return s
}

// hostileBatch is a batch whose every text is typed to break out.
func hostileBatch(e string) *yard.Batch {
	b := &yard.Batch{Lot: e, Recipe: e, On: on("2026-01-02"), Jars: 1, SpiritML: 500, SpiritLot: e,
		Ingredients: []yard.Taken{{Species: e, Lot: e, Grams: 50}}, Bottled: on("2026-02-02"), Ended: yard.EndBottled,
		Bottles: []yard.BottleCount{{SizeML: 50, Count: 2}}, Into: []yard.BlendedInto{{On: on("2026-02-01"), Batch: e}},
		Discards:   []yard.Discard{{On: on("2026-02-01"), Why: e}},
		Blendings:  []yard.Blending{{On: on("2026-02-01"), From: []yard.Part{{Batch: e}}, Spirit: yard.Quantity{Text: e, Unit: yard.Millilitre}}},
		Deviations: []yard.Deviation{{On: on("2026-01-02"), Text: e, By: e}}}
	entry := &yard.Entry{ID: e, Kind: "macerated", By: e, Note: e, On: b.On, Text: "[[macerated]]\nbatch = \"" + strings.ReplaceAll(e, `\`, `\\`) + "\"\n"}
	b.Entries = []*yard.Entry{entry}
	return b
}

func aPaper(t *testing.T, in Input, what, lot string) File {
	t.Helper()
	b := Batch(in.State, lot)
	if b == nil {
		t.Fatalf("no batch %s", lot)
	}
	f, err := Paper(in, what, b)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// said are the sentences of one part of a story.
func said(lines []LotLine) string {
	var out []string
	for _, l := range lines {
		out = append(out, l.On.String()+" "+l.Says)
	}
	return strings.Join(out, "\n")
}

func TestLot(t *testing.T) {
	s := aKitchen(false)
	for lot, want := range map[string]struct {
		is       string
		from, to []string
		left     string
	}{
		"S-24": {"shiitake spawn and spawn of shiitake", []string{"2024-03-01 Bought: 5 kg of shiitake spawn, from the spawn room."},
			[]string{"2024-04-12 Oak-north was inoculated with it, 40 logs."}, ""},
		"p-25": {"a picking of shiitake", []string{"2024-04-12 Oak-north was inoculated with spawn of lot S-24.", "2025-10-01 2.45 kg of shiitake was picked from oak-north."},
			[]string{"2025-10-01 2.3 kg of shiitake went into the drier, load 25-1."}, ""},
		"D-25": {"dried shiitake, pieces", []string{"2025-10-01 2.3 kg of shiitake went into the drier, load 25-1, from P-25.", "2025-10-02 240 g of dried shiitake came out of the drier."},
			[]string{"2025-11-01 50 g went into batch 26-03.", "2025-11-03 10 g went into batch 26-03."}, "180 g of dried shiitake"},
		"R-25": {"dried reishi, pieces", []string{"2025-10-05 300 g of dried reishi was gathered, an uncle, identified by mk."},
			[]string{"2025-11-01 40 g went into batch 26-03.", "2026-03-01 40 g went into batch 26-04."}, "220 g of dried reishi"},
		"SP-25": {"spirit", []string{"2025-10-20 Bought: 5 l of spirit."}, []string{"2025-11-01 1000 ml of spirit of 50 % by volume went into batch 26-03."}, ""},
		"26-03": {"a batch of two in one", []string{"2025-11-01 Put up in 2 jars with 1000 ml of spirit of 50 % by volume of lot SP-25.",
			"2025-11-01 50 g of dried shiitake of lot D-25 went in.", "2025-11-01 40 g of dried reishi of lot R-25 went in.",
			"2025-11-03 10 g of dried shiitake of lot D-25 was added.", "2025-11-29 Strained: 430 ml, the wet marc 110 g.",
			"2025-11-29 Decocted in 800 ml of water to 300 ml, 1.5 h.", "2025-11-30 Blended of 420 ml of strained spirit and 290 ml of decoction: 700 ml, measured at 28.4 % by volume."},
			[]string{"2025-11-08 1 jar discarded: jar broke.", "2025-12-01 Bottled: 6 of 100 ml and 2 of 30 ml, and 30 ml kept back.",
				"2025-12-06 2 bottles were sold to the fair.", "2025-12-24 1 bottle was given away."}, "4 bottles of 100 ml and 1 bottle of 30 ml"},
		"26-04": {"a batch of two in one", []string{"2026-03-01 Put up in 1 jar with 500 ml of spirit of 50 % by volume.", "2026-03-01 40 g of dried reishi of lot R-25 went in.", "2026-04-01 Strained: 430 ml."},
			[]string{"2026-04-02 All that was left went into batch 26-05."}, ""},
		"26-05": {"a batch of two in one and grandmother's", []string{"2026-04-02 Blended of all of batch 26-04 and 200 ml of batch old one: 620 ml."}, nil, ""},
	} {
		story, ok := Lot(s, lot)
		if !ok || listing(story.Is) != want.is || story.Left != want.left {
			t.Errorf("%s: %v, %q, left %q, want %q, left %q", lot, ok, listing(story.Is), story.Left, want.is, want.left)
		}
		if got := said(story.From); got != strings.Join(want.from, "\n") {
			t.Errorf("%s came from\n%s\nwant\n%s", lot, got, strings.Join(want.from, "\n"))
		}
		if got := said(story.To); got != strings.Join(want.to, "\n") {
			t.Errorf("%s went to\n%s\nwant\n%s", lot, got, strings.Join(want.to, "\n"))
		}
	}
	if _, ok := Lot(s, ""); ok {
		t.Error("no lot has a story")
	}
	if _, ok := Lot(s, "nonsense"); ok {
		t.Error("a lot that nothing goes by has a story")
	}
}

// Every lot there is has a story, and every gram and bottle that left it is in
// its second part.
func TestEveryLotHasAStory(t *testing.T) {
	for _, in := range yards() {
		if in.State == nil {
			continue
		}
		for _, lot := range Lots(in.State) {
			story, ok := Lot(in.State, lot)
			if !ok {
				t.Errorf("%q has no story", lot)
				continue
			}
			text := Terminal{}.Lot(story)
			for _, l := range strings.Split(text, "\n") {
				if strings.ContainsAny(l, "\x00\x1b") {
					t.Errorf("%q: a line steers the terminal: %q", lot, l)
				}
			}
			if _, err := LotJSON(story); err != nil {
				t.Error(err)
			}
		}
	}
}

func TestBatchLead(t *testing.T) {
	b := newBook(Input{State: aKitchen(false)})
	for lot, want := range map[string]string{
		"26-03":   "Put up on 1 November 2025, bottled on 1 December 2025.",
		"old one": "Put up in 2026-02; it is not bottled yet.",
		"26-04":   "Put up on 1 March 2026; all that was left of it went into another batch on 2 April 2026.",
		"26-05":   "Blended of other batches on 2 April 2026; it is not bottled yet.",
	} {
		if got := b.batchLead(Batch(b.State, lot)); got != want {
			t.Errorf("%s: %q, want %q", lot, got, want)
		}
	}
}

// What came out is set against what it can be told by: of one jar of two, half
// of what went in.
func TestMeasured(t *testing.T) {
	b := newBook(Input{State: aKitchen(false)})
	var rows []string
	for _, r := range b.measured(Batch(b.State, "26-03")).Rows {
		rows = append(rows, strings.TrimSpace(strings.Join(r, " | ")))
	}
	want := []string{"days in the jar | 28 | 21 to 35 by the recipe |", "days shaken | 14 | 14 by the recipe | 100 %",
		"strained | 430 ml | 500 ml of spirit put in | 86 %", "wet marc | 110 g | 50 g of dried goods put in | 220 %",
		"decoction | 300 ml | 800 ml of water put in | 38 %", "blended | 700 ml | 710 ml of parts put in | 99 %",
		"strength, by volume | 28.4 % | 25 % by the recipe |", "in bottles, the sample included | 690 ml | 700 ml to fill | 99 %",
		"strained spirit left over | 10 ml |  |", "decoction left over | 10 ml |  |"}
	if got := strings.Join(rows, "\n"); got != strings.Join(want, "\n") {
		t.Errorf("%s\nwant\n%s", got, strings.Join(want, "\n"))
	}
}

func TestRecordFigures(t *testing.T) {
	metric, us := units{}, units{us: true}
	for got, want := range map[string]string{
		metric.weighed(0.5): "0.5 g", metric.weighed(999): "999 g", metric.weighed(1245): "1.245 kg", metric.weighed(-20): "-20 g",
		metric.poured(1055): "1055 ml", metric.poured(10_000): "10 l", metric.poured(12_345): "12.35 l",
		metric.freshly(0.42): "420 g", metric.freshly(12.46): "12.46 kg", us.weighed(28.349523125): "1 oz",
		us.poured(29.5735295625 * 4): "4 fl oz", us.freshly(0.45359237 * 1.5): "1.5 lb", tenth(25): "25", tenth(26.54): "26.5", exact(-0.0001, 1): "0",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A sheet of paper carries no script and asks for nothing; whatever was typed
// stays text.
func TestPapersStayInert(t *testing.T) {
	in := hostile()
	in.State.Config.Farm.Address = evil[2]
	for _, b := range in.State.Batches {
		for _, what := range []string{PrintBatch, PrintJar, PrintLabels} {
			f, err := Paper(in, what, b)
			if err != nil {
				t.Fatal(err)
			}
			page := parse(t, f)
			for _, n := range page.all(func(n *node) bool { return n.name != "" }) {
				if n.name == "script" || n.name == "img" || n.attr["src"] != "" || n.attr["href"] != "" && n.attr["href"] != "data:," {
					t.Errorf("%s of %q: <%s %v>", what, b.Lot, n.name, n.attr)
				}
				for a := range n.attr {
					if strings.HasPrefix(strings.ToLower(a), "on") {
						t.Errorf("%s of %q: <%s %s>", what, b.Lot, n.name, a)
					}
				}
			}
			if strings.ContainsAny(string(f.Data), "\x00\u202e") {
				t.Errorf("%s of %q holds a control sign", what, b.Lot)
			}
			if !regexp.MustCompile(`^print-(batch|jar|labels)-[^/\\]+\.html$`).MatchString(f.Name) {
				t.Errorf("%q is no name of a sheet", f.Name)
			}
		}
	}
}

// As many labels as bottles, the right size on each; a page of them before
// they are filled; and no end of paper where a number slipped.
func TestLabels(t *testing.T) {
	b := newBook(Input{State: aKitchen(false)})
	batch := Batch(b.State, "26-03")
	l := b.bottleLabels(batch)
	if len(l.Pages) != 1 || len(l.Pages[0]) != 8 || l.Pages[0][0].Net != "100 ml" || l.Pages[0][7].Net != "30 ml" {
		t.Errorf("%+v", l)
	}
	first := l.Pages[0][0]
	if first.Of != "shiitake and reishi" || first.Strength != "28.4" || first.Ratio != "1 : 14" || first.Bottled != "2025-12-01" || first.Maker != "Fernbrook Farm" {
		t.Errorf("%+v", first)
	}
	if made := b.bottleLabels(Batch(b.State, "26-05")); len(made.Pages[0]) != labelsOnPage || made.Pages[0][0].Of != "reishi" || made.Pages[0][0].Ratio != "" {
		t.Errorf("%+v", made.Pages[0][0])
	}
	batch.Bottles = []yard.BottleCount{{SizeML: 30, Count: 1_000_000}}
	if l := b.bottleLabels(batch); len(l.Pages) != mostLabels/labelsOnPage || !strings.Contains(l.Left, "1000000 labels are wanted") {
		t.Errorf("%d pages, %q", len(l.Pages), l.Left)
	}
	weak := *batch
	set, _ := data.Load()
	b.Data, weak.ABV = set, 15
	if got := b.bottleLabel(&weak, 100).Keep; got != keepCold {
		t.Errorf("a weak blend is to be kept so: %s", got)
	}
}

// A jar has a box for each day of shaking, by day of the month where the first
// day is known, and says when it is strained.
func TestJarLabels(t *testing.T) {
	b := newBook(Input{State: aKitchen(false)})
	l := b.jarLabels(Batch(b.State, "26-03"))
	jar := l.Pages[0][1]
	if len(l.Pages[0]) != 2 || jar.Jar != "jar 2 of 2" || strings.Join(jar.Boxes, " ") != "2 3 4 5 6 7 8 9 10 11 12 13 14 15" ||
		jar.Strain != "22 November 2025 to 6 December 2025" || strings.Join(jar.Goods, "; ") != "dried shiitake, 30 g (D-25); dried reishi, 20 g (R-25)" ||
		jar.Spirit != "spirit 500 ml, 50 % vol (SP-25)" {
		t.Errorf("%+v", jar)
	}
	if boxes, more := boxes(yard.When{From: day("2026-02-01"), To: day("2026-02-28"), Text: "2026-02"}, 50); len(boxes) != mostBoxes || boxes[0] != "1" || more != "and on to the 50th day" {
		t.Errorf("%v, %q", boxes, more)
	}
	vague := b.jarLabels(Batch(b.State, "old one")).Pages[0][0]
	if vague.Boxes != nil || vague.Strain != "" || vague.PutUp != "2026-02" {
		t.Errorf("%+v", vague)
	}
	// One that is not begun has the recipe's goods and blanks for its days.
	planned := b.jarLabels(&yard.Batch{Lot: "26-09", Recipe: "two in one"}).Pages[0]
	if len(planned) != 2 || planned[0].PutUp != "" || planned[0].Strain != "after 21 to 35 days" || strings.Join(planned[0].Goods, "; ") != "dried shiitake, 25 g; dried reishi, 20 g" {
		t.Errorf("%+v", planned)
	}
}

// The papers make no claims, and say what can hurt.
func TestPapersCaution(t *testing.T) {
	in := Input{State: aKitchen(false)}
	for what, want := range map[string][]string{
		PrintBatch:  {"vapour", "hot liquor", "ask the local authority", "21 CFR 111.260", "no claim"},
		PrintJar:    {"Spirit vapour burns", "no flame"},
		PrintLabels: {"not for children", "out of the reach of children", "ask the local authority"},
	} {
		got := parse(t, aPaper(t, in, what, "26-03")).words()
		for _, w := range want {
			if !strings.Contains(got, w) {
				t.Errorf("%s does not say %q", what, w)
			}
		}
		for _, w := range []string{"cure", "treat", "boost", "immun", "heal"} {
			if strings.Contains(strings.ReplaceAll(strings.ToLower(got), "health", ""), w) {
				t.Errorf("%s says %q", what, w)
			}
		}
	}
}
