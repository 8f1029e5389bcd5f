package fruit

import (
	"slices"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/forecast/ground"
)

// Trigger is one chance of a flush. Days are counted from the first day of
// the weather; Warm counts days with the wood above the growth minimum up to
// then.
type Trigger struct {
	Start, Pick         int32 // day it starts, day it is picked
	StartWarm, PickWarm int32
	Season              int32 // number of the season, from one coldest day of the year to the next
	Forced              bool  // by a soak
	Soak                int32 // number of that soak, from 1; 0 for one of nature's
}

// Calendar places days of the weather in the calendar: triggers are counted
// by absolute weeks and seasons, so that a longer past changes none of them.
type Calendar struct {
	Start   int // absolute day of the first day of the weather
	Coldest int // day of the year, from 0, on which the normals are coldest
}

// season is the number of the season of a day.
func (c Calendar) season(day int) int32 {
	return int32((c.Start + day - c.Coldest) * 4 / 1461)
}

// summerOver reports whether half a year has gone since the coldest day: the
// side of the year on which the autumn lies.
func (c Calendar) summerOver(day int) bool {
	const year = 1461 // quarter days
	since := ((c.Start+day-c.Coldest)*4%year + year) % year
	return 2*since >= year
}

// The lengths of the running means, days.
const (
	week     = 7
	month    = 30
	short    = 3   // of a sharp cooling
	halfYear = 150 // over which the year's peak is sought
	peakAgo  = 15  // the 30-day mean must have been falling for as long
)

// Days is what triggers look at, at one place in one draw of weather. Sums are
// kept in whole numbers, so that they do not depend on where they began. One
// Days serves one goroutine and keeps its memory from draw to draw.
type Days struct {
	wood []float32 // °C, daily mean
	heat []int64   // thousandths of a °C, summed over the days before a day
	rain []int64   // hundredths of a mm, likewise
}

// Read takes a draw of weather: the wood's temperature and the air's rain, day
// for day.
func (d *Days) Read(wood ground.Series, air []climate.Day) {
	n := len(air)
	if cap(d.heat) < n+1 {
		d.heat, d.rain = make([]int64, n+1), make([]int64, n+1)
	}
	d.wood, d.heat, d.rain = wood.Mean[:n], d.heat[:n+1], d.rain[:n+1]
	heat, rain := int64(0), int64(0)
	for i := range air {
		heat += nearest(d.wood[i] * 1000)
		rain += nearest(air[i].Rain * 100)
		d.heat[i+1], d.rain[i+1] = heat, rain
	}
}

// nearest is the nearest whole number.
func nearest(x float32) int64 {
	const up = 1 << 22 // makes the number positive, so that cutting off rounds
	return int64(float64(x)+up+0.5) - up
}

// warmth is the sum over n days up to and with day d, thousandths of a °C.
func (d *Days) warmth(day, n int) int64 { return d.heat[day+1] - d.heat[day+1-n] }

// Watch lists the triggers of one strain; one serves one goroutine and keeps
// its memory from draw to draw.
type Watch struct {
	f         *data.Fruit
	pr        *data.Practice
	growthMin float32
	low, high int64   // the band as sums over a week
	dry       float32 // moisture, dry basis, under which no flush starts
	warm      []int32 // days above the growth minimum up to and with a day
	size      []int64 // growth of a flush up to and with a day
	lost      []int32 // times up to and with a day that a flush would have stood still for too long
	rates     []int64 // growth of a flush in a day, by temperature
	days      *Days
}

// NewWatch returns a Watch for a strain whose mycelium grows above growthMin
// °C.
func NewWatch(f *data.Fruit, pr *data.Practice, growthMin float64) *Watch {
	return &Watch{
		f: f, pr: pr, growthMin: float32(growthMin), rates: rateTable(f, pr),
		low: int64(f.BandLow.Value * 1000 * week), high: int64(f.BandHigh.Value * 1000 * week),
		dry: float32(ground.DryBasis(pr.FruitsFrom.Value / 100)),
	}
}

// Settled is how many days of weather Next must have read before its
// triggers are sure not to depend on where the weather began.
const Settled = halfYear + month + 1

// Next appends the triggers in one draw of weather from day from on, in order
// of day.
//
// Purpose: days on which a flush can start and when it is picked. Equations:
// band on the week's mean wood temperature; by strain, rain of a week,
// cooling of the 3-day mean under the 7 days before, or the band alone;
// autumn species only in the half-year that the autumn lies in, after the
// 30-day mean has peaked and sunk below their start temperature; a flush
// grows by 1/days(T) a day, days(T) linear between the band's ends.
// Parameters: data.Fruit, and of data.Practice TriggerGap, PeakFall,
// FlushPatience, FlushStops, FlushStall. State: running sums. Needs wood temperature from
// ground, rain from climate. Errors: none.
func (w *Watch) Next(dst []Trigger, days *Days, from int, c Calendar) []Trigger {
	w.Read(days, from)
	gap := int(w.pr.TriggerGap.Value)
	last := -1
	for d := max(from, month); d < len(days.wood); d++ {
		if t := days.warmth(d, week); t < w.low || t > w.high {
			continue
		}
		block := (c.Start + d) / gap
		if block == last || !w.fires(d, c) {
			continue
		}
		last = block
		if pick, ok := w.grown(d); ok {
			dst = append(dst, w.trigger(d, pick, c))
		}
	}
	return dst
}

