package tincture

import (
	"slices"
	"strings"
	"testing"

	"hodaba/yard"
)

// short is a recipe of one jar and two mushrooms that stands two weeks.
func short(name string, species ...string) yard.Recipe {
	r := yard.Recipe{
		Name: name, Jars: 1, SpiritMLJar: 500, SpiritABV: 50, MacerateMin: 14, MacerateMax: 28, ShakeDays: 10,
		Method: MarcDecocted, WaterML: 1000, DecoctToML: 400, SpiritPart: 1, WaterPart: 1, BottleML: 100,
	}
	for _, s := range species {
		r.Ingredients = append(r.Ingredients, yard.Ingredient{Species: s, Form: "pieces", GramsJar: 100})
	}
	return r
}

func wishesFor(recipes ...yard.Recipe) (ws []Wish) {
	for _, r := range recipes {
		ws = append(ws, Wish{Recipe: r})
	}
	return ws
}

// today is a Monday.
var today = day(2026, 6, 1)

func termsOf(jars int) Terms {
	return Terms{
		AsOf: today, Until: today + 1000, Confidence: 0.8, Seed: 1,
		Kitchen: yard.Kitchen{Jars: jars, Press: "hand"},
	}
}

func monToFri() Workdays { return must(NewWorkdays(yard.Working{})) }

func starts(p *Plan) (ds []yard.Date) {
	for _, b := range p.Batches {
		ds = append(ds, b.Start)
	}
	return ds
}

func TestStartAndSteps(t *testing.T) {
	stock := newLarder(10).hold("reishi", 50)
	for d := range 10 { // the rest comes in on days 10, 20, … 100
		stock.add("reishi", d, today+yard.Date(10*(d+1)), 50)
	}
	plan := must(Schedule(stock, wishesFor(short("One", "reishi")), monToFri(), termsOf(2), testSet()))
	b := plan.Batches[0]
	// Eight draws in ten have it by day 80, which is a Thursday.
	if b.Start != today+80 || b.StartChance != 0.8 || plan.Holds != 0.8 || b.Reached != 1 {
		t.Errorf("start %v (day %d), chance %g, holds %g", b.Start, b.Start-today, b.StartChance, plan.Holds)
	}
	// Days 10 and 90 are a Thursday and a Sunday: the Sunday waits for Monday.
	if b.Early != today+10 || b.Late != today+91 {
		t.Errorf("early day %d, late day %d", b.Early-today, b.Late-today)
	}
	// Two weeks and no weekend: strained, decocted and blended on one day,
	// bottled on the next open one, shaken ten days.
	if b.Strain != b.Start+14 || b.Decoct != b.Strain || b.Blend != b.Strain || b.Bottled != b.Strain+1 || b.ShakeUntil != b.Start+10 {
		t.Errorf("steps %+v", b)
	}
	if len(b.Needs) != 1 || b.Needs[0].Grams != 100 || !near(b.Needs[0].ShortChance, 0.2, 1e-9) {
		t.Errorf("needs %+v", b.Needs)
	}
	if !slices.Equal(b.Jars, []int{1}) || b.SpiritML != 500 || b.Why != "waits for reishi" {
		t.Errorf("jars %v, %g ml, %q", b.Jars, b.SpiritML, b.Why)
	}
}

// Shaken the first fourteen days and not on the day before it is strained, a
// recipe of at least fourteen days stands sixteen.
func TestShakingAndSettling(t *testing.T) {
	stock := newLarder(1).hold("shiitake", 1000).hold("reishi", 1000).hold("lion's mane", 1000).
		hold("piopino", 1000).hold("turkey tail", 1000)
	b := must(Schedule(stock, wishesFor(trade()), everyDay{}, termsOf(2), testSet())).Batches[0]
	if b.Start != today || b.ShakeUntil != today+14 || b.Strain != today+16 {
		t.Errorf("start day 0, shaken until day %d, strained on day %d", b.ShakeUntil-today, b.Strain-today)
	}
	tight := trade()
	tight.MacerateMax = 14 // no room for both: straining comes first
	b = must(Schedule(stock, wishesFor(tight), everyDay{}, termsOf(2), testSet())).Batches[0]
	if b.ShakeUntil != today+12 || b.Strain != today+14 {
		t.Errorf("shaken until day %d, strained on day %d", b.ShakeUntil-today, b.Strain-today)
	}
	for _, c := range []struct {
		min, max, shake int
	}{{14, 42, 14}, {14, 42, 0}, {14, 14, 14}, {1, 1, 14}, {1, 3, 1}, {28, 42, 14}} {
		r := trade()
		r.MacerateMin, r.MacerateMax, r.ShakeDays = c.min, c.max, c.shake
		b := must(Schedule(stock, wishesFor(r), everyDay{}, termsOf(2), testSet())).Batches[0]
		stood := int(b.Strain - b.Start)
		if stood < c.min || stood > c.max || b.ShakeUntil >= b.Strain || (c.shake == 0) != (b.ShakeUntil == 0) {
			t.Errorf("%v: stands %d days, shaken until day %d", c, stood, b.ShakeUntil-b.Start)
		}
	}
}

