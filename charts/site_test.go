package charts

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// someNormals is an invented mean year.
func someNormals() (n [12]forecast.SiteNormal) {
	for m := range n {
		warm := -math.Cos(2 * math.Pi * (float64(m) - 0.5) / 12)
		n[m] = forecast.SiteNormal{TMin: 6 + 6*warm, TMax: 14 + 8*warm, Rain: 55 - 10*warm, WetDays: 9}
	}
	return n
}

func spread(low, likely, high float64) forecast.Amount {
	return forecast.Amount{P10: low, P50: likely, P90: high, Mean: likely}
}

// anAhead is invented weather ahead.
func anAhead(asOf yard.Date) forecast.SiteAhead {
	a := forecast.SiteAhead{
		HardFrost: forecast.FirstHarvest{Chance: 0.98, Dates: forecast.Dates{P10: day("2026-11-12"), P50: day("2026-12-09"), P90: day("2027-01-25")}},
		LastFrost: forecast.FirstHarvest{Chance: 0.22, Dates: forecast.Dates{P10: day("2026-05-09")}},
		HotDays:   spread(0, 2, 6), Species: "shiitake", Strain: "wide-range", SoFar: spread(8.2, 9.6, 11.1), Usual: spread(6.4, 8.8, 11.9),
	}
	normals := someNormals()
	for i := range 12 {
		m := asOf.MonthStart().AddMonths(i)
		n := normals[m.Month()-1]
		mean := (n.TMin + n.TMax) / 2
		a.Months = append(a.Months, forecast.SiteMonth{Month: m, Air: spread(mean-1.5, mean, mean+1.6),
			Log: spread(mean-1, mean+0.3, mean+1.8), Soil: spread(mean-0.8, mean+0.1, mean+1.2), Rain: spread(20, n.Rain, 100)})
	}
	for i := range 27 {
		x := 0.38 - 0.08*math.Sin(float64(i)/8)
		a.Weeks = append(a.Weeks, forecast.SiteWeek{Day: asOf + yard.Date(7*i), Moisture: spread(x-0.02, x, x+0.03), DryChance: max(0, 4*(0.33-x))})
	}
	return a
}

// measured gives a yard years of its own record up to its day, with a gap in
// the spring before.
func measured(in Input, years int) Input {
	asOf := in.State.AsOf
	from := asOf.AddMonths(-12 * years)
	w := &yard.Weather{From: from}
	normals := someNormals()
	for d := from; d <= asOf; d++ {
		n := normals[d.Month()-1]
		x := yard.WeatherDay{TMin: n.TMin + 0.5, TMax: n.TMax + 1.5, Rain: float64(int(d) % 4), HasTemp: true, HasRain: true}
		if d > day("2026-02-10") && d < day("2026-03-20") {
			x = yard.WeatherDay{}
		}
		w.Days = append(w.Days, x)
	}
	in.State.Weather = w
	return recorded(in, w)
}

// recorded sums up the record as the forecast would.
func recorded(in Input, w *yard.Weather) Input {
	temps, rain := w.Known()
	r := climate.Record{From: w.From, To: w.To(), TempDays: temps, RainDays: rain, Years: float64(temps) / 365.25, Corrected: temps > 1095}
	for i, m := range w.Months() {
		r.TMin[i], r.TMax[i], r.Rain[i] = m.TMin, m.TMax, m.Rain
		if m.TempDays == 0 {
			r.TMin[i], r.TMax[i] = math.NaN(), math.NaN()
		}
		if m.RainDays == 0 {
			r.Rain[i] = math.NaN()
		}
	}
	in.Result.Site.Record = r
	for y := w.From.Year() + 1; y < in.State.AsOf.Year() && temps > 0; y++ {
		in.Result.Site.Ahead.Past = append(in.Result.Site.Ahead.Past, forecast.YearSoFar{Year: y, Days: 8 + float64(y%3)})
	}
	return in
}

// gauge gives a yard two readings of a rain gauge and nothing else.
func gauge(in Input) Input {
	w := &yard.Weather{From: in.State.AsOf - 5, Days: make([]yard.WeatherDay, 6)}
	w.Days[0], w.Days[5] = yard.WeatherDay{Rain: 14, HasRain: true}, yard.WeatherDay{HasRain: true}
	in.State.Weather = w
	return recorded(in, w)
}

