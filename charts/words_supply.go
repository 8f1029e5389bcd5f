package charts

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// What stands where fresh mushrooms are sold, kept or dried.
const sitWarm = "Mushrooms that sat warm, are slimy or smell sour are neither sold nor dried: drying does not make them good again. Keep them cold from the log on."

// noCapacity says what is missing where nothing can be planned.
const noCapacity = "Nothing is planned, because yard.toml does not say what can be kept and dried: write load and hours_per_load under [drier], holds and days under [cold]."

// weekOfWords names a week by its first day.
func weekOfWords(monday yard.Date) string { return "the week of " + monday.Time().Format("2 January") }

// weeksWords names one or several weeks on end.
func weeksWords(from, to yard.Date) string {
	if to-from < 7 {
		return weekOfWords(from)
	}
	return "the weeks from " + from.Time().Format("2 January") + " to " + to.Time().Format("2 January")
}

// supplySaid are the sentences over the supply: what is short, what is too
// much, what the drier and the cold room take.
func (b *book) supplySaid(s *forecast.Supply) []string {
	said := []string{b.glutSaid(s), b.shortSaid(s), b.capacitySaid(s), b.drierShutSaid()}
	var out []string
	for _, x := range said {
		if x != "" {
			out = append(out, x)
		}
	}
	return out
}

func (b *book) glutSaid(s *forecast.Supply) string {
	switch {
	case !s.Planned():
		return noCapacity
	case len(s.Gluts) == 0:
		return fmt.Sprintf("In no week of the year ahead is it likely that more comes than can be sold, kept or dried: the chance stays under %s.", percent(1-b.State.Config.Confidence))
	}
	g := s.Gluts[0]
	text := fmt.Sprintf("In %s more may come than can be sold, kept or dried: chance %s, then about %s too much", weeksWords(g.From, g.To), percent(g.Chance), b.units.kg(g.Over.P50))
	if n := len(s.Gluts) - 1; n > 0 {
		text += "; later " + count(n, "such time", "such times") + " more"
	}
	return text + "."
}

// shortSaid is the first week in which a promise is not sure enough.
func (b *book) shortSaid(s *forecast.Supply) string {
	n := 0
	var first *forecast.SupplyWeek
	for i := range s.Weeks {
		if s.Weeks[i].Short {
			if n++; first == nil {
				first = &s.Weeks[i]
			}
		}
	}
	switch {
	case len(s.Due) == 0:
		return "No fresh mushrooms are promised in yard.toml."
	case first == nil:
		return fmt.Sprintf("Every promise of the year ahead is at least %s sure.", percent(b.State.Config.Confidence))
	}
	text := fmt.Sprintf("What is promised for %s, %s, can be met with a chance of %s", weekOfWords(first.Week), b.units.kg(first.Promised), percent(first.Met))
	if n > 1 {
		text += fmt.Sprintf("; %s of the year ahead are less than %s sure", count(n, "week", "weeks"), percent(b.State.Config.Confidence))
	}
	return text + "."
}

func (b *book) capacitySaid(s *forecast.Supply) string {
	var parts []string
	if s.Drier {
		parts = append(parts, "the drier takes "+b.units.kg(s.LoadKG)+", "+turnsWords(s))
	} else if s.Cold {
		parts = append(parts, "no drier is written down")
	}
	switch {
	case s.HoldsKG > 0:
		parts = append(parts, "the cold room holds "+b.units.kg(s.HoldsKG))
	case s.Drier:
		parts = append(parts, "what the cold room holds is not written down and taken to be enough")
	}
	if len(parts) == 0 {
		return ""
	}
	return capital(strings.Join(parts, "; ")) + "."
}

func turnsWords(s *forecast.Supply) string {
	switch {
	case s.Nights > 1:
		return fmt.Sprintf("once in %d nights", s.Nights)
	case s.LoadsADay == 1:
		return "one load a night"
	}
	return count(s.LoadsADay, "load", "loads") + " a day, one after the other"
}

