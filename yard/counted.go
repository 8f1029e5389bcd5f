package yard

import (
	"fmt"

	"hodaba/data"
)

var countedKind = kind{
	KindInfo: KindInfo{
		Name: "counted", Says: "what is there: logs of a pile, dried goods, or bottles",
		Example: `counted oak-north logs=37`,
		Keys: []Key{
			pileKey.with("pile or bed whose logs were counted", "oak-north", false),
			logsKey.with("how many logs stand there", "37", false),
			{Name: "species", Holds: "mushroom of the dried goods, or of a pile that is new to the journal", Example: "shiitake", Kind: SpeciesKey},
			strainKey, woodKey, diameterKey, lengthKey,
			{Name: "form", Holds: "form of the dried goods", Example: "pieces", Kind: ChoiceKey, OneOf: []string{"pieces", "powder"}},
			{Name: "dry", Holds: "weight of dried goods on the shelf", Example: "350 g", Kind: WeightKey},
			lotKey,
			{Name: "recipe", Holds: "recipe of the bottles", Example: "five mushrooms", Kind: RecipeKey},
			{Name: "bottles", Holds: "bottles on the shelf", Example: "10 x 100 ml", Kind: BottlesKey},
		},
	},
	make: func() readable { return &Counted{Logs: NotSaid} },
}

// Counted is an opening stock or a stock-take: it sets what is there.
type Counted struct {
	Pile             string
	Logs             int
	Species          string
	Strain, Wood     string
	Diameter, Length Quantity
	Form             string
	Dry              Quantity // kg
	Lot              string
	Recipe           string
	Bottles          []BottleCount
}

// Kind is "counted".
func (c *Counted) Kind() string { return countedKind.Name }

func (c *Counted) fields() []any {
	return []any{&c.Pile, &c.Logs, &c.Species, &c.Strain, &c.Wood, &c.Diameter, &c.Length, &c.Form, &c.Dry, &c.Lot, &c.Recipe, &c.Bottles}
}

// A count of a pile that is new to the journal begins it, unless another
// entry does.
func (c *Counted) names() (piles, begins []string) {
	if c.Pile == "" {
		return nil, nil
	}
	return []string{c.Pile}, nil
}

func (c *Counted) check(t *table) {
	ways := 0
	for _, said := range []bool{c.Pile != "", c.Dry.Text != "", c.Recipe != ""} {
		if said {
			ways++
		}
	}
	switch {
	case ways != 1:
		t.unusable = true
		t.say(Aside, "", "a count is of one thing: logs of a pile, dried goods, or bottles of a recipe",
			`write pile and logs, or species and dry, or recipe and bottles`)
	case c.Pile != "" && c.Logs < 0:
		t.unusable = true
		t.say(Aside, "pile", "how many logs were counted is missing", "add a line such as logs = 37")
	case c.Dry.Text != "" && c.Species == "" && c.Lot == "":
		t.unusable = true
		t.say(Aside, "dry", "of which species the dried goods are is missing", `add a line such as species = "shiitake"`)
	case c.Recipe != "" && c.Bottles == nil:
		t.unusable = true
		t.say(Aside, "recipe", "how many bottles were counted is missing", "add a line such as bottles = 12")
	}
}

// Apply sets the logs of a pile, a lot of dried goods, or the bottles of a
// recipe to what was counted.
func (c *Counted) Apply(s *State, e *Entry, d *data.Set) []Problem {
	switch {
	case c.Pile != "":
		return c.logs(s, e, d)
	case c.Dry.Text != "":
		return c.dried(s, e, d)
	}
	return c.bottles(s, e)
}

func (c *Counted) logs(s *State, e *Entry, d *data.Set) []Problem {
	if s.Pile(c.Pile) == nil && c.Species != "" {
		return c.begin(s, e, d)
	}
	p, problems := s.pile(c.Pile, e)
	if p == nil {
		return problems
	}
	switch gone := p.Logs - c.Logs; {
	case p.LogsKnown && gone > 0:
		p.Gone = append(p.Gone, LogLoss{e.On, gone, "counted", "missing when they were counted"})
	case p.LogsKnown && gone < 0 && len(p.Gone) == 0 && p.Origin != "counted":
		problems = append(problems, e.odd("logs", fmt.Sprintf("%s had %s, and %d were counted", p.Name, logWord(p.Logs), c.Logs),
			"look at both numbers; the count stands"))
	}
	how := LogUnexplained
	if !p.LogsKnown && !p.counted() {
		how = LogBegun // how many there were at first was never written
	}
	p.move(how, c.Logs-p.Logs, e)
	p.Logs, p.LogsKnown, p.Closed = c.Logs, true, 0
	p.Started = max(p.Started, c.Logs)
	p.close(e)
	return problems
}

