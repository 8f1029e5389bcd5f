package charts

import (
	"fmt"
	"strconv"

	"hodaba/forecast"
)

// SupplyAsk is a question about a weekly supply: how many logs so many kg
// fresh a week want, or what so many logs bring.
type SupplyAsk struct {
	KG   float64 // a week; 0: Logs are asked
	Logs int
	Yard bool // the logs are those of the yard, as they stand
}

// supplyAnswer is the arithmetic of a supply, at the low and the high flush
// that is printed.
type supplyAnswer struct {
	ask        SupplyAsk
	low, high  forecast.RotaSupply
	life       forecast.LogLife
	season     int  // weeks of a year
	seasonSaid bool // the season is that of the tank book
	cycle      int  // weeks
	tank       int  // logs; 0 not said
	keepUp     int  // logs that keep up what was asked over all the years of a log
}

func (b *book) supplyAnswer(ask SupplyAsk) supplyAnswer {
	s := supplyAnswer{ask: ask, life: b.Result.LogLife(b.State, b.Data), season: forecast.SeasonWeeks(b.Result.Loads),
		seasonSaid: len(b.Result.Loads) > 0, cycle: forecast.CycleWeeks(b.State, b.Data), tank: b.State.Config.Soak.TankLogs}
	flush := b.Data.Practice.FlushPerLog
	if ask.KG > 0 {
		s.low = forecast.SupplyFor(ask.KG, flush.Low, s.cycle, s.season, s.life)
		s.high = forecast.SupplyFor(ask.KG, flush.High, s.cycle, s.season, s.life)
		s.keepUp = forecast.LogsToKeepUp(ask.KG, s.cycle, s.season, s.life)
		return s
	}
	of := forecast.SupplyOf
	if s.stands() {
		of = forecast.SupplyOfYard
	}
	s.low = of(ask.Logs, flush.Low, s.cycle, s.season, s.life)
	s.high = of(ask.Logs, flush.High, s.cycle, s.season, s.life)
	return s
}

// stands reports whether the answer is of the yard's logs as they stand.
func (s *supplyAnswer) stands() bool { return s.ask.Yard && s.life.Logs > 0 && s.life.YearsLeft > 0 }

// caps reports whether what the logs hold allows less than the bulletins
// reckon.
func (s *supplyAnswer) caps() bool {
	return s.life.Typical > 0 && (s.low.KeptUp < s.low.Weekly || s.high.KeptUp < s.high.Weekly)
}

// supplyGrid sets out the arithmetic, a row a line.
func (b *book) supplyGrid(s supplyAnswer) grid {
	by, unit := b.units.kgScale()
	g := grid{Caption: b.supplyAsked(s), Head: []string{"A log gives each time",
		fine(s.low.PerFlush/by) + " " + unit, fine(s.high.PerFlush/by) + " " + unit}}
	row := func(what string, of func(forecast.RotaSupply) string) { g.add(what, of(s.low), of(s.high)) }
	whole := func(n func(forecast.RotaSupply) int) func(forecast.RotaSupply) string {
		return func(x forecast.RotaSupply) string { return strconv.Itoa(n(x)) }
	}
	row("Logs soaked a week", whole(func(x forecast.RotaSupply) int { return x.PerGroup }))
	row("Groups, one each week", whole(func(x forecast.RotaSupply) int { return x.Groups }))
	row("Logs in all", whole(func(x forecast.RotaSupply) int { return x.Logs }))
	if s.tank > 0 {
		row(fmt.Sprintf("Loads a week in a tank for %d", s.tank), whole(func(x forecast.RotaSupply) int { return x.Loads(s.tank) }))
	}
	row("Fresh a week, as bulletins reckon", func(x forecast.RotaSupply) string { return b.units.kg(x.Weekly) })
	if s.life.Typical <= 0 {
		return g
	}
	row("Soaks in a typical log's life", func(x forecast.RotaSupply) string { return figure(x.Soaks) })
	if s.stands() {
		row("Soaks still in a log of yours", func(x forecast.RotaSupply) string { return figure(x.SoaksLeft) })
	}
	row("Years until it is spent or too old", func(x forecast.RotaSupply) string { return figure(x.Lasts) })
	if s.stands() {
		row("Fresh a week of what your logs still hold", func(x forecast.RotaSupply) string { return b.units.kg(x.StillKept) })
		row("Fresh a week of logs as new, all their years", func(x forecast.RotaSupply) string { return b.units.kg(x.KeptUp) })
		row("New logs a year, to go on for ever", func(x forecast.RotaSupply) string { return figure(x.Renewal) })
		return g
	}
	row("Fresh a week, kept up so long as logs bear", func(x forecast.RotaSupply) string { return b.units.kg(x.KeptUp) })
	row("New logs a year, to go on for ever", func(x forecast.RotaSupply) string { return figure(x.Renewal) })
	return g
}

