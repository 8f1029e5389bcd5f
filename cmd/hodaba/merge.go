package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

func (a *app) merge() *cobra.Command {
	var show, anyway, leftOut bool
	c := &cobra.Command{
		Use:   "merge FOLDER",
		Short: "take over the entries of another copy of the same yard",
		Long: long(`Takes over the entries that another copy of this yard has and this one has not: a
folder, or a journal under any name, such as one that was laid beside this one where a
folder is kept alike on two computers. They are added to the end of the journal as they
stand there, in the order in which they were written; nothing is taken away. Merged both
ways, and as often as you like, both copies come to the same entries.

Where an entry says one thing here and another there, the one here stands, and the other
is shown with the way to take it (exit status 3). What differs in yard.toml, recipes.toml
and weather.csv is shown, and left to you. So is what was left out here with put-back
--leave (exit status 3); and what may be one thing that was mended by hand in one of
the copies is taken over and shown (exit status 3).`),
		Example: `  hodaba merge /media/stick/my-yard
  hodaba merge "journal (2).toml"`,
		Args: oneArg("FOLDER"),
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return lineWrong("as in: hodaba merge /media/stick/my-yard", "merge needs the folder of the other copy")
		}
		return a.runMerge(c.Context(), args[0], show, anyway, leftOut)
	}
	a.folderFlags(c)
	c.Flags().BoolVar(&show, "show", false, "say what would be taken over, and write nothing")
	c.Flags().BoolVar(&anyway, "anyway", false, "take the entries of a folder that shares none with this one")
	c.Flags().BoolVar(&leftOut, "left-out", false, "take also what was left out here with put-back --leave")
	return c
}

// lockWait is how long a command that changes the folder as a whole waits for
// another program to finish.
const lockWait = 5 * time.Second

func (a *app) runMerge(ctx context.Context, path string, show, anyway, leftOut bool) error {
	folder, _, err := a.open()
	if err != nil {
		return err
	}
	other, err := yard.OpenCopy(a.beside(path))
	if err != nil {
		return folderWrong("", "%s", err)
	}
	if leftOut {
		other.LeftOutToo()
	}
	o, err := a.takeOver(ctx, folder, other, show, anyway)
	if err != nil {
		return err
	}
	if o.LeftOut() || o.Undecided > 0 {
		a.status = statusPartial
	}
	if a.flags.json {
		return a.encoded(charts.TakeoverJSON(o, !show))
	}
	return a.print(a.terminal(folder.Config().US).Takeover(o, !show))
}

// beside is a path as it was typed; verify names files that lie in the yard by
// their name alone, and so may the grower.
func (a *app) beside(path string) string {
	if _, err := os.Stat(path); err == nil || !filepath.IsLocal(path) {
		return path
	}
	if _, err := os.Stat(filepath.Join(a.dir, path)); err == nil {
		return filepath.Join(a.dir, path)
	}
	return path
}

func (a *app) takeOver(ctx context.Context, folder *yard.Folder, other *yard.Copy, show, anyway bool) (*yard.Takeover, error) {
	if show {
		o, err := folder.LookAt(other)
		if err != nil {
			return nil, folderWrong("", "%s", err)
		}
		if o.Foreign {
			a.note("odd: nothing says that %s is a copy of this yard: no entry is in both", o.From)
		}
		return o, nil
	}
	ctx, cancel := context.WithTimeout(ctx, lockWait)
	defer cancel()
	o, err := folder.TakeOver(ctx, other, anyway, a.moment())
	if errors.Is(err, context.Canceled) {
		return nil, err
	}
	if err != nil {
		return nil, folderWrong("", "%s", err)
	}
	return o, nil
}
