package linear_test

import (
	"fmt"
	"math"

	"hodaba/forecast/season/linear"
)

// Two kinds of log for 20 kg in the year after next, in 8 years of 10. In
// four draws the weather favours one or the other; there is wood for 12 of
// the first.
func Example() {
	p := &linear.Programme{
		Cost:   []float64{3, 7},
		Most:   []float64{math.Inf(1), math.Inf(1)},
		Weight: []float64{1, 2, 1, 1},
		Limits: []linear.Limit{{Name: "thin oak", Use: []float64{1, 0}, Room: 12}},
		Targets: []linear.Target{{Name: "2028", Chance: .8, Rows: []linear.Row{{
			Name: "kg", Need: 20, Have: []float64{5, 2, 0, 3},
			Gives: [][]float32{{1.2, .8, .9, .9}, {1, 1.1, 1.4, .6}},
		}}}},
	}
	plan, err := p.Solve(linear.Options{Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(plan.X, plan.Cost, plan.Met)
	fmt.Printf("met in %.0f %% of draws, %g logs of the first left\n", 100*plan.Chances[0], plan.Slack[0])
	fmt.Printf("one more of them would save %.2f\n", plan.Shadow[0])
	// Output:
	// [12 8] 92 true
	// met in 80 % of draws, 0 logs of the first left
	// one more of them would save 2.09
}