// The window in which it may be strained is all closed: another start is
// chosen, after which it is not.
func TestStrainingWindowClosed(t *testing.T) {
	r := short("One", "reishi")
	r.MacerateMax = 16
	days := must(NewWorkdays(yard.Working{Away: []yard.Absence{{From: today + 10, To: today + 20}}}))
	b := must(Schedule(newLarder(1).hold("reishi", 100), wishesFor(r), days, termsOf(1), testSet())).Batches[0]
	// Days 5 and 6 are a weekend; from Monday, day 7, it could be strained on
	// Monday, day 21.
	if b.Start != today+7 || b.Strain != today+21 {
		t.Errorf("start day %d, strained on day %d", b.Start-today, b.Strain-today)
	}
}

func TestJarsAreShared(t *testing.T) {
	stock := newLarder(1).hold("reishi", 1000)
	r := short("One", "reishi")
	plan := must(Schedule(stock, wishesFor(r, r, r), everyDay{}, termsOf(2), testSet()))
	// Two start today; the pot takes one a day; the third waits for a jar.
	got := []yard.Date{plan.Batches[0].Start, plan.Batches[1].Start, plan.Batches[2].Start}
	if got[0] != today || got[1] != today || got[2] != today+15 {
		t.Errorf("starts on days %d, %d, %d", got[0]-today, got[1]-today, got[2]-today)
	}
	if a, b := plan.Batches[0].Strain, plan.Batches[1].Strain; a != today+14 || b != today+15 {
		t.Errorf("strained on days %d and %d", a-today, b-today)
	}
	if why := plan.Batches[2].Why; why != "waits for free jars" {
		t.Errorf("third batch: %q", why)
	}
	if j := plan.Batches[2].Jars; !slices.Equal(j, []int{1}) {
		t.Errorf("third batch in jars %v", j)
	}
	big := short("Big", "reishi")
	big.Jars = 3
	plan = must(Schedule(stock, wishesFor(big), everyDay{}, termsOf(2), testSet()))
	if b := plan.Batches[0]; b.Start != 0 || !strings.Contains(b.Why, "3 jars and the kitchen has 2") || plan.Holds != 1 {
		t.Errorf("three jars of two: %+v", b)
	}
	plan = must(Schedule(stock, wishesFor(big), everyDay{}, termsOf(0), testSet()))
	if plan.Batches[0].Start != today || !strings.Contains(strings.Join(plan.Notes, " "), "number of jars") {
		t.Errorf("unknown number of jars: %v, %v", plan.Batches[0].Start, plan.Notes)
	}
}

// A batch lower in the order goes first with what the one above it does not
// need yet, and never makes it wait.
func TestPriority(t *testing.T) {
	stock := newLarder(1).hold("reishi", 100)
	stock.add("reishi", 0, today+40, 100).add("shiitake", 0, today+60, 100)
	plan := must(Schedule(stock, wishesFor(short("First", "reishi", "shiitake"), short("Second", "reishi")), everyDay{}, termsOf(1), testSet()))
	if got := starts(plan); got[0] != today+60 || got[1] != today {
		t.Errorf("starts %v", got)
	}
	// With only one lot of reishi before, the second must leave it alone.
	stock = newLarder(1).hold("reishi", 100)
	stock.add("shiitake", 0, today+60, 100).add("reishi", 0, today+90, 100)
	plan = must(Schedule(stock, wishesFor(short("First", "reishi", "shiitake"), short("Second", "reishi")), everyDay{}, termsOf(1), testSet()))
	if got := starts(plan); got[0] != today+60 || got[1] != today+90 {
		t.Errorf("starts %v", got)
	}
}

