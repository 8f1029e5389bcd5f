package yard

import (
	"fmt"
	"strings"
	"time"
)

// order says how days with slashes are written.
type order int

const (
	unsaid order = iota
	dayFirst
	monthFirst
)

var orders = map[string]order{"day first": dayFirst, "month first": monthFirst}

// dayReader reads days in the order in which they stand in a table.
type dayReader struct {
	order       order
	year, month int
	start       Date // the first of that month
	length      int  // its days
}

const weatherDayRemedy = "write the day as 2026-04-12"

// day reads the day of a row.
func (t *weatherTable) day(row *[columnKinds]string) (Date, error) {
	s := row[dateColumn]
	if t.head.has(yearColumn) {
		y, ok1 := plainDigits(row[yearColumn])
		m, ok2 := plainDigits(row[monthColumn])
		d, ok3 := plainDigits(s)
		if !ok1 || !ok2 || !ok3 {
			return 0, mistake{shown(row[yearColumn]+" "+row[monthColumn]+" "+s) + " is not a day", "write year, month and day in digits"}
		}
		return t.days.date(y, m, d)
	}
	return t.days.parse(s)
}

// parse reads a day: 2026-04-12, 20260412, 2026/4/12, 12.4.2026, 12 April
// 2026, and 12/4/2026 where the order is known. A time of day after it is
// passed over.
func (r *dayReader) parse(s string) (Date, error) {
	if y, m, d, ok := isoParts(s); ok {
		return r.date(y, m, d)
	}
	if i := strings.IndexByte(s, 'T'); i > 0 && s[i-1] >= '0' && s[i-1] <= '9' {
		s = s[:i]
	}
	if before, after, ok := strings.Cut(s, " "); ok && strings.Contains(after, ":") {
		s = before
	}
	if y, m, d, ok := isoParts(s); ok {
		return r.date(y, m, d)
	}
	if a, b, c, sign, ok := threeParts(s); ok {
		switch {
		case a > 31:
			return r.date(a, b, c)
		case c <= 99:
			return 0, mistake{shown(s) + " does not write its year in four digits", weatherDayRemedy}
		case sign == '.':
			return r.date(c, b, a)
		case r.order == dayFirst, r.order == unsaid && (a > 12 || a == b):
			return r.date(c, b, a)
		case r.order == monthFirst, b > 12:
			return r.date(c, a, b)
		}
		return 0, mistake{shown(s) + " can be read as two days", fmt.Sprintf("write it as %04d-%02d-%02d or as %04d-%02d-%02d; or say whether the day or the month comes first, with ", c, b, a, c, a, b) +
			importWith("", `--days "day first"`, ` (or "month first")`)}
	}
	if y, m, d, ok := isoParts(isoDay(s)); ok {
		return r.date(y, m, d)
	}
	if s == "" {
		return 0, mistake{"the day is blank", weatherDayRemedy}
	}
	return 0, mistake{shown(s) + " is not a day", weatherDayRemedy}
}

// importWith is the command that takes a table of weather in with more said about
// it; or is what may stand in place of the flag's value. weather.csv itself is
// taken in from a copy: nothing else says it there.
func importWith(file, flag, or string) string {
	if file == "" || file == WeatherFile {
		return "`hodaba import weather FILE " + flag + "`" + or + ", FILE being a copy under another name"
	}
	return "`hodaba import weather " + CommandPath(file) + " " + flag + "`" + or
}

// isoParts reads 2026-04-12 and 20260412.
func isoParts(s string) (y, m, d int, ok bool) {
	switch {
	case len(s) == 10 && s[4] == '-' && s[7] == '-':
		y, ok1 := plainDigits(s[:4])
		m, ok2 := plainDigits(s[5:7])
		d, ok3 := plainDigits(s[8:])
		return y, m, d, ok1 && ok2 && ok3
	case len(s) == 8:
		n, ok := plainDigits(s)
		return n / 10000, n / 100 % 100, n % 100, ok
	}
	return 0, 0, 0, false
}

// threeParts reads three numbers with the same sign between them.
func threeParts(s string) (a, b, c int, sign byte, ok bool) {
	i := strings.IndexAny(s, "/.-")
	if i < 0 {
		return 0, 0, 0, 0, false
	}
	sign = s[i]
	parts := strings.Split(s, string(sign))
	if len(parts) != 3 {
		return 0, 0, 0, 0, false
	}
	a, ok1 := plainDigits(strings.TrimSpace(parts[0]))
	b, ok2 := plainDigits(strings.TrimSpace(parts[1]))
	c, ok3 := plainDigits(strings.TrimSpace(parts[2]))
	return a, b, c, sign, ok1 && ok2 && ok3
}

// plainDigits reads up to eight digits and nothing else.
func plainDigits(s string) (n int, ok bool) {
	if s == "" || len(s) > 8 {
		return 0, false
	}
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return 0, false
		}
		n = n*10 + int(s[i]-'0')
	}
	return n, true
}

// date is the day of a year, month and day of the month, which must exist.
func (r *dayReader) date(y, m, d int) (Date, error) {
	if y != r.year || m != r.month {
		switch {
		case y < firstWeatherYear || y > lastYear:
			return 0, mistake{fmt.Sprintf("the year %d cannot be right", y), "look at its four digits"}
		case m < 1 || m > 12:
			return 0, mistake{fmt.Sprintf("there is no month %d", m), weatherDayRemedy}
		}
		r.year, r.month = y, m
		r.start = NewDate(y, time.Month(m), 1)
		r.length = int(NewDate(y, time.Month(m)+1, 1) - r.start)
	}
	if d < 1 || d > r.length {
		return 0, mistake{fmt.Sprintf("%d has no %d %s", y, d, time.Month(m)), "look at the day and the year, or take the line out"}
	}
	return r.start + Date(d-1), nil
}

// findOrder looks through the days of a table for those that can be read in
// one way only, such as 13/4/2026, and takes all like most of them.
func (t *weatherTable) findOrder(rest string) order {
	var row [columnKinds]string
	days, months := 0, 0
	for rest != "" {
		var l string
		l, rest, _ = strings.Cut(rest, "\n")
		t.cut(l, &row)
		if _, _, _, iso := isoParts(row[dateColumn]); iso || t.head.has(yearColumn) {
			return unsaid // the days are of another form
		}
		a, b, _, sign, ok := threeParts(row[dateColumn])
		switch {
		case !ok || sign == '.':
		case a > 12 && a <= 31 && b <= 12:
			days++
		case b > 12 && b <= 31 && a <= 12:
			months++
		}
	}
	switch {
	case days > months:
		return dayFirst
	case months > days:
		return monthFirst
	}
	return unsaid
}
