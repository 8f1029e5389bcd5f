package forecast

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/forecast/colonise"
)

// nuisance is one value of what nobody knows: the share of logs that never
// take, and of log ends that are misread.
type nuisance struct{ never, misread, weight float64 }

// three are points and weights that keep a normal's mean and variance
// (Gauss–Hermite quadrature of three points).
var three = [3]struct{ z, weight float64 }{{-math.Sqrt(3), 1.0 / 6}, {0, 2.0 / 3}, {math.Sqrt(3), 1.0 / 6}}

// nuisancesOf are three values of each. They are summed over, not drawn: drawn
// for every pile, hardly a draw would fit them all.
func nuisancesOf(never, misread data.Range) (all []nuisance) {
	for _, a := range three {
		for _, b := range three {
			all = append(all, nuisance{
				never:   math.Min(colonise.Skewed(never, a.z), 0.9),
				misread: math.Min(colonise.Skewed(misread, b.z), 0.9),
				weight:  a.weight * b.weight,
			})
		}
	}
	return all
}

// ring is the chance of a white ring on a log end, true or misread.
func (q nuisance) ring(through float64) float64 {
	return (1-q.misread)*through + q.misread/2*(1-through)
}

// ringAfterNone is the chance of a ring on an end that had none at an earlier
// look, when s1 of the logs were through then and s2 are now: logs that were
// and were overlooked, logs that have become so, and ends misread now.
func (q nuisance) ringAfterNone(s1, s2 float64) float64 {
	overlooked, mistaken := q.misread, q.misread/2
	none := s1*overlooked + (1-s1)*(1-mistaken)
	return (s1*overlooked*(1-overlooked) + (s2-s1)*(1-mistaken)*(1-overlooked) + (1-s2)*(1-mistaken)*mistaken) / none
}

// The grid of a table, in deviations of logs between the growing days on a day
// and those that half of the logs need.
const (
	tableReach = 6.0
	tableStep  = 0.05
	tableSize  = 2*int(tableReach/tableStep) + 1
)

// table is a log likelihood on that grid. It is worked out once and serves
// every draw.
type table [tableSize]float64

// least is the likelihood under which nothing counts as impossible: what was
// seen has happened.
const least = 1e-12

func tabulate(likelihood func(x float64) float64) *table {
	t := &table{}
	for i := range t {
		t[i] = math.Log(math.Max(likelihood(-tableReach+float64(i)*tableStep), least))
	}
	return t
}

// at reads the table between its points, and its ends beyond them.
func (t *table) at(x float64) float64 {
	y := (min(max(x, -tableReach), tableReach) + tableReach) / tableStep
	i := min(int(y), tableSize-2)
	f := y - float64(i)
	return t[i]*(1-f) + t[i+1]*f
}

// through is the share of logs, those that never take among them, that are
// through at x.
func (q nuisance) through(x float64) float64 { return (1 - q.never) * math.Erfc(-x/math.Sqrt2) / 2 }

// likelihood is that of a look at x. What it found on the ends says more than
// knock and bark, which are read on the same logs and counted only without it;
// spots are a ring to come. With the chance slip the look is wrong as a whole
// and any count as likely as another.
// logSD is that of the pile's logs on the whole: how far ahead spots are does
// not deserve one by draw.
func (l *look) likelihood(x, logSD float64, q nuisance, pr *data.Practice) float64 {
	slip := pr.SlipRate.Value
	switch {
	case l.rings >= 0 && l.spots >= 0:
		any := float64((l.looked+1)*(l.looked+2)) / 2
		return (1-slip)*l.ringsAndSpots(x, logSD, q, pr) + slip/any
	case l.rings >= 0:
		return (1-slip)*pmf(l.rings, l.looked, q.ring(q.through(x))) + slip/float64(l.looked+1)
	case l.dull >= 0:
		return (1-slip)*l.touch(l.dull, x, q, pr) + slip/float64(l.looked+1)
	case l.springy >= 0:
		return (1-slip)*l.touch(l.springy, x, q, pr) + slip/float64(l.looked+1)
	}
	sum := 0.0
	for _, p := range three {
		lead := -math.Log(colonise.Skewed(pr.SpotsLead, p.z)) // in ln growing days
		sum += p.weight * pmf(l.spots, l.looked, q.ring(q.through(x+lead/logSD)))
	}
	return (1-slip)*sum + slip/float64(l.looked+1)
}

