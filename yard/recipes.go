package yard

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"hodaba/data"
)

// Methods are the ways in which a recipe makes its tincture.
var Methods = []string{"marc decocted", "split", "decoction only", "maceration only"}

// The values of a recipe where the grower says nothing: common practice, no
// source.
const (
	defaultMacerateMin = 14 // days
	defaultMacerateMax = 42 // days
	defaultShake       = 14 // days
	defaultBottle      = 100
)

// recipeFile reads recipes.toml.
type recipeFile struct {
	sectioned
	recipes []Recipe
	last    bool // the last [[recipe]] can be used
	config  *Config
	data    *data.Set
}

// readRecipes reads recipes.toml; a recipe with a mistake is left out.
func readRecipes(b []byte, c *Config, d *data.Set) ([]Recipe, []Problem) {
	r := &recipeFile{config: c, data: d}
	r.sectioned = sectioned{file: RecipesFile, terms: &Terms{Data: d, Own: c.Own, Measures: c.Measures},
		readers: map[string]func(*table){"": func(t *table) { t.read() }, "recipe": r.recipe, "recipe.ingredient": r.ingredient},
		many:    map[string]bool{"recipe": true, "recipe.ingredient": true},
	}
	r.read(b)
	return r.recipes, sorted(r.problems)
}

func (r *recipeFile) recipe(t *table) {
	x := Recipe{Jars: 1, MacerateMin: defaultMacerateMin, MacerateMax: defaultMacerateMax, ShakeDays: defaultShake,
		Method: Methods[0], SpiritPart: 1, WaterPart: 1, BottleML: defaultBottle}
	var spirit, water, to, bottle Quantity
	t.read(required(text("name", "five mushrooms", &x.Name)), count("jars", "2", &x.Jars), amount("spirit_per_jar", "500 ml", VolumeKey, &spirit),
		number("spirit_abv_percent", "40", 0, 100, &x.SpiritABV), own("macerate_days"), count("shake_days", "14", &x.ShakeDays),
		choice("method", Methods, &x.Method), amount("decoct_water", "1500 ml", VolumeKey, &water), amount("decoct_to", "500 ml", VolumeKey, &to),
		number("simmer_hours", "2", 0, longestSimmer, &x.SimmerHours), own("blend"), number("to_abv_percent", "25", 0, 100, &x.ToABV),
		amount("bottle", "100 ml", VolumeKey, &bottle), own("bottles"), own("ingredient"))
	x.SpiritMLJar, x.WaterML, x.DecoctToML = spirit.Mid(), water.Mid(), to.Mid()
	if bottle.High > 0 {
		x.BottleML = bottle.Mid()
	}
	t.bottles(&x)
	t.macerate(&x)
	t.blend(&x)
	r.last = r.sound(t, &x)
	if !r.last {
		return
	}
	r.recipes = append(r.recipes, x)
	for _, v := range listOf(t.vals["ingredient"]) {
		if row, ok := v.(map[string]any); ok {
			sub := &table{file: t.file, name: "recipe.ingredient", text: t.text, line: t.lineOf("ingredient"), vals: row, terms: t.terms}
			r.ingredient(sub)
			t.problems = append(t.problems, sub.problems...)
		}
	}
}

// macerate reads how long: [14, 42], or one number of days.
func (t *table) macerate(x *Recipe) {
	v, ok := t.vals["macerate_days"]
	if !ok {
		return
	}
	list := listOf(v)
	var days []int
	for _, d := range list {
		n, err := countOf(d)
		if err != nil {
			t.fail("macerate_days", err)
			return
		}
		days = append(days, n)
	}
	const remedy = "write the shortest and the longest, macerate_days = [14, 42]"
	switch {
	case len(days) == 1:
		x.MacerateMin, x.MacerateMax = days[0], days[0]
	case len(days) != 2:
		t.say(Aside, "macerate_days", fmt.Sprintf("macerate_days has %d values", len(days)), remedy)
	case days[0] > days[1]:
		t.say(Aside, "macerate_days", fmt.Sprintf("macerate_days: %d is more than %d", days[0], days[1]), remedy)
	default:
		x.MacerateMin, x.MacerateMax = days[0], days[1]
	}
}

var blendForm = regexp.MustCompile(`^\s*(\d+(?:[.,]\d+)?)\s*:\s*(\d+(?:[.,]\d+)?)\s*$`)

