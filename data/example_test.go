package data_test

import (
	"fmt"

	"hodaba/data"
)

// Take what is known of a mushroom, and say how well it is founded.
func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	species, _ := set.FindSpecies("lion’s mane")
	strain, _ := species.FindStrain("")
	fmt.Println(species.Name, "grows fastest at", strain.Growth.TOpt.Value, "°C")
	fmt.Println(strain.Growth.TOpt.Source)
	fmt.Println("keeps", species.Keeps.Value, "days:", species.Keeps.Quality.Says())

	if _, ok := set.FindSpecies("shitaki"); !ok {
		near, _ := data.Nearest("shitaki", set.SpeciesNames())
		fmt.Println("did you mean", near+"?")
	}
	// Output:
	// lion's mane grows fastest at 26 °C
	// Grigansky, Solomko and Kirchhoff 1999, International Journal of Medicinal Mushrooms 1(1):81-87, abstract
	// keeps 7 days: our judgement, no published source
	// did you mean shiitake?
}
