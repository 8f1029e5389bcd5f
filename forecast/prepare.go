package forecast

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/climate"
	"hodaba/forecast/colonise"
	"hodaba/forecast/fruit"
	"hodaba/forecast/ground"
	"hodaba/forecast/growth"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// run is one forecast under way.
type run struct {
	state    *yard.State
	data     *data.Set
	decision Decision
	plain    bool // by normals alone
	planned  []*yard.Pile
	only     int // the one curve to take, from 1; 0 takes them in turn
	asOf     yard.Date
	horizon  yard.Date
	start    yard.Date // first day of the weather
	days     int       // of weather, from start to horizon
	today    int32     // asOf as a day of the weather
	draws    int
	years    int
	seed     uint64
	workers  int

	site         *climate.Site
	source       climate.Source
	calendarDays fruit.Calendar
	settings     []*setting
	tasks        []*task
	leftOut      []LeftOut
	months       []yard.Date // first days of the months ahead, that of asOf first
	monthEnds    []int32     // last days of the months ahead, of the weather
	monthOf      []int16     // by day of the weather: index in months, −1 before
	yearOf       []int16     // by day of the weather: calendar years since that of start
	factors      [][]float32 // by draw and calendar year from start: the year's factor on crops
	totals       map[string]*total
	record       climate.Record
	measured     []climate.Day   // by day of the weather, where known says so
	known        []climate.Known // nil without a record
	resampled    bool
	here         *place
	weight       []float64 // by draw; their sum is the number of draws
	effective    float64   // draws that as many equal ones would be worth
	pairs        map[pairKey]*pair
	soaks        map[string][]Soak // planned, by pile
	loads        []*load
	tank         *Tank               // what they rest on; nil without a tank book
	takeFail     data.Range          // share of logs that never take, given those lost
	yields       *yields             // what crops on record tell, nil nothing
	dryings      map[string]*dryings // by species on the yard's books: what loads weighed tell
	drier        *drierYear          // with what it is loaded in the year ahead; nil where nobody said what it takes
}

// setting is one strain at one place: growing days and triggers are worked
// out for it once per draw.
type setting struct {
	strain    *data.Strain
	place     ground.Place
	curves    curves
	from      int           // first day of the weather it is needed for
	skip      int           // days of the weather before what is read for it
	needed    bool          // growing days: not where all logs were through when they came
	water     *ground.Water // nil in a bed, whose soil keeps logs moist
	green     int           // day of the weather on which its logs count as freshly felled
	waterings []ground.Watering
	wetNow    []float32         // by draw: moisture today, dry basis
	wetSoon   []float32         // by draw: least of the next two weeks
	spawnLost []bool            // by draw
	sums      [][]float32       // by draw: growing days up to and with a day, from from on
	triggers  [][]fruit.Trigger // by draw
	year      float64           // growing days in a mean year ahead
	barren    float64           // share of draws without a trigger ahead
}

// at is the growing days from the day of the forecast to a day of the
// weather, negative before it. The day is from from on.
func (s *setting) at(draw int, day int32) float64 {
	return float64(s.sums[draw][int(day)-s.from])
}

// task is one pile to forecast.
type task struct {
	pile     *yard.Pile
	planned  bool   // it does not stand yet
	name     string // of the species on the yard's books: the grower's own, or as built in
	species  *data.Species
	strain   *data.Strain
	wood     *data.Wood // nil unknown
	setting  *setting
	soaked   []Soak            // on record and planned
	parts    int               // that are soaked by themselves; 1 or more
	soaks    [][]fruit.Trigger // by draw, nil where there is none
	belief   *colonise.Belief
	evidence *evidence

	efficiency efficiency
	diameter   yard.Span // cm over the bark
	// What nobody knows of its logs and of looks at them.
	nuisances []nuisance
	// What it says, tabulated; nil without, or where all were through.
	testimony *testimony
	conflict  float64   // by how much it contradicts itself
	half      []float64 // by draw: ln growing days that half of its logs need
	dried     []inflow
}

// through reports whether a pile's logs were through when they came.
func (t *task) through() bool { return t.pile.Colonised || t.pile.State == "through" }

// inflow is dried mass from one pile in one draw.
type inflow struct {
	draw, day int32
	grams     float64
}

// before is how many days of weather go before the oldest pile, so that
// running means and the soil have something behind them.
const before = 440

