package tincture

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Liquids is where the liquids of one batch go, by mass, from the jar to the
// blend.
//
// Purpose: how many bottles a batch makes, and of what strength.
//
// Equation: books kept in grams of ethanol and of water.
//
//	jar      = spirit + water in the goods
//	marc     = retention (ml/g) × dried weight of the goods in spirit, never more than the jar
//	strained = jar − marc
//	decoction = water, as much as the recipe boils down to, free of the marc;
//	            where it does not say, as much as the blend takes
//	blended  = strained and decoction, by the recipe's parts or to its strength
//
// Parameters: retention of liquor by the marc, ml per g of dried goods
// (data.Practice.Marc); water in the goods, fraction (data.Species.Dried,
// Fresh); density of mixtures (package alcohol).
//
// State: none. Inputs from others: the recipe, the goods.
//
// Taken for granted: what the mushrooms give off weighs nothing and takes no
// room; the marc holds the same liquid that runs off; the ethanol it carries
// into the pot boils off while the liquid boils down.
type Liquids struct {
	Spirit    alcohol.Liquid // as poured in
	Jar       alcohol.Liquid // spirit with the water of the goods
	Marc      alcohol.Liquid // held back by the marc
	Strained  alcohol.Liquid // runs off and is pressed out; for "decoction only" the plain spirit
	Decoction alcohol.Liquid
	Blended   alcohol.Liquid
	Left      alcohol.Liquid // tincture or decoction over when it is blended, see Blend
	LeftOver  string         // which: "tincture", "decoction" or ""
	ShortML   float64        // decoction wanting for the blend as the recipe has it, ml
	Weak      bool           // the strained tincture is weaker than to_abv_percent: nothing was added
}

// Balance follows the liquids of a batch. retention is in ml of liquor per
// gram of dried goods. A recipe that cannot be made is an error.
func Balance(r yard.Recipe, goods Goods, retention float64) (Liquids, error) {
	if why := unfit(r); why != "" {
		return Liquids{}, fmt.Errorf("recipe %q: %s", r.Name, why)
	}
	if !(retention >= 0) {
		return Liquids{}, fmt.Errorf("recipe %q: the marc holds %g ml per g: zero or more is needed", r.Name, retention)
	}
	spirit, err := alcohol.Spirit(r.SpiritMLJar*float64(r.Jars), r.SpiritABV)
	if err != nil {
		return Liquids{}, fmt.Errorf("recipe %q: %w", r.Name, err)
	}
	b := Liquids{Spirit: spirit, Strained: spirit}
	if macerates(r) {
		if r.Method == Split {
			goods.DriedG, goods.WaterG = goods.DriedG/2, goods.WaterG/2
		}
		b.Jar = spirit.Plus(alcohol.Liquid{WaterG: goods.WaterG})
		b.Marc, b.Strained = b.Jar.Part(retention * goods.DriedG)
	}
	if decocts(r) {
		b.Decoction = alcohol.Water(r.DecoctToML)
		if r.DecoctToML == 0 {
			b.Decoction = alcohol.Water(b.measured(r))
		}
	}
	b.blend(r)
	return b, nil
}

// measured is the decoction, ml, that the blend takes.
func (b *Liquids) measured(r yard.Recipe) float64 {
	switch {
	case r.ToABV > 0:
		parts, _ := b.PartsFor(r.ToABV)
		return parts * b.Strained.VolumeML()
	case r.SpiritPart > 0:
		return b.Strained.VolumeML() * r.WaterPart / r.SpiritPart
	}
	return 0
}

// blend makes the finished liquid.
func (b *Liquids) blend(r yard.Recipe) {
	switch {
	case r.ToABV > 0:
		b.toStrength(r)
	case r.Method == MacerationOnly:
		b.Blended = b.Strained
	case r.Method == DecoctionOnly && b.Spirit.MassG() == 0:
		b.Blended = b.Decoction
	case r.SpiritPart > 0 && r.WaterPart > 0:
		b.byParts(r.WaterPart / r.SpiritPart)
	default: // no parts written: all is poured together
		b.Blended = b.Strained.Plus(b.Decoction)
	}
}

// byParts blends ratio ml of decoction to each ml of tincture, as far as the
// scarcer of the two goes.
func (b *Liquids) byParts(ratio float64) {
	tincture, decoction := b.Strained.VolumeML(), b.Decoction.VolumeML()
	use := math.Min(tincture, decoction/ratio)
	t, restT := b.Strained.Part(use)
	d, restD := b.Decoction.Part(use * ratio)
	b.Blended = t.Plus(d)
	b.leave(restT, restD)
	b.ShortML = math.Max(tincture*ratio-decoction, 0)
}

// toStrength brings the tincture down with decoction, or with water where
// there is none to be made.
func (b *Liquids) toStrength(r yard.Recipe) {
	g, err := alcohol.Dilute(b.Strained, r.ToABV)
	if err != nil { // weaker already
		b.Weak = true
		b.Blended = b.Strained
		b.leave(alcohol.Liquid{}, b.Decoction)
		return
	}
	want := alcohol.Liquid{WaterG: g}
	if r.Method == MacerationOnly {
		b.Blended = b.Strained.Plus(want)
		return
	}
	d, rest := b.Decoction.Part(want.VolumeML())
	b.Blended = b.Strained.Plus(d)
	b.leave(alcohol.Liquid{}, rest)
	b.ShortML = math.Max(want.VolumeML()-d.VolumeML(), 0)
}

