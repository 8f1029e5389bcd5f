package yard

import (
	"strings"
	"testing"
)

// What is said of a table that can be read in two ways names a command that reads
// it, and that command does.
func TestWeatherTwoReadings(t *testing.T) {
	for text, c := range map[string]struct {
		says, remedy string
		hints        Hints
	}{
		"date,tmin_c,tmax_c,rain_mm\n6/5/2025,1,9,0\n": {"can be read as two days",
			"`hodaba import weather FILE --days \"day first\"` (or \"month first\"), FILE being a copy under another name", Hints{File: "copy.csv", Days: "day first"}},
		"date,tmin_c,minimum,tmax_c\n2025-05-06,1,2,9\n": {"two columns hold the minimum",
			"`hodaba import weather FILE --column 'minimum=minimum'`, FILE being", Hints{File: "copy.csv", Columns: map[string]string{"minimum": "minimum"}}},
	} {
		_, problems := ReadWeather(strings.NewReader(text), may)
		if !has(problems, 0, c.says) || !has(problems, 0, c.remedy) {
			t.Errorf("%q: %s", text, lines(problems))
		}
		read, err := readWeather(strings.NewReader(text), may, c.hints)
		if err != nil || read.weather == nil || has(read.problems, 0, c.says) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
