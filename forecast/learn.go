package forecast

import (
	"context"
	"math"

	"gonum.org/v1/gonum/mathext"
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

// seen is how likely a pile's evidence is in one draw, by ln growing days that
// half of its logs need.
func (r *run) seen(t *task, n int, since int32) colonise.Seen {
	e, b, s := t.evidence, t.belief, t.setting
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
	pr := &r.data.Practice
	never := math.Min(colonise.Skewed(pr.TakeFail, r.streams("logs that never take", t.pile.Name).Draw(n).NormFloat64()), 0.9)
	misread := math.Min(colonise.Skewed(pr.FalseSign, r.streams("misread log ends", "").Draw(n).NormFloat64()), 0.9)
	looks := make([]float64, len(e.checks))
	for i, c := range e.checks {
		looks[i] = grown(c.day)
	}
	rounds := r.rounds(t, n, grown)
	first := 0.0
	if e.fruited >= 0 {
		first = grown(e.fruited)
	}
	return func(half float64) float64 {
		through := func(ln float64) float64 { return (1 - never) * b.Share(ln, half, n) }
		ll := seenAtEnds(e.checks, looks, func(ln float64) float64 {
			p := through(ln)
			return (1-misread)*p + misread/2*(1-p)
		})
		if e.fruited >= 0 {
			ll += math.Log(math.Max(atLeast(max(e.most, 1), e.logs, through(first)), least))
		}
		for _, w := range rounds {
			up := 1 - math.Pow(1-through(w.ln)*w.share, float64(e.logs))
			ll += math.Log(math.Max(1-w.chance*up, least))
		}
		return ll
	}
}

// seenAtEnds is the log likelihood of looks at log ends. Looks at the same
// number of logs, one after another, are taken to be at the same logs: a
// growing count, which tells less than fresh logs would.
func seenAtEnds(checks []check, looks []float64, ring func(ln float64) float64) float64 {
	ll := 0.0
	for i := 0; i < len(checks); {
		c := checks[i]
		before, k := ring(looks[i]), c.with
		ll += float64(k) * math.Log(math.Max(before, least))
		j := i + 1
		for ; j < len(checks) && checks[j].looked == c.looked && checks[j].with >= k; j++ {
			p := ring(looks[j])
			ll += float64(checks[j].with-k) * math.Log(math.Max(p-before, least))
			before, k = p, checks[j].with
		}
		ll += float64(c.looked-k) * math.Log(math.Max(1-before, least))
		i = j
	}
	return ll
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

// round is a walk on a day on which a flush could have been up.
type round struct {
	ln            float64 // ln growing days on the day that would have started it
	chance, share float64
}

// rounds are the walks of a draw that tell anything: without something that
// would have set a flush off, nothing up is no news.
func (r *run) rounds(t *task, n int, grown func(int32) float64) (out []round) {
	f := &t.strain.Fruit
	for _, d := range t.evidence.nothing {
		for _, trig := range t.setting.triggers[n] {
			if trig.Pick-seenBefore <= d && d <= trig.Pick+seenAfter {
				out = append(out, round{grown(trig.Start), f.Chance.Value, f.Share.Typical})
			}
		}
	}
	return out
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

// shares are the draws of the stock to which each draw's drying goes, as many
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
