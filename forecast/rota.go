package forecast

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hodaba/forecast/climate"
	"hodaba/forecast/fruit"
	"hodaba/forecast/ground"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Load is one week of the tank book.
type Load struct {
	Week    yard.Date // its Monday
	In, Out yard.Date // days on which the logs go into the tank and come out; zero where Skipped
	Parts   []LoadPart
	Logs    int
	Skipped string // why nothing goes in, in words; "" where something does
	// What the load brings.
	Fresh            Amount    // kg
	Chance           float64   // that anything comes
	PickFrom, PickTo yard.Date // 8 pickings in 10 between these days; zero where nothing comes
}

// LoadPart is what goes in of one pile.
type LoadPart struct {
	Pile  string
	Part  string // letter; "" for a pile that goes in as one
	Of    int    // parts of the pile
	Logs  int
	Last  yard.Date // day on which it was soaked or picked last; zero never
	Blank bool      // it was soaked lately and nothing came
}

// rotaWeeks is how many weeks ahead the tank book is drawn up.
const rotaWeeks = 52

// candidate is a part of a pile that can be soaked.
type candidate struct {
	t     *task
	part  int
	parts int
	logs  int
	last  yard.Date
	blank bool
	from  yard.Date // soonest day on which it may go in
}

// drawUpRota draws up the tank book of the year ahead, unless soaks are given
// or nobody said what the tank holds. Parts go in when their rest is over, those
// that have waited longest first, no more a week than makes all weeks alike.
func (r *run) drawUpRota() error {
	r.soaks = r.decision.Soaks
	cfg := r.state.Config.Soak
	if r.decision.Soaks != nil || cfg.TankLogs <= 0 || r.plain {
		return nil
	}
	r.soaks = map[string][]Soak{}
	all, total := r.candidates()
	if len(all) == 0 {
		return nil
	}
	days, _, err := r.workdays()
	if err != nil {
		return err
	}
	cycle := r.cycleDays()
	room := min(cfg.TankLogs, fruit.RotaFor(total, int(cycle/7)).PerGroup)
	fit := r.soakDays(all)
	stay := yard.Date(math.Ceil(soakHours(&r.state.Config, r.data) / 24))
	for w := range rotaWeeks {
		l := &load{Load: Load{Week: r.asOf.Monday() + yard.Date(7*w)}}
		r.fill(l, all, fit, days, stay, room, cycle)
		if l.Logs > 0 {
			l.mg = make([]int64, r.draws)
		}
		r.loads = append(r.loads, l)
	}
	return nil
}

// soakable reports whether the tank book has to do with a pile: its strain can
// be forced, it stands, and its logs are counted.
func (r *run) soakable(t *task) bool {
	return t.strain.Fruit.Forced && t.pile.Kind == "pile" && t.pile.LogsKnown && !t.planned
}

func (r *run) cycleDays() yard.Date {
	return yard.Date(math.Round(7 * soakCycle(&r.state.Config, r.data)))
}

// candidates are the parts of all piles whose strain can be forced.
func (r *run) candidates() (all []*candidate, logs int) {
	for _, t := range r.tasks {
		if r.soakable(t) {
			logs += t.pile.Logs
		}
	}
	if logs == 0 {
		return nil, 0
	}
	each := min(r.state.Config.Soak.TankLogs, fruit.RotaFor(logs, int(r.cycleDays()/7)).PerGroup)
	for _, t := range r.tasks {
		p := t.pile
		if !r.soakable(t) {
			continue
		}
		parts := r.partsOf(p, each)
		for k := range parts {
			c := &candidate{t: t, part: k, parts: parts, logs: p.Logs / parts}
			if k < p.Logs%parts {
				c.logs++
			}
			r.restOf(c)
			if c.logs > 0 {
				all = append(all, c)
			}
		}
	}
	return all, logs
}

// partsOf is into how many parts a pile goes when so many logs make a group. A
// pile that was soaked in parts keeps them, and its tags, while they fit the
// tank.
func (r *run) partsOf(p *yard.Pile, each int) int {
	letters, kept := partsNamed(p, r.asOf)
	if kept > 0 && (p.Logs+kept-1)/kept <= r.state.Config.Soak.TankLogs {
		return kept
	}
	if partsOnRecord(p, r.asOf) > 1 {
		letters = max(letters, 2) // some of its logs were soaked, not all
	}
	return min(max((p.Logs+each-1)/each, letters), len(partLetters))
}

// OutOfSeason is why a week is empty in which no soak brings a flush.
const OutOfSeason = "too cold, too hot or too near a hard frost for a flush"

