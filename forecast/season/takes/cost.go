package takes

import (
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// Cost is what starting logs costs, by part.
type Cost struct{ Log, Spawn, Wax, Work float64 }

// Total is all of it.
func (c Cost) Total() float64 { return c.Log + c.Spawn + c.Wax + c.Work }

// Plus adds two.
func (c Cost) Plus(d Cost) Cost {
	return Cost{c.Log + d.Log, c.Spawn + d.Spawn, c.Wax + d.Wax, c.Work + d.Work}
}

// Times is k times as much.
func (c Cost) Times(k float64) Cost { return Cost{c.Log * k, c.Spawn * k, c.Wax * k, c.Work * k} }

// Assumed is a price that the grower has not said, in US dollars of Year.
type Assumed struct {
	What  string // "log", "kg of spawn", "plug", "kg of wax", "hour"
	Price data.Price
}

// said reports whether a grower's cost is one: NaN stands for not said.
func said(x float64) bool { return x >= 0 && !math.IsInf(x, 1) }

// Fill puts the printed prices where a grower's cost is not said. all is how
// many costs there are to be said; where some are assumed and others not, a sum
// mixes currencies and years.
func Fill(costs yard.Costs, in *data.Inoculating) (filled yard.Costs, assumed []Assumed, all int) {
	p := &in.Price
	parts := []struct {
		what string
		cost *float64
		by   data.Price
	}{
		{"log", &costs.Log, p.Log}, {"kg of spawn", &costs.SpawnKG, p.SpawnKG}, {"plug", &costs.Plug, p.Plug},
		{"kg of wax", &costs.WaxKG, p.WaxKG}, {"hour", &costs.Hour, p.Hour},
	}
	for _, x := range parts {
		if !said(*x.cost) {
			*x.cost = x.by.Value
			assumed = append(assumed, Assumed{x.what, x.by})
		}
	}
	return costs, assumed, len(parts)
}

// cost is that of one log with its amounts.
func cost(l *Line, a Amounts, costs yard.Costs, in *data.Inoculating) Cost {
	c, _, _ := Fill(costs, in)
	if l.PriceSet && said(l.Price) {
		c.Log = l.Price
	}
	return Cost{
		Log: c.Log, Spawn: a.SpawnKG*c.SpawnKG + a.Pieces*c.Plug,
		Wax: a.WaxKG * c.WaxKG, Work: a.Hours.Start() * c.Hour,
	}
}

// Printed is what a printed budget makes of as many logs.
type Printed struct {
	Budget data.Budget
	Cost   float64 // US dollars of its year
}

// Budgets is what each printed budget makes of a number of logs; they disagree.
func Budgets(logs int, in *data.Inoculating) (all []Printed) {
	for _, b := range in.Budgets {
		all = append(all, Printed{b, b.PerLog * float64(max(0, logs))})
	}
	return all
}

// DenserGain is what one more hole for each pound of log brought a log beyond
// its spawn, in US dollars (Sabota, logs of 2003).
func DenserGain(in *data.Inoculating) float64 { return in.Denser.Return.Value - in.Denser.Spawn.Value }
