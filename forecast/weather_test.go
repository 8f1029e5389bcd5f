package forecast

import (
	"math"
	"os"
	"reflect"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/forecast/ground"
	"hodaba/forecast/growth"
	"hodaba/yard"
)

// record reads a daily series of testdata/weather up to a day.
func record(t testing.TB, file string, to yard.Date) *yard.Weather {
	t.Helper()
	f, err := os.Open("../testdata/weather/" + file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	w, problems := yard.ReadWeather(f, yard.NewDate(2020, 1, 1))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return w.Slice(w.From, min(to, w.To()))
}

// newYork is a yard near New York with a pile of two years, as of a day.
func newYork(set *data.Set, asOf yard.Date) *yard.State {
	return yardOf(set, "new_york", asOf, referencePile("oak", yard.NewDate(2014, 4, 1), "shiitake", "wide-range"))
}

// With all of the past measured, growing days so far are known; without, they
// are not. Taking the record away gives what was there before.
func TestMeasuredPast(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2015, time.August, 1)
	in := Input{State: newYork(set, asOf), Data: set, Draws: 300, Years: 2}
	before := mustRun(t, in)
	in.State.Weather = record(t, "new-york.csv", asOf)
	with := mustRun(t, in)
	in.State.Weather = nil
	after := mustRun(t, in)
	if !reflect.DeepEqual(before, after) {
		t.Error("without the record the forecast is not what it was before it")
	}
	g := with.Piles[0].GrowingDays
	if g.P90-g.P10 > 0.03*g.P50 {
		t.Errorf("growing days of a measured past from %.1f to %.1f", g.P10, g.P90)
	}
	if b := before.Piles[0].GrowingDays; b.P90-b.P10 < 3*(g.P90-g.P10) {
		t.Errorf("a measured past is known to %.1f days, an unmeasured one to %.1f", g.P90-g.P10, b.P90-b.P10)
	}
	if len(with.Site.Ahead.Past) != 3 || !with.Site.Record.Corrected {
		t.Errorf("%d measured years beside this one, corrected %v", len(with.Site.Ahead.Past), with.Site.Record.Corrected)
	}
}

// Days after AsOf are not yet known, even where the record has them.
func TestRecordAheadIsNotKnown(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2014, time.August, 1)
	in := Input{State: newYork(set, asOf), Data: set, Draws: 100, Years: 2}
	in.State.Weather = record(t, "new-york.csv", asOf)
	upTo := mustRun(t, in)
	r, err := prepare(Input{State: withAll(t, set, asOf), Data: set, Draws: 100, Years: 2})
	if err != nil {
		t.Fatal(err)
	}
	for i := int(r.today) + 1; i < r.days; i++ {
		if r.known[i] != 0 {
			t.Fatalf("a day after %v is known", asOf)
		}
	}
	if upTo.Site.Ahead.SoFar.P90-upTo.Site.Ahead.SoFar.P10 > 2 {
		t.Errorf("growing days so far are uncertain: %+v", upTo.Site.Ahead.SoFar)
	}
}

func withAll(t *testing.T, set *data.Set, asOf yard.Date) *yard.State {
	s := newYork(set, asOf)
	s.Weather = record(t, "new-york.csv", yard.NewDate(2016, 1, 1))
	return s
}

// Each year of the open daily series in turn is forecast on the first of
// March, knowing the days before: growing days to the end of October fall
// into the range said 8 times in 10 as often as that, as far as so few years
// can tell. Fewer than 40 outcomes are too few to judge, so only a gross miss
// fails.
func TestHeldBackYears(t *testing.T) {
	set := mustLoad(t)
	hits, count := 0, 0
	for station, file := range map[string]string{"new_york": "new-york.csv", "landsburg": "seattle.csv"} {
		all := record(t, file, yard.NewDate(2016, 1, 1))
		for year := 2012; year <= 2015; year++ {
			lo, hi, truth := seasonAhead(t, set, station, all, year)
			count++
			if truth >= lo && truth <= hi {
				hits++
			}
			t.Logf("%s %d: %.1f growing days from March to October, said %.1f to %.1f", station, year, truth, lo, hi)
		}
	}
	t.Logf("%d of %d within the range said 8 times in 10: too few to judge", hits, count)
	if hits < 3 {
		t.Errorf("only %d of %d seasons fall into their range", hits, count)
	}
}

