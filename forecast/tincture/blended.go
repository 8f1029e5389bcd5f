package tincture

import (
	"fmt"
	"math"
	"slices"

	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

// isBlended reports whether a batch is only to be bottled: it was blended, of its
// own liquids or of other batches, and no jar of it stands.
func isBlended(put *yard.Batch) bool {
	return !put.Blended.IsZero() && put.JarsStanding() == 0
}

// standBlended enters a batch that is blended already: by what was measured of
// it, else by what went into it.
//
// Purpose: what is known counts, not what a recipe lets expect; and a batch of
// several recipes has none.
//
// Equation: volume and strength as measured last, less what left the batch since;
// what was not measured by adding up its parts by mass ([Finished]).
//
// State: none. Inputs from others: the record of all batches.
//
// Taken for granted: the strength was measured at 20 °C, or set right to it.
func (s *scheduler) standBlended(b *Batch, put *yard.Batch, known []yard.Recipe) error {
	b.BlendedOn = put.Blended.To
	b.StrainedOn, b.Bottled = put.Strained.To, s.diary.onOrAfter(s.terms.AsOf)
	if b.Bottled == 0 {
		b.Why = "no open day is in sight on which to bottle it"
	}
	b.SpiritML, b.SpiritABV = put.SpiritML, put.SpiritABV
	low, likely, high := s.finished(put, known, s.marc.High), s.finished(put, known, s.marc.Typical), s.finished(put, known, s.marc.Low)
	b.Blended = rising(low.VolumeML(), likely.VolumeML(), high.VolumeML())
	b.ABV = rising(low.ABV(), likely.ABV(), high.ABV())
	if put.ABV > 0 {
		b.ABV, b.MeasuredABV = rising(put.ABV, put.ABV, put.ABV), true
	}
	b.MeasuredML = put.BlendedML > 0
	b.DriedG, _ = put.GoodsG()
	gone, _ := put.GoneML()
	if goods, all := put.GoodsG(); all && goods > 0 && len(put.Into) == 0 && gone == 0 {
		b.Ratio = rising(low.VolumeML()/goods, likely.VolumeML()/goods, high.VolumeML()/goods)
	}
	sizes := s.sizesOf(put, known)
	if len(sizes) > 0 && b.Blended.P50 > 0 {
		s.bottlesOf(b, sizes, low.VolumeML(), likely.VolumeML(), high.VolumeML())
	} else if len(sizes) == 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("The recipes of %s fill bottles of different sizes: which these will be is not known.", put.Named()))
	}
	b.Cautions = s.blendedCautions(b, put)
	return nil
}

// rising is an amount known by three values.
func rising(a, b, c float64) Amount {
	v := []float64{a, b, c}
	slices.Sort(v)
	return Amount{P10: v[0], P50: v[1], P90: v[2], Mean: v[1]}
}

// bottlesOf fills bottles with what there is.
func (s *scheduler) bottlesOf(b *Batch, sizes []yard.BottleShare, low, likely, high float64) {
	fills := [][]yard.BottleCount{Fill(low, sizes), Fill(likely, sizes), Fill(high, sizes)}
	b.Bottles = rising(bottlesIn(low, sizes), bottlesIn(likely, sizes), bottlesIn(high, sizes))
	b.Sizes = sizesOf(fills)
	b.BottleML = sizes[0].ML
	for _, z := range sizes {
		if z.Share > share(sizes, b.BottleML) {
			b.BottleML = z.ML
		}
	}
	s.fills = append(s.fills, filling{recipe: b.Recipe, day: b.Bottled,
		table: []float64{b.Bottles.P90, b.Bottles.P50, b.Bottles.P50, b.Bottles.P10}})
}

func share(sizes []yard.BottleShare, ml float64) float64 {
	for _, z := range sizes {
		if z.ML == ml {
			return z.Share
		}
	}
	return 0
}

// sizesOf are the bottle sizes of a batch: those of its recipe, or of all its
// recipes where they are the same; none where they are not.
func (s *scheduler) sizesOf(put *yard.Batch, known []yard.Recipe) (sizes []yard.BottleShare) {
	names := put.Others
	if put.Recipe != "" {
		names = []string{put.Recipe} // what came from others goes into its bottles
	}
	for _, name := range names {
		i := slices.IndexFunc(known, func(r yard.Recipe) bool { return r.Name == name })
		if i < 0 || !(known[i].BottleML > 0) {
			return nil
		}
		of := known[i].BottleSizes()
		if sizes != nil && !slices.Equal(sizes, of) {
			return nil
		}
		sizes = of
	}
	return sizes
}

// finished is the liquid that a batch is, out of its jars, as far as it was
// measured, else at so many ml held per gram of marc.
func (s *scheduler) finished(put *yard.Batch, known []yard.Recipe, held float64) alcohol.Liquid {
	all := slices.Concat(s.terms.Record, s.terms.Standing)
	return (&finisher{all, known, held, s.set, map[*yard.Batch]bool{}}).left(put)
}

// finisher follows liquids through batches that were blended of others.
type finisher struct {
	batches []*yard.Batch
	known   []yard.Recipe
	held    float64
	set     *data.Set
	open    map[*yard.Batch]bool // being followed, so that a ring comes to an end
}

