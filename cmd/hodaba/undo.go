package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/yard"
)

func (a *app) undo() *cobra.Command {
	c := &cobra.Command{
		Use:   "undo",
		Short: "void the last entry that you wrote",
		Long: long(`Voids the last entry that was written on this computer, and by the same person where
--by or HODABA_BY names one. It says what it voids; the entry stays readable in the
journal. What others wrote, or older entries: hodaba correct.`),
		Args: noArgs,
	}
	c.RunE = func(*cobra.Command, []string) error { return a.runUndo() }
	a.byFlag(c)
	a.folderFlags(c)
	return c
}

func (a *app) runUndo() error {
	folder, _, err := a.open()
	if err != nil {
		return err
	}
	e, err := lastOf(folder, a.writerOf())
	if err != nil {
		return err
	}
	return a.voidEntry(folder, e, nil)
}

// lastOf is the last entry that still counts of those that a writer wrote.
// Voids are passed over, so that a second undo goes one entry further back;
// undoing a correction lets stand again what it had replaced.
func lastOf(f *yard.Folder, writer string) (*yard.Entry, error) {
	entries, problems := f.Entries()
	if err := broken(problems); err != nil {
		return nil, err
	}
	for _, e := range slices.Backward(entries) {
		id := e.ID
		if twins := e.Twins(); len(twins) > 0 {
			id = twins[0].ID // that of all of them
		}
		w, _, ok := cutLast(id, "-")
		void := e.Kind == "corrected" && e.Values()["void"] == "true"
		if ok && w == writer && e.Replaced == nil && !void {
			if len(e.Twins()) > 0 { // one of them is another computer's
				return nil, whichTwin(id, e.Twins())
			}
			return e, nil
		}
	}
	return nil, lineWrong("what is there: hodaba history", "there is nothing to undo: %s wrote no entry that still counts", writer)
}

func cutLast(s, sep string) (before, after string, ok bool) {
	if i := strings.LastIndex(s, sep); i >= 0 {
		return s[:i], s[i+len(sep):], true
	}
	return s, "", false
}
