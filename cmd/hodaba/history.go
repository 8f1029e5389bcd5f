package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/yard"
)

func (a *app) history() *cobra.Command {
	c := &cobra.Command{
		Use:   "history [PILE|LOT|DATE|EVENT|ENTRY]",
		Short: "show what was written down, with identifiers",
		Long: long(`Lists the entries of the journal, oldest first, each with the identifier by which
correct mends it; of those that no longer count it says what took their place, when and
by whom. Within a day they stand as they count. What cannot be read is there with its
line. With --as-of, corrections written after that day say when they were written: they
count all the same. A pile, a lot, a day or part of one (2026, 2026-05, 2026-W20), a
kind of event or an identifier narrows the list; several narrow it together.`),
		ValidArgsFunction: a.pileNames,
		RunE:              func(_ *cobra.Command, args []string) error { return a.runHistory(args) },
	}
	a.folderFlags(c)
	return c
}

func (a *app) runHistory(args []string) error {
	dir, err := a.findYard()
	if err != nil {
		return err
	}
	folder, _, err := a.openToRead(dir)
	if err != nil {
		return err
	}
	asOf, _, err := a.asOf()
	if err != nil {
		return err
	}
	_, problems := folder.Entries()
	if err := broken(problems); err != nil {
		return err
	}
	a.aside(problems)
	entries := a.historyOf(folder, asOf)
	var called func(string) []string // replays, so only where something is asked
	if len(args) > 0 {
		s, _ := folder.State(asOf, 0) // what is wrong was said above
		called = s.Called
	}
	for _, arg := range args {
		found := matching(entries, called(arg))
		if len(found) == 0 {
			return nothingFound(entries, arg)
		}
		entries = found
	}
	yard.Sort(entries)
	if a.flags.json {
		b, err := charts.HistoryJSON(entries)
		if err != nil {
			return err
		}
		return a.write(b)
	}
	return a.print(a.terminal(folder.Config().US).HistoryOn(entries, asOf))
}

// historyOf are the entries of what had happened by a day. What cannot be used
// is among them, whatever its day: somebody has to mend it. Where an earlier day
// is asked about, it is left out if it was not written yet.
func (a *app) historyOf(f *yard.Folder, asOf yard.Date) []*yard.Entry {
	return slices.DeleteFunc(f.All(), func(e *yard.Entry) bool {
		if e.Event == nil {
			return a.flags.asOf != "" && e.Written.Day() > asOf
		}
		return e.Day().From > asOf
	})
}

// matching are the entries that one of some words names: by identifier, kind,
// pile, lot, batch, species or, the first of them, by day. The others are
// further names of a pile.
func matching(entries []*yard.Entry, words []string) []*yard.Entry {
	var out []*yard.Entry
	day, err := yard.ParseWhen(words[0])
	isDay := err == nil
	for _, e := range entries {
		if isDay && e.Day().From <= day.To && e.Day().To >= day.From || slices.ContainsFunc(words, func(w string) bool { return mentions(e, w) }) {
			out = append(out, e)
		}
	}
	return out
}

func mentions(e *yard.Entry, word string) bool {
	if e.Called(word) || e.Kind == word || slices.Contains(e.Piles(), word) {
		return true
	}
	for key, v := range e.Values() {
		switch key {
		case "note", "on", "hours", "logs", "people":
			continue
		case "ingredients", "piles", "from":
			if slices.ContainsFunc(strings.FieldsFunc(v, between), func(w string) bool { return yard.SameName(w, word) }) {
				return true
			}
		}
		if yard.SameName(v, word) {
			return true
		}
	}
	return false
}

// between reports whether a sign stands between the names of a list.
func between(r rune) bool { return strings.ContainsRune(" ,[]{}=\"", r) }

func nothingFound(entries []*yard.Entry, word string) error {
	var ids, names []string
	for _, e := range entries {
		ids = append(ids, e.ID)
		names = append(names, e.Piles()...)
	}
	near, ok := data.Nearest(word, names)
	if !ok {
		near, ok = yard.NearestID(word, ids)
	}
	if ok {
		return lineWrong("did you mean "+near+"?", "no entry is about %q", word)
	}
	return lineWrong("all entries: hodaba history", "no entry is about %q", word)
}
