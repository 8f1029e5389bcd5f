package yard

import (
	"cmp"
	"fmt"
	"slices"

	"hodaba/data"
)

var correctedKind = kind{
	KindInfo: KindInfo{
		Name: "corrected", Says: "an earlier entry was wrong: here is the right one, or it is void",
		Example: `corrected kitchen-118 kind=harvested pile=oak-north fresh="2.4 kg"`,
		Keys: []Key{
			{Name: "replaces", Holds: "identifier of the entry that was wrong", Example: "kitchen-118", Kind: EntryKey, Required: true},
			{Name: "kind", Holds: "kind of the right entry; all its keys follow", Example: "harvested", Kind: KindKey},
			{Name: "void", Holds: "true where it never happened", Example: "true", Kind: YesNoKey},
			{Name: "mended_by", Holds: "who put it right, initials; by is who did the work", Example: "mk", Kind: TextKey},
		},
	},
	make: func() readable { return &Corrected{} },
}

// Corrected replaces an earlier entry by the right one, or by nothing. A
// correction of a correction replaces it in turn; a void correction lets
// stand again what it had replaced.
type Corrected struct {
	Replaces string
	Of       string // kind of the right entry, "" where void
	Void     bool
	MendedBy string // who put it right; "" where nobody said
	Right    Event  // nil where void
}

// Kind is "corrected".
func (c *Corrected) Kind() string { return correctedKind.Name }

func (c *Corrected) fields() []any { return []any{&c.Replaces, &c.Of, &c.Void, &c.MendedBy} }

// Apply does nothing: corrections are settled before the replay.
func (c *Corrected) Apply(*State, *Entry, *data.Set) []Problem { return nil }

// corrected reads a correction and, in the same table, the right entry.
func (t *table) corrected(k *kind, c *Corrected, e *Entry) Event {
	t.values(k, c)
	known := slices.Clone(k.known)
	right := kindOf(c.Of)
	switch {
	case t.unusable:
	case c.Void && c.Of == "":
	case right == nil || right == k:
		t.unusable = true
		remedy := `name the kind of the right entry, as in kind = "harvested", or write void = true`
		if near := NearestKind(c.Of); near != "" && near != k.Name {
			remedy = fmt.Sprintf("did you mean kind = %q?", near)
		}
		text := fmt.Sprintf("%s is no kind of event to which an entry can be corrected", shown(c.Of))
		if c.Of == "" {
			text = "the correction does not say of which kind the right entry is"
		}
		t.say(Aside, "kind", text, remedy)
	case c.Void:
		known = append(known, right.keyNames()...)
	default:
		ev := right.make()
		t.values(right, ev)
		c.Right = ev
		known = append(known, right.keyNames()...)
	}
	if !t.unusable {
		t.unknown(known)
	}
	return c
}

// settled is what corrections make of some entries.
type settled struct {
	standing []*Entry          // those that no correction replaces
	replaced map[*Entry]*Entry // by what the others are replaced
	targets  map[*Entry]*Entry // what each correction replaces
	astray   map[*Entry]bool   // corrections that replace nothing
	problems []Problem
}

// settle finds which entries stand. Of all corrections of one entry one at
// most has the last word (fates.go). An entry that is left out for good is
// not missed where a correction names it (FORMAT.md, Corrections).
func settle(entries []*Entry, left func() onPurpose) settled {
	c, circle, out := collect(entries, left)
	s := settled{replaced: c.fates(entries), targets: c.targets, astray: map[*Entry]bool{}}
	c.keepPlaces(entries)
	for _, e := range entries {
		ev, ok := e.Event.(*Corrected)
		if ok && (out[e] || circle[e] || c.targets[e] == nil) {
			s.astray[e] = true
		}
		switch {
		case !s.astray[e]:
			if s.replaced[e] == nil {
				s.standing = append(s.standing, e)
			}
		case !out[e] && !s.voided(e):
			s.problems = append(s.problems, dangling(e, ev, entries, len(s.problems)+1, circle[e]))
		}
	}
	s.problems = append(s.problems, guessed(entries, s.replaced)...)
	return s
}

// voided reports whether an entry was taken back in the end.
func (s *settled) voided(e *Entry) bool {
	end := e
	for n := 0; s.replaced[end] != nil && n < mostCorrected; n++ {
		end = s.replaced[end]
	}
	return end != e && end.Voids()
}

