package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// sheets are the two kinds of paper that a grower has, in inches: Letter, and
// A4 (ISO 216, 210 mm by 297 mm).
var sheets = map[string][2]float64{"Letter": {8.5, 11}, "A4": {8.27, 11.69}}

// crowdedYard is a yard whose names are as long as anyone types, and a batch
// of as many goods as fit in a jar.
func crowdedYard(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "crowded")
	long := strings.Repeat("Überlang und breit ", 6)
	species := []string{"shiitake", "lion's mane", "turkey tail", "oyster", "reishi", "maitake", "nameko", "piopino", "cordyceps",
		"winter oyster of the brook", "amber jelly of the hedge", "beech seal", "tree ear of the elder", "hen of the north wood", "velvet foot of the weir"}
	var journal, recipe strings.Builder
	fmt.Fprintf(&recipe, "[[recipe]]\nname = %q\njars = 8\nspirit_per_jar = \"1 l\"\nspirit_abv_percent = 50\nmacerate_days = [28, 60]\nshake_days = 60\nmethod = \"maceration only\"\nbottle = \"30 ml\"\n", long)
	var goods []string
	for i, s := range species {
		fmt.Fprintf(&recipe, "\n[[recipe.ingredient]]\nspecies = %q\nper_jar = \"25 g\"\n", s)
		lot := fmt.Sprintf("LOT-WITH-A-LONG-NAME-%d", i)
		fmt.Fprintf(&journal, "[[received]]\non = 2026-01-02\nspecies = %q\ndry = \"900 g\"\nlot = %q\n\n", s, lot)
		goods = append(goods, fmt.Sprintf("{species = %q, dry = \"200 g\", lot = %q}", s, lot))
	}
	fmt.Fprintf(&journal, "[[macerated]]\non = 2026-01-03\nbatch = \"WITHY-HANGER-26-03-ABCDEFGHIJKLMNOP\"\nrecipe = %q\nspirit_lot = \"SPIRIT-WITH-A-LONG-NAME\"\ningredients = [%s]\n\n", long, strings.Join(goods, ", "))
	fmt.Fprintf(&journal, "[[bottled]]\non = 2026-03-20\nbatch = \"WITHY-HANGER-26-03-ABCDEFGHIJKLMNOP\"\nbottles = [{size = \"30 ml\", count = 20}]\n")
	own := ""
	for _, s := range species[9:] {
		own += fmt.Sprintf("[[species]]\nname = %q\n", s)
	}
	for name, text := range map[string]string{"yard.toml": fmt.Sprintf("format = 1\nname = %q\n[site]\nstation = \"oxford\"\n%s", long, own), "recipes.toml": recipe.String(), "journal.toml": journal.String()} {
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// TestPaperFits prints labels of the longest names on both kinds of paper:
// nothing may be cut off, and a page of labels is a sheet. The record of the
// demo's batch is one sheet. (Planted once: with labels of 55 mm, the sheets of
// both papers were too many.)
func TestPaperFits(t *testing.T) {
	b := openBrowser(t)
	crowded := crowdedYard(t)
	demo := filepath.Join(t.TempDir(), "demo")
	hodaba(t, nil, "demo", demo, "--draws", "5")
	for _, c := range []struct {
		yard, what, lot string
		pages           int
	}{
		{crowded, "labels", "WITHY-HANGER-26-03-ABCDEFGHIJKLMNOP", 2}, {crowded, "jar", "WITHY-HANGER-26-03-ABCDEFGHIJKLMNOP", 2},
		{demo, "labels", "HF-25-01", 1}, {demo, "jar", "HF-25-01", 1}, {demo, "batch", "HF-25-01", 1},
	} {
		hodaba(t, nil, "print", c.what, c.lot, "--yard", c.yard)
		file := filepath.Join(c.yard, "pages", "print-"+c.what+"-"+strings.ToLower(c.lot)+".html")
		for _, fault := range b.open(t, file, widest).faults(false) {
			t.Errorf("%s of %s: %s", c.what, c.lot, fault)
		}
		b.cutOff(t, c.what+" of "+c.lot)
		if c.yard == crowded && c.what == "labels" { // all mushrooms stand on it
			if text, err := os.ReadFile(file); err != nil || !bytes.Contains(text, []byte("and velvet foot of the weir")) {
				t.Errorf("the last mushroom is not on the label: %v", err)
			}
		}
		for name, size := range sheets {
			if n := b.printed(t, size); n != c.pages {
				t.Errorf("%s of %s is %d sheets of %s, want %d", c.what, c.lot, n, name, c.pages)
			}
		}
	}
}

// cutOff looks for text that does not fit its label.
func (b *browser) cutOff(t *testing.T, what string) {
	t.Helper()
	cut, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](`[...document.querySelectorAll(".label, .jar")].
		filter((e) => e.scrollHeight > e.clientHeight + 1 || e.scrollWidth > e.clientWidth + 1).
		map((e) => e.scrollWidth + "×" + e.scrollHeight + " in " + e.clientWidth + "×" + e.clientHeight + ": " + e.innerText.slice(0, 60)).slice(0, 1).join()`))
	if err != nil {
		t.Fatal(err)
	}
	if cut != "" {
		t.Errorf("%s: text is cut off, %s", what, cut)
	}
}

// printed is how many sheets the page that is open takes.
func (b *browser) printed(t *testing.T, size [2]float64) int {
	t.Helper()
	n := 0
	b.do(t, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		out, err := cdp.Call(ctx, target, page.PrintToPDF, page.PrintToPDFParams{PaperWidth: size[0], PaperHeight: size[1]})
		if err == nil {
			n = len(pdfPage.FindAll(bytes.TrimSpace(out.Data), -1))
		}
		return err
	}))
	return n
}
