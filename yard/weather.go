package yard

import (
	"bytes"
	"strconv"
	"time"
)

// Weather is what was measured on consecutive days. A nil Weather knows
// nothing.
type Weather struct {
	From Date
	Days []WeatherDay
}

// WeatherDay is what was measured on one day: minimum and maximum of the air
// temperature, °C, if HasTemp, and rain, mm, if HasRain. The zero WeatherDay
// is a day of which nothing is known.
type WeatherDay struct {
	TMin, TMax, Rain float64
	HasTemp, HasRain bool

	// lone says which of the temperatures is known where the other is not;
	// HasTemp is then false.
	lone lone
}

type lone uint8

const (
	loneMin lone = iota + 1
	loneMax
)

// The limits of what is believed of a day: temperatures in °C, rain in mm.
const (
	coldest  = -60
	hottest  = 60
	mostRain = 500
)

// element is one thing measured on a day.
type element int

const (
	minimum element = iota
	maximum
	rainfall
	measured // how many there are
)

var elementWords = [measured]string{"minimum", "maximum", "rain"}

// get is one element of a day; ok is false where it is not known.
func (d *WeatherDay) get(e element) (v float64, ok bool) {
	switch e {
	case minimum:
		return d.TMin, d.HasTemp || d.lone == loneMin
	case maximum:
		return d.TMax, d.HasTemp || d.lone == loneMax
	}
	return d.Rain, d.HasRain
}

// set makes one element of a day known.
func (d *WeatherDay) set(e element, v float64) {
	switch e {
	case minimum:
		d.TMin = v
		d.pair(loneMin, loneMax)
	case maximum:
		d.TMax = v
		d.pair(loneMax, loneMin)
	default:
		d.Rain, d.HasRain = v, true
	}
}

// pair notes that one temperature is known now: both, if the other was.
func (d *WeatherDay) pair(this, other lone) {
	switch {
	case d.HasTemp:
	case d.lone == other:
		d.HasTemp, d.lone = true, 0
	default:
		d.lone = this
	}
}

// known reports whether anything is known of the day.
func (d *WeatherDay) known() bool { return d.HasTemp || d.HasRain || d.lone != 0 }

// At is the weather of a day; the zero WeatherDay outside of what is known.
func (w *Weather) At(d Date) WeatherDay {
	if w == nil || d < w.From || int(d-w.From) >= len(w.Days) {
		return WeatherDay{}
	}
	return w.Days[d-w.From]
}

// To is the last day; the day before From where there is none.
func (w *Weather) To() Date {
	if w == nil {
		return -1
	}
	return w.From + Date(len(w.Days)) - 1
}

// Known is the number of days with both temperatures, and of days with rain
// measured, also if there was none.
func (w *Weather) Known() (temperatures, rain int) {
	if w == nil {
		return 0, 0
	}
	for i := range w.Days {
		if w.Days[i].HasTemp {
			temperatures++
		}
		if w.Days[i].HasRain {
			rain++
		}
	}
	return temperatures, rain
}

// Slice is the weather from one day to another, both included; nil where
// nothing is known between them. It shares its days with w.
func (w *Weather) Slice(from, to Date) *Weather {
	if w == nil {
		return nil
	}
	from, to = max(from, w.From), min(to, w.To())
	for from <= to && !w.Days[from-w.From].known() {
		from++
	}
	for from <= to && !w.Days[to-w.From].known() {
		to--
	}
	if from > to {
		return nil
	}
	n := int(to-from) + 1
	at := int(from - w.From)
	return &Weather{From: from, Days: w.Days[at : at+n : at+n]}
}

// A MonthMean is the mean of one calendar month over all its days: Rain is
// scaled to a whole month, and those of which nothing is known are zero with
// no days.
type MonthMean struct {
	TMin, TMax float64 // °C
	Rain       float64 // mm a month
	TempDays   int     // days with both temperatures
	RainDays   int     // days with rain measured
}

// daysOfMonth is the mean length of a month, January first.
var daysOfMonth = [12]float64{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// Months are the means by calendar month, January first.
func (w *Weather) Months() (months [12]MonthMean) {
	if w == nil {
		return months
	}
	for i := range w.Days {
		d := &w.Days[i]
		m := &months[(w.From+Date(i)).Month()-time.January]
		if d.HasTemp {
			m.TMin += d.TMin
			m.TMax += d.TMax
			m.TempDays++
		}
		if d.HasRain {
			m.Rain += d.Rain
			m.RainDays++
		}
	}
	for i := range months {
		m := &months[i]
		if m.TempDays > 0 {
			m.TMin /= float64(m.TempDays)
			m.TMax /= float64(m.TempDays)
		}
		if m.RainDays > 0 {
			m.Rain *= daysOfMonth[i] / float64(m.RainDays)
		}
	}
	return months
}

// weatherHeading is the first line of weather.csv.
const weatherHeading = "date,tmin_c,tmax_c,rain_mm\n"

// CSV is the weather as it stands in weather.csv: a row for each day of which
// anything is known, and blank cells for what is not.
func (w *Weather) CSV() []byte {
	b := []byte(weatherHeading)
	if w == nil {
		return b
	}
	for i := range w.Days {
		d := &w.Days[i]
		if !d.known() {
			continue
		}
		b = (w.From + Date(i)).Time().AppendFormat(b, time.DateOnly)
		for e := range measured {
			b = append(b, ',')
			if v, ok := d.get(e); ok {
				b = appendReading(b, v)
			}
		}
		b = append(b, '\n')
	}
	return b
}

// appendReading writes a number with at least one decimal.
func appendReading(b []byte, v float64) []byte {
	at := len(b)
	b = strconv.AppendFloat(b, v, 'f', -1, 64)
	if bytes.IndexByte(b[at:], '.') < 0 {
		b = append(b, ".0"...)
	}
	return b
}

// calendarDay is a day as it stands in weather.csv, also the first of 1970.
func calendarDay(d Date) string { return d.Time().Format(time.DateOnly) }
