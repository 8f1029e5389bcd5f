package linear

import "math"

// table is the full tableau of the simplex method in two phases (Dantzig 1963,
// Linear Programming and Extensions): plain, and dense. The column of the most
// negative reduced cost enters; after as many pivots without gain as there are
// rows, the first such column (Bland 1977, New finite pivoting rules for the
// simplex method, Mathematics of Operations Research 2:103–107), which cannot
// go round in circles.
type table struct {
	a     [][]float64 // by row; the last column is b
	basis []int
	real  int
	width int // columns without b
}

func newTable(s *standard) *table {
	t := &table{basis: append([]int(nil), s.basis...), real: s.real, width: len(s.c)}
	for i, row := range s.a {
		t.a = append(t.a, append(append(make([]float64, 0, t.width+1), row...), s.b[i]))
	}
	return t
}

// start drives the artificial variables to nought, and out of the basis
// wherever the row has anything else.
func (t *table) start() error {
	if t.width == t.real {
		return nil
	}
	artificial := make([]float64, t.width)
	for j := t.real; j < t.width; j++ {
		artificial[j] = 1
	}
	if err := t.pivot(artificial); err != nil {
		return ErrNumbers // the sum of what is not below nought has an end
	}
	sum := 0.0
	for i, j := range t.basis {
		if j >= t.real {
			sum += t.a[i][t.width]
		}
	}
	if sum > feasible {
		return ErrInfeasible
	}
	for i, j := range t.basis {
		if j < t.real {
			continue
		}
		best, at := nought, -1
		for k, v := range t.a[i][:t.real] {
			if math.Abs(v) > best {
				best, at = math.Abs(v), k
			}
		}
		if at >= 0 {
			t.turn(i, at, nil)
		}
	}
	return nil
}

// pivot goes to the least c·x. Artificial columns never enter again.
func (t *table) pivot(c []float64) error {
	z := append(append(make([]float64, 0, t.width+1), c...), 0) // reduced costs; the last is -c·x
	for i, j := range t.basis {
		if f := c[j]; f != 0 {
			for k, v := range t.a[i] {
				z[k] -= f * v
			}
		}
	}
	idle := 0
	for range 1000 + 50*(t.width+len(t.a)) {
		bland := idle > len(t.a)
		in := t.entering(z, bland)
		if in < 0 {
			return nil
		}
		out := t.leaving(in, bland)
		if out < 0 {
			return ErrUnbounded
		}
		before := z[t.width]
		t.turn(out, in, z)
		if z[t.width]-before > 1e-13 {
			idle = 0
		} else {
			idle++
		}
	}
	return ErrNumbers
}

func (t *table) entering(z []float64, bland bool) int {
	in, least := -1, -nought
	for j, v := range z[:t.real] {
		if v < least {
			in, least = j, v
			if bland {
				break
			}
		}
	}
	return in
}

// leaving is the row that is the first to come to nought; among equals the
// largest pivot, or under Bland's rule the first variable.
func (t *table) leaving(in int, bland bool) int {
	out, least := -1, math.Inf(1)
	for i, row := range t.a {
		if row[in] <= nought {
			continue
		}
		q := math.Max(0, row[t.width]) / row[in]
		better := q < least-1e-12
		if !better && q <= least+1e-12 {
			if bland {
				better = t.basis[i] < t.basis[out]
			} else {
				better = row[in] > t.a[out][in]
			}
		}
		if better {
			out, least = i, q
		}
	}
	return out
}

// turn makes column in the basis of row out.
func (t *table) turn(out, in int, z []float64) {
	p := t.a[out]
	divide(p, p[in])
	for i, row := range t.a {
		if i != out && row[in] != 0 {
			subtract(row, row[in], p)
		}
	}
	if z != nil {
		subtract(z, z[in], p)
	}
	t.basis[out] = in
}

func subtract(row []float64, f float64, p []float64) {
	for k, v := range p {
		row[k] -= f * v
	}
}
