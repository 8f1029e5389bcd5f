package tincture

import (
	"fmt"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// Methods of a recipe.
const (
	MarcDecocted   = "marc decocted"   // macerated in spirit, then the marc is boiled in water, and the two are blended
	Split          = "split"           // half of the goods is macerated, the other half boiled, and the two are blended
	DecoctionOnly  = "decoction only"  // boiled in water, then blended with plain spirit where the recipe has any
	MacerationOnly = "maceration only" // macerated in spirit; to a target strength with water where the recipe asks for one
)

// Forms of an ingredient; fresh has not been dried.
const (
	fresh  = "fresh"
	pieces = "pieces"
	powder = "powder"
)

// decocts reports whether the recipe needs the pot.
func decocts(r yard.Recipe) bool { return r.Method != MacerationOnly }

// macerates reports whether the recipe stands in jars.
func macerates(r yard.Recipe) bool { return r.Method != DecoctionOnly }

// Needs returns what one batch of a recipe takes, grams per jar times jars,
// in the order of the recipe. Lines of one species are added up where they
// can be: same form, same alternatives, both optional or neither.
func Needs(r yard.Recipe) []Need {
	var needs []Need
	for _, in := range r.Ingredients {
		n := Need{
			Species: in.Species, Grams: in.GramsJar * float64(r.Jars),
			Optional: in.Optional, Or: in.Or, Form: in.Form,
		}
		same := slices.IndexFunc(needs, func(o Need) bool {
			return o.Species == n.Species && o.Optional == n.Optional && o.Form == n.Form && slices.Equal(o.Or, n.Or)
		})
		if same >= 0 {
			needs[same].Grams += n.Grams
			continue
		}
		needs = append(needs, n)
	}
	return needs
}

// Goods is what the mushrooms of a batch weigh and the water they bring.
type Goods struct {
	DriedG float64 // weight as dried goods, g; of fresh ones, what they would weigh dried
	WaterG float64 // water in them as they go in, g
}

// GoodsOf sums up the ingredients of a batch, with the water of dried goods
// (data.Species.Dried) and of fresh ones (data.Species.Fresh, its typical
// value). A species that is not built in is taken to hold as much water as the
// mean of those that are, and is named in guessed.
func GoodsOf(needs []Need, set *data.Set) (g Goods, guessed []string) {
	for _, n := range needs {
		m, known := moisture(n.Species, set)
		if !known && !slices.Contains(guessed, n.Species) {
			guessed = append(guessed, n.Species)
		}
		d := driedGrams(n, m)
		g.DriedG += d
		g.WaterG += n.Grams - d*(1-m.dried)
	}
	return g, guessed
}

// water is the water in a kind of mushroom, fraction of its mass.
type water struct{ fresh, dried float64 }

// moisture returns the water in a species, or the mean over all species where
// it is not built in.
func moisture(species string, set *data.Set) (w water, known bool) {
	if sp, ok := set.FindSpecies(species); ok && sp.Dried.Value > 0 {
		return water{sp.Fresh.Typical, sp.Dried.Value}, true
	}
	dried, wet := 0, 0
	for i := range set.Species {
		if v := set.Species[i].Dried.Value; v > 0 {
			w.dried += v
			dried++
		}
		if v := set.Species[i].Fresh.Typical; v > 0 {
			w.fresh += v
			wet++
		}
	}
	return water{w.fresh / float64(max(wet, 1)), w.dried / float64(max(dried, 1))}, false
}

// driedGrams is the weight of an ingredient as dried goods:
// fresh grams × (1 − moisture fresh) / (1 − moisture dried).
func driedGrams(n Need, w water) float64 {
	if n.Form != fresh || w.fresh <= w.dried {
		return n.Grams
	}
	return n.Grams * (1 - w.fresh) / (1 - w.dried)
}

// unfit says why no batch can be made from a recipe as it is written; "" where
// one can.
func unfit(r yard.Recipe) string {
	for _, f := range []func(yard.Recipe) string{unfitGoods, unfitJars, unfitPot} {
		if why := f(r); why != "" {
			return why
		}
	}
	return ""
}

func unfitGoods(r yard.Recipe) string {
	if len(r.Ingredients) == 0 {
		return "the recipe has no ingredient: add [[recipe.ingredient]]"
	}
	if r.Jars < 1 {
		return "the recipe is for no jar: write jars = 1 or more"
	}
	if !(r.BottleML > 0) {
		return `the recipe has no bottle size: write bottle = "100 ml"`
	}
	for _, in := range r.Ingredients {
		if !(in.GramsJar > 0) {
			return fmt.Sprintf("the recipe says no amount of %s: write per_jar = \"25 g\"", in.Species)
		}
	}
	return ""
}

func unfitJars(r yard.Recipe) string {
	switch {
	case !slices.Contains([]string{MarcDecocted, Split, DecoctionOnly, MacerationOnly}, r.Method):
		return fmt.Sprintf("the recipe's method %q is none of %q, %q, %q, %q", r.Method, MarcDecocted, Split, DecoctionOnly, MacerationOnly)
	case r.ToABV < 0 || r.ToABV > 100:
		return fmt.Sprintf("the recipe's to_abv_percent = %g is outside 0 to 100", r.ToABV)
	case r.SpiritMLJar < 0 || r.SpiritPart < 0 || r.WaterPart < 0:
		return "the recipe has an amount below zero"
	case !(r.SpiritABV >= 0 && r.SpiritABV <= 100):
		return fmt.Sprintf("the recipe's spirit_abv_percent = %g is outside 0 to 100", r.SpiritABV)
	case r.SpiritMLJar > 0 && r.SpiritABV == 0:
		return "the recipe does not say how strong the spirit is: write spirit_abv_percent"
	case !macerates(r):
		return ""
	case !(r.SpiritMLJar > 0):
		return "the recipe says no spirit: write spirit_per_jar and spirit_abv_percent"
	case r.MacerateMin < 1 || r.MacerateMax < r.MacerateMin:
		return fmt.Sprintf("macerate_days = [%d, %d] is no span of days: write the shortest, then the longest", r.MacerateMin, r.MacerateMax)
	}
	return ""
}

func unfitPot(r yard.Recipe) string {
	switch {
	case r.DecoctToML < 0:
		return "the recipe has an amount below zero"
	case r.Method == DecoctionOnly && r.SpiritMLJar == 0 && r.DecoctToML == 0:
		return `the recipe does not say how much decoction is left: write decoct_to = "500 ml"`
	}
	return ""
}
