package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/yard"
)

// inoculating are the planned inoculations that are due within the fortnight
// or were left over, and the tags they want.
func (b *book) inoculating() (list []Task) {
	var bare []string // piles that have no tags yet
	for i := range b.State.Planned {
		k := &b.State.Planned[i]
		if !k.Open() || k.Month.From > b.fortnight() || k.Until > b.fortnight() {
			continue
		}
		list = append(list, b.inoculate(k))
		if k.Done == 0 && k.Pile != "" && !slices.Contains(bare, k.Pile) {
			bare = append(bare, k.Pile)
		}
	}
	slices.SortStableFunc(list, func(a, c Task) int { return cmp.Compare(a.From, c.From) })
	if len(bare) > 0 {
		t := b.anyDay("tags", "Make the tags of "+some(bare, namesInLine)+" before the day.",
			"On each the pile's name or its code of at most four signs, the mushroom and the month: logs look alike a year later.", "hodaba print tags")
		t.Page = seasonFile
		list = append(list, t)
	}
	return list
}

// inoculate is the line of one plan.
func (b *book) inoculate(k *yard.Planning) Task {
	from := max(b.today(), k.Month.From, k.Until)
	t := Task{Kind: "inoculate", Page: seasonFile, Of: idsOf(k.Entry), From: from, To: max(from, min(k.Month.To, b.fortnight()))}
	again := "hodaba record inoculated " + shell(k.Pile)
	if k.Pile == "" {
		again = "hodaba record inoculated … " + shell(k.Species) + " … logs"
	}
	name := cmp.Or(k.Pile, k.Species)
	t.Close = []string{again, "hodaba record put_off " + shell("inoculate "+name) + " until=…"}
	if k.Carried(b.today()) {
		t.To = b.fortnight()
		t.Do = "Inoculate " + b.planLogs(k) + ", left over from " + plannedMonth(k.Month) + "."
		t.Why = "The plan stands until they are done, put off or given up" + doneSoFar(k) + "."
		t.Close = append(t.Close, fmt.Sprintf("hodaba correct %s logs=%d", shell(entryID(k.Entry)), k.Done))
		return t
	}
	t.Do = "Inoculate " + b.planLogs(k) + "."
	t.Why = "It is planned for " + plannedMonth(k.Month) + doneSoFar(k) + "."
	return t
}

// planLogs are the logs that a plan still wants, and how.
func (b *book) planLogs(k *yard.Planning) string {
	s := "the logs"
	switch {
	case k.Left > 0 && k.Done > 0:
		s = "the other " + count(k.Left, "log", "logs")
	case k.Left > 0:
		s = count(k.Left, "log", "logs")
	}
	if k.Pile != "" {
		s += " of " + k.Pile
	}
	var how []string
	for _, w := range []string{k.Wood, k.Strain} {
		if w != "" {
			how = append(how, w)
		}
	}
	if k.Spawn != "" {
		how = append(how, k.Spawn+" spawn")
	}
	if k.Species != "" {
		s += " with " + k.Species
	}
	if len(how) > 0 {
		s += " (" + strings.Join(how, ", ") + ")"
	}
	return s
}

func doneSoFar(k *yard.Planning) string {
	if k.Done == 0 {
		return ""
	}
	return fmt.Sprintf("; %d of %d were done by %s", k.Done, k.Logs, sinceWords(k.Last))
}

// plannedMonth names a month, or a time that is none as it was written.
func plannedMonth(w yard.When) string {
	if w.From == w.From.MonthStart() && w.To == w.From.AddMonths(1)-1 {
		return monthYear(w.From)
	}
	return sinceWords(w)
}

// idsOf are the identifiers of entries; of those that are none, nothing.
func idsOf(entries ...*yard.Entry) (ids []string) {
	for _, e := range entries {
		if e != nil {
			ids = append(ids, e.ID)
		}
	}
	return ids
}

// eventOf is what an entry says, nil where there is none.
func eventOf(e *yard.Entry) yard.Event {
	if e == nil {
		return nil
	}
	return e.Event
}

// resting are the felled logs that have rested long enough, or too long.
func (b *book) resting() (list []Task) {
	pr := &b.Data.Practice
	least, most := yard.Date(pr.RestLeast.Value), yard.Date(pr.RestMost.Value)
	if most == 0 {
		return nil
	}
	for _, l := range b.State.Felled {
		ready, due := l.On.To+least, l.On.From+most
		if !l.Resting() || l.Until > b.fortnight() || ready > b.fortnight() {
			continue
		}
		from := min(max(b.today(), ready, l.Until), b.fortnight())
		t := Task{Kind: "rest", Page: seasonFile, Of: idsOf(l.Entry), From: from, To: max(from, min(due, b.fortnight()))}
		logs := b.lotLogs(l)
		t.Why = fmt.Sprintf("Sources disagree on how long wood should rest: one wants %d days at least, another allows %d; other fungi move into logs that lie.", int(least), int(most))
		t.Close = []string{b.ofLot(l), "hodaba record put_off " + shell("inoculate "+l.Lot) + " until=…"}
		switch {
		case !l.Untreated:
			t.Do = "Use " + logs + " for something else than mushrooms."
			t.Why = "The wood was treated: mushrooms take up what is in it, and nothing grown on it may be eaten."
			t.Close = t.Close[1:]
		case due < b.today():
			t.Do = fmt.Sprintf("Inoculate %s now, or use them for something else: they were felled %s ago.", logs, b.restedWords(l))
		default:
			t.Do = fmt.Sprintf("Inoculate %s by %s: they were felled %s ago.", logs, dayMonth(due), b.restedWords(l))
		}
		if x, ok := eventOf(l.Entry).(*yard.Felled); ok && x.Logs == l.Logs && l.Logs > 0 {
			t.Close = append(t.Close, fmt.Sprintf("hodaba correct %s logs=%d", shell(entryID(l.Entry)), l.Logs-l.Left))
		}
		list = append(list, t)
	}
	return list
}

func (b *book) lotLogs(l *yard.FelledLot) string {
	s := "the logs of lot " + l.Lot
	if l.Left > 0 {
		s = "the " + count(l.Left, "log", "logs") + " of lot " + l.Lot
	}
	if l.Wood != "" {
		s += " (" + l.Wood + ")"
	}
	return s
}

func (b *book) restedWords(l *yard.FelledLot) string {
	least, most := l.Rested(yard.On(b.today()))
	if least = max(0, least); least != most {
		return fmt.Sprintf("%d to %d days", least, most)
	}
	return count(most, "day", "days")
}

// ofLot writes down that logs of a lot were inoculated: as planned, where a
// plan wants their wood.
func (b *book) ofLot(l *yard.FelledLot) string {
	for i := range b.State.Planned {
		if k := &b.State.Planned[i]; k.Open() && k.Pile != "" && b.sameWood(k.Wood, l.Wood) {
			return fmt.Sprintf("hodaba record inoculated %s felled=%s … logs", shell(k.Pile), shell(l.Lot))
		}
	}
	return fmt.Sprintf("hodaba record inoculated … … felled=%s … logs", shell(l.Lot))
}

// sameWood reports whether two names mean one wood; a blank may be any.
func (b *book) sameWood(a, c string) bool {
	return a == "" || c == "" || b.wood(a) == b.wood(c)
}

// wood brings a wood to its name.
func (b *book) wood(name string) string {
	if w, ok := b.Data.FindWood(name); ok {
		return w.Name
	}
	return strings.ToLower(name)
}
