package forecast

import (
	"math"
	"math/rand/v2"
	"sort"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/colonise"
	"hodaba/forecast/fruit"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// walker forecasts piles, one after another; it keeps its memory.
type walker struct {
	r       *run
	ready   []int32
	flushes []fruit.Flush
	crops   []harvest.Crop
	month   []float64 // kg by month ahead
}

func newWalker(r *run) *walker {
	n := len(colonise.Cohorts)
	return &walker{r: r, ready: make([]int32, n), crops: make([]harvest.Crop, n), month: make([]float64, len(r.months))}
}

// account is one pile's tallies while its draws go by.
type account struct {
	t        *task
	streams  streamsOf
	taken    float64 // kg recorded as picked, of the logs that still stand
	total    *total
	half     *chance.Tally // day half of the logs are through
	shareNow *chance.Tally
	halfNow  float64         // weight of draws with half through by today
	through  []*chance.Tally // by month ahead: share
	past     []*chance.Tally // by month gone: share
	pastEnds []int32
	grown    *chance.Tally
	need     *chance.Tally
	first    *chance.Tally
	picked   []float64 // by month ahead: weight of draws with a picking
	fresh    []*chance.Tally
	years    []*chance.Tally
	dryWood  *chance.Tally
}

// streamsOf are the random streams of one pile, by purpose.
type streamsOf struct{ settle, wood, crop, shared, ratio, walk chance.Streams }

// pile goes through all draws of one pile.
func (w *walker) pile(t *task) *Pile {
	a := w.r.open(t)
	for n := range w.r.draws {
		w.drawPile(a, n)
	}
	return w.r.close(a)
}

func (r *run) open(t *task) *account {
	p := t.pile
	name := p.Name
	kind := t.species.Name + "/" + t.strain.Name
	a := &account{
		t: t, taken: recorded(p),
		streams: streamsOf{
			settle: r.streams("settling", name),
			wood:   r.streams("dry wood", name), crop: r.streams("crop of the pile", name),
			shared: r.streams("crop of the species", kind), ratio: r.streams("water in the fresh", t.species.Name),
			walk: r.streams("flushes", name),
		},
		total: r.totals[t.name],
		half:  chance.Days(int(p.Since.From), int(r.horizon)), shareNow: chance.Shares(),
		through: shareTallies(len(r.months)), grown: chance.Amounts(), need: chance.Amounts(),
		first: chance.Days(int(p.Since.From), int(r.horizon)), picked: make([]float64, len(r.months)),
		dryWood: chance.Amounts(),
	}
	a.fresh = tallies(len(r.months))
	a.years = tallies(r.horizon.Year() - r.asOf.Year() + 1)
	for m := p.Since.From.MonthStart(); m < r.asOf.MonthStart(); m = m.AddMonths(1) {
		a.pastEnds = append(a.pastEnds, int32(m.AddMonths(1)-1-r.start))
	}
	a.past = shareTallies(len(a.pastEnds))
	return a
}

func tallies(n int) []*chance.Tally {
	ts := make([]*chance.Tally, n)
	for i := range ts {
		ts[i] = chance.Amounts()
	}
	return ts
}

func shareTallies(n int) []*chance.Tally {
	ts := make([]*chance.Tally, n)
	for i := range ts {
		ts[i] = chance.Shares()
	}
	return ts
}

// recorded is the kilograms picked so far from a pile, for the logs that
// still stand: a basket from several piles counts in equal parts.
func recorded(p *yard.Pile) float64 {
	kg := 0.0
	for _, k := range p.Picks {
		kg += k.Fresh.Mid() / float64(max(len(k.Piles), 1))
	}
	if p.Started > p.Logs && p.Logs > 0 {
		kg *= float64(p.Logs) / float64(p.Started)
	}
	return kg
}

// drawPile is one draw of one pile.
func (w *walker) drawPile(a *account, n int) {
	r := w.r
	since := r.begin(a.t, n)
	if a.t.through() {
		w.settle(a, n, since)
	} else {
		w.colonise(a, n, since)
	}
	w.harvest(a, n)
}

// begin draws the first day of a pile's life, which may be vague.
func (r *run) begin(t *task, n int) int32 {
	w := t.pile.Since
	to := min(w.To, r.asOf)
	day := w.From
	if to > w.From {
		day += yard.Date(r.streams("day of the beginning", t.pile.Name).Draw(n).IntN(int(to-w.From) + 1))
	}
	return int32(day - r.start)
}

// settle makes ready-colonised logs ready after a time of settling.
func (w *walker) settle(a *account, n int, since int32) {
	months := colonise.Skewed(w.r.data.Practice.SettleMonths, a.streams.settle.Draw(n).NormFloat64())
	if a.t.pile.Kind != "bed" {
		months = 0
	}
	day := since + int32(math.Round(months*365.25/12))
	if f := a.t.evidence.fruited; f != nil {
		day = min(day, f.day)
	}
	for c := range w.ready {
		w.ready[c] = day
	}
}

// colonise draws how much a pile needs and finds the days on which it is
// through.
func (w *walker) colonise(a *account, n int, since int32) {
	r, s := w.r, a.t.setting
	began := s.at(n, since)
	sd, half, weight := a.t.belief.LogSD(n), a.t.half[n], r.weight[n]
	for c, z := range colonise.Cohorts {
		w.ready[c] = r.reach(s, n, since, began+math.Exp(half+z*sd))
	}
	if r.curve(n) == 0 {
		// Told on the strain's own curve: those of the others differ in scale.
		a.grown.Add(s.at(n, r.today)-began, weight)
		a.need.Add(math.Exp(half), weight)
	}
	day := r.reach(s, n, since, began+math.Exp(half))
	if day == fruit.Never {
		a.half.Never(weight)
	} else {
		a.half.Add(float64(r.start+yard.Date(day)), weight)
	}
	if day <= r.today {
		a.halfNow += weight
	}
	shares := newShares(a.t.belief, half, n)
	share := func(day int32) float64 { return shares.at(s.at(n, day) - began) }
	a.shareNow.Add(share(r.today), weight)
	for i, end := range r.monthEnds {
		a.through[i].Add(share(end), weight)
	}
	for i, end := range a.pastEnds {
		if end < since {
			a.past[i].Add(0, weight)
			continue
		}
		a.past[i].Add(share(end), weight)
	}
}

// shares gives the share of logs through for growing days; where it is all or
// none to a part in ten thousand it says so without working it out.
type shares struct {
	belief    *colonise.Belief
	draw      int
	half      float64
	none, all float64 // growing days
}

// certain is how many deviations from half count as none or all.
const certain = 3.8

func newShares(b *colonise.Belief, half float64, draw int) shares {
	sd := b.LogSD(draw)
	return shares{b, draw, half, math.Exp(half - certain*sd), math.Exp(half + certain*sd)}
}

func (s *shares) at(grown float64) float64 {
	switch {
	case grown <= s.none:
		return 0
	case grown >= s.all:
		return 1
	}
	return s.belief.Share(math.Log(grown), s.half, s.draw)
}

// reach is the first day on which the growing days of a draw come to a sum,
// or fruit.Never.
func (r *run) reach(s *setting, n int, since int32, sum float64) int32 {
	days := s.sums[n][int(since)-s.from:]
	i := sort.Search(len(days), func(i int) bool { return float64(days[i]) >= sum })
	if i == len(days) {
		return fruit.Never
	}
	return since + int32(i)
}

// harvest walks the flushes of a draw and weighs them.
func (w *walker) harvest(a *account, n int) {
	r := w.r
	w.makeCrops(a, n)
	var soaks []fruit.Trigger
	if a.t.soaks != nil {
		soaks = a.t.soaks[n]
	}
	w.flushes = fruit.Walk(w.flushes[:0], &a.t.strain.Fruit, a.t.setting.triggers[n], soaks, w.ready, a.streams.walk.Draw(n))
	w.takePast(a, n)
	clear(w.month)
	first := fruit.Never
	water := colonise.Skewed(a.t.species.Fresh, a.streams.ratio.Draw(n).NormFloat64())
	share := r.state.Config.Drier.Share
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
		grams := 1000 * share * harvest.Dried(kg, water, a.t.species.Dried.Value)
		a.t.dried = append(a.t.dried, inflow{int32(n), f.Day, grams})
	}
	w.count(a, n, first)
}

