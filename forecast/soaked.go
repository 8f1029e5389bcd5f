package forecast

import (
	"slices"
	"sync/atomic"

	"hodaba/forecast/fruit"
	"hodaba/yard"
)

// Soak is one soak of a pile or a part of it.
type Soak struct {
	On   yard.Date // day on which the logs come out
	Part int       // from 0, or Whole
	Of   int       // parts that the pile has; 0 and 1: it is soaked as one
	load int       // of the rota, from 1; 0 none
}

// soaksOf collects the soaks of a pile: those on record and those planned, in
// order of day, and into how many parts it goes. Parts are as the tank book has
// them, and as the soaks on record make them where it has none.
func (r *run) soaksOf(t *task) (all []Soak, parts int) {
	p, planned := t.pile, r.soaks[t.pile.Name]
	for _, s := range planned {
		parts = max(parts, s.Of, s.Part+1)
	}
	if parts == 0 {
		parts = partsOnRecord(p, r.asOf)
	}
	if letters, _ := partsNamed(p, r.asOf); letters > parts {
		parts = letters
	}
	for i, wetted := range soakedParts(p, parts, r.asOf) {
		for _, part := range wetted {
			all = append(all, Soak{On: min(p.Soaked[i].On.Mid(), r.asOf), Part: part})
		}
	}
	all = append(all, planned...)
	slices.SortStableFunc(all, func(a, b Soak) int { return int(a.On - b.On) })
	return all, parts
}

// load is one load of the tank ahead, while its draws go by.
type load struct {
	Load
	mg   []int64 // by draw
	days [pickedWithin]int64
}

// pickedWithin is how many days after coming out of the tank the logs of a
// load are picked at the latest.
const pickedWithin = 90

// soakTally counts what the soaks of a pile bring in a draw; nil where none
// belongs to a load.
type soakTally struct {
	r     *run
	soaks []Soak
	draw  int
}

func (r *run) soakTally(t *task) *soakTally {
	if !slices.ContainsFunc(t.soaked, func(s Soak) bool { return s.load > 0 }) {
		return nil
	}
	return &soakTally{r: r, soaks: t.soaked}
}

// begin begins a draw.
func (s *soakTally) begin(draw int) {
	if s != nil {
		s.draw = draw
	}
}

// got counts a flush; it is safe for several goroutines.
func (s *soakTally) got(f fruit.Flush, kg float64) {
	if s == nil || f.Soak == 0 {
		return
	}
	soak := s.soaks[f.Soak-1]
	if soak.load == 0 {
		return
	}
	l := s.r.loads[soak.load-1]
	atomic.AddInt64(&l.mg[s.draw], int64(kg*1e6+0.5))
	if after := int(s.r.start) + int(f.Day) - int(l.Out); after >= 0 && after < pickedWithin {
		atomic.AddInt64(&l.days[after], int64(s.r.weight[s.draw]*1000+0.5))
	}
}

// closeLoads reads off what each load brings.
func (r *run) closeLoads() (out []Load) {
	for _, l := range r.loads {
		if l.mg != nil {
			l.Fresh = r.amountOf(func(n int) float64 { return float64(l.mg[n]) / 1e6 })
			l.Chance = r.chanceOf(func(n int) bool { return l.mg[n] > 0 })
			l.PickFrom, l.PickTo = l.picked(0.1), l.picked(0.9)
		}
		out = append(out, l.Load)
	}
	return out
}

// picked is the day by which a share of the pickings has come; zero where none
// does.
func (l *load) picked(share float64) yard.Date {
	total, sum := int64(0), int64(0)
	for _, n := range l.days {
		total += n
	}
	for d, n := range l.days {
		if sum += n; total > 0 && float64(sum) >= share*float64(total) {
			return l.Out + yard.Date(d)
		}
	}
	return 0
}
