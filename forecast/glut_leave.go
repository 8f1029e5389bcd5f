package forecast

import (
	"context"
	"slices"

	"hodaba/yard"
)

// leave is what to leave out of the tank before the glut of the weeks from and
// to.
//
// Purpose: a soak that is picked in a glut is better put off before it. Equations:
// a load is picked in a glut if at least half of the days between which it is
// likely picked are; it is put off until the first load of the tank book of
// which that is not so in this one, or of one within a cycle of that of which it
// is so in no other either, or else until the Monday from which on picking begins
// after it. What that helps at
// most is worked out by going through the days of all courses again without what
// the loads bring, spread over the weeks in which they are picked. Parameters: none.
// State: none. Needs: the loads of the tank and what they bring by draw. Errors:
// the context's.
func (r *run) leave(ctx context.Context, c *courses, weeks []SupplyWeek, loads []Load, from, to int) (out Leave, err error) {
	in := func(l *Load, isGlut func(week int) bool) bool {
		if l.Logs == 0 || l.PickFrom == 0 || l.In < r.asOf {
			return false
		}
		n := 0
		for d := l.PickFrom; d <= l.PickTo; d++ {
			if w := c.k.weekOf(int(d - r.asOf)); w < len(weeks) && isGlut(w) {
				n++
			}
		}
		return 2*n > int(l.PickTo-l.PickFrom)
	}
	this := func(w int) bool { return from <= w && w <= to }
	any := func(w int) bool { return weeks[w].Glut }
	for i := range loads {
		if l := &loads[i]; in(l, this) {
			out.Loads = append(out.Loads, leaveOut(l, r.asOf))
		}
	}
	if len(out.Loads) == 0 {
		return out, nil
	}
	out.Until = r.leaveUntil(loads, out.Loads[len(out.Loads)-1], weeks[to].Week+daysOfWeek, func(l *Load) bool { return in(l, any) }, func(l *Load) bool { return in(l, this) })
	out.Empty = r.othersRested(loads, &out)
	if out.Loads[0].Soon {
		out.Less, err = r.lessOver(ctx, c, &out, from, to)
	}
	return out, err
}

func leaveOut(l *Load, asOf yard.Date) LeaveOut {
	out := LeaveOut{In: l.In, Logs: l.Logs, Fresh: l.Fresh, Chance: l.Chance, PickFrom: l.PickFrom, PickTo: l.PickTo,
		Soon: l.In < asOf.Monday()+2*daysOfWeek}
	for _, p := range l.Parts {
		name := p.Pile
		if p.Part != "" {
			name += " " + p.Part
		}
		out.Piles = append(out.Piles, name)
	}
	return out
}

// leaveUntil is the day until which to put loads off, the last of which is
// last: that of the first load picked after the glut, or of one within a cycle of
// it that is picked in no other glut either. after is the first day after the
// glut.
func (r *run) leaveUntil(loads []Load, last LeaveOut, after yard.Date, inAny, inThis func(*Load) bool) yard.Date {
	first := yard.Date(0)
	for i := range loads {
		l := &loads[i]
		if l.In <= last.In || l.Logs == 0 || l.PickFrom == 0 || inThis(l) {
			continue
		}
		if first == 0 {
			first = l.In
		}
		if l.In <= first+r.cycleDays() && !inAny(l) {
			return l.In
		}
	}
	if first > 0 {
		return first
	}
	return max(last.In+daysOfWeek, after-(last.PickFrom-last.In)+daysOfWeek-1).Monday()
}

// othersRested reports whether other logs are rested when the loads of this
// week and the next are due, a cycle after their last turn, and go in before those
// are to: they would take their places.
func (r *run) othersRested(loads []Load, leave *Leave) bool {
	type part struct{ pile, part string }
	cycle := r.cycleDays()
	left := map[part]bool{}
	var soon *Load
	for i := range loads {
		l := &loads[i]
		is := slices.ContainsFunc(leave.Loads, func(o LeaveOut) bool { return o.Soon && o.In == l.In })
		for _, p := range l.Parts {
			switch {
			case is:
				left[part{p.Pile, p.Part}] = true
			case soon == nil || l.In >= leave.Until || left[part{p.Pile, p.Part}]:
			case p.Last == 0 || p.Last+cycle <= soon.Out:
				return true
			}
		}
		if is {
			soon = l
		}
	}
	return false
}

// lessOver is by how many kg less is over in a glut, on the mean of the courses
// in which something is, without what the loads that are left out bring.
func (r *run) lessOver(ctx context.Context, c *courses, leave *Leave, from, to int) (float64, error) {
	k := c.k
	var gone []goneLoad
	for _, l := range r.loads {
		if l.mg != nil && slices.ContainsFunc(leave.Loads, func(o LeaveOut) bool { return o.In == l.In && (o.Soon || leave.Empty) }) {
			gone = append(gone, r.goneLoad(k, l))
		}
	}
	over, is := r.overIn(c, from, to)
	less := make([]float64, r.draws)
	err := r.parallel(ctx, r.draws, func() func(int) {
		one := newCourse(k)
		came := make([]float64, rotaWeeks*len(k.species))
		books, met := make([]WeekBook, to+1), make([]bool, len(k.due))
		return func(n int) {
			if !is(n) {
				return
			}
			r.cameIn(came, k, n)
			for i := range gone {
				gone[i].takeFrom(came, n)
			}
			one.run(came, books, met)
			less[n] = over(n)
			for w := from; w <= to; w++ {
				less[n] -= books[w].Over
			}
		}
	})
	if err != nil {
		return 0, err
	}
	return max(0, r.amountWhere(is, func(n int) float64 { return max(0, less[n]) }).Mean), nil
}

// goneLoad is a load that is thought away.
type goneLoad struct {
	load  *load
	cells []int     // of what comes by week and species
	share []float64 // of the load's crop that is picked there
}

// goneLoad spreads what a load brings over the weeks in which it is picked, and
// over the species of its logs.
func (r *run) goneLoad(k *keeping, l *load) goneLoad {
	g := goneLoad{load: l}
	bySpecies, logs := make([]float64, len(k.species)), 0.0
	for _, p := range l.Parts {
		for _, t := range r.tasks {
			if i := slices.Index(k.species, t.name); i >= 0 && t.pile.Name == p.Pile {
				bySpecies[i] += float64(p.Logs)
				logs += float64(p.Logs)
			}
		}
	}
	total := 0.0
	for _, n := range l.days {
		total += float64(n)
	}
	if total <= 0 || logs <= 0 {
		return g
	}
	byWeek := make([]float64, rotaWeeks)
	for d, n := range l.days {
		if w := k.weekOf(int(l.Out-r.asOf) + d); w < rotaWeeks {
			byWeek[w] += float64(n) / total
		}
	}
	for w, share := range byWeek {
		for i := range k.species {
			if mine := share * bySpecies[i] / logs; mine > 0 {
				g.cells = append(g.cells, w*len(k.species)+i)
				g.share = append(g.share, mine)
			}
		}
	}
	return g
}

// takeFrom takes the load's crop of a draw from what comes; what a week does not
// have is taken from the others, because a draw picks it in one or two of them.
func (g *goneLoad) takeFrom(came []float64, draw int) {
	kg := float64(g.load.mg[draw]) / 1e6
	left := kg
	for i, at := range g.cells {
		got := min(came[at], kg*g.share[i])
		came[at] -= got
		left -= got
	}
	for _, at := range g.cells {
		got := min(came[at], max(0, left))
		came[at] -= got
		left -= got
	}
}
