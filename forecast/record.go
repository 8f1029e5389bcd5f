package forecast

import (
	"slices"

	"hodaba/forecast/climate"
	"hodaba/forecast/ground"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// readRecord lays the grower's own weather over the days of the forecast and
// lets it correct the site.
func (r *run) readRecord() {
	w := r.state.Weather
	if r.plain {
		w = nil
	}
	r.record = r.site.Read(w, &r.data.Practice)
	r.measured = make([]climate.Day, r.days)
	if w == nil {
		return
	}
	r.known = make([]climate.Known, r.days)
	for i, d := range w.Days {
		at := int(w.From-r.start) + i
		if at < 0 || at > int(r.today) {
			continue
		}
		if d.HasTemp {
			r.known[at] |= climate.Temperature
			r.measured[at].TMin, r.measured[at].TMax = float32(d.TMin), float32(d.TMax)
		}
		if d.HasRain {
			r.known[at] |= climate.Rain
			r.measured[at].Rain = float32(d.Rain)
		}
	}
}

// weighedSoon is within how many days of the beginning a weighing counts as
// that of green logs, against which later ones are set.
const weighedSoon = 45

// waterings is what is known of the moisture of a pile's logs: watered, and
// weighed against their weight when green.
func (r *run) waterings(t *task) []ground.Watering {
	p := t.pile
	green := yard.NewDate(p.Since.From.Year(), 1, 1)
	var out []ground.Watering
	add := func(on yard.Date, w ground.Watering) {
		if on >= green && on <= r.asOf {
			w.Day = int(on - green)
			out = append(out, w)
		}
	}
	for _, w := range p.Watered {
		hours := w.Hours
		if hours <= 0 {
			hours = r.data.Practice.WateringHours.Value
		}
		add(w.On.Mid(), ground.Watering{Hours: hours})
	}
	first := r.greenWeight(t)
	for _, w := range p.Weighed {
		if one := perLog(w); one > 0 && first > 0 {
			m := ground.Reweighed(r.greenMoisture(t), first, one)
			add(w.On.Mid(), ground.Watering{Weighed: true, Moisture: max(m, r.data.Practice.DriestLog.Value)})
		}
	}
	slices.SortStableFunc(out, func(a, b ground.Watering) int { return a.Day - b.Day })
	return out
}

// perLog is what one log weighed, zero where the number of logs is not known.
func perLog(w yard.Weighing) float64 {
	if w.Logs <= 0 {
		return 0
	}
	return w.MassKG.Mid() / float64(w.Logs)
}

// greenMoisture is the moisture, dry basis, of a pile's wood when felled.
func (r *run) greenMoisture(t *task) float64 {
	if t.wood != nil && t.wood.Moisture > 0 {
		return t.wood.Moisture / 100
	}
	return r.data.Practice.GreenLog.Value
}

// greenWeight is what one log weighed when green: as weighed near the
// beginning, else as its size and wood say.
func (r *run) greenWeight(t *task) float64 {
	p := t.pile
	for _, w := range p.Weighed {
		if one := perLog(w); one > 0 && w.On.Mid()-p.Since.Mid() <= weighedSoon {
			return one
		}
	}
	if t.wood == nil || !t.diameter.Known() || !p.Length.Known() {
		return 0
	}
	dry := harvest.DryWood(t.wood, t.diameter.Mid(), p.Length.Mid())
	bark := t.wood.Bark / 100 * t.wood.BarkGravity / t.wood.Gravity
	return dry * (1 + bark) * harvest.GreenOverDry(t.wood)
}
