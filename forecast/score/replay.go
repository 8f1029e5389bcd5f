package score

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// Input is what past forecasts are made again from.
type Input struct {
	// State is the yard as it stood on a day by what was known on another, zero
	// for all that is known now; the method of that name of a yard.Folder. It is
	// called from one goroutine only.
	State   func(asOf, knownBy yard.Date) *yard.State
	Today   yard.Date
	Data    *data.Set
	Draws   int    // of each forecast; 0: DefaultDraws
	Seed    uint64 // 0: that of forecasts
	Every   int    // months between replays; 0: DefaultEvery
	Most    int    // replays at most, the latest; 0: DefaultMost
	Workers int    // 0: one per processor; no more than two forecasts are made at a time
	// Done, where it is not nil, is called after each of so many replays, from
	// one goroutine at a time.
	Done func(done, of int)
}

// The defaults of Input, and how far back and ahead a replay looks.
const (
	DefaultDraws = 300
	DefaultEvery = 3
	DefaultMost  = 24
	longestLead  = 18 // months from a forecast to what it is scored on
	years        = 3  // horizon of a forecast made again
	atOnce       = 2  // forecasts made at a time: each takes much memory
)

// Forecast is how one past forecast of an outcome did. Rule and Normals are
// the scores of the rule of thumb and of thermal time on normals, NaN where
// they say nothing. Scores are days, a ranked probability from 0 to 1, or kg.
type Forecast struct {
	Made                yard.Date
	Ours, Rule, Normals float64
	// What was said: a day, a number of logs or kg, early, likely and late;
	// NaN where it was not reached within the horizon.
	P10, P50, P90 float64
	Below, UpTo   float64 // the chances of less than, and of at most, what came
	Held          float64 // share of what came that lies from P10 to P90, see Held
	PIT           float64
	// Kilograms only: the squared error of the chance of none at all, and the
	// score given that there are some; NaN where there were none.
	Zero, Some float64
}

// Scored is an outcome with the forecasts that were made of it, oldest first.
type Scored struct {
	Outcome
	Forecasts []Forecast
}

// Report says how right past forecasts were.
type Report struct {
	Yards    int
	Replays  []yard.Date // days on which forecasts were made again
	Draws    int
	Every    int // months
	Outcomes []Scored
}

// Replay makes past forecasts again, on the first days of quarters (or every
// so many months) since the first thing was known, each with what was known
// then, and scores them by what was seen since. A day on which nothing was
// forecast that has come since is left out.
func Replay(ctx context.Context, in Input) (*Report, error) {
	if in.Draws <= 0 {
		in.Draws = DefaultDraws
	}
	if in.Every <= 0 {
		in.Every = DefaultEvery
	}
	if in.Most <= 0 {
		in.Most = DefaultMost
	}
	now := in.State(in.Today, 0)
	outcomes := outcomesOf(now, in.Data, in.Today)
	r := &replay{in: in, report: &Report{Yards: 1, Draws: in.Draws, Every: in.Every}}
	for _, o := range outcomes {
		r.report.Outcomes = append(r.report.Outcomes, Scored{Outcome: o})
	}
	for _, d := range replayDays(firstKnown(now), in.Today, in.Every, in.Most) {
		r.plan(d)
	}
	if err := r.run(ctx); err != nil {
		return nil, err
	}
	r.report.Outcomes = slices.DeleteFunc(r.report.Outcomes, func(s Scored) bool { return len(s.Forecasts) == 0 })
	return r.report, nil
}

// firstKnown is the first day on which anything of the yard was known.
func firstKnown(s *yard.State) (first yard.Date) {
	for _, e := range s.Entries {
		d := e.Written.Day()
		if d == 0 {
			d = e.On.From
		}
		if first == 0 || d < first {
			first = d
		}
	}
	return first
}

// replayDays are the firsts of every so many months, from January on, after
// the first day and before today: the latest ones.
func replayDays(first, today yard.Date, every, most int) (days []yard.Date) {
	if first == 0 {
		return nil
	}
	for d := yard.NewDate(first.Year(), 1, 1); d < today; d = d.AddMonths(every) {
		if d >= first {
			days = append(days, d)
		}
	}
	return days[max(0, len(days)-most):]
}

// replay is one replay of a yard under way.
type replay struct {
	in     Input
	report *Report
	jobs   []*job
}

// job is one day on which forecasts are made again, and the outcomes that they
// are scored on, by their place in the report.
type job struct {
	made  yard.Date
	state *yard.State
	of    []int
	done  []Forecast // beside of
	fit   []bool
	site  forecast.Site
	odd   map[string]bool // by pile: its climate is far from that of its window
}