// leastPicking is the kg under which nothing is picked: a mushroom or so.
const leastPicking = 0.005

// takePast takes the flushes before today out of the crop, and what was
// recorded beyond them.
func (w *walker) takePast(a *account, n int) {
	r := w.r
	past := 0.0
	for _, f := range w.flushes {
		if f.Day <= r.today {
			past += w.crops[f.Cohort].Flush(f.Day, r.factor(n, f.Day))
		}
	}
	more := a.taken - past
	if more <= 0 {
		return
	}
	left := 0.0
	for i := range w.crops {
		left += w.crops[i].Left()
	}
	for i := range w.crops {
		w.crops[i].Lose(more * w.crops[i].Left() / math.Max(left, 1e-9))
	}
}

// makeCrops draws the life crops of the cohorts.
func (w *walker) makeCrops(a *account, n int) {
	pr := &w.r.data.Practice
	y := &a.t.strain.Yield
	wood := drawWood(a.t, pr, a.streams.wood.Draw(n))
	a.dryWood.Add(wood, w.r.weight[n])
	logs := float64(a.t.pile.Logs)
	if !a.t.pile.LogsKnown {
		logs = 1
	}
	rnd := a.streams.crop.Draw(n)
	shared := pr.CropSpread.Value
	z := math.Sqrt(shared)*a.streams.shared.Draw(n).NormFloat64() + math.Sqrt(1-shared)*rnd.NormFloat64()
	perLog := wood * colonise.Skewed(y.Efficiency, z) * lognormal(rnd, pr.PileSpread.Value)
	if y.PerFruiting {
		perLog *= 1 - math.Min(colonise.Skewed(pr.TakeFail, rnd.NormFloat64()), 1)
	}
	each := logs / float64(len(w.crops))
	spread := pr.LogSpread.Value / math.Sqrt(math.Max(each, 1))
	for i := range w.crops {
		kg := math.Min(perLog*lognormal(rnd, spread), wood)
		w.crops[i] = harvest.NewCrop(y, each*kg)
	}
}