// seasonAhead is the tenth and nine tenths of growing days from March to
// October as said on 1 March, and what came.
func seasonAhead(t *testing.T, set *data.Set, station string, all *yard.Weather, year int) (lo, hi, truth float64) {
	t.Helper()
	asOf := yard.NewDate(year, 3, 1)
	state := yardOf(set, station, asOf, referencePile("oak", asOf, "shiitake", "wide-range"))
	state.Weather = &yard.Weather{From: all.From, Days: all.Days[:asOf-all.From+1]}
	r, err := prepare(Input{State: state, Data: set, Draws: 400, Years: 1})
	if err != nil {
		t.Fatal(err)
	}
	w := newSky(r)
	s := r.settings[0]
	end := int32(yard.NewDate(year, 10, 31) - r.start)
	var grown []placeDraw
	for n := range r.draws {
		w.draw(n)
		grown = append(grown, placeDraw{soFar: float32(s.at(n, end))})
	}
	a := spread(grown, equal(len(grown)), func(d *placeDraw) float32 { return d.soFar })
	return a.P10, a.P90, realSeason(set, r, s, all, asOf, yard.NewDate(year, 10, 31))
}

// equal is the weight of draws that are all as likely.
func equal(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	return w
}

// realSeason is the growing days that came.
func realSeason(set *data.Set, r *run, s *setting, all *yard.Weather, from, to yard.Date) float64 {
	begin := yard.NewDate(from.Year(), 1, 1)
	air, _ := measuredDays(all, begin, int(to-begin)+1)
	for i := range air {
		air[i].Rain = float32(all.At(begin + yard.Date(i)).Rain)
	}
	var wood ground.Series
	ground.NewModel(s.place, &set.Practice).Fill(&wood, air, begin)
	demand := ground.NewDemand(r.site.Latitude).Fill(nil, air, begin)
	wet := ground.NewWater(s.place, &set.Practice).Fill(nil, air, demand, nil)
	held, _ := growth.NewMoist(&set.Practice).Fill(nil, wet)
	sums, grown := make([]float32, len(air)), make([]float32, len(air))
	s.curves.response[0].Days(grown, wood)
	growth.Sum(sums, grown, held, int(from-begin))
	return float64(sums[len(sums)-1])
}

// Frost, hot days and months ahead are those of the place.
func TestPlaceAhead(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2026, time.August, 1)
	a := mustRun(t, Input{State: newYork(set, asOf), Data: set, Draws: 300, Years: 2}).Site.Ahead
	if m := a.HardFrost.P50.Month(); a.HardFrost.Chance < 0.99 || m < 11 && m > 1 {
		t.Errorf("hard frost %+v", a.HardFrost)
	}
	if m := a.LastFrost.P50.Month(); m < 3 || m > 5 {
		t.Errorf("last frost %+v", a.LastFrost)
	}
	if a.HotDays.P50 < 10 || a.HotDays.P50 > 60 {
		t.Errorf("%v hot days at New York", a.HotDays)
	}
	if len(a.Months) != 12 || len(a.Weeks) != weeksAhead+1 {
		t.Fatalf("%d months and %d weeks ahead", len(a.Months), len(a.Weeks))
	}
	jan, jul := a.Months[5], a.Months[11]
	if jan.Soil.P50 < jan.Air.P50 || jul.Soil.P50 > jul.Air.P50 {
		t.Errorf("soil is colder than the air in January (%.1f, %.1f) or warmer in July (%.1f, %.1f)", jan.Soil.P50, jan.Air.P50, jul.Soil.P50, jul.Air.P50)
	}
	if math.Abs(a.Usual.P50/a.SoFar.P50-1) > 0.2 {
		t.Errorf("growing days so far %.1f, usually %.1f", a.SoFar.P50, a.Usual.P50)
	}
	for _, w := range a.Weeks {
		if w.Moisture.P10 < 0.1 || w.Moisture.P90 > 0.6 || w.Moisture.P10 > w.Moisture.P50 || w.DryChance < 0 || w.DryChance > 1 {
			t.Errorf("moisture %+v", w)
		}
	}
}

