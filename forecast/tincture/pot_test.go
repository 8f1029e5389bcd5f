package tincture

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

// potBalanced compares what goes into a pot with what comes out, by substance.
func potBalanced(p Pot) bool {
	in, out := p.Brought.Plus(p.Water), alcohol.Blend(p.Steam, p.Held, p.Free)
	return near(in.EthanolG, out.EthanolG, 0.001) && near(in.WaterG, out.WaterG, 0.001)
}

// Nothing is lost or won in the pot, to the milligram; all spirit of the marc
// goes into the air, none into the decoction.
func TestPotIsBalanced(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, g, retention := drawRecipe(t)
		r.SimmerHours = rapid.SampledFrom([]float64{0, 0.5, 2, 6}).Draw(t, "hours")
		r.WaterML = rapid.SampledFrom([]float64{0, 500, 1500, 9000}).Draw(t, "water")
		k := Boiling{rapid.Float64Range(0, 3).Draw(t, "l/h"), rapid.Float64Range(0, 4).Draw(t, "ml/g")}
		b := must(Balance(r, g, retention))
		p := PotOf(b, r, g, k)
		if !potBalanced(p) || p.Water.WaterG < 0 || p.Steam.WaterG < -1e-6 || p.Free.EthanolG != 0 {
			t.Fatalf("%s: %+v", r.Method, p)
		}
		if !decocts(r) {
			return
		}
		if r.Method == MarcDecocted && p.Brought != b.Marc {
			t.Fatalf("the marc brings %v, the pot has %v", b.Marc, p.Brought)
		}
		more := k
		more.HeldMLG++
		if r.SimmerHours > 0 && PotOf(b, r, g, more).Water.WaterG < p.Water.WaterG {
			t.Fatal("a marc that holds more takes less water")
		}
	})
	p := PotOf(must(Balance(trade(), Goods{DriedG: 250, WaterG: 30}, 1.7)), trade(), Goods{DriedG: 250, WaterG: 30}, Boiling{0.5, 2})
	if !potBalanced(p) {
		t.Errorf("before any leak: %+v", p)
	}
	for name, leak := range map[string]func(*Pot){
		"ethanol": func(p *Pot) { p.Steam.EthanolG -= 0.002 },
		"water":   func(p *Pot) { p.Held.WaterG += 0.002 },
	} {
		q := p
		leak(&q) // two milligrams, planted
		if potBalanced(q) {
			t.Errorf("a planted leak of %s is not caught", name)
		}
	}
}

// The trade's recipe boils down to 500 ml in two hours at half a litre an hour
// (common practice, no source): 500 ml to run off, 250 g × 2 ml/g held, 1000 ml
// evaporated, and the marc brings 425 ml of 38.8 % by volume. That liquor weighs
// 404.0 g, of it 130.2 g ethanol (worked out by hand from OIML R 22: 38.8 % are
// 32.2 % by mass, 950.4 g/l), so 273.8 g of water, 274 ml: 1,726 ml go in, and
// the recipe's 1.5 l are 226 ml too little.
func TestAgainstWaterByHand(t *testing.T) {
	goods := Goods{DriedG: 250, WaterG: 30}
	b := must(Balance(trade(), goods, 1.7))
	p := PotOf(b, trade(), goods, Boiling{0.5, 2})
	if got := p.Water.VolumeML(); !near(got, 1726, 2) {
		t.Errorf("%.1f ml of water, want about 1726", got)
	}
	if got := p.Steam.EthanolG; !near(got, 130.2, 0.5) {
		t.Errorf("%.1f g of ethanol go into the air, want about 130", got)
	}
	r := trade()
	r.SimmerHours = 0 // how long do the 1.5 l take?
	if got := PotOf(b, r, goods, Boiling{0.5, 2}).Hours; !near(got, 1.55, 0.01) {
		t.Errorf("%.2f hours, want (1500 + 274 − 500 − 500) / 500", got)
	}
	// A marc of 2 ml per g, soaked 1 g to 3 to 3.5 g (a trade table of shiitake):
	// the decoction alone takes that up from the pot.
	r.Method, r.SpiritMLJar, r.SimmerHours = DecoctionOnly, 0, 2
	if got := PotOf(must(Balance(r, goods, 1.7)), r, goods, Boiling{0.5, 2}).Water.VolumeML(); !near(got, 500+500+1000-30, 1) {
		t.Errorf("decoction only: %.1f ml, want 1970", got)
	}
}

