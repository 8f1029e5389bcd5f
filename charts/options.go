package charts

import (
	"math"
	"slices"

	echarts "github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"hodaba/yard"
)

// Colours of Okabe & Ito 2008. Every series has a shape or a stroke of its
// own beside its colour.
const (
	blue       = "#0072B2"
	skyBlue    = "#56B4E9"
	green      = "#009E73"
	vermillion = "#D55E00"
)

// Functions of the boot script, called by name.
const (
	fnWords = types.FuncStr("fn:words")
	fnRange = types.FuncStr("fn:range")
	fnSpan  = types.FuncStr("fn:span")
)

// point is one point of a series on an axis of time, or of the months of a
// year.
type point struct {
	day   yard.Date
	v     float64
	said  string // what its tooltip says
	month int    // on an axis of months, 1 for January; 0: by day
}

// at is where a point stands on its axis.
func (p point) at() any {
	if p.month > 0 {
		return p.month - 1
	}
	return millis(p.day)
}

// millis is the middle of a day as charts count time.
func millis(d yard.Date) int64 { return int64(d)*86_400_000 + 43_200_000 }

// whole keeps what JSON cannot hold out of an option.
func whole(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return math.Round(v*1e4) / 1e4
}

// option is the option map of a finished and validated chart, its legend made
// of the signs of those series that it has.
func option(c *echarts.RectChart, signs ...sign) map[string]any {
	legend := slices.DeleteFunc(signs, func(s sign) bool {
		return !slices.ContainsFunc(c.MultiSeries,
			func(x echarts.SingleSeries) bool { return x.Name == s.Name })
	})
	c.SetGlobalOptions(echarts.WithLegendOpts(opts.Legend{Show: opts.Bool(true), Top: "0", Left: "0",
		Data: legend}))
	return c.JSON()
}

// sign is one entry of a legend: the name of a series and the shape that
// stands for it.
type sign struct {
	Name string `json:"name"`
	Icon string `json:"icon"`
}

// The shapes of a legend.
const (
	area    = "rect"
	solid   = "path://M0,4 H24 V6 H0 Z"
	dots    = "path://M0,3 H4 V7 H0 Z M8,3 H12 V7 H8 Z M16,3 H20 V7 H16 Z"
	dashes  = "path://M0,4 H7 V6 H0 Z M10,4 H17 V6 H10 Z M20,4 H27 V6 H20 Z"
	upright = "path://M8,0 H16 V2 H13 V18 H16 V20 H8 V18 H11 V2 H8 Z"
	bracket = "path://M0,0 H2 V4 H22 V0 H24 V10 H22 V6 H2 V10 H0 Z"
	lozenge = "diamond"
	disc    = "circle"
)

// canvas sets what all charts have in common.
func canvas(axis string, x, y opts.XAxis, described string) []echarts.GlobalOpts {
	return []echarts.GlobalOpts{
		echarts.WithAnimation(false),
		echarts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: axis, Formatter: fnWords}),
		echarts.WithGridOpts(opts.Grid{Left: "8", Right: "16", Top: "64", Bottom: "8",
			ContainLabel: opts.Bool(true)}),
		echarts.WithXAxisOpts(x),
		echarts.WithYAxisOpts(opts.YAxis{Type: "value", Name: y.Name, Min: y.Min, Max: y.Max}),
		echarts.WithAriaOpts(&opts.Aria{Enabled: opts.Bool(true),
			Label: &opts.AriaLabel{Description: described}}),
	}
}

func lineData(ps []point) []opts.LineData {
	out := make([]opts.LineData, len(ps))
	for i, p := range ps {
		out[i] = opts.LineData{Name: p.said, Value: []any{p.at(), whole(p.v)}}
	}
	return out
}

func scatterData(ps []point) []opts.ScatterData {
	out := make([]opts.ScatterData, len(ps))
	for i, p := range ps {
		out[i] = opts.ScatterData{Name: p.said, Value: []any{p.at(), whole(p.v)}}
	}
	return out
}

