package climate_test

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

func Example() {
	set, err := data.Load()
	if err != nil {
		fmt.Println(err)
		return
	}
	site, err := climate.Resolve(yard.Site{Station: "oxford", Elevation: 163}, set)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("July at the station %.1f °C, at the yard 100 m above it %.1f °C\n",
		(site.Station.TMin[6]+site.Station.TMax[6])/2, site.MeanTemperature(6))
	today := yard.NewDate(2026, 5, 1)
	weather, err := climate.NewGenerator(site, today)
	if err != nil {
		fmt.Println(err)
		return
	}
	days := make([]climate.Day, 365)
	weather.Fill(days, nil, today, 0, 1)
	fmt.Println("a year ahead in one draw:", len(days), "days")
	// Output:
	// July at the station 18.1 °C, at the yard 100 m above it 17.5 °C
	// a year ahead in one draw: 365 days
}
