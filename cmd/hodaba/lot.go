package main

import (
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast"
)

func (a *app) lot() *cobra.Command {
	c := &cobra.Command{
		Use:   "lot LOT",
		Short: "one step back, one step forward: all that touched a lot",
		Long: long(`Tells in order of time what a lot came from and where it went: felled logs, spawn,
spirit and other goods bought, pickings, dried goods, batches with their bottles.`),
		Example: `  hodaba lot SH-26-3`,
		Args:    oneArg("lot"),
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return a.runLot(args) }
	a.folderFlags(c)
	return c
}

func (a *app) runLot(args []string) error {
	if len(args) == 0 {
		return lineWrong("as in: hodaba lot SH-26-3; the lots: hodaba stock", "which lot is not said")
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	plan, err := forecast.Stands(r.state, r.set)
	if err != nil {
		return err
	}
	story, ok := charts.LotOf(r.input(&forecast.Result{AsOf: r.state.AsOf, Plan: plan}, nil), args[0])
	if !ok {
		return noLot(args[0], charts.Lots(r.state))
	}
	if a.flags.json {
		return a.encoded(charts.LotJSON(story))
	}
	return a.print(a.terminal(r.state.Config.US).Lot(story))
}

// noLot is the error of a lot that nothing goes by, with the nearest one, or a
// few that there are.
func noLot(lot string, lots []string) error {
	const shown = 4
	way := "no lot was written down yet"
	if near, ok := data.Nearest(lot, lots); ok {
		way = "did you mean " + near + "?"
	} else if len(lots) > 0 {
		way = "the last ones: " + strings.Join(lots[max(0, len(lots)-shown):], ", ")
	}
	return lineWrong(way, "nothing goes by the lot %q", lot)
}
