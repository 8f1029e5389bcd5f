package forecast

import (
	"reflect"
	"strings"
	"testing"

	"hodaba/forecast/fruit"
	"hodaba/yard"
)

var tankDay = yard.NewDate(2026, 5, 4) // a Monday

// tankYard is a yard with two piles that can be soaked, one that cannot, and a
// pile inoculated this spring.
func tankYard(t testing.TB, change func(*yard.State)) *yard.State {
	t.Helper()
	set := mustLoad(t)
	a := referencePile("oak-north", yard.NewDate(2024, 4, 12), "shiitake", "wide-range")
	b := referencePile("oak-south", yard.NewDate(2024, 4, 20), "shiitake", "warm-weather")
	c := referencePile("beech", yard.NewDate(2024, 4, 20), "lion's mane", "")
	d := referencePile("oak-cold", yard.NewDate(2024, 4, 20), "shiitake", "cold-weather")
	e := referencePile("oak-new", yard.NewDate(2026, 3, 20), "shiitake", "wide-range")
	s := yardOf(set, "oxford", tankDay, a, b, c, d, e)
	s.Config.Soak = yard.Soak{TankLogs: 12}
	if change != nil {
		change(s)
	}
	return s
}

func loads(t testing.TB, change func(*yard.State), skip ...yard.Date) []Load {
	t.Helper()
	return mustRun(t, Input{State: tankYard(t, change), Data: mustLoad(t), Draws: 120, Years: 2, Decision: Decision{Skip: skip}}).Loads
}

// weekOf are the loads of a week, or the line that says why there are none.
func weekOf(all []Load, monday yard.Date) (list []Load) {
	for _, l := range all {
		if l.Week == monday {
			list = append(list, l)
		}
	}
	return list
}

// What holds of every tank book.
func soundLoads(t *testing.T, all []Load, room int, cycle yard.Date) {
	t.Helper()
	last, out := map[string]yard.Date{}, yard.Date(0)
	for _, l := range all {
		sum := 0
		for _, p := range l.Parts {
			sum += p.Logs
			key := p.Pile + " " + p.Part
			if d, ok := last[key]; ok && l.In-d < cycle {
				t.Errorf("%s goes in on %s, %d days after it last did", key, l.In, l.In-d)
			}
			last[key] = l.In
			if p.Pile == "beech" || p.Pile == "oak-cold" {
				t.Errorf("%s cannot be forced, and goes in on %s", p.Pile, l.In)
			}
			if p.Pile == "oak-new" && l.In < yard.NewDate(2027, 3, 20) {
				t.Errorf("oak-new goes in on %s, before a year of growth", l.In)
			}
		}
		if l.In > 0 && l.In < out {
			t.Errorf("a load goes in on %s, and the one before comes out on %s", l.In, out)
		}
		out = max(out, l.Out)
		if sum != l.Logs || l.Logs > room {
			t.Errorf("load of %s: %d logs in parts of %d, the tank holds %d", l.In, l.Logs, sum, room)
		}
		if (l.Logs == 0) != (l.Skipped != "" || len(l.Parts) == 0) {
			t.Errorf("week of %s: %d logs, and %q", l.Week, l.Logs, l.Skipped)
		}
		if m := l.Out.Month(); l.Logs > 0 && (m == 12 || m <= 2) {
			t.Errorf("a load comes out on %s, in winter", l.Out)
		}
	}
}

func TestTankBookIsSound(t *testing.T) {
	all := loads(t, nil)
	soundLoads(t, all, 12, 9*7)
	logs, fresh := 0, 0.0
	for _, l := range all {
		logs, fresh = logs+l.Logs, fresh+l.Fresh.Mean
		if l.Logs > 0 && (l.Chance < 0.05 || l.PickFrom <= l.Out || l.PickTo < l.PickFrom) {
			t.Errorf("load of %s: chance %.2f, picked %s to %s", l.In, l.Chance, l.PickFrom, l.PickTo)
		}
	}
	if logs < 150 || fresh < 3 {
		t.Errorf("%d logs soaked in a year and %.1f kg of it", logs, fresh)
	}
	if none := loads(t, func(s *yard.State) { s.Config.Soak.TankLogs = 0 }); none != nil {
		t.Error("a tank book without a tank")
	}
}

