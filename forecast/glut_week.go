package forecast

import (
	"hodaba/data"
	"hodaba/yard"
)

// PromisedThisWeek lists what fresh mushrooms are due in the week of AsOf,
// Monday to Sunday, with what of it is not delivered yet by the record. Chances
// are not in it: they want a forecast.
func PromisedThisWeek(s *yard.State, d *data.Set) []Due {
	monday := s.AsOf.Monday()
	due, _ := duesOf(s, d, monday, monday+daysOfWeek-1)
	return due
}

// DrierReady is the day on which a load of the drier is done: its hours after
// the evening on which it went in, the next day where nobody said how long it
// takes.
func DrierReady(l yard.Load, hours float64) yard.Date {
	nights := yard.Date(1)
	for float64(nights)*hoursOfDay < hours {
		nights++
	}
	return l.On.To + nights
}
