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
	Right    Event // nil where void
}

// Kind is "corrected".
func (c *Corrected) Kind() string { return correctedKind.Name }

func (c *Corrected) fields() []any { return []any{&c.Replaces, &c.Of, &c.Void} }

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
		t.say(Aside, "kind", fmt.Sprintf("%q is no kind of event that can be corrected to", c.Of), remedy)
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

// corrections are the corrections among some entries, settled.
type corrections struct {
	of     map[*Entry][]*Entry // corrections of an entry, latest last
	active map[*Entry]int      // 0 not looked at, 1 being looked at, 2 active, 3 not
}

// settle finds which entries stand: those that no standing correction
// replaces. replaced tells for the others by what.
func settle(entries []*Entry) (standing []*Entry, replaced map[*Entry]*Entry, problems []Problem) {
	byID := make(map[string]*Entry, len(entries))
	for _, e := range entries {
		byID[e.ID] = e
	}
	c := corrections{map[*Entry][]*Entry{}, map[*Entry]int{}}
	for _, e := range entries {
		if ev, ok := e.Event.(*Corrected); ok {
			if target := byID[ev.Replaces]; target != nil && target != e {
				c.of[target] = append(c.of[target], e)
			} else {
				problems = append(problems, dangling(e, ev, entries))
			}
		}
	}
	for _, list := range c.of {
		slices.SortStableFunc(list, byWriting)
	}
	replaced = make(map[*Entry]*Entry, len(c.of))
	for target, list := range c.of {
		c.replace(target, list, replaced)
	}
	for _, e := range entries {
		ev, isCorrection := e.Event.(*Corrected)
		unknown := isCorrection && (byID[ev.Replaces] == nil || byID[ev.Replaces] == e)
		if replaced[e] == nil && !unknown {
			standing = append(standing, e)
		}
	}
	return standing, replaced, problems
}

// replace notes by which standing correction a target is replaced; of several
// the one written last stands, and it replaces the others, too.
func (c corrections) replace(target *Entry, list []*Entry, replaced map[*Entry]*Entry) {
	var last *Entry
	for _, e := range slices.Backward(list) {
		if !c.stands(e) {
			continue
		}
		if last == nil {
			last = e
			replaced[target] = e
		} else if replaced[e] == nil {
			replaced[e] = last
		}
	}
}

// stands reports whether no standing correction replaces e. Corrections that
// replace each other in a circle cancel out.
func (c corrections) stands(e *Entry) bool {
	if c.active[e] == 0 {
		c.active[e] = 1
		stands := 2
		for _, by := range c.of[e] {
			if c.active[by] == 1 || c.stands(by) {
				stands = 3
				break
			}
		}
		c.active[e] = stands
	}
	return c.active[e] == 2
}

func dangling(e *Entry, ev *Corrected, entries []*Entry) Problem {
	ids := make([]string, 0, len(entries))
	for _, x := range entries {
		if x != e {
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
// moment first, then by moment, then by place in the file.
func byWriting(a, b *Entry) int {
	return cmp.Or(cmp.Compare(a.Written, b.Written), cmp.Compare(a.order, b.order))
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
