package yard

import (
	"fmt"
	"strings"

	"hodaba/data"
)

// Cooling is the log of a decoction that cools: "14:30 57C, 16:10 21C".
type Cooling struct {
	Readings []CoolReading
	Text     string // as written; "" no log
}

// CoolReading is one look at the thermometer.
type CoolReading struct {
	Minute int // since the midnight before the first reading: beyond 1440 on the day after
	C      float64
}

const coolingRemedy = `write times and temperatures with commas between, cooled = "14:30 57C, 16:10 21C, 19:00 5C"`

// A log that is longer can only be a mistake.
const (
	mostReadings   = 100
	longestCooling = 2000
)

// ParseCooling reads a cooling log, in order of time; a time before the one
// above it is of the next day. Nothing in it lies more than a day apart.
func ParseCooling(s string) (c Cooling, err error) {
	if len(s) > longestCooling {
		return Cooling{}, mistake{"this is too long for a cooling log", coolingRemedy}
	}
	night := 0
	for rest := strings.TrimSpace(s); rest != ""; {
		var at Clock
		var t Temperature
		if at, rest, err = cutClock(rest); err != nil {
			return Cooling{}, inCooling(err)
		}
		if t, rest, err = cutTemperature(rest); err != nil {
			return Cooling{}, inCooling(err)
		}
		if n := len(c.Readings); n > 0 && at.Minute+night < c.Readings[n-1].Minute {
			night += minutesOfDay
		}
		c.Readings = append(c.Readings, CoolReading{at.Minute + night, t.C})
		rest = strings.TrimSpace(rest)
		if rest == "" {
			break
		}
		if rest[0] != ',' && rest[0] != ';' {
			return Cooling{}, mistake{shown(rest) + " does not follow on a temperature", coolingRemedy}
		}
		rest = strings.TrimSpace(rest[1:])
	}
	n := len(c.Readings)
	if n > mostReadings || n > 0 && c.Readings[n-1].Minute-c.Readings[0].Minute >= minutesOfDay {
		return Cooling{}, mistake{"a cooling log of " + shown(s) + " is longer than a day", "look at its times: each must be later than the one before it"}
	}
	if n > 0 {
		c.Text = strings.TrimSpace(s)
	}
	return c, nil
}

func inCooling(err error) error {
	text, _ := parts(err)
	return mistake{text, coolingRemedy}
}

// Cooled is what a cooling log shows.
type Cooled int

// What a cooling log shows.
const (
	CoolNoLog      Cooled = iota // nothing was written down
	CoolInTime                   // cool and cold in time
	CoolLate                     // not in time, or not shown to be
	CoolUnfinished               // the log lacks a reading without which nobody can tell
)

// Check sets a cooling log against how fast a decoction must get cold. The
// clock starts at the last reading of From or above (57 °C), because it may
// have passed below just after; it is cool at the first reading at or below
// Cool (21 °C), and cold at the first at or below Cold (5 °C). why says in
// words what is wrong; "" where nothing is.
//
// Source: United States, FDA Food Code 3-501.14 (A); the limits stand in data.
func (c Cooling) Check(limits data.Cooling) (is Cooled, why string) {
	if len(c.Readings) == 0 {
		return CoolNoLog, ""
	}
	start := -1
	for i, r := range c.Readings {
		if r.C >= limits.From.Value {
			start = i
		}
	}
	if start < 0 {
		return CoolUnfinished, fmt.Sprintf("it has no reading of %s °C or more, from which the time counts", decimal(limits.From.Value))
	}
	unfinished := ""
	for _, step := range []struct{ to, hours float64 }{{limits.Cool.Value, limits.CoolHours.Value}, {limits.Cold.Value, limits.ColdHours.Value}} {
		took, reached := c.fall(start, step.to)
		within := fmt.Sprintf("from %s to %s °C within %s hours", decimal(limits.From.Value), decimal(step.to), decimal(step.hours))
		switch late := float64(took) > step.hours*60; {
		case late && reached:
			return CoolLate, fmt.Sprintf("%s is what keeps it safe, and it is first read so cold after %s", within, hoursAndMinutes(took))
		case late:
			return CoolLate, fmt.Sprintf("%s is what keeps it safe, and it is warmer after %s", within, hoursAndMinutes(took))
		case !reached && unfinished == "":
			unfinished = fmt.Sprintf("it ends before %s °C is reached, which it must be within %s hours", decimal(step.to), decimal(step.hours))
		}
	}
	if unfinished != "" {
		return CoolUnfinished, unfinished
	}
	return CoolInTime, ""
}

// fall is the minutes from a reading to the first at or below a temperature;
// where there is none, to the last reading.
func (c Cooling) fall(start int, to float64) (minutes int, reached bool) {
	for _, r := range c.Readings[start:] {
		minutes = r.Minute - c.Readings[start].Minute
		if r.C <= to+roundedC {
			return minutes, true
		}
	}
	return minutes, false
}

// roundedC is by how much the code's limits in °C are rounded: its 70 °F are
// 21.1 °C, and a thermometer in °F that shows them has reached the limit.
const roundedC = 0.12

func hoursAndMinutes(minutes int) string { return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60) }

// coolingOf is a value of the journal as a cooling log.
func coolingOf(v any) (Cooling, error) {
	s, ok := v.(string)
	if !ok {
		return Cooling{}, mistake{shownValue(v) + " is no cooling log", coolingRemedy}
	}
	return ParseCooling(s)
}
