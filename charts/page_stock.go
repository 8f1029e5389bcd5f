package charts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"hodaba/yard"
)

// stockPage is the main part of the page of the stock.
type stockPage struct {
	Now     []doorLine
	Lead    string
	Fresh   string
	Cold    *grid
	Older   string
	Drier   *grid
	Due     *grid
	Gone    *grid
	Sits    string
	Totals  *grid
	Lots    *grid
	Supply  []drawing
	Bottles *grid
	Batches []link // the record of each batch
	Bought  *grid
	Coming  *grid
	Counted *grid
}

func (b *book) stockSheet() sheet {
	s := stockPage{Lead: b.stockLead(), Totals: b.stockTotals(), Lots: b.dryLots(),
		Bottles: b.bottleStock(), Bought: b.bought(), Coming: b.inflows(),
		Fresh: b.freshLead(), Cold: b.freshLots(), Older: b.olderSaid(), Drier: b.drierLoads(), Due: b.dueThisWeek(), Gone: b.freshGone(),
		Counted: b.unexplained()}
	if s.Cold != nil || s.Drier != nil {
		s.Sits = sitWarm
	}
	for _, t := range b.tasks {
		if t.Page == "stock.html" {
			s.Now = append(s.Now, b.doorLine(t))
		}
	}
	for _, t := range b.State.Batches {
		if l := (link{Text: t.Lot, Href: b.batches[t.Lot]}); !slices.Contains(s.Batches, l) {
			s.Batches = append(s.Batches, l)
		}
	}
	for i, species := range b.wanted() {
		if d := b.supply("d"+strconv.Itoa(i+1), species); d != nil {
			s.Supply = append(s.Supply, *d)
		}
	}
	return sheet{kind: "stock", file: "stock.html", title: "Stock", main: s, charts: s.Supply}
}

// onHand sums the dried stock by species, in the order in which the lots
// first name them.
func (b *book) onHand() (order []string, grams map[string]float64) {
	grams = map[string]float64{}
	for _, l := range b.State.Dry {
		if _, seen := grams[l.Species]; !seen {
			order = append(order, l.Species)
		}
		grams[l.Species] += l.LeftG
	}
	return order, grams
}

func (b *book) stockLead() string {
	order, grams := b.onHand()
	var parts []string
	for _, s := range order {
		if grams[s] > 0 {
			parts = append(parts, b.units.g(grams[s])+" of "+s)
		}
	}
	if len(parts) == 0 {
		return "No dried mushrooms are on hand."
	}
	return "Dried and on hand: " + some(parts, namesInLine) + "."
}

// stockTotals sets what is on hand by species and form beside what this year
// should still bring of the species.
func (b *book) stockTotals() *grid {
	kinds := dryKinds(b.State)
	ahead, said := map[string]string{}, map[string]bool{}
	for _, s := range b.Result.Species {
		for _, y := range s.Years {
			if y.Year == b.today().Year() {
				ahead[s.Species] = b.units.kg(y.Dry.P50) + " (" + between(y.Dry, b.units.kg) + ")"
			}
		}
		if !slices.ContainsFunc(kinds, func(k kindOfDry) bool { return k.species == s.Species }) {
			kinds = append(kinds, kindOfDry{species: s.Species})
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	g := &grid{Caption: "Dried stock by species and form", Head: []string{"Species", "Form", "On hand",
		fmt.Sprintf("Rest of %d, of the species: likely (8 years in 10)", b.today().Year())}, Words: 2}
	for _, k := range kinds {
		rest := ahead[k.species]
		if said[k.species] {
			rest = ""
		}
		said[k.species] = true
		g.add(k.species, k.form, b.units.g(k.grams), rest)
	}
	return g
}

func (b *book) dryLots() *grid {
	g := &grid{Caption: "Dried stock by lot", Head: []string{"Lot", "Species", "Form", "From", "Since",
		"Entry", "Came in", "Left"}, Words: 6}
	for _, l := range b.State.Dry {
		left := b.units.g(l.LeftG)
		if l.LeftG < 0 {
			left += ", overdrawn"
		}
		g.addOf(b.mendOf(l.Entry), l.Lot, l.Species, l.Form, l.From, sinceWords(l.On), entryID(l.Entry),
			b.units.g(l.InG), left)
	}
	return b.withStruck(g, ofKinds("dried", "received", "ground"))
}

// withStruck ends a table of entries with those that no longer count and stand
// beside none of its rows; nil where it is empty.
func (b *book) withStruck(g *grid, touches func(*goneEntry) bool) *grid {
	for _, x := range b.struckAlone(touches, g.has) {
		g.addStruck(b.alone(x))
	}
	if len(g.Rows) == 0 {
		return nil
	}
	return g
}

func entryID(e *yard.Entry) string {
	if e == nil {
		return ""
	}
	return e.ID
}

func (b *book) bottleStock() *grid {
	if len(b.State.Bottles) == 0 {
		return nil
	}
	g := &grid{Caption: "Bottles on hand", Head: []string{"Recipe", "Lot", "Bottles"}, Words: 3}
	for _, s := range b.State.Bottles {
		var parts []string
		for _, c := range s.Bottles {
			parts = append(parts, strconv.Itoa(c.Count)+" of "+b.units.ml(c.SizeML))
		}
		g.add(s.Recipe, s.Lot, listing(parts))
	}
	return g
}

func (b *book) bought() *grid {
	g := &grid{Caption: "Bought: spirit and other goods, as written",
		Head: []string{"What", "Amount", "Lot", "When", "Entry"}, Words: 5}
	for _, p := range b.State.Bought {
		g.addOf(b.mendOf(p.Entry), p.Item, b.amount(p.Amount), p.Lot, sinceWords(p.On), entryID(p.Entry))
	}
	return b.withStruck(g, ofKinds("bought"))
}

// amount writes a quantity as the grower did, or else in its base unit.
func (b *book) amount(q yard.Quantity) string {
	if q.Text != "" {
		return q.Text
	}
	switch q.Unit {
	case yard.Kilogram:
		return b.units.kg(q.Mid())
	case yard.Millilitre:
		return b.units.ml(q.Mid())
	}
	return strings.TrimSpace(figure(q.Mid()) + " " + string(q.Unit))
}

// inflows is what yard.toml says comes from outside.
func (b *book) inflows() *grid {
	if len(b.State.Config.Expected) == 0 {
		return nil
	}
	g := &grid{Caption: "Expected from outside, as yard.toml says",
		Head: []string{"Species", "When", "Dry", "Chance"}, Words: 2}
	for _, i := range b.State.Config.Expected {
		when := "once, on " + fullDay(i.By)
		if i.Every > 0 {
			when = "every " + count(i.Every, "day", "days")
			if i.By != 0 {
				when += " from " + fullDay(i.By)
			}
		}
		g.add(i.Species, when, b.units.g(i.Grams), percent(i.Chance))
	}
	return g
}
