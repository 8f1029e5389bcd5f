package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/charts"
	"hodaba/yard"
)

// runStraining writes a straining day down: as it is said in one line, or by
// questions where nothing is said and somebody is there to answer.
func (a *app) runStraining(ctx context.Context, folder *yard.Folder, args []string, given map[string]string) error {
	words, err := splitPairs(straining, args, given)
	if err != nil {
		return err
	}
	for old, name := range otherwise {
		if v, ok := given[old]; ok {
			delete(given, old)
			given[name] = v
		}
	}
	for _, name := range slices.Sorted(maps.Keys(given)) {
		if err := knownKey(straining, name); err != nil { // it came as an option
			return err
		}
	}
	f := newForm(folder, given)
	if err := f.hear(words); err != nil {
		return err
	}
	if f.lot == "" || f.empty() && onTerminal(a.in) && !a.flags.json {
		return a.askStraining(ctx, folder, f)
	}
	if err := f.check(); err != nil {
		return err
	}
	return a.enterStraining(ctx, folder, f)
}

// hear takes the lot, and a day beside it.
func (f *form) hear(words []string) error {
	for _, w := range words {
		switch {
		case f.values["on"] == "" && isDay(w):
			f.values["on"] = w
		case f.lot == "" && strings.TrimSpace(w) != "":
			f.of(strings.TrimSpace(w))
		default:
			return lineWrong("give it a key, KEY=VALUE; the keys: hodaba record straining --help", "record straining: it is not clear what %q is", w)
		}
	}
	if f.lot == "" && !f.empty() {
		return lineWrong("say it as in: hodaba record straining "+lotOr(f.lots, "26-03")+" strained=605ml marc=410g", "record straining: of which batch is not said")
	}
	return nil
}

func lotOr(lots []string, other string) string {
	if len(lots) > 0 {
		return lots[0]
	}
	return other
}

// check goes through what was said in one line.
func (f *form) check() error {
	for _, b := range blanks {
		if err := f.take(b, strings.TrimSpace(f.values[b.name])); err != nil {
			w := &failure{text: err.Error()}
			errors.As(err, &w)
			return lineWrong(w.remedy, "record straining: %s: %s", b.name, w.text)
		}
	}
	return nil
}

// askStraining asks for a straining day, in the order of the printed sheet.
func (a *app) askStraining(ctx context.Context, folder *yard.Folder, f *form) error {
	if err := a.askLot(f); err != nil {
		return noStraining(err)
	}
	open := f.open()
	if len(open) == 0 {
		return lineWrong("what was done with it: hodaba lot "+f.lot, "of batch %s nothing is left to write down", f.lot)
	}
	a.note("%s: Enter leaves a blank.", f.head())
	var err error
	if f.values["on"], err = a.askDay(f.values["on"]); err != nil {
		return noStraining(err)
	}
	for _, b := range blanks {
		if f.values[b.name] != "" || b.kind != "" && !slices.Contains(open, b.kind) || !f.asked(b) {
			continue
		}
		if _, err := a.askUntil(b.question(), func(v string) error { return f.take(b, v) }); err != nil {
			return noStraining(err)
		}
	}
	if f.values["by"] == "" {
		if f.values["by"], err = a.ask("by, initials (Enter: skip):"); err != nil {
			return noStraining(err)
		}
	}
	return a.enterStraining(ctx, folder, f)
}

// askLot asks of which batch it was, where that is not said. What is asked
// later depends on it, so it has to be one that is known.
func (a *app) askLot(f *form) error {
	if f.lot != "" {
		if f.batch == nil {
			p := f.unknownLot()
			return lineWrong(p.Remedy, "record straining: %s", p.Text)
		}
		return nil
	}
	if len(f.lots) == 0 {
		return lineWrong("record when it was begun with macerated, or name it and what was measured: hodaba record "+strainingExample, "no batch stands")
	}
	a.note("Which batch was strained? Those that stand: %s", strings.Join(f.lots, ", "))
	_, err := a.askUntil("batch:", func(s string) error {
		f.of(s)
		if f.batch != nil {
			return nil
		}
		p := f.unknownLot()
		return &failure{text: p.Text, remedy: p.Remedy}
	})
	return err
}

// head says of what the form is, and what of it is written down already.
func (f *form) head() string {
	s := "Straining day of " + f.lot
	if name := f.batch.Named(); name != "" {
		s += ", " + name
	}
	var done []string
	for _, step := range strainingSteps {
		if f.belongs(step) && f.written(step) {
			done = append(done, step)
		}
	}
	if len(done) > 0 {
		s += " (" + strings.Join(done, ", ") + " is written down)"
	}
	return s
}