// spareML is the least amount of liquid, in ml, worth a word when it is left
// over or wanting: a good swallow, less than anybody measures in a jug.
const spareML = 20

func (b *Liquids) leave(tincture, decoction alcohol.Liquid) {
	switch {
	case tincture.VolumeML() > decoction.VolumeML():
		b.Left, b.LeftOver = tincture, "tincture"
	case decoction.VolumeML() > 0:
		b.Left, b.LeftOver = decoction, "decoction"
	}
}

// PartsFor returns the ml of decoction to each ml of the strained tincture
// that make a blend of abv % by volume; ok is false where the tincture is
// weaker already.
func (b Liquids) PartsFor(abv float64) (parts float64, ok bool) {
	g, err := alcohol.Dilute(b.Strained, abv)
	if err != nil {
		return 0, false
	}
	return alcohol.Liquid{WaterG: g}.VolumeML() / b.Strained.VolumeML(), true
}

// SpiritFor returns the strength of the spirit, % by volume, with which the
// recipe, else as it is, comes out at abv %; ok is false where no spirit does.
func SpiritFor(r yard.Recipe, goods Goods, retention, abv float64) (spirit float64, ok bool) {
	at := func(s float64) float64 {
		r.SpiritABV = s
		b, err := Balance(r, goods, retention)
		if err != nil {
			return 0
		}
		return b.Blended.ABV()
	}
	low, high := 0.0, 100.0
	if at(high) < abv {
		return 0, false
	}
	for high-low > 0.001 {
		if mid := (low + high) / 2; at(mid) < abv {
			low = mid
		} else {
			high = mid
		}
	}
	return high, true
}

// Retention is what the marc holds back, in ml per gram of dried goods: a low,
// likely and high value.
func Retention(press string, set *data.Set) (data.Range, error) {
	if press == "" {
		press = "hand"
	}
	r, ok := set.Practice.Marc[press]
	if !ok {
		return data.Range{}, fmt.Errorf("nothing is known about marc pressed by %q: write press = \"hand\" or \"press\" in [kitchen]", press)
	}
	return r, nil
}

// yields is how a batch may come out.
type yields struct {
	strained, blended, abv, bottles Amount
	ratio                           Amount    // ml of finished liquid per g of dried goods
	likely                          Liquids   // at the likely retention
	sizes                           []Sized   // bottles by size
	table                           []float64 // bottles at rising retention, see balanceDraws
}

// balanceDraws is how many times a batch is balanced to see its range.
const balanceDraws = 400

// outcome balances a batch over the range of what the marc holds back.
func outcome(r yard.Recipe, goods Goods, marc data.Range, lot string, seed uint64) (yields, error) {
	likely, err := Balance(r, goods, marc.Typical)
	if err != nil {
		return yields{}, err
	}
	rng := chance.NewStreams(seed, "marc", lot).Draw(0)
	var strained, blended, abv, bottles [balanceDraws]float64
	var fills [balanceDraws][]yard.BottleCount
	sizes := r.BottleSizes()
	for i := range balanceDraws {
		// One point in each of equal slices of the distribution, so that a
		// few hundred are enough.
		u := (float64(i) + rng.Float64()) / balanceDraws
		b, err := Balance(r, goods, spread(marc, u))
		if err != nil {
			return yields{}, err
		}
		strained[i], blended[i], abv[i] = b.Strained.VolumeML(), b.Blended.VolumeML(), b.Blended.ABV()
		fills[i] = Fill(blended[i], sizes)
		for _, c := range fills[i] {
			bottles[i] += float64(c.Count)
		}
	}
	y := yields{likely: likely, table: slices.Clone(bottles[:]), sizes: sizesOf(fills[:])}
	y.strained, y.blended = amount(strained[:]), amount(blended[:])
	y.abv, y.bottles = amount(abv[:]), amount(bottles[:])
	if goods.DriedG > 0 {
		b := y.blended
		y.ratio = Amount{b.P10 / goods.DriedG, b.P50 / goods.DriedG, b.P90 / goods.DriedG, b.Mean / goods.DriedG}
	}
	return y, nil
}

// spread is the quantile u of a range whose low, typical and high values are
// its tenth, half and nine tenths: two halves of normal distributions, joined
// at the typical value, and never below zero.
func spread(r data.Range, u float64) float64 {
	z := distuv.UnitNormal.Quantile(u) / distuv.UnitNormal.Quantile(0.9)
	side := r.High - r.Typical
	if z < 0 {
		side = r.Typical - r.Low
	}
	return math.Max(r.Typical+z*side, 0)
}

// amount sums up values; it sorts them in place.
func amount(v []float64) Amount {
	slices.Sort(v)
	at := func(p float64) float64 { return v[max(int(math.Ceil(p*float64(len(v))))-1, 0)] }
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return Amount{P10: at(0.1), P50: at(0.5), P90: at(0.9), Mean: sum / float64(len(v))}
}
