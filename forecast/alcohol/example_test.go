package alcohol_test

import (
	"fmt"

	"hodaba/forecast/alcohol"
)

// Half a litre of spirit and half a litre of water.
func Example() {
	spirit, err := alcohol.Spirit(500, 96)
	if err != nil {
		fmt.Println(err)
		return
	}
	water := alcohol.Water(500)
	made := alcohol.Blend(spirit, water)
	fmt.Printf("%.0f ml at %.1f %%, %.0f ml less than the sum\n",
		made.VolumeML(), made.ABV(), alcohol.Contraction(spirit, water))
	// Output: 970 ml at 49.5 %, 30 ml less than the sum
}

// How much water brings 100 ml of 40 % down to 25 %.
func ExampleDilute() {
	spirit, _ := alcohol.Spirit(100, 40)
	water, err := alcohol.Dilute(spirit, 25)
	fmt.Printf("%.1f g, %v\n", water, err)
	_, err = alcohol.Dilute(spirit, 50)
	fmt.Println(err)
	// Output:
	// 60.1 g, <nil>
	// water does not make 40.00 % by volume into 50 %: use stronger spirit
}
