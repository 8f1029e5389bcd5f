package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

func (a *app) importPiles() *cobra.Command {
	return a.importTable("piles", yard.ReadPiles, `Reads a table of piles and beds, one a row: as export piles writes it, or as start takes it.
Each pile becomes the entry with which it began, and others where its logs were counted
or it was picked. A pile whose name the yard knows already is not taken again.`)
}

func (a *app) importHarvests() *cobra.Command {
	return a.importTable("harvests", yard.ReadHarvests, `Reads a table of pickings, one a row: as export harvests writes it, or with columns such as
date, pile and kg. Each row becomes an entry. Rows of which the journal has an entry that
says the same are not taken again, so the same file can be imported twice.`)
}

// importTable is a command that makes entries of a table.
func (a *app) importTable(what string, read func(*yard.Folder, io.Reader) (*yard.TableImport, error), says string) *cobra.Command {
	yes := false
	c := &cobra.Command{
		Use:   what + " FILE",
		Short: "a table of " + what + " into the journal",
		Long: long(says + `

Commas, semicolons or tabs stand between cells; days are 2026-05-01, 2026-05 or 2026, or
in words; with semicolons numbers may have a decimal comma. It shows what would be
recorded and asks, or records at once with --yes. Rows that cannot be read are named with
their line and left out (exit status 3).`),
		Example: "  hodaba import " + what + " " + what + ".csv\n  hodaba import " + what + " " + what + ".csv --yes",
		Args:    oneArg("FILE"),
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if len(args) == 0 {
			return lineWrong("as in: hodaba import "+what+" "+what+".csv", "import %s needs a file", what)
		}
		return a.runImportTable(c.Context(), what, args[0], read, yes)
	}
	a.folderFlags(c)
	c.Flags().BoolVar(&yes, "yes", false, "record without asking")
	a.byFlag(c)
	return c
}

func (a *app) runImportTable(ctx context.Context, what, path string, read func(*yard.Folder, io.Reader) (*yard.TableImport, error), yes bool) error {
	folder, _, err := a.open()
	if err != nil {
		return err
	}
	file, err := os.Open(path)
	if err != nil {
		return folderWrong("name a file that is there", "the table cannot be read: %s", err)
	}
	defer file.Close()
	var kept bytes.Buffer
	t, err := read(folder, io.TeeReader(file, &kept))
	if err != nil {
		return folderWrong("nothing was written", "%s: %s", filepath.Base(path), err)
	}
	again := func() ([]string, error) { // another program may have taken the same rows meanwhile
		now, err := read(folder, bytes.NewReader(kept.Bytes()))
		if err != nil {
			return nil, err
		}
		return now.Texts, nil
	}
	for i := range t.Problems {
		t.Problems[i].File = filepath.Base(path)
	}
	a.leftOutOf(t.Problems)
	if a.flags.json {
		return a.tableJSON(ctx, folder, path, t, yes, again)
	}
	if err := a.print(a.terminal(folder.Config().US).TablePreview(filepath.Base(path), what, t)); err != nil {
		return err
	}
	if len(t.Texts) == 0 {
		return a.print("Nothing was written.\n")
	}
	if !yes {
		if yes, err = a.askRecord(len(t.Texts)); err != nil {
			return err
		}
	}
	if !yes {
		return a.print("Nothing was written.\n")
	}
	ids, err := a.recordTable(ctx, folder, t, again)
	if err != nil {
		return err
	}
	if len(ids) == 0 {
		return a.print("Nothing was written: another program recorded all of it just now.\n")
	}
	return a.print(fmt.Sprintf("Recorded: %s to %s.\n", ids[0], ids[len(ids)-1]))
}

func (a *app) askRecord(n int) (yes bool, err error) {
	_, err = a.askUntil(fmt.Sprintf("Record %d entries? yes or no:", n), func(s string) error {
		switch strings.ToLower(s) {
		case "yes", "y":
			yes = true
		case "no", "n":
		default:
			return fmt.Errorf("%q: answer yes or no", s)
		}
		return nil
	})
	if errors.Is(err, errNoAnswer) {
		return false, lineWrong("say --yes to record without being asked", "nothing was written: no answer came")
	}
	return yes, err
}

func (a *app) recordTable(ctx context.Context, folder *yard.Folder, t *yard.TableImport, again func() ([]string, error)) ([]string, error) {
	ctx, cancel := context.WithTimeout(ctx, lockWait)
	defer cancel()
	ids, problems, err := folder.RecordStill(ctx, t.Texts, a.writerOf(), a.moment(), again)
	if err != nil {
		return nil, folderWrong("", "%s", err)
	}
	for _, p := range problems {
		if !saidOf(t.Problems, p) {
			a.note("odd: %s", p.String())
		}
	}
	return ids, nil
}

// saidOf reports whether the same was said of a row already.
func saidOf(said []yard.Problem, p yard.Problem) bool {
	for _, q := range said {
		if q.Text == p.Text {
			return true
		}
	}
	return false
}

// tableJSON asks nothing: it records only with --yes.
func (a *app) tableJSON(ctx context.Context, folder *yard.Folder, path string, t *yard.TableImport, yes bool, again func() ([]string, error)) error {
	var ids []string
	if yes && len(t.Texts) > 0 {
		var err error
		if ids, err = a.recordTable(ctx, folder, t, again); err != nil {
			return err
		}
	}
	return a.encoded(charts.TablePreviewJSON(filepath.Base(path), t, ids))
}
