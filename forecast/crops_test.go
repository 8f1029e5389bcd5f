package forecast

import (
	"context"
	"math"
	"reflect"
	"slices"
	"testing"
	"time"

	"hodaba/yard"
)

func mustCrops(t testing.TB, in Input) *CropBook {
	t.Helper()
	b, err := Crops(context.Background(), in)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// plannedPile is one to be inoculated in a month to come.
func plannedPile(name string, month yard.Date, species, strain string, logs int) *yard.Pile {
	p := referencePile(name, month, species, strain)
	p.Since = yard.When{From: month.MonthStart(), To: month.AddMonths(1).MonthStart() - 1, Text: "planned"}
	p.Logs, p.Started = logs, logs
	return p
}

// What stands brings in the crop book what the forecast says of it, and a
// planned pile changes nothing of that.
func TestCropBookAgreesWithTheForecast(t *testing.T) {
	set := mustLoad(t)
	in := Input{State: someYard(set), Data: set, Draws: 300, Years: 4}
	in.Decision.Soaks = map[string][]Soak{}
	res := mustRun(t, in)
	alone := mustCrops(t, in)
	in.Planned = []*yard.Pile{plannedPile("next", yard.NewDate(2027, time.March, 1), "shiitake", "wide-range", 30)}
	with := mustCrops(t, in)
	for i, p := range alone.Piles {
		if !reflect.DeepEqual(p, with.Piles[i]) {
			t.Errorf("%s brings another crop beside a planned pile", p.Pile.Name)
		}
		at := slices.IndexFunc(res.Piles, func(q *Pile) bool { return q.Name == p.Pile.Name })
		for k, y := range res.Piles[at].YearsAhead {
			got := 0.0
			for m, month := range alone.Months {
				for n := range alone.Draws {
					if month.Year() == y.Year {
						got += p.KG(n, m) * alone.Weight[n] / float64(alone.Draws)
					}
				}
			}
			if math.Abs(got-y.Fresh.Mean) > 0.01*y.Fresh.Mean+1e-3 {
				t.Errorf("%s in %d: %.3f kg in the crop book, %.3f in the forecast (year %d)", p.Pile.Name, y.Year, got, y.Fresh.Mean, k)
			}
		}
	}
}

// A planned pile brings nothing before it is inoculated and through, and what
// it brings by week adds up to what it brings by month.
func TestPlannedPileFruitsLater(t *testing.T) {
	set := mustLoad(t)
	month := yard.NewDate(2027, time.March, 1)
	b := mustCrops(t, Input{State: someYard(set), Data: set, Draws: 300, Years: 7,
		Planned: []*yard.Pile{plannedPile("next", month, "shiitake", "wide-range", 30)}})
	p := b.Piles[len(b.Piles)-1]
	if !p.Planned || p.Pile.Name != "next" {
		t.Fatalf("the last pile is %s", p.Pile.Name)
	}
	if day, ok := p.First.At(0.01); !ok || yard.Date(day) < month.AddMonths(6) {
		t.Errorf("first picking %s, inoculated in March 2027", yard.Date(day))
	}
	byMonth, byWeek := 0.0, 0.0
	for n := range b.Draws {
		byMonth += p.Between(n, 0, len(b.Months)) * b.Weight[n] / float64(b.Draws)
	}
	for _, kg := range p.Mean {
		byWeek += kg
	}
	if byMonth <= 0 || math.Abs(byMonth-byWeek) > 1e-3*byMonth {
		t.Errorf("%.3f kg by month, %.3f by week", byMonth, byWeek)
	}
	// As long after its inoculation, a pile that was inoculated as many years
	// before brings about as much: the same model, other weather.
	if byMonth < 5 || byMonth > 80 {
		t.Errorf("30 logs bring %.1f kg in seven years", byMonth)
	}
}
