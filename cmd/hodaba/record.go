package main

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hodaba/charts"
	"hodaba/data"
	"hodaba/yard"
)

func (a *app) record() *cobra.Command {
	c := &cobra.Command{
		Use:   "record EVENT …",
		Short: "write down what was done or seen",
		Long:  recordHelp(),
		Example: `  hodaba record inoculated oak-north shiitake 40 logs "white oak" 12cm
  hodaba record checked oak-north 7/10
  hodaba record harvested oak-north 2.4kg
  hodaba record lost oak-north 2 slugs --on 2026-05
  hodaba record walked oak-north birch-1
  hodaba record dried shiitake 1.2kg 140g
  hodaba record straining 26-03 strained=605ml marc=410g decocted=550ml`,
		ValidArgsFunction: a.completeRecord,
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.runRecord(c, args) }
	keyFlags(c)
	a.folderFlags(c)
	return c
}

// keyFlags gives every key of every event a flag; they are listed by event,
// not all together.
func keyFlags(c *cobra.Command) {
	f := c.Flags()
	f.SetNormalizeFunc(func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		return pflag.NormalizedName(strings.ReplaceAll(name, "_", "-"))
	})
	f.String("on", "", "the day, as vaguely as you like (default: today)")
	f.String("by", "", "who did it, in initials (default: HODABA_BY)")
	f.String("note", "", "anything else")
	add := func(key, holds string) {
		if name := strings.ReplaceAll(key, "_", "-"); f.Lookup(name) == nil {
			f.String(name, "", holds)
			if err := f.MarkHidden(name); err != nil {
				panic(err) // the flag was defined a line above
			}
		}
	}
	for _, k := range yard.Kinds() {
		for _, key := range k.Keys {
			add(key.Name, key.Holds)
		}
	}
	for _, b := range blanks {
		add(b.name, b.asks)
	}
	c.SetHelpFunc(recordHelpFunc(c.HelpFunc()))
}

func (a *app) runRecord(c *cobra.Command, args []string) error {
	folder, set, err := a.open()
	if err != nil {
		return err
	}
	given := a.givenKeys(c)
	if len(args) == 0 {
		return a.askEntry(c.Context(), folder, set, given)
	}
	if args[0] == straining {
		return a.runStraining(c.Context(), folder, args[1:], given)
	}
	kind, err := kindOf(args[0])
	if err != nil {
		return err
	}
	words, err := splitPairs(kind, args[1:], given)
	if err != nil {
		return err
	}
	s := newSpeech(kind, given, folder, set)
	s.know(folder.Names())
	if len(words) > mostWords {
		return lineWrong("say one event, and what is long as note=\"…\"", "record %s: %d words are too many for one event", kind, len(words))
	}
	s.hear(words)
	if len(s.left) > 0 {
		return notPlaced(s)
	}
	if k := s.plan(folder); k != nil {
		a.fromPlan(s, k)
	}
	return a.enter(c.Context(), folder, kind, s)
}

// givenKeys are the values given by flags.
func (a *app) givenKeys(c *cobra.Command) map[string]string {
	given := map[string]string{}
	own := map[string]bool{"yard": true, "as-of": true, "json": true, "plain": true, "help": true}
	c.Flags().Visit(func(f *pflag.Flag) {
		if !own[f.Name] {
			given[strings.ReplaceAll(f.Name, "-", "_")] = f.Value.String()
		}
	})
	a.flags.by = given["by"]
	if by := a.person(); by != "" {
		given["by"] = by
	}
	if given["on"] == "" && a.flags.asOf != "" {
		given["on"] = a.flags.asOf
	}
	return given
}

// kindOf is the kind of event that a word names.
func kindOf(word string) (string, error) {
	if word == "corrected" {
		return "", lineWrong("as in: hodaba correct kitchen-118 fresh=2.4kg", "an entry is mended with correct")
	}
	if yard.KeysOf(word) != nil {
		return word, nil
	}
	if near, ok := data.Nearest(word, append(kindNames(), straining)); ok {
		return "", lineWrong("did you mean "+near+"? All of them: hodaba record --help", "there is no event %q", word)
	}
	return "", lineWrong("all of them: hodaba record --help", "there is no event %q", word)
}

// splitPairs moves KEY=VALUE into given and returns the other words.
func splitPairs(kind string, args []string, given map[string]string) ([]string, error) {
	var words []string
	for _, arg := range args {
		key, value, pair := strings.Cut(arg, "=")
		key = strings.ReplaceAll(strings.TrimSpace(key), "-", "_")
		if !pair {
			words = append(words, arg)
			continue
		}
		if err := knownKey(kind, key); err != nil {
			return nil, err
		}
		if old, twice := given[key]; twice && old != value && key != "by" && key != "on" {
			return nil, lineWrong("say it once", "%s is given twice: %q and %q", key, old, value)
		}
		given[key] = value
	}
	return words, nil
}

