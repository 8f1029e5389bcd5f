package tincture

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodaba/yard"
)

// ask answers an order.
func ask(stock *larder, days Workdays, terms Terms, o Order) *Back {
	terms.Order = &o
	return must(Schedule(stock, nil, days, terms, testSet())).Back
}

// One jar of 100 g fills six bottles: (500 ml + 12 g − 170 ml) and as much
// decoction, 684 ml. It stands 14 days and is bottled the day after.
func TestPlanBack(t *testing.T) {
	stock := newLarder(10)
	for d := range 10 { // 50 g on hand, the rest on days 10, 20, … 100
		stock.add("reishi", d, today+yard.Date(10*(d+1)), 200)
	}
	stock.hold("reishi", 50)
	terms := termsOf(4)
	a := ask(stock, everyDay{}, terms, Order{Recipe: short("One", "reishi"), By: today + 85, Bottles: 6,
		OnHand: func(string, string) float64 { return 50 }})
	if a.LatestStart != today+70 || len(a.Batches) != 1 || a.Batches[0].Strain != today+84 || a.Batches[0].Bottled != today+85 || a.Why != "" {
		t.Errorf("latest start day %d, %+v %q", a.LatestStart-today, a.Batches, a.Why)
	}
	if a.Chance != 0.7 { // in seven draws it is there by day 70
		t.Errorf("chance %g", a.Chance)
	}
	n := a.Needs[0]
	if !near(n.Missing, n.Grams-50, 0.001) || n.Likely != today+50 || n.Early != today+10 || n.Late != 0 || !near(n.ShortChance, 0.3, 1e-9) {
		t.Errorf("%+v, likely day %d", n, n.Likely-today)
	}
	if n.Grams < 90 || n.Grams > 110 {
		t.Errorf("six bottles take %.1f g", n.Grams)
	}
	// Nine draws bring the goods for one batch or two by then; with 250 g two
	// batches of two jars stand side by side, twelve bottles.
	if got := a.CanPromise; len(got) != 3 || got[0].Chance != 0.5 || got[0].Bottles != 12 || got[1].Bottles != 0 || got[2].Bottles != 0 {
		t.Errorf("%+v", got)
	}
	late := ask(stock, everyDay{}, terms, Order{Recipe: short("One", "reishi"), By: today + 10, Bottles: 6})
	if late.LatestStart != 0 || late.Chance != 0 || !strings.Contains(late.Why, "no days, jars and pot") {
		t.Errorf("%+v", late)
	}
	for say, o := range map[string]Order{
		"outside the forecast": {Recipe: short("One", "reishi"), By: today + 5000, Bottles: 6},
		"no ingredient":        {Recipe: short("One"), By: today + 80, Bottles: 6},
	} {
		if a := ask(stock, everyDay{}, terms, o); !strings.Contains(a.Why, say) || a.LatestStart != 0 {
			t.Errorf("%+v", a)
		}
	}
}

