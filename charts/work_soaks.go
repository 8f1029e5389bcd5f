package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

const soaksFile = "soaks.html"

// soaking are the loads that are due this week or next.
func (b *book) soaking() (list []Task) {
	for i := range b.Result.Loads {
		l := &b.Result.Loads[i]
		if l.Skipped != "" || len(l.Parts) == 0 || l.In > b.fortnight() || l.In < b.today() {
			continue
		}
		list = append(list, b.askPutOff(l, Task{From: l.In, To: l.In, Kind: "soak", Page: soaksFile,
			Do:    fmt.Sprintf("Put %s into the tank %s, out %s.", b.loadWords(l), b.on(l.In), b.outWords(l)),
			Why:   b.soakWhy(l),
			Close: b.soakClose(l)}))
	}
	return list
}

func (b *book) outWords(l *forecast.Load) string {
	if l.In == b.today() && l.Out == l.In+1 {
		return "tomorrow at the same hour"
	}
	return "on " + dayMonth(l.Out)
}

// soakWhy says what a load should bring and since when it has rested.
func (b *book) soakWhy(l *forecast.Load) string {
	s := capital(b.bringsWords(l))
	var last []string
	for _, p := range l.Parts {
		switch {
		case p.Blank:
			last = append(last, partOf(p.Pile, p.Part)+" brought nothing last time")
		case p.Last != 0:
			last = append(last, partOf(p.Pile, p.Part)+" was soaked or picked last on "+dayMonth(p.Last))
		}
	}
	if len(last) > 0 {
		s += "; " + some(last, namesInLine)
	}
	return s + "."
}

// soakClose writes the whole load down with one line, or puts it off.
func (b *book) soakClose(l *forecast.Load) []string {
	var did []string
	for _, p := range l.Parts {
		c := "hodaba record soaked " + b.handleOf(p.Pile)
		if p.Part != "" {
			c += " part=" + p.Part
		}
		did = append(did, c+" "+count(p.Logs, "log", "logs"))
	}
	first := l.Parts[0].Pile
	return []string{strings.Join(did, " && "),
		"hodaba record put_off " + shell("soak "+first) + " until=…"}
}

func (b *book) handleOf(pile string) string {
	if p := b.State.Pile(pile); p != nil {
		return handle(p)
	}
	return shell(pile)
}

// asking is one line for all soaks of which nobody wrote what came: blanks do
// not record themselves.
func (b *book) asking() []Task {
	pr := &b.Data.Practice
	var said, names []string
	var first *yard.Pile
	for _, s := range b.pastSoaks() {
		since := float64(b.today() - s.In)
		if s.Pile.Closed != 0 || s.Answered() || b.pickedSince(&s) || since < pr.SoakAsk.Value || since > pr.SoakAnswer.Value {
			continue
		}
		if first == nil {
			first = s.Pile
		}
		said = append(said, partOf(s.Pile.Name, s.Soaking.Part)+" ("+dayMonth(s.In)+")")
		if h := handle(s.Pile); !strings.Contains(" "+strings.Join(names, " ")+" ", " "+h+" ") {
			names = append(names, h)
		}
	}
	if first == nil {
		return nil
	}
	t := b.anyDay("asked", "Write down whether anything came of the "+plural(len(said), "soak", "soaks")+" of "+some(said, namesInLine)+".",
		"Nothing is written down since; a blank goes back into the tank sooner, and only you know it from a picking that nobody wrote down.",
		"hodaba record harvested "+names[0]+" …kg",
		"hodaba record walked "+strings.Join(names[:min(len(names), namesInLine)], " "))
	t.Page = soaksFile
	return []Task{t}
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
