package forecast

import (
	"fmt"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/ground"
	"hodaba/yard"
)

// close reads a pile's forecast off its tallies.
func (r *run) close(a *account) *Pile {
	p := a.t.pile
	y := &a.t.strain.Yield
	out := &Pile{
		Name: p.Name, Code: p.Code, Kind: p.Kind, Species: p.Species, Strain: a.t.strain.Name,
		Since: p.Since, Logs: p.Logs, LogsKnown: p.LogsKnown, Picked: len(p.Picks) > 0,
		First:        FirstHarvest{Chance: a.first.Reached(), Dates: dates(a.first)},
		GrowingDays:  amount(a.grown),
		NeedDays:     amount(a.need),
		GrowthNeeded: a.half.Weight() > 0,
		Yield:        r.yieldBasis(a),
	}
	if y.Unpublished {
		a.total.wide.Store(true)
	}
	if a.half.Weight() > 0 {
		out.Colonised, out.HalfDays = r.colonised(a), a.half
	}
	out.FirstDays, out.YearKG = a.first, a.years
	for i, m := range r.months {
		out.Months = append(out.Months, r.month(a, i, m))
	}
	for i, end := range a.pastEnds {
		s := amount(a.past[i])
		out.Past = append(out.Past, Through{Month: (r.start + yard.Date(end)).MonthStart(), Share: s.Mean, Low: s.P10, High: s.P90})
	}
	for i, t := range a.years {
		out.YearsAhead = append(out.YearsAhead, Year{Year: r.asOf.Year() + i, Fresh: amount(t)})
	}
	out.Moisture = r.moistureOf(a.t.setting)
	out.Notes = r.notes(a)
	out.Why = r.why(a.t)
	out.Retire = r.retirement(a)
	if words := out.Retire.words(); words != "" {
		out.Notes = append(out.Notes, Note{"retire", words})
	}
	return out
}

// yieldBasis says what a pile's kilograms rest on.
func (r *run) yieldBasis(a *account) YieldBasis {
	e := &a.t.efficiency
	b := YieldBasis{
		DryWoodKG: amount(a.dryWood), Efficiency: e.on.Efficiency, Per: e.on.Per, Over: e.on.Over, PerLog: e.perLog(r.takeFail),
		Unpublished: e.on.Unpublished, Wide: e.on.Wide(), Conflict: e.on.Conflict,
	}
	if e.own {
		b.Wood = a.t.pile.Wood
	}
	if a.level != nil {
		b.Level = amount(a.level)
	}
	if a.ledger != nil {
		b.Stopped = a.ledger.stopped
		for _, p := range a.ledger.periods {
			b.Recorded = append(b.Recorded, Recorded{
				From: r.start + yard.Date(p.from), To: r.start + yard.Date(p.to),
				Picked: p.kg, Expected: amount(p.expect.prior), Zero: p.zero,
			})
		}
	}
	return b
}

// moistureOf sums up the moisture of a setting's logs; nil in a bed.
func (r *run) moistureOf(s *setting) *Moisture {
	if s.water == nil {
		return nil
	}
	dry := ground.DryBasis(r.data.Practice.WaterBelow.Value / 100)
	m := &Moisture{Now: spread(s.wetNow, r.weight, func(x *float32) float32 { return float32(ground.WetBasis(float64(*x))) })}
	for n := range s.wetSoon {
		if float64(s.wetSoon[n]) < dry {
			m.DryChance += r.weight[n] / float64(r.draws)
		}
		if s.spawnLost[n] {
			m.Lost += r.weight[n] / float64(r.draws)
		}
	}
	return m
}

func (r *run) colonised(a *account) *Colonised {
	share := amount(a.shareNow)
	return &Colonised{
		ShareNow: share.Mean, ChanceNow: a.halfNow / float64(r.draws),
		Dates: dates(a.half), ShareP10: share.P10, ShareP90: share.P90,
	}
}