// One jar. The first batch is there on day 0, but in two draws of ten on day 66
// only; so it is printed on day 0. The second is there on day 60 or sooner in
// eight draws, but on day 60 the jar is about to be wanted in those two: it
// holds in six draws only, and the date moves on until it holds in eight.
func TestPrintedDateHoldsAsAsked(t *testing.T) {
	stock := newLarder(10)
	for d := range 10 {
		first, second := today, today+60
		switch {
		case d < 2:
			second = today + 90
		case d > 7:
			first, second = today+66, today+50
		}
		stock.add("reishi", d, first, 100).add("shiitake", d, second, 100)
	}
	plan := must(Schedule(stock, wishesFor(short("First", "reishi"), short("Second", "shiitake")), everyDay{}, termsOf(1), testSet()))
	a, b := plan.Batches[0], plan.Batches[1]
	if a.Start != today || b.Start != today+81 || b.StartChance != 0.8 || plan.Holds != 0.6 {
		t.Errorf("days %d and %d, chances %g and %g, all holds %g", a.Start-today, b.Start-today, a.StartChance, b.StartChance, plan.Holds)
	}
}

// Chances are those of following the calendar: a first batch that could start
// today in two draws, but is printed for day 40, leaves the jar to the second.
func TestCalendarIsFollowed(t *testing.T) {
	stock := newLarder(10).hold("shiitake", 100)
	for d := range 10 {
		in := today + 40
		if d < 2 {
			in = today
		}
		stock.add("reishi", d, in, 100)
	}
	plan := must(Schedule(stock, wishesFor(short("First", "reishi"), short("Second", "shiitake")), everyDay{}, termsOf(1), testSet()))
	a, b := plan.Batches[0], plan.Batches[1]
	if a.Start != today+40 || b.Start != today || b.StartChance != 1 || plan.Holds != 1 {
		t.Errorf("days %d and %d, chances %g and %g", a.Start-today, b.Start-today, a.StartChance, b.StartChance)
	}
}

// A batch without a date keeps neither jar nor pot from one that has a date.
func TestUndatedBatchKeepsNoRoom(t *testing.T) {
	stock := newLarder(10).hold("shiitake", 100)
	stock.add("reishi", 0, today, 100)
	first, second := short("First", "reishi"), short("Second", "shiitake")
	for _, r := range []*yard.Recipe{&first, &second} {
		r.MacerateMin, r.MacerateMax, r.ShakeDays = 14, 14, 0
	}
	for _, jars := range []int{1, 2} { // the jar, then only the pot is wanted twice
		plan := must(Schedule(stock, wishesFor(first, second), everyDay{}, termsOf(jars), testSet()))
		if b := plan.Batches[1]; plan.Batches[0].Start != 0 || b.Start != today || b.StartChance != 1 {
			t.Errorf("%d jars: %v with chance %g", jars, b.Start, b.StartChance)
		}
	}
}

// A jar is not filled again on the day on which it is emptied.
func TestJarIsFreeTheDayAfter(t *testing.T) {
	stock := newLarder(1).hold("reishi", 100).everyDraw("shiitake", today+14, 100)
	plan := must(Schedule(stock, wishesFor(short("A", "reishi"), short("B", "shiitake")), everyDay{}, termsOf(2), testSet()))
	if a, b := plan.Batches[0], plan.Batches[1]; a.Strain != b.Start || !slices.Equal(b.Jars, []int{2}) {
		t.Errorf("strained on %v, the next starts on %v in jars %v", a.Strain, b.Start, b.Jars)
	}
}

func TestAlternativesAndOptional(t *testing.T) {
	r := short("One", "reishi", "shiitake", "piopino")
	r.Ingredients[1].Or = []string{"maitake"}
	r.Ingredients[2].Optional = true
	stock := newLarder(2).hold("reishi", 100)
	stock.everyDraw("maitake", today+20, 100).everyDraw("shiitake", today+50, 100)
	stock.add("piopino", 0, today+20, 100).add("piopino", 1, today+21, 100)
	s := must(schedule(stock, wishesFor(r), everyDay{}, termsOf(1), testSet()))
	b := s.plan.Batches[0]
	if b.Start != today+20 || b.Needs[1].ShortChance != 0 || b.Needs[2].ShortChance != 0.5 {
		t.Errorf("start day %d, needs %+v", b.Start-today, b.Needs)
	}
	for d, want := range []int{1, 0} { // the optional one is used in the first draw only
		used := len(s.follow[d].taken(s.index["piopino"]))
		if used != want || len(s.follow[d].taken(s.index["shiitake"])) != 0 {
			t.Errorf("draw %d: piopino taken %d times", d, used)
		}
	}
}

