package tincture

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// Schedule makes the calendar: for the batches that stand already their
// remaining steps, and for every wish a start.
//
// Purpose: dates that hold as often as the grower asks for, and their chances.
//
// Policy: wishes come in order of priority. In each draw a batch starts on the
// first open day, today or later, on which all its ingredients can be taken
// without taking from a batch before it in the order, jars are free until it
// is strained, and the pot is free on that day. A batch lower in the order may
// so go first with what one above it does not need yet. The printed Start is
// the day by which it can start in the share Terms.Confidence of the draws,
// moved on to the first day for which the calendar of printed dates has jars,
// pot and open days. Then the calendar is followed through every draw, each
// batch starting on its printed day, or as soon after as it can: StartChance
// is the share of draws in which that is the printed day, and never below
// Confidence; Holds the share in which it is so for all batches at once.
//
// Jars are in use from the start to the day of straining, both included. The
// pot takes one batch a day. Ingredients with alternatives take the first that
// is there; optional ones are taken where they are there on the day. Powder is
// powder on hand, or ground of pieces; pieces are never powder; fresh ones are
// picked from today on.
//
// What a draw holds back: when the stock comes in. What it does not: holidays
// announced later, illness, a broken jar.
//
// Errors: no draws in the stock, a horizon before today, a confidence outside
// 0 to 1, a way of pressing that data does not know. A wish that cannot be
// made is no error: it stays in the plan without a date, and Why says why.
func Schedule(stock Stock, wishes []Wish, days Workdays, terms Terms, set *data.Set) (*Plan, error) {
	s, err := schedule(stock, wishes, days, terms, set)
	if err != nil {
		return nil, fmt.Errorf("tincture calendar: %w", err)
	}
	return s.plan, nil
}

// schedule is Schedule, with its books.
func schedule(stock Stock, wishes []Wish, days Workdays, terms Terms, set *data.Set) (*scheduler, error) {
	if err := checkTerms(stock, days, terms, set); err != nil {
		return nil, err
	}
	marc, err := Retention(terms.Kitchen.Press, set)
	if err != nil {
		return nil, err
	}
	s := &scheduler{
		planner: newPlanner(stock, days, terms), lots: slices.Clone(terms.Lots),
		plan: &Plan{}, set: set, guessed: map[string]bool{},
		holds: slices.Repeat([]bool{true}, stock.Draws()),
	}
	known := knownRecipes(wishes, terms)
	s.known = known
	s.plan.Marc = LearnMarc(marc, terms.Record, known, set)
	s.plan.Boil = LearnBoil(terms.Kitchen.BoilMLH, terms.Kitchen.Press, terms.Record, known, set)
	s.marc = s.plan.Marc.Next
	if err := s.stand(known); err != nil {
		return nil, err
	}
	s.yields(known, marc.Typical)
	s.worked(known)
	if terms.Order != nil {
		if s.plan.Back, err = s.back(*terms.Order); err != nil {
			return nil, err
		}
	}
	for i, w := range uniqueLots(wishes, terms) {
		if err := s.add(w); err != nil {
			return nil, fmt.Errorf("batch %d, %s: %w", i+1, w.Recipe.Name, err)
		}
	}
	s.finish()
	return s, nil
}

func checkTerms(stock Stock, days Workdays, t Terms, set *data.Set) error {
	switch {
	case stock == nil || days == nil || set == nil:
		return errors.New("stock, working days and reference data are all needed")
	case stock.Draws() < 1:
		return errors.New("the stock has no draws: forecast the yard first")
	case t.AsOf == 0 || t.Until < t.AsOf:
		return fmt.Errorf("it would run from %v to %v: it must end after today", t.AsOf, t.Until)
	case !(t.Confidence > 0 && t.Confidence <= 1):
		return fmt.Errorf("confidence %g is outside 0 to 1: 0.8 is 8 times in 10", t.Confidence)
	}
	return nil
}

// scheduler builds a Plan.
type scheduler struct {
	*planner
	plan    *Plan
	set     *data.Set
	marc    data.Range
	holds   []bool          // by draw: every printed start so far holds
	guessed map[string]bool // species whose water is not known
	fills   []filling       // of batches that stand, then of those planned
	pressed []float64       // by draw, see pressing
	lots    []DryLot        // what batches with a date leave of them
	known   []yard.Recipe
	stood   book  // what stands already, as booked before any wish
	jobs    []job // batches with a date, in order of priority
}

// tail is how far beyond the horizon days are looked up at once, for the
// straining of what starts on its last day.
const tail = 400

