package forecast

import (
	"hodaba/forecast/climate"
	"hodaba/forecast/fruit"
	"hodaba/forecast/ground"
	"hodaba/yard"
)

// Why a soak of a week would bring no flush, or one that freezes.
const (
	TooCold   = "too cold for a flush"
	TooHot    = "too hot for a flush"
	NearFrost = "too near a hard frost"
)

// OutOfSeason reports whether it is for the season that nothing goes in.
func OutOfSeason(skipped string) bool {
	return skipped == TooCold || skipped == TooHot || skipped == NearFrost
}

// soakDay is what comes of a soak that ends on a day of a mean year.
type soakDay struct {
	why         string    // no flush comes of it, or one that freezes
	first, last yard.Date // between which it is likely picked
}

// soakDays says, for each strain at its place, what comes of a soak that ends
// on each of the days ahead in a mean year.
func (r *run) soakDays(all []*candidate) map[*setting][]soakDay {
	fit := map[*setting][]soakDay{}
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
		ok := make([]soakDay, daysOfYear+pickedWithin)
		for d := range ok {
			at := int(r.today) + d
			t, comes := watch.Soaked(at, r.calendarDays)
			ok[d] = r.soakDay(s, t, comes, air)
			if !comes && at < len(wood.Mean) && float64(wood.Mean[at]) > s.strain.Fruit.BandHigh.Value {
				ok[d].why = TooHot
			}
		}
		fit[s] = ok
	}
	return fit
}

// soakDay reads a flush of a mean year. It is picked sooner or later by half of
// what lies between the quickest and the slowest.
func (r *run) soakDay(s *setting, t fruit.Trigger, comes bool, air []climate.Day) soakDay {
	if !comes {
		return soakDay{why: TooCold}
	}
	f := &s.strain.Fruit
	half := yard.Date((f.DaysCool.Value - f.DaysWarm.Value) / 2)
	pick := r.start + yard.Date(t.Pick)
	d := soakDay{first: pick - half, last: pick + half}
	if r.frostBetween(air, t.Start, t.Pick) {
		d.why = NearFrost
	}
	return d
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

// comesOf is what comes of a part that comes out on a day.
func (b *rota) comesOf(c *candidate, out yard.Date) soakDay {
	days := b.fit[c.t.setting]
	if at := int(out - b.r.asOf); at >= 0 && at < len(days) {
		return days[at]
	}
	return soakDay{why: TooCold}
}

// flushWhileAway reports whether most of the days on which a flush is likely
// picked are days on which nobody is there.
func (b *rota) flushWhileAway(s soakDay) bool {
	away := 0
	for d := s.first; d <= s.last && s.first > 0; d++ {
		if b.r.isAway(d) {
			away++
		}
	}
	return 2*away > int(s.last-s.first)
}

// lastSafe is the Monday of the last week of a year in which a soak brings a
// flush that no hard frost should meet: of the first year ahead of which the
// book sees the cold come. It is zero where it sees none.
func (b *rota) lastSafe() (last yard.Date) {
	cold := false // since that week
	for w := range rotaWeeks {
		monday := b.r.asOf.Monday() + yard.Date(7*w)
		switch why := b.seasonOf(monday); {
		case why == "" && cold && last > 0 && (last+3).Year() != (monday+3).Year():
			return last
		case why == "":
			last, cold = monday, false
		case why != TooHot:
			cold = true
		}
	}
	if !cold {
		return 0
	}
	return last
}

// seasonOf is why no soak of a week brings a flush, for most of the logs; ""
// where one does.
func (b *rota) seasonOf(monday yard.Date) string {
	var logs rotaReasons
	for _, c := range b.all {
		if !c.t.strain.Fruit.Forced {
			continue
		}
		why := ""
		for d := max(monday, b.r.asOf); d < monday+7; d++ {
			if why = b.comesOf(c, d+b.stay).why; why == "" {
				return ""
			}
		}
		logs.add(why, c.logs)
	}
	return logs.most()
}

func (r *run) isAway(d yard.Date) bool {
	for _, a := range r.state.Config.Working.Away {
		if a.From <= d && d <= a.To {
			return true
		}
	}
	return false
}
