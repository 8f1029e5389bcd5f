package yard

import "hodaba/data"

var noticedKind = kind{
	KindInfo: KindInfo{
		Name: "noticed", Says: "something is up with a pile: slugs, mould, another fungus, mice, beetles, loose bark, dry cracks",
		Example: `noticed oak-north what=slugs`,
		Keys: []Key{
			pileKey,
			{Name: "what", Holds: "what was noticed, in a word or two", Example: "slugs", Kind: TextKey, Required: true},
			logsKey.with("on how many logs", "3", false),
		},
	},
	make: func() readable { return &Noticed{Logs: NotSaid} },
}

// Noticed is anything seen on a pile that is neither mycelium nor mushroom.
type Noticed struct {
	Pile, What string
	Logs       int
}

// Kind is "noticed".
func (n *Noticed) Kind() string { return noticedKind.Name }

func (n *Noticed) fields() []any { return []any{&n.Pile, &n.What, &n.Logs} }

func (n *Noticed) names() (piles, begins []string) { return []string{n.Pile}, nil }

// Apply notes it on the pile.
func (n *Noticed) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(n.Pile, e)
	if p != nil {
		seen := p.see("noticed", e)
		seen.What, seen.Logs = n.What, max(0, n.Logs)
		problems = append(problems, p.onMoreLogs(n.Logs, "are said to show "+n.What, e)...)
	}
	return problems
}