// Moist appends those of ts at whose start the wood is wet enough to fruit.
// wet is the moisture by day, dry basis, from day first on; nil where it is
// not followed.
func (w *Watch) Moist(dst, ts []Trigger, wet []float32, first int) []Trigger {
	for _, t := range ts {
		if d := int(t.Start) - first; wet == nil || d >= 0 && wet[d] >= w.dry {
			dst = append(dst, t)
		}
	}
	return dst
}

func (w *Watch) trigger(d, pick int, c Calendar) Trigger {
	return Trigger{
		Start: int32(d), Pick: int32(pick),
		StartWarm: w.warm[d], PickWarm: w.warm[pick],
		Season: c.season(d),
	}
}

// Read sums warm days and the growth of a flush from day to day, from a while
// before day from on. Next does it too.
func (w *Watch) Read(days *Days, from int) {
	w.days = days
	n := len(days.wood)
	if cap(w.warm) < n {
		w.warm, w.size, w.lost = make([]int32, n), make([]int64, n), make([]int32, n)
	}
	w.warm, w.size, w.lost = w.warm[:n], w.size[:n], w.lost[:n]
	stall := int32(w.pr.FlushStall.Value)
	warm, size, still, lost := int32(0), int64(0), int32(0), int32(0)
	for i := max(from-month, 0); i < n; i++ {
		t := days.wood[i]
		if t > w.growthMin {
			warm++
		}
		rate := w.rates[rateIndex(t)]
		size += rate
		if still++; rate > 0 {
			still = 0
		} else if still > stall {
			lost++
		}
		w.warm[i], w.size[i], w.lost[i] = warm, size, lost
	}
}

// The grid on which a flush's growth is looked up.
const (
	rateLow   = -50 // °C
	rateSteps = 20  // per °C
	rateCount = 120 * rateSteps
)

func rateIndex(t float32) int {
	return min(max(int((t-rateLow)*rateSteps+0.5), 0), rateCount-1)
}

// rateTable is what a flush grows in a day, by temperature.
func rateTable(f *data.Fruit, pr *data.Practice) []int64 {
	rates := make([]int64, rateCount)
	for i := range rates {
		rates[i] = int64(wholeFlush * rateAt(f, pr, rateLow+float64(i)/rateSteps))
	}
	return rates
}

// wholeFlush is a ripe flush in the whole numbers in which its growth is
// summed.
const wholeFlush = 1 << 40

// grown is the day on which a flush that starts on day d can be picked.
func (w *Watch) grown(d int) (int, bool) {
	limit := min(d+int(w.pr.FlushPatience.Value*w.f.DaysCool.Value), len(w.size)-1)
	if w.size[limit]-w.size[d] < wholeFlush {
		return 0, false
	}
	i, _ := slices.BinarySearch(w.size[d+1:limit+1], w.size[d]+wholeFlush)
	pick := d + 1 + i
	return pick, w.lost[pick] == w.lost[d]
}

// Soaked is the trigger of a soak that ends on day d of the weather last
// read, where the wood's week lies in the strain's band or up to SoakColder under
// it, where a flush comes too, more slowly; ok is false where it does not or the
// flush would fail. Soaks are planned by it, and what they bring is reckoned by it.
func (w *Watch) Soaked(d int, c Calendar) (t Trigger, ok bool) {
	if w.days == nil || d < week-1 || d >= len(w.days.wood) {
		return t, false
	}
	if x := w.days.warmth(d, week); x < w.low-int64(w.pr.SoakColder.Value*1000*week) || x > w.high {
		return t, false
	}
	pick, ok := w.grown(d)
	if !ok {
		return t, false
	}
	t = w.trigger(d, pick, c)
	t.Forced = true
	return t, true
}

// fires reports whether day d, whose week lies in the band, can start a flush.
func (w *Watch) fires(d int, c Calendar) bool {
	if w.f.Season == "falling" && !(c.summerOver(d) && w.pastPeak(d)) {
		return false
	}
	switch w.f.Trigger {
	case "rain":
		return float64(w.days.rain[d+1]-w.days.rain[d+1-week])/100 >= w.f.RainMM.Value
	case "cooling":
		before := float64(w.days.warmth(d-short, week)) / week
		return before-float64(w.days.warmth(d, short))/short >= 1000*w.f.CoolBy.Value
	}
	return true
}

// pastPeak reports whether the year has passed its warmest, is still falling,
// and has sunk below the strain's start temperature.
func (w *Watch) pastPeak(d int) bool {
	if d < halfYear+month {
		return false
	}
	now := w.days.warmth(d, month)
	if float64(now) > month*1000*w.f.StartBelow.Value || now > w.days.warmth(d-peakAgo, month) {
		return false
	}
	fallen := now + int64(month*1000*w.pr.PeakFall.Value)
	for i := d - peakAgo; i > d-halfYear; i-- {
		if w.days.warmth(i, month) >= fallen {
			return true
		}
	}
	return false
}
