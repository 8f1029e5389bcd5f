package forecast

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
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
	soaks   []fruit.Trigger
	crops   []harvest.Crop
	month   []float64   // kg by month ahead
	net     [][]float64 // by period on record and cohort: kg taken
}

func newWalker(r *run) *walker {
	return &walker{r: r, month: make([]float64, len(r.months))}
}

// fit makes room for a pile: its cohorts once for each part of it that is
// soaked by itself.
func (w *walker) fit(t *task) {
	n := len(colonise.Cohorts) * t.parts
	if len(w.ready) != n {
		w.ready, w.crops, w.net = make([]int32, n), make([]harvest.Crop, n), nil
	}
}

// account is one pile's tallies while its draws go by.
type account struct {
	t        *task
	streams  streamsOf
	ledger   *ledger // what is on record of its crops, nil nothing
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
	soaked   *soakTally
	kept     holding
	level    *chance.Tally // life crop over the middle of what was thought before any record; nil where nothing is learned
}

// streamsOf are the random streams of one pile, by purpose.
type streamsOf struct {
	settle, wood, life, crop, shared, ratio, stops chance.Streams
	walk                                           []chance.Streams // by part
	soaks                                          []chance.Streams // by part and soak
}

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
	a := r.account(t)
	a.total, a.shareNow = r.totals[t.name], chance.Shares()
	a.half, a.first = chance.Days(int(p.Since.From), int(r.horizon)), chance.Days(int(p.Since.From), int(r.horizon))
	a.through, a.grown, a.need = shareTallies(len(r.months)), chance.Amounts(), chance.Amounts()
	a.picked = make([]float64, len(r.months))
	a.kept = r.holding()
	a.dryWood, a.soaked = chance.Amounts(), r.soakTally(t)
	if r.yields.tells(t) {
		a.level = chance.Amounts()
	}
	a.fresh = tallies(len(r.months))
	a.years = tallies(r.horizon.Year() - r.asOf.Year() + 1)
	for m := p.Since.From.MonthStart(); m < r.asOf.MonthStart(); m = m.AddMonths(1) {
		a.pastEnds = append(a.pastEnds, int32(m.AddMonths(1)-1-r.start))
	}
	a.past = shareTallies(len(a.pastEnds))
	return a
}

// account is a pile's without tallies.
func (r *run) account(t *task) *account {
	name := t.pile.Name
	return &account{
		t: t, ledger: r.yields.ledger(t),
		streams: streamsOf{
			settle: r.streams("settling", name),
			wood:   r.streams("dry wood", name), life: r.streams("life of the logs", name), crop: r.streams("crop of the pile", name),
			shared: r.cropStreams(kindOf(t)), ratio: r.streams("water in the fresh", t.species.Name),
			walk: r.walkStreams(t), soaks: r.soakStreams(t), stops: r.streams("stopped bearing", name),
		},
	}
}

// walkStreams are those of the flushes of a pile's parts.
func (r *run) walkStreams(t *task) []chance.Streams {
	all := []chance.Streams{r.streams("flushes", t.pile.Name)}
	for p := 1; p < t.parts; p++ {
		all = append(all, r.streams("flushes of a part", t.pile.Name+" "+PartName(p)))
	}
	return all
}

// soakStreams are those of the answers to the soaks of a pile's parts, by day:
// what a soak brings must not hang on what is soaked on other days.
func (r *run) soakStreams(t *task) []chance.Streams {
	var all []chance.Streams
	for p := range t.parts {
		for _, s := range t.soaked {
			all = append(all, r.streams("answers to a soak", fmt.Sprint(t.pile.Name, " ", p, " ", s.On)))
		}
	}
	return all
}

// kindOf names the strain with whose piles a pile shares its crop's factor.
func kindOf(t *task) string { return t.species.Name + "/" + t.strain.Name }

// cropStreams are those of the factor that a strain's piles share.
func (r *run) cropStreams(kind string) chance.Streams { return r.streams("crop of the species", kind) }

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