// left is what is left of a batch.
func (f *finisher) left(put *yard.Batch) alcohol.Liquid {
	whole := f.whole(put)
	gone, _ := put.GoneML()
	_, left := whole.Part(gone)
	return left
}

// whole is all that a batch ever was: measured, where it was.
func (f *finisher) whole(put *yard.Batch) alcohol.Liquid {
	if f.open[put] {
		return alcohol.Liquid{}
	}
	f.open[put] = true
	defer delete(f.open, put)
	l := f.own(put)
	for _, k := range put.Blendings {
		for _, p := range k.From {
			if o := f.batch(p.Batch); o != nil && o != put {
				l = l.Plus(f.part(o, p))
			}
		}
	}
	ml, abv := l.VolumeML(), l.ABV()
	switch {
	case put.BlendedML > 0:
		ml = put.BlendedML
	case put.Ended != yard.EndBottled && put.Blended.IsZero() && put.StrainedML > 0 && len(put.Decoctions) == 0:
		ml = put.StrainedML
	}
	if put.ABV > 0 {
		abv = put.ABV
	}
	if measured, err := alcohol.Spirit(ml, math.Min(abv, 100)); err == nil {
		return measured
	}
	return l
}

// part is what of a batch went into another: as said, else what was left of it.
func (f *finisher) part(o *yard.Batch, p yard.Part) alcohol.Liquid {
	whole := f.whole(o)
	if p.Volume.Text != "" {
		part, _ := whole.Part(p.Volume.Mid())
		return part
	}
	gone, _ := o.GoneML() // the part itself has no volume, and so is none of it
	_, left := whole.Part(gone)
	return left
}

// own is the liquid of a batch's own jars and pots.
func (f *finisher) own(put *yard.Batch) alcohol.Liquid {
	r := recipeOf(put, f.known)
	if put.Made || r == nil || unfit(*r) != "" {
		return alcohol.Liquid{}
	}
	held := f.held
	if h, ok := Held(put, r.Method, f.set); ok {
		held = h
	}
	as := asPutUp(*r, put)
	goods, _ := GoodsOf(Needs(as), f.set)
	l, err := Balance(as, goods, held)
	switch {
	case err != nil:
		return alcohol.Liquid{}
	case put.Ended != yard.EndBottled && put.Blended.IsZero() && put.Decocted.IsZero():
		return l.Strained // as it stands, or as it went into another batch
	}
	return f.mixed(put, l)
}

// mixed is the blend by the parts that were measured, else by the recipe, or of
// all there was, whichever is nearer to the volume that was measured.
func (f *finisher) mixed(put *yard.Batch, l Liquids) alcohol.Liquid {
	var spirit, decoction float64
	for _, k := range put.Blendings {
		if k.Spirit.Unit == yard.Millilitre && k.Decoction.Unit == yard.Millilitre {
			spirit, decoction = spirit+k.Spirit.Mid(), decoction+k.Decoction.Mid()
		}
	}
	if spirit == 0 {
		all := l.Strained.Plus(l.Decoction)
		if ml := put.BlendedML; ml > 0 && math.Abs(ml-all.VolumeML()) < math.Abs(ml-l.Blended.VolumeML()) {
			return all
		}
		return l.Blended
	}
	strained, err := alcohol.Spirit(spirit, l.Strained.ABV())
	if err != nil {
		return l.Blended
	}
	return strained.Plus(alcohol.Water(decoction))
}

func (f *finisher) batch(lot string) *yard.Batch {
	for _, b := range f.batches {
		if b.Lot == lot {
			return b
		}
	}
	return nil
}

// worked is the strength of the batches that are blended or in their bottles,
// and of which nobody measured it.
func (s *scheduler) worked(known []yard.Recipe) {
	for _, put := range s.terms.Record {
		if put.ABV > 0 || put.Ended != yard.EndBottled && !(put.Bottled.IsZero() && isBlended(put)) || tookFresh(put, known) {
			continue
		}
		if goods, all := put.GoodsG(); !all || goods == 0 {
			continue
		}
		if abv := s.finished(put, known, s.marc.Typical).ABV(); abv > 0 {
			s.plan.Worked = append(s.plan.Worked, Worked{put.Lot, abv})
		}
	}
}

// blendedCautions are those of a batch that is only to be bottled.
func (s *scheduler) blendedCautions(b *Batch, put *yard.Batch) []string {
	var goods []yard.Ingredient
	for _, name := range put.Species() {
		goods = append(goods, yard.Ingredient{Species: name})
	}
	y := yields{abv: b.ABV}
	y.likely.Spirit.EthanolG = 1
	r := yard.Recipe{Method: MacerationOnly, Ingredients: goods}
	var out []string
	if c := KeepingCaution(b.ABV.P50, s.set.Practice.Keeping); c != "" && b.ABV.P50 > 0 {
		if b.MeasuredABV {
			c = measuredAt + c[len(workedOut):]
		}
		out = append(out, c)
	}
	return append(out, afterStrength(cautions(r, Goods{}, s.marc, y, s.set))...)
}
