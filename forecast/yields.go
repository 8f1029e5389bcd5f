package forecast

import (
	"context"
	"math"
	"slices"

	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/forecast/harvest"
)

// yields is what crops on record tell of the factors by which crops differ:
// the efficiency of a strain in this yard, each pile, each year.
type yields struct {
	ledgers map[*task]*ledger
	strains map[string]int // index of the factor that a strain's piles share
	strain  map[*task]int  // the same, by pile with or without a record
	piles   map[*task]int  // index of the first of a pile's two: of the efficiency, and beyond it
	years   map[int]int    // by calendar year from that of the weather's start
	factors int
	noises  map[*task]*noise
	known   *harvest.Factors
	moved   [][]float64 // by draw and factor: given the record; nil where nothing is learned
}

// ledger is a pile's, nil where nothing of it is on record.
func (y *yields) ledger(t *task) *ledger {
	if y == nil {
		return nil
	}
	return y.ledgers[t]
}

// tells reports whether anything is learned of a pile's crops.
func (y *yields) tells(t *task) bool {
	if y == nil {
		return false
	}
	_, ok := y.strain[t]
	return ok
}

// given are the deviations of a pile's crop in one draw given the record, in
// place of those drawn before it.
func (y *yields) given(t *task, n int, d deviation) deviation {
	if !y.tells(t) {
		return d
	}
	x := y.moved[n]
	d.shared = x[y.strain[t]]
	if i, ok := y.piles[t]; ok {
		d.own, d.beyond = x[i], x[i+1]
	}
	return d
}

// learnYields learns from the crops on record how much better or worse than
// thought the yard's strains, its piles and its past years bear. Without a
// record it changes nothing.
//
// Purpose: crops given what was picked. Equations: harvest.Learn, of which a
// cell is a period on record. In it ln kg is, among draws in which something
// comes, its mean with all factors at their middle, plus the logarithm of the
// pile's factor, plus the year's deviation times what one adds there, plus
// noise. A draw's own noise moves its factors, so that in each what its wood,
// its timing and its flushes made of its crop comes to what is on record. The logarithm
// of the efficiency, which bends at its middle, is taken as straight over one
// deviation on both sides of what is known of it, first before and then given
// the record. Parameters: CropSpread, PileSpread, YearSpread, RecordSpread,
// LeastCrop, ZeroMissed of data.Practice, data.Yield. State: none. Needs
// timing and weights from learn. Errors: the context's.
func (r *run) learnYields(ctx context.Context) error {
	y := &yields{ledgers: map[*task]*ledger{}, strains: map[string]int{}, strain: map[*task]int{}, piles: map[*task]int{}, noises: map[*task]*noise{}, years: map[int]int{}}
	if r.plain {
		return nil
	}
	var tasks []*task
	for _, t := range r.tasks {
		if l := r.ledgerOf(t); l != nil {
			y.ledgers[t] = l
			tasks = append(tasks, t)
		}
	}
	if len(tasks) == 0 {
		return nil
	}
	r.yields = y
	if err := r.expect(ctx, tasks); err != nil {
		return err
	}
	var telling []*task
	for _, t := range tasks {
		l := y.ledgers[t]
		l.weigh(r, t)
		tells := l.sift()
		l.stopped = l.stops(&r.data.Practice)
		if tells {
			telling = append(telling, t)
			y.name(t)
			y.noises[t] = r.noiseOf(t)
		}
	}
	if len(telling) == 0 {
		return nil
	}
	for range 2 {
		var cells []harvest.Cell
		for _, t := range telling {
			cells = append(cells, r.cellsOf(t)...)
		}
		y.known = harvest.Learn(y.factors, cells)
	}
	r.move(telling)
	return nil
}

// stops is the chance that a pile has stopped bearing, after years of nothing
// since it was last picked.
//
// Equation: Bayes' rule with the chance of PileStops before, of nothing in all
// of those years one where it has stopped, and the product of what the
// forecast thinks of each where it has not. Parameters: PileStops, ZeroMissed
// of data.Practice.
func (l *ledger) stops(pr *data.Practice) float64 {
	last, alive := 0, 1.0
	for _, p := range slices.Backward(l.periods) {
		if !p.zero {
			break
		}
		last++
		alive *= math.Max(p.expect.nothingAtAll(), pr.ZeroMissed.Value)
	}
	if last == 0 {
		return 0
	}
	return pr.PileStops.Value / (pr.PileStops.Value + (1-pr.PileStops.Value)*alive)
}

// sift drops zeros where the forecast thought of nothing that could have been
// on record, and reports whether anything is left that tells of crops.
func (l *ledger) sift() (tells bool) {
	kept := l.periods[:0]
	for _, p := range l.periods {
		if p.zero && p.expect.some == 0 {
			continue
		}
		kept = append(kept, p)
		tells = tells || p.expect.tells()
	}
	l.periods = kept
	return tells
}

// fewestWithCrop is the number of draws with a crop under which a period
// tells of timing, not of crops.
const fewestWithCrop = 20

func (e *expectation) tells() bool { return e.draws >= fewestWithCrop && e.some > 0 }

