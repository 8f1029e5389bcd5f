package forecast

import (
	"context"

	"hodaba/forecast/climate"
	"hodaba/forecast/fruit"
	"hodaba/forecast/ground"
	"hodaba/yard"
)

// weather draws the weather and works out growing days and triggers of every
// setting, draw by draw.
func (r *run) weather(ctx context.Context) error {
	err := r.parallel(ctx, r.draws, func() func(int) {
		w := newSky(r)
		return w.draw
	})
	if err != nil {
		return err
	}
	for _, s := range r.settings {
		r.summarise(s)
	}
	return nil
}

// sky is what one worker needs to draw weather.
type sky struct {
	r      *run
	air    []climate.Day
	models []*ground.Model
	wood   []*ground.Series // by setting; settings at one place share theirs
	days   []*fruit.Days    // likewise
	fresh  []bool           // the setting is the first at its place
	watch  []*fruit.Watch
}

func newSky(r *run) *sky {
	w := &sky{r: r, air: make([]climate.Day, r.days)}
	at := map[ground.Place]int{}
	for i, s := range r.settings {
		first, shared := at[s.place]
		if s.place.Buried || !shared {
			at[s.place] = i
			w.models = append(w.models, ground.NewModel(s.place, &r.data.Practice))
			w.wood = append(w.wood, &ground.Series{})
			w.days = append(w.days, &fruit.Days{})
			w.fresh = append(w.fresh, true)
		} else {
			w.models = append(w.models, w.models[first])
			w.wood = append(w.wood, w.wood[first])
			w.days = append(w.days, w.days[first])
			w.fresh = append(w.fresh, false)
		}
		w.watch = append(w.watch, fruit.NewWatch(&s.strain.Fruit, &r.data.Practice, s.strain.Growth.TMin.Value))
	}
	return w
}

// draw makes one draw of weather and reads it for every setting. What is read
// for a setting begins at a fixed time before its oldest pile.
func (w *sky) draw(n int) {
	r := w.r
	r.source.Fill(w.air, nil, r.start, n, r.seed)
	for i, s := range r.settings {
		skip := s.skip
		wood, days := w.wood[i], w.days[i]
		if w.fresh[i] {
			w.models[i].Fill(wood, w.air[skip:], r.start+yard.Date(skip))
			days.Read(*wood, w.air[skip:])
		}
		w.grow(s, wood, n)
		calendar := r.calendarDays
		calendar.Start += skip
		s.triggers[n] = shift(w.watch[i].Next(nil, days, s.from-skip, calendar), skip)
		w.soak(i, n, skip, calendar)
	}
}

// grow sums the growing days of a setting, or takes them from the one before
// it that has the same response at the same place.
func (w *sky) grow(s *setting, wood *ground.Series, n int) {
	if s.like != nil {
		s.sums[n] = s.like.sums[n]
		return
	}
	days := ground.Series{Mean: wood.Mean[s.from-s.skip:], Swing: wood.Swing[s.from-s.skip:]}
	sum := make([]float32, len(days.Mean))
	s.response.Sum(sum, days, int(w.r.today)-s.from)
	s.sums[n] = sum
}

// soak lists the planned soaks of the piles of a setting.
func (w *sky) soak(i, n, skip int, c fruit.Calendar) {
	r := w.r
	for _, t := range r.tasks {
		days := r.decision.Soaks[t.pile.Name]
		if t.setting != r.settings[i] || len(days) == 0 {
			continue
		}
		var soaks []fruit.Trigger
		for _, d := range days {
			if s, ok := w.watch[i].Soaked(int(d-r.start)-skip, c); ok {
				soaks = append(soaks, s)
			}
		}
		t.soaks[n] = shift(soaks, skip)
	}
}

// shift moves triggers from days of a later beginning to days of the weather.
func shift(ts []fruit.Trigger, by int) []fruit.Trigger {
	for i := range ts {
		ts[i].Start += int32(by)
		ts[i].Pick += int32(by)
	}
	return ts
}

// summarise notes what a setting's years ahead are like.
func (r *run) summarise(s *setting) {
	year := 0.0
	barren := 0
	for n := range s.sums {
		year += s.at(n, r.today+365)
		if k := len(s.triggers[n]); k == 0 || s.triggers[n][k-1].Start <= r.today {
			barren++
		}
	}
	s.year = year / float64(len(s.sums))
	s.barren = float64(barren) / float64(len(s.sums))
}