func (b blank) question() string {
	if e := b.info().Example; e != "" && b.name != "note" && b.name != "deviation" {
		return fmt.Sprintf("%s (e.g. %s):", b.asks, e)
	}
	return b.asks + ":"
}

func noStraining(err error) error {
	if err == errNoAnswer {
		return lineWrong("say it in one line, as in: hodaba record "+strainingExample, "nothing was written: the answers ended too soon")
	}
	return err
}

// enterStraining writes all entries of the day, or none of them.
func (a *app) enterStraining(ctx context.Context, folder *yard.Folder, f *form) error {
	steps := f.said()
	if len(steps) == 0 {
		return lineWrong("say what is new, as in: blended=1100ml bottled=\"10 x 100 ml\"", "batch %s is strained already, and nothing else is said of it", f.lot)
	}
	if f.values["bottled"] == "" && slices.Contains(steps, "bottled") {
		return lineWrong(`add bottled="10 x 100 ml"; what is not bottled yet goes into note="…"`, "record straining: how many bottles were filled is not said")
	}
	var texts []string
	var problems []yard.Problem
	if f.batch == nil {
		problems = append(problems, f.unknownLot())
	}
	for i, step := range steps {
		text, odd := yard.Compose(step, f.entry(step, i == 0), f.terms)
		if text == "" {
			return composeWrong(straining, odd)
		}
		texts, problems = append(texts, text), append(problems, odd...)
	}
	ids, more, err := folder.RecordAll(ctx, texts, a.writerOf(), a.moment())
	if err != nil {
		return folderWrong("nothing was written", "%s", err)
	}
	return a.recordedAll(ids, steps, texts, withOdd(append(problems, more...), folder.OddIn(ids...)))
}

type entryJSON struct {
	Entry string `json:"entry"`
	Kind  string `json:"kind"`
	Text  string `json:"text"`
}

type recordedAllJSON struct {
	Entries  []entryJSON `json:"entries"`
	Warnings []string    `json:"warnings"`
}

// recordedAll says what was written, each entry in a line, and how to take it
// back.
func (a *app) recordedAll(ids, kinds, texts []string, problems []yard.Problem) error {
	warnings := warningsOf(problems)
	if a.flags.json {
		out := recordedAllJSON{Warnings: warnings}
		for i, id := range ids {
			out.Entries = append(out.Entries, entryJSON{id, kinds[i], texts[i]})
		}
		return a.encoded(charts.JSON(out))
	}
	for _, w := range warnings {
		a.note("odd: %s", w)
	}
	var b strings.Builder
	for i, id := range ids {
		fmt.Fprintf(&b, "%s  %s\n", id, charts.Clean(brief(kinds[i], texts[i])))
	}
	last := ids[len(ids)-1]
	way := a.undoWord()
	if len(ids) > 1 {
		way += " (voids " + last + ", once more the one before)"
	}
	fmt.Fprintf(&b, "  wrong? %s, or hodaba correct %s KEY=VALUE\n", way, last)
	return a.print(b.String())
}

// strainingHelp tells of the form and its keys.
func strainingHelp() string {
	var b strings.Builder
	b.WriteString(charts.Wrap("", "", "hodaba record straining: all of a straining day at once, in the order of the sheet that hodaba print batch makes."))
	b.WriteString("\n" + charts.Wrap("", "", "What is said becomes the entries strained, decocted, blended and bottled: those of which anything is said, "+
		"written together or not at all. Every number may be left out. With nothing said, on a terminal, or without LOT it asks; "+
		"else the batch is strained, and no more is known."))
	b.WriteString(charts.Wrap("\n  ", "  ", "hodaba record "+strainingExample) + "\n")
	row := func(name, says string) {
		b.WriteString(charts.Wrap(fmt.Sprintf("  %-18s ", name), strings.Repeat(" ", 21), says))
	}
	for _, k := range blanks {
		key := k.info()
		row(k.name, key.Holds+"; e.g. "+key.Example)
	}
	for _, key := range yard.KeysOf(strainingSteps[0]) {
		if slices.Contains(strainingEach, key.Name) || slices.Contains(strainingFirst, key.Name) {
			row(key.Name, key.Holds+"; e.g. "+key.Example)
		}
	}
	return b.String()
}
