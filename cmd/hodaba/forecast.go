package main

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

func (a *app) forecast() *cobra.Command {
	c := &cobra.Command{
		Use:   "forecast [PILE]",
		Short: "when, how likely, how much",
		Long: long(`Says of every pile and bed how far it is run through and how surely, in which months
it will fruit, and how many kilograms to expect by month and species. With PILE, one
of them month by month; with PILE and --why, why its forecast is what it is: its
growing days, the season, what each thing you saw does to it, and which visit would
tell most.`),
		Args:              oneArg("PILE"),
		ValidArgsFunction: a.pileNames,
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.runForecast(c.Context(), args) }
	a.folderFlags(c)
	c.Flags().BoolVar(&a.flags.csv, "csv", false, "answer as a table for a spreadsheet")
	c.Flags().BoolVar(&a.flags.why, "why", false, "explain the forecast of PILE")
	a.drawFlags(c)
	return c
}

func (a *app) runForecast(ctx context.Context, args []string) error {
	if a.flags.why && a.flags.csv {
		return lineWrong("leave out --csv, or ask with --json", "--why answers in sentences, not as a table")
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	if a.flags.why && len(args) == 0 {
		return whyOfWhat(r.state)
	}
	var pile *yard.Pile
	if len(args) == 1 {
		if pile, err = findPile(r.state, args[0]); err != nil {
			return err
		}
	}
	result, err := a.simulate(ctx, r)
	if err != nil {
		return err
	}
	if pile != nil {
		return a.showPile(r, result, pile)
	}
	return a.showForecast(r, result)
}

// pilesNamed is how many piles are named to choose from.
const pilesNamed = 5

// whyOfWhat asks which pile is to be explained.
func whyOfWhat(s *yard.State) error {
	var names []string
	for _, p := range s.Piles {
		if p.Closed == 0 && len(names) < pilesNamed {
			names = append(names, p.Name)
		}
	}
	if len(names) == 0 {
		return lineWrong("write one down first: hodaba record inoculated --help", "--why explains one pile, and none is written down")
	}
	return lineWrong("as in: hodaba forecast "+yard.CommandWord(names[0])+" --why", "--why explains one pile; name it: %s", strings.Join(names, ", "))
}

// findPile is the pile of a name or code.
func findPile(s *yard.State, name string) (*yard.Pile, error) {
	if p := s.Pile(name); p != nil {
		return p, nil
	}
	var names []string
	for _, p := range s.Piles {
		names = append(names, p.Name)
	}
	if near, ok := data.Nearest(name, names); ok {
		return nil, lineWrong("did you mean "+near+"?", "there is no pile %q", name)
	}
	return nil, lineWrong("all of them: hodaba forecast", "there is no pile %q", name)
}

func (a *app) showForecast(r *reading, result *forecast.Result) error {
	switch {
	case a.flags.json:
		return a.encoded(charts.ForecastJSON(result))
	case a.flags.csv:
		return a.encoded(charts.ForecastCSV(result))
	case len(r.state.Piles) == 0:
		return a.print("No pile is written down yet. The first one: hodaba record inoculated oak-north shiitake 40 logs \"white oak\" 12cm --on 2025-04\n")
	}
	return a.print(a.terminal(r.state.Config.US).Forecast(r.state, result))
}

func (a *app) showPile(r *reading, result *forecast.Result, pile *yard.Pile) error {
	i := slices.IndexFunc(result.Piles, func(p *forecast.Pile) bool { return p.Name == pile.Name })
	if i < 0 {
		return a.noForecast(result, pile)
	}
	one := *result
	one.Piles = result.Piles[i : i+1]
	one.Species = nil
	switch {
	case a.flags.json && a.flags.why:
		return a.encoded(charts.WhyJSON(&one))
	case a.flags.json:
		return a.encoded(charts.ForecastJSON(&one))
	case a.flags.csv:
		return a.encoded(charts.ForecastCSV(&one))
	case a.flags.why:
		in := charts.Input{State: r.state, Result: result, Data: r.set}
		return a.print(a.terminal(r.state.Config.US).Why(in, one.Piles[0]))
	}
	return a.print(a.terminal(r.state.Config.US).Pile(r.state, result, result.Piles[i]))
}

// noForecast says why a pile has none.
func (a *app) noForecast(result *forecast.Result, pile *yard.Pile) error {
	for _, l := range result.LeftOut {
		if l.Pile == pile.Name {
			return &failure{status: statusPartial, text: pile.Name + " is not forecast: " + l.Why}
		}
	}
	if pile.Closed != 0 {
		return &failure{status: statusPartial, text: pile.Name + " has no logs left since " + pile.Closed.String(), remedy: "what happened: hodaba history " + pile.Name}
	}
	return &failure{status: statusPartial, text: pile.Name + " is not forecast", remedy: "what is known of it: hodaba history " + pile.Name}
}

// encoded writes an answer for a program.
func (a *app) encoded(b []byte, err error) error {
	if err != nil {
		return err
	}
	return a.write(b)
}
