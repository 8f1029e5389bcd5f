package charts

import (
	"fmt"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Stock is what is on hand by lot; d says how long fresh mushrooms keep.
func (t Terminal) Stock(s *yard.State, d *data.Set) string {
	parts := []string{t.coldStock(s, d), t.drierStock(s), t.promisedStock(s, d), t.dryTotals(s), t.dryStock(s), t.countedStock(s),
		t.freshStock(s), t.jars(s), t.bottles(s), t.bought(s)}
	if strings.Join(parts, "") == "" {
		parts = []string{"Nothing on hand that was written down. What is there already:\n  hodaba record counted shiitake 250g"}
	}
	return t.write(parts...)
}

func (t Terminal) dryStock(s *yard.State) string {
	rows := [][]string{}
	for _, l := range s.Dry {
		left := t.grams(l.LeftG)
		if l.LeftG < 0 {
			left += " !"
		}
		rows = append(rows, []string{l.Lot, l.Species, l.Form, l.On.String(), l.From, t.grams(l.InG), left})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Dried\n" + table([]column{{head: "lot", most: 12}, {head: "species", most: 14}, {head: "form", most: 8},
		{head: "on", most: 10}, {head: "from", most: 8}, {head: "in", right: true}, {head: "left", right: true}}, rows) + shortDry(s)
}

// shortDry says that a lot cannot be right.
func shortDry(s *yard.State) string {
	for _, l := range s.Dry {
		if l.LeftG < 0 {
			return wrap("! ", "  ", fmt.Sprintf("more was taken than came in: weigh it and write hodaba record counted %s 100g", yard.CommandWord(l.Species)))
		}
	}
	return ""
}

func (t Terminal) freshStock(s *yard.State) string {
	rows := [][]string{}
	for _, p := range recentPicks(s) {
		mass := "not weighed"
		if p.Weighed {
			mass = t.fresh(p.Fresh.Mid()) + " " + t.heavy()
		}
		rows = append(rows, []string{p.Lot, p.Species, p.On.String(), strings.Join(p.Piles, ", "), mass})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Picked in the last week\n" + table([]column{{head: "lot", most: 12}, {head: "species", most: 14},
		{head: "on", most: 10}, {head: "from", most: 24}, {head: "picked", right: true}}, rows)
}

func (t Terminal) jars(s *yard.State) string {
	rows, used := [][]string{}, 0
	for _, b := range standingBatches(s) {
		used += b.JarsStanding()
		rows = append(rows, []string{b.Lot, b.Recipe, b.On.String(), fmt.Sprint(b.JarsStanding())})
	}
	if len(rows) == 0 && s.Config.Kitchen.Jars == 0 {
		return ""
	}
	head := fmt.Sprintf("Jars: %d in use", used)
	if n := s.Config.Kitchen.Jars; n > 0 {
		head += fmt.Sprintf(" of %d", n)
	}
	if len(rows) == 0 {
		return head
	}
	return head + "\n" + table([]column{{head: "batch", most: 14}, {head: "recipe", most: 24}, {head: "since", most: 10}, {head: "jars", right: true}}, rows)
}

func (t Terminal) bottles(s *yard.State) string {
	rows := [][]string{}
	for _, b := range s.Bottles {
		for _, n := range b.Bottles {
			rows = append(rows, []string{b.Recipe, b.Lot, t.liquid(n.SizeML), fmt.Sprint(n.Count)})
		}
	}
	if len(rows) == 0 {
		return ""
	}
	return "Bottles\n" + table([]column{{head: "recipe", most: 24}, {head: "batch", most: 14}, {head: "size", right: true}, {head: "bottles", right: true}}, rows)
}

