package linear

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// Of a windfall of six logs the first kind serves the target that the second
// does not; what is left over goes where it earns.
func TestBestOfAWindfall(t *testing.T) {
	p := &Programme{
		Cost: []float64{1, -2, -3}, Most: []float64{math.Inf(1), math.Inf(1), 1}, Weight: []float64{1, 1},
		Targets: []Target{{"kg", .9, []Row{{"kg", 8, []float64{0, 0}, [][]float32{{2, 4}, nil, nil}}}}},
	}
	plan, err := p.Best([]Group{{"oak", []int{0, 1, 2}, 6}}, quick)
	if err != nil || plan.X[0] != 4 || plan.X[1] != 1 || plan.X[2] != 1 || !plan.Met || plan.Cost != -1 || len(plan.Slack) != 0 {
		t.Errorf("%+v, %v; want 4, 1, 1", plan, err)
	}
	plan, err = p.Best([]Group{{"oak", []int{0}, 3}}, quick) // too few: all of them, nothing else
	if err != nil || plan.X[0] != 3 || plan.X[1] != 0 || plan.Met || plan.Chances[0] != .5 || !near(plan.Shares[0], .875, 1e-9) {
		t.Errorf("%+v, %v; want 3, 0, 0", plan, err)
	}
	for _, g := range []Group{{"elm", []int{7}, 3}, {"elm", []int{-1}, 3}, {"elm", []int{0}, -1}, {"elm", []int{0}, math.NaN()}} {
		if plan, err := p.Best([]Group{g}, quick); err == nil {
			t.Errorf("%+v: %+v", g, plan)
		}
	}
}

// Small windfalls, gone through one by one: no sharing out lacks much less
// chance, and units stay within their groups.
func TestBestAgainstAllPlans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := tiny(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 10)))
		groups := []Group{{"oak", []int{0, 1}, 6}}
		plan, err := p.Best(groups, quick)
		if err != nil {
			t.Fatal(err)
		}
		c, err := p.grouped(groups)
		if err != nil {
			t.Fatal(err)
		}
		lacks := func(x []int) float64 {
			sum := 0.0
			for _, target := range p.Targets {
				sum += math.Max(0, target.Chance-p.chanceOf(target, x))
			}
			return sum
		}
		least := math.Inf(1)
		c.plans(func(x []int) { least = math.Min(least, lacks(x)) })
		if got := lacks(plan.X); got > least+1e-6 {
			t.Fatalf("%v lacks %g, the best of all plans %g", plan.X, got, least)
		}
		if plan.X[0]+plan.X[1] > 6 || len(plan.X) > 2 && plan.X[2] > 0 {
			t.Fatalf("%v", plan.X)
		}
	})
}
