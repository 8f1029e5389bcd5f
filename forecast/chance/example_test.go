package chance_test

import (
	"fmt"

	"hodaba/forecast/chance"
)

func Example() {
	first := chance.Days(0, 365)
	for _, day := range []float64{180, 190, 190, 210} {
		first.Add(day, 1)
	}
	first.Never(1) // one draw in five never comes to it
	likely, _ := first.At(0.5)
	fmt.Println("by day 200:", first.UpTo(200))
	fmt.Println("half of the draws by day", likely)
	_, ok := first.At(0.9)
	fmt.Println("nine in ten reached:", ok)
	// Output:
	// by day 200: 0.6
	// half of the draws by day 190
	// nine in ten reached: false
}
