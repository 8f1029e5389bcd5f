package linear

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol*math.Max(1, math.Abs(b)) }

func wyndor() *LP {
	return &LP{Maximise: true, Cost: []float64{3, 5}, Rules: []Rule{
		{[]float64{1, 0}, AtMost, 4}, {[]float64{0, 2}, AtMost, 12}, {[]float64{3, 2}, AtMost, 18},
	}}
}

// transport is Dantzig's: two works, three markets; balanced adds a row that
// follows from the others.
func transport(balanced bool) *LP {
	l := &LP{Cost: []float64{.225, .153, .162, .225, .162, .126}, Rules: []Rule{
		{[]float64{1, 1, 1, 0, 0, 0}, AtMost, 350}, {[]float64{0, 0, 0, 1, 1, 1}, AtMost, 600},
		{[]float64{1, 0, 0, 1, 0, 0}, AtLeast, 325}, {[]float64{0, 1, 0, 0, 1, 0}, AtLeast, 300}, {[]float64{0, 0, 1, 0, 0, 1}, AtLeast, 275},
	}}
	if balanced {
		l.Rules[1].Right = 550
		for i := range l.Rules {
			l.Rules[i].Sense = Exactly
		}
	}
	return l
}

// Known answers. Wyndor Glass (Hillier & Lieberman, Introduction to Operations
// Research), Dantzig's transport (1963), Klee & Minty (1972) and Beale (1955),
// with values confirmed by SciPy's HiGHS, GLPK and CBC; balanced transport
// (550 at the second work) is the first with nothing left over, and costs the
// same.
func TestAgainstKnownPrograms(t *testing.T) {
	klee := &LP{Maximise: true, Cost: []float64{100, 10, 1}, Rules: []Rule{
		{[]float64{1, 0, 0}, AtMost, 1}, {[]float64{20, 1, 0}, AtMost, 100}, {[]float64{200, 20, 1}, AtMost, 10000},
	}}
	beale := &LP{Cost: []float64{-.75, 150, -.02, 6}, Rules: []Rule{
		{[]float64{.25, -60, -.04, 9}, AtMost, 0}, {[]float64{.5, -90, -.02, 3}, AtMost, 0}, {[]float64{0, 0, 1, 0}, AtMost, 1},
	}}
	for _, c := range []struct {
		name  string
		lp    *LP
		value float64
		x     []float64
		duals []float64
	}{
		{"Wyndor", wyndor(), 36, []float64{2, 6}, []float64{0, 1.5, 1}},
		{"transport", transport(false), 153.675, nil, []float64{0, 0, .225, .153, .126}},
		{"balanced transport", transport(true), 153.675, nil, nil},
		{"Klee-Minty", klee, 10000, []float64{0, 0, 10000}, nil},
		{"Beale", beale, -.05, []float64{.04, 0, 1, 0}, nil},
	} {
		for _, e := range []engines{gonumFirst, tableFirst} {
			o, err := c.lp.solve(e)
			if err != nil {
				t.Errorf("%s, engine %d: %v", c.name, e, err)
				continue
			}
			if !near(o.Value, c.value, 1e-9) {
				t.Errorf("%s, engine %d: %g, want %g", c.name, e, o.Value, c.value)
			}
			for j := range c.x {
				if !near(o.X[j], c.x[j], 1e-9) {
					t.Errorf("%s, engine %d: x %v, want %v", c.name, e, o.X, c.x)
				}
			}
			for i := range c.duals {
				if !near(o.Duals[i], c.duals[i], 1e-9) {
					t.Errorf("%s, engine %d: duals %v, want %v", c.name, e, o.Duals, c.duals)
				}
			}
		}
	}
}

