package main

import (
	"strings"

	"github.com/spf13/cobra"

	"hodaba/yard"
)

func (a *app) undo() *cobra.Command {
	c := &cobra.Command{
		Use:   "undo",
		Short: "void the last entry that you wrote",
		Long: long(`Voids the last entry that was written on this computer; where --by or HODABA_BY names
a person, the last one of that person. It says what it voids; the entry stays readable in
the journal. What was written on another computer, or older entries: hodaba correct.`),
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
	e, err := a.lastOf(folder)
	if err != nil {
		return err
	}
	return a.voidEntry(folder, e, nil)
}

// lastOf is the last entry that still counts of those that were written on this
// computer, by the person that is named if any is. Voids are passed over, so
// that a second undo goes one entry further back; undoing a correction lets
// stand again what it had replaced.
func (a *app) lastOf(f *yard.Folder) (*yard.Entry, error) {
	_, problems := f.Entries()
	if err := broken(problems); err != nil {
		return nil, err
	}
	own := a.writerOf()
	anyone := short(a.person()) == ""
	e := f.LastBy(func(writer string) bool {
		return writer == own || anyone && strings.HasSuffix(writer, "-"+own)
	})
	if e != nil && len(e.Twins()) > 0 { // one of them is another computer's
		return nil, whichTwin(e.Twins()[0].ID, e.Twins())
	}
	if e == nil {
		return nil, lineWrong("what is there: hodaba history", "there is nothing to undo: %s wrote no entry that still counts", own)
	}
	return e, nil
}

// undoWord is the command that takes back what was just written: who was named
// for this once has to be named again where HODABA_BY names somebody else.
func (a *app) undoWord() string {
	if usual := short(a.env("HODABA_BY")); usual != "" && short(a.flags.by) != usual && a.flags.by != "" {
		return "hodaba undo --by " + short(a.flags.by)
	}
	return "hodaba undo"
}