// belief is what is believed of a pile before anything is seen on it.
func (r *run) belief(t *task) *colonise.Belief {
	p := t.pile
	return colonise.Prior(t.strain.Need, &r.data.Practice,
		colonise.Logs{Diameter: t.diameter, Spawn: p.Spawn, WoodKnown: p.Wood != ""},
		colonise.Names{Species: t.species.Name + "/" + t.strain.Name, SpawnLot: p.SpawnLot, Pile: p.Name}, r.seed)
}

// soilBefore is how many days before the month of its burial the soil of a
// bed is followed.
const soilBefore = 400

func prepare(in Input) (*run, error) {
	r := &run{
		state: in.State, data: in.Data, planned: in.Planned, decision: in.Decision, plain: in.NormalsOnly, asOf: in.State.AsOf,
		draws: in.Draws, years: in.Years, seed: in.Seed, workers: workersOr(in.Workers),
		totals: map[string]*total{},
	}
	if r.draws <= 0 {
		r.draws = DefaultDraws
	}
	if r.years <= 0 {
		r.years = DefaultYears
	}
	if r.seed == 0 {
		r.seed = DefaultSeed
	}
	var err error
	if r.site, err = climate.Resolve(in.State.Config.Site, in.Data); err != nil {
		return nil, err
	}
	r.pickPiles()
	r.calendarOf()
	r.readRecord()
	if err := r.makeSource(); err != nil {
		return nil, err
	}
	if err := r.makeSettings(); err != nil {
		return nil, err
	}
	if err := r.drawUpRota(); err != nil {
		return nil, err
	}
	for _, t := range r.tasks {
		if t.soaked, t.parts = r.soaksOf(t); len(t.soaked) > 0 {
			t.soaks = make([][]fruit.Trigger, r.draws)
		}
	}
	if !in.lean {
		if err := r.makePlace(); err != nil {
			return nil, err
		}
	}
	r.yearFactors()
	r.learnTakeFail()
	r.learnDrying()
	return r, nil
}

// makeSource takes the weather from the generator, or from seasons of the
// grower's own record where it is long enough and the grower wants it.
func (r *run) makeSource() error {
	if r.plain {
		p, err := climate.NewPlain(r.site, r.asOf)
		r.source = p
		return err
	}
	g, err := climate.NewGenerator(r.site, r.asOf)
	if err != nil {
		return err
	}
	r.source = g
	if r.state.Config.Site.Resample {
		if s, ok := climate.NewResampler(g, r.state.Weather); ok {
			r.source, r.resampled = s, true
		}
	}
	return nil
}

// pickPiles resolves what each pile is made of and leaves out what cannot be
// forecast.
func (r *run) pickPiles() {
	for _, p := range r.state.Piles {
		r.pick(p, false)
	}
	for _, p := range r.planned {
		r.pick(p, true)
	}
}

// pick takes up one pile.
func (r *run) pick(p *yard.Pile, planned bool) {
	t, why := r.task(p, planned)
	switch {
	case why != "":
		r.leftOut = append(r.leftOut, LeftOut{p.Name, why})
	case t != nil:
		r.tasks = append(r.tasks, t)
	}
}

// task is nil without a reason for piles that are gone, and for those that do
// not stand yet unless they are planned.
func (r *run) task(p *yard.Pile, planned bool) (t *task, why string) {
	if p.Closed != 0 || (p.LogsKnown && p.Logs <= 0) {
		return nil, ""
	}
	if p.Like == "" {
		return nil, fmt.Sprintf("%q is not built in: give it like = \"…\" under [[species]] in yard.toml", p.Species)
	}
	sp, ok := r.data.FindSpecies(p.Like)
	if !ok || !sp.Grown || len(sp.Strains) == 0 {
		return nil, fmt.Sprintf("%s is recorded and weighed, not forecast", p.Like)
	}
	strain, ok := sp.FindStrain(p.Strain)
	if !ok {
		strain = &sp.Strains[0]
	}
	if strain.Need.Sigma <= 0 && !p.Colonised {
		return nil, fmt.Sprintf("nobody knows yet what %s needs to be run through", p.Like)
	}
	if p.Since.IsZero() {
		return nil, "no day is known from which to count: write `on`"
	}
	if p.Since.From > r.asOf && !planned {
		return nil, ""
	}
	t = &task{pile: p, planned: planned, name: r.like(p.Species), species: sp, strain: strain}
	if w, ok := r.data.FindWood(p.Wood); ok {
		t.wood = w
	}
	t.diameter = r.diameterOf(t)
	t.efficiency = r.efficiencyOf(t)
	return t, ""
}

