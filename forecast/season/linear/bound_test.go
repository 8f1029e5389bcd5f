package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// breaks is a plan that meets all targets and breaks a cut, nil if there is
// none: what a valid cut never has.
func (p *Programme) breaks(cuts []cut) []int {
	var found []int
	p.plans(func(x []int) {
		if found != nil || !p.meets(x) {
			return
		}
		for _, c := range cuts {
			if dot(c.coef, floats(x)) < c.right-1e-7*math.Max(1, math.Abs(c.right)) {
				found = slices.Clone(x)
			}
		}
	})
	return found
}

// No plan in whole numbers that meets the targets costs less than the bound,
// nor breaks a cut of any kind, taken at any plan in fractions.
func TestBoundIsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 3))
		p := tiny(rng)
		q, err := p.prepare()
		if err != nil {
			t.Fatal(err)
		}
		if b, best := q.bound(), p.cheapest(); b.value > best {
			t.Fatalf("a bound of %g, a plan costs %g", b.value, best)
		}
		cuts := q.firstCuts()
		x := make([]float64, q.n)
		for range 3 {
			for j := range x {
				x[j] = 7 * rng.Float64()
			}
			for i := range q.targets {
				w := q.worst(i, x)
				cuts = append(cuts, q.deep(i, w)...)
				if c := q.along(i, q.slope(i, w, x).coef); c.coef != nil {
					cuts = append(cuts, c)
				}
			}
			for j := range x {
				x[j] = rng.Float64()
			}
			for i := range q.targets {
				if c := q.along(i, slices.Clone(x)); c.coef != nil {
					cuts = append(cuts, c)
				}
			}
		}
		if x := p.breaks(cuts); x != nil {
			t.Fatalf("plan %v meets the targets and breaks a cut of %v", x, cuts)
		}
	})
}

// Cuts that look right and are not: each variable at what it gives in all but
// the worst draws, and along the slope. Plans break both, so the test above
// could fail.
func TestWrongCutsAreCaught(t *testing.T) {
	var each, slope, met int
	for seed := range uint64(60) {
		p := tiny(rand.New(rand.NewPCG(seed, 4)))
		q, err := p.prepare()
		if err != nil {
			t.Fatal(err)
		}
		var eaches, slopes []cut
		for i := range q.targets {
			x := []float64{2, 2, 2}[:q.n]
			slopes = append(slopes, q.slope(i, q.worst(i, x), x))
		}
		for _, r := range q.rows {
			c := cut{make([]float64, q.n), r.least}
			for j, g := range r.gives {
				if g != nil {
					c.coef[j], _ = least(fill(make([]weighted, q.d), g, q.p), 1-q.targets[r.target].chance)
				}
			}
			have, _ := least(fill(make([]weighted, q.d), r.have, q.p), 1-q.targets[r.target].chance)
			c.right -= have
			eaches = append(eaches, c)
		}
		if p.breaks(eaches) != nil {
			each++
		}
		if p.breaks(slopes) != nil {
			slope++
		}
		if !math.IsInf(p.cheapest(), 1) {
			met++
		}
	}
	if each == 0 || slope == 0 || met < 20 {
		t.Errorf("of 60 programmes %d can be met; plans break the cut of each by itself in %d, of slopes in %d", met, each, slope)
	}
}

// Where one variable alone serves a target, the bound is the quantile, and
// the plan is at it: 10 draws that ask for 1 to 10 units, chance 0.8.
func TestBoundOfOneVariableIsExact(t *testing.T) {
	p := &Programme{Cost: []float64{3}, Most: []float64{math.Inf(1)}, Targets: []Target{{Name: "only", Chance: .8, Rows: []Row{{Need: 10}}}}}
	g := make([]float32, 10)
	for d := range g {
		p.Weight = append(p.Weight, 2)
		g[d] = float32(10 / (float64(d) + .5)) // d + 0.5 units, in whole numbers d + 1
	}
	p.Targets[0].Rows[0].Have, p.Targets[0].Rows[0].Gives = make([]float64, 10), [][]float32{g}
	plan, err := p.Solve(Options{})
	if err != nil || plan.X[0] != 8 || plan.Cost != 24 || !near(plan.Bound, 24, 1e-5) || plan.Gap > 1e-5 {
		t.Errorf("%+v, %v; want 8 units for 24, and so bounded", plan, err)
	}
}

// The sums and quantiles that are found by splitting are those of a list that
// was sorted.
func TestWeightedSumsAndQuantiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 5))
		list := make([]weighted, 1+rng.IntN(40))
		total := 0.0
		for k := range list {
			list[k] = weighted{float64(rng.IntN(12)), float64(rng.IntN(4))}
			total += list[k].w
		}
		want := total * rng.Float64()
		sorted := slices.Clone(list)
		slices.SortFunc(sorted, func(a, b weighted) int { return int(b.v - a.v) })
		sum, left := 0.0, want
		for _, e := range sorted {
			w := math.Min(left, e.w)
			sum, left = sum+w*e.v, left-w
		}
		if got := top(slices.Clone(list), want); !near(got, sum, 1e-9) {
			t.Fatalf("the top %g of %v: %g, want %g", want, list, got, sum)
		}
		slices.Reverse(sorted)
		value, upTo := 0.0, 0.0
		for _, e := range sorted {
			value, upTo = e.v, upTo+e.w
			if upTo >= want {
				break
			}
		}
		if got, ok := least(slices.Clone(list), want); !ok || got != value {
			t.Fatalf("%g of %v: %g, want %g", want, list, got, value)
		}
	})
}
