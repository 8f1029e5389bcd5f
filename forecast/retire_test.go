package forecast

import (
	"math"
	"reflect"
	"testing"
	"time"

	"hodaba/yard"
)

// retiring is the judgement of one pile of shiitake.
func retiring(t *testing.T, since yard.Date, change func(*yard.Pile)) *Retirement {
	t.Helper()
	set := mustLoad(t)
	p := referencePile("oak", since, "shiitake", "wide-range")
	if change != nil {
		change(p)
	}
	s := yardOf(set, "oxford", yard.NewDate(2026, time.March, 1), p)
	s.Picks = p.Picks
	return mustRun(t, Input{State: s, Data: set, Draws: 400, Years: 4}).Piles[0].Retire
}

func reasons(out *Retirement) (kinds []string) {
	for _, w := range out.Why {
		kinds = append(kinds, w.Kind)
	}
	return kinds
}

func noticed(what string, on yard.Date, logs int) func(*yard.Pile) {
	return func(p *yard.Pile) {
		p.Seen = append(p.Seen, yard.Seen{On: yard.When{From: on, To: on}, Kind: "noticed", What: what, Logs: logs,
			With: yard.NotSaid, Spots: yard.NotSaid, Springy: yard.NotSaid, Dull: yard.NotSaid})
	}
}

// What logs hold runs out with the years, and only then it is said that they
// bring too little; young ones bring little too.
func TestRetireWhenLittleIsLeft(t *testing.T) {
	before := math.Inf(1)
	for _, c := range []struct {
		year int
		low  bool
	}{{2026, false}, {2025, false}, {2024, false}, {2023, false}, {2019, true}, {2017, true}} {
		on := yard.NewDate(c.year, time.February, 20)
		out := retiring(t, on, nil)
		t.Logf("%d: left %.2f kg, %.2f of it, %.3f kg a log in the year ahead, mark %.3f, %v", c.year, out.Left.Mean, out.ShareLeft, out.PerLogYear, out.Mark, reasons(out))
		if out.Suggested != c.low || (len(out.Why) > 0) != c.low {
			t.Errorf("logs of %d: retire %v because of %v, want %v", c.year, out.Suggested, reasons(out), c.low)
		}
		if out.ShareLeft > before+1e-9 || out.ShareLeft < 0 || out.ShareLeft > 1 {
			t.Errorf("logs of %d hold %.3f of their crop, younger ones %.3f", c.year, out.ShareLeft, before)
		}
		before = out.ShareLeft
	}
}

// A grower whose logs are tagged retires one that brings under 5 oz, 142 g, in
// a whole season: the mark of a shiitake log of white oak, 12 cm by 1 m.
func TestAgainstFiveOunces(t *testing.T) {
	if out := retiring(t, yard.NewDate(2025, 4, 15), nil); math.Abs(out.Mark-0.142) > 0.01 {
		t.Errorf("the mark is %.0f g a log and year, want 142", 1000*out.Mark)
	}
}

// Loose bark counts where it is on more than half of the logs that stand.
func TestRetireForLooseBark(t *testing.T) {
	on := yard.NewDate(2025, 9, 1)
	for _, c := range []struct {
		what   string
		logs   int
		change func(*yard.Pile)
		want   bool
	}{
		{"loose bark", 25, nil, true},
		{"Bark is coming off", 40, nil, true},
		{"bark beetles", 40, nil, false},
		{"slugs", 40, nil, false},
		{"loose bark", 20, nil, false},
		{"loose bark", 0, nil, false},
		{"loose bark", 25, func(p *yard.Pile) { // those logs are gone
			p.Logs = 20
			p.Gone = append(p.Gone, yard.LogLoss{On: yard.When{From: on + 30, To: on + 30}, Logs: 20, How: "retired"})
		}, false},
	} {
		out := retiring(t, yard.NewDate(2023, 4, 15), func(p *yard.Pile) {
			noticed(c.what, on, c.logs)(p)
			if c.change != nil {
				c.change(p)
			}
		})
		if out.Suggested != c.want {
			t.Errorf("%s on %d logs: retire %v because of %v, want %v", c.what, c.logs, out.Suggested, reasons(out), c.want)
		}
		if c.want && (out.Why[0].Kind != RetireBark || out.Why[0].Logs != c.logs || out.Why[0].Of != 40 || out.Why[0].On != on) {
			t.Errorf("%s: %+v", c.what, out.Why)
		}
	}
}

// wentRound notes rounds through the summer of a year with nothing up.
func roundIn(p *yard.Pile, year int) {
	for week := range 20 {
		on := yard.NewDate(year, 5, 4) + yard.Date(7*week)
		p.Seen = append(p.Seen, yard.Seen{On: yard.When{From: on, To: on}, Kind: "walked",
			With: yard.NotSaid, Spots: yard.NotSaid, Springy: yard.NotSaid, Dull: yard.NotSaid})
	}
}

