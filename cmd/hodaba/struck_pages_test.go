package main

import (
	"bytes"
	"context"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

var (
	pageLine = regexp.MustCompile(`(?s)<(li|tr)\b[^>]*>(.*?)</(?:li|tr)>`)
	pageFact = regexp.MustCompile(`(?s)<div><dt>(?:Inoculated|Buried|Arrived)</dt>(.*?)</div>`)
	pageTag  = regexp.MustCompile(`(?s)<[^>]*>`)
	pageMend = regexp.MustCompile(`href="entries[a-z0-9-]*\.html#[^"]+" aria-label="mend ([^"]+)"`)
	dayOfRow = regexp.MustCompile(`^(?:seen )?(\d{1,2} [A-Z][a-z]+ 20\d\d)(?:, (?:weighed|dried))? `)
	anEntry  = regexp.MustCompile(`\bhanger-\d+\b`)
)

// demoLines are the lines of a page: rows, items, and since when a pile stands.
func demoLines(page []byte) (lines []string) {
	for _, m := range pageLine.FindAllSubmatch(page, -1) {
		lines = append(lines, string(m[2]))
	}
	for _, m := range pageFact.FindAllSubmatch(page, -1) {
		lines = append(lines, string(m[1]))
	}
	return lines
}

func lineWords(line string) string {
	return strings.Join(strings.Fields(html.UnescapeString(pageTag.ReplaceAllString(line, " "))), " ") + " "
}

// Each line of the demo's pages that shows an entry, by its words, by its
// identifier, or by its day as the head of a row, leads to it; and what is
// corrected and voided stands struck through wherever it was listed. A template
// that drops either makes this fail.
func TestDemoPagesLeadToTheirEntries(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "demo")
	pages := filepath.Join(dir, "pages")
	inAutumn(t, "demo", dir, "--draws", strconv.Itoa(fewDraws))
	t.Run("lines", func(t *testing.T) { linesLead(t, dir, pages) })
	t.Run("corrected", func(t *testing.T) { correctedStandStruck(t, dir) })
}

// inAutumn runs the program on a day on which most of the demo has happened.
func inAutumn(t *testing.T, args ...string) {
	t.Helper()
	var said bytes.Buffer
	a := benchApp()
	a.err, a.now = &said, time.Date(2026, 11, 26, 18, 2, 0, 0, time.UTC)
	if status := a.run(context.Background(), args); status != statusDone {
		t.Fatalf("hodaba %q: exit status %d\n%s", args, status, said.String())
	}
}

func linesLead(t *testing.T, dir, pages string) {
	entries := demoEntries(t, dir)
	seen, said := map[string]int{}, map[string][]string{}
	for id, e := range entries {
		said[e.Says()] = append(said[e.Says()], id)
	}
	for _, name := range pageNames(t, pages) {
		for _, line := range demoLines(readPage(t, pages, name)) {
			kind, _, _ := strings.Cut(strings.TrimSuffix(name, ".html"), "-")
			leadsToItsEntry(t, name, kind, line, entries, said, seen)
		}
	}
	for _, kind := range []string{"pile", "batch", "stock", "harvest"} {
		if seen[kind] == 0 {
			t.Errorf("no line of an entry was seen on a page %q", kind)
		}
	}
	if n := strings.Count(string(readPage(t, pages, "soaks.html")), `aria-label="mend `); n == 0 {
		t.Error("no soak leads to its entry")
	}
}

func leadsToItsEntry(t *testing.T, page, kind, line string, entries map[string]*yard.Entry, said map[string][]string, seen map[string]int) {
	t.Helper()
	words := strings.ReplaceAll(lineWords(line), "\u00a0", " ")
	leads := map[string]bool{}
	days := map[string]bool{}
	for _, m := range pageMend.FindAllStringSubmatch(line, -1) {
		leads[m[1]] = true
		if e := entries[m[1]]; e != nil {
			days[longDay(e.On.From)] = true
		}
	}
	for _, id := range anEntry.FindAllString(words, -1) {
		if seen[kind]++; !leads[id] {
			t.Errorf("%s: %q does not lead to %s", page, words, id)
		}
	}
	for says, ids := range said {
		if strings.Contains(words, says+" ") && !slices.ContainsFunc(ids, func(id string) bool { return leads[id] }) {
			t.Errorf("%s: %q does not lead to %s", page, words, strings.Join(ids, " or "))
		}
	}
	if kind == "supply" || kind == "site" { // their rows are weeks
		return
	}
	if m := dayOfRow.FindStringSubmatch(words); m != nil && happenedOn(entries, m[1]) {
		if seen[kind]++; !days[m[1]] {
			t.Errorf("%s: %q leads to no entry of that day", page, words)
		}
	}
}

