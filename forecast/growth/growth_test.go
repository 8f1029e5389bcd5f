package growth

import (
	"math"
	"os"
	"testing"

	"hodaba/forecast/ground"
	"hodaba/yard"
	"pgregory.net/rapid"
)

// The Yan & Hunt beta function with a lower limit for three sets of cardinal
// temperatures, computed outside the project from the published formula; for
// C, whose exponent is two, 15 and 30 °C are exact by hand (0.5 and 0.78125).
func TestAgainstYanHunt(t *testing.T) {
	a, b, c := Cardinal{Min: 0, Opt: 25, Max: 40}, Cardinal{Min: 5, Opt: 24, Max: 33}, Cardinal{Min: 5, Opt: 25, Max: 35}
	for _, row := range []struct{ t, a, b, c float64 }{
		{0, 0, 0, 0},
		{5, 0.159598, 0, 0},
		{6, 0.210090, 0.005991, 0.007250},
		{8, 0.319381, 0.056411, 0.060750},
		{10, 0.434307, 0.152580, 0.156250},
		{12, 0.549291, 0.283453, 0.281750},
		{15, 0.711379, 0.515882, 0.500000},
		{18, 0.848305, 0.748025, 0.718250},
		{20, 0.919225, 0.876939, 0.843750},
		{22, 0.969733, 0.966437, 0.939250},
		{24, 0.996508, 1, 0.992750},
		{25, 1, 0.990548, 1},
		{28, 0.966318, 0.831563, 0.925750},
		{30, 0.903395, 0.594969, 0.781250},
		{32, 0.804789, 0.233311, 0.546750},
		{35, 0.584017, 0, 0},
		{38, 0.267924, 0, 0},
	} {
		for _, x := range []struct {
			c    Cardinal
			want float64
		}{{a, row.a}, {b, row.b}, {c, row.c}} {
			if got := x.c.At(row.t); math.Abs(got-x.want) > 5e-7 {
				t.Errorf("%v at %g °C: %.6f, want %.6f", x.c, row.t, got, x.want)
			}
		}
	}
}

func TestResponseIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-5, 15).Draw(t, "minimum")
		opt := lo + rapid.Float64Range(2, 25).Draw(t, "to best")
		c := Cardinal{Min: lo, Opt: opt, Max: opt + rapid.Float64Range(2, 20).Draw(t, "to maximum")}
		x := rapid.Float64Range(-40, 60).Draw(t, "temperature")
		f := c.At(x)
		if f < 0 || f > 1+1e-12 {
			t.Fatalf("%v at %g: %g outside 0 to 1", c, x, f)
		}
		if (x <= c.Min || x >= c.Max) && f != 0 {
			t.Fatalf("%v at %g: %g, want none outside the limits", c, x, f)
		}
		if math.Abs(c.At(opt)-1) > 1e-12 {
			t.Fatalf("%v at its best: %g", c, c.At(opt))
		}
	})
}

// series reads the days from one to another of a daily series as if the wood
// followed the air.
func series(t testing.TB, file string, from, to yard.Date) (s ground.Series) {
	t.Helper()
	f, err := os.Open("../../testdata/weather/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w, problems := yard.ReadWeather(f, yard.NewDate(2020, 1, 1))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	for _, d := range w.Slice(from, to).Days {
		s.Mean = append(s.Mean, float32((d.TMin+d.TMax)/2))
		s.Swing = append(s.Swing, float32((d.TMax-d.TMin)/2))
	}
	return s
}

// newYear is the first day of a year.
func newYear(year int) yard.Date { return yard.NewDate(year, 1, 1) }

// Yearly sums of the beta function (5, 24, 33) over the open daily series in
// testdata/weather, on the daily mean and averaged over 24 hours of a sine;
// computed outside the project.
func TestAgainstYearlySums(t *testing.T) {
	c := Cardinal{Min: 5, Opt: 24, Max: 33}
	r, err := NewResponse(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		file          string
		year          int
		daily, hourly float64
	}{
		{"seattle.csv", 2012, 116.49, 113.84},
		{"seattle.csv", 2013, 134.73, 128.89},
		{"seattle.csv", 2014, 147.00, 139.26},
		{"seattle.csv", 2015, 148.52, 139.61},
		{"new-york.csv", 2012, 164.88, 159.24},
		{"new-york.csv", 2014, 163.26, 157.16},
	} {
		s := series(t, row.file, newYear(row.year), newYear(row.year+1)-1)
		var daily, hourly, table float64
		for i := range s.Mean {
			daily += c.At(float64(s.Mean[i]))
			hourly += c.Day(float64(s.Mean[i]), float64(s.Swing[i]))
			table += float64(r.Day(s.Mean[i], s.Swing[i]))
		}
		if math.Abs(daily-row.daily) > 0.006 {
			t.Errorf("%s %d daily: %.4f, want %.2f", row.file, row.year, daily, row.daily)
		}
		if math.Abs(hourly-row.hourly) > 0.006 {
			t.Errorf("%s %d hourly: %.4f, want %.2f", row.file, row.year, hourly, row.hourly)
		}
		// The table is linear between its points: a thousandth of a year's sum.
		if math.Abs(table-row.hourly) > 1e-3*row.hourly {
			t.Errorf("%s %d from the table: %.4f, want %.2f", row.file, row.year, table, row.hourly)
		}
	}
}

