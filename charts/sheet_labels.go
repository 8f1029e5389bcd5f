package charts

import (
	"fmt"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// bottleLabels are the labels for the bottles of a batch, in pages.
type bottleLabels struct {
	Pages    [][]bottleLabel
	Left     string // that more are needed than were printed
	Cautious []string
}

// bottleLabel is the label of one bottle. A value that is not known is a
// ruled blank. It makes no claim.
type bottleLabel struct {
	Name, Of            string
	Net, Strength       string
	WorkedOut           bool // the strength, which nobody measured
	Ratio               string
	Lot, PutUp, Bottled string
	Keep, Care          string
	Maker               string
	Fit                 string // class by the length of the text
}

// The labels of a page: three columns of five, 63 mm by 48 mm, fit A4 and
// Letter.
const (
	labelsOnPage = 15
	mostLabels   = 600 // that are printed in one go
	mostName     = 40  // signs
	mostOf       = 260 // signs of all mushrooms together: none is left out
	roomyLot     = 20  // up to which it stands on a line with others
	longestLot   = 60  // far beyond what anyone writes: a lot is not cut
)

// What stands on a label: common practice, no source.
const (
	keepSafe = "Keep closed, dark and cool, out of the reach of children."
	keepCold = "Keep cold, use soon: so weak a blend does not keep for sure. Out of the reach of children."
	takeCare = "Holds alcohol: not for children, in pregnancy or while nursing; with medicines or an illness ask a professional first."
)

func (b *book) bottleLabels(t *yard.Batch) bottleLabels {
	out := bottleLabels{}
	sizes := t.Bottles
	if len(sizes) == 0 { // not bottled yet: a page of each size
		planned := []yard.BottleShare{{}}
		if r := b.recipeOf(t); r != nil {
			planned = r.BottleSizes()
		}
		for _, s := range planned {
			sizes = append(sizes, yard.BottleCount{SizeML: s.ML, Count: labelsOnPage})
		}
	}
	n, wanted := 0, 0
	for _, s := range sizes {
		l := b.bottleLabel(t, s.SizeML)
		wanted += s.Count
		for range min(s.Count, mostLabels-n) {
			if n%labelsOnPage == 0 {
				out.Pages = append(out.Pages, nil)
			}
			out.Pages[len(out.Pages)-1] = append(out.Pages[len(out.Pages)-1], l)
			n++
		}
	}
	if wanted > n {
		out.Left = fmt.Sprintf("%d labels are wanted and %d stand here: print some pages twice.", wanted, n)
	}
	out.Cautious = []string{lawDiffers}
	return out
}

func (b *book) bottleLabel(t *yard.Batch, sizeML float64) bottleLabel {
	l := bottleLabel{Name: cut(t.Named(), mostName*(1+len(t.Others))), Lot: cut(t.Lot, longestLot), Maker: cut(b.maker(), mostName), PutUp: shortDayOf(t.On),
		Keep: keepSafe, Care: takeCare, Net: amountOrBlank(sizeML, b.units.poured)}
	abv, measured := b.strengthOf(t)
	l.Strength, l.WorkedOut = amountOrBlank(abv, tenth), abv > 0 && !measured
	if l.Name == "" {
		l.Name = "Tincture"
	}
	if t.Ended == yard.EndBottled {
		l.Bottled = shortDayOf(t.Bottled)
	}
	l.Of = cut(listing(b.speciesOf(t)), mostOf)
	if g, all := t.GoodsG(); all && g > 0 && b.finishedML(t) > 0 {
		ml := b.finishedML(t)
		l.Ratio = "1 : " + tenth(ml/g)
	}
	if abv > 0 && tincture.KeepingCaution(abv, b.Data.Practice.Keeping) != "" {
		l.Keep = keepCold
	}
	switch n := len([]rune(l.Name)) + len([]rune(l.Of)) + max(0, len([]rune(l.Lot))-roomyLot); {
	case n > 190:
		l.Fit = "crowded"
	case n > 110:
		l.Fit = "tightest"
	case n > 60:
		l.Fit = "tight"
	}
	return l
}

// finishedML is the liquid that the goods ended up in, ml; 0 not known.
func (b *book) finishedML(t *yard.Batch) float64 {
	if t.BlendedML > 0 {
		return t.BlendedML
	}
	if ml, sized := t.FilledML(); sized && ml > 0 && len(t.Into) == 0 {
		return ml
	}
	return 0
}

// shortDayOf is a day as it fits a label, in the form that nobody misreads.
func shortDayOf(w yard.When) string {
	if w.IsZero() {
		return ""
	}
	return w.String()
}

// speciesOf names the mushrooms of a batch, through those that it was blended
// of.
func (b *book) speciesOf(t *yard.Batch) []string {
	return b.speciesThrough(t, nil, map[*yard.Batch]bool{})
}

func (b *book) speciesThrough(t *yard.Batch, names []string, seen map[*yard.Batch]bool) []string {
	if seen[t] {
		return names
	}
	seen[t] = true
	add := func(name string) {
		for _, n := range names {
			if n == name {
				return
			}
		}
		if name != "" {
			names = append(names, name)
		}
	}
	for _, in := range t.Ingredients {
		add(in.Species)
	}
	for _, k := range t.Blendings {
		for _, p := range k.From {
			if o := Batch(b.State, p.Batch); o != nil {
				names = b.speciesThrough(o, names, seen)
			}
		}
	}
	if r := b.recipeOf(t); r != nil && t.On.IsZero() {
		for _, in := range r.Ingredients {
			if !in.Optional {
				add(in.Species)
			}
		}
	}
	return names
}
