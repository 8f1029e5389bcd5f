package forecast

import (
	"math"
	"slices"
)

// course is one course of days through the cold room and the drier; it keeps
// its memory.
//
// Purpose: where what is picked goes. Equations, day by day:
//
//   - what comes goes into the cold, and keeps for the days of its species;
//   - promises are delivered on their day from what keeps least; what is due
//     within a week is held back;
//   - of what comes, 1 − share goes fresh as usual, promises included;
//   - a load goes into the drier when it is full, when something is on its last
//     day, or when the cold room has no room left for another load; first
//     what keeps least;
//   - what is past its last day, and what the cold room does not hold after
//     that, is over: to be sold at once, or it spoils; what is held back for
//     promises goes last.
//
// Parameters: those of keeping. State: what is in the cold, what of the usual is
// not gone yet, when the drier is free. Needs: what comes by week. Errors: none.
type course struct {
	k       *keeping
	cold    []portion // soonest last day first
	total   float64
	stock   []float64 // by species: of total
	usual   []float64 // by species: still to go fresh as usual in this week
	held    []float64 // by species: held back for promises
	heldAny float64
	free    int // first day on which the drier takes a load
	log     *[]deed
	dries   *[]drying // what goes into the drier, nil where nobody asks
}

// deed is one thing that is done on a day.
type deed struct {
	day     int
	what    deedKind
	turn    int // of the drier
	species int
	kg      float64
	until   int // last day of what is over
}

type deedKind int

const (
	didPick deedKind = iota
	didDeliver
	didUse // as usual
	didDry
	didSell
	didKeep
)

func newCourse(k *keeping) *course {
	n := len(k.species)
	return &course{k: k, stock: make([]float64, n), usual: make([]float64, n), held: make([]float64, n)}
}

// run goes through all days. came is kg by week and species; book takes the
// weeks, met says which promises were met.
func (c *course) run(came []float64, book []WeekBook, met []bool) {
	k := c.k
	c.cold, c.total, c.free = c.cold[:0], 0, 0
	clear(c.stock)
	clear(c.usual)
	for _, p := range k.start {
		c.put(p)
	}
	for i := range met {
		met[i] = k.due[i].Open <= 0
	}
	week := -1
	var b *WeekBook
	for day := range k.days {
		if w := k.weekOf(day); w != week {
			if week = w; week >= len(book) {
				return
			}
			b = &book[week]
			*b = WeekBook{Before: c.total}
			clear(c.usual)
		}
		if day > 0 {
			c.come(day, came[week*len(k.species):(week+1)*len(k.species)], k.ahead(week), b)
		}
		if c.total > 0 || k.dueOn[day] < len(k.due) {
			c.promises(day, b, met)
		}
		if c.total > 0 {
			c.holdBack(day)
			c.asUsual(day, b)
			c.dryOn(day, b)
			c.over(day, b)
		}
		b.Kept = c.total
		c.note(deed{day: day, what: didKeep, kg: c.total})
	}
}

func (c *course) note(d deed) {
	if c.log != nil && (d.kg > 0 || d.what == didKeep) {
		*c.log = append(*c.log, d)
	}
}

// put puts a portion into the cold, behind those that keep as long.
func (c *course) put(p portion) {
	i := len(c.cold)
	for i > 0 && c.cold[i-1].until > p.until {
		i--
	}
	c.cold = slices.Insert(c.cold, i, p)
	c.total += p.kg
	c.stock[p.species] += p.kg
}

// take takes kg out of the portions that it may, what keeps least first, and
// returns how much it got of each through got.
func (c *course) take(kg float64, may func(portion) float64, got func(portion, float64)) (sum float64) {
	out := c.cold[:0]
	for _, p := range c.cold {
		if kg > 0 {
			if g := min(kg, p.kg, may(p)); g > 0 {
				kg, p.kg, sum = kg-g, p.kg-g, sum+g
				c.stock[p.species] -= g
				c.total -= g
				got(p, g)
			}
		}
		if p.kg > nearlyNone {
			out = append(out, p)
		} else {
			c.stock[p.species] -= p.kg
			c.total -= p.kg
		}
	}
	if c.cold = out; len(out) == 0 {
		c.total = 0
		clear(c.stock)
	}
	return sum
}

// nearlyNone is the kg under which a remainder is rounding.
const nearlyNone = 1e-9

// all lets all of a portion be taken.
func all(p portion) float64 { return p.kg }