// restOf finds when a part may go in next: after its first year or its first
// flush, a cycle after its last soak, a rest after its last picking; sooner
// where the last soak brought nothing. What a soak brought asks for no more
// than the least rest, because the cycle runs from soak to soak, and for none of
// the parts that were not soaked.
func (r *run) restOf(c *candidate) {
	p, f, pr := c.t.pile, &c.t.strain.Fruit, &r.data.Practice
	wetted, named := soakedParts(p, c.parts, r.asOf), partFinder(p, c.parts, r.asOf)
	isOf := func(part string) bool { return named(part) == Whole || named(part) == c.part }
	fruited, picked, rested := yard.Date(0), yard.Date(0), yard.Date(0)
	for _, k := range p.Picks {
		if k.On.From > r.asOf || k.Season {
			continue
		}
		day, rest := k.On.Mid(), f.RestWeeks.Typical
		fruited = max(fruited, day)
		if !isOf(k.Part) {
			continue // what a part brought is its own
		}
		if i := r.soaksOfPile(p, f).credited(k); i >= 0 {
			if !wets(wetted[i], c.part) {
				continue
			}
			rest = f.RestWeeks.Low
		}
		picked, rested = max(picked, day), max(rested, day+yard.Date(7*rest))
	}
	year := p.Since.To + daysOfYear
	if c.t.through() {
		year = p.Since.To
	}
	switch {
	case r.state.Config.Soak.First == "after the first flush" && fruited == 0:
		c.from = never
	case fruited == 0:
		c.from = year
	}
	soaked := yard.Date(0)
	for i, parts := range wetted {
		if wets(parts, c.part) {
			soaked = max(soaked, p.Soaked[i].On.Mid())
		}
	}
	c.last = max(picked, soaked)
	c.from = max(c.from, rested)
	if soaked == 0 {
		return
	}
	next := soaked + r.cycleDays()
	if picked < soaked && wentRound(p, f, pr, soaked, r.asOf, isOf) != 0 {
		c.blank = true
		next = soaked + yard.Date(7*pr.BlankWeeks.Value)
	}
	c.from = max(c.from, next)
}

// never is later than any day that matters.
const never = yard.Date(1 << 30)

const daysOfYear = 365

// soakDays says, for each strain at its place, on which days ahead a soak
// brings a flush in a mean year that no hard frost should meet.
func (r *run) soakDays(all []*candidate) map[*setting][]bool {
	fit := map[*setting][]bool{}
	plain, err := climate.NewPlain(r.site, r.asOf)
	if err != nil {
		return fit
	}
	air := make([]climate.Day, r.days)
	plain.Fill(air, nil, r.start, 0, r.seed)
	for _, c := range all {
		s := c.t.setting
		if fit[s] != nil {
			continue
		}
		var wood ground.Series
		ground.NewModel(s.place, &r.data.Practice).Fill(&wood, air, r.start)
		var days fruit.Days
		days.Read(wood, air)
		watch := fruit.NewWatch(&s.strain.Fruit, &r.data.Practice, s.strain.Growth.TMin.Value)
		watch.Read(&days, int(r.today)-60)
		ok := make([]bool, daysOfYear+pickedWithin)
		for d := range ok {
			t, comes := watch.Soaked(int(r.today)+d, r.calendarDays)
			ok[d] = comes && !r.frostBetween(air, t.Start, t.Pick)
		}
		fit[s] = ok
	}
	return fit
}

// frostBetween reports whether a hard frost is to be feared between two days:
// in a mean year less a deviation of the region's days.
func (r *run) frostBetween(air []climate.Day, from, to int32) bool {
	for d := from; d <= to; d++ {
		sd := r.site.Region.SD[(r.start+yard.Date(d)).Month()-1]
		if float64(air[d].TMin)-sd < r.data.Practice.HardFrost.Value {
			return true
		}
	}
	return false
}

