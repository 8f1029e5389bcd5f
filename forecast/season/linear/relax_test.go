package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// tenth is a target of 10 kg from one kind of log, of which draw d asks for d
// logs, d from 1 to 10: at a chance of 0.8 it takes 8.
func tenth(room float64) *Programme {
	p := &Programme{
		Cost: []float64{3}, Most: []float64{math.Inf(1)}, Limits: []Limit{{"logs", []float64{1}, room}},
		Targets: []Target{{Name: "10 kg", Chance: .8, Rows: []Row{{Name: "kg", Need: 10, Have: make([]float64, 10)}}}},
	}
	g := make([]float32, 10)
	for d := range g {
		p.Weight = append(p.Weight, 1)
		g[d] = float32(10 / (float64(d) + .5))
	}
	p.Targets[0].Rows[0].Gives = [][]float32{g}
	return p
}

// With logs for half of the draws the chance is a half; at the full chance
// they give 5 × 10 / 7.5 = 6.67 kg, two thirds of the need; and it would take
// 8 logs.
func TestWhatGivesWay(t *testing.T) {
	p := tenth(5)
	plan, err := p.Solve(quick)
	if err != nil || plan.Met || !slices.Equal(plan.X, []int{5}) || !near(plan.Chances[0], .5, 1e-12) || !math.IsInf(plan.Bound, 1) {
		t.Fatalf("%+v, %v", plan, err)
	}
	got := p.Relax(quick)
	want := []Relaxation{
		{LessNeed, 0, -1, true, 2. / 3, 1. / 3, []int{5}, 15},
		{LessChance, 0, -1, true, .5, .375, []int{5}, 15},
		{MoreRoom, -1, 0, true, 8, .6, []int{8}, 24},
	}
	if len(got) != len(want) {
		t.Fatalf("%+v", got)
	}
	for k, w := range want {
		g := got[k]
		if g.Way != w.Way || g.Target != w.Target || g.Limit != w.Limit || !g.Works || g.To > w.To+1e-6 || g.To < w.To-.01 ||
			!near(g.Change, w.Change, .02) || !slices.Equal(g.X, w.X) || g.Cost != w.Cost {
			t.Errorf("%+v, want %+v", g, w)
		}
	}
	if r := tenth(8).Relax(quick); r != nil {
		t.Errorf("all can be met, and %+v is to give way", r)
	}
}

// What nothing helps against is said: another target that nobody can meet.
func TestNothingThatGivesWayHelps(t *testing.T) {
	p := tenth(5)
	p.Targets = append(p.Targets, Target{"of nothing", .8, []Row{{"kg", 1, make([]float64, 10), [][]float32{nil}}}})
	for _, r := range p.Relax(quick) {
		if r.Works {
			t.Errorf("%+v", r)
		}
	}
	p.Limits[0].Room = 8 // now the second target alone is at fault
	for _, r := range p.Relax(quick) {
		if r.Works != (r.Target == 1) || r.Works && (r.To != 0 && r.Way == LessChance || r.Change < .99) {
			t.Errorf("%+v", r)
		}
	}
}

// Each way that is said to work does: the plan that is given with it meets all
// targets when it gives way so far.
func TestWaysOutWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9)))
		if len(p.Limits) == 0 {
			return
		}
		p.Limits[0].Room /= 3
		for _, r := range p.Relax(quick) {
			if !r.Works {
				continue
			}
			c := *p
			c.Targets, c.Limits = slices.Clone(p.Targets), slices.Clone(p.Limits)
			switch r.Way {
			case LessChance:
				c.Targets[r.Target].Chance = r.To
			case LessNeed:
				rows := slices.Clone(c.Targets[r.Target].Rows)
				for k := range rows {
					rows[k].Need *= r.To
				}
				c.Targets[r.Target].Rows = rows
			case MoreRoom:
				c.Limits[r.Limit].Room = r.To
			}
			if !c.meets(r.X) || dot(c.Limits[0].Use, floats(r.X)) > c.Limits[0].Room*(1+1e-6) || !near(r.Cost, p.costs(r.X), 1e-9) {
				t.Fatalf("%+v does not do what it says", r)
			}
		}
	})
}
