package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/forecast"
	"hodaba/forecast/season"
	"hodaba/yard"
)

// seasonAsk is what next-season is asked.
type seasonAsk struct {
	year       int
	wants      []string
	confidence float64
	logs       string
	margin     bool
	page       bool
	accept     bool
	takeBack   bool
	draws      int
}

func (a *app) nextSeason() *cobra.Command {
	var ask seasonAsk
	c := &cobra.Command{
		Use:   "next-season",
		Short: "how many logs of what to inoculate next, and what it takes",
		Long: long(`Finds how many logs of which species, on which wood, with which spawn and in which
month to inoculate, so that what is wanted of coming years is there as surely as you
ask, at least cost. What is wanted and what there is stands under [plan] in yard.toml;
--want asks for something else, this once. It takes about a minute.

--logs turns the question round: these logs lie there, what to do with them? --accept
writes the plan down, an entry for each pile; --take-back voids what is not done of it.`),
		Example: `  hodaba next-season
  hodaba next-season --want "48 bottles Dark bracket 2028-2030" --confidence 90
  hodaba next-season --want "2 kg shiitake a week 5-10 2029"
  hodaba next-season --want "500 g dried reishi over 2029"
  hodaba next-season --logs "60 oak 12cm, 30 birch 15cm"
  hodaba next-season --accept`,
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runNextSeason(c, &ask) }
	a.folderFlags(c)
	f := c.Flags()
	f.IntVar(&ask.year, "year", 0, "the year in which to inoculate (default: the next that has months left for it)")
	f.StringArrayVar(&ask.wants, "want", nil, "what is wanted, instead of what yard.toml says; may be given several times")
	f.Float64Var(&ask.confidence, "confidence", 0, "how surely it is wanted, percent (default: confidence_percent of yard.toml)")
	f.StringVar(&ask.logs, "logs", "", "logs that lie there, as \"60 oak 12cm, 30 birch 15cm\"")
	f.BoolVar(&ask.margin, "most-margin", false, "earn most by your prices, rather than spend least")
	f.BoolVar(&ask.page, "page", false, "write the plan as a page beside the others, too")
	f.BoolVar(&ask.accept, "accept", false, "write the plan down")
	f.BoolVar(&ask.takeBack, "take-back", false, "void the plan that was written down, as far as it is not done")
	f.BoolVar(&a.flags.csv, "csv", false, "the plan as a table for a spreadsheet")
	a.byFlag(c)
	f.IntVar(&a.flags.workers, "workers", 0, "how many processors to use")
	if err := f.MarkHidden("workers"); err != nil {
		panic(err) // the flag was defined a line above
	}
	f.IntVar(&ask.draws, "draws", season.DefaultDraws, "how many possible weathers and yards to plan on")
	f.Uint64Var(&a.flags.seed, "seed", forecast.DefaultSeed, "the start of the random numbers; the same one gives the same answer")
	return c
}

