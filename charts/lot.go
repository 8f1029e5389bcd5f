package charts

import (
	"cmp"
	"slices"
	"strings"

	"hodaba/yard"
)

// LotStory is everything that touched a lot, one step back and one step
// forward, in order of time.
type LotStory struct {
	Lot  string
	Is   []string // what goes by that name: "dried shiitake, pieces", "a batch of Hanger five"
	From []LotLine
	To   []LotLine
	Left string // what is still there; "" where nothing of it can be

	Record *RecordOf // of a batch; nil from Lot
}

// LotLine is one sentence of the story.
type LotLine struct {
	On    yard.When
	Says  string
	Entry string // its identifier; "" where nothing was written down
	By    string // who did it; "" not said
}

// Lot tells the story of a lot of felled logs, of spawn, spirit or other goods bought, of a
// picking, of dried goods, or of a batch with its bottles. Several things may
// go by one name. ok is false where nothing does.
func Lot(s *yard.State, lot string) (story LotStory, ok bool) {
	t := &teller{s: s, u: units{us: s.Config.US}, lot: lot}
	t.bought()
	t.spawn()
	t.felled()
	t.picked()
	t.dried()
	t.batch()
	if len(t.story.Is) == 0 {
		return LotStory{}, false
	}
	for _, part := range [][]LotLine{t.story.From, t.story.To} {
		slices.SortStableFunc(part, func(a, b LotLine) int { return cmp.Compare(a.On.From, b.On.From) })
	}
	t.story.Left = listing(t.left)
	return t.story, true
}

