package charts

import (
	"cmp"
	"fmt"

	"hodaba/yard"
)

// batchPaper is the record sheet of a batch: what is known is printed, and
// everything else is a ruled blank.
type batchPaper struct {
	Lot, Recipe, Maker, Address string
	Goods                       []goodsLine
	Steps                       []paperStep
	Notes                       []string
	Was                         []struck // of other steps
	Rules                       []int    // empty lines under the notes
	Signed                      []string
	Cautions                    []string
	Basis                       string
	Evening                     []string // how it is written down
	AtOnce                      string   // the same for all of a straining day
}

// goodsLine is one thing that goes in.
type goodsLine struct{ What, Lot, Wanted, Weighed, By string }

// paperStep is one step, with blanks for what is measured at it.
type paperStep struct {
	Name    string
	Fields  []paperField
	Day, By string
	Was     []struck // what was corrected or voided of it
}

// paperField is one measurement: printed where it is known, else ruled.
type paperField struct{ Name, Value, Unit string }

// blankGoods is how many empty lines stand under the goods, and ruledLines how
// many under the notes.
const (
	blankGoods = 2
	ruledLines = 3
)

func (b *book) batchPaper(t *yard.Batch) batchPaper {
	p := batchPaper{Lot: Clean(t.Lot), Recipe: Clean(t.Named()), Maker: b.maker(), Address: Clean(b.State.Config.Farm.Address),
		Goods: b.goodsLines(t), Steps: b.paperSteps(t), Rules: make([]int, ruledLines),
		Signed:   []string{"Put up and strained", "Blended and bottled", "Looked over and released"},
		Cautions: []string{spiritSafely, "Let the pot stand before pressing, and never let it boil dry.", "Before anything is sold or given away, ask the local authority."},
		Basis:    recordBasis}
	for _, d := range t.Deviations {
		note := sinceWords(d.On) + ": " + d.Text
		if d.By != "" {
			note += " (" + d.By + ")"
		}
		p.Notes = append(p.Notes, Clean(note))
	}
	p.Was = b.struckOnPaper(t, p.Steps)
	if t.Ended != "" {
		return p
	}
	lot := shell(Clean(t.Lot))
	p.AtOnce = "hodaba record straining " + lot
	p.Evening = []string{"hodaba record strained " + lot + " 840ml marc=260g", "hodaba record decocted " + lot + " 1500ml 500ml 2h cooled='16:30 57C, 18:10 21C, 21:30 5C'",
		"hodaba record blended " + lot + " 840ml 500ml 1320ml 25%", "hodaba record bottled " + lot + " '13 x 100 ml'"}
	return p
}

// goodsLines are the goods that went in, or those of the recipe where nothing
// is written down yet.
func (b *book) goodsLines(t *yard.Batch) (lines []goodsLine) {
	r := b.recipeOf(t)
	wanted := map[string]string{}
	if r != nil {
		jars := t.JarsPutUp()
		if t.On.IsZero() {
			jars = r.Jars
		}
		for _, in := range r.Ingredients {
			wanted[in.Species] = amountOrBlank(in.GramsJar*float64(jars), b.units.weighed)
		}
	}
	by := ""
	if e := first(t.Entries); e != nil {
		by = Clean(e.By)
	}
	for _, in := range t.WentIn() {
		lines = append(lines, goodsLine{"dried " + Clean(in.Species), Clean(in.Lot), wanted[in.Species], amountOrBlank(in.Grams, b.units.weighed), by})
	}
	if len(lines) == 0 && r != nil {
		for _, in := range r.Ingredients {
			name := Clean(in.Species)
			if in.Form != "fresh" {
				name = "dried " + name
			}
			if in.Optional {
				name += " (may be left out)"
			}
			lines = append(lines, goodsLine{What: name, Wanted: wanted[in.Species]})
		}
	}
	return append(lines, make([]goodsLine, blankGoods)...)
}

