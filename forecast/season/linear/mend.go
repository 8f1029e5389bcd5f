package linear

import (
	"math"
	"slices"
)

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
