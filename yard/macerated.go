package yard

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hodaba/data"
)

var maceratedKind = kind{
	KindInfo: KindInfo{
		Name: "macerated", Says: "mushrooms went into spirit: a batch begins",
		Example: `macerated 26-03 recipe="five mushrooms" jars=2`,
		Keys: slices.Concat([]Key{
			{Name: "batch", Holds: "lot of the batch", Example: "26-03", Kind: BatchKey, Required: true},
			{Name: "recipe", Holds: "which recipe", Example: "five mushrooms", Kind: RecipeKey, Required: true},
			{Name: "jars", Holds: "how many jars; as the recipe says if left out", Example: "2", Kind: CountKey},
			{Name: "spirit", Holds: "spirit in all jars together", Example: "1 l", Kind: VolumeKey},
			{Name: "spirit_abv_percent", Holds: "its strength, % by volume", Example: "40", Kind: NumberKey, most: 100},
			{Name: "ingredients", Holds: "what went in, in all jars together; as the recipe says if left out",
				Example: "shiitake 50 g, reishi 50 g from D-26-03", Kind: IngredientsKey},
			{Name: "spirit_lot", Holds: "lot of the spirit", Example: "SP-26-1", Kind: LotKey},
		}, stepKeys("the room")),
	},
	make: func() readable { return &Macerated{Jars: NotSaid, SpiritABV: NotSaid} },
}

// Macerated begins a batch.
type Macerated struct {
	Batch, Recipe string
	Jars          int
	Spirit        Quantity // ml in all jars
	SpiritABV     float64  // % by volume
	Ingredients   []Taking
	SpiritLot     string
	Step
}

// Taking is one ingredient as it was written into a batch.
type Taking struct {
	Species, Form, Lot string
	Dry                Quantity // kg in all jars
}

// Kind is "macerated".
func (m *Macerated) Kind() string { return maceratedKind.Name }

func (m *Macerated) fields() []any {
	return append([]any{&m.Batch, &m.Recipe, &m.Jars, &m.Spirit, &m.SpiritABV, &m.Ingredients, &m.SpiritLot}, m.Step.fields()...)
}

// Apply begins the batch and takes its ingredients from the shelf.
func (m *Macerated) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	r := s.recipe(m.Recipe)
	if r == nil {
		problems = append(problems, e.odd("recipe", fmt.Sprintf("no recipe is called %s: the batch is kept, without dates for it", shown(m.Recipe)),
			s.recipeRemedy(m.Recipe)))
	}
	if b := s.batch(m.Batch); b != nil {
		b.touch(e)
		return append(problems, e.odd("batch", "batch "+b.Lot+" was begun already, on "+b.On.String(), "give this one a lot of its own; it is left out until then"))
	}
	b := m.batch(r, e)
	s.Batches = append(s.Batches, b)
	problems = append(problems, m.spiritOdd(s, e)...)
	for _, x := range m.takings(s, r, b.Jars, d) {
		taken, odd := s.useDry(x.Species, x.Form, x.Lot, x.Dry.grams(), use{DryUsed, "ingredients", e})
		b.Ingredients = append(b.Ingredients, taken...)
		if problems = append(problems, odd...); len(odd) == 0 {
			problems = append(problems, s.otherFormOdd(taken, x.Form, use{DryUsed, "ingredients", e})...)
		}
	}
	return problems
}

// otherFormOdd points at goods of another form than was asked for, by the entry
// or by the recipe where that says what goes in. Powder and pieces are each taken where the other is not there, so that the books hold.
func (s *State) otherFormOdd(taken []Taken, form string, u use) (problems []Problem) {
	if form != "pieces" && form != "powder" {
		return nil
	}
	for _, t := range taken {
		l := s.dryLot(t.Lot)
		if l == nil || l.Form == form || t.Grams <= 0 {
			continue
		}
		remedy := "look at the lot's label; where powder will do, write form = \"powder\" in " + RecipesFile
		if form == "powder" {
			remedy = fmt.Sprintf("if it was ground first, record that as of the day before: hodaba record ground %s dry=%.0fg", t.Species, t.Grams)
		}
		problems = append(problems, u.e.odd(u.key, fmt.Sprintf("%.0f g of %s were taken from lot %s, which is %s, and %s was asked for", t.Grams, t.Species, l.Lot, l.Form, form), remedy))
	}
	return problems
}

