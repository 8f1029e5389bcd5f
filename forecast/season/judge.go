package season

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hodaba/forecast"
	"hodaba/forecast/season/linear"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// lessCrop is what every crop is multiplied by where each bears a fifth less
// than is believed, or a fifth of the logs is lost.
const lessCrop = 0.8

// judge walks the plan on draws that had no part in finding it.
func (m *making) judge(ctx context.Context) error {
	piles, number := m.planted()
	var fresh, weaker sums
	weaker.factor = lessCrop
	err := m.walk(ctx, piles, m.q.Fresh, freshSeed, func(b *forecast.CropBook) error {
		find := func(name string) int { return number[name] }
		if m.out.Years == nil {
			m.out.Years = m.yearsOf(b)
			m.lineUp(b, number)
		}
		m.needs.add(&fresh, b, len(m.candidates), find)
		m.needs.add(&weaker, b, len(m.candidates), find)
		return nil
	})
	if err != nil {
		return err
	}
	m.buyIn(&fresh)
	m.buyIn(&weaker)
	o, x := m.out, m.found.X
	planning, _ := m.needs.met(&m.sums, x)
	chances, joint := m.needs.met(&fresh, x)
	less, jointLess := m.needs.met(&weaker, x)
	alone, jointAlone := m.needs.met(&fresh, nil)
	o.Joint, o.JointWeaker, o.JointAlone, o.Met = joint, jointLess, jointAlone, m.found.Met
	for i, t := range m.targets {
		meet := Meet{Target: t, Text: t.String(), Chance: chances[i], Planning: planning[i], Weaker: less[i], Alone: alone[i]}
		meet.Short, meet.Worst = m.needs.short(&fresh, x, i)
		o.Meets = append(o.Meets, meet)
	}
	return nil
}

// short is by how much a target is short in the draws in which it is not met,
// the mean of the condition that is shortest, and the condition that fails
// oftenest.
func (n *needs) short(s *sums, logs []int, target int) (share float64, worst string) {
	fails, total := make([]float64, len(n.rows)), 0.0
	for d, w := range s.weight {
		most := 0.0
		for k := range n.rows {
			if n.rows[k].target != target {
				continue
			}
			if need := n.rows[k].need; need > 0 {
				if lack := 1 - s.value(k, d, logs)/need; lack > 0 {
					fails[k] += w
					most = max(most, min(lack, 1))
				}
			}
		}
		if most > 0 {
			share += w * most
			total += w
		}
	}
	if total == 0 {
		return 0, ""
	}
	at := 0
	for k := range fails {
		if fails[k] > fails[at] {
			at = k
		}
	}
	return share / total, n.rows[at].name
}

// lineUp names the lines of the plan and says what each brings.
func (m *making) lineUp(b *forecast.CropBook, number map[string]int) {
	by := map[int]*forecast.PileCrops{}
	for _, p := range b.Piles {
		if p.Planned {
			by[number[p.Pile.Name]] = p
		}
	}
	used := map[string]bool{}
	for _, p := range m.state.Piles {
		used[p.Name] = true
	}
	for _, p := range m.state.Planned {
		used[p.Pile] = true
	}
	for _, j := range m.lines {
		c, n := m.candidates[j], m.found.X[j]
		l := Line{Cost: float64(n) * c.cost, Hours: float64(n) * c.hours}
		if c.pile == nil {
			l.Kind, l.Species, l.BuyG, l.Month = "buy", c.buy.species, buyLot*float64(n), yard.NewDate(c.buy.year, 1, 1)
			m.out.Lines = append(m.out.Lines, l)
			continue
		}
		q := c.pile
		l.Pile, l.Kind, l.Species, l.Strain, l.Wood, l.Diameter, l.Length = nameFor(q.Species, m.q.Year, used), q.Kind, q.Species, q.Strain, q.Wood, q.Diameter, q.Length
		l.Spawn, l.Method, l.Place, l.Month, l.Logs = q.Spawn, c.method, q.Place, c.month, n
		if p := by[j]; p != nil {
			l.First, l.Guess = p.Next(), p.Guess
			for year := m.q.Year; year <= b.Horizon.Year(); year++ {
				from, to := yearIn(b, year)
				l.Fresh = append(l.Fresh, YearKG{year, b.Amount(func(d int) float64 { return p.Between(d, from, to) })})
			}
		}
		m.out.Lines = append(m.out.Lines, l)
	}
}

// yearIn are the months of a book that lie in a year: from, and before to.
func yearIn(b *forecast.CropBook, year int) (from, to int) {
	from = slices.IndexFunc(b.Months, func(d yard.Date) bool { return d.Year() == year })
	if from < 0 {
		return 0, 0
	}
	for to = from; to < len(b.Months) && b.Months[to].Year() == year; to++ {
	}
	return from, to
}

// nameFor is a name for a new pile that no other has.
func nameFor(species string, year int, used map[string]bool) string {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s-%02d-%d", word(species), year%100, n)
		if !used[name] {
			used[name] = true
			return name
		}
	}
}

// word is a species as it stands in a pile's name.
func word(species string) string {
	out := []rune{}
	for _, r := range species {
		switch {
		case r == ' ' || r == '-':
			out = append(out, '-')
		case r != '\'' && r != '’':
			out = append(out, r)
		}
	}
	return string(out)
}

