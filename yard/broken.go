package yard

import "hodaba/data"

var brokenKind = kind{
	KindInfo: KindInfo{
		Name: "broken", Says: "the tank, the drier, a pot or another thing cannot be used",
		Example: `broken drier until=2026-06-01`,
		Keys: []Key{
			{Name: "what", Holds: "tank, drier, pot or another thing", Example: "drier", Kind: TextKey, Required: true},
			untilKey.with("last day it cannot be used; until further notice if left out", "2026-06-01", false),
		},
	},
	make: func() readable { return &BrokenDown{} },
}

// BrokenDown says that a thing cannot be used.
type BrokenDown struct {
	What  string
	Until When
}

// Breakage is a time in which a thing cannot be used.
type Breakage struct {
	What  string // "tank", "drier", "pot", or another thing as written
	On    When
	Until When // the last day; zero: until further notice
	Entry *Entry
}

// Holds reports whether the thing can certainly not be used on a day.
func (b Breakage) Holds(d Date) bool { return d >= b.On.To && (b.Until.IsZero() || d <= b.Until.To) }

// BrokenOn is the breakage for which a thing can certainly not be used on a
// day, nil for none.
func (s *State) BrokenOn(what string, d Date) *Breakage {
	for i := range s.Broken {
		if b := &s.Broken[i]; b.What == what && b.Holds(d) {
			return b
		}
	}
	return nil
}

// Kind is "broken".
func (x *BrokenDown) Kind() string { return brokenKind.Name }

func (x *BrokenDown) fields() []any { return []any{&x.What, &x.Until} }

// Apply notes it. What was broken until further notice is so until the next
// entry on it says more: mended is `until` the day itself.
func (x *BrokenDown) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	b := Breakage{What: x.What, On: e.On, Until: x.Until, Entry: e}
	for _, known := range []string{"tank", "drier", "pot"} {
		if folded(x.What) == known {
			b.What = known
		}
	}
	for i := range s.Broken {
		if o := &s.Broken[i]; folded(o.What) == folded(b.What) && o.Until.IsZero() {
			o.Until = e.On
		}
	}
	s.Broken = append(s.Broken, b)
	return untilBefore(x.Until, e)
}
