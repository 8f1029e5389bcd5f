package forecast

import (
	"math"

	"hodaba/forecast/colonise"
)

// testimony is what a pile's evidence says of how far it is, tabulated.
type testimony struct {
	q       []nuisance
	looks   [][]*table // by look, by nuisance, were its logs fresh ones
	pairs   [][]*pair  // by look that may be at the same logs again as the one before, by nuisance; else nil
	same    float64    // chance that such looks are at the same logs
	flush   []*table   // by nuisance; nil where it has not fruited
	nothing *table     // of one trigger that should have brought something and did not
	temper  float64    // power to which all of it is taken: under one where it contradicts itself
	one     *table     // of the only look or flush, summed over the nuisances
}

// testimonyOf tabulates a pile's evidence; nil where there is none.
func (r *run) testimonyOf(t *task) *testimony {
	e := t.evidence
	if !e.any() || t.through() {
		return nil
	}
	pr, f := &r.data.Practice, &t.strain.Fruit
	s := &testimony{q: t.nuisances, same: pr.SameLogs.Value, temper: 1}
	logSD, slip := t.belief.LogSD(0), pr.SlipRate.Value
	for i := range e.looks {
		l := &e.looks[i]
		var tables []*table
		var pairs []*pair
		for _, q := range s.q {
			tables = append(tables, tabulate(func(x float64) float64 { return l.likelihood(x, logSD, q, pr) }))
			if e.again(i) {
				pairs = append(pairs, r.pair(&e.looks[i-1], l, q, slip))
			}
		}
		s.looks, s.pairs = append(s.looks, tables), append(s.pairs, pairs)
	}
	if e.fruited != nil {
		elsewhere := r.elsewhere(e.fruited)
		bore := func(x float64, q nuisance) float64 {
			p := bore(e.fruited.logs, e.logs, x, q, f.Share)
			p = 1 - (1-p)*(1-elsewhere)
			return (1-slip)*p + slip/float64(e.logs+1)
		}
		for _, q := range s.q {
			s.flush = append(s.flush, tabulate(func(x float64) float64 { return bore(x, q) }))
		}
	}
	if len(e.rounds) > 0 {
		s.nothing = tabulate(func(x float64) float64 {
			return average(s.q, func(q nuisance) float64 {
				return 1 - (1-slip)*f.Chance.Value*bore(0, e.logs, x, q, f.Share)
			})
		})
	}
	s.shorten()
	return s
}

// pair is newPair; many piles are looked at alike.
func (r *run) pair(first, second *look, q nuisance, slip float64) *pair {
	k := pairKey{second.looked, first.rings, second.rings, q}
	if r.pairs[k] == nil {
		if r.pairs == nil {
			r.pairs = map[pairKey]*pair{}
		}
		r.pairs[k] = newPair(first, second, q, slip)
	}
	return r.pairs[k]
}

type pairKey struct {
	looked, before, now int
	q                   nuisance
}

// shorten sums a lone look or flush over the nuisances beforehand.
func (s *testimony) shorten() {
	alone := s.flush
	if len(s.looks) == 1 && s.flush == nil {
		alone = s.looks[0]
	}
	if alone == nil || len(s.looks) > 0 && s.flush != nil {
		return
	}
	s.one = &table{}
	for i := range s.one {
		sum := 0.0
		for k, q := range s.q {
			sum += q.weight * math.Exp(alone[k][i])
		}
		s.one[i] = math.Log(sum)
	}
}

// elsewhere is the chance that the basket of a first flush came from one of
// the other piles named with it, before anything was learned.
func (r *run) elsewhere(f *flushed) float64 {
	not := 1.0
	for _, name := range f.others {
		p := evenChance // a pile of which there is no forecast
		for _, t := range r.tasks {
			if t.pile.Name == name {
				p = r.couldBear(t, f.day)
			}
		}
		not *= 1 - p
	}
	return 1 - not
}

const evenChance = 0.5

// couldBear is the chance, before anything was learned, that a log or more of
// a pile bore by a day.
func (r *run) couldBear(t *task, day int32) float64 {
	if t.through() {
		return 1
	}
	sum, draws := 0.0, min(r.draws, fewDraws)
	for n := range draws {
		x := (r.grown(t, n, day) - t.belief.Half(n)) / t.belief.LogSD(n)
		sum += average(t.nuisances, func(q nuisance) float64 {
			return bore(0, t.evidence.logs, x, q, t.strain.Fruit.Share)
		})
	}
	return sum / float64(draws)
}

// grown is ln of the growing days of a pile up to a day, in one draw.
func (r *run) grown(t *task, n int, day int32) float64 {
	since := r.begin(t, n)
	if day < since {
		return math.Log(leastGrown)
	}
	return math.Log(math.Max(t.setting.at(n, day)-t.setting.at(n, since), leastGrown))
}

// leastGrown is the growing days under which a pile has not begun.
const leastGrown = 1e-6

