package charts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// batchPage is the main part of the record of a batch.
type batchPage struct {
	Lot, Recipe string
	Lead        string
	WentIn      *grid
	Steps       []stepLine
	Measured    *grid
	Ahead       []string // what is still expected of it
	Went        []stepLine
	OnHand      string
	Notes       []stepLine
	Mind        []string // that its own record calls for
	Basis       string
	Print       []string // commands that print its paper
	Cautions    []string
}

// stepLine is one thing that was done, as it was written down.
type stepLine struct {
	When, Says, By, ID string
	Mend               mend
	Was                []struck // beside it, or alone where it says nothing itself
}

// recordBasis says along which list the record is laid out. Source: United
// States, 21 CFR 111.260, What must the batch record include? (text of 2008).
const recordBasis = "Laid out along the list of 21 CFR 111.260 (batch production record, United States) as good practice: " +
	"lots, weights and measures, what came out against what went in, each step with its day and who did it, what went otherwise. " +
	"It is no claim that this or any other rule is met, and it holds no more than was written down."

func (b *book) batchSheet(t *yard.Batch) sheet {
	tell := &teller{s: b.State, u: b.units, lot: t.Lot}
	p := batchPage{Lot: t.Lot, Recipe: t.Named(), Lead: b.batchLead(t), WentIn: b.wentIn(t), Steps: b.stepLines(t),
		Measured: b.measured(t), OnHand: listing(tell.bottlesLeft(t)), Basis: recordBasis,
		Mind: b.batchMind(t), Cautions: []string{spiritSafely, eatSafely, lawDiffers}}
	tell.ended(t)
	slices.SortStableFunc(tell.story.To, func(x, y LotLine) int { return int(x.On.From) - int(y.On.From) })
	for _, l := range tell.story.To {
		m := b.mendID(l.Entry)
		p.Went = append(p.Went, stepLine{When: sinceWords(l.On), Says: l.Says, By: l.By, ID: cut(l.Entry, idShown), Mend: m, Was: m.Was})
	}
	p.Went = append(p.Went, b.struckWent(t, tell.story.To)...)
	for _, l := range otherwise(t) {
		p.Notes = append(p.Notes, stepLine{When: sinceWords(l.On), Says: l.Says, By: l.By, ID: cut(l.Entry, idShown), Mend: b.mendID(l.Entry)})
	}
	if ahead, ok := b.standing(t); ok {
		p.Ahead = b.batchFacts(ahead)
	}
	for _, what := range []string{PrintBatch, PrintJar, PrintLabels} {
		p.Print = append(p.Print, "hodaba print "+what+" "+shell(t.Lot))
	}
	return sheet{kind: "batch", file: b.batches[t.Lot], title: "Batch " + t.Lot, main: p}
}

// standing is what the calendar expects of a batch that is not bottled.
func (b *book) standing(t *yard.Batch) (tincture.Batch, bool) {
	if b.Result.Plan != nil {
		for _, s := range b.Result.Plan.Standing {
			if s.Lot == t.Lot && t.Bottled.IsZero() {
				return s, true
			}
		}
	}
	return tincture.Batch{}, false
}

// batchLead says how the batch stands.
func (b *book) batchLead(t *yard.Batch) string {
	began := "Put up"
	if t.Made {
		began = "Blended of other batches"
	}
	s := began + whenWords(t.On)
	switch {
	case t.Ended == yard.EndBottled:
		s += ", bottled" + whenWords(t.Bottled)
	case t.Ended == yard.EndBlended:
		s += "; all that was left of it went into another batch" + whenWords(t.Bottled)
	case t.Ended == yard.EndDiscarded:
		s += "; all that was left of it was discarded" + whenWords(t.Bottled)
	case t.JarsStanding() > 0 && !t.Strained.IsZero():
		s += "; some of it is strained, and it stands in " + count(t.JarsStanding(), "jar", "jars")
	case t.JarsStanding() > 0:
		s += "; it stands in " + count(t.JarsStanding(), "jar", "jars")
	case !t.Strained.IsZero() && !t.Made:
		s += ", strained" + whenWords(t.Strained) + " and not bottled yet"
	default:
		s += "; it is not bottled yet"
	}
	return s + "."
}

// whenWords is a day as it stands in a sentence: " on 7 November 2026", or
// " in 2026-03" where no more is known.
func whenWords(w yard.When) string {
	switch {
	case w.IsZero():
		return ""
	case w.Exact():
		return " on " + fullDay(w.From)
	case w.Text == "":
		return " from " + fullDay(w.From) + " to " + fullDay(w.To)
	}
	return " in " + w.String()
}