// yearsOf is what comes of each species that is wanted or planned, with the
// plan and without, by calendar year.
func (m *making) yearsOf(b *forecast.CropBook) (out []Year) {
	var species []string
	for _, p := range b.Piles {
		if !slices.Contains(species, p.Species) {
			species = append(species, p.Species)
		}
	}
	slices.Sort(species)
	for _, s := range species {
		for year := m.state.AsOf.Year(); year <= b.Horizon.Year(); year++ {
			from, to := yearIn(b, year)
			sum := func(planned bool) forecast.Amount {
				return b.Amount(func(d int) (kg float64) {
					for _, p := range b.Piles {
						if p.Species == s && (planned || !p.Planned) {
							kg += p.Between(d, from, to)
						}
					}
					return kg
				})
			}
			out = append(out, Year{Year: year, Species: s, Alone: sum(false), With: sum(true), Wanted: m.needs.wantedKG(b, s, year)})
		}
	}
	return out
}

// wantedKG is kg fresh of a species that the targets of a year ask for, dried
// goods at the mean of what dries.
func (n *needs) wantedKG(b *forecast.CropBook, species string, year int) (kg float64) {
	per := b.Amount(func(d int) float64 {
		if x := b.DryPer[species]; x != nil {
			return x[d]
		}
		return 0
	}).Mean
	dried := func(grams float64) {
		if per > 0 {
			kg += grams / gramsPerKG / per
		}
	}
	for _, t := range n.targets {
		if t.Year != year {
			continue
		}
		switch {
		case t.Kind == Bottles:
			if in, err := n.perBottle(t); err == nil {
				for _, x := range in {
					if n.like(x.species[0]) == species {
						dried(t.Amount * n.driedOf(x))
					}
				}
			}
		case n.like(t.What) != species:
		case t.Kind == Fresh:
			for _, at := range n.months(t) {
				kg += t.Amount * weeksOf(n.book.Months[at])
			}
		case t.Kind == Hold:
			dried(t.Amount)
		case t.Kind == Crop:
			kg += t.Amount
		}
	}
	return kg
}

// sway says what one log more and ten fewer of each line do.
func (m *making) sway() {
	for i, j := range m.lines {
		x := slices.Clone(m.found.X)
		s := Sway{Pile: m.out.Lines[i].Pile, MoreCost: m.candidates[j].cost}
		x[j]++
		s.More, _ = m.needs.met(&m.sums, x)
		fewer := min(10, m.found.X[j])
		x[j] = m.found.X[j] - fewer
		s.Less, _ = m.needs.met(&m.sums, x)
		s.LessCost = -float64(fewer) * m.candidates[j].cost
		if m.candidates[j].pile != nil {
			m.out.Sways = append(m.out.Sways, s)
		}
	}
}

// used says how much of each limit the plan takes.
func (m *making) used() {
	for i, l := range m.limits {
		u := Used{Name: l.Name, Unit: l.unit, Room: l.Room}
		if i < len(m.found.Shadow) {
			u.Saves = m.found.Shadow[i]
		}
		for j, x := range m.found.X {
			u.Takes += l.Use[j] * float64(x)
		}
		m.out.Limits = append(m.out.Limits, u)
	}
}

// takes lays out what the lines take.
func (m *making) takes() {
	o, in := m.out, &m.in.Data.Inoculating
	var lines []takes.Line
	o.Windows = map[string]takes.Windows{}
	for i, j := range m.lines {
		c := m.candidates[j]
		if c.pile == nil {
			continue
		}
		o.Windows[c.pile.Species] = takes.WindowsOf(m.site, c.pile.Species, c.method, in)
		if !c.pile.Colonised {
			lines = append(lines, m.line(c, o.Lines[i].Pile, m.found.X[j]))
		}
	}
	o.Takes = takes.Of(lines, m.site, m.q.Plan.Holes, m.q.Plan.Costs, in)
	for i, j := range m.lines {
		if c := m.candidates[j]; c.pile != nil && c.pile.Colonised {
			o.Takes.Shopping = append(o.Takes.Shopping, takes.Item{Item: "ready-colonised logs of " + c.pile.Species, Species: c.pile.Species,
				Strain: c.pile.Strain, Amount: float64(m.found.X[j]), Unit: "logs", Use: o.Lines[i].Month,
				OrderBy: o.Lines[i].Month - yard.Date(7*in.Shop.Spawn.Value)})
		}
	}
	var loads []takes.Load
	for _, l := range m.loads {
		if l.Week.Year() == m.q.Year {
			loads = append(loads, l)
		}
	}
	o.Weeks = takes.Weeks(o.Takes, loads, m.q.Plan.Hours, in)
}

// result puts together what is left.
func (m *making) result() *Result {
	o := m.out
	o.Seed, o.Draws, o.Fresh = m.in.Seed, m.q.Draws, m.q.Fresh
	if o.Seed == 0 {
		o.Seed = forecast.DefaultSeed
	}
	for j, x := range m.found.X {
		c := m.candidates[j]
		o.Cost += float64(x) * c.cost
		o.Cash += float64(x) * c.cash
		o.Hours += float64(x) * c.hours
	}
	o.Earns, o.Within = m.worth(), linear.Within
	o.Bound, o.Bounded = m.found.Bound, !math.IsInf(m.found.Bound, 0) && !math.IsNaN(m.found.Bound)
	for _, sp := range m.choosing.species(m.needs) {
		o.Species = append(o.Species, sp.Name)
	}
	m.sway()
	m.used()
	m.takes()
	return o
}
