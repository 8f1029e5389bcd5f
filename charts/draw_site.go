package charts

import (
	"fmt"
	"math"

	echarts "github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"hodaba/forecast"
	"hodaba/forecast/growth"
	"hodaba/yard"
)

// monthWeather is what was measured in a month, or in all months of a name.
type monthWeather struct {
	label            string // "January", or "May 2025"
	month            int    // January 0
	tmin, tmax, rain float64
	temps, rains     bool // they are known
}

// mean is the middle of day and night.
func (m monthWeather) mean() float64 { return (m.tmin + m.tmax) / 2 }

// against sets measured months beside the normals of their names.
type against struct {
	id, whose string // "your record" or "measured"
	months    []monthWeather
	normals   *[12]forecast.SiteNormal
}

func (a *against) normal(i int) forecast.SiteNormal { return a.normals[a.months[i].month] }

// any reports whether anything of a kind was measured.
func (a *against) any(known func(monthWeather) bool) bool {
	for _, m := range a.months {
		if known(m) {
			return true
		}
	}
	return false
}

func temps(m monthWeather) bool { return m.temps }
func rains(m monthWeather) bool { return m.rains }

// temperatures draws the mean night and day of each month: a band for the
// normals, an upright line for what was measured.
func (b *book) temperatures(a against, said string) *drawing {
	_, unit := b.units.degrees()
	d := &drawing{ID: a.id + "-temperature", Said: said,
		Table: grid{Caption: "Mean night and day by month, " + unit, Head: []string{"Month", "Normal night", "Normal day"}}}
	if a.any(temps) {
		d.Table.Head = append(d.Table.Head, capital(a.whose)+", night", capital(a.whose)+", day", "Warmer by")
	}
	for i, m := range a.months {
		n := a.normal(i)
		row := []string{m.label, b.units.c(n.TMin), b.units.c(n.TMax)}
		switch {
		case m.temps:
			row = append(row, b.units.c(m.tmin), b.units.c(m.tmax), b.difference(m.mean()-(n.TMin+n.TMax)/2))
		case a.any(temps):
			row = append(row, "", "", "")
		}
		d.Table.add(row...)
	}
	d.Option = b.drawn(func() map[string]any { return b.temperatureOption(a, said) })
	return d
}

// difference is a difference of temperatures with its sign, in the unit that
// the head of the table names.
func (b *book) difference(x float64) string {
	if b.units.us {
		x *= 9.0 / 5
	}
	s := decimal1(x)
	if s[0] != '-' && s != "0.0" {
		s = "+" + s
	}
	return s
}

func (b *book) temperatureOption(a against, said string) map[string]any {
	by, unit := b.units.degrees()
	coldest := a.normal(0).TMin
	for i, m := range a.months {
		coldest = min(coldest, a.normal(i).TMin)
		if m.temps {
			coldest = min(coldest, m.tmin)
		}
	}
	c, labels := b.monthLine(a, opts.XAxis{Name: unit, Min: b.units.floor(coldest)}, said)
	var low, high, middle []point
	var ranges []opts.CustomData
	for i, m := range a.months {
		n := a.normal(i)
		low = append(low, point{month: i + 1, v: by(n.TMin)})
		high = append(high, point{month: i + 1, v: by(n.TMax)})
		middle = append(middle, point{month: i + 1, v: by((n.TMin + n.TMax) / 2),
			said: fmt.Sprintf("%s, normal: %s to %s", m.label, b.units.c(n.TMin), b.units.c(n.TMax))})
		if m.temps {
			ranges = append(ranges, opts.CustomData{Value: []any{i, whole(by(m.tmin)), whole(by(m.tmax))},
				Name: fmt.Sprintf("%s, %s: %s to %s", m.label, a.whose, b.units.c(m.tmin), b.units.c(m.tmax))})
		}
	}
	c.SetXAxis(labels)
	band(c, "normal, night to day", skyBlue, low, high)
	stroke(c, "normal mean", blue, "solid", middle)
	if len(ranges) > 0 {
		r := echarts.NewCustom()
		r.AddSeries(a.whose, ranges, echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnRange}),
			echarts.WithEncodeOpts(opts.Encode{X: []int{0}, Y: []int{1, 2}}),
			echarts.WithItemStyleOpts(opts.ItemStyle{Color: vermillion}))
		c.Overlap(r)
	}
	c.Validate()
	return option(&c.RectChart, sign{"normal, night to day", area}, sign{"normal mean", solid}, sign{a.whose, upright})
}

