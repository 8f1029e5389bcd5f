package yard

import (
	"fmt"

	"hodaba/data"
)

// The kinds of events by which goods go: they differ in nothing but the name.
var (
	soldKind = wentKind("sold", "mushrooms, dried goods, bottles or logs were sold", `sold shiitake fresh="1.2 kg" to=market price=14.40`,
		"who bought it", "the market")
	givenKind = wentKind("given", "mushrooms, dried goods, bottles or logs were given away", `given shiitake fresh="500 g" to="a neighbour"`,
		"who got it", "a neighbour")
	eatenKind = wentKind("eaten", "mushrooms, dried goods or bottles were used at home", `eaten shiitake fresh="300 g"`,
		"who ate it", "the family")
)

func wentKind(name, says, example, who, whoExample string) kind {
	return kind{
		KindInfo: KindInfo{
			Name: name, Says: says, Example: example,
			Keys: []Key{
				{Name: "species", Holds: "which mushroom", Example: "shiitake", Kind: SpeciesKey},
				lotKey.with("lot of the dried goods, the bottles or the picking", "D-26-03", false),
				{Name: "fresh", Holds: "weight of fresh mushrooms", Example: "1.2 kg", Kind: WeightKey},
				dryKey.with("weight of dried goods", "100 g", false),
				formKey.with("form of the dried goods", "pieces", false),
				{Name: "bottles", Holds: "how many bottles", Example: "6 x 100 ml", Kind: BottlesKey},
				logsKey.with("how many logs; take them out of their pile with [[retired]] or [[split]]", "4", false),
				{Name: "to", Holds: who, Example: whoExample, Kind: TextKey},
				{Name: "price", Holds: "what was paid, as you write it", Example: "14.40", Kind: TextKey},
				{Name: "took", Holds: "what was taken along, if that is what was weighed", Example: "5 kg", Kind: AmountKey},
				{Name: "back", Holds: "what of it came home again", Example: "800 g", Kind: AmountKey},
			},
		},
		make: func() readable { return &Gone{kind: name, Logs: NotSaid} },
	}
}

// Gone is goods that were sold, given away or eaten.
type Gone struct {
	Species, Lot string
	Fresh, Dry   Quantity // kg
	Form         string
	Bottles      []BottleCount
	Logs         int
	To, Price    string
	Took, Back   Quantity // of any unit

	kind string
}

// Went is goods that were sold, given, eaten or spoiled.
type Went struct {
	Kind      string // "sold", "given", "eaten" or "spoiled"
	On        When
	Species   string // "" where it is not known
	Lot       string // as written
	FreshKG   Span   // zero: none
	DryG      float64
	From      []Taken // the lots of dried goods it was taken from
	Bottles   int
	Logs      int    // taken from no pile
	To, Price string // as written
	Took      Quantity
	Back      Quantity
	What      string // of what spoiled: as written
	Entry     *Entry
}

// Kind is "sold", "given" or "eaten".
func (x *Gone) Kind() string { return x.kind }

func (x *Gone) fields() []any {
	return []any{&x.Species, &x.Lot, &x.Fresh, &x.Dry, &x.Form, &x.Bottles, &x.Logs, &x.To, &x.Price, &x.Took, &x.Back}
}

func (x *Gone) check(t *table) {
	if x.Species == "" && x.Lot == "" && x.Bottles == nil && x.Logs < 0 {
		t.unusable = true
		t.say(Aside, "", "neither species nor lot is given", `add species = "shiitake", or lot = the lot on the label`)
	}
}

