package chance

import "math"

// Tally counts weighted draws of one quantity and answers with chances and
// quantiles. Its memory does not grow with the number of draws. Draws must be
// added in a fixed order for results to repeat to the last bit.
//
// A quantile here is the smallest value that at least the share p of the
// weight does not exceed (Hyndman & Fan 1996, type 1): for days an actual
// day, for amounts the mid of a bin 2.3 % wide.
type Tally struct {
	scale scale
	bins  []float64
	first int // value of bins[0] for days
	never float64
	total float64 // never included
	sum   float64
}

type scale int

const (
	days scale = iota
	amounts
	shares
)

// shareBins is the number of bins between none and all of a share.
const shareBins = 500

// The grid of amounts: zero has a bin of its own, then perDecade bins in each
// power of ten from smallest on. What is larger than the last bin falls in it.
const (
	smallest  = 1e-4
	perDecade = 100
	decades   = 9
)

// Days returns a tally of whole days from first to last.
func Days(first, last int) *Tally {
	return &Tally{scale: days, first: first, bins: make([]float64, max(last-first+1, 1))}
}

// Amounts returns a tally of amounts of zero or more.
func Amounts() *Tally { return &Tally{scale: amounts} }

// Shares returns a tally of shares from 0 to 1, in steps of a fifth of a
// percent.
func Shares() *Tally { return &Tally{scale: shares, bins: make([]float64, shareBins+1)} }

// Add counts one draw of value v. A day outside the tally's range counts as
// never reached.
func (t *Tally) Add(v, weight float64) {
	i := t.index(v)
	switch t.scale {
	case days:
		if i < 0 || i >= len(t.bins) {
			t.Never(weight)
			return
		}
	case amounts:
		if i >= len(t.bins) {
			t.bins = append(t.bins, make([]float64, i+1-len(t.bins))...)
		}
	}
	t.bins[i] += weight
	t.total += weight
	t.sum += v * weight
}

// Never counts one draw in which the value was not reached.
func (t *Tally) Never(weight float64) {
	t.never += weight
	t.total += weight
}

// At returns the value that the share p of all draws, never included, does
// not exceed; ok is false where that share is not reached.
func (t *Tally) At(p float64) (v float64, ok bool) {
	if t.total == 0 {
		return 0, false
	}
	want := p * t.total * (1 - 1e-12) // so that rounding cannot ask for one draw more
	acc := 0.0
	for i, w := range t.bins {
		if w == 0 {
			continue
		}
		if acc += w; acc >= want {
			return t.value(i), true
		}
	}
	return 0, false
}

// UpTo returns the share of draws with a value of at most v.
func (t *Tally) UpTo(v float64) float64 {
	if t.total == 0 {
		return 0
	}
	last := t.index(v)
	acc := 0.0
	for i := 0; i <= last && i < len(t.bins); i++ {
		acc += t.bins[i]
	}
	return acc / t.total
}

// Reached returns the share of draws that are not never.
func (t *Tally) Reached() float64 {
	if t.total == 0 {
		return 0
	}
	return 1 - t.never/t.total
}

// Mean returns the mean over the draws that reached a value.
func (t *Tally) Mean() float64 {
	if t.total == t.never {
		return 0
	}
	return t.sum / (t.total - t.never)
}

// Weight returns the weight counted so far.
func (t *Tally) Weight() float64 { return t.total }

// index is the bin of a value; for days it may lie outside.
func (t *Tally) index(v float64) int {
	switch t.scale {
	case amounts:
		return bin(v)
	case shares:
		return int(min(max(v, 0), 1)*shareBins + 0.5)
	}
	return int(math.Floor(v)) - t.first
}

func bin(v float64) int {
	if v < smallest {
		return 0
	}
	i := 1 + int(perDecade*math.Log10(v/smallest))
	return min(i, perDecade*decades)
}

func (t *Tally) value(i int) float64 {
	switch t.scale {
	case days:
		return float64(t.first + i)
	case shares:
		return float64(i) / shareBins
	}
	if i == 0 {
		return 0
	}
	return smallest * math.Pow(10, (float64(i)-0.5)/perDecade)
}