// First days on which the running sum reaches a requirement, from
// 15 March 2012 on, on the daily mean; computed outside the project.
func TestAgainstFirstDays(t *testing.T) {
	c := Cardinal{Min: 5, Opt: 24, Max: 33}
	for _, row := range []struct {
		file  string
		days  map[float64]int // days after 15 March 2012
		total float64
	}{
		{"seattle.csv", map[float64]int{25: 94, 50: 131, 100: 198, 150: 456, 200: 515}, 544.7798},
		{"new-york.csv", map[float64]int{25: 66, 50: 96, 100: 151, 150: 209, 200: 459}, 651.6223},
	} {
		s := series(t, row.file, yard.NewDate(2012, 3, 15), yard.NewDate(2015, 12, 31))
		sum, got := 0.0, map[float64]int{}
		for i := range s.Mean {
			sum += c.At(float64(s.Mean[i]))
			for need := range row.days {
				if _, done := got[need]; !done && sum >= need {
					got[need] = i
				}
			}
		}
		for need, want := range row.days {
			if got[need] != want {
				t.Errorf("%s: %g growing days on day %d, want %d", row.file, need, got[need], want)
			}
		}
		if math.Abs(sum-row.total) > 2e-3 {
			t.Errorf("%s: total %.4f, want %.4f", row.file, sum, row.total)
		}
	}
}

// A deterministic path of weather with a memory, and the days on which its
// sum reaches four requirements; computed outside the project (z_d = √2
// sin(d²), a_d = 0.8 a_(d−1) + 3.3·0.6·z_d on 10.5 + 8 cos(2π(d−200)/365.25)).
func TestAgainstDeterministicPath(t *testing.T) {
	c := Cardinal{Min: 5, Opt: 24, Max: 33}
	for _, row := range []struct {
		sd    float64
		total float64
		days  map[float64]int
	}{
		{3.3, 442.513458, map[float64]int{50: 192, 100: 266, 180: 586, 300: 961}},
		{0, 431.111334, map[float64]int{50: 195, 100: 272, 180: 589, 300: 972}},
	} {
		a, sum, got := 0.0, 0.0, map[float64]int{}
		for d := range 1500 {
			x := float64(d)
			a = 0.8*a + row.sd*0.6*math.Sqrt2*math.Sin(x*x)
			sum += c.At(10.5 + 8*math.Cos(2*math.Pi*(x-200)/365.25) + a)
			for need := range row.days {
				if _, done := got[need]; !done && sum >= need {
					got[need] = d
				}
			}
		}
		if math.Abs(sum-row.total) > 1e-6 {
			t.Errorf("sd %g: total %.6f, want %.6f", row.sd, sum, row.total)
		}
		for need, want := range row.days {
			if got[need] != want {
				t.Errorf("sd %g: %g on day %d, want %d", row.sd, need, got[need], want)
			}
		}
	}
}

func sumOf(r *Response, dst []float32, s ground.Series, anchor int) {
	days := make([]float32, len(dst))
	r.Days(days, s)
	Sum(dst, days, nil, anchor)
}

// Sums count from the anchor outwards, so a longer past changes none of them.
func TestSumFromTheAnchor(t *testing.T) {
	r, err := NewResponse(Cardinal{Min: 3, Opt: 24.5, Max: 33})
	if err != nil {
		t.Fatal(err)
	}
	s := series(t, "seattle.csv", yard.NewDate(2012, 1, 1), yard.NewDate(2013, 12, 31))
	long := make([]float32, len(s.Mean))
	sumOf(r, long, s, 400)
	cut := ground.Series{Mean: s.Mean[100:], Swing: s.Swing[100:]}
	short := make([]float32, len(cut.Mean))
	sumOf(r, short, cut, 300)
	for i := range short {
		if short[i] != long[i+100] {
			t.Fatalf("day %d: %v with a short past, %v with a long one", i, short[i], long[i+100])
		}
	}
	for i := 1; i < len(long); i++ {
		if long[i] < long[i-1] {
			t.Fatalf("day %d: the sum falls", i)
		}
	}
	if long[400] != 0 {
		t.Errorf("the sum on the anchor is %v", long[400])
	}
}

func TestLimitsOutOfOrder(t *testing.T) {
	if _, err := NewResponse(Cardinal{Min: 10, Opt: 5, Max: 30}); err == nil {
		t.Error("limits out of order are accepted")
	}
}

func BenchmarkResponse(b *testing.B) {
	r, err := NewResponse(Cardinal{Min: 3, Opt: 24.5, Max: 33})
	if err != nil {
		b.Fatal(err)
	}
	s := series(b, "seattle.csv", yard.NewDate(2012, 1, 1), yard.NewDate(2015, 12, 31))
	dst := make([]float32, len(s.Mean))
	b.Run("looked up", func(b *testing.B) {
		for b.Loop() {
			r.Days(dst, s)
		}
	})
	b.Run("computed by the hour", func(b *testing.B) {
		for b.Loop() {
			sum := 0.0
			for i := range s.Mean {
				sum += r.Cardinal.Day(float64(s.Mean[i]), float64(s.Swing[i]))
			}
		}
	})
}
