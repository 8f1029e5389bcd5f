package charts

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// How far ahead and how much the door sheet says, our own judgement.
const (
	monthsComing  = 3   // months ahead whose likely pickings are named
	firstsComing  = 5   // first flushes named
	batchesComing = 4   // batches named
	waitingSaid   = 7   // piles and batches that wait, each with its reason
	seasonNames   = 12  // piles named that wait for their season
	yearAhead     = 365 // days within which a first flush or a batch counts as coming
	worthSaying   = 0.1 // kg of a crop that is worth a word
	seasonGap     = 120 // days of waiting from which a pile that is through waits for its season
)

// Coming says what can be expected, in sentences: likely pickings of the next
// months, first flushes and batches of the next year, this year's crop.
func Coming(in Input) []string { return texts(newBook(in).coming()) }

// sentence is a sentence that may be of one pile: then Why is where its page
// says why.
type sentence struct{ Text, Pile, Why string }

func texts(said []sentence) (list []string) {
	for _, s := range said {
		list = append(list, s.Text)
	}
	return list
}

// plainly makes sentences of texts that are of no single pile.
func plainly(list []string) (said []sentence) {
	for _, s := range list {
		said = append(said, sentence{Text: s})
	}
	return said
}

// whyHref is where the page of a pile says why.
func (b *book) whyHref(pile string) string {
	if file := b.slugs[pile]; file != "" && b.ahead[pile] != nil {
		return file + "#why"
	}
	return ""
}

// ofPile is a sentence of one pile.
func (b *book) ofPile(f *forecast.Pile, text string) sentence {
	return sentence{text, f.Name, b.whyHref(f.Name)}
}

func (b *book) coming() []sentence {
	said := plainly(b.comingMonths())
	said = append(said, b.comingFirsts()...)
	said = append(said, plainly(b.comingBatches())...)
	return append(said, plainly(b.comingCrop())...)
}

func (b *book) comingMonths() []string {
	var said []string
	for i := 1; i <= monthsComing; i++ {
		month := b.today().MonthStart().AddMonths(i)
		type likely struct {
			name string
			p    float64
		}
		var up []likely
		for _, f := range b.Result.Piles {
			if m := monthOfPile(f, month); m != nil && m.HarvestChance >= pickLikely {
				up = append(up, likely{f.Name, m.HarvestChance})
			}
		}
		if len(up) == 0 {
			continue
		}
		slices.SortStableFunc(up, func(a, c likely) int { return cmp.Compare(c.p, a.p) })
		var names []string
		for _, l := range up {
			names = append(names, fmt.Sprintf("%s (%s)", l.name, percent(l.p)))
		}
		said = append(said, "Likely pickings in "+monthYear(month)+": "+some(names, namesInLine)+".")
	}
	return said
}

func monthOfPile(f *forecast.Pile, month yard.Date) *forecast.Month {
	for i := range f.Months {
		if f.Months[i].Month == month {
			return &f.Months[i]
		}
	}
	return nil
}

func (b *book) comingFirsts() []sentence {
	var next []*forecast.Pile
	for _, f := range b.Result.Piles {
		if !f.Picked && f.First.P50 != 0 && f.First.P50 <= b.today()+yearAhead {
			next = append(next, f)
		}
	}
	slices.SortStableFunc(next, func(a, c *forecast.Pile) int { return cmp.Compare(a.First.P50, c.First.P50) })
	var said []sentence
	for _, f := range next[:min(len(next), firstsComing)] {
		said = append(said, b.ofPile(f, fmt.Sprintf("The first flush of %s is most likely in %s, %s.",
			f.Name, monthYear(f.First.P50), inMonths(f.First.Dates, f.First.Chance))))
	}
	if n := len(next) - firstsComing; n > 0 {
		said = append(said, sentence{Text: "First flushes within a year on " + count(n, "pile more",
			"piles more") + "; each has its page."})
	}
	return said
}

func (b *book) comingBatches() []string {
	if b.Result.Plan == nil {
		return nil
	}
	var said []string
	more := 0
	byDay := slices.SortedStableFunc(slices.Values(b.Result.Plan.Batches),
		func(a, c tincture.Batch) int { return cmp.Compare(a.Start, c.Start) })
	for _, t := range byDay {
		if t.Start <= b.fortnight() || t.Start > b.today()+yearAhead {
			continue
		}
		if len(said) == batchesComing {
			more++
			continue
		}
		s := fmt.Sprintf("%s (%s) can be put up on %s with a chance of %s", t.Lot, t.Recipe,
			fullDay(t.Start), percent(t.StartChance))
		if t.Bottled != 0 {
			s += ", and is then bottled on " + fullDay(t.Bottled)
		}
		said = append(said, s+".")
	}
	if more > 0 {
		said = append(said, count(more, "batch more", "batches more")+" within a year, on the jar shelf.")
	}
	return said
}