// monthLine starts a line chart on an axis of months.
func (b *book) monthLine(a against, y opts.XAxis, said string) (*echarts.Line, []string) {
	c := echarts.NewLine()
	c.SetGlobalOptions(canvas("axis", opts.XAxis{Type: "category"}, y, said)...)
	labels := make([]string, len(a.months))
	for i, m := range a.months {
		labels[i] = monthName(m.month)[:3]
	}
	return c, labels
}

// rainfall draws the rain of each month, normal and measured side by side.
func (b *book) rainfall(a against, said string) *drawing {
	d := &drawing{ID: a.id + "-rain", Said: said, Table: grid{Caption: "Rain by month", Head: []string{"Month", "Normal"}}}
	if a.any(rains) {
		d.Table.Head = append(d.Table.Head, capital(a.whose), "Of the normal")
	}
	for i, m := range a.months {
		n := a.normal(i)
		row := []string{m.label, b.units.rain(n.Rain)}
		switch {
		case m.rains && n.Rain > 0:
			row = append(row, b.units.rain(m.rain), fmt.Sprintf("%.0f %%", 100*m.rain/n.Rain))
		case m.rains:
			row = append(row, b.units.rain(m.rain), "")
		case a.any(rains):
			row = append(row, "", "")
		}
		d.Table.add(row...)
	}
	d.Option = b.drawn(func() map[string]any { return b.rainOption(a, said) })
	return d
}

func (b *book) rainOption(a against, said string) map[string]any {
	by, unit := b.units.rainScale()
	_, labels := b.monthLine(a, opts.XAxis{}, said)
	var normal, own []opts.BarData
	for i, m := range a.months {
		n := a.normal(i)
		normal = append(normal, opts.BarData{Name: m.label + ", normal: " + b.units.rain(n.Rain), Value: whole(n.Rain / by)})
		bar := opts.BarData{Value: "-"}
		if m.rains {
			bar = opts.BarData{Name: m.label + ", " + a.whose + ": " + b.units.rain(m.rain), Value: whole(m.rain / by)}
		}
		own = append(own, bar)
	}
	c := echarts.NewBar()
	c.SetGlobalOptions(canvas("axis", opts.XAxis{Type: "category"}, opts.XAxis{Name: unit, Min: 0}, said)...)
	c.SetXAxis(labels)
	c.AddSeries("normal", normal, echarts.WithItemStyleOpts(opts.ItemStyle{Color: skyBlue, BorderColor: blue, BorderWidth: 1}))
	if a.any(rains) {
		c.AddSeries(a.whose, own, echarts.WithItemStyleOpts(opts.ItemStyle{Color: vermillion, BorderColor: "#000", BorderWidth: 1}))
	}
	c.Validate()
	return option(&c.RectChart, sign{"normal", area}, sign{a.whose, "roundRect"})
}

