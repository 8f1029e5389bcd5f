package yard

import (
	"fmt"
	"math"
	"slices"

	"hodaba/data"
)

// oddOfPiles points at what was written of a pile and cannot be, or hardly.
func oddOfPiles(s *State, d *data.Set) (out []Problem) {
	if d == nil {
		return nil
	}
	for _, p := range s.Piles {
		out = append(out, p.oddCrop(d)...)
		out = append(out, p.oddSoaks(&d.Practice.Odd)...)
		out = append(out, p.oddRings(d)...)
		for _, w := range p.Weighed {
			out = append(out, p.oddWeight(w, d)...)
		}
	}
	for _, e := range s.Entries {
		out = append(out, e.oddWork(&d.Practice.Odd)...)
	}
	return once(out)
}

// once leaves out what a pile that was split off says again.
func once(problems []Problem) (out []Problem) {
	for _, p := range problems {
		if !slices.ContainsFunc(out, func(o Problem) bool { return o.Entry == p.Entry && o.Line == p.Line }) {
			out = append(out, p)
		}
	}
	return out
}

// oddCrop points at pickings that are far over the pile's usual one and over
// what a log gives at a time.
func (p *Pile) oddCrop(d *data.Set) (out []Problem) {
	var weights []float64
	alone := func(k *Pick) bool { return k.Weighed && !k.Season && len(k.Piles) == 1 && k.Fresh.Mid() > 0 }
	for _, k := range p.Picks {
		if alone(k) {
			weights = append(weights, k.Fresh.Mid())
		}
	}
	if len(weights) < picksForUsual || p.Started == 0 {
		return nil
	}
	slices.Sort(weights)
	usual := weights[(len(weights)-1)/2]
	most := d.Practice.Odd.CropTimes.Value * d.Practice.FlushPerLog.High * float64(p.Started)
	for _, k := range p.Picks {
		if kg := k.Fresh.Low; alone(k) && kg > d.Practice.Odd.UsualTimes.Value*usual && kg > most && (len(weights) <= picksForUsual || kg <= timesUsual*usual) && kg <= mostPerLog*float64(p.Started) {
			out = append(out, k.Entry.odd("fresh", fmt.Sprintf("%s from %s is a great deal: the usual picking of %s is %.2g kg", k.weight(), logWord(p.Started), p.Name, usual),
				"look at the number and its unit"))
		}
	}
	return out
}

// oddSoaks points at soaks that hardly wet a log, and of logs that are too
// young for one.
func (p *Pile) oddSoaks(bound *data.Odd) (out []Problem) {
	for i, k := range p.Soaked {
		if k.Entry == nil || p.Entries[0].On.From > k.On.To {
			continue // of the pile it was split from, told there
		}
		if k.Hours > 0 && k.Hours < bound.SoakShort.Value {
			out = append(out, k.Entry.odd("soak_hours", fmt.Sprintf("%s hours in the water hardly wet a log", decimal(k.Hours)), "look at the number; soak_hours are hours in the water"))
		}
		if age := k.On.To - p.Since.From; p.Origin == "inoculated" && age >= 0 && float64(age) < bound.SoakYoung.Value {
			out = append(out, k.Entry.odd("on", fmt.Sprintf("%s was soaked %d days after it was inoculated", p.Name, age),
				"look at the pile and the day; water that keeps new logs from drying out is recorded with [[watered]]"))
		}
		if n := p.soakedLogs(i); p.LogsKnown && k.Part == "" && k.Logs > 0 && n > k.Logs && n > p.Started {
			out = append(out, k.Entry.odd("logs", fmt.Sprintf("%d logs of %s were soaked within %d days, and it has %s: some of them twice, and logs rest between two soaks", n, p.Name, soonestSoak, logWord(p.Started)),
				"look at the day and the number of logs"))
		}
	}
	return out
}

// soakedLogs is how many logs of no part that is named were soaked in the days
// up to a soak.
func (p *Pile) soakedLogs(at int) (logs int) {
	k := p.Soaked[at]
	for _, o := range p.Soaked[:at+1] {
		if o.Part == "" && k.On.To-o.On.From < soonestSoak {
			logs += o.Logs
		}
	}
	return logs
}

