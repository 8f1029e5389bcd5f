package yard

import (
	"bytes"
	"maps"
	"slices"
	"strings"
)

// lackingIn compares daily copies with a journal. FORMAT.md, Entries that
// vanished.
type lackingIn struct {
	f       *Folder
	journal []byte
	entries []*Entry
	left    onPurpose
	texts   map[string]bool     // of the journal's entries, to the letter
	byID    map[string][]*Entry // by the identifier that stands in them
	settled map[*Entry]*Entry   // what was corrected

	atMoment map[string][]*Entry // by kind and moment of writing
	byHand   map[string][]*Entry // those with neither moment nor identifier, by kind and what they say
	inCopies []map[string]bool   // the identifiers in each copy
}

func (f *Folder) lackingIn(journal []byte, entries []*Entry) *lackingIn {
	return &lackingIn{f: f, journal: journal, entries: entries, left: f.left()}
}

// lack is what a copy has otherwise than the journal.
type lack struct {
	missing []Missed          // vanished, or not to be read in the journal any more
	unnamed map[string]*Entry // what stands in the journal without its identifier, or under another
	changed []Missed          // what entries said before somebody changed them by hand
	likely  []Missed          // of changed: what is only likely the entry that stands there
}

// onlyThere are the tables that a copy alone has: they stay in the copies.
func (l lack) onlyThere() (texts []string) {
	for _, m := range l.missing {
		texts = append(texts, m.Text)
	}
	for _, m := range l.likely {
		texts = append(texts, markLikely(m.Text))
	}
	return texts
}

// of compares one copy. Tables that stand in the journal to the letter are not
// read.
func (l *lackingIn) of(name string, old []byte) (out lack) {
	if bytes.HasPrefix(l.journal, old) {
		return out
	}
	rest, same := l.apart(old)
	if len(rest) == 0 {
		return out
	}
	terms := l.f.Terms()
	taken := map[*Entry]bool{}
	var sought []soughtIn
	for _, e := range readJournal(rest, &terms).entries {
		id := statedIn(e.Text)
		if e.Written == "" || id == "" || l.left.has(id, e.Written) || same[e.Text] {
			continue
		}
		is := l.counterpart(e, id, same, taken)
		text, kept := withoutMark(e.Text)
		m := Missed{ID: id, Text: text, Copy: name, written: e.Written}
		switch {
		case is == nil:
			sought = append(sought, soughtIn{e, m, kept})
		case is.Event == nil && e.Event != nil && l.replaced()[is] == nil:
			m.Line = is.Line
			out.missing = append(out.missing, m)
		case is.Event != nil && e.Event != nil:
			taken[is] = true
			if is.Kind+saysOf(is) != e.Kind+saysOf(e) {
				out.changed = append(out.changed, m)
			}
		}
	}
	is, likely := l.became(sought, same, taken)
	out.unnamed = make(map[string]*Entry, len(is)+len(likely))
	for _, s := range sought {
		switch {
		case is[s.e] != nil:
			out.unnamed[s.m.ID] = is[s.e]
		case likely[s.e] != nil:
			out.unnamed[s.m.ID] = likely[s.e]
			out.changed, out.likely = append(out.changed, s.m), append(out.likely, s.m)
		default:
			out.missing = append(out.missing, s.m)
		}
	}
	return out
}

// apart cuts a copy and returns the tables that do not stand in the journal to
// the letter, and the texts of those that do.
func (l *lackingIn) apart(old []byte) (rest []byte, same map[string]bool) {
	if l.texts == nil {
		l.texts = make(map[string]bool, len(l.entries))
		for _, e := range l.entries {
			l.texts[e.Text] = true
		}
	}
	same = map[string]bool{}
	if len(marksIn(old)) > 0 {
		return old, same
	}
	c := &cutter{b: old, line: 1}
	for {
		p, ok := c.next()
		if !ok {
			return rest, same
		}
		text, _ := cleaned(JournalFile, p)
		if text = trimTail(text); l.texts[text] {
			same[text] = true
			continue
		}
		if p.header {
			rest = append(append(rest, p.text...), '\n')
		}
	}
}