// What one line takes as a stand-in is not there for another: where both cannot
// be met from what is there, another choice is tried before the day is given up.
func TestAlternativesDoNotShareAGram(t *testing.T) {
	r := short("One", "reishi", "shiitake")
	r.Ingredients[0].Or = []string{"maitake"}
	r.Ingredients[1].Or = []string{"reishi"}
	stock := newLarder(1).hold("reishi", 100).hold("maitake", 100)
	s := must(schedule(stock, wishesFor(r), everyDay{}, termsOf(1), testSet()))
	if s.plan.Batches[0].Start != today {
		t.Errorf("maitake and reishi would do today, and it starts on %v", s.plan.Batches[0].Start)
	}
	stock = newLarder(1).hold("reishi", 100)
	stock.add("maitake", 0, today+30, 100)
	s = must(schedule(stock, wishesFor(r), everyDay{}, termsOf(1), testSet()))
	if got := s.plan.Batches[0].Start; got != today+30 {
		t.Errorf("100 g of reishi do for two lines of 100 g: start on %v", got)
	}
}

func TestWithoutAnIngredient(t *testing.T) {
	stock := newLarder(10).hold("reishi", 300).hold("lion's mane", 300)
	for d := range 10 {
		stock.add("piopino", d, today+yard.Date(56+d), 100)
	}
	r := short("One", "reishi", "piopino", "lion's mane")
	b := must(Schedule(stock, wishesFor(r), everyDay{}, termsOf(1), testSet())).Batches[0]
	if want := "waits for piopino; without piopino: 9 weeks earlier"; b.Why != want || b.Start != today+63 {
		t.Errorf("start day %d: %q, want %q", b.Start-today, b.Why, want)
	}
	b = must(Schedule(newLarder(10).hold("reishi", 300).hold("lion's mane", 300), wishesFor(r), everyDay{}, termsOf(1), testSet())).Batches[0]
	if b.Start != 0 || b.Reached != 0 || !strings.Contains(b.Why, "not enough piopino") || !strings.Contains(b.Why, "without piopino it could start on 2026-06-01") {
		t.Errorf("start %v: %q", b.Start, b.Why)
	}
	if b.Needs[1].ShortChance != 1 || b.Needs[0].ShortChance != 0 {
		t.Errorf("needs %+v", b.Needs)
	}
}

// Two species that fail together: each batch can start in 8 draws of 10, the
// same 8. All of it holds in 8, not in 0.8 × 0.8 of them. The other way round,
// where they fail apart, it holds in 6.
func TestJointChanceIsNotTheProduct(t *testing.T) {
	together, apart := newLarder(10), newLarder(10)
	for d := range 10 {
		if d < 8 {
			together.add("reishi", d, today+30, 100).add("shiitake", d, today+30, 100)
			apart.add("reishi", d, today+30, 100)
		}
		if d >= 2 {
			apart.add("shiitake", d, today+30, 100)
		}
	}
	for _, c := range []struct {
		name  string
		stock *larder
		holds float64
	}{{"together", together, 0.8}, {"apart", apart, 0.6}} {
		plan := must(Schedule(c.stock, wishesFor(short("A", "reishi"), short("B", "shiitake")), everyDay{}, termsOf(0), testSet()))
		a, b := plan.Batches[0].StartChance, plan.Batches[1].StartChance
		if a != 0.8 || b != 0.8 || plan.Holds != c.holds {
			t.Errorf("%s: chances %g and %g, all holds %g, want %g", c.name, a, b, plan.Holds, c.holds)
		}
		if !near(plan.Holds, holds(plan, c.stock), 1e-9) {
			t.Errorf("%s: all holds %g, the stock says %g", c.name, plan.Holds, holds(plan, c.stock))
		}
		if product := a * b; near(product, holds(plan, c.stock), 0.01) { // planted in place of Holds
			t.Errorf("%s: the product of the chances would not be caught", c.name)
		}
		t.Logf("fail %s: %g and %g alone, %g both; the product would be %.2f", c.name, a, b, plan.Holds, a*b)
	}
}

