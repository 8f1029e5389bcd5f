package forecast

import (
	"testing"

	"hodaba/yard"
)

// soakedYard is one pile of 27 logs in three parts, soaked a week apart.
func soakedYard(t testing.TB, asOf yard.Date, picks []*yard.Pick, seen ...yard.Seen) (*yard.State, *yard.Pile) {
	p := referencePile("oak", yard.NewDate(2024, 4, 12), "shiitake", "wide-range")
	p.Logs, p.Started = 27, 27
	for i, part := range []string{"A", "B"} {
		p.Soaked = append(p.Soaked, yard.Soaking{On: yard.On(yard.NewDate(2026, 5, 1) + yard.Date(7*i)), Part: part, Logs: 9, Hours: 24})
	}
	p.Picks, p.Seen = picks, seen
	s := yardOf(mustLoad(t), "oxford", asOf, p)
	s.Config.Soak = yard.Soak{TankLogs: 9, CycleWeeks: 3}
	return s, p
}

func picked(day yard.Date) *yard.Pick {
	return &yard.Pick{On: yard.On(day), Piles: []string{"oak"}, Species: "shiitake", Weighed: true, Fresh: yard.Span{Low: 1, High: 1}}
}

func partPicked(day yard.Date, part string) *yard.Pick {
	k := picked(day)
	k.Part = part
	return k
}

func partWalked(day yard.Date, part string) yard.Seen {
	return yard.Seen{Kind: "walked", On: yard.On(day), Part: part}
}

// A picking is set against the soak whose flush was to be expected nearest to
// it, 15 days after coming out in a cool May; a round on which nothing was up
// makes a blank only when even a slow flush should have stood.
func TestWhatCameOfASoak(t *testing.T) {
	first := yard.NewDate(2026, 5, 1)
	walked := func(after yard.Date) yard.Seen { return yard.Seen{Kind: "walked", On: yard.On(first + after)} }
	for _, c := range []struct {
		name  string
		picks []*yard.Pick
		seen  []yard.Seen
		got   [2]int // pickings
		blank [2]yard.Date
	}{
		{name: "nothing written down"},
		{"too soon for the second", []*yard.Pick{picked(first + 12)}, nil, [2]int{1, 0}, [2]yard.Date{}},
		{"just when the first is due", []*yard.Pick{picked(first + 14)}, nil, [2]int{1, 0}, [2]yard.Date{}},
		{"between both", []*yard.Pick{picked(first + 19), picked(first + 20)}, nil, [2]int{1, 1}, [2]yard.Date{}},
		{"of part B", []*yard.Pick{partPicked(first+14, "B")}, nil, [2]int{0, 1}, [2]yard.Date{}},
		{"of part A", []*yard.Pick{partPicked(first+40, "A")}, nil, [2]int{1, 0}, [2]yard.Date{}},
		{"of another part", []*yard.Pick{partPicked(first+14, "C")}, nil, [2]int{0, 0}, [2]yard.Date{}},
		{"walked past part B", nil, []yard.Seen{partWalked(first+30, "B")}, [2]int{}, [2]yard.Date{0, first + 30}},
		{"too late for any", []*yard.Pick{picked(first + 68)}, nil, [2]int{0, 0}, [2]yard.Date{}},
		{"at the last day", []*yard.Pick{picked(first + 67)}, nil, [2]int{0, 1}, [2]yard.Date{}},
		{"walked too soon", nil, []yard.Seen{walked(13)}, [2]int{}, [2]yard.Date{}},
		{"blank, and too soon for the second", nil, []yard.Seen{walked(14)}, [2]int{}, [2]yard.Date{first + 14, 0}},
		{"both blank", nil, []yard.Seen{walked(30), walked(22)}, [2]int{}, [2]yard.Date{first + 22, first + 22}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _ := soakedYard(t, first+80, c.picks, c.seen...)
			past := PastSoaks(s, mustLoad(t), first)
			if len(past) != 2 {
				t.Fatalf("%d soaks", len(past))
			}
			for i, p := range past {
				if len(p.Picks) != c.got[i] || p.Blank != c.blank[i] {
					t.Errorf("soak %d: %d pickings, blank %v; want %d, %v", i, len(p.Picks), p.Blank, c.got[i], c.blank[i])
				}
				if p.Of != 3 || p.Out != p.In+1 || p.Logs != 9 {
					t.Errorf("soak %d: %+v", i, p)
				}
			}
		})
	}
}