// fill puts into a week's load what may go in, or says why nothing does.
func (r *run) fill(l *load, all []*candidate, fit map[*setting][]bool, days tincture.Workdays, stay yard.Date, room int, cycle yard.Date) {
	for d := max(l.Week, r.asOf); d < l.Week+7; d++ {
		if days.Open(d) && !r.isAway(d) && !r.isAway(d+stay) {
			l.In, l.Out = d, d+stay
			break
		}
	}
	if l.Skipped = r.notThisWeek(l); l.Skipped != "" {
		l.In, l.Out = 0, 0
		return
	}
	waiting := slices.Clone(all)
	slices.SortStableFunc(waiting, func(a, b *candidate) int {
		if a.blank != b.blank { // what brought nothing goes first: it is ready, or shows that it is spent
			return map[bool]int{true: -1, false: 1}[a.blank]
		}
		return int(a.from - b.from)
	})
	done := r.soakedSince(l.Week)
	inSeason, rested, restedOut, dry := 0, 0, 0, 0
	for _, c := range waiting {
		if at := int(l.Out - r.asOf); at >= len(fit[c.t.setting]) || !fit[c.t.setting][at] {
			if c.from <= l.Out {
				restedOut++
			}
			continue
		}
		inSeason++
		// A cycle is told from soak to soak, so both by the day they come out.
		if c.from > l.Out || r.putOff(c.t.pile, l.In) {
			continue
		}
		if r.tooDry(c.t.pile, l.In) {
			dry++
			continue
		}
		rested++
		if done+l.Logs > 0 && done+l.Logs+c.logs > room {
			continue
		}
		r.put(l, c, cycle)
	}
	if l.Logs == 0 {
		l.In, l.Out = 0, 0
		switch {
		case inSeason == 0:
			l.Skipped = OutOfSeason
		case dry > 0 && rested == 0:
			l.Skipped = TooDry
		case rested > 0:
			l.Skipped = "this week's logs have been soaked"
		case restedOut > 0:
			l.Skipped = "the logs that are rested are out of season"
		default:
			l.Skipped = "no logs are rested"
		}
	}
}

// soakedSince is the number of logs that were soaked since a Monday, as far
// as the record says how many.
func (r *run) soakedSince(monday yard.Date) (logs int) {
	for _, p := range r.state.Piles {
		for _, s := range p.Soaked {
			switch day := s.On.Mid(); {
			case day < monday || day > r.asOf:
			case s.Logs > 0:
				logs += s.Logs
			default:
				logs++ // nobody said how many: the tank was in use
			}
		}
	}
	return logs
}

// put puts a part into a load and sets its next turn.
func (r *run) put(l *load, c *candidate, cycle yard.Date) {
	p := LoadPart{Pile: c.t.pile.Name, Of: c.parts, Logs: c.logs, Last: c.last, Blank: c.blank}
	if c.parts > 1 {
		p.Part = PartName(c.part)
	}
	l.Parts = append(l.Parts, p)
	l.Logs += c.logs
	r.soaks[p.Pile] = append(r.soaks[p.Pile], Soak{On: l.Out, Part: c.part, Of: c.parts, load: len(r.loads) + 1})
	c.last, c.from, c.blank = l.Out, l.Out+cycle, false
}

// notThisWeek says why nothing goes in in a week: nobody there, the tank
// broken, put off by the grower or left out to see what that costs.
func (r *run) notThisWeek(l *load) string {
	switch {
	case slices.Contains(r.decision.Skip, l.Week):
		return "left out"
	case l.In == 0:
		return "nobody is there"
	}
	for _, b := range r.state.Broken {
		if b.What == "tank" && (b.Holds(l.In) || b.Holds(l.Out)) {
			return "the tank is broken"
		}
	}
	for _, p := range r.state.PutOff {
		if r.putsOffAll(p) && p.On.From <= l.In && p.Until.From > l.In {
			return fmt.Sprintf("put off until %s", p.Until.From)
		}
	}
	return ""
}

// putsOffAll reports whether a task put off is soaking, of no pile in
// particular.
func (r *run) putsOffAll(p yard.PutOff) bool {
	return strings.Contains(word(p.Task), "soak") && !slices.ContainsFunc(r.state.Piles, func(q *yard.Pile) bool { return names(p, q) })
}

// putOff reports whether the grower put off soaking a pile beyond a day.
func (r *run) putOff(p *yard.Pile, day yard.Date) bool {
	return slices.ContainsFunc(r.state.PutOff, func(o yard.PutOff) bool {
		return strings.Contains(word(o.Task), "soak") && names(o, p) && o.On.From <= day && o.Until.From > day
	})
}

// names reports whether a task put off names a pile, by its name or its code.
func names(o yard.PutOff, p *yard.Pile) bool {
	for _, w := range strings.Fields(word(o.Task)) {
		if w == word(p.Name) || p.Code != "" && w == word(p.Code) {
			return true
		}
	}
	return strings.Contains(word(o.Task), word(p.Name))
}

func (r *run) isAway(d yard.Date) bool {
	return slices.ContainsFunc(r.state.Config.Working.Away, func(a yard.Absence) bool { return a.From <= d && d <= a.To })
}
