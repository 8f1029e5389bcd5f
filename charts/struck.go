package charts

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hodaba/yard"
)

// What was corrected or voided stays readable wherever the entry is listed:
// struck through, with the day, who put it right and why, beside what counts
// now. The pages of all entries (page_entries.go) say the same of each on its
// own line.

// struck is an entry that no longer counts, as it stands beside the one that
// took its place.
type struck struct {
	Says    string // its day, what it said and who did it
	Gone    string // "corrected 3 May 2026 by AB"
	Why     string // the note of the correction; "" where nobody said
	ID      mend   // where it stands among all entries
	NowSays string // what counts in its place, where that is listed elsewhere
	Now     mend
}

// struckBeside is how many struck entries stand beside one that counts: more
// slips than that are looked up among all entries.
const struckBeside = 12

// fate is an entry with all its corrections: at most one of them counts.
type fate struct {
	counts *yard.Entry  // nil where what happened is voided
	gone   []*goneEntry // what no longer counts, in order of writing
}

// goneEntry is an entry that no longer counts.
type goneEntry struct {
	*yard.Entry
	kind   string            // of what it said; "" where it only voided another
	values map[string]string // what it said
	fate   *fate
}

// fates are what became of entries, as far as anything did.
type fates struct {
	of   map[string]*fate // by the identifier of the entry that counts
	all  map[string]*fate // by the identifiers of all of them
	gone []*goneEntry     // by day
}

// fatesOf follows all corrections; shown is which entries stand on the pages.
func fatesOf(entries []*yard.Entry, shown func(id string) bool) fates {
	root := rootsOf(entries)
	fs := fates{of: map[string]*fate{}, all: map[string]*fate{}}
	byRoot := map[*yard.Entry]*fate{}
	for _, e := range entries {
		if e.Replaced == nil || !shown(e.ID) {
			continue
		}
		first := root(e)
		f := byRoot[first]
		if f == nil {
			f = &fate{counts: lastingOf(first, len(entries))}
			byRoot[first] = f
			if f.counts != nil {
				fs.of[f.counts.ID], fs.all[f.counts.ID] = f, f
			}
		}
		g := &goneEntry{Entry: e, kind: e.Kind, fate: f}
		if g.values = e.Values(); e.Kind == "corrected" {
			g.kind = g.values["kind"]
		}
		fs.all[e.ID] = f
		f.gone = append(f.gone, g)
		fs.gone = append(fs.gone, g)
	}
	slices.SortStableFunc(fs.gone, func(x, y *goneEntry) int { return cmp.Compare(x.On.From, y.On.From) })
	return fs
}

// rootsOf finds for an entry the one that all corrections up to it began with.
func rootsOf(entries []*yard.Entry) func(*yard.Entry) *yard.Entry {
	byID := make(map[string]*yard.Entry, len(entries))
	for _, e := range entries {
		byID[e.ID] = e
	}
	known := map[*yard.Entry]*yard.Entry{}
	return func(e *yard.Entry) *yard.Entry {
		var path []*yard.Entry
		for known[e] == nil {
			known[e] = e // ends a circle
			path = append(path, e)
			c, ok := e.Event.(*yard.Corrected)
			if !ok || byID[c.Replaces] == nil {
				break
			}
			e = byID[c.Replaces]
		}
		for _, p := range path {
			known[p] = known[e]
		}
		return known[e]
	}
}

// lastingOf is what counts in the place of an entry, itself if it stands; nil
// where it is voided.
func lastingOf(e *yard.Entry, most int) *yard.Entry {
	for ; e.Replaced != nil && most > 0; most-- {
		e = e.Replaced
	}
	if c, ok := e.Event.(*yard.Corrected); ok && c.Right == nil {
		return nil
	}
	return e
}

// struckBy is what an entry that counts stands in the place of, oldest first.
func (b *book) struckBy(id string) []struck {
	f := b.written.fates.of[id]
	if f == nil {
		return nil
	}
	return b.struckOf(f.gone[max(0, len(f.gone)-struckBeside):])
}

func (b *book) struckOf(gone []*goneEntry) (list []struck) {
	for _, g := range gone {
		list = append(list, b.struck(g))
	}
	return list
}

func (b *book) struck(g *goneEntry) struck {
	s := struck{Says: b.saysOf(g.Entry), Gone: goneFully(g.Entry), ID: b.written.at[g.ID]}
	if !g.On.IsZero() {
		s.Says = sinceWords(g.On) + ": " + s.Says
	}
	if g.By != "" && g.kind != "" {
		s.Says += ", by " + cut(g.By, idShown)
	}
	if g.Replaced.Note != g.Note {
		s.Why = clipped(Clean(g.Replaced.Note))
	}
	return s
}

// saysOf is an entry in a line of words. The note of a correction that stands
// as its reason beside what it replaced is not said again.
func (b *book) saysOf(e *yard.Entry) string {
	if c, ok := e.Event.(*yard.Corrected); ok && c.Right == nil {
		return "voids " + cut(c.Replaces, idShown)
	}
	says := e.Says()
	if f := b.written.fates.all[e.ID]; f != nil && f.explainedBy(e) {
		says, _, _ = e.SaysApart()
	}
	if c, ok := e.Event.(*yard.Corrected); ok {
		says = strings.TrimPrefix(says, "corrected "+c.Replaces+": ")
	}
	return clipped(Clean(says))
}

// explainedBy reports whether the note of an entry stands beside what it, or a
// correction before it, replaced.
func (f *fate) explainedBy(e *yard.Entry) bool {
	return slices.ContainsFunc(f.gone, func(g *goneEntry) bool { return g.Replaced.Note == e.Note && g.Note != e.Note })
}

// goneFully say when an entry was replaced and by whom: where nobody left
// initials, by the word of the writer.
func goneFully(e *yard.Entry) string {
	words, who := goneWords(e)
	if who == "" {
		if i := strings.LastIndexByte(e.Replaced.ID, '-'); i > 0 {
			if _, err := strconv.Atoi(e.Replaced.ID[i+1:]); err == nil {
				return words + " at " + cut(e.Replaced.ID[:i], idShown)
			}
		}
	}
	return words
}

// struckAlone are the entries that no longer count and touch something, but
// for those that stand beside an entry that counts and is shown there.
func (b *book) struckAlone(touches func(*goneEntry) bool, shown func(id string) bool) (list []*goneEntry) {
	for _, g := range b.written.fates.gone {
		if g.kind != "" && touches(g) && !(g.fate.counts != nil && shown(g.fate.counts.ID)) {
			list = append(list, g)
		}
	}
	return list
}

// alone is an entry that stands by itself where it is listed, with what counts
// elsewhere in its place.
func (b *book) alone(g *goneEntry) struck {
	s := b.struck(g)
	if now := g.fate.counts; now != nil {
		s.Now, s.NowSays = b.written.at[now.ID], sinceWords(now.On)+": "+b.saysOf(now)
	}
	return s
}

// isOf reports whether what no longer counts named a pile.
func (b *book) isOf(p *yard.Pile) func(*goneEntry) bool {
	return func(g *goneEntry) bool {
		return slices.ContainsFunc(g.Piles(), func(name string) bool { return b.State.Pile(name) == p })
	}
}

// ofKinds reports whether what no longer counts was of one of some kinds.
func ofKinds(names ...string) func(*goneEntry) bool {
	return func(g *goneEntry) bool { return slices.Contains(names, g.kind) }
}
