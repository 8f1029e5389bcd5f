package yard

import (
	"fmt"

	"hodaba/data"
)

var checkedKind = kind{
	KindInfo: KindInfo{
		Name: "checked", Says: "looked at the ends of the logs, whether they are run through",
		Example: `checked oak-north looked_at=10 with_mycelium=4`,
		Keys: []Key{
			pileKey,
			{Name: "looked_at", Holds: "how many logs were looked at", Example: "10", Kind: CountKey, Required: true},
			{Name: "with_mycelium", Holds: "of them with a white ring at the end", Example: "4", Kind: CountKey},
			{Name: "spots", Holds: "of them with spots at the rim", Example: "2", Kind: CountKey},
			{Name: "springy", Holds: "of them with bark that gives under the thumb", Example: "3", Kind: CountKey},
			{Name: "dull_knock", Holds: "of them that sound dull", Example: "5", Kind: CountKey},
		},
	},
	make: func() readable { return &Checked{With: NotSaid, Spots: NotSaid, Springy: NotSaid, Dull: NotSaid} },
}

// Checked is a look at log ends: evidence for how far a pile is.
type Checked struct {
	Pile                       string
	LookedAt                   int
	With, Spots, Springy, Dull int // NotSaid where nobody looked for it
}

// Kind is "checked".
func (c *Checked) Kind() string { return checkedKind.Name }

func (c *Checked) fields() []any {
	return []any{&c.Pile, &c.LookedAt, &c.With, &c.Spots, &c.Springy, &c.Dull}
}

func (c *Checked) names() (piles, begins []string) { return []string{c.Pile}, nil }

// Apply notes what was seen. More logs with a sign than were looked at, or
// more looked at than there are, is pointed at.
func (c *Checked) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	p, problems := s.pile(c.Pile, e)
	if p == nil {
		return problems
	}
	if most := max(c.With, c.Spots, c.Springy, c.Dull); most > c.LookedAt {
		problems = append(problems, e.odd("looked_at", fmt.Sprintf("%d logs show something, and only %d were looked at", most, c.LookedAt),
			"correct the entry; it is taken as if all that show it were looked at"))
	}
	if p.LogsKnown && c.LookedAt > p.Logs {
		problems = append(problems, e.odd("looked_at", fmt.Sprintf("%s has %s, and %d were looked at", p.Name, logWord(p.Logs), c.LookedAt),
			countPile))
	}
	seen := p.see("checked", e)
	seen.With, seen.Spots, seen.Springy, seen.Dull = c.With, c.Spots, c.Springy, c.Dull
	seen.LookedAt = max(c.LookedAt, c.With, c.Spots, c.Springy, c.Dull)
	return problems
}
