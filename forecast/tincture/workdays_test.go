package tincture

import (
	"strings"
	"testing"
	"time"

	"hodaba/yard"
)

// daysOffIn lists the weekdays of a year on which a country does not work.
func daysOffIn(t *testing.T, country string, year int) []string {
	t.Helper()
	w := must(NewWorkdays(yard.Working{Country: country}))
	var off []string
	for d := day(year, 1, 1); d <= day(year, 12, 31); d++ {
		if wd := d.Weekday(); wd != time.Saturday && wd != time.Sunday && !w.Open(d) {
			off = append(off, d.Time().Format("2 Jan"))
		}
	}
	return off
}

// Days off of 2026 and 2027 that fall on a weekday, substitutes for those that
// do not: the rules are the Banking and Financial Dealings Act 1971 (England
// and Wales) and 5 U.S.C. 6103 (United States); the dates are those on which
// npm date-holidays 3.37.0, python3-holidays 0.10.1 and rickar/cal v2.1.13
// agree (the second without Juneteenth, which it does not know yet).
var observed = []struct {
	country string
	year    int
	off     string
}{
	{"gb", 2026, "1 Jan, 3 Apr, 6 Apr, 4 May, 25 May, 31 Aug, 25 Dec, 28 Dec"},
	{"gb", 2027, "1 Jan, 26 Mar, 29 Mar, 3 May, 31 May, 30 Aug, 27 Dec, 28 Dec"},
	{"us", 2026, "1 Jan, 19 Jan, 16 Feb, 25 May, 19 Jun, 3 Jul, 7 Sep, 12 Oct, 11 Nov, 26 Nov, 25 Dec"},
	{"us", 2027, "1 Jan, 18 Jan, 15 Feb, 31 May, 18 Jun, 5 Jul, 6 Sep, 11 Oct, 11 Nov, 25 Nov, 24 Dec, 31 Dec"},
}

func TestAgainstHolidays(t *testing.T) {
	for _, c := range observed {
		if got := strings.Join(daysOffIn(t, c.country, c.year), ", "); got != c.off {
			t.Errorf("%s %d:\n got %s\nwant %s", c.country, c.year, got, c.off)
		}
	}
}

// New Year's Day 2028 is a Saturday, observed on 31 December of the year
// before; Monday the 3rd is open. In England and Wales it is the other way.
func TestAgainstHolidaysAtYearsEnd(t *testing.T) {
	us := must(NewWorkdays(yard.Working{Country: "us"}))
	gb := must(NewWorkdays(yard.Working{Country: "GB"}))
	for _, c := range []struct {
		name string
		w    Workdays
		d    yard.Date
		open bool
	}{
		{"us", us, day(2027, 12, 31), false}, {"us", us, day(2028, 1, 3), true},
		{"gb", gb, day(2027, 12, 31), true}, {"gb", gb, day(2028, 1, 3), false},
	} {
		if c.w.Open(c.d) != c.open {
			t.Errorf("%s %v: open is %v", c.name, c.d, !c.open)
		}
	}
	if got, want := gb.Next(day(2026, 12, 25)), day(2026, 12, 29); got != want {
		t.Errorf("after Christmas 2026 in England work begins on %v, want %v", got, want)
	}
}

// Every code in the list gives a calendar that has some day off.
func TestCountries(t *testing.T) {
	for _, c := range Countries() {
		if len(daysOffIn(t, c, 2027)) < 4 {
			t.Errorf("%s has hardly a day off in 2027", c)
		}
	}
}

func TestWorkdays(t *testing.T) {
	mon := day(2026, 6, 1)
	w := must(NewWorkdays(yard.Working{
		Country: "gb", Closed: []yard.Date{mon + 2, mon + 5},
		Open: []yard.Date{mon + 5, mon + 6, mon + 15, day(2026, 12, 25)},
		Away: []yard.Absence{{From: mon + 14, To: mon + 18}},
	}))
	for _, c := range []struct {
		what string
		d    yard.Date
		open bool
	}{
		{"a Monday", mon, true},
		{"a closed day", mon + 2, false},
		{"closed and open", mon + 5, false},
		{"an open Sunday", mon + 6, true},
		{"a Saturday", mon + 12, false},
		{"away", mon + 14, false},
		{"last day away", mon + 18, false},
		{"open while away", mon + 15, true},
		{"back again", mon + 21, true},
		{"an open holiday", day(2026, 12, 25), true},
	} {
		if w.Open(c.d) != c.open {
			t.Errorf("%s, %v: open is %v", c.what, c.d, !c.open)
		}
	}
	weekend := must(NewWorkdays(yard.Working{Weekdays: []time.Weekday{time.Saturday, time.Sunday}}))
	if weekend.Open(mon) || weekend.Next(mon) != mon+5 {
		t.Error("a yard that works at weekends works on Monday")
	}
	gone := must(NewWorkdays(yard.Working{Away: []yard.Absence{{From: mon, To: mon + 20000}}}))
	if got := gone.Next(mon); got != 0 {
		t.Errorf("away for 55 years: next open day is %v", got)
	}
}

func TestWorkdaysRefuse(t *testing.T) {
	for name, c := range map[string]struct {
		w   yard.Working
		say string
	}{
		"unknown country":  {yard.Working{Country: "xx"}, "gb"},
		"absence reversed": {yard.Working{Away: []yard.Absence{{From: 20, To: 10}}}, "change the two days round"},
		"ninth weekday":    {yard.Working{Weekdays: []time.Weekday{9}}, "0 is Sunday"},
	} {
		if _, err := NewWorkdays(c.w); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
