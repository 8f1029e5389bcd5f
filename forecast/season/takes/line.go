package takes

import (
	"hodaba/data"
	"hodaba/yard"
)

// Line is so many logs of one kind, to be inoculated in one month.
type Line struct {
	Pile, Code      string // as they will be called; Code "": one is made up
	Species, Strain string
	Wood            *data.Wood // nil: not known
	DiameterCM      float64    // over the bark
	LengthCM        float64    // of a totem: all its rounds together
	Spawn           string     // "sawdust", "plug", "thimble"; "" sawdust
	Method          string     // "holes", "totem", "wedge"; "" holes
	Logs            int        // or totems
	Month           yard.Date  // any day of it; zero: not said
	Bought          bool       // cut to length by others: nothing is felled
	Price           float64    // of a log, where PriceSet
	PriceSet        bool
}

// The methods of [yard.Inoculated].
const (
	methodTotem = "totem"
	methodWedge = "wedge"
)

func (l *Line) drilled() bool { return l.Method != methodTotem && l.Method != methodWedge }

func (l *Line) woodName() string {
	if l.Wood == nil {
		return ""
	}
	return l.Wood.Name
}

// Amounts is what logs take, of one log or of many together.
type Amounts struct {
	Logs    int
	Holes   int
	SpawnKG float64 // loose spawn, what is spilt counted in
	Pieces  float64 // plugs or thimbles, the same
	WaxKG   float64
	GreenKG float64 // what the logs weigh, green and with bark
	Hours   Hours
	Cost    Cost
}

// Plus adds two amounts.
func (a Amounts) Plus(b Amounts) Amounts {
	return Amounts{a.Logs + b.Logs, a.Holes + b.Holes, a.SpawnKG + b.SpawnKG, a.Pieces + b.Pieces,
		a.WaxKG + b.WaxKG, a.GreenKG + b.GreenKG, a.Hours.Plus(b.Hours), a.Cost.Plus(b.Cost)}
}

// Times is what n logs like it take; fewer than none are none.
func (a Amounts) Times(n int) Amounts {
	n = max(0, n)
	k := float64(n)
	return Amounts{a.Logs * n, a.Holes * n, a.SpawnKG * k, a.Pieces * k,
		a.WaxKG * k, a.GreenKG * k, a.Hours.Times(k), a.Cost.Times(k)}
}

// One is what a single log of a line takes, at the grower's costs or, where one
// is NaN, at the printed one. A size that is not known has no holes and no
// weight.
func One(l Line, pattern yard.HolePattern, costs yard.Costs, in *data.Inoculating) Amounts {
	if in == nil {
		in = &data.Inoculating{}
	}
	a := Amounts{Logs: 1, GreenKG: GreenKG(l.Wood, l.DiameterCM, l.LengthCM, in)}
	f := form(&l, in)
	if l.drilled() {
		a.Holes = Holes(Pattern(pattern, in), l.DiameterCM, l.LengthCM, a.GreenKG)
		if f.Waxed {
			a.WaxKG = float64(a.Holes) * in.Wax.Typical / 1000
		}
	}
	bought := spawn(&l, a.Holes, in) * (1 + in.Spare.Value)
	if f.Weighed() {
		a.SpawnKG = bought
	} else {
		a.Pieces = bought
	}
	a.Hours = hours(&l, a.Holes, f.Waxed, in)
	a.Cost = cost(&l, a, costs, in)
	return a
}
