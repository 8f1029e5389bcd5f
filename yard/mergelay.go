package yard

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// lay lays another journal over this one.
func lay(here, there *journal, file string) *Takeover {
	return layWithout(here, there, file, nil, nil)
}

// layWithout is lay, but for entries that were left out here on purpose.
func layWithout(here, there *journal, file string, left onPurpose, since map[string]string) *Takeover {
	l := &layer{t: &Takeover{}, file: file, texts: map[string][]*Entry{}, signed: map[string][]*Entry{}, met: map[*Entry]bool{}, twain: map[string]bool{}, reworded: map[*Entry]*Entry{}}
	for _, e := range here.entries {
		l.texts[e.Text] = append(l.texts[e.Text], e)
		name := cmp.Or(e.shared, e.ID)
		l.signed[name] = append(l.signed[name], e)
	}
	rest := l.wordForWord(there.entries)
	rest = l.inOtherWords(rest, here.entries)
	rest = l.withoutName(rest, here.entries, here.nameless)
	rest = l.passLeftOut(rest, there.entries, left, since)
	for _, e := range rest {
		l.take(e)
	}
	if there.torn >= 0 {
		for _, p := range there.problems {
			if strings.Contains(p.Text, "cut short") {
				p.File, p.Text, p.Remedy = file, "this entry was cut short while it was written, and nothing of it is taken over", tornRemedy(there.tornText)
				l.t.Problems = append(l.t.Problems, p)
			}
		}
	}
	l.t.Here = len(here.entries) - len(l.met)
	slices.SortStableFunc(l.t.Taken, byWriting)
	l.both(here.entries)
	l.corrections(here.entries)
	l.byHand(here.entries)
	l.reword(here.entries, there.entries)
	return l.t
}

// layer is one journal while another is laid over it.
type layer struct {
	t      *Takeover
	file   string
	texts  map[string][]*Entry // own entries by their text, those not met yet
	signed map[string][]*Entry // own entries by identifier, also one that several have
	met    map[*Entry]bool     // own entries that the other copy has, too
	twain  map[string]bool     // identifiers that name several entries once all are taken over

	reworded map[*Entry]*Entry // own entries by those that say the same there in other letters
}

// wordForWord meets the entries that both have, and returns the others.
func (l *layer) wordForWord(there []*Entry) (rest []*Entry) {
	for _, e := range there {
		own := l.texts[e.Text]
		if len(own) == 0 {
			rest = append(rest, e)
			continue
		}
		l.met[own[0]] = true
		l.texts[e.Text] = own[1:]
		l.t.Same++
	}
	return rest
}

// inOtherWords meets the entries that say the same with other spaces, remarks
// or order of keys.
func (l *layer) inOtherWords(there, here []*Entry) (rest []*Entry) {
	if len(there) == 0 {
		return nil
	}
	says := map[string][]*Entry{}
	for _, e := range here {
		if !l.met[e] {
			k := e.meaning()
			says[k] = append(says[k], e)
		}
	}
	for _, e := range there {
		k := e.meaning()
		if own := says[k]; len(own) > 0 {
			says[k] = own[1:]
			l.met[own[0]], l.reworded[e] = true, own[0]
			l.t.Same++
			continue
		}
		rest = append(rest, e)
	}
	return rest
}

// take decides on an entry of which the own journal has no equal.
func (l *layer) take(e *Entry) {
	name := e.signature()
	own, several := l.counterpart(name, e)
	_, _, err := decode(e.Text)
	switch {
	case err != nil || isTorn([]byte(e.Text+"\n")):
		l.leave(e, own)
	case own != nil && own.standsAs(e):
		l.met[own] = true
		l.t.Same++ // corrected here to what stands there
	case own != nil:
		l.met[own] = true
		l.t.Differ = append(l.t.Differ, Clash{own, e, apart(own, e)})
	default:
		l.t.Taken = append(l.t.Taken, e)
		if several {
			l.twain[name] = true
			l.t.Problems = append(l.t.Problems, Problem{File: l.file, Line: e.Line, Entry: name, Grade: Odd,
				Text:   fmt.Sprintf("the identifier %s names one entry here and another there: both are kept, and each has a name of its own beside it", name),
				Remedy: "`hodaba history " + CommandWord(name) + "` shows them; where two computers write under one name, give one another with --by"})
		}
	}
}

