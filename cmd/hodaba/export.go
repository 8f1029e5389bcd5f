package main

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/yard"
)

// exported is what export puts into a table.
var exported = []string{"piles", "harvests", "entries", "stock"}

// exportFlags are those of export.
type exportFlags struct {
	all   bool
	style charts.CSVStyle
	out   string
}

func (a *app) exports() *cobra.Command {
	var x exportFlags
	c := &cobra.Command{
		Use:   "export WHAT",
		Short: "tables for a spreadsheet, or all of the yard in one file",
		Long: long(`Writes piles, harvests, entries or stock as a table for a spreadsheet; import takes
piles and harvests in again.

With --all the whole yard goes into one zip file (by default NAME-DATE.zip in the folder
where you are): the files that you and the program wrote, and the daily copies. Keep it on
another disk. hodaba start --from FILE DIR makes the same yard of it, and so does any
program that unpacks a zip.`),
		Example: `  hodaba export harvests > harvests.csv
  hodaba export piles --semicolon --bom --out piles.csv
  hodaba export --all
  hodaba export --all /media/stick/my-yard.zip`,
		ValidArgs: exported,
		Args:      oneArg("table"),
	}
	c.RunE = func(c *cobra.Command, args []string) error {
		if x.all {
			return a.runExportAll(c.Context(), args)
		}
		return a.runExport(args, x)
	}
	a.folderFlags(c)
	f := c.Flags()
	f.BoolVar(&x.all, "all", false, "the whole yard in one zip file")
	f.BoolVar(&a.flags.csv, "csv", false, "as a table for a spreadsheet (also without saying so)")
	f.BoolVar(&x.style.Semicolon, "semicolon", false, "semicolons between cells and decimal commas")
	f.BoolVar(&x.style.BOM, "bom", false, "begin with the sign by which some spreadsheets know UTF-8")
	f.StringVar(&x.out, "out", "", "write to this file instead")
	return c
}

func (a *app) runExport(args []string, x exportFlags) error {
	if len(args) == 0 {
		return lineWrong("one of "+strings.Join(exported, ", ")+", or --all", "export needs to know what")
	}
	if !slices.Contains(exported, args[0]) {
		if near, ok := data.Nearest(args[0], exported); ok {
			return lineWrong("did you mean "+near+"?", "%q cannot be exported", args[0])
		}
		return lineWrong("one of "+strings.Join(exported, ", ")+", or --all", "%q cannot be exported", args[0])
	}
	r, err := a.read()
	if err != nil {
		return err
	}
	t := tableOf(args[0], r)
	write := func() ([]byte, error) { return t.CSV(x.style) }
	if a.flags.json {
		write = t.JSON
	}
	b, err := write()
	if err != nil {
		return err
	}
	if x.out == "" {
		return a.write(b)
	}
	if err := tablePlace(x.out, args[0], t, b); err != nil {
		return err
	}
	if err := writeBeside(x.out, b); err != nil {
		return folderWrong(writeRemedy(err), "the table cannot be written: %s", err)
	}
	return a.print("Written into " + x.out + ".\n")
}

func tableOf(what string, r *reading) charts.Table {
	switch what {
	case "piles":
		return charts.PilesTable(r.state)
	case "harvests":
		return charts.HarvestsTable(r.state)
	case "stock":
		return charts.StockTable(r.state)
	}
	entries, _ := r.folder.Entries()
	entries = slices.DeleteFunc(entries, func(e *yard.Entry) bool { return e.On.From > r.state.AsOf })
	return charts.EntriesTable(entries)
}

// runExportAll writes the yard into one file, reads it back, and notes the day.
// A yard of a later format is packed as it is, and nothing is noted in it.
func (a *app) runExportAll(ctx context.Context, args []string) error {
	dir, err := a.findYard()
	if err != nil {
		return err
	}
	folder, _, _, err := a.openAsIs(dir) // also one in which something is wrong
	if err != nil {
		return err
	}
	today := yard.Of(a.now)
	path := archiveName(a.dir, today)
	if len(args) == 1 && slices.Contains(exported, args[0]) {
		return lineWrong("leave "+args[0]+" out, or --all", "--all is the whole yard")
	}
	if len(args) == 1 {
		path = args[0]
	}
	older, err := archivePlace(path)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithTimeout(ctx, lockWait)
	defer cancel()
	archive, leftOut, err := folder.Pack(ctx, today)
	if err != nil {
		return folderWrong("", "%s", err)
	}
	whole := true // so that the reminder may rest
	if path, whole, err = a.besideBetter(folder, path, archive, older); err != nil {
		return err
	}
	if err := writeArchive(path, archive); err != nil {
		return err
	}
	if a.lacks(folder) || !whole { // the reminder stays: this is no archive of all
		a.status = statusPartial
	} else if err := folder.NoteArchived(today); err != nil && !folder.Later() {
		a.note("odd: %s", err)
	}
	return a.archived(path, archive, leftOut)
}

