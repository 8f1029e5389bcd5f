package yard

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/data"
)

// longestWatering is the number of hours beyond which water ran for so long
// that it can only be a slip of the pen: a month.
const longestWatering = 31 * 24

var wateredKind = kind{
	KindInfo: KindInfo{
		Name: "watered", Says: "piles were watered",
		Example: `watered oak-north how=sprinkler hours=3`,
		Keys: []Key{
			pileKey.with("pile or bed that was watered", "oak-north", false),
			{Name: "piles", Holds: "piles, if several; all at the place, or all, if none is named", Example: "oak-north, oak-south", Kind: PilesKey},
			{Name: "how", Holds: "with what", Example: "sprinkler", Kind: TextKey},
			{Name: "hours", Holds: "how long the water ran, in hours", Example: "3", Kind: NumberKey, most: longestWatering},
		},
	},
	make: func() readable { return &Watered{Hours: NotSaid} },
}

// Watered is water given to piles: to those that are named, else to those at
// the entry's place, else to all that stand.
type Watered struct {
	Pile  string
	Piles []string
	How   string
	Hours float64
}

// Watering is one watering of a pile.
type Watering struct {
	On    When
	How   string  // as written, "" not said
	Hours float64 // that the water ran; 0 not said
	Entry *Entry
}

// Kind is "watered".
func (w *Watered) Kind() string { return wateredKind.Name }

func (w *Watered) fields() []any { return []any{&w.Pile, &w.Piles, &w.How, &w.Hours} }

func (w *Watered) names() (piles, begins []string) { return onceEach(w.Pile, w.Piles), nil }

// onceEach are the names of one and of several piles together, each once.
func onceEach(one string, several []string) (out []string) {
	for _, name := range append([]string{one}, several...) {
		if name != "" && !slices.ContainsFunc(out, func(o string) bool { return folded(o) == folded(name) }) {
			out = append(out, name)
		}
	}
	return out
}

// Apply notes it on each pile.
func (w *Watered) Apply(s *State, e *Entry, _ *data.Set) []Problem {
	named, _ := w.names()
	if len(named) == 0 {
		return w.everywhere(s, e)
	}
	var problems []Problem
	var done []*Pile
	for _, name := range named {
		p, unknown := s.pile(name, e)
		problems = append(problems, unknown...)
		if p != nil && !slices.Contains(done, p) { // it may be named by name and by code
			done = append(done, p)
			w.note(p, e)
		}
	}
	return problems
}

// everywhere waters all piles that stand, or those at the entry's place.
func (w *Watered) everywhere(s *State, e *Entry) []Problem {
	n := 0
	for _, p := range s.Piles {
		if p.Closed == 0 && (e.Place == "" || folded(p.Place) == folded(e.Place)) {
			w.note(p, e)
			n++
		}
	}
	switch {
	case n > 0:
		return nil
	case e.Place != "":
		return []Problem{e.odd("place", fmt.Sprintf("no pile stands at %s: nothing was watered by this entry", shown(e.Place)), "name the piles, or look at the place")}
	}
	return []Problem{e.odd("", "no pile stands yet: nothing was watered by this entry", "name the pile, or look at the day")}
}

func (w *Watered) note(p *Pile, e *Entry) {
	p.Watered = append(p.Watered, Watering{On: e.On, How: w.How, Hours: max(0, w.Hours), Entry: e})
	slices.SortStableFunc(p.Watered, func(a, b Watering) int { return cmp.Compare(a.On.From, b.On.From) })
}
