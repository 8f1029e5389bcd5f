package linear

import (
	"fmt"
	"math"
)

// mostUnits is as many units as a line can have: more would not be counted
// exactly, and nobody has them.
const mostUnits = 1 << 30

// Check says what is wrong with a programme, nil if nothing is.
func (p *Programme) Check() error {
	n := len(p.Cost)
	if len(p.Most) != n {
		return fmt.Errorf("%d greatest numbers for %d variables", len(p.Most), n)
	}
	for j, v := range p.Cost {
		if !finite(v) {
			return fmt.Errorf("variable %d costs %g", j, v)
		}
		if m := p.Most[j]; !(m >= 0) {
			return fmt.Errorf("variable %d: at most %g units", j, m)
		}
	}
	total := 0.0
	for d, w := range p.Weight {
		if !(w >= 0) || math.IsInf(w, 1) {
			return fmt.Errorf("draw %d weighs %g", d, w)
		}
		total += w
	}
	if len(p.Targets) > 0 && !(total > 0 && finite(total)) {
		return fmt.Errorf("the draws weigh %g together", total)
	}
	for _, l := range p.Limits {
		if err := l.check(n); err != nil {
			return fmt.Errorf("limit %q: %w", l.Name, err)
		}
	}
	for _, t := range p.Targets {
		if !(t.Chance > 0 && t.Chance < 1) {
			return fmt.Errorf("target %q: a chance of %g is not above 0 and under 1", t.Name, t.Chance)
		}
		for _, r := range t.Rows {
			if err := r.check(n, len(p.Weight)); err != nil {
				return fmt.Errorf("target %q, row %q: %w", t.Name, r.Name, err)
			}
		}
	}
	return nil
}

func (l Limit) check(n int) error {
	if len(l.Use) != n {
		return fmt.Errorf("%d uses for %d variables", len(l.Use), n)
	}
	if !(l.Room >= 0) {
		return fmt.Errorf("room for %g", l.Room)
	}
	for j, u := range l.Use {
		if !(u >= 0) || math.IsInf(u, 1) {
			return fmt.Errorf("variable %d uses %g", j, u)
		}
	}
	return nil
}

func (r Row) check(n, draws int) error {
	if !finite(r.Need) {
		return fmt.Errorf("needs %g", r.Need)
	}
	if len(r.Have) != draws || len(r.Gives) != n {
		return fmt.Errorf("%d draws and %d variables, where the programme has %d and %d", len(r.Have), len(r.Gives), draws, n)
	}
	for d, v := range r.Have {
		if !finite(v) {
			return fmt.Errorf("has %g in draw %d", v, d)
		}
	}
	for j, g := range r.Gives {
		if g != nil && len(g) != draws {
			return fmt.Errorf("variable %d gives in %d draws of %d", j, len(g), draws)
		}
		for d, v := range g {
			if !(v >= 0) || math.IsInf(float64(v), 1) {
				return fmt.Errorf("variable %d gives %g in draw %d", j, v, d)
			}
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
