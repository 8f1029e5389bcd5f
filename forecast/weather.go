package forecast

import (
	"context"
	"slices"

	"hodaba/forecast/climate"
	"hodaba/forecast/colonise"
	"hodaba/forecast/fruit"
	"hodaba/forecast/ground"
	"hodaba/forecast/growth"
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
	r        *run
	air      []climate.Day
	models   []*ground.Model
	wood     []*ground.Series // by setting; settings at one place share theirs
	days     []*fruit.Days    // likewise
	fresh    []bool           // the setting is the first at its place
	watch    []*fruit.Watch
	moist    growth.Moist
	demand   *ground.Demand
	asks     []float32   // evaporative demand by day
	moisture []*moisture // by setting; settings of one place and year share theirs
	here     *placeWorker

	alike    []int             // by setting: the first of the same strain at the same place
	grows    []int             // by setting: the first of the same response at the same place whose growth is needed
	first    []int             // by setting: first day of the weather that it or one like it needs
	triggers [][]fruit.Trigger // by setting that is the first alike
	grown    [][]float32       // by setting that grows first: growing days by day from first on
}

// moisture is that of the logs of one place and year in the draw at hand.
type moisture struct {
	owner int       // the setting that fills it
	wet   []float32 // dry basis, from when they were green
	held  []float32 // share of growth it allows
	lost  int       // day from then on which the spawn is lost, −1
}

func newSky(r *run) *sky {
	w := &sky{r: r, air: make([]climate.Day, r.days), moist: growth.NewMoist(&r.data.Practice), demand: ground.NewDemand(r.site.Latitude)}
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
	w.shareMoisture()
	w.shareWork()
	if r.here != nil {
		w.here = newPlaceWorker(r)
	}
	return w
}

// shareMoisture gives settings of one place and year one moisture.
func (w *sky) shareMoisture() {
	for i, s := range w.r.settings {
		w.moisture = append(w.moisture, nil)
		if s.water == nil {
			continue
		}
		w.moisture[i] = &moisture{owner: i}
		for j, t := range w.r.settings[:i] {
			if t.water != nil && t.place == s.place && t.green == s.green && len(t.waterings) == 0 && len(s.waterings) == 0 {
				w.moisture[i] = w.moisture[j]
				break
			}
		}
	}
}

// shareWork finds which settings have triggers and growing days in common.
func (w *sky) shareWork() {
	all := w.r.settings
	w.triggers, w.grown = make([][]fruit.Trigger, len(all)), make([][]float32, len(all))
	for i, s := range all {
		alike, grows := i, i
		for j := i - 1; j >= 0 && !s.place.Buried; j-- {
			if all[j].place != s.place {
				continue
			}
			if all[j].strain == s.strain {
				alike = w.alike[j]
			}
			if all[j].curves.response == s.curves.response && all[j].needed {
				grows = w.grows[j]
			}
		}
		w.alike, w.grows, w.first = append(w.alike, alike), append(w.grows, grows), append(w.first, s.from)
		w.first[alike], w.first[grows] = min(w.first[alike], s.from), min(w.first[grows], s.from)
	}
}

// draw makes one draw of weather and reads it for every setting. What is read
// for a setting begins at a fixed time before its oldest pile.
func (w *sky) draw(n int) {
	r := w.r
	copy(w.air, r.measured)
	r.source.Fill(w.air, r.known, r.start, n, r.seed)
	r.parch(w.air)
	w.moisten()
	for i, s := range r.settings {
		if w.fresh[i] {
			w.models[i].Fill(w.wood[i], w.air[s.skip:], r.start+yard.Date(s.skip))
			w.days[i].Read(*w.wood[i], w.air[s.skip:])
		}
		calendar := r.calendarDays
		calendar.Start += s.skip
		w.trigger(i, n, calendar)
		w.soak(i, n, s.skip, calendar)
		if s.needed {
			w.grow(i, n)
		}
		if m := w.moisture[i]; m != nil {
			s.noteMoisture(n, m, r.today)
		}
	}
	if w.here != nil {
		w.here.look(n, w.air, w.asks)
	}
}

