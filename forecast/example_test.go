package forecast_test

import (
	"context"
	"fmt"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	on := yard.NewDate(2025, 4, 15)
	state := &yard.State{
		AsOf: on.AddMonths(18),
		Config: yard.Config{
			Site:  yard.Site{Station: "oxford", Shade: 80},
			Drier: yard.Drier{Share: 1}, Confidence: 0.8,
		},
		Piles: []*yard.Pile{{
			Name: "oak-north", Kind: "pile", Species: "shiitake", Like: "shiitake", Strain: "wide-range",
			Since: yard.When{From: on, To: on}, Logs: 40, LogsKnown: true, Wood: "white oak",
			Diameter: yard.Span{Low: 12, High: 12}, Length: yard.Span{Low: 100, High: 100}, Spawn: "sawdust",
		}},
	}
	res, err := forecast.Run(context.Background(), forecast.Input{State: state, Data: set, Draws: 500, Years: 2}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	oak := res.Piles[0]
	fmt.Printf("%s: about %.0f in 10 logs are run through\n", oak.Name, 10*oak.Colonised.ShareNow)
	// Output:
	// oak-north: about 9 in 10 logs are run through
}
