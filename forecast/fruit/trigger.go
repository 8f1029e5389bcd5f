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

// Watch reads weather for triggers; one serves one goroutine and keeps its
// memory from draw to draw.
type Watch struct {
	f         *data.Fruit
	pr        *data.Practice
	growthMin float64
	wood      ground.Series
	air       []climate.Day
	milli     []int32 // wood temperature in thousandths of a °C: whole numbers, whose running sums do not depend on where they began
	centi     []int32 // rain in hundredths of a mm
	weekT     int64
	monthT    int64
	shortT    int64
	weekRain  int64
	monthMean []float32
	warm      []int32 // days above the growth minimum up to and with a day
	size      []int64 // growth of a flush up to and with a day
	peak      []int32 // days in falling order of their 30-day mean: the front is the highest of the last halfYear days
}

// NewWatch returns a Watch for a strain whose mycelium grows above growthMin
// °C.
func NewWatch(f *data.Fruit, pr *data.Practice, growthMin float64) *Watch {
	return &Watch{f: f, pr: pr, growthMin: growthMin}
}

// Next appends the triggers in one draw of weather, in order of day.
//
// Purpose: days on which a flush can start and when it is picked. Equations:
// band on the week's mean wood temperature; by strain, rain of a week,
// cooling of the 3-day mean under the 7 days before, or the band alone;
// autumn species only in the half-year that the autumn lies in, after the
// 30-day mean has peaked and sunk below their start temperature; a flush grows by 1/days(T) a day, days(T) linear between
// the band's ends. Parameters: data.Fruit, and of data.Practice TriggerGap,
// PeakFall, FlushPatience, FlushStops. State: running means. Needs wood
// temperature from ground, rain from climate. Errors: none.
func (w *Watch) Next(dst []Trigger, wood ground.Series, air []climate.Day, c Calendar) []Trigger {
	w.reset(wood, air)
	gap := int(w.pr.TriggerGap.Value)
	last := -1
	for d := range air {
		w.step(d)
		block := (c.Start + d) / gap
		if d < month || block == last || !w.fires(d, c) {
			continue
		}
		last = block
		pick, ok := w.grown(d)
		if !ok {
			continue
		}
		dst = append(dst, Trigger{
			Start: int32(d), Pick: int32(pick),
			StartWarm: w.warm[d], PickWarm: w.warm[pick],
			Season: c.season(d),
		})
	}
	return dst
}

func (w *Watch) reset(wood ground.Series, air []climate.Day) {
	w.wood, w.air = wood, air
	w.weekT, w.monthT, w.shortT, w.weekRain = 0, 0, 0, 0
	w.peak = w.peak[:0]
	n := len(air)
	if cap(w.warm) < n {
		w.warm, w.monthMean = make([]int32, n), make([]float32, n)
		w.milli, w.centi = make([]int32, n), make([]int32, n)
		w.size = make([]int64, n)
	}
	w.warm, w.monthMean, w.milli, w.centi = w.warm[:n], w.monthMean[:n], w.milli[:n], w.centi[:n]
	w.size = w.size[:n]
	w.grow()
	warm, limit := int32(0), float32(w.growthMin)
	for d, t := range wood.Mean {
		if t > limit {
			warm++
		}
		w.warm[d] = warm
		w.milli[d] = nearest(t * 1000)
		w.centi[d] = nearest(air[d].Rain * 100)
	}
}

// nearest is the nearest whole number.
func nearest(x float32) int32 {
	const up = 1 << 22 // makes the number positive, so that cutting off rounds
	return int32(float64(x)+up+0.5) - up
}

// Soaked is the trigger of a soak that ends on day d of the weather last
// read by Next; ok is false where the wood is out of the strain's band or
// the flush would fail.
func (w *Watch) Soaked(d int, c Calendar) (t Trigger, ok bool) {
	if d < 0 || d >= len(w.air) {
		return t, false
	}
	if m := float64(w.wood.Mean[d]); m < w.f.BandLow.Value-w.pr.FlushStops.Value || m > w.f.BandHigh.Value {
		return t, false
	}
	pick, ok := w.grown(d)
	if !ok {
		return t, false
	}
	return Trigger{
		Start: int32(d), Pick: int32(pick), StartWarm: w.warm[d], PickWarm: w.warm[pick],
		Season: c.season(d), Forced: true,
	}, true
}