// diameterOf is how thick a pile's logs are over the bark.
func (r *run) diameterOf(t *task) yard.Span {
	d := t.pile.Diameter
	if !t.pile.UnderBark || !d.Known() {
		return d
	}
	bark := r.data.Practice.UnknownBark.Value
	if t.wood != nil {
		bark = t.wood.Bark
	}
	d.Low, d.High = harvest.OverBark(d.Low, bark), harvest.OverBark(d.High, bark)
	return d
}

// calendarOf lays out the days and months of the weather.
func (r *run) calendarOf() {
	// To the end of a month, so that the last one is no stub.
	r.horizon = r.asOf.AddMonths(12*r.years+1).MonthStart() - 1
	first := r.asOf
	for _, t := range r.tasks {
		first = min(first, t.pile.Since.From)
	}
	r.start = first - before
	r.days = int(r.horizon-r.start) + 1
	r.today = int32(r.asOf - r.start)
	for m := r.asOf.MonthStart(); m <= r.horizon; m = m.AddMonths(1) {
		r.months = append(r.months, m)
	}
	r.monthOf = make([]int16, r.days)
	r.yearOf = make([]int16, r.days)
	for i := range r.monthOf {
		r.monthOf[i] = -1
		r.yearOf[i] = int16((r.start + yard.Date(i)).Year() - r.start.Year())
	}
	for i, m := range r.months {
		end := r.horizon
		if i+1 < len(r.months) {
			end = r.months[i+1] - 1
		}
		r.monthEnds = append(r.monthEnds, int32(end-r.start))
		for d := max(m, r.start); d <= end; d++ {
			r.monthOf[d-r.start] = int16(i)
		}
	}
	coldest := 0
	for m := range 12 {
		if r.site.MeanTemperature(m) < r.site.MeanTemperature(coldest) {
			coldest = m
		}
	}
	r.calendarDays = fruit.Calendar{Start: int(r.start), Coldest: 30*coldest + 15}
}

// makeSettings collects the strains at their places.
func (r *run) makeSettings() error {
	// Soil and moisture remember where their weather began for long: only beds
	// of one month and piles of one year share a setting, so that an older
	// pile changes nothing of them. What was weighed or watered is a pile's own.
	type key struct {
		strain *data.Strain
		place  ground.Place
		since  yard.Date
		own    string
	}
	seen := map[key]*setting{}
	made := map[growth.Cardinal]*growth.Response{}
	for _, t := range r.tasks {
		k := key{strain: t.strain, place: r.place(t)}
		k.since = yard.NewDate(t.pile.Since.From.Year(), 1, 1)
		if k.place.Buried {
			k.since = t.pile.Since.From.MonthStart()
		}
		waterings := r.waterings(t)
		if len(waterings) > 0 {
			k.own = t.pile.Name
		}
		s := seen[k]
		if s == nil {
			c, err := r.curvesOf(t.strain, made)
			if err != nil {
				return fmt.Errorf("%s: %w", t.species.Name, err)
			}
			s = &setting{strain: t.strain, place: k.place, curves: c, from: r.days,
				sums: make([][]float32, r.draws), triggers: make([][]fruit.Trigger, r.draws)}
			if !k.place.Buried {
				s.water = ground.NewWater(k.place, &r.data.Practice)
				s.green = int(k.since - r.start)
				s.waterings = waterings
				s.wetNow, s.wetSoon, s.spawnLost = make([]float32, r.draws), make([]float32, r.draws), make([]bool, r.draws)
			}
			seen[k] = s
			r.settings = append(r.settings, s)
		}
		s.from = min(s.from, int(t.pile.Since.From-r.start))
		s.needed = s.needed || !t.through()
		if s.place.Buried {
			s.skip = int(k.since-r.start) - soilBefore
		}
		if r.totals[t.name] == nil {
			r.totals[t.name] = newTotal(t.species, r.draws, len(r.months))
		}
		t.setting = s
		t.evidence = r.evidenceOf(t.pile)
		t.belief = r.belief(t)
	}
	return nil
}

// curves are the shapes that the response of a strain may have.
type curves struct {
	response [1 + data.OtherCurves]*growth.Response
	// What growing days on a curve are multiplied by, so that half of the
	// reference logs need as many as on the first: else they could not be told
	// in one figure.
	scale [1 + data.OtherCurves]float32
}