// spiritOdd points at a lot of spirit that is nearly, and not quite, the one of
// a purchase. One that was never bought on record is no mistake.
func (m *Macerated) spiritOdd(s *State, e *Entry) []Problem {
	var lots []string
	for _, p := range s.Bought {
		if folded(p.Lot) == folded(m.SpiritLot) {
			return nil
		}
		lots = append(lots, p.Lot)
	}
	if near, ok := data.Nearest(m.SpiritLot, lots); ok && m.SpiritLot != "" {
		return []Problem{e.odd("spirit_lot", fmt.Sprintf("nothing was bought of lot %s", shown(m.SpiritLot)), fmt.Sprintf("did you mean %s?", near))}
	}
	return nil
}

// batch fills from the recipe what nobody wrote.
func (m *Macerated) batch(r *Recipe, e *Entry) *Batch {
	b := &Batch{Lot: m.Batch, Recipe: m.Recipe, On: e.On, Jars: max(0, m.Jars), SpiritML: m.Spirit.Mid(),
		SpiritABV: max(0, m.SpiritABV), SpiritLot: m.SpiritLot, Begun: m.Step}
	b.touch(e)
	b.went(m.Step, e)
	if r == nil {
		return b
	}
	b.Recipe = r.Name
	if m.Jars < 0 {
		b.Jars = r.Jars
	}
	if m.Spirit.Text == "" {
		b.SpiritML = r.SpiritMLJar * float64(b.Jars)
	}
	if m.SpiritABV < 0 {
		b.SpiritABV = r.SpiritABV
	}
	return b
}

// takings are the ingredients as written, else those that the recipe
// requires: for each the first of its alternatives of which there is enough.
func (m *Macerated) takings(s *State, r *Recipe, jars int, d *data.Set) []Taking {
	var out []Taking
	if m.Ingredients != nil || r == nil {
		for _, x := range m.Ingredients {
			x.Species, _, _ = s.resolve(x.Species, d)
			out = append(out, x)
		}
		return out
	}
	for _, in := range r.Ingredients {
		if in.Optional || in.Form == "fresh" {
			continue
		}
		grams := in.GramsJar * float64(jars)
		name, _, _ := s.resolve(in.Species, d)
		for _, or := range append([]string{in.Species}, in.Or...) {
			if n, _, _ := s.resolve(or, d); s.usable(n, in.Form) >= grams {
				name = n
				break
			}
		}
		kg := grams / gramsPerKilogram
		out = append(out, Taking{Species: name, Form: in.Form, Dry: Quantity{Low: kg, High: kg, Unit: Kilogram}})
	}
	return out
}

var takingKeys = []string{"species", "form", "dry", "lot"}

// takingsOf reads the list of ingredients.
func (t *table) takingsOf(v any, to *[]Taking) error {
	rows, err := rowsOf(v, takingRemedy)
	if err != nil {
		return err
	}
	out := make([]Taking, 0, len(rows))
	for _, row := range rows {
		var x Taking
		for _, k := range slices.Sorted(maps.Keys(row)) {
			if err := t.taking(&x, k, row[k]); err != nil {
				return err
			}
		}
		if x.Species == "" || x.Dry.Text == "" {
			return mistake{"an ingredient lacks its species or its dry weight", takingRemedy}
		}
		out = append(out, x)
	}
	*to = out
	return nil
}

const takingRemedy = `write ingredients = [{species = "shiitake", dry = "50 g"}]`

// taking reads one key of an ingredient.
func (t *table) taking(x *Taking, k string, v any) (err error) {
	s, isText := v.(string)
	switch {
	case !slices.Contains(takingKeys, k):
		return mistake{clippedName(k) + " is no key of an ingredient", "write one of " + strings.Join(takingKeys, ", ")}
	case !isText && k == "dry":
		return mistake{shownValue(v) + " has no unit", fmt.Sprintf(`write dry = "%s g"`, shownValue(v))}
	case !isText:
		return mistake{k + " = " + shownValue(v) + " is not text", takingRemedy}
	}
	switch k {
	case "species":
		x.Species = s
	case "form":
		x.Form, err = choiceOf(&formKey, s)
	case "lot":
		x.Lot = s
	case "dry":
		x.Dry, err = ParseQuantity(s, Kilogram, t.terms.Measures)
	}
	return err
}

// rowsOf is a list of tables in braces.
func rowsOf(v any, remedy string) ([]map[string]any, error) {
	switch v := v.(type) {
	case []map[string]any:
		return v, nil
	case []any:
		rows := make([]map[string]any, len(v))
		for i, x := range v {
			row, ok := x.(map[string]any)
			if !ok {
				return nil, mistake{shownValue(x) + " does not stand in braces", remedy}
			}
			rows[i] = row
		}
		return rows, nil
	}
	return nil, mistake{shownValue(v) + " is not a list", remedy}
}
