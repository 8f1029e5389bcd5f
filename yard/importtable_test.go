package yard

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func importAll(t testing.TB, f *Folder, x *TableImport) {
	t.Helper()
	if len(x.Texts) == 0 {
		return
	}
	if _, _, err := f.RecordAll(context.Background(), x.Texts, "kitchen", atSix); err != nil {
		t.Fatal(err)
	}
}

func TestImportHarvests(t *testing.T) {
	const head = "on,pile,species,logs,fresh_kg,fresh\n"
	here := began("a", "logs = 20", `code = "AA"`) + signedEntry("harvested", "2025-09-10T18:00:00", "2025-09-10", "k-1", `pile = "a"`, `fresh = "2 kg"`) +
		signedEntry("harvested", "2025-09-11T18:00:00", "2025-09-11", "k-2", `pile = "a"`, `fresh = "3 kg"`, `note = "rain"`, `lot = "L"`)
	for name, c := range map[string]struct {
		table     string
		new, same int
		problem   string // "": none
		grade     Grade
		has       string // in the entries
	}{
		"new":                       {head + "2025-09-12,a,,7,1.4,\n", 1, 0, "", 0, `fresh   = "1.4 kg"`},
		"here already":              {head + "2025-09-10,a,,,2,\n", 0, 1, "", 0, ""},
		"here, by code and species": {head + "2025-09-10,AA,shiitake,,2,2kg\n", 0, 1, "", 0, ""},
		"with less said":            {"on,pile,fresh_kg\n2025-09-11,a,3\n", 0, 1, "", 0, ""},
		"with something else":       {"on,pile,fresh_kg,note\n2025-09-11,a,3,dry\n", 1, 0, "entry k-2 is of the same day, pile and weight", Odd, ""},
		"words for nothing":         {"on,pile,logs,fresh_kg,note\n2025-09-12,unknown,?,-,?\n", 1, 0, "", 0, "pile    = \"unknown\"\nnote    = \"?\""},
		"twice in the table":        {head + "2025-09-10,a,,,2,\n2025-09-10,a,,,2,\n", 1, 1, "", 0, ""},
		"a decimal comma":           {"Datum;pile;kg\n", 0, 0, "the heading names no column `on`", Broken, ""},
		"own headings":              {"date;pile;kg\n12.9.2025;a;1,4\n", 1, 0, "", 0, "on      = 2025-09-12\npile    = \"a\"\nfresh   = \"1.4 kg\""},
		"tabs and words":            {"Day\tPile\tWeight\nSeptember 2025\ta\tabout 2 kg\n", 1, 0, "", 0, `on      = "2025-09"`},
		"grams in the heading":      {"date,pile,weight (g)\n2025-09-12,a,850\n", 1, 0, "", 0, `fresh   = "850 g"`},
		"a bare number":             {"date,pile,weight\n2025-09-12,a,850\n", 0, 0, "has no unit", Aside, ""},
		"an unknown pile is kept":   {head + "2025-09-12,b,,,1.4,\n", 1, 0, "", 0, `pile    = "b"`},
		"several piles":             {head + "2025-09-12,\"a, b\",,,1.4,\n", 1, 0, "", 0, `piles   = ["a", "b"]`},
		"as written counts":         {head + "2025-09-12,a,,,0.9,about 2 lb\n", 1, 0, "", 0, `fresh   = "about 2 lb"`},
		"the number was changed":    {head + "2025-09-12,a,,,3,about 2 lb\n", 1, 0, "the first counts", Odd, `fresh   = "3 kg"`},
		"an own measure":            {head + "2025-09-12,a,,,1.8,1 basket\n", 1, 0, "", 0, `fresh   = "1 basket"`},
		"a formula given back":      {"date,pile,note\n2025-09-12,a,'=1+1\n", 1, 0, "", 0, `note    = "=1+1"`},
		"a real apostrophe":         {"date,pile,note\n2025-09-12,a,'tis\n", 1, 0, "", 0, `note    = "'tis"`},
		"no day":                    {head + ",a,,,1.4,\n", 0, 0, "no day", Aside, ""},
		"a day that is none":        {head + "2025-02-30,a,,,1.4,\n2025-09-12,a,,,1.4,\n", 1, 0, "2025-02-30 is not a day", Aside, ""},
		"a day to come":             {head + "2027-02-03,a,,,1.4,\n", 0, 0, "lies in the future", Aside, ""},
		"neither pile nor species":  {head + "2025-09-12,,,,1.4,\n", 0, 0, "neither pile nor species", Aside, ""},
		"too many cells":            {head + "2025-09-12,a,,,1.4,,,x\n", 0, 0, "more cells than the heading", Aside, ""},
		"fewer cells":               {head + "2025-09-12,a\n", 1, 0, "", 0, ""},
		"a quote never closed":      {head + "2025-09-12,\"a" + strings.Repeat("x", 5000) + "\n", 0, 0, "longer than a page", Aside, ""},
		"an odd column":             {"on,pile,colour\n2025-09-12,a,red\n", 1, 0, `columns that are not taken: "colour"`, Odd, ""},
		"blank rows and remarks":    {head + "\n,,,,,\n# mine\n2025-09-12,a,,,1.4,\n", 1, 0, "", 0, ""},
		"UTF-16":                    {"\xff\xfeo\x00n\x00", 0, 0, "UTF-16", Broken, ""},
		"a table of piles":          {"name,species,when,logs now\n", 0, 0, "this is a table of piles", Broken, ""},
		"nothing":                   {"", 0, 0, "the table is empty", Broken, ""},
		"not UTF-8":                 {"on,pile,note\n2025-09-12,a,gr\xfcn\n", 1, 0, "not saved as UTF-8", Odd, ""},
		"a mark and carriage":       {"\xef\xbb\xbfon,pile\r\n2025-09-12,a\r\n", 1, 0, "", 0, ""},
	} {
		f, _ := yardOf(t, here)
		x, err := ReadHarvests(f, strings.NewReader(c.table))
		if err != nil {
			if c.grade != Broken || !strings.Contains(err.Error(), c.problem) {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if x.New != c.new || x.Same != c.same || c.problem == "" && len(x.Problems) > 0 || c.problem != "" && !has(x.Problems, 0, c.problem) || !strings.Contains(strings.Join(x.Texts, "\n"), c.has) {
			t.Errorf("%s: new %d, same %d\n%s%s", name, x.New, x.Same, lines(x.Problems), strings.Join(x.Texts, "\n"))
		}
		for _, p := range x.Problems {
			if p.Grade != c.grade || p.Line == 0 || p.Remedy == "" {
				t.Errorf("%s: %+v", name, p)
			}
		}
		importAll(t, f, x)
		if x, err = ReadHarvests(f, strings.NewReader(c.table)); err != nil || x.New > 0 {
			t.Errorf("%s: again: %v %+v", name, err, x)
		}
	}
}

// What was imported and corrected or voided since does not come again.
func TestImportAfterCorrection(t *testing.T) {
	const table = "on,pile,fresh_kg\n2025-09-12,a,1.4\n2025-09-13,a,1.5\n"
	f, _ := yardOf(t, began("a"))
	x, err := ReadHarvests(f, strings.NewReader(table))
	if err != nil {
		t.Fatal(err)
	}
	importAll(t, f, x)
	for id, v := range map[string]map[string]string{
		"kitchen-1": {"replaces": "kitchen-1", "kind": "harvested", "on": "2025-09-12", "pile": "a", "fresh": "2.4 kg"},
		"kitchen-2": {"replaces": "kitchen-2", "void": "true"},
	} {
		text, problems := Compose("corrected", v, f.Terms())
		if text == "" {
			t.Fatal(id, problems)
		}
		record(t, f, text)
	}
	if x, err = ReadHarvests(f, strings.NewReader(table)); err != nil || x.New != 0 || x.Same != 2 {
		t.Errorf("%v %+v", err, x)
	}
}

func TestImportPiles(t *testing.T) {
	here := began("a", "logs = 20")
	for name, c := range map[string]struct {
		table              string
		new, same, entries int
		problem            string
		has                string
	}{
		"as start takes it":     {TableHeader() + "\nbarn,shiitake,2022,30,24,oak,2023-09,18 kg\n", 1, 0, 3, "", "[[counted]]"},
		"here already":          {"name,species\nA,shiitake\n", 0, 1, 0, "", ""},
		"here, and otherwise":   {"name,species,logs now\na,oyster,12\n", 0, 1, 0, "a has 20 logs here, and 12 in the table", ""},
		"bought":                {"name,species,when,arrived,state\nb,shiitake,2024,2025-04-01,part\n", 1, 0, 1, "", `inoculated = "2024"`},
		"a bed":                 {"name,species,kind,when,depth,state\nb,reishi,bed,2024,5 cm,\n", 1, 0, 1, "", `depth   = "5 cm"`},
		"a bed not run through": {"name,species,kind,when,state\nb,reishi,bed,2024,new\n", 1, 0, 1, "", "colonised = false"},
		"nobody knows when":     {"name,species,logs now\nb,shiitake,12\n", 1, 0, 1, "", "[[counted]]"},
		"gone":                  {"name,species,when,logs then,logs now,gone\nb,shiitake,2022,12,0,2025-03-01\n", 1, 0, 2, "", "on      = 2025-03-01"},
		"a comma in the inches": {"name;species;when;diameter\nb;shiitake;2022;12,5 cm\n", 1, 0, 1, "", "12,5 cm"},
		"no name":               {"name,species\n,shiitake\nb,shiitake\n", 1, 0, 1, "this line has no name", ""},
		"one name twice":        {"name,species\nb,shiitake\nb,oyster\n", 1, 0, 1, "stands in line 2 already", ""},
		"no such thickness":     {"name,species,when,diameter\nb,shiitake,2022,thick\n", 1, 0, 1, "diameter", ""},
		"a table of harvests":   {"on,pile,species,fresh_kg\n", 0, 0, 0, "this is a table of harvests", ""},
		"no species":            {"name\nb\n", 0, 0, 0, "the heading names no column `species`", ""},
	} {
		f, _ := yardOf(t, here)
		x, err := ReadPiles(f, strings.NewReader(c.table))
		if err != nil {
			if !strings.Contains(err.Error(), c.problem) || c.problem == "" {
				t.Errorf("%s: %v", name, err)
			}
			continue
		}
		if x.New != c.new || x.Same != c.same || len(x.Texts) != c.entries || c.problem == "" && len(x.Problems) > 0 || c.problem != "" && !has(x.Problems, 0, c.problem) ||
			!strings.Contains(strings.Join(x.Texts, "\n"), c.has) {
			t.Errorf("%s: new %d, same %d\n%s%s", name, x.New, x.Same, lines(x.Problems), strings.Join(x.Texts, "\n"))
		}
		importAll(t, f, x)
		if x, err = ReadPiles(f, strings.NewReader(c.table)); err != nil || len(x.Texts) > 0 {
			t.Errorf("%s: again: %v %+v", name, err, x)
		}
	}
}

// A cell comes back from its guard whatever stands in it, and none that is
// guarded is taken for a formula.
func TestGuard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := rapid.StringMatching("['=+\\-@\t\rax ]{0,6}").Draw(t, "cell")
		g := Guard(cell)
		if unguarded(g) != cell {
			t.Fatalf("%q became %q and then %q", cell, g, unguarded(g))
		}
		if g != "" && strings.ContainsRune("=+-@\t\r", rune(g[0])) {
			t.Fatalf("%q is a formula", g)
		}
	})
}

