package main

import (
	"context"

	"github.com/spf13/cobra"

	"hodaba/charts"
)

func (a *app) work() *cobra.Command {
	c := &cobra.Command{
		Use:   "work",
		Short: "what to do this week and next",
		Args:  noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runWork(c.Context()) }
	a.folderFlags(c)
	a.drawFlags(c)
	return c
}

type taskJSON struct {
	From  string   `json:"from"`
	To    string   `json:"to"`
	Kind  string   `json:"kind"`
	Do    string   `json:"do"`
	Why   string   `json:"why"`
	Close []string `json:"closed_by"`
}

// missJSON is where the forecast of half a year ago was wrong.
type missJSON struct {
	Said  string   `json:"said"`
	Why   string   `json:"why"`
	Close []string `json:"closed_by"`
}

type workJSON struct {
	AsOf   string     `json:"as_of"`
	Wrong  []missJSON `json:"wrong"`
	Work   []taskJSON `json:"work"`
	Coming []string   `json:"coming"`
	NotYet []string   `json:"not_yet"`
}

func (a *app) runWork(ctx context.Context) error {
	r, result, err := a.ahead(ctx)
	if err != nil {
		return err
	}
	in := r.input(result, nil)
	if err := a.hindsight(ctx, r, result, &in); err != nil {
		return err
	}
	if !a.flags.json {
		return a.print(a.terminal(r.state.Config.US).Work(r.state, charts.Wrong(in), charts.Work(in), charts.Coming(in), charts.NotYet(in)))
	}
	out := workJSON{AsOf: r.state.AsOf.String(), Wrong: []missJSON{}, Work: []taskJSON{},
		Coming: append([]string{}, charts.Coming(in)...), NotYet: append([]string{}, charts.NotYet(in)...)}
	for _, m := range charts.Wrong(in) {
		out.Wrong = append(out.Wrong, missJSON{m.Said, m.More, append([]string{}, m.Close...)})
	}
	for _, k := range charts.Work(in) {
		out.Work = append(out.Work, taskJSON{k.From.String(), k.To.String(), k.Kind, k.Do, k.Why, append([]string{}, k.Close...)})
	}
	b, err := charts.JSON(out)
	if err != nil {
		return err
	}
	return a.write(b)
}
