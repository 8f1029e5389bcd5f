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
	each, total := make([]float64, len(draws)), 0.0
	for i := range draws {
		each[i] = 1
		if weights != nil {
			each[i] = math.Max(weights[i], 0)
		}
		total += each[i]
	}
	for i := range each {
		each[i] /= total
	}
	s := stepsOf(draws, each)
	if n := len(s.UpTo); n > 0 {
		s.UpTo[n-1] = 1 // rounding aside
	}
	return s
}

// stepsOf makes steps of values and the chance of each.
func stepsOf(values, chances []float64) Steps {
	order := make([]int, len(values))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(values[a], values[b]) })
	var s Steps
	acc := 0.0
	for _, i := range order {
		if chances[i] == 0 {
			continue
		}
		acc += chances[i]
		if n := len(s.At); n > 0 && s.At[n-1] == values[i] {
			s.UpTo[n-1] = acc
			continue
		}
		s.At, s.UpTo = append(s.At, values[i]), append(s.UpTo, acc)
	}
	return s
}

// even is the distribution of a whole number that is as likely to be any of
// those from low to high.
func even(low, high int) Steps {
	var s Steps
	n := high - low + 1
	for i := range n {
		s.At, s.UpTo = append(s.At, float64(low+i)), append(s.UpTo, float64(i+1)/float64(n))
	}
	return s
}

// Tallied is the distribution in a tally; nothing for nil.
func Tallied(t *chance.Tally) Steps {
	if t == nil {
		return Steps{}
	}
	at, upTo := t.Steps()
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
