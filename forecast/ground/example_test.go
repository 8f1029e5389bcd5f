package ground_test

import (
	"fmt"

	"hodaba/forecast/ground"
)

func Example() {
	const kappa = 5e-7 // m²/s, a moist soil
	fmt.Printf("the daily wave fades to a third in %.0f cm\n", 100*ground.DampingDepth(kappa, 1))
	fmt.Printf("the yearly one in %.1f m\n", ground.DampingDepth(kappa, 365.25))
	fmt.Printf("a log three hours behind the air keeps %.0f %% of its swing\n", 100*ground.Damping(3.0/24))
	// Output:
	// the daily wave fades to a third in 12 cm
	// the yearly one in 2.2 m
	// a log three hours behind the air keeps 79 % of its swing
}
