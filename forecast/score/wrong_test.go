package score

import (
	"context"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// halfYear is a yard of one pile, what was said of it on 1 May and what is
// said on 15 November; each test changes what it is about.
type halfYear struct {
	then, now *forecast.Result
	state     *yard.State
	set       *data.Set
	looks     []Outcome
}

func aHalfYear() *halfYear {
	h := &halfYear{set: &data.Set{}, state: &yard.State{AsOf: day("2026-11-15")}}
	h.set.Practice.WaterBelow.Value = 30
	h.state.Piles = []*yard.Pile{{Name: "oak-north", Species: "shiitake", Since: yard.On(day("2025-04-12"))}}
	said := &forecast.Pile{Name: "oak-north", Colonised: &forecast.Colonised{ChanceNow: 0.4},
		NeedDays: forecast.Amount{P50: 150}, Moisture: &forecast.Moisture{Now: forecast.Amount{P50: 0.36}}}
	said.FirstDays = spread("2026-08-01", "2026-10-31", 0.9)
	h.then = &forecast.Result{AsOf: day("2026-05-01"), Piles: []*forecast.Pile{said}}
	next := *said
	next.Colonised = &forecast.Colonised{ChanceNow: 0.6}
	next.First = forecast.FirstHarvest{Chance: 0.99, Dates: forecast.Dates{P50: day("2027-05-20")}}
	h.now = &forecast.Result{AsOf: h.state.AsOf, Piles: []*forecast.Pile{&next}}
	h.now.Site.Ahead.SoFar = forecast.Amount{P50: 120}
	h.now.Site.Ahead.Usual = forecast.Amount{P10: 110, P50: 122, P90: 135}
	for m := range h.now.Site.Normals {
		h.now.Site.Normals[m].Rain = 60
	}
	return h
}

// spread gives a share of the chance evenly to the days of a time.
func spread(from, to string, share float64) *chance.Tally {
	a, b := int(day(from)), int(day(to))
	t := chance.Days(a-400, b+800)
	for d := a; d <= b; d++ {
		t.Add(float64(d), share/float64(b-a+1))
	}
	t.Never(1 - share)
	return t
}

func (h *halfYear) seen(kind, on string) *halfYear {
	h.state.Piles[0].Seen = append(h.state.Piles[0].Seen, yard.Seen{Kind: kind, On: yard.On(day(on))})
	return h
}

// look adds a look at ten log ends and the chances that had been given to it:
// even from low to high.
func (h *halfYear) look(pile, on string, with, low, high int) *halfYear {
	chances := make([]float64, 11)
	for k := low; k <= high; k++ {
		chances[k] = 1 / float64(high-low+1)
	}
	h.looks = append(h.looks, Outcome{Kind: Look, Pile: pile, Species: "shiitake", On: day(on), With: with, LookedAt: 10})
	h.then.Answers = append(h.then.Answers, chances)
	return h
}

// rain lays a measured rain over the days from May on.
func (h *halfYear) rain(perDay map[int]float64) *halfYear {
	w := &yard.Weather{From: day("2026-05-01"), Days: make([]yard.WeatherDay, 199)}
	for i := range w.Days {
		w.Days[i].HasRain, w.Days[i].Rain = true, 2
		if mm, ok := perDay[int((w.From + yard.Date(i)).Month())]; ok {
			w.Days[i].Rain = mm
		}
	}
	h.state.Weather = w
	return h
}

func (h *halfYear) misses() []Miss {
	return Misses(&Then{Result: h.then, looks: h.looks}, h.now, h.state, h.set)
}

func TestWhereWeWereWrong(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(*halfYear)
		kind MissKind // "" no miss
		why  WhyKind
	}{
		{"nothing came, and somebody went round", func(h *halfYear) { h.seen("walked", "2026-10-10") }, NothingCame, WhyNone},
		{"nothing is written", func(h *halfYear) {}, NothingWritten, WhyNone},
		{"went round before it was likely", func(h *halfYear) { h.seen("walked", "2026-08-10") }, NothingWritten, WhyNone},
		{"nothing came, and somebody looked at the ends", func(h *halfYear) { h.seen("checked", "2026-10-10") }, NothingCame, WhyNone},
		{"nothing is written, but a look was off", func(h *halfYear) { h.look("oak-north", "2026-08-30", 2, 4, 8) }, LookOff, WhyNone},
		{"it came as said", func(h *halfYear) { h.seen("harvested", "2026-09-20") }, "", ""},
		{"it was not so sure", func(h *halfYear) {
			h.then.Piles[0].FirstDays = spread("2026-08-01", "2026-10-31", 0.79)
			h.seen("walked", "2026-10-10")
		}, "", ""},
		{"the last log went", func(h *halfYear) { h.state.Piles[0].Closed = day("2026-09-01") }, "", ""},
		{"it came early", func(h *halfYear) { h.seen("pinned", "2026-07-20") }, CameEarly, WhyNone},
		{"it came on the early day said", func(h *halfYear) { h.seen("pinned", "2026-08-11") }, "", ""},
		{"it came a few days before it", func(h *halfYear) { h.seen("pinned", "2026-07-29") }, "", ""},
		{"it had come before", func(h *halfYear) { h.seen("harvested", "2025-11-01").seen("harvested", "2026-09-20") }, "", ""},
		{"fewer logs through than said", func(h *halfYear) {
			h.seen("harvested", "2026-09-20").look("oak-north", "2026-08-30", 2, 4, 8)
		}, LookOff, WhyNone},
		{"as many as said", func(h *halfYear) {
			h.seen("harvested", "2026-09-20").look("oak-north", "2026-08-30", 4, 4, 8)
		}, "", ""},
		{"a look found few", func(h *halfYear) {
			h.seen("walked", "2026-10-10").look("oak-north", "2026-08-30", 4, 4, 8)
			h.now.Site.Ahead.SoFar.P50 = 90
		}, NothingCame, WhyLook},
		{"a look found as many as was likely", func(h *halfYear) {
			h.seen("walked", "2026-10-10").look("oak-north", "2026-08-30", 6, 4, 8)
		}, NothingCame, WhyNone},
		{"a look at another pile", func(h *halfYear) {
			h.seen("walked", "2026-10-10").look("oak-south", "2026-08-30", 1, 4, 8)
			h.now.Piles[0].NeedDays.P50 = 180
		}, NothingCame, WhyOthers},
		{"few growing days", func(h *halfYear) {
			h.seen("walked", "2026-10-10").rain(map[int]float64{8: 0})
			h.now.Site.Ahead.SoFar.P50 = 100
		}, NothingCame, WhyGrowth},
		{"few growing days, but it was run through", func(h *halfYear) {
			h.seen("walked", "2026-10-10")
			h.then.Piles[0].Colonised.ChanceNow = 0.99
			h.now.Site.Ahead.SoFar.P50 = 100
		}, NothingCame, WhyNone},
		{"a dry month", func(h *halfYear) {
			h.seen("walked", "2026-10-10").rain(map[int]float64{7: 0.9, 8: 0.2})
		}, NothingCame, WhyRain},
		{"a dry month before it was said", func(h *halfYear) { h.seen("walked", "2026-10-10").rain(map[int]float64{11: 0}) }, NothingCame, WhyNone},
		{"rain as usual, dry logs", func(h *halfYear) {
			h.seen("walked", "2026-10-10").rain(nil)
			h.now.Piles[0].Moisture = &forecast.Moisture{Now: forecast.Amount{P50: 0.28}}
		}, NothingCame, WhyDryLogs},
		{"early after a wet month", func(h *halfYear) { h.seen("harvested", "2026-07-20").rain(map[int]float64{6: 4}) }, CameEarly, WhyRain},
		{"early, and wet only after it", func(h *halfYear) { h.seen("harvested", "2026-07-20").rain(map[int]float64{9: 4}) }, CameEarly, WhyNone},
		{"early after a warm year", func(h *halfYear) {
			h.seen("harvested", "2026-07-20")
			h.now.Site.Ahead.SoFar.P50 = 140
		}, CameEarly, WhyGrowth},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := aHalfYear()
			c.make(h)
			got := h.misses()
			switch {
			case c.kind == "" && len(got) == 0:
			case len(got) != 1 || got[0].Kind != c.kind || got[0].Why.Kind != c.why:
				t.Fatalf("got %+v, want %q because of %q", got, c.kind, c.why)
			}
			if c.why == WhyRain && c.kind == NothingCame && got[0].Why.Month != day("2026-08-01") {
				t.Errorf("the driest month is %s", got[0].Why.Month)
			}
		})
	}
}