// Lots are the names of all lots there are, each once, in no order of weight.
func Lots(s *yard.State) []string {
	var names []string
	add := func(name string) {
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, p := range s.Bought {
		add(p.Lot)
	}
	for _, p := range s.Piles {
		add(p.SpawnLot)
	}
	for _, l := range s.Felled {
		add(l.Lot)
	}
	for _, k := range s.Picks {
		add(k.Lot)
	}
	for _, l := range s.Dry {
		add(l.Lot)
	}
	for _, b := range s.Batches {
		add(b.Lot)
		add(b.SpiritLot)
	}
	return names
}

// sameLot compares lots as labels are read: capitals and blanks do not matter.
func sameLot(a, b string) bool {
	return strings.TrimSpace(a) != "" && yard.SameName(a, b)
}

// teller puts a story together.
type teller struct {
	s     *yard.State
	u     units
	lot   string
	story LotStory
	left  []string
}

func (t *teller) is(lot, what string) {
	if t.story.Lot == "" {
		t.story.Lot = lot
	}
	if !slices.Contains(t.story.Is, what) {
		t.story.Is = append(t.story.Is, what)
	}
}

func (t *teller) from(on yard.When, e *yard.Entry, says string) {
	t.story.From = append(t.story.From, LotLine{on, capital(says) + ".", entryID(e), byOf(e)})
}

func (t *teller) to(on yard.When, e *yard.Entry, says string) {
	t.story.To = append(t.story.To, LotLine{on, capital(says) + ".", entryID(e), byOf(e)})
}

// value is a key of an entry as it was written.
func value(e *yard.Entry, key string) string {
	if e == nil {
		return ""
	}
	return e.Values()[key]
}

// bought tells of what came by purchase, and of spirit that went into jars.
func (t *teller) bought() {
	for _, p := range t.s.Bought {
		if !sameLot(p.Lot, t.lot) {
			continue
		}
		t.is(p.Lot, p.Item)
		says := "bought: " + p.Item
		if p.Amount.Text != "" {
			says = "bought: " + p.Amount.Text + " of " + p.Item
		}
		if who := value(p.Entry, "supplier"); who != "" {
			says += ", from " + who
		}
		t.from(p.On, p.Entry, says)
	}
	for _, b := range t.s.Batches {
		if sameLot(b.SpiritLot, t.lot) {
			t.is(b.SpiritLot, "spirit")
			t.to(b.On, first(b.Entries), t.spiritWords(b)+" went into batch "+b.Lot)
		}
	}
}

func (t *teller) spiritWords(b *yard.Batch) string {
	says := "spirit"
	if ml := b.SpiritPutUpML(); ml > 0 {
		says = t.u.poured(ml) + " of spirit"
	}
	if b.SpiritABV > 0 {
		says += " of " + figure(b.SpiritABV) + " % by volume"
	}
	return says
}

// first is the entry with which something begins.
func first(entries []*yard.Entry) *yard.Entry {
	if len(entries) == 0 {
		return nil
	}
	return entries[0]
}

// spawn tells which piles a lot of spawn went into.
func (t *teller) spawn() {
	for _, p := range t.s.Piles {
		if !sameLot(p.SpawnLot, t.lot) {
			continue
		}
		t.is(p.SpawnLot, "spawn of "+p.Species)
		says := p.Name + " was inoculated with it"
		if p.Started > 0 {
			says += ", " + count(p.Started, "log", "logs")
		}
		t.to(p.Since, first(p.Entries), says)
	}
}

// picked tells of a picking: from which piles, and what became of it fresh.
func (t *teller) picked() {
	for _, k := range t.s.Picks {
		if !sameLot(k.Lot, t.lot) {
			continue
		}
		t.is(k.Lot, "a picking of "+k.Species)
		for _, name := range k.Piles {
			t.pile(name)
		}
		says := k.Species + " was picked"
		if k.Weighed {
			says = t.freshWords(k.Fresh) + " of " + says
		}
		if len(k.Piles) > 0 {
			says += " from " + listing(k.Piles)
		}
		t.from(k.On, k.Entry, says)
	}
	for i := range t.s.Loads {
		if l := &t.s.Loads[i]; sameLot(l.From, t.lot) {
			t.to(l.On, l.Entry, t.loadWords(l))
		}
	}
	for _, w := range t.s.Went {
		if sameLot(w.Lot, t.lot) && w.FreshKG.Known() {
			t.to(w.On, w.Entry, t.freshWords(w.FreshKG)+" fresh "+wentWords(w.Kind, w.To))
		}
	}
}

func (t *teller) freshWords(s yard.Span) string { return t.u.freshly(s.Mid()) }

func (t *teller) loadWords(l *yard.Load) string {
	says := l.Species + " went into the drier"
	if l.FreshKG.Known() {
		says = t.freshWords(l.FreshKG) + " of " + says
	}
	if l.Name != entryID(l.Entry) {
		says += ", load " + l.Name
	}
	return says
}

// pile tells of one that was picked from: the step before the picking.
func (t *teller) pile(name string) {
	p := t.s.Pile(name)
	if p == nil || p.Since.IsZero() {
		return
	}
	says := p.Name + " was " + cmp.Or(map[string]string{"counted": "there", "arrived": "inoculated, elsewhere"}[p.Origin], p.Origin)
	if p.SpawnLot != "" {
		says += " with spawn of lot " + p.SpawnLot
	}
	if lots := t.felledLots(p); len(lots) > 0 {
		says += " on wood of lot " + listing(lots)
	}
	t.from(p.Since, first(p.Entries), says)
}

// wentWords say how goods left.
func wentWords(how, to string) string {
	switch {
	case how == yard.DryEaten && to == "":
		return "were used at home"
	case how == yard.DryEaten:
		return "were used by " + to
	case to == "" && how == yard.DryGiven:
		return "were given away"
	case to == "" || how == yard.DrySpoiled:
		return "were " + how
	}
	return "were " + how + " to " + to
}

// went finds what an entry says of goods that left.
func (t *teller) went(e *yard.Entry) yard.Went {
	for _, w := range t.s.Went {
		if w.Entry == e {
			return w
		}
	}
	return yard.Went{}
}

// batchOf is the batch that an entry put goods into.
func (t *teller) batchOf(e *yard.Entry) string {
	for _, b := range t.s.Batches {
		if slices.Contains(b.Entries, e) {
			return b.Lot
		}
	}
	return "that is not known"
}
