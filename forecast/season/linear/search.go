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

// mend adds units until all targets are met: of what does most for its cost in
// the draws that are nearest to being met, half of what it would take, unless
// some variable ends it as cheaply. Noise, as a part, blurs the choice.
func (s *search) mend(st *state, noise float64) bool {
	for step := range mendSteps {
		if st.allMet() {
			return true
		}
		gain := s.gains(st)
		at, most := -1, 0.0
		for j, g := range gain {
			if g > 0 && st.space(j) > 0 {
				v := g / s.price[j]
				if noise > 0 {
					v *= 1 + noise*s.rng.Float64()
				}
				if v > most {
					at, most = j, v
				}
			}
		}
		if at < 0 {
			return false
		}
		part := .6 / gain[at] * math.Pow(1.05, float64(step))
		units := int(math.Max(1, math.Min(float64(st.space(at)), part)))
		if end, n := s.ending(st, s.cost[at]*float64(units)*1.2); end >= 0 {
			st.add(end, n)
		} else {
			st.add(at, units)
		}
	}
	return st.allMet()
}

// mendSteps is the most steps of mending; each is longer than the one before.
const mendSteps = 300

// ending is the variable that meets all targets by itself below a budget, the
// cheapest, and how many units of it; -1 where none does.
func (s *search) ending(st *state, budget float64, without ...int) (at, units int) {
	at = -1
	for _, k := range s.by {
		if slices.Contains(without, k) {
			continue
		}
		most := st.space(k)
		if c := s.cost[k]; c > 0 {
			most = int(math.Min(float64(most), math.Ceil(budget/c)))
		}
		if most < 1 {
			continue
		}
		if u, ok := st.needed(k, most, s.list); ok {
			if c := s.cost[k] * float64(u); c < budget {
				at, units, budget = k, u, c
			}
		}
	}
	return at, units
}

// gains is, for each variable, about what part of all that is lacking a unit
// would bring, in those draws of each target that are missed by least and are
// enough to meet it, or some of them.
func (s *search) gains(st *state) []float64 {
	gain := make([]float64, s.n)
	unmet := 0
	for i := range s.targets {
		if st.met(i) {
			continue
		}
		unmet++
		weight := 0.0
		each := make([]float64, s.n)
		for _, d := range s.nearMiss(st, i) {
			weight += s.p[d]
			st.rates(i, d, each)
		}
		for j := range gain {
			if weight > 0 {
				gain[j] += each[j] / weight
			}
		}
	}
	for j := range gain {
		gain[j] /= float64(max(1, unmet))
	}
	s.work += int64(s.d * unmet)
	return gain
}

// missDraws is about as many draws as gains are reckoned on for a target.
const missDraws = 300

// nearMiss are the draws in which a target is missed by least, as many as are
// needed to meet it, of every so many'th draw.
func (s *search) nearMiss(st *state, i int) []int {
	var draws []int
	for d, f := range st.fails[i] {
		if f > 0 {
			draws = append(draws, d)
		}
	}
	step := 1 + len(draws)/missDraws
	draws = every(draws, step)
	list := s.list[:0]
	for _, d := range draws {
		list = append(list, weighted{-st.margin(i, d), s.p[d]})
	}
	miss, ok := least(list, (s.targets[i].chance-st.held[i])/float64(step))
	if !ok {
		return draws
	}
	near := draws[:0]
	for _, d := range draws {
		if -st.margin(i, d) <= miss+hair {
			near = append(near, d)
		}
	}
	return near
}

// rates adds, for each variable, the mean part that a unit is of what the
// failing rows of a target lack in a draw, times the draw's weight.
func (s *state) rates(i, d int, each []float64) {
	w := s.p[d] / float64(s.fails[i][d])
	for r := s.targets[i].first; r < s.targets[i].last; r++ {
		v := s.over[r][d]
		if v >= 0 {
			continue
		}
		for j, g := range s.rows[r].gives {
			if g != nil {
				each[j] += w * math.Min(1, float64(g[d])/-v)
			}
		}
	}
}

