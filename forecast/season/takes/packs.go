package takes

import (
	"math"
	"slices"
)

// Pack is so many packs of one size.
type Pack struct {
	Holds float64
	Count int
}

// packed covers an amount with packs of the given sizes: least in all, and then
// the fewest packs. Of each size it tries as many as go in and one more.
func packed(amount float64, sizes []float64) []Pack {
	sizes = slices.DeleteFunc(slices.Clone(sizes), func(s float64) bool { return !positive(s) })
	slices.SortFunc(sizes, func(a, b float64) int { return int(math.Copysign(1, b-a)) })
	if !positive(amount) || len(sizes) == 0 || amount/sizes[0] > mostHoles {
		return nil
	}
	return fewest(amount, sizes)
}

func fewest(amount float64, sizes []float64) []Pack {
	if amount <= hair {
		return nil
	}
	size, rest := sizes[0], sizes[1:]
	whole := int(math.Floor(amount/size + hair))
	over := []Pack{{size, whole + 1}}
	if whole > 0 && amount-float64(whole)*size <= hair*amount {
		return []Pack{{size, whole}}
	}
	if len(rest) == 0 {
		return over
	}
	under := fewest(amount-float64(whole)*size, rest)
	if whole > 0 {
		under = append([]Pack{{size, whole}}, under...)
	}
	if a, b := held(under), held(over); a < b-hair || a < b+hair && packs(under) <= packs(over) {
		return under
	}
	return over
}

func held(all []Pack) (sum float64) {
	for _, p := range all {
		sum += p.Holds * float64(p.Count)
	}
	return sum
}

func packs(all []Pack) (n int) {
	for _, p := range all {
		n += p.Count
	}
	return n
}
