package yard

import (
	"fmt"

	"hodaba/data"
)

// The bounds beyond which a batch looks like a slip of the pen. The first is
// the strongest spirit that distilling gives, 95.6 % by mass (from memory);
// the others are our judgement, and only ever point at something.
const (
	strongestSpirit = 97.2 // % by volume at 20 °C
	weakestSpirit   = 20.0 // % by volume: hardly anything that is sold as spirit
	mostGoodsPerML  = 1.0  // g dry per ml of spirit: more is not wetted
	moreFilled      = 1.05 // bottled over blended: what reading a jug may be out
)

// oddLiquids points at strengths, volumes and weights of batches that cannot
// be believed.
func oddLiquids(s *State, _ *data.Set) (out []Problem) {
	for _, b := range s.Batches {
		if e := begunBy(b); e != nil {
			out = append(out, b.oddSpirit(e)...)
		}
		out = append(out, b.oddFilled()...)
	}
	return out
}

// begunBy is the entry that put a batch up, nil for one made of others.
func begunBy(b *Batch) *Entry {
	for _, e := range b.Entries {
		if _, ok := e.Event.(*Macerated); ok {
			return e
		}
	}
	return nil
}

func (b *Batch) oddSpirit(e *Entry) (out []Problem) {
	m := e.Event.(*Macerated)
	switch {
	case m.SpiritABV > strongestSpirit:
		out = append(out, e.odd("spirit_abv_percent", fmt.Sprintf("spirit of %s %% is stronger than distilling gives", decimal(m.SpiritABV)),
			"look at the label: % by volume, not proof"))
	case m.SpiritABV >= 0 && m.SpiritABV < weakestSpirit:
		out = append(out, e.odd("spirit_abv_percent", fmt.Sprintf("spirit of %s %% is weak, and draws and keeps little", decimal(m.SpiritABV)),
			"look at the label: % by volume"))
	}
	dry, spirit := b.putUpGrams()-b.addedGrams(), b.SpiritPutUpML()
	if spirit > 0 && dry > mostGoodsPerML*spirit {
		out = append(out, e.odd("ingredients", fmt.Sprintf("%.0f g of dried goods went into %.0f ml of spirit, more than it wets", dry, spirit),
			"look whether kilograms were typed for grams, or millilitres for litres"))
	}
	return out
}

// putUpGrams is what was put into the jars of a batch when it was begun, g.
func (b *Batch) putUpGrams() (g float64) {
	for _, t := range b.WentIn() {
		g += t.Grams
	}
	return g
}

// oddFilled points at more in bottles than was blended.
func (b *Batch) oddFilled() []Problem {
	ml, sized := b.FilledML()
	if len(b.Bottlings) == 0 || !sized || b.BlendedML <= 0 || ml <= moreFilled*b.BlendedML {
		return nil
	}
	e := b.Bottlings[len(b.Bottlings)-1].Entry
	return []Problem{e.odd("bottles", fmt.Sprintf("%.0f ml are in bottles of batch %s, and %.0f ml were blended", ml, b.Lot, b.BlendedML),
		"look at the number and the size of the bottles, and at the volume of the blend")}
}
