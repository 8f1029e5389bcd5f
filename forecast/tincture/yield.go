package tincture

import "hodaba/yard"

// Worked is a strength that was worked out, % by volume at 20 °C.
type Worked struct {
	Lot string
	ABV float64
}

// Made is how a batch came out against what its recipe and goods let expect.
type Made struct {
	Lot, Recipe string
	Yields      []Yield
}

// Yield is one step of a batch: actual against theoretical volume, at 20 °C.
type Yield struct {
	Step        string // "strained", "decocted", "bottled"
	ActualML    float64
	Theoretical float64 // ml
}

// Percent is the actual yield in percent of the theoretical.
func (y Yield) Percent() float64 { return 100 * y.ActualML / y.Theoretical }

// YieldsOf compares what was measured of a batch with what it should have been.
//
// Purpose: the part of a batch record that 21 CFR 111.260 (f) calls actual
// yield and percentage of theoretical yield; and a slip of the pen shows.
//
// Equation: strained against [Balance] at a retention of the marc; decocted
// against what the recipe boils down to; bottled against the blend of what was
// really strained and decocted, with what was kept back as a sample. Of jars strained alone, what was expected
// counts by their share.
//
// Parameters: retention, ml per g: of the marc before any own batch taught it
// (data.Practice.Marc), so that a batch is not set against itself.
//
// State: none. Inputs from others: the batch as recorded, its recipe.
//
// Taken for granted: as in [Balance]. What was not measured has no yield.
func YieldsOf(put *yard.Batch, r yard.Recipe, goods Goods, retention float64, held float64, measured bool) (ys []Yield) {
	add := func(step string, actual, theoretical float64) {
		if actual > 0 && theoretical > 0 {
			ys = append(ys, Yield{step, actual, theoretical})
		}
	}
	as := asPutUp(r, put)
	expected, err := Balance(as, goods, retention)
	if err != nil {
		return nil
	}
	if ml, share, ok := together(put, func(x yard.Straining) float64 { return x.ML }); ok && macerates(r) {
		add("strained", ml, expected.Strained.VolumeML()*share)
	}
	if decocts(r) && !put.Decocted.IsZero() {
		jars := 1.0
		if put.Jars > 0 {
			jars = float64(put.Jars) / float64(r.Jars)
		}
		add("decocted", put.DecoctionML, r.DecoctToML*jars)
	}
	if measured {
		if expected, err = Balance(as, goods, held); err != nil {
			return ys
		}
	}
	bottled, sized := put.FilledML()
	if len(put.Bottles) > 0 && sized {
		if gone, known := put.GoneML(); known {
			add("bottled", bottled, expected.Blended.VolumeML()-gone)
		}
	}
	return ys
}

// yields fills in how the batches on record came out, newest last.
func (s *scheduler) yields(known []yard.Recipe, retention float64) {
	for _, put := range s.terms.Record {
		r := recipeOf(put, known)
		if r == nil || unfit(*r) != "" || tookFresh(put, known) || len(put.Ingredients) == 0 {
			continue
		}
		held, measured := Held(put, r.Method, s.set)
		if ys := YieldsOf(put, *r, goodsOfBatch(put, s.set), retention, held, measured); len(ys) > 0 {
			s.plan.Made = append(s.plan.Made, Made{put.Lot, put.Recipe, ys})
		}
	}
}
