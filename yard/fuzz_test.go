package yard

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// wholeProblems fails where a problem says nothing, names no way out, or a
// line that is not there.
func wholeProblems(t *testing.T, problems []Problem, file, text string) {
	t.Helper()
	for _, p := range problems {
		if p.Text == "" || p.Remedy == "" {
			t.Fatalf("%q: an empty problem: %+v", text, p)
		}
		if p.File == file && (p.Line < 0 || p.Line > strings.Count(text, "\n")+1) {
			t.Fatalf("%q: line %d of %d: %s", text, p.Line, strings.Count(text, "\n")+1, p)
		}
		if len(p.String()) > 2000 {
			t.Fatalf("a message of %d letters: %.300s … %s", len(p.String()), p, p.String()[len(p.String())-200:])
		}
	}
}

// FuzzCut: the pieces of a file are the file, every byte and line of it once
// and in order, also where pieces are taken back.
func FuzzCut(f *testing.F) {
	f.Add("[[a]]\nx = \"\"\"\n[[b]]\n\"\"\"\n[[c]]\n", uint8(3))
	f.Add("# remark\r\n[a]\n[[\n[b", uint8(0))
	f.Add("[[a]] '''\n[[b]] \\'''\n[[c]] \"\"\"\"\"\n", uint8(255))
	f.Add("\xef\xbb\xbf[[a]]\n\x00\xff\n", uint8(1))
	f.Fuzz(func(t *testing.T, text string, back uint8) {
		c := &cutter{b: []byte(text), line: 1}
		at, line := 0, 1
		for n := 0; ; n++ {
			p, ok := c.next()
			if !ok {
				break
			}
			if back>>(n%8)&1 == 1 {
				c.shorten(&p)
			}
			if p.start != at || p.line != line || len(p.text) == 0 || string(p.text) != text[at:at+len(p.text)] {
				t.Fatalf("%q: piece %d is of byte %d, line %d; want %d, %d", text, n, p.start, p.line, at, line)
			}
			at, line = at+len(p.text), line+strings.Count(string(p.text), "\n")
		}
		if at != len(text) {
			t.Fatalf("%q: the bytes from %d on are in no piece", text, at)
		}
	})
}

// FuzzRecipes: whatever stands in recipes.toml, a recipe that is used makes
// sense.
func FuzzRecipes(f *testing.F) {
	set := loaded(f)
	for _, r := range set.Recipes {
		f.Add(r.Text)
	}
	f.Add("[[recipe]]\nname = \"x\"\njars = 1\nspirit_per_jar = \"500 ml\"\nspirit_abv_percent = 40\nmacerate_days = [[1], 2]\nblend = \"1:0\"\n[[recipe.ingredient]]\nspecies = \"reishi\"\nper_jar = \"1e3 g\"\nor = [\"a\", 1]\n")
	f.Add("recipe = [{name = \"x\", method = \"decoction only\", ingredient = [{species = \"reishi\", per_jar = \"1 g\"}, 7]}]\n")
	f.Add("[recipe]\nname = 5\n[[recipe.ingredient]]\n[recipe.ingredient.x]\n")
	f.Fuzz(func(t *testing.T, text string) {
		recipes, problems := readRecipes([]byte(text), &Config{}, set)
		wholeProblems(t, problems, RecipesFile, text)
		for i, r := range recipes {
			sound := r.Name != "" && r.Jars > 0 && slices.Contains(Methods, r.Method) && r.MacerateMin <= r.MacerateMax && r.MacerateMin >= 0 &&
				r.ToABV <= max(r.SpiritABV, 0) && r.SpiritPart+r.WaterPart > 0
			for _, v := range []float64{r.SpiritMLJar, r.SpiritABV, r.WaterML, r.DecoctToML, r.SimmerHours, r.SpiritPart, r.WaterPart, r.ToABV, r.BottleML} {
				sound = sound && v >= 0 && !math.IsInf(v, 0)
			}
			for _, in := range r.Ingredients {
				sound = sound && in.Species != "" && in.GramsJar > 0 && !math.IsInf(in.GramsJar, 0)
			}
			if !sound {
				t.Fatalf("%q: %+v", text, r)
			}
			if slices.ContainsFunc(recipes[:i], func(o Recipe) bool { return folded(o.Name) == folded(r.Name) }) {
				t.Fatalf("%q: two recipes are called %q", text, r.Name)
			}
		}
	})
}

