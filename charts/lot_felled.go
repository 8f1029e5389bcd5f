package charts

import (
	"hodaba/yard"
)

// felled tells of logs that were cut, and into which piles they went.
func (t *teller) felled() {
	for _, l := range t.s.Felled {
		if !sameLot(l.Lot, t.lot) {
			continue
		}
		what := "felled logs"
		if l.Wood != "" {
			what = "felled logs of " + l.Wood
		}
		t.is(l.Lot, what)
		t.from(l.On, l.Entry, felledWords(l))
		for _, w := range l.Went {
			says := w.Pile.Name + " was inoculated on them"
			if w.Logs > 0 {
				says = count(w.Logs, "log", "logs") + " went into " + w.Pile.Name
			}
			t.to(w.On, w.Entry, says)
		}
		if l.Left > 0 {
			t.left = append(t.left, count(l.Left, "log", "logs")+" not inoculated yet")
		}
	}
}

func felledWords(l *yard.FelledLot) string {
	says := "logs"
	if l.Logs > 0 {
		says = count(l.Logs, "log", "logs")
	}
	if l.Wood != "" {
		says += " of " + l.Wood
	}
	says += plural(l.Logs, " was felled", " were felled")
	if l.From != "" {
		says += ", from " + l.From
	}
	if !l.Untreated {
		says += "; the wood was treated, and nothing grown on it may be eaten"
	}
	return says
}

// felledLots are the lots of felled logs that a pile was inoculated on.
func (t *teller) felledLots(p *yard.Pile) (lots []string) {
	for _, l := range t.s.Felled {
		for _, w := range l.Went {
			if w.Pile == p && (len(lots) == 0 || lots[len(lots)-1] != l.Lot) {
				lots = append(lots, l.Lot)
			}
		}
	}
	return lots
}