// ground draws the temperature of logs and soil in the twelve months ahead.
func (b *book) ground() *drawing {
	months := b.Result.Site.Ahead.Months
	if len(months) == 0 {
		return nil
	}
	cold, warm := months[0], months[0]
	for _, m := range months {
		if m.Log.P50 < cold.Log.P50 {
			cold = m
		}
		if m.Log.P50 > warm.Log.P50 {
			warm = m
		}
	}
	d := &drawing{ID: "ground", Said: fmt.Sprintf(
		"Logs are coldest in %s (likely %s; the soil over a bed %s) and warmest in %s (%s; soil %s), as means of day and night.",
		monthYear(cold.Month), b.units.c(cold.Log.P50), b.units.c(cold.Soil.P50),
		monthYear(warm.Month), b.units.c(warm.Log.P50), b.units.c(warm.Soil.P50))}
	d.Table = grid{Caption: "Mean of the month: likely, and 8 years in 10 between", Head: []string{"Month", "Log", "8 years in 10",
		"Soil", "8 years in 10", "Air", "Rain", "8 years in 10"}}
	for _, m := range months {
		d.Table.add(monthYear(m.Month), b.units.c(m.Log.P50), between(m.Log, b.units.c), b.units.c(m.Soil.P50),
			between(m.Soil, b.units.c), b.units.c(m.Air.P50), b.units.rain(m.Rain.P50), between(m.Rain, b.units.rain))
	}
	d.Option = b.drawn(func() map[string]any { return b.groundOption(months, d.Said) })
	return d
}

func (b *book) groundOption(months []forecast.SiteMonth, said string) map[string]any {
	by, unit := b.units.degrees()
	coldest := months[0].Log.P10
	for _, m := range months {
		coldest = min(coldest, m.Log.P10, m.Soil.P10)
	}
	c := echarts.NewLine()
	c.SetGlobalOptions(canvas("axis", opts.XAxis{Type: "time"}, opts.XAxis{Name: unit, Min: b.units.floor(coldest)}, said)...)
	draw := func(name, colour, dash string, of func(*forecast.SiteMonth) *forecast.Amount) {
		var low, high, likely []point
		for i := range months {
			m := &months[i]
			a, day := of(m), m.Month+14
			low = append(low, point{day: day, v: by(a.P10)})
			high = append(high, point{day: day, v: by(a.P90)})
			likely = append(likely, point{day: day, v: by(a.P50), said: fmt.Sprintf("%s, %s: likely %s, %s", monthYear(m.Month), name,
				b.units.c(a.P50), yearly(*a, b.units.c))})
		}
		band(c, name+", 8 years in 10", colour, low, high)
		stroke(c, name, colour, dash, likely)
	}
	draw("log", green, "solid", func(m *forecast.SiteMonth) *forecast.Amount { return &m.Log })
	draw("soil", vermillion, "dashed", func(m *forecast.SiteMonth) *forecast.Amount { return &m.Soil })
	c.Validate()
	return option(&c.RectChart, sign{"log", solid}, sign{"log, 8 years in 10", area}, sign{"soil", dashes},
		sign{"soil, 8 years in 10", area})
}

// moisture draws the moisture of the reference log week by week, with the
// marks that matter.
func (b *book) moisture() *drawing {
	weeks := b.Result.Site.Ahead.Weeks
	if len(weeks) == 0 {
		return nil
	}
	worst := weeks[0]
	for _, w := range weeks {
		if w.DryChance > worst.DryChance {
			worst = w
		}
	}
	marks := b.marksOfMoisture()
	said := fmt.Sprintf("A log%s that nobody waters is at about %s water today, %s.", b.referenceWords(), wetness(weeks[0].Moisture.P50),
		mostly("times", wetness(weeks[0].Moisture.P10), wetness(weeks[0].Moisture.P90)))
	if worst.DryChance > 0 {
		said += fmt.Sprintf(" The chance that it wants water is largest around %s (%s).", fullDay(worst.Day), percent(worst.DryChance))
	} else {
		said += " It wants no water in the half year ahead."
	}
	d := &drawing{ID: "moisture", Said: said, Table: grid{Caption: "Water in a log, share of its whole weight, by week",
		Head: []string{"Day", "Likely", "8 times in 10", "Watering due"}}}
	for _, w := range weeks {
		d.Table.add(fullDay(w.Day), wetness(w.Moisture.P50), between(w.Moisture, wetness), percent(w.DryChance))
	}
	d.Option = b.drawn(func() map[string]any { return moistureOption(weeks, marks, d.Said) })
	return d
}

