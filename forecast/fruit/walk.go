package fruit

import (
	"math/rand/v2"
	"slices"

	"hodaba/data"
	"hodaba/forecast/chance"
)

// Never is the ready day of a cohort that is not through within the weather.
const Never = int32(1<<31 - 1)

// Flush is one picking from one cohort of logs.
type Flush struct {
	Day    int32 // of picking, from the first day of the weather
	Cohort int
	Soak   int32 // number of the soak that brought it, from 1; 0 for one that came by itself
}

// Walk appends the flushes of one pile in one draw, in order of their
// trigger. ready is the day on which each cohort is through; soaks are
// triggers by soaking, in order of day, and may be nil; again is how many days
// after a soak logs can answer another at the soonest.
// Whether a trigger is answered, by what share of the logs, and how long they
// rest is drawn from rnd.
//
// Purpose: the pile's pickings. Equation: a trigger is answered with
// f.Chance, then each ready, rested cohort with the share drawn; a cohort
// rests RestWeeks of days above the growth minimum from picking to the next
// trigger, and brackets fruit once a season. A soak is always answered, by
// SoakShare of the cohorts, and its rest counts from what set the last flush
// off: a soak cycle runs from soak to soak, and no more than the usual rest is
// asked of it. Two soaks nearer than again are one.
// A soak that no cohort can answer draws nothing, so that all else goes on as
// without it. Parameters: data.Fruit. State:
// last picking of each cohort. Needs triggers from Next. Errors: none.
func Walk(dst []Flush, f *data.Fruit, triggers, soaks []Trigger, ready []int32, again int32, rnd *rand.Rand) []Flush {
	first := Never
	for _, r := range ready {
		first = min(first, r)
	}
	rest := int32(7 * chance.Skewed(f.RestWeeks.Low, f.RestWeeks.Typical, f.RestWeeks.High, rnd.NormFloat64()))
	soakRest := min(rest, int32(7*f.RestWeeks.Typical))
	state := make([]cohort, len(ready))
	for i := range state {
		state[i] = cohort{ready: ready[i], rested: -1, season: -1}
	}
	i, j := after(triggers, first), 0
	for i < len(triggers) || (f.Forced && j < len(soaks)) {
		var t Trigger
		if f.Forced && j < len(soaks) && (i >= len(triggers) || soaks[j].Start <= triggers[i].Start) {
			t = soaks[j]
			j++
		} else {
			t = triggers[i]
			i++
		}
		if t.Forced && !slices.ContainsFunc(state, func(c cohort) bool { return c.can(t, f.Season) }) {
			soak(state, t, again)
			continue
		}
		if !t.Forced && rnd.Float64() >= f.Chance.Value {
			continue
		}
		answer := &f.Share
		if t.Forced {
			answer = &f.SoakShare
		}
		share := min(1, chance.Skewed(answer.Low, answer.Typical, answer.High, rnd.NormFloat64()))
		for c := range state {
			answers := rnd.Float64() < share
			if answers && state[c].can(t, f.Season) {
				dst = append(dst, Flush{Day: t.Pick, Cohort: c, Soak: t.Soak})
				state[c].rested, state[c].season = t.PickWarm+rest, t.Season
				state[c].soakable = t.StartWarm + soakRest
			}
		}
		if t.Forced {
			soak(state, t, again)
		}
	}
	return dst
}

// soak notes a soak, answered or not, of the cohorts that are through. One that
// came too soon after another puts nothing off further.
func soak(state []cohort, t Trigger, again int32) {
	for i := range state {
		if c := &state[i]; t.Start >= c.ready && t.Start >= c.again {
			c.again = t.Start + again
		}
	}
}

type cohort struct {
	ready  int32
	rested int32 // warm days at which it may be triggered again; −1 has not fruited
	season int32
	// Warm days from which on, after it has fruited, and day from which on,
	// after a soak, it answers another.
	soakable, again int32
}

func (c *cohort) can(t Trigger, season string) bool {
	if t.Start < c.ready || t.Forced && t.Start < c.again {
		return false
	}
	if c.rested < 0 {
		return true
	}
	if t.Forced {
		return t.StartWarm >= c.soakable
	}
	if season == "once" {
		return t.Season > c.season
	}
	return t.StartWarm >= c.rested
}

// after is the index of the first trigger that starts on day or later.
func after(ts []Trigger, day int32) int {
	lo, hi := 0, len(ts)
	for lo < hi {
		mid := (lo + hi) / 2
		if ts[mid].Start < day {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}
