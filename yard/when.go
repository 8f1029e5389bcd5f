package yard

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// The years between which a day of the journal can lie: before, no pile
// standing today was begun; after, it is a slip of the pen.
const (
	firstYear = 1975
	lastYear  = 2150
)

var (
	dayForm   = regexp.MustCompile(`^(\d{4})-(\d{2})-(\d{2})$`)
	monthForm = regexp.MustCompile(`^(\d{4})-(\d{2})$`)
	yearForm  = regexp.MustCompile(`^\d{4}$`)
	weekForm  = regexp.MustCompile(`^(\d{4})-?[Ww](\d{2})$`)
)

const whenRemedy = `write a day as 2026-04-12, a week as "2026-W15", a month as "2026-04" or a year as "2026"`

// ParseWhen reads a day as vaguely as it is known: "2026-04-12" (ISO 8601),
// "2026-04", "2026", "2026-W15", or two of them with "to" between. The error
// says what to write instead.
func ParseWhen(s string) (When, error) {
	s = strings.TrimSpace(s)
	if len(s) > longestWhen {
		return When{}, mistake{shown(s) + " is too long for a day", whenRemedy}
	}
	if a, b, ok := strings.Cut(s, " to "); ok {
		from, err := parseWhen(strings.TrimSpace(a))
		if err != nil {
			return When{}, err
		}
		to, err := parseWhen(strings.TrimSpace(b))
		if err != nil {
			return When{}, err
		}
		if to.To < from.From {
			return When{}, mistake{shown(s) + " ends before it begins", "write the earlier day first"}
		}
		return When{from.From, to.To, s}, nil
	}
	return parseWhen(s)
}

func parseWhen(s string) (When, error) {
	var from, to Date
	switch {
	case dayForm.MatchString(s):
		d, err := ParseDate(s)
		if err != nil {
			return When{}, mistake{s + " is not a day of the calendar", "write a day that exists, such as 2026-04-12"}
		}
		from, to = d, d
	case monthForm.MatchString(s):
		m := digits(s[5:7])
		if m < 1 || m > 12 {
			return When{}, mistake{s + " is not a month of the calendar", `write a month from 01 to 12, such as "2026-04"`}
		}
		from = NewDate(digits(s[:4]), time.Month(m), 1)
		to = from.AddMonths(1) - 1
	case yearForm.MatchString(s):
		from, to = NewDate(digits(s), 1, 1), NewDate(digits(s), 12, 31)
	case weekForm.MatchString(s):
		m := weekForm.FindStringSubmatch(s)
		from = weekStart(digits(m[1]), digits(m[2]))
		if y, w := from.Week(); y != digits(m[1]) || w != digits(m[2]) {
			return When{}, mistake{fmt.Sprintf("there is no week %s in %s", m[2], m[1]), `write a week such as "2026-W15"`}
		}
		to = from + 6
	default:
		return When{}, mistake{shown(s) + " is not a day", whenRemedy}
	}
	if y := from.Year(); y < firstYear || y > lastYear {
		return When{}, mistake{fmt.Sprintf("the year of %s cannot be right", s), "look at its four digits"}
	}
	return When{from, to, s}, nil
}

// weekStart is the Monday of an ISO 8601 week: week 1 is the one with
// 4 January in it.
func weekStart(year, week int) Date {
	return NewDate(year, time.January, 4).Monday() + Date(7*(week-1))
}

// digits reads digits that a pattern has already found.
func digits(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// On is the When of a single day.
func On(d Date) When { return When{d, d, d.String()} }

// UnmarshalTOML takes a local date (2026-04-12), a string of the forms of
// ParseWhen, or a bare year. It reads the wall-clock fields of the library's
// time and never converts between time zones, so that a day stays the day.
func (w *When) UnmarshalTOML(v any) error {
	got, err := whenOf(v)
	if err != nil {
		return err
	}
	*w = got
	return nil
}

// MarshalTOML writes what was written: a day as a local date, a vaguer When
// as a string.
func (w When) MarshalTOML() ([]byte, error) { return []byte(w.TOML()), nil }

// TOML is w as it stands in the journal.
func (w When) TOML() string {
	if text := w.String(); dayForm.MatchString(text) {
		return text
	}
	return quote(w.String())
}

func whenOf(v any) (When, error) {
	switch v := v.(type) {
	case Date:
		if y := v.Year(); y >= firstYear && y <= lastYear {
			return On(v), nil
		}
		return ParseWhen(v.String())
	case Moment:
		return ParseWhen(string(v[:10]))
	case time.Time:
		if v.Location().String() == "time-local" {
			return When{}, mistake{"a time of day is not a day", whenRemedy}
		}
		return ParseWhen(fmt.Sprintf("%04d-%02d-%02d", v.Year(), v.Month(), v.Day()))
	case string:
		return ParseWhen(v)
	case int64:
		return ParseWhen(strconv.FormatInt(v, 10))
	}
	return When{}, mistake{"that is not a day", whenRemedy}
}

// MomentOf is the local date and time that t shows, to the second.
func MomentOf(t time.Time) Moment { return Moment(t.Format("2006-01-02T15:04:05")) }

// momentOf reads a TOML date-time, by its wall clock.
func momentOf(v any) (Moment, error) {
	const remedy = "write it as 2026-04-12T18:02:00"
	switch v := v.(type) {
	case Moment:
		return v, nil
	case time.Time:
		if v.Location().String() == "time-local" {
			return "", mistake{"a time of day is not a moment", remedy}
		}
		return MomentOf(v), nil
	case string:
		t, err := time.Parse("2006-01-02T15:04:05", v)
		if err == nil {
			return MomentOf(t), nil
		}
	}
	return "", mistake{"that is not a date and time", remedy}
}
