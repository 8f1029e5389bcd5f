package charts

import (
	"fmt"
	"slices"
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
	var did, later []string
	for _, p := range l.Parts {
		did = append(did, "hodaba record soaked "+b.handleOf(p.Pile)+partArg(p.Part)+" "+count(p.Logs, "log", "logs"))
		later = append(later, putOffCommand(strings.TrimSpace("soak "+p.Pile+" "+p.Part), "…"))
	}
	return []string{strings.Join(did, " && "), strings.Join(later, " && ")}
}

// partArg names a part on a command line; "" for a whole pile.
func partArg(part string) string {
	switch {
	case part == "":
		return ""
	case shell(part) == part:
		return " part=" + part
	}
	return " " + shell("part="+part)
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
	var open []forecast.PastSoak
	var said []string
	for _, s := range b.pastSoaks() {
		since := float64(b.today() - s.In)
		if s.Pile.Closed != 0 || s.Answered() || s.Later || since < pr.SoakAsk.Value || since > pr.SoakAnswer.Value {
			continue
		}
		open = append(open, s)
		said = append(said, partOf(s.Pile.Name, s.Soaking.Part)+" ("+dayMonth(s.In)+")")
	}
	if len(open) == 0 {
		return nil
	}
	first := &open[0]
	t := b.anyDay("asked", "Write down whether anything came of the "+plural(len(said), "soak", "soaks")+" of "+some(said, namesInLine)+".",
		"Nothing is written down since; a blank goes back into the tank sooner, and only you know it from a picking that nobody wrote down.",
		"hodaba record harvested "+handle(first.Pile)+partArg(first.Soaking.Part)+" …kg", walkedPast(open))
	t.Page = soaksFile
	for _, s := range open[:min(len(open), namesInLine)] {
		t.Of = append(t.Of, idsOf(s.Soaking.Entry)...)
	}
	return []Task{t}
}

// walkedPast writes down that nothing was up: in one line for whole piles, and
// in one for each part.
func walkedPast(open []forecast.PastSoak) string {
	var whole, each []string
	for _, s := range open {
		name := handle(s.Pile)
		if part := partArg(s.Soaking.Part); part != "" {
			if line := "hodaba record walked " + name + part; !slices.Contains(each, line) {
				each = append(each, line)
			}
		} else if !slices.Contains(whole, name) {
			whole = append(whole, name)
		}
	}
	if whole = whole[:min(len(whole), namesInLine)]; len(whole) > 0 {
		each = slices.Insert(each, 0, "hodaba record walked "+strings.Join(whole, " "))
	}
	return strings.Join(each[:min(len(each), namesInLine)], " && ")
}

// retiring is one line for the piles whose logs may be worth retiring: a
// suggestion, by which no forecast changes.
func (b *book) retiring() []Task {
	spent := func(p *yard.Pile) bool { return b.worthRetiring(p.Name) != nil }
	return b.gap(spent, func(names string, first *yard.Pile) Task {
		return b.anyDay("retire", "Look whether the logs of "+names+" are worth keeping.",
			"They may be spent; the page of each pile says why. It is only a suggestion.", "hodaba record retired "+handle(first))
	})
}

// worthRetiring is why the logs of a pile may be worth retiring, nil where they
// are not.
func (b *book) worthRetiring(pile string) *forecast.Retirement {
	if f := b.ahead[pile]; f != nil && f.Retire != nil && f.Retire.Suggested {
		return f.Retire
	}
	return nil
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}
