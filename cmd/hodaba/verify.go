package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

func (a *app) verify() *cobra.Command {
	var mend bool
	c := &cobra.Command{
		Use:   "verify",
		Short: "read the whole folder and say all that is wrong or odd",
		Long: long(`Reads every file of the yard and says everything that is wrong with it, each with its
line and the way out, and what is odd. What is only odd is kept and used, and leaves
the exit status at 0.

With --mend it first does what is safe, says what, and keeps the journal as it was
whenever it changes it: an entry that was cut short is set aside, both sides of a journal
that version control left marked are kept, leftovers are removed, the daily copy is made
anew. Everything else is for you to decide.`),
		Args: noArgs,
	}
	c.RunE = func(c *cobra.Command, _ []string) error { return a.runVerify(c.Context(), mend) }
	a.folderFlags(c)
	c.Flags().BoolVar(&mend, "mend", false, "first do what is safe, and say what")
	return c
}

func (a *app) runVerify(ctx context.Context, mend bool) error {
	dir, err := a.findYard()
	if err != nil {
		return err
	}
	folder, _, _, err := a.openAsIs(dir)
	if err != nil {
		return err
	}
	if mend {
		if err := a.mend(ctx, folder); err != nil {
			return err
		}
	}
	problems := folder.Check()
	wrong, odd := 0, 0
	for _, p := range problems {
		if p.Grade == yard.Odd {
			odd += 1 + p.More
		} else {
			wrong += 1 + p.More
		}
	}
	if wrong > 0 {
		a.status = statusFolder
	}
	if a.flags.json {
		return a.encoded(charts.VerifyJSON(problems))
	}
	if len(problems) > 0 {
		if err := a.print(a.terminal(false).Problems(problems) + "\n"); err != nil {
			return err
		}
	}
	return a.print(verdict(wrong, odd))
}

// mend does what is safe in a folder, and says what it did.
func (a *app) mend(ctx context.Context, folder *yard.Folder) error {
	ctx, cancel := context.WithTimeout(ctx, lockWait)
	defer cancel()
	done, err := folder.Mend(ctx, a.moment())
	for _, what := range done {
		a.note("mended: %s", what)
	}
	if err != nil {
		return folderWrong("", "%s", err)
	}
	return nil
}

func verdict(wrong, odd int) string {
	switch {
	case wrong == 0 && odd == 0:
		return "Nothing is wrong and nothing is odd.\n"
	case wrong == 0:
		return fmt.Sprintf("Nothing is wrong; odd: %d.\n", odd)
	}
	return fmt.Sprintf("Wrong: %d, odd: %d.\n", wrong, odd)
}
