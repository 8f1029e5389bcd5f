package main

import (
	"context"
	"fmt"
	"maps"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/yard"
)

func (a *app) correct() *cobra.Command {
	c := &cobra.Command{
		Use:   "correct ENTRY KEY=VALUE …",
		Short: "mend an entry; the old one stays readable",
		Long: long(`Writes a new entry that replaces another, with all its keys except those given here.
A key with nothing behind it (cause=) is dropped, and void=true says that it never
happened. Identifiers are those of hodaba history; the old entry stays in the journal
and no longer counts.`),
		Example: `  hodaba correct kitchen-118 fresh=2.4kg
  hodaba correct kitchen-118 on=2026-05-02 note="two baskets"
  hodaba correct kitchen-118 void=true`,
	}
	c.RunE = func(_ *cobra.Command, args []string) error { return a.runCorrect(args) }
	a.byFlag(c)
	a.folderFlags(c)
	return c
}

func (a *app) byFlag(c *cobra.Command) {
	c.Flags().StringVar(&a.flags.by, "by", "", "who writes, in initials (default: HODABA_BY)")
}

func (a *app) runCorrect(args []string) error {
	if len(args) < 2 {
		return lineWrong("as in: hodaba correct kitchen-118 fresh=2.4kg", "correct needs an entry and what is right")
	}
	folder, _, err := a.open()
	if err != nil {
		return err
	}
	e, err := findEntry(folder, args[0])
	if err != nil {
		return err
	}
	if args, void := takeVoid(args[1:]); void {
		return a.voidEntry(folder, e, args)
	}
	if err := countsForNothing(e); err != nil {
		return err
	}
	right, err := corrections(e, args[1:])
	if err != nil {
		return err
	}
	if by := a.person(); by != "" {
		right["mended_by"] = by
	}
	return a.replace(folder, e, right)
}

// takeVoid takes the word that an entry never happened out of what was given.
func takeVoid(args []string) (rest []string, void bool) {
	for _, arg := range args {
		switch strings.ToLower(strings.ReplaceAll(arg, " ", "")) {
		case "void", "void=true", "void=yes":
			void = true
		default:
			rest = append(rest, arg)
		}
	}
	return rest, void
}

// voidEntry lets an entry no longer count; of further keys only a note makes
// sense.
func (a *app) voidEntry(f *yard.Folder, e *yard.Entry, args []string) error {
	right := map[string]string{"replaces": e.Name(), "void": "true"}
	for _, arg := range args {
		note, ok := strings.CutPrefix(arg, "note=")
		if !ok {
			return lineWrong("leave out "+arg+", or leave out void", "%s cannot be voided and corrected at once", e.ID)
		}
		right["note"] = note
	}
	if by := a.person(); by != "" {
		right["by"] = by
	}
	return a.replace(f, e, right)
}

// findEntry is the entry of an identifier that still counts; one that cannot be
// used is found, too, so that it can be mended.
func findEntry(f *yard.Folder, id string) (*yard.Entry, error) {
	_, problems := f.Entries()
	if err := broken(problems); err != nil {
		return nil, err
	}
	var ids []string
	for _, e := range f.All() {
		switch {
		case len(e.Twins()) > 0 && e.Name() != id && e.Called(id):
			return nil, whichTwin(id, e.Twins())
		case e.Called(id):
			return counts(e)
		}
		ids = append(ids, e.ID)
	}
	if near, ok := yard.NearestID(id, ids); ok {
		return nil, lineWrong("did you mean "+near+"? All of them: hodaba history", "there is no entry %q", id)
	}
	return nil, lineWrong("all of them: hodaba history", "there is no entry %q", id)
}

