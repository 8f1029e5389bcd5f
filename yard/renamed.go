package yard

import (
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
)

var renamedKind = kind{
	KindInfo: KindInfo{
		Name: "renamed", Says: "a pile has another name; it still answers to the old one",
		Example: `renamed oak-north to=oak-old`,
		Keys: []Key{
			pileKey,
			{Name: "to", Holds: "its new name", Example: "oak-old", Kind: NewPileKey, Required: true},
			codeKey,
		},
	},
	make: func() readable { return &Renamed{} },
}

// Renamed gives a pile another name.
type Renamed struct{ Pile, To, Code string }

// Kind is "renamed".
func (x *Renamed) Kind() string { return renamedKind.Name }

func (x *Renamed) fields() []any { return []any{&x.Pile, &x.To, &x.Code} }

func (x *Renamed) names() (piles, begins []string) { return []string{x.Pile}, []string{x.To, x.Code} }

// Apply gives the pile its new name, and keeps the old one for entries that
// use it.
func (x *Renamed) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(x.Pile, e)
	if p == nil {
		return problems
	}
	other := s.Pile(x.To)
	if other != nil && other != p {
		return append(problems, e.odd("to", fmt.Sprintf("%s stands already, and %s keeps its name", other.Name, p.Name),
			"give another name; logs that went to another pile are recorded with [[joined]]"))
	}
	old := p.Name
	p.Name = strings.Join(strings.Fields(x.To), " ")
	p.Formerly = append(p.Formerly, old)
	if other == p { // it had the name before
		p.Formerly = slices.DeleteFunc(p.Formerly, func(n string) bool { return folded(n) == folded(p.Name) })
	}
	s.byName[folded(p.Name)] = p
	s.remedies = nil
	s.nowCalled(old, p)
	return append(problems, s.code(p, x.Code, e)...)
}

// nowCalled writes the new name wherever the state names a pile.
func (s *State) nowCalled(old string, p *Pile) {
	for _, k := range p.Picks {
		for i, name := range k.Piles {
			if name == old {
				k.Piles[i] = p.Name
			}
		}
	}
	for i := range s.Planned {
		if k := &s.Planned[i]; k.Soak == old {
			k.Soak = p.Name
		}
	}
}

// Called are all names to which a pile that was renamed answers, name itself
// first; name alone where none was.
func (s *State) Called(name string) []string {
	out := []string{name}
	p := s.Pile(name)
	if p == nil || len(p.Formerly) == 0 {
		return out
	}
	for _, n := range append([]string{p.Name, p.Code}, p.Formerly...) {
		if n != "" && !slices.ContainsFunc(out, func(o string) bool { return folded(o) == folded(n) }) {
			out = append(out, n)
		}
	}
	return out
}
