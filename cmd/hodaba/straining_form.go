package main

import (
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/yard"
)

// straining is the word for a straining day as a whole: no kind of event of
// its own, but up to four of them that are written at once.
const straining = "straining"

// strainingExample is a straining day as it is said in one line.
const strainingExample = `straining 26-03 strained=605ml marc=410g water=1.6l simmer_from=14:05 simmer_to=16:10 ` +
	`decocted=550ml cooled="16:10 57C, 17:50 21C, 20:00 5C" blended=1100ml`

// blank is one blank of the form: how it is called, and where it is written.
type blank struct {
	name string // as it is said: KEY=VALUE
	asks string // as the printed sheet has it
	kind string // of the event that it is written into; "" of the first
	key  string // of that event
}

// blanks are those of the printed sheet, in its order.
var blanks = []blank{
	{"jars", "jars strained", "strained", "jars"},
	{"strained", "ran off", "strained", "volume"},
	{"marc", "wet marc", "strained", "marc"},
	{"water", "water in", "decocted", "water"},
	{"simmer_from", "on the heat at", "decocted", "simmer_from"},
	{"simmer_to", "off the heat at", "decocted", "simmer_to"},
	{"simmer_hours", "simmered, hours", "decocted", "simmer_hours"},
	{"decocted", "decoction that came out", "decocted", "volume"},
	{"cooled", "cooled", "decocted", "cooled"},
	{"spirit_part", "strained spirit blended in", "blended", "spirit_part"},
	{"decoction_part", "decoction blended in", "blended", "decoction_part"},
	{"blended", "blend made", "blended", "volume"},
	{"abv_percent", "strength, % vol", "blended", "abv_percent"},
	{"temperature", "strength read at", "blended", "temperature"},
	{"bottled", "bottles filled", "bottled", "bottles"},
	{"closed", "closed with", "bottled", "closed"},
	{"where", "put in", "bottled", "where"},
	{"kept_back", "kept back", "bottled", "kept_back"},
	{"deviation", "what went otherwise", "", "deviation"},
	{"note", "note", "", "note"},
}

// Keys that are taken but not asked: those that each of the entries gets, and
// those that only the first one gets, or hours of work would count twice.
var (
	strainingEach  = []string{"on", "by", "place"}
	strainingFirst = []string{"at", "hours", "people"}
)

// strainingSteps are the kinds of event that the form writes, in order.
var strainingSteps = []string{"strained", "decocted", "blended", "bottled"}

// otherwise is what a key may be called too: as the entry calls it.
var otherwise = map[string]string{"bottles": "bottled"}

// info is the key as its event describes it.
func (b blank) info() yard.Key {
	kind := b.kind
	if kind == "" {
		kind = strainingSteps[0]
	}
	all := yard.KeysOf(kind)
	return all[slices.IndexFunc(all, func(k yard.Key) bool { return k.Name == b.key })]
}

// strainingNames are the keys that the form takes.
func strainingNames() (names []string) {
	for _, b := range blanks {
		names = append(names, b.name)
	}
	return slices.Concat(names, strainingEach, strainingFirst)
}

// form is a straining day that is being written down.
type form struct {
	lot    string
	batch  *yard.Batch  // nil: nobody put it up
	recipe *yard.Recipe // nil: not known
	lots   []string     // of the batches that are not over
	state  *yard.State
	values map[string]string // by the names of the form
	terms  yard.Terms
}

func newForm(folder *yard.Folder, values map[string]string) *form {
	f := &form{values: values, terms: folder.Terms()}
	f.state, _ = folder.State(f.terms.Today, 0) // what is wrong in the journal stops no entry
	for _, b := range f.state.Batches {
		if b.Ended == "" {
			f.lots = append(f.lots, b.Lot)
		}
	}
	return f
}

// of takes a batch by its lot.
func (f *form) of(lot string) {
	f.lot, f.batch, f.recipe = lot, nil, nil
	plain := strings.Join(strings.Fields(lot), " ")
	for _, b := range f.state.Batches {
		if strings.EqualFold(b.Lot, plain) {
			f.batch, f.lot = b, b.Lot
		}
	}
	if f.batch == nil {
		return
	}
	for i, r := range f.state.Recipes {
		if strings.EqualFold(r.Name, f.batch.Recipe) {
			f.recipe = &f.state.Recipes[i]
		}
	}
}

