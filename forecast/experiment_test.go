//go:build slow

package forecast

import (
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// The experiment: yards drawn from the prior over the embedded stations, their
// weather measured up to the day of the forecast, ten log ends of each pile
// looked at 4, 7 and 10 months after inoculation. Forecast at 10 months, for
// piles not yet there, of the day on which half of the logs are through; scored
// by the continuous ranked probability score in days (Gneiting & Raftery 2007,
// Journal of the American Statistical Association 102:359–378) against the rule
// of thumb, any day between 12 and 18 months as likely as another.
const (
	yardsInAll   = 500
	pilesOfYard  = 8
	experimental = 400 // draws of each forecast
)

// result of one pile: scores in days, and whether the range held.
type outcome struct {
	station              string
	rule, prior, learned float64
	hitPrior, hitLearned bool
}

func TestExperiment(t *testing.T) {
	set := mustLoad(t)
	var all []outcome
	for k := range yardsInAll {
		station := set.Stations[k%len(set.Stations)].Key
		all = append(all, experiment(t, set, station, uint64(5000+k))...)
	}
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
	// Looking is worth less here than the 0.85 that one would wish for: looks
	// at as many logs are taken for the same logs again, and many ends for
	// misread.
	if s.prior > 0.50*s.rule || s.learned > 0.40*s.rule || s.learned > 0.95*s.prior {
		t.Errorf("scores against the rule of thumb: %.2f unlearned and %.2f learned, want at most 0.50 and 0.40; learned %.2f of unlearned, want at most 0.95",
			s.prior/s.rule, s.learned/s.rule, s.learned/s.prior)
	}
	if s.heldLearned < 0.76 || s.heldLearned > 0.84 {
		t.Errorf("the range said 8 times in 10 held %.3f of the time with looks", s.heldLearned)
	}
}

type score struct {
	n                                            int
	rule, prior, learned, heldPrior, heldLearned float64
}

func (s score) String() string {
	return fmt.Sprintf("%5d piles  rule of thumb %6.1f days  unlearned %6.1f (%.2f)  learned %6.1f (%.2f)  held %.2f, %.2f",
		s.n, s.rule, s.prior, s.prior/s.rule, s.learned, s.learned/s.rule, s.heldPrior, s.heldLearned)
}

func sumUp(os []outcome) (s score) {
	s.n = len(os)
	n := float64(len(os))
	for _, o := range os {
		s.rule += o.rule / n
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
func experiment(t *testing.T, set *data.Set, station string, seed uint64) (out []outcome) {
	t.Helper()
	rnd := rand.New(rand.NewPCG(seed, 7))
	on := yard.NewDate(2025, time.Month(1+rnd.IntN(12)), 1+rnd.IntN(28))
	asOf := on.AddMonths(10)
	piles := func() (all []*yard.Pile) {
		for i := range pilesOfYard {
			all = append(all, referencePile(fmt.Sprint("pile ", i), on, "shiitake", "wide-range"))
		}
		return all
	}
	truth := stage(t, Input{State: yardOf(set, station, asOf, piles()...), Data: set, Draws: 3, Seed: seed, Years: 6})
	draw := int(seed % 3)
	weather := measuredUpTo(truth, draw)
	looked, blank := yardOf(set, station, asOf, piles()...), yardOf(set, station, asOf, piles()...)
	looked.Weather, blank.Weather = weather, weather
	for i, p := range looked.Piles {
		p.Seen = looks(truth, truth.tasks[i], draw, on, rnd)
	}
	learned := halves(t, Input{State: looked, Data: set, Draws: experimental, Seed: seed + 100000, Years: 6})
	prior := halves(t, Input{State: blank, Data: set, Draws: experimental, Seed: seed + 100000, Years: 6})
	for i, task := range truth.tasks {
		since := int32(on - truth.start)
		day := truth.reach(task.setting, draw, since, task.setting.at(draw, since)+math.Exp(task.half[draw]))
		if day <= truth.today || int(day) >= truth.days {
			continue // there already, or beyond six years
		}
		is := truth.start + yard.Date(day)
		o := outcome{station: station, rule: scoreOfRule(on, is)}
		o.prior, o.hitPrior = prior[i].score(is)
		o.learned, o.hitLearned = learned[i].score(is)
		out = append(out, o)
	}
	return out
}

// stage runs a forecast up to what each pile needs.
func stage(t *testing.T, in Input) *run {
	t.Helper()
	r, err := prepare(in)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.weather(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := r.learn(context.Background()); err != nil {
		t.Fatal(err)
	}
	return r
}

// measuredUpTo is a draw of weather as a record of its past.
func measuredUpTo(r *run, draw int) *yard.Weather {
	air := make([]climate.Day, r.days)
	r.source.Fill(air, nil, r.start, draw, r.seed)
	w := &yard.Weather{From: r.start}
	for _, d := range air[:r.today+1] {
		w.Days = append(w.Days, yard.WeatherDay{TMin: float64(d.TMin), TMax: float64(d.TMax), Rain: float64(d.Rain), HasTemp: true, HasRain: true})
	}
	return w
}

// looks are at ten log ends at 4, 7 and 10 months: fresh logs each time, some
// of which never took and some of whose ends are misread, as the prior has it.
func looks(r *run, task *task, draw int, on yard.Date, rnd *rand.Rand) (seen []yard.Seen) {
	pr := &r.data.Practice
	never := math.Min(chance.Skewed(pr.TakeFail.Low, pr.TakeFail.Typical, pr.TakeFail.High, rnd.NormFloat64()), 0.9)
	q := nuisance{never: never, misread: math.Min(chance.Skewed(pr.FalseSign.Low, pr.FalseSign.Typical, pr.FalseSign.High, rnd.NormFloat64()), 0.9)}
	since := int32(on - r.start)
	for _, months := range []int{4, 7, 10} {
		day := on.AddMonths(months)
		grown := task.setting.at(draw, int32(day-r.start)) - task.setting.at(draw, since)
		p := q.ring((1 - never) * task.belief.Share(math.Log(math.Max(grown, 1e-6)), task.half[draw], draw))
		with := 0
		for range 10 {
			if rnd.Float64() < p {
				with++
			}
		}
		seen = append(seen, yard.Seen{On: yard.When{From: day, To: day}, Kind: "checked", LookedAt: 10, With: with})
	}
	return seen
}

// days are the weighted days on which half of a pile's logs are through, in
// order; never is beyond the horizon.
type weightedDays struct {
	day    []yard.Date
	weight []float64
}

func halves(t *testing.T, in Input) (out []weightedDays) {
	t.Helper()
	r := stage(t, in)
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
// lies between the tenth and nine tenths.
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
	return crps, is >= lo && is <= hi
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