func (r *run) curvesOf(st *data.Strain, made map[growth.Cardinal]*growth.Response) (c curves, err error) {
	for k, curve := range r.data.Practice.Curves {
		card := growth.Of(st.Growth, curve)
		if made[card] == nil {
			if made[card], err = growth.NewResponse(card); err != nil {
				return c, err
			}
		}
		mu, _ := st.Need.On(k)
		c.response[k], c.scale[k] = made[card], float32(math.Exp(st.Need.Mu-mu))
	}
	return c, nil
}

// Radii of logs, cm, to which a pile's is rounded: the lag of a log hardly
// differs between them, and piles that share a radius share their sums.
var radii = []float64{4, 6, 8, 11}

// place is where a pile stands, as the ground model wants it.
func (r *run) place(t *task) ground.Place {
	pr, p := &r.data.Practice, t.pile
	d := pr.DefaultDiameter.Value
	if t.diameter.Known() {
		d = t.diameter.Mid()
	}
	radius := radii[0]
	for _, x := range radii {
		if math.Abs(x-d/2) < math.Abs(radius-d/2) {
			radius = x
		}
	}
	g := r.lies(p.Place)
	g.Radius = radius / 100
	if p.Kind == "bed" {
		g.Buried = true
		g.Depth = pr.BedDepth.Value / 100
		if p.Depth.Known() {
			g.Depth = math.Round(p.Depth.Mid()) / 100
		}
	}
	return g
}

// lies is how a part of the yard lies: its shade, exposure and cover.
func (r *run) lies(place string) ground.Place {
	g := ground.Place{Shade: r.shadeOf(place), Latitude: r.site.Latitude}
	pr := &r.data.Practice
	if e, ok := pr.Exposures[word(r.state.Config.Site.Exposure)]; ok {
		g.Night, g.Day = e.Night.Value, e.Day.Value
	}
	for _, pl := range r.state.Config.Places {
		if pl.Name != place || place == "" {
			continue
		}
		if c, ok := pr.Covers[word(pl.Cover)]; ok {
			g.Night, g.Day = g.Night+c.Warmer.Value, g.Day+c.Warmer.Value
			g.Dry, g.Calm = 1-c.Rain.Value, 1-c.Demand.Value
		}
	}
	return g
}

func word(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// unknownWords says which words for exposure and cover are not known.
func (r *run) unknownWords() (notes []string) {
	pr := &r.data.Practice
	if w := word(r.state.Config.Site.Exposure); w != "" && pr.Exposures[w] == (data.Exposure{}) {
		notes = append(notes, fmt.Sprintf("exposure %q is not known and changes nothing: write one of %s", w, keys(pr.Exposures)))
	}
	for _, pl := range r.state.Config.Places {
		if w := word(pl.Cover); w != "" && w != "open" && pr.Covers[w] == (data.Cover{}) {
			notes = append(notes, fmt.Sprintf("cover %q of place %s is not known and changes nothing: write \"open\" or one of %s", w, pl.Name, keys(pr.Covers)))
		}
	}
	return notes
}

func keys[T any](m map[string]T) string {
	return strings.Join(slices.Sorted(maps.Keys(m)), ", ")
}

// shadeOf is the shade of a part of the yard, a fraction; that of the whole
// yard, or the usual one, where nobody said.
func (r *run) shadeOf(place string) float64 {
	shade := r.state.Config.Site.Shade
	if math.IsNaN(shade) || shade < 0 {
		shade = r.data.Practice.ReferenceShade.Value
	}
	for _, pl := range r.state.Config.Places {
		if pl.Name == place && place != "" && pl.Shade >= 0 && !math.IsNaN(pl.Shade) {
			shade = pl.Shade
		}
	}
	return shade / 100
}

// yearFactors draws the factor that all crops of a calendar year share: a
// lognormal with a mean of one.
func (r *run) yearFactors() {
	sd := r.data.Practice.YearSpread.Value
	streams := r.yearStreams()
	n := r.horizon.Year() - r.start.Year() + 1
	r.factors = make([][]float32, r.draws)
	for d := range r.factors {
		rnd := streams.Draw(d)
		r.factors[d] = make([]float32, n)
		// From the last year backwards, so that an older pile, which needs
		// older weather, changes no later year.
		for y := n - 1; y >= 0; y-- {
			r.factors[d][y] = float32(math.Exp(sd*rnd.NormFloat64() - sd*sd/2))
		}
	}
}

func (r *run) yearStreams() chance.Streams { return r.streams("year's factor on crops", "") }

func (r *run) streams(purpose, name string) chance.Streams {
	return chance.NewStreams(r.seed, purpose, name)
}