// referenceWords say which log is meant.
func (b *book) referenceWords() string {
	cm := b.Data.Practice.ReferenceDiameter.Value
	if cm <= 0 {
		return ""
	}
	return fmt.Sprintf(" of %s in the shade of the yard (%.0f %%)", b.units.cm(yard.Span{Low: cm, High: cm}), b.State.Config.Site.Shade)
}

// moistureMark is a moisture at which something happens, percent.
type moistureMark struct {
	name, colour, dash string
	percent            float64
}

func (b *book) marksOfMoisture() []moistureMark {
	pr := &b.Data.Practice
	return []moistureMark{
		{"water from here", blue, "dashed", pr.WaterBelow.Value},
		{"spawn is lost from here", vermillion, "dotted", pr.SpawnLost.Value},
	}
}

func moistureOption(weeks []forecast.SiteWeek, lines []moistureMark, said string) map[string]any {
	var low, high, likely []point
	for _, w := range weeks {
		low = append(low, point{day: w.Day, v: 100 * w.Moisture.P10})
		high = append(high, point{day: w.Day, v: 100 * w.Moisture.P90})
		likely = append(likely, point{day: w.Day, v: 100 * w.Moisture.P50, said: fmt.Sprintf("%s: likely %s water, %s; watering due: %s",
			fullDay(w.Day), wetness(w.Moisture.P50), mostly("times", wetness(w.Moisture.P10), wetness(w.Moisture.P90)), percent(w.DryChance))})
	}
	c := timeLine("% water", nil, said)
	band(c, "8 times in 10", green, low, high)
	stroke(c, "likely", green, "solid", likely)
	signs := []sign{{"likely", solid}, {"8 times in 10", area}}
	for i, l := range lines {
		if l.percent <= 0 {
			continue
		}
		name := fmt.Sprintf("%s (%.0f %%)", l.name, l.percent)
		stroke(c, name, l.colour, l.dash, []point{{day: weeks[0].Day, v: l.percent}, {day: weeks[len(weeks)-1].Day, v: l.percent}})
		signs = append(signs, sign{name, []string{dashes, dots}[i]})
	}
	c.Validate()
	return option(&c.RectChart, signs...)
}

// yearGrowth is the growth of one year up to the day and month of today.
type yearGrowth struct {
	label        string
	days         forecast.Amount
	ranged       bool
	degrees      float64 // degree-days to the same day, NaN where not measured
	wholeDegrees float64 // of the whole year, NaN where not measured
}

// growth sets the growing days of this year so far against other years.
func (b *book) growth() *drawing {
	a := &b.Result.Site.Ahead
	if a.Species == "" || a.Usual.P90 <= 0 && a.SoFar.P90 <= 0 {
		return nil
	}
	years := b.growthYears()
	d := &drawing{ID: "growth", Said: fmt.Sprintf("Since January a log has had %s %s; usual by %s are %s, %s.", figure(a.SoFar.P50),
		growingOf(a), b.today().Time().Format("2 January"), figure(a.Usual.P50), yearly(a.Usual, figure))}
	base := b.units.mark(degreeBase)
	d.Table = grid{Caption: "From 1 January to " + b.today().Time().Format("2 January"),
		Head: []string{"Year", "Growing days", "8 years in 10"}}
	measured := false
	for _, y := range years {
		measured = measured || !math.IsNaN(y.degrees) || !math.IsNaN(y.wholeDegrees)
	}
	if measured {
		d.Table.Head = append(d.Table.Head, "Degree-days over "+base, "Whole year, over "+base)
	}
	for _, y := range years {
		row := []string{y.label, figure(y.days.P50), ""}
		if y.ranged {
			row[2] = between(y.days, figure)
		}
		if measured {
			row = append(row, b.degreeDays(y.degrees), b.degreeDays(y.wholeDegrees))
		}
		d.Table.add(row...)
	}
	d.Option = b.drawn(func() map[string]any { return growthOption(years, d.Said) })
	return d
}

