package fruit_test

import (
	"fmt"
	"math/rand/v2"

	"hodaba/data"
	"hodaba/forecast/fruit"
)

func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	shiitake, _ := set.FindSpecies("shiitake")
	// One soak, on day 100, picked on day 109; of two classes of logs the
	// second is not through yet.
	soaks := fruit.Soaks{Triggers: []fruit.Trigger{{Start: 100, Pick: 109, Forced: true, Soak: 1}}, Again: 28}
	ready := []int32{60, fruit.Never}
	n := 0
	for seed := range uint64(100) {
		soaks.Answers = func(soak int32) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(soak))) }
		for _, f := range fruit.Walk(nil, &shiitake.Strains[0].Fruit, nil, ready, rand.New(rand.NewPCG(seed, 0)), &soaks) {
			if f.Cohort != 0 || f.Day != 109 {
				fmt.Println("picked from logs that are not through")
			}
			n++
		}
	}
	fmt.Println("answers more than a third of the time:", n > 33)
	// Output:
	// answers more than a third of the time: true
}
