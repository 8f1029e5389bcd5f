package linear

import (
	"errors"
	"math"
	"slices"
)

// cut is coef·x ≥ right, which every plan keeps that meets the targets.
type cut struct {
	coef  []float64
	right float64
}

// bound is what is known of all plans: none costs less than value. x is the
// plan in fractions that costs as much, shadow what a unit more of each limit
// would take from it.
type bound struct {
	value  float64 // -Inf where nothing is known, +Inf where no plan can be
	x      []float64
	shadow []float64
}

// unknown is the bound of what nothing is known of.
var unknown = bound{value: math.Inf(-1)}

// Rounds and depth of the cuts, and what a violation must be, of the need, to
// be worth a cut.
const (
	cutRounds = 12
	cutWorth  = 1e-4
)

// depths are the parts of the draws, beyond those that may fail, over which
// the worst draws are summed in a cut.
var depths = []float64{1, .3, .1, .03, .01}

// bound solves the linear programme of cuts, adding cuts where its answer
// breaks one.
//
// Each cut is valid. Let H be the draws in which a plan x meets a target, of
// weight at least α of 1; in each, all rows hold, so that of any one row
// chosen for the draw, a·x ≥ b, with b its need less what is there, a ≥ 0.
//
//   - Let D be any draws, of weight above 1−α, and β = weight(D) − (1−α). The
//     draws of H in D weigh at least β; take of them parts φ ≤ p that sum to β.
//     Then Σφ·b ≤ Σφ·a·x = Σⱼ xⱼ·Σφ·aⱼ ≤ Σⱼ xⱼ·T(aⱼ), where T(v) is the sum of
//     the largest values of v in D that make up the weight β, and Σφ·b is at
//     least -T(-b). With all draws as D, β is α; with few, T is nearly the
//     largest value among the worst draws (deep cuts, [problem.deep]).
//   - For any direction c ≥ 0 let m(d) be no more than the least c·x with which
//     the target is met in draw d. Draws whose m is at least q and which weigh
//     more than 1−α cannot all fail, so c·x ≥ q ([problem.along]; the quantile
//     of Luedtke 2014, A branch-and-cut decomposition algorithm for solving
//     chance-constrained mathematical programs, Mathematical Programming
//     146:219–244).
//
// A linear programme under cuts, the limits and the greatest numbers is thus
// never dearer than the best plan in whole numbers, less a millionth for its
// own rounding.
func (q *problem) bound() bound {
	cuts := q.firstCuts()
	best := unknown
	for range cutRounds {
		o, err := q.under(cuts).solve(tableFirst)
		if errors.Is(err, ErrInfeasible) {
			return bound{value: math.Inf(1)}
		}
		if err != nil {
			return best
		}
		v := o.Value - 1e-6*math.Max(math.Abs(o.Value), 1e-6*q.scale())
		if !q.earns() {
			v = math.Max(0, v)
		}
		best.value = math.Max(best.value, v)
		best.x, best.shadow = o.X, make([]float64, len(q.limits))
		for k := range q.limits {
			best.shadow[k] = math.Max(0, -o.Duals[k])
		}
		more := q.violated(o.X)
		if len(more) == 0 {
			break
		}
		cuts = append(q.tight(cuts, o.X), more...)
	}
	return best
}

// scale is the largest cost of a unit.
func (q *problem) scale() float64 { return largest(q.cost) }

// earns says whether any variable does.
func (q *problem) earns() bool {
	return slices.ContainsFunc(q.cost, func(c float64) bool { return c < 0 })
}

// under is the linear programme of cuts, limits and greatest numbers; the
// limits' rules come first.
func (q *problem) under(cuts []cut) *LP {
	l := &LP{Cost: q.cost}
	for k, lim := range q.limits {
		l.Rules = append(l.Rules, Rule{lim.Use, AtMost, q.roomOf(k)})
	}
	for _, c := range cuts {
		l.Rules = append(l.Rules, Rule{c.coef, AtLeast, c.right})
	}
	for j := range q.n {
		l.Upper = append(l.Upper, q.upper(j))
	}
	return l
}

// upper is a variable's greatest number, but not what limits leave of it: they
// are to have a price of their own.
func (q *problem) upper(j int) float64 {
	if q.most[j] == 0 {
		return 0
	}
	return math.Floor(q.given[j])
}

