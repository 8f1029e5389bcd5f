package forecast

import (
	"cmp"
	"slices"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/climate"
	"hodaba/forecast/ground"
	"hodaba/forecast/growth"
	"hodaba/yard"
)

// The lengths that the site is looked at, days.
const (
	yearAhead  = 365
	weeksAhead = 26
	twoWeeks   = 14
)

// place is the yard as a place: a reference log in its shade and a bed at the
// usual depth, and what each draw of weather does to them.
type place struct {
	log, bed ground.Place
	strain   *data.Strain
	species  string
	response *growth.Response
	months   []yard.Date // first days of the twelve months ahead
	draws    []placeDraw
}

// placeDraw is one draw at the place.
type placeDraw struct {
	hardFrost, lastFrost int32 // days of the weather, −1 none
	hot                  int
	air, log, soil, rain []float32 // by month ahead
	wet                  []float32 // by week ahead, dry basis
	soFar, usual         float32
}

// makePlace prepares the place; the strain is that of most logs.
func (r *run) makePlace() error {
	pr := &r.data.Practice
	log := r.lies("")
	log.Radius = pr.ReferenceDiameter.Value / 200
	bed := log
	bed.Buried, bed.Depth = true, pr.BedDepth.Value/100
	p := &place{
		log: log, bed: bed,
		draws: make([]placeDraw, r.draws),
	}
	p.species, p.strain = r.commonest()
	if p.strain == nil {
		return nil
	}
	var err error
	if p.response, err = growth.NewResponse(growth.Of(p.strain.Growth, r.data.Practice.Curves[0])); err != nil {
		return err
	}
	for m := range min(12, len(r.months)) {
		p.months = append(p.months, r.months[m])
	}
	r.here = p
	return nil
}

// commonest is the strain of most logs in the yard; the first one built in
// where there is none.
func (r *run) commonest() (string, *data.Strain) {
	logs := map[*data.Strain]int{}
	var best *data.Strain
	name := ""
	for _, t := range r.tasks {
		if t.planned {
			continue
		}
		logs[t.strain] += max(t.pile.Logs, 1)
		if best == nil || logs[t.strain] > logs[best] {
			best, name = t.strain, t.species.Name
		}
	}
	if best != nil {
		return name, best
	}
	if sp, ok := r.data.FindSpecies("shiitake"); ok {
		return sp.Name, &sp.Strains[0]
	}
	return "", nil
}

// placeWorker looks at the place in one draw after another.
type placeWorker struct {
	r         *run
	log, soil *ground.Model
	water     *ground.Water
	logs, bed ground.Series
	wet       []float32
	from      int // day of the weather from which the place is followed
}

// placeBefore is how many days before the year of the forecast the place is
// followed.
const placeBefore = 370

func newPlaceWorker(r *run) *placeWorker {
	pr := &r.data.Practice
	p := r.here
	from := max(int(yard.NewDate(r.asOf.Year(), 1, 1)-r.start)-placeBefore, 0)
	return &placeWorker{
		r: r, from: from, log: ground.NewModel(p.log, pr), soil: ground.NewModel(p.bed, pr), water: ground.NewWater(p.log, pr),
	}
}

// look fills the draw n from its air and evaporative demand.
func (w *placeWorker) look(n int, air []climate.Day, demand []float32) {
	r, p := w.r, w.r.here
	start := r.start + yard.Date(w.from)
	end := min(int(r.today)+yearAhead+31, len(air))
	air, demand = air[w.from:end], demand[w.from:end]
	w.log.Fill(&w.logs, air, start)
	w.soil.Fill(&w.bed, air, start)
	w.wet = w.water.Fill(w.wet, air, demand, nil)
	today := int(r.today) - w.from
	d := &p.draws[n]
	*d = placeDraw{}
	w.frosts(d, air, today)
	w.monthsAhead(d, air, start)
	for k := range weeksAhead + 1 {
		if i := today + 7*k; i < len(w.wet) {
			d.wet = append(d.wet, w.wet[i])
		}
	}
	w.growth(d, today, start)
}

