package yard

import "testing"

// A place that is none of the yard's is another place to the forecast: it is
// said, with the one that may be meant.
func TestOddPlace(t *testing.T) {
	hazel := began("a", "logs = 20", `place = "under the hazel"`)
	for name, c := range map[string]struct{ text, want, at string }{
		"known":             {hazel, "", "under the hazel"},
		"capitals":          {began("a", `place = "Under the  Hazel"`), "", "under the hazel"},
		"no place":          {began("a"), "", ""},
		"a slip":            {began("a", `place = "under the hazle"`), `no [[place]] is called "under the hazle": its shade and cover are taken to be those of the site: did you mean under the hazel? Then correct the entry with place = "under the hazel"`, "under the hazle"},
		"moved by a slip":   {hazel + entry("moved", "2025-01-01", `pile = "a"`, `place = "under a hazel"`), "did you mean under the hazel?", "under a hazel"},
		"moved in capital":  {hazel + entry("moved", "2025-01-01", `pile = "a"`, `place = "UNDER THE HAZEL"`), "", "under the hazel"},
		"some of its words": {began("a", `place = "hazel"`), "did you mean under the hazel?", "hazel"},
		"said once":         {began("a", `place = "barn"`) + began("b", `place = "barn"`), `add to yard.toml a [[place]] with name = "barn"`, "barn"},
		"of a picking":      {hazel + entry("harvested", "2025-09-10", `pile = "a"`, `fresh = "2 kg"`, `place = "kitchen"`), "", "under the hazel"},
		"of a stock-take":   {hazel + entry("counted", "2025-09-10", `species = "shiitake"`, `dry = "2 kg"`, `place = "shelf"`), "", "under the hazel"},
	} {
		f, _ := yardOf(t, c.text)
		problems := f.Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
		s, _ := f.State(may, 0)
		if p := s.Pile("a"); p.Place != c.at {
			t.Errorf("%s: it stands at %q", name, p.Place)
		}
	}
	_, m := yardOf(t, began("a", `place = "barn"`))
	m.files[YardFile] = []byte("format = 1\nname = \"F\"\n[site]\nstation = \"oxford\"\n")
	if problems := mergeReopen(t, m).Check(); len(problems) > 0 {
		t.Errorf("where the yard has no places: %s", lines(problems))
	}
}

// Logs that come into a pile a season later are told; those of the same weeks,
// and the same logs inoculated again, are not.
func TestOddBegunAgain(t *testing.T) {
	pile := began("a", "logs = 40")
	for name, c := range map[string]struct{ text, want string }{
		"the next weeks":      {pile + entry("inoculated", "2024-05-10", `pile = "a"`, `species = "shiitake"`, "logs = 20"), ""},
		"years later":         {pile + entry("inoculated", "2026-04-10", `pile = "a"`, `species = "shiitake"`, "logs = 40"), "a stands since 2024-04-12, and 40 more logs on 2026-04-10 make it 80"},
		"the same logs again": {pile + entry("inoculated", "2026-04-10", `pile = "a"`, `species = "shiitake"`, "logs = 40", "again = true"), ""},
		"only the year":       {pile + entry("inoculated", "2024", `pile = "a"`, `species = "shiitake"`, "logs = 20"), ""},
		"arrived":             {pile + entry("arrived", "2026-04-10", `pile = "a"`, `species = "shiitake"`, "logs = 1"), "1 more log on 2026-04-10"},
		"buried":              {entry("buried", "2023-04-10", `bed = "b"`, `species = "reishi"`, "logs = 10") + entry("buried", "2025-04-10", `bed = "b"`, `species = "reishi"`, "logs = 10"), "correct the entry with bed = a name of their own"},
	} {
		f, _ := yardOf(t, c.text)
		problems := f.Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}
