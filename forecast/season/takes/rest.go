package takes

import (
	"hodaba/data"
	"hodaba/yard"
)

// RestsOf are the sources on how long wood rests between felling and
// inoculating that speak of a line; they disagree. The first is planned with:
// one that names its species, wood or method before one that speaks of all.
func RestsOf(l Line, in *data.Inoculating) []data.Rest {
	var own, general []data.Rest
	for _, r := range in.Rests {
		switch {
		case r.General():
			general = append(general, r)
		case r.Fits(l.Species, l.woodName(), l.Method):
			own = append(own, r)
		}
	}
	return append(own, general...)
}

// Resting is felled wood that waits for its spawn.
type Resting struct {
	Ready yard.Date // rested, by the source that is planned with
	Risk  yard.Date // from which on that source sees a risk: inoculate before
	Last  yard.Date // beyond every source: other fungi have the wood
}

// RestOf is how wood of a line felled on a day rests; ok is false without a day
// or without a source.
func RestOf(felled yard.Date, l Line, in *data.Inoculating) (rest Resting, ok bool) {
	all := RestsOf(l, in)
	if felled == 0 || len(all) == 0 {
		return Resting{}, false
	}
	after := func(w float64) yard.Date { return felled + yard.Date(weeks(w)) }
	rest = Resting{Ready: after(all[0].From), Risk: after(all[0].To)}
	for _, r := range all {
		rest.Last = max(rest.Last, after(r.To))
	}
	return rest, true
}

// Work is when a line is felled and inoculated.
type Work struct {
	From, To         yard.Date // inoculating: the days of its month in the window, or the whole month
	Usual            bool      // the month lies in the window, or no window is known
	Latest           yard.Date // last day of the window about the month; zero: none
	FellFrom, FellTo yard.Date // zero: bought, or no month
	Dormant          bool      // trees are dormant then, or nothing is known of it
	RestLong         bool      // to fell dormant trees the wood rests longer than the source wants
}

// workOf finds the days of a line; without a month there are none.
func workOf(l *Line, site Site, in *data.Inoculating) (w Work) {
	if l.Month == 0 {
		return Work{}
	}
	win := WindowsOf(site, l.Species, l.Method, in)
	w.From, w.To = l.Month.MonthStart(), l.Month.MonthStart().AddMonths(1)-1
	w.Usual = !win.Known
	if from, to, ok := within(win.Inoculating, w.From, w.To); ok {
		w.From, w.To, w.Usual = from, to, true
		w.Latest = endOf(win.Inoculating, to)
	}
	if !l.Bought {
		fell(&w, l, win, in)
	}
	return w
}

// within is the first stretch of days from first to last that lie in a run.
func within(all []Run, first, last yard.Date) (from, to yard.Date, ok bool) {
	for d := first; d <= last; d++ {
		held, _ := holding(all, d)
		if held && !ok {
			from, ok = d, true
		}
		if ok && !held {
			return from, d - 1, true
		}
	}
	return from, last, ok
}

// endOf is the last day of the run that holds d.
func endOf(all []Run, d yard.Date) yard.Date {
	last := d
	for held := true; held && last < d+yearDays; last++ {
		held, _ = holding(all, last+1)
	}
	return last - 1
}

// fell finds the days for felling: the rest before inoculating, as far as trees
// are dormant then. Where they no longer are, the last such days before.
func fell(w *Work, l *Line, win Windows, in *data.Inoculating) {
	rests := RestsOf(*l, in)
	if len(rests) == 0 {
		return
	}
	from, to := w.From-yard.Date(weeks(rests[0].To)), w.To-yard.Date(weeks(rests[0].From))
	w.FellFrom, w.FellTo, w.Dormant = from, to, true
	if !win.Known {
		return
	}
	if a, b, ok := within(win.Felling, from, to); ok {
		w.FellFrom, w.FellTo = a, b
		return
	}
	w.FellFrom, w.FellTo, w.Dormant = lastOf(win.Felling, from, to-from)
	w.RestLong = w.Dormant
}

// lastOf is the last stretch of at most so many days more than one, before a
// day, that lies in a run; ok is false where there is none within a year.
func lastOf(all []Run, before, more yard.Date) (from, to yard.Date, ok bool) {
	for d := before; d > before-yearDays && to == 0; d-- {
		if held, _ := holding(all, d); held {
			to = d
		}
	}
	if to == 0 {
		return 0, 0, false
	}
	for from = to; from > to-more; from-- {
		if held, _ := holding(all, from-1); !held {
			break
		}
	}
	return from, to, true
}
