package yard

import (
	"fmt"

	"hodaba/data"
)

var discardedKind = kind{
	KindInfo: KindInfo{
		Name: "discarded", Says: "a jar of a batch broke, or some of a batch was poured away",
		Example: `discarded 26-03 jars=1 why="jar broke"`,
		Keys: []Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "jars", Holds: "how many jars; all of the batch if volume is left out too", Example: "1", Kind: CountKey},
			{Name: "volume", Holds: "how much liquid", Example: "200 ml", Kind: VolumeKey},
			{Name: "of", Holds: "of which liquid: of the blend if left out, else what the blending left over", Example: "decoction", Kind: ChoiceKey, OneOf: discardable},
			{Name: "why", Holds: "what happened", Example: "jar broke", Kind: TextKey},
		},
	},
	make: func() readable { return &Discarded{Jars: NotSaid} },
}

// discardable are the liquids of a batch; "blend" is the batch itself.
var discardable = []string{"blend", "spirit", "decoction"}

// Discarded takes jars or liquid out of a batch. Without jars and volume it
// is all that is left of it.
type Discarded struct {
	Batch  string
	Jars   int
	Volume Quantity // ml
	Of     string   // one of discardable; "" the blend
	Why    string
}

// Discard is what was lost of a batch before it was in bottles.
type Discard struct {
	On       When
	Jars     int     // that stood, with what was in them
	ML       float64 // of liquid; 0 not said
	Of       string  // of which liquid ML is: "spirit" or "decoction" that was not blended in; "" of the batch
	All      bool    // all that was left of the batch
	Why      string
	Goods    []Taken // that were in those jars
	SpiritML float64 // that was in those jars
	Entry    *Entry
}

// Kind is "discarded".
func (x *Discarded) Kind() string { return discardedKind.Name }

func (x *Discarded) fields() []any { return []any{&x.Batch, &x.Jars, &x.Volume, &x.Of, &x.Why} }

// Apply frees the jars and takes what was in them out of the batch; no goods
// go back to the shelf.
func (x *Discarded) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	b.touch(e)
	if !b.Bottled.IsZero() && x.Jars < 0 && x.Volume.Text == "" {
		b.Discards = append(b.Discards, Discard{On: e.On, Why: x.Why, Entry: e})
		return []Problem{e.odd("", fmt.Sprintf("batch %s is %s already, since %s: how much went is not said, and the stock stays as it was", b.Lot, b.Ended, b.Bottled),
			"correct the entry with its volume; for bottles that went bad record [[spoiled]]")}
	}
	k := Discard{On: e.On, ML: x.Volume.Mid(), Why: x.Why, Entry: e}
	if x.Of != "blend" {
		k.Of = x.Of
	}
	k.All = x.Jars < 0 && x.Volume.Text == ""
	standing, had := b.JarsStanding(), b.had(k.Of)
	var problems []Problem
	if k.All {
		b.lose(&k, standing)
	} else if x.Jars > 0 {
		if x.Jars > standing && b.Jars > 0 {
			problems = append(problems, e.odd("jars", fmt.Sprintf("%d jars of batch %s were discarded, and %d stood", x.Jars, b.Lot, standing),
				"look at the number of jars; liquid that ran off already is a volume"))
		}
		b.lose(&k, min(x.Jars, standing))
	}
	if had > 0 && x.Volume.Low > had {
		problems = append(problems, e.odd("volume", fmt.Sprintf("%s of batch %s were discarded, and there were %.0f ml", x.Volume.Text, b.Lot, had),
			"look at the volume and its unit"))
	}
	if b.Bottled.IsZero() && (k.All || k.Jars > 0 && b.Jars == 0) {
		b.end(EndDiscarded, e)
	}
	b.Discards = append(b.Discards, k)
	return problems
}

// had is how much of one of its liquids a batch had, ml; 0 not known.
func (b *Batch) had(of string) float64 {
	spirit, decoction := b.LeftOver()
	switch {
	case of == "spirit" && len(b.Blendings) > 0:
		return spirit
	case of == "decoction" && len(b.Blendings) > 0:
		return decoction
	case of == "spirit":
		return b.StrainedML
	case of == "decoction":
		return b.DecoctionML
	}
	return b.LiquidML()
}

// lose takes jars that stand out of a batch: what was in them counts no more,
// so that what is left is measured against what it came of.
func (b *Batch) lose(k *Discard, jars int) {
	k.Jars = jars
	if jars <= 0 || b.Jars <= 0 {
		return
	}
	share := float64(jars) / float64(b.Jars)
	k.SpiritML = b.SpiritML * share
	left := make([]Taken, len(b.Ingredients))
	for i, in := range b.Ingredients {
		k.Goods = append(k.Goods, Taken{in.Species, in.Lot, in.Grams * share})
		left[i] = Taken{in.Species, in.Lot, in.Grams * (1 - share)}
	}
	if jars == b.Jars {
		left = nil
	}
	b.Ingredients = left
	b.SpiritML -= k.SpiritML
	b.Jars -= jars
}

// JarsPutUp is in how many jars the batch was put up, those that were lost
// since included.
func (b *Batch) JarsPutUp() int {
	n := b.Jars
	for _, k := range b.Discards {
		n += k.Jars
	}
	return n
}

// WentIn is all dried goods that ever went into the batch, with those in jars
// that were lost, by lot in the order in which they first went in.
func (b *Batch) WentIn() []Taken {
	var out []Taken
	add := func(list []Taken) {
		for _, t := range list {
			at := -1
			for i := range out {
				if out[i].Species == t.Species && out[i].Lot == t.Lot {
					at = i
				}
			}
			if at < 0 {
				out = append(out, t)
			} else {
				out[at].Grams += t.Grams
			}
		}
	}
	add(b.Ingredients)
	for _, k := range b.Discards {
		add(k.Goods)
	}
	return out
}

// SpiritPutUpML is the spirit that the batch was put up with, ml, that in jars
// which were lost included.
func (b *Batch) SpiritPutUpML() float64 {
	ml := b.SpiritML
	for _, k := range b.Discards {
		ml += k.SpiritML
	}
	return ml
}
