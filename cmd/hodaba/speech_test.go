package main

import (
	"maps"
	"math"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// speakers is a yard with a few piles, a recipe, a measure and a species of
// its own.
func speakers(t *testing.T) (*yard.Folder, *data.Set) {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	files := yard.InMemory(map[string]string{
		"yard.toml": `format = 1
name = "speech"
[site]
station = "oxford"
[measures]
basket = "1.8 kg"
[[species]]
name = "velvet foot"
like = "oyster"
`,
		"recipes.toml": `[[recipe]]
name = "five mushrooms"
jars = 2
spirit_per_jar = "500 ml"
spirit_abv_percent = 40
macerate_days = [14, 42]
shake_days = 14
method = "maceration only"
bottle = "100 ml"
[[recipe.ingredient]]
species = "shiitake"
per_jar = "25 g"
`,
		"journal.toml": "",
	})
	f, problems, err := yard.OpenFiles(files, set, yard.NewDate(2026, 5, 1))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	return f, set
}

// TestSpeech says entries the way growers say them.
func TestSpeech(t *testing.T) {
	f, set := speakers(t)
	for said, want := range map[string]string{
		"rained 14mm":                                       "rain=14mm",
		"rained 0.5 in yesterday":                           "rain=0.5 in on=yesterday",
		"watered oak-north 3h":                              "pile=oak-north hours=3",
		"watered oak-north birch-1 12 hours":                "piles=oak-north, birch-1 hours=12",
		"watered sprinkler 2,5 h":                           "how=sprinkler hours=2.5",
		"watered oak-nroth 3h":                              "pile=oak-nroth hours=3",
		"watered oak-north 3h from the stream":              "pile=oak-north hours=3 how=from the stream",
		"strained 26-03 612 ml":                             "batch=26-03 volume=612 ml",
		"strained 26-03 20.7 floz 1 lb 6 oz yesterday":      "batch=26-03 volume=20.7 floz marc=1 lb 6 oz on=yesterday",
		"strained 26-03 1 300ml":                            "batch=26-03 jars=1 volume=300ml",
		"decocted 26-03 1500ml 500ml 2 h":                   "batch=26-03 water=1500ml volume=500ml simmer_hours=2",
		"soaked oak-north A 12 logs 24h":                    "pile=oak-north part=A logs=12 soak_hours=24",
		"soaked oak-north yesterday":                        "pile=oak-north on=yesterday",
		"loaded A shiitake 2.4kg":                           "load=A species=shiitake fresh=2.4kg",
		"loaded A lion's mane 2.4 kg L-26-1":                "load=A species=lion's mane fresh=2.4 kg from=L-26-1",
		"loaded oak-north 2.4kg":                            "fresh=2.4kg from=oak-north",
		"loaded B 2.4kg oak-north":                          "load=B fresh=2.4kg from=oak-north",
		"loaded velvet foot 2.4kg":                          "species=velvet foot fresh=2.4kg",
		"loaded 2.4 kg oyster":                              "species=oyster fresh=2.4 kg",
		"loaded shiitake 2.4kg":                             "species=shiitake fresh=2.4kg",
		"loaded 26-14 lion's mane 3 lb 2 oz oak-north":      "load=26-14 species=lion's mane fresh=3 lb 2 oz from=oak-north",
		"ground shiitake 200 g D-26-03":                     "species=shiitake dry=200 g lot=D-26-03",
		"spoiled shiitake 500g":                             "what=shiitake amount=500g",
		"spoiled dried lion's mane 80 g":                    "what=dried lion's mane amount=80 g",
		"spoiled 26-03 2":                                   "what=26-03 amount=2",
		"sold shiitake 1.2kg market":                        "species=shiitake fresh=1.2kg to=market",
		"sold shiitake powder 100 g":                        "species=shiitake form=powder dry=100 g",
		"sold 26-03 6 x 100 ml the herb shop":               "lot=26-03 bottles=6 x 100 ml to=the herb shop",
		"sold 26-03 6 bottles":                              "lot=26-03 bottles=6",
		"sold shiitake 4 logs yesterday":                    "species=shiitake logs=4 on=yesterday",
		"given lion's mane 500 g a neighbour":               "species=lion's mane fresh=500 g to=a neighbour",
		"eaten 26-03 1":                                     "lot=26-03 bottles=1",
		"cleaned the drier":                                 "what=the drier",
		"broken drier until 2026-06-01":                     "what=drier until=2026-06-01",
		"broken tank yesterday":                             "what=tank on=yesterday",
		"changed soak.tank_logs 24":                         "key=soak.tank_logs value=24",
		"changed drier.load 6 kg":                           "key=drier.load value=6 kg",
		"planned birch-3 shiitake 30 logs 2027-03":          "pile=birch-3 species=shiitake logs=30 month=2027-03",
		"planned soak oak-north A 2026-W30":                 "soak=oak-north part=A week=2026-W30",
		"put_off soak oak-north A until 2026-06-01":         "task=soak oak-north A until=2026-06-01",
		"added 26-03 reishi 10g":                            "batch=26-03 species=reishi dry=10g",
		"added 26-03 turkey tail powder 1.5 oz TT-26-1":     "batch=26-03 species=turkey tail form=powder dry=1.5 oz lot=TT-26-1",
		"shaken 26-03":                                      "batch=26-03",
		"shaken 26-03 7 days yesterday":                     "batch=26-03 days=7 on=yesterday",
		"blended 26-03 610ml 500 ml 1090ml 24%":             "batch=26-03 spirit_part=610ml decoction_part=500 ml volume=1090ml abv_percent=24",
		"blended 26-05 26-03 400 ml 26-04":                  "batch=26-05 from=26-03 400 ml, 26-04",
		"blended 26-03 1 1 22,5 %":                          "batch=26-03 spirit_part=1 decoction_part=1 abv_percent=22.5",
		"discarded 26-03 1 jar broke":                       "batch=26-03 jars=1 why=broke",
		"discarded 26-03 200ml spilt over the bench":        "batch=26-03 volume=200ml why=spilt over the bench",
		"discarded 26-03 mould":                             "batch=26-03 why=mould",
		"weighed oak-north 4 logs 31kg":                     "pile=oak-north logs=4 mass=31kg",
		"weighed oak-north 4 logs 68 lb 6 oz":               "pile=oak-north logs=4 mass=68 lb 6 oz",
		"harvested oak-north 2.4kg":                         "pile=oak-north fresh=2.4kg",
		"harvested oak-north 2.4 kg":                        "pile=oak-north fresh=2.4 kg",
		"harvested oak-north 12 logs 3 lb 2 oz":             "pile=oak-north logs=12 fresh=3 lb 2 oz",
		"harvested oak-north birch-1 2 basket":              "piles=oak-north, birch-1 fresh=2 basket",
		"harvested oak-north about 2 kg 2026-04-28":         "pile=oak-north fresh=about 2 kg on=2026-04-28",
		"harvested oak-north shiitake 900g yesterday":       "pile=oak-north species=shiitake fresh=900g on=yesterday",
		"inoculated oak-n shiitake 40 logs white oak 12cm":  "pile=oak-n species=shiitake logs=40 wood=white oak diameter=12cm",
		"inoculated oak-n shiitake cold-weather oak 40":     "pile=oak-n species=shiitake strain=cold-weather wood=oak logs=40",
		"inoculated b lion's mane 20 logs beech 5 in 40 in": "pile=b species=lion's mane logs=20 wood=beech diameter=5 in length=40 in",
		"inoculated b velvet foot 10-15 cm 100cm plug":      "pile=b species=velvet foot diameter=10-15 cm length=100cm spawn=plug",
		"inoculated b turkey tail 2025-04":                  "pile=b species=turkey tail on=2025-04",
		"arrived gift shiitake 18 logs part":                "pile=gift species=shiitake logs=18 state=part",
		"buried bed-1 reishi 12 logs beech 12cm":            "bed=bed-1 species=reishi logs=12 wood=beech diameter=12cm",
		"buried bed-1 reishi 12 logs 12cm":                  "bed=bed-1 species=reishi logs=12 diameter=12cm",
		"checked oak-north 7/10":                            "pile=oak-north with_mycelium=7 looked_at=10",
		"checked oak-north 7 of 10":                         "pile=oak-north with_mycelium=7 looked_at=10",
		"walked oak-north birch-1":                          "piles=oak-north, birch-1",
		"noticed oak-north slugs and mice":                  "pile=oak-north what=slugs and mice",
		"noticed oak-north 3 logs other fungus":             "pile=oak-north logs=3 what=other fungus",
		"pinned oak-north 5 logs":                           "pile=oak-north logs=5",
		"lost oak-north 2 slugs":                            "pile=oak-north logs=2 cause=slugs",
		"retired oak-north 2":                               "pile=oak-north logs=2",
		"moved oak-north under the hazel":                   "pile=oak-north place=under the hazel",
		"split oak-north 12 logs oak-south":                 "pile=oak-north logs=12 into=oak-south",
		"counted oak-north 37":                              "pile=oak-north logs=37",
		"counted shiitake 250g powder":                      "species=shiitake dry=250g form=powder",
		"counted five mushrooms 6 x 100 ml":                 "recipe=five mushrooms bottles=6 x 100 ml",
		"dried shiitake 1.2kg 140g":                         "species=shiitake fresh=1.2kg dry=140g",
		"dried lion's mane 1.2 kg 110 g LM-26-1":            "species=lion's mane fresh=1.2 kg dry=110 g lot=LM-26-1",
		"dried shiitake 2 lb 4 oz":                          "species=shiitake fresh=2 lb dry=4 oz",
		"dried shiitake 2 lb 4 oz 5 oz":                     "species=shiitake fresh=2 lb 4 oz dry=5 oz",
		"dried shiitake 140g":                               "species=shiitake dry=140g",
		"received cordyceps 200g indoor":                    "species=cordyceps dry=200g from=indoor",
		"bought 5 l spirit":                                 "amount=5 l item=spirit",
		"bought 2 kg shiitake spawn":                        "amount=2 kg item=shiitake spawn",
		"macerated 26-03 five mushrooms":                    "batch=26-03 recipe=five mushrooms",
		"bottled 26-03 10 x 100 ml":                         "batch=26-03 bottles=10 x 100 ml",
	} {
		words := strings.Fields(said)
		s := newSpeech(words[0], map[string]string{}, f, set)
		s.know([]string{"oak-north", "birch-1"})
		s.hear(words[1:])
		if len(s.left) > 0 {
			t.Errorf("%s: nobody took %q", said, s.left)
		}
		if got := pairs(t, want); !maps.Equal(s.values, got) {
			t.Errorf("%s:\n got %v\nwant %v", said, s.values, got)
		}
		if text, problems := yard.Compose(words[0], s.values, f.Terms()); text == "" {
			t.Errorf("%s: cannot be composed: %v", said, problems)
		}
	}
}

// pairs reads "a=b c=d e" with blanks in values.
func pairs(t *testing.T, s string) map[string]string {
	t.Helper()
	out, key := map[string]string{}, ""
	for _, w := range strings.Fields(s) {
		if k, v, ok := strings.Cut(w, "="); ok {
			key, out[k] = k, v
			continue
		}
		out[key] += " " + w
	}
	return out
}

// FuzzSpeech says anything: no word is lost without notice, and nothing
// panics.
func FuzzSpeech(f *testing.F) {
	for _, s := range []string{"harvested a 2.4kg", "checked a 7/10 8/9", "dried shiitake 1e309 kg", "walked \x00 ,,, a", "counted - - -",
		"inoculated 2026-05 2026-05 12cm", "lost oak 99999999999999999999 logs", "bottled x 0 x 0 ml"} {
		f.Add(s)
	}
	set, err := data.Load()
	if err != nil {
		f.Fatal(err)
	}
	folder, _, err := yard.OpenFiles(yard.InMemory(map[string]string{"yard.toml": "format = 1\n[site]\nstation = \"oxford\"\n"}), set, yard.NewDate(2026, 5, 1))
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, said string) {
		words := strings.Fields(said)
		if len(words) == 0 || yard.KeysOf(words[0]) == nil || len(words) > 50 {
			return
		}
		s := newSpeech(words[0], map[string]string{}, folder, set)
		s.hear(words[1:])
		yard.Compose(words[0], s.values, folder.Terms())
		if len(words) > 1 && len(s.left) == 0 && len(s.values) == 0 {
			t.Errorf("%q: lost without notice", said)
		}
	})
}

