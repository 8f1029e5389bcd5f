package yard

import (
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
			{Name: "load", Holds: "load of the drier, if loads are recorded", Example: "26-14", Kind: TextKey},
			{Name: "species", Holds: "which mushroom", Example: "shiitake", Kind: SpeciesKey},
			{Name: "fresh", Holds: "weight that went in", Example: "2.4 kg", Kind: WeightKey},
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
	if x.Species == "" {
		t.unusable = true
		t.say(Aside, "", "the species is missing", `add a line such as species = "shiitake"`)
	}
}

// Apply puts the lot on the shelf, and keeps both weights of a load. Where only the fresh weight is known, or a
// dried one that cannot come of it, that is pointed at.
func (x *Dried) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	name, _, known := s.resolve(x.Species, d)
	if !known {
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d)))
	}
	switch {
	case x.Dry.Text == "":
		return append(problems, e.odd("", "the dried weight is not said, and nothing is put on the shelf", `correct the entry with dry = "240 g"`))
	case x.Fresh.High > 0 && x.Dry.Low >= x.Fresh.High:
		problems = append(problems, e.odd("dry", fmt.Sprintf("%s dried cannot come of %s fresh", x.Dry.Text, x.Fresh.Text),
			"look at both weights and their units"))
	}
	if x.Fresh.Text != "" {
		s.Dryings = append(s.Dryings, Drying{On: e.On, Species: name, FreshKG: x.Fresh.Mid(), DryG: x.Dry.grams(), Entry: e})
	}
	s.stored(name, x.Form, x.Lot, "own", x.Dry.grams(), e)
	return problems
}
