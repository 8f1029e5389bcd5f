package yard

import (
	"fmt"

	"hodaba/data"
)

var movedKind = kind{
	KindInfo: KindInfo{
		Name: "moved", Says: "a pile stands in another place now",
		Example: `moved oak-north place="under the hazel"`,
		Keys: []Key{
			pileKey,
			{Name: "place", Holds: "where it stands now", Example: "under the hazel", Kind: TextKey, Required: true},
			{Name: "how", Holds: "how it is stacked now", Example: "leaning", Kind: TextKey},
			logsKey.with("how many logs, if not all", "12", false),
		},
	},
	make: func() readable { return &Moved{Logs: NotSaid} },
}

// Moved puts a pile into another place.
type Moved struct {
	Pile, Place, How string
	Logs             int
}

// Kind is "moved".
func (m *Moved) Kind() string { return movedKind.Name }

func (m *Moved) fields() []any { return []any{&m.Pile, &m.Place, &m.How, &m.Logs} }

func (m *Moved) names() (piles, begins []string) { return []string{m.Pile}, nil }

// Apply moves the pile. A part of it cannot stand elsewhere under one name.
func (m *Moved) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(m.Pile, e)
	if p == nil {
		return problems
	}
	if m.Logs >= 0 && p.LogsKnown && m.Logs < p.Logs {
		return append(problems, e.odd("logs", fmt.Sprintf("%d of the %s of %s were moved, and it stays in its old place", m.Logs, logWord(p.Logs), p.Name),
			"give the moved ones a name of their own with [[split]]"))
	}
	p.Place = s.placeName(m.Place)
	return problems
}
