package harvest

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// A normal mean with the spread known: ten equal looks at 150 with a standard
// deviation of 20 about N(180, 40²), a hundred of them, and three at 352 with
// 45 about N(400, 60²). Computed with SciPy 1.10.1.
func TestAgainstNormalMean(t *testing.T) {
	for _, row := range []struct {
		mu, sd, seen, noise float64
		n                   int
		mean, spread, next  float64
	}{
		{180, 40, 150, 20, 10, 150.731707, 6.246950, 20.952909},
		{180, 40, 150, 20, 100, 150.074813, 1.997505, 20.099503},
		{400, 60, 352, 45, 3, 359.5789474, 23.8415824, 50.9256424},
	} {
		var cells []Cell
		for range row.n {
			cells = append(cells, Cell{Loads: []Load{{0, row.sd}}, Above: row.seen - row.mu, Noise: row.noise})
		}
		mean, sd := Learn(1, cells).Of(Load{0, row.sd})
		if got := row.mu + mean; math.Abs(got-row.mean) > 5e-7*row.mean || math.Abs(sd-row.spread) > 5e-7*row.spread {
			t.Errorf("%d of %g: mean %.7f, sd %.7f, want %g and %g", row.n, row.seen, got, sd, row.mean, row.spread)
		}
		if next := math.Hypot(sd, row.noise); math.Abs(next-row.next) > 5e-7*row.next {
			t.Errorf("%d of %g: the next one spreads by %.6f, want %g", row.n, row.seen, next, row.next)
		}
	}
}

// Beta(2, 3) and 7 of 10: computed with SciPy 1.10.1.
func TestAgainstBeta(t *testing.T) {
	b := BetaOf(0.4, 0.04).Counted(7, 3)
	if math.Abs(b.A-9) > 1e-12 || math.Abs(b.B-6) > 1e-12 || math.Abs(b.Mean()-0.6) > 1e-12 {
		t.Errorf("%+v of mean %g, want Beta(9, 6) and 0.6", b, b.Mean())
	}
	for p, want := range map[float64]float64{0.1: 0.436892306, 0.5: 0.604556744, 0.9: 0.756843031} {
		if got := b.At(p); math.Abs(got-want) > 5e-10 {
			t.Errorf("%g: %.9f, want %.9f", p, got, want)
		}
	}
}

// yardOf two piles of one strain over some years: factors are the strain,
// one for each pile and one for each year.
func cellsOf(piles, years int, above func(pile, year int) (kg float64, zero bool)) (factors int, cells []Cell) {
	const ofStrain, ofPile, ofYear, noise, none = 0.35, 0.42, 0.2, 0.5, 0.3
	for p := range piles {
		for y := range years {
			kg, zero := above(p, y)
			cells = append(cells, Cell{
				Loads: []Load{{0, ofStrain}, {1 + p, ofPile}, {1 + piles + y, ofYear}},
				Above: kg, Noise: noise, Zero: zero, None: none,
			})
		}
	}
	return 1 + piles + years, cells
}

// brute is the mean and standard deviation of each factor by integration over
// a grid of all of them.
func brute(factors int, cells []Cell) (mean, sd []float64) {
	const reach, points = 4.5, 19
	at := make([]int, factors)
	x := make([]float64, factors)
	sum, first, second := 0.0, make([]float64, factors), make([]float64, factors)
	for {
		ln := 0.0
		for i, k := range at {
			x[i] = -reach + 2*reach*float64(k)/(points-1)
			ln -= x[i] * x[i] / 2
		}
		w := math.Exp(ln)
		for _, c := range cells {
			u := 0.0
			for _, l := range c.Loads {
				u += l.By * x[l.Factor]
			}
			z := (c.Above - u) / c.Noise
			if c.Zero {
				w *= c.None + (1-c.None)*math.Erfc(-z/math.Sqrt2)/2
			} else {
				w *= math.Exp(-z * z / 2)
			}
		}
		sum += w
		for i := range x {
			first[i] += w * x[i]
			second[i] += w * x[i] * x[i]
		}
		i := 0
		for ; i < factors; i++ {
			if at[i]++; at[i] < points {
				break
			}
			at[i] = 0
		}
		if i == factors {
			break
		}
	}
	for i := range x {
		m := first[i] / sum
		mean, sd = append(mean, m), append(sd, math.Sqrt(second[i]/sum-m*m))
	}
	return mean, sd
}