// frosts finds the next hard frost, the last frost before summer, and counts
// hot days.
func (w *placeWorker) frosts(d *placeDraw, air []climate.Day, today int) {
	pr := &w.r.data.Practice
	hard, hot := float32(pr.HardFrost.Value), float32(pr.HotDay.Value)
	d.hardFrost, d.lastFrost = -1, -1
	summer := w.r.daysToSummer()
	for i := today + 1; i < len(air) && i <= today+yearAhead; i++ {
		if air[i].TMin <= hard && d.hardFrost < 0 {
			d.hardFrost = int32(w.from + i)
		}
		if air[i].TMin <= 0 && i <= today+summer {
			d.lastFrost = int32(w.from + i)
		}
		if air[i].TMax > hot {
			d.hot++
		}
	}
}

// daysToSummer is how many days it is to the next day on which the normals
// are warmest.
func (r *run) daysToSummer() int {
	warmest := 0
	for m := range 12 {
		if r.site.MeanTemperature(m) > r.site.MeanTemperature(warmest) {
			warmest = m
		}
	}
	for y := r.asOf.Year(); ; y++ {
		if d := yard.NewDate(y, 1, 15).AddMonths(warmest); d > r.asOf {
			return int(d - r.asOf)
		}
	}
}

func (w *placeWorker) monthsAhead(d *placeDraw, air []climate.Day, start yard.Date) {
	for _, m := range w.r.here.months {
		first := max(int(m-start), 0)
		last := min(int(m.AddMonths(1)-start), len(air))
		var a, l, s, rain float64
		for i := first; i < last; i++ {
			a += air[i].Mean()
			l += float64(w.logs.Mean[i])
			s += float64(w.bed.Mean[i])
			rain += float64(air[i].Rain)
		}
		days := float64(max(last-first, 1))
		d.air = append(d.air, float32(a/days))
		d.log = append(d.log, float32(l/days))
		d.soil = append(d.soil, float32(s/days))
		d.rain = append(d.rain, float32(rain))
	}
}

// growth sums growing days from 1 January to today, this year and next.
func (w *placeWorker) growth(d *placeDraw, today int, start yard.Date) {
	r := w.r
	from := max(int(yard.NewDate(r.asOf.Year(), 1, 1)-start), 0)
	next := int(yard.NewDate(r.asOf.Year()+1, 1, 1) - start)
	for i := from; i < len(w.logs.Mean); i++ {
		g := r.here.response.Day(w.logs.Mean[i], w.logs.Swing[i])
		if i <= today {
			d.soFar += g
		}
		if i >= next && i-next <= today-from {
			d.usual += g
		}
	}
}

// ahead sums up the draws of the place.
func (r *run) ahead() SiteAhead {
	p := r.here
	if p == nil {
		return SiteAhead{}
	}
	out := SiteAhead{Species: p.species, Strain: p.strain.Name}
	hard, last := chance.Days(int(r.start), int(r.horizon)), chance.Days(int(r.start), int(r.horizon))
	hot, soFar, usual := chance.Amounts(), chance.Amounts(), chance.Amounts()
	day := func(t *chance.Tally, d int32, weight float64) {
		if d < 0 {
			t.Never(weight)
			return
		}
		t.Add(float64(r.start)+float64(d), weight)
	}
	frosts := 0.0 // draws with a frost before summer: its dates are those of such a year
	for n := range p.draws {
		d := &p.draws[n]
		weight := r.weight[n]
		day(hard, d.hardFrost, weight)
		if d.lastFrost >= 0 {
			day(last, d.lastFrost, weight)
			frosts += weight
		}
		hot.Add(float64(d.hot), weight)
		soFar.Add(float64(d.soFar), weight)
		usual.Add(float64(d.usual), weight)
	}
	out.HardFrost = FirstHarvest{Chance: hard.Reached(), Dates: dates(hard)}
	out.LastFrost = FirstHarvest{Chance: frosts / float64(len(p.draws)), Dates: dates(last)}
	out.HotDays, out.SoFar, out.Usual = amount(hot), amount(soFar), amount(usual)
	for i, m := range p.months {
		out.Months = append(out.Months, SiteMonth{
			Month: m,
			Air:   spread(p.draws, r.weight, func(d *placeDraw) float32 { return d.air[i] }),
			Log:   spread(p.draws, r.weight, func(d *placeDraw) float32 { return d.log[i] }),
			Soil:  spread(p.draws, r.weight, func(d *placeDraw) float32 { return d.soil[i] }),
			Rain:  spread(p.draws, r.weight, func(d *placeDraw) float32 { return d.rain[i] }),
		})
	}
	out.Weeks = r.weeks()
	out.Past = r.pastYears()
	return out
}

