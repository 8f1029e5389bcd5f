package yard

import (
	"fmt"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/data"
)

// thisFormat is the format of yard.toml that is written and known.
const thisFormat = 1

// The values of yard.toml where the grower says nothing.
const (
	defaultShade      = 80  // percent, a usual laying yard: our judgement
	defaultConfidence = 0.8 // the chance at which dates are printed
)

// yardFile reads yard.toml.
type yardFile struct {
	sectioned
	c    Config
	data *data.Set

	planSpecies int // line of the plan's species
}

// readConfig reads yard.toml; what cannot be read is left as if nobody had
// said it.
func readConfig(b []byte, d *data.Set) (Config, []Problem) {
	nan := math.NaN()
	y := newYardFile(Config{Format: thisFormat, Confidence: defaultConfidence, Measures: map[string]Quantity{},
		Plan: Plan{Costs: noCosts()}, Drier: Drier{Share: 1}, Site: Site{Latitude: nan, Longitude: nan, Elevation: nan, Shade: defaultShade}}, d)
	y.read(b)
	y.finish()
	said := formatIn(b)
	y.c.Format = max(y.c.Format, said.number)
	if p := said.problem(); p != nil {
		y.problems = append(y.problems, *p)
	}
	return y.c, sorted(y.problems)
}

// newYardFile reads tables of yard.toml into c; a key that is not given leaves
// what is there.
func newYardFile(c Config, d *data.Set) *yardFile {
	y := &yardFile{data: d, c: c}
	y.sectioned = sectioned{file: YardFile, terms: &Terms{Data: d},
		readers: map[string]func(*table){
			"": y.top, "farm": y.farm, "site": y.site, "site.normals": y.normals, "place": y.place, "species": y.species,
			"measures": y.measures, "drier": y.drier, "cold": y.cold, "soak": y.soak, "kitchen": y.kitchen, "working": y.working,
			"expected": y.expected, "promised": y.promised, "people": y.people, "plan": y.plan,
		},
		many: map[string]bool{"place": true, "species": true, "expected": true, "promised": true, "people": true},
	}
	for _, inner := range y.planTables() {
		y.readers["plan."+inner.name] = inner.read
	}
	for _, name := range manyPlanTables {
		y.many[name] = true
	}
	return y
}

func text(name, example string, to *string) setting {
	return setting{Key{Name: name, Example: example, Kind: TextKey}, to}
}

func number(name, example string, least, most float64, to *float64) setting {
	return setting{Key{Name: name, Example: example, Kind: NumberKey, least: least, most: most}, to}
}

func count(name, example string, to *int) setting {
	return setting{Key{Name: name, Example: example, Kind: CountKey}, to}
}

func choice(name string, oneOf []string, to *string) setting {
	return setting{Key{Name: name, Example: oneOf[0], Kind: ChoiceKey, OneOf: oneOf}, to}
}

func amount(name, example string, kind KeyKind, to *Quantity) setting {
	return setting{Key{Name: name, Example: example, Kind: kind}, to}
}

func yesNo(name string, to *bool) setting {
	return setting{Key{Name: name, Example: "true", Kind: YesNoKey}, to}
}

// own is a key that its reader reads itself.
func own(name string) setting { return setting{Key{Name: name}, nil} }

func required(s setting) setting {
	s.Required = true
	return s
}

func (y *yardFile) top(t *table) {
	units := ""
	t.read(count("format", "1", &y.c.Format), text("name", "Fernbrook", &y.c.Name), choice("units", []string{"metric", "us"}, &units))
	y.c.US = units == "us"
}

func (y *yardFile) farm(t *table) {
	f := &y.c.Farm
	t.read(text("name", "Fernbrook Farm", &f.Name), text("address", "…", &f.Address), text("area", "0.4 ha", &f.Area),
		text("organic_ref", "…", &f.OrganicRef))
}

