//go:build slow

package forecast

import (
	"context"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/forecast/colonise"
	"hodaba/forecast/growth"
	"hodaba/yard"
)

// The experiment: yards drawn from the prior over the embedded stations,
// inoculated within a month of 15 April, the day of the trade's window, their weather measured up to the day of the forecast, ten log ends of each pile
// looked at 4, 7 and 10 months after inoculation. Forecast at 10 months, for
// piles not yet there, of the day on which half of the logs are through; scored
// by the continuous ranked probability score in days (Gneiting & Raftery 2007,
// Journal of the American Statistical Association 102:359–378) against the rule
// of thumb, any day between 12 and 18 months as likely as another, and against
// thermal time on monthly normals.
const (
	pilesOfYard  = 8
	experimental = 800 // draws of each forecast
)

var (
	yardsInAll       = flag.Int("yards", 500, "yards of the experiment")
	calibrationYards = flag.Int("calibrate", 5000, "yards of the calibration")
)

// outcome of one pile: scores in days, and whether the range held.
type outcome struct {
	station                       string
	rule, normals, prior, learned float64
	hitPrior, hitLearned          bool
}

// world is how the truth of a yard differs from what the forecast believes;
// the zero world is as believed.
type world struct {
	name        string
	curve       *growth.Cardinal // solved to the trade's window like any other
	need        data.Requirement // on that curve
	persistence float64          // added to that of wet and dry days
	flipped     float64          // share of log ends read the wrong way round; 0 as believed
	split       map[string]float64
}

func TestExperiment(t *testing.T) {
	set := mustLoad(t)
	all := inWorld(t, set, world{}, *yardsInAll)
	by := map[string][]outcome{}
	for _, o := range all {
		by[o.station] = append(by[o.station], o)
	}
	for _, station := range slices.Sorted(maps.Keys(by)) {
		s := sumUp(by[station])
		t.Logf("%-16s %s", station, s)
		if s.learned > 1.05*s.prior {
			t.Errorf("%s: learned scores %.2f of unlearned, want at most 1.05", station, s.learned/s.prior)
		}
	}
	s := sumUp(all)
	t.Logf("%-16s %s", "all", s)
	// The truth has the strain's own curve; the forecast leaves room for others,
	// and so holds a little more often than it says.
	if s.prior > 0.50*s.rule || s.learned > 0.40*s.rule || s.learned > 0.85*s.prior {
		t.Errorf("scores against the rule of thumb: %.3f unlearned and %.3f learned, want at most 0.50 and 0.40; learned %.3f of unlearned, want at most 0.85",
			s.prior/s.rule, s.learned/s.rule, s.learned/s.prior)
	}
	if percent := math.Round(100 * s.heldLearned); percent < 76 || percent > 84 {
		t.Errorf("the range said 8 times in 10 held %.3f of the time with looks", s.heldLearned)
	}
}

// TestWrongModels: the range said 8 times in 10 must not fail badly when the
// truth is another one than any that the forecast believes in.
func TestWrongModels(t *testing.T) {
	set := mustLoad(t)
	for _, w := range []world{
		{name: "as believed"},
		{name: "inflected curve 3, 24.5, 33", curve: &growth.Cardinal{Min: 3, Opt: 24.5, Max: 33, Inflected: true}},
		{name: "beta curve 0, 22, 32", curve: &growth.Cardinal{Min: 0, Opt: 22, Max: 32}},
		{name: "beta curve 8, 27, 36", curve: &growth.Cardinal{Min: 8, Opt: 27, Max: 36}},
		{name: "wet spells longer", persistence: 0.2},
		{name: "wet spells shorter", persistence: -0.2},
		{name: "20 % of log ends flipped", flipped: 0.2},
		{name: "variance 0.2 yard, 0.6 pile, 0.2 log", split: map[string]float64{"yard": 0.13, "species": 0.07, "spawn_lot": 0.1, "pile": 0.5, "log": 0.2}},
	} {
		s := sumUp(inWorld(t, set, w, (*yardsInAll)/2))
		t.Logf("%-38s %s", w.name, s)
		if s.heldLearned < 0.70 || s.heldLearned > 0.90 {
			t.Errorf("%s: the range said 8 times in 10 held %.3f of the time", w.name, s.heldLearned)
		}
	}
}

// inWorld goes through a number of yards, all stations in turn.
func inWorld(t *testing.T, set *data.Set, w world, yards int) (all []outcome) {
	t.Helper()
	if w.curve != nil {
		w.need = w.solve(t, set) // before others read the strain, which solving sets aside
	}
	out := make([][]outcome, yards)
	var wg sync.WaitGroup
	next := make(chan int)
	for range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range next {
				out[k] = experiment(t, set, w, set.Stations[k%len(set.Stations)].Key, uint64(5000+k))
			}
		}()
	}
	for k := range yards {
		next <- k
	}
	close(next)
	wg.Wait()
	return slices.Concat(out...)
}