// Apply takes the goods off the shelf. Fresh mushrooms and logs stand on none:
// they count in the books alone.
func (x *Gone) Apply(s *State, e *Entry, d *data.Set) []Problem {
	w := Went{Kind: x.kind, On: e.On, Lot: x.Lot, Logs: max(0, x.Logs), To: x.To, Price: x.Price, Took: x.Took, Back: x.Back, Entry: e}
	problems := x.species(&w, s, e, d)
	fresh, grams, bottles, more := x.amounts(s, e)
	problems = append(problems, more...)
	w.FreshKG = fresh
	if grams > 0 {
		w.DryG = grams
		lot := x.Lot
		if s.dryLot(lot) == nil && w.Species != "" && x.lotIsOther(s) {
			lot = "" // of another shelf
		}
		var odd []Problem
		w.From, odd = s.useDry(w.Species, x.Form, lot, grams, use{x.kind, "dry", e})
		problems = append(problems, odd...)
	}
	for _, b := range bottles {
		w.Bottles += b.Count
	}
	if w.Bottles > 0 {
		problems = append(problems, s.takeBottles(x.Lot, bottles, x.kind, e)...)
	}
	if !fresh.Known() && grams == 0 && w.Bottles == 0 && w.Logs == 0 {
		problems = append(problems, e.odd("", "how much was "+x.kind+" is not said, and the stock stays as it was", `correct the entry with fresh = "1.2 kg", dry, bottles or logs`))
	}
	s.Went = append(s.Went, w)
	return problems
}

// species settles which mushroom it is: as written, else that of the lot.
func (x *Gone) species(w *Went, s *State, e *Entry, d *data.Set) []Problem {
	if x.Species != "" {
		name, _, known := s.resolve(x.Species, d)
		w.Species = name
		if !known {
			return []Problem{e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d))}
		}
		return nil
	}
	if l := s.dryLot(x.Lot); l != nil {
		w.Species = l.Species
		return nil
	}
	if k := s.pickOf(x.Lot); k != nil {
		w.Species = k.Species
		return nil
	}
	if x.Lot != "" && (x.Fresh.Text != "" || x.Dry.Text != "") {
		return []Problem{e.odd("lot", fmt.Sprintf("no lot is called %s", shown(x.Lot)), "name the species, or look at the label")}
	}
	return nil
}

// pickOf is the picking of a lot.
func (s *State) pickOf(lot string) *Pick {
	for _, k := range s.Picks {
		if lot != "" && folded(k.Lot) == folded(lot) {
			return k
		}
	}
	return nil
}

// lotIsOther reports whether the lot is one of bottles or of a picking.
func (x *Gone) lotIsOther(s *State) bool {
	return s.batch(x.Lot) != nil || s.pickOf(x.Lot) != nil
}

// amounts are what went: as written, else what was taken along less what came
// back. A weight of that is dried goods where the lot or the form says so,
// else fresh; a number is bottles.
func (x *Gone) amounts(s *State, e *Entry) (fresh Span, grams float64, bottles []BottleCount, problems []Problem) {
	fresh, grams, bottles = x.Fresh.Span(), x.Dry.grams(), x.Bottles
	if fresh.Known() || grams > 0 || bottles != nil || x.Took.Text == "" {
		return fresh, grams, bottles, nil
	}
	left := Span{max(0, x.Took.Low-x.Back.High), max(0, x.Took.High-x.Back.Low)}
	switch {
	case x.Back.Text != "" && x.Back.Unit != x.Took.Unit && x.Back.High > 0:
		return fresh, 0, nil, []Problem{e.odd("back", fmt.Sprintf("%s came back of %s: they cannot be set against each other", x.Back.Text, x.Took.Text), "write both in one unit")}
	case x.Back.Low > x.Took.High:
		problems = []Problem{e.odd("back", fmt.Sprintf("%s came back of %s", x.Back.Text, x.Took.Text), "look at both amounts")}
	}
	switch {
	case x.Took.Unit == Piece:
		bottles = []BottleCount{{Count: int(left.Mid())}}
	case x.Took.Unit != Kilogram:
		problems = append(problems, e.odd("took", x.Took.Text+" is no amount of mushrooms or bottles", "write a weight, or a number of bottles"))
	case x.Form != "" || s.dryLot(x.Lot) != nil:
		grams = left.Mid() * gramsPerKilogram
	default:
		fresh = left
	}
	return fresh, grams, bottles, problems
}