func newPlanner(stock Stock, days Workdays, terms Terms) *planner {
	return &planner{
		stock: stock, terms: terms, index: map[string]int{},
		diary:   newDiary(days, terms.AsOf, terms.Until+tail),
		soonest: make([]book, stock.Draws()), follow: make([]book, stock.Draws()),
	}
}

// speciesIndex numbers a species.
func (p *planner) speciesIndex(name string) int {
	i, ok := p.index[name]
	if !ok {
		i = len(p.species)
		p.index[name] = i
		p.species, p.asked = append(p.species, name), append(p.asked, 0)
	}
	return i
}

// wantOf makes a recipe ready for placing. Fresh ingredients are drawn as the
// dried goods that they would become, from what is still to be picked.
func (s *scheduler) wantOf(r yard.Recipe) *want {
	w := &want{recipe: r, needs: Needs(r), pace: paceOf(r)}
	for i, n := range w.needs {
		m, _ := moisture(n.Species, s.set)
		l := line{need: i, level: levelOf(n.Form), species: []int{s.speciesIndex(n.Species)}, mg: int64(driedGrams(n, m)*1000 + 0.5)}
		for _, other := range n.Or {
			l.species = append(l.species, s.speciesIndex(other))
		}
		s.asks(l)
		if n.Optional {
			w.extra = append(w.extra, l)
		} else {
			w.lines = append(w.lines, l)
		}
	}
	return w
}

// add places one wish and enters it in the plan.
func (s *scheduler) add(wish Wish) error {
	r := wish.Recipe
	b := Batch{
		Lot: wish.Lot, Recipe: r.Name, BottleML: r.BottleML,
		SpiritML: r.SpiritMLJar * float64(r.Jars), SpiritABV: r.SpiritABV,
	}
	w := s.wantOf(r)
	b.JarCount = w.pace.jars
	b.Needs = w.needs
	for i := range b.Needs {
		if wish.OnHand != nil {
			b.Needs[i].OnHand = wish.OnHand(b.Needs[i].Species, b.Needs[i].Form)
		}
	}
	if b.Why = s.unfit(r); b.Why == "" {
		l := s.place(w)
		b.StartChance, b.Early, b.Late, b.Reached = l.chance, l.early, l.late, l.reached
		b.Without = s.gains(w, l)
		b.Why = s.why(w, l, b.Without)
		if l.start != 0 {
			s.diary.steps(&b, r, l.start, l.strain)
			if macerates(r) {
				b.StrainFrom, b.StrainTo = s.diary.window(yard.On(l.start), w.pace)
			}
		}
		s.shortages(w, l.start)
		s.book(w, l)
		s.joint(l)
		if err := s.describe(&b, r, w.needs, s.marc, false); err != nil {
			return err
		}
		s.grind(&b, w, l)
		s.powderNotes(&b)
		s.bottledIn(r, l)
		if l.start != 0 {
			s.jobs = append(s.jobs, job{lot: b.Lot, recipe: r, ready: l.arrived})
		}
	}
	s.plan.Batches = append(s.plan.Batches, b)
	return nil
}

// unfit says why a recipe cannot be made here; "" where it can.
func (s *scheduler) unfit(r yard.Recipe) string {
	if why := unfit(r); why != "" {
		return why
	}
	if have := s.terms.Kitchen.Jars; have > 0 && macerates(r) && r.Jars > have {
		return fmt.Sprintf("it stands in %d jars and the kitchen has %d in all: write a smaller recipe or more jars in [kitchen]", r.Jars, have)
	}
	return ""
}

// joint keeps the draws in which every printed start holds.
func (s *scheduler) joint(l *placing) {
	if l.start == 0 {
		return
	}
	for d := range s.holds {
		s.holds[d] = s.holds[d] && l.follow[d].start == l.start
	}
}

// shortages fills in the chance that an ingredient is not there on a day, or
// by the horizon where there is no day.
func (s *scheduler) shortages(w *want, day yard.Date) {
	if day == 0 {
		day = s.terms.Until
	}
	for _, lines := range [][]line{w.lines, w.extra} {
		for _, l := range lines {
			short := 0
			for d := range s.follow {
				if in, ok := s.firstOf(&s.follow[d], d, l); !ok || in > day {
					short++
				}
			}
			w.needs[l.need].ShortChance = float64(short) / float64(len(s.follow))
		}
	}
}

