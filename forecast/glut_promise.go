package forecast

import (
	"cmp"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// Due is one day on which fresh mushrooms were promised.
type Due struct {
	Day     yard.Date
	To      string  // as written
	Species string  // "" for any
	KG      float64 // promised
	Open    float64 // of it not delivered yet, by the record; all of it for days ahead of this week
	Met     float64 // chance that what is open can be delivered; 0 where the day is past

	species int       // of keeping; −1 any
	since   yard.Date // what went after it is of this promise
}

// anyFresh are the words for a promise of whatever there is.
var anyFresh = []string{"fresh", "mushrooms", "fresh mushrooms"}

// freshPromise says which fresh mushrooms a promise is of: "" is any. ok is
// false for promises of other things, such as bottles and dried goods.
func freshPromise(p yard.Promise, s *yard.State, d *data.Set) (species string, ok bool) {
	if p.Amount.Unit != yard.Kilogram || p.Amount.High <= 0 {
		return "", false
	}
	what := strings.Join(strings.Fields(word(p.What)), " ")
	if slices.Contains(anyFresh, what) {
		return "", true
	}
	what = strings.TrimPrefix(what, "fresh ")
	for _, o := range s.Config.Own {
		if word(o.Name) == what {
			return o.Name, true
		}
	}
	if sp, found := d.FindSpecies(what); found {
		return sp.Name, true
	}
	return "", false
}

// duesOf lists the days on which fresh mushrooms are due, from a Monday up to
// and with a day, in order of day and then of yard.toml; and the promises of
// other things.
func duesOf(s *yard.State, d *data.Set, monday, last yard.Date) (due []Due, other []yard.Promise) {
	for _, p := range s.Config.Promised {
		species, ok := freshPromise(p, s, d)
		if !ok {
			other = append(other, p)
			continue
		}
		every := yard.Date(p.Every)
		day := p.By
		if day == 0 {
			day = monday + daysOfWeek - 1
		}
		if every > 0 && day < monday {
			day += (monday - day + every - 1) / every * every
		}
		for ; day <= last; day += every {
			if day >= monday {
				kg := p.Amount.Mid()
				one := Due{Day: day, To: p.To, Species: species, KG: kg, Open: kg, since: day - daysOfWeek}
				if every > 0 {
					one.since = max(one.since, day-every)
				}
				due = append(due, one)
			}
			if every <= 0 {
				break
			}
		}
	}
	slices.SortStableFunc(due, func(a, b Due) int { return cmp.Compare(a.Day, b.Day) })
	deliver(s, due)
	return due, other
}

const daysOfWeek = 7

// deliver takes what went by the record off what is due: what was sold or given
// to the same name since the last time it was due, a week at most. Each kilogram
// fills one promise: one of its species before one of whatever there is, one to
// its name before one to anybody, the earliest day first.
func deliver(s *yard.State, due []Due) {
	order := make([]*Due, len(due))
	for i := range due {
		order[i] = &due[i]
	}
	slices.SortStableFunc(order, func(a, b *Due) int {
		return cmp.Or(-cmp.Compare(min(len(a.Species), 1), min(len(b.Species), 1)), -cmp.Compare(min(len(a.To), 1), min(len(b.To), 1)))
	})
	for _, w := range s.Went {
		if w.Kind != "sold" && w.Kind != "given" || !w.FreshKG.Known() || w.On.From > s.AsOf || s.AsOf-w.On.From >= daysOfWeek {
			continue
		}
		kg := w.FreshKG.Mid()
		for _, d := range order {
			if kg <= 0 || d.Species != "" && w.Species != d.Species || d.To != "" && word(w.To) != word(d.To) || w.On.From <= d.since {
				continue
			}
			got := min(kg, d.Open)
			kg, d.Open = kg-got, d.Open-got
		}
	}
	for i := range due {
		if due[i].Open < leastPicking {
			due[i].Open = 0
		}
	}
}
