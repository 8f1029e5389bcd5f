package forecast

import (
	"maps"
	"math"
	"slices"

	"hodaba/yard"
)

// keeping is what all courses of days have in common: what the cold room and
// the drier take, what is due when. Days count from today, weeks from that
// of today.
type keeping struct {
	species []string
	keeps   []int // days, by species
	plans   bool  // anything is said of the cold room or the drier
	holds   float64
	load    float64 // kg; 0 no drier
	hours   float64
	perDay  int
	nights  int
	shut    []bool  // by day: the drier is broken
	taken   int     // loads that went in today
	busy    int     // first day on which the drier takes a load longer than a day
	share   float64 // of what comes that goes to the drier
	before  int     // days of this week before today
	days    int     // in all
	due     []Due
	other   []yard.Promise
	dueOn   []int // by day: first of due on it or later
	waiting []Waiting
	start   []portion
}

// portion is fresh mushrooms of one species that keep until a day.
type portion struct {
	species int
	until   int
	kg      float64
}

// weekOf is the week of a day.
func (k *keeping) weekOf(day int) int {
	if day < 0 {
		return 0
	}
	return (day + k.before) / daysOfWeek
}

// ahead is how many days of a week are still ahead: those over which what
// comes in it is spread. What was picked today is on record.
func (k *keeping) ahead(week int) int {
	if week == 0 {
		return daysOfWeek - 1 - k.before
	}
	return daysOfWeek
}

// keeping collects it.
func (r *run) keeping() *keeping {
	cfg := &r.state.Config
	k := &keeping{holds: math.Inf(1), share: cfg.Drier.Share, before: int(r.asOf - r.asOf.Monday())}
	k.days = rotaWeeks*daysOfWeek - k.before
	if cfg.Cold.HoldsKG > 0 {
		k.holds = cfg.Cold.HoldsKG
	}
	k.waiting, _ = InTheCold(r.state, r.data)
	for i := range k.waiting {
		k.waiting[i].Species = r.like(k.waiting[i].Species)
	}
	k.due, k.other = duesOf(r.state, r.data, r.asOf.Monday(), r.asOf+yard.Date(k.days-1))
	k.collectSpecies(r)
	r.fitDrier(k)
	k.plans = k.load > 0 || cfg.Cold.HoldsKG > 0
	k.dueOn = make([]int, k.days+1)
	for d := range k.dueOn {
		k.dueOn[d] = len(k.due)
		if i := slices.IndexFunc(k.due, func(x Due) bool { return int(x.Day-r.asOf) >= d }); i >= 0 {
			k.dueOn[d] = i
		}
	}
	return k
}

// collectSpecies lists what comes, what waits and what was promised, by name.
func (k *keeping) collectSpecies(r *run) {
	names := map[string]bool{}
	for name := range r.totals {
		names[name] = true
	}
	for _, w := range k.waiting {
		names[w.Species] = true
	}
	for i := range k.due {
		if d := &k.due[i]; d.Species != "" {
			d.Species = r.like(d.Species)
			names[d.Species] = true
		}
	}
	k.species = slices.Sorted(maps.Keys(names))
	for _, name := range k.species {
		k.keeps = append(k.keeps, int(keepsDays(r.state, r.data, name)))
	}
	for i := range k.due {
		k.due[i].species = slices.Index(k.species, k.due[i].Species)
	}
	for _, w := range k.waiting {
		k.start = append(k.start, portion{slices.Index(k.species, w.Species), int(w.Until - r.asOf), w.KG})
	}
}

// fitDrier works out what the drier takes on each day.
func (r *run) fitDrier(k *keeping) {
	d := r.state.Config.Drier
	if !(d.LoadKG > 0 && d.HoursPerLoad > 0) {
		return
	}
	k.load, k.hours = d.LoadKG, d.HoursPerLoad
	k.perDay = d.LoadsADay()
	k.nights = max(1, int(math.Ceil(d.HoursPerLoad/hoursOfDay)))
	k.shut = make([]bool, k.days)
	for day := range k.shut {
		k.shut[day] = r.drierShut(r.asOf + yard.Date(day))
	}
	today := 0.0
	for _, l := range r.state.Loads {
		if !l.In() {
			continue
		}
		if on := int(l.On.To - r.asOf); on == 0 {
			today += max(l.FreshKG.Mid(), leastPicking)
		} else if on > -k.nights {
			k.busy = max(k.busy, on+k.nights)
		}
	}
	k.taken = int(math.Ceil(today / k.load)) // what goes in on one evening goes in together
	if k.taken > 0 && k.nights > 1 {
		k.busy = k.nights
	}
}

const hoursOfDay = 24

// turns are the loads that the drier can take one after the other from the
// evening of a day.
func (k *keeping) turns(day int) int {
	switch {
	case k.load <= 0 || k.shut[day] || day < k.busy:
		return 0
	case day == 0:
		return max(0, k.perDay-k.taken)
	}
	return k.perDay
}

// outIn reports whether the drier is broken on all days of a week.
func (k *keeping) outIn(week int) bool {
	if k.load <= 0 {
		return false
	}
	return !slices.Contains(k.shut[max(0, week*daysOfWeek-k.before):(week+1)*daysOfWeek-k.before], false)
}

// roomOf is what the drier takes in a week, kg.
func (k *keeping) roomOf(week int) (kg float64) {
	free := 0
	for day := max(0, week*daysOfWeek-k.before); day < (week+1)*daysOfWeek-k.before; day++ {
		if n := k.turns(day); n > 0 && day >= free {
			kg += float64(n) * k.load
			free = day + k.nights
		}
	}
	return kg
}
