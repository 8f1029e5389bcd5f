package climate

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"hodaba/yard"
)

// yearDays is the length of the normal year; 29 February takes the value of
// the 28th.
const yearDays = 365

var monthLength = [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

var monthFirst = func() (f [12]int) {
	for m := 1; m < 12; m++ {
		f[m] = f[m-1] + monthLength[m-1]
	}
	return f
}()

// dayOfNormal is the index of a civil day in the normal year.
func dayOfNormal(d yard.Date) int {
	t := d.Time()
	return monthFirst[t.Month()-1] + min(t.Day(), monthLength[t.Month()-1]) - 1
}

// harmonics of the smooth course: enough to meet twelve monthly means, and
// damped by their fourth power, so that the course bends as little as it can.
const harmonics = 12

// Course returns the smoothest periodic daily course over the normal year
// whose monthly means are those given: among all sums of harmonics it is the
// one with the least mean squared second derivative. Monthly means are met to
// rounding.
func Course(monthly [12]float64) (course [yearDays]float64, err error) {
	n := 1 + 2*harmonics
	size := n + 12
	kkt := mat.NewDense(size, size, nil)
	rhs := mat.NewVecDense(size, nil)
	for j := 1; j < n; j++ {
		k := float64((j + 1) / 2)
		kkt.Set(j, j, k*k*k*k)
	}
	for m := range 12 {
		for j := range n {
			a := 0.0
			for d := monthFirst[m]; d < monthFirst[m]+monthLength[m]; d++ {
				a += harmonic(j, d)
			}
			a /= float64(monthLength[m])
			kkt.Set(n+m, j, a)
			kkt.Set(j, n+m, a)
		}
		rhs.SetVec(n+m, monthly[m])
	}
	var x mat.VecDense
	if err := x.SolveVec(kkt, rhs); err != nil {
		return course, fmt.Errorf("no smooth course through the monthly means %v: %w", monthly, err)
	}
	for d := range course {
		for j := range n {
			course[d] += x.AtVec(j) * harmonic(j, d)
		}
	}
	return course, nil
}

// harmonic is the j-th basis function on day d: 1, cos, sin, cos 2, sin 2, …
func harmonic(j, d int) float64 {
	if j == 0 {
		return 1
	}
	angle := 2 * math.Pi * float64((j+1)/2) * (float64(d) + 0.5) / yearDays
	if j%2 == 1 {
		return math.Cos(angle)
	}
	return math.Sin(angle)
}
