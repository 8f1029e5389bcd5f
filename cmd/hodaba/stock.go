package main

import (
	"github.com/spf13/cobra"

	"hodaba/charts"
)

func (a *app) stock() *cobra.Command {
	c := &cobra.Command{
		Use:   "stock",
		Short: "what is on hand by lot: fresh, dried, jars, bottles, bought",
		Args:  noArgs,
	}
	c.RunE = func(*cobra.Command, []string) error { return a.runStock() }
	a.folderFlags(c)
	c.Flags().BoolVar(&a.flags.csv, "csv", false, "the dried lots as a table for a spreadsheet")
	return c
}

func (a *app) runStock() error {
	r, err := a.read()
	if err != nil {
		return err
	}
	switch {
	case a.flags.json:
		return a.encoded(charts.StockJSON(r.state, r.set))
	case a.flags.csv:
		return a.encoded(charts.StockCSV(r.state))
	}
	return a.print(a.terminal(r.state.Config.US).Stock(r.state, r.set))
}
