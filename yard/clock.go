package yard

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// Clock is a time of day.
type Clock struct {
	Minute int    // since midnight
	Text   string // as written; "" not said
}

// Temperature is what a thermometer said.
type Temperature struct {
	C    float64 // °C
	Text string  // as written; "" not said
}

const (
	clockRemedy       = `write hours and minutes, such as "14:05"`
	temperatureRemedy = `write it with its unit, such as "57 C" or "135 F"`
)

// What a kitchen thermometer can say, °C: beyond, it is a slip of the pen.
const (
	coldestC = -40
	hottestC = 150
)

const minutesOfDay = 24 * 60

var (
	clockForm       = regexp.MustCompile(`(?i)^\s*(\d{1,2})[:.](\d{2})(?::\d{2})?\s*(am|pm)?`)
	temperatureForm = regexp.MustCompile(`(?i)^\s*(-?\d{1,4}(?:[.,]\d{1,3})?)\s*°?\s*([cf])?\b`)
)

// ParseClock reads a time of day: "14:05", "9.30", "2:05 pm".
func ParseClock(s string) (Clock, error) {
	c, rest, err := cutClock(s)
	if err == nil && strings.TrimSpace(rest) != "" {
		err = mistake{shown(s) + " is not a time of day", clockRemedy}
	}
	if err != nil {
		return Clock{}, err
	}
	return c, nil
}

// cutClock reads the time of day with which a text begins.
func cutClock(s string) (c Clock, rest string, err error) {
	m := clockForm.FindStringSubmatch(s)
	if m == nil {
		return c, s, mistake{shown(s) + " is not a time of day", clockRemedy}
	}
	hour, minute := digits(m[1]), digits(m[2])
	half := strings.ToLower(m[3])
	if hour > 23 || minute > 59 || half != "" && (hour < 1 || hour > 12) {
		return c, s, mistake{shown(strings.TrimSpace(m[0])) + " is no time of a day", clockRemedy}
	}
	if half != "" {
		hour = hour%12 + map[string]int{"pm": 12}[half]
	}
	return Clock{60*hour + minute, strings.TrimSpace(m[0])}, s[len(m[0]):], nil
}

// ParseTemperature reads "57 C", "57,5 °C" or "135F".
func ParseTemperature(s string) (Temperature, error) {
	t, rest, err := cutTemperature(s)
	if err == nil && strings.TrimSpace(rest) != "" {
		err = mistake{shown(s) + " is not a temperature", temperatureRemedy}
	}
	if err != nil {
		return Temperature{}, err
	}
	return t, nil
}

// cutTemperature reads the temperature with which a text begins.
func cutTemperature(s string) (t Temperature, rest string, err error) {
	m := temperatureForm.FindStringSubmatch(s)
	switch {
	case m == nil:
		return t, s, mistake{shown(s) + " is not a temperature", temperatureRemedy}
	case m[2] == "":
		return t, s, mistake{shown(strings.TrimSpace(m[0])) + " has no unit", fmt.Sprintf(`write "%s C" or "%[1]s F"`, m[1])}
	}
	c, err := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	if err != nil {
		return t, s, mistake{shown(s) + " is not a temperature", temperatureRemedy}
	}
	if strings.EqualFold(m[2], "f") {
		c = (c - 32) * 5 / 9
	}
	if c < coldestC || c > hottestC {
		return t, s, mistake{shown(strings.TrimSpace(m[0])) + " cannot be measured in a kitchen", "look at the number and its unit"}
	}
	return Temperature{c, strings.TrimSpace(m[0])}, s[len(m[0]):], nil
}

// String is the time as 14:05; "" where it is not said.
func (c Clock) String() string {
	if c.Text == "" {
		return ""
	}
	return fmt.Sprintf("%02d:%02d", c.Minute/60%24, c.Minute%60)
}

// clockOf is a value of the journal as a time of day: text, or a local time.
func clockOf(v any) (Clock, error) {
	switch v := v.(type) {
	case string:
		if strings.TrimSpace(v) == "" {
			return Clock{}, nil
		}
		return ParseClock(v)
	case time.Time:
		if v.Location().String() == "time-local" {
			return ParseClock(v.Format("15:04"))
		}
	}
	return Clock{}, mistake{shownValue(v) + " is not a time of day", clockRemedy}
}

// temperatureOf is a value of the journal as a temperature.
func temperatureOf(v any) (Temperature, error) {
	s, ok := v.(string)
	switch {
	case ok && strings.TrimSpace(s) == "":
		return Temperature{}, nil
	case ok:
		return ParseTemperature(s)
	}
	return Temperature{}, mistake{shownValue(v) + " has no unit", fmt.Sprintf(`write "%s C" or "%[1]s F"`, shownValue(v))}
}
