package charts

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"hodaba/yard"
)

// The papers of a batch, by the names under which they are printed.
const (
	PrintBatch  = "batch"  // a record sheet to fill in and sign
	PrintJar    = "jar"    // a label for each jar, with boxes for shaking
	PrintLabels = "labels" // labels for the bottles
)

// papers are the templates of what is printed, by name. Each file stands
// alone and carries no script.
var papers = func() map[string]*template.Template {
	m := map[string]*template.Template{}
	for _, name := range []string{PrintBatch, PrintJar, PrintLabels, PrintTally, PrintTags} {
		m[name] = template.Must(template.New("paper.html").Funcs(template.FuncMap{"nb": unbroken}).
			ParseFS(pageFiles, "page/paper.html", "page/paper.css", "page/struck.html", "page/paper-"+name+".html"))
	}
	return m
}()

// paper is what every paper says around its main part.
type paper struct {
	Title string
	Hint  string // how to print it; on the screen only
	Main  any
}

// Paper renders a paper of a batch; what is PrintBatch, PrintJar or
// PrintLabels. The file stands alone, for pages/ or anywhere else, and the
// same input gives the same bytes. A batch that is not begun has blanks where
// nothing is known.
func Paper(in Input, what string, t *yard.Batch) (File, error) {
	b := newBook(in)
	p := paper{Hint: "Print on A4 or Letter at actual size (100 %), with the margins of the page."}
	switch what {
	case PrintBatch:
		p.Title, p.Main = "Record of batch "+Clean(t.Lot), b.batchPaper(t)
	case PrintJar:
		p.Title, p.Main = "Jars of batch "+Clean(t.Lot), b.jarLabels(t)
	case PrintLabels:
		l := b.bottleLabels(t)
		p.Title, p.Main = "Labels of batch "+Clean(t.Lot), l
	default:
		return File{}, fmt.Errorf("no paper is called %q", what)
	}
	var out bytes.Buffer
	if err := papers[what].ExecuteTemplate(&out, "paper.html", p); err != nil {
		return File{}, fmt.Errorf("rendering the paper of batch %s: %w", t.Lot, err)
	}
	file := cmp.Or(b.batches[t.Lot], "batch-"+slug(t.Lot)+".html")
	return File{"print-" + what + strings.TrimPrefix(file, "batch"), inert(out.Bytes())}, nil
}

// Batch finds a batch by its lot, or nil.
func Batch(s *yard.State, lot string) *yard.Batch {
	for _, t := range s.Batches {
		if sameLot(t.Lot, lot) {
			return t
		}
	}
	return nil
}

// maker is who stands on the paper.
func (b *book) maker() string {
	return Clean(cmp.Or(b.State.Config.Farm.Name, b.State.Config.Name))
}

// dayOrBlank is a day as it is written by hand, or nothing where it is vague.
func dayOrBlank(w yard.When) string {
	if w.IsZero() {
		return ""
	}
	return sinceWords(w)
}

// amountOrBlank writes an amount above zero.
func amountOrBlank(x float64, write func(float64) string) string {
	if x <= 0 {
		return ""
	}
	return write(x)
}

// countOrBlank writes a number above zero.
func countOrBlank(n int) string {
	if n <= 0 {
		return ""
	}
	return strconv.Itoa(n)
}
