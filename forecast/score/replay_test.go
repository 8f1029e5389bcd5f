package score

import (
	"context"
	"math"
	"reflect"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

func mustLoad(t *testing.T) *data.Set {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

func day(s string) yard.Date {
	d, err := yard.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

const someYard = `format = 1
name = "Fernbrook"
[site]
station = "oxford"
`

// entries of a pile that is looked at, walked past and picked; those who know
// it write them down on the same evening.
const someJournal = `
[[inoculated]]
written = 2024-04-13T18:04:00
on = 2024-04-13
pile = "oak-north"
species = "shiitake"
strain = "wide-range"
logs = 40
diameter = "12 cm"
length = "100 cm"
entry = "k-1"

[[checked]]
written = 2025-05-10T18:04:00
on = 2025-05-10
pile = "oak-north"
looked_at = 10
with_mycelium = 2
entry = "k-2"

[[walked]]
written = 2025-08-30T18:04:00
on = 2025-08-30
piles = ["oak-north"]
entry = "k-3"

[[harvested]]
written = 2025-10-04T18:04:00
on = 2025-10-04
pile = "oak-north"
species = "shiitake"
fresh = "3 kg"
entry = "k-4"
`

// lateEntry was seen before the replay of October 2025, and written down long
// after it.
const lateEntry = `
[[checked]]
written = 2026-03-01T18:04:00
on = 2025-09-13
pile = "oak-north"
looked_at = 10
with_mycelium = 0
entry = "k-5"
`

func folder(t *testing.T, set *data.Set, journal string, today yard.Date) *yard.Folder {
	t.Helper()
	f, problems, err := yard.OpenFiles(yard.InMemory(map[string]string{yard.YardFile: someYard, yard.JournalFile: journal}), set, today)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return f
}

func input(t *testing.T, journal string, today string) Input {
	t.Helper()
	set := mustLoad(t)
	f := folder(t, set, journal, day(today))
	return Input{Today: day(today), Data: set, Draws: 60, Every: 3, State: func(asOf, knownBy yard.Date) *yard.State {
		s, problems := f.State(asOf, knownBy)
		for _, p := range problems {
			if p.Grade != yard.Odd {
				t.Error(p)
			}
		}
		return s
	}}
}

func replayed(t *testing.T, in Input) *Report {
	t.Helper()
	r, err := Replay(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// of is the forecasts of the one outcome of a kind, made before a day.
func of(t *testing.T, r *Report, kind Kind, before string) (fs []Forecast) {
	t.Helper()
	for _, o := range r.Outcomes {
		if o.Kind != kind || o.On != day("2025-10-04") && kind == FirstHarvest || kind == Look && o.On != day("2025-05-10") {
			continue
		}
		for _, f := range o.Forecasts {
			if f.Made < day(before) {
				fs = append(fs, f)
			}
		}
	}
	if len(fs) == 0 {
		t.Fatalf("nothing of kind %q was forecast before %s", kind, before)
	}
	return fs
}

func same(a, b []Forecast) bool {
	clear := func(fs []Forecast) []Forecast {
		out := append([]Forecast{}, fs...)
		for i := range out {
			for _, x := range []*float64{&out[i].Ours, &out[i].Rule, &out[i].Normals, &out[i].P10, &out[i].P50, &out[i].P90, &out[i].Zero, &out[i].Some} {
				if math.IsNaN(*x) {
					*x = -1
				}
			}
		}
		return out
	}
	return reflect.DeepEqual(clear(a), clear(b))
}

// An entry that was written after a replay's day changes nothing of it, though
// what it tells was seen before. Planted: a replay that asks for all that is
// written by now is caught.
func TestReplayKnowsOnlyWhatWasWritten(t *testing.T) {
	without := replayed(t, input(t, someJournal, "2026-04-01"))
	in := input(t, someJournal+lateEntry, "2026-04-01")
	with := replayed(t, in)
	want, got := of(t, without, FirstHarvest, "2025-10-04"), of(t, with, FirstHarvest, "2025-10-04")
	// The look of September is a visit: it moves the day before which nothing
	// was up, which is what came, and not what was said.
	for i := range want {
		if want[i].P10 != got[i].P10 || want[i].P50 != got[i].P50 || want[i].P90 != got[i].P90 {
			t.Errorf("the forecast of %s said %g to %g, and %g to %g with an entry that was not written yet",
				want[i].Made, want[i].P10, want[i].P90, got[i].P10, got[i].P90)
		}
	}
	if !same(of(t, without, Look, "2025-05-10"), of(t, with, Look, "2025-05-10")) {
		t.Error("an entry that was not written yet changed what was said of a look")
	}
	state := in.State
	in.State = func(asOf, _ yard.Date) *yard.State { return state(asOf, 0) }
	planted := of(t, replayed(t, in), FirstHarvest, "2025-10-04")
	if last := len(want) - 1; planted[last].Made != day("2025-10-01") || planted[last].P50 == want[last].P50 {
		t.Errorf("a replay that knows too much says the same on %s", planted[last].Made)
	}
}

// What was seen, and from which days it is forecast.
func TestOutcomesOfAYard(t *testing.T) {
	r := replayed(t, input(t, someJournal, "2026-04-01"))
	if len(r.Outcomes) != 3 {
		t.Fatalf("%d outcomes: %+v", len(r.Outcomes), r.Outcomes)
	}
	for i, want := range []struct {
		kind     Kind
		from, to string
		made     int
	}{
		{FirstHarvest, "2025-08-31", "2025-10-04", 6}, // July 2024 to October 2025, all within 18 months
		{Look, "", "", 4},
		{Kilograms, "", "", 2}, // July 2024 and January 2025
	} {
		o := r.Outcomes[i]
		if o.Kind != want.kind || len(o.Forecasts) != want.made {
			t.Errorf("%s with %d forecasts, want %s with %d", o.Kind, len(o.Forecasts), want.kind, want.made)
		}
		if want.from != "" && (o.From != day(want.from) || o.To != day(want.to)) {
			t.Errorf("between %s and %s, want %s and %s", o.From, o.To, want.from, want.to)
		}
	}
	kg := r.Outcomes[2]
	if kg.Year != 2025 || kg.LowKG != 3 || math.IsNaN(kg.Forecasts[0].Some) || !math.IsNaN(kg.Forecasts[0].Rule) {
		t.Errorf("kilograms: %+v", kg)
	}
	if r.Outcomes[0].Climate != "Oxford" || r.Outcomes[0].Yard != "Fernbrook" {
		t.Errorf("climate %q, yard %q", r.Outcomes[0].Climate, r.Outcomes[0].Yard)
	}
}

// A pile that has not fruited is known not to have up to the last visit.
func TestNotYetIsKnownUpToTheLastVisit(t *testing.T) {
	const walkedAgain = `
[[walked]]
written = 2025-09-20T18:04:00
on = 2025-09-20
entry = "k-6"
`
	journal, _, _ := strings.Cut(someJournal, "[[harvested]]")
	r := replayed(t, input(t, journal+walkedAgain, "2026-04-01"))
	o := r.Outcomes[0]
	if o.Kind != FirstHarvest || !o.Open() || o.From != day("2025-09-21") || o.Forecasts[0].UpTo != 1 {
		t.Errorf("%+v", o)
	}
	if last := o.Forecasts[len(o.Forecasts)-1].Made; last != day("2025-07-01") {
		t.Errorf("scored last from %s", last)
	}
}

// A year with nothing written is nought only where somebody went round in
// three weeks of it, and a basket of two piles says nothing of either.
func TestWhichYearsAreKnown(t *testing.T) {
	p := &yard.Pile{Name: "a", Species: "shiitake", Since: yard.On(day("2023-04-01"))}
	about := Outcome{Pile: "a"}
	if got := kilograms(about, p, day("2026-01-01")); len(got) != 0 {
		t.Errorf("nobody went round: %+v", got)
	}
	for _, d := range []string{"2024-05-01", "2024-05-02", "2024-06-01", "2024-09-01"} {
		p.Seen = append(p.Seen, yard.Seen{On: yard.On(day(d)), Kind: "walked"})
	}
	if got := kilograms(about, p, day("2026-01-01")); len(got) != 1 || got[0].Year != 2024 || got[0].HighKG != 0 {
		t.Errorf("walked in three weeks of 2024: %+v", got)
	}
	pick := func(d string, kg float64, piles ...string) *yard.Pick {
		return &yard.Pick{On: yard.On(day(d)), Piles: piles, Species: "shiitake", Fresh: yard.Span{Low: kg, High: kg}, Weighed: kg > 0}
	}
	p.Picks = []*yard.Pick{pick("2024-09-08", 1.5, "a"), pick("2024-10-08", 0.5, "a"), pick("2025-05-08", 2, "a")}
	got := kilograms(about, p, day("2026-01-01"))
	if len(got) != 2 || got[0].LowKG != 2 || got[1].LowKG != 2 {
		t.Errorf("weighed: %+v", got)
	}
	p.Picks = append(p.Picks, pick("2024-10-20", 4, "a", "b"), pick("2025-06-01", 0, "a"))
	if got := kilograms(about, p, day("2026-01-01")); len(got) != 0 {
		t.Errorf("a shared basket, and one that nobody weighed: %+v", got)
	}
	if got := kilograms(about, p, day("2025-12-31")); len(got) != 0 {
		t.Errorf("a year that is not over: %+v", got)
	}
}

// By hand: shiitake inoculated on 1 April 2024, window 12 to 18 months: days
// 365 to 548 after it, 184 of them (12 and 18 times 365.25/12 are 365.25 and
// 547.875).
func TestRuleOfThumbByHand(t *testing.T) {
	set := mustLoad(t)
	sp, _ := set.FindSpecies("shiitake")
	st, _ := sp.FindStrain("wide-range")
	p := &yard.Pile{Since: yard.On(day("2024-04-01"))}
	s, ok := ruleOfThumb(p, sp, st, &set.Practice)
	if !ok {
		t.Fatal("no rule")
	}
	for _, c := range []struct {
		on   string
		want float64
	}{{"2025-03-31", 0}, {"2025-04-01", 1.0 / 184}, {"2025-07-01", 92.0 / 184}, {"2025-10-01", 1}} {
		if got := s.P(float64(day(c.on))); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.on, got, c.want)
		}
	}
	// A look at 2 logs when half of the window is gone: 1/4, 1/2, 1/4.
	look := ruleOfThumbLook(s, day("2025-07-01"), 2)
	for k, want := range []float64{0.25, 0.5, 0.25} {
		if math.Abs(look[k]-want) > 1e-12 {
			t.Errorf("%d of 2: %g, want %g", k, look[k], want)
		}
	}
	// Known on 1 July not to have come: the 92 days left. Came on the tenth of
	// them: Σ_{i=1}^{9} (i/92)² before it, each day lasting one, and after it
	// Σ_{i=10}^{91} ((92−i)/92)².
	want := 0.0
	for i := 1; i < 92; i++ {
		if f := float64(i) / 92; i < 10 {
			want += f * f
		} else {
			want += (1 - f) * (1 - f)
		}
	}
	if got := s.After(float64(day("2025-07-01"))).CRPS(float64(day("2025-07-11")), math.Inf(1)); math.Abs(got-want) > 1e-9 {
		t.Errorf("score %g, want %g", got, want)
	}
	cold, _ := sp.FindStrain("cold-weather")
	if low, high, _ := window(sp, cold); low != 21 || high != 31.5 {
		t.Errorf("a strain that takes 1.75 times as long: %g to %g months", low, high)
	}
	bed := &yard.Pile{Since: yard.On(day("2024-11-01")), Colonised: true}
	if s, _ := ruleOfThumb(bed, sp, st, &set.Practice); s.P(float64(day("2024-11-30"))) != 0 || s.P(float64(day("2025-04-03"))) != 1 {
		t.Errorf("a bed settles for 1 to 5 months: %v", s.At)
	}
}

// By hand: a strain that fruits from 8 to 16 °C, 20 days at the cool end and 10
// at the warm one, where months are as warm as they are long past January.
func TestThermalTimeByHand(t *testing.T) {
	st := &data.Strain{Fruit: data.Fruit{BandLow: data.Number{Value: 8}, BandHigh: data.Number{Value: 16},
		DaysCool: data.Number{Value: 20}, DaysWarm: data.Number{Value: 10}}}
	var normals [12]forecast.SiteNormal
	for m, c := range []float64{2, 3, 5, 8, 12, 15, 18, 17, 14, 10, 5, 3} {
		normals[m] = forecast.SiteNormal{TMin: c - 4, TMax: c + 4}
	}
	half := func(days ...string) Steps {
		var at []float64
		for _, d := range days {
			at = append(at, float64(day(d)))
		}
		return Ensemble(at)
	}
	made := day("2025-01-01")
	for _, c := range []struct{ half, season, want string }{
		{"2025-05-10", "any", "2025-05-25"},     // 12 °C: 15 days
		{"2025-07-10", "any", "2025-09-14"},     // July and August are too warm; 14 °C: 12.5 days, rounded to 13
		{"2025-11-10", "any", "2026-04-21"},     // April: 20 days
		{"2024-06-10", "any", "2025-04-21"},     // long through: tomorrow, then April
		{"2025-05-10", "falling", "2025-09-14"}, // not in spring
	} {
		st.Fruit.Season, st.Fruit.StartBelow = c.season, data.Number{Value: 16}
		if got := thermalTime(half(c.half), made, st, &normals); len(got.At) != 1 || yard.Date(got.At[0]) != day(c.want) {
			t.Errorf("through on %s, season %s: %s, want %s", c.half, c.season, yard.Date(got.At[0]), c.want)
		}
	}
	st.Fruit.BandLow.Value, st.Fruit.BandHigh.Value = 25, 30
	if got := thermalTime(half("2025-05-10"), made, st, &normals); got.P(math.Inf(1)) != 0 {
		t.Errorf("no season: %v", got)
	}
}

// The same for any number of workers.
func TestReplayIsTheSameForAnyWorkers(t *testing.T) {
	in := input(t, someJournal, "2026-04-01")
	in.Draws = 20
	one := in
	one.Workers = 1
	a, b := replayed(t, in), replayed(t, one)
	for i := range a.Outcomes {
		if !same(a.Outcomes[i].Forecasts, b.Outcomes[i].Forecasts) {
			t.Errorf("%s differs", a.Outcomes[i].Kind)
		}
	}
}

func TestNothingToReplay(t *testing.T) {
	begun, _, _ := strings.Cut(someJournal, "[[checked]]")
	for name, journal := range map[string]string{"no entry": "", "nothing came": begun} {
		r := replayed(t, input(t, journal, "2026-04-01"))
		if len(r.Outcomes) != 0 || len(r.Replays) != 0 || r.Forecasts() != 0 {
			t.Errorf("%s: %+v", name, r)
		}
		if then, err := Back(context.Background(), input(t, "", "2026-04-01")); then != nil || err != nil {
			t.Errorf("half a year back: %v %v", then, err)
		}
	}
}

// A forecast is scored only on what it spoke of: no first harvest of a pile
// that was known to have fruited, nothing of one that is gone, no kilograms of
// one whose logs nobody had counted.
func TestWhatAForecastSpokeOf(t *testing.T) {
	first, look, kg := &Outcome{Kind: FirstHarvest}, &Outcome{Kind: Look}, &Outcome{Kind: Kilograms}
	seen := func(kind string) []yard.Seen { return []yard.Seen{{Kind: kind, On: yard.On(day("2025-05-01"))}} }
	for _, c := range []struct {
		name            string
		pile            *yard.Pile
		first, look, kg bool
	}{
		{"not known yet", nil, false, false, false},
		{"growing", &yard.Pile{LogsKnown: true, Seen: seen("walked")}, true, true, true},
		{"had pins", &yard.Pile{LogsKnown: true, Seen: seen("pinned")}, false, true, true},
		{"was picked", &yard.Pile{LogsKnown: true, Picks: []*yard.Pick{{}}}, false, true, true},
		{"never counted", &yard.Pile{}, true, true, false},
		{"gone", &yard.Pile{LogsKnown: true, Closed: day("2025-05-01")}, false, false, false},
	} {
		if couldSay(c.pile, first) != c.first || couldSay(c.pile, look) != c.look || couldSay(c.pile, kg) != c.kg {
			t.Errorf("%s: %t %t %t", c.name, couldSay(c.pile, first), couldSay(c.pile, look), couldSay(c.pile, kg))
		}
	}
}