// lacks says what an archive lacks because the folder does.
func (a *app) lacks(folder *yard.Folder) bool {
	_, problems := folder.Entries()
	if err := broken(problems); err != nil {
		a.note("the archive holds the journal as it is: %s", err)
		return true
	}
	missing, err := folder.Missing()
	if err != nil {
		a.note("the archive holds the journal as it is: %s", err)
		return true
	}
	if len(missing) > 0 {
		a.note("entries that were recorded and are not in the journal any more, nor in that of the archive: %d; see them with hodaba put-back, and make the archive again", len(missing))
	}
	return len(missing) > 0
}

func archiveName(dir string, today yard.Date) string {
	return yardName(dir) + "-" + today.String() + ".zip"
}

func readArchive(path string) (*yard.Archive, error) {
	if err := plain(path); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return yard.ReadArchive(f)
}

// archived says what is in the archive, and what is not.
func (a *app) archived(path string, archive *yard.Archive, leftOut []string) error {
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			File    string   `json:"file"`
			Holds   []string `json:"holds"`
			LeftOut []string `json:"left_out"`
		}{filepath.ToSlash(path), archive.Names(), append([]string{}, leftOut...)}))
	}
	text := charts.Wrap("", "  ", "Written into "+path+" and read back: "+strings.Join(archive.Names(), ", ")+".")
	if len(leftOut) > 0 {
		text += charts.Wrap("", "  ", "Not in it, look after them yourself: "+strings.Join(leftOut, ", ")+".")
	}
	return a.print(text + "Keep it on another disk. To make the yard of it again:\n  hodaba start --from " + yard.CommandPath(path) + " DIR\n")
}

// startFrom is start --from: the archive says everything.
func (a *app) startFrom(c *cobra.Command, dir, path string) (err error) {
	c.Flags().Visit(func(f *pflag.Flag) {
		if !slices.Contains([]string{"from", "json", "plain", "draws", "seed", "workers"}, f.Name) {
			err = lineWrong("leave --"+f.Name+" out", "--from takes everything from the archive")
		}
	})
	if err != nil {
		return err
	}
	return a.restore(dir, path)
}

// restore makes a yard of an archive.
func (a *app) restore(dir, path string) error {
	archive, err := readArchive(path)
	if err != nil {
		return folderWrong("nothing was made", "%s: %s", path, err)
	}
	archive.Renumber()
	if err := archive.Restore(dir); err != nil {
		return folderWrong("", "%s", err)
	}
	folder, _, problems, err := a.openAsIs(dir)
	if err != nil {
		return err
	}
	if !slices.Contains(archive.Names(), yard.JournalFile) {
		a.note("the archive held no %s: no entry is in the new folder", yard.JournalFile)
		if _, kept := folder.Archived(); kept {
			a.note("there was one when the archive was made: hodaba put-back shows what the daily copies have of it")
			a.status = statusPartial
		}
	}
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			Yard  string   `json:"yard"`
			From  string   `json:"from"`
			Holds []string `json:"holds"`
		}{filepath.ToSlash(dir), filepath.ToSlash(path), archive.Names()}))
	}
	if folder.Later() {
		a.note("the folder is made, as the archive has it, and is of a format that this program does not know: use a newer version of the program to write in it")
	} else {
		for _, p := range problems {
			a.note("%s", p.String())
		}
	}
	made := ""
	if archive.Made != 0 {
		made = " as it was on " + archive.Made.String()
	}
	return a.print(charts.Wrap("", "  ", "The yard "+folder.Config().Name+made+" is in "+filepath.ToSlash(dir)+": "+strings.Join(archive.Names(), ", ")+".") +
		"\nNext, in " + filepath.ToSlash(dir) + ":\n  hodaba verify\n  hodaba work\n")
}
