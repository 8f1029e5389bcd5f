package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// batchPapers are the papers of a batch that can be printed, seasonPapers those
// of the piles that are planned or stand.
var (
	batchPapers  = []string{charts.PrintBatch, charts.PrintJar, charts.PrintLabels}
	seasonPapers = []string{charts.PrintTally, charts.PrintTags}
	allPapers    = slices.Concat(batchPapers, seasonPapers)
)

func (a *app) printed() *cobra.Command {
	var out, recipe string
	c := &cobra.Command{
		Use:   "print WHAT [LOT]",
		Short: "paper: batch record, labels, tally sheet, tags",
		Long: long(`Writes a sheet that is opened in a browser and printed, on A4 or Letter, in black and
white:`) + `  batch LOT    a record of the batch to fill in and sign
  jar LOT      a label for each jar, with a box for each day of shaking
  labels LOT   labels for its bottles, which make no claims
  tally        a sheet for helpers on the day of inoculating, of what is planned
  tags         a tag for each pile that is planned or stands
` + long(`What was written down is printed, everything else is a ruled blank. With --recipe
the batch need not be begun yet.`),
		Example: `  hodaba print batch HF-26-01
  hodaba print jar HF-26-02 --recipe "Hanger five"
  hodaba print tally`,
		ValidArgs: allPapers,
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return a.runPrint(args, recipe, out) }
	a.folderFlags(c)
	c.Flags().StringVar(&recipe, "recipe", "", "the recipe of a batch that is not begun yet")
	c.Flags().StringVar(&out, "out", "", "the folder to write to (default: pages/ in the yard's folder)")
	return c
}

func (a *app) runPrint(args []string, recipe, out string) error {
	what, lot, err := paperArgs(args)
	if err != nil {
		return err
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	file, err := paperOf(r, what, lot, recipe)
	if err != nil {
		return err
	}
	if out, err = a.pagesFolder(out); err != nil {
		return err
	}
	if err := yard.OnDisk(out).Replace(file.Name, file.Data); err != nil {
		return folderWrong("name another folder with --out DIR", "the sheet cannot be written: %s", err)
	}
	path := filepath.ToSlash(filepath.Join(out, file.Name))
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			File string `json:"file"`
		}{path}))
	}
	return a.print(fmt.Sprintf("%s is written: open it in a browser and print it at actual size\n", path))
}

// paperOf is a paper of a batch, or of the piles.
func paperOf(r *reading, what, lot, recipe string) (charts.File, error) {
	if !slices.Contains(seasonPapers, what) {
		batch, err := batchToPrint(r.state, lot, recipe)
		if err != nil {
			return charts.File{}, err
		}
		plan, err := forecast.Stands(r.state, r.set)
		if err != nil {
			return charts.File{}, err
		}
		return charts.Paper(r.input(&forecast.Result{AsOf: r.state.AsOf, Plan: plan}, nil), what, batch)
	}
	open := slices.ContainsFunc(plansOf(r.state, 0), (*yard.Planning).Open)
	stands := slices.ContainsFunc(r.state.Piles, func(p *yard.Pile) bool { return p.Closed == 0 })
	switch {
	case recipe != "":
		return charts.File{}, lineWrong("leave it out", "--recipe goes with the papers of a batch, not with %s", what)
	case !open && (what == charts.PrintTally || !stands):
		return charts.File{}, folderWrong("plan one first: hodaba next-season --accept, or hodaba record planned birch-3 species=shiitake logs=30 month=2027-03",
			"there is no inoculation to print a %s for", what)
	}
	return charts.SeasonPaper(r.input(nil, nil), what)
}

// paperArgs are what to print, and of which lot.
func paperArgs(args []string) (what, lot string, err error) {
	usage := "as in: hodaba print batch HF-26-01"
	switch {
	case len(args) == 0:
		return "", "", lineWrong(usage, "what to print is not said: one of %s", strings.Join(allPapers, ", "))
	case !slices.Contains(allPapers, args[0]):
		if near, ok := data.Nearest(args[0], allPapers); ok {
			usage = "did you mean " + near + "?"
		}
		return "", "", lineWrong(usage, "there is no paper called %q: one of %s", args[0], strings.Join(allPapers, ", "))
	case slices.Contains(seasonPapers, args[0]):
		if len(args) > 1 {
			return "", "", lineWrong("as in: hodaba print "+args[0], "print %s takes no %q", args[0], args[1])
		}
		return args[0], "", nil
	case len(args) == 1:
		return "", "", lineWrong(usage, "print %s: of which batch is not said", args[0])
	case len(args) > 2:
		return "", "", lineWrong("quote a lot of several words", "print %s takes one lot, not %s", args[0], strings.Join(quote(args[1:]), " "))
	}
	return args[0], args[1], nil
}

// batchToPrint is the batch of a lot; with a recipe, one that is not begun.
func batchToPrint(s *yard.State, lot, recipe string) (*yard.Batch, error) {
	if b := charts.Batch(s, lot); b != nil {
		if recipe != "" && !yard.SameName(recipe, b.Recipe) {
			return nil, lineWrong("leave --recipe out, or take another lot", "batch %s is begun already, of %s", b.Lot, b.Recipe)
		}
		return b, nil
	}
	if recipe != "" {
		var names []string
		for _, r := range s.Recipes {
			if yard.SameName(r.Name, recipe) {
				return &yard.Batch{Lot: lot, Recipe: r.Name}, nil
			}
			names = append(names, r.Name)
		}
		if near, ok := data.Nearest(recipe, names); ok {
			return nil, lineWrong("did you mean "+near+"?", "no recipe is called %q", recipe)
		}
		return nil, lineWrong("those of recipes.toml: "+strings.Join(names, ", "), "no recipe is called %q", recipe)
	}
	var lots []string
	for _, b := range s.Batches {
		lots = append(lots, b.Lot)
	}
	way := "for one that is not begun yet add --recipe NAME"
	if near, ok := data.Nearest(lot, lots); ok {
		way = "did you mean " + near + "? Or " + way
	}
	return nil, lineWrong(way, "no batch is called %q", lot)
}