// Weeks are alike: no more goes in than a cycle's share of all logs, whatever
// the tank holds.
func TestTankBookIsEven(t *testing.T) {
	all := loads(t, func(s *yard.State) { s.Config.Soak.TankLogs = 100 })
	each := fruit.RotaFor(120, 9).PerGroup
	soundLoads(t, all, each, 9*7)
}

// Nothing goes in while nobody is there, the tank is broken, or the grower put
// it off; a blank goes in sooner than a cycle after.
func TestTankBookGivesWay(t *testing.T) {
	when := func(d yard.Date) yard.When { return yard.When{From: d, To: d} }
	usual := loads(t, nil)
	third := tankDay + 14
	for name, c := range map[string]struct {
		change func(*yard.State)
		says   string
	}{
		"away": {func(s *yard.State) {
			s.Config.Working.Away = []yard.Absence{{From: third, To: third + 9}}
		}, "nobody"},
		"broken": {func(s *yard.State) {
			s.Broken = []yard.Breakage{{What: "tank", On: when(tankDay), Until: when(third + 6)}}
		}, "broken"},
		"put off": {func(s *yard.State) {
			s.PutOff = []yard.PutOff{{On: when(tankDay), Task: "soak", Until: when(third + 7)}}
		}, "put off"},
	} {
		l := weekOf(loads(t, c.change), third)[0]
		if l.Logs != 0 || !strings.Contains(l.Skipped, c.says) || l.In != 0 {
			t.Errorf("%s: %d logs go in, %q", name, l.Logs, l.Skipped)
		}
	}
	first := usual[0].Parts[0].Pile
	for _, l := range loads(t, func(s *yard.State) {
		s.PutOff = []yard.PutOff{{On: when(tankDay), Task: "soak " + first, Until: when(third)}}
	}) {
		for _, p := range l.Parts {
			if p.Pile == first && l.In < third {
				t.Errorf("%s is put off and goes in on %s", first, l.In)
			}
		}
	}
}

func soakedOn(d yard.Date, part string) yard.Soaking {
	return yard.Soaking{On: yard.When{From: d, To: d}, Part: part}
}

func TestBlanksGoInAgainSooner(t *testing.T) {
	next := func(seen ...yard.Seen) yard.Date {
		for _, l := range loads(t, func(s *yard.State) {
			p := s.Pile("oak-north")
			p.Soaked = []yard.Soaking{soakedOn(tankDay-28, "A")}
			p.Seen = seen
		}) {
			for _, p := range l.Parts {
				if p.Pile == "oak-north" && p.Part == "A" {
					return l.In
				}
			}
		}
		return 0
	}
	waits, blank := next(), next(walked(tankDay-14))
	if !(waits >= tankDay-28+63 && blank < waits && blank >= tankDay) {
		t.Errorf("soaked four weeks ago it goes in again on %s, where nothing came on %s", waits, blank)
	}
}

// A soak on record has brought its flush: in the weeks after it something is
// likelier, and the whole is the same for any number of workers.
func TestSoakOnRecordFeedsBack(t *testing.T) {
	set := mustLoad(t)
	run := func(workers int, change func(*yard.State)) *Result {
		s := tankYard(t, change)
		s.Config.Soak.TankLogs = 0
		return mustRun(t, Input{State: s, Data: set, Draws: 400, Years: 1, Workers: workers})
	}
	soak := func(s *yard.State) {
		s.Pile("oak-north").Soaked = []yard.Soaking{soakedOn(tankDay-4, "")}
	}
	before, after := run(1, nil).Piles[0].Months[0], run(1, soak).Piles[0].Months[0]
	if after.HarvestChance < before.HarvestChance+0.2 {
		t.Errorf("chance of a picking in May %.2f, %.2f after a soak four days ago", before.HarvestChance, after.HarvestChance)
	}
	if !reflect.DeepEqual(run(1, soak), run(3, soak)) {
		t.Error("another number of workers, another forecast")
	}
}