// A dry sunny place loses growth and spawn; watering and shade keep them.
func TestDroughtHoldsBack(t *testing.T) {
	set := mustLoad(t)
	share := func(shade float64, watered bool) *Pile {
		p := referencePile("oak", yard.NewDate(2025, 4, 15), "shiitake", "wide-range")
		if watered {
			for d := yard.NewDate(2025, 5, 1); d < yard.NewDate(2026, 4, 1); d += 7 {
				p.Watered = append(p.Watered, yard.Watering{On: yard.When{From: d, To: d}, Hours: 12})
			}
		}
		s := yardOf(set, "oxford", yard.NewDate(2026, 9, 1), p)
		s.Config.Site.Shade = shade
		return mustRun(t, Input{State: s, Data: set, Draws: 300, Years: 1}).Piles[0]
	}
	open, shaded, watered := share(0, false), share(90, false), share(0, true)
	if open.Moisture.DryChance <= shaded.Moisture.DryChance {
		t.Errorf("watering is due with chance %.2f in the open, %.2f in shade", open.Moisture.DryChance, shaded.Moisture.DryChance)
	}
	if open.Colonised.ShareNow >= watered.Colonised.ShareNow {
		t.Errorf("share through %.2f dry, %.2f watered", open.Colonised.ShareNow, watered.Colonised.ShareNow)
	}
}

// A weighing sets the moisture, and a bed has none.
func TestWeighedPile(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2026, 7, 1)
	p := referencePile("oak", yard.NewDate(2026, 4, 15), "shiitake", "wide-range")
	at := func(d yard.Date, kg float64) yard.Weighing {
		return yard.Weighing{On: yard.When{From: d, To: d}, Logs: 4, MassKG: yard.Span{Low: kg, High: kg}}
	}
	p.Weighed = []yard.Weighing{at(yard.NewDate(2026, 4, 20), 48), at(asOf, 40)}
	bed := reishiBed(yard.NewDate(2026, 5, 1), "european")
	res := mustRun(t, Input{State: yardOf(set, "oxford", asOf, p, bed), Data: set, Draws: 100, Years: 1})
	wood, _ := set.FindWood("white oak")
	want := ground.WetBasis(ground.Reweighed(wood.Moisture/100, 12, 10))
	if got := res.Piles[0].Moisture.Now; math.Abs(got.P50-want) > 0.005 || got.P90-got.P10 > 0.01 {
		t.Errorf("moisture %+v, weighed %.3f", got, want)
	}
	if res.Piles[1].Moisture != nil {
		t.Error("a bed has the moisture of logs in the open")
	}
}

// From twenty years of record on, and only where the grower wants it, futures
// are put together from its seasons.
func TestResampleIsAChoice(t *testing.T) {
	set := mustLoad(t)
	asOf := yard.NewDate(2015, time.August, 1)
	four := record(t, "new-york.csv", asOf)
	long := &yard.Weather{From: yard.NewDate(1992, 1, 1)}
	for len(long.Days) < int(asOf-long.From)+1 {
		long.Days = append(long.Days, four.Days[:1096]...)
	}
	long.Days = long.Days[:asOf-long.From+1]
	run := func(w *yard.Weather, wanted bool) bool {
		s := newYork(set, asOf)
		s.Weather, s.Config.Site.Resample = w, wanted
		return mustRun(t, Input{State: s, Data: set, Draws: 50, Years: 1}).Site.Resampled
	}
	if !run(long, true) || run(long, false) || run(four, true) {
		t.Errorf("resampled from a long record %v, unwanted %v, from four years %v", run(long, true), run(long, false), run(four, true))
	}
}
