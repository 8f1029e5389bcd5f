package tincture

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// week is the least gain, in days, for which leaving out an ingredient is worth
// a word.
const week = 7

// often is the share of draws in which an ingredient must come last to be
// tried without.
const often = 0.1

// mostLate keeps the number of calendars that are tried within bounds.
const mostLate = 3

// why says what holds a batch up; "" where it can start on the first open day.
func (s *scheduler) why(w *want, l *placing, gains []Gain) string {
	if l.start != 0 && l.start == s.diary.onOrAfter(s.terms.AsOf) {
		return ""
	}
	parts := []string{s.waits(w, l)}
	for _, g := range gains {
		parts = append(parts, g.says())
	}
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), "; ")
}

// waits says for what a batch waits: an ingredient, a jar, the pot, a day.
func (s *scheduler) waits(w *want, l *placing) string {
	late := lateLines(l, len(s.follow))
	switch {
	case l.start == 0 && l.arrived == 0 && len(late) > 0:
		return s.neverEnough(w, l, late)
	case l.start == 0:
		return fmt.Sprintf("no free days, jars and pot for it before %v", s.terms.Until)
	case l.arrived != 0 && l.start >= s.diary.onOrAfter(l.arrived)+week:
		return s.waitsForRoom(w, l, late)
	case len(late) > 0:
		return "waits for " + s.names(w, late)
	}
	return ""
}

// neverEnough is about a batch that is too seldom possible before the horizon.
func (s *scheduler) neverEnough(w *want, l *placing, late []int) string {
	if l.reached == 0 {
		return fmt.Sprintf("not enough %s before %v", s.names(w, late), s.terms.Until)
	}
	return fmt.Sprintf("enough %s by %v only %.0f times in 100 (%.0f are asked for)",
		s.names(w, late), s.terms.Until, math.Floor(l.reached*100), s.terms.Confidence*100)
}

// waitsForRoom is about a batch whose ingredients are there before it starts.
func (s *scheduler) waitsForRoom(w *want, l *placing, late []int) string {
	ready := ""
	if len(late) > 0 {
		ready = fmt.Sprintf("%s there by %v, then ", s.names(w, late), l.arrived)
	}
	ready += "waits for "
	if day, _ := s.room(&s.printed, w.pace, l.arrived); day < l.start {
		return ready + "jars or goods that batches before it may still hold"
	}
	anyJar := w.pace
	anyJar.jars = 0
	if day, _ := s.room(&s.printed, anyJar, l.arrived); day < l.start {
		return ready + "free jars"
	}
	return ready + "open days to start and to strain on, and the pot"
}

// lateLines are the ingredients that often come last, at most three, the one
// that does most often first.
func lateLines(l *placing, draws int) []int {
	var late []int
	for i, n := range l.held {
		if float64(n) >= often*float64(draws) {
			late = append(late, i)
		}
	}
	slices.SortStableFunc(late, func(a, b int) int { return l.held[b] - l.held[a] })
	return late[:min(len(late), mostLate)]
}

// names are the ingredients of lines, with what can stand in for them.
func (s *scheduler) names(w *want, lines []int) string {
	var names []string
	for _, i := range lines {
		n := w.needs[w.lines[i].need]
		names = append(names, strings.Join(append([]string{n.Species}, n.Or...), " or "))
	}
	return strings.Join(names, " and ")
}