func TestImportBounds(t *testing.T) {
	f, _ := yardOf(t, "")
	if _, err := ReadHarvests(f, strings.NewReader(strings.Repeat("a,", 300)+"\n")); err == nil || !strings.Contains(err.Error(), "the heading has 301 columns") {
		t.Error(err)
	}
	big := bytes.Repeat([]byte("x"), mostTable+1)
	if _, err := ReadPiles(f, bytes.NewReader(big)); err == nil || !strings.Contains(err.Error(), "larger than 16 MB") {
		t.Error(err)
	}
	s, err := readSheet(strings.NewReader("on\n"+strings.Repeat("2025\n", mostRows+5)), harvestColumn, HarvestColumns)
	if err != nil || len(s.rows) != mostRows || !has(s.problems, mostRows+2, "more than 100000 rows") {
		t.Error(err, len(s.rows), lines(s.problems))
	}
}

// Whatever stands in a table, reading it never panics, what it makes can be
// recorded, and the second time it makes nothing.
func FuzzImportTables(f *testing.F) {
	for _, s := range []string{
		"on,pile,species,logs,fresh_kg,fresh\n2025-09-12,a,,7,1.4,\n2025-09-12,a,,7,1.4,\n",
		"name,species,when,arrived,state,logs then,logs now,gone\nb,shiitake,2022,2023,part,12,0,2025-03-01\n",
		"date;pile;kg\n12.9.2025;a;1,4\n", "\xef\xbb\xbfname\tspecies\n'=a\treishi\n", "on,pile,note\n2025,\"a\nb\",\"x\n",
		"name,species,logs now\nb , shiitake,12\n B,oyster,3\n", "name,species,fruited since,kilograms so far\nq,shiitake,yes,\"2,5\"\n",
	} {
		f.Add(s)
	}
	set := loaded(f)
	f.Fuzz(func(t *testing.T, table string) {
		for i, read := range []func(*Folder, string) (*TableImport, error){
			func(f *Folder, s string) (*TableImport, error) { return ReadPiles(f, strings.NewReader(s)) },
			func(f *Folder, s string) (*TableImport, error) { return ReadHarvests(f, strings.NewReader(s)) },
		} {
			m := InMemory(map[string]string{YardFile: smallYard, JournalFile: ""})
			folder, _, err := OpenFiles(m, set, may)
			if err != nil {
				t.Fatal(err)
			}
			x, err := read(folder, table)
			if err != nil || len(x.Texts) == 0 {
				continue
			}
			if _, _, err := folder.RecordAll(t.Context(), x.Texts, "kitchen", atSix); err != nil {
				t.Fatal(err)
			}
			if again, err := read(folder, table); err != nil || len(again.Texts) > 0 {
				t.Fatalf("%d: a second time: %v\n%s\nthe first time\n%s", i, err, strings.Join(again.Texts, "\n"), strings.Join(x.Texts, "\n"))
			}
		}
	})
}

