package forecast

import (
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// TooDry is why nothing goes into the tank in a drought: a log that has dried
// out takes up little water, and after a flush it would stand drier still.
const TooDry = "a drought: water the logs first, then soak"

// tooDry reports whether a soak of a pile in the next weeks is put off because
// hardly any rain fell lately, where that was measured, and nobody has watered
// the pile since.
func (r *run) tooDry(p *yard.Pile, in yard.Date) bool {
	pr := &r.data.Practice
	lately := yard.Date(pr.DroughtDays.Value)
	if in >= r.asOf+yard.Date(7*pr.DroughtWeeks.Value) || r.known == nil {
		return false
	}
	rain, days := 0.0, 0
	for d := r.today - int32(lately) + 1; d <= r.today; d++ {
		if r.known[d]&climate.Rain != 0 {
			rain, days = rain+float64(r.measured[d].Rain), days+1
		}
	}
	// With a quarter of the days unknown nobody knows whether it rained.
	if 4*days < 3*int(lately) || rain >= pr.DroughtRain.Value {
		return false
	}
	for _, w := range p.Watered {
		if w.On.To > r.asOf-lately && w.On.From <= r.asOf {
			return false
		}
	}
	return true
}
