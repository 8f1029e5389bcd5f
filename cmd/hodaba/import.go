package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

func (a *app) imports() *cobra.Command {
	c := &cobra.Command{
		Use:   "import WHAT FILE",
		Short: "take over a file of other make: weather, piles, harvests",
		Long:  long(`Takes over a file of other make into the yard's folder. It shows first what it found, and writes nothing unasked.`),
		Args:  cobra.ArbitraryArgs,
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if len(args) > 0 {
			return lineWrong("as in: hodaba import weather days.csv", "%q cannot be imported", args[0])
		}
		return lineWrong("as in: hodaba import weather days.csv", "import needs to know what, and a file")
	}
	c.AddCommand(a.importWeather(), a.importPiles(), a.importHarvests())
	return c
}

// weatherImport is what the command line of import weather says.
type weatherImport struct {
	yes, keep, replace bool
	columns, units     map[string]string
	hints              yard.Hints
}

func (a *app) importWeather() *cobra.Command {
	var w weatherImport
	c := &cobra.Command{
		Use:   "weather FILE",
		Short: "daily minimum, maximum and rain into weather.csv",
		Long: long(`Reads a table of daily weather, such as a weather service or a station in the garden
gives it, and shows what it took each column for, the means by month and what would
change in weather.csv. Then it asks, or writes at once with --yes. Columns are known
by their headings, in °C or °F, mm or inches; say what a heading does not.`),
		Example: `  hodaba import weather days.csv
  hodaba import weather days.csv --yes --replace
  hodaba import weather garden.csv --column rain=gauge --unit rain=in
  hodaba import weather towns.csv --location "mill lane" --days "day first"`,
		Args: oneArg("FILE"),
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		if len(args) == 0 {
			return lineWrong("as in: hodaba import weather days.csv", "import weather needs a file")
		}
		return a.runImportWeather(args[0], w)
	}
	a.folderFlags(c)
	f := c.Flags()
	f.BoolVar(&w.yes, "yes", false, "write without asking")
	f.BoolVar(&w.keep, "keep", false, "where a day differs, keep what weather.csv has")
	f.BoolVar(&w.replace, "replace", false, "where a day differs, take what the file has")
	f.StringToStringVar(&w.columns, "column", nil, "which column holds what, as in minimum=TN")
	f.StringToStringVar(&w.units, "unit", nil, "in which unit it is, as in rain=in, temperature=F")
	f.StringVar(&w.hints.Days, "days", "", `how days such as 4/5/2026 are written: "day first" or "month first"`)
	f.StringVar(&w.hints.Location, "location", "", "the place to take, of several in one table")
	return c
}

func (a *app) runImportWeather(path string, w weatherImport) error {
	if w.keep && w.replace {
		return lineWrong("give one of them", "--keep and --replace exclude each other")
	}
	folder, set, err := a.open()
	if err != nil {
		return err
	}
	w.hints.File, w.hints.Columns, w.hints.Units = filepath.Base(path), w.columns, w.units
	p, err := a.previewWeather(path, folder, w.hints)
	if err != nil {
		return err
	}
	strange := strangeWeather(p.Weather, folder, set)
	if a.flags.json {
		return a.importedJSON(folder, p, strange, w)
	}
	if err := a.print(a.terminal(folder.Config().US).WeatherPreview(w.hints.File, p, strange)); err != nil {
		return err
	}
	if p.Merge.New+p.Merge.Filled+p.Merge.Changed() == 0 {
		return a.print("\nweather.csv has all of it already; nothing was written.\n")
	}
	if !w.yes {
		if err := a.askWeather(p.Merge, &w); err != nil {
			return err
		}
	}
	if !w.yes {
		return a.print("Nothing was written.\n")
	}
	return a.writeWeather(folder, p, w)
}

func (a *app) previewWeather(path string, folder *yard.Folder, hints yard.Hints) (yard.Preview, error) {
	f, err := os.Open(path)
	if err != nil {
		return yard.Preview{}, folderWrong("name a file that is there", "the weather cannot be read: %s", err)
	}
	defer f.Close()
	p, err := yard.ImportWeather(folder, f, hints)
	if err != nil {
		return p, folderWrong("nothing was written", "%s: %s", hints.File, err)
	}
	return p, nil
}

// strangeWeather says why weather may be of another place, "" where it fits
// or where nothing is known to compare it with.
func strangeWeather(w *yard.Weather, folder *yard.Folder, set *data.Set) string {
	site, err := climate.Resolve(folder.Config().Site, set)
	if err != nil {
		return ""
	}
	return site.Read(w, &set.Practice).Strange
}

// open reports whether it has still to be said what counts where days differ.
func (w *weatherImport) open(m yard.Merge) bool { return m.Changed() > 0 && !w.keep && !w.replace }

// askWeather asks whether to write, and what counts where a day differs; the
// answers go into w.
func (a *app) askWeather(m yard.Merge, w *weatherImport) error {
	question := "Write it into weather.csv? yes or no:"
	if w.open(m) {
		question = "Write it into weather.csv? keep (what it has, where a day differs), replace, or no:"
	}
	_, err := a.askUntil(question, func(s string) error {
		s = strings.ToLower(s)
		switch {
		case s == "no" || s == "n":
		case (s == "yes" || s == "y") && !w.open(m):
			w.yes = true
		case s == "keep" && w.open(m):
			w.yes, w.keep = true, true
		case s == "replace" && w.open(m):
			w.yes, w.replace = true, true
		default:
			return fmt.Errorf("%q: answer with one of the words", s)
		}
		return nil
	})
	if errors.Is(err, errNoAnswer) {
		return lineWrong("say --yes to write without being asked", "nothing was written: no answer came")
	}
	return err
}

// writeWeather merges the file into weather.csv. Where nobody said what counts
// on differing days, those stay, and the command is only half done.
func (a *app) writeWeather(folder *yard.Folder, p yard.Preview, w weatherImport) error {
	if w.open(p.Merge) {
		a.note("where a day differs, weather.csv stays as it is; --replace takes what the file has")
		a.status = statusPartial
	}
	a.leftOutOf(p.Problems)
	m, problems, err := folder.WriteWeather(p.Weather, w.replace)
	if err != nil {
		return folderWrong("nothing was changed", "%s", err)
	}
	for _, q := range problems {
		a.note("odd: %s", q.String())
	}
	changed := 0
	if w.replace {
		changed = m.Changed()
	}
	return a.print("\n" + charts.Wrap("", "", fmt.Sprintf("Written into %s: new days %d, filled %d, replaced %d. The forecast fills what is missing in between; what it makes of it stands on the page site.html (hodaba pages).",
		yard.WeatherFile, m.New, m.Filled, changed)))
}

// leftOutOf ends the command as half done where lines were left out.
func (a *app) leftOutOf(problems []yard.Problem) {
	if worst, any := yard.Worst(problems); any && worst != yard.Odd {
		a.status = statusPartial
	}
}

// importedJSON asks nothing: it writes only with --yes.
func (a *app) importedJSON(folder *yard.Folder, p yard.Preview, strange string, w weatherImport) error {
	if w.yes {
		if w.open(p.Merge) {
			a.status = statusPartial
		}
		a.leftOutOf(p.Problems)
		_, more, err := folder.WriteWeather(p.Weather, w.replace)
		if err != nil {
			return folderWrong("nothing was changed", "%s", err)
		}
		p.Problems = append(p.Problems, more...)
	}
	return a.encoded(charts.WeatherPreviewJSON(w.hints.File, p, strange, w.yes, w.yes && w.replace))
}
