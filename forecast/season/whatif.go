package season

import (
	"context"
	"fmt"

	"hodaba/forecast"
	"hodaba/yard"
)

// whatIf walks the plan in other worlds, on the first of the draws that it was
// planned on, so that nothing but the world differs.
func (m *making) whatIf(ctx context.Context) error {
	piles, number := m.planted()
	if len(m.targets) == 0 {
		return nil
	}
	draws := min(m.q.Draws, chunk)
	say := func(name string, s *sums) {
		m.buyIn(s)
		i := If{Name: name}
		i.Chances, i.Joint = m.needs.met(s, m.found.X)
		m.out.Ifs = append(m.out.Ifs, i)
	}
	in := func(name string, decision forecast.Decision) error {
		kept := m.in.Decision
		m.in.Decision = decision
		defer func() { m.in.Decision = kept }()
		var s sums
		err := m.walk(ctx, piles, draws, 0, func(b *forecast.CropBook) error {
			m.needs.add(&s, b, len(m.candidates), func(name string) int { return number[name] })
			return nil
		})
		if err != nil {
			return err
		}
		say(name, &s)
		return nil
	}
	say("as planned", &m.first)
	as := m.in.Decision
	year := m.firstReached()
	dry := as
	dry.Dry = &forecast.Drought{From: yard.NewDate(year, 1, 1), To: yard.NewDate(year, 12, 31), Rain: m.in.Data.Practice.DroughtShare.Value}
	if err := in(fmt.Sprintf("a drought in %d: %.0f %% of the rain", year, 100*dry.Dry.Rain), dry); err != nil {
		return err
	}
	if m.state.Config.Soak.TankLogs > 0 {
		none := as
		none.Soaks = map[string][]forecast.Soak{}
		if err := in("no tank: nothing is soaked any more", none); err != nil {
			return err
		}
	}
	say("a fifth of all logs lost, or a fifth less from each", &m.less)
	if earns := m.worth(); earns > 0 {
		say(fmt.Sprintf("prices a fifth lower: by %d the plan's crop earns %.0f %s rather than %.0f",
			m.out.Horizon.Year(), lessCrop*earns, m.q.Plan.Currency, earns), &m.first)
	}
	return nil
}

// worth is what the plan's crop earns up to the horizon, by the grower's prices.
func (m *making) worth() (sum float64) {
	for j, x := range m.found.X {
		sum += float64(x) * m.candidates[j].money
	}
	return sum
}

// firstReached is the first year of a target that the season's logs can reach.
func (m *making) firstReached() int {
	year := 0
	for _, t := range m.targets {
		if t.Year > m.q.Year && (year == 0 || t.Year < year) {
			year = t.Year
		}
	}
	if year == 0 {
		year = m.q.Year + 2
	}
	return year
}
