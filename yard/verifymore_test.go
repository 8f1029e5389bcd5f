package yard

import (
	"strings"
	"testing"
)

// signedEntry is an entry as the program writes it.
func signedEntry(kind, written, on, id string, keys ...string) string {
	return "\n[[" + kind + "]]\nwritten = " + written + "\non = " + on + "\n" + strings.Join(keys, "\n") + "\nentry = \"" + id + "\"\n"
}

// What a grower would want pointed at, each alone in its yard; and the same
// done rightly, of which nothing is said.
func TestOddThings(t *testing.T) {
	pile := began("a", "logs = 20")
	shelf := entry("received", "2025-01-01", `species = "shiitake"`, `dry = "2 kg"`)
	batch := func(keys ...string) string {
		return shelf + entry("macerated", "2025-06-01", append([]string{`batch = "b1"`, `recipe = "x"`, `jars = 1`}, keys...)...)
	}
	up := batch(`spirit = "1 l"`, `spirit_abv_percent = 40`, `ingredients = [{species = "shiitake", dry = "50 g"}]`)
	strained := entry("strained", "2025-07-01", `batch = "b1"`, `volume = "900 ml"`)
	blended := entry("blended", "2025-07-02", `batch = "b1"`, `volume = "1800 ml"`)
	pick := entry("harvested", "2025-09-10", `pile = "a"`, `fresh = "2 kg"`, `lot = "L1"`)
	twice := signedEntry("harvested", "2025-09-10T18:00:00", "2025-09-10", "k-1", `pile = "a"`, `fresh = "2 kg"`)
	for name, c := range map[string]struct{ text, want string }{
		"a good batch":             {up + strained + blended + entry("bottled", "2025-07-02", `batch = "b1"`, `bottles = [{size = "100 ml", count = 17}]`), ""},
		"more bottled":             {up + strained + blended + entry("bottled", "2025-07-02", `batch = "b1"`, `bottles = [{size = "100 ml", count = 20}]`), "2000 ml are in bottles of batch b1, and 1800 ml were blended"},
		"proof for per cent":       {batch(`spirit = "1 l"`, `spirit_abv_percent = 100`, `ingredients = [{species = "shiitake", dry = "50 g"}]`), "spirit of 100 % is stronger than distilling gives"},
		"weak spirit":              {batch(`spirit = "1 l"`, `spirit_abv_percent = 4`, `ingredients = [{species = "shiitake", dry = "50 g"}]`), "spirit of 4 % is weak"},
		"kilograms for grams":      {batch(`spirit = "1 l"`, `spirit_abv_percent = 40`, `ingredients = [{species = "shiitake", dry = "1.2 kg"}]`), "1200 g of dried goods went into 1000 ml of spirit"},
		"strained before begun":    {up + entry("strained", "2025-05-01", `batch = "b1"`), "batch b1 was begun on 2025-06-01, after this, on 2025-05-01"},
		"blended before strained":  {up + strained + entry("blended", "2025-06-20", `batch = "b1"`), "batch b1 was blended on 2025-06-20, before it was strained, on 2025-07-01"},
		"bottled before strained":  {up + strained + entry("bottled", "2025-06-20", `batch = "b1"`, `bottles = [{size = "100 ml", count = 5}]`), "bottled on 2025-06-20, before it was strained, on 2025-07-01"},
		"dried in time":            {pile + pick + entry("dried", "2025-09-11", `species = "shiitake"`, `fresh = "2 kg"`, `dry = "200 g"`), ""},
		"dried before picked":      {pile + pick + entry("dried", "2025-09-01", `species = "shiitake"`, `fresh = "2 kg"`, `dry = "200 g"`), "shiitake was dried on 2025-09-01, and first picked on 2025-09-10"},
		"dried before its lot":     {pile + entry("harvested", "2025-08-10", `pile = "a"`, `fresh = "2 kg"`) + pick + entry("dried", "2025-08-01", `species = "shiitake"`, `fresh = "2 kg"`, `dry = "200 g"`, `lot = "L1"`), "first picked on 2025-08-10"},
		"picked before it was":     {pile + entry("harvested", "2023-09-10", `pile = "a"`, `fresh = "2 kg"`), "is before the pile began"},
		"a gram of dried":          {entry("received", "2025-10-01", `species = "shiitake"`, `dry = "0.24 g"`), "look whether kilograms were meant"},
		"a ton, eaten since":       {entry("received", "2025-10-01", `species = "shiitake"`, `dry = "80 kg"`) + entry("eaten", "2025-10-02", `species = "shiitake"`, `dry = "60 kg"`), "look whether grams were meant"},
		"typed twice":              {pile + twice + signedEntry("harvested", "2025-09-10T19:00:00", "2025-09-10", "j-1", `pile = "A"`, `fresh = "2 kg"`, `by = "jk"`), "this says the same as entry k-1"},
		"two baskets of two":       {pile + twice + signedEntry("harvested", "2025-09-10T19:00:00", "2025-09-10", "j-1", `pile = "a"`, `fresh = "2.1 kg"`), ""},
		"went round twice":         {pile + signedEntry("walked", "2025-09-10T18:00:00", "2025-09-10", "k-1") + signedEntry("walked", "2025-09-10T19:00:00", "2025-09-10", "k-2"), ""},
		"twice, and one made void": {pile + twice + signedEntry("harvested", "2025-09-10T19:00:00", "2025-09-10", "j-1", `pile = "a"`, `fresh = "2 kg"`) + signedEntry("corrected", "2025-09-11T19:00:00", "2025-09-11", "j-2", `replaces = "j-1"`, `void = true`), ""},
		"written before it was":    {pile + signedEntry("walked", "2025-09-01T18:00:00", "2025-09-10", "k-1"), "it happened on 2025-09-10, and was written before, on 2025-09-01"},
		"a clock that runs ahead":  {pile + signedEntry("walked", "2031-09-01T18:00:00", "2025-09-10", "k-1"), "it was written on 2031-09-01, and today is 2026-05-01"},
		"more lost than there":     {pile + entry("lost", "2025-01-01", `pile = "a"`, `logs = 30`), "a had 20 logs left, and 30 were lost"},
		"grams for kilograms":      {entry("loaded", "2026-04-30", `species = "shiitake"`, `fresh = "850 kg"`), "850 kg in one load of the drier is a great deal"},
		"soaked in June":           {pile + entry("soaked", "2025-06-10", `pile = "a"`), ""},
	} {
		_, m := yardOf(t, c.text)
		m.files[RecipesFile] = []byte("[[recipe]]\nname = \"x\"\njars = 1\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 40\nmacerate_days = [14, 42]\nmethod = \"marc decocted\"\ndecoct_water = \"1500 ml\"\ndecoct_to = \"900 ml\"\nblend = \"1:1\"\nbottle = \"100 ml\"\n[[recipe.ingredient]]\nspecies = \"shiitake\"\nper_jar = \"50 g\"\n")
		problems := mergeReopen(t, m).Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
		for _, p := range problems {
			if p.Line == 0 || p.Remedy == "" {
				t.Errorf("%s: %+v", name, p)
			}
		}
	}
}

