package season

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"

	"hodaba/forecast"
	"hodaba/forecast/season/linear"
	"hodaba/forecast/season/takes"
	"hodaba/yard"
)

// Make plans a season for a yard. Of the forecast's input it takes State, Data,
// Seed, Workers and Decision. A target that cannot be met is no error, see
// Result.Met; the error says what is wrong with the question or the site, or is
// the context's. progress, where not nil, is told how much of the work is done,
// from 0 to 1.
func Make(ctx context.Context, in forecast.Input, q Question, progress func(done float64)) (*Result, error) {
	m, err := begin(in, q)
	if err != nil {
		return nil, err
	}
	m.tell = progress
	if err := m.lay(ctx); err != nil {
		return nil, err
	}
	if err := m.solve(); err != nil {
		return nil, err
	}
	if err := m.plant(ctx); err != nil {
		return nil, err
	}
	m.lack()
	if err := m.judge(ctx); err != nil {
		return nil, err
	}
	if err := m.whatIf(ctx); err != nil {
		return nil, err
	}
	if err := m.renew(ctx); err != nil {
		return nil, err
	}
	return m.result(), nil
}

// making is a plan under way.
type making struct {
	in    forecast.Input
	q     Question
	state *yard.State
	out   *Result
	site  takes.Site
	loads []takes.Load
	tell  func(float64)
	step  int

	targets    []Target
	needs      *needs
	choosing   *choosing
	candidates []*candidate
	limits     []limit
	byWeek     [][]float64 // by candidate and week of the book: kg fresh of one log, mean
	standing   []float64   // by week: kg fresh of what stands, mean
	weeks      []yard.Date
	dryPer     map[string]float64 // by species: kg dry per kg fresh, mean
	sums       sums
	prog       linear.Programme
	found      *linear.Plan
	lines      []int // candidates of which there are logs, in the order of the lines
	// The plan at its own sizes on the first chunk of the draws planned on, and
	// the same with a fifth less of every crop.
	first, less sums
}

// limit is one of the programme's, with its unit for people.
type limit struct {
	linear.Limit
	unit string
}

// leastYears and mostYears bound how far a season is looked ahead: logs
// inoculated next spring are done about eight years from now.
const (
	leastYears = 6
	mostYears  = 10
)

// begin checks the question and lays out the targets.
func begin(in forecast.Input, q Question) (*making, error) {
	m := &making{in: in, q: q, state: in.State, out: &Result{AsOf: in.State.AsOf, Windfall: q.Windfall, Margin: q.Margin}}
	if m.q.Draws <= 0 {
		m.q.Draws = DefaultDraws
	}
	if m.q.Fresh <= 0 {
		m.q.Fresh = DefaultFresh
	}
	if m.q.Confidence == 0 {
		m.q.Confidence = in.State.Config.Confidence
	}
	if !(m.q.Confidence > 0 && m.q.Confidence < 1) {
		return nil, fmt.Errorf("a confidence of %g %% is none: write one between 50 and 99", 100*m.q.Confidence)
	}
	if q.Plan.Costs == (yard.Costs{}) { // none said
		n := math.NaN()
		m.q.Plan.Costs = yard.Costs{Log: n, SpawnKG: n, Plug: n, WaxKG: n, Hour: n}
	}
	var err error
	if m.site, err = siteOf(in); err != nil {
		return nil, err
	}
	months := q.Plan.Months
	if len(months) == 0 {
		months = m.window()
	}
	if m.q.Year == 0 {
		m.q.Year = seasonYear(in.State.AsOf, months)
	}
	months = slices.DeleteFunc(slices.Clone(months), func(month int) bool {
		return m.q.Year == in.State.AsOf.Year() && month < int(in.State.AsOf.Month())
	})
	if len(months) == 0 || m.q.Year < in.State.AsOf.Year() {
		return nil, fmt.Errorf("the season of %d is over: ask for a later one", m.q.Year)
	}
	if q.Windfall && len(q.Plan.Logs) == 0 {
		return nil, fmt.Errorf(`which logs lie there nobody said: write --logs "60 oak 12cm"`)
	}
	last := m.q.Year + 3
	for _, w := range q.Plan.Wants {
		last = max(last, w.To)
	}
	years := min(max(last-in.State.AsOf.Year(), leastYears), mostYears)
	m.in.Years = years
	var notes []string
	m.targets, notes, err = targets(&q.Plan, m.q.Confidence, in.State.AsOf, in.State.AsOf.AddMonths(12*years))
	m.out.Notes = append(m.out.Notes, notes...)
	if err != nil {
		return nil, err
	}
	m.choosing = &choosing{state: in.State, set: in.Data, plan: &m.q.Plan, year: m.q.Year, months: months, asOf: in.State.AsOf, windfall: q.Windfall}
	m.out.Year, m.out.Confidence, m.out.Currency = m.q.Year, m.q.Confidence, q.Plan.Currency
	return m, nil
}

