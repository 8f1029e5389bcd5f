package charts

import (
	"cmp"
	"fmt"
	"math"
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
	x := b.State.BrokenOn("drier", b.today())
	switch {
	case x == nil:
		return ""
	case x.Until.IsZero():
		return "The drier is broken until further notice: no load is planned."
	}
	return "The drier is broken until " + fullDay(x.Until.To) + ": no load is planned until then."
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

// glutDayWords is what to do on a day of a glut, a sentence for each thing;
// nothing on a day on which all just stays in the cold.
func (b *book) glutDayWords(d forecast.GlutDay) (out []string) {
	say := func(format string, list []forecast.Kilos) {
		if words := b.kilosWords(worthDoing(list)); words != "" {
			out = append(out, fmt.Sprintf(format, words))
		}
	}
	if words := b.pickWords(d); words != "" {
		out = append(out, words)
	}
	say("Deliver %s, as promised.", d.Deliver)
	say("Sell or eat %s as usual.", d.Usual)
	if words := b.sellWords(d); words != "" {
		out = append(out, words)
	}
	for _, l := range d.Dry {
		say(loadWords(l), l.Parts)
	}
	if len(out) == 0 {
		return nil
	}
	say("Keep %s in the cold.", d.Cold)
	if d.Away {
		out = append(out, "Nobody is there on that day, says yard.toml: ask somebody.")
	}
	return out
}

// worthDoing leaves out what is too little to be said of a day.
func worthDoing(list []forecast.Kilos) []forecast.Kilos {
	return slices.DeleteFunc(slices.Clone(list), func(k forecast.Kilos) bool { return k.KG < leastDone })
}

// pickWords says what to pick on a day, what keeps least first, and on which
// piles it is likely.
func (b *book) pickWords(d forecast.GlutDay) string {
	var parts []string
	for _, k := range worthDoing(d.Pick) {
		part := b.units.kg(k.KG) + " of " + k.Species
		if piles := b.pilesBearing(k.Species, d.Day); len(piles) > 0 {
			part += " (" + some(piles, pilesInPick) + ")"
		}
		parts = append(parts, part)
	}
	if len(parts) == 0 {
		return ""
	}
	return "Pick " + strings.Join(parts, ", then ") + "."
}

// pilesInPick is how many piles a day of a glut names for each species, our own
// judgement.
const pilesInPick = 3

// pilesBearing are the piles of a species on which a picking in the month of a
// day is likely, the likeliest first.
func (b *book) pilesBearing(species string, day yard.Date) (names []string) {
	type bearing struct {
		name string
		p    float64
	}
	var list []bearing
	for _, y := range b.State.Piles {
		f := b.ahead[y.Name]
		if f == nil || y.Closed != 0 || f.Species != species {
			continue
		}
		for _, m := range f.Months {
			if m.Month == day.MonthStart() && m.HarvestChance >= pickLikely {
				list = append(list, bearing{y.Name, m.HarvestChance})
			}
		}
	}
	slices.SortStableFunc(list, func(x, y bearing) int { return cmp.Compare(y.p, x.p) })
	for _, x := range list {
		names = append(names, x.name)
	}
	return names
}

// pickOrder says what to pick first in a glut.
func pickOrder(g forecast.Glut) string {
	if len(g.Plan.Order) < 2 {
		return ""
	}
	return "Pick first what keeps least: " + strings.Join(g.Plan.Order, ", then ") + "."
}

// sellWords says what finds no room on a day, and by when it must be gone.
func (b *book) sellWords(d forecast.GlutDay) string {
	var parts []string
	for _, x := range d.Sell {
		if x.KG < leastDone {
			continue
		}
		by := "the same day"
		if x.By > d.Day {
			by = "by " + dayMonth(x.By)
		}
		parts = append(parts, fmt.Sprintf("%s of %s %s", b.units.kg(x.KG), x.Species, by))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Sell or give away " + listing(parts) + ": there is no room for it."
}

// loadWords is a sentence for a load, with %s for what is in it.
func loadWords(l forecast.DrierLoad) string {
	if l.After > 0 {
		return fmt.Sprintf("Load it again %s after that evening with %%s.", wholeHours(l.After))
	}
	return fmt.Sprintf("Load the drier in the evening with %%s, out after %s.", wholeHours(l.Hours))
}

func wholeHours(h float64) string { return count(int(math.Round(h)), "hour", "hours") }

// leaveSaid says which loads of the tank to leave out before a glut, what that
// helps, and which more of them would be picked in it.
func (b *book) leaveSaid(l *forecast.Leave) (out []string) {
	var later []string
	for _, x := range l.Loads {
		if !x.Soon {
			later = append(later, dayMonth(x.In))
			continue
		}
		out = append(out, fmt.Sprintf("Put off the soak of %s (%s): %s come of it, likely %s, picked mostly %s, in the glut.",
			dayMonth(x.In), some(x.Piles, namesInLine), between(x.Fresh, b.units.kg), b.units.kg(x.Fresh.P50), days(x.PickFrom, x.PickTo)))
	}
	if len(out) == 0 {
		if len(later) > 0 {
			out = append(out, "What goes into the tank on "+some(later, namesInLine)+" would be picked in it: see when it is due.")
		}
		return out
	}
	until := fmt.Sprintf("What goes in on %s or later is picked after it.", fullDay(l.Until))
	switch {
	case l.Empty:
		until = "Other rested logs would take their place, so leave the tank empty. " + until
	case len(later) > 0:
		until += fmt.Sprintf(" The %s of %s would be picked in it too: see when %s due.", plural(len(later), "soak", "soaks"), some(later, namesInLine), plural(len(later), "it is", "they are"))
	}
	if l.Less >= leastDone {
		until += " That takes up to " + b.units.kg(l.Less) + " off what is too much, less if the logs then flush of themselves."
	}
	return append(out, until)
}

// putOffCommands put off the loads of the tank that are due, a command a part.
func putOffCommands(l *forecast.Leave) (out []string) {
	if len(l.Loads) == 0 || !l.Loads[0].Soon {
		return nil
	}
	if l.Empty {
		return []string{putOffCommand("soak", l.Until.String())}
	}
	for _, x := range l.Loads {
		if x.Soon {
			out = append(out, putOffLoad(x, l.Until)...)
		}
	}
	return out
}

// putOffLoad puts off one load.
func putOffLoad(l forecast.LeaveOut, until yard.Date) (out []string) {
	for _, p := range l.Piles {
		out = append(out, putOffCommand("soak "+p, until.String()))
	}
	return out
}

// putOffCommand puts a task off until a day, or … for the grower to fill in.
func putOffCommand(task, until string) string {
	return fmt.Sprintf("hodaba record put_off %s until=%s", shell(task), until)
}