func (r *run) weeks() []SiteWeek {
	p := r.here
	dry := ground.DryBasis(r.data.Practice.WaterBelow.Value / 100)
	var out []SiteWeek
	for k := range len(p.draws[0].wet) {
		w := SiteWeek{Day: r.asOf + yard.Date(7*k)}
		for n := range p.draws {
			if float64(p.draws[n].wet[k]) < dry {
				w.DryChance += r.weight[n] / float64(r.draws)
			}
		}
		w.Moisture = spread(p.draws, r.weight, func(d *placeDraw) float32 { return float32(ground.WetBasis(float64(d.wet[k]))) })
		out = append(out, w)
	}
	return out
}

// spread is the range of a number over weighted draws.
func spread[T any](draws []T, weight []float64, of func(*T) float32) Amount {
	type weighed struct{ x, w float64 }
	all := make([]weighed, len(draws))
	sum, total := 0.0, 0.0
	for i := range draws {
		all[i] = weighed{float64(of(&draws[i])), weight[i]}
		sum += all[i].x * all[i].w
		total += all[i].w
	}
	slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.x, b.x) })
	at := func(p float64) float64 {
		acc := 0.0
		for _, d := range all {
			if acc += d.w; acc >= p*total {
				return d.x
			}
		}
		return all[len(all)-1].x
	}
	return Amount{P10: at(0.1), P50: at(0.5), P90: at(0.9), Mean: sum / total}
}

// wholeYear is the days up to today's that a measured year may lack.
const wholeYear = 10

// pastYears is the growing days of measured years from 1 January to the day
// of AsOf, for a reference log.
func (r *run) pastYears() []YearSoFar {
	w := r.state.Weather
	if w == nil {
		return nil
	}
	p := r.here
	model := ground.NewModel(p.log, &r.data.Practice)
	var out []YearSoFar
	for y := w.From.Year(); y < r.asOf.Year(); y++ {
		from := yard.NewDate(y, 1, 1)
		air, missing := measuredDays(w, from, int(r.asOf-yard.NewDate(r.asOf.Year(), 1, 1))+1)
		if missing > wholeYear {
			continue
		}
		var s ground.Series
		model.Fill(&s, air, from)
		sum := 0.0
		for i := range s.Mean {
			sum += float64(p.response.Day(s.Mean[i], s.Swing[i]))
		}
		out = append(out, YearSoFar{Year: y, Days: sum})
	}
	return out
}

// measuredDays is n days of a record from a day on; a missing day repeats the
// one before.
func measuredDays(w *yard.Weather, from yard.Date, n int) (air []climate.Day, missing int) {
	var last climate.Day
	for i := range n {
		d := w.At(from + yard.Date(i))
		if d.HasTemp {
			last.TMin, last.TMax = float32(d.TMin), float32(d.TMax)
		} else {
			missing++
		}
		air = append(air, last)
	}
	return air, missing
}

// normals is the site's months as forecast with.
func (r *run) normals() (out [12]SiteNormal) {
	for m := range out {
		out[m] = SiteNormal{r.site.TMin[m], r.site.TMax[m], r.site.Rain[m], r.site.WetDays[m]}
	}
	return out
}
