package charts

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

func TestTableStyles(t *testing.T) {
	table := Table{Head: []string{"name", "kg"}, Numbers: []string{"kg"}, Rows: [][]string{
		{"a;b", "-1.5"}, {"=1+1", "2"}, {"-x", ""}, {"'=y", ""}, {"\x1b[31m@red\u202e", ""}, {"two\nlines", ""}, {"it's", ""},
	}}
	for name, c := range map[string]struct {
		style CSVStyle
		want  string
	}{
		"plain":     {CSVStyle{}, "name,kg\na;b,-1.5\n'=1+1,2\n'-x,\n''=y,\n[31m@red,\n\"two\nlines\",\nit's,\n"},
		"semicolon": {CSVStyle{Semicolon: true}, "name;kg\n\"a;b\";-1,5\n'=1+1;2\n'-x;\n''=y;\n[31m@red;\n\"two\nlines\";\nit's;\n"},
		"bom":       {CSVStyle{BOM: true}, "\ufeffname,kg\na;b,-1.5\n'=1+1,2\n'-x,\n''=y,\n[31m@red,\n\"two\nlines\",\nit's,\n"},
	} {
		got, err := table.CSV(c.style)
		if err != nil || string(got) != c.want {
			t.Errorf("%s: %v\n%q\nnot\n%q", name, err, got, c.want)
		}
	}
}

// exportYard is a yard in memory.
func exportYard(t testing.TB, journal string) *yard.Folder {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	m := yard.InMemory(map[string]string{yard.YardFile: "format = 1\nname = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n[measures]\nbasket = \"1.8 kg\"\n", yard.JournalFile: journal})
	f, _, err := yard.OpenFiles(m, set, yard.NewDate(2026, 5, 1))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// exportJournal has every way in which a pile can begin, and pickings that are
// hard on a table.
const exportJournal = `
[[inoculated]]
on = 2024-04-12
pile = "oak-north"
code = "AN"
species = "shiitake"
strain = "wide-range"
wood = "white oak"
logs = 40
diameter = "5 in"
length = "90-110 cm"
spawn = "sawdust"
method = "holes"
spawn_lot = "S-1"
place = "under the hazel"
[[inoculated]]
on = "2023"
pile = "=formula; or not"
species = "oyster"
[[arrived]]
on = 2024-05-01
pile = "gift"
species = "shiitake"
logs = 6
inoculated = "2023-05"
state = "part"
lot = "G-1"
[[arrived]]
on = 2024-05-02
pile = "gift 2"
species = "reishi"
state = "new"
[[buried]]
on = 2024-11-01
bed = "reishi-bed"
species = "reishi"
logs = 12
depth = "5 cm"
[[buried]]
on = 2024-11-01
bed = "young bed"
species = "reishi"
logs = 4
colonised = false
[[counted]]
on = 2025-01-01
pile = "found"
species = "lion's mane"
logs = 9
[[lost]]
on = 2025-02-01
pile = "found"
logs = 2
[[retired]]
on = 2025-03-01
pile = "gift"
logs = 6
[[split]]
on = 2025-03-02
pile = "oak-north"
into = "oak-south"
logs = 10
[[harvested]]
on = 2025-09-01
pile = "AN"
fresh = "2.4 kg"
logs = 12
note = "@home, \"rain\"\nall day"
hours = 1.5
people = 2
by = "jk"
[[harvested]]
on = "2025-W38"
piles = ["oak-north", "oak-south"]
fresh = "about 2 kg"
eaten_percent = 10
lot = "-SH-1"
[[harvested]]
on = 2025-10-01
species = "oyster"
fresh = "2 basket"
[[harvested]]
on = 2025-10-01
species = "oyster"
fresh = "2 basket"
[[harvested]]
on = 2025-10-02
pile = "nobody knows"
fresh = "3 lb 2 oz"
[[harvested]]
on = "2024 to 2025-10-01"
pile = "gift"
`

// What is exported, imported into an empty yard and exported again is the
// same, in every style; importing again takes nothing.
func TestExportImportExport(t *testing.T) {
	from := exportYard(t, exportJournal)
	state, _ := from.State(yard.NewDate(2026, 5, 1), 0)
	for _, style := range []CSVStyle{{}, {Semicolon: true}, {BOM: true}, {Semicolon: true, BOM: true}} {
		to := exportYard(t, "")
		for _, what := range []struct {
			name  string
			table func(*yard.State) Table
			read  func(*yard.Folder, *bytes.Reader) (*yard.TableImport, error)
		}{
			{"piles", PilesTable, func(f *yard.Folder, r *bytes.Reader) (*yard.TableImport, error) { return yard.ReadPiles(f, r) }},
			{"harvests", HarvestsTable, func(f *yard.Folder, r *bytes.Reader) (*yard.TableImport, error) { return yard.ReadHarvests(f, r) }},
		} {
			text, err := what.table(state).CSV(style)
			if err != nil {
				t.Fatal(err)
			}
			x, err := what.read(to, bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if len(x.Problems) > 0 {
				t.Errorf("%s %+v: %v", what.name, style, x.Problems)
			}
			if _, _, err := to.RecordAll(t.Context(), x.Texts, "kitchen", "2026-05-01T18:02:00"); err != nil {
				t.Fatal(err)
			}
			now, _ := to.State(yard.NewDate(2026, 5, 1), 0)
			again, err := what.table(now).CSV(style)
			if err != nil || !bytes.Equal(again, text) {
				t.Errorf("%s %+v: %v\n%s\nnot\n%s", what.name, style, err, again, text)
			}
			if x, err = what.read(to, bytes.NewReader(text)); err != nil || len(x.Texts) > 0 || x.Same != x.Rows {
				t.Errorf("%s %+v: taken again: %v %v", what.name, style, x, err)
			}
		}
	}
}

// Every entry is in the table of entries, with all its keys, and no cell of it
// is a formula.
func TestEntriesTable(t *testing.T) {
	entries, _ := exportYard(t, exportJournal+"[[corrected]]\non = 2025-09-01\nreplaces = \"x\"\nkind = \"walked\"\nnote = \"=cmd\"\n").Entries()
	table := EntriesTable(entries)
	text, err := table.CSV(CSVStyle{})
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) != len(entries)+1 {
		t.Fatal(err, len(rows))
	}
	for i, e := range entries {
		for key, value := range e.Values() {
			found := false
			for _, cell := range rows[i+1] {
				found = found || cell == yard.Guard(strings.TrimSpace(value))
			}
			if !found {
				t.Errorf("%s: %s = %q is not in %q", e.ID, key, value, rows[i+1])
			}
		}
	}
	for _, row := range rows {
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t\r", rune(cell[0])) {
				t.Errorf("a formula: %q", cell)
			}
		}
	}
}

func TestTableJSON(t *testing.T) {
	got, err := Table{Head: []string{"name", "kg"}, Numbers: []string{"kg"}, Rows: [][]string{{"a", "2.4"}, {"b", ""}}}.JSON()
	if err != nil || !bytes.Contains(got, []byte(`"kg": 2.4`)) || bytes.Contains(got, []byte(`""`)) {
		t.Errorf("%v %s", err, got)
	}
}
