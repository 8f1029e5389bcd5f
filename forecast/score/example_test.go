package score_test

import (
	"fmt"
	"math"

	"hodaba/forecast/score"
)

// A pile was said to fruit first after some 340 to 410 days. It came after
// 380, and had it only been known that it came after 370 and by 385, what was
// said of the days between would not have counted.
func Example() {
	said := score.Ensemble([]float64{340, 365, 372, 390, 410})
	fmt.Printf("%.1f days off\n", said.CRPS(380, math.Inf(1)))
	fmt.Printf("%.1f days off, as far as is known\n", said.Between(371, 385, math.Inf(1)))
	low, high := score.Hits(20, 0.8)
	fmt.Printf("Of 20 such ranges %d to %d should hold.\n", low, high)
	// Output:
	// 7.4 days off
	// 3.6 days off, as far as is known
	// Of 20 such ranges 12 to 19 should hold.
}