// collect finds the corrections of each entry, those that replace themselves
// in a circle, and those of entries that are left out.
func collect(entries []*Entry, left func() onPurpose) (c corrections, circle, out map[*Entry]bool) {
	c = corrections{of: map[*Entry][]*Entry{}, targets: targetsOf(entries)}
	circle, out = inCircle(c.targets), c.ofLeft(entries, left)
	for _, e := range entries {
		if at := c.targets[e]; at != nil && !circle[e] {
			c.of[at] = append(c.of[at], e)
		}
	}
	return c, circle, out
}

// targetsOf finds for each correction the entry it replaces.
func targetsOf(entries []*Entry) map[*Entry]*Entry {
	targets := map[*Entry]*Entry{}
	var byID map[string]*Entry
	for _, e := range entries {
		ev, ok := e.Event.(*Corrected)
		if !ok {
			continue
		}
		if byID == nil {
			byID = byName(entries)
			alsoTwins(byID, entries)
		}
		if target := byID[ev.Replaces]; target != nil {
			targets[e], _ = ev.meant(e, target, byID)
		}
	}
	return targets
}

// inCircle finds the corrections that replace themselves, directly or through
// others.
func inCircle(targets map[*Entry]*Entry) map[*Entry]bool {
	circle := map[*Entry]bool{}
	walk := map[*Entry]*Entry{} // the walk on which an entry was met first
	for start := range targets {
		e := start
		for e != nil && walk[e] == nil {
			walk[e] = start
			e = targets[e]
		}
		if e == nil || walk[e] != start {
			continue
		}
		for at := e; !circle[at]; at = targets[at] {
			circle[at] = true
		}
	}
	return circle
}

// mostNear is the number of corrections gone astray for which the nearest
// identifier is looked up: with more, something else is wrong.
const mostNear = 20

func dangling(e *Entry, ev *Corrected, entries []*Entry, nth int, circle bool) Problem {
	if circle {
		return Problem{File: JournalFile, Line: e.lineOf("replaces"), Entry: e.ID, Grade: Aside,
			Text: "this correction replaces itself, through others or directly, and is left out", Remedy: "name the entry that was wrong"}
	}
	var ids []string
	for _, x := range entries {
		if x != e && nth <= mostNear {
			ids = append(ids, x.ID)
		}
	}
	remedy := "`history` shows the identifiers"
	if near, ok := NearestID(ev.Replaces, ids); ok {
		remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
	}
	if likely := likelyMeant(e, ev, entries); likely != nil && nth <= mostNear {
		remedy = fmt.Sprintf("%s, in line %d, is likely meant, and was changed by hand since: look at it, correct it, and take this one back: hodaba correct %s void=true", likely.ID, likely.Line, e.Name())
	}
	return Problem{File: JournalFile, Line: e.lineOf("replaces"), Entry: e.ID, Grade: Aside,
		Text: fmt.Sprintf("this corrects %q, and there is no such entry", ev.Replaces), Remedy: remedy}
}

// byWriting is the order in which entries were written: by hand without a
// moment first, as they stand in the file; then by moment, of one moment by
// writer and number, and what has neither by its text (FORMAT.md, Order of
// entries).
func byWriting(a, b *Entry) int {
	if c := cmp.Compare(a.turn, b.turn); c != 0 {
		return c
	}
	if a.turn != "" {
		if c := cmp.Or(cmp.Compare(a.writer, b.writer), cmp.Compare(a.number, b.number)); c != 0 {
			return c
		}
		if c := cmp.Compare(a.Text, b.Text); a.writer == "" && c != 0 {
			return c
		}
	}
	return cmp.Compare(a.order, b.order)
}

// effective is what an entry says: for a correction, the right entry under
// the correction's name; nil for one that is void or cannot be used.
func (e *Entry) effective() *Entry {
	c, ok := e.Event.(*Corrected)
	if !ok {
		if e.Event == nil {
			return nil
		}
		return e
	}
	if c.Right == nil {
		return nil
	}
	right := *e
	right.Kind, right.Event = c.Of, c.Right
	if p := e.inPlaceOf; p != nil {
		right.turn, right.writer, right.number, right.order = p.turn, p.writer, p.number, p.order
	}
	return &right
}

// lineOf is the line of a key of the entry, or of its header.
func (e *Entry) lineOf(key string) int {
	if n := keyLine(e.Text, key); n > 0 {
		return e.Line + n - 1
	}
	return e.Line
}

// odd is a problem with an entry that is kept and used.
func (e *Entry) odd(key, text, remedy string) Problem {
	return Problem{File: JournalFile, Line: e.lineOf(key), Entry: e.ID, Grade: Odd, Text: text, Remedy: remedy}
}
