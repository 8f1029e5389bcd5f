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

// hanging are the slopes of all targets at a plan.
func (q *problem) hanging(x []float64) []cut {
	var cuts []cut
	for i, t := range q.targets {
		if t.last > t.first {
			if c := q.slope(i, q.worst(i, x), x); finite(c.right) {
				cuts = append(cuts, c)
			}
		}
	}
	return cuts
}

// fractions is the cheapest plan in fractions, between two plans, that lacks
// least of what is asked; lacking costs far more than all else. Nil where the
// linear programme has no answer.
func (q *problem) fractions(rows []asked, low, high []float64) []float64 {
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
		return nil
	}
	x := slices.Clone(o.X[:q.n])
	for j := range x {
		x[j] += low[j]
	}
	return x
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
	x := floats(st.x)
	most := math.Max(1, largest(x))
	low, high := make([]float64, s.n), make([]float64, s.n)
	for j, v := range x {
		reach := stride * math.Max(v, .3*most)
		low[j], high[j] = math.Max(0, v-reach), math.Min(float64(s.most[j]), v+reach)
	}
	var rows []asked
	for i, t := range s.targets {
		if t.last > t.first {
			if c := s.slope(i, s.worst(i, x), x); finite(c.right) {
				rows = append(rows, asked{c, i})
			}
		}
	}
	s.work += int64(len(s.rows) * s.d * 10)
	return s.fractions(rows, low, high)
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
// plan, those furthest from failing of each target until they weigh enough;
// noise, as a part of the need, blurs which those are.
func (s *search) holding(st *state, noise float64) []float64 {
	if s.d > heldDraws {
		return nil
	}
	x := floats(st.x)
	hold := make([][]int, len(s.targets))
	for i, t := range s.targets {
		if t.last == t.first {
			continue
		}
		w := s.worst(i, x)
		if noise > 0 {
			for d := range w.over {
				w.over[d] += noise * s.rng.NormFloat64()
			}
			w.sort()
		}
		weight := 0.0
		for k := len(w.order) - 1; k >= 0 && weight < t.chance; k-- {
			hold[i] = append(hold[i], w.order[k])
			weight += s.p[w.order[k]]
		}
	}
	return s.hold(hold)
}

// hold is the cheapest plan in fractions that meets each target in given
// draws, as far as limits allow: rows are asked for as answers break them.
func (s *search) hold(hold [][]int) []float64 {
	low, high := make([]float64, s.n), make([]float64, s.n)
	for j, m := range s.most {
		high[j] = math.Min(float64(m), float64(s.longest()))
	}
	var rows []asked
	x := low
	for range 40 {
		more := 0
		for i, t := range s.targets {
			for r := t.first; r < t.last; r++ {
				if d, ok := s.broken(r, hold[i], x); ok {
					rows = append(rows, asked{s.ask(r, d), i})
					more++
				}
			}
		}
		if more == 0 {
			break
		}
		if x = s.fractions(rows, low, high); x == nil {
			return nil
		}
		s.work += int64((len(rows)+s.n)*s.n*100 + len(s.rows)*s.d)
	}
	return x
}

// broken is the draw of some in which a row lacks most, if it lacks anything.
func (s *search) broken(r int, draws []int, x []float64) (int, bool) {
	row := &s.rows[r]
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
func (s *search) ask(r, d int) cut {
	row := &s.rows[r]
	c := cut{make([]float64, s.n), (row.least - row.have[d]) / row.size}
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
