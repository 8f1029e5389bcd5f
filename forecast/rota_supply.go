package forecast

import (
	"math"

	"hodaba/data"
	"hodaba/forecast/fruit"
	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// LogLife is what a typical log gives over its life.
type LogLife struct {
	Low, Typical, High float64 // kg fresh
	Years              float64 // that it keeps fruiting
	Logs               int     // standing logs of which it is the mean; 0: a log of usual size
	Level              float64 // by which the yard's own record moved it; 1: not
	// What the logs that stand still hold; zero where nobody reckoned that.
	Left      float64 // kg fresh in a typical one
	YearsLeft float64 // that it keeps fruiting
}

// LogLife is the life crop of a typical log of the piles that can be soaked:
// its dry wood times the efficiency of its strain, as far as the record moved
// that, and what the forecast knows to be left of it. A yard without one has
// logs of usual size. Logs begin to bear a year after they were inoculated, and
// what is old keeps at least the year ahead.
func (res *Result) LogLife(s *yard.State, d *data.Set) LogLife {
	l, known := LogLife{}, true
	for _, p := range res.Piles {
		y := s.Pile(p.Name)
		if y == nil || p.Kind != "pile" || !p.LogsKnown || p.Logs == 0 {
			continue
		}
		t := StrainOf(y, d)
		if t == nil || !t.Fruit.Forced {
			continue
		}
		level := 1.0
		if p.Yield.Level.P50 > 0 {
			level = p.Yield.Level.P50
		}
		e, wood, n := p.Yield.PerLog, p.Yield.DryWoodKG.P50*level, float64(p.Logs)
		l.Low, l.Typical, l.High = l.Low+n*wood*e.Low, l.Typical+n*wood*e.Typical, l.High+n*wood*e.High
		l.Years, l.Level = l.Years+n*t.Yield.LifeYears.Typical, l.Level+n*level
		l.Logs += p.Logs
		if known = known && p.Retire != nil; known {
			l.Left += p.Retire.Left.Mean
		}
		bore := max(0, float64(res.AsOf-y.Since.To)/daysInYear-1)
		l.YearsLeft += n * max(1, t.Yield.LifeYears.Typical-bore)
	}
	if l.Logs == 0 || l.Typical <= 0 {
		return usualLog(d)
	}
	n := float64(l.Logs)
	l.Low, l.Typical, l.High, l.Years, l.Level = l.Low/n, l.Typical/n, l.High/n, l.Years/n, l.Level/n
	l.Left, l.YearsLeft = l.Left/n, l.YearsLeft/n
	if !known {
		l.Left, l.YearsLeft = 0, 0
	}
	return l
}

// usualLog is a log of usual size and wood of the first strain that can be
// forced; the zero LogLife where there is none.
func usualLog(d *data.Set) LogLife {
	pr := &d.Practice
	wood := harvest.DryWood(&data.Wood{Gravity: pr.UnknownGravity.Typical, Bark: pr.UnknownBark.Value}, pr.DefaultDiameter.Value, pr.DefaultLength.Value)
	for i := range d.Species {
		for _, t := range d.Species[i].Strains {
			if y := t.Yield; t.Fruit.Forced {
				return LogLife{Low: wood * y.Efficiency.Low, Typical: wood * y.Efficiency.Typical, High: wood * y.Efficiency.High,
					Years: y.LifeYears.Typical, Level: 1}
			}
		}
	}
	return LogLife{}
}

// ForcedLogs is the number of standing logs whose strain can be forced.
func ForcedLogs(s *yard.State, d *data.Set) (n int) {
	for _, p := range s.Piles {
		if t := StrainOf(p, d); t != nil && t.Fruit.Forced && p.Kind == "pile" && p.LogsKnown && p.Closed == 0 {
			n += p.Logs
		}
	}
	return n
}

// CycleWeeks are the whole weeks from soak to soak: the grower's, else the
// trade's.
func CycleWeeks(s *yard.State, d *data.Set) int { return int(math.Round(SoakCycle(&s.Config, d))) }

// SoakCycle is the same, parts of a week included.
func SoakCycle(c *yard.Config, d *data.Set) float64 {
	if c.Soak.CycleWeeks > 0 {
		return c.Soak.CycleWeeks
	}
	return d.Practice.SoakCycle.Value
}

// SeasonWeeks is the number of weeks of a tank book in which a soak can bring
// a flush. Without a book it is all weeks of a year.
func SeasonWeeks(loads []Load) (n int) {
	if len(loads) == 0 {
		return rotaWeeks
	}
	for i, l := range loads {
		if l.Season == "" && !OutOfSeason(l.Skipped) && (i == 0 || l.Week != loads[i-1].Week) {
			n++
		}
	}
	return n
}

// RotaSupply is what logs bring a week when one group of them is soaked each week.
type RotaSupply struct {
	PerFlush float64 // kg fresh that a log gives each time
	fruit.Rota
	Weekly  float64 // kg fresh a week, as the bulletins reckon
	Soaks   float64 // in a log's life, before its crop is spent
	Lasts   float64 // years until a log is spent, or too old
	Renewal float64 // logs to inoculate a year, so that it goes on for ever
	KeptUp  float64 // kg fresh a week of the season, over all the years in which a log bears
	// The same of what logs still hold; zero where that is not asked.
	SoaksLeft float64
	StillKept float64 // kg fresh a week of the season, over the years that are left
}

// SupplyOf reckons with so many logs; weeks are those of the cycle, season
// those of a year in which the tank is used.
func SupplyOf(logs int, perFlush float64, weeks, season int, life LogLife) RotaSupply {
	return supply(fruit.RotaFor(logs, weeks), perFlush, season, life)
}

// SupplyOfYard reckons with so many logs that stand as they do: what
// they keep up comes of what they still hold.
func SupplyOfYard(logs int, perFlush float64, weeks, season int, life LogLife) RotaSupply {
	s := SupplyOf(logs, perFlush, weeks, season, life)
	s.SoaksLeft = fruit.Flushes(life.Left, perFlush)
	if s.Soaks > 0 && season > 0 && life.YearsLeft > 0 {
		s.StillKept = min(s.Weekly, float64(logs)*life.Left/(life.YearsLeft*float64(season)))
	}
	return s
}

// SupplyFor reckons with the logs that so many kg fresh a week want.
func SupplyFor(kgPerWeek, perFlush float64, weeks, season int, life LogLife) RotaSupply {
	return supply(fruit.RotaOf(kgPerWeek, perFlush, weeks), perFlush, season, life)
}

func supply(r fruit.Rota, perFlush float64, season int, life LogLife) RotaSupply {
	s := RotaSupply{PerFlush: perFlush, Rota: r, Weekly: r.Weekly(perFlush), Soaks: fruit.Flushes(life.Typical, perFlush)}
	if r.Groups == 0 || season <= 0 || s.Soaks == 0 {
		return s
	}
	yearly := float64(season) / float64(r.Groups) // soaks of a log a year
	s.Lasts = min(s.Soaks/yearly, life.Years)
	s.Renewal = r.Renewal(float64(season), s.Lasts*yearly)
	s.KeptUp = min(s.Weekly, float64(r.Logs)*life.Typical/(life.Years*float64(season)))
	return s
}

// LogsToKeepUp is the number of logs, in groups that are alike, that bring so
// many kg fresh a week of the season over all the years in which a log bears.
// It asks what logs hold, not what a flush brings.
func LogsToKeepUp(kgPerWeek float64, weeks, season int, life LogLife) int {
	if !(kgPerWeek > 0) || !(life.Typical > 0) || season <= 0 {
		return 0
	}
	return fruit.RotaFor(int(math.Ceil(kgPerWeek*life.Years*float64(season)/life.Typical-1e-9)), weeks).Logs
}
