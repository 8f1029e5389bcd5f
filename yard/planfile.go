package yard

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"hodaba/data"
)

// The bounds beyond which a number of the plan can only be a slip of the pen.
const (
	mostMoney      = 1e9
	mostMonthHours = 31 * 24 * 100 // a hundred people at work day and night
)

// planTables are the tables of [plan], in the order in which they are read
// where they stand in braces.
func (y *yardFile) planTables() []planTable {
	return []planTable{{"targets", y.targets}, {"want", y.want}, {"logs", y.logsToHave}, {"hours", y.monthHours}, {"room", y.room},
		{"costs", y.costs}, {"price", y.price}, {"buy", y.mayBuy}, {"holes", y.holes}}
}

type planTable struct {
	name string
	read func(*table)
}

// manyPlanTables may stand several times.
var manyPlanTables = []string{"plan.want", "plan.logs", "plan.room", "plan.price", "plan.buy"}

// noCosts are those of which nobody said anything.
func noCosts() Costs {
	nan := math.NaN()
	return Costs{Log: nan, SpawnKG: nan, Plug: nan, WaxKG: nan, Hour: nan}
}

func (y *yardFile) plan(t *table) {
	p := &y.c.Plan
	percent := 100 * y.c.Confidence
	settings := []setting{number("confidence_percent", "80", 50, 99, &percent), own("species"), own("spawn"), own("months"),
		own("budget"), text("currency", "EUR", &p.Currency)}
	for _, inner := range y.planTables() {
		settings = append(settings, own(inner.name))
	}
	t.read(settings...)
	y.c.Confidence = percent / 100
	if v, ok := t.vals["budget"]; ok {
		t.budget(v, p)
	}
	if _, ok := t.vals["species"]; ok {
		p.Species, y.planSpecies = t.words("species", "shiitake", nil), t.lineOf("species")
	}
	if _, ok := t.vals["spawn"]; ok {
		p.Spawn = t.words("spawn", "sawdust", spawnKey.OneOf)
	}
	if _, ok := t.vals["months"]; ok {
		p.Months = t.monthList("months")
	}
	for _, inner := range y.planTables() {
		t.inBraces(inner)
	}
}

// budget reads what may be spent. Nothing is no budget: a plan of nothing
// needs none.
func (t *table) budget(v any, p *Plan) {
	f, err := numberOf(&Key{Name: "budget", Example: "400", most: mostMoney}, v)
	switch {
	case err != nil:
		t.fail("budget", err)
	case f == 0:
		t.say(Aside, "budget", "budget: nothing can be bought for 0", "leave budget out where money is no limit")
	default:
		p.Budget = f
	}
}

// inBraces reads tables that stand as values in their parent.
func (t *table) inBraces(inner planTable) {
	v, ok := t.vals[inner.name]
	if !ok {
		return
	}
	for _, row := range listOf(v) {
		vals, isTable := row.(map[string]any)
		if !isTable {
			t.say(Aside, inner.name, inner.name+": "+shownValue(row)+" is no table", "write it under a header: "+headerOf("plan."+inner.name))
			continue
		}
		sub := &table{file: t.file, name: "plan." + inner.name, text: t.text, line: t.line, vals: vals, terms: t.terms}
		inner.read(sub)
		t.problems = append(t.problems, sub.problems...)
	}
}

// headerOf is the header under which a table of the plan stands.
func headerOf(name string) string {
	if slices.Contains(manyPlanTables, name) {
		return "[[" + name + "]]"
	}
	return "[" + name + "]"
}

