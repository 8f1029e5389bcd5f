package takes

import (
	"time"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// Site is the warmth of a place. Twelve means that are all alike, as of a Site
// that nobody filled in, have no seasons, and nothing is said of them.
type Site struct {
	Mean      [12]float64 // °C, of each month, January first
	LastFrost yard.Date   // usual day of it, of any year; zero: not known
	BudSwell  yard.Date   // usual day on which buds swell, of any year; zero: by temperature
}

// yearDays is the length of the year in which a Run is counted: 29 February is
// taken with the 28th.
const yearDays = 365

// Run is a stretch of days of the year, from 0 for 1 January; From is after To
// where it runs over the new year.
type Run struct{ From, To int }

// Holds reports whether a day is in the run.
func (r Run) Holds(d yard.Date) bool {
	n := dayOf(d)
	if r.From <= r.To {
		return r.From <= n && n <= r.To
	}
	return n >= r.From || n <= r.To
}

// Windows is when wood is felled and logs are inoculated at a place.
type Windows struct {
	Known       bool  // false: without seasons, nothing can be said
	Felling     []Run // trees are dormant
	Inoculating []Run // as it is usual: toward summer, or in a mild winter
	Autumn      []Run // warm enough too, with time to take before winter, but not usual
}

// WindowsOf finds them. Trees are dormant from the day in autumn on which the
// mean has sunk to that of coloured leaves until some weeks before that of
// swelling buds. One inoculates while the mean lies between the opening and the
// closing that fit the species and method; with weeks of warmth to come for the
// spawn to take, where the year is cooling; and, where the last frost is known,
// not much before it. The
// daily means are the smooth course through the monthly ones.
func WindowsOf(site Site, species, method string, in *data.Inoculating) Windows {
	course, ok := courseOf(site.Mean)
	if !ok || in == nil {
		return Windows{}
	}
	w := Windows{Known: true, Felling: runs(dormant(course, site, in))}
	for _, r := range runs(inoculable(course, site, species, method, in)) {
		if course.rising(r.From) || course.rising(r.To) {
			w.Inoculating = append(w.Inoculating, r)
		} else {
			w.Autumn = append(w.Autumn, r)
		}
	}
	return w
}

// Months are those of which at least half lies in one of the runs.
func Months(all []Run) (months []time.Month) {
	const year = 2001 // one without a leap day
	for m := time.January; m <= time.December; m++ {
		first, last := yard.NewDate(year, m, 1), yard.NewDate(year, m+1, 1)-1
		n := 0
		for d := first; d <= last; d++ {
			if held, _ := holding(all, d); held {
				n++
			}
		}
		if 2*n >= int(last-first)+1 {
			months = append(months, m)
		}
	}
	return months
}

// holding finds the run in which a day lies.
func holding(all []Run, d yard.Date) (bool, Run) {
	for _, r := range all {
		if r.Holds(d) {
			return true, r
		}
	}
	return false, Run{}
}

// course is the mean temperature of each day of the year.
type course [yearDays]float64

func courseOf(mean [12]float64) (course, bool) {
	alike := true
	for _, t := range mean {
		alike = alike && t == mean[0] // not so of NaN, which Course turns into NaN
		if !(t > absoluteZero && t < -absoluteZero) {
			return course{}, false
		}
	}
	if alike {
		return course{}, false
	}
	c, err := climate.Course(mean)
	return course(c), err == nil
}

// absoluteZero in °C: a bound against slips.
const absoluteZero = -273.15

func (c *course) on(day int) float64 { return c[((day%yearDays)+yearDays)%yearDays] }

// rising reports whether it gets warmer about a day.
func (c *course) rising(day int) bool { return c.on(day+1) > c.on(day-1) }

// ahead is the coolest of a day and as many after it, and their mean.
func (c *course) ahead(day, more int) (low, mean float64) {
	low = c.on(day)
	for k := range more + 1 {
		low = min(low, c.on(day+k))
		mean += c.on(day+k) / float64(more+1)
	}
	return low, mean
}

// dormant says of each day whether trees are.
func dormant(c course, site Site, in *data.Inoculating) (days [yearDays]bool) {
	before := weeks(in.Dormant.Before.Value)
	swell := in.Dormant.Swell.Value
	for d := range days {
		asleep := c[d] <= in.Dormant.Colour.Value
		if c.rising(d) { // toward spring it is the buds that count
			asleep = c[d] <= swell
		}
		if site.BudSwell == 0 && asleep {
			asleep = !(c.rising(d+before) && c.on(d+before) > swell)
		}
		days[d] = asleep
	}
	if site.BudSwell != 0 {
		budsAt(&days, c, dayOf(site.BudSwell)-before)
	}
	return days
}

// budsAt makes a day, from which buds are taken to stir, end dormancy, whatever
// the temperature says of the days about it.
func budsAt(days *[yearDays]bool, c course, stir int) {
	at := func(d int) *bool { return &days[((d%yearDays)+yearDays)%yearDays] }
	for d := stir; d < stir+yearDays/2 && c.rising(d); d++ {
		*at(d) = false
	}
	for d := stir - 1; d > stir-yearDays/2 && !*at(d) && c.rising(d); d-- {
		*at(d) = true
	}
}

// inoculable says of each day whether it is warm enough, not too warm, and early
// enough in the year.
func inoculable(c course, site Site, species, method string, in *data.Inoculating) (days [yearDays]bool) {
	opens, closes := warmth(species, method, in)
	catch := weeks(in.Spring.Catch.Value)
	for d := range days {
		low, mean := c.ahead(d, catch)
		days[d] = c[d] <= closes && low >= opens && (c.rising(d) || mean >= in.Spring.Mean.Value)
	}
	if site.LastFrost != 0 {
		first := dayOf(site.LastFrost) - weeks(in.Spring.Frost.Value)
		for d := first - yearDays/2; d < first; d++ {
			days[((d%yearDays)+yearDays)%yearDays] = false
		}
	}
	return days
}

// warmth is the warmest opening and the warmest closing of all that fit.
func warmth(species, method string, in *data.Inoculating) (opens, closes float64) {
	first := true
	for i := range in.Warmths {
		w := &in.Warmths[i]
		if !w.Fits(species, method) {
			continue
		}
		if w.Opens.Set() && (first || w.Opens.Value > opens) {
			opens = w.Opens.Value
		}
		if w.Closes.Set() && (first || w.Closes.Value > closes) {
			closes = w.Closes.Value
		}
		first = false
	}
	return opens, closes
}

// runs gathers days into stretches, in the order of the year; one over the new
// year comes last.
func runs(days [yearDays]bool) (all []Run) {
	start := -1
	for d := 0; d < yearDays && start < 0; d++ {
		if !days[d] {
			start = d
		}
	}
	if start < 0 {
		return []Run{{0, yearDays - 1}}
	}
	for k := 1; k <= yearDays; k++ {
		d := (start + k) % yearDays
		if !days[d] {
			continue
		}
		if !days[(d+yearDays-1)%yearDays] {
			all = append(all, Run{From: d})
		}
		all[len(all)-1].To = d
	}
	return all
}

func weeks(w float64) int { return int(7*w + 0.5) }

// dayOf is the day of the year, from 0.
func dayOf(d yard.Date) int {
	first := yard.NewDate(2001, d.Month(), d.Day()) // 29 February becomes 1 March
	if d.Month() == time.February && first.Month() != time.February {
		first--
	}
	return first.YearDay() - 1
}