// blend reads "1:1", parts of the spirit to parts of the decoction.
func (t *table) blend(x *Recipe) {
	v, ok := t.vals["blend"]
	if !ok {
		return
	}
	s, _ := v.(string)
	m := blendForm.FindStringSubmatch(s)
	const remedy = `write parts of spirit to parts of decoction, blend = "1:1"`
	if m == nil {
		t.say(Aside, "blend", "blend: "+shownValue(v)+" is no ratio", remedy)
		return
	}
	spirit, _ := strconv.ParseFloat(strings.Replace(m[1], ",", ".", 1), 64)
	water, _ := strconv.ParseFloat(strings.Replace(m[2], ",", ".", 1), 64)
	if spirit+water == 0 || spirit > 1e6 || water > 1e6 {
		t.say(Aside, "blend", "blend: "+shown(s)+" is no ratio", remedy)
		return
	}
	x.SpiritPart, x.WaterPart = spirit, water
}

// sound reports whether a recipe can be used, and says why not.
func (r *recipeFile) sound(t *table, x *Recipe) bool {
	say := func(key, text, remedy string) { t.say(Aside, key, text, remedy) }
	given := func(key string) bool { _, ok := t.vals[key]; return ok }
	before := len(t.problems)
	decocts, spirit := x.Method != "maceration only", x.Method != "decoction only"
	switch {
	case x.Name == "":
	case r.named(x.Name):
		say("name", fmt.Sprintf("two recipes are called %s", shown(x.Name)), "give this one another name")
	case x.Jars == 0:
		say("jars", "a recipe for no jars", "write for how many jars it is, jars = 2")
	case spirit && !given("spirit_per_jar"):
		say("", "spirit_per_jar is missing", `add spirit_per_jar = "500 ml"`)
	case spirit && !given("spirit_abv_percent"):
		say("", "spirit_abv_percent is missing", "add the strength that stands on the bottle: spirit_abv_percent = 40 (80 US proof is 40)")
	case x.ToABV > 0 && given("blend"):
		say("to_abv_percent", "blend and to_abv_percent are both given", "keep one of the two")
	case x.ToABV > x.SpiritABV:
		say("to_abv_percent", fmt.Sprintf("a blend of %v %% cannot come of spirit of %v %%", x.ToABV, x.SpiritABV), "look at both strengths")
	case decocts && x.WaterML > 0 && x.DecoctToML >= x.WaterML:
		say("decoct_to", fmt.Sprintf("%v ml cannot boil down to %v ml", x.WaterML, x.DecoctToML), "decoct_to is what is left of decoct_water")
	}
	// A method that is none has been told.
	unread := spirit && (x.SpiritMLJar == 0 || x.SpiritABV == 0) || !slices.Contains(Methods, x.Method)
	return x.Name != "" && !unread && len(t.problems) == before
}

func (r *recipeFile) named(name string) bool {
	for _, x := range r.recipes {
		if folded(x.Name) == folded(name) {
			return true
		}
	}
	return false
}

func (r *recipeFile) ingredient(t *table) {
	if r.seen["recipe"] == 0 {
		t.say(Aside, "", "this ingredient stands before any recipe", "put it under a [[recipe]]")
		return
	}
	in := Ingredient{Form: "pieces"}
	var per Quantity
	t.read(required(text("species", "shiitake", &in.Species)), choice("form", []string{"pieces", "powder", "fresh"}, &in.Form),
		required(amount("per_jar", "25 g", WeightKey, &per)),
		setting{Key{Name: "or", Example: "maitake", Kind: PilesKey}, &in.Or}, setting{Key{Name: "optional", Example: "true", Kind: YesNoKey}, &in.Optional})
	in.GramsJar = per.grams()
	if !r.last || in.Species == "" || in.GramsJar == 0 {
		return
	}
	in.Species = r.known(t, "species", in.Species)
	for i, or := range in.Or {
		in.Or[i] = r.known(t, "or", or)
	}
	x := &r.recipes[len(r.recipes)-1]
	x.Ingredients = append(x.Ingredients, in)
}

// known brings a species to its name and points at one that stands nowhere.
func (r *recipeFile) known(t *table, key, species string) string {
	name, _, known := resolveSpecies(species, r.config.Own, r.data)
	if !known && r.data != nil {
		t.say(Odd, key, fmt.Sprintf("no species is called %s", shown(species)), nearestKey(species, r.data.SpeciesNames()))
	}
	return name
}