// grown is the day on which a flush that starts on day d can be picked.
func (w *Watch) grown(d int) (int, bool) {
	limit := min(d+int(w.pr.FlushPatience.Value*w.f.DaysCool.Value), len(w.size)-1)
	ripe := w.size[d] + wholeFlush
	i, found := slices.BinarySearch(w.size[d+1:limit+1], ripe)
	if !found && d+1+i > limit {
		return 0, false
	}
	return d + 1 + i, true
}

// wholeFlush is a ripe flush in the whole numbers in which its growth is
// summed, so that sums do not depend on where they began.
const wholeFlush = 1 << 40

// grow sums what a flush would grow from day to day.
func (w *Watch) grow() {
	low, high := w.f.BandLow.Value, w.f.BandHigh.Value
	slow, fast := w.f.DaysCool.Value, w.f.DaysWarm.Value
	perDegree := (fast - slow) / (high - low)
	stops := w.pr.FlushStops.Value
	sum := int64(0)
	for i, t32 := range w.wood.Mean {
		t := float64(t32)
		rate := wholeFlush / (slow + perDegree*(min(max(t, low), high)-low))
		if t < low {
			rate *= max(0, 1-(low-t)/stops)
		}
		sum += int64(rate)
		w.size[i] = sum
	}
}

// step moves the running sums on to day d.
func (w *Watch) step(d int) {
	t := int64(w.milli[d])
	w.weekT += t
	w.monthT += t
	w.shortT += t
	w.weekRain += int64(w.centi[d])
	if d >= week {
		w.weekT -= int64(w.milli[d-week])
		w.weekRain -= int64(w.centi[d-week])
	}
	if d >= month {
		w.monthT -= int64(w.milli[d-month])
	}
	if d >= short {
		w.shortT -= int64(w.milli[d-short])
	}
	if w.f.Season != "falling" {
		return
	}
	w.monthMean[d] = float32(float64(w.monthT) / 1000 / float64(min(d+1, month)))
	if d >= month {
		w.keepPeak(d)
	}
}

// keepPeak keeps the highest 30-day mean of the last half-year in front.
func (w *Watch) keepPeak(d int) {
	for len(w.peak) > 0 && w.monthMean[w.peak[len(w.peak)-1]] <= w.monthMean[d] {
		w.peak = w.peak[:len(w.peak)-1]
	}
	w.peak = append(w.peak, int32(d))
	if int(w.peak[0]) <= d-halfYear {
		w.peak = append(w.peak[:0], w.peak[1:]...)
	}
}

// fires reports whether day d can start a flush.
func (w *Watch) fires(d int, c Calendar) bool {
	mean := float64(w.weekT) / 1000 / week
	if mean < w.f.BandLow.Value || mean > w.f.BandHigh.Value {
		return false
	}
	if w.f.Season == "falling" && !(c.summerOver(d) && w.pastPeak(d)) {
		return false
	}
	switch w.f.Trigger {
	case "rain":
		return float64(w.weekRain)/100 >= w.f.RainMM.Value
	case "cooling":
		return w.weekBefore(d)-float64(w.shortT)/1000/short >= w.f.CoolBy.Value
	}
	return true
}

// weekBefore is the mean of the seven days before the last three.
func (w *Watch) weekBefore(d int) float64 {
	sum := int64(0)
	for i := d - short - week + 1; i <= d-short; i++ {
		sum += int64(w.milli[i])
	}
	return float64(sum) / 1000 / week
}

// pastPeak reports whether the year has passed its warmest, is still falling,
// and has sunk below the strain's start temperature.
func (w *Watch) pastPeak(d int) bool {
	now := w.monthMean[d]
	if float64(now) > w.f.StartBelow.Value || d < month+peakAgo {
		return false
	}
	top := w.monthMean[w.peak[0]]
	return float64(top-now) >= w.pr.PeakFall.Value && now <= w.monthMean[d-peakAgo]
}
