package forecast

import (
	"hodaba/yard"
)

// evidence is what was seen on a pile that tells how far its mycelium is; days
// are those of the weather.
type evidence struct {
	looks   []look
	fruited *flushed
	rounds  []round // on which nothing was up, before it first fruited
	logs    int     // that stood
}

// look is a look at log ends. Of what was not looked for, the number is −1.
type look struct {
	day                         int32
	looked                      int
	rings, spots, springy, dull int
	seen                        *yard.Seen
}

// flushed is the first flush that was seen.
type flushed struct {
	day    int32
	logs   int      // that bore; 0 not said
	others []string // piles of the same basket: it may have come from them
	seen   *yard.Seen
}

// round is one on which nothing was up.
type round struct {
	day  int32
	seen *yard.Seen
}

func (e *evidence) any() bool { return len(e.looks) > 0 || e.fruited != nil || len(e.rounds) > 0 }

const (
	vagueDays   = 31 // a look as vague as that is still one
	unknownLogs = 20 // that a pile is taken to have had, where nobody counted
)

// evidenceOf collects it. A look of which nobody said what it found, or at no
// log, is none; a day as vague as a season cannot say when.
func (r *run) evidenceOf(p *yard.Pile) *evidence {
	e := &evidence{logs: max(p.Started, p.Logs, 1)}
	if !p.LogsKnown && p.Started == 0 {
		e.logs = unknownLogs
	}
	if r.plain {
		return e
	}
	for i := range p.Seen {
		s := &p.Seen[i]
		if s.On.From > r.asOf || s.On.From < p.Since.From {
			continue
		}
		day, vague := int32(min(s.On.To, r.asOf)-r.start), s.On.To-s.On.From > vagueDays
		switch {
		case s.Kind == "harvested" || s.Kind == "pinned":
			if e.fruited == nil || day < e.fruited.day {
				e.fruited = &flushed{day: day, logs: s.Logs, others: others(p, s), seen: s}
			}
		case s.Kind == "checked" && !vague:
			if l := (look{day, s.LookedAt, s.With, s.Spots, s.Springy, s.Dull, s}); l.says() {
				e.looks = append(e.looks, l)
			}
		case s.Kind == "walked" && s.Part == "" && !vague:
			e.rounds = append(e.rounds, round{day, s})
		}
	}
	if e.fruited != nil {
		kept := e.rounds[:0]
		for _, w := range e.rounds {
			if w.day < e.fruited.day {
				kept = append(kept, w)
			}
		}
		e.rounds = kept
	}
	return e
}

// says reports whether a look found anything out.
func (l *look) says() bool {
	return l.looked > 0 && max(l.rings, l.spots, l.springy, l.dull) >= 0
}

// others are the piles from which the basket of a harvest may have come
// besides p.
func others(p *yard.Pile, s *yard.Seen) (names []string) {
	for _, k := range p.Picks {
		if k.Entry != s.Entry || s.Entry == nil || len(k.Piles) < 2 {
			continue
		}
		for _, name := range k.Piles {
			if name != p.Name {
				names = append(names, name)
			}
		}
	}
	return names
}

// again reports whether look i may have been at the same logs as the one
// before it: as many, and never fewer rings.
func (e *evidence) again(i int) bool {
	if i == 0 || !e.asMany(i) {
		return false
	}
	for k := 1; k < len(e.looks); k++ {
		if e.asMany(k) && e.looks[k].rings < e.looks[k-1].rings {
			return false // not the same logs all along, then
		}
	}
	return true
}

// asMany reports whether a look for rings was at as many logs as the one
// before it.
func (e *evidence) asMany(i int) bool {
	a, b := &e.looks[i-1], &e.looks[i]
	return a.rings >= 0 && b.rings >= 0 && b.looked == a.looked
}
