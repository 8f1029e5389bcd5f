package tincture

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Learned is a figure of the kitchen, as far as own batches have taught it.
type Learned struct {
	Batches int        // own batches that it was learned from; 0: it is as it was before any
	Usual   data.Range // what the kitchen comes to over many batches
	Next    data.Range // what the next batch may come to: Usual, and the scatter of one batch about it
}

// LearnMarc is the liquor that the marc holds, ml per g of dried goods, after
// own batches.
//
// Purpose: the published range is of a dry herb in one press; what the own
// goods hold in the own hands shows from the first batch on.
//
// Equation: by its logarithm, the prior has the mean and variance of the
// published tenth, half and nine tenths ([chance.Matched]); each batch is one
// normal value of known standard deviation about it ([chance.Normal.Update]);
// the tenth, half and nine tenths of that are raised again. See [Held] for the
// figure of one batch.
//
// Parameters: prior, ml per g, of data.Practice.Marc; scatter between batches,
// sd of the logarithm (data.Practice.MarcScatter, our judgement).
//
// State: none. Inputs from others: the batches in the journal, the recipes.
//
// Taken for granted: all batches were pressed in the way that [kitchen] says
// today, and differ from each other by the scatter alone, whatever went in.
// Where no batch shows anything, Usual and Next are the prior itself.
func LearnMarc(prior data.Range, batches []*yard.Batch, recipes []yard.Recipe, set *data.Set) Learned {
	var seen []float64
	for _, b := range batches {
		if v, ok := Held(b, methodOf(b, recipes), set); ok && !tookFresh(b, recipes) {
			seen = append(seen, v)
		}
	}
	return learn(prior, believed(prior), seen, set.Practice.MarcScatter.Value)
}

// LearnBoil is the water that boils away, litres per hour, after own batches.
//
// Purpose: how long a pot takes, in the own kitchen.
//
// Equation: as in [LearnMarc]; without own batches the middle is what [kitchen]
// boils_down says, with a spread of the logarithm that we judge, and where it
// says nothing a range that we judge. See [Boiled] for the figure of one batch.
//
// Parameters: own, ml per hour, 0 not said; data.Practice.BoilOwnSpread, Boils
// and BoilScatter, all our judgement.
//
// State: none. Inputs from others: the batches in the journal, the recipes,
// the way of pressing.
//
// Taken for granted: the marc of each batch brought and held what the kitchen's
// usually does, where it was not measured.
func LearnBoil(own float64, press string, batches []*yard.Batch, recipes []yard.Recipe, set *data.Set) Learned {
	p := &set.Practice
	prior, about := p.Boils, believed(p.Boils)
	if own > 0 {
		about = chance.Normal{Mean: math.Log(own / mlPerLitre), SD: p.BoilOwnSpread.Value}
		prior = raised(about)
		prior.Basis, prior.Quality, prior.Source = "boils_down of [kitchen]", p.BoilOwnSpread.Quality, p.BoilOwnSpread.Source
	}
	var seen []float64
	for _, b := range batches {
		if v, ok := Boiled(b, soakedUp(b, press, recipes, set)); ok {
			seen = append(seen, v)
		}
	}
	return learn(prior, about, seen, p.BoilScatter.Value)
}

const mlPerLitre = 1000

// learn is a range after values that scatter about its logarithm.
func learn(prior data.Range, about chance.Normal, seen []float64, scatter float64) Learned {
	if len(seen) == 0 || !(scatter > 0) || !(prior.Low > 0) {
		return Learned{Usual: prior, Next: prior}
	}
	for _, v := range seen {
		about = about.Update(math.Log(v), 1, scatter)
	}
	l := Learned{Batches: len(seen), Usual: raised(about), Next: raised(about.Next(scatter))}
	for _, r := range []*data.Range{&l.Usual, &l.Next} {
		r.Basis = fmt.Sprintf("learned from %d of your batches", l.Batches)
		r.Quality, r.Source = data.Derived, prior.Source
	}
	return l
}

// believed is a range by its logarithm.
func believed(r data.Range) chance.Normal {
	return chance.Matched(math.Log(r.Low), math.Log(r.Typical), math.Log(r.High))
}

// raised is a logarithm as a range.
func raised(b chance.Normal) data.Range {
	low, half, high := b.Tenths()
	return data.Range{Low: math.Exp(low), Typical: math.Exp(half), High: math.Exp(high)}
}