// done tells how far the work is.
func (m *making) done() {
	m.step++
	if m.tell != nil {
		all := (m.q.Draws+chunk-1)/chunk*2 + (m.q.Fresh+chunk-1)/chunk + 4
		m.tell(min(float64(m.step)/float64(all), 1))
	}
}

// Seeds of the draws that are judged on and of those of the steady state stand
// apart from those planned on.
const (
	freshSeed   = 1 << 32
	renewalSeed = 1 << 33
)

// walk walks piles that stand and planned ones on some draws, in chunks.
func (m *making) walk(ctx context.Context, planned []*yard.Pile, draws int, seed uint64, each func(*forecast.CropBook) error) error {
	in := m.in
	in.Planned = planned
	if in.Seed == 0 {
		in.Seed = forecast.DefaultSeed
	}
	in.Seed += seed
	for from := 0; from < draws; from += chunk {
		in.Draws = min(chunk, draws-from)
		b, err := forecast.Crops(ctx, in)
		if err != nil {
			return err
		}
		if err := each(b); err != nil {
			return err
		}
		m.done()
		in.Seed++
	}
	return nil
}

// lay finds the candidates and walks a pile of each on the draws planned on.
func (m *making) lay(ctx context.Context) error {
	// The calendar of a book is all that rows and candidates want of it.
	calendar := &forecast.CropBook{AsOf: m.state.AsOf}
	end := m.state.AsOf.AddMonths(12*m.in.Years + 1).MonthStart()
	for month := m.state.AsOf.MonthStart(); month < end; month = month.AddMonths(1) {
		calendar.Months = append(calendar.Months, month)
	}
	var err error
	if m.needs, err = rowsOf(m.state, m.in.Data, calendar, m.q.Year, m.targets); err != nil {
		return err
	}
	m.candidates = m.choosing.all(m.needs)
	m.out.Notes = append(m.out.Notes, m.choosing.notes...)
	number := map[string]int{}
	var piles []*yard.Pile
	for j, c := range m.candidates {
		if c.pile != nil {
			piles = append(piles, c.pile)
			number[c.pile.Name] = j
		}
	}
	m.byWeek = make([][]float64, len(m.candidates))
	err = m.walk(ctx, piles, m.q.Draws, 0, func(b *forecast.CropBook) error {
		m.needs.add(&m.sums, b, len(m.candidates), func(name string) int { return number[name] })
		m.weekly(b, number)
		return nil
	})
	if err != nil {
		return err
	}
	m.buyIn(&m.sums)
	m.price()
	return m.limit()
}

// weekly adds up what comes in each week on the mean of the draws.
func (m *making) weekly(b *forecast.CropBook, number map[string]int) {
	share := float64(b.Draws) / float64(m.q.Draws)
	if m.standing == nil {
		m.standing, m.weeks, m.out.Horizon, m.out.LeftOut = make([]float64, len(b.Weeks)), b.Weeks, b.Horizon, b.LeftOut
		m.dryPer = map[string]float64{}
		for s, per := range b.DryPer {
			m.dryPer[s] = b.Amount(func(d int) float64 { return per[d] }).Mean
		}
		for _, l := range b.Loads {
			m.loads = append(m.loads, takes.Load{Week: l.Week, Logs: l.Logs})
		}
	}
	for _, p := range b.Piles {
		to, logs := m.standing, 1.0
		if p.Planned {
			j := number[p.Pile.Name]
			if m.byWeek[j] == nil {
				m.byWeek[j] = make([]float64, len(b.Weeks))
			}
			to, logs = m.byWeek[j], referenceLogs
		}
		for w, kg := range p.Mean {
			to[w] += share * kg / logs
		}
	}
}

