package forecast

import (
	"slices"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/yard"
)

// tankBookOf draws up a tank book, whatever it brings.
func tankBookOf(t testing.TB, s *yard.State, skip ...yard.Date) *Result {
	t.Helper()
	return mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 10, Years: 1, Decision: Decision{Skip: skip}})
}

func dayWhen(d yard.Date) yard.When { return yard.When{From: d, To: d} }

// firstIn is the first day on which a part goes in; part "" any of the pile.
func firstIn(all []Load, pile, part string) (yard.Date, LoadPart) {
	for _, l := range all {
		for _, p := range l.Parts {
			if p.Pile == pile && (part == "" || p.Part == part) {
				return l.In, p
			}
		}
	}
	return 0, LoadPart{}
}

// A task put off holds what it names and nothing else: "soak" holds all soaks
// although a pile is called oak, and a part holds neither the other parts nor a
// pile of which the name begins alike.
func TestPutOffHoldsWhatItNames(t *testing.T) {
	oak := func(s *yard.State) *yard.State {
		s.Piles = s.Piles[:2]
		s.Piles[1].Name, s.Piles[1].Code = "oak", "OK"
		return s
	}
	until := tankDay + 70
	book := func(task string) []Load {
		s := oak(tankYard(t, nil))
		if task != "" {
			s.PutOff = []yard.PutOff{{On: dayWhen(tankDay), Task: task, Until: dayWhen(until)}}
		}
		return tankBookOf(t, s).Loads
	}
	usual := book("")
	for _, c := range []struct {
		task string
		held []string // "pile" or "pile part"
	}{
		{"Soak", []string{"oak", "oak-north"}},
		{"soak oak", []string{"oak"}},
		{"soak ok", []string{"oak"}},
		{"soak OAK-NORTH a", []string{"oak-north A"}},
		{"soak oak-north", []string{"oak-north"}},
		{"soak oak-nor", nil},
		{"water oak", nil},
	} {
		all := book(c.task)
		for _, part := range []string{"oak A", "oak B", "oak-north A", "oak-north B"} {
			pile, letter, _ := strings.Cut(part, " ")
			held := slices.Contains(c.held, pile) || slices.Contains(c.held, part)
			in, _ := firstIn(all, pile, letter)
			was, _ := firstIn(usual, pile, letter)
			if held != (in >= until) || was >= until {
				t.Errorf("%q: %s goes in on %s, and otherwise on %s", c.task, part, in, was)
			}
		}
		if len(c.held) == 2 && weekOf(all, tankDay)[0].Skipped != "put off until "+until.String() {
			t.Errorf("%q: %q", c.task, weekOf(all, tankDay)[0].Skipped)
		}
	}
	s := oak(tankYard(t, nil))
	for _, task := range []string{"soak oak", "soak oak-north"} {
		s.PutOff = append(s.PutOff, yard.PutOff{On: dayWhen(tankDay), Task: task, Until: dayWhen(until)})
	}
	if l := weekOf(tankBookOf(t, s).Loads, tankDay)[0]; l.Skipped != "put off until "+until.String() {
		t.Errorf("each pile put off: %q", l.Skipped)
	}
}

// What ends in the middle of a week leaves the rest of it.
func TestMidweekEndsOfWhatHinders(t *testing.T) {
	for name, change := range map[string]func(*yard.State){
		"put off": func(s *yard.State) {
			s.PutOff = []yard.PutOff{{On: dayWhen(tankDay), Task: "soak", Until: dayWhen(tankDay + 2)}}
		},
		"broken": func(s *yard.State) {
			s.Broken = []yard.Breakage{{What: "tank", On: dayWhen(tankDay), Until: dayWhen(tankDay + 1)}}
		},
		"away": func(s *yard.State) {
			s.Config.Working.Away = []yard.Absence{{From: tankDay - 7, To: tankDay + 1}}
		},
	} {
		if l := weekOf(tankBookOf(t, tankYard(t, change)).Loads, tankDay)[0]; l.In != tankDay+2 {
			t.Errorf("%s until Tuesday: in on %s, %q", name, l.In, l.Skipped)
		}
	}
	// On a Saturday the week is over, and nobody is away.
	s := tankYard(t, nil)
	s.AsOf = tankDay + 5
	if l := tankBookOf(t, s).Loads[0]; l.Skipped != NoDayLeft {
		t.Errorf("on a Saturday: %q", l.Skipped)
	}
}

