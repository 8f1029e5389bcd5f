package forecast

import (
	"cmp"
	"slices"

	"hodaba/yard"
)

// ledger is what is on record of the crops of one pile, laid beside what the
// forecast thinks of the same times.
type ledger struct {
	periods []*period
	baskets []*basket
	last    int32   // day of the weather up to which flushes are wanted
	stopped float64 // chance that it has stopped bearing
}

// period is some calendar years, the last of them cut at today, in which the
// crop of a pile is on record: something weighed was picked, or nothing was
// although somebody went round often. All other years are not recorded, which
// is not the same as nothing.
type period struct {
	from, to int32 // days of the weather
	picks    []*yard.Pick
	kg       float64 // picked, from the logs that still stand
	day      int32   // about which it was picked
	zero     bool
	rounds   []int32 // of a zero from rounds alone: days on which somebody went
	expect   expectation
}

// basket is one picking from several piles, and what the forecast expects of
// this pile around its day.
type basket struct {
	pick     *yard.Pick
	from, to int32
	kg       float64
}

// at is the index of the period in which a day lies, −1 where none does.
func (l *ledger) at(day int32) int {
	if l == nil {
		return -1
	}
	for i, p := range l.periods {
		if p.from <= day && day <= p.to {
			return i
		}
	}
	return -1
}

// sees reports whether a flush picked on a day would have been on record:
// where only rounds speak, it must have stood on the day of one.
func (p *period) sees(day int32) bool {
	return p.rounds == nil || slices.ContainsFunc(p.rounds, func(round int32) bool {
		return day-seenBefore <= round && round <= day+seenAfter
	})
}

// ledgerOf collects the record of a pile; nil where there is none. Of a pile
// whose logs nobody counted the forecast is for one log, and nothing can be
// laid beside it.
func (r *run) ledgerOf(t *task) *ledger {
	if !t.pile.LogsKnown {
		return nil
	}
	l := &ledger{last: r.today}
	l.weighed(r, t)
	l.zeros(r, t)
	slices.SortFunc(l.periods, func(a, b *period) int { return cmp.Compare(a.from, b.from) })
	if len(l.periods) == 0 {
		return nil
	}
	for _, p := range l.periods {
		for _, k := range p.picks {
			if len(k.Piles) > 1 {
				b := r.basketOf(k)
				l.baskets, l.last = append(l.baskets, b), max(l.last, b.to)
			}
		}
	}
	return l
}

// weighed makes periods of the years in which something weighed was picked,
// joined where one picking spans several.
func (l *ledger) weighed(r *run, t *task) {
	var picks []*yard.Pick
	for _, k := range t.pile.Picks {
		if k.Weighed && k.On.From <= r.asOf && r.isOf(k, t) {
			picks = append(picks, k)
		}
	}
	slices.SortStableFunc(picks, func(a, b *yard.Pick) int { return cmp.Compare(a.On.From, b.On.From) })
	var now *period
	for _, k := range picks {
		from, to := r.yearsOf(k.On)
		if to < 0 {
			continue // before there is any weather
		}
		if now == nil || from > now.to {
			now = &period{from: from, to: to}
			l.periods = append(l.periods, now)
		}
		now.to = max(now.to, to)
		now.picks = append(now.picks, k)
	}
}

// isOf reports whether a picking is of a pile's own mushroom.
func (r *run) isOf(k *yard.Pick, t *task) bool {
	return k.Species == "" || r.like(k.Species) == t.name
}

// yearsOf are the whole calendar years of a time, as days of the weather.
func (r *run) yearsOf(w yard.When) (from, to int32) {
	first := yard.NewDate(w.From.Year(), 1, 1)
	last := min(yard.NewDate(w.To.Year(), 12, 31), r.asOf)
	return max(int32(first-r.start), 0), int32(last - r.start)
}

// zeros makes periods of years without any picking, and without pins, in
// which somebody went round in weeks enough.
func (l *ledger) zeros(r *run, t *task) {
	p := t.pile
	for year := p.Since.From.Year(); year <= r.asOf.Year(); year++ {
		from, to := r.yearsOf(yard.When{From: yard.NewDate(year, 1, 1), To: yard.NewDate(year, 1, 1)})
		if l.at(to) >= 0 || borne(p, year) {
			continue
		}
		if rounds := r.roundsIn(p, year); rounds != nil {
			l.periods = append(l.periods, &period{from: from, to: to, day: to, zero: true, rounds: rounds})
		}
	}
}

// borne reports whether anything was picked or pinned in a year.
func borne(p *yard.Pile, year int) bool {
	in := func(w yard.When) bool { return w.From.Year() <= year && year <= w.To.Year() }
	return slices.ContainsFunc(p.Picks, func(k *yard.Pick) bool { return in(k.On) }) ||
		slices.ContainsFunc(p.Seen, func(s yard.Seen) bool { return (s.Kind == "harvested" || s.Kind == "pinned") && in(s.On) })
}

// roundsIn lists the days of a year on which somebody went round a whole pile and
// nothing was up, nil where they lie in too few weeks.
func (r *run) roundsIn(p *yard.Pile, year int) (days []int32) {
	weeks := map[int]bool{}
	for _, s := range p.Seen {
		day := s.On.Mid()
		if s.Kind != "walked" || s.Part != "" || day.Year() != year || day > r.asOf || s.On.To-s.On.From > vagueDays {
			continue
		}
		_, week := day.Week()
		weeks[week] = true
		days = append(days, int32(day-r.start))
	}
	if len(weeks) < int(r.data.Practice.ZeroWeeks.Value) {
		return nil
	}
	return days
}

// standing is the share of the logs that bore on a day that still stand. Logs
// that never took bore nothing.
func (r *run) standing(p *yard.Pile, day yard.Date) float64 {
	return float64(p.Logs) / float64(max(r.logsOn(p, day), p.Logs, 1))
}

// logsOn is how many logs of a pile, of those that took, stood on a day.
func (r *run) logsOn(p *yard.Pile, day yard.Date) int {
	logs := p.Logs
	for _, g := range p.Gone {
		if g.On.Mid() >= day && !(g.How == "lost" && r.data.Practice.NeverTook.In(g.Cause)) {
			logs += g.Logs
		}
	}
	return logs
}

// weigh sums up what was picked in each period from the logs that still
// stand, in whole milligrams, so that the order of entries makes no
// difference. A picking that nobody weighed, in a year in which others were,
// adds nothing: a handful is more often left unweighed than a basket.
func (l *ledger) weigh(r *run, t *task) {
	least := r.data.Practice.LeastCrop.Value
	for _, p := range l.periods {
		sum, days := int64(0), int64(0)
		for _, k := range p.picks {
			day := min(k.On.Mid(), r.asOf)
			mg := int64(k.Fresh.Mid()*r.shareOf(t.pile, k)*r.standing(t.pile, day)*mgPerKG + 0.5)
			sum += mg
			days += mg * int64(max(day-r.start, 0))
		}
		p.kg = float64(sum) / mgPerKG
		if sum > 0 {
			p.day = min(max(int32(days/sum), p.from), p.to)
		}
		p.zero = p.zero || p.kg < least
	}
}

const mgPerKG = 1e6
