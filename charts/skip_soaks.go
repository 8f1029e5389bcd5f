package charts

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/forecast"
	"hodaba/yard"
)

// Skip is a week of the tank book that is left out, and the forecast without
// it, made on the same possible courses.
type Skip struct {
	Week    yard.Date // its Monday
	Without *forecast.Result
	Years   []forecast.SkipYear // with and without, compared course by course
}

// leastDifference is the kg of a year's crop under which nothing is said of a
// difference.
const leastDifference = 0.05

// move is a part that goes in in another week: from and to are Mondays, to is
// zero where it does not go in again within the year ahead.
type move struct {
	pile, part string
	from, to   yard.Date
}

// moved are the turns of all parts that move, in order of the week from which
// they move.
func (b *book) moved(k *Skip) (list []move) {
	with, without := turns(b.Result.Loads), turns(k.Without.Loads)
	for _, t := range with.order {
		a, c := with.weeks[t], without.weeks[t]
		for i, from := range a {
			to := yard.Date(0)
			if i < len(c) {
				to = c[i]
			}
			if from != to {
				list = append(list, move{t.pile, t.part, from, to})
			}
		}
	}
	slices.SortStableFunc(list, func(a, c move) int { return int(a.from - c.from) })
	return list
}

type turn struct{ pile, part string }

type turnsOf struct {
	order []turn
	weeks map[turn][]yard.Date
}

// turns are the weeks in which each part goes in.
func turns(loads []forecast.Load) turnsOf {
	t := turnsOf{weeks: map[turn][]yard.Date{}}
	for _, l := range loads {
		for _, p := range l.Parts {
			k := turn{p.Pile, p.Part}
			if t.weeks[k] == nil {
				t.order = append(t.order, k)
			}
			t.weeks[k] = append(t.weeks[k], l.Week)
		}
	}
	return t
}

// shortWeek is a week in which less is likely than was promised for it.
type shortWeek struct {
	week    yard.Date
	species string
	likely  float64 // kg
}

const daysOfWeek = 7

// shortWeeks are the weeks ahead in which less than half of the courses bring
// what was promised for every week.
func (b *book) shortWeeks(r *forecast.Result) (list []shortWeek) {
	for _, p := range b.State.Config.Promised {
		sp, ok := b.Data.FindSpecies(p.What)
		if !ok || p.Every != daysOfWeek || p.Amount.Unit != yard.Kilogram {
			continue
		}
		for _, s := range r.Species {
			if s.Species != sp.Name {
				continue
			}
			for _, w := range s.Weeks {
				if w.Week+6 >= p.By && w.Fresh.P50 < p.Amount.Mid() {
					list = append(list, shortWeek{w.Week, s.Species, w.Fresh.P50})
				}
			}
		}
	}
	return list
}

// newlyShort are the promised weeks that are missed because of the week left
// out.
func (b *book) newlyShort(k *Skip) (list []shortWeek) {
	with := b.shortWeeks(b.Result)
	for _, s := range b.shortWeeks(k.Without) {
		if !slices.ContainsFunc(with, func(o shortWeek) bool { return o.week == s.week && o.species == s.species }) {
			list = append(list, s)
		}
	}
	return list
}

// movesSaid is how many moves are told one by one.
const movesSaid = 8

