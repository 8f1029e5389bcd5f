package main

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/charts"
	"hodaba/forecast/season"
	"hodaba/yard"
)

// accepted is a plan that was written down.
type accepted struct {
	entries, piles, said []string // an entry for each pile, and what it says
	left                 []string // what was not written down, and why
}

// notTwice refuses to write down a plan of a season that has one: of year, or
// where that is 0, of any that is still to come.
func notTwice(s *yard.State, year int) error {
	for _, k := range plansOf(s, year) {
		if year == 0 && k.Month.To < s.AsOf {
			continue
		}
		of := k.Month.From.Year()
		return folderWrong(fmt.Sprintf("take it back first: hodaba next-season --year %d --take-back", of),
			"a plan of %d is written down already, such as %s: %s", of, k.Entry.ID, k.Entry.Says())
	}
	return nil
}

// plansOf are the inoculations planned for a year; 0 any.
func plansOf(s *yard.State, year int) (out []*yard.Planning) {
	for i := range s.Planned {
		k := &s.Planned[i]
		if k.Inoculates() && !k.Month.IsZero() && (year == 0 || k.Month.From.Year() == year) {
			out = append(out, k)
		}
	}
	return out
}

// acceptSeason writes a plan down, an entry for each pile. Either all of it
// can be written, or nothing is.
func (a *app) acceptSeason(ctx context.Context, r *reading, result *season.Result) (accepted, error) {
	var done accepted
	if err := notTwice(r.state, result.Year); err != nil {
		return done, err
	}
	var texts []string
	for i := range result.Lines {
		l := &result.Lines[i]
		if l.Kind != "pile" {
			done.left = append(done.left, notInoculated(l))
			continue
		}
		text, problems := yard.Compose("planned", a.plannedValues(l), r.folder.Terms())
		if text == "" {
			return done, composeWrong("planned", problems)
		}
		texts, done.piles = append(texts, text), append(done.piles, l.Pile)
		done.said = append(done.said, l.Pile+": "+planLineOf(l))
	}
	if len(texts) == 0 {
		done.left = append(done.left, "There was nothing to write down.")
	}
	if len(texts) == 0 {
		return done, nil
	}
	ids, problems, err := r.folder.RecordAll(ctx, texts, a.writerOf(), a.moment())
	if err != nil {
		return done, folderWrong("", "%s", err)
	}
	for _, p := range problems {
		a.note("odd: %s", p.String())
	}
	done.entries = ids
	return done, nil
}

// notInoculated says why a line has no entry: a plan on record is of logs to
// inoculate.
func notInoculated(l *season.Line) string {
	if l.Kind == "buy" {
		return fmt.Sprintf("Not written down: dried %s to buy. It stands on the shopping list.", l.Species)
	}
	return fmt.Sprintf("Not written down: %s, %d ready-colonised logs of %s to bury in %s. They stand on the shopping list; when they come, hodaba record arrived, and when they are in the ground, hodaba record buried.",
		l.Pile, l.Logs, l.Species, l.Month.MonthString())
}

// plannedValues are the keys of the entry of a line, as a person would type
// them.
func (a *app) plannedValues(l *season.Line) map[string]string {
	v := map[string]string{"pile": l.Pile, "species": l.Species, "strain": l.Strain, "wood": l.Wood, "logs": strconv.Itoa(l.Logs),
		"diameter": centimetres(l.Diameter), "length": centimetres(l.Length), "place": l.Place, "spawn": l.Spawn, "method": l.Method, "month": l.Month.MonthString(), "by": a.person(), "on": a.flags.asOf}
	for key, text := range v {
		if text == "" {
			delete(v, key)
		}
	}
	return v
}

// centimetres writes a length as the journal has it.
func centimetres(x yard.Span) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	switch {
	case !x.Known():
		return ""
	case x.Low == x.High:
		return number(x.Low) + " cm"
	}
	return number(x.Low) + "-" + number(x.High) + " cm"
}

// planLineOf says a line of a plan in one line.
func planLineOf(l *season.Line) string {
	logs := "1 log"
	if l.Logs != 1 {
		logs = fmt.Sprintf("%d logs", l.Logs)
	}
	words := []string{logs + " of " + l.Species, l.Strain, l.Wood, l.Spawn, l.Month.MonthString()}
	return strings.Join(slices.DeleteFunc(words, func(w string) bool { return w == "" }), ", ")
}

// takeBack voids the plan of a season, as far as nothing of it is done.
func (a *app) takeBack(ctx context.Context, r *reading, year int) error {
	plans, years := plansOf(r.state, year), map[int]bool{}
	plans = slices.DeleteFunc(plans, func(k *yard.Planning) bool { return !k.Open() || k.Done > 0 })
	for _, k := range plans {
		years[k.Month.From.Year()] = true
	}
	switch {
	case len(plans) == 0:
		return folderWrong("what is there: hodaba history", "there is no plan to take back that nothing is done of")
	case len(years) > 1:
		return lineWrong("say which, as in: hodaba next-season --year 2027 --take-back", "plans of %d years are written down", len(years))
	}
	type voidedJSON struct {
		Entry string `json:"entry"`
		Voids string `json:"voids"`
		Was   string `json:"was"`
	}
	texts := make([]string, len(plans))
	for i, k := range plans {
		text, problems := yard.Compose("corrected", map[string]string{"replaces": k.Entry.ID, "void": "true"}, r.folder.Terms())
		if text == "" {
			return composeWrong("corrected", problems)
		}
		texts[i] = text
	}
	ids, _, err := r.folder.RecordAll(ctx, texts, a.writerOf(), a.moment())
	if err != nil {
		return folderWrong("", "%s", err)
	}
	out := make([]voidedJSON, len(plans))
	for i, k := range plans {
		out[i] = voidedJSON{ids[i], k.Entry.ID, k.Entry.Says()}
	}
	if a.flags.json {
		return a.encoded(charts.JSON(struct {
			Voided []voidedJSON `json:"taken_back"`
		}{out}))
	}
	var b strings.Builder
	for _, v := range out {
		b.WriteString(charts.Wrap(v.Entry+"  ", "  ", "voids "+v.Voids+": "+v.Was))
	}
	return a.print(b.String())
}
