package yard

import "hodaba/data"

var retiredKind = kind{
	KindInfo: KindInfo{
		Name: "retired", Says: "spent logs were taken out",
		Example: `retired oak-north logs=10`,
		Keys:    []Key{pileKey, logsKey.with("how many logs; the whole pile if left out", "10", false)},
	},
	make: func() readable { return &Retired{Logs: NotSaid} },
}

// Retired takes spent logs out of a pile, or the whole pile.
type Retired struct {
	Pile string
	Logs int
}

// Kind is "retired".
func (r *Retired) Kind() string { return retiredKind.Name }

func (r *Retired) fields() []any { return []any{&r.Pile, &r.Logs} }

func (r *Retired) names() (piles, begins []string) { return []string{r.Pile}, nil }

// Apply takes the logs out; without a number, all of them.
func (r *Retired) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(r.Pile, e)
	switch {
	case p == nil:
		return problems
	case r.Logs < 0:
		problems = append(problems, p.take(p.Logs, "retired", "", e)...)
		p.LogsKnown = true
		p.close(e)
		return problems
	}
	return append(problems, p.take(r.Logs, "retired", "", e)...)
}
