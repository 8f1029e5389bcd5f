package forecast

import (
	"fmt"
	"strings"

	"hodaba/yard"
)

// PlannedSoak is a soak that the grower planned, and what became of it.
type PlannedSoak struct {
	Pile, Part string // Part "" the whole pile
	Week       yard.When
	State      string
	Why        string // PlanNotIn: in words
}

// What becomes of a soak that is planned.
const (
	PlanIn    = "in the book"
	PlanDone  = "done"
	PlanPast  = "planned, not done"
	PlanLater = "later than the book reaches"
	PlanNotIn = "not in the book"
)

// planGrace is how many days before and after its week a soak on record is
// taken as the one that was planned.
const planGrace = 7

// askedSoak is a part of what is planned.
type askedSoak struct {
	plan *yard.Planning
	c    *candidate
	done bool
	in   bool
	why  string // it did not go in so far
}

// logs is how many go in, as far as the tank holds them; 0 nobody knows.
func (a *askedSoak) logs(tank int) int {
	n := a.c.logs
	if a.plan.Logs > 0 && (n == 0 || a.plan.Logs < n) {
		n = a.plan.Logs
	}
	return min(n, tank)
}

// open reports whether it is still to be put in.
func (a *askedSoak) open(asOf yard.Date) bool { return !a.in && !a.done && a.plan.Week.To >= asOf }

// readPlans finds the parts of what is planned, and ticks off what was done.
func (b *rota) readPlans() {
	for i := range b.r.state.Planned {
		k := &b.r.state.Planned[i]
		if k.Inoculates() {
			continue
		}
		b.about.Plans = append(b.about.Plans, PlannedSoak{Pile: k.Soak, Part: k.Part, Week: k.Week})
		for _, c := range b.partsPlanned(k) {
			a := &askedSoak{plan: k, c: c}
			for i, parts := range soakedParts(c.t.pile, c.parts, b.r.asOf) {
				on := c.t.pile.Soaked[i].On.Mid()
				a.done = a.done || wets(parts, c.part) && on >= k.Week.From-planGrace && on <= k.Week.To+planGrace
			}
			c.asked = append(c.asked, a)
		}
	}
}

// partsPlanned are the parts that a plan names: none where the pile does not
// stand, lies buried, or no part is called so.
func (b *rota) partsPlanned(k *yard.Planning) (list []*candidate) {
	t := b.r.taskOf(k.Soak)
	part := partOf(k.Part)
	if t == nil || t.pile.Kind != "pile" || k.Part != "" && part == Whole {
		return nil
	}
	any := false
	for _, c := range b.all {
		any = any || c.t == t
		if c.t == t && (part == Whole || c.part == part) {
			list = append(list, c)
		}
	}
	if any {
		return list
	}
	c := &candidate{t: t, part: max(part, 0), parts: max(part+1, 1), logs: t.pile.Logs / max(part+1, 1)}
	b.r.restOf(c)
	b.all = append(b.all, c)
	return []*candidate{c}
}

// taskOf is the forecast of a pile that stands, or nil.
func (r *run) taskOf(pile string) *task {
	for _, t := range r.tasks {
		if !t.planned && t.pile.Name == pile {
			return t
		}
	}
	return nil
}

// due is what is planned for a week and has not gone in.
func (b *rota) due(monday yard.Date) (list []*askedSoak) {
	for _, c := range b.all {
		for _, a := range c.asked {
			if a.open(b.r.asOf) && a.plan.Week.From < monday+7 && a.plan.Week.To >= monday {
				list = append(list, a)
			}
		}
	}
	return list
}

// keptFor is the day on which the week begins for which a part is planned,
// where it would not have rested by then if it went in on a day.
func (b *rota) keptFor(c *candidate, in yard.Date) yard.Date {
	for _, a := range c.asked {
		if week := a.plan.Week.From; a.open(b.r.asOf) && week > in && in+b.cycle > week {
			return week
		}
	}
	return 0
}

// against is what speaks against a soak that is planned; it goes in all the
// same, because the plan is the grower's.
func (b *rota) against(a *askedSoak, l *Load) string {
	c, f := a.c, &a.c.t.strain.Fruit
	var said []string
	say := func(is bool, text string) {
		if is {
			said = append(said, text)
		}
	}
	comes := b.comesOf(c, l.Out)
	say(!f.Forced, "no soak forces its strain")
	say(f.Forced && comes.why != "", comes.why)
	say(f.Forced && c.from == never, "it has not had its first flush")
	say(f.Forced && c.from < never && c.from > l.Out && c.young, "it is in its first year")
	say(f.Forced && c.from < never && c.from > l.Out && !c.young, "too soon after the last soak or picking")
	if until := b.heldFor(c, l.In); until > 0 {
		said = append(said, putOffWords(until))
	}
	say(b.r.tooDry(c.t.pile, l.In), TooDry)
	say(f.Forced && comes.why == "" && b.flushWhileAway(comes), FlushAway)
	if c.logs > b.tank {
		said = append(said, fmt.Sprintf("the tank holds %d of its %d logs", b.tank, c.logs))
	}
	return strings.Join(said, "; ")
}

// closePlans says what became of each plan.
func (b *rota) closePlans() {
	end := b.r.asOf.Monday() + 7*rotaWeeks
	for i, n := 0, 0; i < len(b.r.state.Planned); i++ {
		k := &b.r.state.Planned[i]
		if k.Inoculates() {
			continue
		}
		p := &b.about.Plans[n]
		n++
		all, in, done, why := 0, 0, 0, ""
		for _, c := range b.all {
			for _, a := range c.asked {
				if a.plan != k {
					continue
				}
				all++
				if a.in {
					in++
				}
				if a.done {
					done++
				}
				if a.why != "" {
					why = a.why
				}
			}
		}
		switch {
		case all > 0 && done == all:
			p.State = PlanDone
		case k.Week.To < b.r.asOf:
			p.State = PlanPast
		case all == 0:
			p.State, p.Why = PlanNotIn, b.noSuch(k)
		case k.Week.From >= end:
			p.State = PlanLater
		case in+done == all:
			p.State = PlanIn
		default:
			p.State, p.Why = PlanNotIn, why
			if why == "" {
				p.Why = "the tank takes no more that week"
			}
		}
	}
}

// noSuch is why a plan names no logs.
func (b *rota) noSuch(k *yard.Planning) string {
	switch t := b.r.taskOf(k.Soak); {
	case t == nil:
		return "the pile is not forecast"
	case t.pile.Kind != "pile":
		return "buried logs are not soaked"
	}
	return "it has no such part"
}

// planWithoutTank has what is planned bring its flush where nobody said what
// the tank holds: on the first day of work of its week.
func (b *rota) planWithoutTank() {
	r := b.r
	for _, c := range b.all {
		for _, a := range c.asked {
			if !a.open(r.asOf) || !c.t.strain.Fruit.Forced {
				continue
			}
			for d := max(a.plan.Week.From, r.asOf); d <= a.plan.Week.To; d++ {
				if b.days.Open(d) {
					r.soaks[c.t.pile.Name] = append(r.soaks[c.t.pile.Name], Soak{On: d + b.stay, Part: c.part, Of: c.parts})
					a.in = true
					break
				}
			}
		}
	}
	if len(b.about.Plans) > 0 {
		b.closePlans()
		r.tank = b.about
	}
}
