package charts

import (
	"fmt"

	"hodaba/forecast"
	"hodaba/yard"
)

// supplyDrawing sets what is expected against what was promised, by week.
func (b *book) supplyDrawing(s *forecast.Supply) *drawing {
	weeks := telling(s)
	if len(weeks) == 0 {
		return nil
	}
	kg := b.units.kg
	d := &drawing{ID: "supply", Said: b.supplyDrawn(s, weeks)}
	d.Table = grid{Caption: "Expected against promised, week by week",
		Head: []string{"Week of", "Look at", "Low", "Likely", "High", "Promised", "Chance that all is met", "Left for the drier, likely", "Drier takes"}, Words: 2}
	for _, w := range weeks {
		promised, sure, room := "", "", ""
		if w.Promised > 0 {
			promised, sure = kg(w.Promised), percent(w.Met)
		}
		if s.Drier {
			room = kg(w.Room)
		}
		d.Table.add(fullDay(w.Week), lookAt(w), kg(w.Came.P10), kg(w.Came.P50), kg(w.Came.P90), promised, sure, kg(w.Left.P50), room)
	}
	d.Option = b.drawn(func() map[string]any { return b.supplyWeeksOption(d.Said, s, weeks) })
	return d
}

// dwarfs is how many times more than all else a drier takes that would press a
// chart flat, our own judgement.
const dwarfs = 2

// roomDrawn is what the drier takes in a week at most, and whether that is on
// the chart.
func roomDrawn(s *forecast.Supply, weeks []forecast.SupplyWeek) (room float64, drawn bool) {
	most := 0.0
	for _, w := range weeks {
		room, most = max(room, w.Room), max(most, w.Came.P90, w.Promised)
	}
	return room, s.Drier && room <= dwarfs*most
}

// supplyDrawn says what is on the chart.
func (b *book) supplyDrawn(s *forecast.Supply, weeks []forecast.SupplyWeek) string {
	room, drawn := roomDrawn(s, weeks)
	switch {
	case drawn:
		return "Fresh, by week: what should come, what was promised, and what the drier takes."
	case s.Drier:
		return "Fresh, by week: what should come and what was promised. The drier takes far more than that, up to " + b.units.kg(room) + " a week."
	}
	return "Fresh, by week: what should come, what was promised."
}

func (b *book) supplyWeeksOption(said string, s *forecast.Supply, weeks []forecast.SupplyWeek) map[string]any {
	by, unit := b.units.kgScale()
	var low, high, likely, promised, room, gluts, shorts []point
	for _, w := range weeks {
		low = append(low, point{day: w.Week, v: w.Came.P10 / by})
		high = append(high, point{day: w.Week, v: w.Came.P90 / by})
		likely = append(likely, point{day: w.Week, v: w.Came.P50 / by, said: b.weekSaid(w)})
		promised = append(promised, point{day: w.Week, v: w.Promised / by})
		if w.Week >= b.today() { // a week that has begun has fewer nights left
			room = append(room, point{day: w.Week, v: w.Room / by})
		}
		if w.Glut {
			gluts = append(gluts, point{day: w.Week, v: w.Came.P90 / by, said: "glut: chance " + percent(w.OverChance)})
		}
		if w.Short {
			shorts = append(shorts, point{day: w.Week, v: w.Promised / by, said: "short: promises are met with a chance of " + percent(w.Met)})
		}
	}
	c := timeLine(unit+" fresh", nil, said)
	band(c, "8 times in 10", skyBlue, low, high)
	stroke(c, "expected, likely", blue, "solid", likely)
	stroke(c, "promised", vermillion, "dashed", promised)
	if _, drawn := roomDrawn(s, weeks); drawn {
		stroke(c, "drier takes", green, "dotted", room)
	}
	marks(c, "glut", vermillion, "triangle", gluts)
	marks(c, "short", skyBlue, "diamond", shorts)
	c.Validate()
	return option(&c.RectChart, sign{"8 times in 10", area}, sign{"expected, likely", solid}, sign{"promised", dashes},
		sign{"drier takes", dots}, sign{"glut", "triangle"}, sign{"short", lozenge})
}

