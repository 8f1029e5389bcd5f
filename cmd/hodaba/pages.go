package main

import (
	"context"
	"fmt"
	"path"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/forecast"
	"hodaba/yard"
)

func (a *app) pages() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "pages",
		Short: "write the pages, to open from disk",
		Long: long(`Writes the pages of the yard: today, one for each pile, the harvest by species, the
jar shelf, the record of each batch, the stock, what was written down, the next
season, the site with its weather, and how right past forecasts were.
They go to pages/ in the yard's folder, and are opened from disk: they ask nothing of
any other computer.`),
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runPages(c.Context(), out) }
	a.folderFlags(c)
	c.Flags().StringVar(&out, "out", "", "the folder to write them to (default: pages/ in the yard's folder)")
	a.drawFlags(c)
	return c
}

func (a *app) runPages(ctx context.Context, out string) error {
	r, result, err := a.ahead(ctx)
	if err != nil {
		return err
	}
	if out, err = a.pagesFolder(out); err != nil {
		return err
	}
	index, n, err := a.writePages(ctx, r, result, out)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			Index string `json:"index"`
			Files int    `json:"files"`
		}{index, n}))
	}
	return a.print(fmt.Sprintf("%d pages written; open %s\n", n, index))
}

// writePages renders the pages into a folder, "" being the yard's own, and
// returns the path of the first one and how many there are.
func (a *app) writePages(ctx context.Context, r *reading, result *forecast.Result, out string) (index string, n int, err error) {
	if out == "" {
		out = filepath.Join(a.dir, "pages")
	}
	in := r.input(result, a.chartLibrary(ctx))
	in.PlanPage = planPageIn(out)
	if err := a.hindsight(ctx, r, result, &in); err != nil {
		return "", 0, err
	}
	if in.Score, err = a.pastScored(ctx, r); err != nil {
		return "", 0, err
	}
	files, err := charts.Pages(in)
	if err != nil {
		return "", 0, err
	}
	disk := yard.OnDisk(out)
	for _, f := range files {
		if err := disk.Replace(f.Name, f.Data); err != nil {
			return "", 0, folderWrong("name another folder with --out DIR", "the pages cannot be written: %s", err)
		}
		if path.Ext(f.Name) == ".html" {
			n++
		}
	}
	if out == filepath.Join(a.dir, "pages") {
		if err := dropStale(out, files); err != nil {
			return "", 0, folderWrong("delete the folder and write the pages again", "an old page cannot be taken away: %s", err)
		}
	}
	return filepath.ToSlash(filepath.Join(out, "index.html")), n, nil
}

// dropStale deletes the pages of piles, batches and years of entries that have
// none any more, such as one whose name was corrected. Only the yard's own pages are touched.
func dropStale(dir string, files []charts.File) error {
	var old []string
	for _, kind := range []string{"pile-*.html", "batch-*.html", "entries-*.html"} {
		found, err := filepath.Glob(filepath.Join(dir, kind))
		if err != nil {
			return err
		}
		old = append(old, found...)
	}
	disk := yard.OnDisk(dir)
	for _, path := range old {
		name := filepath.Base(path)
		if slices.ContainsFunc(files, func(f charts.File) bool { return f.Name == name }) {
			continue
		}
		if err := disk.Remove(name); err != nil {
			return err
		}
	}
	return nil
}

// chartLibrary is the charting library, brought once where it is missing; nil
// where it cannot be had.
func (a *app) chartLibrary(ctx context.Context) []byte {
	if b, ok := a.library(); ok {
		return b
	}
	if err := a.bring(ctx); err != nil {
		a.note("the pages are written without interactive charts: %s", err)
		return nil
	}
	a.note("the charting library of the pages was brought into the cache, once")
	b, _ := a.library()
	return b
}
