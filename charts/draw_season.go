package charts

import (
	"fmt"
	"strconv"

	echarts "github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"hodaba/forecast/season"
)

// fruitDrawings show each species that is planned or wanted by year: what
// stands, what the plan adds, and what is wanted.
func (s *seasonBook) fruitDrawings() (list []drawing) {
	if s.plan == nil {
		return nil
	}
	var names []string
	by := map[string][]season.Year{}
	for _, y := range s.plan.Years {
		if by[y.Species] == nil {
			names = append(names, y.Species)
		}
		by[y.Species] = append(by[y.Species], y)
	}
	for _, name := range names {
		if s.inSeason(name, by[name]) {
			list = append(list, s.fruitDrawing("fruit"+strconv.Itoa(len(list)+1), name, by[name]))
		}
	}
	return list
}

// inSeason reports whether logs of a species are planned, or any of it wanted.
func (s *seasonBook) inSeason(species string, years []season.Year) bool {
	for _, l := range s.plan.Lines {
		if l.Species == species && l.Kind != "buy" {
			return true
		}
	}
	for _, y := range years {
		if y.Wanted > 0 {
			return true
		}
	}
	return false
}

func (s *seasonBook) fruitDrawing(id, species string, years []season.Year) drawing {
	kg := s.units.kg
	d := drawing{ID: id, Said: s.fruitSaid(species, years)}
	d.Table = grid{Caption: capital(species) + " as the yard will fruit, fresh",
		Head: []string{"Year", "What stands, likely", "With the plan, low", "Likely", "High", "On average", "Wanted, about"}}
	for _, y := range years {
		wanted := ""
		if y.Wanted > 0 {
			wanted = kg(y.Wanted)
		}
		d.Table.add(strconv.Itoa(y.Year), kg(y.Alone.P50), kg(y.With.P10), kg(y.With.P50), kg(y.With.P90), kg(y.With.Mean), wanted)
	}
	d.Option = s.drawn(func() map[string]any { return s.fruitOption(d.Said, years) })
	return d
}

// tellingYear is the year of which the sentence speaks: the one in which most
// is lacking of what is wanted, else the one with the largest crop.
func tellingYear(years []season.Year) int {
	at := 0
	for i, y := range years {
		best := years[at]
		switch {
		case y.Wanted > 0 && best.Wanted > 0:
			if y.With.P50/y.Wanted < best.With.P50/best.Wanted {
				at = i
			}
		case y.Wanted > 0, best.Wanted == 0 && y.With.P50 > best.With.P50:
			at = i
		}
	}
	return at
}

// fruitSaid is the sentence over the chart.
func (s *seasonBook) fruitSaid(species string, years []season.Year) string {
	y := years[tellingYear(years)]
	text := fmt.Sprintf("%s by year: in %d likely %s with the plan, %s, and %s without it", capital(species), y.Year,
		s.units.kg(y.With.P50), yearly(y.With, s.units.kg), s.units.kg(y.Alone.P50))
	if y.Wanted > 0 {
		text += fmt.Sprintf("; about %s are wanted", s.units.kg(y.Wanted))
	}
	return text + "."
}

// fruitOption stacks what the plan adds on what stands, with the range of both
// together and the amount wanted. All bars are filled differently from each
// other in shade and edge, not in colour alone.
func (s *seasonBook) fruitOption(said string, years []season.Year) map[string]any {
	by, unit := s.units.kgScale()
	c := echarts.NewBar()
	labels := make([]string, len(years))
	var alone, adds []opts.BarData
	var ranges []opts.CustomData
	var wanted []opts.ScatterData
	for i, y := range years {
		labels[i] = strconv.Itoa(y.Year)
		tip := fmt.Sprintf("%d: likely %s with the plan, %s", y.Year, s.units.kg(y.With.P50), yearly(y.With, s.units.kg))
		alone = append(alone, opts.BarData{Name: fmt.Sprintf("%d: likely %s from what stands", y.Year, s.units.kg(y.Alone.P50)), Value: whole(y.Alone.P50 / by)})
		more := opts.BarData{Value: "-"} // an edge without a bar would look like one
		if n := whole((y.With.P50 - y.Alone.P50) / by); n > 0 {
			more = opts.BarData{Name: tip, Value: n}
		}
		adds = append(adds, more)
		ranges = append(ranges, opts.CustomData{Name: tip, Value: []any{i, whole(y.With.P10 / by), whole(y.With.P90 / by)}})
		if y.Wanted > 0 {
			wanted = append(wanted, opts.ScatterData{Name: fmt.Sprintf("%d: about %s wanted", y.Year, s.units.kg(y.Wanted)), Value: []any{i, whole(y.Wanted / by)}})
		}
	}
	c.SetGlobalOptions(canvas("item", opts.XAxis{Type: "category"}, opts.XAxis{Name: unit + " fresh"}, said)...)
	c.SetXAxis(labels)
	stack := echarts.WithBarChartOpts(opts.BarChart{Stack: "year"})
	c.AddSeries("what stands", alone, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: green}))
	c.AddSeries("the plan adds", adds, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: skyBlue, BorderColor: blue, BorderWidth: 2}))
	r := echarts.NewCustom()
	r.AddSeries("8 years in 10", ranges, echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnRange}),
		echarts.WithEncodeOpts(opts.Encode{X: []int{0}, Y: []int{1, 2}}), echarts.WithItemStyleOpts(opts.ItemStyle{Color: vermillion}))
	c.Overlap(r)
	if len(wanted) > 0 {
		w := echarts.NewScatter()
		w.AddSeries("wanted", wanted, echarts.WithScatterChartOpts(opts.ScatterChart{Symbol: "diamond", SymbolSize: 16}),
			echarts.WithItemStyleOpts(opts.ItemStyle{Color: blue, BorderColor: "#fff", BorderWidth: 2}))
		c.Overlap(w)
	}
	c.Validate()
	return option(&c.RectChart, sign{"what stands", area}, sign{"the plan adds", area}, sign{"8 years in 10", upright}, sign{"wanted", lozenge})
}
