package charts

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"hodaba/forecast"
)

// drawnSeries is what a chart's option holds, as the browser reads it.
type drawnSeries struct {
	Name, Type, Stack, RenderItem string
	Data                          []struct {
		Name  string
		Value any
	}
}

func seriesOf(t *testing.T, option map[string]any) map[string][]drawnSeries {
	t.Helper()
	b, err := json.Marshal(option)
	if err != nil {
		t.Fatal(err)
	}
	var o struct {
		Series []drawnSeries
		Legend struct{ Data []sign }
	}
	if err := json.Unmarshal(b, &o); err != nil {
		t.Fatal(err)
	}
	by := map[string][]drawnSeries{}
	for _, s := range o.Series {
		by[s.Name] = append(by[s.Name], s)
	}
	for _, s := range o.Legend.Data {
		if by[s.Name] == nil {
			t.Errorf("the legend shows %q, which is not drawn", s.Name)
		}
	}
	if len(o.Legend.Data) != len(by) {
		t.Errorf("%d signs in the legend for %d series", len(o.Legend.Data), len(by))
	}
	return by
}

// xy are the two numbers of a point.
func xy(t *testing.T, v any) (x, y float64) {
	t.Helper()
	pair, ok := v.([]any)
	if !ok || len(pair) < 2 {
		t.Fatalf("%v is no point", v)
	}
	return pair[0].(float64), pair[1].(float64)
}

func drawnBook() *book { return newBook(withLibrary(aYard())) }

// What was seen stands on the chart where it was seen, and the band is as wide
// as the forecast says.
func TestShareChart(t *testing.T) {
	b := drawnBook()
	p, f := b.State.Piles[0], b.Result.Piles[0]
	by := seriesOf(t, b.shareDrawing(p, f).Option)
	seen := by["seen"][0].Data
	if len(seen) != 2 {
		t.Fatalf("%d looks at the ends are drawn, 2 were written", len(seen))
	}
	// 2 March 2026 is day 20514 since 1970 (56 years of 365 days, 14 leap days
	// from 1972 to 2024, 31 + 28 + 1 days); 4 of 10 had a ring.
	if x, y := xy(t, seen[1].Value); x != (20514+0.5)*86400e3 || y != 40 {
		t.Errorf("seen on 2 March: %v, %v", x, y)
	}
	band := by["8 times in 10"]
	low, gap := band[0].Data, band[1].Data
	if len(band) != 2 || band[0].Stack != band[1].Stack || len(low) != len(gap) {
		t.Fatal("the band is not one line stacked on another")
	}
	now := len(by["so far"][0].Data) - 1 // the band runs on beyond today
	_, l := xy(t, low[now].Value)
	_, g := xy(t, gap[now].Value)
	if c := f.Colonised; math.Abs(l-100*c.ShareP10) > 1e-3 || math.Abs(l+g-100*c.ShareP90) > 1e-3 {
		t.Errorf("today's band is %v to %v, want %v to %v", l, l+g, 100*c.ShareP10, 100*c.ShareP90)
	}
	if len(low) != now+len(by["expected"][0].Data) {
		t.Errorf("the band has %d points, want one for each of the two lines", len(low))
	}
	so, ahead := by["so far"][0].Data, by["expected"][0].Data
	endX, endY := xy(t, so[len(so)-1].Value)
	if x, y := xy(t, ahead[0].Value); x != endX || y != endY {
		t.Error("the two lines do not meet today")
	}
	for _, line := range [][]drawnSeries{by["so far"], by["expected"]} {
		last := math.Inf(-1)
		for _, d := range line[0].Data {
			x, _ := xy(t, d.Value)
			if x <= last {
				t.Fatal("the line goes back in time")
			}
			last = x
		}
	}
}