// parch takes rain off the days of a drought that was decided on, after today.
func (r *run) parch(air []climate.Day) {
	d := r.decision.Dry
	if d == nil {
		return
	}
	for day := max(d.From, r.asOf+1); day <= min(d.To, r.horizon); day++ {
		air[day-r.start].Rain *= float32(d.Rain)
	}
}

// noteMoisture keeps what a pile's page says of a draw's moisture.
func (s *setting) noteMoisture(n int, m *moisture, today int32) {
	at := int(today) - s.green
	if at < 0 {
		return // logs that are only planned
	}
	soon := min(at+twoWeeks, len(m.wet)-1)
	s.wetNow[n], s.wetSoon[n] = m.wet[at], slices.Min(m.wet[at:soon+1])
	s.spawnLost[n] = m.lost >= 0 && m.lost <= at
}

// moisten follows the moisture of the logs of each place and year from when
// they were green.
func (w *sky) moisten() {
	r := w.r
	w.asks = w.demand.Fill(w.asks, w.air, r.start)
	for i, s := range r.settings {
		if m := w.moisture[i]; m != nil && m.owner == i {
			m.wet = s.water.Fill(m.wet, w.air[s.green:], w.asks[s.green:], s.waterings)
			m.held, m.lost = w.moist.Fill(m.held, m.wet)
		}
	}
}

// trigger lists the triggers of a setting. Settings of one strain at one place
// have them in common, but for those at which their logs are too dry.
func (w *sky) trigger(i, n int, c fruit.Calendar) {
	s, k := w.r.settings[i], w.alike[i]
	if k == i {
		w.triggers[i] = shift(w.watch[i].Next(w.triggers[i][:0], w.days[i], w.first[i]-s.skip, c), s.skip)
	}
	var wet []float32
	if m := w.moisture[i]; m != nil {
		wet = m.wet
	}
	all := w.triggers[k]
	for len(all) > 0 && int(all[0].Start) < s.from {
		all = all[1:]
	}
	s.triggers[n] = w.watch[k].Moist(make([]fruit.Trigger, 0, len(all)), all, wet, s.green)
}

// grow sums the growing days of a setting; each day's are worked out once for
// settings that respond alike at one place.
func (w *sky) grow(i, n int) {
	s, k := w.r.settings[i], w.grows[i]
	if k == i {
		from := w.first[i] - s.skip
		w.grown[i] = resize(w.grown[i], len(w.wood[i].Mean)-from)
		s.curves.response[w.r.curve(n)].Days(w.grown[i], ground.Series{Mean: w.wood[i].Mean[from:], Swing: w.wood[i].Swing[from:]})
	}
	days := w.grown[k][s.from-w.first[k]:]
	var held []float32
	if m := w.moisture[i]; m != nil {
		held = m.held[s.from-s.green:]
	}
	sum := make([]float32, len(days))
	growth.Sum(sum, days, held, int(w.r.today)-s.from)
	if scale := s.curves.scale[w.r.curve(n)]; scale != 1 {
		for j := range sum {
			sum[j] *= scale
		}
	}
	s.sums[n] = sum
}

func resize(x []float32, n int) []float32 {
	if cap(x) < n {
		return make([]float32, n)
	}
	return x[:n]
}

// soak lists the planned soaks of the piles of a setting.
func (w *sky) soak(i, n, skip int, c fruit.Calendar) {
	r := w.r
	for _, t := range r.tasks {
		if t.setting != r.settings[i] || len(t.soaked) == 0 {
			continue
		}
		var soaks []fruit.Trigger
		for k, one := range t.soaked {
			if s, ok := w.watch[w.alike[i]].Soaked(int(one.On-r.start)-skip, c); ok {
				s.Soak = int32(k + 1)
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

// curve is the shape of the response that a draw takes.
func (r *run) curve(n int) int {
	if r.only > 0 {
		return r.only - 1
	}
	return colonise.Curve(n)
}

// summarise notes what a setting's years ahead are like.
func (r *run) summarise(s *setting) {
	year := 0.0
	barren := 0
	for n := range s.triggers {
		if s.needed {
			year += s.at(n, max(r.today, int32(s.from))+365)
		}
		if k := len(s.triggers[n]); k == 0 || s.triggers[n][k-1].Start <= r.today {
			barren++
		}
	}
	s.year = year / float64(len(s.triggers))
	s.barren = float64(barren) / float64(len(s.triggers))
}
