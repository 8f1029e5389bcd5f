package charts

import (
	"fmt"
	"strconv"

	"hodaba/forecast"
	"hodaba/yard"
)

// shareDrawing is the share of logs run through over time, with what was seen
// on it.
func (b *book) shareDrawing(p *yard.Pile, f *forecast.Pile) *drawing {
	c := f.Colonised
	d := &drawing{ID: "share",
		Said: fmt.Sprintf("About %s of its living logs are run through today, %s; half of them %s.",
			percent(c.ShareNow), mostly("times", percent(c.ShareP10), percent(c.ShareP90)), halfBy(c))}
	seen := checks(p)
	past := b.pastMonths(f)
	d.Table = b.shareTable(past, f, seen)
	d.Option = b.drawn(func() map[string]any { return b.shareOption(d.Said, past, f, seen) })
	return d
}

// pastMonths are the months that are over; the present one is told by what
// stands today.
func (b *book) pastMonths(f *forecast.Pile) []forecast.Through {
	for i, t := range f.Past {
		if monthEnd(t.Month) >= b.today() {
			return f.Past[:i]
		}
	}
	return f.Past
}

func halfBy(c *forecast.Colonised) string {
	if c.Dates.P50 == 0 {
		return "not surely within the years looked at"
	}
	return "most likely by " + monthYear(c.Dates.P50) + ", " + inMonths(c.Dates, -1)
}

// checks are the looks at log ends that counted a white ring.
func checks(p *yard.Pile) []yard.Seen {
	var list []yard.Seen
	for _, s := range p.Seen {
		if s.Kind == "checked" && s.LookedAt > 0 && s.With >= 0 {
			list = append(list, s)
		}
	}
	return list
}

func (b *book) shareTable(past []forecast.Through, f *forecast.Pile, seen []yard.Seen) grid {
	g := grid{Caption: "Logs run through, by the end of the month",
		Head: []string{"Month", "Logs through", "8 times in 10"}}
	for _, t := range past {
		g.add(monthYear(t.Month), percent(t.Share), chance(t.Low)+" to "+percent(t.High))
	}
	c := f.Colonised
	g.add("today", percent(c.ShareNow), chance(c.ShareP10)+" to "+percent(c.ShareP90))
	for _, m := range untilSettled(f.Months) {
		g.add(monthYear(m.Month)+", expected", percent(m.ShareThrough), chance(m.ShareLow)+" to "+percent(m.ShareHigh))
	}
	for _, s := range seen {
		g.addOf(b.mendOf(s.Entry), "seen "+sinceWords(s.On), percent(float64(s.With)/float64(s.LookedAt)),
			strconv.Itoa(s.With)+" of "+strconv.Itoa(s.LookedAt)+" looked at")
	}
	return g
}

// monthEnd is the last day of the month that begins on d.
func monthEnd(d yard.Date) yard.Date { return d.MonthStart().AddMonths(1) - 1 }

func (b *book) shareOption(said string, past []forecast.Through, f *forecast.Pile,
	seen []yard.Seen) map[string]any {
	var low, high, likely, found []point
	for _, t := range past {
		day := monthEnd(t.Month)
		low = append(low, point{day: day, v: 100 * t.Low})
		high = append(high, point{day: day, v: 100 * t.High})
		likely = append(likely, point{day: day, v: 100 * t.Share,
			said: fmt.Sprintf("%s: %s of the logs, %s", monthYear(t.Month), percent(t.Share),
				mostly("times", percent(t.Low), percent(t.High)))})
	}
	now := f.Colonised
	low = append(low, point{day: b.today(), v: 100 * now.ShareP10})
	high = append(high, point{day: b.today(), v: 100 * now.ShareP90})
	likely = append(likely, point{day: b.today(), v: 100 * now.ShareNow,
		said: fmt.Sprintf("today: %s of the logs, %s", percent(now.ShareNow),
			mostly("times", percent(now.ShareP10), percent(now.ShareP90)))})
	ahead := []point{{day: b.today(), v: 100 * now.ShareNow}}
	for _, m := range untilSettled(f.Months) {
		day := monthEnd(m.Month)
		low = append(low, point{day: day, v: 100 * m.ShareLow})
		high = append(high, point{day: day, v: 100 * m.ShareHigh})
		ahead = append(ahead, point{day: day, v: 100 * m.ShareThrough,
			said: fmt.Sprintf("%s: %s of the logs expected, %s", monthYear(m.Month), percent(m.ShareThrough),
				mostly("times", percent(m.ShareLow), percent(m.ShareHigh)))})
	}
	for _, s := range seen {
		share := float64(s.With) / float64(s.LookedAt)
		found = append(found, point{day: s.On.Mid(), v: 100 * share, said: fmt.Sprintf("seen %s: %d of %d",
			sinceWords(s.On), s.With, s.LookedAt)})
	}
	c := timeLine("% of logs", 100, said)
	signs := []sign{{"8 times in 10", area}, {"so far", solid}, {"expected", dashes},
		{"half through, early to late", bracket}, {"seen", lozenge}}
	band(c, "8 times in 10", green, low, high)
	stroke(c, "so far", green, "solid", likely)
	stroke(c, "expected", green, "dashed", ahead)
	if d := f.Colonised.Dates; d.P10 != 0 && d.P90 != 0 {
		reach(c, "half through, early to late", blue,
			fmt.Sprintf("half through: early %s, likely %s, late %s", monthYear(d.P10), monthYear(d.P50),
				monthYear(d.P90)), 50, d.P10, d.P90)
	}
	marks(c, "seen", vermillion, "diamond", found)
	c.Validate()
	return option(&c.RectChart, signs...)
}

