package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// oddBrews points at amounts of batches, of what was bought and of the shelf
// that look like another unit.
func oddBrews(s *State, d *data.Set) (out []Problem) {
	if d == nil {
		return nil
	}
	bound := &d.Practice.Odd
	for _, b := range s.Batches {
		out = append(out, b.oddAmounts(s, bound)...)
		out = append(out, b.oddPots(bound)...)
	}
	for _, p := range s.Bought {
		out = append(out, p.oddLiquid(bound)...)
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		if x, ok := l.Entry.Event.(*Loaded); ok && x.Fresh.High > 0 && x.Fresh.High < bound.LoadLeast.Value {
			out = append(out, l.Entry.odd("fresh", x.Fresh.Text+" in a load of the drier is less than one mushroom", "look whether kilograms were meant"))
		}
	}
	out = append(out, s.oddShelf(bound)...)
	return append(out, s.oddNames()...)
}

// oddAmounts points at goods and liquids of a batch that do not fit together.
func (b *Batch) oddAmounts(s *State, bound *data.Odd) (out []Problem) {
	dry, spirit := b.putUpGrams(), b.SpiritPutUpML()
	if e := begunBy(b); e != nil && dry > 0 && spirit > bound.SpiritPerG.Value*dry {
		out = append(out, e.odd("spirit", fmt.Sprintf("%.0f ml of spirit for %.0f g of dried goods is a great deal", spirit, dry), "look whether millilitres or grams were meant"))
	}
	if n := len(b.Additions); n > 0 && spirit > 0 && dry > mostGoodsPerML*spirit && dry-b.addedGrams() <= mostGoodsPerML*spirit {
		out = append(out, b.Additions[n-1].Entry.odd("dry", fmt.Sprintf("with what was added, %.0f g of dried goods are in %.0f ml of spirit, more than it wets", dry, spirit), "look whether grams were meant"))
	}
	r := s.recipe(b.Recipe)
	fresh := r != nil && slices.ContainsFunc(r.Ingredients, func(in Ingredient) bool { return in.Form == "fresh" })
	if n := len(b.Strainings); n > 0 && dry > 0 && !fresh && b.MarcG > bound.MarcTimes.Value*dry {
		out = append(out, b.Strainings[n-1].Entry.odd("marc", fmt.Sprintf("the marc of batch %s weighs %.0f g wet, and %.0f g went in dry: that is more than it soaks up", b.Lot, b.MarcG, dry), "look whether grams were meant"))
	}
	return append(out, b.oddRest(bound)...)
}

// addedGrams is what was added to a batch after it was put up, g.
func (b *Batch) addedGrams() (g float64) {
	for _, a := range b.Additions {
		for _, t := range a.Taken {
			g += t.Grams
		}
	}
	return g
}

// oddRest points at far less liquid than there was one step before.
func (b *Batch) oddRest(bound *data.Odd) (out []Problem) {
	less := func(ml, had float64) bool { return ml > 0 && had > 0 && ml < bound.LittleLeft.Value*had }
	gone, known := b.GoneML()
	if n := len(b.Strainings); n > 0 && b.JarsStanding() == 0 && less(b.StrainedML, b.SpiritML) && !slices.ContainsFunc(b.Strainings, func(x Straining) bool { return x.ML == 0 }) {
		out = append(out, b.Strainings[n-1].Entry.odd("volume", fmt.Sprintf("%.0f ml were strained of batch %s, which had %.0f ml of spirit", b.StrainedML, b.Lot, b.SpiritML), "look at the volume and its unit"))
	}
	if n := len(b.Blendings); n > 0 && !b.Made {
		k, had := b.Blendings[n-1], b.StrainedML+b.DecoctionML
		if had == 0 {
			had = b.SpiritML
		}
		if less(k.ML, had) {
			out = append(out, k.Entry.odd("volume", fmt.Sprintf("%.0f ml were blended of batch %s, and there were %.0f ml", k.ML, b.Lot, had), "look at the volume and its unit"))
		}
	}
	if n := len(b.Bottlings); n > 0 && known && b.Ended == EndBottled {
		had := b.LiquidML()
		if had == 0 {
			had = b.SpiritML - gone
		}
		if ml, sized := b.FilledML(); sized && less(ml, had) {
			out = append(out, b.Bottlings[n-1].Entry.odd("bottles", fmt.Sprintf("%.0f ml are in bottles of batch %s, and there were %.0f ml", ml, b.Lot, had),
				"look at the number and the size of the bottles; record what else was filled, or discarded"))
		}
	}
	for _, k := range b.Discards {
		if had := b.SpiritPutUpML() + b.WaterML; k.ML > 0 && had > 0 && k.ML > had && b.StrainedML+b.DecoctionML+b.BlendedML == 0 {
			out = append(out, k.Entry.odd("volume", fmt.Sprintf("%.0f ml of batch %s were discarded, and there were %.0f ml", k.ML, b.Lot, had), "look at the volume and its unit"))
		}
	}
	return out
}

// oddPots points at pots that nobody boils down so far, or simmers for so long.
func (b *Batch) oddPots(bound *data.Odd) (out []Problem) {
	for _, k := range b.Decoctions {
		if k.ML > 0 && k.ML < bound.BoiledTo.Value*k.WaterML {
			out = append(out, k.Entry.odd("volume", fmt.Sprintf("%.0f ml of decoction are left of %.0f ml of water", k.ML, k.WaterML), "look at both volumes and their units"))
		}
		x, ok := k.Entry.Event.(*Decocted)
		if ok && x.SimmerHours < 0 && x.From.Text != "" && x.To.Text != "" && x.To.Minute < x.From.Minute && x.byClock() > bound.SimmerNight.Value {
			out = append(out, k.Entry.odd("simmer_to", fmt.Sprintf("it simmered from %s to %s: over night, %s hours", x.From, x.To, decimal(rounded(x.byClock()))), "look at both times; if it is right, say simmer_hours too"))
		}
	}
	return out
}

