package linear

import "math"

// firstCuts are, for each row, the cut over all draws, and for each target that
// along the costs, that along what its variables give on average, and the
// units of a variable that serves it alone.
func (q *problem) firstCuts() []cut {
	var cuts []cut
	list := make([]weighted, q.d)
	add := func(c cut) {
		if c.right > 0 && c.coef != nil {
			cuts = append(cuts, c)
		}
	}
	for i, t := range q.targets {
		mean := make([]float64, q.n)
		for r := t.first; r < t.last; r++ {
			c := cut{make([]float64, q.n), t.chance * q.rows[r].least}
			for j, g := range q.rows[r].gives {
				if g != nil {
					c.coef[j] = top(fill(list, g, q.p), t.chance)
					mean[j] += c.coef[j] / q.rows[r].size
				}
			}
			c.right -= top(fill(list, q.rows[r].have, q.p), t.chance)
			add(c)
		}
		add(q.along(i, mean))
		if !q.earns() {
			add(q.along(i, q.cost))
		}
		for j := range mean {
			if q.alone(i, j) {
				unit := make([]float64, q.n)
				unit[j] = 1
				c := q.along(i, unit)
				c.right = math.Ceil(c.right - hair*math.Max(1, c.right)) // units are whole
				add(c)
			}
		}
	}
	return cuts
}

// alone says whether a row of a target has no other giver without end.
func (q *problem) alone(i, j int) bool {
	for r := q.targets[i].first; r < q.targets[i].last; r++ {
		if q.rows[r].gives[j] == nil {
			continue
		}
		others := false
		for k, g := range q.rows[r].gives {
			others = others || k != j && g != nil && q.most[k] == mostUnits
		}
		if !others {
			return true
		}
	}
	return false
}

func fill[F float32 | float64](list []weighted, v []F, p []float64) []weighted {
	list = list[:len(v)]
	for d, x := range v {
		list[d] = weighted{float64(x), p[d]}
	}
	return list
}

// along is the cut of a target in one direction ≥ 0: coef·x ≥ the quantile of
// what each draw asks for at least.
func (q *problem) along(i int, coef []float64) cut {
	t := q.targets[i]
	list := make([]weighted, q.d)
	for d := range list {
		list[d] = weighted{0, q.p[d]}
	}
	for r := t.first; r < t.last; r++ {
		q.rows[r].asks(coef, q.most, list)
	}
	for d := range list {
		list[d].v *= -1 // the largest first
	}
	m, ok := least(list, 1-t.chance+hair)
	if !ok || m == 0 {
		return cut{}
	}
	if math.IsInf(m, -1) { // nothing could meet it: 0·x ≥ 1
		return cut{make([]float64, q.n), 1}
	}
	return cut{coef, -m}
}

// asks raises the value of each draw to the least coef·x with which the row
// holds in it: what is lacking, from the variables that give most for their
// coefficient, each up to its greatest number.
func (r *row) asks(coef []float64, most []int, list []weighted) {
	type giver struct {
		g      []float32
		c, max float64
	}
	var givers []giver
	for j, g := range r.gives {
		if g != nil && most[j] > 0 {
			givers = append(givers, giver{g, coef[j], float64(most[j])})
		}
	}
	spent := make([]bool, len(givers))
	for d := range list {
		lack, c := r.least-r.have[d], 0.0
		clear(spent)
		for lack > 0 {
			at, rate := -1, math.Inf(1)
			for k := range givers {
				if v := float64(givers[k].g[d]); v > 0 && !spent[k] && givers[k].c < rate*v {
					at, rate = k, givers[k].c/v
				}
			}
			if at < 0 {
				c = math.Inf(1)
				break
			}
			spent[at] = true
			v := math.Min(lack, givers[at].max*float64(givers[at].g[d]))
			c += v * rate
			lack -= v
		}
		list[d].v = math.Max(list[d].v, c)
	}
}

// deep are the cuts over the worst draws of a plan, one for each depth.
func (q *problem) deep(i int, w *worst) []cut {
	t := q.targets[i]
	list := make([]weighted, 0, q.d)
	var cuts []cut
	for _, depth := range depths {
		beta := -(1 - t.chance)
		var draws []int
		for _, d := range w.order {
			draws, beta = append(draws, d), beta+q.p[d]
			if beta >= depth*t.chance-hair && beta > hair {
				break
			}
		}
		if beta <= hair {
			continue
		}
		c := cut{coef: make([]float64, q.n)}
		for j := range c.coef {
			list = list[:0]
			for _, d := range draws {
				row := &q.rows[w.row[d]]
				if g := row.gives[j]; g != nil && g[d] > 0 {
					list = append(list, weighted{float64(g[d]) / row.size, q.p[d]})
				}
			}
			c.coef[j] = top(list, beta)
		}
		list = list[:0]
		for _, d := range draws {
			row := &q.rows[w.row[d]]
			list = append(list, weighted{(row.have[d] - row.least) / row.size, q.p[d]})
		}
		c.right = -top(list, beta)
		cuts = append(cuts, c)
	}
	return cuts
}
