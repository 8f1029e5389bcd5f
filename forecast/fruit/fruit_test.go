package fruit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"testing"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/climate"
	"hodaba/forecast/ground"
	"hodaba/yard"
	"pgregory.net/rapid"
)

func load(t testing.TB) *data.Set {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// series reads a daily series of testdata/weather; the wood follows the air.
func series(t testing.TB, file string) (air []climate.Day, wood ground.Series) {
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
	for _, d := range w.Days {
		air = append(air, climate.Day{TMin: float32(d.TMin), TMax: float32(d.TMax), Rain: float32(d.Rain)})
		wood.Mean = append(wood.Mean, float32((d.TMin+d.TMax)/2))
		wood.Swing = append(wood.Swing, float32((d.TMax-d.TMin)/2))
	}
	return air, wood
}

var first = yard.NewDate(2012, 1, 1)

// Days on which a week had at least 25 mm of rain and a mean of 10 to 20 °C,
// their runs and the first days of the first five and the end of the last,
// counted outside the project on the same open series.
func TestAgainstRainAndWarmthDays(t *testing.T) {
	f := &data.Fruit{Trigger: "rain", Season: "any",
		BandLow: data.Number{Value: 10}, BandHigh: data.Number{Value: 20}, RainMM: data.Number{Value: 25}}
	for _, row := range []struct {
		file   string
		days   int
		runs   int
		starts []string
		last   string
	}{
		{"seattle.csv", 179, 36, []string{"2012-04-21", "2012-04-25", "2012-04-30", "2012-05-03", "2012-05-22"}, "2015-12-09"},
		{"new-york.csv", 145, 22, []string{"2012-04-22", "2012-05-01", "2012-05-21", "2012-06-05", "2012-06-17"}, "2015-12-25"},
	} {
		air, wood := series(t, row.file)
		w := NewWatch(f, &load(t).Practice, 3)
		var all Days
		all.Read(wood, air)
		w.Read(&all, 0)
		days, before := 0, false
		var starts []string
		for d := range air {
			now := false
			if d >= week-1 {
				warmth := all.warmth(d, week)
				now = warmth >= w.low && warmth <= w.high && w.fires(d, Calendar{})
			}
			if now {
				days++
			}
			if now && !before {
				starts = append(starts, (first + yard.Date(d)).String())
			}
			before = now
		}
		if days != row.days || len(starts) != row.runs {
			t.Errorf("%s: %d days in %d runs, want %d in %d", row.file, days, len(starts), row.days, row.runs)
			continue
		}
		for i, want := range row.starts {
			if starts[i] != want {
				t.Errorf("%s: run %d starts on %s, want %s", row.file, i+1, starts[i], want)
			}
		}
		if got := starts[len(starts)-1]; got != row.last {
			t.Errorf("%s: last run starts on %s, want %s", row.file, got, row.last)
		}
	}
}

func strain(t testing.TB, species, name string) *data.Strain {
	t.Helper()
	sp, ok := load(t).FindSpecies(species)
	if !ok {
		t.Fatalf("no %s", species)
	}
	st, ok := sp.FindStrain(name)
	if !ok {
		t.Fatalf("no %s %s", species, name)
	}
	return st
}

func triggersOf(t testing.TB, st *data.Strain, air []climate.Day, wood ground.Series, start yard.Date) []Trigger {
	var days Days
	days.Read(wood, air)
	w := NewWatch(&st.Fruit, &load(t).Practice, st.Growth.TMin.Value)
	return w.Next(nil, &days, 0, Calendar{Start: int(start), Coldest: 15})
}

// Autumn species start only on the falling side of the year, though spring
// passes through the same band.
func TestAutumnSpeciesStayInAutumn(t *testing.T) {
	air, wood := series(t, "new-york.csv")
	for _, species := range []string{"lion's mane", "maitake", "nameko"} {
		st := strain(t, species, "")
		spring, autumn := 0, 0
		for _, trig := range triggersOf(t, st, air, wood, first) {
			switch m := (first + yard.Date(trig.Start)).Month(); {
			case m >= 3 && m <= 6:
				spring++
			case m >= 8:
				autumn++
			}
		}
		if autumn < 8 || spring > 0 {
			t.Errorf("%s: %d triggers in spring, %d in autumn", species, spring, autumn)
		}
		// Planted fault: with the band alone, spring fires as well.
		band := *st
		band.Fruit.Season = "any"
		spring = 0
		for _, trig := range triggersOf(t, &band, air, wood, first) {
			if m := (first + yard.Date(trig.Start)).Month(); m >= 3 && m <= 6 {
				spring++
			}
		}
		if spring < 8 {
			t.Errorf("%s: the band alone gives only %d triggers in spring; the test could not fail", species, spring)
		}
	}
}

// A longer past changes no trigger.
func TestTriggersFromAnyBeginning(t *testing.T) {
	air, wood := series(t, "seattle.csv")
	const cut = 303
	for _, species := range []string{"shiitake", "lion's mane", "reishi", "oyster", "turkey tail"} {
		st := strain(t, species, "")
		long := triggersOf(t, st, air, wood, first)
		short := triggersOf(t, st, air[cut:], ground.Series{Mean: wood.Mean[cut:], Swing: wood.Swing[cut:]}, first+cut)
		i := after(long, cut+Settled)
		j := after(short, Settled)
		if len(long)-i != len(short)-j {
			t.Fatalf("%s: %d triggers after a long past, %d after a short one", species, len(long)-i, len(short)-j)
		}
		for k := range long[i:] {
			a, b := long[i+k], short[j+k]
			if a.Start != b.Start+cut || a.Pick != b.Pick+cut || a.PickWarm-a.StartWarm != b.PickWarm-b.StartWarm {
				t.Fatalf("%s: %+v after a long past, %+v after a short one", species, a, b)
			}
		}
	}
}

// drawnSoaks are soaks of a strain on random days, each with a stream of its own.
func drawnSoaks(t *rapid.T, w *Watch, c Calendar, days int, seed uint64, apart int) *Soaks {
	s := &Soaks{Again: 28, Answers: func(soak int32) *rand.Rand { return rand.New(rand.NewPCG(seed, uint64(soak)+100)) }}
	day := 0
	for k := range rapid.IntRange(0, 20).Draw(t, "soaks") {
		day += rapid.IntRange(apart, 200).Draw(t, "days on")
		if day >= days {
			break
		}
		if trig, ok := w.Soaked(day, c); ok {
			trig.Soak = int32(k + 1)
			s.Triggers = append(s.Triggers, trig)
		}
	}
	return s
}

// No cohort is picked before it is through, before a trigger, or before it
// has rested; what fruits once a season does so in seasons that ascend. Soaks that every log answers, rested
// or not, are caught.
func TestWalkLaws(t *testing.T) {
	air, wood := series(t, "seattle.csv")
	all := map[string][]Trigger{}
	strains := map[string]*data.Strain{}
	watches := map[string]*Watch{}
	calendar := Calendar{Start: int(first), Coldest: 15}
	var days Days
	days.Read(wood, air)
	names := []string{"shiitake", "reishi", "turkey tail", "maitake", "nameko", "lion's mane"}
	for _, n := range names {
		strains[n] = strain(t, n, "")
		watches[n] = NewWatch(&strains[n].Fruit, &load(t).Practice, strains[n].Growth.TMin.Value)
		all[n] = watches[n].Next(nil, &days, 0, calendar)
	}
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "species")
		f := &strains[name].Fruit
		ready := make([]int32, 3)
		for i := range ready {
			ready[i] = int32(rapid.IntRange(0, 1400).Draw(t, "ready"))
			if rapid.IntRange(0, 5).Draw(t, "never") == 0 {
				ready[i] = Never
			}
		}
		seed := rapid.Uint64().Draw(t, "seed")
		soaks := drawnSoaks(t, watches[name], calendar, len(air), seed, 1)
		flushes := Walk(nil, f, all[name], ready, rand.New(rand.NewPCG(seed, 1)), soaks)
		rest := chance.Skewed(f.RestWeeks.Low, f.RestWeeks.Typical, f.RestWeeks.High, rand.New(rand.NewPCG(seed, 1)).NormFloat64())
		last := map[int]Trigger{}
		for _, fl := range flushes {
			if fl.Day < ready[fl.Cohort] {
				t.Fatalf("picked on day %d, through on day %d", fl.Day, ready[fl.Cohort])
			}
			by := triggerOf(all[name], soaks.Triggers, fl)
			if fl.Soak > 0 {
				answered++
			}
			if was, ok := last[fl.Cohort]; ok {
				if f.Once && by.Season <= was.Season {
					t.Fatalf("picked in season %d after season %d", by.Season, was.Season)
				}
				if short := restedTooShort(f, rest, was, by); short != "" {
					t.Fatalf("%+v answered after %+v: %s", by, was, short)
				}
			}
			last[fl.Cohort] = by
		}
	})
	if answered == 0 {
		t.Error("no soak brought anything: nothing was tested")
	}
}