// oddRings points at a pile that is run through sooner than any is, and at
// rings that are fewer than they were.
func (p *Pile) oddRings(d *data.Set) (out []Problem) {
	bound := &d.Practice.Odd
	most := 0.0
	for _, k := range p.Seen {
		if k.Kind != "checked" || k.With < 0 || k.LookedAt == 0 || k.Entry == nil {
			continue
		}
		share := float64(k.With) / float64(k.LookedAt)
		soonest := bound.RingShare.Value * p.quickest(d)
		if age := k.On.To - p.Since.From; p.Origin == "inoculated" && p.Kind == "pile" && share >= 1-bound.RingFall.Value && float64(k.LookedAt) >= bound.RingLogs.Value && age >= 0 && float64(age) < soonest {
			out = append(out, k.Entry.odd("with_mycelium", fmt.Sprintf("%d of %d logs of %s show a ring %d days after it was inoculated", k.With, k.LookedAt, p.Name, age),
				"look at the pile and both days; a white coat may be another fungus"))
		}
		if float64(k.LookedAt) < bound.RingLogs.Value {
			continue
		}
		if most-share >= bound.RingFall.Value-nearlyNothing {
			out = append(out, k.Entry.odd("with_mycelium", fmt.Sprintf("%d of %d logs of %s show a ring, and more of them did before: rings do not go again", k.With, k.LookedAt, p.Name),
				"look at the numbers; both count as written"))
		}
		most = max(most, share)
	}
	return out
}

// quickest is the shortest time in print in which logs of the species are run
// through, days; 0 where none is.
func (p *Pile) quickest(d *data.Set) (days float64) {
	sp, ok := d.FindSpecies(p.Like)
	if !ok {
		return 0
	}
	const month = 365.25 / 12
	for _, st := range sp.Strains {
		if low := st.Window.Low * month; low > 0 && (days == 0 || low < days) {
			days = low
		}
	}
	return days
}

// oddWeight points at logs that weigh far more or less than wood of their size.
func (p *Pile) oddWeight(w Weighing, d *data.Set) []Problem {
	if w.Logs == 0 || w.Entry == nil || p.Entries[0].On.From > w.On.To {
		return nil
	}
	pr := &d.Practice
	across, long := p.Diameter, p.Length
	if !across.Known() {
		across = Span{pr.UnknownDiameter.Low, pr.UnknownDiameter.High}
	}
	if !long.Known() {
		long = Span{pr.DefaultLength.Value, pr.DefaultLength.Value}
	}
	green := func(cm, length float64) float64 { return pr.WoodDensity.Value * math.Pi / 4 * cm * cm * length / 1e6 } // kg: a cubic metre is 1e6 cm³
	each := Span{w.MassKG.Low / float64(w.Logs), w.MassKG.High / float64(w.Logs)}
	if each.High >= pr.Odd.WeighedLow.Value*green(across.Low, long.Low) && each.Low <= pr.Odd.WeighedHigh.Value*green(across.High, long.High) {
		return nil
	}
	return []Problem{w.Entry.odd("mass", fmt.Sprintf("a log of %s weighs %s kg by this: green wood of its size weighs about %s kg", p.Name, tenth(each.Mid()), tenth(green(across.Mid(), long.Mid()))),
		"look at the weight and at how many logs lay on the scales")}
}

func tenth(kg float64) string { return decimal(math.Round(10*kg) / 10) }

// oddWork points at more work than a day holds, and at more people than a small
// yard sees.
func (e *Entry) oddWork(bound *data.Odd) []Problem {
	people := float64(max(0, e.People))
	switch hours := e.Hours; {
	case people > bound.Crew.Value:
		return []Problem{e.odd("people", fmt.Sprintf("%d people are many for one piece of work", e.People), "look at the number")}
	case e.Kind == wateredKind.Name || !e.On.Exact():
	case people > 0 && hours > people*bound.WorkDay.Value || people == 0 && hours > bound.WorkAlone.Value:
		return []Problem{e.odd("hours", fmt.Sprintf("%s hours of work on one day", decimal(hours)), "look at the number; people says how many worked")}
	}
	return nil
}

// onMoreLogs points at something seen on more logs than stand.
func (p *Pile) onMoreLogs(logs int, what string, e *Entry) []Problem {
	if !p.LogsKnown || logs <= p.Logs || p.Logs == 0 || !e.On.Exact() {
		return nil
	}
	return []Problem{e.odd("logs", fmt.Sprintf("%s has %s, and %d %s", p.Name, logWord(p.Logs), logs, what), countPile)}
}
