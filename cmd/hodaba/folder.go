package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// readPlain reads a file, and refuses what is none: a pipe would be waited for.
func readPlain(path string) ([]byte, error) {
	if err := plain(path); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

func plain(path string) error {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("it is no plain file")
	}
	return err
}

// open finds and opens the yard's folder.
func (a *app) open() (*yard.Folder, *data.Set, error) {
	dir, err := a.findYard()
	if err != nil {
		return nil, nil, err
	}
	return a.openIn(dir)
}

func (a *app) openIn(dir string) (*yard.Folder, *data.Set, error) {
	folder, set, problems, err := a.openAsIs(dir)
	if err != nil {
		return nil, nil, err
	}
	return folder, set, broken(problems)
}

// openToRead is openIn for commands that write nothing into the folder: one of
// a later format is said, and read as far as that goes.
func (a *app) openToRead(dir string) (*yard.Folder, *data.Set, error) {
	folder, set, problems, err := a.openAsIs(dir)
	if err != nil {
		return nil, nil, err
	}
	if i := slices.IndexFunc(problems, yard.IsLater); i >= 0 { // FORMAT.md, The format number
		a.note("%s: it is read as far as that goes, and nothing in it is changed; %s", whereWhat(problems[i]), strings.TrimSuffix(problems[i].Remedy, "; nothing was changed"))
		problems = slices.Delete(problems, i, i+1)
	}
	return folder, set, broken(problems)
}

// pagesFolder is where pages and papers go unless out says otherwise: into the
// yard's folder, if that may be written to (FORMAT.md, The format number).
func (a *app) pagesFolder(out string) (string, error) {
	switch {
	case out != "":
		return out, nil
	case a.later:
		return "", folderWrong("name a folder elsewhere with --out DIR, or use a newer version of the program", "this yard is of a format that this program does not know, and nothing is written into its folder")
	}
	return filepath.Join(a.dir, "pages"), nil
}

// findYard is the folder that --yard names, or the one that the program was
// called in or below.
func (a *app) findYard() (string, error) {
	if a.flags.yard != "" {
		return a.flags.yard, nil
	}
	dir, err := yard.Find(".")
	if err != nil {
		return "", folderWrong("begin one with hodaba start DIR, or name its folder with --yard DIR", "there is no yard in this folder or above it")
	}
	return dir, nil
}

// openAsIs opens a folder, whatever is wrong in it. A day of --as-of that is
// still to come counts as today, so that nothing up to it lies in the future.
func (a *app) openAsIs(dir string) (*yard.Folder, *data.Set, []yard.Problem, error) {
	set, err := data.Load()
	if err != nil {
		return nil, nil, nil, err
	}
	asOf, today, err := a.asOf()
	if err != nil {
		return nil, nil, nil, err
	}
	folder, problems, err := yard.Open(dir, set, max(asOf, today))
	if err != nil {
		return nil, nil, nil, folderWrong("", "%s", err)
	}
	a.dir, a.later = dir, folder.Later()
	folder.OnComputer(computerWord(dir, a.host))
	return folder, set, problems, nil
}

// broken is the first problem that stops everything, if there is one.
func broken(problems []yard.Problem) error {
	n := 0
	var first yard.Problem
	for _, p := range problems {
		if p.Grade == yard.Broken {
			if n++; n == 1 {
				first = p
			}
		}
	}
	if n == 0 {
		return nil
	}
	more := ""
	if n > 1 {
		more = fmt.Sprintf(" (and %d more: hodaba verify)", n-1)
	}
	return folderWrong(first.Remedy, "%s%s", whereWhat(first), more)
}

// whereWhat is a problem without its way out.
func whereWhat(p yard.Problem) string {
	p.Remedy = ""
	return p.String()
}

// reading is a yard that was opened and replayed.
type reading struct {
	folder   *yard.Folder
	set      *data.Set
	state    *yard.State
	problems []yard.Problem
}

// read opens the yard and replays its journal. Entries set aside are said on
// stderr, and the command ends with the status of a thing half done.
func (a *app) read() (*reading, error) {
	dir, err := a.findYard()
	if err != nil {
		return nil, err
	}
	return a.readIn(dir)
}

func (a *app) readIn(dir string) (*reading, error) {
	folder, set, err := a.openToRead(dir)
	if err != nil {
		return nil, err
	}
	return a.replay(folder, set)
}

