package charts

import (
	"fmt"
	"slices"

	"hodaba/forecast"
	"hodaba/yard"
)

// Skip is a week of the tank book that is left out, and the forecast without
// it, made on the same possible courses.
type Skip struct {
	Week    yard.Date // its Monday
	Without *forecast.Result
}

// skipYear is what a calendar year brings of all species that go into the
// tank, in kg fresh on average.
type skipYear struct {
	year          int
	with, without float64
}

// skipYears are the years that differ, and at least that of the week.
func (b *book) skipYears(k *Skip) (years []skipYear) {
	sum := func(r *forecast.Result, year int) (kg float64) {
		for _, p := range r.Piles {
			if t := b.strainNamed(p.Name); !t {
				continue
			}
			for _, y := range p.YearsAhead {
				if y.Year == year {
					kg += y.Fresh.Mean
				}
			}
		}
		return kg
	}
	last := b.Result.Horizon.Year() - 1 // the last may be cut short
	for year := b.today().Year(); year <= max(last, k.Week.Year()); year++ {
		y := skipYear{year, sum(b.Result, year), sum(k.Without, year)}
		if differs := y.with-y.without >= leastDifference || y.without-y.with >= leastDifference; differs || year == k.Week.Year() {
			years = append(years, y)
		}
	}
	return years
}

// leastDifference is the kg of a year's crop under which nothing is said of a
// difference.
const leastDifference = 0.05

// strainNamed reports whether the strain of a pile can be forced.
func (b *book) strainNamed(pile string) bool {
	p := b.State.Pile(pile)
	if p == nil {
		return false
	}
	t := forecast.StrainOf(p, b.Data)
	return t != nil && t.Fruit.Forced
}

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
	l := loadOf(b.Result.Loads, k.Week)
	switch {
	case l == nil:
		return []string{"The tank book does not reach to week " + weekShort(k.Week)[1:] + " (" + fullDay(k.Week) + "); it tells the year ahead."}
	case l.Skipped != "":
		return []string{fmt.Sprintf("Leaving out week %s costs nothing: the tank is empty in it anyway (%s).", weekShort(k.Week)[1:], l.Skipped)}
	}
	said := []string{fmt.Sprintf("Leaving out week %s, in which %s would go in on %s.", weekShort(k.Week)[1:], b.loadWords(l), dayMonth(l.In))}
	for _, y := range b.skipYears(k) {
		said = append(said, b.yearCost(y))
	}
	said = append(said, b.movesWords(k)...)
	return append(said, b.shortWords(k)...)
}

func (b *book) yearCost(y skipYear) string {
	when := fmt.Sprint(y.year)
	if y.year == b.today().Year() {
		when = "the rest of " + when
	}
	s := fmt.Sprintf("All piles that can be soaked bring %s on average in %s, and %s without that week", b.kgFine(y.with), when, b.kgFine(y.without))
	switch d := y.without - y.with; {
	case d <= -leastDifference:
		return s + ": " + b.kgFine(-d) + " less."
	case d >= leastDifference:
		return s + ": " + b.kgFine(d) + " more, because the logs keep it."
	}
	return s + ": no difference to speak of."
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

func loadOf(loads []forecast.Load, week yard.Date) *forecast.Load {
	for i := range loads {
		if loads[i].Week == week {
			return &loads[i]
		}
	}
	return nil
}

// Skip says what leaving a week out of the tank book costs.
func (t Terminal) Skip(in Input, k *Skip) string {
	text := ""
	for _, s := range newBook(in).skipWords(k) {
		text += wrap("", "", s)
	}
	return t.write(text)
}
