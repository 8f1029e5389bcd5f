package tincture

import (
	"math"
	"strings"
	"testing"

	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

// twoOfTrade are two batches of the trade's recipe that were strained, and the
// one that they were blended to.
func twoOfTrade(other string, volume, abv float64) (all []*yard.Batch, made *yard.Batch) {
	on := yard.On
	goods := []yard.Taken{{Species: "shiitake", Grams: 125}, {Species: "reishi", Grams: 125}}
	one := &yard.Batch{Lot: "A", Recipe: "Trade five", On: on(day(2026, 3, 2)), Jars: 2, SpiritML: 1000, SpiritABV: 40, Ingredients: goods,
		Strained: on(day(2026, 4, 13)), Strainings: []yard.Straining{{On: on(day(2026, 4, 13)), ML: 600}}, StrainedML: 600,
		Bottled: on(day(2026, 4, 14)), Ended: yard.EndBlended, Into: []yard.BlendedInto{{On: on(day(2026, 4, 14)), Batch: "C"}}}
	two := &yard.Batch{Lot: "B", Recipe: other, On: on(day(2026, 3, 2)), Jars: 2, SpiritML: 1000, SpiritABV: 40,
		Ingredients: []yard.Taken{{Species: "maitake", Grams: 250}},
		Strained:    on(day(2026, 4, 13)), Strainings: []yard.Straining{{On: on(day(2026, 4, 13)), ML: 620}}, StrainedML: 620,
		Bottled: on(day(2026, 4, 14)), Ended: yard.EndBlended, Into: []yard.BlendedInto{{On: on(day(2026, 4, 14)), Batch: "C"}}}
	made = &yard.Batch{Lot: "C", Recipe: one.Recipe, Made: true, On: on(day(2026, 4, 14)), Strained: on(day(2026, 4, 14)), Decocted: on(day(2026, 4, 14)),
		Blended: on(day(2026, 4, 14)), Blendings: []yard.Blending{{On: on(day(2026, 4, 14)), From: []yard.Part{{Batch: "A"}, {Batch: "B"}}, ML: volume, ABV: abv}},
		BlendedML: volume, ABV: abv, SpiritABV: 40}
	if other != one.Recipe {
		made.Recipe, made.Others = "", []string{one.Recipe, other}
	}
	for _, o := range []*yard.Batch{one, two} {
		for _, in := range o.Ingredients {
			made.Carried = append(made.Carried, yard.Carried{Taken: in, Batch: o.Lot, Counted: true})
		}
	}
	return []*yard.Batch{one, two, made}, made
}

// standingOf is the plan of a batch that stands among others on record.
func standingOf(t *testing.T, all []*yard.Batch, put *yard.Batch, recipes ...yard.Recipe) Batch {
	t.Helper()
	days, err := NewWorkdays(yard.Working{})
	if err != nil {
		t.Fatal(err)
	}
	plan, err := Schedule(newLarder(1), nil, days, Terms{AsOf: day(2026, 4, 18), Until: day(2027, 4, 15), Confidence: 0.8, Recipes: recipes,
		Standing: []*yard.Batch{put}, Record: all, Seed: 1, Promised: []yard.Promise{{To: "shop", What: "Trade five", Amount: yard.Quantity{High: 12}, By: day(2026, 5, 4)}}},
		testSet())
	if err != nil {
		t.Fatal(err)
	}
	if len(plan.Standing) != 1 {
		t.Fatalf("%d stand", len(plan.Standing))
	}
	if len(plan.Promises) > 0 && plan.Standing[0].Recipe == "Trade five" && (plan.Promises[0].Chance == 1) != (plan.Standing[0].Bottles.P10 >= 12) {
		t.Errorf("%.0f bottles, and 12 promised hold with %g", plan.Standing[0].Bottles.P50, plan.Promises[0].Chance)
	}
	return plan.Standing[0]
}

// A blend of two batches is followed by what was measured of it: bottles,
// strength, ratio, caution, and the promise that hangs on it.
func TestBlendedOfTwoIsMeasured(t *testing.T) {
	all, made := twoOfTrade("Trade five", 1210, 23.4)
	b := standingOf(t, all, made, trade())
	if b.Recipe != "Trade five" || b.Blended.P50 != 1210 || !b.MeasuredML || b.ABV.P10 != 23.4 || b.ABV.P90 != 23.4 || !b.MeasuredABV || b.Bottles.P10 != 12 || b.Bottles.P90 != 12 {
		t.Errorf("%+v", b)
	}
	if b.Bottled != day(2026, 4, 20) || b.Strain != 0 || b.Decoct != 0 || b.Blend != 0 || b.ShakeUntil != 0 || len(b.Jars) > 0 || b.JarCount != 0 {
		t.Errorf("bottled on %v, the Monday after: %+v", b.Bottled, b)
	}
	if b.DriedG != 500 || math.Abs(b.Ratio.P50-1210.0/500) > 1e-9 {
		t.Errorf("%v g, 1 : %v", b.DriedG, b.Ratio.P50)
	}
	if c := strings.Join(b.Cautions, "\n"); !strings.Contains(c, "Measured at 23.4 % by volume: sources differ") || !strings.Contains(c, "Reishi: Not with blood-thinning") || strings.Contains(c, "Worked out") {
		t.Error(c)
	}
}

// Where nobody measured it, it is what its parts come to by mass.
func TestBlendedOfTwoIsWorkedOut(t *testing.T) {
	all, made := twoOfTrade("Trade five", 0, 0)
	b := standingOf(t, all, made, trade())
	goods, _ := GoodsOf([]Need{{Species: "shiitake", Grams: 250}}, testSet())
	jar := must(alcohol.Spirit(1000, 40)).Plus(alcohol.Liquid{WaterG: goods.WaterG})
	want := must(alcohol.Spirit(1220, jar.ABV()))
	if math.Abs(b.Blended.P50-want.VolumeML()) > 0.01 || math.Abs(b.ABV.P50-want.ABV()) > 0.01 || b.MeasuredML || b.MeasuredABV || b.Bottles.P50 != 12 {
		t.Errorf("%v ml of %v %%, not %v of %v; %v bottles", b.Blended.P50, b.ABV.P50, want.VolumeML(), want.ABV(), b.Bottles)
	}
	// Half of it went elsewhere.
	made.Into = []yard.BlendedInto{{Batch: "D", ML: 610}}
	if b := standingOf(t, all, made, trade()); math.Abs(b.Blended.P50-610) > 0.01 || b.Bottles.P50 != 6 || b.Ratio.P50 != 0 {
		t.Errorf("%+v", b)
	}
}

// Of two recipes it carries both names and all species, and is bottled in what
// both are; where they differ, nobody knows in what.
func TestBlendedOfTwoRecipes(t *testing.T) {
	all, made := twoOfTrade("Maitake plain", 1210, 0)
	plain := trade()
	plain.Name = "Maitake plain"
	plain.Ingredients = []yard.Ingredient{{Species: "maitake", Form: "pieces", GramsJar: 125}}
	b := standingOf(t, all, made, trade(), plain)
	if b.Recipe != "Trade five and Maitake plain" || b.Bottles.P50 != 12 || b.Why != "" {
		t.Errorf("%+v", b)
	}
	plain.BottleML = 50
	if b := standingOf(t, all, made, trade(), plain); b.Bottles.P50 != 0 || b.Blended.P50 != 1210 || !strings.Contains(strings.Join(b.Notes, " "), "bottles of different sizes") {
		t.Errorf("%+v", b)
	}
}

// A batch blended of its own spirit and decoction is followed by what was
// measured, too; and batches blended in a ring come to an end.
func TestBlendedBatchIsMeasured(t *testing.T) {
	on := yard.On(day(2026, 4, 13))
	put := &yard.Batch{Lot: "A", Recipe: "Trade five", On: yard.On(day(2026, 3, 2)), Jars: 2, SpiritML: 1000, SpiritABV: 40,
		Ingredients: []yard.Taken{{Species: "shiitake", Grams: 250}},
		Strained:    on, Strainings: []yard.Straining{{On: on, ML: 605}}, StrainedML: 605, Decocted: on, Decoctions: []yard.Decoction{{On: on, ML: 500}}, DecoctionML: 500,
		Blended: on, Blendings: []yard.Blending{{On: on, ML: 1104}}, BlendedML: 1104}
	b := standingOf(t, []*yard.Batch{put}, put, trade())
	// The trade's recipe with 500 ml of decoction: about 1,104 ml at 21.3 %.
	if b.Blended.P50 != 1104 || math.Abs(b.ABV.P50-21.3) > 0.3 || b.MeasuredABV || b.Bottles.P50 != 11 || b.Blend != 0 || b.Bottled == 0 {
		t.Errorf("%+v", b)
	}
	ring := &yard.Batch{Lot: "R", Made: true, Strained: on, Blended: on, Blendings: []yard.Blending{{On: on, From: []yard.Part{{Batch: "S"}}}}}
	back := &yard.Batch{Lot: "S", Made: true, Strained: on, Blended: on, Blendings: []yard.Blending{{On: on, From: []yard.Part{{Batch: "R"}}}}}
	if b := standingOf(t, []*yard.Batch{ring, back}, ring, trade()); b.Blended.P50 != 0 {
		t.Errorf("%+v", b)
	}
}

// The strength of a batch in its bottles is worked out from what was written
// down, where nobody measured it: of the trade's recipe 19.4 %, and 21.3 % with
// all of the decoction in it. Measured, it is not worked out; of goods that
// nobody wrote down, neither.
func TestStrengthOfTheBottledIsWorkedOut(t *testing.T) {
	on := yard.On(day(2026, 4, 13))
	batch := func(change func(*yard.Batch)) *yard.Batch {
		b := &yard.Batch{Lot: "A", Recipe: "Trade five", On: yard.On(day(2026, 3, 2)), Jars: 2, SpiritML: 1000, SpiritABV: 40,
			Ingredients: []yard.Taken{{Species: "shiitake", Grams: 250}}, Bottled: on, Ended: yard.EndBottled,
			Strained: on, Strainings: []yard.Straining{{On: on, ML: 605}}, StrainedML: 605, Bottles: []yard.BottleCount{{SizeML: 100, Count: 10}}}
		change(b)
		return b
	}
	for name, c := range map[string]struct {
		put  *yard.Batch
		want float64
	}{
		"as the recipe has it": {batch(func(*yard.Batch) {}), 19.4},
		"all poured in": {batch(func(b *yard.Batch) {
			b.Blended, b.BlendedML = on, 1104
			b.Decocted, b.DecoctionML, b.Decoctions = on, 500, []yard.Decoction{{On: on, ML: 500}}
			b.Blendings = []yard.Blending{{On: on, ML: 1104}}
		}), 21.3},
		"measured":           {batch(func(b *yard.Batch) { b.ABV = 22 }), 0},
		"of nobody's goods":  {batch(func(b *yard.Batch) { b.Ingredients = nil }), 0},
		"of no recipe":       {batch(func(b *yard.Batch) { b.Recipe = "grandmother's" }), 0},
		"not bottled so far": {batch(func(b *yard.Batch) { b.Bottled, b.Ended = yard.When{}, "" }), 0},
	} {
		plan, err := Schedule(newLarder(1), nil, everyDay{}, Terms{AsOf: day(2026, 4, 18), Until: day(2026, 6, 15), Confidence: 0.8,
			Recipes: []yard.Recipe{trade()}, Record: []*yard.Batch{c.put}, Seed: 1}, testSet())
		if err != nil {
			t.Fatal(err)
		}
		got := 0.0
		for _, w := range plan.Worked {
			got = w.ABV
		}
		if math.Abs(got-c.want) > 0.1 {
			t.Errorf("%s: %.2f %%, not %.2f", name, got, c.want)
		}
	}
}
