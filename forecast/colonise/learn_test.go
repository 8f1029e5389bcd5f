package colonise

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// ends is the likelihood of k of n log ends with a white ring, where the share
// through at so many growing days is a normal of the logs' spread: the test's
// own words, not the forecast's.
func ends(k, n int, grown, logSD float64) Seen {
	return func(half float64) float64 {
		p := math.Min(math.Max(math.Erfc(-(math.Log(grown)-half)/logSD/math.Sqrt2)/2, 1e-9), 1-1e-9)
		return float64(k)*math.Log(p) + float64(n-k)*math.Log(1-p)
	}
}

// oneOf is the likelihood that at least one of n logs is through.
func oneOf(n int, grown, logSD float64) Seen {
	return func(half float64) float64 {
		p := math.Erfc(-(math.Log(grown)-half)/logSD/math.Sqrt2) / 2
		return math.Log(math.Max(-math.Expm1(float64(n)*math.Log1p(-math.Min(p, 1-1e-12))), 1e-300))
	}
}

// enough draws leave an error of 0.013 in the mean of the prior and of 0.02 in
// its ends.
const enough = 6000

// someSplits is how many of the splits are tried: one where tests are to be
// short.
func someSplits() int {
	if testing.Short() {
		return 1
	}
	return splits
}

// drawn is what Yard draws for each pile with one split of the variance, in
// prior deviations about the prior mean.
func drawn(t *testing.T, piles []*Belief, seen []Seen, split int) [][]float64 {
	t.Helper()
	y := NewYard(piles)
	out, half := make([][]float64, len(piles)), make([]float64, len(piles))
	for d := split; d < splits*enough; d += splits {
		y.Draw(half, seen, d)
		for i, b := range piles {
			out[i] = append(out[i], (half[i]-b.mu)/priorSD(b, split))
		}
	}
	return out
}

func priorSD(b *Belief, split int) float64 {
	return b.sigma[0] * math.Sqrt(1-b.ofLog[split]*b.ofLog[split])
}

// summary is the mean and the tenth and nine tenths.
func summary(x []float64) [3]float64 {
	s, sum := slices.Clone(x), 0.0
	slices.Sort(s)
	for _, v := range s {
		sum += v
	}
	at := func(p float64) float64 { return s[int(p*float64(len(s)))] }
	return [3]float64{sum / float64(len(s)), at(0.1), at(0.9)}
}

// bruteOne is the same for a pile alone, by plain summation over its total
// effect.
func bruteOne(b *Belief, seen Seen, split int) [3]float64 {
	const n = 20001
	sd := priorSD(b, split)
	weight, x := make([]float64, n), make([]float64, n)
	for i := range n {
		x[i] = -8 + 16*float64(i)/(n-1)
		weight[i] = math.Exp(-x[i]*x[i]/2 + seen(b.mu+sd*x[i]))
	}
	return weighed(x, weight)
}

func weighed(x, weight []float64) (out [3]float64) {
	total := 0.0
	for i, w := range weight {
		total += w
		out[0] += x[i] * w
	}
	out[0] /= total
	acc := 0.0
	for i, w := range weight {
		before := acc / total
		acc += w
		for k, p := range map[int]float64{1: 0.1, 2: 0.9} {
			if before < p && acc/total >= p {
				out[k] = x[i]
			}
		}
	}
	return out
}

func close3(t *testing.T, name string, got, want [3]float64) {
	t.Helper()
	// Quadrature is to be right to 0.02 and 0.05; the rest is the draws' own error.
	if math.Abs(got[0]-want[0]) > 0.035 || math.Abs(got[1]-want[1]) > 0.07 || math.Abs(got[2]-want[2]) > 0.07 {
		t.Errorf("%s: mean and ends %.3f %.3f %.3f, by brute force %.3f %.3f %.3f", name, got[0], got[1], got[2], want[0], want[1], want[2])
	}
}

// One pile against plain summation, in every split: none of ten, all of ten,
// some, many logs, at an early and a late day, a first flush on one of forty.
func TestAgainstBruteForceOnePile(t *testing.T) {
	pr := practice(t)
	b := Prior(need, pr, reference, Names{"shiitake", "", "oak"}, 1)
	days := math.Exp(need.Mu)
	for split := range someSplits() {
		sd := b.LogSD(split)
		for name, seen := range map[string]Seen{
			"0 of 10 on time": ends(0, 10, days, sd), "10 of 10 on time": ends(10, 10, days, sd),
			"5 of 10 early": ends(5, 10, 0.7*days, sd), "7 of 10 late": ends(7, 10, 1.3*days, sd),
			"30 of 100": ends(30, 100, days, sd), "one of 40 has fruited": oneOf(40, 0.6*days, sd),
		} {
			x := drawn(t, []*Belief{b}, []Seen{seen}, split)
			close3(t, fmt.Sprintf("split %d, %s", split, name), summary(x[0]), bruteOne(b, seen, split))
		}
	}
}