// The programmes on which gonum's simplex returns an error or panics, as was
// measured of version 0.17.0, beside what no plan can keep and what has no end
// (SciPy's linprog says 2 and 3).
func TestNoFailureOfGonumReachesTheUser(t *testing.T) {
	over := &LP{Cost: []float64{1, 1}, Rules: []Rule{ // more rows than columns: a panic
		{[]float64{1, 2}, Exactly, 5}, {[]float64{2, 1}, Exactly, 4}, {[]float64{3, 3}, Exactly, 9}, {[]float64{1, -1}, Exactly, -1},
	}}
	contradict := &LP{Cost: []float64{1, 1}, Rules: []Rule{
		{[]float64{1, 2}, Exactly, 5}, {[]float64{2, 4}, Exactly, 11}, {[]float64{1, 1}, AtLeast, 0},
	}}
	zero := &LP{Cost: []float64{1, 7, 0}, Rules: []Rule{ // a column and a row of noughts
		{[]float64{1, 0, 0}, AtLeast, 3}, {[]float64{0, 0, 0}, AtMost, 2},
	}}
	wide := &LP{Cost: []float64{1e-9, 1e9}, Rules: []Rule{ // entries from 1e-8 to 1e8
		{[]float64{1e-8, 1e8}, AtLeast, 1e3}, {[]float64{1, 0}, AtMost, 1e5},
	}}
	equal := &LP{Cost: []float64{1, 1}, Rules: []Rule{ // the same row thrice
		{[]float64{1, 1}, AtLeast, 2}, {[]float64{1, 1}, AtLeast, 2}, {[]float64{1, 1}, AtMost, 2},
	}}
	for _, c := range []struct {
		name string
		lp   *LP
		want float64
		err  error
	}{
		{"more rows than columns", over, 3, nil},
		{"rows that contradict each other", contradict, 0, ErrInfeasible},
		{"a column and a row of noughts", zero, 3, nil},
		{"sixteen orders of magnitude", wide, 1e-9*1e5 + 1e9*(1e3-1e-3)/1e8, nil},
		{"the same row thrice", equal, 2, nil},
		{"infeasible", &LP{Cost: []float64{1, 1}, Rules: []Rule{{[]float64{1, 1}, AtMost, 1}, {[]float64{1, 1}, AtLeast, 2}}}, 0, ErrInfeasible},
		{"unbounded", &LP{Maximise: true, Cost: []float64{1, 0}, Rules: []Rule{{[]float64{0, 1}, AtMost, 1}}}, 0, ErrUnbounded},
		{"unbounded along a ray", &LP{Maximise: true, Cost: []float64{1, 1}, Rules: []Rule{{[]float64{1, -1}, AtMost, 1}}}, 0, ErrUnbounded},
		{"an earning column in no row, and no plan", &LP{Cost: []float64{-1, 1}, Rules: []Rule{{[]float64{0, 1}, AtMost, -1}}}, 0, ErrInfeasible},
		{"a row of noughts that asks", &LP{Cost: []float64{1}, Rules: []Rule{{[]float64{0}, AtLeast, 1}}}, 0, ErrInfeasible},
		{"nothing at all", &LP{}, 0, nil},
		{"no rules", &LP{Cost: []float64{2}}, 0, nil},
		{"upper limits", &LP{Maximise: true, Cost: []float64{2, 1}, Upper: []float64{3, math.Inf(1)}, Rules: []Rule{{[]float64{1, 1}, AtMost, 5}}}, 8, nil},
		{"below zero", &LP{Cost: []float64{1}, Free: []bool{true}, Rules: []Rule{{[]float64{1}, AtLeast, -4}}}, -4, nil},
	} {
		for _, e := range []engines{gonumFirst, tableFirst} {
			o, err := c.lp.solve(e)
			if !errors.Is(err, c.err) {
				t.Errorf("%s, engine %d: %v, want %v", c.name, e, err, c.err)
			} else if err == nil && !near(o.Value, c.want, 1e-9) {
				t.Errorf("%s, engine %d: %g, want %g", c.name, e, o.Value, c.want)
			}
		}
	}
}