// comingCrop is what the rest of the calendar year should bring, largest
// first.
func (b *book) comingCrop() []string {
	type crop struct {
		kg   float64
		said string
	}
	var crops []crop
	for _, s := range b.Result.Species {
		for _, y := range s.Years {
			if y.Year == b.today().Year() && y.Fresh.P50 >= worthSaying {
				crops = append(crops, crop{y.Fresh.P50, fmt.Sprintf("%s %s (%s)", s.Species,
					b.units.kg(y.Fresh.P50), between(y.Fresh, b.units.kg))})
			}
		}
	}
	if len(crops) == 0 {
		return nil
	}
	slices.SortStableFunc(crops, func(a, c crop) int { return cmp.Compare(c.kg, a.kg) })
	var parts []string
	for _, c := range crops {
		parts = append(parts, c.said)
	}
	return []string{fmt.Sprintf("The rest of %d should bring, fresh: %s; in brackets 8 years in 10.",
		b.today().Year(), some(parts, namesInLine))}
}

// NotYet says what has to wait, and why.
func NotYet(in Input) []string { return texts(newBook(in).notYet()) }

func (b *book) notYet() []sentence {
	said := b.waitingPiles()
	said = append(said, plainly(b.waitingBatches())...)
	for _, l := range b.Result.LeftOut {
		said = append(said, sentence{Text: fmt.Sprintf("%s has no forecast: %s.", capital(l.Pile), l.Why)})
	}
	return said
}

// waitingPiles are the piles that still grow, one by one, and those that wait
// for their season, together.
func (b *book) waitingPiles() []sentence {
	var said []sentence
	var season []string
	more := 0
	for _, f := range b.Result.Piles {
		switch {
		case growing(f) && len(said) < waitingSaid:
			said = append(said, b.ofPile(f, fmt.Sprintf("%s is not run through: %s; half should be through by %s.",
				capital(f.Name), b.growingWords(f), whenHalf(f.Colonised))))
		case growing(f):
			more++
		case f.First.P50 == 0 || f.First.P50 > b.today()+seasonGap:
			season = append(season, f.Name+" ("+b.seasonWords(f)+")")
		}
	}
	if more > 0 {
		said = append(said, sentence{Text: count(more, "pile more is",
			"piles more are") + " not run through; each says why on its page."})
	}
	if len(season) > 0 {
		said = append(said, sentence{Text: "These wait for their season, in brackets when 8 times in 10 something comes: " + some(season, seasonNames) + "."})
	}
	return said
}

// growing reports whether a pile is more likely not run through than not.
func growing(f *forecast.Pile) bool {
	return f.Colonised != nil && !f.Picked && f.Colonised.ChanceNow < 0.5
}

// seasonWords is the inner eight tenths of the next picking, short.
func (b *book) seasonWords(f *forecast.Pile) string {
	d := f.First.Dates
	switch {
	case d.P10 == 0:
		return fmt.Sprintf("%s before %s", percent(f.First.Chance), monthYear(b.Result.Horizon))
	case d.P90 == 0:
		return fmt.Sprintf("from %s, %s that it comes at all", monthYear(d.P10), percent(f.First.Chance))
	case d.P10.MonthStart() == d.P90.MonthStart():
		return monthYear(d.P10)
	case d.P10.Year() == d.P90.Year():
		return d.P10.Time().Format("January") + " to " + monthYear(d.P90)
	}
	return monthYear(d.P10) + " to " + monthYear(d.P90)
}

func whenHalf(c *forecast.Colonised) string {
	if c.Dates.P50 == 0 {
		return "a time beyond the years looked at"
	}
	return monthYear(c.Dates.P50) + " (" + inMonths(c.Dates, -1) + ")"
}

// growingWords says how far the growing has come.
func (b *book) growingWords(f *forecast.Pile) string {
	s := fmt.Sprintf("it has had %s growing days and half of its logs need about %s",
		figure(f.GrowingDays.P50), figure(f.NeedDays.P50))
	if len(f.Months) > 0 && f.Months[0].Winter {
		s += ", and it is too cold to grow now"
	}
	return s
}

// waitingBatches are the next batches of recipes that have none within the
// year; the later ones of a recipe mostly wait for the same.
func (b *book) waitingBatches() []string {
	if b.Result.Plan == nil {
		return nil
	}
	var said []string
	more, known := 0, map[string]bool{}
	for _, t := range b.Result.Plan.Batches {
		first := !known[t.Recipe]
		known[t.Recipe] = true
		switch {
		case t.Start != 0 && t.Start <= b.today()+yearAhead:
		case first && len(said) < waitingSaid:
			said = append(said, b.batchWaits(t))
		default:
			more++
		}
	}
	if more > 0 {
		said = append(said, count(more, "later batch waits",
			"later batches wait")+", each with its reason on the jar shelf.")
	}
	return said
}

func (b *book) batchWaits(t tincture.Batch) string {
	s := fmt.Sprintf("%s (%s) ", capital(t.Lot), t.Recipe)
	if t.Start != 0 {
		s += fmt.Sprintf("has to wait until %s (%s)", monthYear(t.Start), percent(t.StartChance))
	} else {
		s += fmt.Sprintf("has no day yet; the chance that it can be put up at all before %s is %s",
			monthYear(b.Result.Horizon), percent(t.Reached))
	}
	if t.Why != "" {
		s += ": " + t.Why
	}
	return s + "."
}
