package linear

import "math"

// Options steers a search.
type Options struct {
	Seed   uint64
	Effort float64 // work as a multiple of the usual; 0 is 1
}

func (o Options) effort(of float64) int64 {
	if o.Effort > 0 {
		of *= math.Min(o.Effort, 1000)
	}
	return int64(of)
}

// usual is the work of a search, in draws of rows gone through: about two
// seconds.
const usual = 2e8

// Plan is whole numbers of units and what was found of them on all draws.
type Plan struct {
	X    []int
	Cost float64

	// Met says whether every target has its chance. If not, the plan is the
	// one found that comes nearest within the limits: that lacks least
	// chance, all targets together, then has most of its needs, then costs
	// least.
	Met bool

	// Bound is what no plan can go below; -Inf where nothing is known, +Inf
	// where it is proved that the limits allow no plan at all.
	Bound float64
	// Gap is how much cheaper a plan could be at most, as a part of Cost: what
	// is proved, mostly far more than what is so ([Within]). +Inf where
	// nothing is known, or the plan is not met.
	Gap float64

	Chances []float64 // by target
	Joint   float64   // that all targets are met together
	Shares  []float64 // by target, the mean part of its needs that is there
	Slack   []float64 // by limit, what is left
	// Shadow is, by limit, what one unit more of it would save, by the linear
	// programme of small changes round the plan.
	Shadow []float64
}

// Within is how much dearer than the best a plan may be in practice, as a part:
// the slow tests hold it against optima that another solver proves, at 50 draws
// or fewer. Measured there: the optimum 49 times of 50, at most 0.1 % above it.
const Within = .02

// Solve looks for the cheapest plan. An error says what is wrong with the
// programme, or is ErrUnbounded; that the targets cannot be met is no error.
func (p *Programme) Solve(opt Options) (*Plan, error) {
	q, err := p.prepare()
	if err != nil {
		return nil, err
	}
	if q.endless() {
		return nil, ErrUnbounded
	}
	b := q.bound()
	s := q.search(opt.Seed, "search")
	var st *state
	if !math.IsInf(b.value, 1) {
		st = s.meet(b, opt.effort(usual))
	}
	if st == nil {
		if st = q.nearestPlan(opt, nil); st.allMet() {
			s.settle(st)
			st = s.polish(b, opt.effort(usual))
		}
	}
	return q.plan(p, s.afresh(st), b), nil
}

// afresh are the units of a plan, mended if it met all targets only by the
// rounding of many steps.
func (s *search) afresh(st *state) []int {
	if again := s.problem.at(st.x, &s.work); st.allMet() && !again.allMet() && s.mend(again, 0) {
		s.trim(again, s.dearest())
		return again.x
	}
	return st.x
}

// nearestPlan is the plan of best score, sought on some of the draws and
// finished on all; another to start from may be given.
func (q *problem) nearestPlan(opt Options, also *state) *state {
	t := q.thin(thinDraws)
	x := t.search(opt.Seed, "nearest").nearestOf(opt.effort(usual / 2)).x
	s := q.search(opt.Seed, "nearest on all draws")
	st := s.nearest(q.at(x, &s.work), opt.effort(usual/4))
	if also != nil {
		if other := s.nearest(also, opt.effort(usual/4)); other.judged().score().before(st.judged().score()) {
			return other
		}
	}
	return st
}

// thinDraws is as many draws as a search looks at that tries much.
const thinDraws = 500

// plan judges whole numbers afresh.
func (q *problem) plan(p *Programme, x []int, b bound) *Plan {
	var work int64
	st := q.at(x, &work)
	out := &Plan{X: st.x, Cost: st.spent, Met: st.allMet(), Bound: b.value, Gap: math.Inf(1), Chances: st.held, Joint: st.joint()}
	if out.Met && !math.IsInf(b.value, 0) {
		out.Gap = gap(out.Cost, b.value)
	}
	for i := range q.targets {
		out.Shares = append(out.Shares, st.share(i))
	}
	for k, l := range q.limits {
		out.Slack = append(out.Slack, l.Room-st.used[k])
	}
	out.Shadow = q.shadow(st, b)
	return out
}

// shadow is what a unit more of each limit would save: by small changes round
// the plan if it is met, otherwise by the bound's linear programme.
func (q *problem) shadow(st *state, b bound) []float64 {
	prices := make([]float64, len(q.limits))
	copy(prices, b.shadow)
	if !st.allMet() {
		return prices
	}
	var p []float64
	if x := floats(st.x); q.d <= heldDraws {
		low, high := q.within(x, smallChange)
		_, p, _ = q.hold(q.heldBy(x, func() float64 { return 0 }), low, high)
	} else {
		_, p = q.around(x, smallChange)
	}
	if p != nil {
		return p
	}
	return prices
}

// smallChange is the part of a plan round which prices are reckoned.
const smallChange = .1

func gap(cost, bound float64) float64 {
	if d := cost - bound; d > 0 {
		return d / math.Abs(cost) // +Inf at no cost
	}
	return 0
}
