package yard

import (
	"fmt"
	"time"
)

// Date is a civil day: the number of days since 1 January 1970. It has no
// hour and no time zone. The zero Date stands for "no date".
type Date int32

// NewDate returns the day of a year, month and day of month in the Gregorian
// calendar; out-of-range values are carried over as in package time.
func NewDate(year int, month time.Month, day int) Date {
	return Date(time.Date(year, month, day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// Of returns the civil day that t shows in its own location.
func Of(t time.Time) Date { return NewDate(t.Year(), t.Month(), t.Day()) }

// ParseDate reads an ISO 8601 day such as 2026-04-12 and refuses days that do
// not exist.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse("2006-01-02", s)
	if err != nil {
		return 0, fmt.Errorf("%q is not a day of the calendar: write it as 2026-04-12", s)
	}
	return Of(t), nil
}

// Time returns midnight UTC of d, for calendars and libraries that want one.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Year, Month, Day, Weekday and YearDay are those of the civil calendar.
func (d Date) Year() int             { return d.Time().Year() }
func (d Date) Month() time.Month     { return d.Time().Month() }
func (d Date) Day() int              { return d.Time().Day() }
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }
func (d Date) YearDay() int          { return d.Time().YearDay() }

// Week returns the ISO 8601 year and week.
func (d Date) Week() (year, week int) { return d.Time().ISOWeek() }

// AddMonths moves d by n months and stays in the month: 31 January plus one
// month is the last day of February.
func (d Date) AddMonths(n int) Date {
	first := NewDate(d.Year(), d.Month()+time.Month(n), 1)
	next := NewDate(first.Year(), first.Month()+1, 1)
	return min(first+Date(d.Day()-1), next-1)
}

// Monday is that of d's week.
func (d Date) Monday() Date { return d - Date((int(d.Weekday())+6)%7) }

// MonthStart is the first day of d's month.
func (d Date) MonthStart() Date { return NewDate(d.Year(), d.Month(), 1) }

// String is the ISO 8601 day, or "" for the zero Date.
func (d Date) String() string {
	if d == 0 {
		return ""
	}
	return d.Time().Format("2006-01-02")
}

// MonthString is the ISO 8601 month, 2026-04.
func (d Date) MonthString() string { return d.Time().Format("2006-01") }

// When is a day as vaguely as the grower gave it: any day from From to To,
// both included. Text is what was written.
type When struct {
	From, To Date
	Text     string
}

// Mid is the middle day of w.
func (w When) Mid() Date { return w.From + (w.To-w.From)/2 }

// Exact reports whether w is a single day.
func (w When) Exact() bool { return w.From == w.To }

// IsZero reports whether nothing was written.
func (w When) IsZero() bool { return w.From == 0 && w.To == 0 }

// String is what was written, or else the day.
func (w When) String() string {
	if w.Text != "" {
		return w.Text
	}
	if w.Exact() {
		return w.From.String()
	}
	return w.From.String() + " to " + w.To.String()
}