// Bottles on the shelf and in jars count, what was promised before does not.
func TestPlanBackFromTheShelf(t *testing.T) {
	r := short("One", "reishi")
	terms := termsOf(4)
	terms.Recipes = []yard.Recipe{r}
	terms.Shelf = []yard.BottleStock{{Recipe: "One", Bottles: []yard.BottleCount{{SizeML: 100, Count: 9}}}, {Recipe: "Other", Bottles: []yard.BottleCount{{SizeML: 100, Count: 50}}}}
	terms.Standing = []*yard.Batch{{Lot: "S", Recipe: "One", On: yard.On(today - 5), Jars: 1, SpiritML: 500, SpiritABV: 50,
		Ingredients: []yard.Taken{{Species: "reishi", Grams: 100}}}}
	terms.Promised = []yard.Promise{
		{To: "market", What: "one", Amount: yard.Quantity{Low: 4, High: 4}, By: today + 20},
		{To: "market", What: "one", Amount: yard.Quantity{Low: 4, High: 4}, By: today + 90},
		{To: "friend", What: "reishi", Amount: yard.Quantity{Low: 1, High: 1, Unit: yard.Kilogram}, By: today + 3},
	}
	a := ask(newLarder(5), everyDay{}, terms, Order{Recipe: r, By: today + 30, Bottles: 11})
	if a.OnShelf != 9 || a.Promised != 4 || a.Standing.P10 != 6 || a.Standing.P90 > 7 || a.Chance != 1 || len(a.Batches) != 0 || !strings.Contains(a.Why, "no new batch") {
		t.Errorf("9 + 6 − 4 are eleven: %+v", a)
	}
	if a.CanPromise[2].Bottles != 11 || a.CanPromise[0].Bottles > 12 {
		t.Errorf("%+v", a.CanPromise)
	}
	if a = ask(newLarder(5), everyDay{}, terms, Order{Recipe: r, By: today + 30, Bottles: 15}); a.LatestStart == 0 || a.Chance != 0 || a.Needs[0].Missing <= 0 {
		t.Errorf("without goods: %+v", a)
	}
	plan := must(Schedule(newLarder(5), nil, everyDay{}, terms, testSet()))
	if len(plan.Promises) != 2 || plan.Promises[0].Chance != 1 || plan.Promises[1].Chance != 1 || plan.Keeps != 1 || plan.Promises[0].By != today+20 {
		t.Errorf("%+v, all %g", plan.Promises, plan.Keeps)
	}
	terms.Standing = nil
	terms.Promised = append(terms.Promised, yard.Promise{What: "One", Amount: yard.Quantity{Low: 2, High: 2}, Every: 200})
	plan = must(Schedule(newLarder(5), nil, everyDay{}, terms, testSet()))
	if n := len(plan.Promises); n != 4 || plan.Promises[0].Chance != 1 || plan.Promises[2].Chance != 0 || plan.Keeps != 0 {
		t.Errorf("%+v, all %g", plan.Promises, plan.Keeps)
	}
}

// More jars than the kitchen has: several batches, none using a jar or the pot
// twice, on open days and in time; the last as late as it can be.
func TestPlanBackUsesNothingTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stock, days := drawLarder(t), drawDays(t)
		r := anyRecipe(t, "One")
		jars := rapid.IntRange(1, 4).Draw(t, "kitchen jars")
		terms := drawTerms(t, jars)
		o := Order{Recipe: r, By: today + yard.Date(rapid.IntRange(0, 300).Draw(t, "by")), Bottles: rapid.IntRange(0, 40).Draw(t, "bottles")}
		o.By = min(o.By, terms.Until)
		terms.Order = &o
		s := must(schedule(stock, nil, days, terms, testSet()))
		a := s.plan.Back
		use, pot := map[yard.Date]int{}, map[yard.Date]bool{}
		for _, b := range a.Batches {
			if !days.Open(b.Start) || !days.Open(b.Strain) || !days.Open(b.Bottled) || b.Bottled > o.By || b.Start < today {
				t.Fatalf("%+v by %v", b, o.By)
			}
			for d := b.Start; d <= b.Strain; d++ {
				if use[d] += b.Jars; use[d] > jars {
					t.Fatalf("%d jars of %d on %v: %+v", use[d], jars, d, a.Batches)
				}
			}
			if pot[b.Strain] && decocts(r) {
				t.Fatalf("the pot twice on %v: %+v", b.Strain, a.Batches)
			}
			pot[b.Strain] = true
		}
		if a.Chance < 0 || a.Chance > 1 || (a.LatestStart == 0) != (len(a.Batches) == 0) {
			t.Fatalf("%+v", a)
		}
		for i := 1; i < len(a.CanPromise); i++ {
			if a.CanPromise[i].Bottles > a.CanPromise[i-1].Bottles {
				t.Fatalf("surer and more: %+v", a.CanPromise)
			}
		}
		for _, n := range a.Needs {
			if a.LatestStart != 0 && !n.Optional && len(n.Or) == 0 && a.Chance > 1-n.ShortChance+1e-9 {
				t.Fatalf("holds %g, and %s alone is there %g", a.Chance, n.Species, 1-n.ShortChance)
			}
		}
	})
}

