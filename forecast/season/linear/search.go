package linear

import (
	"math"
	"math/rand/v2"
	"slices"

	"hodaba/forecast/chance"
)

// search looks for whole numbers. All its choices are by seed, and it stops by
// the work done, not by a clock: the same programme gives the same plan.
type search struct {
	*problem
	rng  *rand.Rand
	work int64
	list []weighted
	by   []int // variables in an order of the moment
	long int   // units of a line beyond which no more are of use

	now, try, best *state    // best meets all targets, or is nil
	price          []float64 // by variable, what a unit counts for when mending
}

func (q *problem) search(seed uint64, purpose string) *search {
	s := &search{problem: q, rng: chance.NewStreams(seed, "season", purpose).Draw(0), list: make([]weighted, 0, q.d), long: q.longest()}
	s.now, s.try = q.empty(&s.work), q.empty(&s.work)
	for j := range q.n {
		s.by = append(s.by, j)
	}
	s.reprice(nil, 0)
	return s
}

// meet looks for the cheapest plan that meets all targets, from what a linear
// programme suggests and what it says that the limits are worth; nil where it
// finds none.
func (s *search) meet(b bound, budget int64) *state {
	for _, scarce := range scarcities {
		s.reprice(b.shadow, scarce)
		s.start(make([]float64, s.n))
		if b.x == nil {
			continue
		}
		for more := 1.0; more < 2; more *= 1.1 { // a relaxed plan is too small
			s.start(times(b.x, more))
		}
		if len(s.limits) == 0 {
			break
		}
	}
	if s.best == nil && !s.climb(b, budget/4) {
		return nil
	}
	return s.polish(b, budget)
}

// polish makes the best plan cheaper.
func (s *search) polish(b bound, budget int64) *state {
	s.slide()
	s.wander(b, budget/2)
	s.drift(s.best, b, budget/4)
	s.wander(b, budget/4)
	return s.best
}

// better says whether a plan that meets all targets is better than the best.
func (s *search) better(st *state) bool {
	return s.best == nil || st.spent < s.best.spent-1e-12*math.Abs(s.best.spent)
}

// scarcities are how dear the limits are reckoned, in turn, when mending.
var scarcities = []float64{0, .3, 1, 3, 10}

// reprice reckons a unit of each variable at its cost and what it uses of the
// limits: at what they are worth, and at the mean cost of a unit shared out
// over the limit's greatest use, times how scarce they are taken to be.
func (s *search) reprice(shadow []float64, scarce float64) {
	s.price = slices.Clone(s.cost)
	for k, l := range s.limits {
		worth := 0.0
		if shadow != nil {
			worth = shadow[k]
		}
		worth = math.Max(worth, s.scale()/unitOf(l.Use)/float64(len(s.limits)))
		for j, u := range l.Use {
			s.price[j] += scarce * worth * u
		}
	}
	low := 1e-9*s.scale() + 1e-300
	for j := range s.price {
		s.price[j] = math.Max(low, s.price[j])
	}
}

func times(v []float64, by float64) []float64 {
	out := slices.Clone(v)
	for j := range out {
		out[j] *= by
	}
	return out
}

// start takes a plan in fractions as whole numbers, mends and trims it, and
// keeps it if it is the best so far.
func (s *search) start(x []float64) bool {
	s.now.set(s.problem.empty(&s.work))
	for _, j := range s.dearest() {
		u := math.Min(math.Floor(x[j]+.5), float64(s.now.space(j)))
		s.now.add(j, int(math.Max(0, u)))
	}
	return s.mend(s.now, 0) && s.settle(s.now)
}

// settle trims a plan and keeps it if it is the best so far.
func (s *search) settle(st *state) bool {
	s.trim(st, s.dearest())
	if !s.better(st) {
		return false
	}
	if s.best == nil {
		s.best = st.clone()
	}
	s.best.set(st)
	return true
}

// trim takes what no target misses; what earns and is put in then may spare
// more.
func (s *search) trim(st *state, order []int) {
	st.trim(order, s.list)
	if s.earns() {
		s.earn(st)
		st.trim(s.dearest(), s.list)
	}
}

// earn adds as much as is allowed of what earns, the most by unit first.
func (s *search) earn(st *state) {
	order := s.dearest()
	for k := len(order) - 1; k >= 0 && s.cost[order[k]] < 0; k-- {
		st.add(order[k], st.space(order[k]))
	}
}

// dearest are the variables by cost of a unit, the dearest first.
func (s *search) dearest() []int {
	slices.SortFunc(s.by, func(a, b int) int {
		switch {
		case s.cost[a] > s.cost[b]:
			return -1
		case s.cost[a] < s.cost[b]:
			return 1
		}
		return a - b
	})
	return s.by
}
