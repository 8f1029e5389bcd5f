package season

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hodaba/forecast"
	"hodaba/forecast/season/linear"
	"hodaba/yard"
)

// Purpose: what to inoculate every year for ever. A yard that is renewed every
// year has piles of every age; so a pile of each candidate is walked that was
// inoculated last year, the year before, and so on, and what all of them bring
// in the next calendar year is what one log a year brings in the long run. The
// piles are different logs under one weather, as they are. Equation: the
// programme of the season with that crop, no stock carried over. Parameters:
// those of the forecast. Errors: the context's.

// ages are how many years back piles are still walked, the life of a log of the
// largest diameter with a margin.
const ages = 9

// renewalDraws are enough for the sizes, and few enough for the memory: each
// age has a weather of its own length behind it.
const renewalDraws = 1000

// renew finds the steady state and when the present yard is used up.
func (m *making) renew(ctx context.Context) error {
	m.usedUp()
	wants := m.steadyTargets()
	if len(wants) == 0 || len(m.candidates) == 0 {
		m.out.Renewal.Met = len(wants) == 0
		return nil
	}
	year := wants[0].Year
	calendar := &forecast.CropBook{AsOf: m.state.AsOf}
	for month := m.state.AsOf.MonthStart(); month.Year() <= year; month = month.AddMonths(1) {
		calendar.Months = append(calendar.Months, month)
	}
	n := &needs{state: m.state, set: m.in.Data, book: calendar, steady: true, targets: wants}
	if err := n.lay(); err != nil {
		return err
	}
	used := m.renewable(n)
	piles, number := m.aged(year, used)
	s := sums{bare: true}
	kept := m.in.Years
	m.in.Years = 2
	err := m.walk(ctx, piles, min(renewalDraws, m.q.Draws), renewalSeed, func(b *forecast.CropBook) error {
		n.add(&s, b, len(used), func(name string) int { return number[name] })
		return nil
	})
	m.in.Years = kept
	if err != nil {
		return err
	}
	return m.steady(n, &s, used)
}

// renewable are the candidates that a steady yard is made of: those of the
// plan, and of each species that is wanted and not in it the first.
func (m *making) renewable(n *needs) (used []int) {
	have := map[string]bool{}
	for _, j := range m.lines {
		if c := m.candidates[j]; c.pile != nil {
			used, have[c.pile.Species] = append(used, j), true
		}
	}
	for j, c := range m.candidates {
		if c.pile == nil || have[c.pile.Species] {
			continue
		}
		for _, r := range n.rows {
			if r.species == nil || slices.Contains(r.species, c.pile.Species) {
				used, have[c.pile.Species] = append(used, j), true
				break
			}
		}
	}
	return used
}

// steadyTargets are the wants of the last year in which each is wanted, all in
// the next calendar year.
func (m *making) steadyTargets() (out []Target) {
	year := m.state.AsOf.Year() + 1
	for i, t := range m.targets {
		later := slices.ContainsFunc(m.targets[i+1:], func(o Target) bool { return o.Kind == t.Kind && o.What == t.What && o.First == t.First })
		if !later {
			t.Year = year
			out = append(out, t)
		}
	}
	return out
}

// aged are piles of the plan's kinds of every age, as they bear in a year.
func (m *making) aged(year int, used []int) (piles []*yard.Pile, number map[string]int) {
	number = map[string]int{}
	for i, j := range used {
		c := m.candidates[j]
		for age := range ages + 1 {
			p := *c.pile
			p.Name = fmt.Sprintf("%s/%d years before", c.pile.Name, age)
			from := yard.NewDate(year-age, c.month.Month(), 1)
			p.Since = yard.When{From: from, To: from.AddMonths(1) - 1, Text: from.MonthString()}
			piles, number[p.Name] = append(piles, &p), i
		}
	}
	return piles, number
}

// steady solves the programme of a yard that is the same every year.
func (m *making) steady(n *needs, s *sums, used []int) error {
	p := linear.Programme{Targets: n.programme(s), Weight: s.weight}
	for _, j := range used {
		p.Cost = append(p.Cost, math.Max(m.candidates[j].cost, 0))
		p.Most = append(p.Most, math.Inf(1))
	}
	found, err := p.Solve(linear.Options{Seed: m.in.Seed})
	if err != nil {
		return fmt.Errorf("planning a yard that stays as it is: %w", err)
	}
	r := &m.out.Renewal
	r.Met, r.Cost = found.Met, found.Cost
	for i, j := range used {
		if q := m.candidates[j].pile; found.X[i] > 0 {
			r.Lines = append(r.Lines, RenewalLine{Species: q.Species, Strain: q.Strain, Wood: q.Wood, Spawn: q.Spawn, Logs: found.X[i]})
		}
	}
	return nil
}

// usedUp finds when what stands no longer does.
func (m *making) usedUp() {
	r := &m.out.Renewal
	for i := range m.out.Meets {
		if t := &m.out.Meets[i]; t.Alone < t.Confidence && (r.Short == 0 || t.Year < r.Short) {
			r.Short = t.Year
		}
	}
	by := map[int]float64{}
	for _, y := range m.out.Years {
		by[y.Year] += y.Alone.Mean
	}
	best, last := 0, m.out.Horizon.Year()
	for year := m.state.AsOf.Year() + 1; year <= last; year++ {
		if best == 0 || by[year] > by[best] {
			best = year
		}
	}
	for year := best + 1; best > 0 && year <= last; year++ {
		if by[year] < by[best]/2 {
			r.Spent = year
			return
		}
	}
}