func TestStandingBatches(t *testing.T) {
	r := short("One", "reishi")
	on := func(ago int) yard.When { return yard.When{From: today - yard.Date(ago), To: today - yard.Date(ago)} }
	terms := termsOf(2)
	terms.Recipes = []yard.Recipe{r}
	terms.Standing = []*yard.Batch{
		{Lot: "OLD", Recipe: "One", On: on(100), Jars: 1, SpiritML: 500},
		{Lot: "NEW", Recipe: "One", On: on(4), Jars: 1, SpiritML: 450, SpiritABV: 60, Ingredients: []yard.Taken{{Species: "reishi", Grams: 90}}},
		{Lot: "DONE", Recipe: "One", On: on(50), Jars: 2, Bottled: on(20)},
	}
	plan := must(Schedule(newLarder(1).hold("reishi", 1000), wishesFor(r, r), everyDay{}, terms, testSet()))
	if len(plan.Standing) != 2 {
		t.Fatalf("%d batches stand, want 2", len(plan.Standing))
	}
	old, fresh := plan.Standing[0], plan.Standing[1]
	if old.Lot != "OLD" || old.Strain != today || !strings.Contains(old.Why, "stood 100 days, and the recipe says 28 at most") {
		t.Errorf("old: strained %v, %q", old.Strain, old.Why)
	}
	if fresh.Strain != today+10 || fresh.ShakeUntil != today+6 || fresh.StartChance != 1 || fresh.SpiritML != 450 || fresh.SpiritABV != 60 {
		t.Errorf("new: %+v", fresh)
	}
	if fresh.Needs[0].Grams != 90 || fresh.ABV.P50 < old.ABV.P50+2 {
		t.Errorf("new: needs %+v, %.1f %%; old %.1f %%", fresh.Needs, fresh.ABV.P50, old.ABV.P50)
	}
	// Their jars are free on the days after straining, today's pot is taken.
	if got := starts(plan); got[0] != today+1 || got[1] != today+11 {
		t.Errorf("starts on days %d and %d", got[0]-today, got[1]-today)
	}
	if !slices.Equal(old.Jars, []int{1}) || !slices.Equal(fresh.Jars, []int{2}) || !slices.Equal(plan.Batches[0].Jars, []int{1}) {
		t.Errorf("jars %v, %v, %v", old.Jars, fresh.Jars, plan.Batches[0].Jars)
	}
}

// A batch put up some time in a month is strained when its shortest time is
// over in any case; more jars standing than there are is said.
func TestStandingVaguely(t *testing.T) {
	r := short("One", "reishi") // 14 to 28 days
	terms := termsOf(1)
	terms.Recipes = []yard.Recipe{r}
	terms.Standing = []*yard.Batch{
		{Lot: "V", Recipe: "One", On: yard.When{From: today - 30, To: today - 1}, Jars: 1},
		{Lot: "W", Recipe: "One", On: yard.When{From: today - 20, To: today - 16}, Jars: 1},
	}
	plan := must(Schedule(newLarder(1), nil, everyDay{}, terms, testSet()))
	if b := plan.Standing[0]; b.Strain != today+13 || !strings.Contains(b.Why, "when 14 days are surely over") {
		t.Errorf("strained on day %d: %q", b.Strain-today, b.Why)
	}
	if b := plan.Standing[1]; b.Strain != today || b.Why != "" {
		t.Errorf("strained on day %d: %q", b.Strain-today, b.Why)
	}
	if !strings.Contains(strings.Join(plan.Notes, " "), "2 jars stand") {
		t.Errorf("two jars of one: %q", plan.Notes)
	}
}

func TestStandingWithoutRecipe(t *testing.T) {
	terms := termsOf(1)
	terms.Standing = []*yard.Batch{{Lot: "X", Recipe: "Grandmother's", On: yard.When{From: today - 3, To: today - 3}, Jars: 1}}
	plan := must(Schedule(newLarder(1).hold("reishi", 1000), wishesFor(short("One", "reishi")), everyDay{}, terms, testSet()))
	if b := plan.Standing[0]; b.Strain != 0 || !strings.Contains(b.Why, "Grandmother's") {
		t.Errorf("%+v", b)
	}
	if got := plan.Batches[0].Start; got != today+26 { // 28 days from day −3, and the day after
		t.Errorf("start on day %d", got-today)
	}
}

