package colonise_test

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/yard"
)

func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	need := data.Requirement{Mu: math.Log(150), Sigma: 0.23}
	logs := colonise.Logs{Diameter: yard.Span{Low: 12, High: 12}, Spawn: "sawdust", WoodKnown: true}
	oak := colonise.Prior(need, &set.Practice, logs, colonise.Names{Species: "shiitake", Pile: "oak-north"}, 1)
	half := math.Log(150)
	for _, grown := range []float64{110, 150, 200} {
		fmt.Printf("%.0f growing days: %.0f %% of the logs through\n", grown, 100*oak.Share(math.Log(grown), half, 0))
	}
	// Output:
	// 110 growing days: 2 % of the logs through
	// 150 growing days: 50 % of the logs through
	// 200 growing days: 98 % of the logs through
}
