package tincture

import (
	"slices"
	"strconv"
	"strings"

	"hodaba/yard"
)

// Gain is what leaving out ingredients would bring to a batch that waits for
// them.
type Gain struct {
	Species []string  // left out together
	Start   yard.Date // on which it could start without them
	Chance  float64   // that the order holds without them; 0 in a calendar
	Days    int       // by which that is earlier; 0 where it has no date with them
	Or      bool      // the recipe names what can stand in for one of them, and that is late too
}

// gains tries a batch without each ingredient that often comes last, and where
// none of them alone brings a week, without all of those. What brings less
// than a week is left out.
func (s *scheduler) gains(w *want, l *placing) (gs []Gain) {
	if l.start != 0 && l.start == s.diary.onOrAfter(s.terms.AsOf) {
		return nil
	}
	late := lateLines(l, len(s.follow))
	for _, i := range late {
		if g, ok := s.without(w, l, i); ok {
			gs = append(gs, g)
		}
	}
	if len(gs) == 0 && len(late) > 1 {
		if g, ok := s.without(w, l, late...); ok {
			gs = append(gs, g)
		}
	}
	return gs
}

// without says what leaving out some lines would bring, by placing the batch
// again without them; ok is false where that is less than a week, or nothing
// would be left of it.
func (s *scheduler) without(w *want, l *placing, lines ...int) (g Gain, ok bool) {
	if len(lines) >= len(w.lines) {
		return Gain{}, false
	}
	less := *w
	less.lines = nil
	for i, line := range w.lines {
		if !slices.Contains(lines, i) {
			less.lines = append(less.lines, line)
			continue
		}
		n := w.needs[line.need]
		g.Species = append(g.Species, n.Species)
		g.Or = g.Or || len(n.Or) > 0
	}
	other := s.place(&less)
	if other.start == 0 {
		return Gain{}, false
	}
	g.Start = other.start
	if l.start != 0 {
		g.Days = int(l.start - other.start)
		return g, g.Days >= week
	}
	return g, true
}

// says is the gain in words.
func (g Gain) says() string {
	names := strings.Join(g.Species, " and ")
	weeks := g.Days / week
	switch {
	case g.Days == 0:
		return "without " + names + " it could start on " + g.Start.String()
	case weeks == 1:
		return "without " + names + ": a week earlier"
	}
	return "without " + names + ": " + strconv.Itoa(weeks) + " weeks earlier"
}