func knownKey(kind, key string) error {
	names := []string{"on"}
	for _, k := range yard.KeysOf(kind) {
		names = append(names, k.Name)
	}
	if kind == straining {
		names = strainingNames()
		for other := range otherwise {
			if key == other {
				return nil
			}
		}
	}
	if slices.Contains(names, key) {
		return nil
	}
	all := "all of them: hodaba record " + kind + " --help"
	if near, ok := data.Nearest(key, names); ok {
		return lineWrong("did you mean "+near+"? "+capitalised(all), "%s has no key %q", kind, key)
	}
	return lineWrong(all, "%s has no key %q", kind, key)
}

func capitalised(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func example(kind string) string {
	for _, k := range recordable() {
		if k.Name == kind {
			return "say it as in: hodaba record " + k.Example
		}
	}
	return "all events: hodaba record --help"
}

// notPlaced is the error of a word that fits no key.
func notPlaced(s *speech) error {
	word := s.left[0]
	way := "give it a key, KEY=VALUE; the keys: hodaba record " + s.kind + " --help"
	if near, ok := s.meant(word); ok {
		way = "did you mean " + near + "? Or " + way
	}
	return lineWrong(way, "record %s: it is not clear what %q is", s.kind, word)
}

// enter composes and appends an entry, and says what was written.
func (a *app) enter(ctx context.Context, f *yard.Folder, kind string, s *speech) error {
	maps.DeleteFunc(s.values, func(_, v string) bool { return v == "" })
	text, problems := yard.Compose(kind, s.values, f.Terms())
	if text == "" {
		return composeWrong(kind, problems)
	}
	id, more, err := f.Record(text, a.writerOf(), a.moment())
	if err != nil {
		return folderWrong("nothing was written", "%s", err)
	}
	return a.recorded(id, kind, text, withOdd(slices.Concat(problems, more, s.unknown()), f.OddIn(id)))
}

// withOdd adds what a replay finds odd and was not said already: by the same
// clause, whatever follows from it.
func withOdd(said, odd []yard.Problem) []yard.Problem {
	for _, p := range odd {
		clause, _, _ := strings.Cut(p.Text, ": ")
		if !slices.ContainsFunc(said, func(o yard.Problem) bool { return strings.HasPrefix(o.Text, clause) }) {
			said = append(said, p)
		}
	}
	return said
}

// unknown points at a species or a wood that the data do not know: it is kept
// as written.
func (s *speech) unknown() []yard.Problem {
	var out []yard.Problem
	add := func(what, name, means string, among []string) {
		p := yard.Problem{Grade: yard.Odd, Text: fmt.Sprintf("no %s is called %q: %s", what, name, means)}
		if near, ok := data.Nearest(name, among); ok {
			p.Remedy = "did you mean " + near + "? Then correct the entry"
		}
		out = append(out, p)
	}
	if sp := s.values["species"]; sp != "" && !s.isSpecies(sp) {
		add("species", sp, "it is kept, and not forecast until [[species]] in yard.toml says what it is like", s.set.SpeciesNames())
	}
	if w := s.values["wood"]; w != "" {
		if _, ok := s.set.FindWood(w); !ok {
			add("wood", w, "it is kept, and counted as wood of an unknown kind", s.set.WoodNames())
		}
	}
	return out
}

// composeWrong is the error of an entry that cannot be written as it was said.
func composeWrong(kind string, problems []yard.Problem) error {
	for _, p := range problems {
		if p.Grade != yard.Odd {
			remedy := p.Remedy
			if remedy == "" {
				remedy = example(kind)
			}
			return lineWrong(remedy, "record %s: %s", kind, p.Text)
		}
	}
	return lineWrong(example(kind), "record %s: this cannot be written down", kind)
}

type recordedJSON struct {
	Entry    string   `json:"entry"`
	Kind     string   `json:"kind"`
	Text     string   `json:"text"`
	Warnings []string `json:"warnings"`
}

// recorded says what was written and how to take it back.
func (a *app) recorded(id, kind, text string, problems []yard.Problem) error {
	warnings := warningsOf(problems)
	if a.flags.json {
		b, err := charts.JSON(recordedJSON{id, kind, text, warnings})
		if err != nil {
			return err
		}
		return a.write(b)
	}
	for _, w := range warnings {
		a.note("odd: %s", w)
	}
	return a.print(fmt.Sprintf("%s  %s\n  wrong? %s, or hodaba correct %s KEY=VALUE\n", id, charts.Clean(brief(kind, text)), a.undoWord(), id))
}

// warningsOf are problems as lines, each with the way out.
func warningsOf(problems []yard.Problem) []string {
	warnings := []string{}
	for _, p := range problems {
		w := p.Text
		if p.Remedy != "" {
			w += "; " + p.Remedy
		}
		warnings = append(warnings, w)
	}
	return warnings
}

// brief is a composed table in one line.
func brief(kind, text string) string {
	var parts []string
	for _, l := range strings.Split(text, "\n") {
		key, value, ok := strings.Cut(l, "=")
		key = strings.TrimSpace(key)
		if !ok || key == "written" || key == "entry" || strings.HasPrefix(strings.TrimSpace(l), "#") {
			continue
		}
		parts = append(parts, key+" "+strings.Trim(strings.TrimSpace(value), `"`))
	}
	return kind + ": " + strings.Join(parts, ", ")
}

// askEntry asks for an event key by key.
func (a *app) askEntry(ctx context.Context, f *yard.Folder, set *data.Set, given map[string]string) error {
	a.note("What happened? One of: %s; or straining, all of a straining day", strings.Join(kindNames(), ", "))
	kind, err := a.askUntil("event:", func(s string) error {
		if s == straining {
			return nil
		}
		_, err := kindOf(s)
		return err
	})
	if err != nil {
		return noEntry(err)
	}
	if kind == straining {
		return a.runStraining(ctx, f, nil, given)
	}
	s := newSpeech(kind, given, f, set)
	s.know(f.Names())
	if s.values["on"], err = a.askDay(s.values["on"]); err != nil {
		return noEntry(err)
	}
	for _, name := range append(slices.Clone(s.order), "note") {
		if err := a.askPlan(s, f); err != nil {
			return noEntry(err)
		}
		if s.values[name] != "" {
			continue
		}
		answer, err := a.askUntil(question(s.keys[name]), func(v string) error { return s.answerWrong(name, v, f) })
		if err != nil {
			return noEntry(err)
		}
		if answer != "" {
			s.values[name] = answer
		}
	}
	for name := range s.values {
		s.given[name] = true // every answer had its question
	}
	s.single()
	return a.enter(ctx, f, kind, s)
}

// answerWrong is what is wrong with the answer to one question.
func (s *speech) answerWrong(name, answer string, f *yard.Folder) error {
	if answer == "" {
		return nil
	}
	values := maps.Clone(s.values)
	maps.DeleteFunc(values, func(_, v string) bool { return v == "" })
	values[name] = answer
	return keyWrong(s.kind, name, values, f.Terms())
}

// keyWrong is what is wrong with one of the values of an event; what is odd is
// not wrong.
func keyWrong(kind, name string, values map[string]string, terms yard.Terms) error {
	_, problems := yard.Compose(kind, values, terms)
	for _, p := range problems {
		if what, ok := strings.CutPrefix(p.Text, name+": "); ok && p.Grade != yard.Odd {
			return &failure{text: what, remedy: p.Remedy}
		}
	}
	return nil
}

func (a *app) askDay(given string) (string, error) {
	if given != "" {
		return given, nil
	}
	return a.askUntil("on (Enter: today):", func(s string) error {
		if s == "" || s == "today" || s == "yesterday" {
			return nil
		}
		_, err := yard.ParseWhen(s)
		return err
	})
}

func question(k yard.Key) string {
	how := "Enter: skip"
	if k.Required {
		how = "needed"
	}
	if k.Example != "" {
		how = "e.g. " + k.Example + "; " + how
	}
	return fmt.Sprintf("%s (%s):", strings.ReplaceAll(k.Name, "_", " "), how)
}

func noEntry(err error) error {
	if err == errNoAnswer {
		return lineWrong("say it in one line, as in: hodaba record harvested oak-north 2.4kg", "nothing was written: the answers ended too soon")
	}
	return err
}

// completeRecord completes kinds of event, then names of piles.
func (a *app) completeRecord(c *cobra.Command, args []string, word string) ([]string, cobra.ShellCompDirective) {
	if len(args) > 0 {
		return a.pileNames(c, args, word)
	}
	var kinds []string
	for _, k := range recordable() {
		kinds = append(kinds, k.Name+"\t"+k.Says)
	}
	kinds = append(kinds, straining+"\tall of a straining day, at once")
	return kinds, cobra.ShellCompDirectiveNoFileComp
}
