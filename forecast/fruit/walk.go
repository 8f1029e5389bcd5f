package fruit

import (
	"math/rand/v2"

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

// Soaks are what is done to the logs of one pile.
type Soaks struct {
	Triggers []Trigger // by soaking, in order of day
	Again    int32     // days after a soak at which logs can answer another at the soonest
	// Answers is the stream from which the answer to a soak is drawn, by the
	// number of the soak; it must not depend on other soaks.
	Answers func(soak int32) *rand.Rand
}

// Walk appends the flushes of one pile in one draw, in order of their
// trigger. ready is the day on which each cohort is through; soaks may be nil.
// How long logs rest, whether a trigger is answered and by what share of the
// logs is drawn from rnd, what answers a soak from that soak's own stream: to
// leave a soak out changes nothing before it, and after it only what follows
// from other logs being rested.
//
// Purpose: the pile's pickings. Equation: a trigger is answered with
// f.Chance, then each ready, rested cohort with the share drawn; a cohort
// rests RestWeeks of days above the growth minimum from picking to the next
// trigger, or fruits once a season where the strain does. A soak is always answered, by
// SoakShare of the cohorts, and no more than the usual rest is asked of it; its
// rest counts from the last picking, but from the soak where the last flush
// was one: a soak cycle runs from soak to soak. Two soaks nearer than
// Soaks.Again are one. Parameters: data.Fruit. State:
// last picking of each cohort. Needs triggers from Next. Errors: none.
func Walk(dst []Flush, f *data.Fruit, triggers []Trigger, ready []int32, rnd *rand.Rand, soaks *Soaks) []Flush {
	first := Never
	for _, r := range ready {
		first = min(first, r)
	}
	rest := int32(7 * chance.Skewed(f.RestWeeks.Low, f.RestWeeks.Typical, f.RestWeeks.High, rnd.NormFloat64()))
	w := walk{f: f, rest: rest, soakRest: min(rest, int32(7*f.RestWeeks.Typical)), state: make([]cohort, len(ready))}
	for i := range w.state {
		w.state[i] = cohort{ready: ready[i], rested: -1, season: -1}
	}
	triggers = triggers[after(triggers, first):]
	for _, s := range soaks.of(f) {
		for len(triggers) > 0 && triggers[0].Start < s.Start {
			dst, triggers = w.nature(dst, triggers[0], rnd), triggers[1:]
		}
		dst = w.answer(dst, s, &f.SoakShare, soaks.Answers(s.Soak))
		w.soak(s, soaks.Again)
	}
	for _, t := range triggers {
		dst = w.nature(dst, t, rnd)
	}
	return dst
}

// of are the soaks that a strain can answer.
func (s *Soaks) of(f *data.Fruit) []Trigger {
	if s == nil || !f.Forced {
		return nil
	}
	return s.Triggers
}

// walk is one pile's while its triggers go by.
type walk struct {
	f              *data.Fruit
	rest, soakRest int32 // warm days
	state          []cohort
}

// nature answers a trigger of nature's, or not.
func (w *walk) nature(dst []Flush, t Trigger, rnd *rand.Rand) []Flush {
	if rnd.Float64() >= w.f.Chance.Value {
		return dst
	}
	return w.answer(dst, t, &w.f.Share, rnd)
}

// answer draws which cohorts answer a trigger; it draws as many numbers
// whether they can or not.
func (w *walk) answer(dst []Flush, t Trigger, by *data.Range, rnd *rand.Rand) []Flush {
	share := min(1, chance.Skewed(by.Low, by.Typical, by.High, rnd.NormFloat64()))
	for i := range w.state {
		c := &w.state[i]
		if answers := rnd.Float64() < share; !answers || !c.can(t, w.f.Once) {
			continue
		}
		dst = append(dst, Flush{Day: t.Pick, Cohort: i, Soak: t.Soak})
		c.rested, c.season = t.PickWarm+w.rest, t.Season
		c.soakable = t.PickWarm + w.soakRest
		if t.Forced {
			c.soakable = t.StartWarm + w.soakRest
		}
	}
	return dst
}

// soak notes a soak, answered or not, of the cohorts that are through. One that
// came too soon after another puts nothing off further.
func (w *walk) soak(t Trigger, again int32) {
	for i := range w.state {
		if c := &w.state[i]; t.Start >= c.ready && t.Start >= c.again {
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

func (c *cohort) can(t Trigger, once bool) bool {
	if t.Start < c.ready || t.Forced && t.Start < c.again {
		return false
	}
	if c.rested < 0 {
		return true
	}
	if t.Forced {
		return t.StartWarm >= c.soakable
	}
	if once {
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
