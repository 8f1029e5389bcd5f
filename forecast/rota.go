package forecast

import (
	"cmp"
	"math"
	"slices"

	"hodaba/forecast/fruit"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// Load is one load of the tank book, or a week in which none goes in. A week
// with several loads has them in order of day.
type Load struct {
	Week    yard.Date // its Monday
	In, Out yard.Date // days on which the logs go into the tank and come out; zero where Skipped
	Parts   []LoadPart
	Logs    int
	Skipped string // why nothing goes in, in words; "" where something does
	Season  string // why no soak of this week brings a flush, whatever goes in; "" one does
	// What the load brings.
	Fresh            Amount    // kg
	Chance           float64   // that anything comes
	PickFrom, PickTo yard.Date // 8 pickings in 10 between these days; zero where nothing comes
}

// LoadPart is what goes in of one pile.
type LoadPart struct {
	Pile    string
	Part    string // letter; "" for a pile that goes in as one
	Of      int    // parts of the pile
	Logs    int
	Last    yard.Date // day on which it was soaked or picked last; zero never
	Blank   bool      // it was soaked lately and nothing came
	Planned bool      // the grower planned it for this week
	Note    string    // what speaks against what was planned; "" nothing
}

// Tank says what a tank book rests on and how far it goes round.
type Tank struct {
	Logs     int           // standing, of all piles that can be soaked
	Room     int           // logs in a load at most
	Loads    int           // until each part has been in once
	Cycle    int           // weeks from soak to soak that are wanted
	Comes    int           // weeks after which each part comes round at the soonest; Cycle where that can be kept
	Even     fruit.Rota    // groups that were alike
	LastSafe yard.Date     // Monday of the last week before hard frost in which a soak brings a flush; zero not known
	Plans    []PlannedSoak // in the order in which they were written down
	Beyond   []BeyondParts
}

// BeyondParts are logs of a pile that no letter is left for.
type BeyondParts struct {
	Pile  string
	Logs  int // that do not go in
	Parts int // into which the pile would go
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
	from  yard.Date // soonest day on which it may come out
	young bool      // so because of its first year
	asked []*askedSoak
}

// rota is a tank book while it is drawn up.
type rota struct {
	r           *run
	all         []*candidate // that the tank book has to do with, and others that are planned
	days        tincture.Workdays
	stay, cycle yard.Date
	fit         map[*setting][]soakDay
	held        []heldSoak
	tank, room  int
	pace        float64   // loads that a week of the cycle wants, at least 1
	credit      float64   // loads that are left over from weeks before
	free        yard.Date // from this day on the tank is empty
	freeWeek    yard.Date // of the load that is in it
	about       *Tank
}

// drawUpRota draws up the tank book of the year ahead, unless soaks are given.
// What the grower planned goes in first. Other parts go in when their rest is
// over, those that have waited longest first, no more a week than makes all
// weeks alike. Where nobody said what the tank holds, what is planned is all.
func (r *run) drawUpRota() error {
	r.soaks = r.decision.Soaks
	if r.decision.Soaks != nil || r.plain {
		return nil
	}
	r.soaks = map[string][]Soak{}
	b, err := r.newRota()
	if err != nil {
		return err
	}
	if r.state.Config.Soak.TankLogs <= 0 {
		b.planWithoutTank()
		return nil
	}
	if len(b.all) == 0 {
		return nil
	}
	for w := range rotaWeeks {
		b.week(r.asOf.Monday() + yard.Date(7*w))
	}
	b.about.LastSafe = b.lastSafe()
	b.closePlans()
	r.tank = b.about
	return nil
}

// newRota gathers what a tank book is drawn up from.
func (r *run) newRota() (*rota, error) {
	b := &rota{r: r, tank: r.state.Config.Soak.TankLogs, cycle: r.cycleDays(), held: r.heldSoaks(), about: &Tank{},
		stay: soakedDays(soakHours(&r.state.Config, r.data))}
	b.candidates()
	b.readPlans()
	if len(b.all) == 0 {
		return b, nil
	}
	var err error
	if b.days, _, err = r.workdays(); err != nil {
		return nil, err
	}
	b.fit = r.soakDays(b.all)
	b.measure()
	for _, p := range PastSoaks(r.state, r.data, r.asOf-longestStay) {
		if p.Out > max(b.free, r.asOf) {
			b.free, b.freeWeek = p.Out, p.In.Monday()
		}
	}
	return b, nil
}

// longestStay is more days than any soak lasts.
const longestStay = 31

// soakable reports whether the tank book has to do with a pile: its strain can
// be forced, it stands, and its logs are counted.
func (r *run) soakable(t *task) bool {
	return t.strain.Fruit.Forced && t.pile.Kind == "pile" && t.pile.LogsKnown && !t.planned
}

func (r *run) cycleDays() yard.Date {
	return yard.Date(math.Round(7 * SoakCycle(&r.state.Config, r.data)))
}

// candidates are the parts of all piles whose strain can be forced.
func (b *rota) candidates() {
	r := b.r
	for _, t := range r.tasks {
		if r.soakable(t) {
			b.about.Logs += t.pile.Logs
		}
	}
	b.about.Cycle = max(int(b.cycle/7), 1)
	b.about.Even = fruit.RotaFor(b.about.Logs, b.about.Cycle)
	if b.about.Logs == 0 || b.tank <= 0 {
		return
	}
	each := min(b.tank, b.about.Even.PerGroup)
	for _, t := range r.tasks {
		if r.soakable(t) {
			b.all = append(b.all, b.divide(t, r.partsOf(t.pile, each))...)
		}
	}
}

// divide makes the parts of a pile. Those that no letter is left for stay out
// of the book.
func (b *rota) divide(t *task, parts int) (list []*candidate) {
	left := 0
	for k := range parts {
		c := &candidate{t: t, part: k, parts: parts, logs: t.pile.Logs / parts}
		if k < t.pile.Logs%parts {
			c.logs++
		}
		if k >= len(partLetters) {
			left += c.logs
			continue
		}
		b.r.restOf(c)
		if c.logs > 0 {
			list = append(list, c)
		}
	}
	if left > 0 {
		b.about.Beyond = append(b.about.Beyond, BeyondParts{t.pile.Name, left, parts})
	}
	return list
}

// partsOf is into how many parts a pile goes when so many logs make a group. A
// pile that was soaked in parts keeps them, and its tags, while they fit the
// tank; none is larger than that.
func (r *run) partsOf(p *yard.Pile, each int) int {
	letters, kept := partsNamed(p, r.asOf)
	for _, k := range r.state.Planned {
		if k.Soak == p.Name && k.Week.To >= r.asOf {
			letters = max(letters, partOf(k.Part)+1)
		}
	}
	if kept = max(kept, letters); kept > 0 && (p.Logs+kept-1)/kept <= r.state.Config.Soak.TankLogs {
		return kept
	}
	if partsOnRecord(p, r.asOf) > 1 {
		letters = max(letters, 2) // some of its logs were soaked, not all
	}
	return max((p.Logs+each-1)/each, letters)
}

// restOf finds when a part may go in next: after its first year or its first
// flush, a cycle after its last soak, a rest after its last picking; sooner
// where the last soak brought nothing. What a soak brought asks for no more
// than the least rest, because the cycle runs from soak to soak, and for none of
// the parts that were not soaked. The crop of a whole year shows that a pile
// has fruited, and not when.
func (r *run) restOf(c *candidate) {
	p, f, pr := c.t.pile, &c.t.strain.Fruit, &r.data.Practice
	wetted, named := soakedParts(p, c.parts, r.asOf), partFinder(p, c.parts, r.asOf)
	isOf := func(part string) bool { return named(part) == Whole || named(part) == c.part }
	fruited, picked, rested := false, yard.Date(0), yard.Date(0)
	for _, k := range p.Picks {
		if k.On.From > r.asOf {
			continue
		}
		fruited = true
		if k.Season || !isOf(k.Part) {
			continue // what a part brought is its own
		}
		day, rest := k.On.Mid(), f.RestWeeks.Typical
		if i := r.soaksOfPile(p, f).credited(k); i >= 0 {
			if !wets(wetted[i], c.part) {
				continue
			}
			rest = f.RestWeeks.Low
		}
		picked, rested = max(picked, day), max(rested, day+yard.Date(7*rest))
	}
	switch {
	case fruited:
	case r.state.Config.Soak.First == "after the first flush":
		c.from = never
	case c.t.through():
		c.from = p.Since.To
	default:
		c.from, c.young = p.Since.To+daysOfYear, true
	}
	soaked := yard.Date(0)
	for i, parts := range wetted {
		if wets(parts, c.part) {
			soaked = max(soaked, p.Soaked[i].On.Mid())
		}
	}
	c.last = max(picked, soaked)
	next := rested
	if soaked > 0 {
		again := soaked + r.cycleDays()
		if picked < soaked && wentRound(p, f, pr, soaked, r.asOf, isOf) != 0 {
			c.blank = true
			again = soaked + yard.Date(7*pr.BlankWeeks.Value)
		}
		next = max(next, again)
	}
	if next >= c.from {
		c.from, c.young = next, false
	}
}

// never is later than any day that matters.
const never = yard.Date(1 << 30)

const daysOfYear = 365

// measure finds how many logs make a load, and how many loads a week it takes
// for each part to come round after the cycle. A load has a share of all logs;
// where the parts do not go into so many loads as the cycle has weeks, it has
// as much more as the tank holds.
func (b *rota) measure() {
	var sizes []int
	for _, c := range b.all {
		if c.from < never && b.r.soakable(c.t) {
			sizes = append(sizes, c.logs)
		}
	}
	a := b.about
	b.room = min(b.tank, max(a.Even.PerGroup, 1))
	total := 0
	for _, n := range sizes {
		total += n
	}
	if total > b.tank*a.Cycle { // no room is enough
		b.room = min(b.tank, a.Logs)
	}
	a.Loads = loadsOf(sizes, b.room)
	for b.room < min(b.tank, a.Logs) && a.Loads > a.Cycle {
		b.room++
		a.Loads = loadsOf(sizes, b.room)
	}
	a.Room = b.room
	b.pace = max(1, float64(a.Loads)/float64(a.Cycle))
	if most := b.most(); most > 0 {
		a.Comes = max(a.Cycle, int(math.Ceil(float64(a.Loads)/most-1e-9)))
	}
}

// loadsOf is into how many loads of so many logs parts go, the largest first.
func loadsOf(sizes []int, room int) int {
	sizes = slices.Clone(sizes)
	slices.SortFunc(sizes, func(a, c int) int { return cmp.Compare(c, a) })
	var loads []int
	for _, n := range sizes {
		at := slices.IndexFunc(loads, func(l int) bool { return l+n <= room })
		if at < 0 {
			loads, at = append(loads, 0), len(loads)
		}
		loads[at] += n
	}
	return len(loads)
}

// most is how many loads a week the tank takes: those of the fullest week,
// or, where a soak lasts longer, the mean of the year.
func (b *rota) most() float64 {
	free, all, most := b.r.asOf.Monday(), 0, 0
	for w := range rotaWeeks {
		monday, n := b.r.asOf.Monday()+yard.Date(7*w), 0
		for d := monday; d < monday+7; d++ {
			if d >= free && b.days.Open(d) && (b.days.Open(d+b.stay) || !b.anyOut(monday)) {
				free, n = d+max(b.stay, 1), n+1
			}
		}
		all, most = all+n, max(most, n)
	}
	if b.stay > 6 {
		return float64(all) / rotaWeeks
	}
	return float64(most)
}

// anyOut reports whether a load can go in and come out on days of work in a
// week's time.
func (b *rota) anyOut(monday yard.Date) bool {
	for d := monday; d < monday+7; d++ {
		if b.days.Open(d) && b.days.Open(d+b.stay) {
			return true
		}
	}
	return false
}