// The tank is filled as often as the cycle wants and the days allow, and what
// even that does not bring round is told.
func TestCapacityAndCycle(t *testing.T) {
	book := func(logs, tank int, cycle, hours float64) *Result {
		s := tankYard(t, nil)
		s.Piles = s.Piles[:2]
		s.Piles[0].Logs, s.Piles[1].Logs = logs/2, logs-logs/2
		s.Config.Soak = yard.Soak{TankLogs: tank, CycleWeeks: cycle, Hours: hours}
		return tankBookOf(t, s)
	}
	again := func(all []Load) (least yard.Date) { // later one of the strains is out of season
		last := map[string]yard.Date{}
		for _, l := range all {
			if l.In > tankDay+100 {
				break
			}
			for _, p := range l.Parts {
				key := p.Pile + p.Part
				if d := l.In - last[key]; last[key] > 0 && (least == 0 || d < least) {
					least = d
				}
				last[key] = l.In
			}
		}
		return least
	}
	for _, c := range []struct {
		name             string
		logs, tank       int
		cycle, hours     float64
		comes            int
		fromDays, toDays yard.Date // the soonest return in the book
	}{
		{"one load a week", 100, 12, 9, 12, 9, 63, 77},
		{"five logs in the tank", 100, 5, 9, 12, 9, 63, 77},
		{"five weeks", 100, 12, 5, 12, 5, 35, 49},
		{"four weeks", 100, 12, 4, 12, 4, 28, 42},
		// Ten loads of ten logs, of five days each, in from Monday to Friday or over a weekend.
		{"five days in the water", 100, 10, 5, 120, 10, 70, 77},
		{"nine days in the water", 60, 12, 5, 200, 9, 56, 77},
	} {
		res := book(c.logs, c.tank, c.cycle, c.hours)
		soundLoads(t, res.Loads, c.tank, yard.Date(7*c.cycle))
		if a := res.Tank; a.Comes < c.comes-1 || a.Comes > c.comes+1 || a.Room > c.tank {
			t.Errorf("%s: each part comes round after %d weeks, want %d; %+v", c.name, a.Comes, c.comes, a)
		}
		if d := again(res.Loads); d < c.fromDays || d > c.toDays {
			t.Errorf("%s: the soonest part comes back after %d days", c.name, d)
		}
	}
	// No load is larger than the tank, also where letters run out.
	res := book(500, 5, 9, 12)
	soundLoads(t, res.Loads, 5, 63)
	if b := res.Tank.Beyond; len(b) != 2 || b[0].Logs != 250-24*5 || b[0].Parts != 50 {
		t.Errorf("beyond the letters: %+v", b)
	}
}

// Somebody is there on the day on which logs come out, where the week has such
// a day.
func TestOutOnADayOfWork(t *testing.T) {
	s := tankYard(t, nil)
	s.Config.Soak.Hours = 70 // out on the third day: in on Monday or Tuesday
	for _, l := range tankBookOf(t, s).Loads {
		if w := int(l.Out-tankDay) % 7; l.Logs > 0 && w > 4 {
			t.Errorf("in on %s, out on %s", l.In, l.Out)
		}
	}
}

// Loads are about as large in one week as in another.
func TestLoadsAreEven(t *testing.T) {
	s := tankYard(t, nil)
	s.Piles = s.Piles[:2]
	s.Piles[0].Logs, s.Piles[1].Logs = 25, 83
	s.Config.Soak.TankLogs = 30
	byWeek := map[yard.Date]int{}
	for _, l := range tankBookOf(t, s).Loads {
		if l.In >= tankDay && l.In < tankDay+9*7 {
			byWeek[l.Week] += l.Logs
		}
	}
	low, high := 1000, 0
	for _, n := range byWeek {
		low, high = min(low, n), max(high, n)
	}
	if len(byWeek) < 8 || high > 2*low {
		t.Errorf("from %d to %d logs a week: %v", low, high, byWeek)
	}
}

