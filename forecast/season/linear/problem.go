package linear

import "math"

// hair is what rounding may take: a row holds from its need less a hair of it
// on, a chance is reached and a limit kept likewise. Bounds are reckoned with
// the same hair.
const hair = 1e-9

// problem is a programme that was checked and made ready: weights that sum to
// 1, only what gives anything, rows in one list.
type problem struct {
	n, d    int
	cost    []float64
	given   []float64 // by variable, the most units
	most    []int     // by variable, the limits heeded too
	limits  []Limit
	room    []float64 // by limit, a hair more
	p       []float64 // by draw
	targets []target
	rows    []row
	touch   [][]int // by variable, the rows to which it gives
	reach   [][]int // by variable, the targets to which it gives
}

// target's rows are rows[first:last] of the problem.
type target struct {
	chance      float64 // a hair less
	first, last int
}

type row struct {
	target int
	least  float64 // the need, a hair less
	size   float64 // what a shortfall is measured by, above 0
	have   []float64
	gives  [][]float32
}

func (p *Programme) prepare() (*problem, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	q := &problem{n: len(p.Cost), d: len(p.Weight), cost: p.Cost, given: p.Most, limits: p.Limits}
	total := 0.0
	for _, w := range p.Weight {
		total += w
	}
	for _, w := range p.Weight {
		q.p = append(q.p, w/total)
	}
	for _, l := range p.Limits {
		q.room = append(q.room, l.Room+hair*math.Max(1, l.Room))
	}
	for i, t := range p.Targets {
		first := len(q.rows)
		for _, r := range t.Rows {
			q.rows = append(q.rows, q.row(i, r))
		}
		q.targets = append(q.targets, target{t.Chance - hair, first, len(q.rows)})
	}
	q.index()
	for j, m := range p.Most {
		q.most = append(q.most, q.mostOf(j, m))
	}
	return q, nil
}

func (q *problem) row(target int, r Row) row {
	out := row{target: target, least: r.Need - hair*math.Max(1, math.Abs(r.Need)), size: math.Abs(r.Need), have: r.Have, gives: make([][]float32, q.n)}
	if out.size == 0 {
		out.size = 1
	}
	for j, g := range r.Gives {
		for _, v := range g {
			if v > 0 {
				out.gives[j] = g
				break
			}
		}
	}
	return out
}

func (q *problem) index() {
	q.touch, q.reach = make([][]int, q.n), make([][]int, q.n)
	for j := range q.n {
		for r := range q.rows {
			if q.rows[r].gives[j] == nil {
				continue
			}
			q.touch[j] = append(q.touch[j], r)
			i := q.rows[r].target
			if k := len(q.reach[j]); k == 0 || q.reach[j][k-1] != i {
				q.reach[j] = append(q.reach[j], i)
			}
		}
	}
}

// mostOf is the greatest number of units of a variable alone: none of one that
// costs and gives nothing.
func (q *problem) mostOf(j int, most float64) int {
	if q.cost[j] >= 0 && len(q.touch[j]) == 0 {
		return 0
	}
	for k, l := range q.limits {
		if l.Use[j] > 0 {
			most = math.Min(most, q.room[k]/l.Use[j])
		}
	}
	return int(math.Min(mostUnits, math.Floor(most+hair)))
}

// endless says whether a variable earns without end.
func (q *problem) endless() bool {
	for j, m := range q.most {
		if q.cost[j] < 0 && m == mostUnits {
			return true
		}
	}
	return false
}

func (q *problem) costOf(x []int) float64 {
	sum := 0.0
	for j, v := range x {
		sum += q.cost[j] * float64(v)
	}
	return sum
}
