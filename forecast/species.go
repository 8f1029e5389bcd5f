package forecast

import (
	"slices"
	"sync/atomic"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// total sums the piles of one species by draw and month, in whole milligrams:
// the order in which piles add makes no difference.
type total struct {
	species *data.Species
	months  int
	mg      []int64
	weeks   []int64     // the same by draw and week of the year ahead
	wide    atomic.Bool // a pile's yield rests on no published figure
}

func newTotal(sp *data.Species, draws, months int) *total {
	return &total{species: sp, months: months, mg: make([]int64, draws*months), weeks: make([]int64, draws*rotaWeeks)}
}

// addWeek adds what is picked in a week of the year ahead, counted from the
// Monday of today's; it is safe for several goroutines.
func (t *total) addWeek(draw, week int, kg float64) {
	if week >= 0 && week < rotaWeeks {
		atomic.AddInt64(&t.weeks[draw*rotaWeeks+week], int64(kg*1e6+0.5))
	}
}

// week is kg in a week of the year ahead.
func (t *total) week(draw, week int) float64 { return float64(t.weeks[draw*rotaWeeks+week]) / 1e6 }

// add is safe for several goroutines.
func (t *total) add(draw, month int, kg float64) {
	atomic.AddInt64(&t.mg[draw*t.months+month], int64(kg*1e6+0.5))
}

func (t *total) kg(draw, month int) float64 { return float64(t.mg[draw*t.months+month]) / 1e6 }

// species sums up the yard by species, in alphabetical order.
func (r *run) species() []Species {
	var out []Species
	for name, t := range r.totals {
		out = append(out, r.speciesOf(name, t))
	}
	slices.SortFunc(out, func(a, b Species) int {
		if a.Species < b.Species {
			return -1
		}
		return 1
	})
	return out
}

func (r *run) speciesOf(name string, t *total) Species {
	sp := Species{Species: name, Unpublished: t.wide.Load(), Wide: r.wideOf(name)}
	years := r.horizon.Year() - r.asOf.Year() + 1
	n := len(r.months)
	fresh, dry := tallies(n), tallies(n)
	freshYear, dryYear, sum, drySum := tallies(years), tallies(years), tallies(years), tallies(years)
	picked := make([]float64, n)
	ratio := chance.Amounts()
	water := r.streams("water in the fresh", t.species.Name)
	for d := range r.draws {
		weight := r.weight[d]
		wet := r.waterIn(name, t.species, water.Draw(d).NormFloat64())
		per := (1 - wet) / (1 - t.species.Dried.Value) // kg dry per kg fresh
		ratio.Add(1/per, weight)
		year, inYear, inAll := 0, 0.0, 0.0
		closeYear := func(y int) {
			inAll += inYear
			freshYear[y].Add(inYear, weight)
			dryYear[y].Add(inYear*per, weight)
			sum[y].Add(inAll, weight)
			drySum[y].Add(inAll*per, weight)
		}
		for m, month := range r.months {
			if y := month.Year() - r.asOf.Year(); y != year {
				closeYear(year)
				year, inYear = y, 0
			}
			kg := t.kg(d, m)
			inYear += kg
			fresh[m].Add(kg, weight)
			dry[m].Add(kg*per, weight)
			if kg > 0 {
				picked[m] += weight
			}
		}
		closeYear(year)
	}
	sp.DryRatio = amount(ratio)
	if d := r.dryings[name]; d != nil {
		sp.DryingsSeen = d.seen
	}
	for m, month := range r.months {
		sp.Months = append(sp.Months, SpeciesMonth{
			Month: month, HarvestChance: picked[m] / float64(r.draws),
			Fresh: amount(fresh[m]), Dry: amount(dry[m]),
		})
	}
	for y := range years {
		sp.Years = append(sp.Years, SpeciesYear{
			Year: r.asOf.Year() + y, Fresh: amount(freshYear[y]), Dry: amount(dryYear[y]),
			Sum: amount(sum[y]), DrySum: amount(drySum[y]),
		})
	}
	for w := range rotaWeeks {
		sp.Weeks = append(sp.Weeks, SpeciesWeek{
			Week:          r.asOf.Monday() + yard.Date(7*w),
			HarvestChance: r.chanceOf(func(n int) bool { return t.week(n, w) > 0 }),
			Fresh:         r.amountOf(func(n int) float64 { return t.week(n, w) }),
		})
	}
	return sp
}

// wideOf is what must stand beside a species' kilograms: what stands beside
// those of its first pile that has something to say.
func (r *run) wideOf(name string) string {
	for _, t := range r.tasks {
		if words := t.strain.Yield.Wide(); t.name == name && !t.planned && words != "" {
			return words
		}
	}
	return ""
}

// StrainOf is the strain of a pile in the reference values; nil where it is
// not built in.
func StrainOf(p *yard.Pile, d *data.Set) *data.Strain {
	s, ok := d.FindSpecies(p.Like)
	if !ok {
		return nil
	}
	t, ok := s.FindStrain(p.Strain)
	if !ok {
		return nil
	}
	return t
}

// amount reads an Amount off a tally.
func amount(t *chance.Tally) Amount {
	a := Amount{Mean: t.Mean()}
	a.P10, _ = t.At(0.1)
	a.P50, _ = t.At(0.5)
	a.P90, _ = t.At(0.9)
	return a
}