func TestMethodsWithoutJarOrPot(t *testing.T) {
	pot := short("Pot", "reishi")
	pot.Method = DecoctionOnly
	pot.SpiritMLJar, pot.MacerateMin, pot.MacerateMax = 0, 0, 0
	jar := short("Jar", "reishi")
	jar.Method = MacerationOnly
	plan := must(Schedule(newLarder(1).hold("reishi", 1000), wishesFor(pot, pot, jar), everyDay{}, termsOf(1), testSet()))
	a, b, c := plan.Batches[0], plan.Batches[1], plan.Batches[2]
	if a.Start != today || a.Decoct != today || a.Strain != 0 || a.Blend != 0 || a.Bottled != today+1 || len(a.Jars) != 0 {
		t.Errorf("decoction only: %+v", a)
	}
	if b.Start != today+1 {
		t.Errorf("the pot is used twice on %v", b.Start)
	}
	if c.Start != today || c.Strain != today+14 || c.Decoct != 0 || c.Bottled != c.Strain || c.Blend != 0 {
		t.Errorf("maceration only: %+v", c)
	}
	if a.ABV.P90 != 0 || !slices.Contains(a.Cautions, cautionNoSpirit) || slices.Contains(a.Cautions, cautionFlame) {
		t.Errorf("decoction only: %+v %q", a.ABV, a.Cautions)
	}
	if slices.Contains(c.Cautions, cautionLowAcid) || slices.Contains(c.Cautions, cautionHot) {
		t.Errorf("maceration only: %q", c.Cautions)
	}
}

func TestCautions(t *testing.T) {
	stock := newLarder(1)
	for _, s := range []string{"shiitake", "reishi", "lion's mane", "piopino", "turkey tail"} {
		stock.hold(s, 1000)
	}
	strength := func(abv, to float64) (Batch, string) {
		r := trade()
		r.SpiritABV, r.ToABV = abv, to
		b := must(Schedule(stock, wishesFor(r), everyDay{}, termsOf(2), testSet())).Batches[0]
		i := slices.IndexFunc(b.Cautions, func(c string) bool { return strings.HasPrefix(c, "Worked out at") })
		if i < 0 {
			return b, ""
		}
		return b, b.Cautions[i]
	}
	b, c := strength(40, 0)
	if want := "Worked out at 19.4 % by volume: sources differ on whether that keeps (it does from 18 % by pharmaceutics laboratory notes, from 25 % by a herbal physician; 15, 20 and 30 % are in print too). For 25 %: 0.56 parts of decoction to 1 of tincture, or spirit of 52 %."; c != want {
		t.Errorf("40 %%: %q\nwant %q", c, want)
	}
	for i, one := range b.Cautions {
		if slices.Contains(b.Cautions[:i], one) {
			t.Errorf("said twice: %q", one)
		}
	}
	for _, want := range []string{cautionIdentify, cautionFlame, cautionHot, cautionLowAcid, cautionPeople, cautionLaw, "Reishi: Not with blood-thinning medicines: ask a doctor."} {
		if !slices.Contains(b.Cautions, want) {
			t.Errorf("missing: %q", want)
		}
	}
	if _, c := strength(30, 0); !strings.Contains(c, "below 18 % it does not keep") {
		t.Errorf("30 %%: %q", c)
	}
	if _, c := strength(60, 0); c != "" {
		t.Errorf("60 %%: %q", c)
	}
	if b, c := strength(60, 25); c != "" || !near(b.ABV.P50, 25, 0.5) && len(b.Notes) == 0 {
		t.Errorf("60 %% to 25 %%: %.1f %%, %q, %q", b.ABV.P50, c, b.Notes)
	}
	plan := must(Schedule(stock, wishesFor(trade(), trade()), everyDay{}, termsOf(0), testSet()))
	if got := plan.Cautions(); len(got) != len(plan.Batches[0].Cautions) {
		t.Errorf("two batches alike have %d cautions, one has %d", len(got), len(plan.Batches[0].Cautions))
	}
}

