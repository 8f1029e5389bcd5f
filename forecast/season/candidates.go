package season

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"hodaba/data"
	"hodaba/yard"
)

// candidate is something that could be inoculated, buried or bought: so many
// logs of it are what the plan is to say.
type candidate struct {
	pile   *yard.Pile // of referenceLogs; nil for what is bought dried
	wood   *data.Wood // nil not known
	strain *data.Strain
	method string
	month  yard.Date
	stock  int // index of the logs it takes, in candidates.logs; −1 none
	buy    *buying
	cost   float64 // of one log, or of one lot that is bought
	cash   float64 // the part of it that is paid out
	work   float64 // the part of it that is hours
	hours  float64 // of one log in its month
	money  float64 // what its crop earns, by the grower's prices
}

// nameOf is the name of its pile, "" for what is bought.
func (c *candidate) nameOf() string {
	if c.pile == nil {
		return ""
	}
	return c.pile.Name
}

// buying is dried goods that are bought in, in lots of buyLot.
type buying struct {
	species string
	year    int
	mostG   float64 // 0 any amount
}

const buyLot = 100.0 // g

// referenceLogs are the logs of the pile by which a candidate is judged before
// its size is known: logs differ, and piles of many less so.
const referenceLogs = 24

// mostCandidates bounds what is weighed against each other; months, then forms
// of spawn, then strains are thinned out until there are no more.
const mostCandidates = 40

// choosing collects the candidates.
type choosing struct {
	state    *yard.State
	set      *data.Set
	plan     *yard.Plan
	year     int
	months   []int
	asOf     yard.Date
	logs     []yard.LogsToHave
	notes    []string
	windfall bool
}

// species are those that could be grown for some targets, in the order in
// which they are wanted.
func (c *choosing) species(n *needs) (out []*data.Species) {
	add := func(name string) {
		if sp, ok := c.set.FindSpecies(name); ok && sp.Grown && len(sp.Strains) > 0 && !slices.Contains(out, sp) {
			out = append(out, sp)
		}
	}
	for _, s := range c.plan.Species {
		add(s)
	}
	if len(out) > 0 {
		return out
	}
	for _, r := range n.rows {
		for _, s := range r.species {
			add(s)
		}
		if r.species == nil {
			for _, p := range c.state.Piles {
				add(cmp.Or(p.Like, p.Species))
			}
		}
	}
	return out
}

// strains of a species that the yard has, else the first built in.
func (c *choosing) strains(sp *data.Species) (out []*data.Strain) {
	for _, p := range c.state.Piles {
		if q, ok := c.set.FindSpecies(cmp.Or(p.Like, p.Species)); !ok || q != sp {
			continue
		}
		if st, ok := sp.FindStrain(p.Strain); ok && !slices.Contains(out, st) {
			out = append(out, st)
		}
	}
	if len(out) == 0 {
		out = append(out, &sp.Strains[0])
	}
	return out
}

// last is the youngest pile of a species, nil where there is none.
func (c *choosing) last(sp *data.Species) (last *yard.Pile) {
	for _, p := range c.state.Piles {
		if q, ok := c.set.FindSpecies(cmp.Or(p.Like, p.Species)); ok && q == sp && (last == nil || p.Since.From >= last.Since.From) {
			last = p
		}
	}
	return last
}

// stocks are the logs that can be had for a species: those said, but for woods
// that the trade calls poor for it; where nothing was said, such as the yard
// took last, or the trade's best.
func (c *choosing) stocks(sp *data.Species) (out []int) {
	for i, l := range c.plan.Logs {
		if l.Colonised {
			continue
		}
		if how := c.suits(sp, l.Wood); how == "poor" && !c.windfall {
			c.note(fmt.Sprintf("%s is poor wood for %s, so none is planned on it.", l.Wood, sp.Name))
			continue
		}
		out = append(out, i)
	}
	if len(c.plan.Logs) > 0 {
		return out
	}
	l := yard.LogsToHave{}
	if p := c.last(sp); p != nil {
		l.Wood, l.Diameter, l.Length = p.Wood, p.Diameter, p.Length
	}
	for _, s := range sp.Suits {
		if l.Wood == "" && s.How == "best" && len(s.Woods) > 0 {
			l.Wood = s.Woods[0]
		}
	}
	d := &c.set.Practice
	if !l.Diameter.Known() {
		l.Diameter = yard.Span{Low: d.DefaultDiameter.Value, High: d.DefaultDiameter.Value}
	}
	if !l.Length.Known() {
		l.Length = yard.Span{Low: d.DefaultLength.Value, High: d.DefaultLength.Value}
	}
	i := slices.IndexFunc(c.logs, func(o yard.LogsToHave) bool { return o == l })
	if i < 0 {
		i = len(c.logs)
		c.logs = append(c.logs, l)
	}
	return []int{i}
}

