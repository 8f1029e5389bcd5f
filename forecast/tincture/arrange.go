package tincture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/yard"
)

// job is a batch of which only jars, pot and days are still to be found.
type job struct {
	lot    string
	recipe yard.Recipe
	ready  yard.Date // all its goods are there from this day on
	weight float64   // what a day of waiting counts
}

// slot is where a job comes to lie.
type slot struct{ start, strain, bottled yard.Date }

// arranger looks for the order in which jars and pot are best given to jobs.
//
// Purpose: the calendar gives jars and pot in the order of priority, so that a
// batch never waits for one below it. This says what that costs.
//
// Equation: least Σ weight × day of bottling. In an order each job takes the
// first days that are free for it, between those of jobs before it too; some
// order leads to the best calendar there is, up to a choice of the day of
// straining. Up to exactJobs jobs all orders are tried that are not worse
// already; beyond, jobs are moved and changed round as long as it helps.
//
// Parameters, state: none. Inputs from others: days on which jobs are ready.
//
// Taken for granted: the days are known, and goods are enough for all.
type arranger struct {
	*planner
	jobs      []job
	best      []int
	bestSlots []slot
	least     float64
}

// exactJobs is up to how many jobs all orders are tried: 5,040 at most.
const exactJobs = 7

// arrange returns the slots of jobs, in their own order, that cost least, and
// that cost in weighted days from today; what finds no room counts as bottled
// after the horizon.
func (p *planner) arrange(standing *book, jobs []job) ([]slot, float64) {
	a := p.arranger(standing, jobs)
	if len(jobs) <= exactJobs {
		a.all(standing, nil, make([]bool, len(jobs)), make([]slot, len(jobs)), 0)
	} else {
		a.improve(standing)
	}
	return a.bestSlots, a.least
}

// arranger begins with the jobs in order of priority, and in that in which
// they are ready.
func (p *planner) arranger(standing *book, jobs []job) *arranger {
	a := &arranger{planner: p, jobs: jobs, least: math.Inf(1)}
	order := make([]int, len(jobs))
	for i := range order {
		order[i] = i
	}
	a.try(standing, order)
	ready := slices.Clone(order)
	slices.SortStableFunc(ready, func(i, j int) int { return int(jobs[i].ready - jobs[j].ready) })
	a.try(standing, ready)
	return a
}

// inOrder gives jars and pot in an order of the jobs.
func (p *planner) inOrder(standing *book, jobs []job, order []int) ([]slot, float64) {
	b := book{stands: slices.Clone(standing.stands), pot: slices.Clone(standing.pot)}
	slots, cost := make([]slot, len(jobs)), 0.0
	for _, i := range order {
		slots[i] = p.slotOf(&b, jobs[i])
		enter(&b, paceOf(jobs[i].recipe), begin{start: slots[i].start, strain: slots[i].strain})
		cost += p.cost(jobs[i], slots[i])
	}
	return slots, cost
}

func (p *planner) slotOf(b *book, j job) slot {
	start, strain := p.room(b, paceOf(j.recipe), max(j.ready, p.terms.AsOf))
	if start == 0 {
		return slot{}
	}
	return slot{start, strain, p.diary.bottledOn(j.recipe, strain)}
}

func (p *planner) cost(j job, s slot) float64 {
	day := s.bottled
	if day == 0 {
		day = p.terms.Until + tail
	}
	return j.weight * float64(day-p.terms.AsOf)
}

func (a *arranger) try(standing *book, order []int) {
	if slots, cost := a.inOrder(standing, a.jobs, order); cost < a.least {
		a.best, a.bestSlots, a.least = slices.Clone(order), slots, cost
	}
}

// all tries every order that begins with the jobs placed in b.
func (a *arranger) all(b *book, order []int, used []bool, slots []slot, cost float64) {
	if len(order) == len(a.jobs) {
		if cost < a.least-1e-9 {
			a.best, a.bestSlots, a.least = slices.Clone(order), slices.Clone(slots), cost
		}
		return
	}
	bound := cost // no job fares better than with what is booked so far
	for i, j := range a.jobs {
		if !used[i] {
			slots[i] = a.slotOf(b, j)
			bound += a.cost(j, slots[i])
		}
	}
	if bound >= a.least-1e-9 {
		return
	}
	here := slices.Clone(slots)
	for i, j := range a.jobs {
		if used[i] {
			continue
		}
		c := book{stands: slices.Clone(b.stands), pot: slices.Clone(b.pot)}
		enter(&c, paceOf(j.recipe), begin{start: here[i].start, strain: here[i].strain})
		used[i] = true
		copy(slots, here)
		a.all(&c, append(order, i), used, slots, cost+a.cost(j, here[i]))
		used[i] = false
	}
}

// improve moves one job at a time to another place in the order, or changes two
// round, as long as that helps.
func (a *arranger) improve(standing *book) {
	for better := true; better; {
		better = false
		for from := range a.best {
			for to := range a.best {
				before := a.least
				order := slices.Delete(slices.Clone(a.best), from, from+1)
				a.try(standing, slices.Insert(order, to, a.best[from]))
				order = slices.Clone(a.best)
				order[from], order[to] = order[to], order[from]
				a.try(standing, order)
				better = better || a.least < before-1e-9
			}
		}
	}
}

// otherOrder says what the order of priority costs where jars or pot are
// scarce: which batches would be bottled at least a week sooner or later if
// they were given so that waiting, weighed by priority, is least. The first of
// n recipes' batches counts n times as much as the last.
func (s *scheduler) otherOrder() {
	if len(s.jobs) < 2 {
		return
	}
	order := make([]int, len(s.jobs))
	for i := range s.jobs {
		order[i] = i
		s.jobs[i].weight = float64(len(s.jobs) - i)
	}
	standing := book{stands: s.stood.stands, pot: s.stood.pot}
	now, _ := s.inOrder(&standing, s.jobs, order)
	best, _ := s.arrange(&standing, s.jobs)
	var changes []string
	sooner := false
	for i, j := range s.jobs {
		days := int(now[i].bottled - best[i].bottled)
		if now[i].bottled == 0 || best[i].bottled == 0 {
			continue
		}
		switch {
		case days >= week:
			changes, sooner = append(changes, fmt.Sprintf("%s %d days sooner", j.lot, days)), true
		case days <= -week:
			changes = append(changes, fmt.Sprintf("%s %d days later", j.lot, -days))
		}
	}
	if sooner {
		s.note("Jars and pot are given in the order of recipes.toml. Given so that waiting is least, they would bring %s.", strings.Join(changes, ", "))
	}
}
