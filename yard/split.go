package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

var splitKind = kind{
	KindInfo: KindInfo{
		Name: "split", Says: "some logs of a pile became a pile of their own",
		Example: `split oak-north into=oak-south logs=12`,
		Keys: []Key{
			pileKey,
			{Name: "into", Holds: "a name for the new pile", Example: "oak-south", Kind: NewPileKey, Required: true},
			logsKey.with("how many logs went to it", "12", false),
			codeKey,
		},
	},
	make: func() readable { return &Split{Logs: NotSaid} },
}

// Split makes a new pile of some logs of an old one. The new pile inherits
// everything that is known of the old but its harvests.
type Split struct {
	Pile, Into string
	Logs       int
	Code       string
}

// Kind is "split".
func (x *Split) Kind() string { return splitKind.Name }

func (x *Split) fields() []any { return []any{&x.Pile, &x.Into, &x.Logs, &x.Code} }

func (x *Split) names() (piles, begins []string) { return []string{x.Pile}, []string{x.Into, x.Code} }

// Apply makes the new pile. Without a number of logs, half of them go.
func (x *Split) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(x.Pile, e)
	if p == nil {
		return problems
	}
	if s.Pile(x.Into) != nil {
		return append(problems, e.odd("into", x.Into+" stands already, and nothing was split", "give the new pile another name"))
	}
	logs := x.Logs
	if logs < 0 {
		logs = p.Logs / 2
		problems = append(problems, e.odd("", fmt.Sprintf("how many logs of %s went to %s is not said: half are taken", p.Name, x.Into),
			"correct the entry with logs = their number, or count both"))
	}
	n := x.child(p, s, e)
	n.start(logs, LogMovedIn, e)
	n.LogsKnown = p.LogsKnown && x.Logs >= 0
	if x.Logs < 0 {
		p.LogsKnown = false
	}
	problems = append(problems, p.take(logs, "moved", "to "+n.Name, e)...)
	return append(problems, s.code(n, x.Code, e)...)
}

// child copies what is known of a pile to the one split off.
func (x *Split) child(p *Pile, s *State, e *Entry) *Pile {
	n := s.begin(x.Into, p.Kind, e)
	named, place := n.Name, n.Place
	*n = *p
	n.Name, n.Code, n.Formerly, n.Entries = named, "", nil, []*Entry{e}
	n.Gone, n.Picks, n.Closed = nil, nil, 0
	n.Started, n.Logs = 0, 0
	n.LogMoves = nil
	n.Seen, n.Weighed = slices.Clone(p.Seen), slices.Clone(p.Weighed) // each pile goes on by itself
	n.Watered, n.Soaked = slices.Clone(p.Watered), slices.Clone(p.Soaked)
	if place != "" {
		n.Place = place
	}
	return n
}
