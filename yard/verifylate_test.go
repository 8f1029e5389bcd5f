package yard

import (
	"fmt"
	"testing"
)

// A day years before it was written down is pointed at where nobody copies old
// notes.
func TestOddLate(t *testing.T) {
	kept := signedEntry("inoculated", "2024-04-12T18:00:00", "2024-04-12", "k-1", `pile = "a"`, `species = "shiitake"`, "logs = 40")
	many := ""
	for i := range 3 {
		many += signedEntry("rained", "2026-04-01T18:00:00", fmt.Sprintf("2015-05-0%d", i+1), fmt.Sprintf("k-%d", i+10), `rain = "3 mm"`)
	}
	for name, c := range map[string]struct{ text, want string }{
		"rain of the year":      {kept + signedEntry("rained", "2026-04-01T18:00:00", "2026-03-31", "k-2", `rain = "3 mm"`), ""},
		"rain of another":       {kept + signedEntry("rained", "2026-04-01T18:00:00", "2015-03-31", "k-2", `rain = "3 mm"`), "it happened on 2015-03-31, and was written down only on 2026-04-01"},
		"old notes of rain":     {kept + many, ""},
		"soaked a year ago":     {kept + signedEntry("soaked", "2026-04-28T18:00:00", "2025-04-27", "k-2", `pile = "a"`), "look at the year"},
		"received years ago":    {kept + signedEntry("received", "2026-04-28T18:00:00", "2024-04-27", "k-2", `species = "cordyceps"`, `dry = "60 g"`), "look at the year"},
		"on the first evening":  {signedEntry("received", "2026-04-28T18:00:00", "2024-04-27", "k-2", `species = "cordyceps"`, `dry = "60 g"`), ""},
		"an old harvest":        {signedEntry("inoculated", "2024-04-12T18:00:00", "2019-04-12", "k-1", `pile = "a"`, `species = "shiitake"`, "logs = 40") + signedEntry("harvested", "2026-04-12T18:00:00", "2021-09-12", "k-2", `pile = "a"`, `fresh = "2 kg"`), ""},
		"a harvest of a year":   {kept + signedEntry("harvested", "2026-04-12T18:00:00", "2024-10-12", "k-2", `pile = "a"`, `fresh = "2 kg"`), "look at the year"},
		"only the year is said": {kept + signedEntry("received", "2026-04-28T18:00:00", `"2023"`, "k-2", `species = "cordyceps"`, `dry = "60 g"`), ""},
		"inoculated long ago":   {kept + signedEntry("inoculated", "2026-04-12T18:00:00", "2019-04-12", "k-2", `pile = "b"`, `species = "shiitake"`, "logs = 40"), ""},
		"put right long after": {kept + signedEntry("harvested", "2024-10-12T18:00:00", "2024-10-12", "k-2", `pile = "a"`, `fresh = "2 kg"`) +
			signedEntry("corrected", "2026-04-12T18:00:00", "2024-10-12", "k-3", `replaces = "k-2"`, `kind = "harvested"`, `pile = "a"`, `fresh = "3 kg"`), ""},
		"by hand": {kept + entry("rained", "2015-03-31", `rain = "3 mm"`), ""},
	} {
		f, _ := yardOf(t, c.text)
		problems := f.Check()
		if c.want == "" && len(problems) > 0 || c.want != "" && (len(problems) != 1 || !has(problems, 0, c.want)) {
			t.Errorf("%s: %s", name, lines(problems))
		}
	}
}
