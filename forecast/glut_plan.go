package forecast

import (
	"cmp"
	"slices"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// gluts are the weeks on end in which something is over less seldom than the
// grower wants, each with what to do.
func (r *run) gluts(c *courses, weeks []SupplyWeek, loads []Load) (out []Glut) {
	for from := 0; from < len(weeks); from++ {
		to := from
		for to < len(weeks) && weeks[to].Glut {
			to++
		}
		if to > from {
			out = append(out, r.glut(c, from, to-1, loads))
			from = to
		}
	}
	return out
}

// glut is that of the weeks from and to, both included.
func (r *run) glut(c *courses, from, to int, loads []Load) Glut {
	over := func(n int) (kg float64) {
		for w := from; w <= to; w++ {
			kg += c.at(n, w).Over
		}
		return kg
	}
	is := func(n int) bool { return over(n) >= r.data.Practice.GlutKG.Value }
	g := Glut{From: r.asOf.Monday() + yard.Date(7*from), To: r.asOf.Monday() + yard.Date(7*to+6), Chance: r.chanceOf(is)}
	g.Over = r.amountWhere(is, over)
	g.Leave = leaveOut(loads, g.From, g.To, r.asOf)
	r.planGlut(&g, c.k, r.meanCourse(c.k, is), from, to)
	return g
}

// amountWhere is the amount of the draws in which something is so.
func (r *run) amountWhere(is func(draw int) bool, kg func(draw int) float64) Amount {
	t := chance.Amounts()
	for n := range r.draws {
		if is(n) {
			t.Add(kg(n), r.weight[n])
		}
	}
	return amount(t)
}

// meanCourse is what comes by week and species on the mean of the draws in
// which something is so.
func (r *run) meanCourse(k *keeping, is func(draw int) bool) []float64 {
	sum, one := make([]float64, rotaWeeks*len(k.species)), make([]float64, rotaWeeks*len(k.species))
	total := 0.0
	for n := range r.draws {
		if !is(n) {
			continue
		}
		r.cameIn(one, k, n)
		for i, kg := range one {
			sum[i] += r.weight[n] * kg
		}
		total += r.weight[n]
	}
	for i := range sum {
		sum[i] /= total
	}
	return sum
}

// planGlut says what to do on each day of a glut that comes as came says.
func (r *run) planGlut(g *Glut, k *keeping, came []float64, from, to int) {
	var deeds []deed
	one := newCourse(k)
	one.log = &deeds
	books := make([]WeekBook, to+1)
	one.run(came, books, make([]bool, len(k.due)))
	for w := from; w <= to; w++ {
		g.Book.add(&books[w], 1)
	}
	g.Book.Before, g.Book.Kept = books[from].Before, books[to].Kept
	var day *GlutDay
	for _, d := range deeds {
		if k.weekOf(d.day) < from {
			continue
		}
		if on := r.asOf + yard.Date(d.day); day == nil || day.Day != on {
			g.Days = append(g.Days, GlutDay{Day: on, Away: r.isAway(on)})
			day = &g.Days[len(g.Days)-1]
		}
		r.tell(day, k, d)
	}
	for i := range g.Days {
		slices.SortStableFunc(g.Days[i].Pick, func(a, b Kilos) int {
			return cmp.Compare(k.keeps[slices.Index(k.species, a.Species)], k.keeps[slices.Index(k.species, b.Species)])
		})
	}
}

// tell puts a deed into its day.
func (r *run) tell(day *GlutDay, k *keeping, d deed) {
	name := ""
	if d.what != didKeep {
		name = k.species[d.species]
	}
	switch d.what {
	case didPick:
		day.Pick = more(day.Pick, name, d.kg)
	case didDeliver:
		day.Deliver = more(day.Deliver, name, d.kg)
	case didUse:
		day.Usual = more(day.Usual, name, d.kg)
	case didDry:
		after := float64(d.turn) * k.hours
		if n := len(day.Dry); n == 0 || day.Dry[n-1].After != after {
			day.Dry = append(day.Dry, DrierLoad{Day: day.Day, After: after, Hours: k.hours})
		}
		l := &day.Dry[len(day.Dry)-1]
		l.Parts = more(l.Parts, name, d.kg)
	case didSell:
		by := r.asOf + yard.Date(d.until)
		i := slices.IndexFunc(day.Sell, func(s SellBy) bool { return s.Species == name && s.By == by })
		if i < 0 {
			i = len(day.Sell)
			day.Sell = append(day.Sell, SellBy{Species: name, By: by})
		}
		day.Sell[i].KG += d.kg
	case didKeep:
		day.Kept = d.kg
	}
}

// more adds to what there is of a species.
func more(list []Kilos, species string, kg float64) []Kilos {
	for i := range list {
		if list[i].Species == species {
			list[i].KG += kg
			return list
		}
	}
	return append(list, Kilos{species, kg})
}

// leaveOut is the load of the tank of which most is picked in a glut, of those
// that can still be put off; nil none. A load's crop is taken to come evenly
// between the days of its pickings.
func leaveOut(loads []Load, from, to, asOf yard.Date) (out *LeaveOut) {
	best := 0.0
	for _, l := range loads {
		if l.Logs == 0 || l.In <= asOf || l.PickFrom == 0 {
			continue
		}
		days := min(l.PickTo, to) - max(l.PickFrom, from) + 1
		if days <= 0 {
			continue
		}
		kg := l.Fresh.Mean * float64(days) / float64(l.PickTo-l.PickFrom+1)
		if kg <= best {
			continue
		}
		best = kg
		out = &LeaveOut{In: l.In, Logs: l.Logs, Fresh: l.Fresh, Chance: l.Chance, PickFrom: l.PickFrom, PickTo: l.PickTo}
		for _, p := range l.Parts {
			name := p.Pile
			if p.Part != "" {
				name += " " + p.Part
			}
			out.Piles = append(out.Piles, name)
		}
	}
	return out
}