// Two piles that share the yard, the species or the spawn lot, against
// summation over what they share and what each has of its own.
func TestAgainstBruteForceTwoPiles(t *testing.T) {
	pr := practice(t)
	days := math.Exp(need.Mu)
	for name, second := range map[string]Names{
		"the yard": {"reishi", "R", "birch"}, "the species": {"shiitake", "B", "birch"}, "the spawn lot": {"shiitake", "A", "birch"},
	} {
		a := Prior(need, pr, reference, Names{"shiitake", "A", "oak"}, 1)
		b := Prior(need, pr, reference, second, 1)
		shared := 1
		if second.Species == "shiitake" {
			shared = 2
		}
		if second.SpawnLot == "A" {
			shared = 3
		}
		for split := range someSplits() {
			sa := ends(9, 10, 0.8*days, a.LogSD(split))
			x := drawn(t, []*Belief{a, b}, []Seen{sa, nil}, split)
			ga, gb := bruteTwo(a, sa, nil, shared, split)
			close3(t, fmt.Sprintf("sharing %s, split %d, the one looked at", name, split), summary(x[0]), ga)
			close3(t, fmt.Sprintf("sharing %s, split %d, its neighbour", name, split), summary(x[1]), gb)
			if m := summary(x[1])[0]; m >= 0 || math.Abs(m) >= math.Abs(summary(x[0])[0]) {
				t.Errorf("sharing %s: the neighbour moves by %.3f, the pile itself by %.3f", name, m, summary(x[0])[0])
			}
			sb := ends(2, 10, days, b.LogSD(split))
			x = drawn(t, []*Belief{a, b}, []Seen{sa, sb}, split)
			ga, gb = bruteTwo(a, sa, sb, shared, split)
			close3(t, fmt.Sprintf("sharing %s, split %d, both looked at", name, split), summary(x[0]), ga)
			close3(t, fmt.Sprintf("sharing %s, split %d, the other", name, split), summary(x[1]), gb)
		}
	}
}

// bruteTwo sums over what two piles share and over what each has alone.
func bruteTwo(b *Belief, sa, sb Seen, shared, split int) (ga, gb [3]float64) {
	common := 0.0
	for p := range shared {
		common += b.share[split][p] * b.share[split][p]
	}
	total := 1 - b.ofLog[split]*b.ofLog[split]
	own := math.Sqrt(total - common)
	common = math.Sqrt(common)
	const n = 161
	at := func(i int) float64 { return -6 + 12*float64(i)/(n-1) }
	like := func(s Seen, c, o int) float64 {
		if s == nil {
			return 1
		}
		return math.Exp(s(b.mu + b.sigma[0]*(common*at(c)+own*at(o))))
	}
	var xa, wa, xb, wb []float64
	for c := range n {
		var ea, eb float64
		la, lb := make([]float64, n), make([]float64, n)
		for o := range n {
			phi := math.Exp(-at(o) * at(o) / 2)
			la[o], lb[o] = phi*like(sa, c, o), phi*like(sb, c, o)
			ea, eb = ea+la[o], eb+lb[o]
		}
		phi := math.Exp(-at(c) * at(c) / 2)
		for o := range n {
			x := (common*at(c) + own*at(o)) / math.Sqrt(total)
			xa, wa = append(xa, x), append(wa, phi*la[o]*eb)
			xb, wb = append(xb, x), append(wb, phi*lb[o]*ea)
		}
	}
	return weighed(sorted(xa, wa)), weighed(sorted(xb, wb))
}

func sorted(x, w []float64) (sx, sw []float64) {
	order := make([]int, len(x))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, j int) int {
		if x[i] < x[j] {
			return -1
		}
		return 1
	})
	for _, i := range order {
		sx, sw = append(sx, x[i]), append(sw, w[i])
	}
	return sx, sw
}

