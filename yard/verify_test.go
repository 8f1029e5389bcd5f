package yard

import "testing"

func TestOddAmounts(t *testing.T) {
	pile := began("a", "logs = 20", `diameter = "12 cm"`)
	usual := ""
	for _, day := range []string{"2025-09-01", "2025-09-20", "2025-10-10", "2025-10-30"} {
		usual += entry("harvested", day, `pile = "a"`, `fresh = "2 kg"`)
	}
	for name, c := range map[string]struct{ text, want string }{
		"usual":              {pile + usual, ""},
		"ten times as much":  {pile + usual + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "24 kg"`), "more than ten times the usual picking of a, 2 kg"},
		"grams typed as kg":  {pile + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "850 kg"`), "look whether grams were meant"},
		"uncounted":          {began("a") + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "850 kg"`), "look whether grams were meant"},
		"kg typed as grams":  {pile + entry("harvested", "2025-11-10", `pile = "a"`, `fresh = "2.4 g"`), "look whether kilograms were meant"},
		"a season's is fine": {pile + entry("harvested", "2025", `pile = "a"`, `fresh = "70 kg"`), ""},
		"too soon":           {pile + entry("harvested", "2024-05-10", `pile = "a"`, `fresh = "1 kg"`), "picked 28 days after it was inoculated"},
		"thick as a barrel":  {began("a", `diameter = "120 cm"`), "logs of 120 cm across are unusual"},
		"a stump":            {began("a", "logs = 1", `diameter = "50 cm"`), ""},
		"rounds of a totem":  {began("a", "logs = 3", `diameter = "50 cm"`, `method = "totem"`), ""},
		"thick for logs":     {began("a", "logs = 3", `diameter = "50 cm"`), "logs of 50 cm across are unusual"},
		"no stump either":    {began("a", "logs = 1", `diameter = "120 cm"`), "logs of 120 cm across are unusual"},
		"long as a mast":     {began("a", `length = "9 m"`), "logs of 900 cm are unusually long"},
		"hardly dried":       {entry("dried", "2025-10-01", `species = "shiitake"`, `fresh = "2 kg"`, `dry = "1 kg"`), "50 % of it"},
		"reishi is dry wood": {entry("dried", "2025-10-01", `species = "reishi"`, `fresh = "1 kg"`, `dry = "120 g"`), "12 % of it, where 14 % at the least can be believed"},
		"dried to nothing":   {entry("dried", "2025-10-01", `species = "shiitake"`, `fresh = "2 kg"`, `dry = "20 g"`), "1 % of it"},
		"a slip in the wood": {began("a", `wood = "white oka"`), "did you mean white oak?"},
		"wood of a conifer":  {began("a", `wood = "pine"`), "conifers are no usual wood"},
		"after the last log": {pile + entry("retired", "2025-01-01", `pile = "a"`) + entry("harvested", "2025-10-01", `pile = "a"`, `fresh = "1 kg"`), "after its last log had gone, on 2025-01-01"},
		"a ton of dried":     {entry("received", "2025-10-01", `species = "shiitake"`, `dry = "240 kg"`), "look whether grams were meant"},
	} {
		f, _ := yardOf(t, c.text)
		problems := f.Check()
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

func TestProblemInOneLine(t *testing.T) {
	for want, p := range map[string]Problem{
		"journal.toml:3: what: how": {File: JournalFile, Line: 3, Text: "what", Remedy: "how"},
		"journal.toml: what":        {File: JournalFile, Text: "what"},
		"what: how":                 {Text: "what", Remedy: "how"},
	} {
		if got := p.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if _, any := Worst(nil); any {
		t.Error("no problems have a worst")
	}
	if g, _ := Worst([]Problem{{Grade: Odd}, {Grade: Broken}, {Grade: Aside}}); g != Broken {
		t.Error(g)
	}
}
