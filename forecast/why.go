package forecast

import (
	"cmp"
	"math"
	"slices"

	"hodaba/forecast/fruit"
	"hodaba/yard"
)

// Why says what a pile's forecast rests on: the season, each thing that was
// seen, the rest of the yard, and the visit that would tell most.
type Why struct {
	Season, Usual Amount // growing days of this calendar year, up to AsOf, and of a year to come up to the same day
	From          yard.Date
	// The day on which half of the logs are through: before anything was seen
	// in the yard, with what was seen on other piles, and now.
	Unlearned, Others, Now Dates
	OthersDays             int // by which what was seen on other piles moves the likely day
	Effects                []Effect
	Contradicts            bool
	Visit                  *Visit // nil where none would tell anything
}

// Effect is what one thing that was seen does to the likely day on which half
// of the logs are through, against the same forecast without it.
type Effect struct {
	Seen  *yard.Seen
	Count int  // rounds with nothing up are told together
	Told  bool // false: nothing to do with how far the mycelium is, or not to be told apart
	Days  int  // later, negative earlier
}

// Visit is a visit that would narrow a forecast.
type Visit struct {
	On      yard.Date
	Round   bool // go round for mushrooms; else look at log ends
	Ends    int  // how many ends to look at
	NowDays int  // width of the range said 8 times in 10, days
	Then    int  // width expected after the visit, days
}

// why explains a pile; nil where nothing was to be run through.
func (r *run) why(t *task) *Why {
	if t.through() {
		return nil
	}
	w := &Why{Contradicts: t.conflict > contradicts}
	w.Season, w.Usual, w.From = r.seasonOf(t)
	now := r.halfDays(t, t.half)
	before := make([]float64, r.draws)
	for n := range before {
		before[n] = t.belief.Half(n)
	}
	even := make([]float64, r.draws)
	for n := range even {
		even[n] = 1
	}
	w.Unlearned = r.halfDays(t, before).dates(r, even)
	w.Now = now.dates(r, r.weight)
	w.Others = w.Now
	if t.testimony != nil {
		heard := r.hearAll(t)
		own := leave{look: allLooks, flush: true, nothing: true}
		if weight, ok := heard.without(own); ok {
			w.Others = now.dates(r, weight)
		}
		w.Effects = heard.effects(now, w.Now)
	}
	w.Effects = append(w.Effects, r.untold(t)...)
	slices.SortStableFunc(w.Effects, func(a, b Effect) int { return int(a.Seen.On.From - b.Seen.On.From) })
	w.OthersDays, _ = shift50(w.Unlearned, w.Others)
	w.Visit = r.visit(t, now)
	return w
}

// shift50 is by how many days the likely day moves; ok is false where one of
// them lies beyond the horizon.
func shift50(from, to Dates) (days int, ok bool) {
	if from.P50 == 0 || to.P50 == 0 {
		return 0, false
	}
	return int(to.P50 - from.P50), true
}

// seasonOf is the growth of this calendar year so far, and that of the next up
// to the same day; of a pile begun this year, from its beginning.
func (r *run) seasonOf(t *task) (season, usual Amount, from yard.Date) {
	from = max(yard.NewDate(r.asOf.Year(), 1, 1), t.pile.Since.From)
	a := int32(from - r.start)
	b := a + 365
	if int(r.today)+365 >= r.days || r.today <= a {
		return season, usual, from
	}
	soFar, ahead := tallies(1)[0], tallies(1)[0]
	for n := range r.draws {
		if r.curve(n) == 0 {
			soFar.Add(t.setting.at(n, r.today)-t.setting.at(n, a), r.weight[n])
			ahead.Add(t.setting.at(n, r.today+365)-t.setting.at(n, b), r.weight[n])
		}
	}
	return amount(soFar), amount(ahead), from
}

// ordered are the days on which half of a pile's logs are through, by draw,
// with the draws in their order.
type ordered struct {
	day   []int32
	order []int32
}

func (r *run) halfDays(t *task, half []float64) *ordered {
	o := &ordered{}
	for n := range r.draws {
		since := r.begin(t, n)
		o.day = append(o.day, r.reach(t.setting, n, since, t.setting.at(n, since)+math.Exp(half[n])))
		o.order = append(o.order, int32(n))
	}
	slices.SortStableFunc(o.order, func(a, b int32) int { return cmp.Compare(o.day[a], o.day[b]) })
	return o
}

// at is the day that the share p of the weight does not exceed.
func (o *ordered) at(weight []float64, p float64) int32 {
	total := 0.0
	for _, w := range weight {
		total += w
	}
	sum := 0.0
	for _, n := range o.order {
		if sum += weight[n]; sum >= p*total*(1-1e-12) {
			return o.day[n]
		}
	}
	return fruit.Never
}

func (o *ordered) dates(r *run, weight []float64) Dates {
	date := func(p float64) yard.Date {
		if d := o.at(weight, p); d != fruit.Never {
			return r.start + yard.Date(d)
		}
		return 0
	}
	return Dates{date(0.1), date(0.5), date(0.9)}
}

// width of the range said 8 times in 10, days; what is never reached counts as
// reached at the horizon.
func (o *ordered) width(r *run, weight []float64) float64 {
	last := int32(r.days)
	return float64(min(o.at(weight, 0.9), last) - min(o.at(weight, 0.1), last))
}