// margin is what a target's worst row has beyond its need in a draw, as a part
// of the need.
func (s *state) margin(i, d int) float64 {
	m := math.Inf(1)
	for r := s.targets[i].first; r < s.targets[i].last; r++ {
		m = math.Min(m, s.over[r][d]/s.rows[r].size)
	}
	return m
}

// wander takes some units out of the plan, or puts some in, mends and trims
// what is left, and goes on from there if it is not much dearer, the less the
// later.
func (s *search) wander(b bound, budget int64) {
	s.now.set(s.best)
	end := s.work + budget
	began := s.work
	for step, last := 0, 0; s.n > 0 && step-last < patience && s.work < end && !s.proved(b); step++ {
		left := 1 - float64(s.work-began)/float64(budget)
		s.try.set(s.now)
		var ok bool
		switch k := s.rng.IntN(20); {
		case k < 9:
			ok = s.exchange(s.try)
		case k < 15:
			s.reprice(b.shadow, scarcities[s.rng.IntN(len(scarcities))])
			ok = s.ruin(s.try)
		case k < 16 && s.d <= heldDraws:
			ok = s.rehold(s.try)
		default:
			ok = s.swell(s.try)
		}
		if !ok {
			continue
		}
		s.trim(s.try, s.shuffled())
		if s.try.spent <= s.now.spent+heat*left*left*math.Abs(s.best.spent)*s.rng.Float64() {
			s.now, s.try = s.try, s.now
		}
		if s.better(s.now) {
			s.best.set(s.now)
			last = step
		}
		if s.rng.IntN(200) == 0 {
			s.now.set(s.best)
		}
	}
}

// patience is how many steps without a better plan are enough, heat the part
// of the cost by which a step may be dearer at first.
const (
	patience = 5000
	heat     = .02
)

// proved says whether no plan is cheaper than the best, but for rounding.
func (s *search) proved(b bound) bool { return s.best.spent <= b.value+2e-6*math.Abs(b.value) }

// exchange takes units of one line and puts in what ends the lack cheapest.
func (s *search) exchange(st *state) bool {
	j := s.some(st)
	if j < 0 {
		return false
	}
	u := s.part(st.x[j])
	st.add(j, -u)
	if st.allMet() {
		return true
	}
	budget := s.cost[j]*float64(u) + heat*math.Abs(st.spent)
	if s.cost[j] <= 0 {
		budget = math.Inf(1)
	}
	if at, n := s.ending(st, budget, j); at >= 0 {
		st.add(at, n)
		return st.allMet()
	}
	return s.rng.IntN(4) == 0 && s.mend(st, 1)
}

// ruin takes units of several lines and mends.
func (s *search) ruin(st *state) bool {
	for range 1 + s.rng.IntN(4) {
		if j := s.some(st); j >= 0 {
			st.add(j, -s.part(st.x[j]))
		}
	}
	return s.mend(st, 1)
}

// swell puts in some units of a line: trimming then takes what they spare.
func (s *search) swell(st *state) bool {
	j := s.rng.IntN(s.n)
	most := st.space(j)
	if most < 1 {
		return s.ruin(st)
	}
	st.add(j, min(most, s.part(max(4, st.x[j]))))
	return true
}

// some is a random line of the plan, -1 where it is empty.
func (s *search) some(st *state) int {
	at, n := -1, 0
	for j, v := range st.x {
		if v > 0 {
			if n++; s.rng.IntN(n) == 0 {
				at = j
			}
		}
	}
	return at
}

// part is a random number of units up to a number: one, a few, or all.
func (s *search) part(units int) int {
	switch s.rng.IntN(4) {
	case 0:
		return 1
	case 1:
		return units
	}
	return 1 + s.rng.IntN(max(1, units/(1+s.rng.IntN(6))))
}

func (s *search) shuffled() []int {
	s.rng.Shuffle(len(s.by), func(a, b int) { s.by[a], s.by[b] = s.by[b], s.by[a] })
	return s.by
}