func strange() Input {
	in := measured(aYard(), 2)
	in.Result.Site.Record.Strange = "your record is 9.1 °C warmer than the normals over 700 days: is it of this place, and in °C?"
	in.Result.Site.Notes = []string{in.Result.Site.Record.Strange}
	return in
}

// dry lets the logs of a yard dry out.
func dry(in Input) Input {
	for i, p := range in.Result.Piles {
		if p.Moisture != nil {
			p.Moisture = &forecast.Moisture{Now: spread(0.24, 0.28, 0.33), DryChance: []float64{0.9, 0.62, 0.4, 0.1}[i%4], Lost: 0.12}
		}
	}
	return in
}

func sitePageOf(t *testing.T, in Input) *node { return parse(t, pages(t, withLibrary(in))[siteFile]) }

func TestSiteSaysWhatIsComing(t *testing.T) {
	said := sitePageOf(t, aYard()).words()
	for _, want := range []string{
		"The next hard frost (-2.2 °C or colder at night) is most likely about 9 December 2026, 8 years in 10 between 12 November 2026 and 25 January 2027.",
		"The chance of another frost before summer is 22 %.",
		"Days over 30 °C in the year ahead: likely 2, 8 years in 10 between 0 and 6.",
		"The weather is that of Oxford, 1991-2020, 12 km from the yard.",
		"Licence: Open Government Licence v3.0.",
		"There are no temperatures of your own yet.",
		"hodaba import weather FILE",
		"This part is coarse",
		"water from here (30 %)", "spawn is lost from here (23 %)",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("missing: %s", want)
		}
	}
	for _, not := range []string{"The last twelve months", "against your record", "Degree-days"} {
		if strings.Contains(said, not) {
			t.Errorf("there is no record, and yet %q", not)
		}
	}
}

// The invented record is one degree warmer than the normals on every day that
// it knows, and its gap leaves out February (10 days known) and March (12).
func TestSiteComparesTheRecord(t *testing.T) {
	in := measured(aYard(), 4)
	said := sitePageOf(t, in).words()
	for _, want := range []string{
		"The last twelve months against normal", "Over 10 of 12 months with temperatures it was 1.0 °C warmer than normal.",
		"The normals against your record", "these normals are corrected by it already",
		"Degree-days over 5 °C", "It corrects the normals, with the weight of its 3.9 years.",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("missing: %s", want)
		}
	}
	if strings.Contains(said, "There are no temperatures") || strings.Contains(said, "Bring it up to date") {
		t.Error("a record that is up to date is asked for")
	}
	in.State.AsOf, in.Result.AsOf = in.State.AsOf+90, in.Result.AsOf+90
	if said := sitePageOf(t, in).words(); !strings.Contains(said, "end on 4 May 2026. Bring it up to date") {
		t.Error("a record that ended three months ago is not asked for")
	}
}

func TestSiteOfAGaugeAlone(t *testing.T) {
	said := sitePageOf(t, gauge(aYard())).words()
	if !strings.Contains(said, "Your own record, from 29 April 2026 to 4 May 2026: 2 days with rain measured.") ||
		!strings.Contains(said, "There are no temperatures of your own yet") || strings.Contains(said, "against your record") {
		t.Error(said)
	}
}

func TestSiteSaysThatARecordIsStrange(t *testing.T) {
	said := sitePageOf(t, strange()).words()
	if !strings.Contains(said, "9.1 °C warmer than the normals") || !strings.Contains(said, "not used to correct the normals") {
		t.Error(said)
	}
}

func TestSiteInAmericanUnits(t *testing.T) {
	in := measured(aYard(), 4)
	in.State.Config.US = true
	said := sitePageOf(t, in).words()
	for _, want := range []string{"28 °F or colder", "Days over 86 °F", "Degree-days over 41 °F", "1.8 °F warmer than normal"} {
		if !strings.Contains(said, want) {
			t.Errorf("missing: %s", want)
		}
	}
	if m := regexp.MustCompile(`\d °C|\d mm`).FindString(strings.Split(said, "How wet logs are")[1]); m != "" {
		t.Errorf("American units, and %q", m)
	}
}

