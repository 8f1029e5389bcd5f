package forecast

import (
	"slices"

	"hodaba/yard"
)

// basketOf lays out the days around a picking in which what the forecast
// expects shares it out: some weeks on both sides, or a whole season's own.
func (r *run) basketOf(k *yard.Pick) *basket {
	around := yard.Date(7 * r.data.Practice.BasketWeeks.Value)
	if k.Season {
		around = 0
	}
	last := yard.Date(r.days - 1)
	return &basket{
		pick: k,
		from: int32(min(max(k.On.From-around-r.start, 0), last)),
		to:   int32(min(max(k.On.To+around-r.start, 0), last)),
	}
}

// shareOf is the part of a picking that is taken to come from one of its
// piles: as the forecast expects of each about that time, with all that is
// learned of crops left out; as their logs then where it expects nothing of
// any, or does not forecast all; in equal parts where nobody counted. The
// parts of all piles come to one. Before learnYields it knows of logs alone.
func (r *run) shareOf(p *yard.Pile, k *yard.Pick) float64 {
	piles := r.pilesOf(k)
	switch {
	case !slices.Contains(piles, p):
		return 0
	case len(piles) == 1:
		return 1
	}
	own, sum := 0.0, 0.0
	for _, weight := range []func(*yard.Pile) (float64, bool){
		func(q *yard.Pile) (float64, bool) { return r.expectedOf(q, k) },
		func(q *yard.Pile) (float64, bool) {
			if q == nil || !q.LogsKnown {
				return 0, false
			}
			return float64(r.logsOn(q, k.On.Mid())), true
		},
		func(*yard.Pile) (float64, bool) { return 1, true },
	} {
		own, sum = 0, 0
		for _, q := range piles {
			w, known := weight(q)
			if !known {
				sum = 0
				break
			}
			if sum += w; q == p {
				own = w
			}
		}
		if sum > 0 {
			break
		}
	}
	return own / sum
}

// pilesOf are the piles a picking came from, nil for one that the journal
// does not know; where some are of the mushroom picked, only those.
func (r *run) pilesOf(k *yard.Pick) []*yard.Pile {
	var all, alike []*yard.Pile
	for _, name := range k.Piles {
		p := r.state.Pile(name)
		all = append(all, p)
		if p != nil && (k.Species == "" || r.like(p.Species) == r.like(k.Species)) {
			alike = append(alike, p)
		}
	}
	if len(alike) > 0 {
		return alike
	}
	return all
}

// expectedOf is the kg that the forecast expects of a pile about a picking;
// known is false for a pile that it does not forecast.
func (r *run) expectedOf(p *yard.Pile, k *yard.Pick) (kg float64, known bool) {
	if r.yields == nil {
		return 0, false
	}
	for _, t := range r.tasks {
		l := r.yields.ledgers[t]
		if t.pile != p || l == nil {
			continue
		}
		for _, b := range l.baskets {
			if b.pick == k {
				return b.kg, true
			}
		}
	}
	return 0, false
}
