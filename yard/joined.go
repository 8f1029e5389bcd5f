package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

// joinedDays is the time between the beginnings of two piles beyond which it
// is pointed at that they are joined: our judgement.
const joinedDays = 183

var joinedKind = kind{
	KindInfo: KindInfo{
		Name: "joined", Says: "piles became one",
		Example: `joined oak-a,oak-b into=oak-north`,
		Keys: []Key{
			{Name: "piles", Holds: "names or codes of the piles", Example: "oak-a, oak-b", Kind: PilesKey, Required: true},
			{Name: "into", Holds: "name of the pile they are now: a new one, or one that stands", Example: "oak-north", Kind: NewPileKey, Required: true},
			codeKey,
		},
	},
	make: func() readable { return &Joined{} },
}

// Joined makes one pile of several. It goes on as the largest of them: what
// was seen of that one speaks of most of its logs. What was picked stays with
// the piles it was picked from.
type Joined struct {
	Piles      []string
	Into, Code string
}

// Kind is "joined".
func (x *Joined) Kind() string { return joinedKind.Name }

func (x *Joined) fields() []any { return []any{&x.Piles, &x.Into, &x.Code} }

func (x *Joined) names() (piles, begins []string) {
	if slices.ContainsFunc(x.Piles, func(n string) bool { return folded(n) == folded(x.Into) }) {
		return x.Piles, []string{x.Code}
	}
	return x.Piles, []string{x.Into, x.Code}
}

// Apply moves the logs of all piles into one.
func (x *Joined) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	into := s.Pile(x.Into)
	var from []*Pile
	var problems []Problem
	for _, name := range x.Piles {
		p, unknown := s.pile(name, e)
		problems = append(problems, unknown...)
		if p != nil && p != into && !slices.Contains(from, p) {
			from = append(from, p)
		}
	}
	if len(from) == 0 {
		if len(problems) == 0 {
			problems = append(problems, e.odd("piles", "nothing was joined: "+x.Into+" alone is named", "name the piles that became one"))
		}
		return problems
	}
	lead := largest(from)
	if into == nil {
		into = (&Split{Into: x.Into}).child(lead, s, e)
		into.LogsKnown = true
	} else {
		into.Entries = append(into.Entries, e)
		if e.Place != "" {
			into.Place = s.placeName(e.Place)
		}
		if lead.Logs > into.Logs {
			into.goOnAs(lead)
		}
	}
	for _, p := range from {
		problems = append(problems, oddMates(into, p, e)...)
		into.swallow(p, e)
	}
	return append(problems, s.code(into, x.Code, e)...)
}

// largest is the pile with the most logs, the first of several.
func largest(piles []*Pile) *Pile {
	return slices.MaxFunc(piles, func(a, b *Pile) int { return a.Logs - b.Logs })
}

// goOnAs takes over what is known of another pile but its harvests.
func (p *Pile) goOnAs(o *Pile) {
	p.Species, p.Like, p.Strain, p.Wood = o.Species, o.Like, o.Strain, o.Wood
	p.Since, p.Arrived, p.State, p.Colonised = o.Since, o.Arrived, o.State, o.Colonised
	p.Diameter, p.UnderBark, p.Length, p.Depth = o.Diameter, o.UnderBark, o.Length, o.Depth
	p.Spawn, p.Method, p.SpawnLot = o.Spawn, o.Method, o.SpawnLot
	p.Seen, p.Weighed, p.Watered, p.Soaked = slices.Clone(o.Seen), slices.Clone(o.Weighed), slices.Clone(o.Watered), slices.Clone(o.Soaked)
}

// swallow takes all logs of another pile, which ends.
func (p *Pile) swallow(o *Pile, e *Entry) {
	logs := o.Logs
	p.LogsKnown = p.LogsKnown && o.LogsKnown
	p.Started, p.Logs, p.Closed = p.Started+logs, p.Logs+logs, 0
	p.move(LogMovedIn, logs, e)
	o.take(logs, LogMovedOut, "to "+p.Name, e)
	if o.Closed == 0 {
		o.Closed = e.On.To // also where nobody knew how many there were
	}
}

// oddMates points at piles that cannot be told as one.
func oddMates(into, p *Pile, e *Entry) []Problem {
	var unlike []string
	if p.Species != into.Species {
		unlike = append(unlike, fmt.Sprintf("is of %s, not %s", p.Species, into.Species))
	}
	if p.Kind != into.Kind {
		unlike = append(unlike, fmt.Sprintf("is a %s, not a %s", p.Kind, into.Kind))
	}
	if apart := max(p.Since.From-into.Since.To, into.Since.From-p.Since.To); apart > joinedDays {
		unlike = append(unlike, fmt.Sprintf("began on %s, not on %s", p.Since, into.Since))
	}
	if len(unlike) == 0 {
		return nil
	}
	return []Problem{e.odd("piles", fmt.Sprintf("%s %s: as one pile they go on as what most of the logs are", p.Name, strings.Join(unlike, " and ")),
		"void this and keep them apart if they can still be told apart")}
}