// paperSteps are the steps of a batch. That a decoction is cooled from 57 to
// 21 °C within 2 hours and to 5 °C within 6 in all: FDA Food Code 3-501.14(A).
func (b *book) paperSteps(t *yard.Batch) []paperStep {
	u := b.units
	ml, g, hot := "ml", "g", []string{"57 °C", "21 °C", "5 °C"}
	if u.us {
		ml, g, hot = "fl oz", "oz", []string{"135 °F", "70 °F", "41 °F"}
	}
	r := b.recipeOf(t)
	shake, macerate := "", ""
	if r != nil {
		shake, macerate = fmt.Sprintf("recipe: %d", r.ShakeDays), fmt.Sprintf("recipe: %d to %d", r.MacerateMin, r.MacerateMax)
	}
	last := b.lastOf(t)
	put := paperStep{Name: "Put up", Day: dayAt(t.On, t.Begun), By: byOf(first(t.Entries)), Fields: []paperField{
		{"jars", countOrBlank(t.JarsPutUp()), ""}, {"spirit", amountOrBlank(t.SpiritPutUpML(), u.poured), ml},
		{"strength", amountOrBlank(t.SpiritABV, volumePercent), "% vol"}, {"lot of spirit", Clean(t.SpiritLot), ""}, {"room", Clean(t.Begun.Temperature.Text), "°"}}}
	e := b.expects(t, ml)
	steps := []paperStep{put,
		{Name: "Shaken", Fields: []paperField{{"days", countOrBlank(t.DaysShaken()), shake}}},
		{Name: "Strained, pressed", Day: dayAt(t.Strained, lastStep(t.Strainings, func(x yard.Straining) yard.Step { return x.Step })), By: byOf(last["strained"]), Fields: []paperField{
			{"days in the jar", daysInJar(t), macerate}, {"ran off", amountOrBlank(t.StrainedML, u.poured) + b.ofExpected(t, "strained"), e.strained}, {"wet marc", amountOrBlank(t.MarcG, u.weighed), g}}},
		{Name: "Decocted", Day: dayAt(t.Decocted, lastStep(t.Decoctions, func(x yard.Decoction) yard.Step { return x.Step })), By: byOf(last["decocted"]), Fields: []paperField{
			{"water in", amountOrBlank(t.WaterML, u.poured), e.water}, {"on the heat at", clockOr(t, func(x yard.Decoction) yard.Clock { return x.From }), ""},
			{"simmered", amountOrBlank(t.SimmerHours, hoursWords), "h"}, {"came out", amountOrBlank(t.DecoctionML, u.poured) + b.ofExpected(t, "decocted"), e.decocted}}},
		b.coolStep(t, hot),
		b.blendStep(t, ml, byOf(last["blended"])),
		b.bottleStep(t, ml, e.bottles, byOf(last["bottled"])),
		{Name: "Cleaned", Fields: []paperField{{"jars, press, pot, bottles: with", "", ""}}},
	}
	if t.Made {
		steps[2].Day, steps[3].Day = "", ""
	}
	return steps
}

// paperKinds are the kinds of entries by the step that they stand at.
var paperKinds = map[string]string{"macerated": "Put up", "added": "Put up", "shaken": "Shaken", "strained": "Strained, pressed",
	"decocted": "Decocted", "blended": "Blended", "bottled": "Bottled"}

// struckOnPaper puts what was corrected or voided of a batch beside its steps;
// what is of none of them comes back.
func (b *book) struckOnPaper(t *yard.Batch, steps []paperStep) (rest []struck) {
	put := func(kind string, list []struck) {
		for i := range list {
			list[i].ID.Href, list[i].Now.Href = "", "" // paper leads nowhere
		}
		for i := range steps {
			if name := paperKinds[kind]; steps[i].Name == name {
				steps[i].Was = append(steps[i].Was, list...)
				return
			}
		}
		rest = append(rest, list...)
	}
	for _, e := range t.Entries {
		if e.Event != nil {
			put(e.Event.Kind(), b.struckBy(e.ID))
		}
	}
	for _, g := range b.struckOfBatch(t) {
		put(g.kind, []struck{b.alone(g)})
	}
	return rest
}

// dayAt is a day with the time of day, where it is known.
func dayAt(w yard.When, s yard.Step) string {
	day := dayOrBlank(w)
	if day != "" && s.At.Text != "" {
		day += ", " + s.At.String()
	}
	return day
}

// lastStep is what was noted beside the last of several.
func lastStep[T any](list []T, of func(T) yard.Step) (s yard.Step) {
	if n := len(list); n > 0 {
		s = of(list[n-1])
	}
	return s
}

// expected is what the blanks of a sheet are to be filled with, about: the unit,
// and what the recipe and the goods let expect.
type expected struct{ strained, water, decocted, bottles string }

func (b *book) expects(t *yard.Batch, ml string) expected {
	e := expected{strained: ml, water: ml, decocted: ml}
	about := func(x float64) string {
		if x < 1 {
			return ml
		}
		return ml + " (about " + b.units.poured(x) + ")"
	}
	if s, ok := b.standing(t); ok {
		e.strained = about(s.Strained.P50)
		e.water, e.decocted = about(s.Pot.Water.VolumeML()), about(s.Pot.Free.VolumeML())
		if s.Bottles.P50 > 0 {
			e.bottles = "about " + bottlesOf(s, b.units.poured)
		}
	}
	return e
}

// ofExpected is the share of what was to be expected: " (99 % of 612 ml)".
func (b *book) ofExpected(t *yard.Batch, step string) string {
	y, ok := b.made(t, step)
	if !ok {
		return ""
	}
	return fmt.Sprintf(" (%s of %s expected)", shareOf(y.ActualML/y.Theoretical), b.units.poured(y.Theoretical))
}

