package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/yard"
)

func (a *app) putBack() *cobra.Command {
	var p putBack
	c := &cobra.Command{
		Use:   "put-back [ENTRY …]",
		Short: "entries that went missing: show them, put them back",
		Long: long(`Shows the entries that were recorded, that a daily copy has and that are not in the
journal any more: an editor may have saved an older text over them. It asks, or
puts them back at once with --yes, as they were and under their own identifiers.
So it does with one that could be read and cannot any more. What was taken out on
purpose --leave leaves out for good, and it is not missed any more. With identifiers only those are meant; of one that was changed by hand it shows
what it said before.`),
		Example: `  hodaba put-back
  hodaba put-back --yes
  hodaba put-back kitchen-118 --leave`,
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.runPutBack(c.Context(), args, p) }
	a.folderFlags(c)
	f := c.Flags()
	f.BoolVar(&p.yes, "yes", false, "put them back without asking")
	f.BoolVar(&p.leave, "leave", false, "leave them out for good, without asking")
	return c
}

// putBack is what the command line of put-back says.
type putBack struct{ yes, leave bool }

func (a *app) runPutBack(ctx context.Context, only []string, p putBack) error {
	if p.yes && p.leave {
		return lineWrong("give one of them", "--yes and --leave exclude each other")
	}
	folder, _, err := a.open()
	if err != nil {
		return err
	}
	all, err := folder.Missing()
	if err != nil {
		return folderWrong("", "%s", err)
	}
	for _, p := range folder.Unnamed() {
		a.note("odd: %s", p.String())
	}
	changed := folder.ChangedByHand()
	text, others := shownChanged(changed, only, all)
	var missing []yard.Missed
	if len(only) == 0 || len(others) > 0 {
		if missing, err = asked(all, others); err != nil {
			return err
		}
	} else if !a.flags.json {
		return a.print(text)
	}
	if !a.flags.json {
		text += shownMissing(missing)
		if len(only) == 0 {
			text = shownByHand(folder.ByHand()) + text
		}
		if err := a.print(text); err != nil || len(missing) == 0 {
			return err
		}
		if err := a.askPutBack(missing, &p); err != nil {
			return err
		}
	}
	done, err := a.settleMissing(ctx, folder, missing, p)
	if err != nil {
		return err
	}
	if a.flags.json {
		return a.putBackJSON(missing, changed, done, p)
	}
	return a.print(p.says(done))
}

// asked are those of the missing entries that were named, or all.
func asked(missing []yard.Missed, only []string) ([]yard.Missed, error) {
	var ids []string
	for _, m := range missing {
		ids = append(ids, m.ID)
	}
	for _, id := range only {
		if slices.Contains(ids, id) {
			continue
		}
		if near, ok := data.Nearest(id, ids); ok {
			return nil, lineWrong("did you mean "+near+"? All that are missing: hodaba put-back", "entry %q is not missing", id)
		}
		return nil, lineWrong("all that are missing: hodaba put-back", "entry %q is not missing", id)
	}
	if len(only) == 0 {
		return missing, nil
	}
	return slices.DeleteFunc(missing, func(m yard.Missed) bool { return !slices.Contains(only, m.ID) }), nil
}

// shownMissing is what is missing, each entry with its lines.
func shownMissing(missing []yard.Missed) string {
	if len(missing) == 0 {
		return "Nothing is missing: the journal has every entry that was recorded.\n"
	}
	var gone, spoilt string
	left := len(missing)
	for _, m := range missing {
		switch {
		case m.Text == "":
			gone += fmt.Sprintf("\n%s, of which no daily copy is left: record it again\n", charts.Clean(m.ID))
		case m.Line > 0:
			left--
			spoilt += charts.Wrap("\n", "", fmt.Sprintf("Line %d of %s cannot be read any more. Recorded was:", m.Line, yard.JournalFile)) + shownEntry(m)
		default:
			gone += shownEntry(m)
		}
	}
	if gone != "" {
		gone = fmt.Sprintf("Recorded, and not in the journal any more: %d.\n", left) + gone
	}
	return gone + spoilt + "\n"
}

// shownByHand is what stood in the journal by hand and does not any more.
func shownByHand(gone []yard.Missed) string {
	if len(gone) == 0 {
		return ""
	}
	text := charts.Wrap("", "  ", fmt.Sprintf("Written by hand, and not in the journal any more: %d. Perhaps taken out or changed on purpose; what you miss of it copy into %s.", len(gone), yard.JournalFile))
	for _, m := range gone {
		text += shownEntry(m)
	}
	return text + "\n"
}

// mostChangedNamed is how many entries that were changed by hand are named.
const mostChangedNamed = 3

