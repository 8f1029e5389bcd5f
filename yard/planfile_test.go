package yard

import (
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
)

const planRecipes = "[[recipe]]\nname = \"Two of the wood\"\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 50\n"

// planOf reads a yard.toml that ends in these lines, with one recipe.
func planOf(t *testing.T, text string) (Plan, Config, []Problem) {
	t.Helper()
	f, problems, err := OpenFiles(InMemory(map[string]string{YardFile: smallYard + text, RecipesFile: planRecipes}), loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	return f.Config().Plan, f.Config(), problems
}

const wholePlan = `[[place]]
name = "north shade"
[plan]
confidence_percent = 75
species  = ["shiitake", "Ganoderma lingzhi", "shiitake"]
spawn    = ["sawdust", "Plug"]
months   = [4, "february", 3]
budget   = 400
currency = "EUR"
[plan.targets]
2028 = "30 kg"
2029 = {shiitake = "20 kg", reishi = "0 kg"}
[[plan.want]]
recipe  = "two of the wood"
bottles = 48
years   = [2028, 2030]
[[plan.want]]
species        = "Lentinula edodes"
fresh_per_week = "2 kg"
season         = ["May", 10]
years          = [2029, 2030]
confidence_percent = 70
[[plan.want]]
species = "reishi"
hold    = "1 kg"
year    = 2028
[[plan.want]]
crop = "40 kg"
year = 2031
[[plan.logs]]
wood = "white oak"
diameter = "10-15 cm"
length = "100 cm"
most = 60
price = 2.5
[[plan.logs]]
wood = "Quercus alba"
[[plan.logs]]
wood = "white oak"
most = 0
[plan.hours]
3 = 20
april = 12.5
[[plan.room]]
place = "north shade"
logs = 100
[[plan.room]]
logs = 20
[plan.costs]
log = 0
hour = 15
[[plan.price]]
species = "shiitake"
fresh_kg = 14
[[plan.price]]
recipe = "Two of the wood"
bottle = 12
[[plan.buy]]
species = "cordyceps"
most = "2 kg"
price_kg = 90
[[plan.buy]]
species = "reishi"
[[plan.buy]]
species = "reishi"
most = "0 kg"
[plan.holes]
along = "6 in"
rows = "5 cm"
`

func TestPlanOfYardFile(t *testing.T) {
	p, c, problems := planOf(t, wholePlan)
	if len(problems) > 0 {
		t.Fatal(lines(problems))
	}
	if c.Confidence != 0.75 {
		t.Errorf("confidence %v", c.Confidence)
	}
	if k := p.Costs; k.Log != 0 || k.Hour != 15 || !math.IsNaN(k.SpawnKG) || !math.IsNaN(k.Plug) || !math.IsNaN(k.WaxKG) {
		t.Errorf("costs %+v", k)
	}
	p.Costs = Costs{}
	for i := range p.Wants {
		p.Wants[i].line = 0
	}
	for i := range p.Prices {
		p.Prices[i].line = 0
	}
	for i := range p.Buys {
		p.Buys[i].line = 0
	}
	for i := range p.Room {
		p.Room[i].line = 0
	}
	for i := range p.Logs {
		p.Logs[i].line = 0
	}
	want := Plan{
		Wants: []Want{
			{From: 2028, To: 2028, CropKG: 30}, {From: 2029, To: 2029, Species: "shiitake", CropKG: 20},
			{From: 2028, To: 2030, Recipe: "Two of the wood", Bottles: 48},
			{From: 2029, To: 2030, Species: "shiitake", FreshKG: 2, FirstMonth: 5, LastMonth: 10, Confidence: 0.7},
			{From: 2028, To: 2028, Species: "reishi", HoldG: 1000},
			{From: 2031, To: 2031, CropKG: 40},
		},
		Logs:    []LogsToHave{{Wood: "white oak", Diameter: Span{10, 15}, Length: Span{100, 100}, Most: 60, Price: 2.5, PriceSet: true}, {Wood: "white oak"}},
		Species: []string{"shiitake", "reishi"}, Spawn: []string{"sawdust", "plug"}, Months: []int{2, 3, 4},
		Hours: []MonthHours{{3, 20}, {4, 12.5}}, Room: []PlaceRoom{{Place: "north shade", Logs: 100}, {Logs: 20}},
		Budget: 400, Currency: "EUR",
		Prices: []Price{{Species: "shiitake", Fresh: 14}, {Recipe: "Two of the wood", Bottle: 12}},
		Buys:   []MayBuy{{Species: "cordyceps", MostG: 2000, PriceKG: 90}, {Species: "reishi"}},
		Holes:  HolePattern{AlongCM: 15.24, RowsCM: 5},
	}
	if !reflect.DeepEqual(p, want) {
		t.Errorf("read as\n%+v\nwant\n%+v", p, want)
	}
}

// The same tables in braces and dots, and in single brackets where there is
// one only.
func TestPlanInBraces(t *testing.T) {
	for _, text := range []string{
		"[plan]\nwant = [{species = \"reishi\", hold = \"1 kg\", year = 2028}]\ncosts = {log = 2}\nholes.per_kg = 6.6\nhours = {3 = 20}\n",
		"[plan.costs]\nlog = 2\n[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyears = 2028\n[plan.hours]\nMar = 20\n[plan.holes]\nper_kg = 6.6\n",
		"[plan]\n[plan.holes]\nper_kg = 6.6\n[plan.costs]\nlog = 2\n[plan.hours]\n\"3\" = 20\n[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyears = [2028]\n",
	} {
		p, _, problems := planOf(t, text)
		if len(problems) > 0 || len(p.Wants) != 1 || p.Wants[0].HoldG != 1000 || p.Wants[0].To != 2028 || p.Costs.Log != 2 ||
			p.Holes.PerKG != 6.6 || !reflect.DeepEqual(p.Hours, []MonthHours{{3, 20}}) {
			t.Errorf("%s%+v\n%s", text, p, lines(problems))
		}
	}
}

// A yard that says nothing of next season plans nothing.
func TestNoPlan(t *testing.T) {
	p, c, problems := planOf(t, "")
	if !math.IsNaN(p.Costs.Log) {
		t.Errorf("costs %+v", p.Costs)
	}
	p.Costs = Costs{}
	if len(problems) > 0 || c.Confidence != 0.8 || !reflect.DeepEqual(p, Plan{}) {
		t.Errorf("%+v\n%s", p, lines(problems))
	}
}

// What is wrong leaves its row out, says so once, and leaves the rest
// standing.
func TestPlanMistakes(t *testing.T) {
	const rest = "[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyear = 2028\n"
	for text, says := range map[string]string{
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyear = 1928\n":                               "1928 is no year of a plan",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyears = [2030, 2028]\n":                      "before the first",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyears = [2028, 2029, 2030]\n":                "not a first and a last year",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\n":                                            "in which year is not said",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyear = 2028\nyears = [2028, 2029]\n":         "both year and years",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"-1 kg\"\nyear = 2028\n":                              "less than nothing",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = 1\nyear = 2028\n":                                      "has no unit",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyear = 2028\nconfidence_percent = 100\n":     "outside 50 to 99",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nyear = 2028\nconfidnce_percent = 90\n":       "is no key of [plan.want]",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nfresh_per_week = \"1 kg\"\nyear = 2028\n":    "are two things",
		"[[plan.want]]\nspecies = \"reishi\"\nyear = 2028\n":                                                "nothing is wanted",
		"[[plan.want]]\nhold = \"1 kg\"\nyear = 2028\n":                                                     "of which species is not said",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nbottles = 3\nyear = 2028\n":                  "bottles are of a recipe",
		"[[plan.want]]\nbottles = 3\nyear = 2028\n":                                                         "of which recipe is not said",
		"[[plan.want]]\nrecipe = \"Two of the wood\"\nyear = 2028\n":                                        "how many bottles",
		"[[plan.want]]\nrecipe = \"Two of the wood\"\nbottles = -3\nyear = 2028\n":                          "less than nothing",
		"[[plan.want]]\nrecipe = \"Two of the woods\"\nbottles = 3\nyear = 2028\n":                          "no recipe is called",
		"[[plan.want]]\nrecipe = \"Two of the wood\"\nspecies = \"reishi\"\nbottles = 3\nyear = 2028\n":     "names no species",
		"[[plan.want]]\nspecies = \"reishi\"\nhold = \"1 kg\"\nseason = [5, 10]\nyear = 2028\n":             "a season goes with",
		"[[plan.want]]\nspecies = \"reishi\"\nfresh_per_week = \"1 kg\"\nseason = [5, 13]\nyear = 2028\n":   "13 is no month",
		"[[plan.want]]\nspecies = \"reishi\"\nfresh_per_week = \"1 kg\"\nseason = [5, 6, 7]\nyear = 2028\n": "not a first and a last month",
		"[[plan.want]]\nspecies = \"reihsi\"\nhold = \"1 kg\"\nyear = 2028\n":                               "no species is called",
		"[[plan.want]]\nspecies = \"cordyceps\"\nfresh_per_week = \"1 kg\"\nyear = 2028\n":                  "is not grown on logs here",
		"[plan]\nspecies = [\"cordyceps\"]\n":                                                               "is not grown on logs here",
		"[plan]\nspecies = [\"shiitaky\"]\n":                                                                "no species is called",
		"[plan]\nspawn = [\"plugs\"]\n":                                                                     "\"plugs\" is none of the words that can stand here",
		"[plan]\nmonths = [0]\n":                                                                            "0 is no month",
		"[plan]\nbudget = -1\n":                                                                             "outside 0 to",
		"[plan]\nbudget = 0\n":                                                                              "nothing can be bought for 0",
		"[plan]\nwant = 3\n":                                                                                "is no table",
		"[plan.targets]\n2028 = \"30 l\"\n":                                                                 "is no weight",
		"[plan.targets]\n2028 = {reihsi = \"30 kg\"}\n":                                                     "no species is called",
		"[[plan.logs]]\nwood = \"whyte oak\"\n":                                                             "no wood is called",
		"[[plan.logs]]\nmost = 3\n":                                                                         "wood is missing",
		"[[plan.logs]]\nwood = \"white oak\"\nmost = -3\n":                                                  "less than nothing",
		"[[plan.logs]]\nwood = \"white oak\"\ndiameter = \"12\"\n":                                          "has no unit",
		"[plan.hours]\nmarhc = 3\n":                                                                         "is no month",
		"[plan.hours]\n3 = 20\nMarch = 30\n":                                                                "March stands twice",
		"[plan.hours]\n3 = -1\n":                                                                            "outside 0 to",
		"[[plan.room]]\nplace = \"x\"\n":                                                                    "logs is missing",
		"[plan.costs]\nhours = 3\n":                                                                         "is no key of [plan.costs]",
		"[plan.costs]\nlog = -3\n":                                                                          "outside 0 to",
		"[[plan.price]]\nspecies = \"reishi\"\nbottle = 3\n":                                                "fresh or dried kilograms",
		"[[plan.price]]\nrecipe = \"Two of the wood\"\nfresh_kg = 3\n":                                      "bottles",
		"[[plan.price]]\nfresh_kg = 3\n":                                                                    "a price is of a species",
		"[[plan.price]]\nrecipe = \"Three\"\nbottle = 3\n":                                                  "no recipe is called",
		"[[plan.buy]]\nspecies = \"reishy\"\n":                                                              "no species is called",
		"[plan.holes]\nper_kg = 6.6\nalong = \"15 cm\"\n":                                                   "by weight",
		"[plan.holes]\nrows = \"5 cm\"\nrows_by_inch = true\n":                                              "by the inch",
		"[plan.holes]\nalong = \"15 m\"\n":                                                                  "outside 1 to 100",
		"[plan.holes]\nper_kg = 0\n":                                                                        "outside",
	} {
		p, _, problems := planOf(t, text+rest)
		if len(problems) != 1 || !strings.Contains(problems[0].Text, says) || problems[0].Remedy == "" || problems[0].Grade != Aside || problems[0].Line <= strings.Count(smallYard, "\n") {
			t.Errorf("%sone problem, %q, is wanted:\n%s", text, says, lines(problems))
		}
		if len(p.Wants) != 1 || p.Wants[0].Species != "reishi" || p.Wants[0].HoldG != 1000 || len(p.Logs)+len(p.Prices)+len(p.Buys)+len(p.Room)+len(p.Species) > 0 ||
			p.Holes != (HolePattern{}) {
			t.Errorf("%sleaves %+v", text, p)
		}
	}
}

// A place that is none of the yard's is odd, and its room counts.
func TestRoomInPlaces(t *testing.T) {
	p, _, problems := planOf(t, "[[plan.room]]\nplace = \"North wall\"\nlogs = 10\n[[plan.room]]\nplace = \"north wal\"\nlogs = 10\n[[place]]\nname = \"north wall\"\n")
	if len(problems) != 1 || problems[0].Grade != Odd || !strings.Contains(problems[0].Remedy, "did you mean north wall?") || len(p.Room) != 2 || p.Room[0].Place != "north wall" {
		t.Errorf("%+v\n%s", p.Room, lines(problems))
	}
}

// The yard's own species can be planned with wherever its table stands.
func TestPlanOfOwnSpecies(t *testing.T) {
	p, _, problems := planOf(t, "[[plan.want]]\nspecies = \"fence oyster\"\ncrop = \"1 kg\"\nyear = 2028\n[[species]]\nname = \"fence oyster\"\nlike = \"oyster\"\n")
	if len(problems) > 0 || len(p.Wants) != 1 {
		t.Errorf("%+v\n%s", p.Wants, lines(problems))
	}
}

// What may change from a day on, and what holds for all years.
func TestPlanChanges(t *testing.T) {
	s, problems := stateOf(t, entry("changed", "2025-01-01", `key = "plan.budget"`, "value = 250")+entry("changed", "2025-01-02", `key = "plan.months"`, `value = "3, april"`))
	if len(problems) > 0 || s.Config.Plan.Budget != 250 || !reflect.DeepEqual(s.Config.Plan.Months, []int{3, 4}) {
		t.Errorf("%+v\n%s", s.Config.Plan, lines(problems))
	}
	for _, key := range []string{"plan.species", "plan.want", "plan.costs.log"} {
		_, problems := stateOf(t, entry("changed", "2025-01-01", `key = "`+key+`"`, `value = 3`))
		if !has(problems, 1, "cannot change from a day on") && !has(problems, 0, "cannot change from a day on") {
			t.Errorf("%s: %s", key, lines(problems))
		}
	}
}

func FuzzPlan(f *testing.F) {
	b, err := os.ReadFile("../testdata/yards/fernbrook/yard.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(b))
	f.Add(wholePlan)
	f.Add("[plan]\nwant = [[1]]\nhours = {x = {y = 1}}\n[[plan.hours]]\n[plan.want.x]\n")
	set := loaded(f)
	f.Fuzz(func(t *testing.T, s string) {
		c, problems := readConfig([]byte(s), set)
		problems = append(problems, c.Plan.knownRecipes(nil)...)
		for _, p := range problems {
			if p.Text == "" || p.Remedy == "" {
				t.Fatalf("%q: %+v", s, p)
			}
		}
		for _, w := range c.Plan.Wants {
			if w.From > w.To || w.Bottles < 0 || w.Confidence != 0 && (w.Confidence < 0.5 || w.Confidence > 0.99) {
				t.Fatalf("%q: %+v", s, w)
			}
		}
	})
}
