package linear

import (
	"errors"
	"fmt"
	"math"
)

// Sense is how the sum of a rule stands to its right-hand side.
type Sense int

// AtMost, AtLeast and Exactly are ≤, ≥ and =.
const (
	AtMost Sense = iota
	AtLeast
	Exactly
)

// Rule is Σ Coef[j]·x[j] ≤, ≥ or = Right.
type Rule struct {
	Coef  []float64 // by variable
	Sense Sense
	Right float64
}

// LP is a linear programme in fractions: the least Σ Cost[j]·x[j], or the most,
// under rules, with 0 ≤ x[j] ≤ Upper[j].
type LP struct {
	Maximise bool
	Cost     []float64 // by variable
	Rules    []Rule
	Upper    []float64 // by variable, +Inf none; nil none at all
	Free     []bool    // variables that may be below zero; nil none
}

// Optimum is an answer that was checked: X keeps every rule, the duals prove
// that nothing is better, and the two values agree to a millionth.
type Optimum struct {
	X     []float64
	Value float64

	// Duals is, by rule, what Value grows by for each unit that is added to
	// its right-hand side. Where the optimum has a corner too many
	// (degenerate), it is so in one direction only.
	Duals []float64
	// Reduced is, by variable, the cost that its rules do not explain: what
	// Value grows by for a unit of it by force, or by each unit that is added
	// to an upper limit it stands at.
	Reduced []float64
}

// What a linear programme can come to beside an optimum, and what is returned
// where no method found an answer that passes the check.
var (
	ErrInfeasible = errors.New("no plan keeps all the rules")
	ErrUnbounded  = errors.New("the cost has no end: something that earns is not limited")
	ErrNumbers    = errors.New("the rules are too near to each other to be solved in 15 digits")
)

// Solve returns the optimum, or an error that is ErrInfeasible, ErrUnbounded
// or ErrNumbers, or says what is wrong with the programme.
func (l *LP) Solve() (*Optimum, error) { return l.solve(gonumFirst) }

// engines says who is asked first.
type engines int

const (
	gonumFirst engines = iota
	tableFirst         // a few times faster on the small programmes of the cuts
)

func (l *LP) solve(first engines) (*Optimum, error) {
	if err := l.check(); err != nil {
		return nil, fmt.Errorf("linear programme: %w", err)
	}
	c := l.canonical()
	x, y, err := c.solve(first)
	if err != nil {
		return nil, err
	}
	return l.optimum(c, x, y), nil
}

func (l *LP) check() error {
	n := len(l.Cost)
	for j, v := range l.Cost {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("the cost of variable %d is %g", j, v)
		}
	}
	for i, r := range l.Rules {
		if len(r.Coef) != n {
			return fmt.Errorf("rule %d has %d coefficients for %d variables", i, len(r.Coef), n)
		}
		if r.Sense < AtMost || r.Sense > Exactly {
			return fmt.Errorf("rule %d has no sense", i)
		}
		for _, v := range append([]float64{r.Right}, r.Coef...) {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("rule %d holds %g", i, v)
			}
		}
	}
	if l.Upper != nil && len(l.Upper) != n || l.Free != nil && len(l.Free) != n {
		return fmt.Errorf("%d upper limits and %d marks of freedom for %d variables", len(l.Upper), len(l.Free), n)
	}
	for j, v := range l.Upper {
		if math.IsNaN(v) || math.IsInf(v, -1) {
			return fmt.Errorf("the upper limit of variable %d is %g", j, v)
		}
	}
	return nil
}

// canonical turns a programme into the least c·x with rows ≥ or = and x ≥ 0:
// rules in their order first, then upper limits; a free variable is split, its
// second half behind all others.
func (l *LP) canonical() *canon {
	n := len(l.Cost)
	var halves []int
	for j := range l.Free {
		if l.Free[j] {
			halves = append(halves, j)
		}
	}
	wide := func(coef []float64, sign float64) []float64 {
		out := make([]float64, n, n+len(halves))
		for j, v := range coef {
			out[j] = sign * v
		}
		for _, j := range halves {
			out = append(out, -out[j])
		}
		return out
	}
	c := &canon{cost: wide(l.Cost, l.sign())}
	for _, r := range l.Rules {
		s := 1.0
		if r.Sense == AtMost {
			s = -1
		}
		c.add(wide(r.Coef, s), s*r.Right, r.Sense == Exactly)
	}
	for j, u := range l.Upper {
		if !math.IsInf(u, 1) {
			unit := make([]float64, n)
			unit[j] = 1
			c.add(wide(unit, -1), -u, false)
		}
	}
	return c
}

func (l *LP) sign() float64 {
	if l.Maximise {
		return -1
	}
	return 1
}

// optimum takes an answer of the canonical programme back.
func (l *LP) optimum(c *canon, x, y []float64) *Optimum {
	n := len(l.Cost)
	o := &Optimum{X: x[:n:n], Duals: make([]float64, len(l.Rules)), Reduced: make([]float64, n)}
	h := n
	for j := range l.Free {
		if l.Free[j] {
			o.X[j] -= x[h]
			h++
		}
	}
	for j, v := range l.Cost {
		o.Value += v * o.X[j]
		o.Reduced[j] = v
	}
	for i, r := range l.Rules {
		o.Duals[i] = l.sign() * y[i]
		if r.Sense == AtMost {
			o.Duals[i] *= -1
		}
		o.Duals[i] += 0 // no minus zero
		for j, v := range r.Coef {
			o.Reduced[j] -= o.Duals[i] * v
		}
	}
	return o
}
