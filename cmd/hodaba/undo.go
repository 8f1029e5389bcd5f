package main

import (
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
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
// stand again what it had replaced. Where the last one is not there to be voided,
// none is: an older one was not meant (FORMAT.md, Taking back the last).
func (a *app) lastOf(f *yard.Folder) (*yard.Entry, error) {
	_, problems := f.Entries()
	if err := broken(problems); err != nil {
		return nil, err
	}
	own := a.writerOf()
	anyone := short(a.person()) == ""
	asked := func(writer string) bool {
		return writer == own || anyone && strings.HasSuffix(writer, "-"+own)
	}
	e := f.LastBy(asked)
	over := f.Overruled(asked)
	last := e
	if over != nil {
		last = over
	}
	gone, err := f.GoneBehind(last, asked)
	switch {
	case err != nil:
		return nil, folderWrong("", "%s", err)
	case len(gone) > 0:
		return nil, lastGone(gone[len(gone)-1])
	case over != nil:
		return nil, lastOverruled(over)
	case e == nil:
		return nil, lineWrong("what is there: hodaba history", "there is nothing to undo: %s wrote no entry that still counts", own)
	case len(e.Twins()) > 0: // one of them is another computer's
		return nil, whichTwin(e.Twins()[0].ID, e.Twins())
	}
	return e, nil
}

// lastGone says why the last entry cannot be voided where it is not in the
// journal as it was recorded.
func lastGone(b yard.Behind) error {
	id := charts.Clean(b.ID)
	void := "hodaba correct " + id + " void=true"
	switch {
	case b.At != nil:
		name := charts.Clean(b.At.Name())
		return folderWrong("to void it: hodaba correct "+name+" void=true", "the last one, %s, stands in %s, line %d, without its identifier or under another, and nothing was voided", id, yard.JournalFile, b.At.Line)
	case b.Line > 0:
		return folderWrong("hodaba put-back "+id+" puts it back; then hodaba undo", "the last one, %s, stands in %s, line %d, and cannot be read any more; nothing was voided", id, yard.JournalFile, b.Line)
	case !b.Kept:
		return folderWrong("if it is not to come back, hodaba put-back "+id+" --leave; older ones: "+strings.Replace(void, id, "ENTRY", 1), "the last one, %s, is not in the journal any more, and nothing was voided", id)
	}
	return folderWrong("hodaba put-back "+id+" puts it back; if it is not to come back, hodaba put-back "+id+" --leave", "the last one, %s, is not in the journal any more, and nothing was voided", id)
}

// lastOverruled says why the last entry is not voided where somebody else
// corrected or voided it.
func lastOverruled(e *yard.Entry) error {
	by := e.Stands()
	id, name := charts.Clean(e.Name()), charts.Clean(by.Name())
	if by.Voids() {
		return lineWrong("older ones: hodaba history, and hodaba correct ENTRY void=true", "the last one, %s, no longer counts: %s, which somebody else wrote, made it void", id, name)
	}
	return lineWrong("if that is wrong: hodaba correct "+name+" void=true; older ones: hodaba history", "the last one, %s, no longer counts: %s, which somebody else wrote, took its place", id, name)
}

// undoWord is the command that takes back what was just written: who was named
// for this once has to be named again where HODABA_BY names somebody else.
func (a *app) undoWord() string {
	if usual := short(a.env("HODABA_BY")); usual != "" && short(a.flags.by) != usual && a.flags.by != "" {
		return "hodaba undo --by " + short(a.flags.by)
	}
	return "hodaba undo"
}
