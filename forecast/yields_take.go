package forecast

import (
	"math"

	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// learnTakeFail learns from the logs lost, and from those that bore or showed
// a white ring, how many never take.
//
// Purpose: share of logs that never take in this yard. Equations: harvest.Beta,
// with the mean and variance of what is thought before; a log counts as
// TakeLogCounts. Parameters: TakeFail, TakeLogCounts, NoticedFails, NeverTook
// of data.Practice. State: none. Needs nothing from others. Errors: none.
func (r *run) learnTakeFail() { r.takeFail = r.takeFailOf(nil) }

// takeFailOf is the same with the logs of one pile that took left out: what
// bore or showed a ring there is told by its own looks and flushes.
func (r *run) takeFailOf(told *yard.Pile) data.Range {
	pr := &r.data.Practice
	failed, took := 0.0, 0.0
	for _, p := range r.state.Piles {
		if r.plain {
			break
		}
		f, t := r.takes(p)
		failed += f
		if p != told {
			took += t
		}
	}
	if failed+took == 0 {
		return pr.TakeFail
	}
	each := pr.TakeLogCounts.Value
	b := harvest.BetaOf(momentsOf(pr.TakeFail)).Counted(each*failed, each*took)
	at := func(p float64) float64 { return math.Max(b.At(p), leastShare) }
	out := pr.TakeFail
	out.Low, out.Typical, out.High = at(0.1), at(0.5), at(0.9)
	return out
}

// leastShare keeps a share above nothing, so that it has a logarithm.
const leastShare = 1e-6

// takes counts the logs of a pile that never took, by its record, and those
// that did. Of a pile of which neither is on record nothing is said, nor of
// logs that were through when they came.
func (r *run) takes(p *yard.Pile) (failed, took float64) {
	if p.Colonised || p.State == "through" || !p.LogsKnown || p.Started <= 0 {
		return 0, 0
	}
	for _, g := range p.Gone {
		if r.never(g) {
			failed += float64(g.Logs)
		}
	}
	noticed := 0.0
	for _, s := range p.Seen {
		if s.On.From > r.asOf {
			continue
		}
		switch s.Kind {
		case "harvested", "pinned":
			took = max(took, float64(s.Logs))
		case "checked":
			took = max(took, float64(min(s.With, s.LookedAt)))
		case "noticed":
			if r.data.Practice.NeverTook.In(s.What) {
				noticed = max(noticed, float64(s.Logs-r.lostSince(p, s.On)))
			}
		}
	}
	failed += noticed * r.data.Practice.NoticedFails.Value
	took = min(took, float64(p.Started))
	// A log that bore is none that never took.
	return min(failed, float64(p.Started)-took), took
}

func (r *run) never(g yard.LogLoss) bool {
	return g.How == "lost" && r.data.Practice.NeverTook.In(g.Cause)
}

// lostSince counts the logs that never took and were taken away from a day
// on: those on which something had been noticed.
func (r *run) lostSince(p *yard.Pile, w yard.When) (logs int) {
	for _, g := range p.Gone {
		if r.never(g) && g.On.To >= w.From {
			logs += g.Logs
		}
	}
	return logs
}

// momentsOf is the mean and variance of a quantity of which a range is said:
// a lognormal on each side of the middle, of which the k-th moment is
// typical^k·[exp(k²a²/2)·Φ(−ka) + exp(k²b²/2)·Φ(kb)], a and b the deviations
// of its logarithm under and over it.
func momentsOf(q data.Range) (mean, variance float64) {
	a := math.Log(q.Typical / colonise.Skewed(q, -1))
	b := math.Log(colonise.Skewed(q, 1) / q.Typical)
	phi := func(x float64) float64 { return math.Erfc(-x/math.Sqrt2) / 2 }
	moment := func(k float64) float64 {
		return math.Pow(q.Typical, k) * (math.Exp(k*k*a*a/2)*phi(-k*a) + math.Exp(k*k*b*b/2)*phi(k*b))
	}
	mean = moment(1)
	return mean, moment(2) - mean*mean
}
