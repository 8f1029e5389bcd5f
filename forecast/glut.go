package forecast

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Supply is what comes fresh in the year ahead, against what was promised and
// what can be kept and dried. Masses are kg fresh.
//
// Purpose: short weeks, and weeks in which more comes than can be sold, kept
// or dried. Equations: in each draw a course of days goes through the cold room and the
// drier, see [keeping]; a week's crop is spread evenly over its days, because a
// flush is picked over days and the model names only one of them. Every week
//
//	Before + Came = Sold + Usual + Dried + Over + Kept
//
// Parameters: glut_kg of data.Practice; [drier], [cold], [[promised]] and the confidence of the yard's
// settings; days that a species keeps, of data.Species. State: none. Needs:
// weekly totals by draw, the record of what is in the cold. Errors: none but the
// context's.
type Supply struct {
	Drier, Cold bool // the grower said what they take; without both nothing is planned
	LoadKG      float64
	Hours       float64 // that a load takes
	LoadsADay   int     // that the drier takes one after the other; 1 where a load takes longer than a day
	Nights      int     // that a load holds the drier; 1 where it takes no longer than a day
	HoldsKG     float64 // by the cold room; 0 not said
	Waiting     []Waiting
	Due         []Due          // promises of fresh mushrooms, in order of day
	Other       []yard.Promise // promises of other things, in the order of yard.toml
	Weeks       []SupplyWeek   // the year ahead, from the Monday of today's week
	Gluts       []Glut         // in order of day
}

// Planned reports whether anything is said of what can be kept or dried.
func (s *Supply) Planned() bool { return s.Drier || s.Cold }

// SupplyWeek is one week of all species.
type SupplyWeek struct {
	Week     yard.Date // its Monday
	Came     Amount    // picked
	Promised float64   // of what is still to be delivered
	Met      float64   // chance that every promise of the week is met; 1 where there is none
	Left     Amount    // of what came, after promises and what goes fresh as usual: for the drier
	Room     float64   // what the drier takes in the week, kg
	DrierOut bool      // the drier cannot be used in it at all
	// The book of the week, on the mean of all courses. Usual is what goes
	// fresh beside promises, as share_percent of the drier says; Over is what
	// has to be sold at once, or spoils.
	Book       WeekBook
	Over       Amount
	OverChance float64 // that more is over than finds a plate: glut_kg of data.Practice
	Species    []SpeciesSupply
	Short      bool // a promise is less sure than the grower wants to be
	Glut       bool // something is over, less seldom than the grower wants
}

// SpeciesSupply is one species in one week.
type SpeciesSupply struct {
	Species  string
	Came     Amount
	Chance   float64 // that any is picked
	Promised float64 // by its name
	Met      float64 // chance that what was promised by its name is met
}

// WeekBook is where a week's kilograms came from and went to.
type WeekBook struct {
	Before, Came                   float64
	Sold, Usual, Dried, Over, Kept float64
}

// Glut is one or several weeks on end in which more comes than can be sold,
// kept or dried.
type Glut struct {
	From, To yard.Date // Monday and Sunday
	Chance   float64   // that anything is over in it
	Over     Amount    // in the courses in which something is
	Plan     GlutPlan
	Leave    Leave
}

// GlutPlan is what to do in the first week of a glut, together with the next
// one where the first has begun already. It rests on the courses in the middle of
// those in which something is over then: as many leave less over as more.
type GlutPlan struct {
	From, To yard.Date // Monday and Sunday
	Chance   float64   // that anything is over in it
	Over     Amount    // in the courses in which something is
	Order    []string  // species that come in any of them, what keeps least first
	Days     []GlutDay
	Book     WeekBook // of those days
}

// Leave is what to leave out of the tank before a glut.
type Leave struct {
	Loads []LeaveOut // not in yet and picked in the glut, soonest first
	Until yard.Date  // day until which to put them off, so that they are picked after it; zero without Loads
	// Empty says that other logs are rested, and would go into the tank in the
	// place of those put off: only an empty tank brings less.
	Empty bool
	// Less is by how many kg at most less is over in it, on the mean, if all
	// that is Soon is put off, and with Empty all. What is not soaked may flush of
	// itself, which it leaves out.
	Less float64
}