func (a *app) runNextSeason(c *cobra.Command, ask *seasonAsk) error {
	if err := a.seasonLine(c, ask); err != nil {
		return err
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	if ask.takeBack {
		return a.takeBack(c.Context(), r, ask.year)
	}
	q, err := ask.question(r)
	if err != nil {
		return err
	}
	if ask.accept {
		if err := notTwice(r.state, ask.year); err != nil {
			return err
		}
	}
	if len(q.Plan.Wants) == 0 && !q.Windfall && !q.Margin {
		return a.nothingWanted(r)
	}
	result, err := a.makeSeason(c.Context(), r, q)
	if err != nil {
		return err
	}
	return a.showSeason(c.Context(), r, result, ask)
}

// seasonLine looks for what cannot be right on the command line.
func (a *app) seasonLine(c *cobra.Command, ask *seasonAsk) error {
	changed := c.Flags().Changed
	switch {
	case ask.draws < 1:
		return lineWrong("take 4000, or 200 for a quick look", "--draws %d is no number of draws", ask.draws)
	case a.flags.seed == 0:
		return lineWrong("take 1", "--seed 0 is kept for the default")
	case changed("confidence") && !(ask.confidence >= leastConfidence && ask.confidence <= mostConfidence):
		return lineWrong("as in --confidence 80", "--confidence %g: nothing can be planned to be %g %% sure; write %d to %d", ask.confidence, ask.confidence, leastConfidence, mostConfidence)
	case ask.accept && ask.takeBack:
		return lineWrong("take one of them", "--accept writes a plan down and --take-back voids it")
	case ask.accept && a.flags.csv:
		return lineWrong("leave out --csv, or ask with --json", "--accept answers in sentences, not as a table")
	case changed("year") && (ask.year < firstSeason || ask.year > lastSeason):
		return lineWrong("as in --year 2028", "--year %d is no year of a season", ask.year)
	case changed("logs") && strings.TrimSpace(ask.logs) == "":
		return lineWrong(logsExample, "--logs: which logs lie there is not said")
	}
	return nil
}

// The confidence, in percent, and the years between which a plan can be asked
// for; those of yard.toml.
const (
	leastConfidence = 50
	mostConfidence  = 99
	firstSeason     = 1900
	lastSeason      = 2200
)

// question lays what was said on the command line over what yard.toml says.
func (ask *seasonAsk) question(r *reading) (season.Question, error) {
	q := season.Question{Plan: r.state.Config.Plan, Year: ask.year, Confidence: ask.confidence / 100, Margin: ask.margin, Draws: ask.draws}
	// Plans are judged on so many fresh draws for each that they are made on.
	q.Fresh = max(1, ask.draws*season.DefaultFresh/season.DefaultDraws)
	if ask.year != 0 && ask.year < r.state.AsOf.Year() {
		return q, lineWrong("ask for a later one", "the season of %d is over", ask.year)
	}
	if len(ask.wants) > 0 {
		q.Plan.Wants = nil
	}
	for _, text := range ask.wants {
		w, err := parseWant(text, r.state, r.set)
		if err != nil {
			return q, err
		}
		q.Plan.Wants = append(q.Plan.Wants, w)
	}
	priced := len(q.Plan.Prices) > 0
	if ask.margin && !priced {
		return q, lineWrong("write them under [[plan.price]], or leave out --most-margin", "what is earned most by cannot be said: yard.toml has no prices")
	}
	if ask.logs == "" {
		return q, nil
	}
	var err error
	if q.Plan.Logs, err = parseLogs(ask.logs, r.state, r.set); err != nil {
		return q, err
	}
	q.Windfall = true
	if len(q.Plan.Wants) == 0 {
		if !priced {
			return q, lineWrong(`add what is wanted, as in --want "25 kg shiitake 2029", or [[plan.price]] in yard.toml`, "what the logs are for is not said: nothing is wanted, and there are no prices")
		}
		q.Margin = true
		if len(q.Plan.Species) == 0 {
			q.Plan.Species = pricedSpecies(q.Plan.Prices)
		}
	}
	return q, nil
}

// pricedSpecies are the species that somebody pays for.
func pricedSpecies(prices []yard.Price) (names []string) {
	for _, p := range prices {
		if p.Species != "" && !slices.Contains(names, p.Species) {
			names = append(names, p.Species)
		}
	}
	return names
}

// nothingWanted says that nothing is, and how to say it.
func (a *app) nothingWanted(r *reading) error {
	if a.flags.json {
		return a.encoded(charts.SeasonJSON(r.input(nil, nil), nil, nil))
	}
	if a.flags.csv {
		return a.encoded(charts.SeasonCSV(&season.Result{}))
	}
	return a.print(a.terminal(r.state.Config.US).Season(r.input(nil, nil)))
}

// makeSeason works the plan out, with a bar on a terminal.
func (a *app) makeSeason(ctx context.Context, r *reading, q season.Question) (*season.Result, error) {
	in := forecast.Input{State: r.state, Data: r.set, Seed: a.flags.seed, Workers: a.flags.workers}
	var bar func(float64)
	if onTerminal(a.err) && !a.flags.json {
		bar = func(done float64) {
			n := int(done * barSigns)
			fmt.Fprintf(a.err, "\rplanning [%s%s] %.0f %%", strings.Repeat("#", n), strings.Repeat(".", barSigns-n), 100*done)
		}
		bar(0)
		defer fmt.Fprint(a.err, "\r\033[K")
	}
	result, err := season.Make(ctx, in, q, bar)
	if err != nil {
		return nil, err
	}
	for _, l := range result.LeftOut {
		a.note("not forecast: %s: %s", l.Pile, l.Why)
		a.status = statusPartial
	}
	return result, nil
}

// barSigns is how long the bar is.
const barSigns = 40

// showSeason answers, and does what else was asked for.
func (a *app) showSeason(ctx context.Context, r *reading, result *season.Result, ask *seasonAsk) error {
	in := r.input(nil, nil)
	in.Season = result
	var done accepted
	if ask.accept {
		var err error
		if done, err = a.acceptSeason(ctx, r, result); err != nil {
			return err
		}
	}
	page := ""
	if ask.page {
		var err error
		if page, err = a.writePlanPage(ctx, in); err != nil {
			return err
		}
	}
	switch {
	case a.flags.json:
		return a.encoded(charts.SeasonJSON(in, done.entries, done.piles))
	case a.flags.csv:
		return a.encoded(charts.SeasonCSV(result))
	}
	t := a.terminal(r.state.Config.US)
	text := t.Season(in)
	switch {
	case ask.accept:
		text += "\n" + t.SeasonAccepted(result.Year, done.entries, done.said, done.left)
	case len(result.Lines) > 0:
		text += "\n" + charts.SeasonAccept
	}
	if page != "" {
		text += "\nThe plan as a page: " + page + "\n"
	}
	return a.print(text)
}

// writePlanPage writes the page of a plan into pages/.
func (a *app) writePlanPage(ctx context.Context, in charts.Input) (string, error) {
	dir, err := a.pagesFolder("")
	if err != nil {
		return "", err
	}
	in.Library = a.chartLibrary(ctx)
	files, err := charts.SeasonPage(in)
	if err != nil {
		return "", err
	}
	for _, f := range files {
		if err := yard.OnDisk(dir).Replace(f.Name, f.Data); err != nil {
			return "", folderWrong("", "the page cannot be written: %s", err)
		}
	}
	return filepath.ToSlash(filepath.Join(dir, files[0].Name)), nil
}

// planPageIn reports whether the page of a plan stands in a folder of pages.
func planPageIn(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, charts.PlanFile))
	return err == nil
}
