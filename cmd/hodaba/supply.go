package main

import (
	"context"

	"github.com/spf13/cobra"

	"hodaba/charts"
)

func (a *app) supply() *cobra.Command {
	c := &cobra.Command{
		Use:   "supply",
		Short: "what comes fresh by week, against promises, cold room and drier",
		Long: long(`Sets what should be picked in each week of the year ahead against what was promised
in yard.toml and what the cold room and the drier take: weeks that are short, weeks in
which more comes than can be sold, kept or dried, and what to do in them, day by day.`),
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runSupply(c.Context()) }
	a.folderFlags(c)
	a.drawFlags(c)
	return c
}

func (a *app) runSupply(ctx context.Context) error {
	r, result, err := a.ahead(ctx)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.encoded(charts.SupplyJSON(result))
	}
	return a.print(a.terminal(r.state.Config.US).Supply(r.input(result, nil)))
}