// oddLiquid points at spirit that was bought by the drop or by the tank.
func (p *Purchase) oddLiquid(bound *data.Odd) []Problem {
	if p.Amount.Unit != Millilitre || p.Amount.High <= 0 || !slices.ContainsFunc(liquids, func(l string) bool { return slices.Contains(strings.Fields(folded(p.Item)), l) }) {
		return nil
	}
	switch {
	case p.Amount.High < bound.LiquidLeast.Value:
		return []Problem{p.Entry.odd("amount", fmt.Sprintf("%s of %s is very little", p.Amount.Text, p.Item), "look whether litres were meant")}
	case p.Amount.Low > bound.LiquidMost.Value:
		return []Problem{p.Entry.odd("amount", fmt.Sprintf("%s of %s is a great deal", p.Amount.Text, p.Item), "look whether millilitres were meant")}
	}
	return nil
}

// oddShelf points at dried goods of no weight, of more than the drier holds,
// and of two species in one lot, and at bottles counted that never were filled.
func (s *State) oddShelf(bound *data.Odd) (out []Problem) {
	first := map[string]*DryLot{}
	for _, l := range s.Dry {
		if l.Entry == nil {
			continue
		}
		x, own := l.Entry.Event.(*Dried)
		if own && x.Dry.Text != "" && x.Dry.High == 0 {
			out = append(out, l.Entry.odd("dry", "0 g came out of the drier", "look at the weight; of what spoiled in it, record [[spoiled]]"))
		}
		if load := s.Config.Drier.LoadKG; own && load > 0 && x.Load == "" && x.Fresh.Text == "" && s.emptiedOf(l.Entry) == nil && l.Entry.On.Exact() && x.Dry.Low > load && l.InG <= mostDryLot && !s.drierChangedAfter(l.Entry.On.From) {
			out = append(out, l.Entry.odd("dry", fmt.Sprintf("%s dried is more than the %s kg fresh of a load of the drier", x.Dry.Text, decimal(load)), "look whether grams were meant; of several loads, record each"))
		}
		if o := first[folded(l.Lot)]; o == nil {
			first[folded(l.Lot)] = l
		} else if o.Species != l.Species && keyLine(l.Entry.Text, "lot") > 0 {
			out = append(out, l.Entry.odd("lot", fmt.Sprintf("lot %s is of %s, and here it is %s", o.Lot, o.Species, l.Species), "give these a lot of their own"))
		}
	}
	return append(out, s.oddCount(bound)...)
}

// oddCount points at a count of many times the bottles that ever came.
func (s *State) oddCount(bound *data.Odd) (out []Problem) {
	came := map[string]int{}
	for _, m := range s.BottleMoves {
		if before := came[m.Recipe]; m.How == BottlesUnexplained && m.Count > 0 && m.Entry != nil && before > 0 {
			if c, ok := m.Entry.Event.(*Counted); ok && float64(countOfAll(c.Bottles)) > bound.CountTimes.Value*float64(before) {
				out = append(out, m.Entry.odd("bottles", fmt.Sprintf("%d bottles of %s were counted, and only %d ever came", countOfAll(c.Bottles), m.Recipe, before), "look at the number; the count stands"))
			}
		}
		if m.How == BottlesIn && m.Count > 0 {
			came[m.Recipe] += m.Count
		}
	}
	return out
}

// oddNames points at a pile that is called as a batch is, and at a bed that was
// buried from itself.
func (s *State) oddNames() (out []Problem) {
	for _, p := range s.Piles {
		if b := s.batch(p.Name); b != nil && len(p.Entries) > 0 {
			e := p.namedBy()
			out = append(out, e.odd(nameKey(e), fmt.Sprintf("%s is the name of a batch, too: what is asked of it finds one of them", p.Name), "give the pile another name with [[renamed]]"))
		}
	}
	for _, e := range s.Entries {
		if x, ok := e.Event.(*Buried); ok && x.From != "" && folded(x.From) == folded(x.Bed) && s.wasBed(x.Bed, e) {
			out = append(out, e.odd("from", x.Bed+" is a bed, and was buried from itself", "name the pile the logs came from, or leave from out"))
		}
	}
	return out
}

// wasBed reports whether a bed stood under a name before an entry.
func (s *State) wasBed(name string, before *Entry) bool {
	for _, p := range s.Piles {
		if p.Kind == "bed" && folded(p.Name) == folded(name) && len(p.Entries) > 0 && p.Entries[0] != before {
			return true
		}
	}
	return false
}

// namedBy is the entry that gave a pile its name.
func (p *Pile) namedBy() *Entry {
	for _, e := range slices.Backward(p.Entries) {
		if x, ok := e.Event.(*Renamed); ok && folded(x.To) == folded(p.Name) {
			return e
		}
	}
	return p.Entries[0]
}

func nameKey(e *Entry) string {
	for _, k := range []string{"to", "into", "bed"} {
		if keyLine(e.Text, k) > 0 {
			return k
		}
	}
	return "pile"
}
