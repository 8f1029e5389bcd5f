package charts

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// entriesOf are the entries behind a state, as they would stand in a journal.
func entriesOf(s *yard.State) []*yard.Entry {
	list := slices.Clone(s.Entries)
	for _, p := range s.Piles {
		list = append(list, p.Entries...)
	}
	for _, b := range s.Batches {
		list = append(list, b.Entries...)
	}
	return list
}

// mendedEntries are entries named and written by hand with whatever stands in
// words, each of them replaced by another.
func mendedEntries(words []string) (list []*yard.Entry) {
	for i, w := range words {
		text := fmt.Sprintf("[[lost]]\non = 2026-04-0%d\npile = %q\ncause = %q\nentry = %q\n", 1+i%9, w, w, "old "+w)
		old := &yard.Entry{ID: "old " + w, Kind: "lost", On: on("2026-04-02"), By: w, Note: w, Text: text}
		old.Replaced = &yard.Entry{ID: "new " + w, Kind: "corrected", On: on("2026-04-02"), By: w, Text: text,
			Event: &yard.Corrected{Replaces: old.ID, Void: i%2 == 0}}
		list = append(list, old, old.Replaced)
	}
	return list
}

// journalOf reads a journal of a yard in memory.
func journalOf(t testing.TB, journal string, asOf string) (*yard.State, []*yard.Entry) {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	files := map[string]string{yard.YardFile: "name = \"Fernbrook\"\n[site]\nstation = \"oxford\"\n", yard.JournalFile: journal}
	f, _, err := yard.OpenFiles(yard.InMemory(files), set, day(asOf))
	if err != nil {
		t.Fatal(err)
	}
	entries, problems := f.Entries()
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	s, _ := f.State(day(asOf), 0)
	return s, entries
}

const mendedJournal = `
[[inoculated]]
written = 2026-01-10T10:00:00
on      = "2025"
pile    = "oak-north"
species = "shiitake"
logs    = 40
entry   = "kitchen-1"

[[harvested]]
written = 2026-05-02T18:00:00
on      = 2026-05-02
pile    = "oak-north"
fresh   = "22 kg"
by      = "ab"
note    = "the first flush"
entry   = "kitchen-2"

[[corrected]]
written  = 2026-05-03T08:00:00
replaces = "kitchen-2"
kind     = "harvested"
on       = 2026-05-02
pile     = "oak-north"
fresh    = "2.2 kg"
by       = "cd"
note     = "a slip: it was one basket"
entry    = "shed-1"

[[lost]]
written = 2026-04-01T08:00:00
on      = 2026-04-01
pile    = "oak-north"
logs    = 4
cause   = "it's the badger"
entry   = "kitchen-3"

[[corrected]]
written  = 2026-04-02T08:00:00
replaces = "kitchen-3"
void     = true
on       = 2026-04-01
entry    = "kitchen-4"

[[walked]]
on    = 2026-04-20
piles = ["oak-north"]
`

func mendedYard(t testing.TB) Input {
	s, entries := journalOf(t, mendedJournal, "2026-05-04")
	return Input{State: s, Written: entries}
}

