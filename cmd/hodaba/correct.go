package main

import (
	"fmt"
	"maps"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
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

// findEntry is the entry of an identifier that still counts.
func findEntry(f *yard.Folder, id string) (*yard.Entry, error) {
	entries, problems := f.Entries() // an entry that cannot be read has no identifier to correct
	if err := broken(problems); err != nil {
		return nil, err
	}
	var ids []string
	for _, e := range entries {
		switch {
		case len(e.Twins()) > 0 && e.Name() != id && e.Called(id):
			return nil, whichTwin(id, e.Twins())
		case e.Called(id):
			return counts(e)
		}
		ids = append(ids, e.ID)
	}
	if near, ok := data.Nearest(id, ids); ok {
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
	if e.Replaced == nil {
		return e, nil
	}
	return nil, lineWrong("correct "+e.Replaced.ID+" instead: hodaba history "+e.Replaced.ID,
		"entry %s no longer counts, %s took its place", e.ID, e.Replaced.ID)
}

// corrections are the complete right keys of an entry.
func corrections(e *yard.Entry, args []string) (map[string]string, error) {
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
		return nil, lineWrong("write KEY=VALUE, such as fresh=2.4kg", "%q has no key", words[0])
	}
	for k, v := range given {
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
		return lineWrong("see hodaba history "+e.ID, "%s cannot be corrected like this", e.ID)
	}
	id, more, err := f.Record(text, a.writerOf(), a.moment())
	if err != nil {
		return folderWrong("nothing was written", "%s", err)
	}
	return a.replaced(id, e, right, append(problems, more...))
}

type replacedJSON struct {
	Entry    string   `json:"entry"`
	Replaces string   `json:"replaces"`
	Kind     string   `json:"kind"`
	Void     bool     `json:"void"`
	Was      string   `json:"was"`
	Warnings []string `json:"warnings"`
}

func (a *app) replaced(id string, e *yard.Entry, right map[string]string, problems []yard.Problem) error {
	void := right["void"] == "true"
	if a.flags.json {
		out := replacedJSON{Entry: id, Replaces: e.ID, Kind: e.Kind, Void: void, Was: e.Says(), Warnings: []string{}}
		for _, p := range problems {
			out.Warnings = append(out.Warnings, p.String())
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
	fmt.Fprintf(&b, "%s  %s %s: %s, %s\n", id, what, e.ID, e.Day(), charts.Clean(e.Says()))
	if void {
		fmt.Fprintf(&b, "  it stays readable in the journal and no longer counts\n")
	}
	return a.print(b.String())
}
