package linear

import "math"

// drift lets the plan miss its targets for a while, at a price, and so passes between plans
// that tight limits keep apart. A step may be dearer, the less the later.
// From a plan that meets them it goes on until it finds nothing better for
// long, from any other until one does.
func (s *search) drift(from *state, b bound, budget int64) {
	s.now.set(from)
	began, end := s.work, s.work+budget
	seeking, unit := s.best == nil, math.Max(math.Abs(from.spent), s.scale())
	price := 4.0
	worth := func() float64 {
		if seeking {
			return s.lack(s.now)
		}
		return s.now.spent/unit + price*s.lack(s.now)
	}
	at := worth()
	for step, last := 0, 0; s.n > 0 && (step-last < patience || seeking) && s.work < end; step++ {
		if s.best != nil && (seeking || s.proved(b)) {
			return
		}
		moves := s.steps()
		if s.work += int64(10 * s.n); !s.allowed(s.now, moves) {
			continue
		}
		for _, m := range moves {
			s.now.add(m[0], m[1])
		}
		left := 1 - float64(s.work-began)/float64(budget)
		w := worth()
		if w > at+heat*left*left*s.rng.Float64() {
			for _, m := range moves {
				s.now.add(m[0], -m[1])
			}
			continue
		}
		if at = w; !s.now.allMet() {
			continue
		}
		if s.better(s.now) {
			s.try.set(s.now)
			s.settle(s.try)
			last = step
		}
	}
}

// steps are a few units of one line in the room of another's, or of one, two
// or three lines more or fewer, by chance.
func (s *search) steps() [][2]int {
	var moves [][2]int
	for range 1 + s.rng.IntN(3) {
		j := s.rng.IntN(s.n)
		u := 1 + s.rng.IntN(1+s.rng.IntN(2+s.now.x[j]/3))
		if s.rng.IntN(2) == 0 {
			u = -min(u, s.now.x[j])
			if k := s.rng.IntN(s.n); k != j && s.rng.IntN(2) == 0 {
				if w := s.worth(j, k, -u); w > 0 {
					moves = append(moves, [2]int{k, w})
				}
			}
		}
		if u != 0 {
			moves = append(moves, [2]int{j, u})
		}
	}
	return moves
}

// allowed says whether limits and greatest numbers bear all of some moves.
func (s *search) allowed(st *state, moves [][2]int) bool {
	for k, l := range s.limits {
		used := st.used[k]
		for _, m := range moves {
			used += float64(m[1]) * l.Use[m[0]]
		}
		if used > s.room[k] {
			return false
		}
	}
	for _, m := range moves {
		sum := st.x[m[0]]
		for _, o := range moves {
			if o[0] == m[0] {
				sum += o[1]
			}
		}
		if sum < 0 || sum > s.most[m[0]] {
			return false
		}
	}
	return len(moves) > 0
}

// lack is the part of its needs by which each target misses its chance, all
// together.
func (s *search) lack(st *state) float64 {
	lack := 0.0
	for i, t := range s.targets {
		if st.met(i) {
			continue
		}
		list := s.list[:0]
		for d, f := range st.fails[i] {
			if f > 0 {
				list = append(list, weighted{-st.margin(i, d), s.p[d]})
			}
		}
		s.work += int64((t.last-t.first)*len(list) + s.d/4)
		if q, ok := least(list, t.chance-st.held[i]); ok {
			lack += q
		}
	}
	return lack
}
