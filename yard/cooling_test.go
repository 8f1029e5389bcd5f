package yard

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Limits of FDA Food Code 3-501.14 (A), as adopted in 16 Delaware
// Administrative Code: from 57 to 21 °C within 2 hours, and to 5 °C within 6 in
// all. The first three logs are the outermost that keep or break it.
func TestAgainstTheFoodCodeOnCooling(t *testing.T) {
	limits := loaded(t).Practice.Cooling
	for _, c := range []struct {
		log  string
		want Cooled
		why  string
	}{
		{"10:00 57C, 11:50 21C, 15:55 5C", CoolInTime, ""},
		{"10:00 57C, 12:05 21C, 15:55 5C", CoolLate, "from 57 to 21 °C within 2 hours is what keeps it safe, and it is first read so cold after 2 h 05 min"},
		{"10:00 57C, 11:50 21C, 16:01 5C", CoolLate, "from 57 to 5 °C within 6 hours is what keeps it safe, and it is first read so cold after 6 h 01 min"},
		{"10:00 57C, 12:00 21C, 16:00 5C", CoolInTime, ""}, // to the minute
		{"9:30 96 °C, 10:00 135F, 11:50 70F, 15:55 41F", CoolInTime, ""},
		{"9:30 96C, 10:10 56C, 11:20 21C, 15:00 5C", CoolInTime, ""}, // counts from 9:30, and keeps all the same
		{"9:00 96C, 10:10 56C, 11:20 21C, 15:00 5C", CoolLate, "2 h 20 min"},
		{"23:10 57C, 0:50 21C, 5:00 4C", CoolInTime, ""}, // past midnight
		{"10:00 57C, 11:00 30C, 12:30 24C", CoolLate, "it is warmer after 2 h 30 min"},
		{"10:00 57C, 11:00 30C", CoolUnfinished, "it ends before 21 °C is reached, which it must be within 2 hours"},
		{"10:00 57C, 11:50 21C", CoolUnfinished, "it ends before 5 °C is reached, which it must be within 6 hours"},
		{"10:00 57C, 11:50 21C, 17:00 7C", CoolLate, "it is warmer after 7 h 00 min"},
		{"10:00 50C, 11:50 21C, 15:55 5C", CoolUnfinished, "no reading of 57 °C or more"},
		{"", CoolNoLog, ""},
	} {
		log, err := ParseCooling(c.log)
		if err != nil {
			t.Errorf("%q: %v", c.log, err)
			continue
		}
		if is, why := log.Check(limits); is != c.want || (why == "") != (c.why == "") || !strings.Contains(why, c.why) {
			t.Errorf("%q: %v, %q; want %v, %q", c.log, is, why, c.want, c.why)
		}
	}
}

func TestCoolingLogsThatAreNone(t *testing.T) {
	for log, says := range map[string]string{
		"57C":                         "is not a time of day",
		"10:00":                       "is not a temperature",
		"10:00 57":                    "has no unit",
		"25:00 57C":                   "is no time of a day",
		"10:61 57C":                   "is no time of a day",
		"10:00 157C":                  "cannot be measured in a kitchen",
		"10:00 57C 11:00 21C":         "does not follow on a temperature",
		"10:00 57C, 9:59 21C, 9:58 5": "has no unit",
		"10:00 57C, 10:05 50C, 10:01 21C, 10:00 5C":  "longer than a day",
		strings.Repeat("10:00 57C, ", 300):           "too long",
		strings.Repeat("10:00 57C,", 150) + "0:1 5C": "is not a time of day",
	} {
		if c, err := ParseCooling(log); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, %v; want %q", log, c, err, says)
		}
	}
}

func TestClocksAndTemperatures(t *testing.T) {
	for s, want := range map[string]int{"14:05": 845, "9.30": 570, "2:05 pm": 845, "12:00 am": 0, "12:30pm": 750, "00:00": 0, "14:05:00": 845} {
		if c, err := ParseClock(s); err != nil || c.Minute != want {
			t.Errorf("%q: %v, %v", s, c, err)
		}
	}
	for _, s := range []string{"", "noon", "24:00", "13:00 pm", "14:05 57C", "1405"} {
		if c, err := ParseClock(s); err == nil {
			t.Errorf("%q: %v", s, c)
		}
	}
	for s, want := range map[string]float64{"57C": 57, "57 °C": 57, "5,5 c": 5.5, "212F": 100, "-2 C": -2, "32 °F": 0} {
		if c, err := ParseTemperature(s); err != nil || c.C != want {
			t.Errorf("%q: %v, %v", s, c, err)
		}
	}
	for _, s := range []string{"", "57", "hot", "57 K", "600 C", "57 C 14:05"} {
		if c, err := ParseTemperature(s); err == nil {
			t.Errorf("%q: %v", s, c)
		}
	}
}

