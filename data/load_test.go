package data

import (
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
)

// loaded is the embedded set, or the end of the test.
func loaded(t *testing.T) *Set {
	t.Helper()
	s, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestLoadReturnsOneSet(t *testing.T) {
	a, b := loaded(t), loaded(t)
	if a != b {
		t.Error("two calls of Load gave two sets")
	}
	for _, want := range []string{"shiitake", "lion's mane", "piopino", "reishi", "turkey tail", "maitake", "oyster", "nameko", "cordyceps"} {
		sp, ok := a.FindSpecies(want)
		if !ok || sp.Name != want {
			t.Errorf("no species %s", want)
			continue
		}
		if sp.Grown != (want != "cordyceps") {
			t.Errorf("%s: grown is %v", want, sp.Grown)
		}
		if sp.Grown && len(sp.Look) == 0 || len(sp.Cautions) == 0 {
			t.Errorf("%s: look-alikes or cautions are missing", want)
		}
	}
}

// copied is the embedded directory, to plant faults in.
func copied(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(embedded, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := embedded.ReadFile(name)
		files[name] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// planted replaces the first old in a file by new.
func planted(t *testing.T, file, old, new string) fstest.MapFS {
	t.Helper()
	files := copied(t)
	text := string(files[file].Data)
	if !strings.Contains(text, old) {
		t.Fatalf("%s has no %q to plant a fault in", file, old)
	}
	files[file] = &fstest.MapFile{Data: []byte(strings.Replace(text, old, new, 1))}
	return files
}

func TestPlantedFaultsAreCaught(t *testing.T) {
	const shiitake, oyster, lions = "species/shiitake.toml", "species/oyster.toml", "species/lions-mane.toml"
	for _, c := range []struct{ name, file, old, new, want string }{
		{"broken TOML", shiitake, `grown   = true`, `grown   = `, `species/shiitake.toml: line 4`},
		{"unknown key", shiitake, `t_opt_c =`, `t_best_c =`, `unknown key strain.growth.t_best_c`},
		{"wrong type", shiitake, `value = 24.5`, `value = "warm"`, `species/shiitake.toml: `},
		{"unknown source", shiitake, `source = "myco_2016"`, `source = "myco_2061"`, `unknown source "myco_2061" (did you mean "myco_2016"?)`},
		{"no source", shiitake, `, source = "myco_2016"`, ``, `fresh: no source`},
		{"no quality", shiitake, `quality = "read", source = "myco_2016"`, `source = "myco_2016"`, `fresh: quality "" is none`},
		{"unknown quality", shiitake, `quality = "read", source = "myco_2016"`, `quality = "sure", source = "myco_2016"`, `quality "sure" is none`},
		{"weights not 1", shiitake, `0.333333, 0.333333`, `0.333333, 0.433333`, `year_weights sum to`},
		{"weight below 0", oyster, `[0.45, 0.35, 0.20]`, `[1.45, -0.65, 0.20]`, `year weight -0.65 is below 0`},
		{"range descends", shiitake, `low = 0.09`, `low = 0.29`, `0.29, 0.2, 0.3 do not ascend`},
		{"not finite", oyster, `low = 0.15`, `low = -inf`, `-Inf is no value`},
		{"growth descends", shiitake, `t_min_c = { value = 3`, `t_min_c = { value = 30`, `30, 24.5, 33 °C do not ascend`},
		{"growth missing", oyster, `t_max_c`, `#`, `t_min_c, t_opt_c and t_max_c are all wanted`},
		{"window station", shiitake, `"oxford"`, `"camelot"`, `unknown station "camelot"`},
		{"window day", shiitake, `"04-15"`, `"15 April"`, `inoculated "15 April"`},
		{"window descends", shiitake, `high_months = 18`, `high_months = 8`, `12 to 8 months do not ascend`},
		{"window of what", oyster, `"first crop"`, `"last crop"`, `of is "last crop"`},
		{"window relative to nothing", shiitake, `relative_to = "wide-range"`, `relative_to = "wide"`, `relative_to "wide" is no strain`},
		{"window relative to itself", shiitake, `relative_to = "wide-range"`, `relative_to = "cold-weather"`, `relative_to "cold-weather" is no strain`},
		{"season", oyster, `season     = "any"`, `season     = "spring"`, `season "spring"`},
		{"trigger", oyster, `"cooling"`, `"thunder"`, `trigger "thunder"`},
		{"trigger without its number", oyster, `cool_by_c`, `#`, `cool_by_c goes with trigger cooling`},
		{"falling without start", lions, `start_below_c`, `#`, `start_below_c goes with season falling`},
		{"chance", oyster, `chance     = { value = 0`, `chance     = { value = 7`, `is no chance`},
		{"days descend", shiitake, `days_warm  = { value = 7`, `days_warm  = { value = 70`, `days_warm 70 and days_cool 14 do not ascend`},
		{"efficiency", oyster, `high = 0.36`, `high = 29`, `efficiency 0.15 to 29 is no fraction`},
		{"efficiency without basis", oyster, `basis = "fresh over dry wood, over a log's life, per log inoculated", `, ``, `wants a basis`},
		{"efficiency of which logs", oyster, `per          = "inoculated"`, ``, `per ""; "inoculated" or "fruiting"`},
		{"efficiency over which wood", oyster, `over         = "dry"`, `over         = "wet"`, `over "wet"; "dry" or "green"`},
		{"basis of other wood", oyster, `over         = "dry"`, `over         = "green"`, `does not say over green wood`},
		{"basis of other logs", oyster, `per          = "inoculated"`, `per          = "fruiting"`, `per log fruiting`},
		{"wood of a yield", oyster, `woods      = ["beech", "European beech"]`, `woods      = ["birchbark"]`, `unknown wood "birchbark"`},
		{"wood of two yields", oyster, `woods      = ["aspen", "European aspen"]`, `woods      = ["aspen", "beech"]`, `"beech" stands twice`},
		{"yield of a wood without its keys", oyster, `over       = "dry"`, ``, `on beech, European beech: yield: over ""`},
		{"caution of what is published", oyster, `conflict     = `, `caution      = `, `caution goes with unpublished`},
		{"strain twice", shiitake, `"CW"`, `"WR", "CW", "cold weather"`, `the name "cold weather" stands twice`},
		{"wood of a suit", oyster, `woods = ["beech"]`, `woods = ["birchbark"]`, `suits: unknown wood "birchbark"`},
		{"how it suits", oyster, `how = "best"`, `how = "fine"`, `how "fine"`},
		{"not grown with a strain", oyster, `grown   = true`, `grown   = false`, `is not grown, so it has no strain`},
		{"file of another name", oyster, `name    = "oyster"`, `name    = "austern"`, `name the file after the species`},
		{"alias of two", oyster, `"oysters"`, `"oysters", "Hericium"`, `is a name of both`},
		{"wood gravity", woodsFile, `gravity = 0.6`, `gravity = 60`, `woods.toml: white oak: gravity 60`},
		{"wood moisture", woodsFile, `moisture = 68.26667`, `moisture = 0.68`, `green moisture 0.68`},
		{"alias of two woods", woodsFile, `aliases = ["American white oak"]`, `aliases = ["bur oak"]`, `"bur oak" is a name of both`},
		{"eleven months", stationsFile, `tmin_c = [2.4, `, `tmin_c = [`, `twelve values`},
		{"minimum above maximum", stationsFile, `tmin_c = [2.4, `, `tmin_c = [12.4, `, `oxford: month 1: minimum 12.4`},
		{"rain days without threshold", stationsFile, `rain_day_mm = `, `# `, `rain_days without rain_day_mm`},
		{"region unknown", stationsFile, `"british-isles"`, `"avalon"`, `unknown region "avalon"`},
		{"no licence", stationsFile, `licence =`, `note =`, `licence are all wanted`},
		{"period", stationsFile, `from = 1991`, `from = 2091`, `from 2091 to 2020`},
		{"region months", regionsFile, `anomaly_sd_c = [3.0, `, `anomaly_sd_c = [`, `anomaly_sd_c wants twelve`},
		{"judged what", regionsFile, `"days_ratio"`, `"day_ratio"`, `"day_ratio" is no key`},
		{"shares not 1", practiceFile, `value = 0.20`, `value = 0.30`, `shares sum to 1.1`},
		{"spawn form", practiceFile, `thimble =`, `thimbles =`, `spawn: thimble is wanted`},
		{"practice missing", practiceFile, `bed_depth_cm`, `#`, `bed_depth_cm is wanted`},
		{"source unused", sourcesFile, `judgement =`, "nobody = \"nobody\"\njudgement =", `nothing names the source "nobody"`},
		{"requirement of nobody", "requirement.toml", `# Solved`, "[[requirement]]\nspecies = \"yew\"\n# Solved", `no strain "" of "yew"`},
		{"requirement without spread", "requirement.toml", `# Solved`, "[[requirement]]\nspecies = \"oyster\"\nmu = 5\nsolved = true\n# Solved", `sigma 0 is not above 0`},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, err := load(planted(t, c.file, c.old, c.new))
			switch {
			case err == nil:
				t.Error("not caught")
			case !strings.Contains(err.Error(), c.want):
				t.Errorf("the error does not say %q:\n%v", c.want, err)
			case s != nil:
				t.Error("a set came along with the error")
			}
		})
	}
}

func TestAllFaultsAreCollected(t *testing.T) {
	files := planted(t, "species/shiitake.toml", `"oxford"`, `"camelot"`)
	files["practice.toml"] = planted(t, "practice.toml", `value = 0.20`, `value = 0.30`)["practice.toml"]
	delete(files, "species/oyster.toml")
	delete(files, "woods.toml")
	_, err := load(files)
	for _, want := range []string{"camelot", "shares sum", "woods.toml: cannot be read"} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error does not say %q:\n%v", want, err)
		}
	}
}

