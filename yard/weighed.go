package yard

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/data"
)

// The limits of what a weighing of logs can show, kg.
const (
	lightestLog = 0.1
	mostWeighed = 50e3
)

var weighedKind = kind{
	KindInfo: KindInfo{
		Name: "weighed", Says: "some logs of a pile were weighed, for their moisture",
		Example: `weighed oak-north logs=3 mass=31.5kg`,
		Keys: []Key{
			pileKey, logsKey.with("how many logs lay on the scales", "3", false),
			{Name: "mass", Holds: "what they weigh together", Example: "31.5 kg", Kind: WeightKey, Required: true, least: lightestLog, most: mostWeighed},
		},
	},
	make: func() readable { return &Weighed{Logs: NotSaid} },
}

// Weighed is the mass of some logs of a pile: against their earlier mass it
// tells how wet they are. Always the same logs should be weighed.
type Weighed struct {
	Pile string
	Logs int
	Mass Quantity // kg
}

// Weighing is one weighing of logs of a pile.
type Weighing struct {
	On     When
	Logs   int  // 0 not said: MassKG is then of an unknown number
	MassKG Span // of all of them together
	Entry  *Entry
}

// Kind is "weighed".
func (w *Weighed) Kind() string { return weighedKind.Name }

func (w *Weighed) fields() []any { return []any{&w.Pile, &w.Logs, &w.Mass} }

func (w *Weighed) names() (piles, begins []string) { return []string{w.Pile}, nil }

// Apply notes the mass on the pile.
func (w *Weighed) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(w.Pile, e)
	switch {
	case p == nil:
		return problems
	case w.Logs <= 0:
		problems = append(problems, e.odd("logs", "how many logs of "+p.Name+" were weighed is not said, and the mass says nothing about one",
			"correct the entry with logs = 1, or as many as lay on the scales"))
	case p.LogsKnown && w.Logs > p.Logs:
		problems = append(problems, e.odd("logs", fmt.Sprintf("%s has %s, and %d were weighed", p.Name, logWord(p.Logs), w.Logs),
			countPile))
	}
	p.Weighed = append(p.Weighed, Weighing{On: e.On, Logs: max(0, w.Logs), MassKG: w.Mass.Span(), Entry: e})
	slices.SortStableFunc(p.Weighed, func(a, b Weighing) int { return cmp.Compare(a.On.From, b.On.From) })
	return problems
}