// fine writes a figure of which the second decimal matters.
func fine(x float64) string { return strconv.FormatFloat(x, 'f', 2, 64) }

func (b *book) supplyAsked(s supplyAnswer) string {
	every := "each log soaked every " + count(s.cycle, "week", "weeks")
	if s.ask.KG > 0 {
		return b.units.kg(s.ask.KG) + " fresh a week, " + every
	}
	return count(s.ask.Logs, "log", "logs") + ", " + every
}

// rotaSupplySaid says what the arithmetic means and on what it rests.
func (b *book) rotaSupplySaid(s supplyAnswer) (said []string) {
	if s.ask.KG == 0 && s.low.Logs != s.ask.Logs {
		said = append(said, fmt.Sprintf("Rounded up so that all groups are alike: %s are %d groups of %d.",
			count(s.low.Logs, "log", "logs"), s.low.Groups, s.low.PerGroup))
	}
	if s.caps() {
		said = append(said, fmt.Sprintf("Bulletins reckon with the same flush each time. A typical log has about %s in it (%s to %s), which is %s soaks at the small flush and %s at the large one: then it is spent, so a large flush is soon paid for.",
			b.units.kg(s.life.Typical), b.units.kg(s.life.Low), b.units.kg(s.life.High), figure(s.low.Soaks), figure(s.high.Soaks)))
	}
	if s.stands() {
		n := float64(s.life.Logs)
		said = append(said, fmt.Sprintf("Your %s still hold about %s of the %s of a whole life, for about %s: no rota brings more.",
			count(s.life.Logs, "log", "logs"), b.units.kg(n*s.life.Left), b.units.kg(n*s.life.Typical), leftYears(s.life.YearsLeft)))
	}
	if s.keepUp > 0 {
		said = append(said, fmt.Sprintf("To keep up %s a week for the %s years that a log bears takes about %d logs, whatever a flush brings.",
			b.units.kg(s.ask.KG), short(s.life.Years), s.keepUp))
	}
	said = append(said, b.supplyRests(s))
	flush := b.Data.Practice.FlushPerLog
	return append(said, fmt.Sprintf("A flush: %s, for shiitake soaked a day and a night; groups: %s. What a log holds: %s.",
		unstop(flush.Source), unstop(b.Data.Practice.SoakCycle.Source), b.lifeSaid(s.life)))
}

func leftYears(years float64) string {
	if short(years) == "1" {
		return "1 year more"
	}
	return short(years) + " years more"
}

// unstop takes the full stop off a citation, since the sentence goes on.
func unstop(s string) string {
	for len(s) > 0 && s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}

func (b *book) supplyRests(s supplyAnswer) string {
	if s.seasonSaid {
		return fmt.Sprintf("Reckoned with the %d weeks of the coming year in which a soak can bring a flush here.", s.season)
	}
	return fmt.Sprintf("Reckoned with %d weeks a year, winter and all; with tank_logs in yard.toml it is the season of your yard.", s.season)
}

func (b *book) lifeSaid(l forecast.LogLife) string {
	if l.Logs == 0 {
		return "its dry wood times the share that its species turns into mushrooms, of a log of usual size"
	}
	s := "its dry wood times the share that its species turns into mushrooms, the mean of your " + count(l.Logs, "log", "logs")
	if l.Level != 1 {
		s += ", which your own pickings moved to " + percent(l.Level) + " of what it was"
	}
	return s
}
