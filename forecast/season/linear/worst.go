package linear

import (
	"math"
	"slices"
)

// worst is, for a target and a plan in fractions, each draw's worst row and
// what it has beyond its need, as a part of the need; order goes from the
// worst draw to the best.
type worst struct {
	p     []float64
	row   []int
	over  []float64
	order []int
}

func (q *problem) worst(i int, x []float64) *worst {
	t := q.targets[i]
	w := &worst{p: q.p, row: make([]int, q.d), over: make([]float64, q.d), order: make([]int, q.d)}
	for d := range w.over {
		w.over[d], w.row[d], w.order[d] = math.Inf(1), t.first, d
	}
	sum := make([]float64, q.d)
	for r := t.first; r < t.last; r++ {
		row := &q.rows[r]
		for d, h := range row.have {
			sum[d] = h - row.least
		}
		for j, g := range row.gives {
			if g != nil && x[j] != 0 {
				for d := range sum {
					sum[d] += x[j] * float64(g[d])
				}
			}
		}
		for d, v := range sum {
			if v /= row.size; v < w.over[d] {
				w.over[d], w.row[d] = v, r
			}
		}
	}
	w.sort()
	return w
}

func (w *worst) sort() {
	slices.SortFunc(w.order, func(a, b int) int {
		switch {
		case w.over[a] < w.over[b]:
			return -1
		case w.over[a] > w.over[b]:
			return 1
		}
		return a - b
	})
}

// at is what all but 1 - chance of the draws have beyond the need at least.
func (w *worst) at(chance float64) float64 {
	return w.over[w.order[w.rank(1-chance)]]
}

// rank is the first place in the order up to which, it included, the draws
// weigh more than weight.
func (w *worst) rank(weight float64) int {
	sum := 0.0
	for k, d := range w.order {
		if sum += w.p[d]; sum > weight+hair {
			return k
		}
	}
	return len(w.order) - 1
}

// slope is how the draw on which a target hangs changes with each variable:
// coef is the mean of what they give to the worst rows of the draws next to
// it, right what is lacking at x, as a cut through x. It is no valid one.
func (q *problem) slope(i int, w *worst, x []float64) cut {
	at := w.rank(1 - q.targets[i].chance)
	from, to := at, at
	weight := q.p[w.order[at]]
	for weight < slopeWidth || to-from < 2 {
		if from == 0 && to == len(w.order)-1 {
			break
		}
		if from > 0 {
			from--
			weight += q.p[w.order[from]]
		}
		if to < len(w.order)-1 {
			to++
			weight += q.p[w.order[to]]
		}
	}
	c := cut{coef: make([]float64, q.n)}
	for _, d := range w.order[from : to+1] {
		row := &q.rows[w.row[d]]
		for j, g := range row.gives {
			if g != nil {
				c.coef[j] += q.p[d] / weight * float64(g[d]) / row.size
			}
		}
	}
	c.right = dot(c.coef, x) - w.over[w.order[at]]
	return c
}

// slopeWidth is the weight of the draws over which a slope is taken.
const slopeWidth = .04
