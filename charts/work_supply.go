package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

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

// takeOut are the loads that are done in the drier, or in it while it broke.
func (b *book) takeOut() (list []Task) {
	in := inTheDrier(b.State)
	for _, l := range in {
		ready := forecast.DrierReady(l, b.State.Config.Drier.HoursPerLoad)
		broke := b.brokeWith(l, ready)
		if ready > b.fortnight() && broke == nil {
			continue
		}
		on := max(ready, b.today())
		name, closing := b.loadName(l, in)
		t := Task{From: on, To: on, Kind: "drier", Page: "stock.html",
			Do:    fmt.Sprintf("Take %s out of the drier %s and weigh it.", name, b.on(ready)),
			Why:   fmt.Sprintf("It is in %s: %s.", b.sinceEvening(l.On), b.loadedWords(l)),
			Close: []string{closing}}
		if broke != nil {
			t.From, t.To = b.today(), b.today()
			t.Do = fmt.Sprintf("Look whether %s is dry through; finish it elsewhere if not, then weigh it.", name)
			t.Why = fmt.Sprintf("It is in %s: %s; the drier is broken since %s.", b.sinceEvening(l.On), b.loadedWords(l), dayMonth(broke.On.From))
		}
		list = append(list, t)
	}
	slices.SortStableFunc(list, func(a, c Task) int { return cmp.Compare(a.From, c.From) })
	return list
}

// brokeWith is the breakage of the drier that a load in it met before it was
// done, nil where it met none by now.
func (b *book) brokeWith(l yard.Load, ready yard.Date) *yard.Breakage {
	for d := l.On.To; d <= min(ready, b.today()); d++ {
		if x := b.State.BrokenOn("drier", d); x != nil {
			return x
		}
	}
	return nil
}

