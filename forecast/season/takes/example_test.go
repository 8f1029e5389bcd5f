package takes_test

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// Forty logs of white oak in April.
func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	in := &set.Inoculating
	oxford, _ := set.FindStation("oxford")
	var site takes.Site
	for m := range 12 {
		site.Mean[m] = (oxford.TMin[m] + oxford.TMax[m]) / 2
	}
	oak, _ := set.FindWood("white oak")
	plan := []takes.Line{{
		Pile: "oak-north", Species: "shiitake", Strain: "wide-range", Wood: oak, DiameterCM: 12, LengthCM: 100,
		Spawn: "plug", Logs: 40, Month: yard.NewDate(2027, 4, 1),
	}}
	nan := math.NaN() // the grower said nothing of costs
	costs := yard.Costs{Log: nan, SpawnKG: nan, Plug: nan, WaxKG: nan, Hour: nan}
	t := takes.Of(plan, site, yard.HolePattern{}, costs, in)

	l := t.Lines[0]
	fmt.Printf("%d holes a log, %.1f kg to carry, %.1f hours in all\n", l.PerLog.Holes, l.LiftKG, l.All.Hours.Start())
	fmt.Println("fell from", l.Work.FellFrom, "to", l.Work.FellTo)
	for _, x := range t.Shopping {
		fmt.Printf("%s: %.4g %s %v, order by %s\n", x.Item, x.Amount, x.Unit, x.Packs, x.OrderBy)
	}
	// Output:
	// 30 holes a log, 11.5 kg to carry, 18.3 hours in all
	// fell from 2027-02-18 to 2027-03-15
	// shiitake spawn, wide-range, plugs: 1296 plugs [{1000 1} {100 3}], order by 2027-03-04
	// wax: 0.684 kg [], order by 2027-03-18
	// drill bit, 8 mm, stop at 30 mm: 1 pieces [], order by 2027-03-18
	// tags: 2 pieces [], order by 2027-03-18
}