func TestNotes(t *testing.T) {
	r := trade()
	r.Ingredients[0].Form = fresh
	terms := termsOf(2)
	terms.Kitchen.JarML, terms.Kitchen.PotML = 400, 1000
	stock := newLarder(1).hold("reishi", 50).hold("lion's mane", 50).hold("piopino", 50).hold("turkey tail", 50)
	stock.hold("shiitake", 500)               // dried, and so no fresh one
	stock.everyDraw("shiitake", today, 5.682) // 50 g fresh at 90 % water, dried to 12 %
	b := must(Schedule(stock, wishesFor(r), everyDay{}, terms, testSet())).Batches[0]
	all := strings.Join(b.Notes, "\n")
	for _, want := range []string{
		"a jar and do not fit jars of 400 ml", "boil it in 2 loads", "shiitake goes in fresh",
		"of tincture over: boil down to", "or pour all together for about",
	} {
		if !strings.Contains(all, want) {
			t.Errorf("missing %q in\n%s", want, all)
		}
	}
	if b.Start != today {
		t.Errorf("start %v", b.Start)
	}
}

func TestScheduleRefuses(t *testing.T) {
	set, days := testSet(), everyDay{}
	for say, c := range map[string]func(*Terms) (Stock, Workdays){
		"no draws":      func(*Terms) (Stock, Workdays) { return newLarder(0), days },
		"all needed":    func(*Terms) (Stock, Workdays) { return newLarder(1), nil },
		"end after":     func(t *Terms) (Stock, Workdays) { t.Until = t.AsOf - 1; return newLarder(1), days },
		"confidence 80": func(t *Terms) (Stock, Workdays) { t.Confidence = 80; return newLarder(1), days },
		"confidence 0":  func(t *Terms) (Stock, Workdays) { t.Confidence = 0; return newLarder(1), days },
		`"teeth"`:       func(t *Terms) (Stock, Workdays) { t.Kitchen.Press = "teeth"; return newLarder(1), days },
	} {
		terms := termsOf(1)
		stock, w := c(&terms)
		if _, err := Schedule(stock, wishesFor(short("One", "reishi")), w, terms, set); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%s: %v", say, err)
		}
	}
	plan := must(Schedule(newLarder(1), nil, days, termsOf(1), set))
	if len(plan.Batches) != 0 || plan.Holds != 1 {
		t.Errorf("nothing wished for: %+v", plan)
	}
	bad := short("Bad", "reishi")
	bad.Method = "magic"
	plan = must(Schedule(newLarder(1).hold("reishi", 100), wishesFor(bad, short("Good", "reishi")), days, termsOf(1), set))
	if plan.Batches[0].Start != 0 || plan.Batches[1].Start != today || !strings.Contains(plan.Batches[0].Why, "magic") {
		t.Errorf("one bad recipe among two: %+v", plan.Batches)
	}
}

// Nobody ever works again: no date, and no endless search.
func TestNoOpenDay(t *testing.T) {
	days := must(NewWorkdays(yard.Working{Away: []yard.Absence{{From: today, To: today + 40000}}}))
	terms := termsOf(1)
	terms.Recipes = []yard.Recipe{short("One", "reishi")}
	terms.Standing = []*yard.Batch{{Lot: "S", Recipe: "One", On: yard.When{From: today - 3, To: today - 3}, Jars: 1}}
	plan := must(Schedule(newLarder(2).hold("reishi", 100), wishesFor(short("One", "reishi")), days, terms, testSet()))
	if b := plan.Batches[0]; b.Start != 0 || !strings.Contains(b.Why, "no free days") {
		t.Errorf("%v: %q", b.Start, b.Why)
	}
	if !strings.Contains(plan.Standing[0].Why, "no open day") {
		t.Errorf("standing: %q", plan.Standing[0].Why)
	}
}

// How fast the pot boils down is asked as long as neither the kitchen nor a
// batch has said it, and never where nothing is boiled.
func TestBoilingDownIsAsked(t *testing.T) {
	cold := trade()
	cold.Method = MacerationOnly
	for _, c := range []struct {
		recipe yard.Recipe
		rate   float64
		asks   bool
	}{{trade(), 0, true}, {trade(), 500, false}, {cold, 0, false}} {
		terms := termsOf(6)
		terms.Kitchen.BoilMLH = c.rate
		stock := yearsOfStock(20)
		p, err := Schedule(stock, []Wish{{Recipe: c.recipe, Lot: "a"}}, must(NewWorkdays(yard.Working{})), terms, testSet())
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(strings.Join(p.Notes, "\n"), "How long does the pot take to boil down from 1.5 l to 0.5 l?"); got != c.asks {
			t.Errorf("%s at %v ml an hour: %q", c.recipe.Method, c.rate, p.Notes)
		}
	}
}