// counterpart is the own entry that another one under the same identifier is a
// version of: one that the other copy has not in any other form, and that was
// not written at another time. Without one, several says that the identifier
// names something else here: two computers gave it to two things that happened,
// or somebody copied a table and kept its identifier.
func (l *layer) counterpart(name string, e *Entry) (own *Entry, several bool) {
	if name == "" {
		return nil, false
	}
	for _, x := range l.signed[name] {
		if !l.met[x] && (x.Written == e.Written || x.Written == "" || e.Written == "") {
			return x, false
		}
	}
	return nil, len(l.signed[name]) > 0
}

// standsAs reports whether an entry was corrected to what another one says.
func (e *Entry) standsAs(other *Entry) bool {
	last := e
	for n := 0; last.Replaced != nil && n < mostCorrected; n++ {
		last = last.Replaced
	}
	c, ok := last.Event.(*Corrected)
	if !ok || c.Void || last == e {
		return false
	}
	is := last.Values()
	delete(is, "replaces")
	delete(is, "kind")
	return c.Of == other.Kind && maps.Equal(is, other.Values())
}

// mostCorrected is how many corrections of one entry are followed.
const mostCorrected = 100

// leave points at an entry that cannot be read there.
func (l *layer) leave(e, own *Entry) {
	p := Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Aside,
		Text: "this entry cannot be read, or was cut short, and is not taken over", Remedy: "mend it there and merge again"}
	for _, why := range e.problems {
		if why.Grade != Odd || strings.Contains(why.Text, "cut short") {
			p.Line, p.Text, p.Remedy = why.Line, why.Text+": it is not taken over", why.Remedy+", there, and merge again"
		}
	}
	if own != nil {
		l.met[own] = true
		p.Remedy = "the entry " + own.ID + " here stands; look whether it is right"
	}
	l.t.Problems = append(l.t.Problems, p)
}

// both points at corrections taken over of entries that were corrected here,
// too: of all that follow from either, the one written last counts.
func (l *layer) both(here []*Entry) {
	own := map[string]*Entry{}
	var of map[*Entry]*Entry
	var s settled
	for _, e := range here {
		if c, ok := e.Event.(*Corrected); ok && !l.met[e] {
			own[c.Replaces] = e
		}
	}
	for _, e := range l.t.Taken {
		c, ok := e.Event.(*Corrected)
		if !ok || own[c.Replaces] == nil || l.twain[c.Replaces] {
			continue
		}
		if of == nil {
			of, s = l.together(here)
		}
		if first := s.targets[of[e]]; first != nil { // else verify says that it corrects nothing
			l.t.Problems = append(l.t.Problems, l.bothSaid(e, c.Replaces, first, &s))
		}
	}
}

// bothSaid says which correction has the last word: the end of one of the
// chains that begin with an entry.
func (l *layer) bothSaid(e *Entry, name string, first *Entry, s *settled) Problem {
	p := Problem{File: l.file, Line: e.Line, Entry: e.ID, Grade: Odd, Remedy: "correct that one if it is not right"}
	switch end := s.end(first); {
	case end == first:
		p.Text = fmt.Sprintf("both copies correct %s, and what they said was taken back: it counts as it was", name)
		p.Remedy = "correct it if it is not right"
	case end.Voids():
		p.Text = fmt.Sprintf("both copies correct %s: %s, which was written last, counts, and makes it void", name, end.Name())
		p.Remedy = "if that is not right: hodaba correct " + end.Name() + " void=true"
	default:
		p.Text = fmt.Sprintf("both copies correct %s: %s, which was written last, counts", name, end.Name())
	}
	return p
}

// signature is the identifier that stands in an entry, "" where none does.
func (e *Entry) signature() string {
	vals, _, err := decode(e.Text)
	if err != nil {
		if m := hasEntry.FindStringSubmatch(e.Text); m != nil {
			return strings.TrimSpace(m[1])
		}
		return ""
	}
	t := table{vals: vals}
	t.open(&Entry{})
	id, _ := t.vals["entry"].(string)
	return strings.TrimSpace(id)
}

// meaning is what an entry says, in one order of keys and without remarks;
// two entries with the same meaning are one.
func (e *Entry) meaning() string {
	vals := e.Values()
	if vals == nil {
		return e.Text
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%q %q %q", e.Kind, e.Written, e.signature())
	for _, k := range sortedKeys(vals) {
		fmt.Fprintf(&b, " %s=%q", k, vals[k])
	}
	return b.String()
}

// apart are the keys in which two entries differ, as the second has them.
func apart(a, b *Entry) map[string]string {
	out := map[string]string{}
	was, is := a.Values(), b.Values()
	for k, v := range is {
		if old, ok := was[k]; !ok || old != v {
			out[k] = v
		}
	}
	for k := range was {
		if _, ok := is[k]; !ok {
			out[k] = ""
		}
	}
	return out
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
