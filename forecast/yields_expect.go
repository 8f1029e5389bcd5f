package forecast

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sort"

	"hodaba/forecast/chance"
	"hodaba/forecast/fruit"
	"hodaba/forecast/harvest"
)

// expectation is what the forecast thinks of a period, timing given what was
// seen, summed over the draws.
type expectation struct {
	none   float64   // weight of draws in which nothing would be on record
	some   float64   // weight of the others
	draws  int       // the others, counted
	mean   float64   // with all factors at their middle: of ln kg, its ends drawn in
	square float64   // and its variance
	lns    []float64 // by draw: ln kg, NaN without a crop
	years  []int     // calendar years from that of the weather's start
	slopes []float64
	prior  *chance.Tally // kg, as thought before any crop was on record
}

// expect fills the ledgers of all piles with what the forecast thinks of their
// periods and baskets: one more walk over the past.
func (r *run) expect(ctx context.Context, tasks []*task) error {
	return r.parallel(ctx, len(tasks), func() func(int) {
		w := &lookBack{walker: newWalker(r)}
		return func(i int) { w.pile(r.account(tasks[i])) }
	})
}

// lookBack walks the past of piles with crops on record.
type lookBack struct {
	*walker
	prior    []harvest.Crop
	cells    []cellWalk
	midpoint float64 // the year's factor at its middle
	up, down float64 // and a standard deviation over and under it
}

// cellWalk is a period in the draw at hand.
type cellWalk struct {
	prior, seen float64   // kg as thought before, and with factors at their middle of what would be on record
	more, less  []float64 // the latter by year, with that year a deviation better or worse
	better      [][]harvest.Crop
	worse       [][]harvest.Crop
	begun       bool
}

func (w *lookBack) pile(a *account) {
	l := a.ledger
	w.fit(a.t)
	w.prior = make([]harvest.Crop, len(w.crops))
	sd := w.r.data.Practice.YearSpread.Value
	w.midpoint, w.up, w.down = lognormal(0, sd), lognormal(1, sd), lognormal(-1, sd)
	w.cells = make([]cellWalk, len(l.periods))
	for i, p := range l.periods {
		e := &p.expect
		*e = expectation{prior: chance.Amounts(), lns: make([]float64, w.r.draws)}
		for y := w.r.yearOf[p.from]; y <= w.r.yearOf[p.to]; y++ {
			e.years = append(e.years, int(y))
		}
		e.slopes = make([]float64, len(e.years))
		c := &w.cells[i]
		c.more, c.less = make([]float64, len(e.years)), make([]float64, len(e.years))
		for range e.years {
			c.better = append(c.better, make([]harvest.Crop, len(w.crops)))
			c.worse = append(c.worse, make([]harvest.Crop, len(w.crops)))
		}
	}
	for _, b := range l.baskets {
		b.kg = 0
	}
	for n := range w.r.draws {
		w.past(a, n)
		w.note(l, n)
	}
	for _, p := range l.periods {
		p.expect.drawIn(w.r.weight)
	}
	for _, b := range l.baskets {
		b.kg /= float64(w.r.draws)
	}
}

// past is the past of one draw of one pile.
func (w *lookBack) past(a *account, n int) {
	r, l := w.r, a.ledger
	since := r.begin(a.t, n)
	if a.t.through() {
		w.settle(a, n, since)
	} else {
		w.ripen(a.t, n, since)
	}
	w.makeCrops(w.crops, a, n, cropMiddle)
	w.makeCrops(w.prior, a, n, cropDrawn)
	w.walk(a, n, l.last)
	for i := range w.cells {
		c := &w.cells[i]
		c.prior, c.seen, c.begun = 0, 0, false
		clear(c.more)
		clear(c.less)
	}
	for _, f := range w.flushes {
		if f.Day > l.last {
			continue
		}
		i := l.at(f.Day)
		if i >= 0 {
			w.bend(&w.cells[i], l.periods[i], f)
		}
		kg := w.crops[f.Cohort].Flush(f.Day, w.midpoint)
		prior := w.prior[f.Cohort].Flush(f.Day, r.factor(n, f.Day))
		if i >= 0 {
			w.cells[i].prior += prior
			if l.periods[i].sees(f.Day) {
				w.cells[i].seen += kg
			}
		}
		for _, b := range l.baskets {
			if b.from <= f.Day && f.Day <= b.to {
				b.kg += kg * r.weight[n]
			}
		}
	}
}

