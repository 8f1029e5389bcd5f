package forecast

import (
	"fmt"
	"slices"

	"hodaba/forecast/harvest"
	"hodaba/yard"
)

// drying is what goes into the drier in the evening of a day, counted from
// today: kg fresh of one species of keeping.
type drying struct {
	day, species int32
	kg           float64
}

// drierYear is what the drier is loaded with in the year ahead, draw by draw.
// Each draw writes to its own place alone.
type drierYear struct {
	k     *keeping
	loads [][]drying // by draw
}

// newDrierYear is nil where nobody said what the drier takes: it is taken to
// take all, as if there were no end to it.
func (r *run) newDrierYear(k *keeping) *drierYear {
	if k.load <= 0 {
		return nil
	}
	return &drierYear{k: k, loads: make([][]drying, r.draws)}
}

// of is where the course of a draw writes; nil where nobody asks.
func (y *drierYear) of(draw int) *[]drying {
	if y == nil {
		return nil
	}
	return &y.loads[draw]
}

// rest dries on the last day what is still in the cold then: it is good, and
// the year after knows nothing of it.
func (y *drierYear) rest(c *course) {
	if y == nil {
		return
	}
	last := c.k.days - 1
	if c.k.shut[last] {
		return
	}
	for _, p := range c.cold {
		*c.dries = append(*c.dries, drying{int32(last), int32(p.species), p.kg})
	}
}

// stock collects what is on hand, what comes out of the drier and what is
// expected from elsewhere.
//
// Purpose: dried goods that can be counted on, by draw. Equations: where
// nobody said what the drier takes, the drier's share of each picking is dry a
// day later. Else in the year ahead what each draw's course of days loads it
// with is dry the nights later that a load takes, and so is what is in it now;
// beyond that year see [laterYears]. Parameters: load, hours_per_load and
// share_percent of the drier, the cold room, promises, all of the yard's
// settings. State: the drier when broken. Needs: pickings by draw, courses of
// the year ahead, water in the fresh. Errors: none.
func (r *run) stock() *harvest.Stock {
	s := harvest.NewStock(r.draws)
	for _, lot := range r.state.Dry {
		if lot.LeftG > 0 {
			s.Hold(r.like(lot.Species), lot.Form, lot.LeftG)
		}
	}
	to := r.stockDraws()
	if r.drier == nil {
		r.dryAll(s, to)
	} else {
		r.inTheDrier(s)
		r.drier.comeOut(r, s, to)
		r.laterYears(s, to)
	}
	for i, e := range r.state.Config.Expected {
		r.expected(s, i, e)
	}
	s.Close()
	return s
}

// dryAll dries all that is meant for the drier on the day on which it is
// picked.
func (r *run) dryAll(s *harvest.Stock, to [][]int32) {
	for _, t := range r.tasks {
		for _, in := range t.dried {
			for _, d := range to[in.draw] {
				s.Add(t.name, int(d), r.start+yard.Date(in.day)+driedAfter, in.grams)
			}
		}
	}
}

// driedAfter is how many days after picking a load has come out of the drier.
const driedAfter = 1

// comeOut puts the loads of the year ahead on the shelf.
func (y *drierYear) comeOut(r *run, s *harvest.Stock, to [][]int32) {
	per := r.dryPerOf(y.k.species)
	for n, loads := range y.loads {
		for _, l := range loads {
			if per[l.species] == nil {
				continue
			}
			grams := gramsPerKG * l.kg * per[l.species][n]
			for _, d := range to[n] {
				s.Add(y.k.species[l.species], int(d), r.asOf+yard.Date(int(l.day)+y.k.nights), grams)
			}
		}
	}
}

// dryPerOf is kg dry per kg fresh of species, by draw; nil of those of which
// nothing is known.
func (r *run) dryPerOf(names []string) [][]float64 {
	out := make([][]float64, len(names))
	for i, name := range names {
		if sp, ok := r.data.FindSpecies(r.kindNamed(name)); ok && sp.Fresh.Typical > 0 {
			out[i] = r.dryPer(name, sp)
		}
	}
	return out
}

// kindNamed is the built-in species of a name on the yard's books.
func (r *run) kindNamed(name string) string {
	for _, t := range r.tasks {
		if t.name == name {
			return t.species.Name
		}
	}
	for _, o := range r.state.Config.Own {
		if o.Name == name && o.Like != "" {
			return o.Like
		}
	}
	return name
}

// inTheDrier counts on what is in the drier by the record. What should have
// come out longer than a week ago is not counted on: nobody wrote what became
// of it.
func (r *run) inTheDrier(s *harvest.Stock) {
	for _, l := range r.state.Loads {
		ready := DrierReady(l, r.state.Config.Drier.HoursPerLoad)
		if !l.In() || !l.FreshKG.Known() || l.On.From > r.asOf || ready < r.asOf-daysOfWeek {
			continue
		}
		name := r.like(l.Species)
		per := r.dryPerOf([]string{name})[0]
		for n := range per {
			s.Add(name, n, max(ready, r.asOf+1), gramsPerKG*l.FreshKG.Mid()*per[n])
		}
	}
}

