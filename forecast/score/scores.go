package score

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// CRPS is the continuous ranked probability score of a forecast when y came:
//
//	∫ (F(x) − 1{y ≤ x})² dx
//
// in the unit of y; nought is perfect, and for a forecast that names a single
// value it is how far off that was (Matheson & Winkler 1976, Management
// Science 22:1087–1096; Gneiting & Raftery 2007, equation 20). The integral
// ends at most: what a forecast never reaches counts as missing up to there.
// For an ensemble of m equal draws without such an end it is the plain form,
//
//	1/m Σ|xᵢ − y| − 1/(2m²) ΣΣ|xᵢ − xⱼ|
//
// which is what is reported: it is the score of the distribution that was
// said, draws and all. FairCRPS is the other one.
func (s Steps) CRPS(y, most float64) float64 { return s.Between(y, y, most) }

// Between is the score of a forecast when it is only known that the outcome
// was at least low and at most high; either may be infinite. It sums the
// squared error of the chance of "at most x" over those thresholds x of which
// it is known whether the outcome was beyond them, which are those outside the
// interval:
//
//	∫_{x<low} F(x)² dx + ∫_{high≤x<most} (1 − F(x))² dx
//
// It is the threshold-weighted CRPS (Gneiting & Ranjan 2011, Journal of
// Business & Economic Statistics 29:411–422, equation 12) with weight nought
// inside the interval, and the CRPS where low is high. Nobody gains by guessing
// inside the interval, and nobody loses.
func (s Steps) Between(low, high, most float64) float64 {
	sum, from, f := 0.0, math.Inf(-1), 0.0
	part := func(to float64) {
		if f > 0 { // below the first step F is nought
			sum += f * f * math.Max(math.Min(to, low)-from, 0)
		}
		if f < whole && high < most {
			sum += (1 - f) * (1 - f) * math.Max(math.Min(to, most)-math.Max(from, high), 0)
		}
	}
	for i, x := range s.At {
		part(x)
		from, f = x, s.UpTo[i]
	}
	part(math.Inf(1))
	return sum
}

// whole is the chance from which on a value is surely reached, rounding aside.
const whole = 1 - 1e-12

// FairCRPS is the score that a forecast of which these are weighted draws
// would have with ever more of them:
//
//	Σ wᵢ|xᵢ − y| − Σ_{i≠j} wᵢwⱼ|xᵢ − xⱼ| / (2 (1 − Σ wᵢ²))
//
// which for m equal draws has m(m−1) for the plain m² (Ferro 2014, Quarterly
// Journal of the Royal Meteorological Society 140:1917–1923). It may fall
// below nought. NaN for fewer than two draws.
func FairCRPS(draws, weights []float64, y float64) float64 {
	s := Weighted(draws, weights)
	off, pairs, squares, total := 0.0, 0.0, 0.0, 0.0
	weight := func(i int) float64 {
		if weights == nil {
			return 1
		}
		return math.Max(weights[i], 0)
	}
	for i := range draws {
		total += weight(i)
	}
	for i, x := range draws {
		w := weight(i) / total
		off += w * math.Abs(x-y)
		squares += w * w
	}
	for i := 1; i < len(s.At); i++ { // Σ_{i<j} wᵢwⱼ|xᵢ−xⱼ| = ∫ F(1−F)
		pairs += s.UpTo[i-1] * (1 - s.UpTo[i-1]) * (s.At[i] - s.At[i-1])
	}
	return off - pairs/(1-squares)
}

// RPS is the ranked probability score of the chances of 0, 1, … n when k came:
// the sum over the n thresholds 0 … n−1 of the squared error of the chance of
// "at most", divided by n so that looks at many and few logs compare. It lies
// between nought, perfect, and one. (Epstein 1969, Journal of Applied
// Meteorology 8:985–987; there it is one minus this.)
func RPS(chances []float64, k int) float64 {
	n := len(chances) - 1
	if n < 1 {
		return 0
	}
	sum, f := 0.0, 0.0
	for j := range n {
		f += chances[j]
		off := f
		if k <= j {
			off--
		}
		sum += off * off
	}
	return sum / float64(n)
}

// Brier is the squared error of a chance (Brier 1950, Monthly Weather Review
// 78:1–3).
func Brier(chance float64, came bool) float64 {
	if came {
		chance--
	}
	return chance * chance
}

// Pinball is the score of a quantile x said for the share p when y came.
func Pinball(p, x, y float64) float64 {
	if y >= x {
		return p * (y - x)
	}
	return (1 - p) * (x - y)
}

// IntervalScore is the score of the central range from low to high that was
// said to hold the share p when y came: its width, and 2/(1−p) times by how
// much it was missed (Winkler 1972, Journal of the American Statistical
// Association 67:187–191; Gneiting & Raftery 2007, equation 43).
func IntervalScore(p, low, high, y float64) float64 {
	return high - low + 2/(1-p)*(math.Max(low-y, 0)+math.Max(y-high, 0))
}

// Hits is the central 95 % range of how many of n outcomes fall into ranges
// that hold each of them with chance p: the smallest numbers that the binomial
// chances of at most that many bring to 2.5 % and 97.5 %.
func Hits(n int, p float64) (low, high int) {
	return binomialQuantile(n, p, 0.025), binomialQuantile(n, p, 0.975)
}

func binomialQuantile(n int, p, q float64) int {
	for k := range n {
		// P(K ≤ k) = I_{1−p}(n−k, k+1)
		if mathext.RegIncBeta(float64(n-k), float64(k+1), 1-p) >= q {
			return k
		}
	}
	return n
}

// PIT is the randomised probability integral transform: a point between the
// chance of less than what came and that of at most what came, u of the way.
// For forecasts that are right and u drawn evenly it is even from 0 to 1
// (Czado, Gneiting & Held 2009, Biometrics 65:1254–1261).
func PIT(below, upTo, u float64) float64 { return below + u*(upTo-below) }

// Held is the share of the room between two chances that lies in the central
// range of share p: how often PIT would fall into it.
func Held(below, upTo, p float64) float64 { return part(below, upTo, (1-p)/2, (1+p)/2) }

// part is the share of the room between two chances that lies between two
// others.
func part(below, upTo, low, high float64) float64 {
	if upTo-below < 1e-12 {
		if below >= low && below <= high {
			return 1
		}
		return 0
	}
	return math.Max(math.Min(upTo, high)-math.Max(below, low), 0) / (upTo - below)
}
