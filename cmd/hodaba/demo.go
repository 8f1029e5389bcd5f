package main

import (
	"context"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

//go:embed demo/yard.toml demo/recipes.toml demo/journal.toml
var demoFiles embed.FS

// demoBase is the year in which the demo's yard begins in its files.
const demoBase = 2024

// demoMark stands in yard.toml of every demo and of nothing else.
const demoMark = "`hodaba demo` may overwrite this folder"

// demoWriter begins the identifiers of the demo's own entries.
const demoWriter = "hanger-"

func (a *app) demo() *cobra.Command {
	c := &cobra.Command{
		Use:   "demo [DIR]",
		Short: "write a made-up yard, forecast it, and write its pages",
		Long: long(`Writes a made-up yard in its third year into a folder (default: demo-yard), forecasts
it, writes its pages and prints the answer. A folder that is not a demo is never
touched.`),
		Args: oneArg("DIR"),
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		dir := "demo-yard"
		if len(args) == 1 {
			dir = args[0]
		}
		return a.runDemo(c.Context(), dir)
	}
	f := c.Flags()
	f.SortFlags = false
	f.StringVar(&a.flags.asOf, "as-of", "", "the day that the demo takes for today (default: today)")
	f.BoolVar(&a.flags.json, "json", false, "answer as JSON")
	f.BoolVar(&a.flags.plain, "plain", false, "only plain signs (also where the locale is not UTF-8)")
	a.drawFlags(c)
	return c
}

func (a *app) runDemo(ctx context.Context, dir string) error {
	asOf, _, err := a.asOf()
	if err != nil {
		return err
	}
	n, err := writeDemo(dir, asOf)
	if err != nil {
		return err
	}
	r, result, err := a.aheadIn(ctx, dir)
	if err != nil {
		return err
	}
	index, _, err := a.writePages(ctx, r, result, "")
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.demoJSON(dir, index, r, result)
	}
	return a.demoAnswer(dir, index, n, r, result)
}

// writeDemo writes the demo's files as of a day and returns the number of
// entries. Entries that somebody added to an earlier demo are kept beside it.
func writeDemo(dir string, asOf yard.Date) (entries int, err error) {
	if err := demoPlace(dir); err != nil {
		return 0, err
	}
	if err := keepAdded(dir); err != nil {
		return 0, folderWrong("take another folder: hodaba demo DIR", "the entries added to the demo cannot be kept: %s", err)
	}
	disk := yard.OnDisk(dir)
	if err := removeAll(disk, ".hodaba"); err != nil {
		return 0, folderWrong("take another folder: hodaba demo DIR", "the demo cannot be written: %s", err)
	}
	for _, name := range []string{"yard.toml", "recipes.toml", "journal.toml"} {
		b, err := demoFiles.ReadFile("demo/" + name)
		if err != nil {
			return 0, err
		}
		text := shiftYears(string(b), demoYear(asOf)-demoBase)
		if name == "journal.toml" {
			text, entries = untilDay(text, asOf)
		}
		if err := disk.Replace(name, []byte(text)); err != nil {
			return 0, folderWrong("take another folder: hodaba demo DIR", "the demo cannot be written: %s", err)
		}
	}
	return entries, nil
}

// removeAll takes away a folder, if it is there, with what is in it.
func removeAll(files yard.Files, dir string) error {
	var all []string
	err := fs.WalkDir(files, dir, func(name string, _ fs.DirEntry, err error) error {
		if name == dir && errors.Is(err, fs.ErrNotExist) {
			return fs.SkipAll
		}
		all = append(all, name)
		return err
	})
	for _, name := range slices.Backward(all) { // what is in a folder before the folder
		err = errors.Join(err, files.Remove(name))
	}
	return err
}

// demoPlace refuses a folder that holds something that is no demo.
func demoPlace(dir string) error {
	way := "take another folder: hodaba demo DIR"
	files, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return folderWrong(way, "%s cannot be read as a folder: %s", dir, err)
	case len(files) == 0:
		return nil
	}
	b, err := readPlain(filepath.Join(dir, "yard.toml"))
	if err != nil || !strings.Contains(string(b), demoMark) {
		return folderWrong(way, "%s is there already and is no demo: nothing was touched", filepath.ToSlash(dir))
	}
	if set, err := data.Load(); err != nil {
		return err
	} else if folder, _, err := yard.Open(dir, set, 0); err == nil && folder.Later() {
		return folderWrong(way, "%s is a demo of a newer version of the program: nothing was touched", filepath.ToSlash(dir))
	}
	return nil
}