// A promise by hand: goods come to each draw for k batches, so k times six
// bottles can be promised, or seven where the hands press well.
func TestPromiseIsCounted(t *testing.T) {
	stock := newLarder(20)
	for d := range 20 {
		stock.add("reishi", d, today+1, float64(100*(d+1)))
	}
	terms := termsOf(0)
	a := ask(stock, everyDay{}, terms, Order{Recipe: short("One", "reishi"), By: today + 60})
	for i, want := range []int{11 * 6, 5 * 6, 2 * 6} { // half of draws have 11 or more, 16 of 20 have 5 or more, 19 have 2
		if got := a.CanPromise[i]; got.Bottles < want || got.Bottles > want*7/6 {
			t.Errorf("at %g: %d bottles, want about %d", got.Chance, got.Bottles, want)
		}
	}
	terms.Shelf = []yard.BottleStock{{Recipe: "One", Bottles: []yard.BottleCount{{SizeML: 100, Count: 7}}}}
	b := ask(stock, everyDay{}, terms, Order{Recipe: short("One", "reishi"), By: today + 60})
	for i := range a.CanPromise {
		if b.CanPromise[i].Bottles != a.CanPromise[i].Bottles+7 {
			t.Errorf("seven on the shelf: %+v, before %+v", b.CanPromise, a.CanPromise)
		}
	}
}

// Two mushrooms that fail together: a batch of both is there as often as either
// alone, 0.6; were they to fail apart, in 0.2 only. Their product says 0.36 both
// times.
func TestNeedsOfABatchAreNotTheProduct(t *testing.T) {
	for _, c := range []struct {
		name  string
		in    func(draw int) (reishi, shiitake bool)
		joint float64
	}{
		{"together", func(d int) (bool, bool) { return d < 6, d < 6 }, 0.6},
		{"apart", func(d int) (bool, bool) { return d < 6, d >= 4 }, 0.2},
	} {
		stock := newLarder(10)
		for d := range 10 {
			reishi, shiitake := c.in(d)
			if reishi {
				stock.add("reishi", d, today+5, 1000)
			}
			if shiitake {
				stock.add("shiitake", d, today+5, 1000)
			}
		}
		a := ask(stock, everyDay{}, termsOf(2), Order{Recipe: short("Two", "reishi", "shiitake"), By: today + 60, Bottles: 4})
		product := 1.0
		for _, n := range a.Needs {
			product *= 1 - n.ShortChance
		}
		if a.Chance != c.joint {
			t.Errorf("%s: %g, want %g", c.name, a.Chance, c.joint)
		}
		if near(product, c.joint, 0.05) { // planted in place of Chance
			t.Errorf("%s: the product %g would not be caught", c.name, product)
		}
		terms := termsOf(2)
		terms.Confidence = c.joint
		plan := must(Schedule(stock, wishesFor(short("Two", "reishi", "shiitake")), everyDay{}, terms, testSet())).Batches[0]
		if !near(plan.Reached, c.joint, 1e-9) || plan.StartChance != c.joint {
			t.Errorf("%s: the calendar has %g, %g", c.name, plan.Reached, plan.StartChance)
		}
		t.Logf("fail %s: 0.6 and 0.6 alone, both %g; the product is %.2f", c.name, a.Chance, product)
	}
}

// "Without piopino: 8 weeks earlier", in numbers; two that are late together
// are tried together.
func TestGains(t *testing.T) {
	stock := newLarder(10).hold("reishi", 1000).everyDraw("piopino", today+56, 1000).everyDraw("shiitake", today+56, 1000)
	b := must(Schedule(stock, wishesFor(short("A", "reishi", "piopino")), everyDay{}, termsOf(2), testSet())).Batches[0]
	if len(b.Without) != 1 || b.Without[0].Days != 56 || b.Without[0].Start != today || !strings.Contains(b.Why, "without piopino: 8 weeks earlier") {
		t.Errorf("%+v %q", b.Without, b.Why)
	}
	early := stock.clone() // piopino comes last in half of the draws, shiitake in the others
	for d := range 10 {
		early.add([]string{"piopino", "shiitake"}[d%2], d, today+50, 1000)
	}
	b = must(Schedule(early, wishesFor(short("A", "reishi", "piopino", "shiitake")), everyDay{}, termsOf(2), testSet())).Batches[0]
	if len(b.Without) != 1 || !slices.Equal(b.Without[0].Species, []string{"shiitake", "piopino"}) && !slices.Equal(b.Without[0].Species, []string{"piopino", "shiitake"}) || b.Without[0].Days != 56 {
		t.Errorf("%+v %q", b.Without, b.Why)
	}
	a := ask(stock, everyDay{}, termsOf(2), Order{Recipe: short("A", "reishi", "piopino"), By: today + 60, Bottles: 4})
	if a.Chance != 0 || len(a.Without) != 1 || a.Without[0].Chance != 1 || a.Without[0].Species[0] != "piopino" || a.Without[0].Start != today {
		t.Errorf("%g %+v", a.Chance, a.Without)
	}
}