// unknownLot is what is odd about a lot that nobody put up.
func (f *form) unknownLot() yard.Problem {
	p := yard.Problem{Grade: yard.Odd, Text: "no batch is called " + f.lot + " so far", Remedy: "record when it was begun with macerated"}
	if near, ok := data.Nearest(f.lot, f.lots); ok {
		p.Remedy = "did you mean " + near + "?"
	}
	return p
}

// belongs reports whether a step is one of the recipe's method. Of a recipe
// that is not known every step may be.
func (f *form) belongs(step string) bool {
	if f.recipe == nil {
		return true
	}
	macerates, decocts := f.recipe.Method != "decoction only", f.recipe.Method != "maceration only"
	switch step {
	case "strained":
		return macerates
	case "decocted":
		return decocts
	case "blended":
		return macerates && decocts || decocts && f.recipe.SpiritMLJar > 0 || f.recipe.ToABV > 0
	}
	return true
}

// written reports whether a step stands in the journal already.
func (f *form) written(step string) bool {
	b := f.batch
	if b == nil {
		return false
	}
	switch step {
	case "strained":
		return !b.Strained.IsZero() && b.JarsStanding() == 0
	case "decocted":
		return !b.Decocted.IsZero()
	case "blended":
		return !b.Blended.IsZero()
	}
	return b.Ended != ""
}

// open are the steps that can be asked for.
func (f *form) open() (steps []string) {
	for _, s := range strainingSteps {
		if f.belongs(s) && !f.written(s) {
			steps = append(steps, s)
		}
	}
	return steps
}

// asked reports whether a blank is asked for, after the answers before it.
func (f *form) asked(b blank) bool {
	said := func(name string) bool { return f.values[name] != "" }
	switch b.name {
	case "jars":
		return f.batch == nil || f.batch.JarsStanding() > 1
	case "simmer_hours":
		return !said("simmer_from") || !said("simmer_to")
	case "decoction_part":
		return f.belongs("decocted")
	case "temperature":
		return said("abv_percent")
	case "closed", "where", "kept_back":
		return said("bottled")
	}
	return true
}

// said are the steps of which something was said. Where nothing was, the day's
// first one is done, and no more is known of it.
func (f *form) said() (steps []string) {
	for _, s := range strainingSteps {
		if slices.ContainsFunc(blanks, func(b blank) bool { return b.kind == s && f.values[b.name] != "" }) {
			steps = append(steps, s)
		}
	}
	if open := f.open(); len(steps) == 0 && len(open) > 0 && (open[0] == "strained" || open[0] == "decocted") {
		return open[:1]
	}
	return steps
}

// empty reports whether nothing was said of the day but when and by whom.
func (f *form) empty() bool {
	for name, v := range f.values {
		if v != "" && !slices.Contains(strainingEach, name) {
			return false
		}
	}
	return true
}

// entry are the values of one of the entries that are written.
func (f *form) entry(step string, first bool) map[string]string {
	out := map[string]string{"batch": f.lot}
	take := func(key, name string) {
		if v := f.values[name]; v != "" {
			out[key] = v
		}
	}
	for _, b := range blanks {
		if b.kind == step || b.kind == "" && first {
			take(b.key, b.name)
		}
	}
	for _, name := range strainingEach {
		take(name, name)
	}
	for _, name := range strainingFirst {
		if first {
			take(name, name)
		}
	}
	return out
}

// take puts a value in its blank, or says what is wrong with it.
func (f *form) take(b blank, value string) error {
	if value == "" {
		return nil
	}
	key := b.info()
	if key.Kind == yard.NumberKey {
		v, ok := percentOf(value)
		if !strings.HasSuffix(key.Name, "percent") {
			v, ok = hoursOf(key, value)
		}
		if ok {
			value = v
		}
	}
	kind := b.kind
	if kind == "" {
		kind = strainingSteps[0]
	}
	if err := keyWrong(kind, key.Name, map[string]string{"batch": f.lot, key.Name: value}, f.terms); err != nil {
		return err
	}
	f.values[b.name] = value
	return nil
}