// What no longer counts stays on the page, struck through, and says in words
// what took its place, when and by whom; what counts says how to mend it.
func TestMendedEntriesStayReadable(t *testing.T) {
	page := parse(t, pages(t, mendedYard(t))[entriesFile])
	said := map[string]string{}
	for _, li := range page.all(class("written"))[0].all(tag("li")) {
		said[li.attr["id"]] = li.words()
	}
	for _, section := range page.all(class("written"))[1:] {
		for _, li := range section.all(tag("li")) {
			said[li.attr["id"]] = li.words()
		}
	}
	for id, parts := range map[string][]string{
		"kitchen-2": {"22 kg", "“the first flush”", "No longer counts: corrected 3 May 2026 by cd, see shed-1.", "by ab, line 10"},
		"shed-1":    {"harvested oak-north: fresh 2.2 kg", "by cd", "In place of kitchen-2.", "hodaba correct shed-1 on=2026-05-02 pile=oak-north fresh='2.2 kg'", "hodaba correct shed-1 void=true"},
		"kitchen-3": {"it's the badger", "No longer counts: voided 2 April 2026 at kitchen, see kitchen-4."},
		"kitchen-4": {"voids kitchen-3", "Let what it voids stand again: hodaba correct kitchen-4 void=true"},
		"kitchen-1": {"2025", "hodaba correct kitchen-1 on=2025 pile=oak-north species=shiitake logs=40"},
	} {
		for _, part := range parts {
			if !strings.Contains(said[id], part) {
				t.Errorf("%s does not say %q: %s", id, part, said[id])
			}
		}
	}
	if strings.Contains(said["kitchen-2"], "hodaba correct") {
		t.Error("an entry that no longer counts is offered for mending")
	}
	if struck := page.all(tag("del")); len(struck) != 2 {
		t.Errorf("%d lines are struck through, not 2", len(struck))
	}
	var heads []string
	for _, h := range page.all(tag("h2")) {
		heads = append(heads, h.words())
	}
	if want := []string{"May 2026", "April 2026", "2025, month not said"}; !slices.Equal(heads, want) {
		t.Errorf("headings %q, want %q", heads, want)
	}
}

// Every link into a page leads to a place that is there, and what a page says
// was written down can be mended from it.
func TestEveryPlaceThatIsLinkedToIsThere(t *testing.T) {
	mends := map[string]bool{}
	each(t, func(t *testing.T, f File, page *node, _ bool) {
		for _, a := range page.all(tag("a")) {
			if strings.HasPrefix(a.attr["aria-label"], "mend ") {
				kind, _, _ := strings.Cut(strings.TrimSuffix(f.Name, ".html"), "-")
				mends[kind] = true
			}
		}
	})
	for name, list := range rendered { // by each, above
		places := map[string]bool{}
		for _, p := range list {
			for _, n := range p.page.all(func(n *node) bool { return n.attr["id"] != "" }) {
				places[p.file.Name+"#"+n.attr["id"]] = true
			}
		}
		for _, p := range list {
			for _, n := range p.page.all(tag("a")) {
				to := unescape(n.attr["href"])
				if strings.HasPrefix(to, "#") {
					to = p.file.Name + to
				}
				if strings.Contains(to, "#") && !places[to] {
					t.Errorf("%s: %s leads to %s, which is not there", name, p.file.Name, to)
				}
			}
		}
	}
	for _, kind := range []string{"pile", "batch", "entries", "stock"} {
		if !mends[kind] {
			t.Errorf("nothing on a page %q leads to its entry", kind)
		}
	}
}

// However long a journal is, no page of it is.
func TestManyEntriesAreSharedOutOverPages(t *testing.T) {
	n := 100_000
	if testing.Short() {
		n = 5_000
	}
	s := &yard.State{AsOf: day("2026-05-04")}
	for i := range n {
		d := s.AsOf - yard.Date(i*3000/n)
		id := fmt.Sprintf("kitchen-%d", n-i)
		s.Entries = append(s.Entries, &yard.Entry{ID: id, Kind: "harvested", On: yard.On(d), Line: 9 * i,
			Text: fmt.Sprintf("[[harvested]]\non = %s\npile = \"oak-north\"\nfresh = \"2.4 kg\"\nnote = \"%s\"\nentry = %q\n", d, strings.Repeat("dry ", 20), id)})
	}
	b := newBook(Input{State: s})
	seen, files := map[string]bool{}, map[string]bool{}
	for _, sheet := range b.entrySheets() {
		f, err := b.render(sheet)
		if err != nil {
			t.Fatal(err)
		}
		if files[f.Name] {
			t.Errorf("%s is written twice", f.Name)
		}
		files[f.Name] = true
		if len(f.Data) > 2<<20 {
			t.Errorf("%s has %d bytes", f.Name, len(f.Data))
		}
		for _, part := range strings.Split(string(f.Data), `<li id="`)[1:] {
			id, _, _ := strings.Cut(part, `"`)
			if seen[id] {
				t.Fatalf("%s stands twice", id)
			}
			seen[id] = true
			if m := b.mendID(id); m.Href != f.Name+"#"+id {
				t.Fatalf("%s stands on %s and is looked for at %s", id, f.Name, m.Href)
			}
		}
	}
	if len(seen) != n {
		t.Errorf("%d entries stand on the pages, of %d", len(seen), n)
	}
}

