package yard

import (
	"cmp"
	"fmt"
	"math"

	"hodaba/data"
)

var loadedKind = kind{
	KindInfo: KindInfo{
		Name: "loaded", Says: "mushrooms went into the drier",
		Example: `loaded 26-14 species=shiitake fresh="2.4 kg"`,
		Keys: []Key{
			loadKey.with("a name for the load; the entry's own if left out", "26-14", false),
			{Name: "species", Holds: "which mushroom; that of the pile where it came from one", Example: "shiitake", Kind: SpeciesKey},
			{Name: "fresh", Holds: "weight that went in", Example: "2.4 kg", Kind: WeightKey},
			{Name: "from", Holds: "pile or picking it came from", Example: "oak-north", Kind: TextKey},
		},
	},
	make: func() readable { return &Loaded{} },
}

var loadKey = Key{Name: "load", Kind: LotKey}

// Loaded puts mushrooms into the drier.
type Loaded struct {
	Load, Species string
	Fresh         Quantity // kg
	From          string
}

// Load is one load of the drier of one species.
type Load struct {
	Name    string // as written, else the identifier of the entry
	Species string
	FreshKG Span // zero: not weighed
	On      When
	From    string  // as written
	Out     When    // zero: still in
	DryG    float64 // that came out; 0 not weighed, or still in
	Entry   *Entry
	Emptied []*Entry // of what came out, the first of which ended it
}

// In reports whether the load is still in the drier.
func (l *Load) In() bool { return l.Out.IsZero() }

// Kind is "loaded".
func (x *Loaded) Kind() string { return loadedKind.Name }

func (x *Loaded) fields() []any { return []any{&x.Load, &x.Species, &x.Fresh, &x.From} }

func (x *Loaded) check(t *table) {
	if x.Species == "" && x.From == "" {
		t.unusable = true
		t.say(Aside, "", "the species is missing", `add a line such as species = "shiitake"`)
	}
}

// Apply notes the load.
func (x *Loaded) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	species := x.Species
	if p := s.Pile(x.From); p != nil && species == "" {
		species = p.Species
	} else if k := s.pickOf(x.From); k != nil && species == "" {
		species = k.Species
	}
	l := Load{Name: cmp.Or(x.Load, e.ID), FreshKG: x.Fresh.Span(), On: e.On, From: x.From, Entry: e}
	var known bool
	l.Species, _, known = s.resolve(species, d)
	switch o := s.openLoad(x.Load, l.Species); {
	case species == "":
		problems = append(problems, e.odd("from", fmt.Sprintf("no pile or picking is called %s, and which mushroom it is is not said", shown(x.From)), "correct the entry with its species"))
	case !known:
		problems = append(problems, e.odd("species", fmt.Sprintf("no species is called %s", shown(species)), s.speciesRemedy(species, d)))
	case o != nil:
		problems = append(problems, e.odd("load", fmt.Sprintf("load %s is in the drier already, since %s, and both count", o.Name, o.On), "give this one a name of its own"))
	}
	s.Loads = append(s.Loads, l)
	return problems
}

// openLoad finds a load that is still in: by its name, and by its species
// where that is said.
func (s *State) openLoad(name, species string) *Load {
	for i := range s.Loads {
		l := &s.Loads[i]
		if name != "" && l.In() && (species == "" || l.Species == species) && folded(l.Name) == folded(name) {
			return l
		}
	}
	return nil
}

// loadOf finds a load by its name, also one that came out, and says what is
// odd about it; species "" is any.
func (s *State) loadOf(name, species string, e *Entry) (*Load, []Problem) {
	if l := s.openLoad(name, species); l != nil {
		return l, nil
	}
	names := make([]string, len(s.Loads))
	for i := range s.Loads {
		l := &s.Loads[i]
		names[i] = l.Name
		switch {
		case folded(l.Name) != folded(name):
		case l.In():
			return nil, []Problem{e.odd("load", fmt.Sprintf("load %s is %s, not %s", l.Name, l.Species, species), "look at the load and the species")}
		default:
			return l, []Problem{e.odd("load", fmt.Sprintf("load %s came out already, on %s: the fresh weight counts once", l.Name, l.Out), "look at the name of the load")}
		}
	}
	if in := s.laterLoad(name); in != nil {
		text := fmt.Sprintf("load %s went in on %s, after this, on %s", name, in.On, e.On)
		if in.On.From <= e.On.To {
			text = fmt.Sprintf("that load %s went in, on %s, was written down after this", name, in.On)
		}
		return nil, []Problem{e.odd("on", text, "look at both days; what went in must stand before what came out")}
	}
	remedy := "record what went in with [[loaded]], or leave the load out"
	if near, ok := data.Nearest(name, names); ok {
		remedy = fmt.Sprintf("did you mean %s?", near)
	}
	return nil, []Problem{e.odd("load", fmt.Sprintf("no load of the drier is called %s", shown(name)), remedy)}
}

// laterLoad is the entry with which a load of that name goes in further on in
// the replay.
func (s *State) laterLoad(name string) *Entry {
	for _, e := range s.Entries {
		if x, ok := e.Event.(*Loaded); ok && folded(cmp.Or(x.Load, e.ID)) == folded(name) {
			return e
		}
	}
	return nil
}

// Loads that are in the drier for longer than a week, or than twice its hours
// where those are more, are taken to be forgotten: our judgement, and only ever
// points at something.
const (
	longestInDays = 7
	timesItsHours = 2
)

// longestIn is for how many days a load can be believed to be in the drier.
func (s *State) longestIn() Date {
	return max(longestInDays, Date(math.Ceil(timesItsHours*s.Config.Drier.HoursPerLoad/hoursOfDay)))
}

const hoursOfDay = 24