// No flush is set into days on which nobody is there; another part, or none.
func TestNoFlushWhileAway(t *testing.T) {
	away := yard.Absence{From: tankDay + 28, To: tankDay + 41}
	res := mustRun(t, Input{State: tankYard(t, func(s *yard.State) { s.Config.Working.Away = []yard.Absence{away} }), Data: mustLoad(t), Draws: 60, Years: 1})
	said := false
	for _, l := range res.Loads {
		said = said || l.Skipped == FlushAway
		if mid := (l.PickFrom + l.PickTo) / 2; l.Logs > 0 && mid > away.From+1 && mid < away.To-1 {
			t.Errorf("the load of %s is picked from %s to %s, while nobody is there", l.In, l.PickFrom, l.PickTo)
		}
	}
	if !said {
		t.Error("nothing is said of it")
	}
}

// The crop of a year on record shows that a pile has fruited.
func TestFirstSoakRules(t *testing.T) {
	season := &yard.Pick{On: yard.When{From: yard.NewDate(2025, 1, 1), To: yard.NewDate(2025, 12, 31)}, Season: true, Fresh: yard.Span{Low: 5, High: 5}, Weighed: true}
	for name, c := range map[string]struct {
		first string
		pick  bool
		young bool
		goes  bool
	}{
		"a year, none picked":              {"after a year", false, false, true},
		"a year, in its first":             {"after a year", false, true, false},
		"first flush, a year's crop known": {"after the first flush", true, false, true},
		"first flush, none":                {"after the first flush", false, false, false},
	} {
		s := tankYard(t, nil)
		s.Piles = s.Piles[:1]
		s.Config.Soak.First = c.first
		if c.young {
			s.Piles[0].Since = dayWhen(tankDay - 100)
		}
		if c.pick {
			s.Piles[0].Picks = []*yard.Pick{season}
		}
		all := tankBookOf(t, s).Loads
		if in, _ := firstIn(all, "oak-north", ""); c.goes != (in == tankDay) {
			t.Errorf("%s: in on %s", name, in)
		}
		if c.first == "after the first flush" && !c.pick && all[0].Skipped != NoFirstFlush {
			t.Errorf("%s: %q", name, all[0].Skipped)
		}
	}
}

// The reasons of the season are told apart, and the last week before hard
// frost is one in which a load still brings a flush.
func TestSeasonReasons(t *testing.T) {
	changed := func(change func(*data.Fruit)) *data.Set {
		set := *mustLoad(t)
		set.Species = slices.Clone(set.Species)
		for i := range set.Species {
			set.Species[i].Strains = slices.Clone(set.Species[i].Strains)
			for k := range set.Species[i].Strains {
				change(&set.Species[i].Strains[k].Fruit)
			}
		}
		return &set
	}
	hardy := changed(func(f *data.Fruit) { f.BandLow.Value -= 6 }) // one that frost stops before cold does
	for _, c := range []struct {
		name string
		set  *data.Set
		want string
		at   []string
	}{{"as it is", mustLoad(t), TooCold, []string{"oxford", "madison", "murfreesboro"}}, {"a hardy strain", hardy, NearFrost, []string{"madison"}}} {
		said := map[string]bool{}
		for _, station := range c.at {
			s := tankYard(t, nil)
			s.Config.Site.Station = station
			res := mustRun(t, Input{State: s, Data: c.set, Draws: 30, Years: 1})
			for _, l := range res.Loads {
				if OutOfSeason(l.Skipped) {
					said[l.Skipped] = true
				}
			}
			last := res.Tank.LastSafe
			this, next := weekOf(res.Loads, last), weekOf(res.Loads, last+7)
			if last < yard.NewDate(2026, 9, 1) || last > yard.NewDate(2026, 12, 14) || this[0].Season != "" || next[0].Season == "" {
				t.Errorf("%s, %s: last safe soak in the week of %s", c.name, station, last)
			}
		}
		if !said[c.want] {
			t.Errorf("%s: %v", c.name, said)
		}
	}
	// A strain that the summer of Oxford is too hot for.
	set := changed(func(f *data.Fruit) { f.BandHigh.Value = f.BandLow.Value + 1 })
	res := mustRun(t, Input{State: tankYard(t, nil), Data: set, Draws: 10, Years: 1})
	if l := weekOf(res.Loads, yard.NewDate(2026, 7, 13)); l[0].Skipped != TooHot {
		t.Errorf("in July: %q", l[0].Skipped)
	}
}
