package charts

import (
	"fmt"
	"slices"

	"hodaba/forecast"
	"hodaba/yard"
)

// stockMonths is how far ahead stock is set against need.
const stockMonths = 18

// want is one batch's call on a species.
type want struct {
	day   yard.Date
	lot   string
	grams float64
	sum   float64 // with all batches before it
}

// wants are the planned batches that take a species, in order of day.
func (b *book) wants(species string) []want {
	if b.Result.Plan == nil {
		return nil
	}
	var list []want
	for _, t := range b.Result.Plan.Batches {
		for _, n := range t.Needs {
			if t.Start != 0 && n.Species == species && n.Grams > 0 {
				list = append(list, want{day: t.Start, lot: t.Lot, grams: n.Grams})
			}
		}
	}
	slices.SortStableFunc(list, func(a, c want) int { return int(a.day - c.day) })
	sum := 0.0
	for i := range list {
		sum += list[i].grams
		list[i].sum = sum
	}
	return list
}

// wanted are the species that planned batches take, in the order of the plan.
func (b *book) wanted() []string {
	var names []string
	if b.Result.Plan == nil {
		return nil
	}
	for _, t := range b.Result.Plan.Batches {
		for _, n := range t.Needs {
			if t.Start != 0 && !slices.Contains(names, n.Species) {
				names = append(names, n.Species)
			}
		}
	}
	return names
}

// level is what has come in of a species up to a day, in grams.
type level struct {
	day yard.Date
	g   forecast.Amount
}

// levels are what comes in of a species, today's stock included and nothing
// taken out, by month's end.
func (b *book) levels(species string) []level {
	s := b.Result.Stock
	if s == nil || s.Draws() == 0 {
		return nil
	}
	list := []level{{day: b.today()}}
	for i := range stockMonths {
		list = append(list, level{day: monthEnd(b.today().MonthStart().AddMonths(i))})
	}
	grams := make([]float64, s.Draws())
	for i := range list {
		for d := range grams {
			grams[d] = s.OnHand(species, d, list[i].day)
		}
		slices.Sort(grams)
		at := func(p float64) float64 { return grams[min(int(p*float64(len(grams))), len(grams)-1)] }
		list[i].g = forecast.Amount{P10: at(0.1), P50: at(0.5), P90: at(0.9)}
	}
	return list
}

// supply sets what comes in of a species against what the batches want of it.
func (b *book) supply(id, species string) *drawing {
	in, out := b.levels(species), b.wants(species)
	if len(in) == 0 || len(out) == 0 {
		return nil
	}
	last := out[len(out)-1]
	d := &drawing{ID: id,
		Said: fmt.Sprintf("%s: %s on hand today; the batches planned want %s of it altogether, the last on %s.",
			capital(species), b.units.g(in[0].g.P50), b.units.g(last.sum), fullDay(last.day))}
	d.Table = grid{Caption: "Dried " + species + ", added up: what comes in, and what the batches want",
		Head: []string{"By", "Come in: low", "likely", "high", "Wanted"}}
	for _, l := range in {
		d.Table.add(fullDay(l.day), b.units.g(l.g.P10), b.units.g(l.g.P50),
			b.units.g(l.g.P90), b.units.g(wantedBy(out, l.day)))
	}
	d.Option = b.drawn(func() map[string]any { return b.supplyOption(d.Said, in, out) })
	return d
}

// wantedBy is what the batches up to a day want.
func wantedBy(out []want, day yard.Date) float64 {
	sum := 0.0
	for _, w := range out {
		if w.day <= day {
			sum = w.sum
		}
	}
	return sum
}

func (b *book) supplyOption(said string, in []level, out []want) map[string]any {
	by, unit := 1.0, "g dry"
	if b.units.us {
		by, unit = ounceG, "oz dry"
	}
	var low, high, likely, steps, starts []point
	for _, l := range in {
		low = append(low, point{day: l.day, v: l.g.P10 / by})
		high = append(high, point{day: l.day, v: l.g.P90 / by})
		likely = append(likely, point{day: l.day, v: l.g.P50 / by, said: fmt.Sprintf("by %s: likely %s, %s",
			fullDay(l.day), b.units.g(l.g.P50),
			mostly("times", b.units.g(l.g.P10), b.units.g(l.g.P90)))})
	}
	end := in[len(in)-1].day
	steps = append(steps, point{day: in[0].day})
	for _, w := range out {
		if w.day > end {
			break
		}
		steps = append(steps, point{day: w.day, v: (w.sum - w.grams) / by}, point{day: w.day, v: w.sum / by})
		starts = append(starts, point{day: w.day, v: w.sum / by, said: fmt.Sprintf("%s on %s: %s wanted so far", w.lot,
			fullDay(w.day), b.units.g(w.sum))})
	}
	steps = append(steps, point{day: end, v: wantedBy(out, end) / by})
	c := timeLine(unit, nil, said)
	band(c, "8 times in 10", skyBlue, low, high)
	stroke(c, "comes in", blue, "solid", likely)
	stroke(c, "wanted", vermillion, "dashed", steps)
	marks(c, "batch put up", vermillion, "triangle", starts)
	c.Validate()
	return option(&c.RectChart, sign{"8 times in 10", area}, sign{"comes in", solid},
		sign{"wanted", dashes}, sign{"batch put up", "triangle"})
}