// GlutDay is what to do on a day of a glut.
type GlutDay struct {
	Day     yard.Date
	Pick    []Kilos // what keeps least first
	Deliver []Kilos
	Usual   []Kilos // to be sold or eaten as usual
	Dry     []DrierLoad
	Sell    []SellBy // finds no room: to be sold or given away, a line a species
	Cold    []Kilos  // goes into the cold for the night, or stays there
	Kept    float64  // all of it
	Away    bool     // nobody is there, by yard.toml
}

// Kilos is a mass of one species.
type Kilos struct {
	Species string
	KG      float64
}

// SellBy is what must be sold, and the last day on which all of it is fresh.
type SellBy struct {
	Species string
	KG      float64
	By      yard.Date
}

// DrierLoad is a load that is to go into the drier. Its first of a day goes in
// in the evening.
type DrierLoad struct {
	Day   yard.Date
	After float64 // hours after that evening
	Hours float64 // that it takes
	Parts []Kilos
}

// KG is the weight of the load.
func (l DrierLoad) KG() (sum float64) {
	for _, p := range l.Parts {
		sum += p.KG
	}
	return sum
}

// LeaveOut is a load of the tank that is picked in a glut and has not gone in
// yet.
type LeaveOut struct {
	In               yard.Date
	Logs             int
	Piles            []string // with the letters of their parts
	Fresh            Amount
	Chance           float64
	PickFrom, PickTo yard.Date
	Soon             bool // it is due this week or next
}

// Balance is an error if kilograms came of nothing or went to nothing.
func (b WeekBook) Balance() error {
	in, out := b.Before+b.Came, b.Sold+b.Usual+b.Dried+b.Over+b.Kept
	if math.Abs(in-out) > 1e-6*(1+in) {
		return fmt.Errorf("the week does not balance: before %.6g + came %.6g = %.6g kg, but sold %.6g + usual %.6g + dried %.6g + over %.6g + kept %.6g = %.6g kg",
			b.Before, b.Came, in, b.Sold, b.Usual, b.Dried, b.Over, b.Kept, out)
	}
	return nil
}

// add adds a book to b, weighted.
func (b *WeekBook) add(x *WeekBook, by float64) {
	b.Before += by * x.Before
	b.Came += by * x.Came
	b.Sold += by * x.Sold
	b.Usual += by * x.Usual
	b.Dried += by * x.Dried
	b.Over += by * x.Over
	b.Kept += by * x.Kept
}

// supply sets what comes against what was promised and can be kept and dried.
func (r *run) supply(ctx context.Context, species []Species, loads []Load) (*Supply, error) {
	if r.plain {
		return nil, nil
	}
	k := r.keeping()
	s := &Supply{
		Drier: k.load > 0, Cold: r.state.Config.Cold.HoldsKG > 0, LoadKG: k.load, Hours: k.hours,
		LoadsADay: k.perDay, Nights: k.nights, HoldsKG: r.state.Config.Cold.HoldsKG,
		Waiting: k.waiting, Due: k.due, Other: k.other,
	}
	c := &courses{k: k, book: make([]WeekBook, r.draws*rotaWeeks), met: make([]bool, r.draws*len(k.due)), species: map[string]*Species{}}
	for i := range species {
		c.species[species[i].Species] = &species[i]
	}
	r.drier = r.newDrierYear(k)
	err := r.parallel(ctx, r.draws, func() func(int) {
		one := newCourse(k)
		came := make([]float64, rotaWeeks*len(k.species))
		return func(n int) {
			r.cameIn(came, k, n)
			one.dries = r.drier.of(n)
			one.run(came, c.book[n*rotaWeeks:(n+1)*rotaWeeks], c.met[n*len(k.due):(n+1)*len(k.due)])
			r.drier.rest(one)
		}
	})
	if err != nil {
		return nil, err
	}
	for w := range rotaWeeks {
		s.Weeks = append(s.Weeks, r.supplyWeek(c, w))
	}
	for i := range s.Due {
		s.Due[i].Met = r.chanceOf(func(n int) bool { return c.met[n*len(k.due)+i] })
	}
	if s.Gluts, err = r.gluts(ctx, c, s.Weeks, loads); err != nil {
		return nil, err
	}
	return s, nil
}

