package charts

import (
	"fmt"
	"math"
	"strings"

	"hodaba/forecast"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// siteFile is the page of the site.
const siteFile = "site.html"

// sitePage is the main part of the page of the site.
type sitePage struct {
	Work    []doorLine
	Missing string // what is to be done about the own record, "" nothing
	Coming  []string
	Sure    []string
	Doubts  []string
	Parts   []sitePart
}

// sitePart is a group of charts under a heading.
type sitePart struct {
	ID, Name string
	Charts   []*drawing
	Note     string
}

func (b *book) siteSheet() sheet {
	p := sitePage{Missing: b.recordWanted(), Coming: b.siteComing(), Sure: b.weather(), Doubts: b.Result.Site.Notes}
	for _, t := range b.tasks {
		if t.Kind == "water" || t.Kind == "scales" {
			p.Work = append(p.Work, b.doorLine(t))
		}
	}
	p.Sure = append(p.Sure, b.recordWords()...)
	s := sheet{kind: "site", file: siteFile, title: "Site"}
	for _, part := range []sitePart{
		{ID: "wet", Name: "How wet logs are", Charts: []*drawing{b.moisture()}, Note: b.coarse()},
		{ID: "warm", Name: "How warm logs and soil are", Charts: []*drawing{b.ground()}},
		{ID: "growing", Name: "How much grew this year", Charts: []*drawing{b.growth()}},
		{ID: "season", Name: "The last twelve months against normal", Charts: b.seasonDrawings()},
		{ID: "normals", Name: b.normalsName(), Charts: b.normalDrawings()},
	} {
		if part.Charts = drawings(part.Charts); len(part.Charts) == 0 {
			continue
		}
		p.Parts = append(p.Parts, part)
		for _, d := range part.Charts {
			s.charts = append(s.charts, *d)
		}
	}
	s.main = p
	return s
}

// drawings leaves out those that have nothing to show.
func drawings(list []*drawing) []*drawing {
	var out []*drawing
	for _, d := range list {
		if d != nil {
			out = append(out, d)
		}
	}
	return out
}

// staleRecord is after how many days without a reading the own record is
// asked for again.
const staleRecord = 60

// recordWanted asks for the own record where there is none, or where it ended
// long ago.
func (b *book) recordWanted() string {
	last := b.lastMeasured()
	switch {
	case b.Result.Site.Name == "":
		return ""
	case last == 0:
		return "There are no temperatures of your own yet. A file of daily minimum and maximum, of your thermometer or of a weather service's station next door, makes what is past certain"
	case last < b.today()-staleRecord:
		return "The temperatures of your own record end on " + fullDay(last) + ". Bring it up to date"
	}
	return ""
}

// lastMeasured is the last day with temperatures of one's own, zero without.
func (b *book) lastMeasured() yard.Date {
	w := b.State.Weather
	for d := w.To(); w != nil && d >= w.From; d-- {
		if w.At(d).HasTemp {
			return d
		}
	}
	return 0
}

// siteComing is what the weather ahead brings, as days and counts with their
// chances.
func (b *book) siteComing() []string {
	a := &b.Result.Site.Ahead
	if len(a.Months) == 0 {
		return nil
	}
	pr := &b.Data.Practice
	said := []string{
		firstOf("hard frost ("+b.units.mark(pr.HardFrost.Value)+" or colder at night)", a.HardFrost),
		lastOf(a.LastFrost),
	}
	over := b.units.mark(pr.HotDay.Value)
	hot := fmt.Sprintf("Days over %s in the year ahead: likely %s, %s.", over, whole0(a.HotDays.P50), yearly(a.HotDays, whole0))
	if a.HotDays.P90 == 0 {
		hot = fmt.Sprintf("Days over %s: none in the year ahead, 9 years in 10.", over)
	}
	return append(said, hot)
}

// firstOf says when something comes for the first time within the year ahead.
func firstOf(what string, f forecast.FirstHarvest) string {
	switch {
	case !(f.Chance > 0):
		return "No " + what + " comes within a year."
	case f.P50 == 0:
		s := fmt.Sprintf("The chance of a %s within a year is %s", what, percent(f.Chance))
		if f.P10 != 0 {
			s += ", " + inDays(f.Dates)
		}
		return s + "."
	case f.P90 == 0:
		return fmt.Sprintf("The next %s is most likely about %s, %s; the chance that none comes within a year is %s.",
			what, fullDay(f.P50), inDays(f.Dates), percent(1-f.Chance))
	}
	return fmt.Sprintf("The next %s is most likely about %s, %s.", what, fullDay(f.P50), inDays(f.Dates))
}

// lastOf says when the last frost before summer is over. Where some years
// have no more frost, its days are those of the others and only the chance is
// said.
func lastOf(f forecast.FirstHarvest) string {
	switch {
	case !(f.Chance > 0):
		return "No more frost comes before summer."
	case f.Chance < 0.9 || f.P90 == 0:
		return fmt.Sprintf("The chance of another frost before summer is %s.", percent(f.Chance))
	}
	return fmt.Sprintf("The last frost before summer is most likely about %s, %s.", fullDay(f.P50), inDays(f.Dates))
}

// recordWords says what there is of the own record and what it does.
func (b *book) recordWords() []string {
	s := &b.Result.Site
	r := &s.Record
	if r.TempDays == 0 && r.RainDays == 0 {
		return nil
	}
	var kinds []string
	if r.TempDays > 0 {
		kinds = append(kinds, count(r.TempDays, "day", "days")+" with temperatures")
	}
	if r.RainDays > 0 {
		kinds = append(kinds, count(r.RainDays, "day", "days")+" with rain measured")
	}
	first := fmt.Sprintf("Your own record, from %s to %s: %s.", fullDay(r.From), fullDay(r.To), listing(kinds))
	does := "Its days count as they were measured; from three years of temperatures on it corrects the normals too."
	switch {
	case s.Resampled:
		does = "The years ahead are put together from its seasons."
	case r.Corrected:
		does = fmt.Sprintf("It corrects the normals, with the weight of its %s years.", figure(r.Years))
	case r.Strange != "":
		does = "It is not used to correct the normals while it looks like another place."
	}
	return []string{first, does}
}

func (b *book) coarse() string {
	return "This part is coarse: a balance of rain, shade and evaporation, fitted to a few sentences in growers' bulletins, which do not say whether they count water by the whole or the dry weight. A log on the scales knows better: hodaba record weighed."
}

// seasonMonths is how many whole months back the season is looked at, and
// monthDays how many measured days make a month of it.
const (
	seasonMonths = 12
	monthDays    = 20
)

// season is what was measured in the last whole months.
func (b *book) season() []monthWeather {
	var list []monthWeather
	for i := seasonMonths; i >= 1; i-- {
		first := b.today().MonthStart().AddMonths(-i)
		m := b.monthOf(first, first.AddMonths(1)-1)
		m.label, m.month = monthYear(first), int(first.Month())-1
		list = append(list, m)
	}
	return list
}

// monthOf is the mean of a month with enough measured days; its rain is
// brought to all of its days.
func (b *book) monthOf(first, last yard.Date) monthWeather {
	var m monthWeather
	temps, rains := 0, 0
	for d := first; d <= last; d++ {
		w := b.State.Weather.At(d)
		if w.HasTemp {
			temps++
			m.tmin += w.TMin
			m.tmax += w.TMax
		}
		if w.HasRain {
			rains++
			m.rain += w.Rain
		}
	}
	m.tmin /= math.Max(float64(temps), 1)
	m.tmax /= math.Max(float64(temps), 1)
	m.rain *= float64(last-first+1) / math.Max(float64(rains), 1)
	m.temps, m.rains = temps >= monthDays, rains >= monthDays
	return m
}

func (b *book) seasonDrawings() []*drawing {
	if b.State.Weather == nil || len(b.State.Weather.Days) == 0 {
		return nil
	}
	a := against{id: "season", whose: "measured", months: b.season(), normals: &b.Result.Site.Normals}
	var list []*drawing
	if a.any(temps) {
		list = append(list, b.temperatures(a, b.warmthSaid(a)))
	}
	if a.any(rains) {
		list = append(list, b.rainfall(a, b.rainSaid(a)))
	}
	return list
}

// warmthSaid compares measured months with the normals of the same months.
func (b *book) warmthSaid(a against) string {
	sum, n := 0.0, 0
	for i, m := range a.months {
		if m.temps {
			x := a.normal(i)
			sum += m.mean() - (x.TMin+x.TMax)/2
			n++
		}
	}
	return fmt.Sprintf("Over %s with temperatures it was %s normal.", monthsCounted(n, len(a.months)), b.units.warmer(sum/float64(n)))
}

// monthsCounted reads "all 12 months" or "7 of 12 months".
func monthsCounted(n, of int) string {
	if n == of {
		return fmt.Sprintf("all %d months", of)
	}
	return fmt.Sprintf("%d of %d months", n, of)
}

func (b *book) rainSaid(a against) string {
	fell, normal, n := 0.0, 0.0, 0
	for i, m := range a.months {
		if m.rains {
			fell += m.rain
			normal += a.normal(i).Rain
			n++
		}
	}
	return fmt.Sprintf("Over %s with a rain gauge there fell %s; normal are %s.", monthsCounted(n, len(a.months)),
		b.units.rain(fell), b.units.rain(normal))
}

func (b *book) normalsName() string {
	if b.Result.Site.Record.TempDays > 0 {
		return "The normals against your record"
	}
	return "The normals"
}

// normalDrawings are the normals that the forecast is made with, and beside
// them the means of the own record.
func (b *book) normalDrawings() []*drawing {
	s := &b.Result.Site
	if s.Normals == [12]forecast.SiteNormal{} {
		return nil
	}
	a := against{id: "normal", whose: "your record", normals: &s.Normals}
	for m := range 12 {
		a.months = append(a.months, recordMonth(&s.Record, m))
	}
	warm := "Mean night and day by month, as the forecast takes them."
	if a.any(temps) {
		warm = b.warmthSaid(a)
		if s.Record.Corrected {
			warm = strings.TrimSuffix(warm, ".") + "; these normals are corrected by it already."
		}
	}
	wet := "Rain by month, as the forecast takes it."
	if a.any(rains) {
		wet = b.rainSaid(a)
	}
	return []*drawing{b.temperatures(a, warm), b.rainfall(a, wet)}
}

// recordMonth is a month of the own record. One with a few days of rain only
// says nothing of a month's sum.
func recordMonth(r *climate.Record, m int) monthWeather {
	known := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	return monthWeather{
		label: monthName(m), month: m, tmin: r.TMin[m], tmax: r.TMax[m], rain: r.Rain[m],
		temps: r.TempDays > 0 && known(r.TMin[m]) && known(r.TMax[m]),
		rains: r.RainDays >= 12*monthDays && known(r.Rain[m]),
	}
}