func (y *yardFile) site(t *table) {
	s := &y.c.Site
	t.read(text("station", "oxford", &s.Station), number("latitude", "51.7", -90, 90, &s.Latitude),
		number("longitude", "-1.3", -180, 180, &s.Longitude), number("elevation_m", "80", -430, 6000, &s.Elevation),
		number("shade_percent", "80", 0, 100, &s.Shade), text("exposure", "south", &s.Exposure),
		number("warming_c_per_decade", "0.3", -1, 2, &s.Warming), yesNo("resample", &s.Resample), own("normals"))
	if _, set := t.vals["warming_c_per_decade"]; set {
		s.WarmingSet = true
	}
	if _, given := t.vals["station"]; given && s.Station != "" {
		y.station(t)
	}
	if v, ok := t.vals["normals"].(map[string]any); ok {
		sub := &table{file: t.file, name: "site.normals", text: t.text, line: t.line, vals: v, terms: t.terms}
		y.normals(sub)
		t.problems = append(t.problems, sub.problems...)
	}
}

// station brings a station's name to its key.
func (y *yardFile) station(t *table) {
	s := &y.c.Site
	if y.data == nil {
		return
	}
	if st, ok := y.data.FindStation(s.Station); ok {
		s.Station = st.Key
		return
	}
	remedy := "`start` lists the stations; or give own normals under [site.normals]"
	if near, ok := data.Nearest(s.Station, y.data.StationKeys()); ok {
		remedy = fmt.Sprintf("did you mean %q?", near)
	} else if near := nearestStation(y.data, s.Latitude, s.Longitude); near != nil {
		remedy = fmt.Sprintf("the nearest station is %q; or give own normals under [site.normals]", near.Key)
	}
	t.say(Aside, "station", fmt.Sprintf("no weather station is called %s", shown(s.Station)), remedy)
	s.Station = ""
}

// nearestStation is the station nearest to a place, or nil.
func nearestStation(d *data.Set, lat, lon float64) *data.Station {
	if d == nil || math.IsNaN(lat) || math.IsNaN(lon) {
		return nil
	}
	var best *data.Station
	least := math.Inf(1)
	for i := range d.Stations {
		st := &d.Stations[i]
		if a := arc(lat, lon, st.Latitude, st.Longitude); a < least {
			best, least = st, a
		}
	}
	return best
}

// arc is the haversine of the angle between two places, in degrees: it grows
// with their distance.
func arc(lat1, lon1, lat2, lon2 float64) float64 {
	rad := func(d float64) float64 { return d * math.Pi / 180 }
	hav := func(a float64) float64 { return (1 - math.Cos(a)) / 2 }
	return hav(rad(lat2-lat1)) + math.Cos(rad(lat1))*math.Cos(rad(lat2))*hav(rad(lon2-lon1))
}

func (y *yardFile) normals(t *table) {
	n := &Normals{RainDayMM: 1}
	t.read(own("tmin_c"), own("tmax_c"), own("rain_mm"), own("rain_days"), number("rain_day_mm", "1.0", 0.05, 25, &n.RainDayMM))
	given := func(key string) bool { list, ok := t.vals[key].([]any); return ok && len(list) > 0 }
	if !given("tmin_c") && !given("tmax_c") && !given("rain_mm") && !given("rain_days") && len(t.problems) == 0 {
		return // as `start` writes it: still empty
	}
	ok := t.twelve("tmin_c", -60, 40, true, &n.TMin)
	ok = t.twelve("tmax_c", -60, 55, true, &n.TMax) && ok
	ok = t.twelve("rain_mm", 0, 3000, true, &n.Rain) && ok
	ok = t.twelve("rain_days", 0, 31, false, &n.RainDays) && ok
	for i := range n.TMin {
		if ok && n.TMin[i] >= n.TMax[i] {
			ok = false
			t.say(Aside, "tmin_c", fmt.Sprintf("in %s the mean minimum, %v, is not below the mean maximum, %v", time.Month(i+1), n.TMin[i], n.TMax[i]),
				"look at both lists: twelve values each, January first")
		}
	}
	if ok {
		y.c.Site.Normals = n
	}
}

