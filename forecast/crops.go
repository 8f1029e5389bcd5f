package forecast

import (
	"context"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/fruit"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// CropBook is what piles bring, draw by draw: those that stand, and those
// that are only planned.
type CropBook struct {
	AsOf    yard.Date
	Horizon yard.Date
	Draws   int
	Months  []yard.Date // first days, that of AsOf first
	Weeks   []yard.Date // Mondays, that of AsOf's week first
	Weight  []float64   // by draw; their sum is Draws
	Piles   []*PileCrops
	// DryPer is kg dry per kg fresh by draw, of each species named in Piles.
	DryPer  map[string][]float64
	OnHand  map[string]float64   // g dry by species
	Comes   map[string][]float32 // g dry expected from elsewhere by species: by draw and month
	Loads   []Load               // the tank book ahead, what it is to bring left open
	LeftOut []LeftOut
}

// Month is the index in Months of the month of a day; −1 before the first.
func (b *CropBook) Month(day yard.Date) int {
	first := b.Months[0]
	return max((day.Year()-first.Year())*12+int(day.Month())-int(first.Month()), -1)
}

// PileCrops is what one pile brings from the day after AsOf on.
type PileCrops struct {
	Pile    *yard.Pile
	Species string // as on the yard's books
	Planned bool
	Forced  bool          // its strain answers soaking
	Guess   bool          // no log yield of the species is published
	First   *chance.Tally // day of the first picking, a number of a yard.Date
	Mean    []float64     // kg fresh by week of CropBook.Weeks, mean of draws
	kg      []float32     // by draw and month
	months  int
}

// KG is kg fresh in a month, by its index in CropBook.Months, of a draw.
func (p *PileCrops) KG(draw, month int) float64 { return float64(p.kg[draw*p.months+month]) }

// Between is kg fresh in the months from from and before to of a draw.
func (p *PileCrops) Between(draw, from, to int) (kg float64) {
	for _, k := range p.kg[draw*p.months+from : draw*p.months+to] {
		kg += float64(k)
	}
	return kg
}

// Amount sums up what each draw comes to.
func (b *CropBook) Amount(of func(draw int) float64) Amount {
	t := chance.Amounts()
	for n, w := range b.Weight {
		t.Add(of(n), w)
	}
	return amount(t)
}

// Next is the first picking after AsOf.
func (p *PileCrops) Next() FirstHarvest {
	return FirstHarvest{Chance: p.First.Reached(), Dates: dates(p.First)}
}

// Crops walks the piles that stand and those of Input.Planned on the same
// draws, and keeps what each brings in each. It is Run without what pages
// want of a pile; Asked and Order are passed over. Planned piles are not
// soaked, and add nothing to what stands. The error says what is wrong with
// the site or the input, or is the context's.
func Crops(ctx context.Context, in Input) (*CropBook, error) {
	in.lean = true
	r, err := learned(ctx, in)
	if err != nil {
		return nil, err
	}
	b := &CropBook{
		AsOf: r.asOf, Horizon: r.horizon, Draws: r.draws, Months: r.months, Weight: r.weight,
		DryPer: map[string][]float64{}, OnHand: map[string]float64{}, Comes: map[string][]float32{}, LeftOut: r.leftOut,
	}
	r.bring(b)
	for w := r.asOf.Monday(); w <= r.horizon; w += 7 {
		b.Weeks = append(b.Weeks, w)
	}
	for _, l := range r.loads {
		b.Loads = append(b.Loads, l.Load)
	}
	b.Piles = make([]*PileCrops, len(r.tasks))
	err = r.parallel(ctx, len(r.tasks), func() func(int) {
		w := newWalker(r)
		return func(i int) { b.Piles[i] = w.crop(r.tasks[i], len(b.Weeks)) }
	})
	for _, t := range r.tasks {
		if b.DryPer[t.name] == nil {
			b.DryPer[t.name] = r.dryPer(t.name, t.species)
		}
	}
	return b, err
}

// bring fills what is on hand, and what is expected from elsewhere.
func (r *run) bring(b *CropBook) {
	for _, lot := range r.state.Dry {
		b.OnHand[r.like(lot.Species)] += max(lot.LeftG, 0)
	}
	for i, e := range r.state.Config.Expected {
		name := r.like(e.Species)
		if b.Comes[name] == nil {
			b.Comes[name] = make([]float32, r.draws*len(r.months))
		}
		r.comes(i, e, func(draw int, day yard.Date) {
			b.Comes[name][draw*len(r.months)+b.Month(day)] += float32(e.Grams)
		})
	}
}

// dryPer is kg dry per kg fresh of a species on the yard's books, by draw.
func (r *run) dryPer(name string, sp *data.Species) []float64 {
	out := make([]float64, r.draws)
	streams := r.streams("water in the fresh", sp.Name)
	for n := range out {
		out[n] = harvest.Dried(1, r.waterIn(name, sp, streams.Draw(n).NormFloat64()), sp.Dried.Value)
	}
	return out
}

// crop walks all draws of one pile.
func (w *walker) crop(t *task, weeks int) *PileCrops {
	r := w.r
	a := r.account(t)
	p := &PileCrops{
		Pile: t.pile, Species: t.name, Planned: t.planned, Forced: t.strain.Fruit.Forced, Guess: t.strain.Yield.Unpublished,
		First: chance.Days(int(max(t.pile.Since.From, r.asOf)), int(r.horizon)), Mean: make([]float64, weeks),
		kg: make([]float32, r.draws*len(r.months)), months: len(r.months),
	}
	for n := range r.draws {
		w.fit(t)
		if since := r.begin(t, n); t.through() {
			w.settle(a, n, since)
		} else {
			w.ripen(t, n, since)
		}
		w.makeCrops(w.crops, a, n, cropLearned)
		w.walk(a, n, fruit.Never)
		w.takePast(a, n)
		w.book(p, n)
	}
	return p
}

// book notes what the flushes of a draw bring after today.
func (w *walker) book(p *PileCrops, n int) {
	r, weight := w.r, w.r.weight[n]
	monday, first := int32(r.asOf.Monday()-r.start), fruit.Never
	clear(w.month)
	for _, f := range w.flushes {
		if f.Day <= r.today {
			continue
		}
		kg := w.crops[f.Cohort].Flush(f.Day, r.factor(n, f.Day))
		if kg < leastPicking {
			continue
		}
		first = min(first, f.Day)
		w.month[r.monthOf[f.Day]] += kg
		p.Mean[(f.Day-monday)/7] += kg * weight / float64(r.draws)
	}
	for m, kg := range w.month {
		p.kg[n*p.months+m] = float32(kg)
	}
	if first == fruit.Never {
		p.First.Never(weight)
	} else {
		p.First.Add(float64(r.start+yard.Date(first)), weight)
	}
}
