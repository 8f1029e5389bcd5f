package forecast

import (
	"fmt"
	"math"

	"hodaba/yard"
)

// Ask is a question to a forecast: how many of LookedAt log ends of a pile
// would show a white ring on a day, were they looked at then?
type Ask struct {
	Pile     string
	On       yard.Date
	LookedAt int
}

// answers gives, for each question, the chances of 0, 1, … LookedAt white
// rings, log ends misread and logs that never take included; nil where the
// pile is not forecast, was through when it came, or had not begun.
func (r *run) answers(asked []Ask) [][]float64 {
	all := make([][]float64, len(asked))
	for i, q := range asked {
		for _, t := range r.tasks {
			if t.pile.Name == q.Pile && !t.through() && q.LookedAt > 0 && q.On >= t.pile.Since.From && q.On <= r.horizon {
				all[i] = r.counts(t, int32(q.On-r.start), q.LookedAt)
			}
		}
	}
	return all
}

// counts are the chances of 0, 1, … looked white rings on a day.
func (r *run) counts(t *task, day int32, looked int) []float64 {
	pmf := make([]float64, looked+1)
	for n := range r.draws {
		share := r.shareThrough(t, n, day)
		for _, q := range t.nuisances {
			binomial(pmf, q.ring((1-q.never)*share), q.weight*r.weight[n]/float64(r.draws))
		}
	}
	return pmf
}

// shareThrough is the share of a pile's living logs that are through on a day
// in one draw.
func (r *run) shareThrough(t *task, n int, day int32) float64 {
	return t.belief.Share(r.grown(t, n, day), t.half[n], n)
}

// binomial adds the binomial chances of 0, 1, … n at p, times a weight.
func binomial(pmf []float64, p, weight float64) {
	n := len(pmf) - 1
	p = min(max(p, 1e-12), 1-1e-12)
	c := weight * math.Pow(1-p, float64(n))
	for k := range pmf {
		pmf[k] += c
		c *= float64(n-k) / float64(k+1) * p / (1 - p)
	}
}

// Pile is the forecast of a pile by its name, or an error that says why there
// is none.
func (res *Result) Pile(name string) (*Pile, error) {
	for _, p := range res.Piles {
		if p.Name == name {
			return p, nil
		}
	}
	for _, l := range res.LeftOut {
		if l.Pile == name {
			return nil, fmt.Errorf("no forecast of %s: %s", name, l.Why)
		}
	}
	return nil, fmt.Errorf("no forecast of %s: no such pile stands", name)
}
