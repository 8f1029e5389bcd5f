package forecast

import (
	"math"
	"testing"

	"hodaba/forecast/fruit"
	"hodaba/yard"
)

const poundKG = 0.45359237 // by definition

// The bulletins reckon with logs, weeks and a flush alone.
func TestAgainstPublishedRotas(t *testing.T) {
	d := mustLoad(t)
	low, high := d.Practice.FlushPerLog.Low, d.Practice.FlushPerLog.High
	// Gabriel 2012, How many mushroom logs do I need?: a quarter to half a pound.
	if math.Abs(low/poundKG-0.25) > 1e-5 || math.Abs(high/poundKG-0.5) > 1e-5 {
		t.Errorf("a flush of %v to %v kg", low, high)
	}
	life := LogLife{Low: 0.6, Typical: 1.4, High: 2.1, Years: 4}
	// Hill, University of Kentucky FOR-85: about a hundred logs on nine weeks are
	// 108, twelve a week.
	if r := SupplyOf(100, low, 9, 30, life).Rota; r != (fruit.Rota{Groups: 9, PerGroup: 12, Logs: 108}) {
		t.Errorf("a hundred logs: %+v", r)
	}
	// Gabriel 2012: 32 logs, four a week, coming back after eight weeks, one to two
	// pounds a week; eight logs, one a week.
	for logs, want := range map[int]struct {
		each     int
		from, to float64
	}{32: {4, 1, 2}, 8: {1, 0.25, 0.5}} {
		a, b := SupplyOf(logs, low, 8, 30, life), SupplyOf(logs, high, 8, 30, life)
		if a.PerGroup != want.each || math.Abs(a.Weekly/poundKG-want.from) > 1e-4 || math.Abs(b.Weekly/poundKG-want.to) > 1e-4 {
			t.Errorf("%d logs: %d a week, %v to %v lb", logs, a.PerGroup, a.Weekly/poundKG, b.Weekly/poundKG)
		}
	}
	// Derived from both: 5 kg over a quarter or half a pound is 44.1 or 22.05 logs.
	if a, b := SupplyFor(5, low, 9, 30, life).Logs, SupplyFor(5, high, 9, 30, life).Logs; a != 45*9 || b != 23*9 {
		t.Errorf("5 kg a week want %d or %d logs", a, b)
	}
}

// Twelve soaks at a quarter pound are a typical log's whole life: 7 kg of dry
// wood at 20 % are 1.4 kg, and that over 0.113 kg is 12.3 (our arithmetic).
func TestALogIsSpent(t *testing.T) {
	life := LogLife{Low: 0.6, Typical: 1.4, High: 2.1, Years: 4}
	quarter, half := 0.25*poundKG, 0.5*poundKG
	a, b := SupplyOf(108, quarter, 9, 27, life), SupplyOf(108, half, 9, 27, life)
	if math.Abs(a.Soaks-12.35) > 0.01 || math.Abs(b.Soaks-6.17) > 0.01 {
		t.Errorf("%v and %v soaks", a.Soaks, b.Soaks)
	}
	// Three soaks a year: four years are too few for twelve, two enough for six.
	if a.Lasts != 4 || math.Abs(b.Lasts-6.17/3) > 0.01 {
		t.Errorf("a log lasts %v and %v years", a.Lasts, b.Lasts)
	}
	if math.Abs(a.Renewal-27) > 1e-9 || math.Abs(b.Renewal-108/b.Lasts) > 1e-9 {
		t.Errorf("%v and %v logs a year", a.Renewal, b.Renewal)
	}
	// 108 logs hold 151 kg; over four years of 27 weeks that is 1.4 kg a week.
	if a.KeptUp != a.Weekly || math.Abs(b.KeptUp-1.4) > 1e-9 || b.KeptUp >= b.Weekly {
		t.Errorf("kept up %v of %v, %v of %v", a.KeptUp, a.Weekly, b.KeptUp, b.Weekly)
	}
	// 5 kg over 108 weeks are 540 kg, which 386 logs hold: nine groups of 43.
	if n := LogsToKeepUp(5, 9, 27, life); n != 387 {
		t.Errorf("%d logs", n)
	}
	for _, s := range []RotaSupply{SupplyOf(0, quarter, 9, 27, life), SupplyFor(math.NaN(), quarter, 9, 27, life), SupplyOf(9, 0, 9, 27, life), SupplyOf(9, quarter, 9, 0, LogLife{})} {
		if s.KeptUp != 0 || s.Renewal != 0 {
			t.Errorf("of nothing: %+v", s)
		}
	}
}

// A yard without logs is told of logs of usual size: 12 cm by 100 cm, about
// 1.2 kg over a life (by the middle gravity 0.52 and 20 %, our arithmetic).
func TestLogLife(t *testing.T) {
	d := mustLoad(t)
	s := yardOf(d, "oxford", lawsAsOf)
	if l := (&Result{}).LogLife(s, d); l.Logs != 0 || l.Typical < 0.9 || l.Typical > 1.4 || l.Years != 4 {
		t.Errorf("a usual log: %+v", l)
	}
	if l := SeasonWeeks(nil); l != 52 {
		t.Errorf("%d weeks", l)
	}
	// Two loads of a week are one week; a week is of the winter whatever keeps it empty.
	if n := SeasonWeeks([]Load{{Skipped: TooCold}, {Week: 7}, {Week: 7}, {Week: 14, Skipped: LeftOutWeek}, {Week: 21, Skipped: NobodyThere, Season: TooCold}}); n != 2 {
		t.Errorf("%d weeks", n)
	}
}

// A yard that has borne most of its crop keeps up what is left, not what logs
// held when they were new: a hundred logs of 2019 of which 108 kg were picked.
func TestASpentYard(t *testing.T) {
	d := mustLoad(t)
	p := referencePile("oak-old", yard.NewDate(2019, 4, 12), "shiitake", "wide-range")
	p.Logs = 100
	for year := 2020; year < 2026; year++ {
		p.Picks = append(p.Picks, &yard.Pick{On: yard.When{From: yard.NewDate(year, 1, 1), To: yard.NewDate(year, 12, 31)}, Season: true, Weighed: true,
			Piles: []string{p.Name}, Fresh: yard.Span{Low: 18, High: 18}})
	}
	fresh := referencePile("oak-new", yard.NewDate(2025, 6, 1), "shiitake", "wide-range")
	fresh.Logs = 100
	of := func(p *yard.Pile) (LogLife, RotaSupply) {
		s := yardOf(d, "oxford", tankDay, p)
		res := mustRun(t, Input{State: s, Data: d, Draws: 60, Years: 2})
		life := res.LogLife(s, d)
		return life, SupplyOfYard(100, d.Practice.FlushPerLog.Low, 9, 30, life)
	}
	life, s := of(p)
	// What is left of the pile is what its page says.
	if life.Left <= 0 || life.Left > 0.3*life.Typical || life.YearsLeft != 1 {
		t.Errorf("a spent log: %+v", life)
	}
	if most := 100 * life.Left / 30; s.StillKept > most+1e-9 || s.StillKept >= 0.6*s.KeptUp || s.SoaksLeft >= s.Soaks/2 {
		t.Errorf("a spent yard keeps up %v kg a week, as new %v: %+v", s.StillKept, s.KeptUp, s)
	}
	life, s = of(fresh)
	if life.Left < 0.7*life.Typical || life.YearsLeft != life.Years || s.StillKept < 0.6*s.KeptUp {
		t.Errorf("a new yard: %+v %+v", life, s)
	}
}
