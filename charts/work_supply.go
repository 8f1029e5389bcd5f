package charts

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/forecast"
	"hodaba/yard"
)

// sellSoon is for how many days ahead the end of what is fresh is work, our own
// judgement.
const sellSoon = 3

// freshWork is what cannot wait of what was picked: loads to be taken out, what
// is fresh no longer than a few days, promises, gluts.
func (b *book) freshWork() []Task {
	list := append(b.takeOut(), b.sellBy()...)
	list = append(list, b.promisesDue()...)
	return append(list, b.glutWork()...)
}

// takeOut are the loads that are done in the drier.
func (b *book) takeOut() (list []Task) {
	for _, l := range inTheDrier(b.State) {
		ready := forecast.DrierReady(l, b.State.Config.Drier.HoursPerLoad)
		if ready > b.fortnight() {
			continue
		}
		on := max(ready, b.today())
		name, closing := "the load of "+l.Species, "hodaba record dried "+shell(l.Species)+" dry=…g"
		if l.Entry == nil || l.Name != l.Entry.ID {
			name, closing = "load "+l.Name, "hodaba record dried load="+shell(l.Name)+" dry=…g"
		}
		list = append(list, Task{From: on, To: on, Kind: "drier", Page: "stock.html",
			Do:    fmt.Sprintf("Take %s out of the drier %s and weigh it.", name, b.on(ready)),
			Why:   fmt.Sprintf("It is in %s: %s.", b.sinceEvening(l.On), b.loadedWords(l)),
			Close: []string{closing}})
	}
	slices.SortStableFunc(list, func(a, c Task) int { return cmp.Compare(a.From, c.From) })
	return list
}

// sinceEvening says since when a load is in.
func (b *book) sinceEvening(w yard.When) string {
	switch {
	case w.To == b.today():
		return "since today"
	case w.Exact() && w.To == b.today()-1:
		return "since yesterday evening"
	case w.Exact():
		return "since the evening of " + dayMonth(w.To)
	}
	return "since " + sinceWords(w)
}

func (b *book) loadedWords(l yard.Load) string {
	if !l.FreshKG.Known() {
		return l.Species + ", not weighed"
	}
	return b.units.kg(l.FreshKG.Mid()) + " of " + l.Species + " went in"
}

// sellBy is one line for all that is fresh for a few days only.
func (b *book) sellBy() []Task {
	fresh, _ := inTheCold(b.State, b.Data)
	var parts []string
	var first *forecast.Waiting
	for i, w := range fresh {
		if w.Until > b.today()+sellSoon {
			break
		}
		if first == nil {
			first = &fresh[i]
		}
		parts = append(parts, fmt.Sprintf("%s of %s (until %s)", b.units.kg(w.KG), w.Species, dayMonth(w.Until)))
	}
	if first == nil {
		return nil
	}
	mass := fmt.Sprintf("%.0fg", first.KG*1000)
	return []Task{{From: b.today(), To: max(first.Until, b.today()), Kind: "sell", Page: "stock.html",
		Do:  "Sell, dry or eat " + some(parts, namesInLine) + ".",
		Why: "After that it is no longer fresh; what sat warm or smells is thrown away, not dried.",
		Close: []string{"hodaba record sold " + shell(first.Species) + " fresh=" + mass, "hodaba record loaded species=" + shell(first.Species) + " fresh=" + mass,
			"hodaba record spoiled " + shell(first.Species) + " amount=" + mass}}}
}

// promisesDue are the promises of this week that are still open, and those of
// the next seven days.
func (b *book) promisesDue() (list []Task) {
	due := promisedThisWeek(b.State, b.Data)
	if s := b.Result.Supply; s != nil {
		due = s.Due
	}
	for _, d := range due {
		if d.Open <= 0 || d.Day > b.today()+6 {
			continue
		}
		on := max(d.Day, b.today())
		what := d.Species
		if what == "" {
			what = "fresh mushrooms"
		}
		to, closing := "", "hodaba record sold "+shell(cmp.Or(d.Species, "…"))+" …kg"
		if d.To != "" {
			to = " to " + d.To
			closing += " to=" + shell(d.To)
		}
		list = append(list, Task{From: on, To: on, Kind: "promise", Page: supplyFile,
			Do: fmt.Sprintf("Deliver %s of %s%s %s.", b.units.kg(d.Open), what, to, b.on(d.Day)), Why: b.promiseWhy(d), Close: []string{closing}})
	}
	return list
}

func (b *book) promiseWhy(d forecast.Due) string {
	why := "It is promised"
	if d.Open < d.KG-leastKG {
		why += fmt.Sprintf(", %s of %s is still open", b.units.kg(d.Open), b.units.kg(d.KG))
	}
	if d.Day >= b.today() && b.Result.Supply != nil {
		why += "; the chance that there is enough is " + percent(d.Met)
		if d.Met < b.State.Config.Confidence {
			why += ": say so in time"
		}
	}
	return why + "."
}

// glutWork is what is to be done for the next glut: leave a soak out before
// it, and in it what its days say.
func (b *book) glutWork() []Task {
	s := b.Result.Supply
	if s == nil || len(s.Gluts) == 0 {
		return nil
	}
	g := s.Gluts[0]
	leave := g.Leave != nil && g.Leave.In <= b.fortnight()
	if g.From > b.fortnight() && !leave {
		return nil
	}
	why := fmt.Sprintf("More than can be sold, kept or dried comes in %s with a chance of %s, then about %s too much.", weeksWords(g.From, g.To), percent(g.Chance), b.units.kg(g.Over.P50))
	t := Task{From: b.today(), To: min(max(g.From, b.today()), b.fortnight()), Kind: "glut", Page: supplyFile,
		Do: "Find buyers for a glut, and pick first what keeps least.", Why: why,
		Close: []string{"hodaba record sold … …kg to=…"}}
	if leave {
		l := g.Leave
		t.To = max(min(l.In-1, b.fortnight()), b.today())
		t.Do = fmt.Sprintf("Put off the soak of %s (%s), or find buyers for what it brings.", dayMonth(l.In), some(l.Piles, namesInLine))
		t.Close = []string{putOffCommand(l)}
	}
	return append([]Task{t}, b.loadTonight(g)...)
}

// loadTonight is today's load of a glut.
func (b *book) loadTonight(g forecast.Glut) (list []Task) {
	for _, d := range g.Days {
		if d.Day != b.today() || len(d.Dry) == 0 {
			continue
		}
		var parts []forecast.Kilos
		for _, l := range d.Dry {
			for _, p := range l.Parts {
				parts = addKilos(parts, p.Species, p.KG)
			}
		}
		words := b.kilosWords(parts)
		if words == "" {
			continue
		}
		list = append(list, Task{From: d.Day, To: d.Day, Kind: "load", Page: supplyFile,
			Do:    "Load the drier this evening with " + words + ".",
			Why:   "The cold room should be as empty as can be before more comes.",
			Close: []string{"hodaba record loaded species=" + shell(parts[0].Species) + " fresh=…kg"}})
	}
	return list
}
