package yard

import (
	"cmp"
	"fmt"

	"hodaba/data"
)

var groundKind = kind{
	KindInfo: KindInfo{
		Name: "ground", Says: "dried pieces were ground to powder",
		Example: `ground shiitake dry="200 g" lot=D-26-03`,
		Keys: []Key{
			{Name: "species", Holds: "which mushroom; that of the lot if left out", Example: "shiitake", Kind: SpeciesKey},
			dryKey.with("weight that was ground; all of it if left out", "200 g", false),
			lotKey.with("lot that was ground; the oldest pieces first if left out", "D-26-03", false),
			{Name: "into", Holds: "lot of the powder; the old one with the word powder if left out", Example: "P-26-03", Kind: LotKey},
		},
	},
	make: func() readable { return &Ground{} },
}

// Ground makes powder of pieces: the same grams, in another lot.
type Ground struct {
	Species string
	Dry     Quantity // kg
	Lot     string
	Into    string
}

// Kind is "ground".
func (x *Ground) Kind() string { return groundKind.Name }

func (x *Ground) fields() []any { return []any{&x.Species, &x.Dry, &x.Lot, &x.Into} }

func (x *Ground) check(t *table) {
	if x.Species == "" && x.Lot == "" {
		t.unusable = true
		t.say(Aside, "", "neither species nor lot is given", `add species = "shiitake", or lot = the lot that was ground`)
	}
}

// Apply takes the pieces out of their lots and puts the powder into its own.
func (x *Ground) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	l := s.dryLot(x.Lot)
	species := ""
	if x.Species != "" {
		var known bool
		if species, _, known = s.resolve(x.Species, d); !known {
			problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d)))
		}
	} else if l != nil {
		species = l.Species
	}
	if l != nil && l.Form == "powder" {
		return append(problems, e.odd("lot", fmt.Sprintf("lot %s is powder already, and nothing changes", l.Lot), "look at the lot's label"))
	}
	if species == "" {
		s.Sort = append(s.Sort, e)
		p := e.odd("lot", fmt.Sprintf("no lot of dried goods is called %s: the entry is kept in the tray \"to sort\"", shown(x.Lot)), s.lotRemedy(x.Lot))
		p.Grade = Aside
		return append(problems, p)
	}
	grams := x.Dry.grams()
	if x.Dry.Text == "" {
		grams = s.pieces(species, l)
	}
	taken, odd := s.usePieces(species, x.Lot, grams, e)
	problems = append(problems, odd...)
	for _, t := range taken {
		s.powder(t, x.Into, e)
	}
	return problems
}

// pieces is what there is to grind of a lot, or of all pieces of a species, g.
func (s *State) pieces(species string, l *DryLot) (grams float64) {
	if l != nil {
		return max(0, l.LeftG)
	}
	for _, o := range s.Dry {
		if o.Species == species && o.Form != "powder" {
			grams += max(0, o.LeftG)
		}
	}
	return grams
}

// usePieces takes pieces off the shelf: powder is not ground again.
func (s *State) usePieces(species, lot string, grams float64, e *Entry) ([]Taken, []Problem) {
	var taken []Taken
	if lot == "" {
		for _, l := range s.onHand(species, "pieces") {
			if g := min(grams, l.LeftG); l.Form != "powder" && g > 0 {
				s.moveDry(l, DryGround, -g, e)
				grams -= g
				taken = append(taken, Taken{species, l.Lot, g})
			}
		}
		if grams <= 0 {
			return taken, nil
		}
	}
	if lot == "" {
		lot = s.emptyLot(species, "pieces", e).Lot
	}
	more, problems := s.useLot(species, lot, grams, use{DryGround, "dry", e})
	if len(taken) > 0 || len(problems) == 0 && s.dryLot(lot).InG == 0 {
		problems = []Problem{e.odd("dry", fmt.Sprintf("%.0f g of %s were ground beyond the pieces that the record has", grams, species),
			countSource)}
	}
	return append(taken, more...), problems
}

// powder puts what was ground into its lot.
func (s *State) powder(t Taken, into string, e *Entry) {
	if t.Grams <= 0 {
		return
	}
	name := cmp.Or(into, t.Lot+" powder")
	l := s.dryLot(name)
	if l == nil || l.Species != t.Species || l.Form != "powder" {
		l = s.stored(t.Species, "powder", name, "ground", DryGround, t.Grams, e)
		l.Of = t.Lot
		if from := s.dryLot(t.Lot); from != nil {
			l.IdentifiedBy = from.IdentifiedBy
		}
		return
	}
	l.InG += t.Grams
	s.moveDry(l, DryGround, t.Grams, e)
}
