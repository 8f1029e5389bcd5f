package linear

import (
	"errors"
	"math"
	"slices"
)

// cut is coef·x ≥ right, which every plan keeps that meets the targets.
type cut struct {
	coef  []float64
	right float64
}

// bound is what is known of all plans: none costs less than value. x is the
// plan in fractions that costs as much, shadow what a unit more of each limit
// would take from it.
type bound struct {
	value  float64 // -Inf where nothing is known, +Inf where no plan can be
	x      []float64
	shadow []float64
}

// unknown is the bound of what nothing is known of.
var unknown = bound{value: math.Inf(-1)}

// Rounds and depth of the cuts, and what a violation must be, of the need, to
// be worth a cut.
const (
	cutRounds = 12
	cutWorth  = 1e-4
)

// depths are the parts of the draws, beyond those that may fail, over which
// the worst draws are summed in a cut.
var depths = []float64{1, .3, .1, .03, .01}

// bound solves the linear programme of cuts, adding cuts where its answer
// breaks one.
//
// Each cut is valid. Let H be the draws in which a plan x meets a target, of
// weight at least α of 1; in each, all rows hold, so that of any one row
// chosen for the draw, a·x ≥ b, with b its need less what is there, a ≥ 0.
//
//   - Let D be any draws, of weight above 1−α, and β = weight(D) − (1−α). The
//     draws of H in D weigh at least β; take of them parts φ ≤ p that sum to β.
//     Then Σφ·b ≤ Σφ·a·x = Σⱼ xⱼ·Σφ·aⱼ ≤ Σⱼ xⱼ·T(aⱼ), where T(v) is the sum of
//     the largest values of v in D that make up the weight β, and Σφ·b is at
//     least -T(-b). With all draws as D, β is α; with few, T is nearly the
//     largest value among the worst draws (deep cuts, [problem.deep]).
//   - For any direction c ≥ 0 let m(d) be no more than the least c·x with which
//     the target is met in draw d. Draws whose m is at least q and which weigh
//     more than 1−α cannot all fail, so c·x ≥ q ([problem.along]; the quantile
//     of Luedtke 2014, A branch-and-cut decomposition algorithm for solving
//     chance-constrained mathematical programs, Mathematical Programming
//     146:219–244).
//
// A linear programme under cuts, the limits and the greatest numbers is thus
// never dearer than the best plan in whole numbers, less a millionth for its
// own rounding.
func (q *problem) bound() bound {
	cuts := q.firstCuts()
	best := unknown
	for range cutRounds {
		o, err := q.under(cuts).solve(tableFirst)
		if errors.Is(err, ErrInfeasible) {
			return bound{value: math.Inf(1)}
		}
		if err != nil {
			return best
		}
		v := o.Value - 1e-6*math.Max(math.Abs(o.Value), 1e-6*q.scale())
		if !q.earns() {
			v = math.Max(0, v)
		}
		best.value = math.Max(best.value, v)
		best.x, best.shadow = o.X, make([]float64, len(q.limits))
		for k := range q.limits {
			best.shadow[k] = math.Max(0, -o.Duals[k])
		}
		more := q.violated(o.X)
		if len(more) == 0 {
			break
		}
		cuts = append(q.tight(cuts, o.X), more...)
	}
	return best
}

// scale is the largest cost of a unit.
func (q *problem) scale() float64 { return largest(q.cost) }

// earns says whether any variable does.
func (q *problem) earns() bool {
	return slices.ContainsFunc(q.cost, func(c float64) bool { return c < 0 })
}

// under is the linear programme of cuts, limits and greatest numbers; the
// limits' rules come first.
func (q *problem) under(cuts []cut) *LP {
	l := &LP{Cost: q.cost}
	for k, lim := range q.limits {
		l.Rules = append(l.Rules, Rule{lim.Use, AtMost, q.roomOf(k)})
	}
	for _, c := range cuts {
		l.Rules = append(l.Rules, Rule{c.coef, AtLeast, c.right})
	}
	for j := range q.n {
		l.Upper = append(l.Upper, q.upper(j))
	}
	return l
}

// upper is a variable's greatest number, but not what limits leave of it: they
// are to have a price of their own.
func (q *problem) upper(j int) float64 {
	if q.most[j] == 0 {
		return 0
	}
	return math.Floor(q.given[j])
}

// roomOf is a limit's room, or more than all units could use.
func (q *problem) roomOf(k int) float64 {
	if math.IsInf(q.room[k], 1) {
		return mostUnits * (1 + sum(q.limits[k].Use))
	}
	return q.room[k]
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}

// tight are the cuts that an answer keeps with little to spare, the later ones
// first to stay, and of the others none.
func (q *problem) tight(cuts []cut, x []float64) []cut {
	var keep []cut
	for _, c := range cuts {
		if dot(c.coef, x)-c.right < .2*math.Abs(c.right) {
			keep = append(keep, c)
		}
	}
	return keep
}

func dot(a, b []float64) float64 {
	s := 0.0
	for j, v := range a {
		s += v * b[j]
	}
	return s
}

// violated are new cuts that x breaks: deep ones, and one along what the
// variables give near the draw on which the target hangs.
func (q *problem) violated(x []float64) []cut {
	var cuts []cut
	for i, t := range q.targets {
		if t.last == t.first {
			continue
		}
		w := q.worst(i, x)
		if w.at(t.chance) >= -cutWorth {
			continue
		}
		best, by := cut{}, cutWorth
		for _, c := range append(q.deep(i, w), q.along(i, q.slope(i, w, x).coef)) {
			if c.coef == nil {
				continue
			}
			if v := (c.right - dot(c.coef, x)) / math.Max(math.Abs(c.right), 1e-9*largest(c.coef)); v > by {
				best, by = c, v
			}
		}
		if best.coef != nil {
			cuts = append(cuts, best)
		}
	}
	return cuts
}
