package charts

import (
	"fmt"
	"slices"

	"hodaba/data"
	"hodaba/forecast"
)

// soakNotes say what is amiss with soaks on record, and with the parts.
func (b *book) soakNotes() (notes []string) {
	// Twice as far back: the first that is told of has one before it too.
	from := b.today() - 7*pastWeeks
	past := forecast.PastSoaks(b.State, b.Data, from-7*pastWeeks)
	for i := range past {
		s := &past[i]
		t := forecast.StrainOf(s.Pile, b.Data)
		if t == nil || s.In < from {
			continue
		}
		for _, note := range []string{b.notForced(s, t), b.tooEarly(s, t), b.tooClose(s, soakBefore(past[:i], s), t), b.inFrost(s)} {
			if note != "" {
				notes = append(notes, note)
			}
		}
	}
	for _, g := range b.partings() {
		if !g.even() {
			notes = append(notes, fmt.Sprintf("The logs of %s do not divide evenly: %s.", g.pile, g.tags()))
		}
	}
	return slices.Concat(notes, b.unripe(), b.spentInTank())
}

// soakBefore is the last soak before one that was certainly of some of the same
// logs; nil for none.
func soakBefore(past []forecast.PastSoak, s *forecast.PastSoak) *forecast.PastSoak {
	for i := len(past) - 1; i >= 0; i-- {
		if o := &past[i]; o.Pile == s.Pile && o.In < s.In && s.Pile.SameLogs(o.Soaking, s.Soaking) {
			return o
		}
	}
	return nil
}

// spentInTank are piles that the tank book takes although their logs may be
// worth retiring.
func (b *book) spentInTank() (notes []string) {
	said := map[string]bool{}
	for _, l := range b.Result.Loads {
		for _, p := range l.Parts {
			retire := b.worthRetiring(p.Pile)
			if retire == nil || said[p.Pile] {
				continue
			}
			said[p.Pile] = true
			notes = append(notes, fmt.Sprintf("%s still takes room in the tank, and its logs may be worth retiring: they hold about %s.",
				capital(p.Pile), b.units.kg(retire.Left.P50)))
		}
	}
	return notes
}

// ripeLikely is the chance of being run through under which soaking a pile is
// pointed at, our own judgement.
const ripeLikely = 0.5

// unripe are piles that the tank book takes although they are hardly run
// through by then, each once.
func (b *book) unripe() (notes []string) {
	lines, _ := b.bookLines()
	said := map[string]bool{}
	for _, l := range lines {
		if l.Load == nil {
			continue
		}
		for _, p := range l.Load.Parts {
			f := b.ahead[p.Pile]
			if f == nil || f.Colonised == nil || f.Picked || said[p.Pile] {
				continue
			}
			said[p.Pile] = true
			if m := monthOfPile(f, l.Load.In.MonthStart()); m != nil && m.ColonisedChance < ripeLikely {
				notes = append(notes, fmt.Sprintf("%s goes in on %s after its year, but is only %s likely to be run through by then: look at its log ends first, or put it off with hodaba record put_off %s until=….",
					capital(p.Pile), dayMonth(l.Load.In), percent(m.ColonisedChance), shell("soak "+p.Pile)))
			}
		}
	}
	return notes
}

// soakName names a soak: "The soak of oak-north A red on 1 May".
func soakName(s *forecast.PastSoak) string {
	return "The soak of " + partOf(s.Pile.Name, s.Soaking.Part) + " on " + s.In.Time().Format("2 January")
}

func (b *book) notForced(s *forecast.PastSoak, t *data.Strain) string {
	if t.Fruit.Forced {
		return ""
	}
	return soakName(s) + " forces nothing: " + speciesWords(s.Pile.Species, t.Name) + " fruits on its own schedule."
}

// tooEarly tells of a soak before the rule of the first one allows it. Logs
// that came ready-made may be older than they stand here.
func (b *book) tooEarly(s *forecast.PastSoak, t *data.Strain) string {
	p := s.Pile
	for _, k := range p.Picks {
		if k.On.From < s.In {
			return "" // it had fruited, and so was through
		}
	}
	if b.State.Config.Soak.First == "after the first flush" {
		return soakName(s) + " came before its first flush, after which yard.toml wants the first soak."
	}
	if t.Fruit.Forced && !p.Colonised && p.State != "through" && s.In < p.Since.To.AddMonths(12) {
		return soakName(s) + " came before the logs had stood a year or fruited by themselves, which growers wait for."
	}
	return ""
}

// tooClose tells of a soak within the rest of the same logs, or within the
// cycle where the yard keeps a shorter one. A blank goes back in sooner.
func (b *book) tooClose(s, before *forecast.PastSoak, t *data.Strain) string {
	if !t.Fruit.Forced || before == nil {
		return ""
	}
	weeks, least := t.Fruit.RestWeeks.Typical, "mostly"
	if cycle := float64(forecast.CycleWeeks(b.State, b.Data)); cycle < weeks {
		weeks, least = cycle, "by this yard's cycle"
	}
	if before.Blank != 0 && b.Data.Practice.BlankWeeks.Value < weeks {
		weeks, least = b.Data.Practice.BlankWeeks.Value, "even after a blank"
	}
	after := int(s.In - before.In)
	if float64(after) >= 7*weeks {
		return ""
	}
	return fmt.Sprintf("%s came %s after the one before: logs want %s %s weeks between two.",
		soakName(s), count(after, "day", "days"), least, short(weeks))
}

// inFrost tells of logs that lay in water or came out in a hard frost, as
// measured.
func (b *book) inFrost(s *forecast.PastSoak) string {
	for d := s.In; d <= s.Out; d++ {
		w := b.State.Weather.At(d)
		if w.HasTemp && w.TMin <= b.Data.Practice.HardFrost.Value {
			return fmt.Sprintf("%s fell into a hard frost (%s in the night to %s): the tank is better left empty then.",
				soakName(s), b.units.c(w.TMin), d.Time().Format("2 January"))
		}
	}
	return ""
}