// Cooling faster never makes a log worse.
func TestFasterIsNeverWorse(t *testing.T) {
	limits := loaded(t).Practice.Cooling
	rapid.Check(t, func(t *rapid.T) {
		c := Cooling{Text: "x"}
		minute := 0
		for range rapid.IntRange(1, 8).Draw(t, "readings") {
			minute += rapid.IntRange(1, 120).Draw(t, "minutes")
			c.Readings = append(c.Readings, CoolReading{minute, rapid.Float64Range(0, 100).Draw(t, "c")})
		}
		quick := Cooling{Text: "x"}
		for _, r := range c.Readings {
			quick.Readings = append(quick.Readings, CoolReading{c.Readings[0].Minute + (r.Minute-c.Readings[0].Minute)/2, r.C})
		}
		slow, _ := c.Check(limits)
		if fast, why := quick.Check(limits); slow == CoolInTime && fast != CoolInTime {
			t.Fatalf("%v, in half the time %v: %s", c, fast, why)
		}
	})
}

// A log that fails or cannot tell is kept, and pointed at.
func TestDecoctedWarm(t *testing.T) {
	for log, says := range map[string]string{
		"10:00 57C, 11:50 21C, 15:55 5C": "",
		"10:00 57C, 12:05 21C, 15:55 5C": "the decoction of batch 26-1 cooled too slowly: from 57 to 21 °C",
		"10:00 57C, 11:50 21C":           "does not show that its decoction cooled in time",
	} {
		s, problems := stateOf(t, begunBatch+entry("decocted", "2025-12-01", `batch = "26-1"`, `volume = "500 ml"`, `simmer_from = 14:05:00`, `simmer_to = "16:35"`,
			`cooled = "`+log+`"`, `temperature = "4 C"`, `deviation = "the plate failed for a while"`, `by = "mk"`))
		b := s.Batches[0]
		if len(problems) > 0 != (says != "") || says != "" && !has(problems, 0, says) {
			t.Errorf("%s: %s", log, lines(problems))
		}
		x := b.Decoctions[0]
		if x.Hours != 2.5 || x.From.String() != "14:05" || x.Cooled.Text != log || x.Step.Temperature.C != 4 || b.SimmerHours != 2.5 {
			t.Errorf("%+v", x)
		}
		if d := b.Deviations; len(d) != 1 || d[0].Text != "the plate failed for a while" || d[0].Note || d[0].By != "mk" {
			t.Errorf("%+v", d)
		}
	}
	// With a deviation noted, what was asked for is done; it stays on record.
	for noted, says := range map[string]string{"": "note what was done with deviation", `deviation = "heated up again"`: "noted: heated up again"} {
		_, problems := stateOf(t, begunBatch+entry("decocted", "2025-12-01", `batch = "26-1"`, `cooled = "10:00 57C, 12:05 21C, 15:55 5C"`, noted))
		if text := lines(problems); len(problems) != 1 || !strings.Contains(text, says) || noted != "" && strings.Contains(text, "with deviation") {
			t.Error(text)
		}
	}
	_, problems := stateOf(t, begunBatch+entry("decocted", "2025-12-01", `batch = "26-1"`, "simmer_hours = 4", `simmer_from = "14:05"`, `simmer_to = "16:35"`))
	if !has(problems, 0, "it simmered for 4 hours, and from 14:05 to 16:35") {
		t.Error(lines(problems))
	}
}

// What cannot be read is set aside alone: the entry stands.
func TestStepsThatCannotBeRead(t *testing.T) {
	s, problems := stateOf(t, begunBatch+entry("strained", "2025-12-01", `batch = "26-1"`, `volume = "840 ml"`, `at = "early"`, `temperature = 18`))
	if b := s.Batches[0]; b.StrainedML != 840 || !has(problems, 0, "is not a time of day") || !has(problems, 0, "has no unit") {
		t.Error(summary(s, problems))
	}
}

func FuzzCooling(f *testing.F) {
	for _, s := range []string{"14:30 57C, 16:10 21C, 19:00 5C", "2:05pm 135F;3.00 70 °F", "23:59 57C, 0:01 21C", "10:00 57", ",", "99:99 9C", "10:00 1e9C"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseCooling(s)
		if err != nil {
			return
		}
		for i, r := range c.Readings {
			if r.C < coldestC || r.C > hottestC || i > 0 && r.Minute < c.Readings[i-1].Minute || r.Minute-c.Readings[0].Minute >= minutesOfDay {
				t.Fatalf("%q: %v", s, c)
			}
		}
		if again, err := ParseCooling(c.Text); err != nil || len(again.Readings) != len(c.Readings) {
			t.Fatalf("%q: read again %v, %v", c.Text, again, err)
		}
		c.Check(loaded(t).Practice.Cooling)
	})
}