// begin makes a pile that the journal did not know. When it was inoculated is
// taken as not said.
func (c *Counted) begin(s *State, e *Entry, d *data.Set) []Problem {
	p := s.begin(c.Pile, "pile", e)
	p.Origin = "counted"
	p.Since = (&Arrived{}).since(e.On)
	p.Wood, p.Diameter, p.Length = c.Wood, c.Diameter.Span(), c.Length.Span()
	p.start(c.Logs, LogBegun, e)
	p.LogsKnown = true
	return s.species(p, c.Species, c.Strain, e, d)
}

// dried sets a lot, or all that is there of a species and form.
func (c *Counted) dried(s *State, e *Entry, d *data.Set) []Problem {
	grams := c.Dry.grams()
	if l := s.dryLot(c.Lot); l != nil {
		s.moveDry(l, DryUnexplained, grams-l.LeftG, e)
		l.InG = max(l.InG, grams)
		return c.otherForm(l, e)
	}
	name, _, known := s.resolve(c.Species, d)
	var problems []Problem
	if !known {
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(c.Species)), s.speciesRemedy(c.Species, d)))
	}
	how := DryIn
	if c.Lot == "" {
		how = s.afterCount(name, c.Form)
		grams = s.recount(name, c.Form, how, grams, e)
	}
	if grams > 0 {
		s.stored(name, c.Form, c.Lot, "counted", how, grams, e)
	}
	return problems
}

// otherForm points at a lot that was counted in another form than it has.
func (c *Counted) otherForm(l *DryLot, e *Entry) []Problem {
	if c.Form == "" || c.Form == l.Form {
		return nil
	}
	return []Problem{e.odd("form", fmt.Sprintf("lot %s is %s, and %s was counted", l.Lot, l.Form, c.Form),
		"record what became powder with [[ground]], then count each lot; the weight stands")}
}

// recount brings the lots of a species and form down to what was counted,
// the oldest first, and returns what was counted beyond the record. how is how
// came what was used before it came: unexplained, or in, on the first evening.
func (s *State) recount(species, form, how string, grams float64, e *Entry) (beyond float64) {
	left := grams
	var lots []*DryLot
	for _, l := range s.Dry {
		if l.Species == species && (form == "" || l.Form == form) {
			s.moveDry(l, how, max(0, -l.LeftG), e)
			lots = append(lots, l)
		}
	}
	for i := len(lots) - 1; i >= 0; i-- { // the youngest are most likely still there
		s.moveDry(lots[i], DryUnexplained, min(0, left-lots[i].LeftG), e)
		left -= lots[i].LeftG
	}
	return left
}

// bottles sets the bottles of a recipe, of one batch where lot names it.
func (c *Counted) bottles(s *State, e *Entry) []Problem {
	var problems []Problem
	r := s.recipe(c.Recipe)
	if r == nil {
		problems = append(problems, e.odd("recipe", fmt.Sprintf("no recipe is called %s", shown(c.Recipe)), s.recipeRemedy(c.Recipe)))
	}
	name := c.Recipe
	if r != nil {
		name = r.Name
	}
	var kept []BottleStock
	how := BottlesIn
	for _, b := range s.Bottles {
		if nothing := b.Recipe == "" && folded(b.Lot) == folded(c.Lot); !nothing && (b.Recipe != name || c.Lot != "" && folded(b.Lot) != folded(c.Lot)) {
			kept = append(kept, b)
			continue
		} else if !nothing {
			how = BottlesUnexplained
		}
		s.moveBottles(b, BottlesUnexplained, -b.count(), e)
	}
	now := BottleStock{Recipe: name, Lot: c.Lot, Bottles: sized(c.Bottles, r)}
	problems = append(problems, ofWhichSize(now.Bottles, r, e)...)
	s.Bottles = append(kept, now)
	s.moveBottles(now, how, now.count(), e)
	return problems
}
