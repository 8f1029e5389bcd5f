package climate

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// Record is what the grower's own weather says of the site.
type Record struct {
	From, To  yard.Date
	TempDays  int // days with temperatures
	RainDays  int // days with rain known
	Years     float64
	TMin      [12]float64 // means as measured, NaN without a day
	TMax      [12]float64
	Rain      [12]float64 // mm a month, from its known days
	Corrected bool        // the normals were moved towards it
	Strange   string      // why it may be of another place, "" where it fits
}

// The days below which a record says nothing yet about its place, and the
// years from which it corrects the station.
const (
	judgeDays    = 60
	correctYears = 3
)

// The differences in °C from the normals, over all and in one month, that
// make one ask whether a record is of this place.
const (
	strangeMean  = 4.0
	strangeMonth = 8.0
)

// Read sums up a record and, from three years of temperatures on, moves the
// site's normals and its day-to-day statistics towards it: by n/(n+k), n the
// years of the record and k data.Practice.RecordYears. It changes s.
func (s *Site) Read(w *yard.Weather, pr *data.Practice) Record {
	var r Record
	if w == nil || len(w.Days) == 0 {
		return r
	}
	r.From, r.To = w.From, w.From+yard.Date(len(w.Days)-1)
	var sums [12]monthSum
	for i, d := range w.Days {
		sums[(w.From+yard.Date(i)).Month()-1].add(d, s.Warmer(w.From+yard.Date(i)))
	}
	for m := range sums {
		r.TempDays += sums[m].temps
		r.RainDays += sums[m].rains
		r.TMin[m], r.TMax[m] = sums[m].minimum(), sums[m].maximum()
		r.Rain[m] = sums[m].monthly(m)
	}
	r.Years = float64(r.TempDays) / 365.25
	r.Strange = s.strange(&sums, r.TempDays)
	if r.Years >= correctYears && r.Strange == "" && whole(&sums) {
		s.correct(&sums, r.Years, pr.RecordYears.Value)
		s.correctSpread(w, r.Years, pr.RecordYears.Value)
		r.Corrected = true
	}
	return r
}

// monthSum sums the days of one month of the year.
type monthSum struct {
	temps, rains, wets int
	lo, hi, warmer     float64
	rain               float64
}

func (m *monthSum) add(d yard.WeatherDay, warmer float64) {
	if d.HasTemp {
		m.temps++
		m.lo += d.TMin
		m.hi += d.TMax
		m.warmer += warmer
	}
	if d.HasRain {
		m.rains++
		m.rain += d.Rain
		if d.Rain >= 1 {
			m.wets++
		}
	}
}

func (m *monthSum) minimum() float64 { return m.lo / float64(m.temps) } // 0/0 is NaN
func (m *monthSum) maximum() float64 { return m.hi / float64(m.temps) }

func (m *monthSum) monthly(month int) float64 {
	return m.rain / float64(m.rains) * float64(monthLength[month])
}

func whole(sums *[12]monthSum) bool {
	for m := range sums {
		if sums[m].temps < 28 {
			return false
		}
	}
	return true
}

// strange says why a record may be of another place.
func (s *Site) strange(sums *[12]monthSum, days int) string {
	if days < judgeDays {
		return ""
	}
	all, worst, month := 0.0, 0.0, 0
	for m := range sums {
		x := &sums[m]
		if x.temps == 0 {
			continue
		}
		d := (x.lo+x.hi)/2 - x.warmer - float64(x.temps)*s.MeanTemperature(m)
		all += d
		if mean := d / float64(x.temps); x.temps >= 20 && math.Abs(mean) > math.Abs(worst) {
			worst, month = mean, m
		}
	}
	mean := all / float64(days)
	switch {
	case math.Abs(mean) > strangeMean:
		return fmt.Sprintf("your record is %.1f °C %s than the normals over %d days: is it of this place, and in °C?", math.Abs(mean), warmerWord(mean), days)
	case math.Abs(worst) > strangeMonth:
		return fmt.Sprintf("your record is %.1f °C %s than the normal in month %d: is it of this place, and in °C?", math.Abs(worst), warmerWord(worst), month+1)
	}
	return ""
}

func warmerWord(d float64) string {
	if d > 0 {
		return "warmer"
	}
	return "colder"
}

// correct moves the normals towards the record's means, taken back by the
// warming since the normals' middle year.
func (s *Site) correct(sums *[12]monthSum, years, k float64) {
	share := years / (years + k)
	towards := func(from, to float64) float64 { return from + share*(to-from) }
	for m := range sums {
		x := &sums[m]
		warmer := x.warmer / float64(x.temps)
		s.TMin[m] = towards(s.TMin[m], x.minimum()-warmer)
		s.TMax[m] = towards(s.TMax[m], x.maximum()-warmer)
		if x.rains < correctYears*28 {
			continue
		}
		s.Rain[m] = towards(s.Rain[m], x.monthly(m))
		s.WetDays[m] = towards(s.WetDays[m], float64(x.wets)/float64(x.rains)*float64(monthLength[m]))
		s.WetDays[m] = math.Min(s.WetDays[m], s.Rain[m]/1.05)
	}
}

// correctSpread moves the anomaly's deviation by month and its memory
// towards the record's, about the corrected normals.
func (s *Site) correctSpread(w *yard.Weather, years, k float64) {
	var mean [12]float64
	for m := range mean {
		mean[m] = s.MeanTemperature(m)
	}
	course, err := Course(mean)
	if err != nil {
		return // the region's statistics stand
	}
	var square, count [12]float64
	var product, lagged, last float64
	had := false
	for i, d := range w.Days {
		if !d.HasTemp {
			had = false
			continue
		}
		day := w.From + yard.Date(i)
		a := (d.TMin+d.TMax)/2 - course[dayOfNormal(day)] - s.Warmer(day)
		m := day.Month() - 1
		square[m] += a * a
		count[m]++
		if had {
			product += a * last
			lagged += last * last
		}
		last, had = a, true
	}
	share := years / (years + k)
	region := *s.Region
	region.SD = append([]float64(nil), region.SD...)
	for m := range 12 {
		variance := square[m] / count[m]
		region.SD[m] = math.Sqrt((1-share)*region.SD[m]*region.SD[m] + share*variance)
	}
	if lagged > 0 {
		region.Lag1 += share * (min(max(product/lagged, 0), 0.95) - region.Lag1)
	}
	s.Region = &region
}
