package charts

import (
	"cmp"
	"fmt"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Supply is what comes fresh in the year ahead against what was promised and
// what can be kept and dried.
func (t Terminal) Supply(in Input) string {
	b := newBook(in)
	s := b.Result.Supply
	if s == nil {
		return t.write("There is no forecast, so nothing can be set against what was promised.")
	}
	var lead strings.Builder
	for _, x := range b.supplySaid(s) {
		lead.WriteString(wrap("", "", x))
	}
	parts := []string{lead.String(), t.supplyWeeks(b)}
	for i, g := range s.Gluts {
		if i >= glutsListed {
			break
		}
		p := b.glutPart("", g)
		var x strings.Builder
		x.WriteString(wrap("", "", p.Name+": glut. "+p.Lead))
		for _, said := range p.Leave {
			x.WriteString(wrap("- ", "  ", said))
		}
		for _, c := range p.Close {
			x.WriteString("      " + Clean(c) + "\n")
		}
		if p.Order != "" {
			x.WriteString(wrap("- ", "  ", p.Order))
		}
		if p.First != "" {
			x.WriteString(wrap("- ", "  ", p.First))
		}
		for _, d := range p.Days {
			x.WriteString(wrap(d.When+": ", "  ", strings.Join(d.Do, " ")))
		}
		if len(p.Later) > 0 {
			x.WriteString(wrap("", "", "The days after that: hodaba pages, or --json."))
		}
		x.WriteString(wrap("", "", p.Book))
		parts = append(parts, x.String())
	}
	parts = append(parts, t.dues(b), wrap("", "", sitWarm))
	return t.write(parts...)
}

// weeksShown is how many weeks a terminal lists, our own judgement.
const weeksShown = 26

func (t Terminal) supplyWeeks(b *book) string {
	s := b.Result.Supply
	rows := [][]string{}
	weeks := telling(s)
	later := ""
	if len(weeks) > weeksShown {
		weeks = weeks[:weeksShown]
		later = wrap("", "", "The weeks after that: hodaba pages, or --json.")
	}
	for _, w := range weeks {
		promised, met, room := "", "", ""
		if w.Promised > 0 {
			promised, met = t.fresh(w.Promised), inTen(w.Met)
		}
		if s.Drier {
			room = t.fresh(w.Room)
		}
		rows = append(rows, []string{w.Week.String(), t.fresh(w.Came.P10), t.fresh(w.Came.P50), t.fresh(w.Came.P90), promised, met, room, lookAt(w)})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Fresh by week, " + t.heavy() + "\n" + table([]column{{head: "week of"}, {head: "low", right: true}, {head: "likely", right: true}, {head: "high", right: true},
		{head: "promised", right: true}, {head: "met", right: true, most: 9}, {head: "drier", right: true}, {head: "look at", most: 22}}, rows) + later
}

func (t Terminal) dues(b *book) string {
	g := b.duesAhead(b.Result.Supply)
	if g == nil {
		return ""
	}
	return "The next promises\n" + table([]column{{head: "day", most: 17}, {head: "to", most: 14}, {head: "what", most: 12}, {head: "promised", right: true},
		{head: "open", right: true}, {head: "chance", most: 16, right: true}}, g.Rows)
}

// coldStock is what is fresh in the cold, by the record.
func (t Terminal) coldStock(s *yard.State, d *data.Set) string {
	fresh, older := inTheCold(s, d)
	rows := [][]string{}
	for _, w := range fresh {
		rows = append(rows, []string{w.Species, w.Picked.String(), strings.Join(w.Piles, ", "), w.Lot, w.Until.String(), t.fresh(w.KG) + " " + t.heavy()})
	}
	text := ""
	if len(rows) > 0 {
		text = "Fresh in the cold, by the record\n" + table([]column{{head: "species", most: 14}, {head: "picked"}, {head: "from", most: 18}, {head: "lot", most: 9},
			{head: "fresh until"}, {head: "left", right: true}}, rows)
	}
	b := newBook(Input{State: s, Data: d})
	if len(older) > 0 {
		text += wrap("", "", b.olderSaid())
	}
	return text
}

// drierStock are the loads in the drier.
func (t Terminal) drierStock(s *yard.State) string {
	rows := [][]string{}
	for _, l := range inTheDrier(s) {
		mass := "not weighed"
		if l.FreshKG.Known() {
			mass = t.fresh(l.FreshKG.Mid()) + " " + t.heavy()
		}
		rows = append(rows, []string{l.Name, l.Species, l.On.String(), mass})
	}
	if len(rows) == 0 {
		return ""
	}
	return "In the drier\n" + table([]column{{head: "load", most: 14}, {head: "species", most: 14}, {head: "since", most: 10}, {head: "went in", right: true}}, rows)
}

// dryTotals is the dried stock by species and form.
func (t Terminal) dryTotals(s *yard.State) string {
	rows := [][]string{}
	for _, k := range dryKinds(s) {
		rows = append(rows, []string{k.species, k.form, t.grams(k.grams)})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Dried, by species and form\n" + table([]column{{head: "species", most: 18}, {head: "form", most: 8}, {head: "left", right: true}}, rows)
}

// promisedStock is what fresh mushrooms are due this week.
func (t Terminal) promisedStock(s *yard.State, d *data.Set) string {
	rows := [][]string{}
	for _, x := range promisedThisWeek(s, d) {
		rows = append(rows, []string{x.Day.String(), x.To, cmp.Or(x.Species, "any fresh"), t.fresh(x.KG), t.fresh(x.KG - x.Open), t.fresh(x.Open)})
	}
	if len(rows) == 0 {
		return ""
	}
	return fmt.Sprintf("Fresh, promised for this week, %s\n", t.heavy()) + table([]column{{head: "day"}, {head: "to", most: 20}, {head: "what", most: 14},
		{head: "promised", right: true}, {head: "delivered", right: true}, {head: "open", right: true}}, rows)
}

// countedStock are the unexplained differences of stock-takes.
func (t Terminal) countedStock(s *yard.State) string {
	rows := [][]string{}
	for _, x := range differences(s, t.grams) {
		rows = append(rows, []string{x.on.String(), x.what, x.amount, x.entry})
	}
	if len(rows) == 0 {
		return ""
	}
	return "Unexplained at stock-takes\n" + table([]column{{head: "on", most: 10}, {head: "what", most: 26}, {head: "there was", most: 22}, {head: "entry", most: 14}}, rows)
}
