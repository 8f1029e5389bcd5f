package yard

import (
	"context"
	"os"
	"strings"
	"testing"
)

// The first evening: twelve old piles from paper, with vague days and blanks,
// become a yard.
func TestFirstEvening(t *testing.T) {
	table, err := os.Open("../testdata/yards/first-evening/piles.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer table.Close()
	f, _ := yardOf(t, "")
	texts, problems := ReadTable(table, f.Terms())
	if len(problems) != 2 || !has(problems, 6, "diameter: \"15\" has no unit, and is left blank: write \"15 cm\"") || !has(problems, 13, "no species is called \"blue oyster\"") {
		t.Error(lines(problems))
	}
	ids, problems, err := f.RecordAll(context.Background(), texts, "kitchen", atSix)
	if err != nil || len(problems) > 0 || len(ids) != len(texts) {
		t.Fatal(err, lines(problems))
	}
	s, problems := f.State(may, 0)
	if got := summary(s, problems); got != firstEvening {
		t.Errorf("the yard is\n%s\nwant\n%s", got, firstEvening)
	}
	if p := s.Pile("old oak").Picks[0]; !p.Season || p.Fresh.Mid() != 22.5 || p.On.From != NewDate(2023, 1, 1) || p.On.To != may {
		t.Errorf("%+v", p)
	}
	if problems := f.Check(); len(problems) != 2 || !has(problems, 0, "no wood is called \"hazel\"") {
		t.Error(lines(problems))
	}
}

const firstEvening = `grandmother's  pile shiitake/ place="" since=2012 to 2019 logs=9/9 true gone=[] seen=1 picks=1 closed=
beech stools  pile lion's mane/ place="" since=2019 to 2026-05-01 logs=7/8 true gone=[{2026-05-01 1 counted missing when they were counted}] seen=0 picks=0 closed=
old oak  pile shiitake/ place="" since=2021 logs=31/40 true gone=[{2026-05-01 9 counted missing when they were counted}] seen=1 picks=1 closed=
the long stack  pile shiitake/ place="" since=2022-04 logs=58/60 true gone=[{2026-05-01 2 counted missing when they were counted}] seen=0 picks=0 closed=
hedge  pile turkey tail/ place="" since=2023 logs=20/20 true gone=[] seen=1 picks=1 closed=
birch by the gate  pile oyster/ place="" since=2023-04 logs=12/12 true gone=[] seen=1 picks=1 closed=
reishi bed  bed reishi/ place="" since=2023-11 logs=10/10 true gone=[] seen=1 picks=1 closed=
gift logs  pile nameko/ place="" since=2024 logs=4/5 true gone=[{2026-05-01 1 counted missing when they were counted}] seen=0 picks=0 closed=
mystery  pile blue oyster/ place="" since=2024 logs=10/10 true gone=[] seen=0 picks=0 closed=
totems  pile oyster/ place="" since=2024-W15 logs=6/6 true gone=[] seen=1 picks=1 closed=
north wall  pile shiitake/ place="" since=2025-04-12 logs=30/30 true gone=[] seen=0 picks=0 closed=
new oak  pile shiitake/ place="" since=2026-03-28 logs=45/45 true gone=[] seen=0 picks=0 closed=
bottles [] sort=0 picks=6
no species is called "blue oyster": mystery is kept, and not forecast`

// The same table with other separators, headings and line ends.
func TestTablesAlike(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	want, _ := ReadTable(strings.NewReader(TableHeader()+"\na,shiitake,2022,40,38,white oak,2024,12.5\n"), terms)
	if len(want) != 3 {
		t.Fatal(want)
	}
	for _, table := range []string{
		"\ufeff" + strings.ReplaceAll(TableHeader(), ",", ";") + "\r\na;shiitake;2022;40;38;white oak;2024;12,5\r\n",
		strings.ReplaceAll(TableHeader(), ",", "\t") + "\n\na\tshiitake\t2022\t40\t38\twhite oak\t2024\t12.5",
		"# my piles\nspecies,Name,Year,Logs_Then,logs now,WOOD,fruiting since,kg\nshiitake,a,2022,40,38,white oak,2024,12.5\n",
		"species,pile,when,logs,logs now,wood,fruited since,kilograms so far\n shiitake , a ,2022,about 40,38 logs,\"white oak\",2024,\"12,5\"\n",
	} {
		got, problems := ReadTable(strings.NewReader(table), terms)
		if strings.ReplaceAll(strings.Join(got, ""), "12,5", "12.5") != strings.Join(want, "") || len(problems) > 0 {
			t.Errorf("%q became\n%s%s", table, strings.Join(got, ""), lines(problems))
		}
	}
	got, problems := ReadTable(strings.NewReader("name,species,diameter (in),length_cm\na,shiitake,5,100\n"), terms)
	if len(problems) > 0 || !strings.Contains(got[0], `diameter = "5 in"`) || !strings.Contains(got[0], `length   = "100 cm"`) {
		t.Error(got, lines(problems))
	}
}

func TestIsoDay(t *testing.T) {
	for in, want := range map[string]string{
		"12.4.2022": "2022-04-12", "4/2022": "2022-04", "04.2022": "2022-04", "April 2022": "2022-04", "Sept 2022": "2022-09",
		"12 April 2022": "2022-04-12", "12. Apr 2022": "2022-04-12", "2022-4": "2022-04", "4/5/2022": "4/5/2022", "spring 2022": "spring 2022",
		"2022-04-12": "2022-04-12",
	} {
		if got := isoDay(in); got != want {
			t.Errorf("%s: %s, want %s", in, got, want)
		}
	}
}

func FuzzTable(f *testing.F) {
	b, err := os.ReadFile("../testdata/yards/first-evening/piles.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(b))
	f.Add(TableHeader() + "\n\"a,shiitake\n,,,,,,\n")
	f.Add("name;species\n\";\"\n\x00\n")
	set := loaded(f)
	f.Fuzz(func(t *testing.T, s string) {
		terms := Terms{Data: set, Today: may}
		texts, problems := ReadTable(strings.NewReader(s), terms)
		wholeProblems(t, problems, "table", s)
		folder, _ := yardOf(t, "")
		if _, problems, err := folder.RecordAll(context.Background(), texts, "kitchen", atSix); err != nil {
			t.Fatalf("%q: %v\n%s", s, err, lines(problems))
		}
	})
}

// A plain yes under "fruited since" is a harvest on some day up to today, and
// a plain no is none.
func TestFruitedYesOrNo(t *testing.T) {
	terms := Terms{Data: loaded(t), Today: may}
	texts, problems := ReadTable(strings.NewReader("name,species,when,fruited since\nbarn,shiitake,2022,yes\nlane,shiitake,2023,no\n"), terms)
	if len(problems) != 0 {
		t.Fatalf("problems: %v", problems)
	}
	all := strings.Join(texts, "\n")
	if !strings.Contains(all, `"2022-01-01 to 2026-05-01"`) || strings.Count(all, "[[harvested]]") != 1 {
		t.Errorf("one pile has fruited, one has not:\n%s", all)
	}
}