// What a sentence needs stands in the miss.
func TestWhatAMissHolds(t *testing.T) {
	h := aHalfYear().seen("walked", "2026-10-10")
	m := h.misses()[0]
	// 0.9 over the 92 days from 1 August: four fifths on the 82nd of them.
	if m.Made != day("2026-05-01") || m.By != day("2026-10-21") || m.Chance < 0.899 || m.Chance > 0.901 || !m.First || m.Now.P50 != day("2027-05-20") {
		t.Errorf("%+v", m)
	}
	h = aHalfYear().seen("harvested", "2026-07-20")
	// One tenth on the 11th of the 92 days.
	if m := h.misses()[0]; m.By != day("2026-08-11") || m.On != day("2026-07-20") || m.Chance != 0 {
		t.Errorf("%+v", m)
	}
	h = aHalfYear().seen("harvested", "2026-09-20").look("oak-north", "2026-08-30", 2, 4, 8)
	if m := h.misses()[0]; m.Low != 4 || m.High != 8 || m.With != 2 || m.LookedAt != 10 || m.On != day("2026-08-30") {
		t.Errorf("%+v", m)
	}
	if Misses(nil, h.now, h.state, h.set) != nil || Misses(&Then{Result: h.then}, nil, h.state, h.set) != nil {
		t.Error("something is wrong where nothing was said")
	}
}

// The forecast of half a year ago, made again, knows what was written then and
// is asked for the looks since.
func TestBack(t *testing.T) {
	in := input(t, someJournal, "2025-11-04")
	then, err := Back(context.Background(), in)
	if err != nil || then == nil {
		t.Fatal(then, err)
	}
	if then.Result.AsOf != day("2025-05-01") || len(then.looks) != 1 || then.looks[0].On != day("2025-05-10") || then.answers(0) == nil || then.answers(1) != nil {
		t.Errorf("%s, %+v", then.Result.AsOf, then.looks)
	}
	in.Today = day("2024-05-01")
	if then, err := Back(context.Background(), in); then != nil || err != nil {
		t.Errorf("before anything was known: %v %v", then, err)
	}
}
