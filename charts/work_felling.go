package charts

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/yard"
)

// sawCaution stands wherever somebody is asked to fell.
const sawCaution = "A chainsaw is for those trained to it: helmet, eyes, ears, legs and boots protected, never alone; local rules say what may be felled and when."

// shortOf is logs of one wood that plans want and nobody has cut.
type shortOf struct {
	wood  string // "" any
	logs  int
	piles []string
	month yard.When // of the earliest plan
}

// felling is one line for each wood of which logs must be cut soon, so that
// they rest before they are inoculated.
func (b *book) felling() (list []Task) {
	pr := &b.Data.Practice
	least, most := yard.Date(pr.RestLeast.Value), yard.Date(pr.RestMost.Value)
	if most == 0 {
		return nil
	}
	for _, s := range b.logsShort(most) {
		what, record := count(s.logs, "log", "logs"), "hodaba record felled lot=…"
		if s.wood != "" {
			what += " of " + s.wood
			record += " wood=" + shell(s.wood)
		}
		if len(s.piles) > 0 {
			what += " for " + some(s.piles, namesInLine)
		}
		from := max(b.today(), s.month.From-most)
		list = append(list, Task{Kind: "fell", Page: seasonFile, From: from, To: max(from, min(s.month.To-least, b.fortnight())),
			Do: "Fell or fetch " + what + ".",
			Why: fmt.Sprintf("Inoculating is planned for %s; before that they rest, %d days at least by one source, %d at most by another. %s",
				plannedMonth(s.month), int(least), int(most), sawCaution),
			Close: []string{fmt.Sprintf("%s logs=%d", record, s.logs)}})
	}
	return list
}

// logsShort are the logs that open plans want, less those that rest, where it
// is time to cut them: not longer before than they may rest.
func (b *book) logsShort(most yard.Date) (list []shortOf) {
	for i := range b.State.Planned {
		k := &b.State.Planned[i]
		if !k.Open() || k.Left == 0 || k.Until > b.fortnight() || k.Month.From-most > b.fortnight() {
			continue
		}
		at := slices.IndexFunc(list, func(s shortOf) bool {
			return s.wood == k.Wood || s.wood != "" && k.Wood != "" && b.sameWood(s.wood, k.Wood)
		})
		if at < 0 {
			at, list = len(list), append(list, shortOf{wood: k.Wood, month: k.Month})
		}
		s := &list[at]
		s.logs += k.Left
		if k.Month.From < s.month.From {
			s.month = k.Month
		}
		if k.Pile != "" {
			s.piles = append(s.piles, k.Pile)
		}
	}
	slices.SortStableFunc(list, func(a, c shortOf) int { return cmp.Compare(a.month.From, c.month.From) })
	b.lessResting(list)
	return slices.DeleteFunc(list, func(s shortOf) bool { return s.logs <= 0 })
}

// lessResting takes off what rests already: logs whose wood is named first.
// A lot that nobody counted is taken to be enough.
func (b *book) lessResting(list []shortOf) {
	for _, named := range []bool{true, false} {
		for _, l := range b.State.Felled {
			if !l.Resting() || !l.Untreated || (l.Wood != "") != named {
				continue
			}
			left := l.Left
			for i := range list {
				s := &list[i]
				if !b.sameWood(s.wood, l.Wood) {
					continue
				}
				n := min(left, s.logs)
				if l.Logs == 0 {
					n = s.logs
				}
				s.logs -= n
				left -= n
			}
		}
	}
}
