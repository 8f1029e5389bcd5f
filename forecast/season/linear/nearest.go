package linear

import (
	"math"
	"slices"
)

// score is how good a plan is where its targets cannot be met, or where the
// units are given: less lack of chance first, then more of the needs, then
// less cost.
type score struct {
	short  float64 // chance lacking, all targets together
	shares float64 // mean parts of the needs, all targets together
	cost   float64
}

// tie is what makes no difference between scores.
const tie = 1e-9

// before says whether a is better than b by more than rounding.
func (a score) before(b score) bool {
	switch {
	case math.Abs(a.short-b.short) > tie:
		return a.short < b.short
	case math.Abs(a.shares-b.shares) > tie:
		return a.shares > b.shares
	}
	return a.cost < b.cost-tie*math.Max(1, math.Abs(b.cost))
}

// judged is a state with the mean parts of its targets' needs kept beside it,
// reckoned when they are asked for.
type judged struct {
	*state
	shares, old []float64 // NaN: not reckoned
}

func (st *state) judged() *judged {
	j := &judged{st, make([]float64, len(st.targets)), make([]float64, len(st.targets))}
	for i := range j.shares {
		j.shares[i] = math.NaN()
	}
	return j
}

func (j *judged) move(k, units int) {
	if units == 0 {
		return
	}
	j.add(k, units)
	for _, i := range j.reach[k] {
		j.shares[i] = math.NaN()
	}
}

func (j *judged) score() score {
	s := score{short: j.short(), cost: j.spent}
	for i, v := range j.shares {
		if math.IsNaN(v) {
			v = j.share(i)
			j.shares[i] = v
		}
		s.shares += v
	}
	return s
}

// better says whether the plan is better than a score. Shares are reckoned
// only if it hangs on them.
func (j *judged) better(than score) bool {
	if s := (score{short: j.short(), shares: than.shares, cost: than.cost}); math.Abs(s.short-than.short) > tie {
		return s.before(than)
	}
	return j.score().before(than)
}

// try makes moves and says whether the plan is better for them; if not, they
// are taken back.
func (j *judged) try(than score, moves ...[2]int) bool {
	copy(j.old, j.shares)
	for _, m := range moves {
		j.move(m[0], m[1])
	}
	if j.better(than) {
		return true
	}
	for k := len(moves) - 1; k >= 0; k-- {
		j.move(moves[k][0], -moves[k][1])
	}
	copy(j.shares, j.old)
	return false
}

// nearest looks for the plan of best score within the limits: block by block
// what adds most, then blocks more, fewer, and of one line for another, ever
// smaller, each tried exactly and kept if it is better.
func (s *search) nearest(from *state, budget int64) *state {
	j := from.judged()
	end := s.work + budget
	block := 1
	for k := range s.n {
		block = max(block, j.space(k), j.x[k])
	}
	block = min(block, s.long)
	for block > 0 {
		better := false
		for _, k := range s.shuffled() {
			better = s.shift(j, k, block) || better
			if s.work > end {
				return j.state
			}
		}
		better = s.replace(j, block, end) || better
		if s.work > end {
			return j.state
		}
		if !better {
			block /= 2
		}
	}
	return j.state
}

// longest is the block that could be of use: what the variable that gives
// least on average would take to meet any row alone, or else a unit.
func (q *problem) longest() int {
	most := 1.0
	for r := range q.rows {
		row := &q.rows[r]
		for _, g := range row.gives {
			if g == nil {
				continue
			}
			mean := 0.0
			for d, v := range g {
				mean += q.p[d] * float64(v)
			}
			if lack := row.least - slices.Min(row.have); lack > 0 && mean > 0 {
				most = math.Max(most, lack/mean)
			}
		}
	}
	return int(math.Min(most, mostUnits))
}

