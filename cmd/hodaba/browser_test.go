package main

import (
	"bytes"
	"context"
	_ "embed"
	"flag"
	"fmt"
	"image/png"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"hodaba/charts/script"
	"hodaba/forecast"
)

var update = flag.Bool("update", false, "take the pictures of the README anew")

// The two widths at which every page is opened, in CSS pixels: a small
// telephone and a desktop screen.
const (
	narrowest = 360
	widest    = 1440
)

// fewDraws are enough for pages whose looks are checked, not their numbers.
const fewDraws = 200

// TestPagesInABrowser opens the demo's pages from disk in a real browser, at
// both widths, light and dark, with the charting library and without it. A
// page may complain of nothing, ask for nothing that is not beside it, never
// scroll sideways, and must be readable.
func TestPagesInABrowser(t *testing.T) {
	for _, c := range []struct {
		name string
		with bool
	}{{"with the charting library", true}, {"without it", false}} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := openBrowser(t)
			dir := demoPages(t, c.with, fewDraws)
			drawings := map[string]int{} // by kind of page
			for _, width := range []int64{narrowest, widest} {
				for _, file := range pagesOf(t, dir) {
					kind, _, _ := strings.Cut(filepath.Base(file), "-")
					t.Run(fmt.Sprintf("%s/%d", filepath.Base(file), width), func(t *testing.T) {
						drawings[kind] += b.check(t, file, width, c.with)
					})
				}
			}
			for _, kind := range []string{"pile", "harvest.html", "soaks.html", "stock.html", "site.html", "score.html"} {
				if n, opened := drawings[kind]; opened && n == 0 {
					t.Errorf("%s: there was no chart to look at", kind)
				}
			}
		})
	}
}

// TestTypedTextStaysTextInABrowser opens the pages of a yard whose names are
// written to break out of a page, and hovers over every chart: nothing typed
// may run, load or vanish. (Planted once: with unbroken of the charts handing its
// text over as HTML, five of the pages failed.)
func TestTypedTextStaysTextInABrowser(t *testing.T) {
	b := openBrowser(t)
	library := chartLibrary(t)
	dir := filepath.Join(t.TempDir(), "yard")
	hodaba(t, library, "start", dir, "--station", "oxford", "--units", "metric")
	for i, name := range []string{
		`</script><script>window.owned=1</script>`, `<img src=x onerror="window.owned=2">`,
		`__f__window.owned=3__f__`, `fn:words`, `"];window.owned=4;[" & <b>bold</b>`,
	} {
		hodaba(t, library, "record", "inoculated", "pile="+name, "shiitake", "40 logs", "--on", "2024-04-12", "--yard", dir)
		hodaba(t, library, "record", "harvested", "pile="+name, "2 kg", "--on", fmt.Sprintf("2025-10-%02d", i+1), "--yard", dir)
	}
	hodaba(t, library, "pages", "--draws", strconv.Itoa(fewDraws), "--yard", dir)
	for _, file := range pagesOf(t, filepath.Join(dir, "pages")) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			b.check(t, file, widest, true)
			b.hover(t)
			owned, err := chromedp.Run(b.ctx, chromedp.Evaluate[bool](`"owned" in window || document.querySelector("main b, main img") !== null`))
			if err != nil {
				t.Fatal(err)
			}
			if owned {
				t.Error("typed text was taken for more than text")
			}
			if found := b.seen(filepath.Dir(file)); len(found) > 0 {
				t.Error(found)
			}
		})
	}
}

