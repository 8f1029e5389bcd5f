package yard

import (
	"slices"
	"strings"
)

// soughtIn is an entry of a copy that the journal has not under its identifier.
type soughtIn struct {
	e    *Entry
	m    Missed
	kept bool // it was taken for likely, and the copy has what stands in its place, too
}

// likelyMark is the line that an entry carries in a copy that keeps it beside
// what it likely became.
const likelyMark = "\n# likely changed by hand"

// markLikely is the text of such an entry.
func markLikely(text string) string { return strings.Replace(text, "\n", likelyMark+"\n", 1) }

// withoutMark is its text as it was recorded.
func withoutMark(text string) (was string, marked bool) {
	return strings.Replace(text, likelyMark, "", 1), strings.Contains(text, likelyMark)
}

// became finds the entries of the journal that sought ones became where
// somebody took the identifier out, or wrote another. First come all that say
// the same; a guess is made only of what is left. FORMAT.md, Entries that
// vanished.
func (l *lackingIn) became(sought []soughtIn, same map[string]bool, taken map[*Entry]bool) (is, likely map[*Entry]*Entry) {
	is, likely = map[*Entry]*Entry{}, map[*Entry]*Entry{}
	if len(sought) == 0 {
		return is, likely
	}
	l.index()
	free := func(x *Entry) bool { return !same[x.Text] && !taken[x] }
	at := map[string][]soughtIn{} // those that nothing says the same as, by kind and moment
	for _, s := range sought {
		if x := l.saysTheSame(s, free); x != nil {
			is[s.e], taken[x] = x, true
			continue
		}
		at[moment(s.e)] = append(at[moment(s.e)], s)
	}
	for k, of := range at {
		here := slices.DeleteFunc(slices.Clone(l.atMoment[k]), func(x *Entry) bool { return x.Event == nil || statedIn(x.Text) != "" || taken[x] })
		if len(of) == 1 && len(here) == 1 && (free(here[0]) || of[0].kept) && mostlySame(of[0].e, here[0]) {
			likely[of[0].e], taken[here[0]] = here[0], true
		}
	}
	return is, likely
}

// saysTheSame is a free entry of the journal that says what a sought one said:
// one of its moment without identifier; then one with another that no program
// gave, or that was written over it; then one without both.
func (l *lackingIn) saysTheSame(s soughtIn, free func(*Entry) bool) *Entry {
	says := saysOf(s.e)
	var other *Entry
	for _, x := range l.atMoment[moment(s.e)] {
		id := statedIn(x.Text)
		switch {
		case !free(x) || saysOf(x) != says:
		case id == "":
			return x
		case other == nil && x.Event != nil && l.writtenOver(s.m.ID, id):
			other = x
		}
	}
	if other != nil {
		return other
	}
	for _, x := range l.byHand[s.e.Kind+says] {
		if free(x) {
			return x
		}
	}
	return nil
}

// writtenOver reports whether an identifier may have been written over another:
// where the program may have given both, only within one writer, and where no
// copy has both, as two entries can say the same in one second.
func (l *lackingIn) writtenOver(was, is string) bool {
	w, _, given := numbered(is)
	if !given {
		return true
	}
	if own, _, ok := numbered(was); !ok || own != w {
		return false
	}
	if l.inCopies == nil {
		l.inCopies = []map[string]bool{}
		for _, c := range l.f.copies(l.f.last()) {
			b, err := l.f.bytesOf(c.name)
			if err != nil {
				continue // told where it is looked for what vanished
			}
			ids := map[string]bool{}
			for id := range identifiersIn(b) {
				ids[id] = true
			}
			l.inCopies = append(l.inCopies, ids)
		}
	}
	return !slices.ContainsFunc(l.inCopies, func(ids map[string]bool) bool { return ids[was] && ids[is] })
}

// mostlySame reports whether two entries are of one day and pile and agree in
// more keys than they differ in.
func mostlySame(a, b *Entry) bool {
	was, is := a.Values(), b.Values()
	if was == nil || is == nil || was["on"] != is["on"] || was["pile"] != is["pile"] {
		return false
	}
	agree := 0
	for k, v := range is {
		if old, ok := was[k]; ok && old == v {
			agree++
		}
	}
	return agree > len(apart(a, b))
}

// moment is kind and moment of writing of an entry.
func moment(e *Entry) string { return e.Kind + string(e.Written) }
