package tincture

import (
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// Scaled is a recipe times a factor: goods, spirit and water; the jars are as
// many as it takes without putting more into one than the recipe does, and the
// hours of simmering stay. A factor of zero or less gives the recipe itself.
func Scaled(r yard.Recipe, by float64) yard.Recipe {
	if !(by > 0) || math.IsInf(by, 0) || r.Jars < 1 {
		return r
	}
	jars := max(int(math.Ceil(float64(r.Jars)*by-1e-9)), 1)
	each := by * float64(r.Jars) / float64(jars)
	r.SpiritMLJar *= each
	r.WaterML, r.DecoctToML = r.WaterML*by, r.DecoctToML*by
	in := make([]yard.Ingredient, len(r.Ingredients))
	for i, x := range r.Ingredients {
		x.GramsJar *= each
		in[i] = x
	}
	r.Jars, r.Ingredients = jars, in
	return r
}

// surely is the share of what the marc may hold at which a recipe is scaled:
// the bottles are to come out even where it holds much.
const surely = 0.99

// ForBottles scales a recipe to a number of bottles, which it fills even where
// the marc holds more than it mostly does. ok is false where the recipe cannot
// be made.
func ForBottles(r yard.Recipe, bottles int, marc data.Range, set *data.Set) (scaled yard.Recipe, by float64, ok bool) {
	goods, _ := GoodsOf(Needs(r), set)
	b, err := Balance(r, goods, spread(marc, surely))
	if err != nil || b.Blended.VolumeML() <= 0 || bottles < 1 {
		return r, 0, false
	}
	// The liquids grow with the recipe, so one batch tells of all sizes.
	by = (float64(bottles) - scant + 1e-9) * r.BottleML / b.Blended.VolumeML()
	return Scaled(r, by), by, true
}

// ForStock scales a recipe to what is on hand, grams by species: the most that
// can be made of it. short names the ingredient that sets the limit. Optional
// ingredients set none; alternatives are taken where they go further. ok is
// false where nothing can be made.
func ForStock(r yard.Recipe, onHand func(species string) float64, set *data.Set) (scaled yard.Recipe, by float64, short string, ok bool) {
	if unfit(r) != "" {
		return r, 0, "", false
	}
	var must []Need
	for _, n := range Needs(r) {
		if !n.Optional {
			m, _ := moisture(n.Species, set)
			n.Grams = driedGrams(n, m)
			must = append(must, n)
		}
	}
	low, high := 0.0, 1.0
	for meets(must, high, onHand, nil) < 0 && high < 1e6 {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; meets(must, mid, onHand, nil) < 0 {
			low = mid
		} else {
			high = mid
		}
	}
	if i := meets(must, high, onHand, nil); i >= 0 {
		short = must[i].Species
	}
	if low < 1e-6 {
		return r, 0, short, false
	}
	return Scaled(r, low), low, short, true
}

// meets is −1 where the needs times a factor can be met from what is on hand,
// none being taken twice; else the first that cannot.
func meets(needs []Need, by float64, onHand func(string) float64, taken map[string]float64) int {
	if taken == nil {
		taken = map[string]float64{}
	}
	return meetsFrom(0, needs, by, onHand, taken)
}

func meetsFrom(i int, needs []Need, by float64, onHand func(string) float64, taken map[string]float64) int {
	if i == len(needs) {
		return -1
	}
	worst := i
	for _, s := range append([]string{needs[i].Species}, needs[i].Or...) {
		g := needs[i].Grams * by
		if taken[s]+g > onHand(s) {
			continue
		}
		taken[s] += g
		at := meetsFrom(i+1, needs, by, onHand, taken)
		taken[s] -= g
		if at < 0 {
			return -1
		}
		worst = max(worst, at)
	}
	return worst
}
