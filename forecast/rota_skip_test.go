package forecast

import (
	"context"
	"math"
	"testing"

	"hodaba/yard"
)

// A year is told only where the difference of the same courses is beyond
// chance: what is the same has none, and what lies far ahead is noise.
func TestSkipYears(t *testing.T) {
	set := mustLoad(t)
	book := func(skip ...yard.Date) *CropBook {
		b, err := Crops(context.Background(), Input{State: tankYard(t, nil), Data: set, Draws: 200, Years: 3, Decision: Decision{Skip: skip}})
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	with := book()
	for _, y := range SkipYears(with, with) {
		if y.With != y.Without || y.Error != 0 || y.Told || y.With <= 0 {
			t.Errorf("the same: %+v", y)
		}
	}
	var weeks []yard.Date // all of them
	for w := range 52 {
		weeks = append(weeks, tankDay+yard.Date(7*w))
	}
	years := SkipYears(with, book(weeks...))
	if y := years[0]; y.Year != 2026 || !y.Told || y.Without >= y.With || y.Error <= 0 || y.Error > (y.With-y.Without)/surely {
		t.Errorf("no soak at all: %+v", years)
	}
	if last := years[len(years)-1]; last.Year > 2028 {
		t.Errorf("a year that is cut short: %+v", last)
	}
}

// The standard error is that of weighted pairs: of 1 and 3 kg less, alike
// weighted, it is sqrt(1² + 1²)/2 (our arithmetic).
func TestSkipYearsError(t *testing.T) {
	of := func(kg ...float32) *CropBook {
		return &CropBook{Draws: 2, Months: []yard.Date{yard.NewDate(2026, 12, 1)}, Weight: []float64{1, 1},
			Piles: []*PileCrops{{Forced: true, kg: kg, months: 1}, {kg: []float32{9, 9}, months: 1}}}
	}
	y := SkipYears(of(5, 5), of(4, 2))[0]
	if y.With != 5 || y.Without != 3 || math.Abs(y.Error-math.Sqrt2/2) > 1e-9 || !y.Told {
		t.Errorf("%+v", y)
	}
}