// note says something once.
func (c *choosing) note(text string) {
	if !slices.Contains(c.notes, text) {
		c.notes = append(c.notes, text)
	}
}

// suits is what the trade says of a wood for a species: "best", "usable",
// "poor", or "" where it says nothing. Where sources disagree the best counts.
func (c *choosing) suits(sp *data.Species, wood string) (how string) {
	w, ok := c.set.FindWood(wood)
	rank := map[string]int{"": 0, "poor": 1, "usable": 2, "best": 3}
	for _, s := range sp.Suits {
		for _, name := range s.Woods {
			o, known := c.set.FindWood(name)
			if !strings.EqualFold(name, wood) && (!ok || !known || o != w) {
				continue
			}
			if rank[s.How] > rank[how] {
				how = s.How
			}
		}
	}
	return how
}

// all are the candidates for some targets.
func (c *choosing) all(n *needs) (out []*candidate) {
	c.logs = slices.Clone(c.plan.Logs)
	for _, sp := range c.species(n) {
		if bed := c.bedOf(sp); bed != nil {
			out = append(out, bed)
			continue
		}
		for _, st := range c.strains(sp) {
			if st.Need.Sigma <= 0 {
				c.note(fmt.Sprintf("Nobody knows yet what %s needs to run through, so none is planned.", sp.Name))
				continue
			}
			for _, i := range c.stocks(sp) {
				for _, spawn := range c.spawn() {
					for _, m := range c.months {
						out = append(out, c.candidate(sp, st, i, spawn, m))
					}
				}
			}
		}
	}
	return append(c.thin(out), c.buys(n)...)
}

// spawn are the forms of spawn that can be had.
func (c *choosing) spawn() []string {
	if len(c.plan.Spawn) > 0 {
		return c.plan.Spawn
	}
	return []string{"sawdust", "plug"}
}

// thin leaves out candidates that differ least, until there are few enough.
func (c *choosing) thin(all []*candidate) []*candidate {
	if len(all) > mostCandidates && len(c.months) > 2 {
		first, last := c.months[0], c.months[len(c.months)-1]
		all = slices.DeleteFunc(all, func(x *candidate) bool {
			m := int(x.month.Month())
			return x.pile.Kind == "pile" && m != first && m != last
		})
	}
	drop := func(same func(a, b *candidate) bool) {
		var kept []*candidate
		for _, x := range all {
			if len(all) <= mostCandidates || !slices.ContainsFunc(kept, func(o *candidate) bool { return same(o, x) }) {
				kept = append(kept, x)
			}
		}
		all = kept
	}
	drop(func(a, b *candidate) bool {
		return a.strain == b.strain && a.stock == b.stock && a.pile.Spawn == b.pile.Spawn
	})
	drop(func(a, b *candidate) bool { return a.strain == b.strain && a.stock == b.stock })
	drop(func(a, b *candidate) bool { return a.pile.Species == b.pile.Species && a.stock == b.stock })
	if len(all) > mostCandidates {
		all = all[:mostCandidates]
		c.note(fmt.Sprintf("More than %d ways were open; the first were weighed. Say fewer woods or species under [plan].", mostCandidates))
	}
	return all
}

