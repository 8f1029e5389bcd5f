package yard

import "testing"

// Slips of the pen, each alone in its yard, and beside it what is sensible and
// near it, of which nothing is said.
func TestOddSlips(t *testing.T) {
	pile := began("a", "logs = 20", `diameter = "12 cm"`, `length = "100 cm"`)
	usual := ""
	for _, day := range []string{"2025-09-01", "2025-09-20", "2025-10-10"} {
		usual += entry("harvested", day, `pile = "a"`, `fresh = "1.2 kg"`)
	}
	shelf := entry("received", "2025-01-01", `species = "shiitake"`, `dry = "2 kg"`, `lot = "S1"`)
	put := func(spirit, dry string) string {
		return shelf + entry("macerated", "2025-06-01", `batch = "b1"`, `recipe = "x"`, `jars = 1`, `spirit = "`+spirit+`"`, `spirit_abv_percent = 40`, `ingredients = [{species = "shiitake", dry = "`+dry+`"}]`)
	}
	up := put("900 ml", "100 g")
	strained := up + entry("strained", "2025-07-01", `batch = "b1"`, `volume = "800 ml"`, `marc = "280 g"`)
	pot := func(keys ...string) string {
		return strained + entry("decocted", "2025-07-01", append([]string{`batch = "b1"`, `water = "1600 ml"`}, keys...)...)
	}
	boiled := pot(`volume = "500 ml"`)
	filled := entry("counted", "2025-01-01", `recipe = "x"`, "bottles = 20")
	for name, c := range map[string]struct{ text, want string }{
		"usual":                {pile + usual, ""},
		"a good flush":         {pile + usual + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "5 kg"`), ""},
		"three times by ten":   {pile + usual + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "12 kg"`), "12 kg from 20 logs is a great deal: the usual picking of a is 1.2 kg"},
		"bore on more logs":    {pile + entry("harvested", "2025-09-01", `pile = "a"`, `fresh = "1 kg"`, "logs = 60"), "a has 20 logs, and 60 are said to have borne"},
		"bore on all":          {pile + entry("harvested", "2025-09-01", `pile = "a"`, `fresh = "1 kg"`, "logs = 20"), ""},
		"pins on more logs":    {pile + entry("pinned", "2025-09-01", `pile = "a"`, "logs = 60"), "60 are said to show pins"},
		"slugs on more logs":   {pile + entry("noticed", "2025-09-01", `pile = "a"`, `what = "slugs"`, "logs = 21"), "21 are said to show slugs"},
		"soaked overnight":     {pile + entry("soaked", "2025-09-01", `pile = "a"`, "soak_hours = 12"), ""},
		"hardly soaked":        {pile + entry("soaked", "2025-09-01", `pile = "a"`, "soak_hours = 0.5"), "0.5 hours in the water hardly wet a log"},
		"soaked too young":     {pile + entry("soaked", "2024-05-10", `pile = "a"`), "a was soaked 28 days after it was inoculated"},
		"one half, the other":  {pile + entry("soaked", "2025-09-01", `pile = "a"`, "logs = 10") + entry("soaked", "2025-09-03", `pile = "a"`, "logs = 10"), ""},
		"some of them twice":   {pile + entry("soaked", "2025-09-01", `pile = "a"`, "logs = 10") + entry("soaked", "2025-09-03", `pile = "a"`, "logs = 12"), "22 logs of a were soaked within 21 days, and it has 20 logs"},
		"soon run through":     {pile + entry("checked", "2024-06-08", `pile = "a"`, "looked_at = 10", "with_mycelium = 10"), "10 of 10 logs of a show a ring 57 days after it was inoculated"},
		"a first ring":         {pile + entry("checked", "2024-08-08", `pile = "a"`, "looked_at = 10", "with_mycelium = 2"), ""},
		"run through":          {pile + entry("checked", "2025-04-08", `pile = "a"`, "looked_at = 10", "with_mycelium = 10"), ""},
		"rings gone":           {pile + entry("checked", "2025-04-08", `pile = "a"`, "looked_at = 10", "with_mycelium = 7") + entry("checked", "2025-04-10", `pile = "a"`, "looked_at = 10", "with_mycelium = 2"), "2 of 10 logs of a show a ring, and more of them did before"},
		"rings, other logs":    {pile + entry("checked", "2025-04-08", `pile = "a"`, "looked_at = 10", "with_mycelium = 7") + entry("checked", "2025-04-10", `pile = "a"`, "looked_at = 10", "with_mycelium = 4"), ""},
		"weighed":              {pile + entry("weighed", "2025-04-08", `pile = "a"`, "logs = 3", `mass = "31 kg"`), ""},
		"weighed, dried out":   {pile + entry("weighed", "2025-04-08", `pile = "a"`, "logs = 3", `mass = "15 kg"`), ""},
		"weighed light":        {pile + entry("weighed", "2025-04-08", `pile = "a"`, "logs = 3", `mass = "3.6 kg"`), "a log of a weighs 1.2 kg by this: green wood of its size weighs about 11.3 kg"},
		"weighed heavy":        {pile + entry("weighed", "2025-04-08", `pile = "a"`, "logs = 3", `mass = "364 kg"`), "weighs 121.3 kg"},
		"one for three":        {pile + entry("weighed", "2025-04-08", `pile = "a"`, "logs = 1", `mass = "36.4 kg"`), "weighs 36.4 kg"},
		"ten days of work":     {pile + entry("walked", "2025-04-08", "hours = 240"), "240 hours of work on one day"},
		"a working party":      {pile + entry("walked", "2025-04-08", "hours = 60", "people = 8"), ""},
		"the whole village":    {pile + entry("walked", "2025-04-08", "people = 200"), "200 people are many"},
		"a good batch":         {boiled + entry("blended", "2025-07-02", `batch = "b1"`, `volume = "1250 ml"`) + entry("bottled", "2025-07-02", `batch = "b1"`, `bottles = [{size = "100 ml", count = 12}]`), ""},
		"litres for 100 g":     {put("9 l", "100 g"), "9000 ml of spirit for 100 g of dried goods is a great deal"},
		"kilograms of marc":    {up + entry("strained", "2025-07-01", `batch = "b1"`, `volume = "800 ml"`, `marc = "4100 g"`), "the marc of batch b1 weighs 4100 g wet, and 100 g went in dry"},
		"added by the kilo":    {shelf + up[len(shelf):] + entry("added", "2025-06-02", `batch = "b1"`, `species = "shiitake"`, `dry = "1.5 kg"`), "with what was added, 1600 g of dried goods are in 900 ml"},
		"hardly strained":      {up + entry("strained", "2025-07-01", `batch = "b1"`, `volume = "60 ml"`), "60 ml were strained of batch b1, which had 900 ml of spirit"},
		"boiled to nothing":    {pot(`volume = "54 ml"`), "54 ml of decoction are left of 1600 ml of water"},
		"simmered over night":  {pot(`volume = "500 ml"`, `simmer_from = "14:00"`, `simmer_to = "13:00"`), "it simmered from 14:00 to 13:00: over night, 23 hours"},
		"over midnight":        {pot(`volume = "500 ml"`, `simmer_from = "22:00"`, `simmer_to = "01:00"`), ""},
		"hardly blended":       {boiled + entry("blended", "2025-07-02", `batch = "b1"`, `volume = "100 ml"`), "100 ml were blended of batch b1, and there were 1300 ml"},
		"one bottle":           {boiled + entry("bottled", "2025-07-02", `batch = "b1"`, `bottles = [{size = "100 ml", count = 1}]`), "100 ml are in bottles of batch b1, and there were 1300 ml"},
		"poured from nothing":  {up + entry("discarded", "2025-06-10", `batch = "b1"`, `volume = "5 l"`), "5000 ml of batch b1 were discarded, and there were 900 ml"},
		"spirit by the drop":   {entry("bought", "2025-06-10", `item = "spirit"`, `amount = "5 ml"`), "5 ml of spirit is very little: look whether litres were meant"},
		"spirit by the tank":   {entry("bought", "2025-06-10", `item = "grain spirit"`, `amount = "500 l"`), "look whether millilitres were meant"},
		"spirit":               {entry("bought", "2025-06-10", `item = "spirit"`, `amount = "5 l"`), ""},
		"one mushroom loaded":  {entry("loaded", "2026-04-30", `species = "shiitake"`, `fresh = "6 g"`), "6 g in a load of the drier is less than one mushroom"},
		"nothing dried":        {entry("dried", "2025-10-01", `species = "shiitake"`, `dry = "0 g"`), "0 g came out of the drier"},
		"more than it holds":   {entry("dried", "2025-10-01", `species = "shiitake"`, `dry = "5 kg"`), "5 kg dried is more than the 3 kg fresh of a load of the drier"},
		"a month's drying":     {entry("dried", "2025-10", `species = "shiitake"`, `dry = "5 kg"`), ""},
		"into another's lot":   {shelf + entry("dried", "2025-10-01", `species = "reishi"`, `dry = "300 g"`, `lot = "s1"`), "lot S1 is of shiitake, and here it is reishi"},
		"into its lot":         {shelf + entry("dried", "2025-10-01", `species = "shiitake"`, `dry = "300 g"`, `lot = "S1"`), ""},
		"six hundred bottles":  {filled + entry("counted", "2025-05-01", `recipe = "x"`, "bottles = 600"), "600 bottles of x were counted, and only 20 ever came"},
		"some more bottles":    {filled + entry("counted", "2025-05-01", `recipe = "x"`, "bottles = 40"), ""},
		"called as a batch":    {pile + up + entry("renamed", "2025-07-01", `pile = "a"`, `to = "B1"`), "B1 is the name of a batch, too"},
		"a bed from itself":    {entry("buried", "2025-01-01", `bed = "r"`, `species = "reishi"`, "logs = 8") + entry("buried", "2025-02-01", `bed = "r"`, `from = "r"`), "r is a bed, and was buried from itself"},
		"a pile into its name": {began("r", "logs = 8") + entry("buried", "2026-02-01", `bed = "r"`, `from = "r"`), ""},
	} {
		_, m := yardOf(t, c.text)
		m.files[YardFile] = []byte(smallYard + "[drier]\nload = \"3 kg\"\nhours_per_load = 14\n")
		m.files[RecipesFile] = []byte("[[recipe]]\nname = \"x\"\njars = 1\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 40\nmacerate_days = [14, 42]\nmethod = \"marc decocted\"\ndecoct_water = \"1500 ml\"\ndecoct_to = \"900 ml\"\nblend = \"1:1\"\nbottle = \"100 ml\"\n[[recipe.ingredient]]\nspecies = \"shiitake\"\nper_jar = \"50 g\"\n")
		problems := mergeReopen(t, m).Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
		for _, p := range problems {
			if p.Grade != Odd || p.Line == 0 || p.Remedy == "" {
				t.Errorf("%s: %+v", name, p)
			}
		}
	}
}
