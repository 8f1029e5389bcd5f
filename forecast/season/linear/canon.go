package linear

import "math"

// What is nought among numbers scaled to about one: feasible is how far a
// checked answer may be off a row, agree how far two values may be apart,
// nought what an entry must pass to be pivoted on.
const (
	feasible = 1e-7
	agree    = 1e-7
	nought   = 1e-9
)

// canon is the least cost·x with every row·x ≥ right, or = where it is exact,
// and x ≥ 0.
type canon struct {
	cost  []float64
	rows  [][]float64
	right []float64
	exact []bool
}

func (c *canon) add(row []float64, right float64, exact bool) {
	c.rows, c.right, c.exact = append(c.rows, row), append(c.right, right), append(c.exact, exact)
}

// solve returns x and the duals by row, checked.
func (c *canon) solve(first engines) (x, y []float64, err error) {
	s, err := c.shrink()
	if err != nil {
		return nil, nil, err
	}
	sx, sy, err := s.small.any(first)
	if err != nil {
		return nil, nil, err
	}
	if s.endless {
		return nil, nil, ErrUnbounded // feasible, and a column in no row earns
	}
	x, y = s.grow(c, sx, sy)
	return x, y, nil
}

// shrunk is a programme without rows and columns that say nothing, scaled.
type shrunk struct {
	small            *canon
	rowOf, colOf     []int     // of the small in the large
	rowTimes, colBy  []float64 // what a row was multiplied by, a column's unit
	rightBy, costsBy float64
	endless          bool
}

// shrink leaves out what gonum's simplex cannot bear (rows and columns of
// noughts, rows that follow from others) and scales the rest to about one.
func (c *canon) shrink() (*shrunk, error) {
	s := &shrunk{small: &canon{}}
	follows, err := c.dependent()
	if err != nil {
		return nil, err
	}
	for i, row := range c.rows {
		if largest(row) == 0 {
			if c.right[i] > 0 || c.exact[i] && c.right[i] != 0 {
				return nil, ErrInfeasible
			}
		} else if !follows[i] {
			s.rowOf = append(s.rowOf, i)
		}
	}
	for j, v := range c.cost {
		used := false
		for _, i := range s.rowOf {
			used = used || c.rows[i][j] != 0
		}
		if used {
			s.colOf = append(s.colOf, j)
		} else if v < 0 {
			s.endless = true
		}
	}
	s.scale(c)
	return s, nil
}

// scale divides rows and columns by the root of their least times their
// largest entry, three times, then rows by the largest; then cost and right by
// their largest.
func (s *shrunk) scale(c *canon) {
	m, n := len(s.rowOf), len(s.colOf)
	s.rowTimes, s.colBy = ones(m), ones(n)
	entry := func(i, j int) float64 {
		return math.Abs(c.rows[s.rowOf[i]][s.colOf[j]]) * s.rowTimes[i] * s.colBy[j]
	}
	for range 3 {
		for i := range m {
			s.rowTimes[i] /= middle(n, func(j int) float64 { return entry(i, j) })
		}
		for j := range n {
			s.colBy[j] /= middle(m, func(i int) float64 { return entry(i, j) })
		}
	}
	for i := range m {
		top := 0.0
		for j := range n {
			top = math.Max(top, entry(i, j))
		}
		s.rowTimes[i] /= top
	}
	for j := range n {
		s.small.cost = append(s.small.cost, c.cost[s.colOf[j]]*s.colBy[j])
	}
	for i := range m {
		row := make([]float64, n)
		for j := range n {
			row[j] = c.rows[s.rowOf[i]][s.colOf[j]] * s.rowTimes[i] * s.colBy[j]
		}
		s.small.add(row, c.right[s.rowOf[i]]*s.rowTimes[i], c.exact[s.rowOf[i]])
	}
	s.rightBy, s.costsBy = unitOf(s.small.right), unitOf(s.small.cost)
	divide(s.small.right, s.rightBy)
	divide(s.small.cost, s.costsBy)
}

