package score

import (
	"math"

	"hodaba/yard"
)

// WhyKind is what has moved a forecast.
type WhyKind string

// The reasons, in the order in which they are looked for: the first that is
// true is taken.
const (
	WhyLook    WhyKind = "look"          // log ends that were looked at since
	WhyOthers  WhyKind = "other piles"   // log ends of other piles of the species
	WhyGrowth  WhyKind = "growing days"  // the year had far fewer, or more, than usual
	WhyRain    WhyKind = "rain"          // a month was dry, or wet
	WhyDryLogs WhyKind = "dry logs"      // the logs are drier than they should be
	WhyNone    WhyKind = "nothing known" // it goes so, now and then
)

// Why is why a forecast was wrong, as far as is known.
type Why struct {
	Kind WhyKind
	// Look, other piles: the look that tells most.
	Pile           string
	On             yard.Date
	With, LookedAt int
	// Growing days: of this year so far, and usual by now. Other piles: needed
	// by half of the logs, as thought now and then.
	Days, Before float64
	// Rain: the first day of the month, what fell in it and what is normal, mm.
	Month           yard.Date
	RainMM, UsualMM float64
	// Dry logs: wet-basis moisture now and then, fractions.
	Moisture, MoistureThen float64
}

// What counts as a reason, our own judgement.
const (
	tellingLook = 0.3  // a look of which so few, or so many, had no more than this chance
	movedNeed   = 0.1  // by this share of the growing days needed
	dryMonth    = 0.5  // of the normal rain, and less
	wetMonth    = 1.5  // of the normal rain, and more
	gaugeDays   = 20   // measured days that make a month
	growingYet  = 0.95 // chance of being run through from which growing days are no reason
)

// why looks for the first reason that holds.
func (c *compared) why(m *Miss) Why {
	growing := c.said.Colonised != nil && c.said.Colonised.ChanceNow < growingYet
	flush := m.Kind != LookOff
	for _, reason := range []struct {
		asked bool
		find  func(late bool) (Why, bool)
	}{
		{growing && flush, c.look}, {growing, c.others}, {growing, c.growth}, {flush, c.rain}, {true, c.dryLogs},
	} {
		if !reason.asked {
			continue
		}
		if w, ok := reason.find(m.Late()); ok {
			return w
		}
	}
	return Why{Kind: WhyNone}
}

// look is one at the pile's own log ends that found fewer, or more, than was
// likely.
func (c *compared) look(late bool) (best Why, found bool) {
	most := tellingLook
	for i, o := range c.then.looks {
		chances := c.then.answers(i)
		if o.Pile != c.pile.Name || chances == nil {
			continue
		}
		counts, k := counted(chances), float64(o.With)
		p := counts.P(k)
		if !late {
			p = 1 - counts.Below(k)
		}
		if p <= most {
			most, found = p, true
			best = Why{Kind: WhyLook, Pile: o.Pile, On: o.On, With: o.With, LookedAt: o.LookedAt}
		}
	}
	return best, found
}

// others is what a look at another pile of the species has taught of what
// these logs need; the latest is named.
func (c *compared) others(late bool) (Why, bool) {
	w := Why{Kind: WhyOthers, Days: c.ahead.NeedDays.P50, Before: c.said.NeedDays.P50}
	moved := w.Days/w.Before - 1
	if !late {
		moved = -moved
	}
	if !(moved > movedNeed) {
		return w, false
	}
	for _, o := range c.then.looks {
		if o.Pile != c.pile.Name && o.Species == c.pile.Species && o.On >= w.On {
			w.Pile, w.On, w.With, w.LookedAt = o.Pile, o.On, o.With, o.LookedAt
		}
	}
	return w, w.Pile != ""
}

// growth is that this year has had fewer growing days than nine years in ten,
// or more.
func (c *compared) growth(late bool) (Why, bool) {
	a := &c.now.Site.Ahead
	w := Why{Kind: WhyGrowth, Days: a.SoFar.P50, Before: a.Usual.P50}
	if late {
		return w, a.SoFar.P50 < a.Usual.P10
	}
	return w, a.Usual.P90 > 0 && a.SoFar.P50 > a.Usual.P90
}

// rain is the driest whole month since the forecast, or the wettest, where one
// was so by the rain that was measured.
func (c *compared) rain(late bool) (best Why, found bool) {
	if c.state.Weather == nil {
		return best, false
	}
	least := math.Inf(1)
	until := c.state.AsOf
	if on := c.came(); on != 0 {
		until = on
	}
	for m := c.then.Result.AsOf.MonthStart(); m.AddMonths(1) <= until+1; m = m.AddMonths(1) {
		fell, ok := c.fell(m)
		normal := c.now.Site.Normals[m.Month()-1].Rain
		if !ok || normal <= 0 {
			continue
		}
		share := fell / normal
		if (late && share > dryMonth) || (!late && share < wetMonth) {
			continue
		}
		if !late {
			share = 1 / share
		}
		if share < least {
			least, found = share, true
			best = Why{Kind: WhyRain, Month: m, RainMM: fell, UsualMM: normal}
		}
	}
	return best, found
}

// fell is the rain of a month, brought to all of its days; ok is false where
// too few were measured.
func (c *compared) fell(month yard.Date) (mm float64, ok bool) {
	n, days := 0, int(month.AddMonths(1)-month)
	for d := range days {
		if w := c.state.Weather.At(month + yard.Date(d)); w.HasRain {
			mm += w.Rain
			n++
		}
	}
	return mm * float64(days) / math.Max(float64(n), 1), n >= gaugeDays
}

// dryLogs is that the logs have dried under the mark at which watering is due.
func (c *compared) dryLogs(late bool) (Why, bool) {
	if !late || c.ahead.Moisture == nil || c.said.Moisture == nil {
		return Why{}, false
	}
	w := Why{Kind: WhyDryLogs, Moisture: c.ahead.Moisture.Now.P50, MoistureThen: c.said.Moisture.Now.P50}
	return w, w.Moisture < c.set.Practice.WaterBelow.Value/100 && w.Moisture < w.MoistureThen
}
