package forecast

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/yard"
)

// evidence is what was seen on a pile that tells how far its mycelium is; days
// are those of the weather.
type evidence struct {
	checks  []check
	fruited int32   // day by which it first had, −1 it has not
	most    int     // logs that fruited then, at least; 0 not said
	nothing []int32 // days on which somebody went round and nothing was up, before it first fruited
	logs    int     // that stood
}

// check is a look at log ends: with of looked had a white ring.
type check struct {
	day          int32
	looked, with int
}

func (e *evidence) any() bool { return len(e.checks) > 0 || e.fruited >= 0 || len(e.nothing) > 0 }

// evidenceOf collects it. A look of which nobody said what it found, or at no
// log, is none; a day as vague as a season cannot say when.
func (r *run) evidenceOf(p *yard.Pile) *evidence {
	e := &evidence{fruited: -1, logs: max(p.Started, p.Logs, 1)}
	if !p.LogsKnown && p.Started == 0 {
		e.logs = unknownLogs
	}
	day := func(w yard.When) int32 { return int32(min(w.To, r.asOf) - r.start) }
	for _, s := range p.Seen {
		if r.plain {
			break
		}
		if s.On.From > r.asOf || s.On.From < p.Since.From {
			continue
		}
		switch s.Kind {
		case "harvested", "pinned":
			if d := day(s.On); e.fruited < 0 || d < e.fruited {
				e.fruited, e.most = d, s.Logs
			}
		case "checked":
			if s.LookedAt > 0 && s.With >= 0 && s.On.To-s.On.From <= vagueDays {
				e.checks = append(e.checks, check{day(s.On), s.LookedAt, min(s.With, s.LookedAt)})
			}
		case "walked":
			if s.On.To-s.On.From <= vagueDays {
				e.nothing = append(e.nothing, day(s.On))
			}
		}
	}
	if e.fruited >= 0 {
		kept := e.nothing[:0]
		for _, d := range e.nothing {
			if d < e.fruited {
				kept = append(kept, d)
			}
		}
		e.nothing = kept
	}
	return e
}

const (
	vagueDays   = 31 // a look as vague as that is still one
	unknownLogs = 20 // that a pile is taken to have had, where nobody counted
	// A flush is to be seen from some days before its picking to some after.
	seenBefore, seenAfter = 5, 7
)

// least is the likelihood under which nothing counts as impossible: what was
// seen has happened.
const least = 1e-12

// clue is one thing that was seen on a pile: its log likelihood by how many
// deviations of its logs lie between the growing days on a day and those that
// half of them need. It is tabulated once and serves every draw.
type clue struct {
	day   int32
	table [clueSize]float64
}

// The grid of a clue, in deviations of logs.
const (
	clueReach = 6.0
	clueStep  = 0.05
	clueSize  = 2*int(clueReach/clueStep) + 1
)

// newClue tabulates the likelihood of what was seen, given the share of logs
// that are through and what nobody knows, over which it is summed.
func newClue(day int32, nuisances []nuisance, likelihood func(through float64, q nuisance) float64) *clue {
	c := &clue{day: day}
	for i := range c.table {
		x := -clueReach + float64(i)*clueStep
		share, sum := math.Erfc(-x/math.Sqrt2)/2, 0.0
		for _, q := range nuisances {
			sum += q.weight * likelihood((1-q.never)*share, q)
		}
		c.table[i] = math.Log(math.Max(sum, least))
	}
	return c
}

// at reads the table between its points, and its ends beyond them.
func (c *clue) at(x float64) float64 {
	y := (min(max(x, -clueReach), clueReach) + clueReach) / clueStep
	i := min(int(y), clueSize-2)
	f := y - float64(i)
	return c.table[i]*(1-f) + c.table[i+1]*f
}

// nuisance is one value of what nobody knows: the share of logs that never
// take, and of log ends that are misread.
type nuisance struct{ never, misread, weight float64 }