// laterYears puts on the shelf what is dried after the year ahead.
//
// Purpose: dried goods of years for which no course of days is worked out.
// Equations, week by week: what goes to the drier of a species is share × came,
// at most what came less what is promised of it; of all species together at most
// what came less what is promised, and at most what the drier turns on the
// days of the week on which it can be used, load × loads a day. All species give
// way alike, and what finds no room in its week is not counted on: a flush is
// picked over days and keeps for one or two weeks. State: none. Errors: none.
func (r *run) laterYears(s *harvest.Stock, to [][]int32) {
	l := r.newLater()
	at := make([]int, len(r.tasks))
	for n := range r.draws {
		l.begin(n)
		l.each(at, n, func(_ *task, i, week int, in inflow) {
			l.came[week*len(l.names)+i] += in.grams
		})
		l.fit()
		l.each(at, n, func(t *task, i, week int, in inflow) {
			grams := in.grams * l.goes[week*len(l.names)+i]
			for _, d := range to[n] {
				s.Add(t.name, int(d), r.start+yard.Date(in.day)+yard.Date(l.k.nights), grams)
			}
		})
		for i, t := range r.tasks {
			for at[i] < len(t.dried) && int(t.dried[at[i]].draw) == n {
				at[i]++
			}
		}
	}
}

// later is the weeks after the year ahead of one draw.
type later struct {
	r     *run
	k     *keeping
	names []string // of species
	index []int    // by task: in names
	per   [][]float64
	weeks int
	room  []float64 // by week: kg that the drier turns
	due   []float64 // by week and species: kg promised
	any   []float64 // by week: kg promised of whatever there is
	draw  int
	came  []float64 // by week and species: g dry, were the drier's share of it dried
	goes  []float64 // by week and species: of that, what is, a fraction
}

func (r *run) newLater() *later {
	l := &later{r: r, k: r.drier.k, names: r.drier.k.species}
	l.per = r.dryPerOf(l.names)
	for _, t := range r.tasks {
		l.index = append(l.index, slices.Index(l.names, t.name))
	}
	first := r.asOf.Monday() + rotaWeeks*daysOfWeek
	l.weeks = max(0, int(r.horizon-first)/daysOfWeek+1)
	l.came, l.goes = make([]float64, l.weeks*len(l.names)), make([]float64, l.weeks*len(l.names))
	l.due, l.any = make([]float64, l.weeks*len(l.names)), make([]float64, l.weeks)
	for w := range l.weeks {
		l.room = append(l.room, r.turnsIn(l.k, first+yard.Date(w*daysOfWeek)))
	}
	due, _ := duesOf(r.state, r.data, first, r.horizon)
	for _, d := range due {
		w := int(d.Day-first) / daysOfWeek
		if i := slices.Index(l.names, r.like(d.Species)); d.Species == "" {
			l.any[w] += d.KG
		} else if i >= 0 {
			l.due[w*len(l.names)+i] += d.KG
		}
	}
	return l
}

// turnsIn is what the drier turns in a week, kg: on the average where a load
// takes longer than a day.
func (r *run) turnsIn(k *keeping, monday yard.Date) (kg float64) {
	for day := monday; day < monday+daysOfWeek; day++ {
		if !r.drierShut(day) {
			kg += k.load * float64(k.perDay) / float64(k.nights)
		}
	}
	return kg
}

func (l *later) begin(draw int) {
	l.draw = draw
	clear(l.came)
	clear(l.goes)
}

// each goes through what a draw brings after the year ahead. at is where its
// pickings begin, by task.
func (l *later) each(at []int, draw int, do func(t *task, species, week int, in inflow)) {
	before := int32(l.r.asOf - l.r.asOf.Monday())
	for i, t := range l.r.tasks {
		for _, in := range t.dried[at[i]:] {
			if int(in.draw) != draw {
				break
			}
			if week := int(in.day-l.r.today+before)/daysOfWeek - rotaWeeks; week >= 0 {
				do(t, l.index[i], week, in)
			}
		}
	}
}

// fit says how much of what is meant for the drier goes into it.
func (l *later) fit() {
	share := l.k.share
	if share <= 0 {
		return
	}
	for w := range l.weeks {
		came, goes := l.came[w*len(l.names):(w+1)*len(l.names)], l.goes[w*len(l.names):(w+1)*len(l.names)]
		want, left := 0.0, -l.any[w]
		for i, grams := range came {
			if grams <= 0 || l.per[i] == nil {
				continue
			}
			meant := grams / (gramsPerKG * l.per[i][l.draw])
			free := max(0, meant/share-l.due[w*len(l.names)+i])
			goes[i] = min(meant, free) / meant
			want, left = want+min(meant, free), left+free
		}
		if most := max(0, min(left, l.room[w])); want > most {
			for i := range goes {
				goes[i] *= most / want
			}
		}
	}
}

// drierShut reports whether the drier is broken on a day.
func (r *run) drierShut(on yard.Date) bool { return r.state.BrokenOn("drier", on) != nil }

// drierWords say that the dried goods of the calendar are those that come out
// of the drier; nothing where nobody said what it takes.
func (r *run) drierWords(s *Supply) (notes []string) {
	if r.drier == nil {
		return nil
	}
	var year WeekBook
	for _, w := range s.Weeks {
		year.add(&w.Book, 1)
	}
	cold := ""
	if s.Cold {
		cold = fmt.Sprintf(" and the cold room of %.1f kg", s.HoldsKG)
	}
	notes = append(notes, fmt.Sprintf("Dried goods are counted on as they come out of the drier, %.1f kg a load%s: of %.1f kg picked in the year ahead about %.1f kg are dried, %.1f kg go fresh, and %.1f kg find no room in time and are not counted on.",
		s.LoadKG, cold, year.Came, year.Dried, year.Sold+year.Usual, year.Over))
	if b := r.state.BrokenOn("drier", r.asOf); b != nil {
		until := "until further notice: nothing is dried, and the dates wait for it. Write `hodaba record broken drier until=…`"
		if !b.Until.IsZero() {
			until = fmt.Sprintf("until %v: nothing is dried until then, and the dates wait for it", b.Until.To)
		}
		notes = append(notes, "The drier is broken "+until+".")
	}
	return notes
}
