package takes

import (
	"fmt"

	"hodaba/data"
	"hodaba/yard"
)

// LineTakes is what a line takes, all its logs together.
type LineTakes struct {
	Line
	PerLog Amounts
	All    Amounts
	Work   Work        // when it is done
	Days   float64     // at the bench, for as many people as work together
	LiftKG float64     // green, of what is lifted: a log, or one round of a totem
	Heavy  bool        // that is no load for one
	Rests  []data.Rest // what sources say on resting; the first is planned with
}

// Takes is what a plan takes.
type Takes struct {
	Lines    []LineTakes
	Total    Amounts
	Days     float64
	Pattern  yard.HolePattern // that the holes were reckoned with
	Assumed  []Assumed        // prices that the grower has not said
	Mixed    bool             // some said and some not: the cost mixes currencies
	Printed  []Printed        // what printed budgets make of as many logs
	Shopping []Item
	Tally    []Tally
	Tags     []Tag
	Cautions []string
}

// Of is what lines take, with a pattern of holes and the grower's costs; what
// either leaves open, the reference values fill. Fewer logs than none are none.
func Of(lines []Line, site Site, pattern yard.HolePattern, costs yard.Costs, in *data.Inoculating) Takes {
	if in == nil {
		return Takes{}
	}
	t := Takes{Pattern: Pattern(pattern, in)}
	var all int
	_, t.Assumed, all = Fill(costs, in)
	t.Mixed = len(t.Assumed) > 0 && len(t.Assumed) < all
	for _, l := range lines {
		l.Logs = max(0, l.Logs)
		x := LineTakes{Line: l, PerLog: One(l, pattern, costs, in), Work: workOf(&l, site, in), Rests: RestsOf(l, in)}
		x.All = x.PerLog.Times(l.Logs)
		x.Days = Days(x.All.Hours, int(in.Labour.People.Value), in)
		x.LiftKG = lift(&l, x.PerLog.GreenKG, in)
		x.Heavy = in.Carry.Heavy.Value > 0 && x.LiftKG > in.Carry.Heavy.Value
		t.Lines = append(t.Lines, x)
		t.Total = t.Total.Plus(x.All)
		t.Days += x.Days
	}
	t.Printed = Budgets(t.Total.Logs, in)
	t.Shopping = shopping(t.Lines, in)
	t.Tally, t.Tags = tallies(t.Lines, in), tags(t.Lines, in)
	t.Cautions = cautions(t)
	return t
}

// cautions are said once for all lines that call for them.
func cautions(t Takes) (all []string) {
	heavy, fells := 0.0, false
	for _, l := range t.Lines {
		if l.Logs > 0 && l.Heavy {
			heavy = max(heavy, l.LiftKG)
		}
		fells = fells || l.Logs > 0 && !l.Bought
	}
	if heavy > 0 {
		all = append(all, fmt.Sprintf("Some logs weigh about %.0f kg green: lift them by two, or roll them, or cut them shorter.", heavy))
	}
	if fells {
		all = append(all, "Felling is work for somebody who has learnt it, with helmet, leg protection and a second person near.")
	}
	if t.Total.WaxKG > 0 {
		all = append(all, "Hot wax burns and catches fire: melt it in a water bath, away from flames, and do not leave it.")
	}
	return all
}
