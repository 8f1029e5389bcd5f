package linear

import "math"

// state is a plan under judgement, with all that one unit more or less needs
// to be judged exactly and at once.
type state struct {
	*problem
	x     []int
	over  [][]float64 // by row and draw, what is there beyond the need
	fails [][]int16   // by target and draw, how many of its rows do not hold
	held  []float64   // by target, the weight of draws in which it is met
	used  []float64   // by limit
	spent float64
	work  *int64 // draws of rows that were gone through
}

func (q *problem) empty(work *int64) *state {
	s := &state{problem: q, x: make([]int, q.n), used: make([]float64, len(q.limits)), held: make([]float64, len(q.targets)), work: work}
	for _, r := range q.rows {
		over := make([]float64, q.d)
		for d, h := range r.have {
			over[d] = h - r.least
		}
		s.over = append(s.over, over)
	}
	for i, t := range q.targets {
		fails := make([]int16, q.d)
		for _, over := range s.over[t.first:t.last] {
			for d, v := range over {
				if v < 0 {
					fails[d]++
				}
			}
		}
		s.fails = append(s.fails, fails)
		s.weigh(i)
	}
	return s
}

// at is a state made afresh, without the rounding of many steps.
func (q *problem) at(x []int, work *int64) *state {
	s := q.empty(work)
	for j, v := range x {
		s.add(j, v)
	}
	return s
}

func (s *state) clone() *state {
	c := s.problem.blank(s.work)
	c.set(s)
	return c
}

// blank is a state of the right shapes, without values.
func (q *problem) blank(work *int64) *state {
	s := &state{problem: q, x: make([]int, q.n), used: make([]float64, len(q.limits)), held: make([]float64, len(q.targets)), work: work}
	for range q.rows {
		s.over = append(s.over, make([]float64, q.d))
	}
	for range q.targets {
		s.fails = append(s.fails, make([]int16, q.d))
	}
	return s
}

// set makes a state the same as another.
func (s *state) set(o *state) {
	copy(s.x, o.x)
	copy(s.held, o.held)
	copy(s.used, o.used)
	s.spent = o.spent
	for r := range o.over {
		copy(s.over[r], o.over[r])
	}
	for i := range o.fails {
		copy(s.fails[i], o.fails[i])
	}
	*s.work += int64(len(s.over)*s.d) / 4
}

// add adds units of a variable, or takes some away.
func (s *state) add(j, units int) {
	if units == 0 {
		return
	}
	s.x[j] += units
	s.spent = s.costOf(s.x)
	by := float64(units)
	for k, l := range s.limits {
		s.used[k] += by * l.Use[j]
	}
	for _, r := range s.touch[j] {
		over, g, fails := s.over[r], s.rows[r].gives[j], s.fails[s.rows[r].target]
		g, fails = g[:len(over)], fails[:len(over)]
		for d, v := range over {
			w := v + by*float64(g[d])
			over[d] = w
			if v < 0 != (w < 0) {
				if w < 0 {
					fails[d]++
				} else {
					fails[d]--
				}
			}
		}
	}
	for _, i := range s.reach[j] {
		s.weigh(i)
	}
	*s.work += int64((len(s.touch[j])+len(s.reach[j]))*s.d + 20)
}

func (s *state) weigh(i int) {
	sum := 0.0
	for d, f := range s.fails[i] {
		if f == 0 {
			sum += s.p[d]
		}
	}
	s.held[i] = sum
}

func (s *state) met(i int) bool { return s.held[i] >= s.targets[i].chance }

func (s *state) allMet() bool {
	for i := range s.targets {
		if !s.met(i) {
			return false
		}
	}
	return true
}

// space is how many more units of a variable the limits allow.
func (s *state) space(j int) int {
	most := float64(s.most[j] - s.x[j])
	for k, l := range s.limits {
		if l.Use[j] > 0 {
			most = math.Min(most, (s.room[k]-s.used[k])/l.Use[j])
		}
	}
	return int(math.Max(0, math.Floor(most+hair*hair)))
}

// short is how much chance is lacking, all targets together.
func (s *state) short() float64 {
	sum := 0.0
	for i, t := range s.targets {
		sum += math.Max(0, t.chance-s.held[i])
	}
	return sum
}

// joint is the weight of draws in which all targets are met.
func (s *state) joint() float64 {
	if len(s.targets) == 0 {
		return 1
	}
	sum := 0.0
draws:
	for d, p := range s.p {
		for i := range s.fails {
			if s.fails[i][d] > 0 {
				continue draws
			}
		}
		sum += p
	}
	return sum
}

// share is the mean part of its rows' needs that a target has, none more than
// whole.
func (s *state) share(i int) float64 {
	t := s.targets[i]
	sum := 0.0
	for r := t.first; r < t.last; r++ {
		by := 1 / s.rows[r].size
		for d, v := range s.over[r] {
			if v >= 0 {
				sum += s.p[d]
			} else {
				sum += s.p[d] * math.Max(0, 1+v*by)
			}
		}
	}
	*s.work += int64((t.last - t.first) * s.d)
	if t.last == t.first {
		return 1
	}
	return sum / float64(t.last-t.first)
}