// Where the truth is drawn from the prior, the range said 8 times in 10 holds
// it as often as that: over 400 yards of two piles with looks at ten logs each.
// A range narrowed by a third, planted, is caught.
func TestCoverage(t *testing.T) {
	pr := practice(t)
	yards, draws := 400, 150
	if testing.Short() {
		yards, draws = 60, 60
	}
	hits, narrow := 0, 0
	for k := range yards {
		truth := []*Belief{
			Prior(need, pr, reference, Names{"shiitake", "A", "oak"}, uint64(1000+k)),
			Prior(need, pr, reference, Names{"shiitake", "B", "birch"}, uint64(1000+k)),
		}
		split := k % splits
		rnd := truth[0].blank.Draw(k)
		var seen []Seen
		for _, b := range truth {
			grown := math.Exp(need.Mu) * (0.8 + 0.4*rnd.Float64())
			p := math.Erfc(-(math.Log(grown)-b.Half(split))/b.LogSD(split)/math.Sqrt2) / 2
			with := 0
			for range 10 {
				if rnd.Float64() < p {
					with++
				}
			}
			seen = append(seen, ends(with, 10, grown, b.LogSD(split)))
		}
		y := NewYard([]*Belief{
			Prior(need, pr, reference, Names{"shiitake", "A", "oak"}, 1),
			Prior(need, pr, reference, Names{"shiitake", "B", "birch"}, 1),
		})
		half, x := make([]float64, 2), []float64{}
		for d := split; len(x) < draws; d += splits {
			y.Draw(half, seen, d)
			x = append(x, half[0])
		}
		slices.Sort(x)
		lo, hi, is := x[draws/10], x[draws-1-draws/10], truth[0].Half(split)
		if is >= lo && is <= hi {
			hits++
		}
		if mid, third := (lo+hi)/2, (hi-lo)/3; is >= mid-third && is <= mid+third {
			narrow++
		}
	}
	t.Logf("%d of %d within the range said 8 times in 10, %d within two thirds of it", hits, yards, narrow)
	// Eight in ten are expected, give or take three deviations of so many yards.
	n := float64(yards)
	slack := 3 * math.Sqrt(0.16*n)
	if math.Abs(float64(hits)-0.8*n) > slack {
		t.Errorf("%d of %d within the range, want %.0f give or take %.0f", hits, yards, 0.8*n, slack)
	}
	if !testing.Short() && float64(narrow) >= 0.8*n-slack {
		t.Errorf("a range narrowed by a third holds %d of %d and would not be caught", narrow, yards)
	}
}

// With nothing seen a yard draws what its piles draw alone.
func TestNothingSeen(t *testing.T) {
	pr := practice(t)
	piles := []*Belief{Prior(need, pr, reference, Names{"shiitake", "A", "oak"}, 1), Prior(need, pr, Logs{}, Names{"reishi", "", "birch"}, 1)}
	y, half := NewYard(piles), make([]float64, 2)
	for d := range 20 {
		if w := y.Draw(half, make([]Seen, 2), d); w != 0 {
			t.Errorf("weight %g", w)
		}
		for i, b := range piles {
			if half[i] != b.Half(d) {
				t.Errorf("draw %d, pile %d: %g together, %g alone", d, i, half[i], b.Half(d))
			}
		}
	}
	// A look at no log says nothing.
	nothing := ends(0, 0, 100, 0.1)
	x := drawn(t, piles, []Seen{nothing, nil}, 0)
	close3(t, "nothing looked at", summary(x[0]), [3]float64{0, -1.2816, 1.2816})
}

// The weight of a draw is how likely what was seen is in it.
func TestWeightOfADraw(t *testing.T) {
	b := Prior(need, practice(t), reference, Names{"shiitake", "", "oak"}, 1)
	seen := ends(6, 10, math.Exp(need.Mu), b.LogSD(0))
	got := NewYard([]*Belief{b}).Draw(make([]float64, 1), []Seen{seen}, 0)
	sum, norm := 0.0, 0.0
	for i := range 4001 {
		x := -8 + 16*float64(i)/4000
		phi := math.Exp(-x * x / 2)
		sum += phi * math.Exp(seen(b.mu+priorSD(b, 0)*x))
		norm += phi
	}
	if want := math.Log(sum / norm); math.Abs(got-want) > 0.01 {
		t.Errorf("log weight %.4f, by summation %.4f", got, want)
	}
}

func BenchmarkYardDraw(b *testing.B) {
	pr := practice(b)
	var piles []*Belief
	var seen []Seen
	for i := range 20 {
		p := Prior(need, pr, reference, Names{"shiitake", "", fmt.Sprint(i)}, 1)
		piles, seen = append(piles, p), append(seen, ends(6, 10, 150, p.LogSD(0)))
	}
	y, half := NewYard(piles), make([]float64, len(piles))
	b.Run("nothing seen", func(b *testing.B) {
		none := make([]Seen, len(piles))
		for d := 0; b.Loop(); d++ {
			y.Draw(half, none, d)
		}
	})
	b.Run("all twenty looked at", func(b *testing.B) {
		for d := 0; b.Loop(); d++ {
			y.Draw(half, seen, d)
		}
	})
}
