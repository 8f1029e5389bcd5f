package yard

import (
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"
)

// The sample yard uses everything that can be said, and nothing is wrong in it.
func TestSampleYard(t *testing.T) {
	f, problems, err := Open("../testdata/yards/fernbrook", loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	if problems = append(problems, f.Check()...); len(problems) > 0 {
		t.Error(lines(problems))
	}
	c := f.Config()
	want := Config{
		Format: 1, Name: "Fernbrook",
		Farm:     Farm{"Fernbrook", "at the end of the lane", "0.4 ha", "none"},
		Site:     Site{Station: "oxford", Latitude: 51.7, Longitude: -1.3, Elevation: 80, Shade: 80, Exposure: "frost pocket", Warming: 0.3, WarmingSet: true},
		Places:   []Place{{"under the hazel", 90, "open", "rain butt", false}, {"north wall", 80, "", "", true}},
		Own:      []OwnSpecies{{"fence oyster", "oyster"}, {"velvet foot", ""}},
		Measures: map[string]Quantity{"basket": {1.8, 1.8, Kilogram, false, "1.8 kg"}, "jug": {1000, 1000, Millilitre, false, "1 l"}},
		Drier:    Drier{6, 12, 0.75}, Cold: Cold{20, 5}, Soak: Soak{12, 8, 24, "after the first flush"},
		Kitchen: Kitchen{6, 1000, 5000, 500, "hand", 2},
		Working: Working{"gb", []time.Weekday{time.Monday, time.Wednesday, time.Saturday}, []Date{NewDate(2026, 8, 31)}, []Date{NewDate(2026, 5, 3)},
			[]Absence{{NewDate(2026, 7, 20), NewDate(2026, 8, 2)}}},
		Expected: []Inflow{{"cordyceps", 100, 30, 0, 0.8}, {"reishi", 300, 0, NewDate(2026, 11, 1), 1}},
		Promised: []Promise{{"the autumn market", "five mushrooms", Quantity{20, 20, Piece, false, "20"}, NewDate(2026, 11, 14), 0}},
		People:   []string{"mk", "jt"}, Confidence: 0.8,
		Targets: []Target{{2028, "", Quantity{30, 30, Kilogram, false, "30 kg"}}, {2029, "reishi", Quantity{4, 4, Kilogram, false, "4 kg"}}, {2029, "shiitake", Quantity{20, 20, Kilogram, false, "20 kg"}}},
	}
	targets := []Want{{From: 2028, To: 2028, CropKG: 30, line: 105}, {From: 2029, To: 2029, Species: "reishi", CropKG: 4, line: 106},
		{From: 2029, To: 2029, Species: "shiitake", CropKG: 20, line: 106}}
	if p := c.Plan; len(p.Wants) != 6 || !reflect.DeepEqual(p.Wants[:3], targets) || len(p.Logs) != 1 || len(p.Hours) != 2 || len(p.Room) != 1 ||
		len(p.Prices) != 2 || len(p.Buys) != 1 || p.Costs.Plug != 0.04 || p.Holes.RowsCM != 5 || p.Budget != 400 {
		t.Errorf("of next season is read %+v", p)
	}
	c.Plan = Plan{} // its costs are no numbers where nobody says them
	if !reflect.DeepEqual(c, want) {
		t.Errorf("yard.toml is read as\n%+v\nwant\n%+v", c, want)
	}
	r := f.Recipes()
	if len(r) != 2 || len(r[0].Ingredients) != 5 || !reflect.DeepEqual(r[0].Ingredients[2], Ingredient{"turkey tail", "pieces", 25, []string{"maitake"}, false}) || !r[0].Ingredients[4].Optional {
		t.Errorf("%+v", r)
	}
	first := r[0]
	first.Ingredients = nil
	if want := (Recipe{Name: "five mushrooms", Jars: 2, SpiritMLJar: 500, SpiritABV: 40, MacerateMin: 14, MacerateMax: 42, ShakeDays: 14, Method: "marc decocted",
		WaterML: 1500, DecoctToML: 500, SimmerHours: 2, SpiritPart: 1, WaterPart: 1, BottleML: 100}); !reflect.DeepEqual(first, want) {
		t.Errorf("%+v", first)
	}
	if x := r[1]; x.MacerateMin != 28 || x.MacerateMax != 28 || math.Abs(x.SpiritMLJar-473.176473) > 1e-6 || math.Abs(x.Ingredients[0].GramsJar-56.69904625) > 1e-9 || x.BottleML != 50 {
		t.Errorf("%+v", x)
	}
}

func TestSampleJournal(t *testing.T) {
	f, _, err := Open("../testdata/yards/fernbrook", loaded(t), may)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := f.State(may, 0)
	want := `old oak K2 pile shiitake/ place="" since=2022 logs=22/30 true gone=[{2026-03-01 3 lost loose bark} {2026-03-01 5 retired }] seen=4 picks=3 closed=
oak-north AN2 pile shiitake/wide-range place="under the hazel" since=2024-04-12 logs=24/40 true gone=[{2025-11-12 15 moved to oak-south} {2026-03-02 1 counted missing when they were counted}] seen=6 picks=2 closed=
reishi stack  pile reishi/ place="north wall" since=2023 logs=12/24 true gone=[{2025-11-10 12 moved to reishi bed}] seen=1 picks=0 closed=
beech totems  pile lion's mane/ place="" since=2025-W13 logs=8/8 true gone=[] seen=1 picks=0 closed=
reishi bed  bed reishi/ place="" since=2025-11-10 logs=12/12 true gone=[] seen=0 picks=0 closed=
oak-south AS2 pile shiitake/wide-range place="north wall" since=2024-04-12 logs=15/15 true gone=[] seen=6 picks=0 closed=
dry D-25-1 shiitake own 470.0/520.0 g
dry T-25-1 turkey tail gathered 130.0/180.0 g
dry R-old reishi counted 120.1/170.1 g
dry L-25-1 lion's mane bought 150.0/200.0 g
batch 25-1 2025-11-22 jars=2 spirit=1000 40 taken=[{shiitake D-25-1 50} {reishi R-old 50} {turkey tail T-25-1 50} {lion's mane L-25-1 50}] bottled=2025-12-28
bottles [{five mushrooms  [{100 9}]}] sort=0 picks=4
`
	if got := summary(s, problems); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Where the grower says nothing, these are taken.
func TestSettingsNotSaid(t *testing.T) {
	c, problems := readConfig([]byte("[site]\nstation = \"Oxford\"\n[[place]]\nname = \"x\"\n"), loaded(t))
	if len(problems) > 0 || c.Confidence != 0.8 || c.Drier.Share != 1 || c.Site.Shade != 80 || !math.IsNaN(c.Site.Elevation) || c.Site.Station != "oxford" ||
		c.Site.Latitude != 51.761 || c.Places[0].Shade != 80 || c.Format != 1 || c.Site.WarmingSet {
		t.Errorf("%+v\n%s", c, lines(problems))
	}
	r, problems := readRecipes([]byte("[[recipe]]\nname = \"x\"\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 50\n"), &c, loaded(t))
	if len(problems) > 0 || len(r) != 1 || r[0].MacerateMin != 14 || r[0].MacerateMax != 42 || r[0].ShakeDays != 14 || r[0].BottleML != 100 || r[0].Method != "marc decocted" || r[0].Jars != 1 {
		t.Errorf("%+v\n%s", r, lines(problems))
	}
}

func TestBlend(t *testing.T) {
	for in, want := range map[string][2]float64{"1:1": {1, 1}, "2 : 1": {2, 1}, "1,5:1": {1.5, 1}, "1:0": {1, 0}} {
		c := Config{}
		r, problems := readRecipes([]byte("[[recipe]]\nname = \"x\"\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 50\nblend = \""+in+"\"\n"), &c, loaded(t))
		if len(problems) > 0 || r[0].SpiritPart != want[0] || r[0].WaterPart != want[1] {
			t.Errorf("%s: %+v\n%s", in, r, lines(problems))
		}
	}
}

func TestOwnNormals(t *testing.T) {
	const twelve = "[1,2,3,4,5,6,7,8,9,10,11,12]"
	for _, text := range []string{
		"[site.normals]\ntmin_c = " + twelve + "\ntmax_c = [11,12,13,14,15,16,17,18,19,20,21,22.5]\nrain_mm = " + twelve + "\n",
		"[site]\nnormals = {tmin_c = " + twelve + ", tmax_c = [11,12,13,14,15,16,17,18,19,20,21,22.5], rain_mm = " + twelve + "}\n",
		"[site]\nlatitude = 51\nnormals.tmin_c = " + twelve + "\nnormals.tmax_c = [11,12,13,14,15,16,17,18,19,20,21,22.5]\nnormals.rain_mm = " + twelve + "\n",
		"site.normals = {tmin_c = " + twelve + ", tmax_c = [11,12,13,14,15,16,17,18,19,20,21,22.5], rain_mm = " + twelve + "}\n",
		"[site.normals]\ntmin_c = [\n  1,2,3,\n  4,5,6,\n  7,8,9,\n  10,11,12,\n]\ntmax_c = [11,12,13,14,15,16,17,18,19,20,21,22.5]\nrain_mm = " + twelve + "\nrain_days = []\n",
	} {
		c, problems := readConfig([]byte(text), loaded(t))
		if n := c.Site.Normals; len(problems) > 0 || n == nil || n.TMin[11] != 12 || n.TMax[11] != 22.5 || n.Rain[0] != 1 || n.RainDayMM != 1 || n.RainDays[0] != 0 {
			t.Errorf("%s%+v\n%s", text, n, lines(problems))
		}
	}
	c, problems := readConfig([]byte("[site]\nstation = \"oxford\"\n[site.normals]\ntmin_c = []\ntmax_c = []\nrain_mm = []\nrain_days = []\nrain_day_mm = 1.0\n"), loaded(t))
	if len(problems) > 0 || c.Site.Normals != nil {
		t.Errorf("empty lists: %+v\n%s", c.Site.Normals, lines(problems))
	}
}

// A mistake in yard.toml or recipes.toml leaves everything else standing.
func TestMistakesLeaveTheRest(t *testing.T) {
	c, problems := readConfig([]byte("name = \"Fernbrook\"\nunits = \"imperial\"\n[site]\nstation = \"oxford\"\nshade_percent = \"a lot\"\n[kitchen]\njars = \"six\"\njar = \"1 l\"\n[measures\nx = 1\n[drier]\nload = \"6 kg\"\n"), loaded(t))
	if len(problems) != 4 || c.Name != "Fernbrook" || c.Site.Station != "oxford" || c.Kitchen.JarML != 1000 || c.Drier.LoadKG != 6 || c.Site.Shade != 80 {
		t.Errorf("%+v\n%s", c, lines(problems))
	}
	r, problems := readRecipes([]byte("[[recipe]]\nname = \"a\"\n[[recipe.ingredient]]\nspecies = \"shiitake\"\nper_jar = \"25 g\"\n[[recipe]]\nname = \"b\"\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 40\n[[recipe.ingredient]]\nspecies = \"reishi\"\nper_jar = \"25 g\"\n"), &c, loaded(t))
	if len(r) != 1 || r[0].Name != "b" || len(r[0].Ingredients) != 1 || r[0].Ingredients[0].Species != "reishi" || !has(problems, 1, "spirit_per_jar is missing") {
		t.Errorf("%+v\n%s", r, lines(problems))
	}
}

func TestFind(t *testing.T) {
	dir := t.TempDir()
	if _, err := Find(dir); err == nil || !strings.Contains(err.Error(), "no yard in") {
		t.Error(err)
	}
	deep := dir + "/a/b"
	if err := os.MkdirAll(deep, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(dir+"/a/"+YardFile, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if got, err := Find(deep); err != nil || got != dir+"/a" {
		t.Error(got, err)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	file := dir + "/list.txt"
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		dir + "/nowhere": "there is no folder",
		file:             "is a file, not a folder",
		dir:              "is no yard: there is no yard.toml",
		t.TempDir():      "is empty: there is no yard.toml",
	} {
		if _, _, err := Open(path, loaded(t), may); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v", path, err)
		}
	}
}

func TestEvery(t *testing.T) {
	for s, want := range map[string]int{"week": 7, "2 weeks": 14, "every 10 days": 10, "month": 30, "year": 365, "Every Week": 7} {
		if got, err := everyDays(s); err != nil || got != want {
			t.Errorf("%s: %d, %v", s, got, err)
		}
	}
	for _, s := range []string{"", "often", "0 days", "9999 weeks"} {
		if got, err := everyDays(s); err == nil {
			t.Errorf("%q: %d", s, got)
		}
	}
}

func TestCreate(t *testing.T) {
	nan := math.NaN()
	dir := t.TempDir() + "/yard"
	a := Answers{Name: `The "old" yard`, US: true, Station: "ann_arbor", Latitude: nan, Longitude: nan, Elevation: 250, Shade: nan, Country: "US", Recipes: loaded(t).Recipes[0].Text}
	if err := Create(dir, a); err != nil {
		t.Fatal(err)
	}
	f, problems, err := Open(dir, loaded(t), may)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, lines(problems))
	}
	c := f.Config()
	if c.Name != a.Name || !c.US || c.Site.Station != "ann_arbor" || c.Site.Elevation != 250 || c.Site.Latitude != 42.29 || c.Working.Country != "us" || len(f.Recipes()) != 1 {
		t.Errorf("%+v", c)
	}
	if s, problems := f.State(may, 0); len(problems) > 0 || len(s.Piles) > 0 {
		t.Error(lines(problems))
	}
	if err := Create(dir, a); err == nil || !strings.Contains(err.Error(), "is a yard already") {
		t.Error(err)
	}
	full := t.TempDir()
	if err := os.WriteFile(full+"/holiday.txt", nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Create(full, a); err == nil || !strings.Contains(err.Error(), "holds something else already, such as holiday.txt") {
		t.Error(err)
	}
	if _, err := os.Stat(full + "/" + YardFile); err == nil {
		t.Error("something was written into a folder that was refused")
	}
	if err := Create(full+"/holiday.txt", a); err == nil {
		t.Error("a yard was made in a file")
	}
	if err := Create(t.TempDir()+"/x", Answers{Latitude: nan, Longitude: nan, Elevation: nan, Shade: nan}); err != nil {
		t.Error(err)
	}
}

// The remarks of a new yard.toml, taken out of their comments, are valid.
func TestRemarksOfANewYard(t *testing.T) {
	nan := math.NaN()
	text := Answers{Name: "x", Latitude: nan, Longitude: nan, Elevation: nan, Shade: nan}.yardText()
	var b strings.Builder
	for _, l := range strings.Split(text, "\n") {
		rest, ok := strings.CutPrefix(l, "# ")
		if ok && (strings.HasPrefix(rest, "[") || strings.Contains(rest, " = ")) && !strings.Contains(rest, "= []") {
			l = rest
		}
		b.WriteString(l + "\n")
	}
	c, problems := readConfig([]byte(b.String()), loaded(t))
	if len(problems) > 0 || c.Kitchen.BoilMLH != 500 || c.Site.Latitude != 51.7 || c.Places[0].Shade != 90 || c.Own[0].Like != "oyster" {
		t.Errorf("%s\n%+v\n%s", b.String(), c, lines(problems))
	}
	if c.Drier != (Drier{LoadKG: 6, HoursPerLoad: 12, Share: 1}) || c.Cold != (Cold{HoldsKG: 20, Days: 5}) ||
		c.Soak != (Soak{TankLogs: 12, CycleWeeks: 9, Hours: 24, First: "after a year"}) || len(c.Promised) != 1 ||
		c.Promised[0].To != "the market" || c.Promised[0].What != "shiitake" || c.Promised[0].Every != 7 || c.Promised[0].By != NewDate(2027, 9, 4) || c.Promised[0].Amount.Low != 2 {
		t.Errorf("%+v", c)
	}
	var r strings.Builder
	for _, l := range strings.Split(noRecipes, "\n") {
		rest, ok := strings.CutPrefix(l, "# ")
		if ok && (strings.HasPrefix(rest, "[[") || strings.Contains(rest, " = ")) {
			l = rest
		}
		r.WriteString(l + "\n")
	}
	recipes, problems := readRecipes([]byte(r.String()), &c, loaded(t))
	if len(problems) > 0 || len(recipes) != 1 || len(recipes[0].Ingredients) != 1 {
		t.Errorf("%+v\n%s", recipes, lines(problems))
	}
}

func FuzzYardFile(f *testing.F) {
	b, err := os.ReadFile("../testdata/yards/fernbrook/yard.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(b))
	f.Add("[site.normals]\ntmin_c = [1]\n[[site]]\n[site]\n[place.x]\n")
	f.Add("[[recipe]]\n[[recipe.ingredient]]\n[recipe.x.y]\n")
	f.Add("[a.b.c]\n[[plan.targets]]\n2028 = 1\n[[recipe.ingredient.x]]\n")
	set := loaded(f)
	f.Fuzz(func(t *testing.T, s string) {
		c, problems := readConfig([]byte(s), set)
		_, more := readRecipes([]byte(s), &c, set)
		wholeProblems(t, problems, YardFile, s)
		wholeProblems(t, more, RecipesFile, s)
	})
}

func TestResample(t *testing.T) {
	for text, want := range map[string]bool{"": false, "resample = true\n": true, "resample = false\n": false} {
		c, problems := readConfig([]byte("[site]\nstation = \"oxford\"\n"+text), loaded(t))
		if len(problems) > 0 || c.Site.Resample != want {
			t.Errorf("%q: %v\n%s", text, c.Site.Resample, lines(problems))
		}
	}
}

// How fast a pot boils down is said from one level to another, or as what
// boils away; the hours and the difference are reckoned by hand.
func TestBoilsDown(t *testing.T) {
	for said, want := range map[string]float64{
		"1.5 l to 0.5 l in 2 h": 500, "2 l to 1 l in 2 h": 500, "2 to 1 l in 1 h": 1000, "2 l to 500 ml in 3 h": 500,
		"1 l in 2 h": 500, "1 to 1.5 l in 2 h": 625, "1-1.5 l in 2 h": 625, "1,5 l to 0,5 l in 30 min": 2000,
	} {
		if got, err := boilRate(said, nil); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v ml an hour, %v", said, got, err)
		}
	}
	for _, said := range []string{"", "quickly", "2 l to 1 l", "1.5 to 0.5 in 2 h", "1.5 l to 0.5 l in 0 h", "2 oz to 1 oz in 1 h", "to 1 l in 1 h", " to  in "} {
		if got, err := boilRate(said, nil); err == nil {
			t.Errorf("%q: %v", said, got)
		}
	}
}