// Past pickings add up to what was weighed, and what is expected begins there.
func TestFanBeginsWhereTheWeighingEnds(t *testing.T) {
	b := drawnBook()
	total := 0.0
	for _, k := range b.State.Picks {
		total += k.Fresh.Mid()
	}
	part := b.speciesPart("s1", b.Result.Species[0])
	by := seriesOf(t, part.Fan.Option)
	picked, ahead := by["weighed"][0].Data, by["expected"][0].Data
	if _, y := xy(t, picked[len(picked)-1].Value); math.Abs(y-total) > 1e-3 {
		t.Errorf("picked so far %v, want %v", y, total)
	}
	if _, y := xy(t, ahead[0].Value); math.Abs(y-total) > 1e-3 {
		t.Errorf("expected begins at %v, want %v", y, total)
	}
	last := b.Result.Species[0].Years[5]
	if _, y := xy(t, ahead[len(ahead)-1].Value); math.Abs(y-total-last.Sum.P50) > 1e-3 {
		t.Errorf("expected ends at %v, want %v", y, total+last.Sum.P50)
	}
}

func TestYearBarsCarryTheirRange(t *testing.T) {
	b := drawnBook()
	d := b.yearDrawing("k", "fresh", map[int]float64{2025: 11, 2026: 2},
		[]yearAmount{{2026, forecast.Amount{P10: 1, P50: 3, P90: 8, Mean: 4}}, {2027, forecast.Amount{P10: 2, P50: 5, P90: 9}}})
	by := seriesOf(t, d.Option)
	values := func(name string) (v []any) {
		for _, x := range by[name][0].Data {
			v = append(v, x.Value)
		}
		return v
	}
	if got := values("picked"); !slices.Equal(got, []any{11.0, 2.0, "-"}) {
		t.Errorf("picked %v", got)
	}
	if got := values("expected"); !slices.Equal(got, []any{"-", 3.0, 5.0}) {
		t.Errorf("expected %v", got)
	}
	// The range of the running year stands on what was picked in it.
	if got := by["8 years in 10"][0].Data[0].Value.([]any); !slices.Equal(got, []any{1.0, 3.0, 10.0}) {
		t.Errorf("range %v", got)
	}
	if len(d.Table.Rows) != 3 || d.Table.Rows[1][0] != "rest of 2026" {
		t.Errorf("table %v", d.Table.Rows)
	}
}

// A year in which the forecast ends is left out: its sum would look like a
// poor crop.
func TestAYearCutShortIsNotABar(t *testing.T) {
	b := drawnBook()
	b.Result.Horizon = day("2032-05-04")
	f := b.Result.Piles[0]
	f.YearsAhead = append(slices.Clone(f.YearsAhead), forecast.Year{Year: 2032})
	for _, r := range b.pileKilograms(b.State.Piles[0], f).Table.Rows {
		if r[0] == "2032" {
			t.Error("2032 has a bar")
		}
	}
}

// No number that JSON cannot hold gets into an option.
func TestOptionsSurviveStrangeNumbers(t *testing.T) {
	in := withLibrary(aYard())
	bad := forecast.Amount{P10: math.NaN(), P50: math.Inf(1), P90: math.Inf(-1), Mean: math.NaN()}
	for _, f := range in.Result.Piles {
		for i := range f.YearsAhead {
			f.YearsAhead[i].Fresh = bad
		}
		for i := range f.Months {
			f.Months[i].ShareThrough, f.Months[i].HarvestChance = math.NaN(), math.Inf(1)
		}
	}
	for s := range in.Result.Species {
		in.Result.Species[s].DryRatio = bad
		for i := range in.Result.Species[s].Years {
			y := &in.Result.Species[s].Years[i]
			y.Fresh, y.Sum, y.Dry, y.DrySum = bad, bad, bad, bad
		}
	}
	options := 0
	for _, f := range htmlOf(pages(t, in)) {
		for _, n := range parse(t, f).all(func(n *node) bool { return n.attr["type"] == "application/json" }) {
			if options++; !json.Valid([]byte(n.kids[0].text)) {
				t.Errorf("%s: %.80s", f.Name, n.kids[0].text)
			}
		}
	}
	if options == 0 {
		t.Fatal("no option was seen")
	}
}