// whichTwin asks which of several entries of one identifier is meant.
func whichTwin(id string, twins []*yard.Entry) error {
	var which []string
	for _, e := range twins {
		gone := ""
		if e.Replaced != nil {
			gone = ", which no longer counts"
		}
		which = append(which, fmt.Sprintf("%s is %s, %s%s", e.Name(), e.Day(), charts.Clean(e.Says()), gone))
	}
	return lineWrong("write the name of its own of the one that is meant, as in: hodaba correct "+twins[0].Name()+" …",
		"%s names several entries: %s", id, strings.Join(which, "; "))
}

func counts(e *yard.Entry) (*yard.Entry, error) {
	by := e.Stands()
	switch {
	case by == e:
		return e, nil
	case by.Voids():
		return nil, lineWrong("to take that back: hodaba correct "+by.Name()+" void=true", "entry %s no longer counts: %s made it void", e.Name(), by.Name())
	}
	return nil, lineWrong("correct "+by.Name()+" instead: hodaba history "+by.Name(), "entry %s no longer counts, %s took its place", e.Name(), by.Name())
}

// countsForNothing refuses a correction that has gone astray: one of it would
// count for nothing, too. It can be voided.
func countsForNothing(e *yard.Entry) error {
	c, ok := e.Event.(*yard.Corrected)
	if !ok || !e.Astray || e.Voids() {
		return nil
	}
	way := "hodaba put-back shows what is missing; else record what is right, hodaba record " + c.Of + " …"
	if e.Corrects != nil {
		return lineWrong(way, "%s counts for nothing: it corrects %s, and that counts for nothing either", charts.Clean(e.Name()), charts.Clean(e.Corrects.Name()))
	}
	return lineWrong(way, "%s counts for nothing: it corrects %s, and that is not in the journal", charts.Clean(e.Name()), charts.Clean(c.Replaces))
}

// readableWrong is the error of an entry that has no keys to go on from.
func readableWrong(e *yard.Entry) error {
	if e.Voids() {
		back := "hodaba correct " + e.Name() + " void=true takes it back"
		if e.Corrects != nil {
			back += "; then correct " + e.Corrects.Name()
		}
		return lineWrong(back, "%s says only that another entry never happened, and has no keys of its own", e.ID)
	}
	if e.Event == nil && (e.Values() == nil || yard.KeysOf(e.Kind) == nil) {
		return folderWrong("mend it there, or take it back: hodaba correct "+e.Name()+" void=true", "%s stands in %s, line %d, and cannot be read", e.ID, yard.JournalFile, e.Line)
	}
	return nil
}

// corrections are the complete right keys of an entry.
func corrections(e *yard.Entry, args []string) (map[string]string, error) {
	if err := readableWrong(e); err != nil {
		return nil, err
	}
	kind, right := e.Kind, maps.Clone(e.Values())
	if kind == "corrected" {
		kind = right["kind"]
	}
	given := map[string]string{}
	words, err := splitPairs(kind, args, given)
	if err != nil {
		return nil, err
	}
	if len(words) > 0 {
		return nil, lineWrong("write KEY=VALUE, such as fresh=2.4kg", "%q is not of the form KEY=VALUE", words[0])
	}
	for k, v := range given {
		if v == "" && k == "on" {
			return nil, lineWrong("write the day, as vague as it is known: on=2026-05", "an entry without its day would count for today")
		}
		if v == "" {
			delete(right, k)
			continue
		}
		right[k] = v
	}
	delete(right, "mended_by") // of the correction that is corrected
	right["kind"], right["replaces"] = kind, e.Name()
	return right, nil
}

// replace appends a corrected entry and says what it takes the place of.
func (a *app) replace(f *yard.Folder, e *yard.Entry, right map[string]string) error {
	text, problems := yard.Compose("corrected", right, f.Terms())
	if text == "" {
		for _, p := range problems {
			if p.Grade != yard.Odd {
				return lineWrong(p.Remedy, "correct %s: %s", e.ID, p.Text)
			}
		}
		return lineWrong("see hodaba history "+e.Name(), "%s cannot be corrected like this", e.ID)
	}
	id, more, err := a.recordOver(f, e, text)
	if err != nil {
		return err
	}
	return a.replaced(f, id, e, right, withOdd(append(problems, more...), f.OddIn(id)))
}