// twelve reads twelve monthly values.
func (t *table) twelve(key string, least, most float64, needed bool, to *[12]float64) bool {
	v, given := t.vals[key]
	list, isList := v.([]any)
	switch {
	case !given && !needed, isList && len(list) == 0 && !needed:
		return true
	case !given:
		t.say(Aside, "", key+" is missing", "give twelve values, January first")
		return false
	case !isList || len(list) != 12:
		t.say(Aside, key, fmt.Sprintf("%s has %d values", key, len(listOf(v))), "give twelve, January first")
		return false
	}
	for i, x := range list {
		f, err := numberOf(&Key{Name: key, Example: "4.2", least: least, most: most}, x)
		if err != nil {
			text, remedy := parts(err)
			t.say(Aside, key, fmt.Sprintf("%s, %s: %s", key, time.Month(i+1), text), remedy)
			return false
		}
		to[i] = f
	}
	return true
}

func (y *yardFile) place(t *table) {
	p := Place{Shade: math.NaN()}
	t.read(required(text("name", "under the hazel", &p.Name)), number("shade_percent", "85", 0, 100, &p.Shade),
		text("cover", "fleece", &p.Cover), text("water", "hose", &p.Water))
	if p.Name == "" {
		return
	}
	if slices.ContainsFunc(y.c.Places, func(o Place) bool { return folded(o.Name) == folded(p.Name) }) {
		t.say(Aside, "name", fmt.Sprintf("two places are called %s", shown(p.Name)), "give this one another name; it is left out until then")
		return
	}
	y.c.Places = append(y.c.Places, p)
}

func (y *yardFile) species(t *table) {
	var s OwnSpecies
	t.read(required(text("name", "chicken of the woods", &s.Name)), text("like", "maitake", &s.Like))
	if s.Name == "" {
		return
	}
	if s.Like != "" && y.data != nil {
		sp, ok := y.data.FindSpecies(s.Like)
		switch {
		case !ok:
			t.say(Aside, "like", fmt.Sprintf("no built-in species is called %s: %s is recorded, and not forecast", shown(s.Like), s.Name),
				nearestKey(s.Like, y.data.SpeciesNames()))
			s.Like = ""
		case !sp.Grown:
			t.say(Aside, "like", fmt.Sprintf("%s is not grown on logs here: %s is recorded, and not forecast", sp.Name, s.Name),
				"name one that is grown, or leave `like` out")
			s.Like = ""
		default:
			s.Like = sp.Name
		}
	}
	y.c.Own = append(y.c.Own, s)
}

var measureForm = regexp.MustCompile(`^\p{L}[\p{L} _-]*$`)

func (y *yardFile) measures(t *table) {
	for _, name := range slices.Sorted(maps.Keys(t.vals)) {
		s, isText := t.vals[name].(string)
		_, isUnit := units[unitName(folded(name))]
		switch {
		case isUnit:
			t.say(Aside, name, name+" is a unit already", "give your measure another name")
		case !measureForm.MatchString(name):
			t.say(Aside, name, shown(name)+" cannot be the name of a measure", "write a word, such as basket")
		case !isText:
			t.say(Aside, name, name+": "+shownValue(t.vals[name])+" has no unit", fmt.Sprintf("write %s = \"1.8 kg\"", name))
		default:
			q, err := ParseAmount(s, nil)
			if err == nil && (q.Unit == Piece || q.High == 0) {
				err = mistake{shown(s) + " is not the size of a measure", `write it with its unit, such as "1.8 kg"`}
			}
			if err != nil {
				t.fail(name, err)
				continue
			}
			y.c.Measures[folded(name)] = q
		}
	}
}

func (y *yardFile) drier(t *table) {
	load := already(y.c.Drier.LoadKG)
	share := 100 * y.c.Drier.Share
	t.read(amount("load", "6 kg", WeightKey, &load), number("hours_per_load", "12", 0, 500, &y.c.Drier.HoursPerLoad),
		number("share_percent", "100", 0, 100, &share))
	y.c.Drier.LoadKG, y.c.Drier.Share = load.Mid(), share/100
}

// already is a quantity of which only the middle was kept.
func already(mid float64) Quantity { return Quantity{Low: mid, High: mid} }

