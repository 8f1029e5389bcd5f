package linear

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// any solves a programme that was shrunk: by its dual where that has fewer
// rows, otherwise as it stands; by one engine, and where its answer fails the
// check by the next.
func (c *canon) any(first engines) (x, y []float64, err error) {
	if len(c.rows) == 0 {
		return make([]float64, len(c.cost)), nil, nil
	}
	exact := false
	for _, e := range c.exact {
		exact = exact || e
	}
	if !exact && len(c.rows) > len(c.cost) {
		if y, x, err := c.turned().standard().run(first); err == nil && c.proved(x, y) {
			return x, y, nil
		}
	}
	for _, e := range []engines{first, tableFirst} {
		x, y, err = c.standard().run(e)
		switch {
		case err == nil && c.proved(x, y):
			return x, y, nil
		case errors.Is(err, ErrInfeasible), errors.Is(err, ErrUnbounded):
			return nil, nil, err
		}
	}
	return nil, nil, ErrNumbers
}

// standard is a programme in standard form, a·x = b ≥ 0 and x ≥ 0, with a start
// for every row: its slack, or an artificial variable from column real on.
type standard struct {
	of    *canon
	flip  []float64 // -1 where the row was turned round to make b ≥ 0
	a     [][]float64
	b, c  []float64
	real  int   // columns before the artificial ones
	basis []int // by row
}

func (c *canon) standard() *standard {
	m, n := len(c.rows), len(c.cost)
	s := &standard{of: c, flip: ones(m), b: make([]float64, m), basis: make([]int, m)}
	s.real = n
	for _, e := range c.exact {
		if !e {
			s.real++
		}
	}
	artificial, slack := s.real, n
	for i := range m {
		if c.right[i] < 0 || c.right[i] == 0 && !c.exact[i] {
			s.flip[i] = -1
		}
		s.b[i] = s.flip[i] * c.right[i]
		row := make([]float64, s.real)
		for j, v := range c.rows[i] {
			row[j] = s.flip[i] * v
		}
		s.basis[i] = -1
		if !c.exact[i] {
			row[slack] = -s.flip[i]
			if s.flip[i] < 0 {
				s.basis[i] = slack
			}
			slack++
		}
		if s.basis[i] < 0 {
			s.basis[i] = artificial
			artificial++
		}
		s.a = append(s.a, row)
	}
	for i := range m {
		s.a[i] = append(s.a[i], make([]float64, artificial-s.real)...)
		if s.basis[i] >= s.real {
			s.a[i][s.basis[i]] = 1
		}
	}
	s.c = append(append([]float64(nil), c.cost...), make([]float64, artificial-n)...)
	return s
}

// run returns x and the duals of the rows. The start is always sought by our
// own table, since gonum's own search for one can end in an error where there
// is a plan; gonum then goes on from it.
func (s *standard) run(first engines) (x, y []float64, err error) {
	t := newTable(s)
	if err := t.start(); err != nil {
		return nil, nil, err
	}
	if first == gonumFirst {
		if full, ok := s.gonum(t.basis); ok {
			if basis := s.basisOf(full); basis != nil {
				if x, y, ok := s.corner(basis); ok && s.of.proved(x, y) {
					return x, y, nil
				}
			}
		}
	}
	if err := t.pivot(s.c); err != nil {
		return nil, nil, err
	}
	x, y, ok := s.corner(t.basis)
	if !ok {
		return nil, nil, ErrNumbers
	}
	return x, y, nil
}

// counted is a matrix that can be read so often and no more: gonum's simplex
// has no limit of its own to how long it goes round.
type counted struct {
	mat.Matrix
	left int
}

func (c *counted) At(i, j int) float64 {
	if c.left--; c.left < 0 {
		panic("going round in circles")
	}
	return c.Matrix.At(i, j)
}

// gonum runs gonum's simplex from a basis without artificial variables, and
// says whether it returned at all.
func (s *standard) gonum(basis []int) (x []float64, ok bool) {
	defer func() {
		if recover() != nil {
			x, ok = nil, false
		}
	}()
	m := len(s.a)
	if m >= s.real {
		return nil, false
	}
	for _, j := range basis {
		if j >= s.real {
			return nil, false
		}
	}
	a := mat.NewDense(m, s.real, nil)
	for i, row := range s.a {
		a.SetRow(i, row[:s.real])
	}
	_, x, err := lp.Simplex(s.c[:s.real], &counted{a, (200 + 20*(m+s.real)) * m}, s.b, nought, basis)
	return x, err == nil
}

// basisOf are the columns above nought, if they are as many as the rows; nil
// where the corner is degenerate and does not tell its basis.
func (s *standard) basisOf(x []float64) []int {
	var basis []int
	for j, v := range x {
		if v > 1e-11 {
			basis = append(basis, j)
		}
	}
	if len(basis) != len(s.a) {
		return nil
	}
	return basis
}

// corner solves for x and the duals of a basis afresh from the programme
// itself, which takes back the rounding of all the pivots.
func (s *standard) corner(basis []int) (x, y []float64, ok bool) {
	m := len(s.a)
	ab, cb := mat.NewDense(m, m, nil), mat.NewVecDense(m, nil)
	for k, j := range basis {
		for i := range m {
			ab.Set(i, k, s.a[i][j])
		}
		cb.SetVec(k, s.c[j])
	}
	var lu mat.LU
	lu.Factorize(ab)
	var xb, yv mat.VecDense
	if notSolved(lu.SolveVecTo(&xb, false, mat.NewVecDense(m, s.b))) || notSolved(lu.SolveVecTo(&yv, true, cb)) {
		return nil, nil, false
	}
	x, y = make([]float64, len(s.of.cost)), make([]float64, m)
	for k, j := range basis {
		switch v := xb.AtVec(k); {
		case j < len(x):
			x[j] = v
		case j >= s.real && math.Abs(v) > feasible:
			return nil, nil, false
		}
	}
	for i := range m {
		y[i] = s.flip[i] * yv.AtVec(i)
	}
	return x, y, true
}

// notSolved says whether gonum gave up; a bad condition alone is left to the
// check of the answer.
func notSolved(err error) bool {
	var bad mat.Condition
	return err != nil && (!errors.As(err, &bad) || math.IsInf(float64(bad), 1))
}
