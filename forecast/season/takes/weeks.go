package takes

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// Load is logs that go into the soaking tank in a week, by the tank book.
type Load struct {
	Week yard.Date // any day of it
	Logs int
}

// Week is the hours of a week.
type Week struct {
	Monday      yard.Date
	Felling     float64
	Inoculating float64 // drilling, filling, waxing, stacking
	Soaking     float64
	Room        float64 // hours there are; NaN: not said
	Collides    bool    // inoculating and soaking both want it, and it is not said that there is room for both
	Over        bool    // more than there is room for
}

// Total is all of the week's hours.
func (w Week) Total() float64 { return w.Felling + w.Inoculating + w.Soaking }

// Weeks lays out the hours of a plan beside those of the tank, week by week, in
// order; weeks without work are left out. Felling is spread evenly over its
// days and inoculating over its own; the hours there are of a month over its
// days. Lines without a month are in no week.
func Weeks(t Takes, loads []Load, room []yard.MonthHours, in *data.Inoculating) []Week {
	if in == nil {
		return nil
	}
	by := map[yard.Date]*Week{}
	for _, l := range t.Lines {
		h := l.All.Hours
		spread(by, l.Work.FellFrom, l.Work.FellTo, h.Cutting, func(w *Week) *float64 { return &w.Felling })
		spread(by, l.Work.From, l.Work.To, h.Bench()+h.Stacking, func(w *Week) *float64 { return &w.Inoculating })
	}
	for _, l := range loads {
		h := float64(max(0, l.Logs)) * in.Labour.Soak.Value / 60
		spread(by, l.Week, l.Week, h, func(w *Week) *float64 { return &w.Soaking })
	}
	var all []Week
	for monday, w := range by {
		w.Monday, w.Room = monday, roomOf(monday, room)
		w.Over = w.Total() > w.Room // never of NaN
		w.Collides = w.Inoculating > 0 && w.Soaking > 0 && !(w.Total() <= w.Room)
		all = append(all, *w)
	}
	slices.SortFunc(all, func(a, b Week) int { return int(a.Monday - b.Monday) })
	return all
}

// spread adds hours to the weeks of the days from one to another.
func spread(by map[yard.Date]*Week, from, to yard.Date, hours float64, part func(*Week) *float64) {
	if from == 0 || to < from || !positive(hours) {
		return
	}
	a := hours / float64(to-from+1)
	for d := from; d <= to; d++ {
		w := by[d.Monday()]
		if w == nil {
			w = &Week{}
			by[d.Monday()] = w
		}
		*part(w) += a
	}
}

// roomOf is the hours there are in a week; NaN where a month of it is not said.
func roomOf(monday yard.Date, room []yard.MonthHours) (hours float64) {
	for d := monday; d < monday+7; d++ {
		i := slices.IndexFunc(room, func(m yard.MonthHours) bool { return m.Month == int(d.Month()) })
		if i < 0 {
			return math.NaN()
		}
		first := d.MonthStart()
		hours += room[i].Hours / float64(first.AddMonths(1)-first)
	}
	return hours
}