// shownChanged says in a line which recorded entries were changed by hand; of
// those that are named, what they said before. others are the names that are
// left.
func shownChanged(changed []yard.Missed, only []string, missing []yard.Missed) (text string, others []string) {
	gone := func(id string) bool {
		return slices.ContainsFunc(missing, func(m yard.Missed) bool { return m.ID == id })
	}
	for _, id := range only {
		was := slices.DeleteFunc(slices.Clone(changed), func(m yard.Missed) bool { return m.ID != id })
		if len(was) == 0 || gone(id) {
			others = append(others, id)
			continue
		}
		text += charts.Wrap("", "  ", fmt.Sprintf("%s is in the journal, and was changed there by hand. Before that it said what stands below; to have that again, hodaba correct %s KEY=VALUE.", charts.Clean(id), charts.Clean(id)))
		for _, m := range was {
			text += shownEntry(m)
		}
		text += "\n"
	}
	var ids []string
	for _, m := range changed {
		if !slices.Contains(ids, m.ID) {
			ids = append(ids, m.ID)
		}
	}
	if len(only) == 0 && len(ids) > 0 {
		text = charts.Wrap("", "  ", fmt.Sprintf("Changed by hand since they were recorded, and counted as they stand now: %d (%s). What one of them said before: hodaba put-back %s",
			len(ids), charts.Clean(strings.Join(ids[:min(len(ids), mostChangedNamed)], ", ")), charts.Clean(ids[0]))) + "\n"
	}
	return text, others
}

// shownEntry is an entry with its lines, and the copy that has it.
func shownEntry(m yard.Missed) string {
	text := fmt.Sprintf("\n%s, from %s\n", charts.Clean(m.ID), m.Copy)
	for _, l := range strings.Split(m.Text, "\n") {
		text += charts.Wrap("    ", "      ", charts.Clean(l))
	}
	return text
}

// askPutBack asks what is to become of them, where the command line does not
// say; the answer goes into p.
func (a *app) askPutBack(missing []yard.Missed, p *putBack) error {
	if p.yes || p.leave {
		return nil
	}
	question := "Put back? yes, leave (out for good), or no:"
	if !canPutBack(missing) {
		question = "Leave out for good? leave, or no:"
	}
	_, err := a.askUntil(question, func(s string) error {
		switch s = strings.ToLower(s); {
		case s == "no" || s == "n":
		case (s == "yes" || s == "y") && canPutBack(missing):
			p.yes = true
		case s == "leave":
			p.leave = true
		default:
			return fmt.Errorf("%q: answer with one of the words", s)
		}
		return nil
	})
	if errors.Is(err, errNoAnswer) {
		return lineWrong("say --yes to put them back, or --leave to leave them out for good", "nothing was written: no answer came")
	}
	return err
}

func canPutBack(missing []yard.Missed) bool {
	return slices.ContainsFunc(missing, func(m yard.Missed) bool { return m.Text != "" })
}

// settleMissing does what was asked and returns the entries it did it to.
func (a *app) settleMissing(ctx context.Context, f *yard.Folder, missing []yard.Missed, p putBack) ([]string, error) {
	var ids []string
	for _, m := range missing {
		ids = append(ids, m.ID)
	}
	if len(ids) == 0 || !p.yes && !p.leave {
		return nil, nil
	}
	if p.leave {
		done, err := f.Leave(ctx, ids...)
		if err != nil {
			return nil, folderWrong("", "%s", err)
		}
		a.goneAlong(f, done)
		return done, nil
	}
	done, problems, err := f.PutBack(ctx, a.moment(), ids...)
	if err != nil {
		return nil, folderWrong("", "%s", err)
	}
	for _, q := range problems {
		a.note("odd: %s", q.String())
	}
	if len(done) < len(ids) {
		a.note("no daily copy is left of %d: record them again, then hodaba put-back --leave", len(ids)-len(done))
		a.status = statusPartial
	}
	return done, nil
}

// says is the answer in a line.
func (p putBack) says(done []string) string {
	switch {
	case p.leave:
		return fmt.Sprintf("Left out for good: %d.\n", len(done))
	case p.yes:
		return fmt.Sprintf("Put back at the end of %s: %d.\n", yard.JournalFile, len(done))
	}
	return "Nothing was written.\n"
}

func (a *app) putBackJSON(missing, changed []yard.Missed, done []string, p putBack) error {
	type entry struct {
		Entry string `json:"entry"`
		Text  string `json:"text,omitempty"`
		Copy  string `json:"copy,omitempty"`
		Line  int    `json:"line,omitempty"` // where it cannot be read any more
	}
	out := struct {
		Missing []entry  `json:"missing"`
		PutBack []string `json:"put_back"`
		LeftOut []string `json:"left_out"`
		Changed []entry  `json:"changed"` // by hand: what they said before
	}{[]entry{}, []string{}, []string{}, []entry{}}
	for _, m := range changed {
		out.Changed = append(out.Changed, entry{m.ID, m.Text, m.Copy, 0})
	}
	for _, m := range missing {
		out.Missing = append(out.Missing, entry{m.ID, m.Text, m.Copy, m.Line})
	}
	switch {
	case p.yes:
		out.PutBack = append(out.PutBack, done...)
	case p.leave:
		out.LeftOut = append(out.LeftOut, done...)
	}
	return a.encoded(charts.JSON(out))
}