// come brings the day's part of what comes in the week.
func (c *course) come(day int, week []float64, days int, b *WeekBook) {
	for s, kg := range week {
		if kg <= 0 || days <= 0 {
			continue
		}
		kg /= float64(days)
		c.put(portion{s, day + c.k.keeps[s], kg})
		c.usual[s] += (1 - c.k.share) * kg
		b.Came += kg
		c.note(deed{day: day, what: didPick, species: s, kg: kg})
	}
}

// promises delivers what is due on the day. What is delivered counts as
// gone fresh as usual.
func (c *course) promises(day int, b *WeekBook, met []bool) {
	k := c.k
	for i := k.dueOn[day]; i < k.dueOn[min(day+1, k.days)]; i++ {
		due := &k.due[i]
		got := c.take(due.Open, func(p portion) float64 {
			if due.species >= 0 && p.species != due.species {
				return 0
			}
			return p.kg
		}, func(p portion, kg float64) {
			c.usual[p.species] = max(0, c.usual[p.species]-kg)
			c.note(deed{day: day, what: didDeliver, species: p.species, kg: kg})
		})
		b.Sold += got
		met[i] = got >= due.Open-nearlyNone
	}
}

// holdBack sums up what is due within a week.
func (c *course) holdBack(day int) {
	k := c.k
	clear(c.held)
	c.heldAny = 0
	for i := k.dueOn[min(day+1, k.days)]; i < k.dueOn[min(day+1+daysOfWeek, k.days)]; i++ {
		if s := k.due[i].species; s >= 0 {
			c.held[s] += k.due[i].Open
		} else {
			c.heldAny += k.due[i].Open
		}
	}
}

// spare is what is not held back. What is on its last day never is.
func (c *course) spare(day int) (kg float64) {
	last := 0.0
	for i := range c.held {
		mine, ends := c.stock[i], 0.0
		for _, p := range c.cold {
			if p.until > day {
				break
			}
			if p.species == i {
				ends += p.kg
			}
		}
		last += ends
		kg += max(0, mine-ends-c.held[i])
	}
	return last + max(0, kg-c.heldAny)
}

// asUsual lets go what goes fresh as usual.
func (c *course) asUsual(day int, b *WeekBook) {
	if c.k.share >= 1 {
		return
	}
	b.Usual += c.take(c.spare(day), func(p portion) float64 {
		if p.until > day {
			return min(c.usual[p.species], max(0, c.stock[p.species]-c.held[p.species]))
		}
		return c.usual[p.species]
	}, func(p portion, kg float64) {
		c.usual[p.species] -= kg
		c.note(deed{day: day, what: didUse, species: p.species, kg: kg})
	})
}

// dryOn fills the drier from the evening of the day on.
func (c *course) dryOn(day int, b *WeekBook) {
	k := c.k
	if day < c.free {
		return
	}
	for turn := range k.turns(day) {
		spare := c.spare(day)
		must := len(c.cold) > 0 && c.cold[0].until <= day || c.total > k.holds-k.load
		if spare < leastPicking || spare < k.load && !must {
			return
		}
		b.Dried += c.take(min(spare, k.load), func(p portion) float64 {
			if p.until > day {
				return max(0, c.stock[p.species]-c.held[p.species])
			}
			return p.kg
		}, func(p portion, kg float64) {
			c.note(deed{day: day, what: didDry, turn: turn, species: p.species, kg: kg})
			if c.dries != nil {
				*c.dries = append(*c.dries, drying{int32(day), int32(p.species), kg})
			}
		})
		c.free = day + k.nights
	}
}

// over takes what is on its last day, and what the cold room does not hold: of
// that first what is not held back for promises.
func (c *course) over(day int, b *WeekBook) {
	if len(c.cold) == 0 || c.cold[0].until > day && c.total <= c.k.holds {
		return
	}
	sold := func(p portion, kg float64) {
		c.note(deed{day: day, what: didSell, species: p.species, kg: kg, until: p.until})
	}
	b.Over += c.take(math.Inf(1), func(p portion) float64 {
		if p.until > day {
			return 0
		}
		return p.kg
	}, sold)
	if more := c.total - c.k.holds; more > 0 {
		b.Over += c.take(min(more, c.spare(day)), func(p portion) float64 {
			return max(0, c.stock[p.species]-c.held[p.species])
		}, sold)
	}
	if more := c.total - c.k.holds; more > nearlyNone {
		b.Over += c.take(more, all, sold)
	}
}