// degreeDays writes degree-days given in °C.
func (b *book) degreeDays(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	if b.units.us {
		x *= 9.0 / 5
	}
	return figure(x)
}

func (b *book) growthYears() []yearGrowth {
	a := &b.Result.Site.Ahead
	var years []yearGrowth
	for _, p := range a.Past {
		y := yearGrowth{label: fmt.Sprint(p.Year), days: forecast.Amount{P50: p.Days}}
		y.degrees, y.wholeDegrees = b.degreesOf(p.Year)
		years = append(years, y)
	}
	now := yearGrowth{label: fmt.Sprintf("%d so far", b.today().Year()), days: a.SoFar, ranged: a.SoFar.P10 != a.SoFar.P90}
	now.degrees, _ = b.degreesOf(b.today().Year())
	now.wholeDegrees = math.NaN()
	return append(years, now, yearGrowth{label: "usual", days: a.Usual, ranged: true, degrees: math.NaN(), wholeDegrees: math.NaN()})
}

// degreeBase is the lower threshold of the degree-days shown, °C; common
// practice, no source.
const degreeBase = 5

// missingDays is how many days a measured sum may lack.
const missingDays = 10

// degreesOf are the degree-days of a measured year, by the single sine, up to
// the day and month of today and over all of it; NaN where days are missing.
func (b *book) degreesOf(year int) (soFar, all float64) {
	from := yard.NewDate(year, 1, 1)
	same := int(b.today() - yard.NewDate(b.today().Year(), 1, 1))
	n := int(yard.NewDate(year+1, 1, 1) - from)
	missing := 0
	soFar = math.NaN()
	for i := range n {
		if w := b.State.Weather.At(from + yard.Date(i)); w.HasTemp {
			all += growth.SingleSine(w.TMin, w.TMax, degreeBase, math.Inf(1))
		} else {
			missing++
		}
		if i == same && missing <= missingDays {
			soFar = all
		}
	}
	if missing > missingDays {
		all = math.NaN()
	}
	return soFar, all
}

func growthOption(years []yearGrowth, said string) map[string]any {
	c := echarts.NewBar()
	var labels []string
	var own, usual []opts.BarData
	var ranges []opts.CustomData
	for i, y := range years {
		labels = append(labels, y.label)
		text := fmt.Sprintf("%s: %s growing days", y.label, figure(y.days.P50))
		bar, none := opts.BarData{Name: text, Value: whole(y.days.P50)}, opts.BarData{Value: "-"}
		if y.ranged {
			bar.Name += ", " + yearly(y.days, figure)
			ranges = append(ranges, opts.CustomData{Name: bar.Name, Value: []any{i, whole(y.days.P10), whole(y.days.P90)}})
		}
		if i < len(years)-1 {
			own, usual = append(own, bar), append(usual, none)
		} else {
			own, usual = append(own, none), append(usual, bar)
		}
	}
	c.SetGlobalOptions(canvas("item", opts.XAxis{Type: "category"}, opts.XAxis{Name: "growing days", Min: 0}, said)...)
	c.SetXAxis(labels)
	stack := echarts.WithBarChartOpts(opts.BarChart{Stack: "year"})
	c.AddSeries("this and measured years", own, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: green}))
	c.AddSeries("usual", usual, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: skyBlue, BorderColor: blue, BorderWidth: 1}))
	if len(ranges) > 0 {
		r := echarts.NewCustom()
		r.AddSeries("8 years in 10", ranges, echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnRange}),
			echarts.WithEncodeOpts(opts.Encode{X: []int{0}, Y: []int{1, 2}}),
			echarts.WithItemStyleOpts(opts.ItemStyle{Color: vermillion}))
		c.Overlap(r)
	}
	c.Validate()
	return option(&c.RectChart, sign{"this and measured years", area}, sign{"usual", "roundRect"}, sign{"8 years in 10", upright})
}