// Two soaks a week apart bring little more than one: logs rest.
func TestTwoSoaksTooClose(t *testing.T) {
	set := mustLoad(t)
	year := func(days ...yard.Date) float64 {
		s := tankYard(t, nil)
		var soaks []Soak
		for _, d := range days {
			soaks = append(soaks, Soak{On: d, Part: Whole})
		}
		res := mustRun(t, Input{State: s, Data: set, Draws: 600, Years: 1, Decision: Decision{Soaks: map[string][]Soak{"oak-north": soaks}}})
		return res.Piles[0].YearsAhead[0].Fresh.Mean
	}
	none, one, close, apart := year(), year(tankDay+20), year(tankDay+20, tankDay+27), year(tankDay+20, tankDay+90)
	if !(one > none && apart > one && close-one < 0.5*(apart-one)) {
		t.Errorf("kg this year: no soak %.2f, one %.2f, two a week apart %.2f, two ten weeks apart %.2f", none, one, close, apart)
	}
}

// What leaving a week out costs is told on the same draws: that week is empty,
// and what goes in before it stays.
func TestSkippedWeek(t *testing.T) {
	usual := loads(t, nil)
	week := tankDay + 21
	less := loads(t, nil, week)
	if l := weekOf(less, week); len(l) != 1 || l[0].Logs != 0 || l[0].Skipped != LeftOutWeek {
		t.Errorf("the week left out: %+v", l)
	}
	for i := range usual {
		if usual[i].Week >= week {
			break
		}
		if !reflect.DeepEqual(usual[i].Parts, less[i].Parts) {
			t.Errorf("week %d changes with a later one left out", i)
		}
	}
}

func TestPartLetters(t *testing.T) {
	for k := range len(partLetters) {
		if got := partOf(strings.ToLower(PartName(k)) + " "); got != k {
			t.Errorf("part %d is %q, read back as %d", k, PartName(k), got)
		}
	}
	for _, odd := range []string{"", "AB", "ß", "1", "I"} {
		if got := partOf(odd); got != Whole {
			t.Errorf("%q is read as part %d", odd, got)
		}
	}
}

// In a drought that was measured the next soaks are put off, unless the pile
// was watered; where nobody measured nothing is put off.
func TestTankBookInADrought(t *testing.T) {
	measured := func(mm float64, watered bool) []Load {
		return loads(t, func(s *yard.State) {
			w := &yard.Weather{From: tankDay - 59}
			for range 60 {
				w.Days = append(w.Days, yard.WeatherDay{Rain: mm, HasRain: true})
			}
			s.Weather = w
			if watered {
				for _, p := range s.Piles {
					p.Watered = []yard.Watering{{On: yard.When{From: tankDay - 5, To: tankDay - 5}, Hours: 3}}
				}
			}
		})
	}
	usual, dry, wet, watered := loads(t, nil), measured(0.1, false), measured(3, false), measured(0.1, true)
	for w := range 2 {
		dry, usual, wet, watered := weekOf(dry, tankDay+yard.Date(7*w)), weekOf(usual, tankDay+yard.Date(7*w)), weekOf(wet, tankDay+yard.Date(7*w)), weekOf(watered, tankDay+yard.Date(7*w))
		if dry[0].Logs != 0 || dry[0].Skipped != TooDry {
			t.Errorf("week %d of a drought: %d logs, %q", w, dry[0].Logs, dry[0].Skipped)
		}
		if usual[0].Logs == 0 || wet[0].Logs == 0 || watered[0].Logs == 0 {
			t.Errorf("week %d: %d logs where nobody measured, %d after rain, %d after watering", w, usual[0].Logs, wet[0].Logs, watered[0].Logs)
		}
	}
	if l := weekOf(dry, tankDay+14)[0]; l.Logs == 0 {
		t.Errorf("beyond what anybody knows: %q", l.Skipped)
	}
}
