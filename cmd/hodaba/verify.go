package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

func (a *app) verify() *cobra.Command {
	c := &cobra.Command{
		Use:   "verify",
		Short: "read the whole folder and say all that is wrong or odd",
		Long: long(`Reads every file of the yard and says everything that is wrong with it, each with its
line and the way out, and what is odd. What is only odd is kept and used, and leaves
the exit status at 0.`),
		Args: noArgs,
	}
	c.RunE = func(*cobra.Command, []string) error { return a.runVerify() }
	a.folderFlags(c)
	return c
}

func (a *app) runVerify() error {
	dir, err := a.findYard()
	if err != nil {
		return err
	}
	folder, _, problems, err := a.openAsIs(dir)
	if err != nil {
		return err
	}
	if folder != nil {
		problems = folder.Check()
	}
	wrong := 0
	for _, p := range problems {
		if p.Grade != yard.Odd {
			wrong++
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
	return a.print(verdict(wrong, len(problems)-wrong))
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