// Held is what the marc of a batch held, ml of liquor per g of dried goods; ok
// is false where the record does not show it.
//
// Purpose: one observation for [LearnMarc], and the liquids of a batch that is
// strained already.
//
// Equation: [Balance] the other way round,
//
//	held = (jar − strained) / dried goods
//
// with jar the volume of the spirit and of the water in the goods; or, where
// the marc was weighed and not the tincture measured,
//
//	held = (wet marc − dry matter of the goods) / density of the jar / dried goods
//
// Of jars that were strained alone, spirit and goods count by their share; of
// a recipe that is split, half of the goods.
//
// Parameters: water in the goods (data.Species.Dried); density (package
// alcohol).
//
// State: none. Inputs from others: the batch as recorded.
//
// Taken for granted: jars were filled alike; what the goods give off weighs
// nothing.
func Held(b *yard.Batch, method string, set *data.Set) (mlPerG float64, ok bool) {
	if method == DecoctionOnly {
		return 0, false
	}
	goods := goodsOfBatch(b, set)
	if method == Split {
		goods.DriedG, goods.WaterG = goods.DriedG/2, goods.WaterG/2
	}
	spirit, err := alcohol.Spirit(b.SpiritML, b.SpiritABV)
	if err != nil || b.SpiritML <= 0 || goods.DriedG <= 0 {
		return 0, false
	}
	jar := spirit.Plus(alcohol.Liquid{WaterG: goods.WaterG})
	if ml, share, ok := together(b, func(x yard.Straining) float64 { return x.ML }); ok {
		mlPerG = (jar.VolumeML() - ml/share) / goods.DriedG
	} else if g, share, ok := together(b, func(x yard.Straining) float64 { return x.MarcG }); ok {
		density := jar.MassG() / jar.VolumeML()
		mlPerG = (g/share - (goods.DriedG - goods.WaterG)) / density / goods.DriedG
	}
	return mlPerG, mlPerG > 0 && mlPerG*goods.DriedG < jar.VolumeML()
}

// together adds up what was measured at each straining of a batch, and says of
// what share of its jars that is; ok is false where nothing was measured, or
// not everything and nobody knows of how many jars.
func together(b *yard.Batch, of func(yard.Straining) float64) (amount, share float64, ok bool) {
	jars, everyJar, everyTime := 0, true, true
	for _, x := range b.Strainings {
		if of(x) <= 0 {
			everyTime = false
			continue
		}
		amount += of(x)
		jars += x.Jars
		everyJar = everyJar && x.Jars > 0
	}
	switch {
	case amount == 0:
		return 0, 0, false
	case everyJar && jars <= b.Jars:
		return amount, float64(jars) / float64(b.Jars), true
	}
	return amount, 1, everyTime
}

// Boiled is the water that boiled away in the pots of a batch, litres per
// hour; ok is false where the record does not show it. soaked is what the goods
// took up from all its pots, ml, see [PotOf].
//
// Purpose: one observation for [LearnBoil].
//
// Equation: (water − soaked − decoction) / hours, over all its pots of which
// the three were recorded.
//
// Parameters, state: none. Inputs from others: the batch as recorded.
//
// Taken for granted: the hours are those of simmering, without heating up; each
// of several pots soaks up the same.
func Boiled(b *yard.Batch, soaked float64) (litresPerHour float64, ok bool) {
	gone, hours := 0.0, 0.0
	for _, x := range b.Decoctions {
		if x.WaterML > 0 && x.ML > 0 && x.Hours > 0 {
			gone += (x.WaterML - soaked/float64(len(b.Decoctions)) - x.ML) / mlPerLitre
			hours += x.Hours
		}
	}
	if hours <= 0 || gone <= 0 {
		return 0, false
	}
	return gone / hours, true
}

// soakedUp is the water that the goods of a batch took up from its pots, ml:
// what the marc held after pressing, less what it brought; 0 where the recipe
// or the goods are not known.
func soakedUp(b *yard.Batch, press string, recipes []yard.Recipe, set *data.Set) float64 {
	r := recipeOf(b, recipes)
	if press == "" {
		press = "hand"
	}
	if r == nil || unfit(*r) != "" || len(b.Ingredients) == 0 {
		return 0
	}
	goods := goodsOfBatch(b, set)
	marc, ok := Held(b, r.Method, set)
	if !ok {
		marc = set.Practice.Marc[press].Typical
	}
	l, err := Balance(asPutUp(*r, b), goods, marc)
	if err != nil {
		return 0
	}
	p := PotOf(l, *r, goods, Boiling{HeldMLG: set.Practice.MarcWater[press].Typical})
	return p.Held.VolumeML() - alcohol.Liquid{WaterG: p.Brought.WaterG}.VolumeML()
}

// goodsOfBatch is what really went into a batch.
func goodsOfBatch(b *yard.Batch, set *data.Set) Goods {
	var needs []Need
	for _, in := range b.Ingredients {
		needs = append(needs, Need{Species: in.Species, Grams: in.Grams})
	}
	goods, _ := GoodsOf(needs, set)
	return goods
}

func recipeOf(b *yard.Batch, recipes []yard.Recipe) *yard.Recipe {
	for i := range recipes {
		if recipes[i].Name == b.Recipe {
			return &recipes[i]
		}
	}
	return nil
}

// methodOf is the method of a batch's recipe, "" where that is not known.
func methodOf(b *yard.Batch, recipes []yard.Recipe) string {
	if r := recipeOf(b, recipes); r != nil {
		return r.Method
	}
	return ""
}

// tookFresh reports whether fresh mushrooms went into a batch: they never stood
// on the shelf, so nobody knows how much liquid they brought or kept.
func tookFresh(b *yard.Batch, recipes []yard.Recipe) bool {
	r := recipeOf(b, recipes)
	if r == nil {
		return false
	}
	for _, in := range r.Ingredients {
		if in.Form == fresh {
			return true
		}
	}
	return false
}