// triggerOf is the latest trigger of which a flush is.
func triggerOf(triggers, soaks []Trigger, fl Flush) (by Trigger) {
	for _, list := range [][]Trigger{triggers, soaks} {
		for _, t := range list {
			if t.Pick == fl.Day && t.Soak == fl.Soak {
				by = t
			}
		}
	}
	return by
}

// restedTooShort says by how much a cohort had too little rest between two
// triggers that it answered, in days above the growth minimum: from picking to
// trigger, from soak to soak where both were.
func restedTooShort(f *data.Fruit, rest float64, was, by Trigger) string {
	want, from := int32(7*rest), was.PickWarm
	switch {
	case by.Forced:
		want = min(want, int32(7*f.RestWeeks.Typical))
	case f.Once:
		return ""
	}
	if by.Forced && was.Forced {
		from = was.StartWarm
	}
	if got := by.StartWarm - from; got < want {
		return fmt.Sprintf("%d days of rest, want %d", got, want)
	}
	return ""
}

// After a flush that came by itself logs rest from its picking before they
// answer a soak; only a soak cycle runs from soak to soak. By hand: a flush set
// off on day 100 and picked on day 120, or soaked on day 100 and picked on day
// 109, and a rest of eight weeks, always.
func TestRestBeforeASoak(t *testing.T) {
	all := data.Range{Low: 1, Typical: 1, High: 1}
	f := &data.Fruit{Season: "any", Chance: data.Number{Value: 1}, Forced: true, Share: all, SoakShare: all, RestWeeks: data.Range{Low: 8, Typical: 8, High: 8}}
	at := func(start, pick, soak int32) Trigger {
		return Trigger{Start: start, StartWarm: start, Pick: pick, PickWarm: pick, Forced: soak > 0, Soak: soak}
	}
	for _, c := range []struct {
		name     string
		natural  []Trigger
		soaks    []Trigger
		answered bool
	}{
		{"a day too soon after the picking", []Trigger{at(100, 120, 0)}, []Trigger{at(120+55, 190, 1)}, false},
		{"rested since the picking", []Trigger{at(100, 120, 0)}, []Trigger{at(120+56, 190, 1)}, true},
		{"before the picking", []Trigger{at(100, 120, 0)}, []Trigger{at(110, 119, 1)}, false},
		{"a day too soon after the soak", nil, []Trigger{at(100, 109, 1), at(100+55, 170, 2)}, false},
		{"rested since the soak", nil, []Trigger{at(100, 109, 1), at(100+56, 170, 2)}, true},
	} {
		soaks := &Soaks{Triggers: c.soaks, Again: 28, Answers: func(soak int32) *rand.Rand { return rand.New(rand.NewPCG(1, uint64(soak))) }}
		flushes := Walk(nil, f, c.natural, []int32{0}, rand.New(rand.NewPCG(1, 1)), soaks)
		last := c.soaks[len(c.soaks)-1].Soak
		answered := slices.ContainsFunc(flushes, func(fl Flush) bool { return fl.Soak == last })
		if answered != c.answered {
			t.Errorf("%s: answered %v, want %v; %+v", c.name, answered, c.answered, flushes)
		}
	}
	// And the other way round: by themselves logs come again only when they have
	// rested since the picking, whatever brought it.
	soaks := &Soaks{Triggers: []Trigger{at(100, 109, 1)}, Again: 28, Answers: func(soak int32) *rand.Rand { return rand.New(rand.NewPCG(1, uint64(soak))) }}
	flushes := Walk(nil, f, []Trigger{at(109+55, 180, 0), at(109+56, 181, 0)}, []int32{0}, rand.New(rand.NewPCG(1, 1)), soaks)
	if len(flushes) != 2 || flushes[1].Day != 181 {
		t.Errorf("after a soak: %+v, want pickings on days 109 and 181", flushes)
	}
}