// roomOf is a limit's room, or more than all units could use.
func (q *problem) roomOf(k int) float64 {
	if math.IsInf(q.room[k], 1) {
		return mostUnits * (1 + sum(q.limits[k].Use))
	}
	return q.room[k]
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

// firstCuts are, for each row, the cut over all draws, and for each target that
// along the costs, that along what its variables give on average, and the
// units of a variable that serves it alone.
func (q *problem) firstCuts() []cut {
	var cuts []cut
	list := make([]weighted, q.d)
	add := func(c cut) {
		if c.right > 0 && c.coef != nil {
			cuts = append(cuts, c)
		}
	}
	for i, t := range q.targets {
		mean := make([]float64, q.n)
		for r := t.first; r < t.last; r++ {
			c := cut{make([]float64, q.n), t.chance * q.rows[r].least}
			for j, g := range q.rows[r].gives {
				if g != nil {
					c.coef[j] = top(fill(list, g, q.p), t.chance)
					mean[j] += c.coef[j] / q.rows[r].size
				}
			}
			c.right -= top(fill(list, q.rows[r].have, q.p), t.chance)
			add(c)
		}
		add(q.along(i, mean))
		if !q.earns() {
			add(q.along(i, q.cost))
		}
		for j := range mean {
			if q.alone(i, j) {
				unit := make([]float64, q.n)
				unit[j] = 1
				c := q.along(i, unit)
				c.right = math.Ceil(c.right - hair*math.Max(1, c.right)) // units are whole
				add(c)
			}
		}
	}
	return cuts
}

// alone says whether a row of a target has no other giver without end.
func (q *problem) alone(i, j int) bool {
	for r := q.targets[i].first; r < q.targets[i].last; r++ {
		if q.rows[r].gives[j] == nil {
			continue
		}
		others := false
		for k, g := range q.rows[r].gives {
			others = others || k != j && g != nil && q.most[k] == mostUnits
		}
		if !others {
			return true
		}
	}
	return false
}

func fill[F float32 | float64](list []weighted, v []F, p []float64) []weighted {
	list = list[:len(v)]
	for d, x := range v {
		list[d] = weighted{float64(x), p[d]}
	}
	return list
}

// along is the cut of a target in one direction ≥ 0: coef·x ≥ the quantile of
// what each draw asks for at least.
func (q *problem) along(i int, coef []float64) cut {
	t := q.targets[i]
	list := make([]weighted, q.d)
	for d := range list {
		list[d] = weighted{0, q.p[d]}
	}
	for r := t.first; r < t.last; r++ {
		q.rows[r].asks(coef, q.most, list)
	}
	for d := range list {
		list[d].v *= -1 // the largest first
	}
	m, ok := least(list, 1-t.chance+hair)
	if !ok || m == 0 {
		return cut{}
	}
	if math.IsInf(m, -1) { // nothing could meet it: 0·x ≥ 1
		return cut{make([]float64, q.n), 1}
	}
	return cut{coef, -m}
}

// asks raises the value of each draw to the least coef·x with which the row
// holds in it: what is lacking, from the variables that give most for their
// coefficient, each up to its greatest number.
func (r *row) asks(coef []float64, most []int, list []weighted) {
	type giver struct {
		g      []float32
		c, max float64
	}
	var givers []giver
	for j, g := range r.gives {
		if g != nil && most[j] > 0 {
			givers = append(givers, giver{g, coef[j], float64(most[j])})
		}
	}
	spent := make([]bool, len(givers))
	for d := range list {
		lack, c := r.least-r.have[d], 0.0
		clear(spent)
		for lack > 0 {
			at, rate := -1, math.Inf(1)
			for k := range givers {
				if v := float64(givers[k].g[d]); v > 0 && !spent[k] && givers[k].c < rate*v {
					at, rate = k, givers[k].c/v
				}
			}
			if at < 0 {
				c = math.Inf(1)
				break
			}
			spent[at] = true
			v := math.Min(lack, givers[at].max*float64(givers[at].g[d]))
			c += v * rate
			lack -= v
		}
		list[d].v = math.Max(list[d].v, c)
	}
}

// tight are the cuts that an answer keeps with little to spare, the later ones
// first to stay, and of the others none.
func (q *problem) tight(cuts []cut, x []float64) []cut {
	var keep []cut
	for _, c := range cuts {
		if dot(c.coef, x)-c.right < .2*math.Abs(c.right) {
			keep = append(keep, c)
		}
	}
	return keep
}

func dot(a, b []float64) float64 {
	s := 0.0
	for j, v := range a {
		s += v * b[j]
	}
	return s
}

// violated are new cuts that x breaks: deep ones, and one along what the
// variables give near the draw on which the target hangs.
func (q *problem) violated(x []float64) []cut {
	var cuts []cut
	for i, t := range q.targets {
		if t.last == t.first {
			continue
		}
		w := q.worst(i, x)
		if w.at(t.chance) >= -cutWorth {
			continue
		}
		best, by := cut{}, cutWorth
		for _, c := range append(q.deep(i, w), q.along(i, q.slope(i, w, x).coef)) {
			if c.coef == nil {
				continue
			}
			if v := (c.right - dot(c.coef, x)) / math.Max(math.Abs(c.right), 1e-9*largest(c.coef)); v > by {
				best, by = c, v
			}
		}
		if best.coef != nil {
			cuts = append(cuts, best)
		}
	}
	return cuts
}

// worst is, for a target and a plan in fractions, each draw's worst row and
// what it has beyond its need, as a part of the need; order goes from the
// worst draw to the best.
type worst struct {
	p     []float64
	row   []int
	over  []float64
	order []int
}

func (q *problem) worst(i int, x []float64) *worst {
	t := q.targets[i]
	w := &worst{p: q.p, row: make([]int, q.d), over: make([]float64, q.d), order: make([]int, q.d)}
	for d := range w.over {
		w.over[d], w.order[d] = math.Inf(1), d
	}
	sum := make([]float64, q.d)
	for r := t.first; r < t.last; r++ {
		row := &q.rows[r]
		for d, h := range row.have {
			sum[d] = h - row.least
		}
		for j, g := range row.gives {
			if g != nil && x[j] != 0 {
				for d := range sum {
					sum[d] += x[j] * float64(g[d])
				}
			}
		}
		for d, v := range sum {
			if v /= row.size; v < w.over[d] {
				w.over[d], w.row[d] = v, r
			}
		}
	}
	w.sort()
	return w
}

func (w *worst) sort() {
	slices.SortFunc(w.order, func(a, b int) int {
		switch {
		case w.over[a] < w.over[b]:
			return -1
		case w.over[a] > w.over[b]:
			return 1
		}
		return a - b
	})
}

// at is what all but 1 - chance of the draws have beyond the need at least.
func (w *worst) at(chance float64) float64 {
	return w.over[w.order[w.rank(1-chance)]]
}

// rank is the first place in the order up to which, it included, the draws
// weigh more than weight.
func (w *worst) rank(weight float64) int {
	sum := 0.0
	for k, d := range w.order {
		if sum += w.p[d]; sum > weight+hair {
			return k
		}
	}
	return len(w.order) - 1
}

// deep are the cuts over the worst draws of a plan, one for each depth.
func (q *problem) deep(i int, w *worst) []cut {
	t := q.targets[i]
	list := make([]weighted, 0, q.d)
	var cuts []cut
	for _, depth := range depths {
		beta := -(1 - t.chance)
		var draws []int
		for _, d := range w.order {
			draws, beta = append(draws, d), beta+q.p[d]
			if beta >= depth*t.chance-hair && beta > hair {
				break
			}
		}
		if beta <= hair {
			continue
		}
		c := cut{coef: make([]float64, q.n)}
		for j := range c.coef {
			list = list[:0]
			for _, d := range draws {
				row := &q.rows[w.row[d]]
				if g := row.gives[j]; g != nil && g[d] > 0 {
					list = append(list, weighted{float64(g[d]) / row.size, q.p[d]})
				}
			}
			c.coef[j] = top(list, beta)
		}
		list = list[:0]
		for _, d := range draws {
			row := &q.rows[w.row[d]]
			list = append(list, weighted{(row.have[d] - row.least) / row.size, q.p[d]})
		}
		c.right = -top(list, beta)
		cuts = append(cuts, c)
	}
	return cuts
}

// slope is how the draw on which a target hangs changes with each variable:
// coef is the mean of what they give to the worst rows of the draws next to
// it, right what is lacking at x, as a cut through x. It is no valid one.
func (q *problem) slope(i int, w *worst, x []float64) cut {
	at := w.rank(1 - q.targets[i].chance)
	from, to := at, at
	weight := q.p[w.order[at]]
	for weight < slopeWidth || to-from < 2 {
		if from == 0 && to == len(w.order)-1 {
			break
		}
		if from > 0 {
			from--
			weight += q.p[w.order[from]]
		}
		if to < len(w.order)-1 {
			to++
			weight += q.p[w.order[to]]
		}
	}
	c := cut{coef: make([]float64, q.n)}
	for _, d := range w.order[from : to+1] {
		row := &q.rows[w.row[d]]
		for j, g := range row.gives {
			if g != nil {
				c.coef[j] += q.p[d] / weight * float64(g[d]) / row.size
			}
		}
	}
	c.right = dot(c.coef, x) - w.over[w.order[at]]
	return c
}

// slopeWidth is the weight of the draws over which a slope is taken.
const slopeWidth = .04
