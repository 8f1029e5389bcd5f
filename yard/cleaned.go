package yard

import "hodaba/data"

var cleanedKind = kind{
	KindInfo: KindInfo{
		Name: "cleaned", Says: "the drier, jars, a tool or another thing were cleaned",
		Example: `cleaned drier how="hot water"`,
		Keys: []Key{
			{Name: "what", Holds: "what was cleaned", Example: "drier", Kind: TextKey, Required: true},
			{Name: "how", Holds: "with what", Example: "hot water", Kind: TextKey},
		},
	},
	make: func() readable { return &Cleaned{} },
}

// Cleaned says that a thing was cleaned.
type Cleaned struct{ What, How string }

// Cleaning is one cleaning of a thing.
type Cleaning struct {
	On        When
	What, How string // as written; How "" not said
	Entry     *Entry
}

// Kind is "cleaned".
func (x *Cleaned) Kind() string { return cleanedKind.Name }

func (x *Cleaned) fields() []any { return []any{&x.What, &x.How} }

// Apply notes it.
func (x *Cleaned) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	s.Cleaned = append(s.Cleaned, Cleaning{e.On, x.What, x.How, e})
	return nil
}
