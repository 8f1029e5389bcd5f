package growth_test

import (
	"fmt"

	"hodaba/forecast/growth"
)

func Example() {
	shiitake := growth.Cardinal{Min: 3, Opt: 24.5, Max: 33}
	fmt.Printf("a day at 24.5 °C: %.2f growing days\n", shiitake.Day(24.5, 0))
	fmt.Printf("a day of 5 to 15 °C: %.2f\n", shiitake.Day(10, 5))
	fmt.Printf("a day of frost: %.2f\n", shiitake.Day(-3, 3))
	// Output:
	// a day at 24.5 °C: 1.00 growing days
	// a day of 5 to 15 °C: 0.20
	// a day of frost: 0.00
}