// A scaled recipe is the recipe in every respect but its size.
func TestScaled(t *testing.T) {
	set := testSet()
	rapid.Check(t, func(t *rapid.T) {
		r, _, retention := drawRecipe(t)
		r.DecoctToML = max(r.DecoctToML, 1)
		by := rapid.Float64Range(0.05, 30).Draw(t, "by")
		z := Scaled(r, by)
		if z.SpiritMLJar > r.SpiritMLJar*(1+1e-9) || z.Jars < 1 {
			t.Fatalf("%g times: %d jars of %g ml, the recipe has %g", by, z.Jars, z.SpiritMLJar, r.SpiritMLJar)
		}
		g, _ := GoodsOf(Needs(r), set)
		h, _ := GoodsOf(Needs(z), set)
		a, b := must(Balance(r, g, retention)), must(Balance(z, h, retention))
		if !near(b.Blended.VolumeML(), by*a.Blended.VolumeML(), 1e-6*b.Blended.VolumeML()+1e-6) || !near(b.Blended.ABV(), a.Blended.ABV(), 1e-6) {
			t.Fatalf("%g times: %.6f ml of %.6f %%, the recipe %.6f of %.6f", by, b.Blended.VolumeML(), b.Blended.ABV(), a.Blended.VolumeML(), a.Blended.ABV())
		}
		n := rapid.IntRange(1, 200).Draw(t, "bottles")
		if z, by, ok := ForBottles(r, n, set.Practice.Marc["hand"], set); ok {
			g, _ := GoodsOf(Needs(z), set)
			y := must(outcome(z, g, set.Practice.Marc["hand"], "x", 1))
			if y.bottles.P10 < float64(n) {
				t.Fatalf("for %d bottles %g times: %+v", n, by, y.bottles)
			}
		}
	})
	if z := Scaled(trade(), math.NaN()); z.Jars != 2 {
		t.Errorf("%+v", z)
	}
}

// Scaled to the stock, a little more is never possible, and what is scaled is;
// alternatives share what is on hand.
func TestScaledToTheStock(t *testing.T) {
	hand := func(m map[string]float64) func(string, string) float64 {
		return func(s, _ string) float64 { return m[s] }
	}
	z, by, short, ok := ForStock(trade(), hand(map[string]float64{"shiitake": 500, "reishi": 75, "lion's mane": 200, "piopino": 80, "turkey tail": 100}))
	if !ok || !near(by, 1.5, 1e-6) || short != "reishi" || z.Jars != 3 || !near(z.Ingredients[1].GramsJar, 25, 1e-4) {
		t.Errorf("%g times, %s short, %d jars: %+v", by, short, z.Jars, z.Ingredients)
	}
	if _, _, short, ok := ForStock(trade(), hand(map[string]float64{"shiitake": 500})); ok || short == "" {
		t.Errorf("nothing of four: %q", short)
	}
	rapid.Check(t, func(t *rapid.T) {
		r, m := anyRecipe(t, "One"), map[string]float64{}
		for _, k := range kinds {
			m[k] = float64(rapid.IntRange(0, 400).Draw(t, k))
		}
		_, by, _, ok := ForStock(r, hand(m))
		if !ok {
			return
		}
		var must []Need
		for _, n := range Needs(r) {
			if !n.Optional {
				must = append(must, n)
			}
		}
		if meets(must, by, hand(m), nil) >= 0 || by < 1e5 && meets(must, by*1.001+1e-6, hand(m), nil) < 0 {
			t.Fatalf("%g times of %+v with %v", by, must, m)
		}
	})
}
