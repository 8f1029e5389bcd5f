package score

import (
	"cmp"
	"context"
	"math"
	"slices"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// monthsBack is how old the forecast is that is held against what came.
const monthsBack = 6

// When a forecast counts as wrong.
const (
	surely = 0.8 // nothing came, and so much had been given to its coming by now
	hardly = 0.1 // it came, and no more had been given to its coming so early
	early  = 14  // days before the early day said, at least: a few days are no miss
)

// Then is a forecast of half a year ago, made again with what was known.
type Then struct {
	Result *forecast.Result
	looks  []Outcome // since; beside the answers of the result
}

// Back makes the forecast of half a year ago again, on the first of its month;
// nil where nothing was known then.
func Back(ctx context.Context, in Input) (*Then, error) {
	made := in.Today.AddMonths(-monthsBack).MonthStart()
	state := in.State(made, made)
	if len(state.Piles) == 0 {
		return nil, nil
	}
	t := &Then{}
	run := forecast.Input{State: bare(state), Data: in.Data, Draws: in.Draws, Seed: in.Seed, Years: years, Workers: in.Workers}
	for _, o := range outcomesOf(in.State(in.Today, 0), in.Data, in.Today) {
		if o.Kind == Look && o.On > made {
			t.looks = append(t.looks, o)
			run.Asked = append(run.Asked, forecast.Ask{Pile: o.Pile, On: o.On, LookedAt: o.LookedAt})
		}
	}
	var err error
	t.Result, err = forecast.Run(ctx, run, nil)
	return t, err
}

// MissKind is how a forecast was wrong.
type MissKind string

// The ways of being wrong, in the order in which they are told.
const (
	NothingCame    MissKind = "nothing came"            // and somebody was there
	CameEarly      MissKind = "came early"              // earlier than was thought likely
	LookOff        MissKind = "look off"                // more or fewer logs through than said
	NothingWritten MissKind = "nothing is written down" // and nobody is known to have been there
)

var missOrder = []MissKind{NothingCame, CameEarly, LookOff, NothingWritten}

// Miss is where the forecast of half a year ago was wrong.
type Miss struct {
	Pile   string
	Kind   MissKind
	Made   yard.Date
	First  bool      // it is about the first harvest of the pile's life
	By     yard.Date // nothing came: day by which it was said to, 8 times in 10; came early: the early day said
	Chance float64   // given to it: by today; so early; of so few, or so many
	On     yard.Date // came early: the day; look off: that of the look
	// Look off: so many of so many had a white ring, and from Low to High had
	// been said.
	With, LookedAt, Low, High int
	Now                       forecast.FirstHarvest
	Why                       Why
}

// Late reports whether a pile is further behind than was said.
func (m *Miss) Late() bool {
	return m.Kind == NothingCame || m.Kind == NothingWritten || (m.Kind == LookOff && m.With < m.Low)
}

// Misses finds where the forecast of then was wrong, by what stands in the
// yard now, at most one for each pile: the gravest first in each kind. now is
// the forecast of today.
func Misses(then *Then, now *forecast.Result, state *yard.State, set *data.Set) []Miss {
	if then == nil || now == nil || state == nil {
		return nil
	}
	var all []Miss
	for _, f := range then.Result.Piles {
		p := state.Pile(f.Name)
		ahead, err := now.Pile(f.Name)
		if p == nil || p.Closed != 0 || err != nil {
			continue
		}
		c := &compared{then: then, now: now, said: f, ahead: ahead, pile: p, state: state, set: set}
		for _, find := range []func() (Miss, bool){c.nothingCame, c.cameEarly, c.lookOff, c.nothingWritten} {
			if m, ok := find(); ok {
				m.Pile, m.Made, m.First, m.Now = p.Name, then.Result.AsOf, !f.Picked, ahead.First
				m.Why = c.why(&m)
				all = append(all, m)
				break
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Miss) int {
		return cmp.Or(cmp.Compare(slices.Index(missOrder, a.Kind), slices.Index(missOrder, b.Kind)), cmp.Compare(a.Odds(), b.Odds()))
	})
	return all
}

// Odds is how likely it was to go so.
func (m *Miss) Odds() float64 {
	if m.Kind == NothingCame || m.Kind == NothingWritten {
		return 1 - m.Chance
	}
	return m.Chance
}

// compared is one pile then and now.
type compared struct {
	then        *Then
	now         *forecast.Result
	said, ahead *forecast.Pile
	pile        *yard.Pile
	state       *yard.State
	set         *data.Set
}

// came is the first day after the forecast by which something was up, zero
// where nothing was.
func (c *compared) came() (on yard.Date) {
	_, strain := grownAs(c.pile, c.set)
	if s := fruited(c.pile, strain, c.then.Result.AsOf); s != nil {
		return s.On.To
	}
	return 0
}

// nothingCame is that somebody was at the pile since it was likely, and wrote
// down something else than a harvest.
func (c *compared) nothingCame() (Miss, bool) {
	m, ok := c.nothing()
	return m, ok && m.Kind == NothingCame
}

// nothingWritten is that nobody is known to have been there.
func (c *compared) nothingWritten() (Miss, bool) { return c.nothing() }

func (c *compared) nothing() (Miss, bool) {
	days := Tallied(c.said.FirstDays)
	p := days.P(float64(c.state.AsOf))
	if p < surely || c.came() != 0 {
		return Miss{}, false
	}
	by, _ := days.Quantile(surely)
	likely, _ := days.Quantile(0.5)
	m := Miss{Kind: NothingWritten, By: yard.Date(by), Chance: p}
	if lastVisit(c.pile, nil) >= yard.Date(likely) { // nothing was up since, so every visit counts
		m.Kind = NothingCame
	}
	return m, true
}

func (c *compared) cameEarly() (Miss, bool) {
	on := c.came()
	if on == 0 {
		return Miss{}, false
	}
	days := Tallied(c.said.FirstDays)
	p := days.P(float64(on))
	by, ok := days.Quantile(hardly)
	if p > hardly || !ok || on+early > yard.Date(by) {
		return Miss{}, false
	}
	return Miss{Kind: CameEarly, On: on, By: yard.Date(by), Chance: p}, true
}

// lookOff finds the look that was furthest off.
func (c *compared) lookOff() (worst Miss, found bool) {
	for i, o := range c.then.looks {
		chances := c.then.answers(i)
		if o.Pile != c.pile.Name || chances == nil {
			continue
		}
		counts := counted(chances)
		low, _ := counts.Quantile((1 - saidRange) / 2)
		high, _ := counts.Quantile((1 + saidRange) / 2)
		k := float64(o.With)
		if k >= low && k <= high {
			continue
		}
		m := Miss{Kind: LookOff, On: o.On, With: o.With, LookedAt: o.LookedAt, Low: int(low), High: int(high),
			Chance: math.Min(counts.P(k), 1-counts.Below(k))}
		if !found || m.Chance < worst.Chance {
			worst, found = m, true
		}
	}
	return worst, found
}

// answers are the chances given to a look, or nil.
func (t *Then) answers(i int) []float64 {
	if i >= len(t.Result.Answers) {
		return nil
	}
	return t.Result.Answers[i]
}