func (y *yardFile) cold(t *table) {
	holds := already(y.c.Cold.HoldsKG)
	t.read(amount("holds", "20 kg", WeightKey, &holds), number("days", "5", 0, 60, &y.c.Cold.Days))
	y.c.Cold.HoldsKG = holds.Mid()
}

func (y *yardFile) soak(t *table) {
	s := &y.c.Soak
	t.read(count("tank_logs", "12", &s.TankLogs), number("cycle_weeks", "8", 1, 60, &s.CycleWeeks), number("hours", "24", 1, 200, &s.Hours),
		choice("first", []string{"after a year", "after the first flush"}, &s.First))
	if y.data == nil || s.CycleWeeks <= 0 {
		return
	}
	if usual := y.data.Practice.SoakCycles; usual.High > 0 && (s.CycleWeeks < usual.Low || s.CycleWeeks > usual.High) {
		t.say(Odd, "cycle_weeks", fmt.Sprintf("cycle_weeks: %s weeks from soak to soak, where %s to %s are practised", decimal(s.CycleWeeks), decimal(usual.Low), decimal(usual.High)),
			"leave it if it is meant")
	}
}

var boilForm = regexp.MustCompile(`^\s*(.+?)\s+in\s+(.+?)\s*$`)

func (y *yardFile) kitchen(t *table) {
	k := &y.c.Kitchen
	jar, pot := already(k.JarML), already(k.PotML)
	boils := ""
	t.read(count("jars", "6", &k.Jars), amount("jar", "1 l", VolumeKey, &jar), amount("pot", "5 l", VolumeKey, &pot),
		text("boils_down", boilExample, &boils), choice("press", []string{"hand", "press"}, &k.Press), count("batches", "2", &k.Batches))
	k.JarML, k.PotML = jar.Mid(), pot.Mid()
	if boils == "" {
		return
	}
	rate, err := boilRate(boils, t.terms.Measures)
	if err != nil {
		t.fail("boils_down", err)
	}
	k.BoilMLH = rate
}

// boilExample is how it is asked: how long from 1.5 l to 0.5 l?
const boilExample = "1.5 l to 0.5 l in 2 h"

// boilRate reads "1.5 l to 0.5 l in 2 h", and "1 l in 2 h" for what boils away,
// as millilitres an hour.
func boilRate(s string, measures map[string]Quantity) (float64, error) {
	unclear := mistake{shown(s) + " does not say how fast water boils away", "write how long it takes from 1.5 l to 0.5 l, " + quote(boilExample)}
	m := boilForm.FindStringSubmatch(s)
	if m == nil {
		return 0, unclear
	}
	away, err := boiledAway(m[1], measures)
	if err != nil {
		return 0, err
	}
	h, err := ParseQuantity(m[2], Hour, nil)
	if err != nil {
		return 0, err
	}
	if away <= 0 || h.Mid() <= 0 {
		return 0, unclear
	}
	return away / h.Mid(), nil
}

var fromTo = regexp.MustCompile(`^(.*\S)\s+to\s+([\d.,/ ]*)(\D.*)$`)

// boiledAway reads "1.5 l to 0.5 l" as the difference, ml. One that rises,
// "1 to 1.5 l", is a range like every other.
func boiledAway(s string, measures map[string]Quantity) (float64, error) {
	if m := fromTo.FindStringSubmatch(s); m != nil {
		to, err := ParseQuantity(m[2]+m[3], Millilitre, measures)
		from, fromErr := ParseQuantity(m[1], Millilitre, measures)
		if fromErr != nil {
			from, fromErr = ParseQuantity(m[1]+" "+m[3], Millilitre, measures) // "1.5 to 0.5 l"
		}
		if err == nil && fromErr == nil && from.Mid() > to.Mid() {
			return from.Mid() - to.Mid(), nil
		}
	}
	ml, err := ParseQuantity(s, Millilitre, measures)
	return ml.Mid(), err
}