type score struct {
	n                                                     int
	rule, normals, prior, learned, heldPrior, heldLearned float64
}

func (s score) String() string {
	return fmt.Sprintf("%5d piles  rule of thumb %6.1f days  normals %6.1f  unlearned %6.1f (%.2f)  learned %6.1f (%.2f of rule, %.2f of normals, %.2f of unlearned)  held %.2f, %.2f",
		s.n, s.rule, s.normals, s.prior, s.prior/s.rule, s.learned, s.learned/s.rule, s.learned/s.normals, s.learned/s.prior, s.heldPrior, s.heldLearned)
}

func sumUp(os []outcome) (s score) {
	s.n = len(os)
	n := float64(len(os))
	for _, o := range os {
		s.rule += o.rule / n
		s.normals += o.normals / n
		s.prior += o.prior / n
		s.learned += o.learned / n
		if o.hitPrior {
			s.heldPrior += 1 / n
		}
		if o.hitLearned {
			s.heldLearned += 1 / n
		}
	}
	return s
}

// experiment makes one yard, its truth and its forecasts.
func experiment(t *testing.T, set *data.Set, w world, station string, seed uint64) (out []outcome) {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 7))
	on := yard.NewDate(2025, time.March, 15) + yard.Date(rnd.IntN(62))
	asOf := on.AddMonths(10)
	piles := func() (all []*yard.Pile) {
		for i := range pilesOfYard {
			all = append(all, referencePile(fmt.Sprint("pile ", i), on, "shiitake", "wide-range"))
		}
		return all
	}
	const truths = 3 // the first draws have the strain's own curve, and each another split of the variance
	truth := w.stage(t, Input{State: yardOf(set, station, asOf, piles()...), Data: set, Draws: truths, Seed: seed, Years: 6, Workers: 1})
	draw := int(seed % truths)
	looked, blank := yardOf(set, station, asOf, piles()...), yardOf(set, station, asOf, piles()...)
	looked.Weather = measuredPast(truth, draw)
	for i, p := range looked.Piles {
		p.Seen = w.looks(truth, truth.tasks[i], draw, on, rnd)
	}
	in := Input{State: looked, Data: set, Draws: experimental, Seed: seed + 100000, Years: 6, Workers: 1}
	r := stage(t, in)
	learned := r.halves()
	for _, task := range r.tasks {
		task.evidence = &evidence{logs: task.evidence.logs}
	}
	if err := r.learn(context.Background()); err != nil {
		t.Error(err)
	}
	prior := r.halves()
	in.State, in.NormalsOnly, in.Draws = blank, true, experimental/4
	normals := stage(t, in).halves()
	for i, task := range truth.tasks {
		since := int32(on - truth.start)
		day := truth.reach(task.setting, draw, since, task.setting.at(draw, since)+math.Exp(task.half[draw]))
		if day <= truth.today || int(day) >= truth.days {
			continue // there already, or beyond six years
		}
		is := truth.start + yard.Date(day)
		o := outcome{station: station, rule: scoreOfRule(on, is)}
		o.normals, _ = normals[i].score(is)
		o.prior, o.hitPrior = prior[i].score(is)
		o.learned, o.hitLearned = learned[i].score(is)
		out = append(out, o)
	}
	return out
}

// stage runs a forecast up to what each pile needs.
func stage(t *testing.T, in Input) *run {
	t.Helper()
	return world{}.stage(t, in)
}

