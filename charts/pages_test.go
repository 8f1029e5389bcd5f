package charts

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/yard"
)

var update = flag.Bool("update", false, "write the golden files")

// node is an element of a page; text stands in nodes without a name.
type node struct {
	name string
	attr map[string]string
	text string
	kids []*node
}

// parse reads a page as the tree it is meant to be: it fails where an element
// is not closed in order, so a typed name that broke out of its place shows.
func parse(t *testing.T, f File) *node {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(f.Data))
	d.Strict, d.AutoClose, d.Entity = false, []string{"meta", "link"}, xml.HTMLEntity
	root := &node{name: "#page"}
	open := []*node{root}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return root
		}
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		top := open[len(open)-1]
		switch x := tok.(type) {
		case xml.StartElement:
			n := &node{name: x.Name.Local, attr: map[string]string{}}
			for _, a := range x.Attr {
				n.attr[a.Name.Local] = a.Value
			}
			top.kids, open = append(top.kids, n), append(open, n)
		case xml.EndElement:
			if top.name != x.Name.Local {
				t.Fatalf("%s: </%s> closes <%s>", f.Name, x.Name.Local, top.name)
			}
			open = open[:len(open)-1]
		case xml.CharData:
			top.kids = append(top.kids, &node{text: string(x)})
		}
	}
}

// all returns the nodes below n for which want holds.
func (n *node) all(want func(*node) bool) []*node {
	var found []*node
	for _, k := range n.kids {
		if want(k) {
			found = append(found, k)
		}
		found = append(found, k.all(want)...)
	}
	return found
}

func tag(name string) func(*node) bool { return func(n *node) bool { return n.name == name } }

func class(name string) func(*node) bool {
	return func(n *node) bool { return slices.Contains(strings.Fields(n.attr["class"]), name) }
}

// words is all text below n, blanks folded.
func (n *node) words() string {
	var b strings.Builder
	var collect func(*node)
	collect = func(n *node) {
		b.WriteString(n.text)
		for _, k := range n.kids {
			collect(k)
		}
	}
	collect(n)
	return strings.ReplaceAll(strings.Join(strings.Fields(b.String()), " "), "\u00a0", " ")
}

func pages(t *testing.T, in Input) map[string]File {
	t.Helper()
	files, err := Pages(in)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]File{}
	for _, f := range files {
		if _, twice := m[f.Name]; twice {
			t.Fatalf("%s is written twice", f.Name)
		}
		m[f.Name] = f
	}
	return m
}

// withLibrary gives the input a stand-in for the charting library: the pages
// carry it and never look into it.
func withLibrary(in Input) Input {
	in.Library = []byte("// a stand-in for the charting library\n")
	return in
}

