package climate

import (
	"math"
	"os"
	"testing"

	"hodaba/yard"
)

// openSeries reads a daily series of testdata/weather.
func openSeries(t testing.TB, file string) *yard.Weather {
	t.Helper()
	f, err := os.Open("../../testdata/weather/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w, problems := yard.ReadWeather(f, anchor)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return w
}

// A record of one year corrects nothing, one of four moves the normals by two
// thirds of the way and no further, and a shorter one less.
func TestRecordCorrects(t *testing.T) {
	set := load(t)
	w := openSeries(t, "new-york.csv")
	read := func(days int) (*Site, Record) {
		s := site(t, "new_york")
		short := &yard.Weather{From: w.From, Days: w.Days[:days]}
		return s, s.Read(short, &set.Practice)
	}
	plain := site(t, "new_york")
	one, r := read(365)
	if r.Corrected || one.TMin != plain.TMin {
		t.Error("one year corrects the normals")
	}
	three, r := read(1096)
	if !r.Corrected || r.Strange != "" {
		t.Fatalf("three years: %+v", r)
	}
	four, r4 := read(len(w.Days))
	k := set.Practice.RecordYears.Value
	for m := range 12 {
		want := plain.TMax[m] + r4.Years/(r4.Years+k)*(r4.TMax[m]-plain.TMax[m])
		if math.Abs(four.TMax[m]-want) > 1e-9 {
			t.Errorf("month %d: %.3f, want %.3f", m+1, four.TMax[m], want)
		}
		if d, whole := three.TMax[m]-plain.TMax[m], r.TMax[m]-plain.TMax[m]; d*whole < 0 || math.Abs(d) > math.Abs(whole) {
			t.Errorf("month %d: moved by %.2f towards %.2f", m+1, d, whole)
		}
	}
	if four.Region.Lag1 >= plain.Region.Lag1+0.05 || four.Region.Lag1 == plain.Region.Lag1 {
		t.Errorf("memory %.3f after a record, %.3f before", four.Region.Lag1, plain.Region.Lag1)
	}
}

// Means of the open series by year, computed outside the project.
func TestAgainstRecordMeans(t *testing.T) {
	w := openSeries(t, "seattle.csv")
	for _, r := range []struct {
		from, days       int
		rain, tmax, tmin float64
		wet              int
	}{{0, 366, 1226.0, 15.2768, 7.2896, 148}, {366, 365, 828.0, 16.0589, 8.1540, 119}, {731, 365, 1232.8, 16.9959, 8.6625, 123}, {1096, 365, 1139.2, 17.4279, 8.8356, 116}} {
		var m monthSum
		for _, d := range w.Days[r.from : r.from+r.days] {
			m.add(d, 0)
		}
		if math.Abs(m.rain-r.rain) > 0.05 || math.Abs(m.maximum()-r.tmax) > 5e-5 || math.Abs(m.minimum()-r.tmin) > 5e-5 || m.wets != r.wet {
			t.Errorf("from day %d: rain %.1f, maximum %.4f, minimum %.4f, %d wet days", r.from, m.rain, m.maximum(), m.minimum(), m.wets)
		}
	}
}

// A record of another climate, or one in °F, is noticed and corrects nothing.
func TestStrangeRecord(t *testing.T) {
	set := load(t)
	w := openSeries(t, "new-york.csv")
	for name, change := range map[string]func(float64) float64{
		"in °F":     func(c float64) float64 { return c*1.8 + 32 },
		"elsewhere": func(c float64) float64 { return c - 9 },
	} {
		odd := &yard.Weather{From: w.From}
		for _, d := range w.Days {
			d.TMin, d.TMax = change(d.TMin), change(d.TMax)
			odd.Days = append(odd.Days, d)
		}
		s := site(t, "new_york")
		if r := s.Read(odd, &set.Practice); r.Strange == "" || r.Corrected {
			t.Errorf("a record %s goes unnoticed", name)
		}
	}
	if r := site(t, "new_york").Read(w, &set.Practice); r.Strange != "" {
		t.Errorf("the place's own record is called strange: %s", r.Strange)
	}
	if r := site(t, "new_york").Read(nil, &set.Practice); r.TempDays != 0 {
		t.Error("no record has days")
	}
}

// Spells of dry days as long as those counted in the daily series.
func TestAgainstDrySpells(t *testing.T) {
	for station, file := range map[string]string{"new_york": "new-york.csv", "landsburg": "seattle.csv"} {
		w := openSeries(t, file)
		s := site(t, station)
		r := s.Read(w, &load(t).Practice)
		for m := range 12 { // the place's own rain, so that only the spells are compared
			s.Rain[m] = r.Rain[m]
		}
		s.setWetDays(wetDays(w), 1)
		g, err := NewGenerator(s, anchor)
		if err != nil {
			t.Fatal(err)
		}
		want := spells(len(w.Days), func(i int) bool { return w.Days[i].Rain >= 1 })
		days, got, n := make([]Day, 1461), 0.0, 60
		for d := range n {
			g.Fill(days, nil, yard.NewDate(2012, 1, 1), d, 3)
			got += spells(len(days), func(i int) bool { return days[i].Rain >= 1 }) / float64(n)
		}
		if math.Abs(got/want-1) > 0.2 {
			t.Errorf("%s: a dry spell lasts %.2f days drawn, %.2f counted", station, got, want)
		}
	}
}

// wetDays are the mean wet days of each month.
func wetDays(w *yard.Weather) []float64 {
	out, n := make([]float64, 12), make([]float64, 12)
	for i, d := range w.Days {
		m := (w.From + yard.Date(i)).Month() - 1
		n[m]++
		if d.Rain >= 1 {
			out[m]++
		}
	}
	for m := range out {
		out[m] *= float64(monthLength[m]) / n[m]
	}
	return out
}

// spells is the mean length of runs of dry days.
func spells(n int, wet func(int) bool) float64 {
	dry, runs, before := 0, 0, true
	for i := range n {
		now := wet(i)
		if !now {
			dry++
			if before {
				runs++
			}
		}
		before = now
	}
	return float64(dry) / float64(max(runs, 1))
}

// From twenty years on futures can be put together from the record: its own
// seasons, warmed, and measured days stay.
func TestResampling(t *testing.T) {
	s := site(t, "new_york")
	s.Warming = 0
	g, err := NewGenerator(s, yard.NewDate(2013, 6, 1))
	if err != nil {
		t.Fatal(err)
	}
	w := openSeries(t, "new-york.csv")
	if _, ok := NewResampler(g, w); ok {
		t.Error("four years are enough")
	}
	long := &yard.Weather{From: yard.NewDate(1985, 1, 1)}
	for len(long.Days) < 27*366 {
		long.Days = append(long.Days, w.Days...)
	}
	r, ok := NewResampler(g, long)
	if !ok {
		t.Fatal("27 years are not enough")
	}
	holed := &yard.Weather{From: long.From, Days: append([]yard.WeatherDay(nil), long.Days...)}
	for i := 0; i < len(holed.Days); i += 900 {
		holed.Days[i].HasRain = false
	}
	if _, ok := NewResampler(g, holed); ok {
		t.Error("years with gaps count as whole")
	}
	seen := map[Day]bool{}
	for _, d := range long.Days {
		seen[Day{float32(d.TMin), float32(d.TMax), float32(d.Rain)}] = true
	}
	days, known := make([]Day, 500), make([]Known, 500)
	days[10], known[10] = Day{1, 2, 3}, Temperature|Rain
	r.Fill(days, known, yard.NewDate(2013, 6, 1), 3, 1)
	if days[10] != (Day{1, 2, 3}) {
		t.Error("a measured day was changed")
	}
	for i := 11; i < len(days); i++ {
		if !seen[days[i]] {
			t.Fatalf("day %d, %v, is none of the record", i, days[i])
		}
	}
}