// weekSaid is the tooltip of a week.
func (b *book) weekSaid(w forecast.SupplyWeek) string {
	text := fmt.Sprintf("%s: likely %s, %s", weekOfWords(w.Week), b.units.kg(w.Came.P50), mostly("times", b.units.kg(w.Came.P10), b.units.kg(w.Came.P90)))
	if w.Promised > 0 {
		text += "; promised " + b.units.kg(w.Promised)
	}
	return text
}

// How many months of the harvest stand on one axis, our own judgement.
const (
	monthsBack  = 18
	monthsAhead = 18
)

// harvestMonths puts what was picked of a species and what should come on one
// axis of months; nil where there is neither.
func (b *book) harvestMonths(id string, f forecast.Species) *drawing {
	now := b.today().MonthStart()
	past, seasons := b.pickedByMonth(f.Species)
	first := now
	for m, kg := range past {
		if kg > 0 && m >= now.AddMonths(-monthsBack) {
			first = min(first, m)
		}
	}
	ahead := f.Months[:min(len(f.Months), monthsAhead)]
	if len(ahead) == 0 && first == now && past[now] == 0 {
		return nil
	}
	until, said, head := now, "Fresh, month by month: what was weighed, and what should come.", []string{"Month", "Picked", "Expected: low", "likely", "high"}
	if len(ahead) == 0 {
		until, said, head = now.AddMonths(1), "Fresh, month by month: what was weighed.", head[:2]
	}
	d := &drawing{ID: id, Said: said, Table: grid{Caption: "Fresh " + f.Species + " by month", Head: head}}
	if seasons {
		d.Said += " What was noted for a whole season at once is not in it."
	}
	var bars []yearBar
	for m := first; m < until; m = m.AddMonths(1) {
		d.Table.add([]string{monthYear(m), b.units.kg(past[m]), "", "", ""}[:len(head)]...)
		bars = append(bars, b.monthBar(m, past[m], nil))
	}
	for i, x := range ahead {
		name, had := monthYear(x.Month), ""
		if i == 0 {
			name = "rest of " + name
		}
		if past[x.Month] > 0 {
			had = b.units.kg(past[x.Month])
		}
		d.Table.add(name, had, b.units.kg(x.Fresh.P10), b.units.kg(x.Fresh.P50), b.units.kg(x.Fresh.P90))
		bars = append(bars, b.monthBar(x.Month, past[x.Month], &x.Fresh))
	}
	_, unit := b.units.kgScale()
	d.Option = b.drawn(func() map[string]any { return yearBars(unit, "Fresh by month", bars) })
	return d
}

// pickedByMonth sums what was weighed of a species; seasons tells of pickings
// that no month can be given to.
func (b *book) pickedByMonth(species string) (kg map[yard.Date]float64, seasons bool) {
	kg = map[yard.Date]float64{}
	for _, k := range b.State.Picks {
		switch {
		case !k.Weighed || k.Species != species:
		case k.Season:
			seasons = true
		default:
			kg[k.On.Mid().MonthStart()] += k.Fresh.Mid()
		}
	}
	return kg, seasons
}

func (b *book) monthBar(m yard.Date, had float64, ahead *forecast.Amount) yearBar {
	by, _ := b.units.kgScale()
	bar := yearBar{label: m.Time().Format("Jan 06"), picked: had / by}
	if had > 0 || ahead == nil {
		bar.said = monthYear(m) + ": " + b.units.kg(had) + " picked"
	}
	if ahead != nil {
		bar.low, bar.expected, bar.high = ahead.P10/by, ahead.P50/by, ahead.P90/by
		bar.saidAhead = fmt.Sprintf("%s: likely %s to come, %s", monthYear(m), b.units.kg(ahead.P50), yearly(*ahead, b.units.kg))
	}
	return bar
}
