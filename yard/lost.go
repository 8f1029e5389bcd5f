package yard

import "hodaba/data"

var lostKind = kind{
	KindInfo: KindInfo{
		Name: "lost", Says: "logs were lost: rotten, overrun by another fungus, stolen",
		Example: `lost oak-north logs=3 cause="other fungus"`,
		Keys: []Key{
			pileKey, logsKey.with("how many logs", "3", false),
			{Name: "cause", Holds: "why", Example: "other fungus", Kind: TextKey},
		},
	},
	make: func() readable { return &Lost{Logs: NotSaid} },
}

// Lost takes logs that were lost out of a pile.
type Lost struct {
	Pile  string
	Logs  int
	Cause string
}

// Kind is "lost".
func (l *Lost) Kind() string { return lostKind.Name }

func (l *Lost) fields() []any { return []any{&l.Pile, &l.Logs, &l.Cause} }

func (l *Lost) names() (piles, begins []string) { return []string{l.Pile}, nil }

// Apply takes the logs out. Where nobody said how many, the number of logs is
// not known any more.
func (l *Lost) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(l.Pile, e)
	switch {
	case p == nil:
		return problems
	case l.Logs < 0:
		p.LogsKnown = false
		return append(problems, e.odd("", "how many logs of "+p.Name+" were lost is not said", countLeft))
	}
	return append(problems, p.take(l.Logs, "lost", l.Cause, e)...)
}
