package tincture

import (
	"fmt"
	"math"
	"slices"

	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Order is a question: bottles of a recipe by a day.
type Order struct {
	Recipe  yard.Recipe
	By      yard.Date                          // the last day on which they may be filled
	Bottles int                                // 0: how many can be promised
	OnHand  func(species, form string) float64 // grams on hand today, shown beside what is needed
}

// Back is the answer, worked out from the day backwards. It goes before every
// batch that the calendar plans; what stands in jars already keeps its place.
type Back struct {
	Recipe      string
	By          yard.Date
	Bottles     int    // asked for; 0: none were
	OnShelf     int    // bottles of the recipe on hand
	Standing    Amount // bottles that batches in jars bring by the day
	Promised    int    // of the recipe, by the day, before this
	Batches     []BackBatch
	Scaled      float64   // each of Batches is the recipe times this
	Chance      float64   // that all bottles asked for are there by the day, goods, jars, pot and days together
	LatestStart yard.Date // of the first batch; zero where none is needed, or it is too late
	Needs       []BackNeed
	Without     []Gain // by which everything would be there sooner
	CanPromise  []Sure // how many bottles, at rising certainty
	Why         string // why there is no day, or none is needed
	Notes       []string
	Cautions    []string
}

// BackBatch is one of the batches, as late as it may be.
type BackBatch struct {
	Start, Strain, Bottled yard.Date
	Jars                   int
}

// BackNeed is one ingredient of all the batches together.
type BackNeed struct {
	Need
	Missing             float64   // g that are not on hand today
	Early, Likely, Late yard.Date // by which they have come in, P10, P50 and P90; zero: not by the day
}

// Sure is a number of bottles that can be promised.
type Sure struct {
	Chance  float64
	Bottles int
}

// certainties are those at which bottles are promised: as likely as not, as
// mostly printed, and nearly surely.
var certainties = []float64{0.5, 0.8, 0.95}

// mostBatches is more than any kitchen puts up for one day.
const mostBatches = 200

// back answers an order.
//
// Purpose: when to start at the latest, how surely it comes out, what is short;
// or how many bottles can be promised.
//
// Policy: the recipe is scaled to the bottles wanted beyond those on the shelf
// and in jars, into as many batches alike as the jars make necessary. Each is
// put as late as working days, jars and pot allow. In each draw they start as
// soon as they can; the order holds where all are bottled by the day and fill
// the bottles. For the number that can be promised, whole batches are put up
// in each draw as long as goods, jars, pot and days last, and one of fewer jars
// at the end; a number holds where at least as many come out.
//
// The chances are counted over draws, never multiplied.
func (s *scheduler) back(o Order) (*Back, error) {
	r := o.Recipe
	a := &Back{Recipe: r.Name, By: o.By, Bottles: o.Bottles, OnShelf: s.onShelf(r.Name)}
	if a.Why = s.unfit(untilJars(r)); a.Why != "" {
		return a, nil
	}
	if o.By < s.terms.AsOf || o.By > s.terms.Until {
		a.Why = fmt.Sprintf("%v lies outside the forecast, which runs from %v to %v", o.By, s.terms.AsOf, s.terms.Until)
		return a, nil
	}
	p := &backward{scheduler: s, order: o, out: a}
	p.stands()
	if err := p.promise(); err != nil {
		return nil, err
	}
	if o.Bottles > 0 {
		if err := p.plan(); err != nil {
			return nil, err
		}
	}
	return a, nil
}

// untilJars is a recipe of one jar: how many it takes is worked out.
func untilJars(r yard.Recipe) yard.Recipe {
	r.Jars = min(r.Jars, 1)
	return r
}

// backward works out an answer.
type backward struct {
	*scheduler
	order Order
	out   *Back
	ready []float64 // by draw: bottles on the shelf and from batches that stand, less those promised
}

// stands counts what is there without any new batch.
func (p *backward) stands() {
	for _, k := range p.due([]yard.Recipe{p.order.Recipe}) {
		if k.By <= p.order.By {
			p.out.Promised += k.Bottles
		}
	}
	var standing []float64
	for d, u := range p.pressing() {
		n := p.there(p.order.Recipe.Name, d, p.order.By, u)
		standing = append(standing, n-float64(p.out.OnShelf))
		p.ready = append(p.ready, n-float64(p.out.Promised))
	}
	p.out.Standing = amount(standing)
}

// fill is the bottles of a batch of a recipe at rising retention.
func (p *backward) fill(r yard.Recipe) (filling, yields, error) {
	goods, guessed := GoodsOf(Needs(r), p.set)
	for _, g := range guessed {
		p.guessed[g] = true
	}
	y, err := outcome(r, goods, p.marc, "back", p.terms.Seed)
	return filling{recipe: r.Name, table: y.table, day: p.terms.AsOf}, y, err
}

// books is a draw's book with what stands already.
func (p *backward) books() book {
	return book{stands: slices.Clone(p.printed.stands), pot: slices.Clone(p.printed.pot)}
}

// soonestBy starts a batch in a draw as soon as it can; ok is false where it is
// not bottled by the day.
func (p *backward) soonestBy(b *book, draw int, w *want) (at begin, ok bool) {
	at = p.earliest(b, draw, w, p.terms.AsOf, nil)
	return at, at.start != 0 && p.diary.bottledOn(w.recipe, at.strain) <= p.order.By
}

// promise counts how many bottles can be promised.
func (p *backward) promise() error {
	type size struct {
		want *want
		fill filling
	}
	var sizes []size // the whole recipe, then fewer jars
	for jars := p.order.Recipe.Jars; jars > 0; jars-- {
		r := Scaled(p.order.Recipe, float64(jars)/float64(p.order.Recipe.Jars))
		if k := p.terms.Kitchen.Jars; k > 0 && macerates(r) && r.Jars > k {
			continue
		}
		f, _, err := p.fill(r)
		if err != nil {
			return err
		}
		sizes = append(sizes, size{p.wantOf(r), f})
	}
	bottles := make([]float64, len(p.ready))
	for d, u := range p.pressing() {
		b := p.books()
		n := p.ready[d]
		for i := 0; i < len(sizes); {
			z := &sizes[i]
			at, ok := p.soonestBy(&b, d, z.want)
			if !ok || len(b.pot)+len(b.stands) > mostBatches {
				i++
				continue
			}
			enter(&b, z.want.pace, at)
			n += z.fill.count(d, p.order.By, u)
		}
		bottles[d] = math.Max(n, 0)
	}
	slices.Sort(bottles)
	for _, c := range certainties {
		at := len(bottles) - int(math.Ceil(c*float64(len(bottles))-1e-9))
		p.out.CanPromise = append(p.out.CanPromise, Sure{c, int(bottles[min(at, len(bottles)-1)])})
	}
	return nil
}

// plan sizes the batches and puts them as late as may be.
func (p *backward) plan() error {
	wanted := p.order.Bottles
	ready := slices.Sorted(slices.Values(p.ready))
	more := wanted - int(ready[int(math.Floor((1-surely)*float64(len(ready))))]) // in nearly every draw
	if more <= 0 {
		p.out.Why = "no new batch is needed: the bottles are on the shelf or stand in jars"
		p.out.Chance = p.holds(nil, 0, filling{}, nil)
		return nil
	}
	w, each, fill, err := p.sized(more)
	if err != nil || w == nil {
		return err
	}
	p.late(w, each)
	p.out.Needs = p.needs(w, each)
	p.out.Chance = p.holds(w, each, fill, nil)
	p.without(w, each, fill)
	return nil
}

// sized scales the recipe to so many bottles, in batches that fit the jars.
func (p *backward) sized(bottles int) (w *want, batches int, f filling, err error) {
	r, by, ok := ForBottles(p.order.Recipe, bottles, p.marc, p.set)
	if !ok {
		p.out.Why = "the recipe fills no bottle"
		return nil, 0, f, nil
	}
	batches = 1
	if k := p.terms.Kitchen.Jars; k > 0 && macerates(r) {
		batches = max((r.Jars+k-1)/k, 1)
	}
	if batches > mostBatches {
		p.out.Why = fmt.Sprintf("it takes %d batches, more than can be planned", batches)
		return nil, 0, f, nil
	}
	if batches > 1 {
		r, by, _ = ForBottles(p.order.Recipe, (bottles+batches-1)/batches, p.marc, p.set)
	}
	p.out.Scaled = by
	f, y, err := p.fill(r)
	if err != nil {
		return nil, 0, f, err
	}
	goods, _ := GoodsOf(Needs(r), p.set)
	p.out.Cautions = cautions(r, goods, p.marc, y, p.set)
	p.out.Notes = append(kitchenNotes(r, Needs(r), goods, p.terms.Kitchen, p.set), y.likely.notes(r, false)...)
	p.out.Notes = append(p.out.Notes, p.potNotes(y.likely, r, goods)...)
	return p.wantOf(r), batches, f, nil
}

// late puts the batches as late as days, jars and pot allow, the last first.
func (p *backward) late(w *want, batches int) {
	b := p.books()
	for range batches {
		start, strain := p.latest(&b, w)
		if start == 0 {
			p.out.Batches = nil
			p.out.Why = fmt.Sprintf("there are no days, jars and pot for it between %v and %v", p.terms.AsOf, p.order.By)
			return
		}
		enter(&b, w.pace, begin{start: start, strain: strain})
		p.out.Batches = append(p.out.Batches, BackBatch{start, strain, p.diary.bottledOn(w.recipe, strain), w.pace.jars})
	}
	slices.Reverse(p.out.Batches)
	slices.SortStableFunc(p.out.Batches, func(a, b BackBatch) int { return int(a.Start - b.Start) })
	p.out.LatestStart = p.out.Batches[0].Start
}

// latest is the last open day on which a batch can start and still be bottled
// in time; zeros where there is none.
func (p *backward) latest(b *book, w *want) (start, strain yard.Date) {
	for day := p.order.By; day >= p.terms.AsOf; day-- {
		if p.diary.onOrAfter(day) != day {
			continue
		}
		strain := p.diary.strainOn(b, day, w.pace)
		if strain == 0 || p.diary.bottledOn(w.recipe, strain) > p.order.By || !p.jarsFree(b, w.pace.jars, day, strain) {
			continue
		}
		return day, strain
	}
	return 0, 0
}

// holds is the share of draws in which batches alike, each started as soon as
// it can be, make up the order. starts, where it is not nil, counts the days on
// which the last of them starts.
func (p *backward) holds(w *want, batches int, f filling, starts *chance.Tally) float64 {
	good := 0
	for d, u := range p.pressing() {
		b, n, last := p.books(), p.ready[d], p.terms.AsOf
		for range batches {
			at, ok := p.soonestBy(&b, d, w)
			if !ok {
				last = 0
				break
			}
			enter(&b, w.pace, at)
			n += f.count(d, p.order.By, u)
			last = max(last, at.start)
		}
		if starts != nil {
			count(starts, last)
		}
		if last != 0 && n >= float64(p.order.Bottles) {
			good++
		}
	}
	return float64(good) / float64(len(p.ready))
}

// without tries the order without each ingredient that may be late: by how much
// sooner all of its batches would have begun, at the confidence of the calendar,
// and what its chance would be.
func (p *backward) without(w *want, batches int, f filling) {
	base := p.tally()
	now := p.holds(w, batches, f, base)
	begun := quantile(base, p.terms.Confidence)
	for i, l := range w.lines {
		if len(w.lines) < 2 || p.out.Needs[i].Likely == p.terms.AsOf && p.out.Needs[i].Late == p.terms.AsOf {
			continue
		}
		less := *w
		less.lines = slices.Delete(slices.Clone(w.lines), i, i+1)
		days := p.tally()
		n := w.needs[l.need]
		g := Gain{Species: []string{n.Species}, Or: len(n.Or) > 0, Chance: p.holds(&less, batches, f, days)}
		g.Start = quantile(days, p.terms.Confidence)
		if begun != 0 && g.Start != 0 {
			g.Days = int(begun - g.Start)
		}
		if g.Days >= week || begun == 0 && g.Start != 0 || g.Chance >= now+often {
			p.out.Without = append(p.out.Without, g)
		}
	}
}

// needs are the ingredients of all batches together: what is missing today,
// when it comes, and the chance that it is not all there when the last of them
// must start; those that must be there first.
func (p *backward) needs(w *want, batches int) (ns []BackNeed) {
	by := p.order.By
	if n := len(p.out.Batches); n > 0 {
		by = p.out.Batches[n-1].Start
	}
	for _, l := range slices.Concat(w.lines, w.extra) {
		n := BackNeed{Need: w.needs[l.need]}
		n.Grams *= float64(batches)
		all := l
		all.mg *= int64(batches)
		if p.order.OnHand != nil {
			n.OnHand = p.order.OnHand(n.Species, n.Form)
		}
		n.Missing = math.Max(float64(all.mg)/1000-n.OnHand, 0)
		if n.Form == fresh {
			n.Missing = math.Max(n.Grams-n.OnHand, 0)
		}
		days, late := p.tally(), 0
		for d := range p.ready {
			b := book{}
			in, ok := p.firstOf(&b, d, all)
			if in = max(in, p.terms.AsOf); !ok || in > p.order.By {
				in = 0
			}
			count(days, in)
			if in == 0 || in > by {
				late++
			}
		}
		n.Early, n.Likely, n.Late = quantile(days, 0.1), quantile(days, 0.5), quantile(days, 0.9)
		n.ShortChance = float64(late) / float64(len(p.ready))
		ns = append(ns, n)
	}
	return ns
}