// words reads a list of words, each by itself; oneOf empty takes any.
func (t *table) words(key, example string, oneOf []string) (out []string) {
	k := &Key{Name: key, Example: example, Kind: TextKey, OneOf: oneOf}
	if len(oneOf) > 0 {
		k.Kind = ChoiceKey
	}
	for _, v := range listOf(t.vals[key]) {
		s, err := textOf(k, v)
		if err != nil {
			t.fail(key, err)
			continue
		}
		if s != "" && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// monthList reads a list of months of the year, in order and each once.
func (t *table) monthList(key string) (out []int) {
	for _, v := range listOf(t.vals[key]) {
		m, err := monthOfYear(v)
		if err != nil {
			t.fail(key, err)
			continue
		}
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	slices.Sort(out)
	return out
}

// monthOfYear reads 3, "3", "March" and "mar".
func monthOfYear(v any) (int, error) {
	wrong := mistake{shownValue(v) + " is no month of the year", `write a month as a number from 1 to 12, or its name: "March"`}
	switch v := v.(type) {
	case int64:
		if v >= 1 && v <= 12 {
			return int(v), nil
		}
	case string:
		s := folded(v)
		if n, err := strconv.Atoi(s); err == nil && n >= 1 && n <= 12 {
			return n, nil
		}
		for m := time.January; m <= time.December; m++ {
			if len(s) >= len("mar") && strings.HasPrefix(strings.ToLower(m.String()), s) {
				return int(m), nil
			}
		}
	}
	return 0, wrong
}

// row reads the settings of one row of the plan. A row of which anything
// cannot be read is left out as a whole: with half of it the plan would be of
// something else.
func (t *table) row(settings ...setting) (whole bool) {
	before := len(t.problems)
	t.read(settings...)
	return t.isWhole(before)
}

// isWhole reports whether nothing was said of the row since, and tells of a
// row that is left out.
func (t *table) isWhole(before int) bool {
	if len(t.problems) == before {
		return true
	}
	t.problems[before].Remedy = withRowLeftOut(t.problems[before].Remedy)
	return false
}

// withRowLeftOut says with the way out of a row that it is left out until then.
func withRowLeftOut(remedy string) string {
	if strings.HasSuffix(remedy, "?") {
		return remedy + " Until then this row is left out"
	}
	return remedy + "; until then this row is left out"
}

// refuse leaves a row out for what is wrong with a key.
func (t *table) refuse(key, text, remedy string) { t.say(Aside, key, text, withRowLeftOut(remedy)) }

// logsToHave reads logs that can be had. Where none can be had, the row says
// nothing.
func (y *yardFile) logsToHave(t *table) {
	var l LogsToHave
	var diameter, length Quantity
	most := NotSaid
	across, along := diameterKey, lengthKey
	if !t.row(required(text("wood", "white oak", &l.Wood)), setting{across, &diameter}, setting{along, &length},
		count("most", "60", &most), number("price", "2.5", 0, mostMoney, &l.Price),
		yesNo("colonised", &l.Colonised), text("species", "reishi", &l.Species)) {
		return
	}
	if l.Colonised != (l.Species != "") {
		t.refuse("colonised", "logs that are sold ready-colonised are colonised with one species, and no others are", `write both colonised = true and species = "reishi", or neither`)
		return
	}
	l.line = t.lineOf("species")
	_, l.PriceSet = t.vals["price"]
	l.Diameter, l.Length, l.Most = diameter.Span(), length.Span(), max(0, most)
	if y.data != nil {
		wood, ok := y.data.FindWood(l.Wood)
		if !ok {
			t.refuse("wood", fmt.Sprintf("no wood is called %s", shown(l.Wood)), nearestKey(l.Wood, y.data.WoodNames()))
			return
		}
		l.Wood = wood.Name
	}
	if most != 0 {
		y.c.Plan.Logs = append(y.c.Plan.Logs, l)
	}
}

// monthHours reads the hours there is room for, by month.
func (y *yardFile) monthHours(t *table) {
	for _, key := range slices.Sorted(maps.Keys(t.vals)) {
		month, err := monthOfYear(key)
		if err != nil {
			what, remedy := parts(err)
			t.say(Aside, key, what, nearestMonth(key, remedy))
			continue
		}
		hours, err := numberOf(&Key{Name: key, Example: "20", most: mostMonthHours}, t.vals[key])
		if err != nil {
			t.fail(key, err)
			continue
		}
		if slices.ContainsFunc(y.c.Plan.Hours, func(o MonthHours) bool { return o.Month == month }) {
			t.say(Aside, key, time.Month(month).String()+" stands twice, and once is left out", "keep one of the two lines")
			continue
		}
		y.c.Plan.Hours = append(y.c.Plan.Hours, MonthHours{month, hours})
	}
	slices.SortFunc(y.c.Plan.Hours, func(a, b MonthHours) int { return a.Month - b.Month })
}

func nearestMonth(word, remedy string) string {
	var names []string
	for m := time.January; m <= time.December; m++ {
		names = append(names, m.String())
	}
	if near, ok := data.Nearest(word, names); ok {
		return "did you mean " + near + "?"
	}
	return remedy
}

func (y *yardFile) room(t *table) {
	var r PlaceRoom
	if t.row(text("place", "north shade", &r.Place), required(count("logs", "100", &r.Logs))) {
		r.line = t.lineOf("place")
		y.c.Plan.Room = append(y.c.Plan.Room, r)
	}
}

func (y *yardFile) costs(t *table) {
	c := &y.c.Plan.Costs
	t.read(number("log", "2.5", 0, mostMoney, &c.Log), number("spawn_kg", "9", 0, mostMoney, &c.SpawnKG), number("plug", "0.04", 0, mostMoney, &c.Plug),
		number("wax_kg", "8", 0, mostMoney, &c.WaxKG), number("hour", "15", 0, mostMoney, &c.Hour))
}

func (y *yardFile) price(t *table) {
	var p Price
	if !t.row(text("species", "shiitake", &p.Species), text("recipe", "five mushrooms", &p.Recipe),
		number("fresh_kg", "14", 0, mostMoney, &p.Fresh), number("dry_kg", "90", 0, mostMoney, &p.Dry), number("bottle", "12", 0, mostMoney, &p.Bottle)) {
		return
	}
	said := func(key string) bool { return t.vals[key] != nil }
	switch {
	case (p.Species == "") == (p.Recipe == ""):
		t.refuse("", "a price is of a species, or of a recipe", "write species with fresh_kg or dry_kg, or recipe with bottle")
	case p.Recipe != "" && (said("fresh_kg") || said("dry_kg") || !said("bottle")):
		t.refuse("recipe", "what is sold of a recipe is bottles", "write bottle = 12")
	case p.Species != "" && (said("bottle") || !said("fresh_kg") && !said("dry_kg")):
		t.refuse("species", "what is sold of a species is fresh or dried kilograms", "write fresh_kg = 14, or dry_kg = 90")
	default:
		p.line = max(t.lineOf("species"), t.lineOf("recipe"))
		y.c.Plan.Prices = append(y.c.Plan.Prices, p)
	}
}

// mayBuy reads what may be bought in. Where nothing may be, the row says
// nothing.
func (y *yardFile) mayBuy(t *table) {
	var m MayBuy
	var most Quantity
	if !t.row(required(text("species", "cordyceps", &m.Species)), amount("most", "2 kg", WeightKey, &most), number("price_kg", "90", 0, mostMoney, &m.PriceKG)) {
		return
	}
	m.MostG, m.line = most.grams(), t.lineOf("species")
	if most.Text == "" || m.MostG > 0 {
		y.c.Plan.Buys = append(y.c.Plan.Buys, m)
	}
}

// The bounds of a pattern of holes, ours: wider than any that is in print.
const (
	nearestHoles = 1   // cm
	farthestHole = 100 // cm
	mostHolesKG  = 100
)

// holes reads how logs are drilled: by distance, by weight, or by as many
// rows as the log has inches across.
func (y *yardFile) holes(t *table) {
	var h HolePattern
	var along, rows Quantity
	holeKey := func(name, example string, to *Quantity) setting {
		return setting{Key{Name: name, Example: example, Kind: LengthKey, least: nearestHoles, most: farthestHole}, to}
	}
	if !t.row(holeKey("along", "15 cm", &along), holeKey("rows", "5 cm", &rows),
		number("per_kg", "6.6", 0.01, mostHolesKG, &h.PerKG), yesNo("rows_by_inch", &h.ByInch)) {
		return
	}
	h.AlongCM, h.RowsCM = along.Mid(), rows.Mid()
	switch {
	case h.PerKG > 0 && (h.AlongCM > 0 || h.RowsCM > 0 || h.ByInch):
		t.refuse("per_kg", "holes by weight need no distances", "keep per_kg, or take it out")
	case h.ByInch && h.RowsCM > 0:
		t.refuse("rows_by_inch", "rows by the inch need no distance between them", "keep rows, or rows_by_inch")
	default:
		y.c.Plan.Holes = h
	}
}
