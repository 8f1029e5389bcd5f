package main

import (
	"context"

	"github.com/spf13/cobra"

	"hodaba/charts"
)

func (a *app) batches() *cobra.Command {
	c := &cobra.Command{
		Use:   "batches",
		Short: "the tincture calendar from now",
		Long: long(`Says of every batch when it can start and how surely, when it is strained, decocted,
blended and bottled, what comes out, and what is still short. Recipes come first that
stand first in recipes.toml; jars and pot are those of yard.toml.
--ics prints the days for the calendar of a phone or computer: read in again later it
moves what has moved, but takes nothing out.`),
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runBatches(c.Context()) }
	a.folderFlags(c)
	c.Flags().BoolVar(&a.flags.csv, "csv", false, "answer as a table for a spreadsheet")
	c.Flags().BoolVar(&a.flags.ics, "ics", false, "print a calendar file (iCalendar), as in: hodaba batches --ics > tinctures.ics")
	a.drawFlags(c)
	return c
}

func (a *app) runBatches(ctx context.Context) error {
	r, result, err := a.ahead(ctx)
	if err != nil {
		return err
	}
	switch {
	case a.flags.json:
		return a.encoded(charts.BatchesJSON(result.AsOf, r.state.Config.Confidence, result.Plan))
	case a.flags.csv:
		return a.encoded(charts.BatchesCSV(result.Plan))
	}
	if a.flags.ics {
		return a.answerICS(charts.Input{State: r.state, Result: result, Data: r.set})
	}
	t := a.terminal(r.state.Config.US)
	if err := a.print(t.Batches(r.state, result.Plan)); err != nil || result.Plan == nil {
		return err
	}
	return a.print("\n" + t.Cautions(result.Plan.Cautions()))
}
