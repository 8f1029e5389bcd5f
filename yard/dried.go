package yard

import (
	"cmp"
	"fmt"

	"hodaba/data"
)

var (
	formKey = Key{Name: "form", Holds: "pieces or powder", Example: "pieces", Kind: ChoiceKey, OneOf: []string{"pieces", "powder"}}
	dryKey  = Key{Name: "dry", Holds: "dried weight", Example: "240 g", Kind: WeightKey}
)

var driedKind = kind{
	KindInfo: KindInfo{
		Name: "dried", Says: "mushrooms came out of the drier and are weighed",
		Example: `dried shiitake fresh="2.4 kg" dry="240 g"`,
		Keys: []Key{
			loadKey.with("load of the drier, if loads are recorded", "26-14", false),
			{Name: "species", Holds: "which mushroom; that of the load if left out", Example: "shiitake", Kind: SpeciesKey},
			{Name: "fresh", Holds: "weight that went in; that of the load if left out", Example: "2.4 kg", Kind: WeightKey},
			dryKey, lotKey, formKey,
		},
	},
	make: func() readable { return &Dried{} },
}

// Dried puts own dried goods on the shelf.
type Dried struct {
	Load, Species string
	Fresh, Dry    Quantity // kg
	Lot, Form     string
}

// Kind is "dried".
func (x *Dried) Kind() string { return driedKind.Name }

func (x *Dried) fields() []any {
	return []any{&x.Load, &x.Species, &x.Fresh, &x.Dry, &x.Lot, &x.Form}
}

func (x *Dried) check(t *table) {
	if x.Species == "" && x.Load == "" {
		t.unusable = true
		t.say(Aside, "", "the species is missing", `add a line such as species = "shiitake"`)
	}
}

// Apply puts the lot on the shelf, and keeps both weights of a load. Where
// only the fresh weight is known, or a dried one that cannot come of it, that
// is pointed at.
func (x *Dried) Apply(s *State, e *Entry, d *data.Set) []Problem {
	name, known := "", true
	if x.Species != "" {
		name, _, known = s.resolve(x.Species, d)
	}
	fresh, species, problems := x.unload(name, s, e)
	switch {
	case species == "":
		s.Sort = append(s.Sort, e)
		for i := range problems {
			problems[i].Text += ": the entry is kept in the tray \"to sort\""
			problems[i].Grade = Aside
		}
		return problems
	case !known:
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d)))
	}
	switch {
	case x.Dry.Text == "":
		return append(problems, e.odd("", "the dried weight is not said, and nothing is put on the shelf", `correct the entry with dry = "240 g"`))
	case fresh.High > 0 && x.Dry.Low >= fresh.High:
		problems = append(problems, e.odd("dry", fmt.Sprintf("%s dried cannot come of %s fresh", x.Dry.Text, x.freshWords(fresh)),
			"look at both weights and their units"))
	}
	if fresh.Known() {
		s.Dryings = append(s.Dryings, Drying{On: e.On, Species: species, FreshKG: fresh.Mid(), DryG: x.Dry.grams(), Entry: e})
	}
	s.stored(species, x.Form, x.Lot, "own", DryIn, x.Dry.grams(), e)
	return problems
}

func (x *Dried) freshWords(fresh Span) string {
	if x.Fresh.Text != "" {
		return x.Fresh.Text
	}
	return spanWords(fresh) + " kg"
}

// unload takes the load out of the drier: the one that is named, else the one
// of the species that has no name. It gives the species and the fresh weight
// where the entry does not, and a fresh weight counts once.
func (x *Dried) unload(species string, s *State, e *Entry) (fresh Span, of string, problems []Problem) {
	var l *Load
	fresh = x.Fresh.Span()
	if x.Load != "" {
		l, problems = s.loadOf(x.Load, species, e)
	} else if !fresh.Known() {
		l = s.openLoad("", species)
	}
	switch {
	case l == nil:
		if fresh.Known() && species != "" {
			s.unloaded = append(s.unloaded, Load{Species: species, FreshKG: fresh, On: e.On, Out: e.On, Entry: e})
		}
		return fresh, species, problems
	case !l.In():
		l.DryG += x.Dry.grams()
		return Span{}, cmp.Or(species, l.Species), problems
	}
	l.Out, l.DryG = e.On, x.Dry.grams()
	if !l.FreshKG.Known() {
		l.FreshKG = fresh
	}
	if !fresh.Known() {
		fresh = l.FreshKG
	}
	return fresh, l.Species, problems
}
