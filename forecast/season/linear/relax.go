package linear

import (
	"math"
	"slices"
)

// Way is what could give way.
type Way int

// LessChance: a target keeps its needs at a smaller chance. LessNeed: it keeps
// its chance for a part of all its needs. MoreRoom: a limit is wider.
const (
	LessChance Way = iota
	LessNeed
	MoreRoom
)

// Relaxation is one thing that gives way so that all else can stay as asked.
type Relaxation struct {
	Way    Way
	Target int // of the programme; -1 for a limit
	Limit  int // of the programme; -1 for a target

	// Works says whether all else can be met when this gives way as far as
	// it can. The rest holds only then.
	Works bool
	// To is the chance that can be had, the part of the needs that can be had
	// at the full chance, or the room that is needed.
	To float64
	// Change is how far that is from what was asked, as a part of it.
	Change float64
	X      []int // a plan that does it
	Cost   float64
}

// relaxDraws is as many draws as relaxations are sought on.
const relaxDraws = 500

// Relax finds what would have to give way, one thing at a time, where Solve
// does not meet the targets: those that work first, among them the smallest
// change first, then the cheapest. What it finds can be had, on at most
// five hundred of the draws; a little more may be. Nil where all targets can be
// met, and where the programme is not one.
func (p *Programme) Relax(opt Options) []Relaxation {
	q, err := p.prepare()
	if err != nil || q.endless() {
		return nil
	}
	q = q.thin(relaxDraws)
	var out []Relaxation
	for i := range q.targets {
		chance, need := q.lessOf(i, opt)
		if chance.Works && chance.To >= q.targets[i].chance {
			return nil
		}
		out = append(out, chance, need)
	}
	for k := range q.limits {
		out = append(out, q.more(k, opt))
	}
	slices.SortStableFunc(out, func(a, b Relaxation) int {
		switch {
		case a.Works != b.Works && a.Works, a.Works == b.Works && a.Change < b.Change:
			return -1
		case a.Works != b.Works || a.Change > b.Change:
			return 1
		case a.Cost < b.Cost:
			return -1
		case a.Cost > b.Cost:
			return 1
		}
		return 0
	})
	return out
}

// lessOf lets a target give way in both ways.
func (q *problem) lessOf(i int, opt Options) (chance, need Relaxation) {
	chance, need = Relaxation{Way: LessChance, Target: i, Limit: -1}, Relaxation{Way: LessNeed, Target: i, Limit: -1}
	asked := q.targets[i].chance
	base := q.rest(i, opt)
	if base == nil {
		return chance, need
	}
	s := q.search(opt.Seed, "relax")
	st := q.at(base.x, &s.work)
	s.mend(st, 0)
	if st = s.nearest(st, opt.effort(usual/16)); !q.others(st, i) {
		st = q.at(base.x, &s.work)
	}
	chance.Works, chance.To = true, math.Min(asked, st.held[i])
	chance.Change = 1 - chance.To/asked
	chance.X, chance.Cost = st.x, st.spent
	low, high := 0.0, 1.0
	need.Works, need.X, need.Cost = true, base.x, base.spent
	if v := q.scaled(i, 0).at(base.x, &s.work); !v.allMet() { // not even nothing of the needs: limits of what is there
		need.Works = false
		return chance, need
	}
	for range 7 {
		half := (low + high) / 2
		if st := q.scaled(i, half).feasible(need.X, opt); st != nil {
			low, need.X, need.Cost = half, st.x, st.spent
		} else {
			high = half
		}
	}
	need.To, need.Change = low, 1-low
	return chance, need
}

// rest is a plan that meets all targets but one; nil where none was found.
func (q *problem) rest(i int, opt Options) *state {
	t := *q
	t.targets = slices.Clone(q.targets)
	t.targets[i].chance = 0
	return t.feasible(nil, opt)
}

func (q *problem) others(st *state, i int) bool {
	for k := range q.targets {
		if k != i && !st.met(k) {
			return false
		}
	}
	return true
}

// scaled is the problem with a part of one target's needs.
func (q *problem) scaled(i int, part float64) *problem {
	t := *q
	t.rows = slices.Clone(q.rows)
	for r := q.targets[i].first; r < q.targets[i].last; r++ {
		row := &t.rows[r]
		if row.least > 0 {
			row.least *= part
		}
	}
	return &t
}

// feasible is a trimmed plan that meets all targets, sought with little work,
// first from another plan; nil where none was found.
func (q *problem) feasible(from []int, opt Options) *state {
	s := q.search(opt.Seed, "feasible")
	if from != nil {
		s.now = q.at(from, &s.work)
		if s.mend(s.now, 0) {
			s.settle(s.now)
		}
	}
	if s.best == nil {
		if b := q.bound(); !math.IsInf(b.value, 1) {
			s.meet(b, opt.effort(usual/32))
		}
	}
	return s.best
}

// more is what would be used of a limit at least if it were none.
func (q *problem) more(k int, opt Options) Relaxation {
	out := Relaxation{Way: MoreRoom, Target: -1, Limit: k}
	t := *q
	t.limits, t.room = slices.Clone(q.limits), slices.Clone(q.room)
	t.limits[k].Room, t.room[k] = math.Inf(1), math.Inf(1)
	t.most, t.cost = nil, make([]float64, q.n)
	use := q.limits[k].Use
	unit := 1e-3 * unitOf(use) / unitOf(q.cost) // cost decides between equals
	for j, m := range q.given {
		t.cost[j] = use[j] + unit*math.Max(0, q.cost[j])
		t.most = append(t.most, t.mostOf(j, m))
	}
	st := t.feasible(nil, opt)
	if st == nil {
		return out
	}
	s := t.search(opt.Seed, "more")
	s.best = st
	s.slide()
	s.wander(unknown, opt.effort(usual/32))
	out.Works, out.X, out.Cost = true, s.best.x, q.costOf(s.best.x)
	out.To = s.best.used[k]
	if room := q.limits[k].Room; out.To > room {
		out.Change = out.To/room - 1 // +Inf where there was no room at all
	}
	return out
}
