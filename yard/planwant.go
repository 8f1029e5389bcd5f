package yard

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
)

// want reads one thing that is wanted. A want of nothing is none.
func (y *yardFile) want(t *table) {
	w := Want{Bottles: NotSaid}
	var fresh, hold, crop Quantity
	percent := 0.0
	if !t.row(text("recipe", "five mushrooms", &w.Recipe), count("bottles", "48", &w.Bottles), text("species", "shiitake", &w.Species),
		amount("fresh_per_week", "2 kg", WeightKey, &fresh), amount("hold", "1 kg", WeightKey, &hold), amount("crop", "30 kg", WeightKey, &crop),
		own("season"), own("year"), own("years"), number("confidence_percent", "80", 50, 99, &percent)) {
		return
	}
	w.FreshKG, w.HoldG, w.CropKG, w.Confidence = fresh.Mid(), hold.grams(), crop.Mid(), percent/100
	w.line = t.lineOf("species")
	if w.Recipe != "" {
		w.line = t.lineOf("recipe")
	}
	if !t.oneWant(&w) || !t.wantYears(&w) || !t.wantSeason(&w) {
		return
	}
	w.Bottles = max(0, w.Bottles)
	if w.Bottles > 0 || w.FreshKG > 0 || w.HoldG > 0 || w.CropKG > 0 {
		y.c.Plan.Wants = append(y.c.Plan.Wants, w)
	}
}

// oneWant makes sure that a row asks for one thing.
func (t *table) oneWant(w *Want) bool {
	var said []string
	for _, key := range []string{"recipe", "fresh_per_week", "hold", "crop"} {
		if _, ok := t.vals[key]; ok {
			said = append(said, key)
		}
	}
	_, bottles := t.vals["bottles"]
	switch {
	case len(said) == 0 && bottles:
		t.refuse("bottles", "bottles of which recipe is not said", `add a line such as recipe = "five mushrooms"`)
	case len(said) == 0:
		t.refuse("", "nothing is wanted here", `add recipe and bottles, or species and one of fresh_per_week = "2 kg", hold = "1 kg" and crop = "30 kg"`)
	case len(said) > 1:
		t.refuse(said[1], fmt.Sprintf("%s and %s are two things", said[0], said[1]), "give each a [[plan.want]] of its own")
	case w.Recipe != "" && w.Bottles == NotSaid:
		t.refuse("recipe", "how many bottles are wanted is not said", "add a line such as bottles = 48")
	case bottles && w.Recipe == "":
		t.refuse("bottles", "bottles are of a recipe, not of "+said[0], "give them a [[plan.want]] of their own, with recipe")
	case w.Recipe != "" && w.Species != "":
		t.refuse("species", "a want of bottles names no species: the recipe does", "take species out")
	case w.Recipe == "" && w.Species == "" && said[0] != "crop":
		t.refuse(said[0], "of which species is not said", `add a line such as species = "shiitake"`)
	default:
		return true
	}
	return false
}

// wantYears reads the first and last year, or the only one.
func (t *table) wantYears(w *Want) bool {
	year, single := t.vals["year"]
	years, several := t.vals["years"]
	const remedy = "write year = 2028, or years = [2028, 2030] for the first and the last"
	key, list := "year", []any{year}
	switch {
	case single && several:
		t.refuse("years", "both year and years are given", "keep one of them")
		return false
	case !single && !several:
		t.refuse("", "in which year is not said", remedy)
		return false
	case several:
		key, list = "years", listOf(years)
	}
	if len(list) < 1 || len(list) > 2 || single && len(listOf(year)) > 1 {
		t.refuse(key, key+": "+shownValue(t.vals[key])+" is not a first and a last year", remedy)
		return false
	}
	for _, v := range list {
		if n, err := countOf(v); err != nil || n < firstYear || n > lastYear {
			t.refuse(key, key+": "+shownValue(v)+" is no year of a plan", remedy)
			return false
		}
	}
	w.From, _ = countOf(list[0])
	w.To, _ = countOf(list[len(list)-1])
	if w.To < w.From {
		t.refuse(key, fmt.Sprintf("the last year, %d, is before the first, %d", w.To, w.From), "write the earlier year first")
		return false
	}
	return true
}

// wantSeason reads the months in which fresh mushrooms are wanted.
func (t *table) wantSeason(w *Want) bool {
	v, ok := t.vals["season"]
	if !ok {
		return true
	}
	if w.FreshKG == 0 && t.vals["fresh_per_week"] == nil {
		t.refuse("season", "a season goes with fresh_per_week only", "take season out")
		return false
	}
	list := listOf(v)
	if len(list) < 1 || len(list) > 2 {
		t.refuse("season", "season: "+shownValue(v)+" is not a first and a last month", "write season = [5, 10]")
		return false
	}
	var months []int
	for _, x := range list {
		m, err := monthOfYear(x)
		if err != nil {
			what, remedy := parts(err)
			t.refuse("season", "season: "+what, remedy)
			return false
		}
		months = append(months, m)
	}
	w.FirstMonth, w.LastMonth = months[0], months[len(months)-1]
	return true
}

// targets reads what each year shall bring: 2028 = "30 kg", or by species,
// 2028 = {shiitake = "20 kg"}. Each is a want, too.
func (y *yardFile) targets(t *table) {
	for _, key := range slices.Sorted(maps.Keys(t.vals)) {
		year, err := strconv.Atoi(key)
		if err != nil || year < firstYear || year > lastYear {
			t.say(Aside, key, shown(key)+" is no year", `write targets by year: 2028 = "30 kg"`)
			continue
		}
		rows, ok := t.vals[key].(map[string]any)
		if !ok {
			rows = map[string]any{"": t.vals[key]}
		}
		for _, species := range slices.Sorted(maps.Keys(rows)) {
			q, err := t.quantityOf(&Key{Name: key, Example: "30 kg", Kind: AmountKey}, rows[species])
			if err != nil {
				t.fail(key, err)
				continue
			}
			if q.Unit != Kilogram {
				t.say(Aside, key, fmt.Sprintf("%s: %s is no weight", key, shown(q.Text)), fmt.Sprintf("write %s = \"30 kg\", fresh", key))
				continue
			}
			y.c.Targets = append(y.c.Targets, Target{year, species, q})
			if q.Mid() > 0 {
				y.c.Plan.Wants = append(y.c.Plan.Wants, Want{From: year, To: year, Species: species, CropKG: q.Mid(), line: t.lineOf(key)})
			}
		}
	}
}