// A pile with a long story, and entries that hold a book each, make no page
// that a phone cannot show.
func TestLongStoriesStayReadable(t *testing.T) {
	var journal strings.Builder
	journal.WriteString("[[inoculated]]\non = 2024-04-12\npile = \"oak-north\"\nspecies = \"shiitake\"\nlogs = 40\nentry = \"kitchen-1\"\n")
	long := strings.Repeat("dry and windy ", 10_000)
	for i := range 150 {
		fmt.Fprintf(&journal, "[[noticed]]\non = 2025-05-01\npile = \"oak-north\"\nwhat = \"slugs\"\nnote = \"%s\"\nentry = \"%s-%d\"\n", long, strings.Repeat("k", 5000), i)
	}
	s, entries := journalOf(t, journal.String(), "2026-05-04")
	m := pages(t, Input{State: s, Written: entries})
	for _, f := range htmlOf(m) {
		if len(f.Data) > 2<<20 {
			t.Errorf("%s has %d bytes", f.Name, len(f.Data))
		}
	}
	if !strings.Contains(parse(t, m["pile-oak-north.html"]).words(), "And 51 older entries") {
		t.Error("the page of the pile does not say that there is more")
	}
}

// No page or paper is written anywhere but beside the others, whatever piles
// and batches are called.
func TestNoFileLeavesItsFolder(t *testing.T) {
	in := hostile()
	for _, name := range []string{"../../up", "/etc/x", `C:\x`, "con", ".", "..", "a/../../b", "x\x00.html", "-rf", strings.Repeat("ab/", 300)} {
		in.State.Piles = append(in.State.Piles, aPile(name, "", "2025-04-12", 3))
		in.State.Batches = append(in.State.Batches, hostileBatch(name))
	}
	files, err := Pages(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range in.State.Batches {
		for _, what := range []string{PrintBatch, PrintJar, PrintLabels} {
			files = append(files, aPaper(t, in, what, b.Lot))
		}
	}
	for _, f := range files {
		if !filepath.IsLocal(f.Name) || strings.ContainsAny(f.Name, "/\\:\x00") || len(f.Name) > 200 || strings.HasPrefix(f.Name, ".") || strings.HasPrefix(f.Name, "-") {
			t.Errorf("a file is called %q", f.Name)
		}
	}
}

// Two identifiers never share a place, and none takes one of the page's own.
func TestAnchorsTellEntriesApart(t *testing.T) {
	ids := append(slices.Clone(evil), "kitchen-118", "3fa2b1", "main", "winter", "month-2026-5", "", "a b", "a_b", "a-b", "entry_612062", "entry_61",
		strings.Repeat("x1", 31), strings.Repeat("x1", 32))
	seen := map[string]string{}
	for _, id := range ids {
		a := anchor(id)
		if other, taken := seen[a]; taken {
			t.Errorf("%q and %q both stand at %q", id, other, a)
		}
		seen[a] = id
		if strings.ContainsAny(a, " \t\n\"'<>%#&") || a == "" {
			t.Errorf("%q becomes %q", id, a)
		}
		if a == "main" || a == "winter" || strings.HasPrefix(a, "month-") {
			t.Errorf("%q takes a place of the page: %q", id, a)
		}
	}
	if anchor("kitchen-118") != "kitchen-118" {
		t.Error("an identifier of the program's is not its own place")
	}
}