// plan notes what is scored from a day.
func (r *replay) plan(made yard.Date) {
	var j *job
	for i := range r.report.Outcomes {
		o := &r.report.Outcomes[i].Outcome
		if o.began <= made || o.On > made.AddMonths(longestLead) || (o.Kind == Kilograms && !beforeYear(made, o.Year)) {
			continue
		}
		if j == nil {
			j = &job{made: made, state: bare(r.in.State(made, made))}
		}
		if couldSay(j.state.Pile(o.Pile), o) {
			j.of = append(j.of, i)
		}
	}
	if j != nil && len(j.of) > 0 {
		j.done, j.fit = make([]Forecast, len(j.of)), make([]bool, len(j.of))
		r.jobs = append(r.jobs, j)
	}
}

// beforeYear reports whether a forecast of a year's kilograms is scored from a
// day: the first of January, and the first of July before it.
func beforeYear(made yard.Date, year int) bool {
	return made == yard.NewDate(year, 1, 1) || made == yard.NewDate(year-1, 7, 1)
}

// bare is a yard without its batches to come, which cost time and change
// nothing of the piles.
func bare(s *yard.State) *yard.State {
	out := *s
	out.Recipes, out.Config.Expected = nil, nil
	return &out
}

// couldSay reports whether the forecast of a pile, as it was known, spoke of
// an outcome.
func couldSay(p *yard.Pile, o *Outcome) bool {
	switch {
	case p == nil || p.Closed != 0:
		return false
	case o.Kind == FirstHarvest:
		up := func(s yard.Seen) bool { return s.Kind == "harvested" || s.Kind == "pinned" }
		return !slices.ContainsFunc(p.Seen, up) && len(p.Picks) == 0
	case o.Kind == Kilograms:
		return p.LogsKnown
	}
	return true
}

// run makes all forecasts, no more than two at a time, and takes them in the
// order of their days.
func (r *replay) run(ctx context.Context) error {
	atATime := min(atOnce, len(r.jobs))
	if r.in.Workers > 0 {
		atATime = min(atATime, r.in.Workers)
	}
	next := make(chan int)
	errs := make([]error, len(r.jobs))
	var wg sync.WaitGroup
	var telling sync.Mutex
	done := 0
	for range atATime {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for i := range next {
				errs[i] = r.forecast(ctx, r.jobs[i])
				telling.Lock()
				done++
				if r.in.Done != nil {
					r.in.Done(done, len(r.jobs))
				}
				telling.Unlock()
			}
		}()
	}
	for i := range r.jobs {
		next <- i
	}
	close(next)
	wg.Wait()
	for i, j := range r.jobs {
		if errs[i] != nil {
			return fmt.Errorf("the forecast of %s, made again: %w", j.made, errs[i])
		}
		r.take(j)
	}
	return nil
}

// take puts the forecasts of a day into the report.
func (r *replay) take(j *job) {
	r.report.Replays = append(r.report.Replays, j.made)
	for n, i := range j.of {
		if !j.fit[n] {
			continue
		}
		s := &r.report.Outcomes[i]
		s.Climate, s.Odd = j.site.Name, j.odd[s.Pile] && s.Kind != Kilograms
		s.Forecasts = append(s.Forecasts, j.done[n])
	}
}

// forecast makes the forecast of a day again, and that by normals alone, and
// scores both.
func (r *replay) forecast(ctx context.Context, j *job) error {
	in := forecast.Input{State: j.state, Data: r.in.Data, Draws: r.in.Draws, Seed: r.in.Seed, Years: years, Workers: 1}
	for _, i := range j.of {
		o := &r.report.Outcomes[i].Outcome
		ask := forecast.Ask{Pile: o.Pile, On: o.On, LookedAt: 1}
		if o.Kind == Look {
			ask.LookedAt = o.LookedAt
		}
		in.Asked = append(in.Asked, ask)
	}
	ours, err := forecast.Run(ctx, in, nil)
	if err != nil {
		return err
	}
	in.NormalsOnly = true
	normals, err := forecast.Run(ctx, in, nil)
	if err != nil {
		return err
	}
	j.site, j.odd = ours.Site, map[string]bool{}
	for _, p := range ours.Piles {
		j.odd[p.Name] = slices.ContainsFunc(p.Notes, func(n forecast.Note) bool { return n.Kind == "extrapolation" })
	}
	for n, i := range j.of {
		s := &scoring{r: r, j: j, o: &r.report.Outcomes[i].Outcome, at: n, ours: ours, normals: normals}
		j.done[n], j.fit[n] = s.score()
	}
	return nil
}

// scoring is the scoring of one outcome by the forecasts of one day.
type scoring struct {
	r             *replay
	j             *job
	o             *Outcome
	at            int // place among the questions
	ours, normals *forecast.Result
}

