package forecast

import (
	"fmt"
	"math"
	"slices"

	"hodaba/yard"
)

// Why a week is empty whatever the season.
const (
	LeftOutWeek  = "left out"
	NobodyThere  = "nobody is there"
	NoDayLeft    = "no working day is left this week"
	TankBroken   = "the tank is broken"
	TankTaken    = "the tank is still taken"
	WeekSoaked   = "this week's logs have been soaked"
	FlushAway    = "the flush would come while nobody is there"
	NoneRested   = "no logs are rested"
	NoFirstFlush = "no pile has had its first flush, which yard.toml waits for"
	RestedOut    = "the logs that are rested are out of season"
	KeptForPlan  = "what is rested is kept for the week for which it is planned"
)

// week draws up a week: what is planned, then as many loads as the cycle
// wants.
func (b *rota) week(monday yard.Date) {
	r := b.r
	season := b.seasonOf(monday)
	if slices.Contains(r.decision.Skip, monday) {
		b.empty(monday, season, LeftOutWeek)
		return
	}
	done := r.soakedSince(monday)
	b.credit = min(b.credit, 1-1e-6) + b.pace
	allowed := int(b.credit + 1e-9)
	left := allowed*b.room - done
	b.credit -= math.Ceil(float64(done) / float64(b.room))
	loads, waiting := 0, b.waiting(monday)
	for {
		must := b.due(monday)
		if len(must) == 0 && (loads >= allowed || left <= 0) {
			break
		}
		l := b.best(monday, waiting, must, min(b.room, max(left, 0)))
		if l == nil {
			break
		}
		l.Season = season
		b.commit(l)
		loads, left, b.credit = loads+1, left-l.Logs, b.credit-1
	}
	b.credit = max(b.credit, 0)
	if loads == 0 {
		b.empty(monday, season, b.why(monday, done))
	}
}

// empty notes a week in which nothing goes in.
func (b *rota) empty(monday yard.Date, season, why string) {
	b.r.loads = append(b.r.loads, &load{Load: Load{Week: monday, Season: season, Skipped: why}})
	for _, a := range b.due(monday) {
		a.why = why
	}
}

// trial is a load as it would be.
type trial struct {
	Load
	of      []*candidate
	planned []*askedSoak
}

// best is the fullest load of a week, the earliest of several: on a day on
// which somebody is there to put logs in and to take them out, or at least to
// put them in; nil where nothing goes in.
func (b *rota) best(monday yard.Date, waiting []*candidate, must []*askedSoak, room int) (best *trial) {
	for _, out := range []bool{true, false} {
		for d := max(monday, b.r.asOf); d < monday+7; d++ {
			if b.closed(d) != "" || b.days.Open(d+b.stay) != out {
				continue
			}
			l := b.try(monday, d, waiting, must, room)
			if len(l.of) == 0 {
				continue
			}
			if best == nil || len(l.planned) > len(best.planned) || len(l.planned) == len(best.planned) && l.Logs > best.Logs {
				best = l
			}
		}
		if best != nil {
			return best
		}
	}
	return nil
}

// waiting are the parts that may go in in a week, those that have waited
// longest first. What brought nothing goes first: it is ready, or shows that it
// is spent.
func (b *rota) waiting(monday yard.Date) (list []*candidate) {
	for _, c := range b.all {
		if c.from < monday+7+b.stay && b.r.soakable(c.t) {
			list = append(list, c)
		}
	}
	slices.SortStableFunc(list, func(a, c *candidate) int {
		if a.blank != c.blank {
			return map[bool]int{true: -1, false: 1}[a.blank]
		}
		return int(a.from - c.from)
	})
	return list
}

// try loads the tank on a day.
func (b *rota) try(monday, day yard.Date, waiting []*candidate, must []*askedSoak, room int) *trial {
	l := &trial{Load: Load{Week: monday, In: day, Out: day + b.stay}}
	for _, a := range must {
		if n := a.logs(b.tank); l.Logs == 0 || l.Logs+n <= b.tank {
			l.planned = append(l.planned, a)
			l.add(a.c, n)
			p := &l.Parts[len(l.Parts)-1]
			p.Planned, p.Note = true, b.against(a, &l.Load)
		}
	}
	for _, c := range waiting {
		if l.Logs > 0 && l.Logs >= room {
			break
		}
		whole := l.Logs == 0 && room == b.room && c.logs <= b.tank // kept from before, larger than a share
		if (whole || l.Logs+c.logs <= room) && !slices.Contains(l.of, c) && b.hinders(c, l.In, l.Out) == "" {
			l.add(c, c.logs)
		}
	}
	return l
}

func (l *trial) add(c *candidate, logs int) {
	p := LoadPart{Pile: c.t.pile.Name, Of: c.parts, Logs: logs, Last: c.last, Blank: c.blank}
	if c.parts > 1 {
		p.Part = PartName(c.part)
	}
	l.Parts, l.of = append(l.Parts, p), append(l.of, c)
	l.Logs += logs
}

