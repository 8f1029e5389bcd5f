package tincture_test

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast/harvest"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// winter is a recipe of one jar.
var winter = yard.Recipe{
	Name: "Winter jar", Jars: 1, SpiritMLJar: 500, SpiritABV: 50,
	MacerateMin: 21, MacerateMax: 35, ShakeDays: 14,
	Method: tincture.MarcDecocted, WaterML: 1200, DecoctToML: 400,
	SpiritPart: 1, WaterPart: 1, BottleML: 100,
	Ingredients: []yard.Ingredient{{Species: "reishi", Form: "pieces", GramsJar: 100}},
}

// reference is the part of the reference values that a calendar needs.
func reference() *data.Set {
	var set data.Set
	set.Species = []data.Species{{Name: "reishi", Dried: data.Number{Value: 0.12}}}
	set.Practice.Marc = map[string]data.Range{"hand": {Low: 1.56, Typical: 1.7, High: 1.83}}
	set.Practice.Keeping.Spoils.Value, set.Practice.Keeping.Usual.Value = 18, 25
	return &set
}

// A calendar of two batches: 100 g of reishi are on hand, and 100 g more come
// in on a day that ten draws see differently.
func Example() {
	today := yard.NewDate(2026, 6, 1)
	stock := harvest.NewStock(10)
	stock.Hold("reishi", harvest.Pieces, 100)
	for draw := range 10 {
		stock.Add("reishi", draw, today+yard.Date(40+7*draw), 100)
	}
	stock.Close()

	days, err := tincture.NewWorkdays(yard.Working{Country: "gb"})
	if err != nil {
		fmt.Println(err)
		return
	}
	terms := tincture.Terms{
		AsOf: today, Until: today + 730, Confidence: 0.8, Seed: 1,
		Kitchen: yard.Kitchen{Jars: 2, Press: "hand", Batches: 2},
	}
	wishes := tincture.Wishes([]yard.Recipe{winter}, terms.Kitchen, terms.AsOf, terms.Until)
	plan, err := tincture.Schedule(stock, wishes, days, terms, reference())
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range plan.Batches {
		fmt.Printf("%s start %v (%.0f times in 10), shake until %v, strain and blend %v, bottle %v\n",
			b.Lot, b.Start, 10*b.StartChance, b.ShakeUntil, b.Strain, b.Bottled)
	}
	fmt.Printf("all of it holds %.0f times in 10; a batch fills %.0f bottles of %.1f %% by volume\n",
		10*plan.Holds, plan.Batches[0].Bottles.P50, plan.Batches[0].ABV.P50)
	// Output:
	// WJ-26-01 start 2026-06-01 (10 times in 10), shake until 2026-06-15, strain and blend 2026-06-22, bottle 2026-06-23
	// WJ-26-02 start 2026-09-01 (8 times in 10), shake until 2026-09-15, strain and blend 2026-09-22, bottle 2026-09-23
	// all of it holds 8 times in 10; a batch fills 6 bottles of 24.5 % by volume
}

// Spirit of 40 % blended 1:1 ends below 20 % by volume: the water in 100 g of
// dried goods counts, and half a litre never comes out of the jar whole.
func ExampleBalance() {
	weak := winter
	weak.SpiritABV = 40
	goods, _ := tincture.GoodsOf(tincture.Needs(weak), reference())
	b, err := tincture.Balance(weak, goods, 1.7)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ml in the jar at %.1f %%, %.0f ml strained, blended %.0f ml at %.1f %%\n",
		b.Jar.VolumeML(), b.Jar.ABV(), b.Strained.VolumeML(), b.Blended.VolumeML(), b.Blended.ABV())
	parts, _ := b.PartsFor(25)
	fmt.Printf("for 25 %%: %.2f parts of decoction to 1 of tincture\n", parts)
	// Output:
	// 512 ml in the jar at 39.1 %, 342 ml strained, blended 684 ml at 19.5 %
	// for 25 %: 0.56 parts of decoction to 1 of tincture
}

// England and Wales keep Boxing Day 2026, a Saturday, on the Monday after.
func ExampleNewWorkdays() {
	days, err := tincture.NewWorkdays(yard.Working{Country: "gb"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(days.Next(yard.NewDate(2026, 12, 25)))
	_, err = tincture.NewWorkdays(yard.Working{Country: "atlantis"})
	fmt.Println(err != nil)
	// Output:
	// 2026-12-29
	// true
}
