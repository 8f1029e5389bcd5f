package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/forecast"
	"hodaba/forecast/score"
	"hodaba/yard"
)

// What the pages say of past forecasts takes fewer days and draws than the
// command does, so that they are not kept waiting for it.
const (
	pageReplays = 8 // half-years
	pageEvery   = 6 // months
	pageDraws   = 80
	missedDraws = 120 // of the forecast of half a year ago
)

func (a *app) score() *cobra.Command {
	var draws int
	c := &cobra.Command{
		Use:   "score [DIR…]",
		Short: "how right past forecasts were",
		Long: long(`Makes the forecasts of the past again, on the first day of each quarter, with what
was written down by then and nothing else, and sets them against what came: looks at
log ends, first harvests and kilograms, beside the trade's rule of thumb and thermal
time on monthly normals. With folders, all of their yards together.`),
		Args: cobra.ArbitraryArgs,
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.runScore(c.Context(), args, draws) }
	a.folderFlags(c)
	f := c.Flags()
	f.IntVar(&a.flags.workers, "workers", 0, "how many processors to use")
	if err := f.MarkHidden("workers"); err != nil {
		panic(err) // the flag was defined a line above
	}
	f.IntVar(&draws, "draws", score.DefaultDraws, "how many possible weathers and yards each past forecast goes through")
	f.Uint64Var(&a.flags.seed, "seed", forecast.DefaultSeed, "the start of the random numbers; the same one gives the same answer")
	return c
}

func (a *app) runScore(ctx context.Context, dirs []string, draws int) error {
	if draws < 1 {
		return lineWrong("take 300, or 50 for a quick look", "--draws %d is no number of draws", draws)
	}
	if draws > mostDraws {
		return lineWrong("take 300; 1000 say much the same", "--draws %d is more than the %d that most computers can hold", draws, mostDraws)
	}
	if len(dirs) == 0 {
		dir, err := a.findYard()
		if err != nil {
			return err
		}
		dirs = []string{dir}
	} else if a.flags.yard != "" {
		return lineWrong("name the folders one after another, without --yard", "both --yard and folders are given")
	}
	var reports []*score.Report
	var r *reading
	for _, dir := range dirs {
		var err error
		if r, err = a.readIn(dir); err != nil {
			return err
		}
		in := a.past(r)
		in.Draws = draws
		report, err := score.Replay(ctx, in)
		a.replayed()
		if err != nil {
			return err
		}
		reports = append(reports, report)
	}
	report, name := reports[0], r.state.Config.Name
	if len(reports) > 1 {
		report, name = score.Pool(reports...), fmt.Sprintf("%d yards", len(reports))
	}
	if a.flags.json {
		return a.encoded(charts.ScoreJSON(report))
	}
	return a.print(a.terminal(r.state.Config.US).Score(name, report))
}

// past is what past forecasts of a yard are made again from.
func (a *app) past(r *reading) score.Input {
	return score.Input{
		State: func(asOf, knownBy yard.Date) *yard.State {
			s, _ := r.folder.State(asOf, knownBy) // what is wrong was said when it was read
			return s
		},
		Today: r.state.AsOf, Data: r.set, Seed: a.flags.seed, Workers: a.flags.workers, Done: a.replaying(),
	}
}

// replaying shows on a terminal how far the past is made again.
func (a *app) replaying() func(done, of int) {
	if !onTerminal(a.err) || a.flags.json {
		return nil
	}
	return func(done, of int) { fmt.Fprintf(a.err, "\rlooking back, day %d of %d", done, of) }
}

func (a *app) replayed() {
	if onTerminal(a.err) && !a.flags.json {
		fmt.Fprint(a.err, "\r\033[K")
	}
}

// hindsight lays beside a forecast where that of half a year ago was wrong.
func (a *app) hindsight(ctx context.Context, r *reading, result *forecast.Result, in *charts.Input) error {
	past := a.past(r)
	past.Draws, past.Done = min(a.flags.draws, missedDraws), nil
	then, err := score.Back(ctx, past)
	if err != nil {
		return err
	}
	in.Missed = score.Misses(then, result, r.state, r.set)
	return nil
}

// pastScored is how right past forecasts were, as the pages tell it.
func (a *app) pastScored(ctx context.Context, r *reading) (*score.Report, error) {
	past := a.past(r)
	past.Draws, past.Every, past.Most = min(a.flags.draws, pageDraws), pageEvery, pageReplays
	report, err := score.Replay(ctx, past)
	a.replayed()
	return report, err
}