// buyIn gives the lots that can be bought to the rows in which they count.
func (m *making) buyIn(s *sums) {
	for j, c := range m.candidates {
		if c.buy == nil {
			continue
		}
		for k := range m.needs.rows {
			r := &m.needs.rows[k]
			year := m.needs.targets[r.target].Year
			if !r.dried || !slices.Contains(r.species, c.buy.species) || year < c.buy.year || (c.buy.year <= m.q.Year && year > c.buy.year) {
				continue
			}
			g := make([]float32, len(s.weight))
			for d := range g {
				g[d] = buyLot
			}
			s.gives[k][j] = g
		}
	}
}

// solve finds whole numbers of logs.
func (m *making) solve() error {
	m.prog = linear.Programme{Targets: m.needs.programme(&m.sums), Weight: m.sums.weight}
	for _, c := range m.candidates {
		cost := c.cost
		if m.q.Margin {
			cost -= c.money
		}
		m.prog.Cost, m.prog.Most = append(m.prog.Cost, cost), append(m.prog.Most, math.Inf(1))
	}
	for _, l := range m.limits {
		m.prog.Limits = append(m.prog.Limits, l.Limit)
	}
	return m.find()
}

// find solves the programme as it stands, and takes lines together where that
// costs no more once spawn is bought by the pack: nobody opens one for two logs.
func (m *making) find() error {
	err := m.seek()
	if err != nil {
		return err
	}
	if !m.found.Met && !m.q.Windfall {
		if err := m.settle(); err != nil {
			return err
		}
	}
	m.gather()
	m.lines = m.lines[:0]
	for j, x := range m.found.X {
		if x > 0 {
			m.lines = append(m.lines, j)
		}
	}
	return nil
}

// Settling for less: how much of a chance, and of what it falls short of what was
// asked, is given up at least where a target cannot be met.
const (
	givenUp     = 0.02
	givenUpPart = 0.1
)

// settle is for wants that cannot all be met: the last points of a chance can
// cost more logs than all the others, so a plan is taken that comes nearly as
// near at least cost.
func (m *making) settle() error {
	p := m.prog
	p.Targets = nil
	for i, t := range m.prog.Targets {
		if lacks := t.Chance - m.found.Chances[i]; lacks > 0 {
			t.Chance -= lacks + max(givenUp, givenUpPart*lacks)
		}
		if t.Chance > 0 {
			p.Targets = append(p.Targets, t)
		}
	}
	found, err := p.Solve(linear.Options{Seed: m.in.Seed})
	if err != nil {
		return fmt.Errorf("planning the season of %d as near as can be: %w", m.q.Year, err)
	}
	if found.Met && found.Cost < m.found.Cost {
		m.found.X, m.found.Cost, m.found.Slack = found.X, found.Cost, found.Slack
	}
	return nil
}

// gatherEffort is how much of the usual work is spent on each try to do without
// a line.
const gatherEffort = 0.15

// whole is the cost of a plan with the spawn that is left over in opened packs,
// and the work that each pile makes by itself.
func (m *making) whole(p *linear.Plan) float64 {
	in := &m.in.Data.Inoculating
	costs, _, _ := takes.Fill(m.q.Plan.Costs, in)
	var lines []takes.Line
	for j, x := range p.X {
		if c := m.candidates[j]; x > 0 && c.pile != nil && !c.pile.Colonised {
			lines = append(lines, m.line(c, "", x))
		}
	}
	sum := p.Cost + float64(len(lines))*in.Labour.Pile.Value/60*costs.Hour
	for _, item := range takes.Of(lines, m.site, m.q.Plan.Holes, m.q.Plan.Costs, in).Shopping {
		if len(item.Packs) == 0 || item.Species == "" {
			continue
		}
		over := -item.Amount
		for _, pack := range item.Packs {
			over += pack.Holds * float64(pack.Count)
		}
		if f, ok := in.Form(item.Form); ok && f.Weighed() {
			sum += over * costs.SpawnKG
		} else {
			sum += over * costs.Plug
		}
	}
	return sum
}

