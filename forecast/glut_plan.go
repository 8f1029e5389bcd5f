package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// gluts are the weeks on end in which something is over less seldom than the
// grower wants, each with what to do.
func (r *run) gluts(ctx context.Context, c *courses, weeks []SupplyWeek, loads []Load) (out []Glut, err error) {
	for from := 0; from < len(weeks); from++ {
		to := from
		for to < len(weeks) && weeks[to].Glut {
			to++
		}
		if to == from {
			continue
		}
		g, err := r.glut(ctx, c, weeks, loads, from, to-1)
		if err != nil {
			return nil, err
		}
		out = append(out, g)
		from = to
	}
	return out, nil
}

// glut is that of the weeks from and to, both included.
func (r *run) glut(ctx context.Context, c *courses, weeks []SupplyWeek, loads []Load, from, to int) (g Glut, err error) {
	monday := r.asOf.Monday()
	over, is := r.overIn(c, from, to)
	g = Glut{From: monday + yard.Date(7*from), To: monday + yard.Date(7*to+6), Chance: r.chanceOf(is)}
	g.Over = r.amountWhere(is, over)
	last := from
	if from == 0 && to > 0 {
		last = 1
	}
	g.Plan = r.planGlut(c, from, last)
	g.Leave, err = r.leave(ctx, c, weeks, loads, from, to)
	return g, err
}

// overIn is what is over in a draw in some weeks, and whether that is more than
// finds a plate.
func (r *run) overIn(c *courses, from, to int) (over func(draw int) float64, is func(draw int) bool) {
	over = func(n int) (kg float64) {
		for w := from; w <= to; w++ {
			kg += c.at(n, w).Over
		}
		return kg
	}
	return over, func(n int) bool { return over(n) >= r.data.Practice.GlutKG.Value }
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

// middle are the draws in the middle, by weight, of those in which something is
// so, in order of kg: as many as make up a share of them, one at least where
// there are any.
func (r *run) middle(share float64, is func(draw int) bool, kg func(draw int) float64) (those []int) {
	total := 0.0
	for n := range r.draws {
		if is(n) {
			those = append(those, n)
			total += r.weight[n]
		}
	}
	slices.SortStableFunc(those, func(a, b int) int { return cmp.Compare(kg(a), kg(b)) })
	from, to, sum := 0, 0, 0.0
	for i, n := range those {
		if sum <= total*(1-share)/2 {
			from = i
		}
		if sum += r.weight[n]; to == 0 && sum >= total*(1+share)/2 {
			to = i + 1
		}
	}
	return those[from:max(to, from)]
}

// planGlut says what to do on each day of some weeks of a glut.
func (r *run) planGlut(c *courses, from, to int) GlutPlan {
	k := c.k
	over, is := r.overIn(c, from, to)
	p := GlutPlan{From: r.asOf.Monday() + yard.Date(7*from), To: r.asOf.Monday() + yard.Date(7*to+6), Chance: r.chanceOf(is), Over: r.amountWhere(is, over)}
	p.Order = r.pickOrder(k, is, from, to)
	for _, share := range []float64{middling, 0} {
		those := r.middle(share, is, over)
		if len(those) == 0 {
			return p
		}
		var deeds []deed
		one := newCourse(k)
		one.log = &deeds
		books := make([]WeekBook, to+1)
		one.run(r.meanOf(k, those), books, make([]bool, len(k.due)))
		p.Book = WeekBook{}
		for w := from; w <= to; w++ {
			p.Book.add(&books[w], 1)
		}
		p.Book.Before, p.Book.Kept = books[from].Before, books[to].Kept
		p.Days = r.glutDays(k, deeds, from)
		if p.Over.P10 <= p.Book.Over && p.Book.Over <= p.Over.P90 {
			break
		}
	}
	return p
}

// middling is the share of the courses of a glut on whose mean its plan rests,
// our own judgement: enough of them to say which species come, few enough to be
// alike in what is over. Where their mean leaves less or more over than the
// forecast says the plan is that of the one in the middle.
const middling = 0.2

// meanOf is what comes by week and species on the mean of some draws.
func (r *run) meanOf(k *keeping, draws []int) []float64 {
	sum, one := make([]float64, rotaWeeks*len(k.species)), make([]float64, rotaWeeks*len(k.species))
	total := 0.0
	for _, n := range draws {
		r.cameIn(one, k, n)
		for i, kg := range one {
			sum[i] += r.weight[n] * kg
		}
		total += r.weight[n]
	}
	for i := range sum {
		sum[i] /= max(total, math.SmallestNonzeroFloat64)
	}
	return sum
}

// pickOrder are the species that come in some weeks in any of the draws in
// which something is so, what keeps least first.
func (r *run) pickOrder(k *keeping, is func(draw int) bool, from, to int) (names []string) {
	comes := make([]bool, len(k.species))
	came := make([]float64, rotaWeeks*len(k.species))
	for n := range r.draws {
		if !is(n) {
			continue
		}
		r.cameIn(came, k, n)
		for w := from; w <= to; w++ {
			for i := range k.species {
				comes[i] = comes[i] || came[w*len(k.species)+i] >= leastPicking
			}
		}
	}
	for i, name := range k.species {
		if comes[i] {
			names = append(names, name)
		}
	}
	slices.SortStableFunc(names, k.keepsLess)
	return names
}

// keepsLess orders species by the days that they keep.
func (k *keeping) keepsLess(a, b string) int {
	return cmp.Compare(k.keeps[slices.Index(k.species, a)], k.keeps[slices.Index(k.species, b)])
}

// glutDays puts the deeds of a course from a week on into its days.
func (r *run) glutDays(k *keeping, deeds []deed, from int) (days []GlutDay) {
	var day *GlutDay
	cold := make([]float64, len(k.species))
	for _, p := range k.start {
		cold[p.species] += p.kg
	}
	for _, d := range deeds {
		switch d.what {
		case didPick:
			cold[d.species] += d.kg
		case didDeliver, didUse, didDry, didSell:
			cold[d.species] -= d.kg
		}
		if k.weekOf(d.day) < from {
			continue
		}
		if on := r.asOf + yard.Date(d.day); day == nil || day.Day != on {
			days = append(days, GlutDay{Day: on, Away: r.isAway(on)})
			day = &days[len(days)-1]
		}
		r.tell(day, k, d)
		if d.what == didKeep {
			for i, kg := range cold {
				if kg >= leastPicking {
					day.Cold = append(day.Cold, Kilos{k.species[i], kg})
				}
			}
		}
	}
	for i := range days {
		slices.SortStableFunc(days[i].Pick, func(a, b Kilos) int { return k.keepsLess(a.Species, b.Species) })
		slices.SortStableFunc(days[i].Cold, func(a, b Kilos) int { return k.keepsLess(a.Species, b.Species) })
	}
	return days
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
		i := slices.IndexFunc(day.Sell, func(s SellBy) bool { return s.Species == name })
		if i < 0 {
			i = len(day.Sell)
			day.Sell = append(day.Sell, SellBy{Species: name, By: by})
		}
		day.Sell[i].KG += d.kg
		day.Sell[i].By = min(day.Sell[i].By, by)
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
