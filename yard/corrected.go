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

// corrections are the corrections among some entries, while they are settled.
type corrections struct {
	of   map[*Entry][]*Entry // corrections of an entry, latest last
	hold map[*Entry]bool     // see holds
}

// settle finds which entries stand: those that no correction replaces.
// replaced tells for the others by what.
func settle(entries []*Entry) (standing []*Entry, replaced map[*Entry]*Entry, problems []Problem) {
	c, astray, problems := collect(entries)
	replaced = make(map[*Entry]*Entry, len(c.of))
	for _, e := range entries {
		c.replace(e, c.of[e], replaced)
	}
	for _, e := range entries {
		if replaced[e] == nil && !astray[e] {
			standing = append(standing, e)
		}
	}
	return standing, replaced, append(problems, guessed(entries, replaced)...)
}

// collect finds the corrections of each entry, and those that go astray.
func collect(entries []*Entry) (c corrections, astray map[*Entry]bool, problems []Problem) {
	c = corrections{map[*Entry][]*Entry{}, map[*Entry]bool{}}
	astray = map[*Entry]bool{}
	targets := targetsOf(entries)
	circle := inCircle(targets)
	for _, e := range entries {
		ev, ok := e.Event.(*Corrected)
		switch {
		case !ok:
		case targets[e] != nil && !circle[e]:
			c.of[targets[e]] = append(c.of[targets[e]], e)
		default:
			astray[e] = true
			problems = append(problems, dangling(e, ev, entries, len(astray), circle[e]))
		}
	}
	for _, list := range c.of {
		slices.SortStableFunc(list, byWriting)
	}
	return c, astray, problems
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
			byID = make(map[string]*Entry, len(entries))
			for _, x := range entries {
				byID[x.ID] = x
			}
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

// replace notes by which correction a target is replaced: of several that
// hold, the one written last, and it replaces the others, too.
func (c corrections) replace(target *Entry, list []*Entry, replaced map[*Entry]*Entry) {
	var last *Entry
	for _, e := range slices.Backward(list) {
		switch {
		case !c.holds(e):
		case last == nil:
			last = e
			replaced[target] = e
		case replaced[e] == nil:
			replaced[e] = last
		}
	}
}

// holds reports whether what a correction replaces stays replaced: it does
// unless the correction itself was voided.
func (c corrections) holds(e *Entry) bool {
	if h, known := c.hold[e]; known {
		return h
	}
	h := true
	for _, by := range slices.Backward(c.of[e]) {
		if c.holds(by) {
			h = !by.Event.(*Corrected).Void
			break
		}
	}
	c.hold[e] = h
	return h
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
	if near, ok := data.Nearest(ev.Replaces, ids); ok {
		remedy = fmt.Sprintf("did you mean %q? %s", near, remedy)
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