// gather tries to do without each line, the smallest first: its logs go to
// another line, or the programme is solved without it.
func (m *making) gather() {
	if m.q.Windfall || m.q.Margin || !m.found.Met {
		return
	}
	most, bound := m.whole(m.found), m.found.Bound // of all candidates
	kept := slices.Clone(m.prog.Most)
	defer func() { m.prog.Most = kept }()
	m.prog.Most = slices.Clone(kept)
	for again := true; again; {
		again = false
		for _, j := range m.smallestFirst() {
			p := m.moved(j)
			if p == nil || m.whole(p) > most {
				p = m.without(j)
			}
			if p == nil || m.whole(p) > most {
				continue
			}
			m.prog.Most[j] = 0
			m.found, most, again = p, m.whole(p), true
			m.found.Bound = bound
			break
		}
	}
}

// smallestFirst are the candidates of the plan, the fewest logs first; none
// where there is only one.
func (m *making) smallestFirst() (lines []int) {
	for j, x := range m.found.X {
		if x > 0 {
			lines = append(lines, j)
		}
	}
	slices.SortStableFunc(lines, func(a, b int) int { return m.found.X[a] - m.found.X[b] })
	if len(lines) < 2 {
		return nil
	}
	return lines
}

// without is the plan solved without a candidate, nil where there is none.
func (m *making) without(j int) *linear.Plan {
	was := m.prog.Most[j]
	m.prog.Most[j] = 0
	defer func() { m.prog.Most[j] = was }()
	p, err := m.prog.Solve(linear.Options{Seed: m.in.Seed, Effort: gatherEffort})
	if err != nil || !p.Met {
		return nil
	}
	return p
}

// moved is the plan with the logs of a candidate given to the other line that
// does it most cheaply, as few as meet all targets; nil where none does.
func (m *making) moved(j int) (best *linear.Plan) {
	for _, k := range m.smallestFirst() {
		if k == j {
			continue
		}
		x := slices.Clone(m.found.X)
		x[j] = 0
		from := x[k]
		more := sort.Search(2*m.found.X[j]+mostMoved, func(d int) bool {
			x[k] = from + d
			return m.meets(x)
		})
		x[k] = from + more
		if !m.meets(x) {
			continue
		}
		m.trim(x)
		p := *m.found
		p.X, p.Cost = x, 0
		for i, n := range x {
			p.Cost += m.prog.Cost[i] * float64(n)
		}
		if best == nil || m.whole(&p) < m.whole(best) {
			best = &p
		}
	}
	return best
}

// mostMoved is how many logs more than twice its own a line may be replaced by.
const mostMoved = 10

// meets reports whether so many logs meet all targets within the limits.
func (m *making) meets(x []int) bool {
	for _, l := range m.prog.Limits {
		used := 0.0
		for j, n := range x {
			used += l.Use[j] * float64(n)
		}
		if used > l.Room {
			return false
		}
	}
	chances, _ := m.needs.met(&m.sums, x)
	for i, t := range m.targets {
		if chances[i] < t.Confidence {
			return false
		}
	}
	return true
}

// trim takes off what logs are not needed.
func (m *making) trim(x []int) {
	for j := range x {
		for x[j] > 0 && m.prog.Cost[j] >= 0 {
			x[j]--
			if !m.meets(x) {
				x[j]++
				break
			}
		}
	}
}

// seek solves the programme.
func (m *making) seek() (err error) {
	if m.q.Windfall {
		m.found, err = m.prog.Best(m.groups(), linear.Options{Seed: m.in.Seed})
	} else {
		m.found, err = m.prog.Solve(linear.Options{Seed: m.in.Seed})
	}
	switch {
	case errors.Is(err, linear.ErrUnbounded):
		return errors.New("nothing bounds what would earn most: say how many logs can be had (most, under [[plan.logs]]) or how many hours there are ([plan.hours])")
	case err != nil:
		return fmt.Errorf("planning the season of %d: %w", m.q.Year, err)
	}
	return nil
}

// groups are the logs that lie there, and the candidates that could be made of
// them.
func (m *making) groups() (out []linear.Group) {
	for i, l := range m.choosing.logs {
		g := linear.Group{Name: "logs of " + l.Wood, Most: float64(l.Most)}
		for j, c := range m.candidates {
			if c.stock == i {
				g.Vars = append(g.Vars, j)
			}
		}
		if l.Most > 0 {
			out = append(out, g)
		}
	}
	return out
}

