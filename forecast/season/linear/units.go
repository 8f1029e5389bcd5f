package linear

import "math"

// needed is the least number of units of one variable alone, up to most, that
// meets all targets; false where none does.
func (s *state) needed(k, most int, list []weighted) (int, bool) {
	units := 0.0
	for i, t := range s.targets {
		if s.met(i) {
			continue
		}
		list = s.lacking(k, i, float64(most), list[:0])
		q, ok := least(list, t.chance-s.held[i])
		if !ok {
			return 0, false
		}
		units = math.Max(units, math.Ceil(q-hair*math.Max(1, q)))
	}
	return int(units), units <= float64(most)
}

// lacking lists, by draw in which a target is not met, how many units of one
// variable would meet it, where at most so many do.
func (s *state) lacking(k, i int, most float64, list []weighted) []weighted {
	t := s.targets[i]
	count := 0
draws:
	for d, f := range s.fails[i] {
		if f == 0 {
			continue
		}
		count++
		q := 0.0
		for r := t.first; r < t.last; r++ {
			v := s.over[r][d]
			if v >= 0 {
				continue
			}
			g := s.rows[r].gives[k]
			if g == nil || -v > most*float64(g[d]) {
				continue draws
			}
			q = math.Max(q, -v/float64(g[d]))
		}
		list = append(list, weighted{q, s.p[d]})
	}
	*s.work += int64(count*(t.last-t.first)) + int64(s.d)/4
	return list
}

// spare is the greatest number of units of a variable without which all
// targets are met still. All must be met before.
func (s *state) spare(j int, list []weighted) int {
	units := float64(s.x[j])
	if units == 0 {
		return 0
	}
	for _, i := range s.reach[j] {
		list = s.losing(j, i, units, list[:0])
		allowed := s.held[i] - s.targets[i].chance
		if q, ok := least(list, math.Max(0, allowed)+hair*hair); ok {
			units = math.Min(units, q)
		}
		if units == 0 {
			return 0
		}
	}
	return int(units)
}

// losing lists, by draw in which a target is met, how many units may go before
// it is not, where that is less than units.
func (s *state) losing(j, i int, units float64, list []weighted) []weighted {
	t := s.targets[i]
	for d, f := range s.fails[i] {
		if f > 0 {
			continue
		}
		q := units
		for r := t.first; r < t.last; r++ {
			if g := s.rows[r].gives[j]; g != nil {
				if v := s.over[r][d]; v < q*float64(g[d]) {
					q = v / float64(g[d])
				}
			}
		}
		if q < units {
			list = append(list, weighted{math.Floor(q), s.p[d]})
		}
	}
	*s.work += int64((t.last - t.first + 1) * s.d)
	return list
}

// take takes away so many units of a variable, less where rounding would break
// a target.
func (s *state) take(j, units int) {
	s.add(j, -units)
	for back := 1; units > 0 && !s.allMet(); back *= 2 {
		back = min(back, units)
		s.add(j, back)
		units -= back
	}
}

// trim takes every unit that no target misses, in the order given. What is
// spared of one line is less after another was cut, never more: once round is
// enough. Lines that earn stay.
func (s *state) trim(order []int, list []weighted) {
	for _, j := range order {
		if s.x[j] > 0 && s.cost[j] >= 0 {
			if u := s.spare(j, list); u > 0 {
				s.take(j, u)
			}
		}
	}
}
