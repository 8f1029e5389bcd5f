package charts

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// inTheCold is what is fresh by the record, and what is older and nobody wrote
// what became of.
func inTheCold(s *yard.State, d *data.Set) (fresh, older []forecast.Waiting) {
	if d == nil {
		d = &data.Set{}
	}
	return forecast.InTheCold(s, d)
}

// promisedThisWeek is what is due in this week.
func promisedThisWeek(s *yard.State, d *data.Set) []forecast.Due {
	if d == nil {
		d = &data.Set{}
	}
	return forecast.PromisedThisWeek(s, d)
}

// inTheDrier are the loads that have not come out.
func inTheDrier(s *yard.State) (in []yard.Load) {
	for _, l := range s.Loads {
		if l.In() {
			in = append(in, l)
		}
	}
	return in
}

// kindOfDry is the dried stock of one species and form.
type kindOfDry struct {
	species, form string
	grams         float64
}

// dryKinds sums the dried stock by species and form, in the order in which the
// lots first name them.
func dryKinds(s *yard.State) (kinds []kindOfDry) {
	for _, t := range s.DryBook() {
		kinds = append(kinds, kindOfDry{t.Species, t.Form, t.Left})
	}
	return kinds
}

// difference of a stock-take that nothing written explains.
type unexplained struct {
	on           yard.When
	what, amount string
	entry        string
	grams        float64 // of dried goods
	bottles      int
	logs         int
}

// differences are those of all stock-takes, oldest first within dried goods,
// within bottles, and within the logs of a pile.
func differences(s *yard.State, grams func(float64) string) (list []unexplained) {
	for _, t := range s.DryBook() {
		for _, m := range t.Differences {
			list = append(list, unexplained{m.On, strings.TrimSpace(m.Species + " " + m.Form), signed(m.G, grams), entryID(m.Entry), m.G, 0, 0})
		}
	}
	for _, t := range s.BottleBook() {
		for _, m := range t.Differences {
			list = append(list, unexplained{m.On, cmp.Or(m.Recipe, "bottles"), signed(float64(m.Count), func(x float64) string {
				return count(int(x), "bottle", "bottles")
			}), entryID(m.Entry), 0, m.Count, 0})
		}
	}
	for _, t := range s.LogBook() {
		for _, m := range t.Differences {
			list = append(list, unexplained{m.On, t.Pile, logDifference(m.Logs), entryID(m.Entry), 0, 0, m.Logs})
		}
	}
	return list
}

// logDifference says how many logs more or fewer stood than the book had.
func logDifference(logs int) string {
	if logs < 0 {
		return count(-logs, "log", "logs") + " fewer"
	}
	return count(logs, "log", "logs") + " more"
}

// signed says whether more or less was there.
func signed(x float64, write func(float64) string) string {
	if x < 0 {
		return write(-x) + " less"
	}
	return write(x) + " more"
}

// freshLead is what is fresh, in a sentence.
func (b *book) freshLead() string {
	fresh, _ := inTheCold(b.State, b.Data)
	if len(fresh) == 0 {
		return "Nothing fresh is in the cold by the record."
	}
	var list []forecast.Kilos
	for _, w := range fresh {
		list = addKilos(list, w.Species, w.KG)
	}
	return fmt.Sprintf("Fresh in the cold by the record: %s; the first is fresh until %s.", b.kilosWords(list), dayMonth(fresh[0].Until))
}

func addKilos(list []forecast.Kilos, species string, kg float64) []forecast.Kilos {
	for i := range list {
		if list[i].Species == species {
			list[i].KG += kg
			return list
		}
	}
	return append(list, forecast.Kilos{Species: species, KG: kg})
}

func (b *book) freshLots() *grid {
	fresh, _ := inTheCold(b.State, b.Data)
	if len(fresh) == 0 {
		return nil
	}
	g := &grid{Caption: "Fresh in the cold, by the record", Head: []string{"Species", "Picked", "From", "Lot", "Fresh until", "Left"}, Words: 5}
	for _, w := range fresh {
		g.addOf(b.mendOf(b.pickOf(w)), w.Species, fullDay(w.Picked), strings.Join(w.Piles, ", "), w.Lot, fullDay(w.Until), b.units.kg(w.KG))
	}
	return g
}

// pickOf is the entry of a picking that is still fresh.
func (b *book) pickOf(w forecast.Waiting) *yard.Entry {
	for _, k := range b.State.Picks {
		if k.Species == w.Species && k.Lot == w.Lot && k.On.From == w.Picked && slices.Equal(k.Piles, w.Piles) {
			return k.Entry
		}
	}
	return nil
}

// freshGone is the book of fresh mushrooms of this year.
func (b *book) freshGone() *grid {
	year := b.today().Year()
	terms := b.State.FreshBook(yard.NewDate(year, 1, 1), b.today())
	if len(terms) == 0 {
		return nil
	}
	g := &grid{Caption: fmt.Sprintf("What became of the fresh of %d; what is in the cold still counts as not written down", year),
		Head: []string{"Species", "Picked", "Sold", "Given", "Eaten", "Into the drier", "Spoiled", "Not written down"}}
	for _, t := range terms {
		kg := b.units.kg
		g.add(cmp.Or(t.Species, "not named"), kg(t.Picked), kg(t.Sold), kg(t.Given), kg(t.Eaten), kg(t.Dried), kg(t.Spoiled), kg(t.NotWritten))
	}
	return g
}

// olderSaid says that nobody wrote what became of what was picked.
func (b *book) olderSaid() string {
	_, older := inTheCold(b.State, b.Data)
	var list []forecast.Kilos
	for _, w := range older {
		list = addKilos(list, w.Species, w.KG)
	}
	words := b.kilosWords(list)
	if words == "" {
		return ""
	}
	return "Not written down: what became of " + words + " picked this year that can no longer be fresh."
}

func (b *book) drierLoads() *grid {
	in := inTheDrier(b.State)
	if len(in) == 0 {
		return nil
	}
	g := &grid{Caption: "In the drier", Head: []string{"Load", "Species", "Since", "Went in"}, Words: 3}
	for _, l := range in {
		g.addOf(b.mendOf(l.Entry), l.Name, l.Species, sinceWords(l.On), b.freshMass(l.FreshKG))
	}
	return g
}

// freshMass is a weight of fresh mushrooms, which may not be known.
func (b *book) freshMass(s yard.Span) string {
	if !s.Known() {
		return "not weighed"
	}
	return b.units.kg(s.Mid())
}

func (b *book) dueThisWeek() *grid {
	due := promisedThisWeek(b.State, b.Data)
	if len(due) == 0 {
		return nil
	}
	g := &grid{Caption: "Fresh, promised for this week", Head: []string{"Day", "To", "What", "Promised", "Delivered", "Still open"}, Words: 3}
	for _, d := range due {
		g.add(fullDay(d.Day), d.To, cmp.Or(d.Species, "any fresh"), b.units.kg(d.KG), b.units.kg(d.KG-d.Open), b.units.kg(d.Open))
	}
	return g
}

func (b *book) unexplained() *grid {
	list := differences(b.State, b.units.g)
	g := &grid{Caption: "Stock-takes: unexplained differences to what was written", Head: []string{"When", "What", "There was", "Entry"}, Words: 4}
	for _, x := range list {
		g.addOf(b.mendID(x.entry), sinceWords(x.on), x.what, x.amount, x.entry)
	}
	return b.withStruck(g, ofKinds("counted"))
}