// heard is a pile's testimony in every draw, and the log likelihood of all of
// it at what half of the logs need there.
type heard struct {
	r    *run
	t    *task
	each []*hearing
	all  []float64
}

func (r *run) hearAll(t *task) *heard {
	h := &heard{r: r, t: t}
	for n := range r.draws {
		one := r.hear(t, n)
		h.each, h.all = append(h.each, one), append(h.all, one.log(t.half[n], nothingLeftOut))
	}
	return h
}

// without weighs the draws as if something had not been seen on a pile:
// importance weights, the likelihood of it taken out of each. They are no good
// where hardly a draw carries all the weight.
func (h *heard) without(out leave) (weight []float64, ok bool) {
	weight = make([]float64, len(h.each))
	most := math.Inf(-1)
	for n := range weight {
		weight[n] = h.each[n].log(h.t.half[n], out) - h.all[n]
		most = max(most, weight[n])
	}
	sum, square := 0.0, 0.0
	for n := range weight {
		weight[n] = h.r.weight[n] * math.Exp(weight[n]-most)
		sum, square = sum+weight[n], square+weight[n]*weight[n]
	}
	return weight, sum*sum > fewDraws*square
}

// effects are what each piece of a pile's evidence does.
func (h *heard) effects(now *ordered, likely Dates) (out []Effect) {
	e := h.t.evidence
	tell := func(s *yard.Seen, count int, l leave) {
		f := Effect{Seen: s, Count: count}
		if weight, ok := h.without(l); ok {
			f.Days, f.Told = shift50(now.dates(h.r, weight), likely)
		}
		out = append(out, f)
	}
	for i := range e.looks {
		tell(e.looks[i].seen, 1, leave{look: i})
	}
	if e.fruited != nil {
		tell(e.fruited.seen, 1, leave{look: -1, flush: true})
	}
	if n := len(e.rounds); n > 0 {
		tell(e.rounds[n-1].seen, n, leave{look: -1, nothing: true})
	}
	return out
}

// untold is what was seen on a pile and tells nothing of how far its mycelium
// is.
func (r *run) untold(t *task) (out []Effect) {
	used := map[*yard.Seen]bool{}
	for i := range t.evidence.looks {
		used[t.evidence.looks[i].seen] = true
	}
	for _, w := range t.evidence.rounds {
		used[w.seen] = true
	}
	if t.evidence.fruited != nil {
		used[t.evidence.fruited.seen] = true
	}
	for i := range t.pile.Seen {
		s := &t.pile.Seen[i]
		if used[s] || s.On.From > r.asOf || s.Kind != "checked" && s.Kind != "noticed" {
			continue
		}
		out = append(out, Effect{Seen: s, Count: 1})
	}
	return out
}

// The days from today on which a visit is tried, and how many ends are looked
// at.
var visitDays = []int32{0, 14, 28, 56, 84, 112}

const (
	endsToLookAt = 10
	// A look is worth making from the first day on which it narrows the range
	// by this share of what the best does, and if it narrows it by a tenth.
	nearlyBest, worthWhile = 0.8, 0.1
	// So sure that a pile is through, there is nothing to be seen on its ends.
	surelyThrough = 0.9
)

// visit finds the look that is worth making next: by the width of the range
// that each possible result would leave, weighed by its chance.
func (r *run) visit(t *task, now *ordered) *Visit {
	width := now.width(r, r.weight)
	through := 0.0
	for n, day := range now.day {
		if day <= r.today {
			through += r.weight[n] / float64(r.draws)
		}
	}
	if t.evidence.fruited != nil || through > surelyThrough || width < vagueDays {
		return &Visit{Round: true, NowDays: int(width)}
	}
	ends := min(endsToLookAt, t.evidence.logs)
	soonest := int32(0) // in days from today
	for _, l := range t.evidence.looks {
		soonest = max(soonest, l.day+int32(r.data.Practice.LookAgain.Value)-r.today)
	}
	best := make([]float64, len(visitDays))
	for i, ahead := range visitDays {
		if ahead >= soonest && int(r.today+ahead) < r.days {
			best[i] = width - r.widthAfter(t, now, r.today+ahead, ends)
		}
	}
	most := slices.Max(best)
	if most < worthWhile*width {
		return nil
	}
	for i, gain := range best {
		if gain >= nearlyBest*most {
			return &Visit{On: r.asOf + yard.Date(visitDays[i]), Ends: ends, NowDays: int(width), Then: int(width - gain)}
		}
	}
	return nil
}

// widthAfter is the width expected after a look at so many ends on a day.
func (r *run) widthAfter(t *task, now *ordered, day int32, ends int) float64 {
	pmf := make([]float64, (ends+1)*r.draws) // by draw and count
	for n := range r.draws {
		share := r.shareThrough(t, n, day)
		for _, q := range t.nuisances {
			binomial(pmf[n*(ends+1):(n+1)*(ends+1)], q.ring((1-q.never)*share), q.weight)
		}
	}
	weight := make([]float64, r.draws)
	sum := 0.0
	for k := range ends + 1 {
		chance := 0.0
		for n := range weight {
			weight[n] = r.weight[n] * pmf[n*(ends+1)+k]
			chance += weight[n] / float64(r.draws)
		}
		if chance > 1e-4 {
			sum += chance * now.width(r, weight)
		}
	}
	return sum
}
