package yard

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// weatherOf reads a table as on the day the tests live.
func weatherOf(t testing.TB, table string) (*Weather, []Problem) {
	t.Helper()
	return ReadWeather(strings.NewReader(table), may)
}

// day is a day with everything known.
func day(tmin, tmax, rain float64) WeatherDay {
	return WeatherDay{TMin: tmin, TMax: tmax, Rain: rain, HasTemp: true, HasRain: true}
}

// Sums and means of the daily series: those of the package the series are
// from, worked out apart from this program (with R and NumPy).
func TestAgainstDailySeries(t *testing.T) {
	for _, c := range []struct {
		file       string
		year, days int
		rain       float64
		tmax, tmin float64
		wet        int
	}{
		{"seattle", 2012, 366, 1226.0, 15.2768, 7.2896, 148},
		{"seattle", 2013, 365, 828.0, 16.0589, 8.1540, 119},
		{"seattle", 2014, 365, 1232.8, 16.9959, 8.6625, 123},
		{"seattle", 2015, 365, 1139.2, 17.4279, 8.8356, 116},
		{"new-york", 2012, 366, 1012.5, 17.8795, 9.9325, 103},
		{"new-york", 2013, 365, 902.7, 16.6107, 8.5570, 79},
		{"new-york", 2014, 365, 1289.8, 16.2923, 8.2134, 98},
		{"new-york", 2015, 365, 973.6, 17.6121, 9.2540, 82},
	} {
		b, err := os.ReadFile("../testdata/weather/" + c.file + ".csv")
		if err != nil {
			t.Fatal(err)
		}
		w, problems := weatherOf(t, string(b))
		if len(problems) > 0 {
			t.Fatal(lines(problems))
		}
		if !bytes.Equal(w.CSV(), b) {
			t.Errorf("%s is not written as it was read", c.file)
		}
		year := w.Slice(NewDate(c.year, 1, 1), NewDate(c.year, 12, 31))
		temps, rains := year.Known()
		sum, lo, hi, wet := 0.0, 0.0, 0.0, 0
		for _, d := range year.Days {
			sum, lo, hi = sum+d.Rain, lo+d.TMin, hi+d.TMax
			if d.Rain >= 1 {
				wet++
			}
		}
		n := float64(len(year.Days))
		if temps != c.days || rains != c.days || wet != c.wet || math.Abs(sum-c.rain) > 0.05 || math.Abs(hi/n-c.tmax) > 0.0001 || math.Abs(lo/n-c.tmin) > 0.0001 {
			t.Errorf("%s %d: %d days, %.1f mm, %.4f, %.4f, %d wet", c.file, c.year, temps, sum, hi/n, lo/n, wet)
		}
	}
}

