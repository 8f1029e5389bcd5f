package charts

import (
	"fmt"
	"slices"

	"hodaba/forecast"
	"hodaba/yard"
)

// fan is a crop added up: what there was to today, then what should come on
// top of it. What is "fresh" or "dry", and done says how the past was
// measured; nil where nothing is forecast.
func (b *book) fan(id, what, done string, past []point, of dayEntries, ahead []yearAmount) *drawing {
	if len(ahead) == 0 {
		return nil
	}
	so := 0.0
	if n := len(past); n > 0 {
		so = past[n-1].v
	}
	last := ahead[len(ahead)-1]
	sofar := "nothing was " + done + " so far"
	if so > 0 {
		sofar = b.units.kg(so) + " were " + done + " so far"
	}
	d := &drawing{ID: id, Said: fmt.Sprintf("%s, added up: %s; by the end of %d it should be about %s, %s.",
		capital(what), sofar, last.year, b.units.kg(so+last.kg.P50), yearly(raised(last.kg, so), b.units.kg))}
	d.Table = grid{Caption: capital(what) + ", added up", Head: []string{"By", "Low", "Likely", "High"}}
	gone := of.gone
	for _, p := range past {
		for ; len(gone) > 0 && gone[0].On.Mid() < p.day; gone = gone[1:] {
			d.Table.addStruck(b.alone(gone[0]))
		}
		d.Table.addOfAll(of.days[p.day], fullDay(p.day)+", "+done, "", b.units.kg(p.v), "")
	}
	for _, g := range gone {
		d.Table.addStruck(b.alone(g))
	}
	for _, y := range ahead {
		sum := raised(y.kg, so)
		d.Table.add(fmt.Sprintf("end of %d, expected", y.year),
			b.units.kg(sum.P10), b.units.kg(sum.P50), b.units.kg(sum.P90))
	}
	d.Option = b.drawn(func() map[string]any { return b.fanOption(what, done, d.Said, past, so, ahead) })
	return d
}

// dayEntries are the entries that a sum by day is made of.
type dayEntries struct {
	days map[yard.Date][]mend
	gone []*goneEntry // that no longer count and stand beside none of them, by day
}

// weighedOf are the entries of weighed.
func (b *book) weighedOf(species string) dayEntries {
	of := dayEntries{days: map[yard.Date][]mend{}}
	for _, k := range b.State.Picks {
		if k.Weighed && k.Species == species {
			of.days[k.On.Mid()] = append(of.days[k.On.Mid()], b.mendOf(k.Entry))
		}
	}
	of.gone = b.goneBeside(of.days, func(g *goneEntry) bool {
		return g.kind == "harvested" && g.values["fresh"] != "" && b.goneSpecies(g) == species
	})
	return of
}

// driedOf are the entries of dried.
func (b *book) driedOf(species string) dayEntries {
	of := dayEntries{days: map[yard.Date][]mend{}}
	for _, l := range b.State.Dry {
		if l.From == "own" && l.Species == species {
			of.days[l.On.Mid()] = append(of.days[l.On.Mid()], b.mendOf(l.Entry))
		}
	}
	of.gone = b.goneBeside(of.days, func(g *goneEntry) bool { return g.kind == "dried" && b.goneSpecies(g) == species })
	return of
}

func (b *book) goneBeside(days map[yard.Date][]mend, touches func(*goneEntry) bool) []*goneEntry {
	shown := map[string]bool{}
	for _, list := range days {
		for _, m := range list {
			shown[m.ID] = true
		}
	}
	gone := b.struckAlone(touches, func(id string) bool { return shown[id] })
	slices.SortStableFunc(gone, func(x, y *goneEntry) int { return int(x.On.Mid()) - int(y.On.Mid()) })
	return gone
}

// goneSpecies is the species of what no longer counts: as it was named, or that
// of the first pile.
func (b *book) goneSpecies(g *goneEntry) string {
	name := g.values["species"]
	if s, ok := b.Data.FindSpecies(name); ok {
		return s.Name
	}
	for _, pile := range g.Piles() {
		if p := b.State.Pile(pile); p != nil && name == "" {
			return p.Species
		}
	}
	return name
}

// raised adds what is there already to every value.
func raised(a forecast.Amount, by float64) forecast.Amount {
	return forecast.Amount{P10: a.P10 + by, P50: a.P50 + by, P90: a.P90 + by, Mean: a.Mean + by}
}

// weighed are the kilograms picked of a species by day.
func (b *book) weighed(species string) map[yard.Date]float64 {
	byDay := map[yard.Date]float64{}
	for _, k := range b.State.Picks {
		if k.Weighed && k.Species == species {
			byDay[k.On.Mid()] += k.Fresh.Mid()
		}
	}
	return byDay
}

// dried are the kilograms of our own that were dried of a species by day.
func (b *book) dried(species string) map[yard.Date]float64 {
	byDay := map[yard.Date]float64{}
	for _, l := range b.State.Dry {
		if l.From == "own" && l.Species == species {
			byDay[l.On.Mid()] += l.InG / 1000
		}
	}
	return byDay
}

// addedUp is the running sum of amounts by day.
func (b *book) addedUp(byDay map[yard.Date]float64, done string) []point {
	var sum float64
	var list []point
	for _, day := range sortedDays(byDay) {
		sum += byDay[day]
		list = append(list, point{day: day, v: sum, said: fullDay(day) + ": " + b.units.kg(sum) + " " + done + " altogether"})
	}
	return list
}

func (b *book) fanOption(what, done, said string, past []point, so float64, years []yearAmount) map[string]any {
	by, unit := b.units.kgScale()
	had := slices.Clone(past)
	for i := range had {
		had[i].v /= by
	}
	start := point{day: b.today(), v: so / by}
	low, high, likely := []point{start}, []point{start}, []point{start}
	for _, y := range years {
		end, sum := yard.NewDate(y.year, 12, 31), raised(y.kg, so)
		low = append(low, point{day: end, v: sum.P10 / by})
		high = append(high, point{day: end, v: sum.P90 / by})
		likely = append(likely, point{day: end, v: sum.P50 / by,
			said: fmt.Sprintf("end of %d: likely %s, %s", y.year, b.units.kg(sum.P50), yearly(sum, b.units.kg))})
	}
	c := timeLine(unit+" "+what, nil, said)
	band(c, "8 years in 10", skyBlue, low, high)
	stroke(c, "expected", blue, "dashed", likely)
	if len(had) > 0 {
		stroke(c, done, green, "solid", append(slices.Clone(had), start))
		marks(c, "entries", green, "circle", had)
	}
	c.Validate()
	return option(&c.RectChart, sign{"8 years in 10", area}, sign{"expected", dashes}, sign{done, solid},
		sign{"entries", disc})
}
