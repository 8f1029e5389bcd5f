package climate

import (
	"math"
	"math/rand/v2"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Day is the weather of one day: °C and mm.
type Day struct{ TMin, TMax, Rain float32 }

// Mean is the mean of minimum and maximum, °C.
func (d Day) Mean() float64 { return (float64(d.TMin) + float64(d.TMax)) / 2 }

// Known says what of a day was measured.
type Known uint8

// What can be measured of a day.
const (
	Temperature Known = 1 << iota
	Rain
)

// Source fills days with weather. What is known of a day was measured and
// stays as it is; known may be nil. The same arguments give the same days.
type Source interface {
	Fill(dst []Day, known []Known, from yard.Date, draw int, seed uint64)
}

// Generator makes weather from a Site.
//
// Purpose: daily minimum, maximum and rain of any number of years.
// Equations: wet days from a two-state chain, P(wet|dry) = w(1−k),
// P(wet|wet) = P(wet|dry) + k; amounts 1 mm + gamma; anomaly of the daily
// mean z(d) = ρ z(d−1) + √(1−ρ²) ε plus a normal offset by half-year
// (Richardson 1981).
// Parameters: w wet fraction by month (site), k persistence, ρ lag-1
// autocorrelation, standard deviations by month, offset (region).
// State: wet or dry, z, the half-year's offset. Needs nothing from others.
// Errors: NewGenerator, where normals admit no smooth course.
type Generator struct {
	site   *Site
	anchor yard.Date
	normal [yearDays]dayNormal
	lag    float64
	fresh  float64 // √(1 − lag²)
	half   float64 // standard deviation of the half-year's offset, °C
	keep   float64 // persistence of wet and dry
	spread float64 // coefficient of variation of the daily range
}

// leastSpan is the share of its normal under which the daily range does not
// fall.
const leastSpan = 0.15

// dayNormal is what the chain needs of one day of the year.
type dayNormal struct {
	mean, span  float64 // °C
	sd          float64 // of the anomaly without the slow offset, °C
	wetAfterDry float64
	wetAfterWet float64
	shiftWet    float64 // standard deviations
	shiftDry    float64
	spanWet     float64 // of span
	spanDry     float64
	shape, rate float64 // of the gamma amount above 1 mm
}

// NewGenerator prepares the weather of a site. The anchor is the day from
// which Fill works outwards, usually today.
func NewGenerator(s *Site, anchor yard.Date) (*Generator, error) {
	g := &Generator{
		site: s, anchor: anchor, lag: s.Region.Lag1, fresh: math.Sqrt(1 - s.Region.Lag1*s.Region.Lag1),
		half: s.Region.Offset, keep: s.Region.Persistence, spread: s.Region.RangeCV,
	}
	lo, err := Course(s.TMin)
	if err != nil {
		return nil, err
	}
	hi, err := Course(s.TMax)
	if err != nil {
		return nil, err
	}
	var sd [12]float64
	copy(sd[:], s.Region.SD)
	spread, err := Course(sd)
	if err != nil {
		return nil, err
	}
	day := 0
	for m := range 12 {
		rain := g.rainOf(m)
		for range monthLength[m] {
			n := rain
			n.mean, n.span = (lo[day]+hi[day])/2, math.Max(hi[day]-lo[day], 1)
			n.sd = math.Sqrt(math.Max(spread[day]*spread[day]-g.half*g.half, 0.01))
			g.normal[day] = n
			day++
		}
	}
	return g, nil
}

// rainOf sets the part of a day's normal that depends on its month's rain.
func (g *Generator) rainOf(m int) dayNormal {
	s, r := g.site, g.site.Region
	w := s.WetDays[m] / float64(monthLength[m])
	n := dayNormal{spanWet: 1, spanDry: 1}
	if w <= 0 {
		return n
	}
	n.wetAfterDry = w * (1 - g.keep)
	n.wetAfterWet = n.wetAfterDry + g.keep
	// Wet days are less warm (or less cold) than dry ones, their range is
	// narrower; both kinds together keep the month's means.
	n.shiftWet = r.MeanWetSD
	n.shiftDry = -r.MeanWetSD * w / (1 - w)
	n.spanDry = 1 / (w*r.RangeWet + 1 - w)
	n.spanWet = n.spanDry * r.RangeWet
	mean := s.Rain[m] / s.WetDays[m]
	over := math.Max(mean-1, 0.05)
	sd := r.WetCV * mean
	n.shape = over * over / (sd * sd)
	n.rate = over / (sd * sd)
	return n
}

// Fill makes the weather of len(dst) days from a day on. It implements
// Source.
//
// It works outwards from the last day measured, or from the anchor: forwards
// for the days after it, backwards for those before (both the chain and the
// anomaly run the same way in either direction of time), so that a longer
// past or a further horizon changes no day that was there before.
func (g *Generator) Fill(dst []Day, known []Known, from yard.Date, draw int, seed uint64) {
	w := walk{
		g: g, dst: dst, known: known, from: int(from), draw: draw, seed: seed,
		index: dayIndex(from, len(dst)), half: math.MinInt,
	}
	first := chance.NewStreams(seed, "weather on the anchor", "").Draw(draw)
	z, wet := first.NormFloat64(), first.Float64() < 0.5
	at := min(max(int(g.anchor-from), 0), len(dst))
	if last := lastKnown(known); last >= 0 {
		at = last + 1
		if known[last]&Rain != 0 {
			wet = dst[last].Rain >= 1
		}
		z = w.anomaly(last, wet)
	}
	w.run(at, len(dst), 1, "weather after", z, wet)
	w.run(at-1, -1, -1, "weather before", z, wet)
}

// lastKnown is the last day of which the temperature was measured, or −1.
func lastKnown(known []Known) int {
	for i := len(known) - 1; i >= 0; i-- {
		if known[i]&Temperature != 0 {
			return i
		}
	}
	return -1
}

// walk fills days in one direction.
type walk struct {
	g      *Generator
	dst    []Day
	known  []Known
	from   int
	draw   int
	seed   uint64
	index  []int16
	half   int
	offset float64
}

// run fills the days from i to before end by steps of by.
func (w *walk) run(i, end, by int, purpose string, z float64, wet bool) {
	src := chance.NewStreams(w.seed, purpose, "").Source(w.draw)
	rnd := rand.New(src)
	g := w.g
	for ; i != end; i += by {
		n := &g.normal[w.index[i]]
		z = g.lag*z + g.fresh*rnd.NormFloat64()
		wet = rnd.Float64() < n.after(wet)
		shape := max(1+g.spread*rnd.NormFloat64(), leastSpan)
		var known Known
		if w.known != nil {
			known = w.known[i]
		}
		day := &w.dst[i]
		if known&Rain != 0 {
			wet = day.Rain >= 1
		}
		if known&Temperature != 0 {
			z = w.anomaly(i, wet) // the anomaly carries on from what was measured
		} else {
			mean := w.base(i) + n.sd*(z+n.shift(wet))
			span := n.span * n.spanOf(wet) * shape
			day.TMin, day.TMax = float32(mean-span/2), float32(mean+span/2)
		}
		if known&Rain == 0 {
			day.Rain = 0
			if wet {
				day.Rain = 1 + float32(distuv.Gamma{Alpha: n.shape, Beta: n.rate, Src: src}.Rand())
			}
		}
	}
}

// base is the normal mean of day i with warming and the half-year's offset.
func (w *walk) base(i int) float64 {
	return w.g.normal[w.index[i]].mean + w.g.site.Warmer(yard.Date(w.from+i)) + w.offsetOf(i)
}

// anomaly is that of a measured day, in standard deviations.
func (w *walk) anomaly(i int, wet bool) float64 {
	n := &w.g.normal[w.index[i]]
	return (w.dst[i].Mean()-w.base(i))/n.sd - n.shift(wet)
}

// offsetOf is the slow offset of the half-year of day i, °C.
func (w *walk) offsetOf(i int) float64 {
	const halfYear = 365.25 / 2
	if h := int(math.Floor(float64(w.from+i) / halfYear)); h != w.half {
		w.half = h
		rnd := chance.NewStreams(w.seed, "offset of the half-year", strconv.Itoa(h)).Draw(w.draw)
		w.offset = w.g.half * rnd.NormFloat64()
	}
	return w.offset
}

func (n *dayNormal) after(wet bool) float64 {
	if wet {
		return n.wetAfterWet
	}
	return n.wetAfterDry
}

func (n *dayNormal) shift(wet bool) float64 {
	if wet {
		return n.shiftWet
	}
	return n.shiftDry
}

func (n *dayNormal) spanOf(wet bool) float64 {
	if wet {
		return n.spanWet
	}
	return n.spanDry
}

// dayIndex is the day of the normal year of each of n days.
func dayIndex(from yard.Date, n int) []int16 {
	index := make([]int16, n)
	for i := 0; i < n; {
		// A month at a time: dates are slow to take apart.
		d := from + yard.Date(i)
		length := int(d.MonthStart().AddMonths(1) - d)
		first := dayOfNormal(d)
		last := monthFirst[d.Month()-1] + monthLength[d.Month()-1] - 1
		for j := 0; j < length && i < n; j++ {
			index[i] = int16(min(first+j, last))
			i++
		}
	}
	return index
}