// loadName names a load in the drier, and the command that takes it out. One
// without a name is called by its entry where there are several of its species.
func (b *book) loadName(l yard.Load, in []yard.Load) (name, closing string) {
	if l.Entry == nil || l.Name != l.Entry.ID {
		return "load " + l.Name, "hodaba record dried load=" + shell(l.Name) + " dry=…g"
	}
	alike := 0
	for _, x := range in {
		if x.Species == l.Species && x.Entry != nil && x.Name == x.Entry.ID {
			alike++
		}
	}
	if alike < 2 {
		return "the load of " + l.Species, "hodaba record dried " + shell(l.Species) + " dry=…g"
	}
	return "the load of " + l.Species + " of " + dayMonth(l.On.To), "hodaba record dried load=" + shell(l.Name) + " dry=…g"
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

// glutWork is what is to be done for the gluts of this week and the next, or
// before them: soaks to be put off, and what their plans say of today and
// tomorrow.
func (b *book) glutWork() (list []Task) {
	s := b.Result.Supply
	if s == nil {
		return nil
	}
	for i := range s.Gluts {
		g := &s.Gluts[i]
		leave := len(g.Leave.Loads) > 0 && g.Leave.Loads[0].Soon
		if g.From > b.fortnight() && !leave {
			continue
		}
		list = append(list, b.glutTask(g, leave))
		for _, d := range g.Plan.Days {
			if d.Day >= b.today() && d.Day <= b.today()+1 {
				list = append(list, b.sellNow(d)...)
				list = append(list, b.loadTonight(d)...)
			}
		}
	}
	return list
}

// glutTask is one line for a glut as a whole.
func (b *book) glutTask(g *forecast.Glut, leave bool) Task {
	t := Task{From: b.today(), To: min(max(g.From, b.today()), b.fortnight()), Kind: "glut", Page: supplyFile,
		Do: "Find buyers for a glut, and pick first what keeps least.", Why: b.glutWhy(g, leave),
		Close: []string{"hodaba record sold … …kg to=…"}}
	if !leave {
		return t
	}
	var soaks []string
	for _, x := range g.Leave.Loads {
		if x.Soon {
			soaks = append(soaks, dayMonth(x.In)+" ("+some(x.Piles, namesInLine)+")")
		}
	}
	t.To = max(min(g.Leave.Loads[0].In-1, b.fortnight()), b.today())
	t.Close = putOffCommands(&g.Leave)
	t.Do = fmt.Sprintf("Put off the %s of %s until %s, or find buyers for what %s.", plural(len(soaks), "soak", "soaks"), listing(soaks), fullDay(g.Leave.Until), plural(len(soaks), "it brings", "they bring"))
	if g.Leave.Empty {
		t.Do = fmt.Sprintf("Leave the tank empty until %s, or find buyers for what the %s of %s would bring.", fullDay(g.Leave.Until), plural(len(soaks), "soak", "soaks"), listing(soaks))
	}
	return t
}

// askPutOff asks whether to put off a load of the tank that is picked in a glut.
func (b *book) askPutOff(l *forecast.Load, t Task) Task {
	if b.Result.Supply == nil {
		return t
	}
	for i := range b.Result.Supply.Gluts {
		leave := &b.Result.Supply.Gluts[i].Leave
		for _, x := range leave.Loads {
			if !x.Soon || x.In != l.In {
				continue
			}
			t.Why = fmt.Sprintf("It would be picked in a glut: put off until %s? %s", fullDay(leave.Until), t.Why)
			off := putOffLoad(x, leave.Until)
			if leave.Empty {
				off = putOffCommands(leave)
			}
			t.Close = append(off, slices.DeleteFunc(t.Close, func(c string) bool { return strings.HasPrefix(c, "hodaba record put_off ") })...)
			return t
		}
	}
	return t
}

// glutWhy is the chance of a glut, what finds no room in the weeks of its plan,
// and whether the drier is broken.
func (b *book) glutWhy(g *forecast.Glut, leave bool) string {
	why := fmt.Sprintf("More than can be sold, kept or dried comes in %s with a chance of %s, then about %s too much", weeksWords(g.From, g.To), percent(g.Chance), b.units.kg(g.Over.P50))
	if leave && g.Leave.Less >= leastDone {
		why += "; without " + plural(len(g.Leave.Loads), "that soak", "those soaks") + " up to " + b.units.kg(g.Leave.Less) + " less"
	}
	why += "."
	var over []forecast.Kilos
	for _, d := range g.Plan.Days {
		for _, x := range d.Sell {
			over = addKilos(over, x.Species, x.KG)
		}
	}
	if words := b.kilosWords(worthDoing(over)); words != "" {
		why += fmt.Sprintf(" As planned, %s find no room in %s.", words, weeksWords(g.Plan.From, g.Plan.To))
	}
	if shut := b.drierShutSaid(); shut != "" {
		why += " " + shut
	}
	return why
}

// sellNow is what finds no room on a day of a glut. What is fresh on that day only
// stands under what must be sold soon.
func (b *book) sellNow(d forecast.GlutDay) []Task {
	var parts, closing []string
	last := d.Day
	for _, x := range d.Sell {
		if x.KG < leastDone || x.By <= d.Day {
			continue
		}
		parts = append(parts, fmt.Sprintf("%s of %s by %s", b.units.kg(x.KG), x.Species, dayMonth(x.By)))
		closing = append(closing, "hodaba record sold "+shell(x.Species)+" …kg to=…")
		last = max(last, x.By)
	}
	if len(parts) == 0 {
		return nil
	}
	why := "There is no room for it in the cold."
	if d.Day > b.today() {
		why = "If as much comes as is planned for, there is no room for it in the cold."
	}
	if shut := b.drierShutSaid(); shut != "" {
		why += " " + shut
	}
	return []Task{{From: d.Day, To: last, Kind: "sell", Page: supplyFile, Do: "Sell or give away " + listing(parts) + ".", Why: why, Close: closing}}
}

// loadTonight are the loads of today in a glut.
func (b *book) loadTonight(d forecast.GlutDay) []Task {
	if d.Day != b.today() {
		return nil
	}
	var turns []string
	var closing []string
	for _, l := range d.Dry {
		words := b.kilosWords(worthDoing(l.Parts))
		if words == "" {
			continue
		}
		if l.After > 0 {
			words = "again " + wholeHours(l.After) + " later with " + words
		} else {
			words = "with " + words + ", out after " + wholeHours(l.Hours)
		}
		turns = append(turns, words)
		for _, p := range worthDoing(l.Parts) {
			if c := "hodaba record loaded species=" + shell(p.Species) + " fresh=…kg"; !slices.Contains(closing, c) {
				closing = append(closing, c)
			}
		}
	}
	if len(turns) == 0 {
		return nil
	}
	return []Task{{From: d.Day, To: d.Day, Kind: "load", Page: supplyFile,
		Do:    "Load the drier this evening " + strings.Join(turns, ", ") + ".",
		Why:   "The cold room should be as empty as can be before more comes.",
		Close: closing}}
}