// FuzzCompose: an entry that was composed of typed values is one entry, and
// composing what it says gives the same text.
func FuzzCompose(f *testing.F) {
	set := loaded(f)
	for i, k := range kinds {
		for j, key := range k.Keys {
			f.Add(uint8(i), uint8(j), key.Example)
		}
	}
	f.Add(uint8(16), uint8(5), "[{species = \"a\", dry = \"1 g\"}]\nentry = \"x\"")
	f.Add(uint8(0), uint8(0), "\"\n[[lost]]\n\x00\x1b\u202e")
	terms := Terms{Data: set, Today: may, Measures: map[string]Quantity{"basket": {Low: 1.8, High: 1.8, Unit: Kilogram}}}
	f.Fuzz(func(t *testing.T, i, j uint8, value string) {
		k := kinds[int(i)%len(kinds)]
		values := map[string]string{}
		for _, key := range k.Keys {
			if key.Required {
				values[key.Name] = key.Example
			}
		}
		values[k.Keys[int(j)%len(k.Keys)].Name] = value
		text, problems := Compose(k.Name, values, terms)
		wholeProblems(t, problems, "", text)
		if text == "" {
			if len(problems) == 0 {
				t.Fatalf("%s %v: nothing is composed, and nothing said", k.Name, values)
			}
			return
		}
		entries, _ := readText(text, &terms)
		if len(entries) != 1 || entries[0].Kind != k.Name || entries[0].Event == nil {
			t.Fatalf("%s %v: composed %q", k.Name, values, text)
		}
		said := entries[0].Values()
		again, problems := Compose(k.Name, said, terms)
		if again != text {
			t.Fatalf("%s: %q\nsays %v, composed anew\n%q\n%s", k.Name, text, said, again, lines(problems))
		}
		_, _, _ = entries[0].Says(), entries[0].Piles(), entries[0].Day()
	})
}

// FuzzSetting: a dated change of a setting is taken over or explained, and
// leaves the settings before it as they were.
func FuzzSetting(f *testing.F) {
	for _, v := range []string{"24", "{a = 1}", "[[1], []]", "[{from = 2026-09-01, to = 2026-09-08}]", "2026-05-03", "nan", "1 l in 2 h", "after a year", "Mon, Tue"} {
		for _, k := range []string{"soak.tank_logs", "soak.first", "working.away", "working.closed", "working.weekdays", "drier.load", "kitchen.boils_down", "site.normals.tmin_c", ".", "plan.confidence_percent"} {
			f.Add(k, v)
		}
	}
	f.Add("soak."+strings.Repeat("v", 3000), "1")
	f.Add(strings.Repeat("v", 3000)+".soak", strings.Repeat("[", 3000))
	set := loaded(f)
	c, problems := readConfig([]byte(smallYard), set)
	if len(problems) > 0 {
		f.Fatal(lines(problems))
	}
	e := &Entry{ID: "kitchen-1", Line: 1, Text: "[[changed]]\nkey = 1\nvalue = 2\n"}
	f.Fuzz(func(t *testing.T, key, value string) {
		x := &Changed{Key: key, Value: value}
		got, problems := x.change(&c, e, set)
		wholeProblems(t, problems, JournalFile, e.Text)
		if (got == nil) == (len(problems) == 0) {
			t.Fatalf("%s = %q: %v, %s", key, value, got, lines(problems))
		}
		if got != nil && (got.Confidence < 0 || got.Confidence > 1 || got.Name != c.Name && !strings.HasPrefix(x.path(), "farm.") || got.Site.Station != c.Site.Station) {
			t.Fatalf("%s = %q: %+v", key, value, got)
		}
	})
}

// FuzzImport: whatever a table of weather looks like and whatever is said
// about it, it is read into weather that can be, or refused with the way out.
func FuzzImport(f *testing.F) {
	f.Add("date,tmin_c,tmax_c,rain_mm\n2026-04-01,1,9,0.2\n", "", "", "", "")
	f.Add("Datum;TN;TX;RH\n20260401;-12;105;-1\n20260402;10;115;5\n", "0.1 C", "0.1 mm", "", "")
	f.Add("station,day,low,high,precip\nA,1/4/2026,34,50,.1\nB,1/5/2026,34,50,.1\n", "F", "in", "month first", "A")
	f.Add("# STN: 260\n\nSTN,YYYYMMDD,   TN\n260,20260401,12\n", "", "", "", "260")
	f.Add("year,month,day,temp min [K],\"rain, mm\"\n2026,4,1,280,\"1,5\"\n", "K", "", "day first", "x")
	set := loaded(f)
	f.Fuzz(func(t *testing.T, text, temperature, rain, days, location string) {
		folder, _, err := OpenFiles(InMemory(map[string]string{YardFile: smallYard}), set, may)
		if err != nil {
			t.Fatal(err)
		}
		hints := Hints{Days: days, Location: location, Units: map[string]string{}}
		if temperature != "" {
			hints.Units["temperature"] = temperature
		}
		if rain != "" {
			hints.Units["rain"] = rain
		}
		p, err := ImportWeather(folder, strings.NewReader(text), hints)
		if err != nil {
			if err.Error() == "" || len(err.Error()) > 2000 {
				t.Fatalf("%q: %d letters: %.300s", text, len(err.Error()), err)
			}
			return
		}
		if bad := lawful(p.Weather, may); bad != "" || p.Weather == nil {
			t.Fatalf("%q: %s", text, bad)
		}
		known := 0
		for i := range p.Weather.Days {
			if p.Weather.Days[i].known() {
				known++
			}
		}
		if p.Merge.New != known || p.Merge.Changed()+p.Merge.Same+p.Merge.Filled > 0 {
			t.Fatalf("%q: %d days known, %+v", text, known, p.Merge)
		}
		for _, q := range p.Problems {
			if q.Text == "" || q.Line < 0 || q.Line > strings.Count(text, "\n")+strings.Count(text, "\r")+1 {
				t.Fatalf("%q: %+v", text, q)
			}
		}
	})
}