// shift tries a block more and a block fewer of one line.
func (s *search) shift(j *judged, k, block int) bool {
	before := j.score()
	for _, u := range [2]int{min(block, j.space(k)), -min(block, j.x[k])} {
		if u != 0 && j.try(before, [2]int{k, u}) {
			return true
		}
	}
	return false
}

// replace tries a block of each line in the room of a block of each other.
func (s *search) replace(j *judged, block int, end int64) bool {
	better := false
	for _, out := range slices.Clone(s.shuffled()) {
		for _, in := range slices.Clone(s.shuffled()) {
			u := min(block, j.x[out])
			if in == out || u == 0 || s.work > end {
				continue
			}
			w := min(max(1, s.worth(out, in, u)), j.spaceAfter(in, out, u))
			if w > 0 && j.try(j.score(), [2]int{out, -u}, [2]int{in, w}) {
				better = true
			}
		}
	}
	return better
}

// spaceAfter is how many units of one line there is space for when so many of
// another are gone.
func (s *state) spaceAfter(in, out, units int) int {
	for k, l := range s.limits {
		s.used[k] -= float64(units) * l.Use[out]
	}
	n := s.space(in)
	for k, l := range s.limits {
		s.used[k] += float64(units) * l.Use[out]
	}
	return n
}

// worth is how many units of one line fill the tightest room that units of
// another leave.
func (s *search) worth(out, in, units int) int {
	w := math.Inf(1)
	for _, l := range s.limits {
		if l.Use[in] > 0 && l.Use[out] > 0 {
			w = math.Min(w, float64(units)*l.Use[out]/l.Use[in])
		}
	}
	if math.IsInf(w, 1) {
		return units
	}
	return int(w + hair)
}

// nearestOf tries several starts: what mending comes to, mending with each
// target left till last, and the best of those shaken.
func (s *search) nearestOf(budget int64) *state {
	st := s.problem.empty(&s.work)
	s.mend(st, 0)
	best := s.nearest(st, budget/2)
	keep := func(st *state, budget int64) {
		if st = s.nearest(st, budget); st.judged().score().before(best.judged().score()) {
			best = st
		}
	}
	each := budget / int64(4*max(1, len(s.targets)))
	for i, t := range s.targets {
		st := s.problem.empty(&s.work)
		s.targets[i].chance = 0
		s.mend(st, 0)
		s.targets[i].chance = t.chance
		s.mend(st, 0)
		keep(st, each)
	}
	end := s.work + budget/4
	for range shakes {
		if s.work > end || s.n == 0 {
			break
		}
		keep(s.shaken(best), budget/16)
	}
	return best
}

// shakes is how often a plan that nothing betters is begun from again.
const shakes = 12

// shaken is a plan with parts of some lines gone, and others in their room.
func (s *search) shaken(st *state) *state {
	c := st.clone()
	for range 1 + s.rng.IntN(3) {
		if j := s.some(c); j >= 0 {
			c.add(j, -s.part(c.x[j]))
		}
	}
	for range 3 {
		j := s.rng.IntN(s.n)
		if most := min(c.space(j), max(1, s.long)); most > 0 {
			c.add(j, s.part(most))
		}
	}
	return c
}

// thin is the problem on every so many'th draw, at most so many: for searches
// that try much.
func (q *problem) thin(draws int) *problem {
	step := (q.d + draws - 1) / draws
	if step <= 1 {
		return q
	}
	t := *q
	t.p, t.d = every(q.p, step), (q.d+step-1)/step
	divide(t.p, sum(t.p))
	t.rows, t.targets = slices.Clone(q.rows), slices.Clone(q.targets)
	for r := range t.rows {
		row := &t.rows[r]
		row.have, row.gives = every(row.have, step), slices.Clone(row.gives)
		for j, g := range row.gives {
			if g != nil {
				row.gives[j] = every(g, step)
			}
		}
	}
	return &t
}

func every[F any](v []F, step int) []F {
	var out []F
	for d := 0; d < len(v); d += step {
		out = append(out, v[d])
	}
	return out
}