// What one part brought keeps no other part out of the tank, and the cycle runs
// from soak to soak. (Planted once: with every picking counted for every part,
// and the cycle told from coming out to going in, both cases failed.)
func TestAPartsFlushIsItsOwn(t *testing.T) {
	asOf := yard.NewDate(2026, 5, 18) // a Monday
	for _, c := range []struct {
		name  string
		picks []*yard.Pick
		weeks string
	}{
		// Of a cycle of three weeks: C was never in, then A and B again.
		{"nothing picked", nil, "CABC"},
		{"what A brought", []*yard.Pick{picked(yard.NewDate(2026, 5, 12))}, "C"},
	} {
		s, _ := soakedYard(t, asOf, c.picks)
		res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 20, Years: 2})
		got := ""
		for _, l := range res.Loads[:len(c.weeks)] {
			for _, p := range l.Parts {
				got += p.Part
			}
			if l.Skipped != "" {
				got += "-"
			}
		}
		if got != c.weeks {
			t.Errorf("%s: %s, want %s", c.name, got, c.weeks)
		}
	}
}

// What was soaked this week is not followed by another load in the same week.
func TestTheTankIsFilledOnceAWeek(t *testing.T) {
	asOf := yard.NewDate(2026, 5, 8) // the Friday of the second soak
	s, _ := soakedYard(t, asOf, nil)
	res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 20, Years: 2})
	if l := res.Loads[0]; l.Logs != 0 || l.Skipped != "this week's logs have been soaked" {
		t.Errorf("the week of a soak: %+v", l)
	}
	if l := res.Loads[1]; l.Logs == 0 {
		t.Errorf("the week after: %+v", l)
	}
}

// Parts that are soaked by themselves share one record of what was picked, over
// years too: their flushes are set against it in order of day. (It panicked once,
// because they came part by part.)
func TestPartsShareOneRecord(t *testing.T) {
	var picks []*yard.Pick
	for y := 2024; y <= 2026; y++ {
		for _, day := range []yard.Date{yard.NewDate(y, 5, 12), yard.NewDate(y, 10, 3)} {
			picks = append(picks, picked(day))
		}
	}
	s, p := soakedYard(t, yard.NewDate(2026, 11, 1), picks)
	p.Since = yard.On(yard.NewDate(2022, 4, 12))
	res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 200, Years: 2})
	if y := res.Piles[0].YearsAhead[1].Fresh; !(y.Mean > 0) {
		t.Errorf("next year %+v", y)
	}
}

// A pile that was soaked in parts keeps them when other piles change the groups,
// so long as they fit the tank.
func TestPartsKeepTheirTags(t *testing.T) {
	asOf := yard.NewDate(2026, 5, 18)
	for _, c := range []struct {
		name             string
		logs, tank, each int // each logs were soaked as part A
		of               int
	}{
		{"as written", 40, 20, 20, 2},
		{"some were lost since", 37, 20, 20, 2},
		{"the tank is smaller now", 40, 12, 20, 4},
		{"never in parts", 40, 20, 0, 3}, // 14 a week make a cycle of three
	} {
		s, p := soakedYard(t, asOf, nil)
		p.Logs, p.Soaked = c.logs, p.Soaked[:1]
		p.Soaked[0].Logs = c.each
		if c.each == 0 {
			p.Soaked = nil
		}
		s.Config.Soak = yard.Soak{TankLogs: c.tank, CycleWeeks: 3}
		res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 5, Years: 2})
		for _, l := range res.Loads {
			for _, part := range l.Parts {
				if part.Of != c.of {
					t.Fatalf("%s: %d parts, want %d", c.name, part.Of, c.of)
				}
			}
		}
	}
}

// Of two soaks a week apart a picking 15 days after the first is the first's: a
// flush takes 12 days or more in the air of that season, and not 8. What neither can
// have brought silences nothing.
func TestCreditIsByTheExpectedDay(t *testing.T) {
	set := mustLoad(t)
	past := func(picks ...*yard.Pick) []PastSoak {
		s, p := soakedYard(t, yard.NewDate(2026, 7, 2), picks)
		p.Soaked[0].On, p.Soaked[1].On = yard.On(yard.NewDate(2026, 6, 1)), yard.On(yard.NewDate(2026, 6, 8))
		return PastSoaks(s, set, yard.NewDate(2026, 1, 1))
	}
	all := past(picked(yard.NewDate(2026, 6, 16)))
	if a := all[0]; len(a.Picks) != 1 || a.Due-a.In < 12 || a.Due-a.In > 16 {
		t.Errorf("the first: %+v", a)
	}
	if b := all[1]; len(b.Picks) != 0 || b.Later || b.Answered() {
		t.Errorf("the second: %+v", b)
	}
	// One of nature's, days after the first: nobody's doing.
	if a := past(picked(yard.NewDate(2026, 6, 5)))[0]; a.Answered() || a.Later {
		t.Errorf("picked four days after: %+v", a)
	}
	if a := past(picked(yard.NewDate(2026, 6, 26)))[0]; a.Answered() || !a.Later {
		t.Errorf("picked when the second is due: %+v", a)
	}
}