// score is ok unless the forecast said nothing of the outcome.
func (s *scoring) score() (f Forecast, ok bool) {
	mine, err := s.ours.Pile(s.o.Pile)
	if err != nil {
		return f, false
	}
	plain, err := s.normals.Pile(s.o.Pile)
	if err != nil {
		return f, false
	}
	nan := math.NaN()
	f = Forecast{Made: s.j.made, Ours: nan, Rule: nan, Normals: nan, P10: nan, P50: nan, P90: nan, Zero: nan, Some: nan}
	switch s.o.Kind {
	case FirstHarvest:
		ok = s.first(&f, mine, plain)
	case Look:
		ok = s.look(&f)
	case Kilograms:
		ok = s.kilograms(&f, mine, plain)
	}
	u := chance.NewStreams(s.seed(), "where an outcome fell", string(s.o.Kind)+" "+s.o.Pile+" "+s.o.On.String()).Draw(int(s.j.made)).Float64()
	f.PIT, f.Held = PIT(f.Below, f.UpTo, u), Held(f.Below, f.UpTo, saidRange)
	return f, ok
}

// saidRange is the share of outcomes that the range said is to hold.
const saidRange = 0.8

func (s *scoring) seed() uint64 {
	if s.r.in.Seed == 0 {
		return forecast.DefaultSeed
	}
	return s.r.in.Seed
}

// first scores the day of the first harvest. What was said up to the day of
// the forecast, on which it is known not to have come, is dropped from the
// simple forecasts; ours holds nothing before it.
func (s *scoring) first(f *Forecast, mine, plain *forecast.Pile) bool {
	low, high, most := float64(s.o.From), math.Inf(1), float64(s.ours.Horizon)
	if !s.o.Open() {
		high = float64(s.o.To)
	}
	made := float64(s.j.made)
	said := Tallied(mine.FirstDays)
	f.Ours = said.Between(low, high, most)
	f.Below, f.UpTo = said.Below(low), said.P(high)
	if s.o.Open() {
		f.UpTo = 1 // never included
	}
	f.said(said)
	pile := s.j.state.Pile(s.o.Pile)
	rule, ok := ruleOfThumb(pile, s.o.speciesOfStrain, s.o.strain, &s.r.in.Data.Practice)
	if ok {
		f.Rule = rule.After(made).Between(low, high, most)
	}
	half := rule
	if plain.HalfDays != nil {
		half = Tallied(plain.HalfDays)
	}
	f.Normals = thermalTime(half, s.j.made, s.o.strain, &s.normals.Site.Normals).Between(low, high, most)
	return true
}

// said notes the early, likely and late value.
func (f *Forecast) said(s Steps) {
	for p, to := range map[float64]*float64{0.1: &f.P10, 0.5: &f.P50, 0.9: &f.P90} {
		if x, ok := s.Quantile(p); ok {
			*to = x
		}
	}
}

// look scores how many log ends had a white ring.
func (s *scoring) look(f *Forecast) bool {
	chances := s.ours.Answers[s.at]
	if chances == nil {
		return false
	}
	k := s.o.With
	f.Ours = RPS(chances, k)
	counts := counted(chances)
	f.Below, f.UpTo = counts.Below(float64(k)), counts.P(float64(k))
	f.said(counts)
	if plain := s.normals.Answers[s.at]; plain != nil {
		f.Normals = RPS(plain, k)
	}
	if rule, ok := ruleOfThumb(s.j.state.Pile(s.o.Pile), s.o.speciesOfStrain, s.o.strain, &s.r.in.Data.Practice); ok {
		f.Rule = RPS(ruleOfThumbLook(rule, s.o.On, s.o.LookedAt), k)
	}
	return true
}

// counted is the distribution of a count by the chances of 0, 1, …
func counted(chances []float64) Steps {
	at := make([]float64, len(chances))
	for k := range at {
		at[k] = float64(k)
	}
	return Weighted(at, chances)
}

// kilograms scores those of a year. The trade has no rule of thumb for them.
func (s *scoring) kilograms(f *Forecast, mine, plain *forecast.Pile) bool {
	i := s.o.Year - s.j.made.Year()
	if i < 0 || i >= len(mine.YearKG) || i >= len(plain.YearKG) {
		return false
	}
	said := Tallied(mine.YearKG[i])
	most := math.Inf(1)
	f.Ours = said.Between(s.o.LowKG, s.o.HighKG, most)
	f.Below, f.UpTo = said.Below(s.o.LowKG), said.P(s.o.HighKG)
	f.said(said)
	f.Normals = Tallied(plain.YearKG[i]).Between(s.o.LowKG, s.o.HighKG, most)
	none := said.P(0)
	f.Zero = Brier(none, s.o.HighKG == 0)
	if s.o.LowKG > 0 {
		some := said
		if none < whole {
			some = said.After(0)
		}
		f.Some = some.Between(s.o.LowKG, s.o.HighKG, most)
	}
	return true
}
