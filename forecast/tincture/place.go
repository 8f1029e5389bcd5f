package tincture

import (
	"hodaba/forecast/chance"
	"hodaba/yard"
)

// want is one wish, made ready for placing.
type want struct {
	recipe yard.Recipe
	needs  []Need
	lines  []line // those of needs that must be there
	extra  []line // those that are optional
	pace   pace
}

// line is an ingredient as it is drawn from the stock.
type line struct {
	need    int // index in want.needs
	level   level
	species []int // the ingredient, then what can stand in for it
	mg      int64
}

// begin is how a batch comes about in one draw.
type begin struct {
	start, strain yard.Date // zero: never
	picks         []pick
	arrived       yard.Date // all ingredients there, jars and pot or not; zero: never
	late          lineSet   // ingredients that never come, or else the one that comes last after today
}

// lineSet is a set of lines by index; of those beyond 63 it forgets.
type lineSet uint64

func (s lineSet) has(i int) bool { return s>>i&1 == 1 }

type pick struct {
	species int
	level   level
	mg      int64
}

// planner places batches one by one, in the order of priority.
//
// It keeps two sets of books over the same draws. In the first a batch starts
// as soon as it can, draw by draw: from that come the dates. In the second the
// printed calendar is followed: a batch starts on its printed day, or where
// something is missing as soon after as it can. From that come the chances.
type planner struct {
	stock   Stock
	diary   *diary
	terms   Terms
	species []string
	asked   []uint8 // by species: a bit for each level that is asked for
	index   map[string]int
	some    []take // memory of freeAt
	soonest []book // by draw
	follow  []book // by draw
	printed book
}

// free is the first day from which on mg of a species can be taken without
// taking from a batch that is booked already, whenever that one starts; it may
// lie before today. Every later day does too. ok is false where that day never
// comes.
//
// What can be had at one level can be had at each above it. So all takes can be
// met if and only if those of each level and of the levels below it can be met
// from what there is at that level (Hall's theorem, for a chain of sets).
func (p *planner) free(b *book, draw, species int, l level, mg int64, picks []pick) (day yard.Date, ok bool) {
	for at := l; at <= asPowder; at++ {
		if at != l && p.asked[species]>>at&1 == 0 {
			continue
		}
		in, found := p.freeAt(b, draw, species, at, mg+picked(picks, species, at))
		if !found {
			return 0, false
		}
		day = max(day, in)
	}
	return day, true
}

// freeAt is free as far as one level goes.
func (p *planner) freeAt(b *book, draw, species int, at level, mg int64) (day yard.Date, ok bool) {
	takes := b.taken(species)
	if p.asked[species] != 1<<at { // some are of other levels
		p.some = p.some[:0]
		for _, t := range takes {
			if t.level <= at {
				p.some = append(p.some, t)
			}
		}
		takes = p.some
	}
	need := mg
	for _, t := range takes {
		need += t.mg
	}
	// From the last booking backwards: between two bookings, what must have
	// come in is what is booked up to then, and mg.
	for i := len(takes); ; i-- {
		in, ok := p.stock.FirstDay(p.species[species], at.form(), draw, float64(need)/1000)
		if i < len(takes) && (!ok || in >= takes[i].day) {
			return takes[i].day, true
		}
		if !ok {
			return 0, false
		}
		if i == 0 || in > takes[i-1].day {
			return in, true
		}
		need -= takes[i-1].mg
	}
}

// earliest is how a batch starts in a draw, on or after a day. The picks are
// written over those given.
func (p *planner) earliest(b *book, draw int, w *want, from yard.Date, picks []pick) begin {
	never := begin{picks: picks[:0]}
	day, late, ok := p.arrived(b, draw, w.lines)
	never.late = late
	if !ok {
		return never
	}
	never.arrived = day
	day = max(day, from)
	for day <= p.terms.Until {
		start, strain := p.room(b, w.pace, day)
		if start == 0 {
			return never
		}
		got, next, ok := p.assign(b, draw, w.lines, start, picks[:0])
		if ok {
			got = p.assignExtra(b, draw, w.extra, start, got)
			return begin{start: start, strain: strain, picks: got, arrived: never.arrived, late: late}
		}
		if next == 0 {
			return never
		}
		day = next
	}
	return never
}

