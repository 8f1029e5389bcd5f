package season

import (
	"fmt"
	"math"
	"time"

	"hodaba/forecast"
	"hodaba/forecast/climate"
	"hodaba/forecast/season/linear"
	"hodaba/forecast/season/takes"
)

// mostMonths is how many months of the window are weighed where the grower
// names none: the first ones, since what is inoculated sooner bears sooner.
const mostMonths = 3

// window are the months in which the trade inoculates here, from the first
// after the winter on.
func (m *making) window() (months []int) {
	w := takes.WindowsOf(m.site, "", "", &m.in.Data.Inoculating)
	for _, month := range takes.Months(w.Inoculating) {
		months = append(months, int(month))
	}
	return months[:min(len(months), mostMonths)]
}

// siteOf is the warmth of the site, for the windows.
func siteOf(in forecast.Input) (site takes.Site, err error) {
	at, err := climate.Resolve(in.State.Config.Site, in.Data)
	if err != nil {
		return site, err
	}
	for month := range site.Mean {
		site.Mean[month] = at.MeanTemperature(month) + at.Warmer(in.State.AsOf)
	}
	return site, nil
}

// line is a candidate's so many logs, as the package takes wants them.
func (m *making) line(c *candidate, name string, logs int) takes.Line {
	p, stock := c.pile, m.choosing.logs[c.stock]
	return takes.Line{
		Pile: name, Species: p.Species, Strain: p.Strain, Wood: c.wood, DiameterCM: p.Diameter.Mid(), LengthCM: p.Length.Mid(),
		Spawn: p.Spawn, Method: c.method, Logs: logs, Month: c.month, Price: stock.Price, PriceSet: stock.PriceSet,
	}
}

// price works out what each candidate costs, takes and earns.
func (m *making) price() {
	costs, _, _ := takes.Fill(m.q.Plan.Costs, &m.in.Data.Inoculating)
	for j, c := range m.candidates {
		if c.pile == nil {
			continue
		}
		one := takes.One(m.line(c, "", 1), m.q.Plan.Holes, m.q.Plan.Costs, &m.in.Data.Inoculating)
		c.hours, c.work = one.Hours.Start(), one.Cost.Work
		c.cost = one.Cost.Total()
		if c.pile.Colonised { // nothing is drilled, only buried
			c.hours = one.Hours.Stacking
			c.work = c.hours * costs.Hour
			c.cost = one.Cost.Log + c.work
		}
		c.cash = c.cost - c.work
		each := m.earns(c.pile.Species)
		for _, kg := range m.byWeek[j] {
			c.money += kg * each
		}
	}
}

// earns is what a kg fresh of a species sells for, fresh or dried, whichever
// is more; 0 where nobody said.
func (m *making) earns(species string) (most float64) {
	for _, p := range m.q.Plan.Prices {
		if p.Species != "" && m.needs.like(p.Species) == species {
			most = max(most, p.Fresh, p.Dry*m.dryPer[species])
		}
	}
	return most
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
	for j, c := range m.candidates {
		if c.buy != nil && c.buy.mostG > 0 {
			name := fmt.Sprintf("dried %s to buy for %d", c.buy.species, c.buy.year)
			add(name, "lots of 100 g", math.Floor(c.buy.mostG/buyLot), func(o *candidate) float64 { return one(o == m.candidates[j]) })
		}
	}
	for _, h := range m.q.Plan.Hours {
		add("work in "+time.Month(h.Month).String(), "hours", h.Hours-m.soaking(h.Month), func(c *candidate) float64 {
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

// soaking is the hours that the tank takes in a month of the season.
func (m *making) soaking(month int) (hours float64) {
	for _, l := range m.loads {
		if l.Week.Year() == m.q.Year && int(l.Week.Month()) == month {
			hours += float64(l.Logs) * m.in.Data.Inoculating.Labour.Soak.Value / 60
		}
	}
	return hours
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
	room := float64(soak.TankLogs) * math.Floor(forecast.SoakCycle(&m.state.Config, m.in.Data))
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