// A soak in the frost: measured where the yard has weather of its own, else
// where the month's nights freeze as a rule.
func TestOddFrost(t *testing.T) {
	cold := strings.Replace(smallYard, `station = "oxford"`, "[site.normals]\ntmin_c = [-8, -7, -3, 2, 6, 10, 12, 11, 8, 4, 0, -5]\ntmax_c = [-1, 0, 5, 10, 15, 19, 21, 20, 16, 10, 4, 0]\nrain_mm = [50, 40, 40, 40, 50, 60, 70, 70, 60, 60, 60, 50]\n", 1)
	for name, c := range map[string]struct{ yard, weather, on, want string }{
		"mild as a rule":      {smallYard, "", "2025-01-10", ""},
		"freezes as a rule":   {cold, "", "2025-01-10", "nights of January freeze as a rule (-8 °C)"},
		"measured mild":       {cold, "2025-01-10,3,8,0\n", "2025-01-10", ""},
		"measured frost":      {smallYard, "2025-01-10,-6,1,0\n", "2025-01-10", "that night -6 °C were measured"},
		"one night of a week": {smallYard, "2025-01-07,-6,1,0\n", `"2025-W02"`, "-6 °C were measured"},
		"only the year":       {cold, "", `"2025"`, ""},
		"summer":              {cold, "", "2025-07-10", ""},
	} {
		_, m := yardOf(t, began("a", "logs = 20")+entry("soaked", c.on, `pile = "a"`))
		m.files[YardFile] = []byte(c.yard)
		if c.weather != "" {
			m.files[WeatherFile] = []byte("date,tmin_c,tmax_c,rain_mm\n" + c.weather)
		}
		problems := mergeReopen(t, m).Check()
		if c.want == "" && has(problems, 0, "soaked on") || c.want != "" && !has(problems, 0, c.want) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}

// Other versions of the files, as programs leave them that keep folders alike.
func TestOtherVersions(t *testing.T) {
	extra := mendWhole + mendTheirs
	for name, c := range map[string]struct {
		file, text string
		grade      Grade
		want       string // "": nothing is said
	}{
		"more in it":               {"journal (conflicted copy 2026-05-01).toml", extra, Aside, "entries that only it has: 1"},
		"a name by the device":     {"journal-BARN.toml", extra, Aside, "`hodaba merge journal-BARN.toml` takes them over"},
		"a name by the moment":     {"journal.sync-conflict-20260501-101010-ABCDEFG.toml", extra, Aside, "entries that only it has: 1"},
		"numbered":                 {"journal(1).toml", extra, Aside, "entries that only it has: 1"},
		"copied by hand":           {"Copy of journal.toml", extra, Aside, "`hodaba merge 'Copy of journal.toml'`"},
		"kept by an editor":        {"journal.toml~", extra, Aside, "entries that only it has: 1"},
		"kept before a merge":      {"journal.toml.orig", extra, Aside, "entries that only it has: 1"},
		"behind the ending":        {"journal.toml (conflict of barn 2026-05-01)", extra, Aside, "entries that only it has: 1"},
		"behind it with a line":    {"journal.toml_conflict-20260501-101010", extra, Aside, "entries that only it has: 1"},
		"no ending":                {"journal (1)", extra, Aside, "entries that only it has: 1"},
		"torn by its name":         {"journal-torn-laptop.toml", extra, Aside, "entries that only it has: 1"},
		"another ending":           {"journal.conflict.bak", extra, Aside, "entries that only it has: 1"},
		"a letter on the journal":  {"journal.md", "# Journal\n\nWrite every day.\n", Odd, ""},
		"yard.toml in German":      {"Kopie von yard.toml", smallYard, Odd, "another version of yard.toml"},
		"recipes.toml in front":    {"Copy of recipes.toml", "", Odd, "another version of recipes.toml"},
		"yard.toml before a merge": {"yard.toml.orig", smallYard, Odd, "another version of yard.toml"},
		"notes of the yard":        {"notes of the yard.txt", "", Odd, ""},
		"a copy in .hodaba":        {".hodaba/journal-friday (1).toml", extra, Aside, "entries that only it has: 1"},
		"what was kept in mending": {".hodaba/journal-before-2026-05-01.toml", mendWhole, Odd, ""},
		"the same":                 {"journal-old.toml", mendWhole, Odd, "everything in it is in the journal, too"},
		"the same otherwise":       {"journal-old.toml", strings.Replace(mendWhole, "on      = 2026-04-01", "on = 2026-03-31", 1), Odd, "says some things otherwise"},
		"torn ones, missed":        {"journal-torn-2026-05-01.toml", mendTheirs, Odd, "what was set aside here is not in the journal"},
		"a file of something else": {"plan.toml", "[[walked]]\non = 2026-04-01\n", Odd, ""},
		"no TOML at all":           {"letter.toml", "Dear all,\n", Odd, ""},
		"yard.toml again":          {"yard (1).toml", smallYard, Odd, "another version of yard.toml"},
		"recipes.toml again":       {"recipes-BARN.toml", "", Odd, "another version of recipes.toml"},
		"weather.csv again":        {"weather (2).csv", "", Odd, "`hodaba import weather 'weather (2).csv'`"},
		"what an import kept":      {"weather-before-2026-05-01.csv", "", Odd, ""},
		"the yardage":              {"yardage.toml", "", Odd, ""},
	} {
		_, m := yardOf(t, mendWhole)
		m.files[c.file] = []byte(c.text)
		problems := mergeReopen(t, m).Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want) || problems[0].Grade != c.grade || problems[0].File != c.file) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}

