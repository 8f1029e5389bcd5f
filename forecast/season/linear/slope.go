package linear

import (
	"math"
	"slices"
)

// asked is what a linear programme asks for one target.
type asked struct {
	cut
	target int
}

// fractions is the cheapest plan in fractions, between two plans, that lacks
// least of what is asked, and what a unit more of each limit saves; lacking
// costs far more than all else. Nil where the linear programme has no answer.
func (q *problem) fractions(rows []asked, low, high []float64) (x, prices []float64) {
	n := q.n + len(q.targets)
	dear := 1e3 * (q.scale() + math.Abs(dot(q.cost, low)) + math.Abs(dot(q.cost, high)))
	l := &LP{Cost: make([]float64, n), Upper: make([]float64, n)}
	copy(l.Cost, q.cost)
	for i := range q.targets {
		l.Cost[q.n+i], l.Upper[q.n+i] = dear, math.Inf(1)
	}
	wide := func(v []float64) []float64 { return append(slices.Clone(v), make([]float64, len(q.targets))...) }
	for k, lim := range q.limits {
		l.Rules = append(l.Rules, Rule{wide(lim.Use), AtMost, q.roomOf(k) - dot(lim.Use, low)})
	}
	for _, a := range rows {
		coef := wide(a.coef)
		coef[q.n+a.target] = 1
		l.Rules = append(l.Rules, Rule{coef, AtLeast, a.right - dot(a.coef, low)})
	}
	for j := range q.n { // from low on
		l.Upper[j] = math.Max(0, high[j]-low[j])
	}
	o, err := l.solve(tableFirst)
	if err != nil {
		return nil, nil
	}
	x = o.X[:q.n:q.n]
	for j := range x {
		x[j] += low[j]
	}
	for k := range q.limits {
		prices = append(prices, math.Max(0, -o.Duals[k]))
	}
	return x, prices
}

// slide goes down the slope: the linear programme of what the draws on which
// the targets hang say of small changes, within a stride that halves where it
// leads to nothing better.
func (s *search) slide() {
	for stride := .5; stride > .03; {
		x := s.downhill(s.best, stride)
		if x == nil || !s.start(x) {
			stride /= 2
		}
	}
	for s.d <= heldDraws {
		if x := s.holding(s.best, 0); x == nil || !s.start(x) {
			return
		}
	}
}

// climb does the same from plans that do not meet the targets, until one does.
func (s *search) climb(b bound, budget int64) bool {
	var at *judged
	for _, scarce := range scarcities {
		s.reprice(nil, scarce)
		st := s.problem.empty(&s.work)
		s.mend(st, 0)
		if j := st.judged(); at == nil || j.score().before(at.score()) {
			at = j
		}
	}
	for stride := 1.0; stride > .05; {
		better := false
		for _, x := range [][]float64{s.downhill(at.state, stride), s.holding(at.state, 0)} {
			if x == nil {
				continue
			}
			if s.start(x); s.best != nil {
				return true
			}
			if j := s.now.clone().judged(); j.score().before(at.score()) {
				at, better = j, true
			}
		}
		if !better {
			stride /= 2
		}
	}
	if at.short() < .1*float64(len(s.targets)) {
		s.drift(at.state, b, budget)
	}
	return s.best != nil
}

// downhill is the plan in fractions that the slopes lead to within a stride,
// nil where there is none.
func (s *search) downhill(st *state, stride float64) []float64 {
	s.work += int64(len(s.rows) * s.d * 10)
	x, _ := s.around(floats(st.x), stride)
	return x
}

// within are the least and the most units of each line within a stride.
func (q *problem) within(x []float64, stride float64) (low, high []float64) {
	most := math.Max(1, largest(x))
	for j, v := range x {
		reach := stride * math.Max(v, .3*most)
		low, high = append(low, math.Max(0, v-reach)), append(high, math.Min(q.upper(j), v+reach))
	}
	return low, high
}

