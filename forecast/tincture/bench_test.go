package tincture

import (
	"testing"

	"hodaba/forecast/chance"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// yearsOfStock is six years of pickings of five mushrooms, about ten a year.
func yearsOfStock(draws int) *harvest.Stock {
	s := harvest.NewStock(draws)
	streams := chance.NewStreams(1, "bench", "stock")
	for d := range draws {
		rng := streams.Draw(d)
		for _, in := range trade().Ingredients {
			for range 60 {
				s.Add(in.Species, d, today+yard.Date(rng.IntN(2190)), 5+20*rng.Float64())
			}
		}
	}
	s.Close()
	return s
}

// Twelve batches of three recipes over six years in 2,000 draws.
func BenchmarkSchedule(b *testing.B) {
	stock := yearsOfStock(2000)
	terms := termsOf(6)
	terms.Until = today + 2190
	other := trade()
	other.Name, other.Ingredients = "Three", other.Ingredients[:3]
	one := trade()
	one.Name, one.Ingredients = "One", one.Ingredients[1:2]
	wishes := Wishes([]yard.Recipe{trade(), other, one}, yard.Kitchen{}, terms.AsOf, terms.Until)
	days := must(NewWorkdays(yard.Working{Country: "gb"}))
	for b.Loop() {
		if _, err := Schedule(stock, wishes, days, terms, testSet()); err != nil {
			b.Fatal(err)
		}
	}
}

// Two years of five recipes, as many batches of each as Wishes plans, in 2,000
// draws, with an order to plan back.
func BenchmarkTwoYearsFiveRecipes(b *testing.B) {
	stock := yearsOfStock(2000)
	terms := termsOf(6)
	terms.Until = today + 730
	var recipes []yard.Recipe
	for i, n := range []int{5, 3, 2, 1, 4} {
		r := trade()
		r.Name = string(rune('A' + i))
		r.Ingredients = r.Ingredients[5-n:]
		recipes = append(recipes, r)
	}
	wishes := Wishes(recipes, yard.Kitchen{}, terms.AsOf, terms.Until)
	days := must(NewWorkdays(yard.Working{Country: "gb"}))
	terms.Order = &Order{Recipe: recipes[0], By: today + 500, Bottles: 24}
	b.ReportMetric(float64(len(wishes)), "batches")
	for b.Loop() {
		if _, err := Schedule(stock, wishes, days, terms, testSet()); err != nil {
			b.Fatal(err)
		}
	}
}