func TestShiftYears(t *testing.T) {
	got := shiftYears(`on = 2024-03-23
lot = "SP-24-1"
batch = "HF-25-01"
inoculated = "2022"
fresh = "2.4 kg"
entry = "hanger-24"
`, 5)
	want := `on = 2029-03-23
lot = "SP-29-1"
batch = "HF-30-01"
inoculated = "2027"
fresh = "2.4 kg"
entry = "hanger-24"
`
	if got != want {
		t.Errorf("%s", got)
	}
}

func TestDemoIsAlwaysInItsThirdYear(t *testing.T) {
	for _, c := range []struct {
		y, m, d, begins int
	}{{2026, 3, 31, 2023}, {2026, 4, 1, 2024}, {2027, 3, 31, 2024}, {2028, 2, 29, 2025}} {
		if got := demoYear(yard.NewDate(c.y, 1, 1).AddMonths(c.m-1) + yard.Date(c.d-1)); got != c.begins {
			t.Errorf("%v: begins in %d", c, got)
		}
	}
}

func TestWritersOfTwoComputersDiffer(t *testing.T) {
	dir := t.TempDir()
	a, b := hostWord(dir, "mushroomhouse-1"), hostWord(dir, "mushroomhouse-2")
	if a == b {
		t.Errorf("both are called %q", a)
	}
	if again := hostWord(dir, "mushroomhouse-1"); again != a {
		t.Errorf("%q became %q", a, again)
	}
	if w := hostWord(dir, ""); w == "" {
		t.Error("a computer without a name has no writer")
	}
}

func TestPlaces(t *testing.T) {
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	for said, ok := range map[string]bool{"51.7, -1.3": true, "51.7 -1.3": true, "oxford": true, "Oxford": true,
		"95, 0": false, "nowhere": false, "NaN, 0": false, "": false, ",": false} {
		p := place{latitude: math.NaN(), longitude: math.NaN(), elevation: math.NaN()}
		if err := p.setPlace(said, set); (err == nil) != ok {
			t.Errorf("%q: %v", said, err)
		}
	}
}