// The same two days in the ways in which tables give them.
func TestTablesOfWeather(t *testing.T) {
	want := &Weather{From: NewDate(2026, 4, 12), Days: []WeatherDay{day(3.5, 12, 4.2), day(-1, 9.5, 0)}}
	for name, table := range map[string]string{
		"agreed":           "date,tmin_c,tmax_c,rain_mm\n2026-04-12,3.5,12.0,4.2\n2026-04-13,-1.0,9.5,0.0\n",
		"last line open":   "date,tmin_c,tmax_c,rain_mm\n2026-04-12,3.5,12.0,4.2\n2026-04-13,-1.0,9.5,0.0",
		"other order":      "rain,max,min,day\n4.2,12,3.5,2026-04-12\n0,9.5,-1,2026-04-13\n",
		"backwards":        "date,tmin,tmax,rain\n2026-04-13,-1,9.5,0\n2026-04-12,3.5,12,4.2\n",
		"semicolons":       "\ufeffDatum;TMIN;TMAX;Niederschlag (mm)\r\n12.04.2026;3,5;12,0;4,2\r\n13.04.2026;-1,0;9,5;0,0\r\n",
		"tabs":             "Date\tMin Temp (°C)\tMax Temp (°C)\tRain (mm)\n2026/4/12\t3.5\t12\t4.2\n2026/4/13\t−1\t9.5\t0\n",
		"old line ends":    "date,tmin,tmax,rain\r2026-04-12,3.5,12,4.2\r2026-04-13,-1,9.5,0\r",
		"Latin-1":          "date,Min Temp (\xb0C),Max Temp (\xb0C),rain\n2026-04-12,3.5,12,4.2\n2026-04-13,-1,9.5,0\n",
		"quotes":           "\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n\"2026-04-12\",\"4.2\",\"12\",\"3.5\"\n\"2026-04-13\",\"0,0\",\"9,5\",\"-1,0\"\n",
		"camels and dots":  "Date,MinTemp,max.temperature,Rainfall amount (millimetres)\n2026-04-12,3.5,12,4.2\n2026-04-13,-1,9.5,0\n",
		"digits":           "yyyymmdd,low,high,precip\n20260412,3.5,12,4.2\n20260413,-1,9.5,0\n",
		"times":            "time,temperature_min,temperature_max,precipitation\n2026-04-12T00:00,3.5,12,4.2\n2026-04-13 00:00:00,-1,9.5,0\n",
		"words":            "Date,Daily minimum air temperature,Daily maximum air temperature,Total rain\n12 April 2026,3.5,12,4.2\n13 Apr 2026,-1,9.5,0\n",
		"three columns":    "year,month,day,tmin,tmax,rain\n2026,4,12,3.5,12,4.2\n2026,04,13,-1,9.5,0\n",
		"remarks":          "# my garden\n\n# from the porch\ndate,tmin,tmax,rain\n# spring\n2026-04-12,3.5,12,4.2\n\n2026-04-13,-1,9.5,0\n,,,\n",
		"joined":           "date,tmin,tmax,rain\n2026-04-12,3.5,12,4.2\ndate,tmin,tmax,rain\n2026-04-13,-1,9.5,0\n",
		"day first":        "date,tmin,tmax,rain\n12/4/2026,3.5,12,4.2\n13/4/2026,-1,9.5,0\n",
		"month first":      "date,tmin,tmax,rain\n04/12/2026,3.5,12,4.2\n04/13/2026,-1,9.5,0\n",
		"one way only":     "date,tmin,tmax,rain\nhere it begins,,,\n12-4-2026,3.5,12,4.2\n13-4-2026,-1,9.5,0\n",
		"in tenths":        "date,TN (0.1 °C),TX in 0.1 degrees,RR [0.1 mm]\n2026-04-12,35,120,42\n2026-04-13,-10,95,-1\n",
		"Fahrenheit":       "date,tmin_f,tmax_f,rain_mm\n2026-04-12,38.3,53.6,4.2\n2026-04-13,30.2,49.1,0\n",
		"one unit lent":    "date,tmin_f,tmax,rain_mm\n2026-04-12,38.3,53.6,4.2\n2026-04-13,30.2,49.1,0\n",
		"Kelvin":           "date,tmin (K),tmax (K),rain (cm)\n2026-04-12,276.65,285.15,0.42\n2026-04-13,272.15,282.65,0\n",
		"a trace":          "date,tmin,tmax,rain\n2026-04-12,3.5,12,4.2\n2026-04-13,-1,9.5,T\n",
		"a gust of others": "date,wind,tmin,humidity_min,tmax,rh,rain,note\n2026-04-12,3,3.5,50,12,90,4.2,\"cold, wet\"\n2026-04-13,4,-1,55,9.5,80,0,frost\n",
	} {
		w, problems := weatherOf(t, table)
		for _, p := range problems {
			if !strings.Contains(p.Text, "not used") && !strings.Contains(p.Text, "here it begins") && !strings.Contains(p.Text, "trace of rain") {
				t.Errorf("%s: %s", name, p)
			}
		}
		if !reflect.DeepEqual(w, want) {
			t.Errorf("%s: %+v", name, w)
		}
	}
}

// A minimum, a maximum and rain in United States units: 0 °F to °C from the
// definition of the scale; the inch of 1959.
func TestAgainstUSUnits(t *testing.T) {
	w, problems := weatherOf(t, "DATE,TMIN (F),TMAX (F),PRCP\n2026-04-12,32,50,1\n2026-04-13,-40,68,0.25\n2026-04-14,14,104,0.01\n")
	want := []WeatherDay{day(0, 10, 25.4), day(-40, 20, 6.35), day(-10, 40, 0.25)}
	if len(problems) > 0 || !reflect.DeepEqual(w.Days, want) {
		t.Errorf("%+v\n%s", w, lines(problems))
	}
}