// clockOr is a time of day of the last pot that has one; blank where none has.
func clockOr(t *yard.Batch, of func(yard.Decoction) yard.Clock) (at string) {
	for _, x := range t.Decoctions {
		if c := of(x); c.Text != "" {
			at = c.String()
		}
	}
	return at
}

// coolStep has blanks for the times that matter, or the log that was kept.
func (b *book) coolStep(t *yard.Batch, hot []string) paperStep {
	s := paperStep{Name: "Cooled", Fields: []paperField{{"off the heat at", clockOr(t, func(x yard.Decoction) yard.Clock { return x.To }), ""}}}
	logs := 0
	for _, x := range t.Decoctions {
		if x.Cooled.Text == "" {
			continue
		}
		logs++
		shows, _ := b.cooled(x)
		s.Fields = append(s.Fields, paperField{"", Clean(x.Cooled.Text) + ": " + shows, ""})
	}
	if logs == 0 {
		s.Fields = append(s.Fields, paperField{hot[0] + " at", "", ""}, paperField{hot[1] + " (within 2 h) at", "", ""}, paperField{hot[2] + " (within 6 h in all) at", "", ""})
	}
	return s
}

func hoursWords(h float64) string      { return exact(h, 2) + " h" }
func volumePercent(abv float64) string { return tenth(abv) + " % vol" }

// byOf is who wrote an entry down as done.
func byOf(e *yard.Entry) string {
	if e == nil {
		return ""
	}
	return Clean(e.By)
}

// lastOf is the last entry of each kind.
func (b *book) lastOf(t *yard.Batch) map[string]*yard.Entry {
	last := map[string]*yard.Entry{}
	for _, e := range t.Entries {
		if e.Event != nil {
			last[e.Event.Kind()] = e
		}
	}
	return last
}

// daysInJar is how long it stood, where both days are known.
func daysInJar(t *yard.Batch) string {
	if t.Made || !t.Strained.Exact() || !t.On.Exact() || t.Strained.IsZero() {
		return ""
	}
	return countOrBlank(int(t.Strained.To - t.On.From))
}

func (b *book) blendStep(t *yard.Batch, ml, by string) paperStep {
	s := paperStep{Name: "Blended", Day: dayAt(t.Blended, lastStep(t.Blendings, func(x yard.Blending) yard.Step { return x.Step })), By: by}
	spirit, decoction, read := "", "", ""
	abv, measured := b.strengthOf(t)
	strength := amountOrBlank(abv, volumePercent)
	if abv > 0 && !measured {
		strength += " (worked out)"
	}
	if n := len(t.Blendings); n > 0 {
		spirit, decoction = b.units.liquid(t.Blendings[n-1].Spirit), b.units.liquid(t.Blendings[n-1].Decoction)
		read = Clean(t.Blendings[n-1].Step.Temperature.Text)
	}
	s.Fields = []paperField{{"strained spirit", Clean(spirit), ml}, {"decoction", Clean(decoction), ml},
		{"made", amountOrBlank(t.BlendedML, b.units.poured), ml}, {"strength", strength, "% vol"}, {"read at", read, "°"}}
	return s
}

// bottleStep has a blank for bottles of each size of the recipe, and one more,
// where none are filled yet.
func (b *book) bottleStep(t *yard.Batch, ml, about, by string) paperStep {
	s := paperStep{Name: "Bottled", By: by}
	if t.Ended == yard.EndBottled {
		s.Day = dayAt(t.Bottled, lastStep(t.Bottlings, func(x yard.Bottling) yard.Step { return x.Step }))
	}
	tell := &teller{u: b.units}
	s.Fields = []paperField{{"bottles", tell.bottleList(t.Bottles) + b.ofExpected(t, "bottled"), ""}}
	if len(t.Bottles) == 0 {
		s.Fields = nil
		if r := b.recipeOf(t); r != nil {
			for _, size := range r.BottleSizes() {
				s.Fields = append(s.Fields, paperField{"bottles", "", "of " + b.units.poured(size.ML)})
			}
		}
		s.Fields = append(s.Fields, paperField{"bottles", "", "of"}, paperField{"", "", ml})
		if about != "" {
			s.Fields = append(s.Fields, paperField{"expected:", about, ""})
		}
	}
	where, closed := "", ""
	for _, x := range t.Bottlings {
		where, closed = cmp.Or(x.Where, where), cmp.Or(x.Closed, closed)
	}
	s.Fields = append(s.Fields, paperField{"closed with", Clean(closed), ""}, paperField{"put in", Clean(where), ""})
	s.Fields = append(s.Fields, paperField{"kept back", amountOrBlank(t.KeptBackML, b.units.poured), ml},
		paperField{"labels printed", "", ""}, paperField{"used", "", ""}, paperField{"destroyed", "", ""})
	return s
}