// With a constant day from 5 to 15 °C a degree-day above 5 °C is the mean less
// five: five a day, whatever the curve (elementary).
func TestDegreeDaysOfAConstantYear(t *testing.T) {
	in := aYard()
	w := &yard.Weather{From: day("2025-01-01")}
	for range 365 + 124 {
		w.Days = append(w.Days, yard.WeatherDay{TMin: 5, TMax: 15, HasTemp: true})
	}
	in.State.Weather = w
	b := newBook(in)
	soFar, all := b.degreesOf(2025)
	if math.Abs(soFar-5*124) > 1e-6 || math.Abs(all-5*365) > 1e-6 {
		t.Errorf("2025: %g to 4 May (the 124th day), %g in all", soFar, all)
	}
	soFar, all = b.degreesOf(2026)
	if math.Abs(soFar-5*124) > 1e-6 || !math.IsNaN(all) {
		t.Errorf("2026: %g, and of the whole year %g", soFar, all)
	}
	if soFar, all = b.degreesOf(2024); !math.IsNaN(soFar) || !math.IsNaN(all) {
		t.Errorf("2024 was not measured: %g, %g", soFar, all)
	}
}

func TestFrostInWords(t *testing.T) {
	d := func(s string) yard.Date { return day(s) }
	for _, c := range []struct {
		got, want string
	}{
		{firstOf("frost", forecast.FirstHarvest{}), "No frost comes within a year."},
		{firstOf("frost", forecast.FirstHarvest{Chance: 0.05}), "The chance of a frost within a year is 5 %."},
		{firstOf("frost", forecast.FirstHarvest{Chance: 0.3, Dates: forecast.Dates{P10: d("2026-12-20")}}),
			"The chance of a frost within a year is 30 %, as early as 20 December 2026."},
		{firstOf("frost", forecast.FirstHarvest{Chance: 0.8, Dates: forecast.Dates{P10: d("2026-11-20"), P50: d("2026-12-20")}}),
			"The next frost is most likely about 20 December 2026, as early as 20 November 2026; the chance that none comes within a year is 20 %."},
		{firstOf("frost", forecast.FirstHarvest{Chance: 1, Dates: forecast.Dates{P10: d("2026-11-02"), P50: d("2026-11-20"), P90: d("2026-12-20")}}),
			"The next frost is most likely about 20 November 2026, 8 years in 10 between 2 November and 20 December 2026."},
		{lastOf(forecast.FirstHarvest{}), "No more frost comes before summer."},
		{lastOf(forecast.FirstHarvest{Chance: 1, Dates: forecast.Dates{P10: d("2027-04-02"), P50: d("2027-04-20"), P90: d("2027-05-12")}}),
			"The last frost before summer is most likely about 20 April 2027, 8 years in 10 between 2 April and 12 May 2027."},
	} {
		if c.got != c.want {
			t.Errorf("got  %q\nwant %q", c.got, c.want)
		}
	}
}

func TestPileSaysHowWetItIs(t *testing.T) {
	m := pages(t, dry(aYard()))
	oak := parse(t, m["pile-oak-north.html"]).words()
	for _, want := range []string{"Its logs hold about 28 % water now, 8 times in 10 between 24 and 33 %", "where watering is due, is 90 %",
		"the chance that the spawn is lost is 12 %", "coarse"} {
		if !strings.Contains(oak, want) {
			t.Errorf("missing: %s", want)
		}
	}
	if bed := parse(t, m["pile-reishi-bed.html"]).words(); strings.Contains(bed, "How wet its logs are") {
		t.Error("a bed of buried logs has no moisture")
	}
	if sound := parse(t, pages(t, aYard())["pile-oak-north.html"]).words(); strings.Contains(sound, "spawn is lost") {
		t.Error("nothing is dry, and yet spawn may be lost")
	}
}