// courses are the books of all draws.
type courses struct {
	k *keeping
	// What comes of each species, by its name on the yard's books.
	species map[string]*Species
	book    []WeekBook // by draw and week
	met     []bool     // by draw and due
}

func (c *courses) at(draw, week int) *WeekBook { return &c.book[draw*rotaWeeks+week] }

// cameIn is what is picked in a draw, kg by week and species.
func (r *run) cameIn(dst []float64, k *keeping, draw int) {
	clear(dst)
	for i, name := range k.species {
		t := r.totals[name]
		if t == nil {
			continue
		}
		for w := range rotaWeeks {
			dst[w*len(k.species)+i] = t.week(draw, w)
		}
	}
}

// chanceOf is the weighted share of draws.
func (r *run) chanceOf(is func(draw int) bool) (p float64) {
	for n := range r.draws {
		if is(n) {
			p += r.weight[n]
		}
	}
	return min(p/float64(r.draws), 1)
}

// amountOf reads the weighted amounts of all draws.
func (r *run) amountOf(kg func(draw int) float64) Amount {
	t := chance.Amounts()
	for n := range r.draws {
		t.Add(kg(n), r.weight[n])
	}
	return amount(t)
}

// supplyWeek sums up a week over all draws.
func (r *run) supplyWeek(c *courses, w int) SupplyWeek {
	k := c.k
	out := SupplyWeek{Week: r.asOf.Monday() + yard.Date(7*w), Room: k.roomOf(w), DrierOut: k.outIn(w)}
	out.Came = r.amountOf(func(n int) float64 { return c.at(n, w).Came })
	out.Left = r.amountOf(func(n int) float64 { b := c.at(n, w); return max(0, b.Came-b.Sold-b.Usual) })
	for n := range r.draws {
		out.Book.add(c.at(n, w), r.weight[n]/float64(r.draws))
	}
	if k.plans {
		out.Over = r.amountOf(func(n int) float64 { return c.at(n, w).Over })
		out.OverChance = r.chanceOf(func(n int) bool { return c.at(n, w).Over >= r.data.Practice.GlutKG.Value })
	}
	out.Promised, out.Met = r.promisedIn(c, w, func(Due) bool { return true })
	for i, name := range k.species {
		one := SpeciesSupply{Species: name}
		if ahead := c.species[name]; ahead != nil {
			one.Came, one.Chance = ahead.Weeks[w].Fresh, ahead.Weeks[w].HarvestChance
		}
		one.Promised, one.Met = r.promisedIn(c, w, func(d Due) bool { return d.species == i })
		out.Species = append(out.Species, one)
	}
	sure := r.state.Config.Confidence
	out.Short = out.Promised > 0 && out.Met < sure
	out.Glut = out.OverChance > 0 && out.OverChance >= 1-sure
	return out
}

// promisedIn is what is promised in a week and not delivered yet, and the
// chance that all of it is met.
func (r *run) promisedIn(c *courses, w int, of func(Due) bool) (kg, met float64) {
	var which []int
	for i, d := range c.k.due {
		if of(d) && d.Open > 0 && d.Day >= r.asOf && c.k.weekOf(int(d.Day-r.asOf)) == w {
			kg += d.Open
			which = append(which, i)
		}
	}
	if len(which) == 0 {
		return 0, 1
	}
	return kg, r.chanceOf(func(n int) bool {
		return !slices.ContainsFunc(which, func(i int) bool { return !c.met[n*len(c.k.due)+i] })
	})
}
