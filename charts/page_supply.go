package charts

import (
	"fmt"

	"hodaba/forecast"
	"hodaba/yard"
)

// supplyFile is the page of supply against promises.
const supplyFile = "supply.html"

// supplyPage is its main part.
type supplyPage struct {
	Now      []doorLine
	Lead     []string
	Chart    *drawing
	Gluts    []glutPart
	Due      *grid
	Weeks    *grid
	Species  *grid
	Other    *grid
	Notes    []string
	Cautions []string
}

// glutPart is one glut with what to do.
type glutPart struct {
	ID, Name, Lead string
	Order          string
	Leave          []string
	Close          []string   // commands that put soaks off
	First          string     // of what the plan is
	Days, Later    []glutLine // a week, and the days after it
	Book           string
}

type glutLine struct {
	When string
	Do   []string
}

// How much of the supply is listed, our own judgement.
const (
	duesListed  = 16 // days on which something is due
	glutsListed = 3  // gluts with what to do on each day
)

func (b *book) supplySheet() sheet {
	p := supplyPage{Cautions: []string{sitWarm, eatSafely, lawDiffers}}
	for _, t := range b.tasks {
		if t.Page == supplyFile {
			p.Now = append(p.Now, b.doorLine(t))
		}
	}
	sh := sheet{kind: "supply", file: supplyFile, title: "Supply against promises"}
	s := b.Result.Supply
	if s == nil {
		p.Lead = []string{"There is no forecast yet, so nothing can be set against what was promised."}
		sh.main = p
		return sh
	}
	p.Lead = b.supplySaid(s)
	if p.Chart = b.supplyDrawing(s); p.Chart != nil {
		sh.charts = append(sh.charts, *p.Chart)
	}
	for i, g := range s.Gluts[:min(len(s.Gluts), glutsListed)] {
		p.Gluts = append(p.Gluts, b.glutPart(fmt.Sprintf("g%d", i+1), g))
	}
	p.Due, p.Weeks, p.Species, p.Other = b.duesAhead(s), b.bookByWeek(s), b.speciesByWeek(s), b.otherPromises(s)
	p.Notes = supplyNotes(s)
	sh.main = p
	return sh
}

// supplyNotes say what the numbers rest on.
func supplyNotes(s *forecast.Supply) []string {
	notes := []string{
		"What comes in a week is spread evenly over its days: the forecast knows the week of a flush better than its days.",
		"What is promised within a week is held back from the drier; the rest goes into it as soon as a load is full, something is on its last day, or the cold room fills up.",
	}
	if s.Planned() {
		notes = append(notes, "A week is called a glut, or short, where the chance of it is larger than confidence_percent in yard.toml leaves open.")
	}
	return notes
}

func (b *book) glutPart(id string, g forecast.Glut) glutPart {
	p := glutPart{ID: id, Name: capital(weeksWords(g.From, g.To)) + fmt.Sprintf(" %d", g.From.Year()),
		Lead: fmt.Sprintf("With a chance of %s more comes than can be sold, kept or dried; then it is about %s too much%s, %s.",
			percent(g.Chance), b.units.kg(g.Over.P50), inAll(g), mostly("times", b.units.kg(g.Over.P10), b.units.kg(g.Over.P90)))}
	p.Order, p.First = pickOrder(g), b.planSaid(g)
	p.Leave, p.Close = b.leaveSaid(&g.Leave), putOffCommands(&g.Leave)
	for _, d := range g.Plan.Days {
		if do := b.glutDayWords(d); len(do) > 0 {
			p.Days = append(p.Days, glutLine{dayMonth(d.Day), do})
		}
	}
	if len(p.Days) > 7 {
		p.Days, p.Later = p.Days[:7], p.Days[7:]
	}
	p.Book = b.bookWords(g.Plan.Book)
	return p
}

// inAll is said of what is over where that is not all in the weeks of the plan.
func inAll(g forecast.Glut) string {
	if g.To > g.Plan.To {
		return " in all"
	}
	return ""
}

// planSaid says of which weeks the plan of a glut is, if not of all.
func (b *book) planSaid(g forecast.Glut) string {
	x := g.Plan
	if g.To <= x.To {
		return ""
	}
	return fmt.Sprintf("Day by day in %s: more comes in it with a chance of %s, then about %s too much, %s. The weeks after it are planned when they come.",
		weeksWords(x.From, x.To), percent(x.Chance), b.units.kg(x.Over.P50), mostly("times", b.units.kg(x.Over.P10), b.units.kg(x.Over.P90)))
}

