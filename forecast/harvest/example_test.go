package harvest_test

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast/harvest"
)

func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	oak, _ := set.FindWood("white oak")
	wood := harvest.DryWood(oak, 12, 100)
	fmt.Printf("a log of white oak of 12 by 100 cm holds %.1f kg of dry wood\n", wood)
	fmt.Printf("and weighs %.1f times as much when green\n", harvest.GreenOverDry(oak))
	fmt.Printf("1 kg of mushrooms of 88 %% water dries to %.0f g\n", 1000*harvest.Dried(1, 0.88, 0.12))
	// Output:
	// a log of white oak of 12 by 100 cm holds 5.8 kg of dry wood
	// and weighs 1.7 times as much when green
	// 1 kg of mushrooms of 88 % water dries to 136 g
}