// stage runs a forecast in a world up to what each pile needs.
func (w world) stage(t *testing.T, in Input) *run {
	t.Helper()
	if w.split != nil {
		set := *in.Data
		split := map[string]data.Number{}
		for part, share := range w.split {
			split[part] = data.Number{Value: share}
		}
		set.Practice.Split, set.Practice.SplitShared, set.Practice.SplitApart = split, split, split
		in.Data = &set
	}
	r, err := prepare(in)
	if err != nil {
		t.Fatal(err)
	}
	if w.persistence != 0 {
		region := *r.site.Region
		region.Persistence += w.persistence
		r.site.Region = &region
		if err := r.makeSource(); err != nil {
			t.Fatal(err)
		}
	}
	if w.curve != nil {
		w.bend(t, r)
	}
	if err := r.weather(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := r.learn(context.Background()); err != nil {
		t.Fatal(err)
	}
	return r
}

// solve finds what a log needs on the curve of a world.
func (w world) solve(t *testing.T, set *data.Set) data.Requirement {
	t.Helper()
	response, err := growth.NewResponse(*w.curve)
	if err != nil {
		t.Fatal(err)
	}
	sp, _ := set.FindSpecies("shiitake")
	st, _ := sp.FindStrain("wide-range")
	low, high, _, err := effectiveOf(set, sp, st, func(ref *run) { ref.settings[0].curves.response[0] = response }, 0)
	if err != nil {
		t.Fatal(err)
	}
	return fit(low, high)
}

// bend gives every pile the curve of a world and what it needs on it.
func (w world) bend(t *testing.T, r *run) {
	t.Helper()
	response, err := growth.NewResponse(*w.curve)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range r.settings {
		for k := range s.curves.response {
			s.curves.response[k], s.curves.scale[k] = response, 1
		}
	}
	for _, task := range r.tasks {
		p := task.pile
		task.belief = colonise.Prior(w.need, &r.data.Practice,
			colonise.Logs{Diameter: p.Diameter, Spawn: p.Spawn, WoodKnown: true},
			colonise.Names{Species: "shiitake/wide-range", Pile: p.Name}, r.seed)
	}
}

// looks are at ten log ends at 4, 7 and 10 months: fresh logs each time, some
// of which never took and some of whose ends are misread, as the prior has it.
func (w world) looks(r *run, task *task, draw int, on yard.Date, rnd *rand.Rand) (seen []yard.Seen) {
	pr := &r.data.Practice
	q := nuisance{
		never:   math.Min(colonise.Skewed(pr.TakeFail, rnd.NormFloat64()), 0.9),
		misread: math.Min(colonise.Skewed(pr.FalseSign, rnd.NormFloat64()), 0.9),
	}
	for _, months := range []int{4, 7, 10} {
		day := on.AddMonths(months)
		through := (1 - q.never) * task.belief.Share(r.grown(task, draw, int32(day-r.start)), task.half[draw], draw)
		p := q.ring(through)
		if w.flipped > 0 {
			p = through*(1-w.flipped) + (1-through)*w.flipped
		}
		with := 0
		for range 10 {
			if rnd.Float64() < p {
				with++
			}
		}
		seen = append(seen, looked(day, 10, with))
	}
	return seen
}

// days are the weighted days on which half of a pile's logs are through, in
// order; never is beyond the horizon.
type weightedDays struct {
	day    []yard.Date
	weight []float64
}

func (r *run) halves() (out []weightedDays) {
	for _, task := range r.tasks {
		type wd struct {
			day    yard.Date
			weight float64
		}
		var all []wd
		since := int32(task.pile.Since.From - r.start)
		for n := range r.draws {
			day := r.reach(task.setting, n, since, task.setting.at(n, since)+math.Exp(task.half[n]))
			all = append(all, wd{r.start + yard.Date(min(int(day), r.days)), r.weight[n] / float64(r.draws)})
		}
		slices.SortFunc(all, func(a, b wd) int { return int(a.day - b.day) })
		var w weightedDays
		for _, x := range all {
			w.day, w.weight = append(w.day, x.day), append(w.weight, x.weight)
		}
		out = append(out, w)
	}
	return out
}

// score is the continuous ranked probability score of a day, and whether it
// lies after the tenth and up to nine tenths: of whole days the share of draws
// up to the one and up to the other differ by what is said, and counting the
// first day too would add its own.
func (w *weightedDays) score(is yard.Date) (crps float64, held bool) {
	acc, last := 0.0, w.day[0]
	lo, hi := yard.Date(0), yard.Date(0)
	if is < last {
		crps += float64(last - is)
	}
	for i, d := range w.day {
		crps += between(last, d, is, acc)
		last = d
		acc += w.weight[i]
		if lo == 0 && acc >= 0.1 {
			lo = d
		}
		if hi == 0 && acc >= 0.9-1e-12 {
			hi = d
		}
	}
	if is > last {
		crps += float64(is - last)
	}
	return crps, is > lo && is <= hi
}

// between is the score's share of the days from one to another, where the
// chance of being there is f.
func between(from, to, is yard.Date, f float64) float64 {
	before := float64(min(to, max(from, is)) - from)
	return f*f*before + (1-f)*(1-f)*(float64(to-from)-before)
}

// scoreOfRule is that of any day between 12 and 18 months.
func scoreOfRule(on, is yard.Date) (crps float64) {
	from, to := on.AddMonths(12), on.AddMonths(18)
	for d := min(from, is); d < max(to, is); d++ {
		f := min(max(float64(d-from)/float64(to-from), 0), 1)
		if d >= is {
			f = 1 - f
		}
		crps += f * f
	}
	return crps
}