// drawPile is one draw of one pile.
func (w *walker) drawPile(a *account, n int) {
	r := w.r
	w.fit(a.t)
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
	to := w.To
	if !t.planned {
		to = min(to, r.asOf)
	}
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
	half, weight := a.t.half[n], r.weight[n]
	w.ripen(a.t, n, since)
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

// ripen finds the days on which the cohorts of a pile are through.
func (w *walker) ripen(t *task, n int, since int32) {
	began := t.setting.at(n, since)
	sd, half := t.belief.LogSD(n), t.half[n]
	for c, z := range colonise.Cohorts {
		w.ready[c] = w.r.reach(t.setting, n, since, began+math.Exp(half+z*sd))
	}
	for at := len(colonise.Cohorts); at < len(w.ready); at += len(colonise.Cohorts) {
		copy(w.ready[at:], w.ready[:len(colonise.Cohorts)])
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
	wood := w.makeCrops(w.crops, a, n, cropLearned)
	a.dryWood.Add(wood, r.weight[n])
	life := w.left()
	w.walk(a, n, fruit.Never)
	w.takePast(a, n)
	a.kept.stands(life, w.left(), r.weight[n])
	clear(w.month)
	a.soaked.begin(n)
	first := fruit.Never
	water := r.waterIn(a.t.name, a.t.species, a.streams.ratio.Draw(n).NormFloat64())
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
		a.soaked.got(f, kg)
		a.kept.got(f.Day-r.today, kg, r.weight[n])
		w.month[r.monthOf[f.Day]] += kg
		a.total.addWeek(n, (int(f.Day-r.today)+int(r.asOf-r.asOf.Monday()))/7, kg)
		grams := 1000 * share * harvest.Dried(kg, water, a.t.species.Dried.Value)
		a.t.dried = append(a.t.dried, inflow{int32(n), f.Day, grams})
	}
	w.count(a, n, first)
}

// walk finds the flushes of a draw whose triggers start by a day. Parts that
// are soaked by themselves answer by themselves.
func (w *walker) walk(a *account, n int, last int32) {
	t, each := a.t, len(colonise.Cohorts)
	f, triggers := &t.strain.Fruit, upTo(t.setting.triggers[n], last)
	if t.soaks == nil {
		w.flushes = fruit.Walk(w.flushes[:0], f, triggers, w.ready, a.streams.walk[0].Draw(n), nil)
		return
	}
	w.flushes = w.flushes[:0]
	for p := range t.parts {
		soaks := fruit.Soaks{Triggers: w.soaks[:0], Again: w.again(), Answers: func(soak int32) *rand.Rand {
			return a.streams.soaks[p*len(t.soaked)+int(soak)-1].Draw(n)
		}}
		for _, s := range upTo(t.soaks[n], last) {
			if of := t.soaked[s.Soak-1]; of.Part == Whole || of.Part == p {
				soaks.Triggers = append(soaks.Triggers, s)
			}
		}
		w.soaks = soaks.Triggers
		from := len(w.flushes)
		w.flushes = fruit.Walk(w.flushes, f, triggers, w.ready[p*each:(p+1)*each], a.streams.walk[p].Draw(n), &soaks)
		for i := from; i < len(w.flushes); i++ {
			w.flushes[i].Cohort += p * each
		}
	}
	if t.parts > 1 {
		// What is on record is set against them in order of day, all parts together.
		slices.SortStableFunc(w.flushes, func(a, b fruit.Flush) int { return int(a.Day - b.Day) })
	}
}

// again is how many days after a soak logs answer another at the soonest: the
// trade soaks those that brought nothing again after as long.
func (w *walker) again() int32 { return int32(7 * w.r.data.Practice.BlankWeeks.Value) }

// leastPicking is the kg under which nothing is picked: a mushroom or so.
const leastPicking = 0.005

// takePast takes what came before today out of the crop: where it is on
// record what was picked, else the flushes that the forecast thinks of.
func (w *walker) takePast(a *account, n int) {
	r, l := w.r, a.ledger
	w.clearNet(l)
	done := 0
	for _, f := range w.flushes {
		if f.Day > r.today {
			continue
		}
		for l != nil && done < len(l.periods) && l.periods[done].to < f.Day {
			w.reconcile(l, done)
			done++
		}
		kg := w.crops[f.Cohort].Flush(f.Day, r.factor(n, f.Day))
		if i := l.at(f.Day); i >= 0 {
			w.net[i][f.Cohort] += kg
		}
	}
	if l == nil {
		return
	}
	for i := range l.periods { // again, because flushes need not be picked in their order
		w.reconcile(l, i)
	}
	if l.stopped > 0 && a.streams.stops.Draw(n).Float64() < l.stopped {
		for i := range w.crops {
			w.crops[i].Lose(w.crops[i].Left())
		}
	}
}

// clearNet clears what was taken in the periods on record.
func (w *walker) clearNet(l *ledger) {
	if l == nil {
		return
	}
	for len(w.net) < len(l.periods) {
		w.net = append(w.net, make([]float64, len(w.crops)))
	}
	for i := range l.periods {
		clear(w.net[i])
	}
}

// reconcile makes what was taken in a period what is on record: crops give
// more, or are given back what was never picked.
func (w *walker) reconcile(l *ledger, i int) {
	p, net := l.periods[i], w.net[i]
	sum := 0.0
	for _, kg := range net {
		sum += kg
	}
	switch more := p.kg - sum; {
	case more < 0 && sum > 0:
		for c := range w.crops {
			net[c] -= w.crops[c].GiveBack(-more * net[c] / sum)
		}
	case more > 0:
		// From the logs that can have borne, only then from the others.
		more -= w.pick(net, p.day, more, func(c int) bool { return w.crops[c].Begun() || w.ready[c] <= p.to })
		w.pick(net, p.day, more, func(int) bool { return true })
	}
}

// pick takes kg from some crops, in proportion to what is left of each, and
// returns what it took.
func (w *walker) pick(net []float64, day int32, kg float64, from func(cohort int) bool) (took float64) {
	left := 0.0
	for c := range w.crops {
		if from(c) {
			left += w.crops[c].Left()
		}
	}
	if left <= 0 || kg <= 0 {
		return 0
	}
	for c := range w.crops {
		if from(c) {
			got := w.crops[c].Pick(day, kg*w.crops[c].Left()/left)
			net[c] += got
			took += got
		}
	}
	return took
}

// The crops that can be made of a draw.
type cropOf int

const (
	cropLearned cropOf = iota // with the factors given the record
	cropDrawn                 // as thought before any record
	cropMiddle                // with the factors at their middle
)

// deviation is by how many standard deviations the factors of a pile's crop
// differ: that of the efficiency, the part that its strain's piles share and
// its own, and that between piles beyond it.
type deviation struct{ shared, own, beyond float64 }

// efficiency is the deviation of the efficiency.
func (d deviation) efficiency(shared float64) float64 {
	return math.Sqrt(shared)*d.shared + math.Sqrt(1-shared)*d.own
}

// makeCrops makes the life crops of the cohorts and returns the dry wood of
// one log.
func (w *walker) makeCrops(crops []harvest.Crop, a *account, n int, of cropOf) (wood float64) {
	r := w.r
	pr := &r.data.Practice
	y, e := &a.t.strain.Yield, &a.t.efficiency
	wood, diameter := drawWood(a.t, pr, a.streams.wood.Draw(n))
	lasts := r.lasts(a, diameter, n)
	logs := float64(a.t.pile.Logs)
	if !a.t.pile.LogsKnown {
		logs = 1
	}
	rnd := a.streams.crop.Draw(n)
	d := deviation{shared: a.streams.shared.Draw(n).NormFloat64()}
	d.own, d.beyond = rnd.NormFloat64(), rnd.NormFloat64()
	switch of {
	case cropLearned:
		d = r.yields.given(a.t, n, d)
	case cropMiddle:
		d = deviation{}
	}
	efficiency := colonise.Skewed(e.Range, d.efficiency(pr.CropSpread.Value))
	beyond := lognormal(d.beyond, pr.PileSpread.Value)
	if of == cropLearned && a.level != nil {
		a.level.Add(efficiency*beyond/(e.Typical*lognormal(0, pr.PileSpread.Value)), r.weight[n])
	}
	perLog := wood * efficiency * beyond
	if e.fruiting {
		perLog *= 1 - math.Min(colonise.Skewed(r.takeFail, rnd.NormFloat64()), 1)
	}
	each := logs / float64(len(crops))
	spread := pr.LogSpread.Value / math.Sqrt(math.Max(each, 1))
	for i := range crops {
		kg := math.Min(perLog*lognormal(rnd.NormFloat64(), spread), wood)
		crops[i] = harvest.NewCrop(y, each*kg).Lasting(lasts)
	}
	return wood
}

// lognormal is a factor with a mean of one, by how many deviations it differs
// in its logarithm.
func lognormal(z, sd float64) float64 {
	return math.Exp(sd*z - sd*sd/2)
}

// lasts is how many times as long as a log of reference diameter the logs of a
// pile keep fruiting in one draw.
func (r *run) lasts(a *account, diameter float64, n int) float64 {
	pr := &r.data.Practice
	reference := pr.ReferenceDiameter.Value
	if a.t.pile.Kind == "bed" || diameter == reference {
		return 1
	}
	return harvest.Lasts(diameter, reference, colonise.Skewed(pr.LifeExponent, a.streams.life.Draw(n).NormFloat64()))
}

// left is what the crops still hold, kg.
func (w *walker) left() (kg float64) {
	for i := range w.crops {
		kg += w.crops[i].Left()
	}
	return kg
}

// drawWood is the dry wood of one log in kg and its diameter in cm; what is not
// known is drawn.
func drawWood(t *task, pr *data.Practice, rnd *rand.Rand) (kg, diameter float64) {
	zd, zg := rnd.NormFloat64(), rnd.NormFloat64()
	u, v := rnd.Float64(), rnd.Float64()
	d, l := within(t.diameter, u), within(t.pile.Length, v)
	if !t.diameter.Known() {
		d = colonise.Skewed(pr.UnknownDiameter, zd)
	}
	if !t.pile.Length.Known() {
		l = pr.DefaultLength.Value
	}
	if t.wood != nil {
		return harvest.DryWood(t.wood, d, l), d
	}
	return harvest.DryWood(&data.Wood{Gravity: colonise.Skewed(pr.UnknownGravity, zg), Bark: pr.UnknownBark.Value}, d, l), d
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
