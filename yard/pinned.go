package yard

import "hodaba/data"

var pinnedKind = kind{
	KindInfo: KindInfo{
		Name: "pinned", Says: "pins show: mushrooms are on their way",
		Example: `pinned oak-north logs=5`,
		Keys: []Key{
			pileKey,
			{Name: "species", Holds: "which mushroom, if not the pile's", Example: "shiitake", Kind: SpeciesKey},
			logsKey.with("on how many logs", "5", false),
		},
	},
	make: func() readable { return &Pinned{Logs: NotSaid} },
}

// Pinned is the first sight of a flush.
type Pinned struct {
	Pile, Species string
	Logs          int
}

// Kind is "pinned".
func (n *Pinned) Kind() string { return pinnedKind.Name }

func (n *Pinned) fields() []any { return []any{&n.Pile, &n.Species, &n.Logs} }

func (n *Pinned) names() (piles, begins []string) { return []string{n.Pile}, nil }

// Apply notes it on the pile. Pins of another species are noticed instead:
// they say nothing of how far the pile is.
func (n *Pinned) Apply(s *State, e *Entry, d *data.Set) []Problem {
	p, problems := s.pile(n.Pile, e)
	if p == nil {
		return problems
	}
	name, _, _ := s.resolve(n.Species, d)
	if n.Species != "" && name != p.Species {
		seen := p.see("noticed", e)
		seen.What, seen.Logs = "other fungus", max(0, n.Logs)
		return append(problems, e.odd("species", p.Name+" is a pile of "+p.Species+", and the pins are of "+name, "it is noted as another fungus on the pile"))
	}
	p.see("pinned", e).Logs = max(0, n.Logs)
	return append(problems, p.onMoreLogs(n.Logs, "are said to show pins", e)...)
}