// counterpart is the entry of the journal that an entry of a copy became: of
// the same identifier and moment of writing, whatever it says now. One
// identifier may name several entries, as after a merge: each has one
// counterpart.
func (l *lackingIn) counterpart(e *Entry, id string, same map[string]bool, taken map[*Entry]bool) *Entry {
	l.index()
	var spoilt *Entry
	for _, x := range l.byID[id] {
		switch {
		case e.Event == nil && wroteAt(x, e.Written):
			return x // nobody misses what could not be read there either
		case x.Event == nil:
			if wroteAt(x, e.Written) || !hasWritten.MatchString(x.Text) {
				spoilt = x
			}
		case !same[x.Text] && !taken[x] && (x.Written == e.Written || x.Kind == e.Kind && saysOf(x) == saysOf(e)):
			return x
		}
	}
	return spoilt
}

// index finds the entries of the journal by the identifiers in them.
func (l *lackingIn) index() {
	if l.byID != nil {
		return
	}
	l.byID, l.atMoment, l.byHand = make(map[string][]*Entry, len(l.entries)), map[string][]*Entry{}, map[string][]*Entry{}
	for _, e := range l.entries {
		id := statedIn(e.Text)
		if id != "" {
			l.byID[id] = append(l.byID[id], e)
		}
		switch {
		case e.Written != "":
			l.atMoment[moment(e)] = append(l.atMoment[moment(e)], e)
		case e.Event != nil && id == "":
			l.byHand[e.Kind+saysOf(e)] = append(l.byHand[e.Kind+saysOf(e)], e)
		}
	}
}

func (l *lackingIn) replaced() map[*Entry]*Entry {
	if l.settled == nil {
		l.settled = settle(l.entries, l.f.left).replaced
	}
	return l.settled
}

// wroteAt reports whether an entry, which perhaps cannot be read, was written
// at a moment.
func wroteAt(e *Entry, at Moment) bool {
	return e.Written == at || e.Event == nil && strings.Contains(e.Text, string(at))
}

// saysOf is what an entry says, without when it was written and under which
// identifier.
func saysOf(e *Entry) string {
	vals := e.Values()
	if vals == nil {
		return e.Text
	}
	var b strings.Builder
	for _, k := range sortedKeys(vals) {
		b.WriteString(k + "\x00" + vals[k] + "\x00")
	}
	return b.String()
}

// statedIn is the identifier that stands in the text of an entry.
func statedIn(text string) string {
	if !strings.Contains(text, "entry") {
		return ""
	}
	if m := hasEntry.FindStringSubmatch(text); m != nil {
		return strings.TrimSpace(m[1])
	}
	return ""
}

// compared holds all daily copies against a journal that was read: what is
// missing, as Missing says it, and what stands there without its identifier, by
// the one under which it was recorded.
func (f *Folder) compared(b []byte, entries []*Entry, l last) (out []Missed, nameless map[string]*Entry) {
	in := f.lackingIn(b, entries)
	nameless = map[string]*Entry{}
	at := map[string]int{} // place in out
	seen := map[string]bool{}
	for _, c := range f.copies(l) {
		old, err := f.bytesOf(c.name)
		if err != nil {
			continue
		}
		lack, nth := in.of(c.name, old), map[string]int{}
		maps.Copy(nameless, lack.unnamed)
		for _, m := range lack.missing {
			if c.other && m.written.Day() >= f.today {
				continue
			}
			seen[m.ID] = true
			key := m.ID + " " + string(m.written)
			nth[key]++
			key += strings.Repeat("'", nth[key])
			if i, twice := at[key]; twice {
				out[i] = m // the newest copy has what it said last
				continue
			}
			at[key] = len(out)
			out = append(out, m)
		}
	}
	gone := !slices.ContainsFunc(entries, func(e *Entry) bool { return e.Called(l.Entry) })
	if gone && l.Entry != "" && !seen[l.Entry] && !in.left.names(l.Entry) && nameless[l.Entry] == nil {
		out = append(out, Missed{ID: l.Entry})
	}
	return out, nameless
}