func TestNonsenseIsNoProgramme(t *testing.T) {
	nan := math.NaN()
	for _, l := range []*LP{
		{Cost: []float64{nan}},
		{Cost: []float64{math.Inf(1)}},
		{Cost: []float64{1}, Rules: []Rule{{[]float64{1, 2}, AtMost, 1}}},
		{Cost: []float64{1}, Rules: []Rule{{[]float64{1}, AtMost, nan}}},
		{Cost: []float64{1}, Rules: []Rule{{[]float64{nan}, AtMost, 1}}},
		{Cost: []float64{1}, Rules: []Rule{{[]float64{1}, Sense(7), 1}}},
		{Cost: []float64{1}, Upper: []float64{nan}},
		{Cost: []float64{1}, Upper: []float64{1, 2}},
		{Cost: []float64{1}, Free: []bool{true, false}},
	} {
		if o, err := l.Solve(); err == nil {
			t.Errorf("%+v: %+v, want an error", l, o)
		}
	}
}

// The duals of Wyndor are what one more unit is worth, and one that is
// falsified is not taken for proved.
func TestWrongAnswersAreNotProved(t *testing.T) {
	c := wyndor().canonical()
	x, y := []float64{2, 6}, []float64{0, 1.5, 1}
	if !c.proved(x, y) {
		t.Fatal("the right answer is not proved")
	}
	for _, wrong := range [][2][]float64{
		{{2, 6.001}, y}, {{2, 5.999}, y}, {{-1e-3, 6}, y}, {x, {0, 1.5, 1.001}}, {x, {0, 1.5, .999}}, {x, {-.01, 1.5, 1}},
		{{math.NaN(), 6}, y}, {x, {0, math.NaN(), 1}}, {{2}, y}, {x, nil},
	} {
		if c.proved(wrong[0], wrong[1]) {
			t.Errorf("%v with duals %v passes for the optimum", wrong[0], wrong[1])
		}
	}
}

// drawLP is a programme of rules of all senses that x keeps.
func drawLP(rng *rand.Rand) *LP {
	n, m := 1+rng.IntN(9), rng.IntN(14)
	l := &LP{Maximise: rng.IntN(2) == 0, Cost: make([]float64, n)}
	x := make([]float64, n)
	for j := range x {
		x[j] = float64(rng.IntN(9))
		l.Cost[j] = float64(rng.IntN(19) - 5)
	}
	for range m {
		r := Rule{Coef: make([]float64, n), Sense: Sense(rng.IntN(3))}
		for j := range r.Coef {
			if rng.IntN(3) > 0 {
				r.Coef[j] = float64(rng.IntN(15) - 4)
				r.Right += r.Coef[j] * x[j]
			}
		}
		switch spare := float64(rng.IntN(6)); r.Sense {
		case AtMost:
			r.Right += spare
		case AtLeast:
			r.Right -= spare
		}
		l.Rules = append(l.Rules, r)
	}
	if rng.IntN(2) == 0 {
		l.Upper = make([]float64, n)
		for j := range l.Upper {
			l.Upper[j] = x[j] + float64(rng.IntN(4))
		}
	}
	return l
}

// Both engines come to the same value, or to no end; they never find that no
// plan keeps rules that one keeps, nor lack an answer.
func TestBothEnginesAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLP(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)))
		a, errA := l.solve(gonumFirst)
		b, errB := l.solve(tableFirst)
		if !errors.Is(errA, errB) || errA != nil && !errors.Is(errA, ErrUnbounded) {
			t.Fatalf("%v against %v: %+v", errA, errB, l)
		}
		if errA == nil && !near(a.Value, b.Value, 1e-7) {
			t.Fatalf("%g against %g: %+v", a.Value, b.Value, l)
		}
	})
}

// A dual is the slope of the value: more and less of a right-hand side never
// do better than it says.
func TestDualsAreSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLP(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 2)))
		o, err := l.Solve()
		if err != nil || len(l.Rules) == 0 {
			return
		}
		i, step := rapid.IntRange(0, len(l.Rules)-1).Draw(t, "rule"), rapid.Float64Range(-2, 2).Draw(t, "step")
		l.Rules[i].Right += step
		moved, err := l.Solve()
		if err != nil {
			return // no plan any more
		}
		if worse := l.sign() * (o.Value + o.Duals[i]*step - moved.Value); worse > 1e-6*math.Max(1, math.Abs(o.Value)) {
			t.Fatalf("rule %d by %g: %g to %g, the dual says %g", i, step, o.Value, moved.Value, o.Duals[i])
		}
	})
}