// A pile that is more likely than not too dry within two weeks is watered,
// driest first; the one of which least is known is weighed.
func TestWaterAndScales(t *testing.T) {
	in := dry(aYard())
	list := Work(in)
	water, scales := oneOf(t, list, "water"), oneOf(t, list, "scales")
	// From 28 % to 35 % water, wet basis, is 0.389 to 0.538 by dry weight: 15
	// hours at 0.01 an hour, and 18 in steps of six.
	if water.Do != "Water oak-north (90 %) and oak-old (62 %), about 18 hours of sprinkling." ||
		water.Close[0] != "hodaba record watered oak-north oak-old --hours 18" {
		t.Errorf("%+v", water)
	}
	if scales.Do != "Weigh 3 logs of oak-old together, always the same." || scales.Close[0] != "hodaba record weighed oak-old 3 logs …kg" {
		t.Errorf("%+v", scales)
	}
	in.State.Pile("oak-old").Weighed = []yard.Weighing{{On: on("2026-04-20"), Logs: 3}}
	for _, x := range Work(in) {
		if x.Kind == "scales" {
			t.Error("weighed a fortnight ago, and again; of elm-2024 not even the thickness is known: " + x.Do)
		}
	}
	if page := sitePageOf(t, in).words(); !strings.Contains(page, "Water oak-north (90 %)") || strings.Contains(page, "Walk past") {
		t.Error("the page of the site does not begin with the watering")
	}
	for i := range in.Result.Piles {
		in.Result.Piles[i].Months[0].Winter = true
	}
	for _, x := range Work(in) {
		if x.Kind == "water" || x.Kind == "scales" {
			t.Errorf("in winter: %s", x.Do)
		}
	}
}

func TestJSONOfTheSite(t *testing.T) {
	in := dry(measured(aYard(), 4))
	in.Result.Site.Record.TMin[1] = math.NaN()
	b, err := ForecastJSON(in.Result)
	v := decoded(t, b, err)
	site := v["site"].(map[string]any)
	ahead, record := site["ahead"].(map[string]any), site["record"].(map[string]any)
	if n := len(site["normals"].([]any)); n != 12 {
		t.Errorf("%d normals", n)
	}
	frost := ahead["hard_frost"].(map[string]any)
	if frost["p50"] != "2026-12-09" || frost["chance_within_year"] != 0.98 {
		t.Errorf("%v", frost)
	}
	if record["corrects_normals"] != true || record["tmin_c"].([]any)[1] != nil || record["from"] != "2022-05-04" {
		t.Errorf("%v", record)
	}
	week := ahead["reference_log_weeks"].([]any)[0].(map[string]any)
	if week["day"] != "2026-05-04" || week["moisture_percent_wet_basis"].(map[string]any)["p50"] != 38.0 {
		t.Errorf("%v", week)
	}
	piles := v["piles"].([]any)
	wet := piles[0].(map[string]any)["moisture"].(map[string]any)
	if wet["water_due_chance_two_weeks"] != 0.9 || wet["now_percent_wet_basis"].(map[string]any)["p10"] != 24.0 {
		t.Errorf("%v", wet)
	}
	if bed := piles[4].(map[string]any); bed["moisture"] != nil {
		t.Errorf("a bed has moisture: %v", bed["moisture"])
	}
	bare, err := ForecastJSON(&forecast.Result{})
	if s := decoded(t, bare, err)["site"].(map[string]any); s["record"] != nil || s["ahead"] != nil || s["normals"] == nil {
		t.Errorf("without anything: %v", s)
	}
}

// A band that reaches below nought is told so by the signs of its two parts.
func TestBandsBelowNought(t *testing.T) {
	in := aYard()
	for i := range in.Result.Site.Normals {
		in.Result.Site.Normals[i] = forecast.SiteNormal{TMin: -9, TMax: -2, Rain: 30}
	}
	b := newBook(withLibrary(in))
	text := fmt.Sprint(b.normalDrawings()[0].Option["series"])
	if !strings.Contains(text, "[0 -9]") || !strings.Contains(text, "[0 7]") {
		t.Errorf("no band from -9 to -2: %s", text)
	}
}

func TestNumbersInWords(t *testing.T) {
	us := units{us: true}
	for _, c := range [][2]string{
		{units{}.c(-0.04), "0.0 °C"}, {us.c(-40), "-40.0 °F"}, {units{}.c(math.NaN()), "– °C"}, {units{}.rain(13.6), "14 mm"},
		{us.rain(25.4), "1.00 in"}, {us.mark(-2.2), "28 °F"}, {units{}.mark(30), "30 °C"}, {units{}.warmer(0.02), "as warm as"},
		{units{}.warmer(-1.25), "1.3 °C colder than"}, {us.warmer(1), "1.8 °F warmer than"},
	} {
		if c[0] != c[1] {
			t.Errorf("%q, want %q", c[0], c[1])
		}
	}
}