// commit puts a load into the book and sets the next turn of its parts.
func (b *rota) commit(l *trial) {
	r := b.r
	r.loads = append(r.loads, &load{Load: l.Load, mg: make([]int64, r.draws)})
	for _, c := range l.of {
		if c.t.strain.Fruit.Forced {
			name := c.t.pile.Name
			r.soaks[name] = append(r.soaks[name], Soak{On: l.Out, Part: c.part, Of: c.parts, load: len(r.loads)})
		}
		c.last, c.from, c.blank, c.young = l.Out, l.Out+b.cycle, false, false
	}
	for _, a := range l.planned {
		a.in = true
	}
	b.free, b.freeWeek = l.Out, l.Week
}

// closed is why no load can go in on a day; "" where one can.
func (b *rota) closed(d yard.Date) string {
	r := b.r
	if until := b.allHeld(d); until > 0 {
		return putOffWords(until)
	}
	if r.state.BrokenOn("tank", d) != nil || r.state.BrokenOn("tank", d+b.stay) != nil {
		return TankBroken
	}
	switch {
	case !b.days.Open(d) || r.isAway(d) || r.isAway(d+b.stay):
		return NobodyThere
	case d < b.free:
		return TankTaken
	}
	return ""
}

func putOffWords(until yard.Date) string { return fmt.Sprintf("put off until %s", until) }

// hinders is why a part does not go in on a day by itself; "" where it does.
func (b *rota) hinders(c *candidate, in, out yard.Date) string {
	comes := b.comesOf(c, out)
	until := b.heldFor(c, in)
	switch {
	case !b.r.soakable(c.t):
		return NoneRested
	case c.from == never:
		return NoFirstFlush
	case comes.why != "" && c.from <= out:
		return RestedOut
	case comes.why != "":
		return comes.why
	// A cycle is told from soak to soak, so both by the day they come out.
	case c.from > out:
		return NoneRested
	case until > 0:
		return putOffWords(until)
	case b.keptFor(c, in) > 0:
		return KeptForPlan
	case b.r.tooDry(c.t.pile, in):
		return TooDry
	case b.flushWhileAway(comes):
		return FlushAway
	}
	return ""
}

// why is why nothing goes in in a week.
func (b *rota) why(monday yard.Date, done int) string {
	at := yard.Date(0)
	closed := map[string]bool{}
	held := ""
	for d := max(monday, b.r.asOf); d < monday+7; d++ {
		switch why := b.closed(d); {
		case why == "":
			at = d
		case b.allHeld(d) > 0:
			held = why
		default:
			closed[why] = true
		}
	}
	switch {
	case done > 0:
		return WeekSoaked
	case at > 0:
		return b.noneGoes(at)
	case held != "":
		return held
	case closed[TankBroken]:
		return TankBroken
	case closed[TankTaken]:
		return TankTaken
	}
	for d := monday; d < b.r.asOf; d++ {
		if b.days.Open(d) && !b.r.isAway(b.r.asOf) {
			return NoDayLeft
		}
	}
	return NobodyThere
}

// noneGoes is why no part goes in on a day on which the tank could be filled:
// what holds back the logs that could go in, else the season, else their rest.
func (b *rota) noneGoes(in yard.Date) string {
	var holds, season rotaReasons
	rested, inSeason, flushed := false, false, false
	for _, c := range b.all {
		why := b.hinders(c, in, in+b.stay)
		flushed = flushed || why != NoFirstFlush
		switch {
		case why == RestedOut:
			rested = true
			season.add(b.comesOf(c, in+b.stay).why, c.logs)
		case OutOfSeason(why):
			season.add(why, c.logs)
		case why == NoneRested || why == NoFirstFlush:
			inSeason = inSeason || b.comesOf(c, in+b.stay).why == ""
		case why == "":
			holds.add(WeekSoaked, c.logs)
		default:
			holds.add(why, c.logs)
		}
	}
	switch {
	case holds.most() != "":
		return holds.most()
	case !flushed:
		return NoFirstFlush
	case !inSeason && season.most() != "":
		return season.most()
	case rested:
		return RestedOut
	}
	return NoneRested
}

// rotaReasons counts the logs for which a reason holds.
type rotaReasons struct {
	says []string
	logs []int
}

func (r *rotaReasons) add(says string, logs int) {
	at := slices.Index(r.says, says)
	if at < 0 {
		r.says, r.logs, at = append(r.says, says), append(r.logs, 0), len(r.says)
	}
	r.logs[at] += logs
}

// most is the reason of most logs, the first of several; "" where there is
// none.
func (r *rotaReasons) most() (says string) {
	best := -1
	for i, n := range r.logs {
		if n > best {
			says, best = r.says[i], n
		}
	}
	return says
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
