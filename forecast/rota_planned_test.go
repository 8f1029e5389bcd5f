package forecast

import (
	"strings"
	"testing"

	"hodaba/yard"
)

func planSoak(pile, part string, monday yard.Date) yard.Planning {
	return yard.Planning{On: dayWhen(tankDay - 14), Soak: pile, Part: part, Week: yard.When{From: monday, To: monday + 6}}
}

// What is planned goes in in its week and not sooner; the tank is filled up
// with other parts.
func TestPlannedSoakGoesIn(t *testing.T) {
	week := tankDay + 28
	res := mustRun(t, Input{State: tankYard(t, func(s *yard.State) {
		s.Planned = []yard.Planning{planSoak("oak-north", "A", week)}
	}), Data: mustLoad(t), Draws: 60, Years: 1})
	soundLoads(t, res.Loads, 12, 63)
	in, p := firstIn(res.Loads, "oak-north", "A")
	if in.Monday() != week || !p.Planned || p.Note != "" {
		t.Errorf("goes in on %s: %+v", in, p)
	}
	if l := weekOf(res.Loads, week)[0]; l.Chance < 0.3 || l.Fresh.Mean <= 0 {
		t.Errorf("brings %+v", l.Fresh)
	}
	if res.Tank.Plans[0].State != PlanIn {
		t.Errorf("%+v", res.Tank.Plans)
	}
}

// What speaks against a plan is said and does not hinder it.
func TestPlannedAgainstTheRules(t *testing.T) {
	for name, c := range map[string]struct {
		plan   yard.Planning
		change func(*yard.State)
		note   string
	}{
		"winter":     {planSoak("oak-north", "A", yard.NewDate(2027, 1, 4)), nil, TooCold},
		"not forced": {planSoak("oak-cold", "", tankDay+7), nil, "no soak forces its strain"},
		"too close": {planSoak("oak-north", "A", tankDay), func(s *yard.State) {
			s.Pile("oak-north").Soaked = []yard.Soaking{soakedOn(tankDay-21, "A")}
		}, "too soon"},
		"too young": {planSoak("oak-new", "A", tankDay+7), nil, "first year"},
		"no first flush": {planSoak("oak-north", "A", tankDay+7), func(s *yard.State) {
			s.Config.Soak.First = "after the first flush"
		}, "first flush"},
	} {
		s := tankYard(t, c.change)
		s.Planned = []yard.Planning{c.plan}
		if c.plan.Soak == "oak-cold" {
			s.Pile("oak-cold").Logs = 10
		}
		res := tankBookOf(t, s)
		in, p := firstIn(weekOf(res.Loads, c.plan.Week.From), c.plan.Soak, c.plan.Part)
		if in.Monday() != c.plan.Week.From || !p.Planned || !strings.Contains(p.Note, c.note) || res.Tank.Plans[0].State != PlanIn {
			t.Errorf("%s: in on %s, %+v, %+v", name, in, p, res.Tank.Plans)
		}
	}
}

// A plan is ticked off by a soak of the same part within a week of it; passed
// over it binds nothing; it gives way to a broken tank and a week left out.
func TestPlansEnd(t *testing.T) {
	soaked := func(d yard.Date, part string) func(*yard.State) {
		return func(s *yard.State) { s.Pile("oak-north").Soaked = []yard.Soaking{soakedOn(d, part)} }
	}
	for name, c := range map[string]struct {
		plan   yard.Planning
		change func(*yard.State)
		state  string
	}{
		"done":               {planSoak("oak-north", "A", tankDay-14), soaked(tankDay-8, "A"), PlanDone},
		"done sooner":        {planSoak("oak-north", "A", tankDay), soaked(tankDay-7, "A"), PlanDone},
		"another part":       {planSoak("oak-north", "A", tankDay-14), soaked(tankDay-8, "B"), PlanPast},
		"long before":        {planSoak("oak-north", "A", tankDay-14), soaked(tankDay-30, "A"), PlanPast},
		"passed":             {planSoak("oak-north", "A", tankDay-14), nil, PlanPast},
		"the whole, in part": {planSoak("oak-north", "", tankDay-14), soaked(tankDay-14, "A"), PlanPast},
		"the whole":          {planSoak("oak-north", "", tankDay-14), soaked(tankDay-14, ""), PlanDone},
		"no such part":       {planSoak("oak-north", "north", tankDay+7), nil, PlanNotIn},
		"no such pile":       {planSoak("elm", "", tankDay+7), nil, PlanNotIn},
		"later":              {planSoak("oak-north", "A", tankDay+400), nil, PlanLater},
		"broken": {planSoak("oak-north", "A", tankDay+7), func(s *yard.State) {
			s.Broken = []yard.Breakage{{What: "tank", On: dayWhen(tankDay), Until: dayWhen(tankDay + 14)}}
		}, PlanNotIn},
	} {
		s := tankYard(t, c.change)
		s.Planned = []yard.Planning{c.plan}
		res := tankBookOf(t, s)
		p := res.Tank.Plans[0]
		if p.State != c.state || (p.State == PlanNotIn) != (p.Why != "") {
			t.Errorf("%s: %+v", name, p)
		}
		if in, part := firstIn(res.Loads, "oak-north", "A"); part.Planned || in == 0 {
			t.Errorf("%s: A goes in on %s, planned %v", name, in, part.Planned)
		}
	}
	s := tankYard(t, nil)
	s.Planned = []yard.Planning{planSoak("oak-north", "A", tankDay+7)}
	if res := tankBookOf(t, s, tankDay+7); res.Tank.Plans[0].Why != LeftOutWeek {
		t.Errorf("left out: %+v", res.Tank.Plans)
	}
}

// A whole pile that is planned goes in as many loads as the tank takes.
func TestAWholePileIsPlanned(t *testing.T) {
	week := tankDay + 14
	s := tankYard(t, nil)
	s.Planned = []yard.Planning{planSoak("oak-north", "", week)}
	res := tankBookOf(t, s)
	soundLoads(t, res.Loads, 12, 63)
	logs := 0
	for _, l := range weekOf(res.Loads, week) {
		for _, p := range l.Parts {
			if p.Pile == "oak-north" && p.Planned {
				logs += p.Logs
			}
		}
	}
	if logs != 40 || res.Tank.Plans[0].State != PlanIn {
		t.Errorf("%d logs, %+v", logs, res.Tank.Plans)
	}
}

// Where nobody said what the tank holds, what is planned still brings its
// flush.
func TestPlannedWithoutATank(t *testing.T) {
	set := mustLoad(t)
	june := func(plans ...yard.Planning) float64 {
		s := tankYard(t, func(s *yard.State) { s.Planned = plans })
		s.Config.Soak.TankLogs = 0
		res := mustRun(t, Input{State: s, Data: set, Draws: 200, Years: 1})
		return res.Piles[0].Months[1].HarvestChance
	}
	if none, one := june(), june(planSoak("oak-north", "", tankDay+28)); one < none+0.2 {
		t.Errorf("chance of a picking in June %.2f, %.2f with a soak planned", none, one)
	}
}
