package growth

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/forecast/ground"
)

// Cardinal is a response to temperature with a lower limit, an optimum and an
// upper limit, °C.
type Cardinal struct {
	Min, Opt, Max float64
	Inflected     bool // the shape of Rosso et al. 1993, else the beta function
}

// Of takes the cardinal temperatures of a strain on one of the curves that its
// response may have. An inflected curve whose optimum does not lie above the
// middle of its limits, for which the shape is not defined, is taken as beta.
func Of(g data.Growth, c data.Curve) Cardinal {
	out := Cardinal{Min: g.TMin.Value + c.Min.Value, Opt: g.TOpt.Value + c.Opt.Value, Max: g.TMax.Value + c.Max.Value}
	out.Inflected = c.Form == "inflected" && out.Opt > (out.Min+out.Max)/2
	return out
}

// At is the growth at a temperature as a share of the growth at the optimum:
//
//	f(T) = (Tmax−T)/(Tmax−Topt) · ((T−Tmin)/(Topt−Tmin))^c,  c = (Topt−Tmin)/(Tmax−Topt)
//
// zero at and outside Tmin and Tmax (the beta function of Yan & Hunt 1999,
// Annals of Botany 84:607–614, with a lower limit); or, inflected,
//
//	f(T) = (T−Tmax)(T−Tmin)² / {(Topt−Tmin)[(Topt−Tmin)(T−Topt) − (Topt−Tmax)(Topt+Tmin−2T)]}
//
// (Rosso, Lobry & Flandrois 1993, Journal of Theoretical Biology 162:447–463).
func (c Cardinal) At(t float64) float64 {
	if t <= c.Min || t >= c.Max {
		return 0
	}
	if a, o, b := c.Min, c.Opt, c.Max; c.Inflected {
		return (t - b) * (t - a) * (t - a) / ((o - a) * ((o-a)*(t-o) - (o-b)*(o+a-2*t)))
	}
	exponent := (c.Opt - c.Min) / (c.Max - c.Opt)
	return (c.Max - t) / (c.Max - c.Opt) * math.Pow((t-c.Min)/(c.Opt-c.Min), exponent)
}

// hours at which a day's sine is sampled: the middle of each.
const hours = 24

// Day is the mean of At over a day whose temperature runs as a sine about a
// mean with a half-range of swing: 24 hours, each at its middle.
func (c Cardinal) Day(mean, swing float64) float64 {
	sum := 0.0
	for h := range hours {
		sum += c.At(mean + swing*math.Sin(2*math.Pi*(float64(h)+0.5)/hours))
	}
	return sum / hours
}

// The grid of the table: means from tableLow on, swings from 0 on.
const (
	tableLow   = -45.0 // °C
	tableHigh  = 60.0
	meanStep   = 0.25
	swingStep  = 0.5
	swingHigh  = 20.0
	fineSteps  = 50 // of At, per °C
	meanCount  = int((tableHigh-tableLow)/meanStep) + 1
	swingCount = int(swingHigh/swingStep) + 1
)

// Response is a Cardinal's Day, tabulated once and then looked up.
//
// Purpose: growing days per day. Equation: Cardinal.At averaged over the
// day's sine. Parameters: Tmin, Topt, Tmax (°C, data/species). State: none.
// Needs the wood's mean and swing from ground. Errors: NewResponse, where
// the limits are out of order.
type Response struct {
	Cardinal
	table []float32 // by mean, then swing
}

// NewResponse tabulates a response.
func NewResponse(c Cardinal) (*Response, error) {
	if !(c.Min < c.Opt && c.Opt < c.Max) {
		return nil, fmt.Errorf("growth limits out of order: minimum %g, best %g, maximum %g °C", c.Min, c.Opt, c.Max)
	}
	r := &Response{Cardinal: c, table: make([]float32, meanCount*swingCount)}
	fine := make([]float64, int((tableHigh-tableLow+2*swingHigh)*fineSteps)+1)
	for i := range fine {
		fine[i] = c.At(tableLow - swingHigh + float64(i)/fineSteps)
	}
	// Morning and afternoon are alike: from the coldest hour to the warmest is
	// half of all.
	var sine [hours / 2]float64
	for h := range sine {
		sine[h] = math.Sin(math.Pi * (float64(h) + 0.5 - hours/4) / (hours / 2))
	}
	for m := range meanCount {
		for w := range swingCount {
			sum := 0.0
			for _, s := range sine {
				t := float64(m)*meanStep + float64(w)*swingStep*s + swingHigh
				sum += fine[int(t*fineSteps+0.5)]
			}
			r.table[m*swingCount+w] = float32(sum / (hours / 2))
		}
	}
	return r, nil
}

// Day is Cardinal.Day from the table, linear between its grid points.
func (r *Response) Day(mean, swing float32) float32 {
	x := (mean - tableLow) / meanStep
	y := swing / swingStep
	if x < 0 || x >= float32(meanCount-1) {
		return 0
	}
	y = min(max(y, 0), float32(swingCount-1)-1e-3)
	i, j := int(x), int(y)
	fx, fy := x-float32(i), y-float32(j)
	k := i*swingCount + j
	a := r.table[k] + (r.table[k+1]-r.table[k])*fy
	k += swingCount
	b := r.table[k] + (r.table[k+1]-r.table[k])*fy
	return a + (b-a)*fx
}

// Days fills dst with the growing days of each day of s; dst and s have the
// same length.
func (r *Response) Days(dst []float32, s ground.Series) {
	mean, swing := s.Mean[:len(dst)], s.Swing[:len(dst)]
	for i := range dst {
		dst[i] = r.Day(mean[i], swing[i])
	}
}

// Sum fills dst with the growing days from the end of day anchor to the end
// of each day, negative for the days before it, from those of each day; dst
// and days have the same length. held is the share of growth that moisture
// allows on each day, or nil. Counted from the anchor outwards, a longer past
// changes nothing of what was there before.
func Sum(dst, days, held []float32, anchor int) {
	if held == nil {
		held = always(len(days))
	}
	held = held[:len(days)]
	sum := 0.0
	for i := max(anchor+1, 0); i < len(days); i++ {
		sum += float64(days[i] * held[i])
		dst[i] = float32(sum)
	}
	sum = 0
	for i := anchor; i >= 0; i-- {
		dst[i] = float32(-sum)
		sum += float64(days[i] * held[i])
	}
}

func always(n int) []float32 {
	ones := make([]float32, n)
	for i := range ones {
		ones[i] = 1
	}
	return ones
}
