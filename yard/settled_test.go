package yard

import "testing"

// What was short is told until somebody counts: the way out that is said
// works when it is followed on the same day or later.
func TestCountSettlesShortages(t *testing.T) {
	pile := began("a", "logs = 20") + began("b", "logs = 20")
	shelf := entry("received", "2025-01-01", `species = "shiitake"`, `dry = "100 g"`, `lot = "S1"`)
	bottles := entry("counted", "2025-01-01", `recipe = "five mushrooms"`, "bottles = 5")
	for name, c := range map[string]struct{ text, count, other string }{
		"logs lost":        {pile + entry("lost", "2025-01-01", `pile = "a"`, "logs = 30"), entry("counted", "2026-05-01", `pile = "a"`, "logs = 3"), entry("counted", "2026-05-01", `pile = "b"`, "logs = 20")},
		"how many not":     {pile + entry("lost", "2025-01-01", `pile = "a"`), entry("counted", "2025-01-01", `pile = "a"`, "logs = 3"), entry("counted", "2024-12-31", `pile = "a"`, "logs = 20")},
		"logs soaked":      {pile + entry("soaked", "2025-06-01", `pile = "a"`, "logs = 21"), entry("counted", "2026-05-01", `pile = "a"`, "logs = 20"), ""},
		"dried of species": {shelf + entry("eaten", "2025-02-01", `species = "shiitake"`, `dry = "150 g"`), entry("counted", "2026-05-01", `species = "Lentinula edodes"`, `dry = "20 g"`), entry("counted", "2026-05-01", `species = "reishi"`, `dry = "20 g"`)},
		"dried of a lot":   {shelf + entry("eaten", "2025-02-01", `lot = "S1"`, `dry = "150 g"`), entry("counted", "2026-05-01", `lot = "S1"`, `dry = "20 g"`), ""},
		"ground":           {shelf + entry("ground", "2025-02-01", `species = "shiitake"`, `dry = "150 g"`), entry("counted", "2026-05-01", `species = "shiitake"`, `form = "pieces"`, `dry = "0 g"`), ""},
		"bottles":          {bottles + entry("sold", "2025-02-01", "bottles = 9"), entry("counted", "2026-05-01", `recipe = "five mushrooms"`, "bottles = 2"), ""},
		"bottles of none":  {entry("sold", "2025-02-01", "bottles = 9"), entry("counted", "2026-05-01", `recipe = "five mushrooms"`, "bottles = 0"), ""},
		"of an old batch":  {entry("sold", "2025-02-01", `lot = "X-1"`, "bottles = 9"), entry("counted", "2026-05-01", `recipe = "five mushrooms"`, `lot = "X-1"`, "bottles = 4"), entry("counted", "2026-05-01", `recipe = "five mushrooms"`, `lot = "X-2"`, "bottles = 4")},
	} {
		for _, k := range []struct {
			more string
			odd  int
		}{{"", 1}, {c.other, 1}, {c.count, 0}} {
			_, m := yardOf(t, c.text+k.more)
			m.files[RecipesFile] = []byte("[[recipe]]\nname = \"five mushrooms\"\njars = 1\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 40\nmacerate_days = [14, 42]\nmethod = \"maceration only\"\nbottle = \"100 ml\"\n[[recipe.ingredient]]\nspecies = \"shiitake\"\nper_jar = \"50 g\"\n")
			f := mergeReopen(t, m)
			if problems := f.Check(); len(problems) != k.odd {
				t.Errorf("%s, and then %q: %s", name, k.more, lines(problems))
			}
			s, _ := f.State(may, 0)
			if k.odd == 0 {
				for _, b := range s.Bottles {
					if b.count() < 0 {
						t.Errorf("%s: %d bottles are left", name, b.count())
					}
				}
			}
		}
	}
}