// nuisancesOf are three values of each, at the middle and at deviations that
// keep a normal's mean and variance (Gauss–Hermite quadrature of three points:
// 0 and ±√3, weights 2/3 and 1/6). They are summed over, not drawn: drawn for
// every pile, hardly a draw would fit them all.
func nuisancesOf(never, misread data.Range) (all []nuisance) {
	z, w := [3]float64{-math.Sqrt(3), 0, math.Sqrt(3)}, [3]float64{1.0 / 6, 2.0 / 3, 1.0 / 6}
	for i := range z {
		for j := range z {
			all = append(all, nuisance{
				never:   math.Min(colonise.Skewed(never, z[i]), 0.9),
				misread: math.Min(colonise.Skewed(misread, z[j]), 0.9),
				weight:  w[i] * w[j],
			})
		}
	}
	return all
}

// ring is the chance of a white ring on a log end, true or misread.
func (q nuisance) ring(through float64) float64 {
	return (1-q.misread)*through + q.misread/2*(1-through)
}

// cluesOf tabulates a pile's evidence, but for looks at the same logs again.
func (r *run) cluesOf(t *task, nuisances []nuisance) (clues []*clue) {
	e := t.evidence
	for i, c := range e.checks {
		if again(e.checks, i) {
			continue
		}
		clues = append(clues, newClue(c.day, nuisances, func(through float64, q nuisance) float64 {
			p := q.ring(through)
			return math.Pow(p, float64(c.with)) * math.Pow(1-p, float64(c.looked-c.with))
		}))
	}
	if e.fruited >= 0 {
		clues = append(clues, newClue(e.fruited, nuisances, func(through float64, _ nuisance) float64 {
			return atLeast(max(e.most, 1), e.logs, through)
		}))
	}
	f := &t.strain.Fruit
	for _, day := range e.nothing {
		up := r.couldBeUp(t, day) * f.Chance.Value
		if up == 0 {
			continue // without something that would have set a flush off, nothing up is no news
		}
		clues = append(clues, newClue(day, nuisances, func(through float64, _ nuisance) float64 {
			return 1 - up*(1-math.Pow(1-through*f.Share.Typical, float64(e.logs)))
		}))
	}
	return clues
}

// couldBeUp is the share of draws in which something would have set off a
// flush that stands on a day.
func (r *run) couldBeUp(t *task, day int32) float64 {
	n := 0
	for _, triggers := range t.setting.triggers {
		for _, trig := range triggers {
			if trig.Pick-seenBefore <= day && day <= trig.Pick+seenAfter {
				n++
				break
			}
		}
	}
	return float64(n) / float64(len(t.setting.triggers))
}

// again reports whether look i is taken to be at the same logs as the one
// before it: as many, and no fewer rings. Such looks are a growing count, which
// tells less than fresh logs would.
func again(checks []check, i int) bool {
	return i > 0 && checks[i].looked == checks[i-1].looked && checks[i].with >= checks[i-1].with
}

// seen is how likely a pile's evidence is in one draw, by ln growing days that
// half of its logs need.
func (r *run) seen(t *task, n int, since int32) colonise.Seen {
	e, s, sd := t.evidence, t.setting, t.belief.LogSD(n)
	if !e.any() {
		return nil
	}
	began := s.at(n, since)
	grown := func(day int32) float64 {
		if day < since {
			return math.Log(1e-6)
		}
		return math.Log(math.Max(s.at(n, day)-began, 1e-6))
	}
	lns := make([]float64, len(t.clues))
	for i, c := range t.clues {
		lns[i] = grown(c.day)
	}
	looks := make([]float64, len(e.checks))
	for i, c := range e.checks {
		looks[i] = grown(c.day)
	}
	return func(half float64) (ll float64) {
		for i, c := range t.clues {
			ll += c.at((lns[i] - half) / sd)
		}
		for i := range e.checks {
			if again(e.checks, i) {
				ll += grownCount(e.checks[i-1], e.checks[i], t.belief.Share(looks[i-1], half, n), t.belief.Share(looks[i], half, n), r.nuisances)
			}
		}
		return ll
	}
}

// conflict is by how much what was seen on a pile fits together worse than
// each of it alone fits best, as a difference of log likelihoods: the mean
// over some draws.
func (r *run) conflict(t *task) float64 {
	if len(t.clues) < 2 {
		return 0
	}
	alone := 0.0
	for _, c := range t.clues {
		alone += slices.Max(c.table[:])
	}
	const some = 20
	sum := 0.0
	for n := range min(some, r.draws) {
		seen := r.seen(t, n, r.begin(t, n))
		best := math.Inf(-1)
		for half := -2.0; half < 12; half += 0.05 {
			best = math.Max(best, seen(half))
		}
		sum += alone - best
	}
	return sum / float64(min(some, r.draws))
}