// keepAdded copies a journal with entries that are not the demo's own.
func keepAdded(dir string) error {
	b, err := readPlain(filepath.Join(dir, "journal.toml"))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if !added(string(b)) {
		return nil
	}
	for i := 1; ; i++ {
		kept := fmt.Sprintf("journal-kept-%d.toml", i)
		if _, err := os.Stat(filepath.Join(dir, kept)); errors.Is(err, fs.ErrNotExist) {
			return yard.OnDisk(dir).Replace(kept, b)
		} else if err != nil {
			return err
		}
	}
}

// added reports whether a journal has an entry that is not the demo's own:
// one without an identifier, or with another writer.
func added(journal string) bool {
	return slices.ContainsFunc(tablesOf(journal)[1:], func(t string) bool {
		return !strings.Contains(t, `= "`+demoWriter)
	})
}

// demoYear is the year in which the demo's yard begins, so that the day falls
// into its third season: seasons begin in April.
func demoYear(d yard.Date) int {
	y := d.Year() - 2
	if d.Month() < 4 {
		y--
	}
	return y
}

var (
	// fullYears are those of days and of vague dates; lots carry two signs of
	// them, such as SH-25-1.
	fullYears = regexp.MustCompile(`\b20\d\d\b`)
	lotYears  = regexp.MustCompile(`\b([A-Z]{2,6}-)(\d\d)\b`)
)

// shiftYears moves all years of the demo's files. They name no 29 February,
// so every day stays one.
func shiftYears(text string, by int) string {
	text = fullYears.ReplaceAllStringFunc(text, func(s string) string { return strconv.Itoa(number(s) + by) })
	return lotYears.ReplaceAllStringFunc(text, func(s string) string {
		m := lotYears.FindStringSubmatch(s)
		return fmt.Sprintf("%s%02d", m[1], ((number(m[2])+by)%100+100)%100)
	})
}

// number is the number that digits write.
func number(digits string) int {
	n := 0
	for _, r := range digits {
		n = 10*n + int(r-'0')
	}
	return n
}

// tablesOf cuts a journal of our own layout before its table headers; the
// first part is what comes before them.
func tablesOf(journal string) []string {
	parts := strings.Split("\n"+journal, "\n[[")
	for i := 1; i < len(parts); i++ {
		parts[i] = "[[" + parts[i] + "\n"
	}
	parts[0] = strings.TrimPrefix(parts[0], "\n") + "\n"
	return parts
}

var onDay = regexp.MustCompile(`(?m)^on\s*=\s*(\d{4}-\d\d-\d\d)`)

// untilDay leaves out entries after a day and returns the number of those
// that stay.
func untilDay(journal string, asOf yard.Date) (string, int) {
	parts := tablesOf(journal)
	out, n := parts[0], 0
	for _, t := range parts[1:] {
		m := onDay.FindStringSubmatch(t)
		if m == nil {
			continue
		}
		if d, err := yard.ParseDate(m[1]); err != nil || d > asOf {
			continue
		}
		out += t
		n++
	}
	return out, n
}

// demoAnswer prints what a grower wants to know of the demo.
func (a *app) demoAnswer(dir, index string, entries int, r *reading, result *forecast.Result) error {
	t := a.terminal(r.state.Config.US)
	dir = filepath.ToSlash(dir)
	head := fmt.Sprintf("A made-up yard of %d piles and beds, %d entries, in %s\n\n", len(r.state.Piles), entries, dir)
	foot := fmt.Sprintf("\nIts pages: %s\nWhat to do this week: hodaba work --yard %s\nWhat to inoculate next (a minute): hodaba next-season --page --yard %s\n\n", index, dir, dir)
	return a.print(head + t.Forecast(r.state, result) + "\n" + t.Calendar(result.Plan) + foot + t.Cautions(shortCautions))
}

// shortCautions stand under the demo's answer.
var shortCautions = []string{
	"Identify every mushroom with certainty before you eat, dry or extract it: look-alikes grow on the same logs.",
	"Keep spirit and its vapour away from flame, and ventilate; hot liquor scalds.",
	"A weak blend does not keep. Rules on food, alcohol and supplements differ by place: ask the local authority and a licensed professional. No health claims are made here.",
}

func (a *app) demoJSON(dir, index string, r *reading, result *forecast.Result) error {
	f, err := charts.ForecastJSON(result)
	if err != nil {
		return err
	}
	b, err := charts.BatchesJSON(result.AsOf, r.state.Config.Confidence, result.Plan)
	if err != nil {
		return err
	}
	return a.encoded(charts.JSON(struct {
		Yard     string          `json:"yard"`
		Pages    string          `json:"pages"`
		Forecast json.RawMessage `json:"forecast"`
		Batches  json.RawMessage `json:"batches"`
	}{filepath.ToSlash(dir), index, f, b}))
}
