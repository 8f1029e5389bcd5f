package takes

import "hodaba/data"

// Hours of work, by step, and what the logs will ask for later.
type Hours struct {
	Cutting, Drilling, Filling, Waxing, Stacking float64 // to start them
	Tending, Selling                             float64 // over their lives
}

// Start is the hours of felling and inoculating.
func (h Hours) Start() float64 { return h.Cutting + h.Bench() + h.Stacking }

// Bench is the hours of drilling, filling and waxing.
func (h Hours) Bench() float64 { return h.Drilling + h.Filling + h.Waxing }

// Plus adds two.
func (h Hours) Plus(g Hours) Hours {
	return Hours{h.Cutting + g.Cutting, h.Drilling + g.Drilling, h.Filling + g.Filling, h.Waxing + g.Waxing,
		h.Stacking + g.Stacking, h.Tending + g.Tending, h.Selling + g.Selling}
}

// Times is k times as many.
func (h Hours) Times(k float64) Hours {
	return Hours{h.Cutting * k, h.Drilling * k, h.Filling * k, h.Waxing * k, h.Stacking * k, h.Tending * k, h.Selling * k}
}

// LifeMinutes divides the work that a log makes over its life into starting it,
// tending and picking, and selling: 31.8, 19.2 and 9 of 60 minutes (Gabriel
// 2015).
func LifeMinutes(in *data.Inoculating) (inoculating, tending, selling float64) {
	w := &in.Labour
	return w.Life.Value * w.Inoculating.Value, w.Life.Value * w.Tending.Value, w.Life.Value * w.Selling.Value
}

// hours is the work of one log. Drilling, filling and waxing go with its holes,
// over those of the log to which the minutes belong; a totem or a wedged log is
// taken to make as much work as that one, for nobody says.
func hours(l *Line, holes int, waxed bool, in *data.Inoculating) Hours {
	start, tending, selling := LifeMinutes(in)
	s, k := &in.Labour.Steps, 1.0
	if l.drilled() && in.Labour.Holes.Value > 0 {
		k = float64(holes) / in.Labour.Holes.Value
	}
	h := Hours{
		Cutting: start * s.Cutting.Value, Stacking: start * s.Stacking.Value,
		Drilling: start * s.Drilling.Value * k, Filling: start * s.Filling.Value * k,
		Tending: tending, Selling: selling,
	}
	if waxed {
		h.Waxing = start * s.Waxing.Value * k
	}
	if l.Bought {
		h.Cutting = 0
	}
	return h.Times(1. / 60)
}

// Days is how many days of the bench a work of h takes people: at the bench they
// are no faster than the slowest step and than all hands together; stacking they
// share. Felling is not in it.
func Days(h Hours, people int, in *data.Inoculating) float64 {
	if people < 1 || !positive(in.Labour.Day.Value) {
		return 0
	}
	n := float64(people)
	bench := max(h.Bench()/n, h.Drilling, h.Filling, h.Waxing)
	return (bench + h.Stacking/n) / in.Labour.Day.Value
}
