package yard

import (
	"fmt"

	"hodaba/data"
)

var receivedKind = kind{
	KindInfo: KindInfo{
		Name: "received", Says: "dried goods came from elsewhere: from indoors, gathered, given, bought",
		Example: `received cordyceps dry="200 g" from=indoor`,
		Keys: []Key{
			{Name: "species", Holds: "which mushroom", Example: "cordyceps", Kind: SpeciesKey, Required: true},
			formKey, dryKey.with("dried weight", "200 g", true), lotKey,
			{Name: "from", Holds: "where it comes from", Example: "indoor", Kind: ChoiceKey, OneOf: []string{"indoor", "gathered", "gift", "bought"}},
			{Name: "who", Holds: "who grew, gathered or gave it", Example: "mk", Kind: TextKey},
			{Name: "identified_by", Holds: "who made sure what it is", Example: "mk", Kind: TextKey},
		},
	},
	make: func() readable { return &Received{} },
}

// Received puts dried goods from elsewhere on the shelf.
type Received struct {
	Species, Form           string
	Dry                     Quantity // kg
	Lot                     string
	From, Who, IdentifiedBy string
}

// Kind is "received".
func (r *Received) Kind() string { return receivedKind.Name }

func (r *Received) fields() []any {
	return []any{&r.Species, &r.Form, &r.Dry, &r.Lot, &r.From, &r.Who, &r.IdentifiedBy}
}

// Apply puts the lot on the shelf. What was gathered and identified by nobody
// is pointed at.
func (r *Received) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	name, _, known := s.resolve(r.Species, d)
	if !known {
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(r.Species)), s.speciesRemedy(r.Species, d)))
	}
	if r.From == "gathered" && r.IdentifiedBy == "" {
		problems = append(problems, e.odd("from", "gathered, and nobody is named who identified it",
			"have it identified with certainty before it is eaten or extracted, then correct the entry with identified_by"))
	}
	l := s.stored(name, r.Form, r.Lot, r.From, DryIn, r.Dry.grams(), e)
	l.IdentifiedBy = r.IdentifiedBy
	return problems
}