func (y *yardFile) working(t *table) {
	w := &y.c.Working
	t.read(text("country", "gb", &w.Country), own("weekdays"), own("closed"), own("open"), own("away"))
	w.Country = strings.ToLower(w.Country)
	if w.Country != "" && !countryForm.MatchString(w.Country) {
		t.say(Aside, "country", shown(w.Country)+" is no sign of a country", `write two letters, such as "gb" or "us"`)
		w.Country = ""
	}
	if _, given := t.vals["weekdays"]; given {
		w.Weekdays = t.weekdays()
	}
	if _, given := t.vals["closed"]; given {
		w.Closed = t.days("closed")
	}
	if _, given := t.vals["open"]; given {
		w.Open = t.days("open")
	}
	if v, given := t.vals["away"]; given {
		w.Away = nil
		for i, x := range listOf(v) {
			t.away(i, x, w)
		}
	}
}

var countryForm = regexp.MustCompile(`^[a-z]{2}$`)

func (t *table) weekdays() []time.Weekday {
	v, ok := t.vals["weekdays"]
	if !ok {
		return nil
	}
	var out []time.Weekday
	for _, x := range listOf(v) {
		s, _ := x.(string)
		d, ok := weekday(s)
		if !ok {
			t.say(Aside, "weekdays", shownValue(x)+" is no day of the week", `write weekdays = ["Mon", "Tue", "Wed", "Thu", "Fri"]`)
			continue
		}
		if !slices.Contains(out, d) {
			out = append(out, d)
		}
	}
	return out
}

func weekday(s string) (time.Weekday, bool) {
	s = folded(s)
	for d := time.Sunday; d <= time.Saturday; d++ {
		if len(s) >= 2 && strings.HasPrefix(strings.ToLower(d.String()), s) {
			return d, true
		}
	}
	return 0, false
}

// days reads a list of days; a vaguer one stands for all of its days.
func (t *table) days(key string) []Date {
	v, ok := t.vals[key]
	if !ok {
		return nil
	}
	var out []Date
	for _, x := range listOf(v) {
		var w When
		if err := w.UnmarshalTOML(x); err != nil {
			t.fail(key, err)
			continue
		}
		for d := w.From; d <= min(w.To, w.From+366); d++ {
			out = append(out, d)
		}
	}
	return out
}

func (t *table) away(i int, v any, w *Working) {
	row, _ := v.(map[string]any)
	sub := &table{file: t.file, name: "away", text: t.text, line: t.lineOf("away"), vals: row, terms: t.terms}
	var from, to When
	sub.read(required(setting{Key{Name: "from", Example: "2026-08-01", Kind: DayKey}, &from}),
		required(setting{Key{Name: "to", Example: "2026-08-14", Kind: DayKey}, &to}))
	for _, p := range sub.problems {
		p.Line = t.lineOf("away")
		p.Text = fmt.Sprintf("away, no. %d: %s", i+1, p.Text)
		t.problems = append(t.problems, p)
	}
	switch {
	case len(sub.problems) > 0:
	case to.To < from.From:
		t.say(Aside, "away", fmt.Sprintf("away, no. %d: it ends before it begins", i+1), "write the earlier day as from")
	default:
		w.Away = append(w.Away, Absence{from.From, to.To})
	}
}

var everyForm = regexp.MustCompile(`^(?:every\s+)?(\d+)?\s*(day|week|month|year)s?$`)

// everyDays reads "week", "2 weeks", "month" or "10 days". A month counts 30
// days and a year 365.
func everyDays(s string) (int, error) {
	m := everyForm.FindStringSubmatch(folded(s))
	if m == nil {
		return 0, mistake{shown(s) + " does not say how often", `write "week", "2 weeks" or "month"`}
	}
	n := 1
	if m[1] != "" {
		n, _ = strconv.Atoi(m[1])
	}
	if n < 1 || n > 366 {
		return 0, mistake{shown(s) + " does not say how often", `write "week", "2 weeks" or "month"`}
	}
	return n * map[string]int{"day": 1, "week": 7, "month": 30, "year": 365}[m[2]], nil
}

// often reads `by` and `every`, of which one must be given.
func (t *table) often(every string, by When) (days int, date Date) {
	if every == "" && by.IsZero() && t.vals["every"] == nil && t.vals["by"] == nil {
		t.unusable = true
		t.say(Aside, "", "neither `by` nor `every` says when", `add by = 2026-11-01, or every = "month"`)
	}
	if every != "" {
		var err error
		if days, err = everyDays(every); err != nil {
			t.fail("every", err)
		}
	}
	return days, by.To
}