// grow takes an answer of the small programme back to the large one.
func (s *shrunk) grow(c *canon, sx, sy []float64) (x, y []float64) {
	x, y = make([]float64, len(c.cost)), make([]float64, len(c.rows))
	for j, v := range sx {
		x[s.colOf[j]] = math.Max(0, v) * s.colBy[j] * s.rightBy
	}
	for i, v := range sy {
		y[s.rowOf[i]] = v * s.rowTimes[i] * s.costsBy
	}
	return x, y
}

// dependent marks the exact rows that are sums of other exact rows, by
// elimination with the largest pivot; ErrInfeasible where such a row contradicts
// the others. Rows ≥ have a slack of their own and never depend.
func (c *canon) dependent() ([]bool, error) {
	follows := make([]bool, len(c.rows))
	var at []int
	var rows [][]float64
	for i, exact := range c.exact {
		if top := largest(c.rows[i]); exact && top > 0 {
			row := append(append([]float64(nil), c.rows[i]...), c.right[i])
			divide(row, top)
			at, rows = append(at, i), append(rows, row)
		}
	}
	n := len(c.cost)
	for k := range rows {
		pr, pc, best := k, 0, 0.0
		for i := k; i < len(rows); i++ {
			for j, v := range rows[i][:n] {
				if math.Abs(v) > best {
					pr, pc, best = i, j, math.Abs(v)
				}
			}
		}
		if best < nought {
			for i := k; i < len(rows); i++ {
				if math.Abs(rows[i][n]) > feasible {
					return nil, ErrInfeasible
				}
				follows[at[i]] = true
			}
			break
		}
		rows[k], rows[pr], at[k], at[pr] = rows[pr], rows[k], at[pr], at[k]
		for i := k + 1; i < len(rows); i++ {
			if f := rows[i][pc] / rows[k][pc]; f != 0 {
				for j := range rows[i] {
					rows[i][j] -= f * rows[k][j]
				}
			}
		}
	}
	return follows, nil
}

// turned is the dual programme, where it has no exact rows: the least -right·y
// with -columns·y ≥ -cost.
func (c *canon) turned() *canon {
	t := &canon{}
	for _, b := range c.right {
		t.cost = append(t.cost, -b)
	}
	for j, v := range c.cost {
		col := make([]float64, len(c.rows))
		for i := range c.rows {
			col[i] = -c.rows[i][j]
		}
		t.add(col, -v, false)
	}
	return t
}

// proved says whether x and y prove each other: x keeps the rows, y the dual
// rows, and the two values agree.
func (c *canon) proved(x, y []float64) bool {
	if len(x) != len(c.cost) || len(y) != len(c.rows) {
		return false
	}
	primal, dual, size := 0.0, 0.0, 1.0
	left := append([]float64(nil), c.cost...)
	for i, row := range c.rows {
		sum, most := -c.right[i], 1.0
		for j, v := range row {
			sum += v * x[j]
			most = math.Max(most, math.Abs(v*x[j]))
			left[j] -= v * y[i]
		}
		if !(sum > -feasible*most) || c.exact[i] && !(sum < feasible*most) || !c.exact[i] && !(y[i] > -feasible) {
			return false
		}
		dual += c.right[i] * y[i]
		size = math.Max(size, math.Abs(c.right[i]*y[i]))
	}
	for j, v := range c.cost {
		if !(x[j] > -feasible) || !(left[j] > -feasible) {
			return false
		}
		primal += v * x[j]
		size = math.Max(size, math.Abs(v*x[j]))
	}
	return math.Abs(primal-dual) <= agree*size
}

func largest(v []float64) float64 {
	top := 0.0
	for _, x := range v {
		top = math.Max(top, math.Abs(x))
	}
	return top
}

// unitOf is the largest of some numbers, or 1 where all are noughts.
func unitOf(v []float64) float64 {
	if top := largest(v); top > 0 {
		return top
	}
	return 1
}

// middle is the root of the least times the largest entry above nought, 1
// where there is none.
func middle(n int, entry func(int) float64) float64 {
	low, high := math.Inf(1), 0.0
	for i := range n {
		if v := entry(i); v > 0 {
			low, high = math.Min(low, v), math.Max(high, v)
		}
	}
	if high == 0 {
		return 1
	}
	return math.Sqrt(low) * math.Sqrt(high)
}

func divide(v []float64, by float64) {
	for i := range v {
		v[i] /= by
	}
}

func ones(n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = 1
	}
	return v
}
