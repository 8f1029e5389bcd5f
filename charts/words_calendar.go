package charts

import (
	"fmt"
	"strings"

	"hodaba/forecast/tincture"
)

// dayWords say of a day of a batch how sure it is, what it takes and what to
// mind, a line for each.
func (b *book) dayWords(t tincture.Batch, steps []batchDay) string {
	if steps[0].done {
		return "Done, as the journal has it.\n" + b.asOfWords()
	}
	var lines []string
	has := func(step string) bool {
		for _, s := range steps {
			if s.step == step {
				return true
			}
		}
		return false
	}
	stands := b.stands(t.Lot)
	switch {
	case stands:
		lines = append(lines, "Put up on "+fullDay(t.Start)+".")
	case has("start"):
		lines = append(lines, startLine(t))
	default:
		lines = append(lines, ifItStarts(t))
	}
	if has("start") {
		lines = append(lines, b.takesLine(t))
	}
	if has("bottle") {
		lines = append(lines, b.bringsLine(t))
	}
	for _, c := range b.mind(t, has) {
		lines = append(lines, "Mind: "+c)
	}
	lines = append(lines, b.asOfWords())
	return strings.Join(lines, "\n")
}

// stands reports whether a lot stands in the plan.
func (b *book) stands(lot string) bool {
	for _, t := range b.Result.Plan.Standing {
		if t.Lot == lot {
			return true
		}
	}
	return false
}

// timesInTen is inTen in full: "8 times in 10".
func timesInTen(p float64) string {
	n, rest, _ := strings.Cut(inTen(p), " ")
	n = strings.NewReplacer("<", "less than ", ">", "more than ").Replace(n)
	if strings.HasSuffix(n, "1") {
		return n + " time " + rest
	}
	return n + " times " + rest
}

func startLine(t tincture.Batch) string {
	s := capital(timesInTen(t.StartChance)) + " it can start by then"
	if t.Early != 0 && t.Late != 0 && t.Early != t.Late {
		s += "; everything for it is there early by " + fullDay(t.Early) + ", late by " + fullDay(t.Late)
	}
	return s + "."
}

func ifItStarts(t tincture.Batch) string {
	return "Holds if it starts on " + fullDay(t.Start) + ", and " + timesInTen(t.StartChance) + " it can."
}

// takesLine is what a batch takes.
func (b *book) takesLine(t tincture.Batch) string {
	var each []string
	for _, n := range t.Needs {
		one := b.units.g(n.Grams) + " of " + needName(n)
		if n.Optional {
			one += " (may be left out)"
		}
		each = append(each, one)
	}
	if t.SpiritML > 0 {
		spirit := b.units.ml(t.SpiritML) + " of spirit"
		if t.SpiritABV > 0 {
			spirit += " of " + figure(t.SpiritABV) + " %"
		}
		each = append(each, spirit)
	}
	if len(each) == 0 {
		return ""
	}
	return "Takes " + listing(each) + "."
}

// needName is an ingredient, with its form where that is not pieces.
func needName(n tincture.Need) string {
	switch n.Form {
	case "powder":
		return n.Species + " powder"
	case "fresh":
		return "fresh " + n.Species
	}
	return n.Species
}

// bringsLine is what should come out.
func (b *book) bringsLine(t tincture.Batch) string {
	if !(t.Bottles.P50 > 0) {
		return ""
	}
	s := "About " + bottlesOf(t, b.units.ml)
	switch {
	case t.MeasuredABV:
		s += ", measured at " + figure(t.ABV.P50) + " % by volume"
	case t.ABV.P50 > 0:
		s += fmt.Sprintf(", worked out at %s %% by volume (%s to %s)", figure(t.ABV.P50), figure(t.ABV.P10), figure(t.ABV.P90))
	}
	return s + "."
}

// mind are the cautions that belong to a day, in short; in full they stand in
// the calendar of hodaba batches.
func (b *book) mind(t tincture.Batch, has func(string) bool) (list []string) {
	add := func(when bool, text string) {
		if when && text != "" {
			list = append(list, text)
		}
	}
	spirit := t.SpiritML > 0
	add(has("start"), "only mushrooms that someone experienced has identified with certainty.")
	add(spirit && (has("start") || has("strain")), "spirit vapour burns: no flame or spark, air the room.")
	add(spirit && has("decoct") && (t.Strain != 0 || t.StrainedOn != 0), "the marc carries spirit into the pot, and its vapour burns: electric plate, lid off, window open.")
	add(has("decoct"), "a decoction spoils: cool it fast and blend it at once, never keep it warm and closed.")
	if has("blend") || has("bottle") && t.Blend == 0 {
		add(t.ABV.P50 > 0, strings.Replace(tincture.KeepingCaution(t.ABV.P50, b.Data.Practice.Keeping), "W", "w", 1))
		add(t.Bottles.P50 > 0 && !(t.ABV.P50 > 0), "there is no spirit in it, and it does not keep.")
	}
	add(spirit && has("bottle"), "it holds alcohol: not for children, in pregnancy, or with medicines without asking.")
	return list
}

func (b *book) asOfWords() string {
	return "As of " + fullDay(b.today()) + "; all of it, with every caution: hodaba batches"
}