func (y *yardFile) expected(t *table) {
	in := Inflow{Chance: 1}
	var dry Quantity
	var by When
	every := ""
	t.read(required(text("species", "cordyceps", &in.Species)), required(amount("dry", "200 g", WeightKey, &dry)),
		setting{Key{Name: "by", Example: "2026-11-01", Kind: DayKey}, &by}, text("every", "month", &every),
		number("chance", "0.8", 0, 1, &in.Chance))
	in.Grams = dry.grams()
	in.Every, in.By = t.often(every, by)
	if in.Species == "" || in.Grams == 0 || t.unusable {
		return
	}
	name, _, known := resolveSpecies(in.Species, y.c.Own, y.data)
	if !known && y.data != nil {
		t.say(Odd, "species", fmt.Sprintf("no species is called %s", shown(in.Species)), nearestKey(in.Species, y.data.SpeciesNames()))
	}
	in.Species = name
	y.c.Expected = append(y.c.Expected, in)
}

func (y *yardFile) promised(t *table) {
	var p Promise
	var by When
	every := ""
	t.read(text("to", "the market", &p.To), required(text("what", "five mushrooms", &p.What)),
		required(amount("amount", "20", AmountKey, &p.Amount)),
		setting{Key{Name: "by", Example: "2026-11-01", Kind: DayKey}, &by}, text("every", "month", &every))
	p.Every, p.By = t.often(every, by)
	if p.What != "" && p.Amount.Text != "" && !t.unusable {
		y.c.Promised = append(y.c.Promised, p)
	}
}

func (y *yardFile) people(t *table) {
	initials, name := "", ""
	t.read(required(text("initials", "mk", &initials)), text("name", "…", &name))
	if initials != "" {
		y.c.People = append(y.c.People, initials)
	}
}

// finish settles what depends on several tables.
func (y *yardFile) finish() {
	y.finishPlan()
	s := &y.c.Site
	for i := range y.c.Places {
		if p := &y.c.Places[i]; math.IsNaN(p.Shade) {
			p.Shade, p.asSite = s.Shade, true
		}
	}
	if y.data != nil && s.Station != "" && (math.IsNaN(s.Latitude) || math.IsNaN(s.Longitude)) {
		if st, ok := y.data.FindStation(s.Station); ok {
			if missing := missingDegrees(s); missing != "" {
				y.problems = append(y.problems, Problem{File: YardFile, Line: y.seen["site"], Grade: Odd,
					Text: "the site has no " + missing + ": the place of its station is taken for both", Remedy: "write " + missing + " beside the other, in degrees"})
			}
			s.Latitude, s.Longitude = st.Latitude, st.Longitude
		}
	}
	if s.Station == "" && s.Normals == nil {
		remedy := `add station = "oxford", or own normals under [site.normals]`
		if near := nearestStation(y.data, s.Latitude, s.Longitude); near != nil {
			remedy = fmt.Sprintf("the nearest station is %q; or give own normals under [site.normals]", near.Key)
		}
		y.problems = append(y.problems, Problem{File: YardFile, Line: y.seen["site"], Grade: Aside,
			Text: "the yard has no weather: nothing can be forecast, and everything can be recorded", Remedy: remedy})
	}
}

// missingDegrees names the one of latitude and longitude that was left out
// beside the other; "" where both were, or none.
func missingDegrees(s *Site) string {
	switch {
	case math.IsNaN(s.Latitude) && !math.IsNaN(s.Longitude):
		return "latitude"
	case !math.IsNaN(s.Latitude) && math.IsNaN(s.Longitude):
		return "longitude"
	}
	return ""
}

// shadePlaces gives the places without a shade of their own that of the site.
func (y *yardFile) shadePlaces() {
	for i := range y.c.Places {
		if p := &y.c.Places[i]; p.asSite {
			p.Shade = y.c.Site.Shade
		}
	}
}