// around is the answer of the linear programme of the slopes at a plan, within
// a stride: a part of each line or of the largest; and what the limits are worth there.
func (q *problem) around(x []float64, stride float64) (to, prices []float64) {
	low, high := q.within(x, stride)
	var rows []asked
	for i, t := range q.targets {
		if t.last > t.first {
			if c := q.slope(i, q.worst(i, x), x); finite(c.right) {
				rows = append(rows, asked{c, i})
			}
		}
	}
	return q.fractions(rows, low, high)
}

func floats(x []int) []float64 {
	out := make([]float64, len(x))
	for j, v := range x {
		out[j] = float64(v)
	}
	return out
}

// heldDraws is as many draws as the search holds one by one.
const heldDraws = 200

// holding is the cheapest plan in fractions that holds the same draws as a
// plan; noise, as a part of the need, blurs which those are.
func (s *search) holding(st *state, noise float64) []float64 {
	if s.d > heldDraws {
		return nil
	}
	low, high := make([]float64, s.n), make([]float64, s.n)
	for j := range high {
		high[j] = math.Min(s.upper(j), float64(s.long))
	}
	blur := func() float64 { return 0 }
	if noise > 0 {
		blur = func() float64 { return noise * s.rng.NormFloat64() }
	}
	x, _, rounds := s.hold(s.heldBy(floats(st.x), blur), low, high)
	s.work += int64(rounds * ((rounds*len(s.targets)+s.n)*s.n*100 + len(s.rows)*s.d))
	return x
}

// heldBy are, by target, the draws furthest from failing, until they weigh
// enough.
func (q *problem) heldBy(x []float64, blur func() float64) [][]int {
	hold := make([][]int, len(q.targets))
	for i, t := range q.targets {
		if t.last == t.first {
			continue
		}
		w := q.worst(i, x)
		for d := range w.over {
			w.over[d] += blur()
		}
		w.sort()
		weight := 0.0
		for k := len(w.order) - 1; k >= 0 && weight < t.chance; k-- {
			hold[i] = append(hold[i], w.order[k])
			weight += q.p[w.order[k]]
		}
	}
	return hold
}

// hold is the cheapest plan in fractions, between two plans, that meets each
// target in given draws, as far as limits allow, and what those are worth:
// rows are asked for as answers break them, in some rounds.
func (q *problem) hold(hold [][]int, low, high []float64) (x, prices []float64, rounds int) {
	var rows []asked
	x = low
	for rounds = range 40 {
		more := 0
		for i, t := range q.targets {
			for r := t.first; r < t.last; r++ {
				if d, ok := q.broken(r, hold[i], x); ok {
					rows = append(rows, asked{q.ask(r, d), i})
					more++
				}
			}
		}
		if more == 0 {
			break
		}
		if x, prices = q.fractions(rows, low, high); x == nil {
			break
		}
	}
	return x, prices, rounds
}

// broken is the draw of some in which a row lacks most, if it lacks anything.
func (q *problem) broken(r int, draws []int, x []float64) (int, bool) {
	row := &q.rows[r]
	at, lack := -1, 1e-7*row.size
	for _, d := range draws {
		v := row.least - row.have[d]
		for j, g := range row.gives {
			if g != nil && x[j] != 0 {
				v -= x[j] * float64(g[d])
			}
		}
		if v > lack {
			at, lack = d, v
		}
	}
	return at, at >= 0
}

// ask is a row in one draw, as parts of its need.
func (q *problem) ask(r, d int) cut {
	row := &q.rows[r]
	c := cut{make([]float64, q.n), (row.least - row.have[d]) / row.size}
	for j, g := range row.gives {
		if g != nil {
			c.coef[j] = float64(g[d]) / row.size
		}
	}
	return c
}

// rehold holds nearly the draws that the plan holds and begins from there.
func (s *search) rehold(st *state) bool {
	x := s.holding(st, .02+.15*s.rng.Float64())
	if x == nil {
		return false
	}
	st.set(s.problem.empty(&s.work))
	for _, j := range s.shuffled() {
		st.add(j, int(math.Min(math.Floor(x[j]+1e-6), float64(st.space(j)))))
	}
	return s.mend(st, .3)
}