// arrived is the day on which every line could be met if it were the only one,
// and which of them hold it up: those that never come, or the last to come;
// none where all is there today.
func (p *planner) arrived(b *book, draw int, lines []line) (day yard.Date, late lineSet, ok bool) {
	day, ok = p.terms.AsOf, true
	var never lineSet
	for i, l := range lines {
		in, found := p.firstOf(b, draw, l)
		switch {
		case !found:
			never |= 1 << i
		case in > day:
			day, late = in, 1<<i
		}
	}
	if never != 0 {
		return 0, never, false
	}
	return day, late, true
}

// firstOf is the first day on which a line can be met by one of its species.
func (p *planner) firstOf(b *book, draw int, l line) (day yard.Date, ok bool) {
	for _, s := range l.species {
		if in, found := p.free(b, draw, s, l.level, l.mg, nil); found && (!ok || in < day) {
			day, ok = in, true
		}
	}
	return day, ok
}

// assign chooses for every line the first of its species that is there on a
// day, and leaves no other choice untried. Where that fails, next is the next
// day on which it may be otherwise; zero where there is none.
func (p *planner) assign(b *book, draw int, lines []line, day yard.Date, picks []pick) (got []pick, next yard.Date, ok bool) {
	if len(lines) == 0 {
		return picks, 0, true
	}
	for _, s := range lines[0].species {
		in, found := p.free(b, draw, s, lines[0].level, lines[0].mg, picks)
		if found && in > day {
			next = sooner(next, in)
		}
		if !found || in > day {
			continue
		}
		got, later, ok := p.assign(b, draw, lines[1:], day, append(picks, pick{s, lines[0].level, lines[0].mg}))
		if ok {
			return got, 0, true
		}
		next = sooner(next, later)
	}
	return picks, next, false
}

// assignExtra adds those optional ingredients that are there.
func (p *planner) assignExtra(b *book, draw int, lines []line, day yard.Date, picks []pick) []pick {
	for i := range lines {
		if got, _, ok := p.assign(b, draw, lines[i:i+1], day, picks); ok {
			picks = got
		}
	}
	return picks
}

// picked is what was picked already of what can be had at a level.
func picked(picks []pick, species int, at level) (mg int64) {
	for _, k := range picks {
		if k.species == species && k.level <= at {
			mg += k.mg
		}
	}
	return mg
}

// sooner is the earlier of two days, either of which may be none.
func sooner(a, b yard.Date) yard.Date {
	if a == 0 || (b != 0 && b < a) {
		return b
	}
	return a
}

// room is the first open day on or after a day on which jars are free until
// straining, and the day of straining, on which the pot is; zeros where none
// comes before the horizon.
func (p *planner) room(b *book, c pace, from yard.Date) (start, strain yard.Date) {
	for day := p.diary.onOrAfter(from); day != 0 && day <= p.terms.Until; day = p.diary.onOrAfter(day + 1) {
		strain := p.diary.strainOn(b, day, c)
		if strain != 0 && p.jarsFree(b, c.jars, day, strain) {
			return day, strain
		}
	}
	return 0, 0
}

func (p *planner) jarsFree(b *book, jars int, from, to yard.Date) bool {
	return jars == 0 || p.terms.Kitchen.Jars == 0 || b.jarsBusy(from, to)+jars <= p.terms.Kitchen.Jars
}

// placing is where a batch comes to lie: printed, and in every draw.
type placing struct {
	start, strain yard.Date // printed; zero where it has no date
	chance        float64   // that it can start on start
	early, late   yard.Date // of the earliest start
	arrived       yard.Date // by which all is there with the confidence asked for
	reached       float64
	soonest       []begin // by draw, as soon as it can
	follow        []begin // by draw, following the calendar
	held          []int   // by line: draws in which it came last
}