func longDay(d yard.Date) string { return d.Time().Format("2 January 2006") }

func happenedOn(entries map[string]*yard.Entry, day string) bool {
	for _, e := range entries {
		if e.On.Exact() && longDay(e.On.From) == day {
			return true
		}
	}
	return false
}

// The slips of a demo that were put right stand struck through on every kind
// of page that lists entries, and on the paper, with the day, the initials and
// the reason.
func correctedStandStruck(t *testing.T, dir string) {
	for _, args := range [][]string{
		{"correct", "hanger-106", "fresh=1.7kg", "note=with the basket", "--by", "mk"},
		{"correct", "hanger-50", "volume=605ml", "--by", "mk"},
		{"correct", "hanger-53", "kept_back=30ml", "--by", "mk"},
		{"correct", "hanger-93", "logs=18", "--by", "mk"},
		{"correct", "hanger-1", "logs=41", "--by", "mk"},
		{"correct", "hanger-85", "pile=reishi-gate", "--by", "mk"},
		{"correct", "hanger-99", "dry=305g", "--by", "mk"},
		{"correct", "hanger-109", "void=true", "--by", "mk"},
		{"record", "harvested", "oak-top", "300g", "on=2026-05-01", "--by", "mk"},
		{"undo", "--by", "mk"},
		{"pages", "--draws", strconv.Itoa(fewDraws)},
		{"print", "batch", "HF-25-01"},
	} {
		inAutumn(t, append(args, "--yard", dir)...)
	}
	for page, ids := range map[string][]string{
		"pile-oak-gate.html": {"hanger-106"}, "harvest.html": {"hanger-106", "hanger-99"}, "pile-oak-top.html": {"hanger-93", "hanger-1"},
		"soaks.html": {"hanger-93"}, "pile-reishi-wall.html": {"hanger-85"}, "pile-reishi-gate.html": {"hanger-85"},
		"stock.html": {"hanger-99", "hanger-109"}, "pile-birch-burn.html": {"hanger-109"},
		"batch-hf-25-01.html": {"hanger-50", "hanger-53"}, "print-batch-hf-25-01.html": {"hanger-50", "hanger-53"},
	} {
		text := string(readPage(t, filepath.Join(dir, "pages"), page))
		for _, id := range ids {
			struck := regexp.MustCompile(`(?s)No longer counts: <del>[^<]+</del> – (corrected|voided) \d{1,2} [A-Z][a-z]+ \d{4} by mk[^<]*(<a class="id" href="entries\.html#` + id + `">|\(` + id + `\))`)
			if !struck.MatchString(strings.ReplaceAll(inItsPlace.ReplaceAllString(text, ""), "\u00a0", " ")) {
				t.Errorf("%s: %s does not stand struck through with its day and initials", page, id)
			}
		}
	}
	if top := string(readPage(t, filepath.Join(dir, "pages"), "pile-oak-top.html")); !strings.Contains(top, "– voided ") {
		t.Error("what was undone does not stand struck through on the page of its pile")
	}
}

// inItsPlace is what counts elsewhere in the place of a struck entry.
var inItsPlace = regexp.MustCompile(`(?s) In its place: .*?</a>\.`)

func demoEntries(t *testing.T, dir string) map[string]*yard.Entry {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	f, _, err := yard.Open(dir, set, yard.NewDate(2026, 11, 26))
	if err != nil {
		t.Fatal(err)
	}
	list, _ := f.Entries()
	entries := map[string]*yard.Entry{}
	for _, e := range list {
		entries[e.ID] = e
	}
	return entries
}

func pageNames(t *testing.T, dir string) (names []string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if n := f.Name(); strings.HasSuffix(n, ".html") && !strings.HasPrefix(n, "entries") && n != "sources.html" {
			names = append(names, n)
		}
	}
	if len(names) < 10 {
		t.Fatalf("only %d pages", len(names))
	}
	return names
}

func readPage(t *testing.T, dir, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}
