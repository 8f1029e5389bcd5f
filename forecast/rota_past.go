package forecast

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// PastSoak is a soak on record and what the record says came of it.
type PastSoak struct {
	Soaking yard.Soaking
	Pile    *yard.Pile
	Of      int          // parts of the pile that are named on record; 0 none
	Logs    int          // as written, else of the whole pile; 0 not known
	In, Out yard.Date    // the day written is taken as that on which they went in
	Picks   []*yard.Pick // pickings of the pile that are set against it, in order of day
	Blank   yard.Date    // somebody went round when it should have stood, and nothing was up; zero: not so
}

// Answered reports whether anything is written down of what came.
func (s *PastSoak) Answered() bool { return len(s.Picks) > 0 || s.Blank != 0 }

// PastSoaks are the soaks on record from a day on, of all piles, in order of
// day.
func PastSoaks(s *yard.State, d *data.Set, from yard.Date) (all []PastSoak) {
	for _, p := range s.Piles {
		t := StrainOf(p, d)
		if t == nil {
			continue
		}
		for i, k := range p.Soaked {
			if k.On.Mid() < from || k.On.From > s.AsOf {
				continue
			}
			all = append(all, pastSoak(s, d, p, &t.Fruit, i))
		}
	}
	slices.SortStableFunc(all, func(a, b PastSoak) int { return int(a.In - b.In) })
	return all
}

func pastSoak(s *yard.State, d *data.Set, p *yard.Pile, f *data.Fruit, i int) PastSoak {
	k := p.Soaked[i]
	out := PastSoak{Soaking: k, Pile: p, In: k.On.Mid(), Logs: k.Logs}
	hours := k.Hours
	if hours <= 0 {
		hours = soakHours(&s.Config, d)
	}
	out.Out = out.In + yard.Date(math.Ceil(hours/24))
	for _, o := range p.Soaked {
		out.Of = max(out.Of, partOf(o.Part)+1)
	}
	if k.Logs == 0 && k.Part == "" && p.LogsKnown {
		out.Logs = p.Logs
	}
	for _, pick := range p.Picks {
		if pick.On.From <= s.AsOf && credited(p, f, &d.Practice, pick) == i {
			out.Picks = append(out.Picks, pick)
		}
	}
	slices.SortStableFunc(out.Picks, func(a, b *yard.Pick) int { return int(a.On.From - b.On.From) })
	if len(out.Picks) == 0 {
		out.Blank = wentRound(p, f, &d.Practice, k.On.Mid(), s.AsOf)
	}
	return out
}

func soakHours(c *yard.Config, d *data.Set) float64 {
	if c.Soak.Hours > 0 {
		return c.Soak.Hours
	}
	return d.Practice.SoakHours.Value
}

// credited is the soak of a pile against which a picking is set, by its place
// in p.Soaked, or -1: the last one that the quickest flush can have followed.
// Nobody writes which part bore.
func credited(p *yard.Pile, f *data.Fruit, pr *data.Practice, k *yard.Pick) int {
	best := -1
	if k.Season {
		return best
	}
	for i, s := range p.Soaked {
		after := float64(k.On.Mid() - s.On.Mid())
		if after >= f.DaysWarm.Value && after <= pr.SoakAnswer.Value {
			best = i
		}
	}
	return best
}

// wentRound is the first day on which somebody went round a pile, when even a
// slow flush of a soak should have stood, and nothing was up; zero: none.
func wentRound(p *yard.Pile, f *data.Fruit, pr *data.Practice, soaked, asOf yard.Date) yard.Date {
	day := yard.Date(0)
	for _, s := range p.Seen {
		after := float64(s.On.From - soaked)
		if s.Kind == "walked" && s.On.From <= asOf && after >= f.DaysCool.Value && after <= pr.SoakAnswer.Value &&
			(day == 0 || s.On.From < day) {
			day = s.On.From
		}
	}
	return day
}
