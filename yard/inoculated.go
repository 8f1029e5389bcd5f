package yard

import (
	"cmp"
	"fmt"

	"hodaba/data"
)

// Keys that several kinds share.
var (
	logsKey     = Key{Name: "logs", Holds: "how many logs", Example: "40", Kind: CountKey}
	diameterKey = Key{Name: "diameter", Holds: "thickness of the logs", Example: "10-15 cm", Kind: LengthKey, least: 1, most: 200}
	barkKey     = Key{Name: "bark", Holds: "whether the diameter is over the bark, as it is taken, or under it", Example: "under", Kind: ChoiceKey, OneOf: []string{"over", "under"}}
	lengthKey   = Key{Name: "length", Holds: "length of the logs", Example: "100 cm", Kind: LengthKey, least: 5, most: 1000}
	woodKey     = Key{Name: "wood", Holds: "kind of wood", Example: "white oak", Kind: WoodKey}
	strainKey   = Key{Name: "strain", Holds: "class of strain", Example: "wide-range", Kind: StrainKey}
	codeKey     = Key{Name: "code", Holds: "at most four signs for its tag", Example: "AN2", Kind: CodeKey}
	spawnKey    = Key{Name: "spawn", Holds: "form of the spawn", Example: "sawdust", Kind: ChoiceKey, OneOf: []string{"sawdust", "plug", "thimble"}}
	methodKey   = Key{Name: "method", Holds: "how it was inoculated", Example: "holes", Kind: ChoiceKey, OneOf: []string{"holes", "totem", "wedge"}}
	pileKey     = Key{Name: "pile", Holds: "name or code of the pile or bed", Example: "oak-north", Kind: PileKey, Required: true}
	spawnLotKey = Key{Name: "spawn_lot", Holds: "lot of the spawn", Example: "S-25-04", Kind: LotKey}
	lotKey      = Key{Name: "lot", Holds: "lot number", Example: "D-26-03", Kind: LotKey}
)

// with returns k with other words, and required or not.
func (k Key) with(holds, example string, required bool) Key {
	k.Holds, k.Example, k.Required = holds, example, required
	return k
}

var inoculatedKind = kind{
	KindInfo: KindInfo{
		Name: "inoculated", Says: "spawn went into logs: a pile begins",
		Example: `inoculated oak-north species=shiitake logs=40 diameter=12cm`,
		Keys: []Key{
			{Name: "pile", Holds: "a name for the pile", Example: "oak-north", Kind: NewPileKey, Required: true},
			{Name: "species", Holds: "which mushroom", Example: "shiitake", Kind: SpeciesKey, Required: true},
			strainKey, woodKey, logsKey, diameterKey, lengthKey, spawnKey, methodKey,
			spawnLotKey,
			barkKey,
			{Name: "felled", Holds: "when the wood was felled, or its lot", Example: "2026-01", Kind: TextKey},
			{Name: "share", Holds: "share of the pile that was done, 0 to 1", Example: "0.5", Kind: NumberKey, most: 1},
			{Name: "again", Holds: "true if these logs had been inoculated before", Example: "true", Kind: YesNoKey},
			codeKey,
		},
	},
	make: func() readable { return &Inoculated{Logs: NotSaid, Share: NotSaid} },
}

// NotSaid stands for a number that nobody wrote.
const NotSaid = -1

// Inoculated begins a pile, adds logs to it, or inoculates its logs again.
type Inoculated struct {
	Pile, Species, Strain, Wood string
	Logs                        int
	Diameter, Length            Quantity
	Spawn, Method, SpawnLot     string
	Bark                        string
	Felled                      string
	Share                       float64
	Again                       bool
	Code                        string
}

// Kind is "inoculated".
func (n *Inoculated) Kind() string { return inoculatedKind.Name }

func (n *Inoculated) fields() []any {
	return []any{&n.Pile, &n.Species, &n.Strain, &n.Wood, &n.Logs, &n.Diameter, &n.Length, &n.Spawn, &n.Method,
		&n.SpawnLot, &n.Bark, &n.Felled, &n.Share, &n.Again, &n.Code}
}

func (n *Inoculated) names() (piles, begins []string) {
	if n.Again {
		return []string{n.Pile}, []string{n.Pile, n.Code}
	}
	return nil, []string{n.Pile, n.Code}
}