// lack says what would have to give way where the plan does not meet all that
// is wanted.
func (m *making) lack() {
	if m.found.Met || m.q.Windfall {
		return
	}
	for _, r := range m.prog.Relax(linear.Options{Seed: m.in.Seed}) {
		if !r.Works || len(m.out.Lacking) == mostLacks {
			continue
		}
		l := Lack{Cost: r.Cost, To: r.To}
		switch r.Way {
		case linear.LessChance:
			t := m.targets[r.Target]
			l.Kind, l.From = "chance", t.Confidence
			l.Text = fmt.Sprintf("%s: %.0f times in 100 rather than %.0f", t, math.Floor(100*r.To), 100*t.Confidence)
		case linear.LessNeed:
			l.Kind, l.From = "need", 1
			l.Text = fmt.Sprintf("%.0f %% of what is wanted of %s", math.Floor(100*r.To), m.targets[r.Target])
		case linear.MoreRoom:
			was := m.limits[r.Limit]
			l.Kind, l.From = "limit", was.Room
			l.Text = fmt.Sprintf("%s: %s %s rather than %s", was.Name, number(math.Ceil(r.To)), was.unit, number(was.Room))
		}
		m.out.Lacking = append(m.out.Lacking, l)
	}
}

// mostLacks is how many ways out are told.
const mostLacks = 6

// number is a figure for people.
func number(x float64) string { return strconv.FormatFloat(math.Round(10*x)/10, 'f', -1, 64) }

// planted are the piles of the plan at their own sizes.
func (m *making) planted() (piles []*yard.Pile, number map[string]int) {
	number = map[string]int{}
	for _, j := range m.lines {
		c := m.candidates[j]
		if c.pile == nil {
			continue
		}
		p := *c.pile
		p.Logs, p.Started = m.found.X[j], m.found.X[j]
		piles = append(piles, &p)
		number[p.Name] = j
	}
	return piles, number
}

// plant walks the piles of the plan at their own sizes on the draws planned on,
// and settles their numbers by that: what a log of a large pile brings varies
// less than one of a small pile. Where that brings in a pile that was not
// walked yet, it is walked too.
func (m *making) plant(ctx context.Context) error {
	for range mostPlantings {
		piles, number := m.planted()
		if err := m.plantOnce(ctx, piles, number); err != nil {
			return err
		}
		if err := m.find(); err != nil {
			return err
		}
		new := slices.ContainsFunc(m.lines, func(j int) bool {
			c := m.candidates[j]
			return c.pile != nil && !slices.ContainsFunc(piles, func(p *yard.Pile) bool { return p.Name == c.pile.Name })
		})
		if !new {
			return nil
		}
	}
	// No more piles than were walked.
	_, number := m.planted()
	for j := range m.candidates {
		if _, ok := number[m.candidates[j].nameOf()]; !ok && m.candidates[j].pile != nil {
			m.prog.Most[j] = 0
		}
	}
	piles, number := m.planted()
	if err := m.plantOnce(ctx, piles, number); err != nil {
		return err
	}
	return m.find()
}

// mostPlantings is how often a plan is walked at its own sizes before no more
// piles are let in.
const mostPlantings = 2

// plantOnce walks piles of the plan at their own sizes.
func (m *making) plantOnce(ctx context.Context, piles []*yard.Pile, number map[string]int) error {
	var again sums
	m.first, m.less = sums{}, sums{factor: lessCrop}
	find := func(name string) int { return number[name] }
	err := m.walk(ctx, piles, m.q.Draws, 0, func(b *forecast.CropBook) error {
		if again.weight == nil {
			m.needs.add(&m.first, b, len(m.candidates), find)
			m.needs.add(&m.less, b, len(m.candidates), find)
		}
		m.needs.add(&again, b, len(m.candidates), find)
		return nil
	})
	if err != nil {
		return err
	}
	for k := range m.sums.gives {
		for _, j := range number {
			m.sums.gives[k][j] = again.gives[k][j]
		}
	}
	m.prog.Targets = m.needs.programme(&m.sums)
	return nil
}
