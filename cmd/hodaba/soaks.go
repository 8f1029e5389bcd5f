package main

import (
	"context"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/forecast"
	"hodaba/yard"
)

// soakFlags are the questions that the tank book answers besides itself.
type soakFlags struct {
	skip    string
	perWeek string
	logs    int
}

func (a *app) soaks() *cobra.Command {
	var f soakFlags
	c := &cobra.Command{
		Use:   "soaks",
		Short: "the tank book: which logs go in when, and what they bring",
		Long: long(`Draws up which logs go into the tank in which week, with what each load should bring
and when it is picked, and tells what came of the soaks on record. How many logs the
tank holds stands under [soak] in yard.toml. With --skip, what it costs to leave a
week out. With --per-week or --logs, how many logs a weekly supply wants.`),
		Example: `  hodaba soaks
  hodaba soaks --skip 2027-W20
  hodaba soaks --per-week 5kg
  hodaba soaks --logs 100`,
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error {
		return a.runSoaks(c.Context(), &f, c.Flags().Changed("logs"))
	}
	a.folderFlags(c)
	c.Flags().BoolVar(&a.flags.csv, "csv", false, "the weeks ahead as a table for a spreadsheet")
	c.Flags().StringVar(&f.skip, "skip", "", "a week to leave out, such as 2027-W20 or a day of it: what that costs")
	c.Flags().StringVar(&f.perWeek, "per-week", "", "how many logs so much fresh a week wants, such as 5kg")
	c.Flags().IntVar(&f.logs, "logs", 0, "what so many logs bring a week")
	a.drawFlags(c)
	return c
}

func (a *app) runSoaks(ctx context.Context, f *soakFlags, logsAsked bool) error {
	asked := 0
	for _, is := range []bool{f.skip != "", f.perWeek != "", logsAsked} {
		if is {
			asked++
		}
	}
	switch {
	case asked > 1:
		return lineWrong("ask one after the other", "--skip, --per-week and --logs are three questions")
	case asked > 0 && a.flags.csv:
		return lineWrong("leave out --csv, or ask with --json", "--skip, --per-week and --logs answer in sentences, not as a table")
	case logsAsked && (f.logs < 1 || f.logs > mostLogs):
		return lineWrong("as in: hodaba soaks --logs 100", "--logs %d is no number of logs", f.logs)
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	week, ask, err := f.read(r.state)
	if err != nil {
		return err
	}
	result, err := a.simulate(ctx, r)
	if err != nil {
		return err
	}
	switch {
	case week != 0:
		return a.skipWeek(ctx, r, result, week)
	case asked > 0:
		return a.showSupply(r, result, ask)
	}
	return a.showSoaks(r, result)
}

// mostLogs is more than anybody soaks, and keeps the arithmetic whole.
const mostLogs = 1_000_000

// read reads the questions: a week by its Monday, zero where none is left
// out, and a weekly supply.
func (f *soakFlags) read(s *yard.State) (week yard.Date, ask charts.SupplyAsk, err error) {
	ask.Logs = f.logs
	if f.perWeek != "" {
		q, err := yard.ParseQuantity(f.perWeek, yard.Kilogram, s.Config.Measures)
		if err != nil || !(q.Mid() > 0) || q.Mid() > mostLogs {
			return 0, ask, lineWrong("as in: hodaba soaks --per-week 5kg", "--per-week %q is no weight", f.perWeek)
		}
		ask.KG = q.Mid()
	}
	if f.skip == "" {
		return 0, ask, nil
	}
	w, err := yard.ParseWhen(strings.TrimSpace(f.skip))
	if err != nil || w.To-w.From > 6 {
		return 0, ask, lineWrong("write a week as 2027-W20, or a day of it as 2027-05-20", "--skip %q is no week", f.skip)
	}
	return w.From.Monday(), ask, nil
}

func (a *app) showSoaks(r *reading, result *forecast.Result) error {
	in := r.input(result, nil)
	switch {
	case a.flags.json:
		return a.encoded(charts.SoaksJSON(in, nil))
	case a.flags.csv:
		return a.encoded(charts.SoaksCSV(result))
	}
	return a.print(a.terminal(r.state.Config.US).Soaks(in))
}

func (a *app) showSupply(r *reading, result *forecast.Result, ask charts.SupplyAsk) error {
	in := r.input(result, nil)
	if a.flags.json {
		return a.encoded(charts.RotaSupplyJSON(in, ask))
	}
	return a.print(a.terminal(r.state.Config.US).RotaSupply(in, ask))
}

// skipWeek forecasts once more, on the same draws, with the tank left empty in
// a week.
func (a *app) skipWeek(ctx context.Context, r *reading, result *forecast.Result, week yard.Date) error {
	if len(result.Loads) == 0 {
		return &failure{status: statusPartial, text: "there is no tank book to leave a week out of", remedy: "what it wants: hodaba soaks"}
	}
	of := func(d forecast.Decision) forecast.Input {
		return forecast.Input{State: r.state, Data: r.set, Draws: a.flags.draws, Seed: a.flags.seed, Workers: a.flags.workers, Decision: d}
	}
	skipped := forecast.Decision{Skip: []yard.Date{week}}
	without, err := forecast.Run(ctx, of(skipped), nil)
	if err != nil {
		return err
	}
	crops, err := forecast.Crops(ctx, of(forecast.Decision{}))
	if err != nil {
		return err
	}
	fewer, err := forecast.Crops(ctx, of(skipped))
	if err != nil {
		return err
	}
	in, skip := r.input(result, nil), &charts.Skip{Week: week, Without: without, Years: forecast.SkipYears(crops, fewer)}
	if a.flags.json {
		return a.encoded(charts.SoaksJSON(in, skip))
	}
	return a.print(a.terminal(r.state.Config.US).Skip(in, skip))
}
