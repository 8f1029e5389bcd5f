package yard

import (
	"cmp"
	"slices"

	"hodaba/data"
)

// namer is an event that names piles or beds: those that must stand already,
// and those that begin with it.
type namer interface {
	names() (piles, begins []string)
}

// replayer applies entries in order.
type replayer struct {
	state    *State
	data     *data.Set
	begins   map[string]*Entry   // the first entry with which a pile begins, by folded name
	done     map[*Entry]bool     // applied
	waiting  map[*Entry][]*Entry // by the beginning they wait for
	waitsOn  map[*Entry]*Entry   // what each of them waits for, or last waited for
	problems []Problem
}

// replay derives the state from entries that stand.
func replay(s *State, entries []*Entry, d *data.Set) []Problem {
	slices.SortStableFunc(entries, byDay)
	r := &replayer{state: s, data: d, begins: map[string]*Entry{}, done: make(map[*Entry]bool), waiting: map[*Entry][]*Entry{}, waitsOn: map[*Entry]*Entry{}}
	s.byName = map[string]*Pile{}
	s.Entries = entries
	r.findBeginnings(entries)
	for _, e := range entries {
		r.take(e)
	}
	r.problems = append(s.settled(r.problems, d), s.tickOff()...)
	s.lotsPutOff()
	for _, p := range s.Piles {
		slices.SortStableFunc(p.Seen, func(a, b Seen) int { return cmp.Compare(a.On.From, b.On.From) })
	}
	return r.problems
}

// findBeginnings notes with which entry each pile begins. A count begins a
// pile only where nothing else does.
func (r *replayer) findBeginnings(entries []*Entry) {
	note := func(name string, e *Entry) {
		if f := folded(name); f != "" && r.begins[f] == nil {
			r.begins[f] = e
		}
	}
	for _, e := range entries {
		if n, ok := e.Event.(namer); ok {
			_, begins := n.names()
			for _, name := range begins {
				note(name, e)
			}
		}
	}
	for _, e := range entries {
		if c, ok := e.Event.(*Counted); ok && c.Species != "" {
			note(c.Pile, e)
		}
	}
}

// byDay is the order of the replay: of the first day an event can have
// happened, then of writing.
func byDay(a, b *Entry) int {
	return cmp.Or(cmp.Compare(a.On.From, b.On.From), byWriting(a, b))
}

// take applies an entry, or lets it wait for the pile it names: a vague day
// may begin before the pile did.
func (r *replayer) take(e *Entry) {
	if first := r.notYet(e); first != nil {
		r.waiting[first] = append(r.waiting[first], e)
		r.waitsOn[e] = first
		if !mayBeLater(first.Event) && e.On.To < first.On.From {
			r.problems = append(r.problems, e.odd("on", e.On.String()+" is before the pile began, on "+first.On.String(),
				"look at both days; it counts all the same"))
		}
		return
	}
	r.problems = append(r.problems, e.Event.Apply(r.state, e, r.data)...)
	r.problems = append(r.problems, r.state.oddPlace(e)...)
	r.done[e] = true
	for _, w := range r.waiting[e] {
		r.take(w)
	}
	delete(r.waiting, e)
}

// mayBeLater reports whether a pile can have stood before the entry with
// which its name begins.
func mayBeLater(first Event) bool {
	switch first.(type) {
	case *Counted, *Renamed:
		return true
	}
	return false
}

// notYet is the later entry with which a pile begins that e names already.
func (r *replayer) notYet(e *Entry) *Entry {
	n, ok := e.Event.(namer)
	if !ok {
		return nil
	}
	piles, _ := n.names()
	for _, name := range piles {
		first := r.begins[folded(name)]
		if first != nil && first != e && !r.done[first] && r.state.Pile(name) == nil && !r.waitsFor(first, e) {
			return first
		}
	}
	return nil
}

// waitsFor reports whether a waits, itself or through others, for b: two
// splits that each name the other's new pile would wait for ever.
func (r *replayer) waitsFor(a, b *Entry) bool {
	for a != nil && a != b {
		a = r.waitsOn[a]
	}
	return a == b
}