// hearing is a testimony in one draw: ln growing days on the days it speaks
// of.
type hearing struct {
	*testimony
	looks   []float64
	flush   float64
	nothing []float64 // of the triggers that brought nothing
	sd      float64   // of the logs
}

// What was seen, by its place in a pile's evidence, for hearings that leave
// something out.
type leave struct {
	look           int // −1 none, allLooks all of them
	flush, nothing bool
}

const allLooks = -2

// has reports whether look i is left out.
func (l leave) has(i int) bool { return l.look == i || l.look == allLooks }

var nothingLeftOut = leave{look: -1}

func (r *run) hear(t *task, n int) *hearing {
	if t.testimony == nil {
		return nil
	}
	e := t.evidence
	h := &hearing{testimony: t.testimony, sd: t.belief.LogSD(n)}
	for i := range e.looks {
		h.looks = append(h.looks, r.grown(t, n, e.looks[i].day))
	}
	if e.fruited != nil {
		h.flush = r.grown(t, n, e.fruited.day)
	}
	for _, trig := range r.passed(t, n) {
		h.nothing = append(h.nothing, r.grown(t, n, trig))
	}
	return h
}

// A flush is to be seen from some days before its picking to some after.
const seenBefore, seenAfter = 5, 7

// passed are the days of the triggers in one draw whose flush would have been
// seen on a round on which nothing was up. Several rounds during one flush are
// one chance to see it, not several.
func (r *run) passed(t *task, n int) (starts []int32) {
	for _, trig := range t.setting.triggers[n] {
		for _, w := range t.evidence.rounds {
			if trig.Pick-seenBefore <= w.day && w.day <= trig.Pick+seenAfter {
				starts = append(starts, trig.Start)
				break
			}
		}
	}
	return starts
}

// seen hands it to the tree of effects.
func (h *hearing) seen() colonise.Seen {
	if h == nil {
		return nil
	}
	return func(half float64) float64 { return h.log(half, nothingLeftOut) }
}

// log is the log likelihood of all that was seen but what is left out, by ln
// growing days that half of the logs need.
func (h *hearing) log(half float64, out leave) float64 {
	ll := 0.0
	if h.testimony.nothing != nil && !out.nothing {
		for _, g := range h.nothing {
			ll += h.testimony.nothing.at((g - half) / h.sd)
		}
	}
	if h.one != nil {
		switch {
		case len(h.looks) == 1 && !out.has(0):
			ll += h.one.at((h.looks[0] - half) / h.sd)
		case len(h.looks) == 0 && !out.flush:
			ll += h.one.at((h.flush - half) / h.sd)
		}
		return ll * h.temper
	}
	sum := 0.0
	for k, q := range h.q {
		sum += q.weight * math.Exp(h.given(k, half, out))
	}
	return (ll + math.Log(sum)) * h.temper
}

// given is the log likelihood of looks and flush for one value of what nobody
// knows.
func (h *hearing) given(k int, half float64, out leave) float64 {
	fresh, again, paired := 0.0, 0.0, false
	for i, g := range h.looks {
		if out.has(i) {
			continue
		}
		x := (g - half) / h.sd
		ll := h.testimony.looks[i][k].at(x)
		fresh += ll
		if h.pairs[i] == nil || out.has(i-1) {
			again += ll
			continue
		}
		paired = true
		before := (h.looks[i-1] - half) / h.sd
		again += h.pairs[i][k].at(before, x-before)
	}
	ll := fresh
	if paired {
		most := math.Max(fresh, again)
		ll = most + math.Log((1-h.same)*math.Exp(fresh-most)+h.same*math.Exp(again-most))
	}
	if h.testimony.flush != nil && !out.flush {
		ll += h.testimony.flush[k].at((h.flush - half) / h.sd)
	}
	return ll
}

// contradicts is the difference of log likelihoods from which what was seen on
// a pile is said to contradict itself.
const contradicts = 4

// conflict is by how much what was seen on a pile fits together worse than
// each of it alone fits best, as a difference of log likelihoods: the mean
// over some draws.
func (r *run) conflict(t *task) float64 {
	s := t.testimony
	if s == nil || s.one != nil {
		return 0
	}
	alone := 0.0
	for _, tables := range append(s.looks[:len(s.looks):len(s.looks)], s.flush) {
		best := math.Inf(-1)
		for _, one := range tables {
			best = math.Max(best, one.highest())
		}
		if len(tables) > 0 {
			alone += best
		}
	}
	const some = 20
	sum := 0.0
	for n := range min(some, r.draws) {
		h := r.hear(t, n)
		best := math.Inf(-1)
		for half := -2.0; half < 12; half += 0.05 {
			best = math.Max(best, h.log(half, leave{look: -1, nothing: true}))
		}
		sum += alone - best
	}
	return sum / float64(min(some, r.draws))
}

// soften takes evidence that contradicts itself to a power under one: what
// cannot all be true should make less sure, not more.
func (r *run) soften(t *task) {
	t.conflict = r.conflict(t)
	if t.conflict > contradicts {
		t.testimony.temper = contradicts / (2*t.conflict - contradicts)
	}
}
