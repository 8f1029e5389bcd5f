package charts

import (
	"fmt"
	"strconv"
	"strings"

	"hodaba/forecast"
)

// Soaks is the tank book: a ruled line per load ahead, and what came of the
// loads of the last half-year.
func (t Terminal) Soaks(in Input) string {
	b := newBook(in)
	parts := []string{wrap("", "", b.soakLead()), t.soakSetup(b), t.tankBook(b), t.partings(b), t.pastSoaks(b)}
	if notes := append(b.tankNotes(), b.soakNotes()...); len(notes) > 0 {
		parts = append(parts, sentences("To look at", notes))
	}
	if n := forecast.ForcedLogs(b.State, b.Data); n > 0 {
		parts = append(parts, t.supply(b, SupplyAsk{Logs: n, Yard: true}))
	}
	return t.write(append(parts, wrap("", "", strings.Join(soakCautions, " ")))...)
}

func (t Terminal) soakSetup(b *book) string {
	lines := b.soakSetup()
	if lines == nil {
		return ""
	}
	return "Write into yard.toml, with your own numbers:\n\n  " + strings.Join(lines, "\n  ")
}

// tankColumns are those of a load.
func (t Terminal) tankColumns() []column {
	return []column{{head: "week"}, {head: "in"}, {head: "out"}, {head: "part", most: 24}, {head: "logs", right: true},
		{head: t.heavy() + ", likely", most: 15}, {head: "picked about", most: 13}}
}

func (t Terminal) tankBook(b *book) string {
	lines, more := b.bookLines()
	if len(lines) == 0 {
		return ""
	}
	var rows [][]string
	after := map[int][]bookLine{} // empty weeks after so many rows
	for _, l := range lines {
		if l.Load == nil {
			after[len(rows)] = append(after[len(rows)], l)
			continue
		}
		rows = append(rows, t.loadRows(l)...)
	}
	out := []string{""}
	if len(rows) > 0 {
		out = strings.SplitAfter(strings.TrimRight(table(t.tankColumns(), rows), "\n"), "\n")
		out[len(out)-1] += "\n"
	}
	var s strings.Builder
	s.WriteString(wrap("", "", b.tankCaption()) + out[0])
	for i := 0; i <= len(rows); i++ {
		for _, l := range after[i] {
			s.WriteString(wrap(l.Weeks()+"  ", "    ", "empty: "+l.Why))
		}
		if i < len(rows) {
			s.WriteString(out[i+1])
		}
	}
	said := "In brackets 8 times in 10. " + guessedSoaks
	if more > 0 {
		said = "After that " + count(more, "load more", "loads more") + " within the year ahead. " + said
	}
	return s.String() + wrap("", "", said)
}

// loadRows are the rows of a load: the second part of it and all further ones
// have one each.
func (t Terminal) loadRows(l bookLine) (rows [][]string) {
	x := l.Load
	for i, p := range x.Parts {
		row := []string{"", "", "", partOf(cut(p.Pile, 14), p.Part) + plannedTag(p), strconv.Itoa(p.Logs), "", ""}
		if i == 0 {
			row[0], row[1], row[2] = l.Weeks(), x.In.Time().Format("2 Jan"), x.Out.Time().Format("2 Jan")
			row[5] = fmt.Sprintf("%s (%s–%s)", t.freshBare(x.Fresh.P50), t.freshBare(x.Fresh.P10), t.freshBare(x.Fresh.P90))
			row[6] = pickSpan(x.PickFrom, x.PickTo)
		}
		rows = append(rows, row)
	}
	return rows
}

// freshBare is fresh with a plain nought for next to nothing.
func (t Terminal) freshBare(kg float64) string {
	if s := t.fresh(kg); s != "·" {
		return s
	}
	return "0"
}

func (t Terminal) partings(b *book) string {
	var s strings.Builder
	for _, g := range b.partings() {
		s.WriteString(wrap("- ", "  ", g.words()))
	}
	if s.Len() == 0 {
		return ""
	}
	return "The parts and the colours of their tags\n" + s.String()
}

// pastSoaks are the loads on record, newest first.
func (t Terminal) pastSoaks(b *book) string {
	past := b.pastSoaks()
	if len(past) == 0 {
		return ""
	}
	var s strings.Builder
	s.WriteString("What came of the last half-year's soaks\n")
	for i := len(past) - 1; i >= 0; i-- {
		p := &past[i]
		logs := ""
		if p.Logs > 0 {
			logs = ", " + count(p.Logs, "log", "logs")
		}
		head := fmt.Sprintf("%-6s – %-6s  ", p.In.Time().Format("2 Jan"), p.Out.Time().Format("2 Jan"))
		s.WriteString(wrap(head, strings.Repeat(" ", 17), partOf(p.Pile.Name, p.Soaking.Part)+logs+": "+b.got(p)))
	}
	return s.String() + wrap("", "", b.gotKey())
}

// RotaSupply is the arithmetic of a weekly supply.
func (t Terminal) RotaSupply(in Input, ask SupplyAsk) string {
	return t.write(t.supply(newBook(in), ask))
}

func (t Terminal) supply(b *book, ask SupplyAsk) string {
	s := b.supplyAnswer(ask)
	g := b.supplyGrid(s)
	cols := []column{{head: g.Head[0], most: 48}, {head: g.Head[1], right: true}, {head: g.Head[2], right: true}}
	text := capital(g.Caption) + "\n" + table(cols, g.Rows)
	for _, said := range b.rotaSupplySaid(s) {
		text += "\n" + wrap("", "", said)
	}
	return text
}