// To leave a soak out changes nothing before it, and nothing of logs that had
// not answered it. Answers drawn one after another from the pile's stream were
// caught.
func TestASoakLeftOut(t *testing.T) {
	air, wood := series(t, "seattle.csv")
	st := strain(t, "shiitake", "wide-range")
	calendar := Calendar{Start: int(first), Coldest: 15}
	var days Days
	days.Read(wood, air)
	w := NewWatch(&st.Fruit, &load(t).Practice, st.Growth.TMin.Value)
	triggers := w.Next(nil, &days, 0, calendar)
	compared := 0
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64().Draw(t, "seed")
		soaks := drawnSoaks(t, w, calendar, len(air), seed, 28)
		if len(soaks.Triggers) == 0 {
			return
		}
		out := rapid.IntRange(0, len(soaks.Triggers)-1).Draw(t, "left out")
		left := soaks.Triggers[out]
		ready := []int32{0, 300, 600, 900}
		walked := func(s *Soaks) []Flush {
			return Walk(nil, &st.Fruit, triggers, ready, rand.New(rand.NewPCG(seed, 1)), s)
		}
		fewer := *soaks
		fewer.Triggers = slices.Delete(slices.Clone(soaks.Triggers), out, out+1)
		with, without := walked(soaks), walked(&fewer)
		for c := range ready {
			of := func(all []Flush) (one []Flush) {
				for _, fl := range all {
					if fl.Cohort == c {
						one = append(one, fl)
					}
				}
				return one
			}
			a, b := of(with), of(without)
			if i := slices.IndexFunc(a, func(fl Flush) bool { return fl.Soak == left.Soak }); i >= 0 {
				// It answered: what came before is as it was.
				a, b = a[:i], b[:min(i, len(b))]
			} else {
				compared++
			}
			if !slices.Equal(a, b) {
				t.Fatalf("cohort %d without the soak of day %d: %+v, with it %+v", c, left.Start, b, a)
			}
		}
	})
	if compared == 0 {
		t.Error("every log answered: nothing was compared")
	}
}