// describe fills in liquids, bottles, cautions and notes. Optional ingredients
// count where they are there more often than not. marc is what the marc holds;
// boiled says that its decoction is made already.
func (s *scheduler) describe(b *Batch, r yard.Recipe, needs []Need, marc data.Range, boiled bool) error {
	in := slices.DeleteFunc(slices.Clone(needs), func(n Need) bool { return n.Optional && n.ShortChance > 0.5 })
	goods, guessed := GoodsOf(in, s.set)
	for _, g := range guessed {
		s.guessed[g] = true
	}
	y, err := outcome(r, goods, marc, b.Lot, s.terms.Seed)
	if err != nil {
		return err
	}
	b.Strained, b.Blended, b.ABV, b.Bottles, b.Sizes = y.strained, y.blended, y.abv, y.bottles, y.sizes
	if !macerates(r) {
		b.Strained = Amount{}
	}
	b.Cautions = cautions(r, goods, marc, y, s.set)
	b.DriedG, b.Ratio = goods.DriedG, y.ratio
	if goods.DriedG > 0 {
		b.Solvent = b.SpiritML / goods.DriedG
	}
	b.Notes = append(kitchenNotes(r, needs, goods, s.terms.Kitchen, s.set), y.likely.notes(r, boiled)...)
	if !boiled {
		_, likely, _ := s.boiling()
		b.Pot = PotOf(y.likely, r, goods, likely)
		b.Notes = append(b.Notes, s.potNotes(y.likely, r, goods)...)
	}
	s.fills = append(s.fills, filling{recipe: b.Recipe, table: y.table, day: b.Bottled})
	return nil
}

// finish numbers the jars, counts the draws in which all holds, and says what
// must be known of the whole.
func (s *scheduler) finish() {
	held := 0
	for _, h := range s.holds {
		if h {
			held++
		}
	}
	s.plan.Holds = float64(held) / float64(len(s.holds))
	s.promises(s.known)
	s.otherOrder()
	numberJars(s.plan)
	standing, jars := 0, s.terms.Kitchen.Jars
	for _, b := range s.plan.Standing {
		standing += b.JarCount
	}
	if jars == 0 {
		s.note("The number of jars is not written in [kitchen]: taken as always enough.")
	} else if standing > jars {
		s.note("%d jars stand with batches in them and [kitchen] has %d in all: correct one of the two.", standing, jars)
	}
	s.askBoil()
	for _, name := range slices.Sorted(maps.Keys(s.guessed)) {
		s.note("The water in %s is not known: taken as in the other mushrooms.", name)
	}
	if len(s.plan.Batches)+len(s.plan.Standing) > 0 {
		s.note("Liquor held by the marc: %.3g to %.3g ml per gram, %s.", s.marc.Low, s.marc.High, says(s.marc))
	}
}

// askBoil asks how fast the pot boils down, where a recipe needs to know and
// neither [kitchen] nor a batch has said it.
func (s *scheduler) askBoil() {
	if s.terms.Kitchen.BoilMLH > 0 || s.plan.Boil.Batches > 0 || !slices.ContainsFunc(s.known, decocts) || len(s.plan.Batches)+len(s.plan.Standing) == 0 {
		return
	}
	s.note("How long does the pot take to boil down from 1.5 l to 0.5 l? Write it into [kitchen] of yard.toml, as in boils_down = \"1.5 l to 0.5 l in 2 h\"; until then %.2g to %.2g l an hour are reckoned with.",
		s.plan.Boil.Next.Low, s.plan.Boil.Next.High)
}

func (s *scheduler) note(format string, args ...any) {
	s.plan.Notes = append(s.plan.Notes, fmt.Sprintf(format, args...))
}

// says is on what a range rests, in words.
func says(r data.Range) string {
	if r.Basis == "" {
		return string(r.Quality)
	}
	return r.Basis
}

// numberJars gives every batch the lowest jars that are free while it stands:
// those that stand already first, then in order of start. Since never more
// jars are in use than there are, none gets a number beyond.
func numberJars(plan *Plan) {
	var order []*Batch
	for i := range plan.Standing {
		order = append(order, &plan.Standing[i])
	}
	for i := range plan.Batches {
		if plan.Batches[i].Strain != 0 {
			order = append(order, &plan.Batches[i])
		}
	}
	slices.SortStableFunc(order, func(a, b *Batch) int { return cmp.Compare(a.Start, b.Start) })
	var until []yard.Date // by jar: the last day on which it is in use
	for _, b := range order {
		for j := 0; len(b.Jars) < b.JarCount; j++ {
			if j == len(until) {
				until = append(until, 0)
			}
			if until[j] < b.Start {
				until[j] = b.Strain
				b.Jars = append(b.Jars, j+1)
			}
		}
	}
}