// Against integration over a grid: one strain, one or two piles, one or two
// years, with and without zeros of which three in ten are the weather's.
func TestLearnAgainstAGrid(t *testing.T) {
	for _, row := range []struct {
		name         string
		piles, years int
		above        func(p, y int) (float64, bool)
	}{
		{"one pile, one year, twice as much", 1, 1, func(int, int) (float64, bool) { return math.Ln2, false }},
		{"one pile, one year, nothing", 1, 1, func(int, int) (float64, bool) { return -1.5, true }},
		{"two piles, two years", 2, 2, func(p, y int) (float64, bool) { return 0.8*float64(p) - 0.5*float64(y), false }},
		{"two piles, two years, a zero", 2, 2, func(p, y int) (float64, bool) {
			if p == 1 && y == 1 {
				return -1.2, true
			}
			return 0.3, false
		}},
		{"two piles, two years, nothing of one", 2, 2, func(p, y int) (float64, bool) {
			if p == 1 {
				return -1, true
			}
			return 0.5, false
		}},
	} {
		factors, cells := cellsOf(row.piles, row.years, row.above)
		f := Learn(factors, cells)
		mean, sd := brute(factors, cells)
		for i := range factors {
			m, s := f.Of(Load{i, 1})
			t.Logf("%s, factor %d: %.4f ± %.4f, grid %.4f ± %.4f", row.name, i, m, s, mean[i], sd[i])
			if math.Abs(m-mean[i]) > 0.02 || math.Abs(s-sd[i]) > 0.05 {
				t.Errorf("%s, factor %d: %.4f ± %.4f, want %.4f ± %.4f", row.name, i, m, s, mean[i], sd[i])
			}
		}
	}
}

// drawsOf are draws of factors before anything is on record.
func drawsOf(draws, factors int) [][]float64 {
	rnd := rand.New(rand.NewPCG(3, 1))
	all := make([][]float64, draws)
	for n := range all {
		for range factors {
			all[n] = append(all[n], rnd.NormFloat64())
		}
	}
	return all
}

// Draws moved have the mean and spread of the posterior; with nothing on
// record they stay where they were, and cells that cannot be are passed over.
func TestMove(t *testing.T) {
	factors, cells := cellsOf(2, 2, func(p, y int) (float64, bool) { return 0.7 * float64(p), y == 1 })
	const draws = 20000
	f := Learn(factors, cells)
	loads := []Load{{0, 0.5}, {2, 1}, {3, -0.4}}
	wantMean, wantSD := f.Of(loads...)
	sum, square := 0.0, 0.0
	for _, x := range drawsOf(draws, factors+len(cells)) {
		f.Move(x[:factors], x[factors:])
		u := 0.0
		for _, l := range loads {
			u += l.By * x[l.Factor]
		}
		sum, square = sum+u, square+u*u
	}
	mean := sum / draws
	if sd := math.Sqrt(square/draws - mean*mean); math.Abs(mean-wantMean) > 0.03 || math.Abs(sd-wantSD) > 0.02 {
		t.Errorf("draws have %.3f ± %.3f, want %.3f ± %.3f", mean, sd, wantMean, wantSD)
	}
	odd := []Cell{{Loads: []Load{{0, 1}, {-1, 2}, {99, 2}}, Above: math.Inf(-1), Noise: 1}, {Loads: []Load{{0, 1}}, Above: 3}, {Zero: true, None: 1, Noise: 1}}
	still, x := drawsOf(1, factors)[0], drawsOf(1, factors)[0]
	Learn(factors, odd).Move(x, make([]float64, 3))
	if !slices.Equal(still, x) {
		t.Error("nothing on record moves draws")
	}
	Learn(0, odd).Move(nil, nil)
}

// Nothing in a year in which the forecast is sure of a crop pulls far down and
// stays a number; where nothing was likely anyhow it says little.
func TestZeros(t *testing.T) {
	last := 0.0
	for _, none := range []float64{0, 1e-4, 0.01, 0.3, 0.9, 1} {
		m, sd := Learn(1, []Cell{{Loads: []Load{{0, 0.7}}, Above: -4, Noise: 0.5, Zero: true, None: none}}).Of(Load{0, 1})
		if none == 0 {
			last = m
			if !(m < -2.5) {
				t.Errorf("a sure crop that did not come: %.3f", m)
			}
			continue
		}
		if math.IsNaN(m) || !(m >= last) || m > 0 || !(sd > 0) {
			t.Errorf("nothing with chance %g: %.4f ± %.4f after %.4f", none, m, sd, last)
		}
		last = m
	}
	m, sd := Learn(1, []Cell{{Loads: []Load{{0, 0.7}}, Above: -60, Noise: 0.5, Zero: true}}).Of(Load{0, 1})
	if math.IsNaN(m) || math.IsNaN(sd) || m > -5 {
		t.Errorf("far out: %g ± %g", m, sd)
	}
}

func BenchmarkLearn(b *testing.B) {
	factors, cells := cellsOf(20, 3, func(p, y int) (float64, bool) { return 0.1 * float64(p%5), y == 1 && p%4 == 0 })
	draws := drawsOf(2000, factors+len(cells))
	for b.Loop() {
		f := Learn(factors, cells)
		for _, x := range draws {
			f.Move(x[:factors], x[factors:])
		}
	}
}