// ahead reads the yard and forecasts it.
func (a *app) ahead(ctx context.Context) (*reading, *forecast.Result, error) {
	dir, err := a.findYard()
	if err != nil {
		return nil, nil, err
	}
	return a.aheadIn(ctx, dir)
}

func (a *app) aheadIn(ctx context.Context, dir string) (*reading, *forecast.Result, error) {
	r, err := a.readIn(dir)
	if err != nil {
		return nil, nil, err
	}
	result, err := a.simulate(ctx, r)
	return r, result, err
}

func (a *app) replay(folder *yard.Folder, set *data.Set) (*reading, error) {
	asOf, _, err := a.asOf()
	if err != nil {
		return nil, err
	}
	state, problems := folder.State(asOf, 0)
	if err := broken(problems); err != nil {
		return nil, err
	}
	a.aside(problems)
	return &reading{folder, set, state, problems}, nil
}

// asideShown is how many entries set aside are told one by one.
const asideShown = 3

func (a *app) aside(problems []yard.Problem) {
	n := 0
	for _, p := range problems {
		if p.Grade != yard.Aside {
			continue
		}
		if n++; n <= asideShown {
			a.note("set aside: %s", p.String())
		}
	}
	if n > asideShown {
		a.note("set aside: %d more; all of them: hodaba verify", n-asideShown)
	}
	if n > 0 {
		a.status = statusPartial
	}
}

// simulate forecasts a yard with the draws and seed of the command line.
func (a *app) simulate(ctx context.Context, r *reading) (*forecast.Result, error) {
	return a.simulateOrder(ctx, r, forecast.Order{})
}

// mostDraws bounds --draws: beyond it the answer grows no better, and the memory
// of a computer ends; a yard of a dozen piles takes some 0.5 GB for a thousand.
const mostDraws = 20_000

// drawsFit refuses a number of draws that is none, or too large.
func (a *app) drawsFit() error {
	if a.flags.draws < 1 {
		return lineWrong("take 2000, or 200 for a quick look", "--draws %d is no number of draws", a.flags.draws)
	}
	if a.flags.draws > mostDraws {
		return lineWrong("take 2000; 10000 say much the same", "--draws %d is more than the %d that most computers can hold", a.flags.draws, mostDraws)
	}
	return nil
}

// simulateOrder forecasts, and answers an order of bottles.
func (a *app) simulateOrder(ctx context.Context, r *reading, order forecast.Order) (*forecast.Result, error) {
	if err := a.drawsFit(); err != nil {
		return nil, err
	}
	if a.flags.seed == 0 {
		return nil, lineWrong("take 1", "--seed 0 is kept for the default")
	}
	progress := a.progress(len(r.state.Piles))
	result, err := forecast.Run(ctx, forecast.Input{
		State: r.state, Data: r.set, Draws: a.flags.draws, Seed: a.flags.seed, Workers: a.flags.workers,
		Order: order,
	}, func(*forecast.Pile) error { progress(); return nil })
	a.progressDone(len(r.state.Piles))
	if err != nil {
		return nil, err
	}
	for _, l := range result.LeftOut {
		a.note("not forecast: %s: %s", l.Pile, l.Why)
		a.status = statusPartial
	}
	return result, nil
}

// progress returns a function to call after each pile; it shows a bar on a
// terminal and nothing elsewhere.
func (a *app) progress(total int) func() {
	if !onTerminal(a.err) || a.flags.json {
		return func() {}
	}
	done := 0
	return func() {
		done++
		fmt.Fprintf(a.err, "\rforecasting, pile %d of %d", done, total)
	}
}

func (a *app) progressDone(total int) {
	if onTerminal(a.err) && !a.flags.json && total > 0 {
		fmt.Fprint(a.err, "\r\033[K")
	}
}

// input is what pages and the work list are made from.
func (r *reading) input(result *forecast.Result, library []byte) charts.Input {
	written, _ := r.folder.Entries() // what was wrong with them is among the problems already
	in := charts.Input{State: r.state, Result: result, Data: r.set, Written: written, Problems: r.problems, Library: library}
	in.Backup.Last, in.Backup.Kept = r.folder.Archived()
	return in
}

// pileNames completes the names of piles, each with what grows on it.
func (a *app) pileNames(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	folder, _, err := a.open()
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	asOf, _, err := a.asOf()
	if err != nil {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	state, _ := folder.State(asOf, 0)
	var names []string
	for _, p := range state.Piles {
		names = append(names, charts.Clean(p.Name)+"\t"+charts.Clean(fmt.Sprintf("%s, %s", p.Species, p.Since)))
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