// TestBrowserCatches opens a page with one of every fault that the checks look
// for, and wants each to be caught.
func TestBrowserCatches(t *testing.T) {
	b := openBrowser(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "faulty.html")
	page := `<!doctype html><html lang="en"><title>faults</title><style>p{color:#999;background:#fff}</style>
<p>too pale to read</p><table><tr><td style="max-width:9px;padding:0">overlong</td><td>x</td></tr></table><div class="broad" style="width:900px;height:9px"></div>
<figure class="drawing"><div class="chart"></div></figure>
<img alt="" src="http://127.0.0.1:9/outside.png"><img alt="" src="../above.png">
<script>console.error("complaint"); setTimeout(() => { throw new Error("thrown") });</script></html>`
	if err := os.WriteFile(file, []byte(page), 0o600); err != nil {
		t.Fatal(err)
	}
	v := b.open(t, file, narrowest)
	found := strings.Join(append(b.seen(dir), v.faults(true)...), "\n")
	for _, want := range []string{"complaint", "thrown", "127.0.0.1:9/outside.png", "above.png", "div.broad", "1 of 1 charts are not drawn", "1 of 1 charts have no table", "p, contrast 2.8", "cells: overlong"} {
		if !strings.Contains(found, want) {
			t.Errorf("%q was not caught; only:\n%s", want, found)
		}
	}
}

// picture is one of the README's, taken from a page of the demo.
type picture struct {
	file, page    string
	width, height int64 // CSS pixels
}

var pictures = []picture{
	{"testdata/today.png", "index.html", 1000, 720},
	{"testdata/pile.png", "pile-hornbeam-1.html", 1000, 830},
}

// mostPicture is how large a picture may be, in bytes.
const mostPicture = 300_000

// TestScreenshot holds the README's pictures to their size; -update takes them
// anew.
func TestScreenshot(t *testing.T) {
	if *update {
		b, dir := openBrowser(t), demoPages(t, true, forecast.DefaultDraws)
		for _, p := range pictures {
			b.take(t, p, dir)
		}
	}
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pictures {
		file, err := os.ReadFile(p.file)
		if err != nil {
			t.Fatalf("%v; make it with: go test ./cmd/hodaba -run TestScreenshot -update", err)
		}
		got, err := png.DecodeConfig(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		if int64(got.Width) != p.width || int64(got.Height) != p.height || len(file) > mostPicture {
			t.Errorf("%s: %d × %d, %d bytes; want %d × %d, at most %d bytes",
				p.file, got.Width, got.Height, len(file), p.width, p.height, mostPicture)
		}
		if !bytes.Contains(readme, []byte("(cmd/hodaba/"+p.file+")")) {
			t.Errorf("the README does not show %s", p.file)
		}
	}
}

// take writes a picture of a page that is to be free of faults.
func (b *browser) take(t *testing.T, p picture, dir string) {
	t.Helper()
	for _, f := range b.open(t, filepath.Join(dir, p.page), p.width).faults(true) {
		t.Errorf("%s: %s", p.page, f)
	}
	b.do(t, chromedp.EmulateViewport(p.width, p.height))
	shot, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(p.file, shot, 0o644); err != nil {
		t.Fatal(err)
	}
}

// demoPages writes the demo and returns the folder of its pages.
func demoPages(t *testing.T, withLibrary bool, draws int) string {
	t.Helper()
	var library []byte
	if withLibrary {
		library = chartLibrary(t)
	}
	dir := filepath.Join(t.TempDir(), "demo")
	hodaba(t, library, "demo", dir, "--draws", strconv.Itoa(draws))
	return filepath.Join(dir, "pages")
}

func chartLibrary(t *testing.T) []byte {
	t.Helper()
	library, ok := script.Library()
	if !ok {
		missing(t, "the charting library", "go generate ./charts/script")
	}
	return library
}

// hodaba runs the program on the day of the benchmarks.
func hodaba(t *testing.T, library []byte, args ...string) {
	t.Helper()
	var said bytes.Buffer
	a := benchApp()
	a.err = &said
	a.library = func() ([]byte, bool) { return library, library != nil }
	if status := a.run(context.Background(), args); status != statusDone {
		t.Fatalf("hodaba %q: exit status %d\n%s", args, status, said.String())
	}
}

// pagesOf are the pages in a folder: in CI all of them, elsewhere only the first
// two of the piles, and with -short those that have a chart of their own kind.
func pagesOf(t *testing.T, dir string) []string {
	t.Helper()
	all, err := filepath.Glob(filepath.Join(dir, "*.html"))
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 10 {
		t.Fatalf("only %d pages in %s", len(all), dir)
	}
	if inCI() && !testing.Short() {
		return all
	}
	var some []string
	piles := 0
	for _, file := range all {
		name := filepath.Base(file)
		if strings.HasPrefix(name, "pile-") {
			if piles++; piles > 2 || piles > 1 && testing.Short() {
				continue
			}
		} else if testing.Short() && !slices.Contains([]string{"index.html", "harvest.html", "soaks.html", "stock.html", "site.html", "score.html"}, name) {
			continue
		}
		some = append(some, file)
	}
	return some
}

func inCI() bool { return os.Getenv("CI") != "" }

// missing ends a test that lacks something. On a grower's or developer's
// machine it is skipped; a CI that lacks it has failed.
func missing(t *testing.T, what, remedy string) {
	t.Helper()
	if inCI() {
		t.Fatalf("%s is missing: %s", what, remedy)
	}
	t.Skipf("%s is missing: %s", what, remedy)
}

// browser is one tab of a real browser, and what happened in it since the last
// page was opened.
type browser struct {
	ctx context.Context

	mu       sync.Mutex
	requests []string
	errors   []string
}

// openBrowser starts a browser that a test can use until its end.
func openBrowser(t *testing.T) *browser {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		missing(t, "a browser", "install chromium")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.DisableGPU,
		chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		// The browser itself shall ask no other computer for anything either.
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND"))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // the browser refuses to start as root with it
	}
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Minute)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	b := &browser{ctx: ctx}
	if err := chromedp.Listen(ctx, b.note); err != nil {
		t.Fatal(err)
	}
	b.call(t, func() error {
		_, err := chromedp.Call(ctx, network.Enable, network.EnableParams{})
		return err
	})
	return b
}

