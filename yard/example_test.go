package yard_test

import (
	"fmt"
	"log"
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// A yard is begun, two things happen in it, and its state is asked for. One
// of them is recorded with a slip of the pen and corrected.
func Example() {
	set, err := data.Load()
	if err != nil {
		log.Fatal(err)
	}
	files := yard.InMemory(nil)
	nan := math.NaN()
	err = yard.CreateIn(files, yard.Answers{Name: "Fernbrook", Station: "oxford", Latitude: nan, Longitude: nan, Elevation: nan, Shade: 80})
	if err != nil {
		log.Fatal(err)
	}
	today := yard.NewDate(2026, 5, 1)
	folder, _, err := yard.OpenFiles(files, set, today)
	if err != nil {
		log.Fatal(err)
	}
	record := func(kind string, values map[string]string) {
		text, problems := yard.Compose(kind, values, folder.Terms())
		for _, p := range problems {
			fmt.Println(p)
		}
		if text == "" {
			return
		}
		if _, _, err := folder.Record(text, "kitchen", "2026-05-01T18:02:00"); err != nil {
			log.Fatal(err)
		}
	}
	record("inoculated", map[string]string{"on": "2024-04", "pile": "oak-north", "code": "AN2", "species": "shiitake", "logs": "40", "diameter": "10-15 cm"})
	record("harvested", map[string]string{"on": "2025-10-05", "pile": "an2", "fresh": "2.4"})
	record("harvested", map[string]string{"on": "2025-10-05", "pile": "an2", "fresh": "24 kg"})
	record("corrected", map[string]string{"replaces": "kitchen-2", "kind": "harvested", "on": "2025-10-05", "pile": "an2", "fresh": "2.4 kg"})

	state, problems := folder.State(today, 0)
	for _, p := range problems {
		fmt.Println(p)
	}
	pile := state.Pile("oak-north")
	fmt.Printf("%s, %s, %d logs since %s\n", pile.Name, pile.Species, pile.Logs, pile.Since)
	for _, pick := range pile.Picks {
		fmt.Printf("%s: %.1f kg\n", pick.On, pick.Fresh.Mid())
	}
	entries, _ := folder.Entries()
	for _, e := range entries {
		fmt.Println(e.ID, e.Says())
	}
	// Output:
	// fresh: "2.4" has no unit: write "2.4 kg"
	// oak-north, shiitake, 40 logs since 2024-04
	// 2025-10-05: 2.4 kg
	// kitchen-1 inoculated oak-north: species shiitake, logs 40, diameter 10-15 cm, code AN2
	// kitchen-2 harvested an2: fresh 24 kg
	// kitchen-3 corrected kitchen-2: harvested an2: fresh 2.4 kg
}

func ExampleParseQuantity() {
	for _, s := range []string{"3 lb 2 oz", "10-15 cm", "about 2 kg"} {
		unit := yard.Kilogram
		if s == "10-15 cm" {
			unit = yard.Centimetre
		}
		q, err := yard.ParseQuantity(s, unit, nil)
		if err != nil {
			log.Fatal(err)
		}
		fmt.Printf("%.3f to %.3f %s\n", q.Low, q.High, q.Unit)
	}
	_, err := yard.ParseQuantity("8 oz", yard.Millilitre, nil)
	fmt.Println(err)
	// Output:
	// 1.417 to 1.417 kg
	// 10.000 to 15.000 cm
	// 2.000 to 2.000 kg
	// "8 oz" is a weight, and a volume is wanted: write "8 floz" for fluid ounces, or the millilitres
}