// drierShutSaid says that the drier cannot be used.
func (b *book) drierShutSaid() string {
	for _, x := range b.State.Broken {
		if x.What != "drier" || !x.Holds(b.today()) {
			continue
		}
		if x.Until.IsZero() {
			return "The drier is broken until further notice: no load is planned."
		}
		return "The drier is broken until " + fullDay(x.Until.To) + ": no load is planned until then."
	}
	return ""
}

// lookAt says in words what is to be looked at in a week.
func lookAt(w forecast.SupplyWeek) string {
	var parts []string
	if w.Glut {
		parts = append(parts, "glut, "+percent(w.OverChance))
	}
	if w.Short {
		parts = append(parts, "short")
	}
	if w.DrierOut {
		parts = append(parts, "no drier")
	}
	return strings.Join(parts, "; ")
}

// kilosWords lists masses by species: 1.2 kg of shiitake and 300 g of oyster.
func (b *book) kilosWords(list []forecast.Kilos) string {
	var parts []string
	for _, k := range list {
		if k.KG >= leastKG {
			parts = append(parts, b.units.kg(k.KG)+" of "+k.Species)
		}
	}
	return listing(parts)
}

// leastKG is the kg under which nothing is said of a mass: it would be
// written as none.
const leastKG = 0.005

// leastDone is the kg under which a day of a glut leaves a thing out, our own
// judgement.
const leastDone = 0.05

// glutDayWords is what to do on a day of a glut, a sentence for each thing.
func (b *book) glutDayWords(d forecast.GlutDay) (out []string) {
	say := func(format string, list []forecast.Kilos) {
		list = slices.DeleteFunc(slices.Clone(list), func(k forecast.Kilos) bool { return k.KG < leastDone })
		if words := b.kilosWords(list); words != "" {
			out = append(out, fmt.Sprintf(format, words))
		}
	}
	say("Deliver %s, as promised.", d.Deliver)
	say("Sell or eat %s as usual.", d.Usual)
	for _, l := range d.Dry {
		say(loadWords(l), l.Parts)
	}
	for _, x := range d.Sell {
		if x.KG < leastDone {
			continue
		}
		out = append(out, fmt.Sprintf("Sell or give away %s of %s: there is no room for it%s.", b.units.kg(x.KG), x.Species, byWords(x.By, d.Day)))
	}
	if d.Away && len(out) > 0 {
		out = append(out, "Nobody is there on that day, says yard.toml: ask somebody.")
	}
	return out
}

// pickOrder says what to pick first in a glut.
func pickOrder(g forecast.Glut) string {
	var names []string
	for _, d := range g.Days {
		if len(d.Pick) > len(names) {
			names = names[:0]
			for _, k := range d.Pick {
				names = append(names, k.Species)
			}
		}
	}
	if len(names) < 2 {
		return ""
	}
	return "Pick first what keeps least: " + strings.Join(names, ", then ") + "."
}

func byWords(by, day yard.Date) string {
	if by <= day {
		return ", and it is fresh today only"
	}
	return ", and it is fresh until " + dayMonth(by)
}

// loadWords is a sentence for a load, with %s for what is in it.
func loadWords(l forecast.DrierLoad) string {
	switch {
	case l.After > 0:
		return fmt.Sprintf("Load the drier again %.0f hours after that evening, when the one before is out, with %%s.", l.After)
	case l.Hours > 24:
		return fmt.Sprintf("Load the drier in the evening with %%s; it takes %.0f hours.", l.Hours)
	}
	return "Load the drier in the evening with %s."
}

// leaveWords says which load of the tank to leave out before a glut.
func (b *book) leaveWords(l *forecast.LeaveOut) string {
	return fmt.Sprintf("Put off the soak of %s (%s): %s come of it, likely %s, picked mostly %s; put off, they come that much later.",
		dayMonth(l.In), some(l.Piles, namesInLine), between(l.Fresh, b.units.kg), b.units.kg(l.Fresh.P50), days(l.PickFrom, l.PickTo))
}

// putOffCommand puts off a load of the tank by a week.
func putOffCommand(l *forecast.LeaveOut) string {
	task := "soak"
	if len(l.Piles) == 1 {
		task += " " + l.Piles[0]
	}
	return fmt.Sprintf("hodaba record put_off %s until=%s", shell(task), l.In+7)
}