// lognormal draws a factor with a mean of one.
func lognormal(rnd *rand.Rand, sd float64) float64 {
	return math.Exp(sd*rnd.NormFloat64() - sd*sd/2)
}

// drawWood is the dry wood of one log in kg; what is not known is drawn.
func drawWood(t *task, pr *data.Practice, rnd *rand.Rand) float64 {
	zd, zg := rnd.NormFloat64(), rnd.NormFloat64()
	u, v := rnd.Float64(), rnd.Float64()
	d, l := within(t.pile.Diameter, u), within(t.pile.Length, v)
	if !t.pile.Diameter.Known() {
		d = colonise.Skewed(pr.UnknownDiameter, zd)
	}
	if !t.pile.Length.Known() {
		l = pr.DefaultLength.Value
	}
	if t.wood != nil {
		return harvest.DryWood(t.wood, d, l)
	}
	return harvest.DryWood(&data.Wood{Gravity: colonise.Skewed(pr.UnknownGravity, zg), Bark: pr.UnknownBark.Value}, d, l)
}

func within(s yard.Span, u float64) float64 { return s.Low + (s.High-s.Low)*u }

// factor is the year's factor on crops on a day.
func (r *run) factor(n int, day int32) float64 {
	return float64(r.factors[n][r.yearOf[day]])
}

// count puts one draw's pickings into the tallies.
func (w *walker) count(a *account, n int, first int32) {
	r := w.r
	weight := r.weight[n]
	if first == fruit.Never {
		a.first.Never(weight)
	} else {
		a.first.Add(float64(r.start+yard.Date(first)), weight)
	}
	year, sum := 0, 0.0
	for i, kg := range w.month {
		if y := r.months[i].Year() - r.asOf.Year(); y != year {
			a.years[year].Add(sum, weight)
			year, sum = y, 0
		}
		sum += kg
		a.fresh[i].Add(kg, weight)
		if kg > 0 {
			a.picked[i] += weight
			a.total.add(n, i, kg)
		}
	}
	a.years[year].Add(sum, weight)
}