// Apply begins the pile, or adds to one that stands.
func (n *Inoculated) Apply(s *State, e *Entry, d *data.Set) []Problem {
	p := s.Pile(n.Pile)
	if p != nil {
		return n.another(p, s, e, d)
	}
	p = s.begin(n.Pile, "pile", e)
	p.Origin, p.Since = "inoculated", e.On
	p.Wood, p.Spawn, p.Method, p.SpawnLot = n.Wood, n.Spawn, n.Method, n.SpawnLot
	p.measure(n.Diameter.Span(), underBark(n.Bark))
	p.Length = n.Length.Span()
	p.start(n.Logs, LogBegun, e)
	problems := s.code(p, n.Code, e)
	problems = append(problems, s.species(p, n.Species, n.Strain, e, d)...)
	return append(problems, n.done(s, p, p.Species, e, d)...)
}

// done takes the logs from their felled lots and notes the day's work for the
// plans.
func (n *Inoculated) done(s *State, p *Pile, species string, e *Entry, d *data.Set) []Problem {
	s.didInoculate(n, p, species, e)
	return n.ofFelled(s, p, e, d)
}

// another is another day's work on a pile that stands: more logs, or the same
// ones again. What nobody wrote on the first day is taken from it.
func (n *Inoculated) another(p *Pile, s *State, e *Entry, d *data.Set) []Problem {
	problems := n.add(p, LogBegun, s, e, d)
	if n.Again {
		return problems
	}
	if p.Code == "" {
		problems = append(problems, s.code(p, n.Code, e)...)
	}
	p.Wood, p.Spawn = cmp.Or(p.Wood, n.Wood), cmp.Or(p.Spawn, n.Spawn)
	p.Method, p.SpawnLot = cmp.Or(p.Method, n.Method), cmp.Or(p.SpawnLot, n.SpawnLot)
	p.measure(n.Diameter.Span(), underBark(n.Bark))
	p.Length = cmp.Or(p.Length, n.Length.Span())
	species, _, _ := s.resolve(n.Species, d)
	return append(problems, n.done(s, p, species, e, d)...)
}

// add inoculates more logs of a pile on another day, or the same logs again.
// how says where more of them came from: LogBegun, LogArrived or LogMovedIn.
func (n *Inoculated) add(p *Pile, how string, s *State, e *Entry, d *data.Set) []Problem {
	p.Entries = append(p.Entries, e)
	if n.Again {
		return nil
	}
	var problems []Problem
	name, _, _ := s.resolve(n.Species, d)
	switch {
	case name != p.Species:
		problems = append(problems, e.odd("species", fmt.Sprintf("%s is a pile of %s, and these logs are %s", p.Name, p.Species, name),
			"give them a pile of their own"))
	case n.Logs < 0:
		problems = append(problems, e.odd("pile", p.Name+" stands already", "give another name, or write again = true if it was inoculated again"))
	default:
		problems = append(problems, n.muchLater(p, how, e, d)...)
	}
	if n.Logs > 0 {
		p.Logs += n.Logs
		p.Started += n.Logs
		p.move(how, n.Logs, e)
		p.Since = spanning(p.Since, e.On)
	}
	return problems
}

// spanning is the When from the earlier to the later of two.
func spanning(a, b When) When {
	w := When{From: min(a.From, b.From), To: max(a.To, b.To)}
	switch w {
	case When{From: a.From, To: a.To}:
		return a
	case When{From: b.From, To: b.To}:
		return b
	}
	return w
}

// muchLater points at logs that came into a pile long after its others, and
// are told from them no more.
func (n *Inoculated) muchLater(p *Pile, how string, e *Entry, d *data.Set) []Problem {
	if d == nil || n.Logs == 0 || float64(e.On.From-p.Since.To) <= d.Practice.Odd.BegunAgain.Value {
		return nil
	}
	key, again := "pile", ""
	switch {
	case e.Kind == "buried":
		key = "bed"
	case how == LogBegun:
		again = "; where no log is new, add again = true"
	}
	return []Problem{e.odd(key, fmt.Sprintf("%s stands since %s, and %s on %s make it %d: new logs and old ones count as of one age", p.Name, p.Since, moreLogs(n.Logs), e.On, p.Logs+n.Logs),
		fmt.Sprintf("correct the entry with %s = a name of their own%s", key, again))}
}

func moreLogs(n int) string {
	if n == 1 {
		return "1 more log"
	}
	return fmt.Sprintf("%d more logs", n)
}