// grownCount is the log likelihood of a second look at the same logs, of which
// the shares s1 and then s2 were through: how many of those without a ring at
// the first have one now, truly or misread.
func grownCount(first, second check, s1, s2 float64, nuisances []nuisance) float64 {
	new, still := float64(second.with-first.with), float64(second.looked-second.with)
	sum := 0.0
	for _, q := range nuisances {
		p := q.ringAfterNone((1-q.never)*s1, (1-q.never)*s2)
		sum += q.weight * math.Pow(p, new) * math.Pow(1-p, still)
	}
	return math.Log(math.Max(sum, least))
}

// ringAfterNone is the chance of a ring on an end that had none at an earlier
// look, when s1 of the logs were through then and s2 are now: logs that were
// and were overlooked, logs that have become so, and ends misread now.
func (q nuisance) ringAfterNone(s1, s2 float64) float64 {
	overlooked, mistaken := q.misread, q.misread/2
	none := s1*overlooked + (1-s1)*(1-mistaken)
	return (s1*overlooked*(1-overlooked) + (s2-s1)*(1-mistaken)*(1-overlooked) + (1-s2)*(1-mistaken)*mistaken) / none
}

// atLeast is the chance that at least j of n logs are through, each with
// chance p: the regularised incomplete beta function I_p(j, n−j+1).
func atLeast(j, n int, p float64) float64 {
	j = min(j, n)
	if p <= 0 {
		return 0
	}
	if p >= 1 {
		return 1
	}
	return mathext.RegIncBeta(float64(j), float64(n-j+1), p)
}

// learn draws what each pile needs, given what was seen on all of them, and
// weighs the draws of past weather by how well they fit it.
func (r *run) learn(ctx context.Context) error {
	var piles []*task
	var beliefs []*colonise.Belief
	for _, t := range r.tasks {
		if !t.through() {
			piles, beliefs = append(piles, t), append(beliefs, t.belief)
		}
		t.half = make([]float64, r.draws)
	}
	tree := colonise.NewYard(beliefs)
	r.nuisances = nuisancesOf(r.data.Practice.TakeFail, r.data.Practice.FalseSign)
	for _, t := range piles {
		t.clues = r.cluesOf(t, r.nuisances)
	}
	logs := make([]float64, r.draws)
	err := r.parallel(ctx, r.draws, func() func(int) {
		seen, half := make([]colonise.Seen, len(piles)), make([]float64, len(piles))
		return func(n int) {
			for i, t := range piles {
				seen[i] = r.seen(t, n, r.begin(t, n))
			}
			logs[n] = tree.Draw(half, seen, n)
			for i, t := range piles {
				t.half[n] = half[i]
			}
		}
	})
	r.weigh(logs)
	return err
}

// weigh turns log likelihoods into weights whose sum is the number of draws.
func (r *run) weigh(logs []float64) {
	r.weight = make([]float64, r.draws)
	most := math.Inf(-1)
	for _, l := range logs {
		most = math.Max(most, l)
	}
	sum, square := 0.0, 0.0
	for n, l := range logs {
		r.weight[n] = math.Exp(l - most)
		sum += r.weight[n]
	}
	for n := range r.weight {
		r.weight[n] *= float64(r.draws) / sum
		square += r.weight[n] * r.weight[n]
	}
	r.effective = float64(r.draws) * float64(r.draws) / square
}

// stockDraws are the draws of the stock to which each draw's drying goes, as many
// as its weight says: systematic resampling (Kitagawa 1996, Journal of
// Computational and Graphical Statistics 5:1–25), which gives every draw its
// own where all weigh the same.
func (r *run) stockDraws() [][]int32 {
	out := make([][]int32, r.draws)
	sum, next := 0.0, 0
	for n, w := range r.weight {
		sum += w
		for next < r.draws && float64(next)+0.5 < sum {
			out[n] = append(out[n], int32(next))
			next++
		}
	}
	for ; next < r.draws; next++ { // what rounding left over
		out[r.draws-1] = append(out[r.draws-1], int32(next))
	}
	return out
}