// recordOver appends a correction, unless its entry was corrected or changed by
// somebody else since it was looked at.
func (a *app) recordOver(f *yard.Folder, e *yard.Entry, text string) (id string, problems []yard.Problem, err error) {
	var gone error
	ids, problems, err := f.RecordStill(context.Background(), []string{text}, a.writerOf(), a.moment(), func() ([]string, error) {
		now, err := findEntry(f, e.Name())
		if err == nil && now.Text != e.Text {
			err = folderWrong("look at it and say it again: hodaba history "+e.Name(), "%s was changed in the journal just now, and nothing was written", e.ID)
		}
		gone = err
		return []string{text}, err
	})
	switch {
	case gone != nil:
		return "", nil, gone
	case err != nil:
		return "", nil, folderWrong("nothing was written", "%s", err)
	}
	return ids[0], problems, nil
}

type replacedJSON struct {
	Entry    string   `json:"entry"`
	Replaces string   `json:"replaces"`
	Kind     string   `json:"kind"`
	Void     bool     `json:"void"`
	Was      string   `json:"was"`
	Is       string   `json:"is,omitempty"`           // what counts now, "" where nothing does
	Counts   string   `json:"counts_again,omitempty"` // the entry that a void lets count again
	Warnings []string `json:"warnings"`
}

func (a *app) replaced(f *yard.Folder, id string, e *yard.Entry, right map[string]string, problems []yard.Problem) error {
	void := right["void"] == "true"
	now := standsNow(f, id, e)
	if a.flags.json {
		out := replacedJSON{Entry: id, Replaces: e.ID, Kind: e.Kind, Void: void, Was: e.Says(), Warnings: []string{}}
		for _, p := range problems {
			out.Warnings = append(out.Warnings, p.String())
		}
		if now != nil {
			out.Is = saysItself(now)
		}
		if now != nil && void {
			out.Counts = now.ID
		}
		b, err := charts.JSON(out)
		if err != nil {
			return err
		}
		return a.write(b)
	}
	for _, p := range problems {
		a.note("odd: %s", p.String())
	}
	what := "corrects"
	if void {
		what = "voids"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s  %s %s: %s\n", id, what, e.ID, dayAndSays(e, e.Says()))
	switch {
	case void && now != nil:
		fmt.Fprintf(&b, "  %s counts again: %s\n", now.ID, dayAndSays(now, saysItself(now)))
	case void:
		fmt.Fprintf(&b, "  it stays readable in the journal and no longer counts; to take this back: hodaba correct %s void=true\n", id)
	case now != nil:
		fmt.Fprintf(&b, "  it says now: %s\n", dayAndSays(now, saysItself(now)))
	}
	return a.print(b.String())
}

// standsNow is what counts of an entry now that it was corrected or voided:
// nil where nothing does.
func standsNow(f *yard.Folder, id string, e *yard.Entry) *yard.Entry {
	if e.Corrects != nil {
		e = e.Corrects // what a void of a correction lets count again
	}
	for _, x := range f.All() {
		if x.ID != e.ID && x.ID != id {
			continue
		}
		if s := x.Stands(); !s.Voids() && !s.Astray {
			return s
		}
	}
	return nil
}

// saysItself is what an entry says, a correction without what it replaces.
func saysItself(e *yard.Entry) string {
	says := e.Says()
	if e.Corrects != nil {
		says = strings.TrimPrefix(says, "corrected "+e.Values()["replaces"]+": ")
	}
	return says
}

// dayAndSays is an entry in a line, as far as it can be read.
func dayAndSays(e *yard.Entry, says string) string {
	switch {
	case e.Event == nil && says == "":
		return charts.Clean(fmt.Sprintf("what stands in line %d and cannot be read", e.Line))
	case e.Day().IsZero():
		return charts.Clean(says)
	}
	return e.Day().String() + ", " + charts.Clean(says)
}
