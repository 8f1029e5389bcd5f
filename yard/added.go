package yard

import (
	"fmt"

	"hodaba/data"
)

var addedKind = kind{
	KindInfo: KindInfo{
		Name: "added", Says: "more mushrooms went into a batch that stands",
		Example: `added 26-03 reishi dry="10 g" lot=D-26-03`,
		Keys: []Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "species", Holds: "which mushroom; that of the lot if left out", Example: "reishi", Kind: SpeciesKey},
			dryKey.with("dried weight that went in", "10 g", false),
			formKey.with("form of what went in", "pieces", false),
			lotKey.with("lot it was taken from; the oldest if left out", "D-26-03", false),
		},
	},
	make: func() readable { return &Added{} },
}

// Added puts more dried goods into a batch.
type Added struct {
	Batch, Species string
	Dry            Quantity // kg
	Form, Lot      string
}

// Addition is dried goods that went into a batch after it was put up. They
// are among the batch's Ingredients too.
type Addition struct {
	On    When
	Taken []Taken
	Entry *Entry
}

// Kind is "added".
func (x *Added) Kind() string { return addedKind.Name }

func (x *Added) fields() []any { return []any{&x.Batch, &x.Species, &x.Dry, &x.Form, &x.Lot} }

func (x *Added) check(t *table) {
	if x.Species == "" && x.Lot == "" {
		t.unusable = true
		t.say(Aside, "", "neither species nor lot is given", `add species = "shiitake", or lot = the lot on the label`)
	}
}

// Apply takes the goods from the shelf into the batch.
func (x *Added) Apply(s *State, e *Entry, d *data.Set) []Problem {
	b, unknown := s.batchOf(x.Batch, e)
	if b == nil {
		return unknown
	}
	b.touch(e)
	species, problems := x.species(s, e, d)
	switch {
	case !b.Bottled.IsZero():
		problems = append(problems, e.odd("batch", fmt.Sprintf("batch %s is %s already, since %s", b.Lot, b.Ended, b.Bottled), "look at the lot and the day"))
	case !b.Strained.IsZero() && b.JarsStanding() == 0:
		problems = append(problems, e.odd("batch", fmt.Sprintf("batch %s was strained already, on %s", b.Lot, b.Strained), "look at the lot and the day"))
	}
	if x.Dry.Text == "" {
		b.Additions = append(b.Additions, Addition{On: e.On, Taken: []Taken{{Species: species, Lot: x.Lot}}, Entry: e})
		return append(problems, e.odd("", "how much went in is not said, and nothing is taken from the shelf", `correct the entry with dry = "10 g"`))
	}
	taken, odd := s.useDry(species, x.Form, x.Lot, x.Dry.grams(), use{DryUsed, "dry", e})
	b.Additions = append(b.Additions, Addition{On: e.On, Taken: taken, Entry: e})
	b.Ingredients = append(b.Ingredients, taken...)
	if len(odd) == 0 {
		odd = s.otherFormOdd(taken, x.Form, use{DryUsed, "dry", e})
	}
	return append(problems, odd...)
}

// species is as written, else that of the lot.
func (x *Added) species(s *State, e *Entry, d *data.Set) (string, []Problem) {
	if x.Species == "" {
		if l := s.dryLot(x.Lot); l != nil {
			return l.Species, nil
		}
		return "", nil // that there is no such lot is said when it is taken from
	}
	name, _, known := s.resolve(x.Species, d)
	if !known {
		return name, []Problem{e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d))}
	}
	return name, nil
}
