package yard

import (
	"fmt"
	"strings"

	"hodaba/data"
)

var spoiledKind = kind{
	KindInfo: KindInfo{
		Name: "spoiled", Says: "mushrooms, dried goods or bottles went bad and were thrown away",
		Example: `spoiled shiitake amount="500 g"`,
		Keys: []Key{
			{Name: "what", Holds: "species (fresh), \"dried\" or \"powder\" with it, or a lot", Example: "shiitake", Kind: TextKey, Required: true},
			{Name: "amount", Holds: "how much: a weight, or a number of bottles; all of a lot if left out", Example: "500 g", Kind: AmountKey},
		},
	},
	make: func() readable { return &Spoiled{} },
}

// Spoiled is goods that went bad. What says which:
//
//	shiitake                             fresh mushrooms of that species
//	dried shiitake, shiitake pieces      dried goods, from the oldest lot first
//	shiitake powder                      the same, powder first
//	D-26-03                              that lot of dried goods
//	26-03                                bottles of that batch
//	L-26-11                              fresh mushrooms of the picking of that lot
//
// Anything else is kept as written, and no book changes.
type Spoiled struct {
	What   string
	Amount Quantity
}

// Kind is "spoiled".
func (x *Spoiled) Kind() string { return spoiledKind.Name }

func (x *Spoiled) fields() []any { return []any{&x.What, &x.Amount} }

// Apply takes what spoiled off its shelf.
func (x *Spoiled) Apply(s *State, e *Entry, d *data.Set) []Problem {
	w := Went{Kind: spoiledKind.Name, On: e.On, What: x.What, Entry: e}
	problems := x.settle(&w, s, e, d)
	s.Went = append(s.Went, w)
	return problems
}

// settle finds out what spoiled, and takes it.
func (x *Spoiled) settle(w *Went, s *State, e *Entry, d *data.Set) []Problem {
	if l := s.dryLot(x.What); l != nil {
		w.Species, w.Lot = l.Species, l.Lot
		return x.dried(w, "", l, s, e)
	}
	if b := s.batch(x.What); b != nil {
		w.Lot = b.Lot
		return x.bottles(w, s, e)
	}
	if k := s.pickOf(x.What); k != nil {
		w.Species, w.Lot = k.Species, k.Lot
		return x.fresh(w, k.Fresh, e)
	}
	words, form, dried := dryWords(x.What)
	name, _, known := s.resolve(words, d)
	switch {
	case known && dried:
		w.Species = name
		return x.dried(w, form, nil, s, e)
	case known:
		w.Species = name
		return x.fresh(w, Span{}, e)
	}
	return []Problem{e.odd("what", fmt.Sprintf("no species, lot or batch is called %s: it is kept, and the stock stays as it was", shown(x.What)),
		s.speciesRemedy(words, d))}
}

// dryWords takes the words off a name that say that the goods are dried.
func dryWords(what string) (rest, form string, dried bool) {
	rest = folded(what)
	for _, f := range formKey.OneOf {
		if r, ok := strings.CutSuffix(rest, " "+f); ok {
			rest, form, dried = r, f, true
		}
	}
	if r, ok := strings.CutPrefix(rest, "dried "); ok {
		rest, dried = r, true
	}
	return strings.TrimPrefix(rest, "fresh "), form, dried
}

// fresh notes fresh mushrooms; without an amount, all of the picking.
func (x *Spoiled) fresh(w *Went, all Span, e *Entry) []Problem {
	switch {
	case x.Amount.Text == "" && all.Known():
		w.FreshKG = all
	case x.Amount.Unit != Kilogram || x.Amount.High <= 0:
		return x.noWeight(e)
	default:
		w.FreshKG = x.Amount.Span()
	}
	return nil
}

// dried takes dried goods; without an amount, all of the lot.
func (x *Spoiled) dried(w *Went, form string, l *DryLot, s *State, e *Entry) (problems []Problem) {
	grams, lot := x.Amount.grams(), ""
	if l != nil {
		lot = l.Lot
	}
	switch {
	case x.Amount.Text == "" && l != nil:
		grams = max(0, l.LeftG)
	case x.Amount.Unit != Kilogram || x.Amount.High <= 0:
		return x.noWeight(e)
	}
	w.DryG = grams
	w.From, problems = s.useDry(w.Species, form, lot, grams, use{DrySpoiled, "amount", e})
	return problems
}

// bottles takes bottles of a batch off the shelf.
func (x *Spoiled) bottles(w *Went, s *State, e *Entry) []Problem {
	if x.Amount.Unit != Piece || x.Amount.High <= 0 {
		return []Problem{e.odd("amount", "how many bottles spoiled is not said, and the stock stays as it was", "correct the entry with amount = their number")}
	}
	w.Bottles = int(x.Amount.Mid())
	return s.takeBottles(w.Lot, []BottleCount{{Count: w.Bottles}}, DrySpoiled, e)
}

func (x *Spoiled) noWeight(e *Entry) []Problem {
	return []Problem{e.odd("amount", "how much spoiled is not said as a weight, and the stock stays as it was", `correct the entry with amount = "500 g"`)}
}