func (r *run) month(a *account, i int, m yard.Date) Month {
	out := Month{
		Month: m, HarvestChance: a.picked[i] / float64(r.draws), Fresh: amount(a.fresh[i]),
		Winter: r.winter(a.t.strain, m),
	}
	if a.half.Weight() > 0 {
		end := min(m.AddMonths(1)-1, r.horizon)
		out.ColonisedChance = a.half.UpTo(float64(end))
		share := amount(a.through[i])
		out.ShareThrough, out.ShareLow, out.ShareHigh = share.Mean, share.P10, share.P90
	}
	return out
}

// winterGrowth is the growth, as a share of the best, under which a month
// counts as winter for a strain.
const winterGrowth = 0.1

// winter reports whether the mycelium nearly stands still in a normal month.
func (r *run) winter(s *data.Strain, m yard.Date) bool {
	for _, t := range r.settings {
		if t.strain == s {
			return t.curves.response[0].At(r.site.MeanTemperature(int(m.Month())-1)+r.site.Warmer(m)) < winterGrowth
		}
	}
	return false
}

// dates reads a tally of days, which are numbers of a yard.Date.
func dates(t *chance.Tally) Dates {
	at := func(p float64) yard.Date {
		v, ok := t.At(p)
		if !ok {
			return 0
		}
		return yard.Date(v)
	}
	return Dates{at(0.1), at(0.5), at(0.9)}
}

// The growing days of a year here, over those where the trade's window
// belongs, outside which the forecast is carried further than the trade's
// experience.
const (
	colderThan = 0.75
	warmerThan = 2.0
)

// notes says what must be said beside a pile's forecast.
func (r *run) notes(a *account) []Note {
	var notes []Note
	say := func(kind, format string, args ...any) {
		notes = append(notes, Note{kind, fmt.Sprintf(format, args...)})
	}
	t, p := a.t, a.t.pile
	if need := t.strain.Need; a.half.Weight() > 0 {
		if year := need.Year; year > 0 && t.setting.year < colderThan*year {
			say("extrapolation", "A mean year here has %.0f growing days, against %.0f where the trade's window for %s comes from: colder than its experience reaches, so this is an extrapolation.", t.setting.year, year, t.species.Name)
		} else if year > 0 && t.setting.year > warmerThan*year {
			say("extrapolation", "A mean year here has %.0f growing days, against %.0f where the trade's window for %s comes from: warmer than its experience reaches, so this is an extrapolation.", t.setting.year, year, t.species.Name)
		}
		if words := t.strain.Window.Quality.Says(); words != "" {
			say("guess", "How long it takes to run through: %s.", words)
		}
		if !need.Solved {
			say("guess", "No requirement meets the trade's window exactly; the widest one stands in for it.")
		}
	}
	if t.setting.barren > 0.5 {
		say("no season", "The weather here hardly ever comes into the band in which %s fruits (%.0f to %.0f °C): it has no season here.", label(t), t.strain.Fruit.BandLow.Value, t.strain.Fruit.BandHigh.Value)
	}
	if y := &t.strain.Yield; y.Caution != "" {
		say("unpublished yield", "The kilograms of %s are a wide guess: %s. Weigh what you pick.", t.species.Name, y.Wide())
	} else if y.Unpublished {
		say("unpublished yield", "No log yield of %s is published: the kilograms are a wide guess. Weigh what you pick.", t.species.Name)
	}
	if words := t.strain.Yield.Conflict; words != "" {
		say("conflict", "%s", words)
	}
	if words := r.woodNote(t); words != "" {
		say("wood", "%s", words)
	}
	if !p.LogsKnown {
		say("guess", "Nobody wrote how many logs: the kilograms are for one log. Write `hodaba record counted %s 20 logs`.", p.Name)
	}
	if t.conflict > contradicts {
		say("odd", "What was seen on this pile does not fit together: one look says that it is further than another allows. It counts for less than it would alone: look again before you rely on it.")
	}
	if r.effective < fewDraws {
		say("odd", "What was seen in this yard fits hardly any of the weathers thought likely: look again before you rely on it.")
	}
	return notes
}

// fewDraws is the number of equally likely draws under which what was seen
// contradicts what is believed.
const fewDraws = 30

func label(t *task) string {
	if t.strain.Name == "" {
		return t.species.Name
	}
	return t.strain.Name + " " + t.species.Name
}
