package season

import (
	"fmt"
	"math"
	"time"

	"hodaba/forecast/season/linear"
)

// window are the months in which the trade inoculates here.
func (m *making) window() []int { return []int{2, 3, 4} }

// price works out what each candidate costs, takes and earns.
func (m *making) price() {
	for j, c := range m.candidates {
		if c.pile == nil {
			continue
		}
		c.cost, c.cash, c.hours = 5, 4, 0.5
		for _, p := range m.q.Plan.Prices {
			if m.needs.like(p.Species) == c.pile.Species {
				for _, kg := range m.byWeek[j] {
					c.money += kg * p.Fresh
				}
			}
		}
	}
}

// limit collects what there is only so much of.
func (m *making) limit() error {
	use := func(of func(c *candidate) float64) []float64 {
		out := make([]float64, len(m.candidates))
		for j, c := range m.candidates {
			out[j] = of(c)
		}
		return out
	}
	add := func(name, unit string, room float64, of func(c *candidate) float64) {
		m.limits = append(m.limits, limit{linear.Limit{Name: name, Use: use(of), Room: math.Max(room, 0)}, unit})
	}
	for i, l := range m.choosing.logs {
		if l.Most > 0 {
			add(fmt.Sprintf("logs of %s", l.Wood), "logs", float64(l.Most), func(c *candidate) float64 { return one(c.stock == i) })
		}
	}
	for _, h := range m.q.Plan.Hours {
		add("work in "+time.Month(h.Month).String(), "hours", h.Hours, func(c *candidate) float64 {
			return c.hours * one(c.pile != nil && int(c.month.Month()) == h.Month)
		})
	}
	for _, r := range m.q.Plan.Room {
		name := "room"
		if r.Place != "" {
			name += " at " + r.Place
		}
		add(name, "logs", float64(r.Logs), func(c *candidate) float64 {
			return one(c.pile != nil && (r.Place == "" || c.pile.Place == r.Place))
		})
	}
	if m.q.Plan.Budget > 0 {
		add("money", m.q.Plan.Currency, m.q.Plan.Budget, func(c *candidate) float64 { return c.cash })
	}
	m.tank(add)
	m.drier(add)
	return nil
}

// one is 1 where something is so.
func one(is bool) float64 {
	if is {
		return 1
	}
	return 0
}

// tank limits the logs that can be soaked: as many as the tank takes in the
// weeks of a cycle, less those that stand.
func (m *making) tank(add func(name, unit string, room float64, of func(c *candidate) float64)) {
	soak := m.state.Config.Soak
	if soak.TankLogs <= 0 {
		return
	}
	cycle := soak.CycleWeeks
	if cycle <= 0 {
		cycle = m.in.Data.Practice.SoakCycle.Value
	}
	room := float64(soak.TankLogs) * math.Floor(cycle)
	for _, p := range m.state.Piles {
		if sp, ok := m.in.Data.FindSpecies(p.Like); ok && p.Closed == 0 && p.Kind == "pile" {
			if st, ok := sp.FindStrain(p.Strain); ok && st.Fruit.Forced {
				room -= float64(p.Logs)
			}
		}
	}
	if room <= 0 {
		m.out.Notes = append(m.out.Notes, "The tank has no room for more logs in its cycle: what the plan adds fruits by the weather alone.")
		return
	}
	add("tank, within its cycle", "logs", room, func(c *candidate) float64 {
		return one(c.pile != nil && c.strain.Fruit.Forced && c.pile.Kind == "pile")
	})
}

// daysOfDrier are the days of a week on which the drier is filled at most.
const hoursOfWeek = 7 * 24

// drier limits what is dried in the fullest week of each year.
func (m *making) drier(add func(name, unit string, room float64, of func(c *candidate) float64)) {
	d := m.state.Config.Drier
	if d.LoadKG <= 0 || d.HoursPerLoad <= 0 {
		return
	}
	share := d.Share
	if share <= 0 {
		share = 1
	}
	takes := d.LoadKG * math.Min(math.Floor(hoursOfWeek/d.HoursPerLoad), 7)
	for year := m.q.Year; year <= m.out.Horizon.Year(); year++ {
		best, most := -1, 0.0
		for w, day := range m.weeks {
			if day.Year() != year {
				continue
			}
			sum := 0.0
			for j := range m.candidates {
				if m.byWeek[j] != nil {
					sum += m.byWeek[j][w]
				}
			}
			if sum > most {
				best, most = w, sum
			}
		}
		if best < 0 {
			continue
		}
		room := takes - share*m.standing[best]
		if room <= 0 {
			m.out.Notes = append(m.out.Notes, fmt.Sprintf("The drier cannot take what is expected of the yard as it stands in the week of %s.", m.weeks[best]))
			continue
		}
		name := fmt.Sprintf("drier in the week of %s", m.weeks[best])
		m.limits = append(m.limits, limit{linear.Limit{Name: name, Room: room, Use: m.inWeek(best, share)}, "kg"})
	}
}

// inWeek is kg to dry of one log of each candidate in a week.
func (m *making) inWeek(week int, share float64) []float64 {
	out := make([]float64, len(m.candidates))
	for j := range out {
		if m.byWeek[j] != nil {
			out[j] = share * m.byWeek[j][week]
		}
	}
	return out
}