func TestOpenSeries(t *testing.T) {
	read := func(file string) (*Weather, []Problem) {
		b, err := os.ReadFile("../testdata/weather/invented/" + file)
		if err != nil {
			t.Fatal(err)
		}
		return weatherOf(t, string(b))
	}
	w, problems := read("tenths.txt")
	want := []WeatherDay{
		day(-1.2, 9.5, 0), day(2.1, 9.8, 12.3), day(3, 8.7, 0),
		{Rain: 4.7, HasRain: true}, {TMax: 11.2, lone: loneMax}, {}, day(1.8, 10.9, 0.5),
	}
	if w == nil || w.From != NewDate(2024, 2, 27) || !reflect.DeepEqual(w.Days, want) {
		t.Errorf("%+v", w)
	}
	for _, part := range []string{
		"columns TG, TNH, TXH, SQ, UG are not used", "1 day with a trace of rain is taken as 0 mm",
		"no temperature is known on 2024-03-01", "neither temperature nor rain is known from 2024-03-02 to 2024-03-03 (2 days)",
	} {
		if !has(problems, 0, part) {
			t.Errorf("nothing says %q:\n%s", part, lines(problems))
		}
	}
	if len(problems) != 4 || !has(problems, 19, "no temperature") || !has(problems, 20, "neither") {
		t.Error(lines(problems))
	}

	w, problems = read("element.txt")
	if w == nil || len(w.Days) != 4 || w.Days[0] != (WeatherDay{TMax: 9.9, lone: loneMax}) || w.Days[3] != (WeatherDay{TMax: 11.2, lone: loneMax}) {
		t.Errorf("%+v", w)
	}
	if len(problems) != 2 || !has(problems, 13, "-9999 is taken as not measured") || !has(problems, 11, "columns SOUID, Q_TX are not used") {
		t.Error(lines(problems))
	}

	// The series' own headings say the unit where the lines above them were
	// cut off.
	w, _ = weatherOf(t, "STN,YYYYMMDD,TN,TX,RH\n999,20240227,-12,95,-1\n")
	if w == nil || w.Days[0] != day(-1.2, 9.5, 0) {
		t.Errorf("%+v", w)
	}
	// Elsewhere RH is humidity.
	w, _ = weatherOf(t, "date,tmin,tmax,rh\n2024-02-27,1,9,88\n")
	if w == nil || w.Days[0].HasRain {
		t.Errorf("%+v", w)
	}
}

// The first rows of the two places as the package gives them in one table
// (United States government data, see testdata/weather/README.md).
const twoPlaces = `location,date,precipitation,temp_max,temp_min,wind,weather
Seattle,2012-01-01,0.0,12.8,5.0,4.7,drizzle
Seattle,2012-01-02,10.9,10.6,2.8,4.5,rain
New York,2012-01-01,1.8,10.0,3.3,,
New York,2012-01-02,0.0,10.0,0.6,,
`

func TestSeveralPlaces(t *testing.T) {
	if w, problems := weatherOf(t, twoPlaces); w != nil || len(problems) != 1 || !has(problems, 1, "several places: Seattle, New York") {
		t.Error(w, lines(problems))
	}
	for place, want := range map[string]WeatherDay{"Seattle": day(5, 12.8, 0), "new york": day(3.3, 10, 1.8)} {
		x, err := readWeather(strings.NewReader(twoPlaces), may, Hints{Location: place})
		if err != nil || len(x.weather.Days) != 2 || x.weather.Days[0] != want {
			t.Errorf("%s: %+v, %v", place, x, err)
		}
	}
	one := strings.Join(strings.SplitAfter(twoPlaces, "\n")[:3], "")
	if w, problems := weatherOf(t, one); w == nil || len(w.Days) != 2 || len(problems) != 1 {
		t.Error(w, lines(problems))
	}
}

