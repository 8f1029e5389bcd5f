package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast/score"
	"hodaba/yard"
)

// wrongSaid is how many sentences say where we were wrong.
const wrongSaid = 3

// Missed is one sentence on where the forecast of half a year ago was wrong.
type Missed struct {
	Said  string   // what was said, what came, and why
	More  string   // what stands behind it
	Close []string // commands, any one of which would tell more; may be empty
	Page  string   // file name of the page of the pile
}

// Wrong says where the forecast of half a year ago was wrong, and why, in at
// most three sentences. Piles of which nothing is written share one.
func Wrong(in Input) []Missed { return newBook(in).wrong() }

func (b *book) wrong() (said []Missed) {
	var silent []score.Miss
	for _, m := range b.Missed {
		switch {
		case m.Kind == score.NothingWritten:
			silent = append(silent, m)
		case len(said) < wrongSaid:
			said = append(said, b.missed(&m))
		}
	}
	if len(silent) > 0 && len(said) < wrongSaid {
		said = append(said, b.unwritten(silent))
	}
	return said
}

// endsLooked are the log ends that make a useful look; common practice, no
// source.
const endsLooked = 10

// missed is the sentence of one pile.
func (b *book) missed(m *score.Miss) Missed {
	out := Missed{Page: b.slugs[m.Pile]}
	switch m.Kind {
	case score.NothingCame:
		out.Said = fmt.Sprintf("in %s we said it would %s by %s; nothing came", b.inMonth(m.Made), fruitWord(m), b.inMonth(m.By))
		if m.Now.P50 != 0 {
			out.Said += "; now most likely " + monthYear(m.Now.P50)
		}
		out.More = "We had given it " + percent(m.Chance) + " by today."
		out.Close = []string{"hodaba record checked " + b.handle(m.Pile) + fmt.Sprintf(" …/%d", endsLooked)}
	case score.CameEarly:
		out.Said = fmt.Sprintf("in %s we said it would hardly %s before %s; something was up by %s", b.inMonth(m.Made), fruitWord(m),
			b.dayOf(m.By), b.dayOf(m.On))
		out.More = "We had given " + percent(m.Chance) + " to its coming so early."
		if m.Chance < 0.005 {
			out.More = "We had thought it all but impossible so early."
		}
	case score.LookOff:
		out.Said = fmt.Sprintf("in %s we said that %s log ends would show a white ring on %s; %s did", b.inMonth(m.Made),
			ofLogs(m.Low, m.High, m.LookedAt), b.dayOf(m.On), logsFound(m.With))
		out.More = fmt.Sprintf("We had given %s to so %s.", percent(m.Chance), map[bool]string{true: "few", false: "many"}[m.With < m.Low])
	}
	out.Said = capital(m.Pile) + ": " + out.Said
	because, more := b.because(m)
	if because != "" {
		out.Said += ", because " + because
	}
	out.Said += "."
	out.More += " " + more
	return out
}

func fruitWord(m *score.Miss) string {
	if m.First {
		return "first fruit"
	}
	return "fruit again"
}

// ofLogs reads "2 to 6 of 8".
func ofLogs(low, high, of int) string {
	if low == high {
		return fmt.Sprintf("%d of %d", low, of)
	}
	return fmt.Sprintf("%d to %d of %d", low, high, of)
}

func logsFound(n int) string {
	if n == 0 {
		return "none"
	}
	return fmt.Sprint(n)
}

// inMonth names a month, with its year where that is not this one.
func (b *book) inMonth(d yard.Date) string {
	if d.Year() == b.today().Year() {
		return d.Month().String()
	}
	return monthYear(d)
}

// dayOf names a day, with its year where that is not this one.
func (b *book) dayOf(d yard.Date) string {
	if d.Year() == b.today().Year() {
		return d.Time().Format("2 January")
	}
	return fullDay(d)
}

// handle is how a pile is called on a command line.
func (b *book) handle(name string) string {
	if p := b.State.Pile(name); p != nil {
		return handle(p)
	}
	return shell(name)
}

// because is why a forecast was wrong: the clause, "" where no reason is
// known, and what stands behind it.
func (b *book) because(m *score.Miss) (clause, more string) {
	w := &m.Why
	late := m.Late()
	than := map[bool]string{true: "more", false: "fewer"}[late]
	switch w.Kind {
	case score.WhyLook:
		return fmt.Sprintf("the look on %s found %s log ends with a white ring", b.dayOf(w.On), foundOf(w, late)),
			"Such a look counts for more than the season."
	case score.WhyOthers:
		return fmt.Sprintf("its logs need %s growing days than we thought", than),
			fmt.Sprintf("About %s, not %s: the log ends of %s told so on %s (%d of %d with a white ring).", figure(w.Days), figure(w.Before),
				w.Pile, b.dayOf(w.On), w.With, w.LookedAt)
	case score.WhyGrowth:
		word := map[bool]string{true: "fewer", false: "more"}[late]
		return "the year has had " + word + " growing days than nine years in ten",
			fmt.Sprintf("%s so far; by now %s are usual.", figure(w.Days), figure(w.Before))
	case score.WhyRain:
		word := map[bool]string{true: "dry", false: "wet"}[late]
		return fmt.Sprintf("%s was %s", b.inMonth(w.Month), word),
			fmt.Sprintf("In %s fell %s; %s are normal.", b.inMonth(w.Month), b.units.rain(w.RainMM), b.units.rain(w.UsualMM))
	case score.WhyDryLogs:
		return "its logs are dry", fmt.Sprintf("They hold %s water, and held %s then; so we reckon, the scales know better.",
			percent(w.Moisture), percent(w.MoistureThen))
	}
	return "", noReason(m.Odds())
}

// foundOf reads "only 2 of 10" or "as many as 8 of 10".
func foundOf(w *score.Why, late bool) string {
	if late {
		return fmt.Sprintf("only %d of %d", w.With, w.LookedAt)
	}
	return fmt.Sprintf("as many as %d of %d", w.With, w.LookedAt)
}

// noReason says how often a thing goes so that had this chance; one that had
// next to none is more likely our mistake.
func noReason(p float64) string {
	often := "one time in five"
	switch {
	case p < 0.03:
		return "We know no reason, and it should hardly ever go so: look at the pile, and trust its forecast less."
	case p < 0.075:
		often = "one time in twenty"
	case p < 0.15:
		often = "one time in ten"
	}
	return "No reason that we know: " + often + " it goes so."
}

// unwritten is the sentence of all piles of which nothing is written.
func (b *book) unwritten(list []score.Miss) Missed {
	out := Missed{Page: b.slugs[list[0].Pile],
		More: "Something picked and not written down teaches us nothing, and so does a round on which nothing was up."}
	var names, handles []string
	for _, m := range list {
		names = append(names, fmt.Sprintf("%s (by %s)", m.Pile, b.inMonth(m.By)))
		handles = append(handles, b.handle(m.Pile))
	}
	out.Said = fmt.Sprintf("In %s we said that %s would fruit; nothing is written down: went round?", b.inMonth(list[0].Made), some(names, namesInLine))
	if len(list) == 1 {
		m := &list[0]
		out.Said = fmt.Sprintf("%s: in %s we said it would %s by %s; nothing is written down: went round?", capital(m.Pile), b.inMonth(m.Made), fruitWord(m), b.inMonth(m.By))
	}
	out.Close = []string{"hodaba record harvested " + handles[0] + " …kg",
		"hodaba record walked " + strings.Join(handles[:min(len(handles), namesInLine)], " ")}
	return out
}