// bend walks a flush of a period with each of its years a standard deviation
// better and worse.
func (w *lookBack) bend(c *cellWalk, p *period, f fruit.Flush) {
	year := int(w.r.yearOf[f.Day])
	for k, y := range p.expect.years {
		if !c.begun {
			copy(c.better[k], w.crops)
			copy(c.worse[k], w.crops)
		}
		up, down := w.midpoint, w.midpoint
		if y == year {
			up, down = w.up, w.down
		}
		more, less := c.better[k][f.Cohort].Flush(f.Day, up), c.worse[k][f.Cohort].Flush(f.Day, down)
		if p.sees(f.Day) {
			c.more[k] += more
			c.less[k] += less
		}
	}
	c.begun = true
}

// note adds the draw at hand to what the forecast thinks of each period.
func (w *lookBack) note(l *ledger, n int) {
	weight := w.r.weight[n]
	for i, p := range l.periods {
		c, e := &w.cells[i], &p.expect
		e.prior.Add(c.prior, weight)
		if c.seen < roundingKG {
			e.none += weight
			e.lns[n] = math.NaN()
			continue
		}
		e.lns[n] = math.Log(c.seen)
		e.some += weight
		e.draws++
		for k := range e.slopes {
			e.slopes[k] += weight * math.Log(math.Max(c.more[k], roundingKG)/math.Max(c.less[k], roundingKG)) / 2
		}
	}
}

// roundingKG is what rounding can leave of a crop.
const roundingKG = 1e-9

// upTo are the triggers that start up to a day.
func upTo(ts []fruit.Trigger, day int32) []fruit.Trigger {
	return ts[:sort.Search(len(ts), func(i int) bool { return ts[i].Start > day })]
}

// drawIn brings the ends of ln kg in: where hardly a cohort was ready in a
// draw it runs far down, and a mean and variance would speak of that.
func (e *expectation) drawIn(weight []float64) {
	if !e.tells() {
		return
	}
	var order []int
	for n, x := range e.lns {
		if !math.IsNaN(x) {
			order = append(order, n)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(e.lns[a], e.lns[b]) })
	at := func(share float64) float64 {
		sum := 0.0
		for _, n := range order {
			if sum += weight[n]; sum >= share*e.some {
				return e.lns[n]
			}
		}
		return e.lns[order[len(order)-1]]
	}
	low, mid, high := at(oneBelow), at(0.5), at(1-oneBelow)
	low, high = mid-drawnIn*(mid-low), mid+drawnIn*(high-mid)
	sum, square := 0.0, 0.0
	for _, n := range order {
		e.lns[n] = min(max(e.lns[n], low), high)
		sum += weight[n] * e.lns[n]
	}
	e.mean = sum / e.some
	for _, n := range order {
		square += weight[n] * (e.lns[n] - e.mean) * (e.lns[n] - e.mean)
	}
	e.square = square / e.some
}

const (
	oneBelow = 0.16 // share of a normal that lies more than one deviation below
	drawnIn  = 1.5  // deviations at which ends are cut
)

// moments are the mean and variance of ln kg among draws in which something
// would be on record.
func (e *expectation) moments() (mean, variance float64) { return e.mean, e.square }

// covariance is that of ln kg with another period's, over the draws in
// which both have a crop.
func (e *expectation) covariance(o *expectation, weight []float64) float64 {
	sum, all := 0.0, 0.0
	a, _ := e.moments()
	b, _ := o.moments()
	for n, w := range weight {
		if x := (e.lns[n] - a) * (o.lns[n] - b); !math.IsNaN(x) {
			sum, all = sum+w*x, all+w
		}
	}
	if all == 0 {
		return 0
	}
	return sum / all
}

func (e *expectation) slope(k int) float64 { return e.slopes[k] / e.some }

// nothingAtAll is the share of draws in which nothing would be on record.
func (e *expectation) nothingAtAll() float64 { return e.none / (e.none + e.some) }