// What is said of water: too little with how much more, enough, none given.
func TestWaterNotes(t *testing.T) {
	stock := newLarder(1)
	for _, in := range trade().Ingredients {
		stock.hold(in.Species, 1000)
	}
	said := func(change func(*yard.Recipe)) string {
		r := trade()
		change(&r)
		terms := termsOf(2)
		terms.Kitchen.BoilMLH = 500
		return strings.Join(must(Schedule(stock, wishesFor(r), everyDay{}, terms, learning())).Batches[0].Notes, "\n")
	}
	for want, change := range map[string]func(*yard.Recipe){
		"1500 ml of water are too little: put in about 226 ml more, 1726 in all": func(*yard.Recipe) {},
		"3000 ml take about 4.5 hours to boil down to 500 ml":                    func(r *yard.Recipe) { r.WaterML = 3000 },
		"Put about 1726 ml of water into the pot":                                func(r *yard.Recipe) { r.WaterML = 0 },
		"1500 ml take about 1.5 hours":                                           func(r *yard.Recipe) { r.SimmerHours = 0 },
		"600 ml of water cannot leave 500 ml: put in about 126 ml more":          func(r *yard.Recipe) { r.WaterML, r.SimmerHours = 600, 0 },
		"put in about 726 ml of water, and what boils away":                      func(r *yard.Recipe) { r.WaterML, r.SimmerHours = 0, 0 },
	} {
		if got := said(change); !strings.Contains(got, want) {
			t.Errorf("missing %q in\n%s", want, got)
		}
	}
	if got := said(func(r *yard.Recipe) { r.WaterML = 1720 }); strings.Contains(got, "too little") || strings.Contains(got, "boil down to 500") {
		t.Errorf("1720 ml are right: %s", got)
	}
}

// A litre jar takes half a litre of spirit and 125 g, and no more than 900 ml
// in all.
func TestRoomInTheJar(t *testing.T) {
	r, set := trade(), testSet()
	goods := Goods{DriedG: 250, WaterG: 30}
	if got := room(r, goods, 1000, set); got != "" {
		t.Errorf("a litre jar: %s", got)
	}
	if got := room(r, goods, 650, set); !strings.Contains(got, "about 615 ml a jar and do not fit jars of 650 ml") {
		t.Errorf("650 ml: %q", got)
	}
	if got := room(r, goods, 0, set); got != "" {
		t.Errorf("unknown jars: %s", got)
	}
}

// Of a recorded batch: 605 ml of about 605 strained, 480 of 500 ml decocted, and
// nine bottles of the 960 ml that 480 ml of each make.
func TestYields(t *testing.T) {
	set := testSet()
	put := boiled(strainedBatch("S", all(605)), 1500, 480, 2)
	put.Bottles = []yard.BottleCount{{SizeML: 100, Count: 9}}
	goods, _ := GoodsOf(Needs(trade()), set)
	held, ok := Held(put, MarcDecocted, set)
	ys := YieldsOf(put, trade(), goods, 1.7, held, ok)
	if len(ys) != 3 {
		t.Fatalf("%+v", ys)
	}
	for i, want := range []struct {
		step            string
		percent, within float64
	}{{"strained", 100, 0.2}, {"decocted", 96, 1e-9}, {"bottled", 93.75, 0.1}} {
		if ys[i].Step != want.step || !near(ys[i].Percent(), want.percent, want.within) {
			t.Errorf("%+v: %.2f %%, want %s %g %%", ys[i], ys[i].Percent(), want.step, want.percent)
		}
	}
	half := strainedBatch("S", yard.Straining{Jars: 1, ML: 280})
	if ys := YieldsOf(half, trade(), goods, 1.7, 0, false); len(ys) != 1 || !near(ys[0].Percent(), 100*280/302.7, 0.2) {
		t.Errorf("one of two jars: %+v", ys)
	}
	if ys := YieldsOf(strainedBatch("N"), trade(), goods, 1.7, 0, false); len(ys) != 0 {
		t.Errorf("nothing was measured: %+v", ys)
	}
	terms := termsOf(3)
	terms.Recipes, terms.Record = []yard.Recipe{trade()}, []*yard.Batch{put}
	if made := must(Schedule(newLarder(1), nil, everyDay{}, terms, set)).Made; len(made) != 1 || made[0].Lot != "S" || len(made[0].Yields) != 3 {
		t.Errorf("%+v", made)
	}
}

// What the goods soak up does not count as boiled away.
func TestBoiledWithoutSoaking(t *testing.T) {
	set, recipes := learning(), []yard.Recipe{trade()}
	goods, _ := GoodsOf(Needs(trade()), set)
	b := batchHolding(t, "A", 1.7)
	p := PotOf(must(Balance(trade(), goods, 1.7)), trade(), goods, Boiling{0.6, set.Practice.MarcWater["hand"].Typical})
	boiled(b, p.Water.VolumeML(), 500, 2)
	if got, ok := Boiled(b, soakedUp(b, "", recipes, set)); !ok || !near(got, 0.6, 1e-4) {
		t.Errorf("%.4f l/h, the pot was made with 0.6", got)
	}
	b.Ingredients = nil
	if got := soakedUp(b, "", recipes, set); got != 0 {
		t.Errorf("nobody knows the goods: %g ml", got)
	}
}