// place finds where a batch lies, and books nothing.
func (p *planner) place(w *want) *placing {
	l := &placing{
		soonest: make([]begin, len(p.soonest)), follow: make([]begin, len(p.follow)),
		held: make([]int, len(w.lines)),
	}
	days, arrived := p.tally(), p.tally()
	for d := range p.soonest {
		l.soonest[d] = p.earliest(&p.soonest[d], d, w, p.terms.AsOf, nil)
		count(days, l.soonest[d].start)
		count(arrived, l.soonest[d].arrived)
		for i := range l.held {
			if l.soonest[d].late.has(i) {
				l.held[i]++
			}
		}
	}
	l.early, l.late, l.reached = quantile(days, 0.1), quantile(days, 0.9), days.Reached()
	l.arrived = quantile(arrived, p.terms.Confidence)
	p.print(w, l, quantile(days, p.terms.Confidence))
	return l
}

// mostTries is how often a printed date is moved on because too few draws hold
// it. One or two moves are the rule.
const mostTries = 20

// print gives a batch its printed date, from the day on which it is ready with
// the confidence asked for: the first day on or after it that the calendar has
// room for, and on which, the calendar being followed, that confidence holds.
func (p *planner) print(w *want, l *placing, ready yard.Date) {
	for try := 0; ready != 0 && try < mostTries; try++ {
		start, strain := p.room(&p.printed, w.pace, ready)
		if start == 0 {
			break
		}
		later, share := p.followFrom(w, l, start)
		if share >= p.terms.Confidence*(1-1e-12) {
			l.start, l.strain, l.chance = start, strain, share
			return
		}
		ready = max(later, start+1)
		if later == 0 {
			break
		}
	}
	p.followFrom(w, l, p.terms.AsOf) // without a date: as soon as it can, after what is booked
}

// followFrom fills in how a batch starts in every draw when it is meant to
// start on a day: then, or as soon after as it can. It returns the share of
// draws in which it does start on that day, and the day by which it has
// started with the confidence asked for.
func (p *planner) followFrom(w *want, l *placing, start yard.Date) (by yard.Date, share float64) {
	days := p.tally()
	onTime := 0
	for d := range p.follow {
		l.follow[d] = p.earliest(&p.follow[d], d, w, start, l.follow[d].picks)
		count(days, l.follow[d].start)
		if l.follow[d].start == start {
			onTime++
		}
	}
	return quantile(days, p.terms.Confidence), float64(onTime) / float64(len(p.follow))
}

// book enters a placing in the books. A batch without a date takes its goods
// where it comes to start, being first in the order, but keeps no jar or pot
// from those that have one.
func (p *planner) book(w *want, l *placing) {
	following := w.pace
	if l.start == 0 {
		following.jars, following.pot = 0, false
	}
	for d := range p.soonest {
		enter(&p.soonest[d], w.pace, l.soonest[d])
		enter(&p.follow[d], following, l.follow[d])
	}
	enter(&p.printed, w.pace, begin{start: l.start, strain: l.strain})
}

func enter(b *book, c pace, at begin) {
	if at.start == 0 {
		return
	}
	for _, k := range at.picks {
		b.take(k.species, k.level, at.start, k.mg)
	}
	if c.jars > 0 {
		b.stands = append(b.stands, stand{at.start, at.strain, c.jars})
	}
	if c.pot {
		b.pot = append(b.pot, at.strain)
	}
}

// tally counts days up to the horizon.
func (p *planner) tally() *chance.Tally {
	return chance.Days(int(p.terms.AsOf), int(p.terms.Until))
}

func count(t *chance.Tally, day yard.Date) {
	if day == 0 {
		t.Never(1)
		return
	}
	t.Add(float64(day), 1)
}

// quantile is the day that a share of draws does not exceed; zero where that
// share is not reached.
func quantile(t *chance.Tally, share float64) yard.Date {
	day, ok := t.At(share)
	if !ok {
		return 0
	}
	return yard.Date(day)
}
