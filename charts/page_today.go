package charts

import (
	"fmt"
	"strconv"

	"hodaba/yard"
)

// doorLines is the number of lines of work on the door sheet.
const doorLines = 7

// today is the main part of the door sheet.
type today struct {
	Broken  []problemLine // what must be mended before anything can be trusted
	Wrong   []Missed      // where the forecast of half a year ago missed
	Lines   []doorLine
	More    int // lines of work that found no room
	Coming  []sentence
	Waiting []sentence
	Odd     []problemLine // what is odd in the folder
	Piles   []pileLine
	Empty   bool // no pile is known
}

// doorLine is one line of work as it is printed.
type doorLine struct {
	Task
	When  string
	Mends []mend // the ways to the entries it is of
}

func (b *book) doorLine(t Task) doorLine {
	l := doorLine{Task: t, When: b.when(t)}
	for _, id := range t.Of {
		if m := b.mendID(id); m.Href != "" {
			l.Mends = append(l.Mends, m)
		}
	}
	return l
}

// pileLine is one pile in the list of all.
type pileLine struct {
	Name, Code, Href, Said string
	Why                    string // where its page says why; "" without a forecast
}

func (b *book) todaySheet() sheet {
	work := b.tasks
	t := today{
		Wrong: b.wrong(), Coming: b.coming(), Waiting: b.notYet(),
		More: max(len(work)-doorLines, 0), Empty: len(b.State.Piles) == 0,
	}
	for _, w := range work[:min(len(work), doorLines)] {
		t.Lines = append(t.Lines, b.doorLine(w))
	}
	t.Broken, t.Odd = b.problems()
	for _, p := range b.State.Piles {
		t.Piles = append(t.Piles, pileLine{p.Name, p.Code, b.slugs[p.Name], b.pileSaid(p), b.whyHref(p.Name)})
	}
	return sheet{kind: "today", file: "index.html", title: "Today", main: t}
}

// when says on which days a line of work is done.
func (b *book) when(t Task) string {
	switch {
	case t.From <= b.today() && t.To <= b.today():
		return "today"
	case t.From <= b.today() && t.To >= b.fortnight():
		return "this week or next"
	case t.From > sunday(b.today()) && t.From != t.To && t.To >= b.fortnight():
		return "next week"
	}
	return days(t.From, t.To)
}

// problemLine is what is wrong or odd, and the way to the entry it is of.
type problemLine struct {
	Text string
	Mend mend
}

// problems sorts what is wrong with the folder from what is odd in it.
func (b *book) problems() (wrong, odd []problemLine) {
	known := map[string]bool{}
	for _, e := range b.Written {
		known[e.ID] = true
	}
	for _, p := range b.Problems {
		s := p.File
		if p.Line > 0 {
			s += ":" + strconv.Itoa(p.Line)
		}
		s = fmt.Sprintf("%s: %s", s, p.Text)
		if p.Remedy != "" {
			s += "; " + p.Remedy
		}
		if p.File == yard.JournalFile && p.Grade == yard.Aside && p.Line > 0 && p.Entry != "" && b.Written != nil && !known[p.Entry] {
			s += fmt.Sprintf(". %s counts nowhere until that is put right in an editor, in line %d of %s: no command corrects what cannot be read",
				cut(p.Entry, idShown), p.Line, p.File)
		}
		l := problemLine{s, b.mendID(p.Entry)}
		if p.Grade == yard.Odd {
			odd = append(odd, l)
		} else {
			wrong = append(wrong, l)
		}
	}
	return wrong, odd
}

// pileSaid is the sentence of a pile in the list of all.
func (b *book) pileSaid(p *yard.Pile) string {
	switch f := b.ahead[p.Name]; {
	case p.Closed != 0:
		return "Its last log went on " + fullDay(p.Closed) + "."
	case f != nil:
		return leadOf(f, b.Result)
	case b.left[p.Name] != "":
		return "No forecast: " + b.left[p.Name] + "."
	}
	return "No forecast."
}
