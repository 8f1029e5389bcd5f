package linear

import "math"

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
