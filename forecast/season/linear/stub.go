package linear

import "math"

type Options struct{ Seed uint64 }

type Plan struct {
	X       []int
	Cost    float64
	Bound   float64
	Chances []float64
	Joint   float64
	Slack   []float64
	Met     bool
}

func (p *Programme) chances(x []int) (out []float64) {
	tot := 0.0
	for _, w := range p.Weight {
		tot += w
	}
	for _, t := range p.Targets {
		c := 0.0
		for d, w := range p.Weight {
			ok := true
			for _, r := range t.Rows {
				v := r.Have[d]
				for j, n := range x {
					if n > 0 && r.Gives[j] != nil {
						v += float64(n) * float64(r.Gives[j][d])
					}
				}
				ok = ok && v >= r.Need
			}
			if ok {
				c += w
			}
		}
		out = append(out, c/tot)
	}
	return out
}

func (p *Programme) Solve(opt Options) (*Plan, error) {
	x := make([]int, len(p.Cost))
	short := func() float64 {
		s := 0.0
		for i, c := range p.chances(x) {
			s += math.Max(p.Targets[i].Chance-c, 0)
		}
		return s
	}
	for it := 0; it < 60; it++ {
		now := short()
		if now <= 0 {
			break
		}
		best, at := 0.0, -1
		for j := range x {
			if float64(x[j]+10) > p.Most[j] {
				continue
			}
			fits := true
			for _, l := range p.Limits {
				u := 0.0
				for k := range x {
					u += l.Use[k] * float64(x[k])
				}
				fits = fits && u+10*l.Use[j] <= l.Room
			}
			if !fits {
				continue
			}
			x[j] += 10
			if g := (now - short()) / p.Cost[j]; g > best || at < 0 {
				best, at = g, j
			}
			x[j] -= 10
		}
		if at < 0 {
			break
		}
		x[at] += 10
	}
	plan := &Plan{X: x, Chances: p.chances(x), Met: short() <= 0, Bound: math.Inf(-1)}
	for j := range x {
		plan.Cost += float64(x[j]) * p.Cost[j]
	}
	return plan, nil
}
