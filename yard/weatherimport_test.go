package yard

import (
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// yardWith is a yard whose weather.csv holds text.
func yardWith(t testing.TB, weather, journal string) (*Folder, *Memory) {
	t.Helper()
	files := map[string]string{YardFile: smallYard, JournalFile: journal}
	if weather != "" {
		files[WeatherFile] = weather
	}
	m := InMemory(files)
	f, problems, err := OpenFiles(m, loaded(t), may)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return f, m
}

func TestPreview(t *testing.T) {
	f, m := yardWith(t, "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10.0,20.0,0.0\n2025-07-02,10.0,,1.0\n2025-07-03,10.0,20.0,3.0\n2025-07-09,1.0,9.0,0.0\n", "")
	before := m.Text(WeatherFile)
	p, err := ImportWeather(f, strings.NewReader("STATION,Date,TMAX (°F),TMIN,PRCP,WIND\nporch,2025-07-01,68,50,0\nporch,2025-07-02,68,50,1\nporch,2025-07-03,77,50,0\nporch,2025-07-04,68,50,0.25\n"), Hints{File: "porch.csv"})
	if err != nil {
		t.Fatal(err)
	}
	if temps, rains := p.Weather.Known(); temps != 4 || rains != 4 || p.Weather.From != NewDate(2025, 7, 1) || p.Weather.To() != NewDate(2025, 7, 4) {
		t.Errorf("%+v", p.Weather)
	}
	columns := []WeatherColumn{
		{"STATION", "location", "", ""}, {"Date", "date", "", ""}, {"TMAX (°F)", "maximum", "°F", "said in the heading"},
		{"TMIN", "minimum", "°F", "as the maximum"}, {"PRCP", "rain", "in", "not said; temperatures are in °F"},
	}
	if !reflect.DeepEqual(p.Columns, columns) || !reflect.DeepEqual(p.Unused, []string{"WIND"}) {
		t.Errorf("%+v, %v", p.Columns, p.Unused)
	}
	merge := Merge{New: 1, Filled: 0, Same: 1, Differ: []Difference{{NewDate(2025, 7, 2), "rain", 1, 25.4}, {NewDate(2025, 7, 3), "maximum", 20, 25}, {NewDate(2025, 7, 3), "rain", 3, 0}}}
	if !reflect.DeepEqual(p.Merge, merge) || p.Merge.Changed() != 2 {
		t.Errorf("%+v, %d", p.Merge, p.Merge.Changed())
	}
	if july := p.Months[6]; july.TempDays != 4 || july.TMin != 10 || july.TMax != 21.25 {
		t.Errorf("%+v", july)
	}
	if len(p.Problems) != 1 || p.Problems[0].File != "porch.csv" || m.Text(WeatherFile) != before {
		t.Error(lines(p.Problems))
	}
}

func TestImportRefuses(t *testing.T) {
	for name, c := range map[string]struct{ have, table, want string }{
		"no heading":    {"", "2025-07-01,1,2,3\n", "line 1: no line names the columns"},
		"no day":        {"", "date,tmin,tmax\nsoon,1,2\n", `no day in the table can be used: weather.csv:2: "soon" is not a day`},
		"nothing at al": {"", "date,tmin,tmax\n", "no day in the table can be used: look at its days and columns"},
		"places":        {"", twoPlaces, "line 1: the table is of several places: Seattle, New York"},
		"what is there": {"my weather\n", "date,tmin,tmax\n2025-07-01,1,2\n", "weather.csv cannot be used as it is: line 1: no line names"},
	} {
		f, m := yardWith(t, c.have, "")
		if _, err := ImportWeather(f, strings.NewReader(c.table), Hints{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
		if m.Text(WeatherFile) != c.have {
			t.Errorf("%s: weather.csv changed", name)
		}
	}
	f, m := yardWith(t, "my weather\n", "")
	if _, _, err := f.WriteWeather(&Weather{From: may, Days: []WeatherDay{day(1, 2, 3)}}, true); err == nil || m.Text(WeatherFile) != "my weather\n" {
		t.Error(err)
	}
}

func TestWriteWeather(t *testing.T) {
	const have = "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,0\n2025-07-02,10,,1\n2025-07-03,10,20,3\n"
	table := "date,tmin,tmax,rain\n2025-07-02,11,21,1\n2025-07-03,,,4\n2025-07-05,5,6,\n"
	for newWins, want := range map[bool]string{
		false: weatherHeading + "2025-07-01,10.0,20.0,0.0\n2025-07-02,10.0,21.0,1.0\n2025-07-03,10.0,20.0,3.0\n2025-07-05,5.0,6.0,\n",
		true:  weatherHeading + "2025-07-01,10.0,20.0,0.0\n2025-07-02,11.0,21.0,1.0\n2025-07-03,10.0,20.0,4.0\n2025-07-05,5.0,6.0,\n",
	} {
		f, m := yardWith(t, have, "")
		p, err := ImportWeather(f, strings.NewReader(table), Hints{})
		if err != nil {
			t.Fatal(err)
		}
		merge, problems, err := f.WriteWeather(p.Weather, newWins)
		if err != nil || m.Text(WeatherFile) != want || !reflect.DeepEqual(merge, p.Merge) || len(merge.Differ) != 2 || merge.New != 1 {
			t.Errorf("%v: %v, %+v\n%s", newWins, err, merge, m.Text(WeatherFile))
		}
		// What was replaced is kept; where nothing was, no copy is made.
		kept := m.Text("weather-before-2026-05-01.csv")
		if newWins && (kept != have || !has(problems, 0, "weather-before-2026-05-01.csv")) || !newWins && (kept != "" || len(problems) > 0) {
			t.Errorf("%v: kept %q\n%s", newWins, kept, lines(problems))
		}
		if s, _ := f.State(may, 0); s.Weather.At(NewDate(2025, 7, 5)).TMax != 6 {
			t.Error("the folder does not see what was written")
		}
		// The same again changes nothing.
		if merge, problems, err := f.WriteWeather(p.Weather, newWins); err != nil || len(problems) > 0 || merge.New != 0 || m.Text(WeatherFile) != want {
			t.Errorf("%v: again: %+v %v", newWins, merge, err)
		}
	}
}

// Whatever a weather.csv holds beside the agreed columns is kept.
func TestNothingOfTheOldFileIsLost(t *testing.T) {
	more := &Weather{From: NewDate(2025, 8, 1), Days: []WeatherDay{day(5, 6, 7)}}
	for name, have := range map[string]string{
		"a column":      "date,tmin_c,tmax_c,rain_mm,note\n2025-07-01,10,20,0,hail\n",
		"a remark":      "# from the porch\ndate,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,0\n",
		"other units":   "date,tmin_f,tmax_f\n2025-07-01,50,68\n",
		"a lost value":  "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,200,0\n",
		"a second one":  "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,0\n2025-07-01,10,21,0\n",
		"no such day":   "date,tmin_c,tmax_c,rain_mm\n2025-02-29,10,20,0\n2025-07-01,10,20,0\n",
		"rain of ahead": "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,0\n2027-07-01,10,20,0\n",
		"further cells": "date,tmin_c,tmax_c,rain_mm\n2025-07-01,10,20,0,,hail\n2025-07-02,10,20,0\n",
	} {
		f, m := yardWith(t, have, "")
		if _, problems, err := f.WriteWeather(more, false); err != nil || len(problems) != 1 || m.Text("weather-before-2026-05-01.csv") != have {
			t.Errorf("%s: %v %s", name, err, lines(problems))
		}
	}
	for name, have := range map[string]string{
		"nothing beside": "Date, TMIN_C, tmax_c, rain_mm\r\n2025-07-02,10,20.00,0\r\n\r\n2025-07-01,,20,\r\n2025-07-02,10,20,0\r\n",
		"empty":          "\n",
	} {
		f, m := yardWith(t, have, "")
		if _, problems, err := f.WriteWeather(more, false); err != nil || len(problems) > 0 || m.Text("weather-before-2026-05-01.csv") != "" {
			t.Errorf("%s: %v %s", name, err, lines(problems))
		}
	}
	f, m := yardWith(t, "date,tmin_f\n2025-07-01,50\n", "")
	if err := m.Replace("weather-before-2026-05-01.csv", []byte("older")); err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.WriteWeather(more, false); err != nil || m.Text("weather-before-2026-05-01.csv") != "older" || m.Text("weather-before-2026-05-01-2.csv") == "" {
		t.Error("an older copy is lost", err)
	}
}

// An import that fails leaves everything as it was.
func TestWriteWeatherFaults(t *testing.T) {
	const have = "date,tmin_f,tmax_f\n2025-07-01,50,68\n"
	for _, fault := range []string{"lock", "replace weather-before-2026-05-01.csv", "replace " + WeatherFile, "open " + WeatherFile} {
		f, m := yardWith(t, have, "")
		m.Fault = func(op, name string) error {
			if op == fault || op+" "+name == fault {
				return errors.New("no room")
			}
			return nil
		}
		if _, _, err := f.WriteWeather(&Weather{From: may, Days: []WeatherDay{day(1, 2, 3)}}, true); err == nil || m.Text(WeatherFile) != have {
			t.Errorf("%s: %v", fault, err)
		}
	}
}

// One file an element, as some open series come: each import fills the blank
// cells of the one before.
func TestElementByElement(t *testing.T) {
	f, m := yardWith(t, "", "")
	for _, table := range []string{"date,tn\n2025-07-01,10\n2025-07-02,9\n", "date,rr\n2025-07-01,0\n2025-07-02,4\n", "date,tx\n2025-07-01,20\n"} {
		p, err := ImportWeather(f, strings.NewReader(table), Hints{})
		if err != nil {
			t.Fatal(err)
		}
		if _, problems, err := f.WriteWeather(p.Weather, false); err != nil || len(problems) > 0 {
			t.Fatal(err, lines(problems))
		}
	}
	if got := m.Text(WeatherFile); got != weatherHeading+"2025-07-01,10.0,20.0,0.0\n2025-07-02,9.0,,4.0\n" {
		t.Errorf("%s", got)
	}
}

// After a merge every cell of both is there: the old one where both know
// something, or the new one, as was asked.
func TestMergeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		old, new := anyWeather.Draw(t, "old"), anyWeather.Draw(t, "new")
		if rapid.Bool().Draw(t, "close") {
			new.From = old.From + Date(rapid.IntRange(-10, 10).Draw(t, "shift"))
		}
		newWins := rapid.Bool().Draw(t, "new wins")
		w, m := merged(old, new, newWins)
		days := 0
		for d := w.From; d <= w.To(); d++ {
			a, b, got := old.At(d), new.At(d), w.At(d)
			if b.known() {
				days++
			}
			for e := range measured {
				x, inOld := a.get(e)
				y, inNew := b.get(e)
				v, ok := got.get(e)
				want := x
				if !inOld || inNew && newWins && (x-y > sameReading || y-x > sameReading) {
					want = y
				}
				if ok != (inOld || inNew) || ok && v != want {
					t.Fatalf("%s of %s: %v %v, of %v %v and %v %v", elementWords[e], calendarDay(d), v, ok, x, inOld, y, inNew)
				}
			}
		}
		if m.New+m.Filled+m.Same+m.Changed() != days {
			t.Fatalf("%+v of %d days", m, days)
		}
		if again, m := merged(w, old, false); m.New+m.Filled != 0 || !reflect.DeepEqual(again, w) {
			t.Fatalf("the old one adds something: %+v", m)
		}
	})
}

