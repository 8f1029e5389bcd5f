package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

var strainedKind = kind{
	KindInfo: KindInfo{
		Name: "strained", Says: "jars of a batch were strained and pressed out",
		Example: `strained 26-03 volume=612ml`,
		Keys: slices.Concat([]Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "jars", Holds: "how many of its jars; all that stand if left out", Example: "2", Kind: CountKey},
			{Name: "volume", Holds: "what ran off and was pressed out of them", Example: "612 ml", Kind: VolumeKey},
			{Name: "marc", Holds: "what the wet marc weighs", Example: "640 g", Kind: WeightKey},
		}, stepKeys("what ran off")),
	},
	make: func() readable { return &Strained{Jars: NotSaid} },
}

// Strained parts the tincture in jars from the marc.
type Strained struct {
	Batch  string
	Jars   int
	Volume Quantity // ml
	Marc   Quantity // kg
	Step
}

// Straining is one straining of a batch.
type Straining struct {
	On    When
	Jars  int     // 0 not said: all that stood
	ML    float64 // strained; 0 not measured
	MarcG float64 // wet marc, g; 0 not weighed
	Step  Step
	Entry *Entry
}

// Kind is "strained".
func (x *Strained) Kind() string { return strainedKind.Name }

func (x *Strained) fields() []any {
	return append([]any{&x.Batch, &x.Jars, &x.Volume, &x.Marc}, x.Step.fields()...)
}

// Apply notes it on the batch. Strained jar by jar, it adds up.
func (x *Strained) Apply(s *State, e *Entry, d *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	b.touch(e)
	b.Strained = spanningOr(b.Strained, e.On)
	b.Strainings = append(b.Strainings, Straining{On: e.On, Jars: max(0, x.Jars), ML: x.Volume.Mid(), MarcG: x.Marc.grams(), Step: x.Step, Entry: e})
	b.went(x.Step, e)
	b.StrainedML += x.Volume.Mid()
	b.MarcG += x.Marc.grams()
	var problems []Problem
	say := func(is bool, key, text, remedy string) {
		if is {
			problems = append(problems, e.odd(key, text, remedy))
		}
	}
	jars := b.jarsStrained()
	put := fmt.Sprintf("%d were put up", b.JarsPutUp())
	if b.Jars < b.JarsPutUp() {
		put += fmt.Sprintf(" and %d of them lost", b.JarsPutUp()-b.Jars)
	}
	say(b.JarsPutUp() > 0 && jars > b.Jars, "jars", fmt.Sprintf("%d jars of batch %s are strained, and %s", jars, b.Lot, put),
		"look at the number of jars; leave it out if all were strained")
	r := s.recipe(b.Recipe)
	most := b.SpiritML + b.waterIn(r, d)
	boiled := r != nil && r.Method == "decoction only" // its water is in no entry but [[decocted]]
	say(x.Volume.High > 0 && b.SpiritML > 0 && !boiled && b.StrainedML > most, "volume",
		fmt.Sprintf("%.0f ml were strained of batch %s, and %.0f ml went in, the water in the goods included", b.StrainedML, b.Lot, most),
		"look at both volumes; what is boiled and blended in is recorded with [[decocted]] and [[bottled]]")
	dry := b.dryGrams()
	say(x.Marc.High > 0 && b.JarsStanding() == 0 && b.MarcG < dry, "marc",
		fmt.Sprintf("the marc of batch %s weighs %.0f g wet, and %.0f g went in dry", b.Lot, b.MarcG, dry),
		"weigh the marc wet, as it comes from straining, or leave the key out")
	return problems
}

// JarsStanding is the number of jars that are not strained yet.
func (b *Batch) JarsStanding() int {
	for _, x := range b.Strainings {
		if x.Jars == 0 {
			return 0
		}
	}
	return max(0, b.Jars-b.jarsStrained())
}

// jarsStrained is the number of strained jars, as far as it was said.
func (b *Batch) jarsStrained() (jars int) {
	for _, x := range b.Strainings {
		jars += x.Jars
	}
	return jars
}

// dryGrams is what went into a batch from the shelf, g.
func (b *Batch) dryGrams() (g float64) {
	for _, in := range b.Ingredients {
		g += in.Grams
	}
	return g
}

// waterIn is the most water, ml, that the goods can have brought: that of the
// dried ones, and all that fresh ones weigh, which the shelf knows nothing of.
func (b *Batch) waterIn(r *Recipe, d *data.Set) (ml float64) {
	for _, in := range b.Ingredients {
		water := 1.0 // a species nobody knows brings no more than it weighs
		if d != nil {
			if sp, ok := d.FindSpecies(in.Species); ok {
				water = sp.Dried.Value
			}
		}
		ml += in.Grams * water
	}
	if r != nil {
		for _, in := range r.Ingredients {
			if in.Form == "fresh" {
				ml += in.GramsJar * float64(b.Jars)
			}
		}
	}
	return ml
}

// batchOf is the batch that an entry names. One that was never begun is a
// problem, and the entry goes to the tray "to sort".
func (s *State) batchOf(lot string, e *Entry) (*Batch, []Problem) {
	if b := s.batch(lot); b != nil {
		return b, nil
	}
	s.Sort = append(s.Sort, e)
	p := e.odd("batch", fmt.Sprintf("no batch is called %s: the entry is kept in the tray \"to sort\"", shown(lot)), s.batchRemedy(lot))
	p.Grade = Aside
	return nil, []Problem{p}
}
