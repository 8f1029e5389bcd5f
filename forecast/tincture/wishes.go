package tincture

import (
	"fmt"
	"strings"

	"hodaba/yard"
)

// mostWishes is the most batches of a recipe that are planned ahead where the
// grower says nothing: more would be a calendar that nobody reads.
const mostWishes = 4

// Wishes lists the batches to plan: turn and turn about over the recipes in
// the grower's order, which is their priority, [kitchen] batches of each.
// Where the grower says nothing, it is as many as can stand one after another
// in a year, at most four, and in any case one.
//
// Each gets a lot of its own: the recipe's initials, the year of today and a
// number, such as HF-26-01. Lots in use already, those of batches put up
// before, are given as taken; a batch keeps its planned lot when it is put up
// under it, since the next calendar goes on after it.
func Wishes(recipes []yard.Recipe, kitchen yard.Kitchen, asOf, until yard.Date, taken ...string) []Wish {
	used := map[string]bool{}
	for _, lot := range taken {
		used[lot] = true
	}
	var wishes []Wish
	for round := 0; ; round++ {
		before := len(wishes)
		for _, r := range recipes {
			if round < batches(r, kitchen, int(until-asOf)) {
				wishes = append(wishes, Wish{Recipe: r, Lot: nextLot(r.Name, asOf.Year(), used)})
			}
		}
		if len(wishes) == before {
			return wishes
		}
	}
}

// batches is how many batches of a recipe are planned within some days.
func batches(r yard.Recipe, kitchen yard.Kitchen, days int) int {
	if kitchen.Batches > 0 {
		return kitchen.Batches
	}
	if unfit(r) != "" {
		return 1 // so that the plan can say why
	}
	standing := paceOf(r).first + 1
	return max(min(min(days, 365)/standing, mostWishes), 1)
}

// nextLot is the first lot of a recipe and year that is not in use, and marks
// it as used. It is made of A–Z, 0–9 and hyphens, and of at most 20 signs.
func nextLot(recipe string, year int, used map[string]bool) string {
	for n := 1; ; n++ {
		lot := fmt.Sprintf("%s-%02d-%02d", initials(recipe), year%100, n)
		if !used[lot] {
			used[lot] = true
			return lot
		}
	}
}

// mostInitials keeps lots short enough for a label.
const mostInitials = 5

// initials are the first letters of the words of a name; of a single word its
// first three.
func initials(name string) string {
	words := strings.FieldsFunc(strings.ToUpper(name), func(r rune) bool {
		return !(r >= 'A' && r <= 'Z' || r >= '0' && r <= '9')
	})
	switch len(words) {
	case 0:
		return "B"
	case 1:
		return words[0][:min(3, len(words[0]))]
	}
	var s strings.Builder
	for _, w := range words[:min(mostInitials, len(words))] {
		s.WriteByte(w[0])
	}
	return s.String()
}

// uniqueLots gives a lot to wishes that have none, or one that is in use.
func uniqueLots(wishes []Wish, terms Terms) []Wish {
	used := map[string]bool{}
	for _, b := range terms.Standing {
		used[b.Lot] = true
	}
	out := make([]Wish, len(wishes))
	for i, w := range wishes {
		if w.Lot == "" || used[w.Lot] {
			w.Lot = nextLot(w.Recipe.Name, terms.AsOf.Year(), used)
		}
		used[w.Lot] = true
		out[i] = w
	}
	return out
}