// Random pickings go out as cells and come in again as the same cells.
func TestHarvestCellsProperty(t *testing.T) {
	set := loaded(t)
	word := rapid.StringMatching(`[a-z'=@+\-",;äß] ?[a-z'=@",;]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		folder, _, err := OpenFiles(InMemory(map[string]string{YardFile: smallYard, JournalFile: began("a") + began("b")}), set, may)
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for range rapid.IntRange(1, 5).Draw(t, "pickings") {
			v := map[string]string{"pile": rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "pile"),
				"on":    rapid.SampledFrom([]string{"2025", "2025-05", "2025-W20", "2025-05-03", "2025-05-03 to 2025-06"}).Draw(t, "on"),
				"fresh": rapid.SampledFrom([]string{"", "2 kg", "about 2 kg", "1-2 kg", "850 g", "3 lb 2 oz", "1 basket", "0.1 kg"}).Draw(t, "fresh"),
				"note":  word.Draw(t, "note"), "lot": word.Draw(t, "lot")}
			if text, _ := Compose("harvested", v, folder.Terms()); text != "" {
				texts = append(texts, text)
			}
		}
		if len(texts) == 0 {
			return
		}
		if _, _, err := folder.RecordAll(context.Background(), texts, "kitchen", atSix); err != nil {
			t.Fatal(err)
		}
		cells := func(f *Folder) (rows [][]string) {
			s, _ := f.State(may, 0)
			for _, k := range s.Picks {
				row := slices.Clone(k.Cells())
				for i, c := range row {
					row[i] = `"` + strings.ReplaceAll(Guard(strings.TrimSpace(c)), `"`, `""`) + `"`
				}
				rows = append(rows, row)
			}
			return rows
		}
		out := cells(folder)
		table := strings.Join(HarvestColumns, ",") + "\n"
		for _, row := range out {
			table += strings.Join(row, ",") + "\n"
		}
		to, _, err := OpenFiles(InMemory(map[string]string{YardFile: smallYard, JournalFile: began("a") + began("b")}), set, may)
		if err != nil {
			t.Fatal(err)
		}
		x, err := ReadHarvests(to, strings.NewReader(table))
		if err != nil || len(x.Problems) > 0 {
			t.Fatal(err, lines(x.Problems))
		}
		if _, _, err := to.RecordAll(context.Background(), x.Texts, "barn", atSix); err != nil {
			t.Fatal(err)
		}
		if got := fmt.Sprint(cells(to)); got != fmt.Sprint(out) {
			t.Fatalf("%s\nnot\n%v\nof\n%s", got, out, table)
		}
	})
}