// bookWords is where the kilograms of a glut come from and go to.
func (b *book) bookWords(x forecast.WeekBook) string {
	kg := b.units.kg
	text := fmt.Sprintf("Planned for a glut neither small nor large of its kind: %s in the cold before and %s picked; %s promised", kg(x.Before), kg(x.Came), kg(x.Sold))
	if x.Usual >= leastKG {
		text += ", " + kg(x.Usual) + " sold or eaten as usual"
	}
	return text + fmt.Sprintf(", %s dried, %s without room, and %s left in the cold.", kg(x.Dried), kg(x.Over), kg(x.Kept))
}

// duesAhead lists the next promises with their chances.
func (b *book) duesAhead(s *forecast.Supply) *grid {
	if len(s.Due) == 0 {
		return nil
	}
	g := &grid{Caption: "The next promises", Head: []string{"Day", "To", "What", "Promised", "Still open", "Chance that it is met"}, Words: 3}
	for _, d := range s.Due[:min(len(s.Due), duesListed)] {
		what, sure := d.Species, percent(d.Met)
		if what == "" {
			what = "any fresh"
		}
		switch {
		case d.Open == 0:
			sure = "delivered"
		case d.Day < b.today():
			sure = "the day is past"
		}
		g.add(fullDay(d.Day), d.To, what, b.units.kg(d.KG), b.units.kg(d.Open), sure)
	}
	return g
}

// telling are the weeks from the first to the last in which anything comes or
// is promised.
func telling(s *forecast.Supply) []forecast.SupplyWeek {
	from, to := len(s.Weeks), 0
	for i, w := range s.Weeks {
		if w.Came.P90 >= leastKG || w.Promised > 0 || w.Book.Before >= leastKG {
			from, to = min(from, i), i+1
		}
	}
	if from >= to {
		return nil
	}
	return s.Weeks[from:to]
}

// bookByWeek is where each week's kilograms go, on the average.
func (b *book) bookByWeek(s *forecast.Supply) *grid {
	weeks := telling(s)
	if len(weeks) == 0 || !s.Planned() {
		return nil
	}
	kg := b.units.kg
	g := &grid{Caption: "Where it goes, week by week, on the average of all that may come",
		Head: []string{"Week of", "In the cold before", "Picked", "Promised and delivered", "Sold or eaten as usual", "Dried", "Without room", "In the cold after"}}
	for _, w := range weeks {
		x := w.Book
		g.add(fullDay(w.Week), kg(x.Before), kg(x.Came), kg(x.Sold), kg(x.Usual), kg(x.Dried), kg(x.Over), kg(x.Kept))
	}
	return g
}

// speciesByWeek lists what each species brings.
func (b *book) speciesByWeek(s *forecast.Supply) *grid {
	kg := b.units.kg
	g := &grid{Caption: "By species: expected fresh, and promised by name", Words: 2,
		Head: []string{"Week of", "Species", "Chance of a picking", "Low", "Likely", "High", "Promised", "Chance that it is met"}}
	for _, w := range s.Weeks {
		for _, x := range w.Species {
			if x.Came.P90 < leastKG && x.Promised == 0 {
				continue
			}
			promised, sure := "", ""
			if x.Promised > 0 {
				promised, sure = kg(x.Promised), percent(x.Met)
			}
			g.add(fullDay(w.Week), x.Species, percent(x.Chance), kg(x.Came.P10), kg(x.Came.P50), kg(x.Came.P90), promised, sure)
		}
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

// otherPromises are those of bottles and dried goods, as written.
func (b *book) otherPromises(s *forecast.Supply) *grid {
	if len(s.Other) == 0 {
		return nil
	}
	g := &grid{Caption: "Other promises, as yard.toml says; these are not fresh mushrooms", Head: []string{"To", "What", "Amount", "When"}, Words: 4}
	for _, p := range s.Other {
		g.add(p.To, p.What, b.amount(p.Amount), promiseWhen(p))
	}
	return g
}

func promiseWhen(p yard.Promise) string {
	switch {
	case p.Every > 0 && p.By != 0:
		return "every " + count(p.Every, "day", "days") + " from " + fullDay(p.By)
	case p.Every > 0:
		return "every " + count(p.Every, "day", "days")
	}
	return fullDay(p.By)
}
