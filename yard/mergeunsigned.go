package yard

import "fmt"

// saysWhen is what an entry says, its kind and when it was written.
func saysWhen(e *Entry) string { return moment(e) + "\x00" + saysOf(e) }

// nobodySigned reports whether an entry of the program's has no identifier that
// it gave: somebody took it out, or wrote a word of his own.
func nobodySigned(e *Entry) bool {
	_, _, given := numbered(statedIn(e.Text))
	return e.Written != "" && e.Event != nil && !given
}

// withoutName meets entries that say the same and were written at the same
// moment, of which one stands without its identifier; nameless are those of
// which the daily copies know.
func (l *layer) withoutName(there, here []*Entry, nameless map[string]*Entry) (rest []*Entry) {
	own := map[string][]*Entry{}
	var stands map[string][]*Entry // with their identifier
	for _, e := range here {
		if !l.met[e] && nobodySigned(e) {
			own[saysWhen(e)] = append(own[saysWhen(e)], e)
		}
	}
	for _, e := range there {
		if !nobodySigned(e) {
			continue
		}
		if stands == nil { // seldom
			stands = map[string][]*Entry{}
			for _, x := range here {
				if !l.met[x] && x.Written != "" && !nobodySigned(x) {
					stands[saysWhen(x)] = append(stands[saysWhen(x)], x)
				}
			}
		}
	}
	for _, e := range there {
		id := e.signature()
		x := nameless[id]
		switch {
		case e.Written == "" || e.Event == nil || len(l.signed[id]) > 0:
			x = nil
		case x == nil || l.met[x] || x.Kind != e.Kind || saysOf(x) != saysOf(e):
			x = l.firstOf(own[saysWhen(e)])
			if x == nil && nobodySigned(e) {
				x = l.firstOf(stands[saysWhen(e)])
			}
		}
		if x == nil {
			rest = append(rest, e)
			continue
		}
		l.met[x] = true
		l.t.Same++
		if p, of := x.standsUnsigned(e); of {
			p.File = l.file
			l.t.Problems = append(l.t.Problems, p)
		}
	}
	return rest
}

// firstOf is the first entry that was not met yet.
func (l *layer) firstOf(of []*Entry) *Entry {
	for _, x := range of {
		if !l.met[x] {
			return x
		}
	}
	return nil
}

// standsUnsigned says of which of two entries, the own one and its equal in the
// other copy, the identifier has to be written in again.
func (e *Entry) standsUnsigned(there *Entry) (p Problem, of bool) {
	p = Problem{Line: there.Line, Entry: there.ID, Grade: Odd}
	switch {
	case !nobodySigned(there):
		p.Text = fmt.Sprintf("%s stands here without its identifier or under another, in line %d, and is not taken over again", there.ID, e.Line)
		p.Remedy = "write entry = " + quote(there.signature()) + " here as its last line again"
	case !nobodySigned(e) && e.Written != "":
		p.Text = fmt.Sprintf("%s, in line %d here, stands in the other copy without its identifier or under another", e.Name(), e.Line)
		p.Remedy = "write entry = " + quote(e.signature()) + " there as its last line again"
	default:
		return p, false
	}
	return p, true
}