// A pile past the years of its logs, of which nothing came in the last year on
// record, is one to retire; one that still bears, or is young, is not for that.
func TestRetirePastItsYears(t *testing.T) {
	picked := func(p *yard.Pile, year int, kg float64) {
		on := yard.When{From: yard.NewDate(year, 9, 1), To: yard.NewDate(year, 9, 1)}
		p.Picks = append(p.Picks, &yard.Pick{On: on, Piles: []string{p.Name}, Species: "shiitake", Fresh: yard.Span{Low: kg, High: kg}, Weighed: true})
	}
	has := func(out *Retirement, kind string) bool {
		for _, w := range out.Why {
			if w.Kind == kind {
				return true
			}
		}
		return false
	}
	old := retiring(t, yard.NewDate(2019, 4, 15), func(p *yard.Pile) { picked(p, 2020, 10); roundIn(p, 2025) })
	if !has(old, RetireOld) || !old.Suggested {
		t.Errorf("old and barren: %+v", old)
	}
	for _, w := range old.Why {
		if w.Kind == RetireOld && (w.Age < 5.4 || w.Age > 5.6 || w.Life != 4 || w.On != yard.NewDate(2025, 1, 1)) {
			t.Errorf("old and barren: %+v", w)
		}
	}
	for name, change := range map[string]func(*yard.Pile){
		"old and bearing": func(p *yard.Pile) { picked(p, 2020, 10); roundIn(p, 2024); picked(p, 2025, 8) },
		"not recorded":    func(p *yard.Pile) { picked(p, 2020, 10) },
		"thick and old": func(p *yard.Pile) {
			p.Diameter = yard.Span{Low: 20, High: 20}
			picked(p, 2020, 10)
			roundIn(p, 2025)
		},
	} {
		if out := retiring(t, yard.NewDate(2019, 4, 15), change); has(out, RetireOld) {
			t.Errorf("%s: %+v", name, out)
		}
	}
	young := retiring(t, yard.NewDate(2023, 4, 15), func(p *yard.Pile) { picked(p, 2024, 5); roundIn(p, 2025) })
	if has(young, RetireOld) {
		t.Errorf("young and barren: %+v", young)
	}
}

// Each kind is judged by its own best year: none is to be retired in its first
// cropping years. It is said and never done: what was noticed of bark changes
// no kilogram.
func TestRetireIsOnlySaid(t *testing.T) {
	set, on := mustLoad(t), yard.NewDate(2025, 4, 15)
	for _, species := range []string{"shiitake", "oyster", "lion's mane", "reishi", "turkey tail", "nameko", "maitake", "piopino"} {
		p := referencePile("pile", on, species, "")
		out := mustRun(t, Input{State: yardOf(set, "heathrow", on+300, p), Data: set, Draws: 200, Years: 4}).Piles[0].Retire
		if out == nil || out.Suggested || out.ShareLeft < 0.7 || out.Left.P50 <= 0 {
			t.Errorf("%s: %+v", species, out)
		}
	}
	run := func(change func(*yard.Pile)) *Pile {
		p := referencePile("oak", on, "shiitake", "wide-range")
		change(p)
		return mustRun(t, Input{State: yardOf(set, "oxford", lawsAsOf, p), Data: set, Draws: 200, Years: 3}).Piles[0]
	}
	plain, bark := run(func(*yard.Pile) {}), run(noticed("loose bark", on+100, 40))
	if !bark.Retire.Suggested || plain.Retire.Suggested || !reflect.DeepEqual(plain.Months, bark.Months) || !reflect.DeepEqual(plain.YearsAhead, bark.YearsAhead) {
		t.Errorf("loose bark changes the forecast, or nothing is said: %+v", bark.Retire)
	}
}

// What is suggested is told beside the forecast, and only then.
func TestRetirementIsTold(t *testing.T) {
	r := &Retirement{Left: Amount{P50: 1.24}, Suggested: true, Why: []RetireWhy{{Kind: RetireLow, KG: 0.042}, {Kind: RetireBark, On: yard.NewDate(2026, 10, 3), Logs: 9, Of: 12}}}
	want := "These logs may be worth retiring, because in no year ahead is a log likely to bring more than 42 g, and the bark of 9 of 12 logs was loose on 2026-10-03. They still hold about 1.2 kg. It is a suggestion: `retired` is written by you."
	if got := r.words(); got != want {
		t.Errorf("got %q\nwant %q", got, want)
	}
	if (*Retirement)(nil).words() != "" || (&Retirement{Why: r.Why}).words() != "" {
		t.Error("told without a reason")
	}
}
