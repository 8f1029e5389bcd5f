package forecast

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/forecast/fruit"
	"hodaba/yard"
)

// PastSoak is a soak on record and what the record says came of it.
type PastSoak struct {
	Soaking yard.Soaking
	Pile    *yard.Pile
	Of      int          // parts of the pile, as far as the record tells; 0 it was only ever soaked as a whole
	Logs    int          // as written, else of the whole pile; 0 not known
	In, Out yard.Date    // the day written is taken as that on which they went in
	Due     yard.Date    // day on which its flush was to be expected; zero where a soak forces none
	Picks   []*yard.Pick // pickings of the pile that are set against it, in order of day
	Later   bool         // none is, but one since that may be its doing is set against a later soak
	Blank   yard.Date    // somebody went round when it should have stood, and nothing was up; zero: not so
}

// Answered reports whether anything is written down of what came.
func (s *PastSoak) Answered() bool { return len(s.Picks) > 0 || s.Blank != 0 }

// PastSoaks are the soaks on record from a day on, of all piles, in order of
// day.
func PastSoaks(s *yard.State, d *data.Set, from yard.Date) (all []PastSoak) {
	site, err := climate.Resolve(s.Config.Site, d)
	if err != nil {
		site = nil
	}
	for _, p := range s.Piles {
		t := StrainOf(p, d)
		if t == nil || len(p.Soaked) == 0 || p.Soaked[len(p.Soaked)-1].On.Mid() < from {
			continue
		}
		all = append(all, pastSoaks(&soaksOfPile{s: s, d: d, site: site, p: p, f: &t.Fruit}, from)...)
	}
	slices.SortStableFunc(all, func(a, b PastSoak) int { return int(a.In - b.In) })
	return all
}

// pastSoaks are those of one pile.
func pastSoaks(of *soaksOfPile, from yard.Date) (all []PastSoak) {
	p, asOf := of.p, of.s.AsOf
	picks := slices.DeleteFunc(slices.Clone(p.Picks), func(k *yard.Pick) bool { return k.On.From > asOf })
	slices.SortStableFunc(picks, func(a, b *yard.Pick) int { return int(a.On.From - b.On.From) })
	credit := make([]int, len(picks))
	for j, k := range picks {
		credit[j] = of.credited(k)
	}
	for i, k := range soakedSoFar(p, asOf) {
		if k.On.Mid() < from {
			continue
		}
		one := of.past(i)
		for j, pick := range picks {
			switch c := credit[j]; {
			case c == i:
				one.Picks = append(one.Picks, pick)
			case c >= 0 && p.Soaked[c].On.Mid() >= k.On.Mid() && of.mayAnswer(i, pick):
				one.Later = true
			}
		}
		if one.Later = one.Later && len(one.Picks) == 0; len(one.Picks) == 0 {
			one.Blank = wentRound(p, of.f, &of.d.Practice, k.On.Mid(), asOf, func(part string) bool { return part == "" || folded(part) == folded(k.Part) })
		}
		all = append(all, one)
	}
	return all
}

// soaksOfPile are the soaks on record of a pile, with what is needed to say
// when each should have borne.
type soaksOfPile struct {
	s    *yard.State
	d    *data.Set
	site *climate.Site // nil: no normals are known
	p    *yard.Pile
	f    *data.Fruit
}

func (r *run) soaksOfPile(p *yard.Pile, f *data.Fruit) *soaksOfPile {
	return &soaksOfPile{s: r.state, d: r.data, site: r.site, p: p, f: f}
}

// past is a soak by its place, without what came.
func (o *soaksOfPile) past(i int) PastSoak {
	k := o.p.Soaked[i]
	out := PastSoak{Soaking: k, Pile: o.p, In: k.On.Mid(), Out: o.out(k), Logs: k.Logs}
	if o.f.Forced {
		out.Due = o.due(k)
	}
	if n := partsOnRecord(o.p, o.s.AsOf); n > 1 {
		out.Of = n
	}
	if k.Logs == 0 && k.Part == "" && o.p.LogsKnown {
		out.Logs = o.p.Logs
	}
	return out
}

// out is the day on which the logs of a soak came out.
func (o *soaksOfPile) out(k yard.Soaking) yard.Date {
	hours := k.Hours
	if hours <= 0 {
		hours = soakHours(&o.s.Config, o.d)
	}
	return k.On.Mid() + soakedDays(hours)
}

// soakedDays is how many days after going in logs come out that lie in the tank
// for so many hours.
func soakedDays(hours float64) yard.Date { return yard.Date(math.Ceil(hours / hoursOfDay)) }

// due is the day on which the flush of a soak is to be expected, by the air as
// it was measured, and by the means of the month where it was not.
func (o *soaksOfPile) due(k yard.Soaking) yard.Date {
	out := o.out(k)
	return out + yard.Date(fruit.RipensIn(o.f, &o.d.Practice, func(after int) float64 {
		day := out + yard.Date(after)
		if w := o.s.Weather.At(day); w.HasTemp {
			return (w.TMin + w.TMax) / 2
		}
		if o.site == nil {
			return (o.f.BandLow.Value + o.f.BandHigh.Value) / 2
		}
		return o.site.MeanTemperature(int(day.Month()) - 1)
	}))
}

// mayAnswer reports whether a picking may be the doing of a soak: of the same
// part, not sooner than the quickest flush and not too late.
func (o *soaksOfPile) mayAnswer(i int, k *yard.Pick) bool {
	s := o.p.Soaked[i]
	after := float64(k.On.Mid() - s.On.Mid())
	same := k.Part == "" || s.Part == "" || folded(k.Part) == folded(s.Part)
	return same && !k.Season && after >= o.f.DaysWarm.Value && after <= o.d.Practice.SoakAnswer.Value
}

// credited is the soak against which a picking of the pile is set, by its place
// in p.Soaked, or -1: of those whose doing it may be, that whose flush was to be
// expected nearest to it.
func (o *soaksOfPile) credited(k *yard.Pick) int {
	best, nearest := -1, yard.Date(0)
	for i, s := range soakedSoFar(o.p, o.s.AsOf) {
		if !o.mayAnswer(i, k) {
			continue
		}
		due := o.due(s)
		if off := max(due-k.On.Mid(), k.On.Mid()-due); best < 0 || off <= nearest {
			best, nearest = i, off
		}
	}
	return best
}

func soakHours(c *yard.Config, d *data.Set) float64 {
	if c.Soak.Hours > 0 {
		return c.Soak.Hours
	}
	return d.Practice.SoakHours.Value
}

// wentRound is the first day on which somebody went round a pile, when even a
// slow flush of a soak should have stood, and nothing was up; zero: none. of
// says whether a round by a part counts.
func wentRound(p *yard.Pile, f *data.Fruit, pr *data.Practice, soaked, asOf yard.Date, of func(part string) bool) yard.Date {
	day := yard.Date(0)
	for _, s := range p.Seen {
		after := float64(s.On.From - soaked)
		if s.Kind == "walked" && of(s.Part) && s.On.From <= asOf && after >= f.DaysCool.Value && after <= pr.SoakAnswer.Value &&
			(day == 0 || s.On.From < day) {
			day = s.On.From
		}
	}
	return day
}
