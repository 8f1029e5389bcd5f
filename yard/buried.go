package yard

import (
	"fmt"

	"hodaba/data"
)

var buriedKind = kind{
	KindInfo: KindInfo{
		Name: "buried", Says: "logs went into the ground: a bed begins",
		Example: `buried reishi-bed species=reishi logs=12 depth=5cm`,
		Keys: []Key{
			{Name: "bed", Holds: "a name for the bed", Example: "reishi-bed", Kind: NewPileKey, Required: true},
			{Name: "species", Holds: "which mushroom; that of the pile where it came from one", Example: "reishi", Kind: SpeciesKey},
			{Name: "from", Holds: "pile the logs were taken from", Example: "reishi-stack", Kind: PileKey},
			logsKey, diameterKey, lengthKey, barkKey, woodKey,
			{Name: "colonised", Holds: "false if the logs were not run through yet", Example: "false", Kind: YesNoKey},
			{Name: "depth", Holds: "soil over the logs", Example: "5 cm", Kind: LengthKey, most: 200},
			strainKey, codeKey,
		},
	},
	make: func() readable { return &Buried{Logs: NotSaid, Colonised: true} },
}

// Buried begins a bed, of logs from one of the yard's piles or from elsewhere.
type Buried struct {
	Bed, Species, From string
	Logs               int
	Diameter, Length   Quantity
	Bark, Wood         string
	Colonised          bool
	Depth              Quantity
	Strain, Code       string
}

// Kind is "buried".
func (b *Buried) Kind() string { return buriedKind.Name }

func (b *Buried) fields() []any {
	return []any{&b.Bed, &b.Species, &b.From, &b.Logs, &b.Diameter, &b.Length, &b.Bark, &b.Wood, &b.Colonised, &b.Depth, &b.Strain, &b.Code}
}

func (b *Buried) names() (piles, begins []string) {
	if b.From != "" {
		piles = []string{b.From}
	}
	return piles, []string{b.Bed, b.Code}
}

func (b *Buried) check(t *table) {
	if b.Species == "" && b.From == "" {
		t.unusable = true
		t.say(Aside, "", "neither species nor from is given", `add species = "reishi", or from = the pile the logs came from`)
	}
}

// Apply begins the bed and takes its logs from the pile they came from.
func (b *Buried) Apply(s *State, e *Entry, d *data.Set) []Problem {
	var problems []Problem
	var from *Pile
	if b.From != "" {
		if from, problems = s.pile(b.From, e); from == nil && b.Species == "" {
			return problems
		}
	}
	how := LogBegun
	if from != nil {
		how = LogMovedIn
	}
	p := s.Pile(b.Bed)
	if p != nil && p != from {
		problems = append(problems, (&Inoculated{Pile: b.Bed, Species: s.orOf(b.Species, from), Logs: b.Logs}).add(p, how, s, e, d)...)
		return append(problems, b.takeFrom(from, p, e)...)
	}
	p = s.begin(b.Bed, "bed", e)
	p.Origin, p.Since, p.Colonised, p.Depth = "buried", e.On, b.Colonised, b.Depth.Span()
	p.measure(b.Diameter.Span(), underBark(b.Bark))
	p.Wood, p.Length = b.Wood, b.Length.Span()
	strain := b.Strain
	if from != nil {
		p.inherit(from)
		if strain == "" && (b.Species == "" || from.Species == b.Species) {
			strain = from.Strain
		}
	}
	p.start(b.Logs, how, e)
	problems = append(problems, s.code(p, b.Code, e)...)
	problems = append(problems, s.species(p, s.orOf(b.Species, from), strain, e, d)...)
	return append(problems, b.takeFrom(from, p, e)...)
}

func (s *State) orOf(species string, p *Pile) string {
	if species == "" && p != nil {
		return p.Species
	}
	return species
}

// inherit fills what nobody wrote about a bed from the pile its logs came from.
func (p *Pile) inherit(from *Pile) {
	if p.Wood == "" {
		p.Wood = from.Wood
	}
	p.measure(from.Diameter, from.UnderBark)
	if !p.Length.Known() {
		p.Length = from.Length
	}
	p.Spawn, p.Method, p.SpawnLot = from.Spawn, from.Method, from.SpawnLot
	if !p.Colonised {
		p.Since = from.Since
		p.Seen = append(p.Seen, from.Seen...)
	}
}

// takeFrom takes the buried logs from their pile; all of them where no number
// was written.
func (b *Buried) takeFrom(from, bed *Pile, e *Entry) []Problem {
	if from == nil {
		return nil
	}
	if b.Logs < 0 {
		bed.Started, bed.Logs, bed.LogsKnown = bed.Started+from.Logs, bed.Logs+from.Logs, from.LogsKnown
		bed.move(LogMovedIn, from.Logs, e)
		return from.take(from.Logs, "moved", "to "+bed.Name, e)
	}
	return from.take(b.Logs, "moved", fmt.Sprintf("to %s", bed.Name), e)
}
