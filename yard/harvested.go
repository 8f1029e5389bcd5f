package yard

import (
	"fmt"
	"slices"

	"hodaba/data"
)

var harvestedKind = kind{
	KindInfo: KindInfo{
		Name: "harvested", Says: "mushrooms were picked",
		Example: `harvested oak-north 2.4kg`,
		Keys: []Key{
			pileKey.with("pile or bed they came from", "oak-north", false),
			{Name: "piles", Holds: "piles they came from, if several", Example: "oak-north, oak-south", Kind: PilesKey},
			{Name: "species", Holds: "which mushroom, if not the pile's", Example: "shiitake", Kind: SpeciesKey},
			partKey.with("part of the pile that bore: the letter or the colour of its tag", "A", false),
			logsKey.with("how many logs bore", "12", false),
			{Name: "fresh", Holds: "weight as picked", Example: "2.4 kg", Kind: WeightKey},
			{Name: "eaten_percent", Holds: "share lost to slugs and mice", Example: "10", Kind: NumberKey, most: 100},
			lotKey,
		},
	},
	make: func() readable { return &Harvested{Logs: NotSaid, Eaten: NotSaid} },
}

// Harvested is one picking, or a whole season's where the day is that vague.
type Harvested struct {
	Pile    string
	Piles   []string
	Species string
	Part    string
	Logs    int
	Fresh   Quantity // kg
	Eaten   float64  // percent
	Lot     string
}

// Kind is "harvested".
func (h *Harvested) Kind() string { return harvestedKind.Name }

func (h *Harvested) fields() []any {
	return []any{&h.Pile, &h.Piles, &h.Species, &h.Part, &h.Logs, &h.Fresh, &h.Eaten, &h.Lot}
}

// all are the piles named, each once.
func (h *Harvested) all() []string { return onceEach(h.Pile, h.Piles) }

func (h *Harvested) names() (piles, begins []string) { return h.all(), nil }

func (h *Harvested) check(t *table) {
	if len(h.all()) == 0 && h.Species == "" {
		t.unusable = true
		t.say(Aside, "", "neither pile nor species is given", `add pile = "oak-north", or species if nobody knows the pile`)
	}
}

// seasonDays is the number of days beyond which a harvest is not one picking
// but what came in a time.
const seasonDays = 31

// Apply notes the pick, on the piles it came from and in the yard as a whole;
// a pick from a pile that is not known counts too.
func (h *Harvested) Apply(s *State, e *Entry, d *data.Set) []Problem {
	pick := &Pick{On: e.On, Logs: max(0, h.Logs), Fresh: h.Fresh.Span(), Weighed: h.Fresh.Text != "", Lot: h.Lot,
		Season: e.On.To-e.On.From >= seasonDays, Entry: e}
	problems := h.part(pick, e)
	for _, name := range h.all() {
		p, unknown := s.pile(name, e)
		problems = append(problems, unknown...)
		if p == nil {
			pick.Piles = append(pick.Piles, name)
			continue
		}
		if slices.Contains(pick.Piles, p.Name) {
			continue // named by name and by code
		}
		pick.Piles = append(pick.Piles, p.Name)
		if pick.Species == "" {
			pick.Species = p.Species
		}
		p.Picks = append(p.Picks, pick)
		p.olderThan(pick.On)
		p.see("harvested", e).Logs = pick.Logs
		if len(h.all()) == 1 {
			problems = append(problems, p.onMoreLogs(h.Logs, "are said to have borne", e)...)
		}
	}
	problems = append(problems, h.species(pick, s, e, d)...)
	s.Picks = append(s.Picks, pick)
	return problems
}

// part notes which part bore. Of several piles nobody knows whose part it was.
func (h *Harvested) part(pick *Pick, e *Entry) []Problem {
	switch n := len(h.all()); {
	case h.Part == "":
		return nil
	case n != 1:
		return []Problem{e.odd("part", "not one pile is named for part "+shown(h.Part)+": it counts for all of each", "record each pile by itself")}
	}
	pick.Part = partName(h.Part)
	return e.notOnTheList(h.Part)
}

// olderThan narrows a beginning that nobody wrote: a pile had begun when it
// was picked.
func (p *Pile) olderThan(on When) {
	if p.Since.Text == notSaid && on.To < p.Since.To {
		p.Since.To = on.To
		p.Since.From = min(p.Since.From, on.To-throughLogs)
	}
}

// species settles which mushroom was picked, and points at a surprise.
func (h *Harvested) species(pick *Pick, s *State, e *Entry, d *data.Set) []Problem {
	if h.Species == "" {
		return nil
	}
	ofPile := pick.Species
	name, _, known := s.resolve(h.Species, d)
	pick.Species = name
	switch {
	case !known:
		return []Problem{e.odd("species", fmt.Sprintf("no species is called %s: the pick is kept under that name", shown(h.Species)),
			s.speciesRemedy(h.Species, d))}
	case ofPile != "" && ofPile != name:
		return []Problem{e.odd("species", fmt.Sprintf("%s was picked from a pile of %s", name, ofPile),
			"look at the species and the pile; it counts as written. Eat nothing that is not identified with certainty")}
	}
	return nil
}
