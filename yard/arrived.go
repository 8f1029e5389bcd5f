package yard

import (
	"fmt"

	"hodaba/data"
)

var arrivedKind = kind{
	KindInfo: KindInfo{
		Name: "arrived", Says: "logs came ready-inoculated, bought or given: a pile begins",
		Example: `arrived gift-logs species=shiitake logs=6 inoculated=2025 state=part`,
		Keys: []Key{
			{Name: "pile", Holds: "a name for the pile", Example: "gift-logs", Kind: NewPileKey, Required: true},
			{Name: "species", Holds: "which mushroom", Example: "shiitake", Kind: SpeciesKey, Required: true},
			strainKey, woodKey, logsKey, diameterKey, lengthKey, barkKey, spawnKey,
			{Name: "inoculated", Holds: "when they were inoculated, as well as it is known", Example: "2025", Kind: DayKey},
			{Name: "state", Holds: "how far they are", Example: "part", Kind: ChoiceKey, OneOf: []string{"new", "part", "through"}},
			{Name: "supplier", Holds: "who they came from", Example: "a neighbour", Kind: TextKey},
			lotKey, codeKey,
		},
	},
	make: func() readable { return &Arrived{Logs: NotSaid} },
}

// Arrived begins a pile of logs that were inoculated elsewhere.
type Arrived struct {
	Pile, Species, Strain, Wood string
	Logs                        int
	Diameter, Length            Quantity
	Bark, Spawn                 string
	Inoculated                  When
	State, Supplier, Lot, Code  string
}

// Kind is "arrived".
func (a *Arrived) Kind() string { return arrivedKind.Name }

func (a *Arrived) fields() []any {
	return []any{&a.Pile, &a.Species, &a.Strain, &a.Wood, &a.Logs, &a.Diameter, &a.Length, &a.Bark, &a.Spawn,
		&a.Inoculated, &a.State, &a.Supplier, &a.Lot, &a.Code}
}

func (a *Arrived) names() (piles, begins []string) { return nil, []string{a.Pile, a.Code} }

// Apply begins the pile.
func (a *Arrived) Apply(s *State, e *Entry, d *data.Set) []Problem {
	if p := s.Pile(a.Pile); p != nil {
		return (&Inoculated{Pile: a.Pile, Species: a.Species, Logs: a.Logs}).add(p, LogArrived, s, e, d)
	}
	p := s.begin(a.Pile, "pile", e)
	p.Origin, p.Arrived, p.State = "arrived", e.On, a.State
	p.Since = a.since(e.On)
	p.Wood, p.Spawn, p.SpawnLot = a.Wood, a.Spawn, a.Lot
	p.measure(a.Diameter.Span(), underBark(a.Bark))
	p.Length = a.Length.Span()
	p.start(a.Logs, LogArrived, e)
	problems := s.code(p, a.Code, e)
	if a.Inoculated.From > e.On.To {
		problems = append(problems, e.odd("inoculated", fmt.Sprintf("%s came on %s and was inoculated later, on %s", p.Name, e.On, a.Inoculated), "look at both days"))
	}
	return append(problems, s.species(p, a.Species, a.Strain, e, d)...)
}

// Days before their arrival within which logs were inoculated, where nobody
// said when: our judgement, wide on purpose.
const (
	newLogs     = 90  // "new": this season
	throughLogs = 900 // else: up to two and a half years
)

// notSaid is the text of a When that nobody wrote.
const notSaid = "not said"

// since is when the logs were inoculated: as written, else a wide guess.
func (a *Arrived) since(on When) When {
	w := a.Inoculated
	switch {
	case w.IsZero() && a.State == "new":
		return When{on.From - newLogs, on.To, notSaid}
	case w.IsZero():
		return When{on.From - throughLogs, on.To, notSaid}
	}
	w.To = max(w.From, min(w.To, on.To))
	return w
}