// touch is the likelihood of a count by ear or thumb, which are misread more
// often than a ring.
func (l *look) touch(with int, x float64, q nuisance, pr *data.Practice) float64 {
	sum := 0.0
	for _, p := range three {
		read := nuisance{misread: math.Min(colonise.Skewed(pr.TouchMisread, p.z), 0.9)}
		sum += p.weight * pmf(with, l.looked, read.ring(q.through(x)))
	}
	return sum
}

// ringsAndSpots is the likelihood of logs with a ring, logs with spots and no
// ring yet, and logs with neither: the multinomial distribution. Where more
// logs show something than were looked at, those with spots have rings too.
func (l *look) ringsAndSpots(x, logSD float64, q nuisance, pr *data.Practice) float64 {
	spots := min(l.spots, l.looked-l.rings)
	sum := 0.0
	for _, p := range three {
		lead := -math.Log(colonise.Skewed(pr.SpotsLead, p.z))
		ring := q.ring(q.through(x))
		either := math.Max(q.ring(q.through(x+lead/logSD)), ring)
		sum += p.weight * pmf(l.rings, l.looked, ring) * pmf(spots, l.looked-l.rings, (either-ring)/math.Max(1-ring, least))
	}
	return sum
}

// pmf is the binomial chance of k of n.
func pmf(k, n int, p float64) float64 {
	if p <= 0 || p >= 1 {
		if (p <= 0) == (k == 0) && (p <= 0 || k == n) {
			return 1
		}
		return 0
	}
	return math.Exp(choose(n, k) + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
}

// choose is ln of the binomial coefficient.
func choose(n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return a - b - c
}

// The grid of a second look at the same logs: x at the first look, and by how
// many deviations of logs more has grown at the second.
const (
	pairStep = 0.15
	pairSize = 2*int(tableReach/pairStep) + 1
	moreStep = 0.25
	moreSize = 33
)

// pair is the log likelihood of a second look, were it at the same logs as the
// one before: how many of those without a ring at the first have one now,
// truly or misread. The counts are a growing one and say less than fresh logs.
type pair [pairSize * moreSize]float64

func newPair(first, second *look, q nuisance, slip float64) *pair {
	t := &pair{}
	new, still := second.rings-first.rings, second.looked-second.rings
	for i := range pairSize {
		for j := range moreSize {
			x := -tableReach + float64(i)*pairStep
			p := q.ringAfterNone(q.through(x), q.through(x+float64(j)*moreStep))
			like := (1-slip)*pmf(new, new+still, p) + slip/float64(new+still+1)
			t[i*moreSize+j] = math.Log(math.Max(like, least))
		}
	}
	return t
}

func (t *pair) at(x, more float64) float64 {
	y := (min(max(x, -tableReach), tableReach) + tableReach) / pairStep
	z := min(max(more/moreStep, 0), moreSize-1)
	i, j := min(int(y), pairSize-2), min(int(z), moreSize-2)
	f, g := y-float64(i), z-float64(j)
	k := i*moreSize + j
	a := t[k]*(1-g) + t[k+1]*g
	k += moreSize
	b := t[k]*(1-g) + t[k+1]*g
	return a*(1-f) + b*f
}

// bore is the likelihood of a first flush on j of n logs at x; j zero where
// nobody said. A flush is the earliest of many logs, and not all that are
// through answer.
func bore(j, n int, x float64, q nuisance, share data.Range) float64 {
	sum := 0.0
	for _, p := range three {
		each := q.through(x) * math.Min(colonise.Skewed(share, p.z), 1)
		if j > 0 {
			sum += p.weight * pmf(min(j, n), n, each)
		} else {
			sum += p.weight * (1 - math.Pow(1-each, float64(n)))
		}
	}
	return sum
}

// average sums a likelihood over what nobody knows.
func average(nuisances []nuisance, likelihood func(nuisance) float64) float64 {
	sum := 0.0
	for _, q := range nuisances {
		sum += q.weight * likelihood(q)
	}
	return sum
}

// highest is the largest value of a table.
func (t *table) highest() float64 { return slices.Max(t[:]) }
