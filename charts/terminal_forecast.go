package charts

import (
	"fmt"
	"math"
	"strings"
	"time"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// monthsShown is the number of month boxes in a row of the terminal, and
// kilogramMonths that of the columns with kilograms: what fits 80 columns.
const (
	monthsShown    = 24
	kilogramMonths = 12
	yearsShown     = 3
)

// Forecast is the forecast of a whole yard: what is run through, what will
// fruit when, and how much.
func (t Terminal) Forecast(s *yard.State, r *forecast.Result) string {
	return t.write(
		t.heading(s, r),
		t.Through(r.Piles),
		t.Harvests(r.Piles),
		t.MonthBoxes(r.Piles),
		t.Kilograms(r.Species),
		t.Years(r.Species),
		t.leftOut(r),
	)
}

// heading says where, when, and on what weather the forecast rests.
func (t Terminal) heading(s *yard.State, r *forecast.Result) string {
	site := r.Site
	where := site.Name
	if site.Period != "" {
		where += " " + site.Period
	}
	if site.DistanceKM >= 1 {
		where += fmt.Sprintf(", %.0f km away", site.DistanceKM)
	}
	text := fmt.Sprintf("%s on %s. Weather: %s", s.Config.Name, r.AsOf.Time().Format("2 January 2006"), where)
	if math.Abs(site.WarmerNow) >= 0.05 {
		text += fmt.Sprintf("; today taken as %.1f °C warmer than those years", site.WarmerNow)
	}
	return wrap("", "", text+".")
}

// Through is the table of how far the mycelium is.
func (t Terminal) Through(piles []*forecast.Pile) string {
	rows := [][]string{}
	for _, p := range piles {
		row := []string{p.Name, p.Species, logCount(p.Logs, p.LogsKnown), "–", "–", "ready-colonised when buried"}
		if c := p.Colonised; c != nil {
			row[3], row[4] = percent(c.ShareNow), percent(c.ChanceNow)
			row[5] = span(c.P10, c.P50, c.P90)
		}
		rows = append(rows, row)
	}
	if len(rows) == 0 {
		return ""
	}
	return "Run through: share of the logs, and how sure that half of them are\n" + table([]column{
		{head: "pile or bed", most: 14}, {head: "species", most: 12}, {head: "logs", right: true},
		{head: "share", right: true}, {head: "half", right: true}, {head: "half: early / likely / late"},
	}, rows)
}

// Harvests is the table of the next harvest of each pile.
func (t Terminal) Harvests(piles []*forecast.Pile) string {
	cols := []column{{head: "pile or bed", most: 15}, {head: "comes", most: 8}, {head: "early / likely / late"}}
	if len(piles) == 0 {
		return ""
	}
	for i, y := range piles[0].YearsAhead {
		if i < yearsShown {
			cols = append(cols, column{head: fmt.Sprint(y.Year), right: true})
		}
	}
	rows := [][]string{}
	for _, p := range piles {
		row := []string{p.Name, inTen(p.First.Chance), span(p.First.P10, p.First.P50, p.First.P90)}
		for i, y := range p.YearsAhead {
			if i < yearsShown {
				row = append(row, t.fresh(y.Fresh.Mean))
			}
		}
		rows = append(rows, row)
	}
	return fmt.Sprintf("Next harvest: in how many years of 10 it comes, when, and %s fresh on average\n", t.heavy()) + table(cols, rows)
}

// MonthBoxes shows the chance that something is picked, month by month.
func (t Terminal) MonthBoxes(piles []*forecast.Pile) string {
	if len(piles) == 0 || len(piles[0].Months) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("Chance of a harvest in the month\n")
	b.WriteString(monthHead(piles[0].Months, 16))
	for _, p := range piles {
		fmt.Fprintf(&b, "%-16s", cut(p.Name, 15))
		for i, m := range p.Months {
			if i < monthsShown {
				b.WriteString(t.gauge(m.HarvestChance, m.Winter))
			}
		}
		b.WriteString("\n")
	}
	b.WriteString(t.gaugeKey() + "\n")
	return b.String()
}

// monthHead is two lines: the years, and the first letters of the months.
func monthHead(months []forecast.Month, left int) string {
	years, letters := strings.Repeat(" ", left), strings.Repeat(" ", left)
	for i, m := range months[:min(len(months), monthsShown)] {
		letters += m.Month.Month().String()[:1] + " "
		if i > 0 && m.Month.Month() != time.January {
			continue
		}
		label := fmt.Sprint(m.Month.Year())
		if i == 0 && m.Month.Month() > time.October { // the next year follows at once
			label = label[2:]
		}
		years += strings.Repeat(" ", left+2*i-len(years)) + label
	}
	return years + "\n" + strings.TrimRight(letters, " ") + "\n"
}

// Kilograms is what each species brings by month, fresh and dried, on average
// over all draws, so that the columns can be added up.
func (t Terminal) Kilograms(species []forecast.Species) string {
	if len(species) == 0 || len(species[0].Months) == 0 {
		return ""
	}
	cols := []column{{head: "", most: 13}}
	for i, m := range species[0].Months {
		if i < kilogramMonths {
			cols = append(cols, column{head: m.Month.Time().Format("Jan"), right: true})
		}
	}
	fresh, dry, sum := [][]string{}, [][]string{}, make([]float64, len(cols))
	for _, s := range species {
		f, d := []string{s.Species}, []string{s.Species}
		for i, m := range s.Months {
			if i < kilogramMonths {
				f, d = append(f, t.fresh(m.Fresh.Mean)), append(d, t.dry(m.Dry.Mean))
				sum[i] += m.Fresh.Mean
			}
		}
		fresh, dry = append(fresh, f), append(dry, d)
	}
	all := []string{"all"}
	for i := range len(cols) - 1 {
		all = append(all, t.fresh(sum[i]))
	}
	from := species[0].Months[0].Month.Time().Format("January 2006")
	return fmt.Sprintf("Fresh, %s by month from %s, on average\n", t.heavy(), from) + table(cols, append(fresh, all)) +
		fmt.Sprintf("\nDried, %s by month were all of it dried, on average\n", t.light()) + table(cols, dry)
}

// Years is what each species brings by calendar year: low, likely and high.
func (t Terminal) Years(species []forecast.Species) string {
	if len(species) == 0 {
		return ""
	}
	cols := []column{{head: "low / likely / high", most: 20}}
	for i, y := range species[0].Years {
		if i < yearsShown {
			cols = append(cols, column{head: fmt.Sprint(y.Year), right: true})
		}
	}
	rows, bare, wide := [][]string{}, false, ""
	for _, s := range species {
		name := s.Species
		if s.Unpublished {
			name = name + " *"
			if s.Wide == data.NoLogYield {
				bare = true
			} else {
				wide += wrap("* ", "  ", s.Species+": a wide guess: "+s.Wide)
			}
		}
		row := []string{name}
		for i, y := range s.Years {
			if i < yearsShown {
				row = append(row, strings.Join([]string{t.fresh(y.Fresh.P10), t.fresh(y.Fresh.P50), t.fresh(y.Fresh.P90)}, " / "))
			}
		}
		rows = append(rows, row)
	}
	out := fmt.Sprintf("Fresh, %s by year\n", t.heavy()) + table(cols, rows)
	if bare {
		out += "* no log yield is published: a wide guess\n"
	}
	return out + wide
}

func (t Terminal) leftOut(r *forecast.Result) string {
	var b strings.Builder
	for _, l := range r.LeftOut {
		b.WriteString(wrap("not forecast: ", "  ", l.Pile+": "+l.Why))
	}
	return b.String()
}

// Pile is the forecast of one pile or bed, with all that must be said of it.
func (t Terminal) Pile(s *yard.State, r *forecast.Result, p *forecast.Pile) string {
	one := []*forecast.Pile{p}
	return t.write(
		t.heading(s, r),
		wrap("", "", t.title(p))+wrap("", "", leadOf(p, r)),
		t.Through(one),
		t.growing(p),
		t.wet(p),
		t.Harvests(one),
		t.pileMonths(p),
		t.basis(p),
		t.notes(p),
	)
}

// title is what a pile or bed is, in a line.
func (t Terminal) title(p *forecast.Pile) string {
	return fmt.Sprintf("%s: %s, %s logs, %s %s", p.Name, speciesWords(p.Species, p.Strain),
		logCount(p.Logs, p.LogsKnown), sinceWord(p), p.Since)
}

func sinceWord(p *forecast.Pile) string {
	if p.Kind == "bed" && p.Colonised == nil {
		return "buried"
	}
	return "inoculated"
}

func (t Terminal) growing(p *forecast.Pile) string {
	if p.Colonised == nil {
		return ""
	}
	return wrap("", "", fmt.Sprintf("Growing days (a day at the best temperature): %.0f so far; "+
		"half of the logs need about %.0f, between %.0f and %.0f in 8 years of 10.",
		p.GrowingDays.P50, p.NeedDays.P50, p.NeedDays.P10, p.NeedDays.P90))
}

// wet is how wet the logs of a pile are; nothing for a bed.
func (t Terminal) wet(p *forecast.Pile) string {
	m := p.Moisture
	if m == nil {
		return ""
	}
	text := fmt.Sprintf("Water in the logs, a coarse guess: %s, %s; watering due within two weeks: %s",
		wetness(m.Now.P50), mostly("times", wetness(m.Now.P10), wetness(m.Now.P90)), percent(m.DryChance))
	if m.Lost >= lostWorthWord {
		text += "; spawn lost to drought: " + percent(m.Lost)
	}
	return wrap("", "", text+".")
}

// pileMonths lists the months ahead in which something can come.
func (t Terminal) pileMonths(p *forecast.Pile) string {
	rows := [][]string{}
	for i, m := range p.Months {
		if i >= monthsShown {
			break
		}
		row := []string{shortMonth(m.Month), t.gauge(m.HarvestChance, m.Winter), percent(m.HarvestChance),
			t.fresh(m.Fresh.P10) + " / " + t.fresh(m.Fresh.P50) + " / " + t.fresh(m.Fresh.P90), t.fresh(m.Fresh.Mean)}
		if p.Colonised != nil {
			row = append(row, percent(m.ShareThrough), percent(m.ColonisedChance))
		}
		rows = append(rows, row)
	}
	cols := []column{{head: "month"}, {head: ""}, {head: "harvest", right: true},
		{head: t.heavy() + " low / likely / high", right: true}, {head: "average", right: true}}
	if p.Colonised != nil {
		cols = append(cols, column{head: "through", right: true}, column{head: "half", right: true})
	}
	return "Month by month, at the month's end\n" + table(cols, rows)
}

func (t Terminal) basis(p *forecast.Pile) string {
	kg := func(x float64) string { return t.fresh(x) + " " + t.heavy() }
	return wrap("", "", strings.Join(restsOn(p.Yield, kg), " "))
}

func (t Terminal) notes(p *forecast.Pile) string {
	var b strings.Builder
	for _, n := range p.Notes {
		b.WriteString(wrap("- ", "  ", n.Text))
	}
	return b.String()
}

func logCount(n int, known bool) string {
	if !known {
		return fmt.Sprintf("~%d", n)
	}
	return fmt.Sprint(n)
}
