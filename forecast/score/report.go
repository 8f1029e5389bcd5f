package score

import (
	"math"
	"slices"

	"hodaba/yard"
)

// FewOutcomes is the number of distinct outcomes under which nothing is
// judged: with fewer a range that holds 8 in 10 cannot be told from one that
// holds 13 in 20.
const FewOutcomes = 20

// Verdict is how we stand against a simple forecaster.
type Verdict string

// The verdicts. One of two forecasters is better where the mean difference of
// their scores is more than twice its standard error.
const (
	TooFew Verdict = "too few to judge"
	Better Verdict = "better"
	Worse  Verdict = "worse"
	Alike  Verdict = "no clear difference"
)

// PITBins is into how many equal parts the PIT is sorted.
const PITBins = 10

// Sum is what a group of outcomes comes to. Each outcome counts once, however
// many forecasts were made of it. Means are NaN where nothing was scored.
type Sum struct {
	Outcomes, Forecasts         int
	Ours, Rule, Normals         float64
	AgainstRule, AgainstNormals Verdict
	Zero, Some                  float64 // kilograms: see Forecast
	SomeOutcomes                int     // outcomes behind Some
	// Hits is how many outcomes fell into the range that was said 8 times in 10;
	// one known only to lie between two days counts in part. Were the forecasts
	// right, it would lie from HitsLow to HitsHigh 95 times in 100.
	Hits              float64
	HitsLow, HitsHigh int
	// Under and Over are how many fell below the range, earlier or less than was
	// said, and above it; with Hits they add up to Outcomes.
	Under, Over float64
	PIT         [PITBins]float64 // shares
}

// Coverage is the share of Hits; NaN without outcomes.
func (s *Sum) Coverage() float64 { return s.Hits / float64(s.Outcomes) }

// Judged reports whether there are outcomes enough to judge.
func (s *Sum) Judged() bool { return s.Outcomes >= FewOutcomes }

// SumOf sums up the outcomes for which keep holds, by the forecasts for which
// from holds; nil keeps all.
func (r *Report) SumOf(keep func(*Scored) bool, from func(*Scored, *Forecast) bool) *Sum {
	s := &Sum{}
	var ours, rule, normals, zero, some []float64
	for i := range r.Outcomes {
		o := &r.Outcomes[i]
		if keep != nil && !keep(o) {
			continue
		}
		fs := o.Forecasts
		if from != nil {
			fs = slices.DeleteFunc(slices.Clone(fs), func(f Forecast) bool { return !from(o, &f) })
		}
		if len(fs) == 0 {
			continue
		}
		s.Outcomes++
		s.Forecasts += len(fs)
		of := func(get func(Forecast) float64) float64 { return meanOf(fs, get) }
		ours = append(ours, of(func(f Forecast) float64 { return f.Ours }))
		rule = append(rule, of(func(f Forecast) float64 { return f.Rule }))
		normals = append(normals, of(func(f Forecast) float64 { return f.Normals }))
		zero = append(zero, of(func(f Forecast) float64 { return f.Zero }))
		some = append(some, of(func(f Forecast) float64 { return f.Some }))
		s.Hits += of(func(f Forecast) float64 { return f.Held })
		s.Under += of(func(f Forecast) float64 { return part(f.Below, f.UpTo, 0, (1-saidRange)/2) })
		for _, f := range fs {
			s.PIT[min(int(f.PIT*PITBins), PITBins-1)] += 1 / float64(len(fs))
		}
	}
	for i := range s.PIT {
		s.PIT[i] /= math.Max(float64(s.Outcomes), 1)
	}
	s.Over = math.Max(float64(s.Outcomes)-s.Hits-s.Under, 0)
	s.Ours, s.Rule, s.Normals, s.Zero, s.Some = known(ours), known(rule), known(normals), known(zero), known(some)
	for _, x := range some {
		if !math.IsNaN(x) {
			s.SomeOutcomes++
		}
	}
	s.AgainstRule, s.AgainstNormals = against(ours, rule), against(ours, normals)
	s.HitsLow, s.HitsHigh = Hits(s.Outcomes, saidRange)
	return s
}

// meanOf is the mean over forecasts; NaN where any of them says nothing.
func meanOf(fs []Forecast, get func(Forecast) float64) float64 {
	sum := 0.0
	for _, f := range fs {
		sum += get(f)
	}
	return sum / float64(len(fs))
}

// known is the mean of those that are known, NaN of none.
func known(xs []float64) float64 {
	sum, n := 0.0, 0
	for _, x := range xs {
		if !math.IsNaN(x) {
			sum += x
			n++
		}
	}
	return sum / float64(n)
}