// note keeps an event of the tab.
func (b *browser) note(ev any) {
	b.mu.Lock()
	defer b.mu.Unlock()
	switch e := ev.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *runtime.EventExceptionThrown:
		b.errors = append(b.errors, (&chromedp.ExceptionError{ExceptionDetails: e.ExceptionDetails}).Error())
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			b.errors = append(b.errors, e.Entry.Text+" "+e.Entry.URL)
		}
	case *runtime.EventConsoleAPICalled:
		b.errors = append(b.errors, said(e))
	}
}

// said is what a page wrote to the console: our pages write nothing at all.
func said(e *runtime.EventConsoleAPICalled) string {
	words := []string{"console." + string(e.Type)}
	for _, a := range e.Args {
		words = append(words, string(a.Value), a.Description)
	}
	return strings.Join(words, " ")
}

// seen are the complaints since the last page was opened, and the requests for
// anything that does not lie in dir or in the page itself.
func (b *browser) seen(dir string) []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	found := append([]string(nil), b.errors...)
	for _, r := range b.requests {
		if !strings.HasPrefix(r, "data:") && !strings.HasPrefix(r, fileURL(dir)+"/") {
			found = append(found, "it asks for "+r)
		}
	}
	return found
}

func fileURL(path string) string {
	return (&url.URL{Scheme: "file", Path: filepath.ToSlash(path)}).String()
}

func (b *browser) call(t *testing.T, f func() error) {
	t.Helper()
	if err := f(); err != nil {
		t.Fatal(err)
	}
}

func (b *browser) do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	b.call(t, func() error { return chromedp.Do(b.ctx, steps...) })
}

// open opens a page in light colours and says how it looks.
func (b *browser) open(t *testing.T, file string, width int64) view {
	t.Helper()
	b.do(t, chromedp.EmulateViewport(width, 900), scheme("light"), chromedp.Navigate("about:blank"))
	b.mu.Lock()
	b.requests, b.errors = nil, nil
	b.mu.Unlock()
	b.do(t, chromedp.Navigate(fileURL(file)))
	return b.look(t)
}

// scheme lets the pages believe that the reader's screen is light or dark.
func scheme(name string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}},
		})
		return err
	})
}