// Logs too dry to fruit start no flush.
func TestDryLogsDoNotFruit(t *testing.T) {
	air, wood := series(t, "seattle.csv")
	st := strain(t, "shiitake", "")
	var days Days
	days.Read(wood, air)
	w := NewWatch(&st.Fruit, &load(t).Practice, st.Growth.TMin.Value)
	wet := make([]float32, len(air))
	for i := range wet {
		wet[i] = 0.6
		if i >= 500 && i < 900 {
			wet[i] = 0.25
		}
	}
	n := 0
	for _, trig := range w.Moist(nil, w.Next(nil, &days, 0, Calendar{Start: int(first)}), wet, 0) {
		if trig.Start >= 500 && trig.Start < 900 {
			t.Fatalf("a flush starts on day %d", trig.Start)
		}
		n++
	}
	if n == 0 {
		t.Error("no flush starts at all")
	}
}

// A soak brings a flush only to strains that can be forced.
func TestSoak(t *testing.T) {
	air, wood := series(t, "seattle.csv")
	count := func(species, class string) int {
		st := strain(t, species, class)
		w := NewWatch(&st.Fruit, &load(t).Practice, st.Growth.TMin.Value)
		c := Calendar{Start: int(first), Coldest: 15}
		var days Days
		days.Read(wood, air)
		w.Next(nil, &days, 0, c)
		s, ok := w.Soaked(550, c) // early July 2013
		if !ok {
			return 0
		}
		if s.Pick-s.Start < 5 || s.Pick-s.Start > 30 {
			t.Errorf("%s: picked %d days after the soak", species, s.Pick-s.Start)
		}
		n := 0
		for seed := range uint64(50) {
			soaks := &Soaks{Triggers: []Trigger{s}, Again: 28, Answers: func(int32) *rand.Rand { return rand.New(rand.NewPCG(seed, 2)) }}
			n += len(Walk(nil, &st.Fruit, nil, []int32{0, 0}, rand.New(rand.NewPCG(seed, 1)), soaks))
		}
		return n
	}
	if n := count("shiitake", "wide-range"); n == 0 {
		t.Error("a soak in July brings nothing from wide-range shiitake")
	}
	if n := count("oyster", ""); n != 0 {
		t.Errorf("a soak brings %d flushes from oyster, which cannot be forced", n)
	}
}