// against compares two forecasters outcome by outcome.
func against(ours, theirs []float64) Verdict {
	var d []float64
	for i := range ours {
		if x := theirs[i] - ours[i]; !math.IsNaN(x) {
			d = append(d, x)
		}
	}
	n := float64(len(d))
	if n < FewOutcomes {
		return TooFew
	}
	mean, square := known(d), 0.0
	for _, x := range d {
		square += (x - mean) * (x - mean)
	}
	sure := 2 * math.Sqrt(square/(n-1)/n)
	switch {
	case mean > sure && mean > 0:
		return Better
	case mean < -sure && mean < 0:
		return Worse
	}
	return Alike
}

// Of keeps the outcomes of a kind.
func Of(kind Kind) func(*Scored) bool { return func(s *Scored) bool { return s.Kind == kind } }

// aboutBefore is how long before what came the forecast was made that is shown
// beside it, in days.
const aboutBefore = 183

// About is the forecast that was made nearest to half a year before what came.
func (s *Scored) About() *Forecast {
	best := &s.Forecasts[0]
	off := func(f *Forecast) int { return max(int(s.On-f.Made)-aboutBefore, aboutBefore-int(s.On-f.Made)) }
	for i := range s.Forecasts {
		if f := &s.Forecasts[i]; off(f) < off(best) {
			best = f
		}
	}
	return best
}

// Fell is where what came lies in what was said: -1 below the range that was
// said 8 times in 10, 0 in it, 1 above. What is known only to lie between two
// days counts by the middle of its chances.
func (f *Forecast) Fell() int {
	switch mid := (f.Below + f.UpTo) / 2; {
	case mid < (1-saidRange)/2:
		return -1
	case mid > (1+saidRange)/2:
		return 1
	}
	return 0
}

// Band is a range of leads, in months: more than After, at most UpTo.
type Band struct{ After, UpTo int }

// Bands are the leads by which scores are grouped.
var Bands = []Band{{0, 3}, {3, 6}, {6, 12}, {12, longestLead}}

// Holds reports whether a forecast was made so long before what came.
func (b Band) Holds(s *Scored, f *Forecast) bool {
	return s.On > f.Made.AddMonths(b.After) && s.On <= f.Made.AddMonths(b.UpTo)
}

// Group is the outcomes of one kind that share a season of the year or a
// climate.
type Group struct {
	Kind Kind
	By   string // "season" or "climate"
	Name string
	Sum  *Sum
}

// Seasons are those of the year, by the month in which an outcome was seen.
var Seasons = []string{"December to February", "March to May", "June to August", "September to November"}

// SeasonOf is the season of a day, a place in Seasons.
func SeasonOf(d yard.Date) int { return int(d.Month()) % 12 / 3 }

// Groups are the outcomes by season and by climate, empty ones left out. A
// year's kilograms have no season.
func (r *Report) Groups() (all []Group) {
	add := func(k Kind, by, name string, keep func(*Scored) bool) {
		if sum := r.SumOf(keep, nil); sum.Outcomes > 0 {
			all = append(all, Group{k, by, name, sum})
		}
	}
	var climates []string
	for i := range r.Outcomes {
		if c := r.Outcomes[i].Climate; !slices.Contains(climates, c) {
			climates = append(climates, c)
		}
	}
	for _, k := range Kinds {
		for n, name := range Seasons {
			if k != Kilograms {
				add(k, "season", name, func(s *Scored) bool { return s.Kind == k && SeasonOf(s.On) == n })
			}
		}
		for _, c := range climates {
			add(k, "climate", c, func(s *Scored) bool { return s.Kind == k && s.Climate == c })
		}
	}
	return all
}

// Odd is the number of outcomes for which to beat the rule of thumb is easy.
func (r *Report) Odd() (n int) {
	for i := range r.Outcomes {
		if r.Outcomes[i].Odd {
			n++
		}
	}
	return n
}

// Forecasts is the number of forecasts that were scored.
func (r *Report) Forecasts() int { return r.SumOf(nil, nil).Forecasts }

// Pool puts the reports of several yards together.
func Pool(reports ...*Report) *Report {
	out := &Report{}
	for _, r := range reports {
		out.Yards += r.Yards
		out.Draws, out.Every = r.Draws, r.Every
		out.Outcomes = append(out.Outcomes, r.Outcomes...)
		for _, d := range r.Replays {
			if !slices.Contains(out.Replays, d) {
				out.Replays = append(out.Replays, d)
			}
		}
	}
	slices.Sort(out.Replays)
	return out
}
