package charts

import (
	"fmt"
	"strconv"

	"hodaba/forecast"
)

// loadDrawing shows what each load ahead should bring; nil where there is
// none.
func (b *book) loadDrawing() *drawing {
	lines, _ := b.bookLines()
	by, unit := b.units.kgScale()
	var bars []yearBar
	g := grid{Caption: "What each load should bring, fresh", Words: 3,
		Head: []string{"Week", "In", "What goes in", "Something comes", "Low", "Likely", "High", "On average"}}
	best := (*forecast.Load)(nil)
	for _, line := range lines {
		l := line.Load
		if l == nil {
			continue
		}
		if best == nil || l.Fresh.P50 > best.Fresh.P50 {
			best = l
		}
		g.add(weekShort(l.Week), dayMonth(l.In), b.partsShort(l), percent(l.Chance), b.units.kg(l.Fresh.P10), b.units.kg(l.Fresh.P50),
			b.units.kg(l.Fresh.P90), b.units.kg(l.Fresh.Mean))
		bars = append(bars, yearBar{label: weekShort(l.Week), low: l.Fresh.P10 / by, expected: l.Fresh.P50 / by, high: l.Fresh.P90 / by,
			saidAhead: fmt.Sprintf("week %s, in on %s: likely %s, %s", weekShort(l.Week)[1:], dayMonth(l.In), b.units.kg(l.Fresh.P50),
				mostly("times", b.units.kg(l.Fresh.P10), b.units.kg(l.Fresh.P90)))})
	}
	if best == nil {
		return nil
	}
	d := &drawing{ID: "loads", Table: g, Said: fmt.Sprintf("What each load should bring, by the week in which it goes in: most that of week %s, likely %s.",
		weekShort(best.Week)[1:], b.units.kg(best.Fresh.P50))}
	d.Option = b.drawn(func() map[string]any { return yearBars(unit+" fresh", d.Said, bars) })
	return d
}

// partsShort names what goes in, without the logs.
func (b *book) partsShort(l *forecast.Load) string {
	var parts []string
	for _, p := range l.Parts {
		parts = append(parts, partOf(p.Pile, p.Part))
	}
	return some(parts, namesInLine)
}

// weekDrawings show what is picked week by week of each species that goes into
// the tank, what rain brings included.
func (b *book) weekDrawings() (list []drawing) {
	if b.firstLoad() == nil {
		return nil
	}
	soaked := map[string]bool{}
	for _, l := range b.Result.Loads {
		for _, p := range l.Parts {
			if y := b.State.Pile(p.Pile); y != nil {
				soaked[y.Species] = true
			}
		}
	}
	for _, s := range b.Result.Species {
		if soaked[s.Species] && len(s.Weeks) > 0 {
			list = append(list, b.weekDrawing("weeks"+strconv.Itoa(len(list)+1), s))
		}
	}
	return list
}

func (b *book) weekDrawing(id string, s forecast.Species) drawing {
	by, unit := b.units.kgScale()
	g := grid{Caption: "Fresh " + s.Species + " week by week, soaks and weather together", Words: 2,
		Head: []string{"Week", "From", "A picking", "Low", "Likely", "High", "On average"}}
	var bars []yearBar
	best := s.Weeks[0]
	for _, w := range s.Weeks {
		if w.Fresh.Mean > best.Fresh.Mean {
			best = w
		}
		g.add(weekShort(w.Week), dayMonth(w.Week), percent(w.HarvestChance), b.units.kg(w.Fresh.P10), b.units.kg(w.Fresh.P50),
			b.units.kg(w.Fresh.P90), b.units.kg(w.Fresh.Mean))
		bars = append(bars, yearBar{label: weekShort(w.Week), low: w.Fresh.P10 / by, expected: w.Fresh.P50 / by, high: w.Fresh.P90 / by,
			saidAhead: fmt.Sprintf("week %s, from %s: likely %s, %s", weekShort(w.Week)[1:], dayMonth(w.Week), b.units.kg(w.Fresh.P50),
				mostly("times", b.units.kg(w.Fresh.P10), b.units.kg(w.Fresh.P90)))})
	}
	d := drawing{ID: id, Table: g, Said: fmt.Sprintf("%s to be picked week by week, from the tank and by the weather: on average most in week %s, %s.",
		capital(s.Species), weekShort(best.Week)[1:], b.units.kg(best.Fresh.Mean))}
	d.Option = b.drawn(func() map[string]any { return yearBars(unit+" fresh", d.Said, bars) })
	return d
}