func TestHints(t *testing.T) {
	table := "when seen,A_temp_min,A_temp_max,B_temp_min,B_temp_max,A_precip\n4/5/2025,50,68,30,40,0.4\n5/5/2025,50,68,30,40,0\n"
	h := Hints{Days: "day first", Units: map[string]string{"temperature": "F", "rain": "cm"},
		Columns: map[string]string{"date": "When seen", "tmin": "A_temp_min", "maximum": "a_temp_max", "rain": "A_precip"}}
	x, err := readWeather(strings.NewReader(table), may, h)
	if err != nil || x.weather.From != NewDate(2025, 5, 4) || x.weather.Days[0] != day(10, 20, 4) {
		t.Errorf("%+v, %v", x, err)
	}
	h.Days = "month first"
	if x, err = readWeather(strings.NewReader(table), may, h); err != nil || x.weather.From != NewDate(2025, 4, 5) {
		t.Errorf("%+v, %v", x, err)
	}
	for want, h := range map[string]Hints{
		`"wind" is nothing that a column can hold`:    {Columns: map[string]string{"wind": "A"}},
		"did you mean A_precip?":                      {Columns: map[string]string{"date": "when seen", "tmin": "A_temp_min", "rain": "A_precp"}},
		`"inch" is no unit of the minimum`:            {Units: map[string]string{"tmin": "inch"}},
		`"date" has no unit`:                          {Units: map[string]string{"date": "F"}},
		`"backwards" does not say`:                    {Days: "backwards"},
		"no column that names places":                 {Location: "Seattle", Days: "day first", Columns: map[string]string{"date": "when seen", "tmin": "A_temp_min"}},
		`nothing in the table is of "Boston": it hol`: {Location: "Boston", Columns: map[string]string{}},
	} {
		text := table
		if h.Location == "Boston" {
			text = twoPlaces
		}
		if _, err := readWeather(strings.NewReader(text), may, h); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// Days that are not known are told as runs, each with the line it begins in.
func TestHoles(t *testing.T) {
	table := "date,tmin,tmax,rain\n2026-01-01,1,5,\n2026-01-02,1,5,2\n2026-01-03,,,0\n2026-01-04,1,5,\n2026-01-05,1,5,\n2026-01-08,1,5,0\n2026-01-09,,5,0\n2026-01-10,1,5,\n2026-01-11,,,4\n2026-01-12,1,5,4\n2026-01-13,1,5,\n"
	w, problems := weatherOf(t, table)
	for line, want := range map[int]string{
		4: "no temperature is known on 2026-01-03", 5: "no rain is known from 2026-01-04 to 2026-01-05 (2 days)",
		6: "neither temperature nor rain is known from 2026-01-06 to 2026-01-07 (2 days) (and 3 more like it, the last in line 10)",
	} {
		if !has(problems, line, want) {
			t.Errorf("nothing says %q:\n%s", want, lines(problems))
		}
	}
	temps, rains := w.Known()
	if len(problems) != 3 || temps != 8 || rains != 6 || len(w.Days) != 13 {
		t.Errorf("%d and %d days of %d\n%s", temps, rains, len(w.Days), lines(problems))
	}
}

// What was not measured yet, or not any more, is no hole.
func TestNoHoleAtTheEnds(t *testing.T) {
	if _, problems := weatherOf(t, "date,tmin,tmax,rain\n2026-01-01,,,1\n2026-01-02,1,5,1\n2026-01-03,1,5,\n"); len(problems) > 0 {
		t.Error(lines(problems))
	}
}

func TestRainInInchesIsSuspected(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,rain\n")
	for i := range Date(400) {
		fmt.Fprintf(&b, "%s,%s\n", NewDate(2024, 1, 1)+i, []string{"0", "0.3"}[i%2])
	}
	if _, problems := weatherOf(t, b.String()); !has(problems, 1, "the rain adds up to 55 mm a year, and its unit is not said: if it is in inches") {
		t.Error(lines(problems))
	}
	for _, said := range []string{"rain_mm", "rain_in"} {
		if _, problems := weatherOf(t, strings.Replace(b.String(), "rain", said, 1)); len(problems) > 0 {
			t.Error(lines(problems))
		}
	}
}

// A few slips of the pen do not put a column's unit in doubt.
func TestSlipsDoNotDecideTheUnit(t *testing.T) {
	var b strings.Builder
	b.WriteString("date,tmax\n")
	for i := range Date(200) {
		v := "12.5"
		if i == 40 || i == 60 || i == 80 {
			v = "125"
		}
		fmt.Fprintf(&b, "%s,%s\n", NewDate(2025, 1, 1)+i, v)
	}
	w, problems := weatherOf(t, b.String())
	if !has(problems, 42, "a maximum of 125 °C") || !has(problems, 62, "cannot be") || w == nil || w.To() != NewDate(2025, 1, 1)+199 {
		t.Error(lines(problems))
	}
}

// The first of January 1970 is a day like any other.
func TestThroughTheZeroDate(t *testing.T) {
	table := "date,tmin_c,tmax_c,rain_mm\n1969-12-31,1.0,2.0,0.0\n1970-01-01,3.0,4.0,5.0\n1970-01-02,1.0,2.0,0.0\n"
	w, problems := weatherOf(t, table)
	if len(problems) > 0 || w.At(0) != day(3, 4, 5) || string(w.CSV()) != table {
		t.Errorf("%s%s", w.CSV(), lines(problems))
	}
}

func TestNoWeather(t *testing.T) {
	var w *Weather
	a, b := w.Known()
	if a != 0 || b != 0 || w.At(may) != (WeatherDay{}) || w.Slice(0, may) != nil || w.Months() != [12]MonthMean{} || w.To() >= 0 || string(w.CSV()) != weatherHeading {
		t.Error("no weather is some")
	}
	w = &Weather{From: may, Days: []WeatherDay{{}, day(1, 2, 3), {}}}
	if s := w.Slice(0, may+100); s.From != may+1 || len(s.Days) != 1 || w.Slice(may+2, may+9) != nil || w.To() != may+2 || w.At(may+3) != (WeatherDay{}) {
		t.Errorf("%+v", s)
	}
	w = &Weather{From: may, Days: []WeatherDay{day(1, 2, 3), day(2, 3, 4)}}
	if s := w.Slice(may, may); append(s.Days, WeatherDay{})[1].known() || !w.Days[1].known() {
		t.Error("what is added to a slice goes into the whole")
	}
}

// Exchanged temperatures are put right, also where a day stands in two lines.
func TestSwapped(t *testing.T) {
	w, problems := weatherOf(t, "date,tmin,tmax\n2026-04-12,14.5,3\n2026-04-13,12,\n2026-04-13,,2\n")
	if w.Days[0].TMin != 3 || w.Days[0].TMax != 14.5 || w.Days[1].TMin != 2 || w.Days[1].TMax != 12 {
		t.Errorf("%+v\n%s", w, lines(problems))
	}
}

func TestManyAlikeAreToldAsOne(t *testing.T) {
	for n, want := range map[int]string{2: "it", 3: "it", 4: "it (and 1 more like it, the last in line 4)", 40: "it (and 37 more like it, the last in line 40)"} {
		c := tally{shown: map[string]*sort{}}
		for i := range n {
			c.say("a sort", Odd, i+1, "it", "a way out")
		}
		c.close()
		if last := c.problems[len(c.problems)-1]; last.Text != want || len(c.problems) != min(n, shownAlike) {
			t.Errorf("%d: %q of %d", n, last.Text, len(c.problems))
		}
	}
}

func TestMonths(t *testing.T) {
	w, _ := weatherOf(t, "date,tmin,tmax,rain\n2024-02-01,1,5,2\n2024-02-02,3,9,0\n2025-02-01,5,10,\n2025-03-01,,,1\n")
	m := w.Months()
	// 2 mm in two days, of a month that is 28.25 days long.
	if want := (MonthMean{TMin: 3, TMax: 8, Rain: 28.25, TempDays: 3, RainDays: 2}); m[1] != want {
		t.Errorf("%+v", m[1])
	}
	if want := (MonthMean{Rain: 31, RainDays: 1}); m[2] != want || m[0] != (MonthMean{}) {
		t.Errorf("%+v, %+v", m[2], m[0])
	}
}

// anyWeather draws weather that could have been measured.
var anyWeather = rapid.Custom(func(t *rapid.T) *Weather {
	w := &Weather{From: Date(rapid.IntRange(-3000, int(may)-400).Draw(t, "from"))}
	for range rapid.IntRange(1, 40).Draw(t, "days") {
		var d WeatherDay
		lo, hi := rapid.Float64Range(coldest, hottest).Draw(t, "a"), rapid.Float64Range(coldest, hottest).Draw(t, "b")
		if rapid.Bool().Draw(t, "tenths") {
			lo, hi = math.Round(lo*10)/10+0, math.Round(hi*10)/10+0
		}
		if rapid.Bool().Draw(t, "minimum") {
			d.set(minimum, min(lo, hi))
		}
		if rapid.Bool().Draw(t, "maximum") {
			d.set(maximum, max(lo, hi))
		}
		if rapid.Bool().Draw(t, "rain") {
			d.set(rainfall, rapid.Float64Range(0, mostRain).Draw(t, "mm"))
		}
		w.Days = append(w.Days, d)
	}
	return w
})

// What is written reads back the same, and says nothing wrong.
func TestWeatherRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWeather.Draw(t, "weather")
		got, problems := ReadWeather(bytes.NewReader(w.CSV()), may)
		if want := w.Slice(w.From, w.To()); !reflect.DeepEqual(got, want) {
			t.Fatalf("%+v became %+v", want, got)
		}
		for _, p := range problems {
			if !strings.Contains(p.Text, " known ") {
				t.Fatal(p)
			}
		}
	})
}

