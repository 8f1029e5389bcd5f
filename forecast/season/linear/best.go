package linear

import "fmt"

// Group is units that are there and are to be shared among some variables.
type Group struct {
	Name string
	Vars []int   // of the programme
	Most float64 // units together
}

// Best turns the question round: units are given, such as logs of a windfall,
// and what is to be made of them is sought. Variables in no group stay at
// nought. The best plan is the one that lacks least chance, all targets
// together; among those the one that has most of its needs on average; among
// those the one that costs least, or earns most. Units that add nothing and
// cost are left over. There is no bound: Bound is -Inf.
func (p *Programme) Best(groups []Group, opt Options) (*Plan, error) {
	if err := p.Check(); err != nil {
		return nil, err
	}
	c, err := p.grouped(groups)
	if err != nil {
		return nil, err
	}
	q, err := c.prepare()
	if err != nil {
		return nil, err
	}
	if q.endless() {
		return nil, ErrUnbounded
	}
	st := q.nearestPlan(opt, q.search(opt.Seed, "search").meet(unknown, opt.effort(usual/8)))
	out := q.plan(c, st.x, unknown)
	out.Slack, out.Shadow = out.Slack[:len(p.Limits)], out.Shadow[:len(p.Limits)]
	return out, nil
}

// grouped is a copy of the programme with a limit for each group.
func (p *Programme) grouped(groups []Group) (*Programme, error) {
	c := *p
	c.Most = make([]float64, len(p.Most))
	c.Limits = append([]Limit(nil), p.Limits...)
	for _, g := range groups {
		if !(g.Most >= 0) {
			return nil, fmt.Errorf("group %q has %g units", g.Name, g.Most)
		}
		l := Limit{Name: g.Name, Use: make([]float64, len(p.Cost)), Room: g.Most}
		for _, j := range g.Vars {
			if j < 0 || j >= len(p.Most) {
				return nil, fmt.Errorf("group %q: there is no variable %d", g.Name, j)
			}
			l.Use[j], c.Most[j] = 1, p.Most[j]
		}
		c.Limits = append(c.Limits, l)
	}
	return &c, nil
}