// The marks of version control are told once, by their line, and nothing else
// that is wrong between them.
func TestMarked(t *testing.T) {
	both := "<<<<<<< HEAD\n" + mendMine + "=======\n" + mendTheirs + ">>>>>>> barn\n"
	for name, c := range map[string]struct {
		files map[string]string
		where string
		line  int
		want  string
	}{
		"both whole":    {map[string]string{JournalFile: mendWhole + both}, JournalFile, 6, "`hodaba verify --mend` keeps the entries of both sides"},
		"not whole":     {map[string]string{JournalFile: mendWhole + "<<<<<<< HEAD\n[[walked]]\non =\n=======\n>>>>>>> barn\n"}, JournalFile, 6, "take the lines of signs out by hand"},
		"not closed":    {map[string]string{JournalFile: mendWhole + "<<<<<<< HEAD\n" + mendMine}, JournalFile, 6, "the marks do not come in order"},
		"yard.toml":     {map[string]string{JournalFile: mendWhole, YardFile: smallYard + "<<<<<<< HEAD\n[farm]\nname = \"A\"\n=======\n[farm]\nname = \"B\"\n>>>>>>> barn\n"}, YardFile, 9, "keep what is right"},
		"weather.csv":   {map[string]string{JournalFile: mendWhole, WeatherFile: "date,tmin_c,tmax_c,rain_mm\n<<<<<<< HEAD\n2026-04-01,1,9,0\n=======\n2026-04-01,2,9,0\n>>>>>>> barn\n"}, WeatherFile, 2, "keep what is right"},
		"a drawn line":  {map[string]string{JournalFile: mendWhole + "# =======\n# >>>>>>> look here\n"}, "", 0, ""},
		"in a note too": {map[string]string{JournalFile: mendWhole + "[[walked]]\non = 2026-04-02\nnote = \"\"\"\n=======\n\"\"\"\n"}, "", 0, ""},
	} {
		_, m := yardOf(t, "")
		for name, text := range c.files {
			m.files[name] = []byte(text)
		}
		problems := mergeReopen(t, m).Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || problems[0].File != c.where || problems[0].Line != c.line || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}