// lawful reports what is wrong with weather that was read.
func lawful(w *Weather, today Date) string {
	if w == nil {
		return ""
	}
	if len(w.Days) == 0 || w.To() > today || !w.Days[0].known() || !w.Days[len(w.Days)-1].known() {
		return "it does not begin and end with something known, or not by today"
	}
	for i, d := range w.Days {
		for e := range measured {
			v, ok := d.get(e)
			if ok && (math.IsNaN(v) || v < coldest || e != rainfall && v > hottest || e == rainfall && (v < 0 || v > mostRain)) {
				return fmt.Sprintf("day %d: %+v", i, d)
			}
		}
		if d.HasTemp && (d.TMin > d.TMax || d.lone != 0) {
			return fmt.Sprintf("day %d: %+v", i, d)
		}
	}
	return ""
}

func FuzzWeather(f *testing.F) {
	for _, file := range []string{"seattle.csv", "invented/tenths.txt", "invented/element.txt"} {
		b, err := os.ReadFile("../testdata/weather/" + file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b[:min(len(b), 1500)])
	}
	f.Add([]byte(twoPlaces))
	f.Add([]byte("year;month;day;tmin f;rain in\n2026;4;31;1e9;\"\n;;;;\n2026;4;1;-0;,1\n"))
	f.Add([]byte("date,tmax\n4/13/2020,--1\n13/4/2020,\n31.12.1999,999999999999999999999\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		w, problems := ReadWeather(bytes.NewReader(b), may)
		if bad := lawful(w, may); bad != "" {
			t.Fatalf("%q: %s", b, bad)
		}
		for _, p := range problems {
			if p.Remedy == "" || p.Text == "" || p.File == "" || p.Grade == Broken {
				t.Fatalf("%q: %+v", b, p)
			}
		}
		if w == nil {
			return
		}
		again, _ := ReadWeather(bytes.NewReader(w.CSV()), may)
		if !reflect.DeepEqual(w, again) {
			t.Fatalf("%q:\n%+v became\n%+v", b, w, again)
		}
	})
}

// century is a hundred years of days as weather.csv holds them: a wave with
// a ripple, invented.
func century() []byte {
	w := &Weather{From: NewDate(1926, 1, 1)}
	for i := range 36525 {
		m := 9 - 8*math.Cos(float64(i)*2*math.Pi/365.25) + 3*math.Sin(float64(i))
		w.Days = append(w.Days, day(math.Round(10*m-43)/10, math.Round(10*m+51)/10, math.Round(max(0, 80*math.Sin(float64(i)*1.7)))/10))
	}
	return w.CSV()
}

func BenchmarkReadCentury(b *testing.B) {
	text := century()
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		w, problems := ReadWeather(bytes.NewReader(text), may)
		if len(problems) > 0 || len(w.Days) != 36525 {
			b.Fatal(len(w.Days), lines(problems))
		}
	}
}
