package tincture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/yard"
)

// week is the least gain, in days, for which leaving out an ingredient is worth
// a word.
const week = 7

// often is the share of draws in which an ingredient must come last to be
// tried without.
const often = 0.1

// why says what holds a batch up; "" where it can start on the first open day.
func (s *scheduler) why(w *want, l *placing) string {
	if l.start != 0 && l.start == s.diary.onOrAfter(s.terms.AsOf) {
		return ""
	}
	parts := []string{s.waits(w, l)}
	for _, i := range lateLines(l, len(s.follow)) {
		if gain := s.without(w, l, i); gain != "" {
			parts = append(parts, gain)
		}
	}
	return strings.Join(slices.DeleteFunc(parts, func(p string) bool { return p == "" }), "; ")
}

// waits says for what a batch waits: an ingredient, a jar, the pot, a day.
func (s *scheduler) waits(w *want, l *placing) string {
	late := lateLines(l, len(s.follow))
	switch {
	case l.start == 0 && l.arrived == 0 && len(late) > 0:
		return fmt.Sprintf("not enough %s: all is there before %v only %s", s.names(w, late), s.terms.Until, inTen(l.reached))
	case l.start == 0:
		return fmt.Sprintf("no free days, jars and pot for it before %v", s.terms.Until)
	case l.arrived != 0 && l.start > s.diary.onOrAfter(l.arrived):
		return s.waitsForRoom(w, l, late)
	case len(late) > 0:
		return "waits for " + s.names(w, late)
	}
	return ""
}

// waitsForRoom is about a batch whose ingredients are there before it starts.
func (s *scheduler) waitsForRoom(w *want, l *placing, late []int) string {
	ready := ""
	if len(late) > 0 {
		ready = fmt.Sprintf("%s there by %v, then ", s.names(w, late), l.arrived)
	}
	ready += "waits for "
	anyJar := w.pace
	anyJar.jars = 0
	if day, _ := s.room(&s.printed, anyJar, l.arrived); day != 0 && day < l.start {
		return ready + "free jars"
	}
	if day, _ := s.room(&s.printed, w.pace, l.arrived); day == l.start {
		return ready + "the pot, and open days to start and strain on"
	}
	return ready + "jars or goods that batches before it may still hold"
}

// without says what leaving an ingredient out would bring, by placing the
// batch again without it; "" where that is less than a week.
func (s *scheduler) without(w *want, l *placing, i int) string {
	if len(w.lines) < 2 {
		return ""
	}
	less := *w
	less.lines = slices.Delete(slices.Clone(w.lines), i, i+1)
	name := w.needs[w.lines[i].need].Species
	other := s.place(&less)
	switch {
	case other.start == 0:
		return ""
	case l.start == 0:
		return fmt.Sprintf("without %s it could start on %v", name, other.start)
	}
	weeks := int(l.start-other.start) / week
	switch {
	case weeks < 1:
		return ""
	case weeks == 1:
		return fmt.Sprintf("without %s: a week earlier", name)
	}
	return fmt.Sprintf("without %s: %d weeks earlier", name, weeks)
}

// lateLines are the ingredients that often come last, at most two, the one that
// does most often first.
func lateLines(l *placing, draws int) []int {
	var late []int
	for i, n := range l.held {
		if float64(n) >= often*float64(draws) {
			late = append(late, i)
		}
	}
	slices.SortStableFunc(late, func(a, b int) int { return l.held[b] - l.held[a] })
	return late[:min(len(late), 2)]
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

// inTen says a chance as so many times in ten.
func inTen(share float64) string {
	switch n := math.Round(share * 10); {
	case share == 0:
		return "never"
	case n < 1:
		return "less than once in 10 times"
	case n == 1:
		return "once in 10 times"
	default:
		return fmt.Sprintf("%g times in 10", n)
	}
}

// kitchenNotes says where jars or pot are too small, and what must be fresh.
func kitchenNotes(r yard.Recipe, needs []Need, k yard.Kitchen) (notes []string) {
	if macerates(r) && k.JarML > 0 && r.SpiritMLJar > k.JarML {
		notes = append(notes, fmt.Sprintf("%.0f ml of spirit per jar do not fit jars of %.0f ml, and the goods need room to swell.", r.SpiritMLJar, k.JarML))
	}
	if decocts(r) && k.PotML > 0 && r.WaterML > k.PotML {
		notes = append(notes, fmt.Sprintf("%.0f ml of water do not fit a pot of %.0f ml: boil it in %.0f loads, or top it up as it boils down.",
			r.WaterML, k.PotML, math.Ceil(r.WaterML/k.PotML)))
	}
	for _, n := range needs {
		if n.Form == fresh {
			notes = append(notes, fmt.Sprintf("%s goes in fresh: it is counted here as the dried goods it would become; keep %.0f g from a picking just before.", n.Species, n.Grams))
		}
	}
	return notes
}

// notes says where the blend does not use up what was made.
func (b Liquids) notes(r yard.Recipe) (notes []string) {
	if b.Weak {
		notes = append(notes, fmt.Sprintf("The tincture comes out at %.1f %% and so never reaches %g %%: take stronger spirit. Nothing is blended in.", b.Strained.ABV(), r.ToABV))
	}
	if b.ShortML >= spareML {
		notes = append(notes, b.shortNote(r))
	}
	if b.LeftOver == "decoction" && b.Left.VolumeML() >= spareML {
		notes = append(notes, fmt.Sprintf("About %.0f ml of decoction are left over. It does not keep: use it at once or freeze it.", b.Left.VolumeML()))
	}
	return notes
}

func (b Liquids) shortNote(r yard.Recipe) string {
	have := b.Decoction.VolumeML()
	if r.ToABV > 0 {
		return fmt.Sprintf("%.0f ml of decoction are about %.0f ml short of what %g %% takes: it comes out at %.1f %%.",
			have, b.ShortML, r.ToABV, b.Blended.ABV())
	}
	all := b.Strained.Plus(b.Decoction)
	return fmt.Sprintf("%.0f ml of decoction at %g:%g leave about %.0f ml of tincture over: boil down to %.0f ml to use it up, or pour all together for about %.0f ml at %.1f %%.",
		have, r.SpiritPart, r.WaterPart, b.Left.VolumeML(), have+b.ShortML, all.VolumeML(), all.ABV())
}
