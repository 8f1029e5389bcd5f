package chance

import (
	"slices"
	"testing"
)

// Steps are the shares that UpTo gives, at the values that occurred.
func TestStepsAreUpTo(t *testing.T) {
	d := Days(100, 200)
	for _, v := range []float64{110, 150, 110, 190} {
		d.Add(v, 2)
	}
	d.Never(2)
	values, upTo := d.Steps()
	if !slices.Equal(values, []float64{110, 150, 190}) || !slices.Equal(upTo, []float64{0.4, 0.6, 0.8}) {
		t.Errorf("days: %v, %v", values, upTo)
	}
	a := Amounts()
	for _, v := range []float64{0, 0, 1.5, 3, 80} {
		a.Add(v, 1)
	}
	values, upTo = a.Steps()
	for i, v := range values {
		if got := a.UpTo(v); got != upTo[i] {
			t.Errorf("amounts: %g up to %g, and %g", upTo[i], v, got)
		}
	}
	if len(values) != 4 || values[0] != 0 || upTo[0] != 0.4 || upTo[3] != 1 {
		t.Errorf("amounts: %v, %v", values, upTo)
	}
	if values, upTo := Shares().Steps(); values != nil || upTo != nil {
		t.Error("an empty tally has steps")
	}
}
