package tincture

import (
	"errors"
	"fmt"
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
	by = fillFor(bottles, r.BottleSizes()) / b.Blended.VolumeML()
	return Scaled(r, by), by, true
}

// ForStock scales a recipe to what is on hand, grams by species that can be had
// in a form, fresh ones as they are: the most that can be made of it. short names the ingredient that sets the limit. Optional
// ingredients set none; alternatives are taken where they go further. ok is
// false where nothing can be made.
func ForStock(r yard.Recipe, onHand func(species, form string) float64) (scaled yard.Recipe, by float64, short string, ok bool) {
	if unfit(r) != "" {
		return r, 0, "", false
	}
	var must []Need
	for _, n := range Needs(r) {
		if !n.Optional {
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
func meets(needs []Need, by float64, onHand func(species, form string) float64, taken map[sort]float64) int {
	if taken == nil {
		taken = map[sort]float64{}
	}
	return meetsFrom(0, needs, by, onHand, taken)
}

func meetsFrom(i int, needs []Need, by float64, onHand func(species, form string) float64, taken map[sort]float64) int {
	if i == len(needs) {
		return -1
	}
	worst := i
	for _, s := range append([]string{needs[i].Species}, needs[i].Or...) {
		g, of := needs[i].Grams*by, sort{s, levelOf(needs[i].Form)}
		if !of.has(g, onHand, taken) {
			continue
		}
		taken[of] += g
		at := meetsFrom(i+1, needs, by, onHand, taken)
		taken[of] -= g
		if at < 0 {
			return -1
		}
		worst = max(worst, at)
	}
	return worst
}

// sort is the goods of a species at a level.
type sort struct {
	species string
	level   level
}

// has reports whether grams more can be had from what is on hand: powder of
// pieces that are left, pieces never of powder, fresh ones of neither.
func (s sort) has(g float64, onHand func(species, form string) float64, taken map[sort]float64) bool {
	own := taken[s] + g
	if s.level == fromPickings {
		return own <= onHand(s.species, fresh)
	}
	all := g + taken[sort{s.species, asPieces}] + taken[sort{s.species, asPowder}]
	return all <= onHand(s.species, powder) && (s.level == asPowder || own <= onHand(s.species, pieces))
}

// Size is a recipe for other amounts, with what comes out.
type Size struct {
	Recipe yard.Recipe
	By     float64 // times the recipe as it is written
	Short  string  // scaled to the stock: the ingredient that sets the limit
	Batch  Batch   // without any date
}

// SizeOf scales a recipe to a number of bottles, or with 0 to what is on hand.
// Of the terms it takes the kitchen, and the record from which its figures are
// learned. A recipe that cannot be made, or of which nothing is on hand, is an
// error.
func SizeOf(r yard.Recipe, bottles int, onHand func(species, form string) float64, terms Terms, set *data.Set) (*Size, error) {
	if why := unfit(r); why != "" {
		return nil, errors.New(why)
	}
	marc, err := Retention(terms.Kitchen.Press, set)
	if err != nil {
		return nil, err
	}
	s := &scheduler{planner: &planner{terms: terms}, plan: &Plan{}, set: set, guessed: map[string]bool{}}
	s.plan.Marc = LearnMarc(marc, terms.Record, terms.Recipes, set)
	s.plan.Boil = LearnBoil(terms.Kitchen.BoilMLH, terms.Kitchen.Press, terms.Record, terms.Recipes, set)
	s.marc = s.plan.Marc.Next
	z := &Size{}
	ok := false
	if bottles > 0 {
		z.Recipe, z.By, ok = ForBottles(r, bottles, s.marc, set)
	} else if z.Recipe, z.By, z.Short, ok = ForStock(r, onHand); !ok {
		return nil, fmt.Errorf("there is no %s on hand", z.Short)
	}
	if !ok {
		return nil, errors.New("it fills no bottle")
	}
	z.Batch = Batch{Recipe: r.Name, BottleML: r.BottleML, JarCount: paceOf(z.Recipe).jars,
		SpiritML: z.Recipe.SpiritMLJar * float64(z.Recipe.Jars), SpiritABV: r.SpiritABV, Needs: Needs(z.Recipe)}
	for i, n := range z.Batch.Needs {
		z.Batch.Needs[i].OnHand = onHand(n.Species, n.Form)
	}
	return z, s.describe(&z.Batch, z.Recipe, z.Batch.Needs, s.marc, false)
}