func htmlOf(m map[string]File) []File {
	var list []File
	for name, f := range m {
		if strings.HasSuffix(name, ".html") {
			list = append(list, f)
		}
	}
	slices.SortFunc(list, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return list
}

// yards are the inputs on which every law of the pages must hold.
func yards() map[string]Input {
	one := aYard()
	one.State.Piles, one.Result.Piles = one.State.Piles[:1], one.Result.Piles[:1]
	us := aYard()
	us.State.Config.US = true
	all := map[string]Input{
		"nothing at all": {}, "new folder": {State: &yard.State{AsOf: day("2026-05-04")}, Result: &forecast.Result{AsOf: day("2026-05-04")}},
		"usual": aYard(), "one pile": one, "US units": us, "no chance": hopeless(),
		"hostile": hostile(), "very long names": longNames(), "no forecast": {State: aYard().State},
		"own record": measured(aYard(), 4), "record of another place": strange(), "rain gauge only": gauge(aYard()), "US record": measured(us, 1), "drought": dry(aYard()),
		"scored": scored(aYard()), "US scored": scored(us), "scored, hostile": scored(hostile()), "scored, long names": scored(longNames()),
		"nothing to score": unscored(aYard()),
		"tank book":        tankYard(), "tank book, US": soaking(us), "tank book, hostile": soaking(hostile()), "tank book, one pile": soakedOne(),
		"season, US": aSeason(usYard()), "season, hostile": hostileSeason(), "season, unmet": unmetSeason(),
		"kitchen": {State: aKitchen(false), Written: entriesOf(aKitchen(false))}, "US kitchen": {State: aKitchen(true)},
	}
	if testing.Short() { // those that differ from another by their units or little else
		for _, name := range []string{"one pile", "US units", "rain gauge only", "US record", "US scored", "scored, long names", "nothing to score",
			"tank book, US", "tank book, one pile", "tank book, hostile", "season, US", "US kitchen"} {
			delete(all, name)
		}
	}
	return all
}

func usYard() Input {
	us := aYard()
	us.State.Config.US = true
	return us
}

// soakedOne is a tank book whose loads name piles that are gone.
func soakedOne() Input {
	in := tankYard()
	in.State.Piles, in.Result.Piles, in.Result.Species = in.State.Piles[:1], in.Result.Piles[:1], nil
	return in
}

// crowd is a yard with many piles more.
func crowd(n int) Input {
	in := aYard()
	for i := range n {
		name := fmt.Sprintf("pile %d", i)
		f := *in.Result.Piles[i%4]
		f.Name = name
		in.State.Piles = append(in.State.Piles, aPile(name, "", "2025-04-12", 10))
		in.Result.Piles = append(in.Result.Piles, &f)
	}
	return in
}

// However large the yard, the door sheet stays a sheet.
func TestTheDoorSheetStaysShort(t *testing.T) {
	page := parse(t, pages(t, crowd(200))["index.html"])
	lists := page.all(class("work"))
	if len(lists) != 1 || len(lists[0].all(tag("li"))) > 7 {
		t.Errorf("more than seven lines of work")
	}
	for _, list := range page.all(class("said")) {
		if n := len(list.all(tag("li"))); n > 24 {
			t.Errorf("%d sentences in one list", n)
		}
	}
	if n := len(page.all(class("piles"))[0].all(tag("dt"))); n != 205 {
		t.Errorf("%d piles listed of 205", n)
	}
}

// hopeless is a yard in which nothing will ever happen.
func hopeless() Input {
	in := aYard()
	for _, p := range in.Result.Piles {
		p.First = forecast.FirstHarvest{}
		if p.Colonised != nil {
			p.Colonised = &forecast.Colonised{}
		}
		for i := range p.Months {
			p.Months[i] = forecast.Month{Month: p.Months[i].Month}
		}
		for i := range p.YearsAhead {
			p.YearsAhead[i].Fresh = forecast.Amount{}
		}
	}
	for s := range in.Result.Species {
		for i := range in.Result.Species[s].Months {
			in.Result.Species[s].Months[i] = forecast.SpeciesMonth{Month: in.Result.Species[s].Months[i].Month}
		}
		for i := range in.Result.Species[s].Years {
			in.Result.Species[s].Years[i] = forecast.SpeciesYear{Year: in.Result.Species[s].Years[i].Year}
		}
	}
	return in
}

// evil are names that ran as script, or broke out of their place, in pages
// that were rendered carelessly.
var evil = []string{
	`</script><script>window.PWNED=1</script>`, `__f__window.PWNED=4__f__`, `"><img src=x onerror=window.PWNED=2>`,
	`' onmouseover='window.PWNED=3`, `{{.Title}}`, `fn:words`, "javascript:window.PWNED=5", `<!--`, `]]>`, "a\u2028b\x00c", `..\..\..\index`,
}

// hostile names everything that can be named after each of them.
func hostile() Input {
	in := aYard()
	in.State.Config.Name = evil[0]
	in = measured(in, 1)
	in.Result.Site.Name, in.Result.Site.Source, in.Result.Site.Licence = evil[0], evil[1], evil[2]
	in.Result.Site.Borrowed, in.Result.Site.Notes = evil[:4], evil
	in.Result.Site.Ahead.Species, in.Result.Site.Ahead.Strain = evil[0], evil[2]
	for i, e := range evil {
		p := aPile(e, "", "2025-04-12", 10)
		p.Species, p.Wood, p.Place, p.SpawnLot = e, e, e, e
		p.Entries[0].Note, p.Entries[0].ID = e, e
		p.Entries[0].Text = "[[inoculated]]\nspecies = \"" + e + "\"\n"
		f := *in.Result.Piles[i%3]
		f.Name, f.Species, f.Notes = e, e, []forecast.Note{{Kind: "odd", Text: e}}
		in.State.Piles, in.Result.Piles = append(in.State.Piles, p), append(in.Result.Piles, &f)
		s := in.Result.Species[0]
		s.Species = e
		in.Result.Species = append(in.Result.Species, s)
		in.State.Dry = append(in.State.Dry, &yard.DryLot{Lot: e, Species: e, Form: e, From: e})
		b := in.Result.Plan.Batches[0]
		b.Lot, b.Recipe, b.Why, b.Cautions = e, e, e, []string{e}
		in.Result.Plan.Batches = append(in.Result.Plan.Batches, b)
		in.State.Batches = append(in.State.Batches, hostileBatch(e))
		in.Problems = append(in.Problems, yard.Problem{File: e, Text: e, Remedy: e, Grade: yard.Grade(i % 3), Entry: e})
	}
	in.Written = append(entriesOf(in.State), mendedEntries(evil)...)
	return in
}

func longNames() Input {
	in := aYard()
	for i, p := range in.State.Piles {
		name := strings.Repeat("überlang ", 40) + fmt.Sprint(i%2)
		if f := in.Result.Piles[i]; f.Name == p.Name {
			f.Name = name
		}
		p.Name, p.Wood = name, strings.Repeat("W", 300)
	}
	return in
}

// each runs a check on every page of every yard, with and without the
// charting library.
func each(t *testing.T, check func(t *testing.T, f File, page *node, drawn bool)) {
	t.Helper()
	for name, in := range yards() {
		for _, drawn := range []bool{false, true} {
			key := fmt.Sprintf("%s/drawn=%v", name, drawn)
			t.Run(key, func(t *testing.T) {
				if _, known := rendered[key]; !known {
					if drawn {
						in = withLibrary(in)
					}
					for _, f := range htmlOf(pages(t, in)) {
						rendered[key] = append(rendered[key], parsed{f, parse(t, f)})
					}
				}
				for _, p := range rendered[key] {
					check(t, p.file, p.page, drawn)
				}
			})
		}
	}
}

// parsed is a page with its tree.
type parsed struct {
	file File
	page *node
}

// rendered keeps what each has parsed, because several tests look at it.
var rendered = map[string][]parsed{}

func TestEveryPageStandsAlone(t *testing.T) {
	each(t, func(t *testing.T, f File, page *node, drawn bool) {
		if n := len(page.all(tag("h1"))); n != 1 {
			t.Errorf("%s has %d main headings", f.Name, n)
		}
		if html := page.all(tag("html")); len(html) != 1 || html[0].attr["lang"] == "" {
			t.Errorf("%s does not say its language", f.Name)
		}
		if len(page.all(class("skip"))) != 1 || len(page.all(tag("main"))) != 1 {
			t.Errorf("%s lacks a way past its head", f.Name)
		}
		ids := map[string]bool{}
		for _, n := range page.all(func(n *node) bool { return n.attr["id"] != "" }) {
			if ids[n.attr["id"]] {
				t.Errorf("%s has two elements %q", f.Name, n.attr["id"])
			}
			ids[n.attr["id"]] = true
		}
		for _, n := range page.all(func(n *node) bool { return n.attr["aria-labelledby"] != "" }) {
			if !ids[n.attr["aria-labelledby"]] {
				t.Errorf("%s: nothing is named %q", f.Name, n.attr["aria-labelledby"])
			}
		}
	})
}

// Nothing on a page asks for anything but its own neighbours.
func TestNoPageReachesOut(t *testing.T) {
	away := regexp.MustCompile(`(?i)^[a-z][a-z0-9+.-]*:|^//|^\\`)
	for name, in := range yards() {
		in = withLibrary(in)
		t.Run(name, func(t *testing.T) {
			files := pages(t, in)
			for _, f := range htmlOf(files) {
				for _, n := range parse(t, f).all(func(n *node) bool { return n.attr["href"]+n.attr["src"] != "" }) {
					to := n.attr["href"] + n.attr["src"]
					if to == "data:," || strings.HasPrefix(to, "#") { // no icon, so that none is asked for; this page
						continue
					}
					if away.MatchString(to) {
						t.Errorf("%s points away: %s", f.Name, to)
						continue
					}
					to, _, _ = strings.Cut(to, "#")
					if _, there := files[unescape(to)]; !there {
						t.Errorf("%s points to %s, which is not there", f.Name, to)
					}
				}
			}
		})
	}
}

func unescape(href string) string {
	s := regexp.MustCompile(`%[0-9a-fA-F]{2}`).ReplaceAllStringFunc(href, func(h string) string {
		var b byte
		fmt.Sscanf(h, "%%%02x", &b)
		return string([]byte{b})
	})
	return s
}

func TestEveryChartHasItsSentenceAndTable(t *testing.T) {
	seen := 0
	each(t, func(t *testing.T, f File, page *node, drawn bool) {
		for _, fig := range page.all(class("drawing")) {
			seen++
			if cap := fig.all(tag("figcaption")); len(cap) != 1 || cap[0].words() == "" || fig.kids[1] != cap[0] {
				t.Errorf("%s: a chart has no sentence before it", f.Name)
			}
			if len(fig.all(tag("table"))) != 1 || len(fig.all(tag("td"))) == 0 {
				t.Errorf("%s: a chart has no table under it", f.Name)
			}
			canvas := fig.all(class("chart"))
			if (len(canvas) == 1) != drawn {
				t.Errorf("%s: %d places for a chart, library %v", f.Name, len(canvas), drawn)
			}
			for _, c := range canvas {
				if c.attr["role"] != "img" || c.attr["aria-label"] == "" {
					t.Errorf("%s: a chart says nothing to those who hear it", f.Name)
				}
			}
		}
		if bool(len(page.all(func(n *node) bool { return n.name == "script" && n.attr["src"] != "" })) > 0) && !drawn {
			t.Errorf("%s asks for a script that is not there", f.Name)
		}
	})
	if seen == 0 {
		t.Fatal("no chart was seen")
	}
}

func TestEveryMonthBoxSaysItsChance(t *testing.T) {
	said := regexp.MustCompile(`^[A-Z][a-z]+ \d{4}: (<1|>99|\d{1,2}) %(, winter)?$`)
	seen := 0
	each(t, func(t *testing.T, f File, page *node, _ bool) {
		for _, months := range page.all(class("months")) {
			for _, box := range months.all(tag("li")) {
				seen++
				heard, written := box.all(class("heard")), box.all(class("chance"))
				if len(heard) != 1 || !said.MatchString(heard[0].words()) {
					t.Fatalf("%s: a month box says %q", f.Name, box.words())
				}
				if len(written) != 1 || !strings.Contains(heard[0].words(), written[0].words()+" %") {
					t.Fatalf("%s: written %q, said %q", f.Name, written[0].words(), heard[0].words())
				}
				if winter := len(box.all(class("winter"))) == 1; winter != strings.Contains(heard[0].words(), "winter") {
					t.Fatalf("%s: hatched %v, said %q", f.Name, winter, heard[0].words())
				}
			}
		}
	})
	if seen == 0 {
		t.Fatal("no box was seen")
	}
}

// What somebody typed never becomes an element, an attribute or a script.
func TestTypedNamesStayInert(t *testing.T) {
	for _, drawn := range []bool{false, true} {
		in := hostile()
		if drawn {
			in = withLibrary(in)
		}
		m := pages(t, in)
		for _, f := range htmlOf(m) {
			page := parse(t, f)
			for _, n := range page.all(tag("script")) {
				if n.attr["src"] == "" && n.attr["type"] != "application/json" {
					t.Errorf("%s holds a script that is not ours: %.60q", f.Name, n.words())
				}
				if n.attr["type"] == "application/json" && bytes.ContainsAny([]byte(n.words()), "<>") {
					t.Errorf("%s: an option holds markup", f.Name)
				}
			}
			if len(page.all(tag("img"))) > 0 {
				t.Errorf("%s: a name became a picture", f.Name)
			}
			for _, n := range page.all(func(n *node) bool { return n.name != "" }) {
				for a := range n.attr {
					if strings.HasPrefix(strings.ToLower(a), "on") {
						t.Errorf("%s: <%s %s>", f.Name, n.name, a)
					}
				}
			}
		}
		today := parse(t, m["index.html"]).words()
		for _, e := range evil[:8] {
			if !strings.Contains(today, strings.Join(strings.Fields(e), " ")) {
				t.Errorf("the pile %q is not shown as it was typed", e)
			}
		}
	}
}

// The functions that a chart calls stand under two keys, and only our own
// names are ever there.
func TestChartOptionsCallOnlyOurFunctions(t *testing.T) {
	ours := []string{string(fnWords), string(fnRange), string(fnSpan)}
	options := 0
	for _, f := range htmlOf(pages(t, withLibrary(hostile()))) {
		for _, n := range parse(t, f).all(func(n *node) bool { return n.attr["type"] == "application/json" }) {
			options++
			var v any
			if err := json.Unmarshal([]byte(n.kids[0].text), &v); err != nil {
				t.Fatalf("%s: %v", f.Name, err)
			}
			visit(v, func(key string, v any) {
				s, isText := v.(string)
				if (key == "formatter" || key == "renderItem") && (!isText || !slices.Contains(ours, s)) {
					t.Errorf("%s: %s is %q", f.Name, key, v)
				}
			})
		}
	}
	if options == 0 {
		t.Fatal("no option was seen")
	}
}

func visit(v any, each func(key string, v any)) {
	switch x := v.(type) {
	case map[string]any:
		for k, v := range x {
			each(k, v)
			visit(v, each)
		}
	case []any:
		for _, v := range x {
			visit(v, each)
		}
	}
}

func TestSameInputSameBytes(t *testing.T) {
	for name, in := range yards() {
		in = withLibrary(in)
		a, errA := Pages(in)
		b, errB := Pages(in)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		for i := range a {
			if a[i].Name != b[i].Name || !bytes.Equal(a[i].Data, b[i].Data) {
				t.Errorf("%s: %s differs between two runs", name, a[i].Name)
			}
		}
	}
}

func TestPagesLeaveTheirInputAlone(t *testing.T) {
	in := withLibrary(aYard())
	before, _ := json.Marshal(in.Result.Piles)
	pages(t, in)
	if after, _ := json.Marshal(in.Result.Piles); !bytes.Equal(before, after) {
		t.Error("rendering changed the forecast")
	}
}

// No word that only statisticians use stands on a page.
func TestWordsForGrowers(t *testing.T) {
	strange := regexp.MustCompile(`\bP[159]0\b|\bdraws?\b|CRPS|posterior|quantile|\bNaN\b|\bInf\b|<no value>|%!|1970|\bnil\b`)
	each(t, func(t *testing.T, f File, page *node, _ bool) {
		if strings.Contains(t.Name(), "hostile") {
			return
		}
		for _, n := range page.all(tag("main")) {
			if m := strange.FindString(n.words()); m != "" {
				t.Errorf("%s says %q", f.Name, m)
			}
		}
	})
}

func TestGoldenPage(t *testing.T) {
	style := regexp.MustCompile(`(?s)<style>.*</style>`)
	m := pages(t, withLibrary(scored(aYard())))
	m["soaks.html"] = pages(t, withLibrary(tankYard()))["soaks.html"]
	kitchen := Input{State: aKitchen(false)}
	m["batch-26-03.html"] = pages(t, kitchen)["batch-26-03.html"]
	m["entries.html"] = pages(t, mendedYard(t))["entries.html"]
	for _, what := range []string{PrintBatch, PrintJar, PrintLabels} {
		f := aPaper(t, kitchen, what, "26-03")
		m[f.Name] = f
	}
	for _, name := range []string{"index.html", "pile-oak-north.html", "jars.html", "site.html", "score.html", "stock.html", "supply.html", "soaks.html",
		"batch-26-03.html", "entries.html", "print-batch-26-03.html", "print-jar-26-03.html", "print-labels-26-03.html"} {
		golden := filepath.Join("testdata", name+".golden")
		got := style.ReplaceAll(m[name].Data, []byte("<style></style>"))
		if *update {
			if err := os.MkdirAll("testdata", 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(golden, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is not what it was: look at it, then run the test with -update", name)
		}
	}
}

func BenchmarkPages(b *testing.B) {
	in := withLibrary(crowd(200))
	for b.Loop() {
		if _, err := Pages(in); err != nil {
			b.Fatal(err)
		}
	}
}
