package charts

import (
	"bytes"
	"cmp"
	"embed"
	"fmt"
	"html/template"
	"regexp"
	"unicode/utf8"

	"hodaba/charts/script"
	"hodaba/yard"
)

// File is one file of the pages. Its name is relative and uses slashes.
type File struct {
	Name string
	Data []byte
}

// The folder in which the scripts stand beside the pages.
const (
	bootFile    = "script/boot.js"
	libraryFile = "script/" + script.FileName
)

//go:embed page
var pageFiles embed.FS

// layout is what every page shares: its frame, the style sheet, the forms of
// tables, month boxes and charts.
var layout = template.Must(template.New("layout.html").Funcs(template.FuncMap{"nb": unbroken}).
	ParseFS(pageFiles, "page/layout.html", "page/style.css", "page/parts.html", "page/struck.html"))

// mains are the layout with the main part of each kind of page.
var mains = func() map[string]*template.Template {
	m := map[string]*template.Template{}
	for _, name := range []string{"today", "pile", "harvest", "soaks", "jars", "batch", "stock", "supply", "season", "entries", "site", "score", "sources"} {
		t := template.Must(layout.Clone())
		m[name] = template.Must(t.ParseFS(pageFiles, "page/"+name+".html"))
	}
	return m
}()

// frame is what every page says around its main part.
type frame struct {
	Title   string
	Yard    string // name of the yard
	Links   []link
	AsOf    string
	Basis   string // what the forecast was made with
	Charts  bool   // the page has charts to draw
	Missing bool   // it would, but there is no charting library
	Main    any
}

// link is one entry of the navigation.
type link struct {
	Text, Href string
	Here       bool
}

// sheet is one page before it is rendered.
type sheet struct {
	kind, file, title string
	main              any
	charts            []drawing
	basis             string // what it was made with; "" as all pages
}

// Pages renders all pages and brings the scripts they need. It reads and
// writes nothing; the same Input gives the same bytes.
func Pages(in Input) ([]File, error) {
	b := newBook(in)
	b.PlanPage = b.PlanPage || b.Season != nil
	b.tasks = b.work()
	sheets := []sheet{b.todaySheet()}
	done := map[string]bool{}
	for _, p := range b.State.Piles {
		if file := b.slugs[p.Name]; !done[file] {
			done[file] = true
			sheets = append(sheets, b.pileSheet(p))
		}
	}
	for _, t := range b.State.Batches {
		if file := b.batches[t.Lot]; !done[file] {
			done[file] = true
			sheets = append(sheets, b.batchSheet(t))
		}
	}
	sheets = append(sheets, b.harvestSheet(), b.soaksSheet(), b.jarsSheet(), b.stockSheet(), b.supplySheet(), b.seasonSheet())
	if b.Season != nil {
		sheets = append(sheets, b.planSheet())
	}
	sheets = append(sheets, b.entrySheets()...)
	sheets = append(sheets, b.siteSheet(), b.scoreSheet(), b.sourcesSheet())
	var files []File
	for _, s := range sheets {
		f, err := b.render(s)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	if b.Library != nil {
		files = append(files, File{bootFile, script.Boot()}, File{libraryFile, b.Library})
	}
	return files, nil
}

func (b *book) render(s sheet) (File, error) {
	f := frame{Title: s.title, Yard: b.State.Config.Name, Links: b.links(s.file), AsOf: fullDay(b.today()),
		Basis: cmp.Or(s.basis, b.basis()), Main: s.main}
	for _, d := range s.charts {
		f.Charts = f.Charts || d.Option != nil
		f.Missing = f.Missing || d.Option == nil
	}
	var out bytes.Buffer
	if err := mains[s.kind].ExecuteTemplate(&out, "layout.html", f); err != nil {
		return File{}, fmt.Errorf("rendering %s: %w", s.file, err)
	}
	return File{s.file, inert(out.Bytes())}, nil
}

// inert takes out of a page the signs that would turn or hide what stands
// beside a typed name.
func inert(page []byte) []byte {
	return bytes.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && r != utf8.RuneError && steers(r) {
			return -1
		}
		return r
	}, page)
}

func (b *book) links(here string) []link {
	all := []link{
		{Text: "Today", Href: "index.html"},
		{Text: "Piles", Href: "index.html#piles"},
		{Text: "Harvest", Href: "harvest.html"},
		{Text: "Tank book", Href: soaksFile},
		{Text: "Jar shelf", Href: "jars.html"},
		{Text: "Stock", Href: "stock.html"},
		{Text: "Supply", Href: supplyFile},
		{Text: "Next season", Href: seasonFile},
		{Text: "Written down", Href: entriesFile},
		{Text: "Site", Href: siteFile},
		{Text: "How right", Href: scoreFile},
		{Text: "Sources", Href: "sources.html"},
	}
	for i := range all {
		all[i].Here = all[i].Href == here
	}
	return all
}

// basis says what the forecast was made with, for the foot of a page.
func (b *book) basis() string {
	r := b.Result
	if r.Draws == 0 {
		return ""
	}
	return fmt.Sprintf("Every chance is a share of %d possible courses of the next %d years (seed %d); the same folder, day and seed give the same pages.",
		r.Draws, r.Years, r.Seed)
}

// option is o where it can be drawn, else nil.
func (b *book) drawn(o func() map[string]any) map[string]any {
	if b.Library == nil {
		return nil
	}
	return o()
}

// unit matches a figure with what belongs to it, so that no line breaks
// between them.
var unit = regexp.MustCompile(`(\d) (%|kg|g|lb|oz|fl|ml|l|cm|in|mm|°C|°F|km|m)\b|(\d) (%)`)

// unbroken puts no-break spaces between figures and their units.
func unbroken(s string) string { return unit.ReplaceAllString(s, "$1$3\u00a0$2$4") }

// The cautions that the pages add to those of the species and the batches.
const (
	eatSafely    = "Identify every mushroom with certainty before anyone eats or extracts it: look-alikes grow on the same logs."
	spiritSafely = "Keep spirit and its vapour away from every flame and spark, and air the room; hot liquor scalds."
	lawDiffers   = "The law on food, alcohol and supplements differs from place to place: ask the local authority and a licensed professional before selling or giving any away. Nothing here is a claim about health."
)

// sinceWords says since when a pile stands.
func sinceWords(w yard.When) string {
	if w.IsZero() {
		return "not said"
	}
	if w.Exact() {
		return fullDay(w.From)
	}
	return w.String()
}