// A soak brings a flush in a week in the band, and in one somewhat colder. One warm day in a
// cold week brings none, and one cold day in a warm week hinders none: a soak
// that looked at its last day alone was caught.
func TestSoakLooksAtTheWeek(t *testing.T) {
	st := strain(t, "shiitake", "wide-range")
	pr := &load(t).Practice
	low, colder := st.Fruit.BandLow.Value, pr.SoakColder.Value
	const out = 60
	for _, c := range []struct {
		name      string
		week, day float64 // °C before the day on which logs come out, and on it
		after     float64
		comes     bool
	}{
		{"in the band", low + 2, low + 2, low + 2, true},
		{"a cold day", low + 2, low - 6, low + 2, true},
		{"a warm day", low - 6, low + 2, low + 2, false},
		{"a little colder", low - colder/2, low - colder/2, low + 1, true},
		{"as cold as a flush would still grow", low - pr.FlushStops.Value + 0.5, low - pr.FlushStops.Value + 0.5, low + 2, false},
		{"too warm", st.Fruit.BandHigh.Value + 2, st.Fruit.BandHigh.Value - 1, st.Fruit.BandHigh.Value, false},
		{"winter comes", low + 1, low + 1, low - pr.FlushStops.Value - 1, false},
	} {
		air, wood := make([]climate.Day, 200), ground.Series{Mean: make([]float32, 200), Swing: make([]float32, 200)}
		for d := range air {
			x := c.week
			if d == out {
				x = c.day
			} else if d > out {
				x = c.after
			}
			wood.Mean[d] = float32(x)
		}
		var days Days
		days.Read(wood, air)
		w := NewWatch(&st.Fruit, pr, st.Growth.TMin.Value)
		w.Read(&days, 0)
		if _, comes := w.Soaked(out, Calendar{}); comes != c.comes {
			t.Errorf("%s: brings a flush: %v, want %v", c.name, comes, c.comes)
		}
	}
}

// A flush in constant warmth takes the days of the band's end.
func TestDaysToPicking(t *testing.T) {
	st := strain(t, "shiitake", "wide-range")
	for _, row := range []struct{ t, days float64 }{
		{st.Fruit.BandHigh.Value, st.Fruit.DaysWarm.Value}, {st.Fruit.BandLow.Value, st.Fruit.DaysCool.Value},
	} {
		air := make([]climate.Day, 200)
		wood := ground.Series{Mean: make([]float32, 200), Swing: make([]float32, 200)}
		for i := range air {
			air[i] = climate.Day{TMin: float32(row.t), TMax: float32(row.t), Rain: 10}
			wood.Mean[i] = float32(row.t)
		}
		ts := triggersOf(t, st, air, wood, first)
		if len(ts) == 0 {
			t.Fatalf("no trigger at %g °C", row.t)
		}
		if got := float64(ts[0].Pick - ts[0].Start); math.Abs(got-row.days) > 1 {
			t.Errorf("at %g °C picked after %g days, want %g", row.t, got, row.days)
		}
	}
}

// Rain without cooling sets off wide-range and warm-weather shiitake and not
// cold-weather strains, cooling without rain the reverse (Bruhn, Mihail and
// Pickens 2009: the first two answer significant rain, the third temperature).
func TestAgainstWhatShiitakeAnswers(t *testing.T) {
	const mild, cooler = 18.0, 11.0
	rain, cooling := make([]climate.Day, 120), make([]climate.Day, 120)
	steady, falls := ground.Series{Mean: make([]float32, 120)}, ground.Series{Mean: make([]float32, 120)}
	for d := range rain {
		steady.Mean[d], falls.Mean[d] = mild, mild
		if d%30 < 4 {
			rain[d].Rain, falls.Mean[d] = 15, cooler
		}
	}
	for _, c := range []struct {
		strain       string
		rains, cools bool
	}{{"wide-range", true, false}, {"warm-weather", true, false}, {"cold-weather", false, true}} {
		st := strain(t, "shiitake", c.strain)
		if n := len(triggersOf(t, st, rain, steady, first)); (n > 0) != c.rains {
			t.Errorf("%s: %d triggers from rain without cooling, want some: %v", c.strain, n, c.rains)
		}
		if n := len(triggersOf(t, st, cooling, falls, first)); (n > 0) != c.cools {
			t.Errorf("%s: %d triggers from cooling without rain, want some: %v", c.strain, n, c.cools)
		}
	}
}