// hover moves the mouse over every chart of the page that is open, and wants
// to be told something sensible.
func (b *browser) hover(t *testing.T) {
	t.Helper()
	type spot struct{ X, Y float64 }
	n, err := chromedp.Run(b.ctx, chromedp.Evaluate[int](`document.querySelectorAll(".chart").length`))
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		at, err := chromedp.Run(b.ctx, chromedp.Evaluate[spot](fmt.Sprintf(`(() => {
			const chart = document.querySelectorAll(".chart")[%d];
			chart.scrollIntoView({ block: "center" });
			const box = chart.getBoundingClientRect();
			return { X: box.left + box.width / 2, Y: box.top + box.height / 2 };
		})()`, i)))
		if err != nil {
			t.Fatal(err)
		}
		for _, dx := range []float64{-at.X / 3, -at.X / 6, 0, at.X / 6, at.X / 3} {
			b.do(t, chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, at.X+dx, at.Y))
			b.look(t)
		}
		tip, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](fmt.Sprintf(
			`[...document.querySelectorAll(".chart")[%d].querySelectorAll(":scope > div")].map((e) => e.innerText).join(" ").trim()`, i)))
		if err != nil {
			t.Fatal(err)
		}
		if tip == "" || strings.Contains(tip, "undefined") || strings.Contains(tip, "NaN") {
			t.Errorf("chart %d says %q under the mouse", i+1, tip)
		}
	}
}

// check opens a page, looks at it in both schemes, and returns how many charts
// it has.
func (b *browser) check(t *testing.T, file string, width int64, withLibrary bool) int {
	t.Helper()
	light := b.open(t, file, width)
	report := func(when string, faults []string) {
		for _, f := range faults {
			t.Errorf("%s: %s", when, f)
		}
	}
	report("light", light.faults(withLibrary))
	b.do(t, scheme("dark"))
	dark := b.look(t)
	report("dark", dark.faults(withLibrary))
	if !light.Light || dark.Light {
		t.Errorf("light paper in the light: %t, in the dark: %t", light.Light, dark.Light)
	}
	report("in either", b.seen(filepath.Dir(file)))
	return light.Drawings
}

// view is how a page looks, as testdata/look.js sees it.
type view struct {
	Title    string
	Wide     []string // what is broader than the window, where the page scrolls sideways
	Drawings int      // charts by the page's own count: figures
	Drawn    int      // of those, the ones that show lines and words
	Bare     int      // of those, the ones without a table
	Shown    int      // of those, the ones whose table can be seen at once
	Tables   int
	Pale     []string // text whose contrast with its ground is too low
	Spilled  []string // table cells whose words run over their neighbours
	Light    bool     // the ground is lighter than the ink
}

//go:embed testdata/look.js
var lookScript string

func (b *browser) look(t *testing.T) view {
	t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[view](lookScript, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// faults says what is wrong with the looks of a page that was written with the
// charting library or without it.
func (v view) faults(withLibrary bool) []string {
	var found []string
	fault := func(wrong bool, format string, args ...any) {
		if wrong {
			found = append(found, fmt.Sprintf(format, args...))
		}
	}
	fault(v.Title == "", "it has no title")
	fault(len(v.Wide) > 0, "it scrolls sideways: %s", strings.Join(v.Wide, ", "))
	fault(len(v.Pale) > 0, "hard to read: %s", strings.Join(v.Pale, "; "))
	fault(len(v.Spilled) > 0, "words run out of their cells: %s", strings.Join(v.Spilled, "; "))
	fault(v.Bare > 0, "%d of %d charts have no table", v.Bare, v.Drawings)
	if withLibrary {
		fault(v.Drawn != v.Drawings, "%d of %d charts are not drawn", v.Drawings-v.Drawn, v.Drawings)
	} else {
		fault(v.Drawn > 0, "%d charts are drawn without the library", v.Drawn)
		fault(v.Shown != v.Drawings, "%d of %d charts show neither lines nor their table", v.Drawings-v.Shown, v.Drawings)
	}
	return found
}
