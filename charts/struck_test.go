package charts

import (
	"fmt"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// corrected is what is right, written down behind a journal.
func correctedText(id, replaces, keys string) string {
	return fmt.Sprintf("\n[[corrected]]\nwritten = 2026-05-03T08:00:00\nreplaces = %q\n%sentry = %q\n", replaces, keys, id)
}

// struckJournal has an entry of each list that pages and papers have, and of
// most a slip that was put right or voided.
var struckJournal = `
[[inoculated]]
on = 2025-04-12
pile = "oak-north"
species = "shiitake"
logs = 40
by = "ab"
entry = "kitchen-1"

[[checked]]
on = 2025-11-20
pile = "oak-north"
looked_at = 10
with_mycelium = 1
by = "ab"
entry = "kitchen-2"

[[harvested]]
on = 2026-04-26
pile = "oak-north"
fresh = "22 kg"
by = "ab"
entry = "kitchen-3"

[[soaked]]
on = 2026-04-17
pile = "oak-north"
logs = 40
by = "ab"
entry = "kitchen-4"

[[dried]]
on = 2026-01-10
species = "shiitake"
fresh = "2 kg"
dry = "190 g"
lot = "D-26-1"
by = "ab"
entry = "kitchen-5"

[[bought]]
on = 2026-01-20
item = "spirit"
amount = "3 l"
lot = "SP-1"
by = "ab"
entry = "kitchen-6"

[[macerated]]
on = 2026-01-21
batch = "T-26-01"
jars = 2
recipe = "five mushrooms"
note = "a cool cellar"
spirit = "1000 ml"
spirit_lot = "SP-1"
ingredients = [{species = "shiitake", lot = "D-26-1", dry = "50 g"}]
by = "ab"
entry = "kitchen-7"

[[strained]]
on = 2026-02-25
batch = "T-26-01"
volume = "840 ml"
by = "ab"
entry = "kitchen-8"

[[bottled]]
on = 2026-02-26
batch = "T-26-01"
bottles = [{size = "100 ml", count = 8}]
by = "ab"
entry = "kitchen-9"

[[sold]]
on = 2026-03-01
lot = "T-26-01"
bottles = 2
by = "ab"
entry = "kitchen-10"

[[planned]]
on = 2026-01-05
pile = "birch-new"
species = "shiitake"
logs = 30
month = "2026-06"
by = "ab"
entry = "kitchen-11"

[[counted]]
on = 2026-05-01
pile = "oak-north"
logs = 30
by = "ab"
entry = "kitchen-12"

[[buried]]
on = 2025-11-15
bed = "reishi-bed"
species = "reishi"
logs = 12
by = "ab"
entry = "kitchen-13"

[[noticed]]
on = 2026-04-01
pile = "oak-north"
what = "slugs"
by = "ab"
entry = "kitchen-14"

[[decocted]]
on = 2026-02-25
batch = "T-26-01"
volume = "500 ml"
by = "ab"
entry = "kitchen-15"

[[harvested]]
on = 2026-04-28
pile = "oak-north"
fresh = "1 kg"
by = "ab"
entry = "kitchen-16"
` + correctedText("cd-1", "kitchen-1", "kind = \"inoculated\"\non = 2025-04-12\npile = \"oak-north\"\nspecies = \"shiitake\"\nlogs = 44\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-2", "kitchen-2", "kind = \"checked\"\non = 2025-11-20\npile = \"oak-north\"\nlooked_at = 10\nwith_mycelium = 4\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-3", "kitchen-3", "kind = \"harvested\"\non = 2026-04-26\npile = \"oak-north\"\nfresh = \"2.2 kg\"\nby = \"ab\"\nmended_by = \"cd\"\nnote = \"the basket was on the scales\"\n") +
	correctedText("cd-4", "kitchen-4", "kind = \"soaked\"\non = 2026-04-17\npile = \"oak-north\"\nlogs = 20\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-5", "kitchen-5", "kind = \"dried\"\non = 2026-01-10\nspecies = \"shiitake\"\nfresh = \"2 kg\"\ndry = \"210 g\"\nlot = \"D-26-1\"\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-6", "kitchen-6", "kind = \"bought\"\non = 2026-01-20\nitem = \"spirit\"\namount = \"5 l\"\nlot = \"SP-1\"\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-7", "kitchen-8", "kind = \"strained\"\non = 2026-02-25\nbatch = \"T-26-01\"\nvolume = \"820 ml\"\nby = \"ab\"\nmended_by = \"cd\"\nnote = \"misread the jug\"\n") +
	correctedText("cd-8", "cd-7", "kind = \"strained\"\non = 2026-02-25\nbatch = \"T-26-01\"\nvolume = \"800 ml\"\nby = \"ab\"\nmended_by = \"ef\"\n") +
	correctedText("cd-9", "kitchen-9", "kind = \"bottled\"\non = 2026-02-26\nbatch = \"T-26-01\"\nbottles = [{size = \"100 ml\", count = 7}]\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-10", "kitchen-10", "void = true\nby = \"cd\"\nnote = \"never fetched\"\n") +
	correctedText("cd-11", "kitchen-11", "kind = \"planned\"\non = 2026-01-05\npile = \"birch-new\"\nspecies = \"shiitake\"\nlogs = 32\nmonth = \"2026-06\"\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-12", "kitchen-12", "void = true\nby = \"cd\"\n") +
	correctedText("cd-13", "kitchen-13", "kind = \"buried\"\non = 2025-11-15\nbed = \"reishi-bed\"\nspecies = \"reishi\"\nlogs = 11\nby = \"ab\"\nmended_by = \"cd\"\n") +
	correctedText("cd-14", "kitchen-14", "kind = \"noticed\"\non = 2026-04-01\npile = \"reishi-bed\"\nwhat = \"slugs\"\nby = \"ab\"\nmended_by = \"cd\"\nnote = \"in the bed\"\n") +
	correctedText("cd-15", "kitchen-15", "void = true\n") +
	correctedText("cd-16", "kitchen-16", "void = true\nby = \"cd\"\n")

// struckYard is that journal as of 4 May 2026, with forecasts enough for every
// list.
func struckYard(t testing.TB) Input {
	s, entries := journalOf(t, struckJournal, "2026-05-04")
	p := s.Pile("oak-north")
	f := aForecast(s, "oak-north", 16.5, 0.55)
	f.Why = aWhy(&yard.Pile{Seen: []yard.Seen{p.Seen[0], p.Seen[0]}})
	r := &forecast.Result{AsOf: s.AsOf, Seed: 1, Draws: 2000, Years: 6, Horizon: s.AsOf.AddMonths(72), Piles: []*forecast.Pile{f},
		Species: []forecast.Species{aCrop(s, "shiitake", 8.7, 9)}}
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return Input{State: s, Result: r, Data: set, Written: entries}
}

// Wherever an entry is listed, what it stands in the place of stands beside
// it: struck through, with the day, the initials and the reason; and what was
// voided, or moved elsewhere, stands there alone. With any of the templates'
// {{template "was"}} taken out, this fails.
func TestCorrectedEntriesStandStruckWhereTheyAreListed(t *testing.T) {
	in := struckYard(t)
	m := pages(t, in)
	paper := aPaper(t, in, PrintBatch, "T-26-01")
	m[paper.Name] = paper
	for _, c := range []struct {
		page string
		said []string // in one struck line
	}{
		{"pile-oak-north.html", []string{"20 November 2025: checked oak-north: looked at 10, with mycelium 1, by ab", "corrected 3 May 2026 by cd", "kitchen-2"}},
		{"pile-oak-north.html", []string{"26 April 2026: harvested oak-north: fresh 22 kg, by ab", "corrected 3 May 2026 by cd: “the basket was on the scales”", "kitchen-3"}},
		{"pile-oak-north.html", []string{"1 May 2026: counted oak-north: logs 30, by ab", "voided 3 May 2026 by cd", "kitchen-12"}},
		{"pile-oak-north.html", []string{"noticed oak-north: what slugs", "corrected 3 May 2026 by cd: “in the bed”", "In its place: 1 April 2026: noticed reishi-bed: what slugs", "cd-14", "kitchen-14"}},
		{"pile-reishi-bed.html", []string{"15 November 2025: buried reishi-bed: species reishi, logs 12", "corrected 3 May 2026 by cd", "kitchen-13"}},
		{"pile-reishi-bed.html", []string{"noticed oak-north", "corrected 3 May 2026 by cd", "kitchen-14"}},
		{"batch-t-26-01.html", []string{"25 February 2026: strained T-26-01: volume 840 ml, by ab", "corrected 3 May 2026 by cd: “misread the jug”", "kitchen-8"}},
		{"batch-t-26-01.html", []string{"25 February 2026: strained T-26-01: volume 820 ml, by ab", "corrected 3 May 2026 by ef", "cd-7"}},
		{"batch-t-26-01.html", []string{"bottled T-26-01: 8 x 100 ml", "corrected 3 May 2026 by cd", "kitchen-9"}},
		{"batch-t-26-01.html", []string{"1 March 2026: sold", "voided 3 May 2026 by cd: “never fetched”", "kitchen-10"}},
		{"batch-t-26-01.html", []string{"decocted T-26-01: volume 500 ml", "voided 3 May 2026 at cd", "kitchen-15"}},
		{"batch-t-26-01.html", []string{"bought", "amount 3 l", "corrected 3 May 2026 by cd", "kitchen-6"}},
		{"print-batch-t-26-01.html", []string{"25 February 2026: strained T-26-01: volume 840 ml, by ab", "corrected 3 May 2026 by cd: “misread the jug”", "(kitchen-8)"}},
		{"print-batch-t-26-01.html", []string{"bottled T-26-01: 8 x 100 ml", "corrected 3 May 2026 by cd", "(kitchen-9)"}},
		{"print-batch-t-26-01.html", []string{"decocted T-26-01", "voided 3 May 2026 at cd", "(kitchen-15)"}},
		{"stock.html", []string{"dried", "dry 190 g", "corrected 3 May 2026 by cd", "kitchen-5"}},
		{"stock.html", []string{"bought", "amount 3 l", "corrected 3 May 2026 by cd", "kitchen-6"}},
		{"stock.html", []string{"1 May 2026: counted oak-north", "voided 3 May 2026 by cd", "kitchen-12"}},
		{"soaks.html", []string{"17 April 2026: soaked oak-north: logs 40", "corrected 3 May 2026 by cd", "kitchen-4"}},
		{"harvest.html", []string{"26 April 2026: harvested oak-north: fresh 22 kg", "corrected 3 May 2026 by cd", "kitchen-3"}},
		{"harvest.html", []string{"28 April 2026: harvested oak-north: fresh 1 kg", "voided 3 May 2026 by cd", "kitchen-16"}},
		{"harvest.html", []string{"dried", "dry 190 g", "corrected 3 May 2026 by cd", "kitchen-5"}},
		{"season.html", []string{"planned", "logs 30", "corrected 3 May 2026 by cd", "kitchen-11"}},
	} {
		if !struckSays(parse(t, m[c.page]), c.said) {
			t.Errorf("%s: nothing is struck through that says %q", c.page, c.said)
		}
	}
}

// struckSays reports whether a struck line has all parts: the first is struck
// out, and what the line ends with is not.
func struckSays(page *node, parts []string) bool {
	for _, was := range page.all(class("was")) {
		del := was.all(tag("del"))
		ok := len(del) == 1 && strings.HasPrefix(was.words(), "No longer counts: ") && strings.Contains(plainSpaces(del[0]), parts[0]) &&
			!strings.Contains(plainSpaces(del[0]), parts[len(parts)-1])
		for _, p := range parts {
			ok = ok && strings.Contains(plainSpaces(was), p)
		}
		if ok {
			return true
		}
	}
	return false
}

func plainSpaces(n *node) string { return strings.ReplaceAll(n.words(), "\u00a0", " ") }

func noSpaces(s string) string { return strings.ReplaceAll(s, " ", "") }

// Every line that shows an entry leads to where it can be mended.
func TestEveryLineOfAnEntryLeadsToIt(t *testing.T) {
	in := struckYard(t)
	in.Problems = []yard.Problem{{File: yard.JournalFile, Line: 7, Entry: "cd-1", Grade: yard.Odd, Text: "look"}}
	m := pages(t, in)
	for _, c := range []struct{ page, line, id string }{
		{"pile-oak-north.html", "Inoculated 12 April 2025", "cd-1"},
		{"pile-oak-north.html", "harvested oak-north: fresh 2.2 kg", "cd-3"},
		{"pile-oak-north.html", "seen 20 November 2025 40 %", "cd-2"},
		{"pile-oak-north.html", "20 Nov 2025", "cd-2"},
		{"batch-t-26-01.html", "macerated T-26-01", "kitchen-7"},
		{"batch-t-26-01.html", "strained T-26-01: volume 800 ml", "cd-8"},
		{"batch-t-26-01.html", "spirit SP-1 bought", "cd-6"},
		{"batch-t-26-01.html", "dried shiitake D-26-1", "cd-5"},
		{"batch-t-26-01.html", "Bottled: 7 of 100 ml", "cd-9"},
		{"batch-t-26-01.html", "2026: a cool cellar", "kitchen-7"},
		{"stock.html", "D-26-1 shiitake", "cd-5"},
		{"stock.html", "spirit 5 l", "cd-6"},
		{"soaks.html", "Fri 17 Apr", "cd-4"},
		{"harvest.html", "26 April 2026, weighed 2.2 kg", "cd-3"},
		{"harvest.html", "10 January 2026, dried", "cd-5"},
		{"season.html", "birch-new shiitake", "cd-11"},
		{"index.html", "journal.toml:7: look", "cd-1"},
	} {
		found := false
		page := parse(t, m[c.page])
		for _, line := range page.all(func(n *node) bool {
			return n.name == "li" || n.name == "tr" || n.name == "div" && len(n.all(tag("dt"))) == 1
		}) {
			for _, a := range line.all(tag("a")) {
				found = found || strings.Contains(noSpaces(plainSpaces(line)), noSpaces(c.line)) && a.attr["aria-label"] == "mend "+c.id && strings.HasSuffix(a.attr["href"], "#"+c.id)
			}
		}
		if !found {
			t.Errorf("%s: the line %q does not lead to %s", c.page, c.line, c.id)
		}
	}
}

// What cannot be read is in the tray with its line, and no command is offered
// that does not reach it.
func TestUnreadableEntriesSayTheirWayOut(t *testing.T) {
	in := struckYard(t)
	in.Problems = []yard.Problem{
		{File: yard.JournalFile, Line: 45, Entry: "kitchen-99", Grade: yard.Aside, Text: "`pile = oak` holds a value that cannot be read", Remedy: "put text in quotes"},
		{File: yard.JournalFile, Line: 46, Entry: "cd-1", Grade: yard.Aside, Text: "no such key"},
	}
	lines := parse(t, pages(t, in)["index.html"]).all(class("broken"))[0].all(tag("li"))
	if got := lines[0].words(); !strings.Contains(got, "kitchen-99 counts nowhere until that is put right in an editor, in line 45 of journal.toml: no command corrects what cannot be read") {
		t.Errorf("the tray says %q", got)
	}
	if got := lines[1].words(); strings.Contains(got, "in an editor") || !strings.Contains(got, "mend") {
		t.Errorf("an entry that counts is told as unreadable: %q", got)
	}
}
