package charts

import (
	"fmt"
	"math"
	"slices"

	echarts "github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"hodaba/forecast/score"
	"hodaba/yard"
)

// Rows that a chart of what was said against what came has room for, the
// latest, and letters that a name on its axis has.
const (
	scoreRows   = 14
	scoreLetter = 14
)

// saidAhead is how many months ahead of today ranges are drawn: those that
// reach further end there, and the table has their end.
const saidAhead = 18

// saidAgainst draws what was said about half a year before against what came,
// one line for each outcome, in order of day.
func (b *book) saidAgainst(k score.Kind, said string) *drawing {
	w := scoreWords{b.Score, b.units}
	list := outcomesOf(b.Score, k)
	d := &drawing{ID: "said-" + map[score.Kind]string{score.FirstHarvest: "first", score.Look: "looks", score.Kilograms: "kg"}[k], Said: said}
	d.Table = grid{Words: 2, Caption: "What was said about half a year before, against what came",
		Head: []string{"Pile", "What", "Said on", "Early or little", "Likely", "Late or much", "Came", "It fell"}}
	for _, o := range list {
		f := o.About()
		d.Table.add(o.Pile, b.whatWords(o), fullDay(f.Made), w.value(o, f.P10), w.value(o, f.P50), w.value(o, f.P90), w.outcome(o), fell(o, f))
	}
	d.Option = b.drawn(func() map[string]any { return b.saidOption(k, list[max(len(list)-scoreRows, 0):], said) })
	return d
}

// whatWords is what an outcome is of, short.
func (b *book) whatWords(o *score.Scored) string {
	switch o.Kind {
	case score.Look:
		return "look on " + fullDay(o.On)
	case score.Kilograms:
		return fmt.Sprintf("picked in %d", o.Year)
	}
	return "first harvest"
}

// outcomesOf are those of a kind, in order of day.
func outcomesOf(r *score.Report, k score.Kind) (list []*score.Scored) {
	for i := range r.Outcomes {
		if r.Outcomes[i].Kind == k {
			list = append(list, &r.Outcomes[i])
		}
	}
	slices.SortStableFunc(list, func(a, c *score.Scored) int { return int(a.On - c.On) })
	return list
}

// saidSeries are the signs of a chart of what was said against what came.
type saidSeries struct {
	names              []string
	ranges, between    []opts.CustomData
	likely, came, open []opts.ScatterData
}

// addSaid puts an outcome into the next row: a range, a disc for the likely value,
// and a lozenge, or a line between two visits, for what came.
func (b *book) addSaid(to *saidSeries, o *score.Scored) {
	w, f, row := scoreWords{b.Score, b.units}, o.About(), len(to.names)
	to.names = append(to.names, cut(o.Pile, scoreLetter)+rowDay(o))
	text := fmt.Sprintf("%s, %s: said on %s %s to %s, most likely %s; came: %s", o.Pile, b.whatWords(o), fullDay(f.Made),
		w.value(o, f.P10), w.value(o, f.P90), w.value(o, f.P50), w.outcome(o))
	if low, high, ok := b.drawnRange(o, f); ok {
		to.ranges = append(to.ranges, opts.CustomData{Name: text, Value: []any{low, row, high}})
	}
	if f.P50 <= b.edge(o.Kind) {
		to.likely = append(to.likely, opts.ScatterData{Name: text, Value: []any{b.along(o, f.P50), row}})
	}
	from, till := b.cameBetween(o)
	if o.Open() {
		to.open = append(to.open, opts.ScatterData{Name: text, Value: []any{from, row}})
		return
	}
	if o.Kind == score.FirstHarvest && o.From > o.Since() && from != till {
		to.between = append(to.between, opts.CustomData{Name: text, Value: []any{from, row, till}})
	}
	to.came = append(to.came, opts.ScatterData{Name: text, Value: []any{till, row}})
}

// saidOption draws one row for each outcome.
func (b *book) saidOption(k score.Kind, list []*score.Scored, described string) map[string]any {
	var s saidSeries
	for _, o := range list {
		b.addSaid(&s, o)
	}
	axis := opts.XAxis{Type: "value", AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("{value} " + b.scoreUnit(k))}}
	if k == score.FirstHarvest {
		axis = opts.XAxis{Type: "time"}
	}
	c := echarts.NewScatter()
	c.SetGlobalOptions(canvas("item", axis, opts.XAxis{}, described)...)
	c.SetGlobalOptions(echarts.WithYAxisOpts(opts.YAxis{Type: "category", Data: s.names, Inverse: opts.Bool(true)}))
	c.GridList[0].Left, c.GridList[0].Right = "24", "32" // names are a little wider than ECharts takes them to be
	spans(&c.RectChart, "said, 8 times in 10", blue, s.ranges)
	dotted(c, "most likely", skyBlue, "circle", 9, s.likely)
	spans(&c.RectChart, "between two visits", vermillion, s.between)
	dotted(c, "came", vermillion, "diamond", 14, s.came)
	dotted(c, "not yet, on the last visit", vermillion, "triangle", 12, s.open)
	c.Validate()
	return option(&c.RectChart, sign{"said, 8 times in 10", bracket}, sign{"most likely", disc}, sign{"came", lozenge},
		sign{"between two visits", solid}, sign{"not yet, on the last visit", "triangle"})
}

