package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSeasonInABrowser opens the plan of a season, the page of what was
// written down, and the papers of both, of a yard whose names are as long as
// anyone types.
func TestSeasonInABrowser(t *testing.T) {
	b := openBrowser(t)
	library := chartLibrary(t)
	dir := filepath.Join(t.TempDir(), "yard")
	long := strings.Repeat("Überlang und breit ", 5)
	hodaba(t, library, "start", dir, "--station", "oxford", "--units", "metric")
	hodaba(t, library, "record", "inoculated", "pile="+long, "shiitake", "20 logs", "white oak", "12cm", "--on", "2024-04-12", "--yard", dir)
	hodaba(t, library, "record", "planned", "pile=und "+long, "species=shiitake", "wood=white oak", "logs=33", "month=2027-03", "--yard", dir)
	hodaba(t, library, "next-season", "--want", "12 kg shiitake in 3 years", "--draws", "20", "--page", "--yard", dir)
	hodaba(t, library, "pages", "--draws", "20", "--yard", dir)
	hodaba(t, library, "print", "tally", "--yard", dir)
	hodaba(t, library, "print", "tags", "--yard", dir)
	pages := filepath.Join(dir, "pages")
	for _, name := range []string{"season.html", "season-plan.html"} {
		for _, width := range []int64{narrowest, widest} {
			drawn := b.check(t, filepath.Join(pages, name), width, true)
			if name == "season-plan.html" && drawn == 0 {
				t.Errorf("%s, %d wide: there was no chart to look at", name, width)
			}
		}
	}
	for name, sheetsOf := range map[string]int{"print-tally.html": 1, "print-tags.html": 1} {
		file := filepath.Join(pages, name)
		if _, err := os.Stat(file); err != nil {
			t.Fatal(err)
		}
		for _, fault := range b.open(t, file, widest).faults(false) {
			t.Errorf("%s: %s", name, fault)
		}
		b.cutOff(t, name)
		for paper, size := range sheets {
			if n := b.printed(t, size); n != sheetsOf {
				t.Errorf("%s is %d sheets of %s, want %d", name, n, paper, sheetsOf)
			}
		}
	}
}
