package score

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"hodaba/forecast/chance"
)

// Steps is the distribution function of one number as a forecast gives it:
// UpTo[i] is the chance of at most At[i]. At ascends; what the last chance
// lacks of one is never reached.
type Steps struct{ At, UpTo []float64 }

// Ensemble is the distribution of draws that are equally likely.
func Ensemble(draws []float64) Steps { return Weighted(draws, nil) }

// Weighted is the distribution of draws that weigh differently; nil weights
// are equal ones. Draws without weight are left out.
func Weighted(draws, weights []float64) Steps {
	order := make([]int, len(draws))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(draws[a], draws[b]) })
	total := 0.0
	weight := func(i int) float64 {
		if weights == nil {
			return 1
		}
		return math.Max(weights[i], 0)
	}
	for i := range draws {
		total += weight(i)
	}
	var s Steps
	acc := 0.0
	for _, i := range order {
		w := weight(i)
		if w == 0 {
			continue
		}
		acc += w
		if n := len(s.At); n > 0 && s.At[n-1] == draws[i] {
			s.UpTo[n-1] = acc / total
			continue
		}
		s.At, s.UpTo = append(s.At, draws[i]), append(s.UpTo, acc/total)
	}
	return s
}

// Tallied is the distribution in a tally, each of its values moved by shift.
func Tallied(t *chance.Tally, shift float64) Steps {
	if t == nil {
		return Steps{}
	}
	at, upTo := t.Steps()
	for i := range at {
		at[i] += shift
	}
	return Steps{at, upTo}
}

// P is the chance of at most x.
func (s Steps) P(x float64) float64 {
	i := sort.Search(len(s.At), func(i int) bool { return s.At[i] > x })
	if i == 0 {
		return 0
	}
	return s.UpTo[i-1]
}

// Below is the chance of less than x.
func (s Steps) Below(x float64) float64 {
	i := sort.Search(len(s.At), func(i int) bool { return s.At[i] >= x })
	if i == 0 {
		return 0
	}
	return s.UpTo[i-1]
}

// Quantile is the smallest value that the share p does not exceed (Hyndman &
// Fan 1996, type 1); ok is false where that share is never reached.
func (s Steps) Quantile(p float64) (x float64, ok bool) {
	i := sort.Search(len(s.UpTo), func(i int) bool { return s.UpTo[i] >= p*(1-1e-12) })
	if i == len(s.At) {
		return 0, false
	}
	return s.At[i], true
}

// After is the distribution for who knows that it is more than x: what was
// said up to x is dropped. Where nothing was said beyond x it is due at once,
// at x and one.
func (s Steps) After(x float64) Steps {
	gone := s.P(x)
	if gone > 1-1e-9 {
		return Steps{[]float64{x + 1}, []float64{1}}
	}
	i := sort.Search(len(s.At), func(i int) bool { return s.At[i] > x })
	out := Steps{At: slices.Clone(s.At[i:]), UpTo: make([]float64, len(s.At)-i)}
	for j := range out.UpTo {
		out.UpTo[j] = (s.UpTo[i+j] - gone) / (1 - gone)
	}
	return out
}
