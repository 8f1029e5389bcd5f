package yard

import (
	"fmt"

	"hodaba/data"
)

var plannedKind = kind{
	KindInfo: KindInfo{
		Name: "planned", Says: "logs will be inoculated in a month, or soaked in a week",
		Example: `planned birch-3 species=shiitake logs=30 month=2027-03`,
		Keys: []Key{
			{Name: "pile", Holds: "a name for the pile to be inoculated", Example: "birch-3", Kind: NewPileKey},
			{Name: "species", Holds: "which mushroom", Example: "shiitake", Kind: SpeciesKey},
			logsKey.with("how many logs", "30", false),
			{Name: "month", Holds: "month in which they shall be inoculated", Example: "2027-03", Kind: DayKey},
			{Name: "soak", Holds: "pile to be soaked", Example: "oak-north", Kind: PileKey},
			partKey,
			{Name: "week", Holds: "week in which it shall be soaked", Example: "2026-W30", Kind: DayKey},
			strainKey, woodKey, diameterKey, lengthKey, spawnKey, spawnLotKey, methodKey,
		},
	},
	make: func() readable { return &Planned{Logs: NotSaid} },
}

// Planned is an inoculation or a soak that is meant to be.
type Planned struct {
	Pile, Species           string
	Logs                    int
	Month                   When
	Soak, Part              string
	Week                    When
	Strain, Wood            string
	Diameter, Length        Quantity
	Spawn, SpawnLot, Method string
}

// Planning is a plan of the grower's: an inoculation where Pile or Species is
// named, a soak where Soak is.
type Planning struct {
	On            When   // that it was written down for
	Pile, Species string // to be inoculated; the pile need not stand yet
	Logs          int    // 0 not said
	Month         When   // zero: not said
	Soak, Part    string // pile to be soaked, by its name; Part "" the whole of it
	Week          When   // zero: not said

	// How the logs are to be inoculated, as far as that was said.
	Strain           string // as resolved in data.Set
	Wood             string // as written
	Diameter, Length Span   // cm
	Spawn, SpawnLot  string
	Method, Place    string

	Done  int  // logs inoculated so far, on any number of days
	Left  int  // logs still to be inoculated
	Last  When // day of the last of them; zero: none yet
	Until Date // it was put off until then; 0: it was not

	Entry *Entry
}

// Kind is "planned".
func (x *Planned) Kind() string { return plannedKind.Name }

func (x *Planned) fields() []any {
	return []any{&x.Pile, &x.Species, &x.Logs, &x.Month, &x.Soak, &x.Part, &x.Week,
		&x.Strain, &x.Wood, &x.Diameter, &x.Length, &x.Spawn, &x.SpawnLot, &x.Method}
}

func (x *Planned) names() (piles, begins []string) {
	if x.Soak == "" {
		return nil, nil // a pile that is planned does not stand
	}
	return []string{x.Soak}, nil
}

func (x *Planned) check(t *table) {
	inoculate, soak := x.Pile != "" || x.Species != "", x.Soak != ""
	if x.Strain+x.Wood+x.Spawn+x.SpawnLot+x.Method+x.Diameter.Text+x.Length.Text != "" && soak {
		inoculate = true
	}
	switch {
	case inoculate == soak:
		t.unusable = true
		t.say(Aside, "", "a plan is of one thing: logs to inoculate, or a pile to soak",
			"write pile, species, logs and month, or soak, part and week")
	case inoculate && x.Month.IsZero():
		t.unusable = true
		t.say(Aside, "", "in which month is missing", `add a line such as month = "2027-03"`)
	case soak && x.Week.IsZero():
		t.unusable = true
		t.say(Aside, "", "in which week is missing", `add a line such as week = "2026-W30"`)
	}
}

// Apply notes the plan. A pile that is to be soaked must stand; a plan of no
// logs was given up.
func (x *Planned) Apply(s *State, e *Entry, d *data.Set) []Problem {
	k := Planning{On: e.On, Pile: x.Pile, Species: x.Species, Logs: max(0, x.Logs), Month: x.Month, Part: x.Part, Week: x.Week, Entry: e}
	if x.Soak != "" {
		p, problems := s.pile(x.Soak, e)
		if p != nil {
			k.Soak = p.Name
			s.Planned = append(s.Planned, k)
			problems = append(problems, planBefore("week", x.Week, e)...)
		}
		return problems
	}
	k.Wood, k.Diameter, k.Length = x.Wood, x.Diameter.Span(), x.Length.Span()
	k.Spawn, k.SpawnLot, k.Method, k.Place = x.Spawn, x.SpawnLot, x.Method, e.Place
	problems := planBefore("month", x.Month, e)
	if x.Species != "" {
		p := &Pile{Name: x.Pile}
		var known bool
		p.Species, p.Like, known = s.resolve(x.Species, d)
		k.Species = p.Species
		if !known {
			problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(x.Species)), s.speciesRemedy(x.Species, d)))
		} else if d != nil {
			problems = append(problems, s.strain(p, x.Strain, e, d)...)
		}
		k.Strain = p.Strain
	}
	if x.Logs != 0 {
		s.Planned = append(s.Planned, k)
	}
	return append(problems, e.unknownWood(x.Wood, d)...)
}

// unknownWood points at a wood that the data do not know.
func (e *Entry) unknownWood(wood string, d *data.Set) []Problem {
	if d == nil || wood == "" {
		return nil
	}
	if _, ok := d.FindWood(wood); ok {
		return nil
	}
	return []Problem{e.odd("wood", fmt.Sprintf("no wood is called %s here", shown(wood)), woodRemedy(wood, d))}
}

// woodRemedy says what to do about a wood that the data do not know. A conifer
// is no slip in the name of another wood.
func woodRemedy(wood string, d *data.Set) string {
	if d.Practice.Conifers.In(wood) {
		return "conifers are no usual wood for mushrooms on logs, and none is built in that goes by that name; leave it if it is one"
	}
	if near, ok := data.Nearest(wood, d.WoodNames()); ok {
		return fmt.Sprintf("did you mean %s? If not, leave it", near)
	}
	return "leave it if the name is right"
}

// planBefore points at a plan for a time that had passed when it was made.
func planBefore(key string, when When, e *Entry) []Problem {
	if when.To >= e.On.From {
		return nil
	}
	return []Problem{e.odd(key, fmt.Sprintf("%s had passed on %s, when it was planned", when, e.On), "look at both; what was done is recorded with [[inoculated]] or [[soaked]]")}
}
