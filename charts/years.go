package charts

import (
	"maps"
	"slices"

	"hodaba/yard"
)

// sortedYears are the years of a sum by year, oldest first.
func sortedYears(by map[int]float64) []int { return slices.Sorted(maps.Keys(by)) }

// sortedDays are the days of a sum by day, oldest first.
func sortedDays(by map[yard.Date]float64) []yard.Date { return slices.Sorted(maps.Keys(by)) }

func inYears(list []yearAmount, year int) bool {
	return slices.ContainsFunc(list, func(y yearAmount) bool { return y.year == year })
}