// candidate is one strain on one lot of logs with one form of spawn in a month.
func (c *choosing) candidate(sp *data.Species, st *data.Strain, stock int, spawn string, month int) *candidate {
	l := c.logs[stock]
	on := c.monthOf(month)
	p := &yard.Pile{
		Name: strings.Join([]string{"planned", sp.Name, st.Name, fmt.Sprint(stock), spawn, on.MonthString()}, "/"),
		Kind: "pile", Origin: "inoculated", Species: sp.Name, Like: sp.Name, Strain: st.Name,
		Wood: l.Wood, Diameter: l.Diameter, Length: l.Length, Spawn: spawn, Place: c.place(sp),
		Since:   yard.When{From: on, To: on.AddMonths(1) - 1, Text: on.MonthString()},
		Started: referenceLogs, Logs: referenceLogs, LogsKnown: true,
	}
	w, _ := c.set.FindWood(l.Wood)
	return &candidate{pile: p, wood: w, strain: st, method: c.method(sp), month: on, stock: stock}
}

// method is how a species is inoculated: as the yard did it last where logs are
// taken as they were then, else by holes.
func (c *choosing) method(sp *data.Species) string {
	if last := c.last(sp); last != nil && len(c.plan.Logs) == 0 && last.Method != "" {
		return last.Method
	}
	return "holes"
}

// monthOf is the first day of a month of the season; in the month of today it
// is tomorrow's.
func (c *choosing) monthOf(month int) yard.Date {
	on := yard.NewDate(c.year, time.Month(month), 1)
	if c.asOf >= on {
		return c.asOf + 1
	}
	return on
}

// place is where a new pile of a species is to stand: a place with room, the
// one where its youngest pile stands if that is one.
func (c *choosing) place(sp *data.Species) string {
	at := ""
	if p := c.last(sp); p != nil {
		at = p.Place
	}
	first := ""
	for _, r := range c.plan.Room {
		if r.Logs > 0 && r.Place == at {
			return at
		}
		if r.Logs > 0 && first == "" {
			first = r.Place
		}
	}
	return cmp.Or(first, at)
}

// bedOf is a bed of ready-colonised logs, for a species that the yard has only
// in beds, or of which such logs are said to be had; else nil.
func (c *choosing) bedOf(sp *data.Species) *candidate {
	stock := slices.IndexFunc(c.logs, func(l yard.LogsToHave) bool {
		q, ok := c.set.FindSpecies(l.Species)
		return l.Colonised && ok && q == sp
	})
	last := c.last(sp)
	if stock < 0 && (last == nil || last.Kind != "bed" || !last.Colonised) {
		return nil
	}
	if stock < 0 {
		c.logs = append(c.logs, yard.LogsToHave{Wood: last.Wood, Diameter: last.Diameter, Length: last.Length, Colonised: true, Species: sp.Name})
		stock = len(c.logs) - 1
		c.note(fmt.Sprintf("What ready-colonised logs of %s cost nobody said: they count as much as others. Write [[plan.logs]] with species, colonised = true and price.", sp.Name))
	}
	st := c.strains(sp)[0]
	x := c.candidate(sp, st, stock, "", c.months[0])
	x.pile.Kind, x.pile.Origin, x.pile.Colonised, x.method = "bed", "buried", true, "buried"
	x.pile.Name += "/bed"
	if last != nil {
		x.pile.Depth = last.Depth
	}
	return x
}

// buys are the dried goods that may be bought in, one candidate for each year
// in which a target asks for them.
func (c *choosing) buys(n *needs) (out []*candidate) {
	for _, b := range c.plan.Buys {
		name := n.like(b.Species)
		if b.PriceKG <= 0 {
			c.note(fmt.Sprintf("What dried %s costs nobody said, so none is bought: write price_kg under [[plan.buy]].", name))
			continue
		}
		years := map[int]bool{}
		for _, r := range n.rows {
			if y := n.targets[r.target].Year; r.dried && slices.Contains(r.species, name) && !years[y] {
				years[y] = true
				out = append(out, &candidate{stock: -1, buy: &buying{species: name, year: y, mostG: b.MostG},
					cost: b.PriceKG * buyLot / gramsPerKG, cash: b.PriceKG * buyLot / gramsPerKG})
			}
		}
	}
	return out
}