// edge is the last value that is drawn.
func (b *book) edge(k score.Kind) float64 {
	if k == score.FirstHarvest {
		return float64(b.today().AddMonths(saidAhead))
	}
	return math.Inf(1)
}

// rowDay tells outcomes of a pile apart on the axis.
func rowDay(o *score.Scored) string {
	switch o.Kind {
	case score.Look:
		return o.On.Time().Format(" 1/06")
	case score.Kilograms:
		return fmt.Sprintf(" %d", o.Year)
	}
	return ""
}

// along is where a value stands on the axis: a time, a share of log ends in
// percent, or a mass in the grower's unit.
func (b *book) along(o *score.Scored, x float64) any {
	switch o.Kind {
	case score.FirstHarvest:
		return millis(yard.Date(x))
	case score.Look:
		return whole(100 * x / float64(o.LookedAt))
	}
	kg, _ := b.units.kgScale()
	return whole(x / kg)
}

func (b *book) scoreUnit(k score.Kind) string {
	if k == score.Look {
		return "%"
	}
	_, unit := b.units.kgScale()
	return unit
}

// drawnRange is the range that was said, as far as it is drawn.
func (b *book) drawnRange(o *score.Scored, f *score.Forecast) (low, high any, ok bool) {
	late := f.P90
	if edge := b.edge(o.Kind); late > edge || math.IsNaN(late) {
		late = edge
	}
	if !(f.P10 <= late) || math.IsInf(late, 0) {
		return nil, nil, false
	}
	return b.along(o, f.P10), b.along(o, late), true
}

// cameBetween is what came, on the axis.
func (b *book) cameBetween(o *score.Scored) (from, to any) {
	switch o.Kind {
	case score.FirstHarvest:
		return b.along(o, float64(o.From)), b.along(o, float64(o.To))
	case score.Look:
		return b.along(o, float64(o.With)), b.along(o, float64(o.With))
	}
	return b.along(o, o.LowKG), b.along(o, (o.LowKG+o.HighKG)/2)
}

// spans adds level lines with feet to a chart whose rows are categories.
func spans(c *echarts.RectChart, name, colour string, list []opts.CustomData) {
	if len(list) == 0 {
		return
	}
	s := echarts.NewCustom()
	s.AddSeries(name, list, echarts.WithCustomChartOpts(opts.CustomChart{RenderItem: fnSpan}),
		echarts.WithEncodeOpts(opts.Encode{X: []int{0, 2}, Y: []int{1}}),
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour}))
	c.Overlap(s)
}

// dotted adds signs to a scatter chart.
func dotted(c *echarts.Scatter, name, colour, symbol string, size int, list []opts.ScatterData) {
	if len(list) == 0 {
		return
	}
	s := echarts.NewScatter()
	s.AddSeries(name, list, echarts.WithScatterChartOpts(opts.ScatterChart{Symbol: symbol, SymbolSize: size}),
		echarts.WithItemStyleOpts(opts.ItemStyle{Color: colour, BorderColor: "#000", BorderWidth: 1}))
	c.Overlap(s)
}

// whereTheyFell draws how many outcomes fell below, in and above the range
// that was said, beside how many would were it right.
func (b *book) whereTheyFell() *drawing {
	s := b.Score.SumOf(nil, nil)
	n := float64(s.Outcomes)
	names := []string{"earlier or less", "in the range", "later or more"}
	got, right := []float64{s.Under / n, s.Hits / n, s.Over / n}, []float64{0.1, 0.8, 0.1}
	said := fmt.Sprintf("Of %s, %s came earlier or were less than the range that we said, %s lay in it, and %s came later or were more; were we right it would be 10 %%, 80 %% and 10 %%.",
		count(s.Outcomes, "outcome", "outcomes"), percent(got[0]), percent(got[1]), percent(got[2]))
	if !s.Judged() {
		said += " They are too few to judge."
	}
	d := &drawing{ID: "where-they-fell", Said: said, Table: grid{Caption: "Where outcomes fell", Head: []string{"Against what we said", "Came", "Were we right"}}}
	for i := range names {
		d.Table.add(capital(names[i]), percent(got[i]), percent(right[i]))
	}
	d.Option = b.drawn(func() map[string]any {
		c := echarts.NewBar()
		var bars, marks []opts.BarData
		for i := range names {
			text := fmt.Sprintf("%s: %s; were we right: %s", names[i], percent(got[i]), percent(right[i]))
			bars = append(bars, opts.BarData{Name: text, Value: whole(100 * got[i])})
			marks = append(marks, opts.BarData{Name: text, Value: whole(100 * right[i])})
		}
		c.SetGlobalOptions(canvas("item", opts.XAxis{Type: "category"}, opts.XAxis{Name: "% of outcomes", Min: 0, Max: 100}, said)...)
		c.SetXAxis(names)
		c.AddSeries("came", bars, echarts.WithItemStyleOpts(opts.ItemStyle{Color: green}))
		c.AddSeries("were we right", marks, echarts.WithItemStyleOpts(opts.ItemStyle{Color: skyBlue, BorderColor: blue, BorderWidth: 1}))
		c.Validate()
		return option(&c.RectChart, sign{"came", area}, sign{"were we right", "roundRect"})
	})
	return d
}