func (t Terminal) bought(s *yard.State) string {
	rows := [][]string{}
	for _, b := range s.Bought {
		rows = append(rows, []string{b.On.String(), b.Item, b.Amount.Text, b.Lot})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Bought\n" + table([]column{{head: "on", most: 10}, {head: "item", most: 30}, {head: "amount", most: 14}, {head: "lot", most: 14}}, rows)
}

// Work is where we were wrong, and what to do this week and next.
func (t Terminal) Work(s *yard.State, wrong []Missed, tasks []Task, coming, notYet []string) string {
	_, week := s.AsOf.Week()
	parts := []string{fmt.Sprintf("%s, %s, week %d", Clean(s.Config.Name), s.AsOf.Time().Format("Monday 2 January 2006"), week), t.wrong(wrong)}
	if len(tasks) == 0 {
		parts = append(parts, "Nothing has to be done this week or next.")
	} else {
		parts = append(parts, t.tasks(tasks))
	}
	parts = append(parts, sentences("Coming", coming), sentences("Not yet, and why", notYet))
	return t.write(parts...)
}

// wrong is where the forecast of half a year ago missed.
func (t Terminal) wrong(list []Missed) string {
	if len(list) == 0 {
		return ""
	}
	b := strings.Builder{}
	b.WriteString("Where we were wrong\n")
	for _, m := range list {
		b.WriteString(wrap("- ", "  ", m.Said+" "+m.More))
		for _, c := range m.Close {
			b.WriteString("      " + Clean(c) + "\n")
		}
	}
	return b.String()
}

func (t Terminal) tasks(tasks []Task) string {
	var b strings.Builder
	for i, k := range tasks {
		days := k.From.Time().Format("Mon 2 Jan")
		if k.To != k.From && k.To != 0 {
			days += " to " + k.To.Time().Format("Mon 2 Jan")
		}
		b.WriteString(wrap(fmt.Sprintf("%2d. ", i+1), "    ", days+": "+k.Do+" "+k.Why))
		for _, c := range k.Close {
			b.WriteString("      " + Clean(c) + "\n")
		}
	}
	return b.String()
}

func sentences(head string, lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString(head + "\n")
	for _, l := range lines {
		b.WriteString(wrap("- ", "  ", l))
	}
	return b.String()
}

// History lists entries, newest last, each with its identifier; of those that
// no longer count it says by what they were replaced, by whom and when.
func (t Terminal) History(entries []*yard.Entry) string { return t.HistoryOn(entries, 0) }

// HistoryOn is History as of a day; 0 is no day in particular. Corrections that
// were written after it say so.
func (t Terminal) HistoryOn(entries []*yard.Entry, asOf yard.Date) string {
	if len(entries) == 0 {
		return t.write("No entry matches.")
	}
	var b strings.Builder
	for _, e := range entries {
		when, text := e.Day(), historySays(e, asOf)
		on := when.String()
		if when.IsZero() {
			on = ""
		}
		if len(on) > 10 {
			on, text = when.From.String(), text+" (until "+when.To.String()+")"
		}
		if e.Replaced != nil {
			words, _ := goneWords(e)
			text += " (no longer counts: " + words + ", see " + e.Replaced.ID + ")"
		}
		if e.Name() != e.ID {
			text += " (other entries have this identifier, too; correct this one as " + e.Name() + ")"
		}
		if e.By != "" {
			text += " [" + e.By + "]"
		}
		b.WriteString(wrap(fmt.Sprintf("%-10s  %-14s  ", on, cut(e.ID, 14)), strings.Repeat(" ", 12), text))
	}
	return t.write(b.String())
}

// historySays is an entry in words, with what keeps it from counting.
func historySays(e *yard.Entry, asOf yard.Date) string {
	text := e.Says()
	switch written := e.Written.Day(); {
	case e.Event == nil && text == "":
		return fmt.Sprintf("cannot be read, line %d", e.Line)
	case e.Event == nil:
		return fmt.Sprintf("%s (set aside, line %d%s)", text, e.Line, firstTrouble(e))
	case e.Astray:
		return text + " (corrects nothing: there is no such entry)"
	case asOf != 0 && written > asOf && e.Kind == "corrected":
		return text + " (written later, " + fullDay(written) + ")"
	}
	return text
}

// firstTrouble is the first thing that is wrong with an entry.
func firstTrouble(e *yard.Entry) string {
	for _, p := range e.Trouble() {
		if p.Grade != yard.Odd {
			return ": " + p.Text
		}
	}
	return ""
}

// Problems lists what is wrong or odd, worst first within a file.
func (t Terminal) Problems(problems []yard.Problem) string {
	var b strings.Builder
	for _, p := range problems {
		b.WriteString(wrap(gradeLead(p.Grade), "  ", p.String()))
	}
	return t.write(b.String())
}

func gradeLead(g yard.Grade) string {
	switch g {
	case yard.Odd:
		return "odd: "
	case yard.Aside:
		return "set aside: "
	default:
		return "wrong: "
	}
}
