package yard

import (
	"fmt"
	"math"

	"hodaba/data"
)

var rainedKind = kind{
	KindInfo: KindInfo{
		Name: "rained", Says: "what the rain gauge held, for one day; 0 mm on a dry one",
		Example: `rained 14mm`,
		Keys: []Key{
			{Name: "rain", Holds: "depth of the rain of that one day", Example: "14 mm", Kind: RainKey, Required: true, most: mostRain},
		},
	},
	make: func() readable { return &Rained{} },
}

// Rained is the rain of one day, read off a gauge.
type Rained struct{ Rain Quantity } // mm

// Kind is "rained".
func (r *Rained) Kind() string { return rainedKind.Name }

func (r *Rained) fields() []any { return []any{&r.Rain} }

// check refuses rain of several days: spread over them, it would make of one
// downpour a drizzle that nobody measured.
func (r *Rained) check(t *table) {
	if on, err := whenOf(t.vals["on"]); err == nil && !on.Exact() {
		t.unusable = true
		t.say(Aside, "on", fmt.Sprintf("on: %s is more than a day, and rain counts by the day", on),
			"write the day on which most of it fell, or one entry a day")
	}
}

// gauge is the rain that was read off by hand while the journal is replayed.
type gauge struct {
	own  bool             // State.Weather is a copy and may be changed
	read map[Date]float64 // mm by day
}

// rainApart is how far, in mm, two readings of one day may differ before it
// is pointed at: two gauges in one yard never agree to the tenth.
const rainApart = 1.0

// Apply fills the rain of the day, unless weather.csv has it. Two readings on
// one day are added up.
func (r *Rained) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	day, mm := e.On.From, r.Rain.Mid()
	have := s.Weather.At(day)
	before, again := s.gauge.read[day]
	switch {
	case again:
		s.setRain(day, before+mm)
		return []Problem{e.odd("rain", fmt.Sprintf("the gauge was read twice on %s: the two make %s mm together", e.On, decimal(rounded(before+mm))),
			"correct one of the entries if both are of the same rain")}
	case !have.HasRain:
		s.setRain(day, mm)
	case math.Abs(have.Rain-mm) > rainApart:
		return []Problem{e.odd("rain", fmt.Sprintf("%s has %s mm on %s, and the gauge %s: the file counts", WeatherFile, decimal(have.Rain), e.On, r.Rain.Text),
			"mend whichever is wrong")}
	}
	return nil
}

// setRain notes rain of a day in a copy of the weather that was read.
func (s *State) setRain(day Date, mm float64) {
	g := &s.gauge
	if !g.own {
		g.own, g.read = true, map[Date]float64{}
		s.Weather = s.Weather.copied(day)
	}
	g.read[day] = mm
	w := s.Weather
	if day < w.From {
		w.Days = append(make([]WeatherDay, w.From-day), w.Days...)
		w.From = day
	}
	for int(day-w.From) >= len(w.Days) {
		w.Days = append(w.Days, WeatherDay{})
	}
	w.Days[day-w.From].set(rainfall, mm)
}

// copied is a copy of w that can be changed; without any weather it begins,
// empty, on a day.
func (w *Weather) copied(day Date) *Weather {
	if w == nil {
		return &Weather{From: day}
	}
	return &Weather{From: w.From, Days: append([]WeatherDay(nil), w.Days...)}
}

// rounded is v to the hundredth.
func rounded(v float64) float64 { return math.Round(v*100) / 100 }
