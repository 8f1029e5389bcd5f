package main

import (
	"context"

	"github.com/spf13/cobra"

	"hodaba/charts/script"
)

// fetchScript brings the charting library that the pages draw with; the pages
// do without it where it is missing.
func (a *app) fetchScript() *cobra.Command {
	c := &cobra.Command{
		Use:    "fetch-script [DIR]",
		Short:  "bring the charting library of the pages (default: into the user's cache)",
		Hidden: true,
		Args:   oneArg("DIR"),
	}
	c.RunE = func(c *cobra.Command, args []string) error { return runFetchScript(c.Context(), args) }
	return c
}

func runFetchScript(ctx context.Context, args []string) error {
	if len(args) == 1 {
		return script.Fetch(ctx, args[0])
	}
	dir, err := script.CacheDir()
	if err != nil {
		return err
	}
	return script.Fetch(ctx, dir)
}