// name gives the factors of a pile and of its periods their places.
func (y *yields) name(t *task) {
	if _, ok := y.strains[kindOf(t)]; !ok {
		y.strains[kindOf(t)] = y.factors
		y.factors++
	}
	y.piles[t] = y.factors
	y.factors += 2
	for _, p := range y.ledgers[t].periods {
		if !p.expect.tells() {
			continue
		}
		for _, year := range p.expect.years {
			if _, ok := y.years[year]; !ok {
				y.years[year] = y.factors
				y.factors++
			}
		}
	}
}

// cellsOf are the periods of a pile as cells, straightened about what is
// known. Their noise is made independent: what comes early is gone later, and
// what nobody knows of a pile's wood lasts.
func (r *run) cellsOf(t *task) (cells []harvest.Cell) {
	y, pr := r.yields, &r.data.Practice
	parts := y.efficiency(t, pr.CropSpread.Value)
	about, sd := 0.0, 1.0
	if y.known != nil {
		about, sd = y.known.Of(parts...)
	}
	offset, slope := straight(t, about, sd)
	cell := func(p *period) harvest.Cell {
		mean, _ := p.expect.moments()
		c := harvest.Cell{
			Loads: []harvest.Load{{Factor: parts[0].Factor, By: slope * parts[0].By}, {Factor: parts[1].Factor, By: slope * parts[1].By},
				{Factor: y.piles[t] + 1, By: pr.PileSpread.Value}},
			Above: math.Log(math.Max(p.kg, pr.LeastCrop.Value)) - mean - offset,
		}
		for k, year := range p.expect.years {
			c.Loads = append(c.Loads, harvest.Load{Factor: y.years[year], By: p.expect.slope(k)})
		}
		return c
	}
	noise := y.noises[t]
	for _, p := range noise.amounts {
		cells = append(cells, cell(p))
	}
	cells = noise.apart(cells)
	for _, p := range y.ledgers[t].periods {
		if p.zero && p.expect.tells() {
			c := cell(p)
			_, variance := p.expect.moments()
			c.Noise = math.Sqrt(variance + pr.RecordSpread.Value*pr.RecordSpread.Value)
			c.Zero, c.None = true, math.Max(p.expect.nothingAtAll(), pr.ZeroMissed.Value)
			cells = append(cells, c)
		}
	}
	return cells
}

// zeros counts the zeros of a pile that tell of crops.
func (y *yields) zeros(t *task) (n int) {
	for _, p := range y.ledgers[t].periods {
		if p.zero && p.expect.tells() {
			n++
		}
	}
	return n
}

// efficiency are the loads of the deviation of a pile's efficiency.
func (y *yields) efficiency(t *task, shared float64) []harvest.Load {
	return []harvest.Load{{Factor: y.strains[kindOf(t)], By: math.Sqrt(shared)}, {Factor: y.piles[t], By: math.Sqrt(1 - shared)}}
}

// straight is ln efficiency over its middle as offset + slope·z, through its
// values one deviation on both sides of what is known of z.
func straight(t *task, about, sd float64) (offset, slope float64) {
	eff := t.efficiency.Range
	at := func(z float64) float64 { return math.Log(colonise.Skewed(eff, z) / eff.Typical) }
	low, high := at(about-sd), at(about+sd)
	slope = (high - low) / (2 * sd)
	return (high+low)/2 - slope*about, slope
}

// move carries the factors of every draw from what was thought to what is
// known, and with them those of the years.
func (r *run) move(telling []*task) {
	y := r.yields
	y.moved = make([][]float64, r.draws)
	back := make([]float64, y.factors*r.draws)
	for n := range y.moved {
		y.moved[n] = back[n*y.factors : (n+1)*y.factors]
	}
	for kind, i := range y.strains {
		streams := r.cropStreams(kind)
		for n := range y.moved {
			y.moved[n][i] = streams.Draw(n).NormFloat64()
		}
	}
	for _, t := range telling {
		streams, i := r.account(t).streams.crop, y.piles[t]
		for n := range y.moved {
			rnd := streams.Draw(n)
			y.moved[n][i], y.moved[n][i+1] = rnd.NormFloat64(), rnd.NormFloat64()
		}
	}
	for _, t := range r.tasks {
		if i, ok := y.strains[kindOf(t)]; ok {
			y.strain[t] = i
		}
	}
	sd := r.data.Practice.YearSpread.Value
	years := r.yearStreams()
	var cellNoise []float64
	for n, x := range y.moved {
		rnd := years.Draw(n)
		for year := len(r.factors[n]) - 1; year >= 0; year-- { // the order of yearFactors
			z := rnd.NormFloat64()
			if i, ok := y.years[year]; ok {
				x[i] = z
			}
		}
		noise := cellNoise[:0]
		for _, t := range telling {
			noise = append(noise, y.noises[t].draw(n)...)
			noise = append(noise, make([]float64, y.zeros(t))...)
		}
		y.known.Move(x, noise)
		cellNoise = noise
		for year, i := range y.years {
			r.factors[n][year] = float32(lognormal(x[i], sd))
		}
	}
}
