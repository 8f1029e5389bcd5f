package forecast

import (
	"testing"

	"hodaba/yard"
)

func tankYard(t testing.TB, asOf yard.Date) *yard.State {
	set := mustLoad(t)
	a := referencePile("oak-north", yard.NewDate(2024, 4, 12), "shiitake", "wide-range")
	b := referencePile("oak-south", yard.NewDate(2024, 4, 20), "shiitake", "warm-weather")
	c := referencePile("beech", yard.NewDate(2025, 4, 20), "lion's mane", "")
	s := yardOf(set, "oxford", asOf, a, b, c)
	s.Config.Soak = yard.Soak{TankLogs: 12}
	return s
}

func TestRotaPrint(t *testing.T) {
	s := tankYard(t, yard.NewDate(2026, 5, 4))
	res := mustRun(t, Input{State: s, Data: mustLoad(t), Draws: 400, Years: 2})
	for _, l := range res.Loads {
		t.Log(l.Week, l.In, l.Out, l.Logs, l.Parts, l.Skipped, l.Fresh.Mean, l.Chance, l.PickFrom, l.PickTo)
	}
	for _, p := range res.Piles {
		t.Log(p.Name, p.YearsAhead)
	}
}
