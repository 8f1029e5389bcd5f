package yard

import "hodaba/data"

var walkedKind = kind{
	KindInfo: KindInfo{
		Name: "walked", Says: "went round and nothing was up",
		Example: `walked piles="oak-north, birch-1"`,
		Keys: []Key{
			{Name: "piles", Holds: "which piles; all of them if left out", Example: "oak-north, birch-1", Kind: PilesKey},
			partKey.with("part of the pile, where only that was passed: the letter or the colour of its tag", "A", false),
		},
	},
	make: func() readable { return &Walked{} },
}

// Walked is a round on which nothing was up: evidence too.
type Walked struct {
	Piles []string
	Part  string
}

// Kind is "walked".
func (w *Walked) Kind() string { return walkedKind.Name }

func (w *Walked) fields() []any { return []any{&w.Piles, &w.Part} }

func (w *Walked) names() (piles, begins []string) { return w.Piles, nil }

// Apply notes on each pile that was passed that nothing was up.
func (w *Walked) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	if len(w.Piles) == 0 {
		for _, p := range s.Piles {
			if p.Closed == 0 {
				p.see("walked", e)
			}
		}
		if w.Part != "" {
			return []Problem{e.odd("part", "no pile is named for part "+shown(w.Part)+": all piles count as passed",
				"name the pile too")}
		}
		return nil
	}
	problems := e.notOnTheList(w.Part)
	for _, name := range w.Piles {
		p, unknown := s.pile(name, e)
		problems = append(problems, unknown...)
		if p != nil {
			p.see("walked", e).Part = partName(w.Part)
		}
	}
	return problems
}