// wentIn is one step back: each lot with what it weighed and where it is from.
func (b *book) wentIn(t *yard.Batch) *grid {
	g := &grid{Caption: "One step back: what went in, by lot", Words: 3, Head: []string{"What", "Lot", "Came from", "How much"}}
	for _, in := range t.WentIn() {
		from, e := b.lotFrom(in)
		g.addOf(b.mendOf(e), "dried "+in.Species, in.Lot, from, b.units.weighed(in.Grams))
	}
	if ml := t.SpiritPutUpML(); ml > 0 || t.SpiritLot != "" {
		what := "spirit"
		if t.SpiritABV > 0 {
			what += ", " + tenth(t.SpiritABV) + " % by volume"
		}
		amount := ""
		if ml > 0 {
			amount = b.units.poured(ml)
		}
		from, e := b.boughtFrom(t.SpiritLot)
		g.addOf(b.mendOf(e), what, orNotSaid(t.SpiritLot), from, amount)
	}
	for _, k := range t.Blendings {
		for _, p := range k.From {
			if p.Batch == "" || sameLot(p.Batch, t.Lot) {
				continue
			}
			amount := "all that was left"
			if p.Volume.Text != "" {
				amount = b.units.liquid(p.Volume)
			}
			from := ""
			if o := Batch(b.State, p.Batch); o != nil {
				from = o.Named()
			}
			g.add("another batch", p.Batch, from, amount)
		}
	}
	for _, in := range t.Carried {
		amount := "not known"
		if in.Counted {
			amount = b.units.weighed(in.Grams)
		}
		if in.Species != "" {
			g.add("dried "+in.Species, in.Lot, "with batch "+in.Batch, amount)
		}
	}
	if t.WaterML > 0 {
		g.add("water for the decoction", "", "", b.units.poured(t.WaterML))
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

func orNotSaid(s string) string {
	if s == "" {
		return "not said"
	}
	return s
}

// lotFrom says in a few words where a dried lot is from, and by which entry.
func (b *book) lotFrom(in yard.Taken) (string, *yard.Entry) {
	for _, l := range b.State.Dry {
		if !sameLot(l.Lot, in.Lot) || l.Species != in.Species {
			continue
		}
		from := map[string]string{"own": "own harvest", "indoor": "indoors", "counted": "a stock-take", "gift": "a gift"}[l.From]
		if from == "" {
			from = l.From
		}
		if l.From == "ground" && l.Of != "" {
			from += " from " + l.Of
		}
		if from == "" {
			return "", nil // nobody wrote down that it came
		}
		return from + ", " + sinceWords(l.On), l.Entry
	}
	return "", nil
}

func (b *book) boughtFrom(lot string) (string, *yard.Entry) {
	for _, p := range b.State.Bought {
		if sameLot(p.Lot, lot) {
			return "bought, " + sinceWords(p.On), p.Entry
		}
	}
	return "", nil
}

// stepLines are the entries of a batch in order of day, and between them what
// was written of it and no longer counts.
func (b *book) stepLines(t *yard.Batch) []stepLine {
	entries := slices.Clone(t.Entries)
	slices.SortStableFunc(entries, func(x, y *yard.Entry) int { return int(x.On.From) - int(y.On.From) })
	alone := b.struckOfBatch(t)
	var out []stepLine
	for _, e := range entries {
		for ; len(alone) > 0 && alone[0].On.From < e.On.From; alone = alone[1:] {
			out = append(out, b.aloneLine(alone[0]))
		}
		m := b.mendOf(e)
		out = append(out, stepLine{When: sinceWords(e.On), Says: b.saysOf(e), By: e.By, ID: cut(e.ID, idShown), Mend: m, Was: m.Was})
	}
	for _, g := range alone {
		out = append(out, b.aloneLine(g))
	}
	return out
}

func (b *book) aloneLine(g *goneEntry) stepLine {
	return stepLine{Was: []struck{b.alone(g)}}
}

// struckOfBatch is what was written of a batch, no longer counts, and has
// nothing beside which it stands.
func (b *book) struckOfBatch(t *yard.Batch) []*goneEntry {
	return b.struckAlone(func(g *goneEntry) bool { return sameLot(g.values["batch"], t.Lot) },
		func(id string) bool {
			return slices.ContainsFunc(t.Entries, func(e *yard.Entry) bool { return e.ID == id })
		})
}

// struckWent is what was written of its bottles and no longer counts.
func (b *book) struckWent(t *yard.Batch, went []LotLine) (lines []stepLine) {
	for _, g := range b.struckAlone(func(g *goneEntry) bool { return sameLot(g.values["lot"], t.Lot) },
		func(id string) bool { return slices.ContainsFunc(went, func(l LotLine) bool { return l.Entry == id }) }) {
		lines = append(lines, b.aloneLine(g))
	}
	return lines
}

// measured sets what came out against what it can be told by.
func (b *book) measured(t *yard.Batch) *grid {
	g := &grid{Caption: "What came out, and what it is measured against", Words: 3,
		Head: []string{"", "Measured", "Against", "Share"}}
	add := func(what string, got, against float64, write func(float64) string, of string) {
		if got <= 0 {
			return
		}
		if against <= 0 {
			g.add(what, write(got), "", "")
			return
		}
		g.add(what, write(got), strings.TrimSpace(write(against)+" "+of), shareOf(got/against))
	}
	r := b.recipeOf(t)
	if !t.Strained.IsZero() && !t.Made && t.Strained.Exact() && t.On.Exact() {
		against := ""
		if r != nil {
			against = fmt.Sprintf("%d to %d by the recipe", r.MacerateMin, r.MacerateMax)
		}
		g.add("days in the jar", strconv.Itoa(int(t.Strained.To-t.On.From)), against, "")
	}
	shake := 0
	if r != nil {
		shake = r.ShakeDays
	}
	add("days shaken", float64(t.DaysShaken()), float64(shake), func(n float64) string { return strconv.Itoa(int(n)) }, "by the recipe")
	yield := func(step string) {
		if y, ok := b.made(t, step); ok {
			add(step+", of what was expected", y.ActualML, y.Theoretical, b.units.poured, "")
		}
	}
	add("strained", t.StrainedML, t.SpiritML, b.units.poured, "of spirit put in")
	yield("strained")
	add("wet marc", t.MarcG, gramsOf(t.Ingredients), b.units.weighed, "of dried goods put in")
	add("decoction", t.DecoctionML, t.WaterML, b.units.poured, "of water put in")
	yield("decocted")
	for _, x := range t.Decoctions {
		if x.Cooled.Text != "" {
			shows, _ := b.cooled(x)
			g.add("cooled", shows, b.coolingLimits(), "")
		}
	}
	parts, whole := partsOf(t)
	add("blended", t.BlendedML, parts, b.units.poured, "of parts put in")
	if abv, measured := b.strengthOf(t); abv > 0 {
		wanted, what := "", "strength, by volume"
		if !measured {
			what = "strength by volume, worked out"
		}
		if r != nil && r.ToABV > 0 {
			wanted = tenth(r.ToABV) + " % by the recipe"
		}
		g.add(what, tenth(abv)+" %", wanted, "")
	}
	if ml, sized := t.FilledML(); sized && len(t.Bottles) > 0 {
		if !whole && t.BlendedML == 0 {
			parts = 0
		}
		if t.BlendedML > 0 {
			parts = t.BlendedML
		} else if len(t.Blendings) == 0 {
			parts = t.StrainedML + t.DecoctionML
		}
		if gone, _ := t.GoneML(); parts > 0 {
			parts -= gone
		}
		add("in bottles, the sample included", ml, parts, b.units.poured, "to fill")
	}
	yield("bottled")
	spirit, decoction := t.LeftOver()
	add("strained spirit left over", spirit, 0, b.units.poured, "")
	add("decoction left over", decoction, 0, b.units.poured, "")
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// shareOf is a share of what went in: it may be more than all.
func shareOf(share float64) string { return strconv.Itoa(int(share*100+0.5)) + " %" }

func gramsOf(goods []yard.Taken) (g float64) {
	for _, in := range goods {
		g += in.Grams
	}
	return g
}

// partsOf adds up what was mixed, ml; whole is whether every part was
// measured.
func partsOf(t *yard.Batch) (ml float64, whole bool) {
	whole = len(t.Blendings) > 0
	for _, k := range t.Blendings {
		for _, q := range []yard.Quantity{k.Spirit, k.Decoction} {
			if q.Unit == yard.Millilitre {
				ml += q.Mid()
			} else if q.Text != "" {
				whole = false
			}
		}
		for _, p := range k.From {
			ml += p.Volume.Mid()
			whole = whole && p.Volume.Text != ""
		}
	}
	if !whole {
		return 0, false
	}
	return ml, true
}

func (b *book) recipeOf(t *yard.Batch) *yard.Recipe {
	for i := range b.State.Recipes {
		if b.State.Recipes[i].Name == t.Recipe {
			return &b.State.Recipes[i]
		}
	}
	return nil
}