// band adds the room between two lines: the lower one unseen, the difference
// stacked on it and filled.
func band(c *echarts.Line, name, colour string, low, high []point) {
	unseen := echarts.WithLineStyleOpts(opts.LineStyle{Opacity: opts.Float(0)})
	still := opts.LineChart{Stack: name, ShowSymbol: opts.Bool(false), Symbol: "none"}
	gap := make([]point, len(high))
	for i := range high {
		gap[i] = point{day: high[i].day, month: high[i].month, v: high[i].v - low[i].v}
	}
	bottom := make([]point, len(low))
	for i := range low {
		bottom[i] = point{day: low[i].day, month: low[i].month, v: low[i].v}
	}
	c.AddSeries(name, lineData(bottom), echarts.WithLineChartOpts(still), unseen,
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour}))
	c.AddSeries(name, lineData(gap), echarts.WithLineChartOpts(still), unseen,
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour}),
		echarts.WithAreaStyleOpts(opts.AreaStyle{Color: colour, Opacity: opts.Float(0.3)}))
}

// stroke is how a line is drawn.
func stroke(c *echarts.Line, name, colour, dash string, ps []point) {
	c.AddSeries(name, lineData(ps),
		echarts.WithLineChartOpts(opts.LineChart{ShowSymbol: opts.Bool(false), Symbol: "circle"}),
		echarts.WithLineStyleOpts(opts.LineStyle{Color: colour, Width: 2.5, Type: dash}),
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour}))
}

// marks are points that were seen.
func marks(c *echarts.Line, name, colour, symbol string, ps []point) {
	if len(ps) == 0 {
		return
	}
	s := echarts.NewScatter()
	s.AddSeries(name, scatterData(ps),
		echarts.WithScatterChartOpts(opts.ScatterChart{Symbol: symbol, SymbolSize: 12}),
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour, BorderColor: "#000", BorderWidth: 1}))
	c.Overlap(s)
}

// reach is a level line from one day to another.
func reach(c *echarts.Line, name, colour, said string, at float64, from, to yard.Date) {
	s := echarts.NewCustom()
	s.AddSeries(name, []opts.CustomData{{Name: said, Value: []any{millis(from), at, millis(to)}}},
		echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnSpan}),
		echarts.WithEncodeOpts(opts.Encode{X: []int{0, 2}, Y: []int{1}}),
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour}))
	c.Overlap(s)
}

// yearBar is one year of a bar chart: what was weighed and, on top of it,
// what is still expected, with its range.
type yearBar struct {
	label               string
	picked              float64
	low, expected, high float64 // still expected
	said, saidAhead     string  // tooltips; "" where there is no such part
}

// yearBars draws amounts by year: filled for what was picked, paler with a
// range for what is expected.
func yearBars(unit, described string, bars []yearBar) map[string]any {
	c := echarts.NewBar()
	labels := make([]string, len(bars))
	var picked, ahead []opts.BarData
	var ranges []opts.CustomData
	for i, b := range bars {
		labels[i] = b.label
		past, next := opts.BarData{Value: "-"}, opts.BarData{Value: "-"}
		if b.said != "" {
			past = opts.BarData{Name: b.said, Value: whole(b.picked)}
		}
		if b.saidAhead != "" {
			next = opts.BarData{Name: b.saidAhead, Value: whole(b.expected)}
			ranges = append(ranges, opts.CustomData{Name: b.saidAhead,
				Value: []any{i, whole(b.picked + b.low), whole(b.picked + b.high)}})
		}
		picked, ahead = append(picked, past), append(ahead, next)
	}
	c.SetGlobalOptions(canvas("item", opts.XAxis{Type: "category"}, opts.XAxis{Name: unit}, described)...)
	c.SetXAxis(labels)
	stack := echarts.WithBarChartOpts(opts.BarChart{Stack: "year"})
	if slices.ContainsFunc(bars, func(b yearBar) bool { return b.said != "" }) {
		c.AddSeries("picked", picked, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: green}))
	}
	if len(ranges) > 0 {
		c.AddSeries("expected", ahead, stack, echarts.WithItemStyleOpts(opts.ItemStyle{Color: skyBlue,
			BorderColor: blue, BorderWidth: 1}))
		r := echarts.NewCustom()
		r.AddSeries("8 years in 10", ranges,
			echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnRange}),
			echarts.WithEncodeOpts(opts.Encode{X: []int{0}, Y: []int{1, 2}}),
			echarts.WithItemStyleOpts(opts.ItemStyle{Color: vermillion}))
		c.Overlap(r)
	}
	c.Validate()
	return option(&c.RectChart, sign{"picked", area}, sign{"expected", area}, sign{"8 years in 10", upright})
}

// timeLine starts a line chart on an axis of time.
func timeLine(unit string, top any, described string) *echarts.Line {
	c := echarts.NewLine()
	c.SetGlobalOptions(canvas("axis", opts.XAxis{Type: "time"}, opts.XAxis{Name: unit, Min: 0, Max: top},
		described)...)
	return c
}