// pileKilograms is the crop of a pile by year: what was weighed, what is
// expected.
func (b *book) pileKilograms(p *yard.Pile, f *forecast.Pile) *drawing {
	var years []yearAmount
	for _, y := range f.YearsAhead {
		if b.cutShort(y.Year) {
			continue
		}
		years = append(years, yearAmount{y.Year, y.Fresh})
	}
	d := b.yearDrawing("kilograms", "fresh",
		b.picked(func(k *yard.Pick) bool { return len(k.Piles) == 1 && k.Piles[0] == p.Name }), years)
	if d == nil {
		return nil
	}
	d.Said = "What it gave, and what it should give, by calendar year."
	if n := b.shared(p); n > 0 {
		d.Said += " What was picked together with other piles (" + count(n, "basket",
			"baskets") + ") cannot be shared out and is not in it."
	}
	return d
}

// shared is the number of pickings from a pile and others together.
func (b *book) shared(p *yard.Pile) int {
	n := 0
	for _, k := range p.Picks {
		if len(k.Piles) > 1 {
			n++
		}
	}
	return n
}

// yearAmount is what one calendar year is expected to bring.
type yearAmount struct {
	year int
	kg   forecast.Amount
}

// picked sums the weighed kilograms by calendar year.
func (b *book) picked(which func(*yard.Pick) bool) map[int]float64 {
	sum := map[int]float64{}
	for _, k := range b.State.Picks {
		if k.Weighed && which(k) {
			sum[k.On.Mid().Year()] += k.Fresh.Mid()
		}
	}
	return sum
}

// yearDrawing is a bar for each year; nil where there is none.
func (b *book) yearDrawing(id, what string, past map[int]float64, ahead []yearAmount) *drawing {
	d := &drawing{ID: id, Table: grid{Caption: capital(what) + ", by calendar year",
		Head: []string{"Year", "Picked", "Expected: low", "likely", "high", "on average"}}}
	var bars []yearBar
	for _, year := range sortedYears(past) {
		if !inYears(ahead, year) {
			kg := b.units.kg(past[year])
			d.Table.add(strconv.Itoa(year), kg, "", "", "", "")
			bars = append(bars, b.pastBar(year, past[year]))
		}
	}
	for _, y := range ahead {
		kg := ""
		if past[y.year] > 0 {
			kg = b.units.kg(past[y.year])
		}
		d.Table.add(b.stillYear(y.year), kg, b.units.kg(y.kg.P10),
			b.units.kg(y.kg.P50), b.units.kg(y.kg.P90), b.units.kg(y.kg.Mean))
		bars = append(bars, b.aheadBar(y, past[y.year]))
	}
	if len(bars) == 0 {
		return nil
	}
	_, unit := b.units.kgScale()
	d.Option = b.drawn(func() map[string]any { return yearBars(unit, capital(what)+" by year", bars) })
	return d
}

// cutShort reports whether the forecast ends within a year: its sum would
// look like a poor crop.
func (b *book) cutShort(year int) bool {
	h := b.Result.Horizon
	return h != 0 && year >= h.Year() && h != yard.NewDate(year, 12, 31)
}

// stillYear names a year of which only the rest is forecast.
func (b *book) stillYear(year int) string {
	if year == b.today().Year() {
		return "rest of " + strconv.Itoa(year)
	}
	return strconv.Itoa(year)
}

func (b *book) pastBar(year int, kg float64) yearBar {
	by, _ := b.units.kgScale()
	return yearBar{label: strconv.Itoa(year), picked: kg / by,
		said: fmt.Sprintf("%d: %s picked", year, b.units.kg(kg))}
}

// aheadBar stands on what was picked in its year already.
func (b *book) aheadBar(y yearAmount, picked float64) yearBar {
	by, _ := b.units.kgScale()
	bar := yearBar{label: strconv.Itoa(y.year)}
	if picked > 0 {
		bar = b.pastBar(y.year, picked)
	}
	bar.low, bar.expected, bar.high = y.kg.P10/by, y.kg.P50/by, y.kg.P90/by
	bar.saidAhead = fmt.Sprintf("%s: likely %s, %s", b.stillYear(y.year), b.units.kg(y.kg.P50),
		yearly(y.kg, b.units.kg))
	return bar
}
