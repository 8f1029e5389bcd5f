package yard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// corrections points at corrections that name an identifier of several
// entries, where they are taken over or the entries come together only now.
func (l *layer) corrections(here []*Entry) {
	hasTwin := func(e *Entry) bool { return e.twin != "" }
	if len(l.twain) == 0 && !slices.ContainsFunc(here, hasTwin) && !slices.ContainsFunc(l.t.Taken, hasTwin) {
		return
	}
	there := map[*Entry]*Entry{} // a copy of what is taken over, and what it is of
	var all []*Entry
	for _, e := range here {
		x := *e
		all = append(all, &x)
	}
	for _, e := range l.t.Taken {
		x := *e
		there[&x] = e
		all = append(all, &x)
	}
	j := journal{entries: all}
	j.tellApart()
	replaced := settle(j.entries, nil).replaced
	byID := make(map[string]*Entry, len(all))
	for _, e := range j.entries {
		byID[e.ID] = e
	}
	alsoTwins(byID, j.entries)
	for _, e := range j.entries {
		from := there[e]
		if from != nil {
			from.ID, from.shared, from.twin, from.twins = e.ID, e.shared, e.twin, e.twins
		}
		c, ok := e.Event.(*Corrected)
		if !ok || replaced[e] != nil || from == nil && !l.twain[c.Replaces] {
			continue
		}
		target := byID[c.Replaces]
		if target == nil || target.twin == "" || c.Replaces != target.shared {
			continue
		}
		is, _ := c.meant(e, target, byID)
		p := c.severalNames(e, is)
		if from != nil {
			p.File = l.file
		}
		l.undecided(p)
	}
}

// undecided points at something that somebody has to decide on.
func (l *layer) undecided(p Problem) {
	l.t.Problems = append(l.t.Problems, p)
	l.t.Undecided++
}

// byHand points at what is taken over beside something of the same kind, day
// and thing that only this copy has: by hand it may be the same, mended in one
// of the two; and of two counts one counts.
func (l *layer) byHand(here []*Entry) {
	own := map[string][]*Entry{}
	if len(l.t.Taken) == 0 {
		return
	}
	for _, e := range here {
		if k := e.about(); k != "" && !l.met[e] && e.Replaced == nil {
			own[k] = append(own[k], e)
		}
	}
	if len(own) == 0 {
		return
	}
	for _, e := range l.t.Taken {
		for _, o := range own[e.about()] {
			l.sameThing(e, o)
		}
	}
}

func (l *layer) sameThing(e, own *Entry) {
	hand := e.signature() == "" && own.signature() == ""
	if !hand && (e.Kind != countedKind.Name || e.happened() == own.happened()) {
		return
	}
	p := Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Odd,
		Text: fmt.Sprintf("here stands in line %d: %s; there: %s. It is of the same day", own.Line, own.Says(), e.Says()),
		Remedy: fmt.Sprintf("if one of them is wrong: hodaba correct %s void=true (the one of here), or hodaba correct %s void=true",
			own.Name(), e.Name())}
	switch {
	case !hand && (e.Written == "" || own.Written == ""):
		p.Text += ", and the one that the program wrote counts"
	case e.Kind == countedKind.Name && !hand:
		p.Text += ", and the count that was written last counts"
	case e.Kind == countedKind.Name || e.Kind == correctedKind.Name:
		p.Text += ", both were written by hand, and in each copy the one counts that stands last"
	default:
		p.Text += ", both were written by hand, and both count: it may be one thing that was mended in one of the copies"
	}
	if hand {
		l.undecided(p)
		return
	}
	l.t.Problems = append(l.t.Problems, p)
}

// aboutKeys are the keys that tell of what an entry is.
var aboutKeys = []string{"pile", "piles", "bed", "batch", "load", "lot", "species", "form", "recipe", "item", "what", "replaces"}

// about is kind, day and thing of an entry; "" where it names no thing.
func (e *Entry) about() string {
	values := e.Values()
	var b strings.Builder
	for _, k := range aboutKeys {
		if v := values[k]; v != "" {
			fmt.Fprintf(&b, " %s=%q", k, folded(v))
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d %d", e.Kind, e.On.From, e.On.To) + b.String()
}

// lastSigned is the identifier of the last of some entries that the program
// wrote: one by hand has none that a change by hand would leave to it.
func lastSigned(entries []*Entry) string {
	for _, e := range slices.Backward(entries) {
		if id := cmp.Or(e.shared, e.ID); e.Written != "" && e.signature() == id {
			return id
		}
	}
	return ""
}