// skipWords say what leaving a week out costs, a sentence each.
func (b *book) skipWords(k *Skip) []string {
	all := loadsOfWeek(b.Result.Loads, k.Week)
	switch {
	case len(all) == 0:
		return []string{"The tank book does not reach to week " + weekShort(k.Week)[1:] + " (" + fullDay(k.Week) + "); it tells the year ahead."}
	case all[0].Skipped != "":
		return []string{fmt.Sprintf("Leaving out week %s costs nothing: the tank is empty in it anyway (%s).", weekShort(k.Week)[1:], all[0].Skipped)}
	}
	var goes, said []string
	for _, l := range all {
		goes = append(goes, b.loadWords(l)+" would go in on "+dayMonth(l.In))
	}
	said = append(said, fmt.Sprintf("Leaving out week %s, in which %s.", weekShort(k.Week)[1:], strings.Join(goes, " and ")))
	for i, l := range all {
		which := "The load"
		if len(all) > 1 {
			which = "The load of " + dayMonth(l.In)
		}
		if l.Fresh.P90 <= 0 {
			said = append(said, which+" would hardly bring anything.")
			continue
		}
		text := fmt.Sprintf("%s would bring about %s, %s", which, b.units.kg(l.Fresh.P50), mostly("times", b.units.kg(l.Fresh.P10), b.units.kg(l.Fresh.P90)))
		if i == len(all)-1 {
			text += ": that is what is missing then. The logs keep it for later soaks"
		}
		said = append(said, text+".")
	}
	said = append(said, b.skipYearsWords(k)...)
	said = append(said, b.movesWords(k)...)
	return append(said, b.shortWords(k)...)
}

// skipYearsWords tell the years in which the whole yard brings more or less than
// it would, as far as that is no chance of the courses.
func (b *book) skipYearsWords(k *Skip) (said []string) {
	lost := false
	for _, y := range k.Years {
		d := y.Without - y.With
		if !y.Told || d < leastDifference && d > -leastDifference {
			continue
		}
		when := fmt.Sprint(y.Year)
		if y.Year == b.today().Year() {
			when = "the rest of " + when
		}
		s := fmt.Sprintf("All piles that can be soaked bring %s on average in %s, and %s without that week", b.kgFine(y.With), when, b.kgFine(y.Without))
		switch {
		case d < 0:
			s, lost = s+": "+b.kgFine(-d)+" less.", true
		case lost:
			s += ": " + b.kgFine(d) + " more, because the logs keep it."
		default:
			s += ": " + b.kgFine(d) + " more."
		}
		said = append(said, s)
	}
	if len(said) == 0 && len(k.Years) > 0 {
		return []string{"Over whole years the yard brings as much without that week, as far as can be told."}
	}
	return said
}

// kgFine writes kilograms of which the difference matters.
func (b *book) kgFine(kg float64) string {
	by, unit := b.units.kgScale()
	return trim(kg/by, 1) + " " + unit
}

func (b *book) movesWords(k *Skip) []string {
	moves := b.moved(k)
	if len(moves) == 0 {
		return []string{"Nothing moves to another week."}
	}
	var each []string
	for _, m := range moves {
		if m.from < k.Week {
			continue
		}
		to := "not again within the year"
		if m.to != 0 {
			to = "week " + weekShort(m.to)[1:]
		}
		each = append(each, fmt.Sprintf("%s from week %s to %s", partOf(m.pile, m.part), weekShort(m.from)[1:], to))
	}
	if len(each) == 0 {
		return []string{"Nothing moves to another week."}
	}
	return []string{"What moves: " + some(each, movesSaid) + "."}
}

func (b *book) shortWords(k *Skip) []string {
	if len(b.shortWeeks(b.Result))+len(b.shortWeeks(k.Without)) == 0 {
		return nil
	}
	short := b.newlyShort(k)
	if len(short) == 0 {
		return []string{"No promised week is missed that would not have been missed anyway."}
	}
	var each []string
	for _, s := range short {
		each = append(each, fmt.Sprintf("week %s (likely %s of %s)", weekShort(s.week)[1:], b.units.kg(s.likely), s.species))
	}
	return []string{"Less than was promised, because of it: " + some(each, movesSaid) + "."}
}

// loadsOfWeek are the loads of a week, or the one line that says why there are
// none.
func loadsOfWeek(loads []forecast.Load, week yard.Date) (list []*forecast.Load) {
	for i := range loads {
		if loads[i].Week == week {
			list = append(list, &loads[i])
		}
	}
	return list
}

// Skip says what leaving a week out of the tank book costs.
func (t Terminal) Skip(in Input, k *Skip) string {
	text := ""
	for _, s := range newBook(in).skipWords(k) {
		text += wrap("", "", s)
	}
	return t.write(text)
}