func TestCheckLooksAtTheWeather(t *testing.T) {
	f, _ := yardWith(t, "date,tmin_c,tmax_c,rain_mm,wind\n2025-07-01,10,20,0,3\n2025-07-02,10,200,1,3\n2025-07-05,10,20,1,3\n", "")
	problems := f.Check()
	for _, part := range []string{"weather.csv:3: a maximum of 200 °C on 2025-07-02", "weather.csv:1: the column wind is not used", "weather.csv:3: no temperature is known on 2025-07-02", "weather.csv:3: neither temperature nor rain is known from 2025-07-03 to 2025-07-04"} {
		if !has(problems, 0, part) {
			t.Errorf("nothing says %q:\n%s", part, lines(problems))
		}
	}
	if len(problems) != 4 {
		t.Error(lines(problems))
	}
	if s, problems := f.State(may, 0); len(problems) != 1 || s.Weather == nil {
		t.Error("what is only missing is no problem of the state", lines(problems))
	}
}

func TestWeatherOfTheState(t *testing.T) {
	b, err := os.ReadFile("../testdata/weather/seattle.csv")
	if err != nil {
		t.Fatal(err)
	}
	f, _ := yardWith(t, string(b), "")
	asOf := NewDate(2014, 6, 1)
	for _, c := range []struct {
		asOf, knownBy, to Date
	}{{asOf, 0, asOf}, {asOf, asOf - 10, asOf - 10}, {may, 0, NewDate(2015, 12, 31)}, {asOf, may, asOf}} {
		s, problems := f.State(c.asOf, c.knownBy)
		if len(problems) > 0 || s.Weather.To() != c.to {
			t.Errorf("as of %v, known by %v: until %v", c.asOf, c.knownBy, s.Weather.To())
		}
	}
	if s, _ := f.State(NewDate(2011, 1, 1), 0); s.Weather != nil {
		t.Error("there is weather before the first day")
	}
	without, _ := yardWith(t, "", "")
	if s, problems := without.State(may, 0); s.Weather != nil || len(problems) > 0 {
		t.Error("there is weather without a file", lines(problems))
	}
}
