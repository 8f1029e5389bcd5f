package charts

import (
	"fmt"
	"slices"
	"strconv"

	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// jarsPage is the main part of the jar shelf.
type jarsPage struct {
	Now      []doorLine
	Lead     string
	Shelves  []shelf
	Dates    *grid
	Batches  []batchPart
	Notes    []string
	Cautions []string
}

// shelf is a table with a row for each jar and a column for each week of a
// quarter, so that it fits a sheet of paper.
type shelf struct {
	Name   string
	Months []shelfMonth
	Weeks  []string // day of the month on which each begins
	Jars   []shelfJar
	Beside [][]string // by week, what is done with batches beside the jars
}

type shelfMonth struct {
	Name  string
	Weeks int
}

type shelfJar struct {
	Number int
	Cells  []shelfCell
}

// shelfCell is one week of one jar.
type shelfCell struct {
	Lines []string // number of each batch that stands in it, with the steps of the week: "1 S 13"
	First bool     // a batch was put up in this week, or stands since before
	Other bool     // every other stay in this jar, so that neighbours differ
}

// batchPart is one batch under the shelf.
type batchPart struct {
	Tag, Lot, Recipe string
	Page             string // its record, where it is put up
	Said             string
	Needs            *grid
	Facts            []string
	Cautions         []string // of this batch alone; the others stand at the foot of the page
	Why              string
}

// How far the shelf is drawn, in weeks.
const (
	quarter  = 13
	quarters = 4
)

func (b *book) jarsSheet() sheet {
	j := jarsPage{Cautions: []string{spiritSafely, eatSafely, lawDiffers}}
	for _, t := range b.tasks {
		if t.Page == "jars.html" {
			j.Now = append(j.Now, b.doorLine(t))
		}
	}
	if p := b.Result.Plan; p != nil {
		all := slices.Concat(p.Standing, p.Batches)
		j.Shelves, j.Dates = b.shelves(all), b.batchDates(all)
		j.Notes = append(promisedNotes(p), p.Notes...)
		if all := p.Cautions(); len(all) > 0 {
			j.Cautions = all
		}
		for i, t := range all {
			part := b.batchPart(strconv.Itoa(i+1), t, i < len(p.Standing))
			part.Cautions = slices.DeleteFunc(part.Cautions,
				func(c string) bool { return slices.Contains(j.Cautions, c) })
			j.Batches = append(j.Batches, part)
		}
		j.Lead = b.jarsLead(p)
	} else {
		j.Lead = "No recipe is known, so there is no calendar yet: write one into recipes.toml."
	}
	return sheet{kind: "jars", file: "jars.html", title: "Jar shelf", main: j}
}

// promisedNotes are promises of bottles, and how the last batches came out.
func promisedNotes(p *tincture.Plan) (notes []string) {
	for _, k := range p.Promises {
		to := ""
		if k.To != "" {
			to = " to " + k.To
		}
		notes = append(notes, fmt.Sprintf("%s of %s promised%s by %s: there with a chance of %s.",
			count(k.Bottles, "bottle", "bottles"), k.Recipe, to, fullDay(k.By), percent(k.Chance)))
	}
	for _, m := range p.Made[max(len(p.Made)-mostMade, 0):] {
		for _, y := range m.Yields {
			notes = append(notes, fmt.Sprintf("%s, %s: %.0f of %.0f ml expected, %.0f %%.", m.Lot, y.Step, y.ActualML, y.Theoretical, y.Percent()))
		}
	}
	return notes
}

func (b *book) jarsLead(p *tincture.Plan) string {
	dated := 0
	for _, t := range p.Batches {
		if t.Start != 0 {
			dated++
		}
	}
	s := "No batch stands"
	inJars := slices.DeleteFunc(slices.Clone(p.Standing), func(t tincture.Batch) bool { return t.StrainedOn != 0 })
	if n := len(inJars); n > 0 {
		s = count(n, "batch stands", "batches stand")
	}
	s += " in jars now, and " + count(dated, "more has a day", "more have a day") + " to be put up"
	if dated > 0 {
		s += "; the chance that all of them can keep to their days is " + percent(p.Holds)
	}
	if n := len(p.Batches) - dated; n > 0 {
		s += ". " + count(n, "batch has", "batches have") + " no day yet"
	}
	return s + "."
}

// shelves draws the jars quarter by quarter: the one of today, and later ones
// in which something happens.
func (b *book) shelves(all []tincture.Batch) []shelf {
	jars := b.State.Config.Kitchen.Jars
	for _, t := range all {
		for _, n := range t.Jars {
			jars = max(jars, n)
		}
	}
	if jars == 0 {
		return nil
	}
	var list []shelf
	monday := sunday(b.today()) - 6
	for q := range quarters {
		s, busy := shelfFrom(all, jars, monday+yard.Date(7*quarter*q))
		if q == 0 || busy {
			list = append(list, s)
		}
	}
	return list
}

// shelfFrom is the shelf of the quarter that begins on a Monday; busy says
// whether anything stands in it.
func shelfFrom(all []tincture.Batch, jars int, monday yard.Date) (s shelf, busy bool) {
	s.Name = "Jars by week, from " + fullDay(monday)
	for w := range quarter {
		day := monday + yard.Date(7*w)
		s.Weeks = append(s.Weeks, strconv.Itoa(day.Day()))
		name := day.Time().Format("Jan 2006")
		if n := len(s.Months); n == 0 || s.Months[n-1].Name != name {
			s.Months = append(s.Months, shelfMonth{Name: name})
		}
		s.Months[len(s.Months)-1].Weeks++
	}
	for n := 1; n <= jars; n++ {
		jar := shelfJar{n, jarCells(all, n, monday, quarter)}
		s.Jars = append(s.Jars, jar)
		busy = busy || slices.ContainsFunc(jar.Cells, func(c shelfCell) bool { return len(c.Lines) > 0 })
	}
	beside, some := besides(all, monday, quarter)
	s.Beside = beside
	return s, busy || some
}

// jarCells are the weeks of one jar. A batch stands in its jars from the day
// it is put up to the day it is strained; a batch that stands already does so
// from the first week on.
func jarCells(all []tincture.Batch, jar int, monday yard.Date, weeks int) []shelfCell {
	cells := make([]shelfCell, weeks)
	stays := 0
	for i, t := range all {
		if !slices.Contains(t.Jars, jar) || t.Strain == 0 {
			continue
		}
		stays++
		for w := range cells {
			from := monday + yard.Date(7*w)
			if t.Start > from+6 || t.Strain < from {
				continue
			}
			c := &cells[w] // one batch may leave and the next come in the same week
			c.Lines = append(c.Lines, tagged(i, letters(from, stepDay{"P", t.Start},
				stepDay{"S", t.Strain}))...)
			c.First = c.First || w == 0 || (t.Start >= from && t.Start <= from+6)
			c.Other = stays%2 == 0
		}
	}
	return cells
}

type stepDay struct {
	letter string
	day    yard.Date
}

// tagged puts the number of a batch before each of its steps, or stands for
// it where it has none.
func tagged(batch int, steps []string) []string {
	tag := strconv.Itoa(batch + 1)
	if len(steps) == 0 {
		return []string{tag}
	}
	lines := make([]string, len(steps))
	for i, s := range steps {
		lines[i] = tag + "\u00a0" + s
	}
	return lines
}

// letters are the steps that fall in the week from a Monday on, each day of
// the month after its letters: "DM 13", "B 14".
func letters(monday yard.Date, steps ...stepDay) []string {
	var said []string
	for i := 0; i < len(steps); {
		s := steps[i]
		for i++; i < len(steps) && steps[i].day == s.day; i++ {
			s.letter += steps[i].letter
		}
		if s.day != 0 && s.day >= monday && s.day <= monday+6 {
			said = append(said, s.letter+"\u00a0"+strconv.Itoa(s.day.Day()))
		}
	}
	return said
}

// besides are decocting, mixing and bottling, which happen beside the jars,
// week by week: "1 DM 13", "1 B 14".
func besides(all []tincture.Batch, monday yard.Date, weeks int) (cells [][]string, some bool) {
	cells = make([][]string, weeks)
	for i, t := range all {
		for w := range cells {
			if l := letters(monday+yard.Date(7*w), stepDay{"D", t.Decoct}, stepDay{"M", t.Blend},
				stepDay{"B", t.Bottled}); len(l) > 0 {
				cells[w] = append(cells[w], tagged(i, l)...)
				some = true
			}
		}
	}
	return cells, some
}

// batchPart is everything about one batch.
func (b *book) batchPart(tag string, t tincture.Batch, standing bool) batchPart {
	p := batchPart{Tag: tag, Lot: t.Lot, Recipe: t.Recipe, Cautions: slices.Clone(t.Cautions), Why: t.Why,
		Page: b.batches[t.Lot], Said: b.batchSaid(t, standing)}
	if !standing {
		p.Needs = b.needs(t)
	}
	p.Facts = append(b.batchFacts(t), t.Notes...)
	return p
}

// batchDates are the days of every batch that has any.
func (b *book) batchDates(all []tincture.Batch) *grid {
	g := &grid{Caption: "The days of every batch", Words: 8,
		Head: []string{"", "Batch", "Put up (P)", "Shake until", "Strain (S)", "Decoct, mix (D, M)",
			"Bottle (B)", "Chance"}}
	for i, t := range all {
		if t.Start == 0 && t.Strain == 0 {
			continue
		}
		g.add(strconv.Itoa(i+1), t.Lot, b.weekDay(t.Start), b.weekDay(t.ShakeUntil),
			b.weekDay(t.Strain),
			b.weekDays(t.Decoct, t.Blend), b.weekDay(t.Bottled), percent(t.StartChance))
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// weekDays are two days that mostly are one.
func (b *book) weekDays(first, second yard.Date) string {
	if first == second || second == 0 {
		return b.weekDay(first)
	}
	if first == 0 {
		return b.weekDay(second)
	}
	return b.weekDay(first) + ", " + b.weekDay(second)
}

// weekDay is a day with its weekday, and with its year where that is not this
// one; a dash for none.
func (b *book) weekDay(d yard.Date) string {
	switch {
	case d == 0:
		return "–"
	case d.Year() == b.today().Year():
		return dayMonth(d)
	}
	return d.Time().Format("Mon 2 Jan 2006")
}

func (b *book) batchSaid(t tincture.Batch, standing bool) string {
	switch {
	case t.BlendedOn != 0 && t.Bottled != 0:
		return "Blended on " + fullDay(t.BlendedOn) + "; it should be bottled on " + fullDay(t.Bottled) + "."
	case t.StrainedOn != 0 && t.Bottled != 0:
		return "Strained on " + fullDay(t.StrainedOn) + "; it should be bottled on " + fullDay(t.Bottled) + "."
	case t.StrainedOn != 0:
		return "Strained on " + fullDay(t.StrainedOn) + "."
	case standing && t.Bottled != 0:
		return "Stands in its jars; it should be bottled on " + fullDay(t.Bottled) + "."
	case standing:
		return "Stands in its jars."
	case t.Start == 0:
		return fmt.Sprintf("Has no day yet: the chance that it can be put up at all before %s is %s.",
			monthYear(b.Result.Horizon), percent(t.Reached))
	}
	s := fmt.Sprintf("Can be put up on %s with a chance of %s", fullDay(t.Start), percent(t.StartChance))
	if t.Early != 0 && t.Late != 0 && t.Early != t.Late {
		s += fmt.Sprintf("; everything is there %s", mostly("times", fullDay(t.Early), fullDay(t.Late)))
	}
	return s + "."
}

func (b *book) batchFacts(t tincture.Batch) []string {
	var list []string
	switch {
	case t.Bottles.P50 > 0 && t.Bottles.P10 == t.Bottles.P90:
		list = append(list, "About "+bottlesOf(t, b.units.ml)+".")
	case t.Bottles.P50 > 0:
		what := fmt.Sprintf("%.0f bottles of %s", t.Bottles.P50, b.units.ml(t.BottleML))
		inAll := ""
		if len(t.Sizes) > 1 {
			what, inAll = bySize(t.Sizes, b.units.ml), " in all"
		}
		list = append(list, fmt.Sprintf("About %s, %s.", what, mostly("times", fmt.Sprintf("%.0f", t.Bottles.P10), fmt.Sprintf("%.0f%s", t.Bottles.P90, inAll))))
	}
	switch {
	case t.MeasuredABV:
		list = append(list, "Strength as measured: "+figure(t.ABV.P50)+" % by volume.")
	case t.ABV.P50 > 0:
		list = append(list, fmt.Sprintf("Strength when bottled about %s %% by volume, %s.",
			figure(t.ABV.P50), mostly("times", figure(t.ABV.P10), figure(t.ABV.P90))))
	}
	switch {
	case t.Ratio.P50 > 0 && t.Ratio.P10 == t.Ratio.P90:
		list = append(list, "Dried goods to finished liquid 1 : "+figure(t.Ratio.P50)+" (g to ml).")
	case t.Ratio.P50 > 0:
		list = append(list, fmt.Sprintf("Dried goods to finished liquid 1 : %s (g to ml), %s.",
			figure(t.Ratio.P50), mostly("times", "1 : "+figure(t.Ratio.P10), "1 : "+figure(t.Ratio.P90))))
	}
	if t.SpiritML > 0 {
		list = append(list, "Spirit needed: "+b.units.ml(t.SpiritML)+".")
	}
	return list
}

func (b *book) needs(t tincture.Batch) *grid {
	if len(t.Needs) == 0 {
		return nil
	}
	g := &grid{Caption: "What " + t.Lot + " needs", Head: []string{"Dried", "Needs", "On hand today",
		"Chance that it is short"}}
	for _, n := range t.Needs {
		name := needName(n)
		if n.Optional {
			name += " (may be left out)"
		}
		g.add(name, b.units.g(n.Grams), b.units.g(n.OnHand), percent(n.ShortChance))
	}
	return g
}
