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

// batchesAsked are the options of `batches` alone.
type batchesAsked struct {
	by, recipe string
	bottles    int
	onHand     bool
}

func (a *app) batches() *cobra.Command {
	c := &cobra.Command{
		Use:   "batches",
		Short: "the tincture calendar from now, or back from a day",
		Long: long(`Says of every batch when it can start and how surely, when it is strained, decocted,
blended and bottled, what comes out, and what is still short. Recipes come first that
stand first in recipes.toml; jars and pot are those of yard.toml.

--ics prints the days for the calendar of a phone or computer: read in again later it
moves what has moved, but takes nothing out.

With --by and --recipe it plans back from a day: with --bottles, when to start at the
latest, how surely, and what is short; without, how many bottles can be promised. With
--recipe and --bottles, or --on-hand, alone it scales the recipe.`),
		Example: `  hodaba batches --recipe "five mushrooms" --bottles 24 --by 2027-11-20
  hodaba batches --recipe "five mushrooms" --by 2027-11-20
  hodaba batches --recipe "five mushrooms" --on-hand`,
		Args: noArgs,
	}
	var ask batchesAsked
	c.RunE = func(c *cobra.Command, _ []string) error {
		asked := c.Flags().Changed
		if asked("bottles") && ask.bottles < 1 {
			return lineWrong("such as --bottles 24", "--bottles %d is no number of bottles", ask.bottles)
		}
		return a.runBatches(c.Context(), ask)
	}
	a.folderFlags(c)
	c.Flags().BoolVar(&a.flags.csv, "csv", false, "answer as a table for a spreadsheet")
	c.Flags().BoolVar(&a.flags.ics, "ics", false, "print a calendar file (iCalendar), as in: hodaba batches --ics > tinctures.ics")
	c.Flags().StringVar(&ask.recipe, "recipe", "", "plan back, or scale, this recipe")
	c.Flags().StringVar(&ask.by, "by", "", "the last day on which it may be bottled, such as 2027-11-20")
	c.Flags().IntVar(&ask.bottles, "bottles", 0, "how many bottles are wanted")
	c.Flags().BoolVar(&ask.onHand, "on-hand", false, "scale the recipe to the dried goods on hand")
	a.drawFlags(c)
	return c
}

func (a *app) runBatches(ctx context.Context, ask batchesAsked) error {
	order, err := ask.order()
	if err != nil {
		return err
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	if ask.recipe != "" {
		recipe, err := findRecipe(r.state, ask.recipe)
		if err != nil {
			return err
		}
		if ask.by == "" {
			return a.showScaled(r, recipe, ask)
		}
		order.Recipe = recipe.Name
		if order.By < r.state.AsOf {
			return lineWrong("take a day ahead", "--by %v is past", order.By)
		}
	}
	result, err := a.simulateOrder(ctx, r, order)
	if err != nil {
		return err
	}
	return a.showBatches(r, result)
}

// order reads what is asked for, and says what does not go together.
func (k batchesAsked) order() (o forecast.Order, err error) {
	switch {
	case k.recipe == "" && (k.by != "" || k.bottles > 0 || k.onHand):
		return o, lineWrong(`as in: hodaba batches --recipe "five mushrooms" --bottles 24 --by 2027-11-20`, "for which recipe? --recipe is missing")
	case k.onHand && (k.by != "" || k.bottles > 0):
		return o, lineWrong("ask for one of them", "--on-hand goes with neither --by nor --bottles")
	case k.recipe != "" && k.by == "" && k.bottles == 0 && !k.onHand:
		return o, lineWrong("--by 2027-11-20 plans back from a day, --bottles 24 or --on-hand scales the recipe", "what about %s?", k.recipe)
	}
	o.Bottles = k.bottles
	if k.by != "" {
		if o.By, err = yard.ParseDate(k.by); err != nil {
			return o, lineWrong("write it as 2027-11-20", "--by: %v", err)
		}
	}
	return o, nil
}

// findRecipe is the recipe of a name.
func findRecipe(s *yard.State, name string) (yard.Recipe, error) {
	i := slices.IndexFunc(s.Recipes, func(r yard.Recipe) bool { return yard.SameName(r.Name, name) })
	if i >= 0 {
		return s.Recipes[i], nil
	}
	var names []string
	for _, r := range s.Recipes {
		names = append(names, r.Name)
	}
	remedy := "recipes are written into recipes.toml"
	if near, ok := data.Nearest(name, names); ok {
		remedy = "did you mean " + near + "?"
	} else if len(names) > 0 {
		remedy = "there are: " + strings.Join(names, ", ")
	}
	return yard.Recipe{}, lineWrong(remedy, "there is no recipe %q", name)
}

func (a *app) showBatches(r *reading, result *forecast.Result) error {
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
	if result.Plan != nil && result.Plan.Back != nil {
		return a.print(t.Back(result.Plan.Back) + "\n" + t.Cautions(result.Plan.Back.Cautions))
	}
	if err := a.print(t.Batches(r.state, result.Plan)); err != nil || result.Plan == nil {
		return err
	}
	return a.print("\n" + t.Cautions(result.Plan.Cautions()))
}

// showScaled writes a recipe for other amounts.
func (a *app) showScaled(r *reading, recipe yard.Recipe, ask batchesAsked) error {
	scaled, err := forecast.Size(r.state, recipe.Name, ask.bottles, r.set)
	if err != nil {
		return lineWrong("look at recipes.toml and hodaba stock", "%s cannot be scaled: %v", recipe.Name, err)
	}
	if a.flags.json {
		return a.encoded(charts.ScaledJSON(scaled))
	}
	t := a.terminal(r.state.Config.US)
	return a.print(t.Scaled(scaled) + "\n" + t.Cautions(scaled.Batch.Cautions))
}