// Whatever stands in a species file, loading ends with a set or an error.
func FuzzSpeciesFile(f *testing.F) {
	for _, name := range []string{"species/oyster.toml", "species/reishi.toml", "species/chaga.toml"} {
		text, err := embedded.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add("[[strain]]\n[strain.fruit]\nshare = { low = nan }")
	sources, _ := embedded.ReadFile(sourcesFile)
	f.Fuzz(func(t *testing.T, text string) {
		s, err := load(fstest.MapFS{
			"species/oyster.toml": {Data: []byte(text)},
			sourcesFile:           {Data: sources},
		})
		if (s == nil) == (err == nil) {
			t.Errorf("set %v with error %v", s, err)
		}
	})
}

// Whatever stands in one of the other files of values, loading ends with a set
// or an error.
func FuzzValuesFile(f *testing.F) {
	others := []string{woodsFile, stationsFile, regionsFile, practiceFile, recipesFile, "requirement.toml", sourcesFile}
	for i, name := range others {
		text, err := embedded.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(uint8(i), string(text[:min(len(text), 3000)]))
	}
	f.Add(uint8(1), "[[station]]\nkey = \"x\"\ntmin_c = { value = [1, nan], quality = \"measured\", source = \"x\" }\n")
	sources, _ := embedded.ReadFile(sourcesFile)
	oyster, _ := embedded.ReadFile("species/oyster.toml")
	f.Fuzz(func(t *testing.T, which uint8, text string) {
		files := fstest.MapFS{sourcesFile: {Data: sources}, "species/oyster.toml": {Data: oyster}}
		files[others[int(which)%len(others)]] = &fstest.MapFile{Data: []byte(text)}
		s, err := load(files)
		if (s == nil) == (err == nil) {
			t.Errorf("set %v with error %v", s, err)
		}
	})
}
