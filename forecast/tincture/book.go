package tincture

import (
	"slices"

	"hodaba/yard"
)

// book is what is spoken for: dried goods, jars and days of the pot. Each draw
// has one, and so has the printed calendar, in which no goods are booked.
type book struct {
	takes  [][]take // by species, in order of day
	stands []stand
	pot    []yard.Date
}

// take is an amount of one species that leaves the shelf on a day.
type take struct {
	day   yard.Date
	mg    int64
	level level
}

// stand is a number of jars in use from one day to another, both included.
type stand struct {
	from, to yard.Date
	jars     int
}

func (b *book) take(species int, l level, day yard.Date, mg int64) {
	for len(b.takes) <= species {
		b.takes = append(b.takes, nil)
	}
	ts := b.takes[species]
	at := len(ts)
	for at > 0 && ts[at-1].day > day {
		at--
	}
	b.takes[species] = slices.Insert(ts, at, take{day, mg, l})
}

func (b *book) taken(species int) []take {
	if species < len(b.takes) {
		return b.takes[species]
	}
	return nil
}

// jarsBusy is the most jars in use at any time from a day to another.
func (b *book) jarsBusy(from, to yard.Date) int {
	most := 0
	for i := -1; i < len(b.stands); i++ {
		day := from // the most are in use on from, or when one of the others starts
		if i >= 0 {
			day = b.stands[i].from
		}
		if day < from || day > to {
			continue
		}
		n := 0
		for _, s := range b.stands {
			if s.from <= day && day <= s.to {
				n += s.jars
			}
		}
		most = max(most, n)
	}
	return most
}

func (b *book) potBusy(day yard.Date) bool { return slices.Contains(b.pot, day) }
