package main

import (
	"strings"
	"testing"

	"hodaba/yard"
)

// FuzzNormals: a table of normals is refused in a line, or gives twelve months
// that can be.
func FuzzNormals(f *testing.F) {
	full := "month,tmin_c,tmax_c,rain_mm,rain_days\n"
	for _, m := range strings.Fields("jan feb mar apr may jun jul aug sep oct nov dec") {
		full += m + ",1,9,50,11\n"
	}
	f.Add(full)
	f.Add(strings.NewReplacer(",", ";", "tmin_c", "tmin_f", "rain_mm", "rain_in").Replace(full))
	f.Add("month,month,tmin_c\n1,\"2\n")
	f.Add("Month,TMIN_C,tmax_c,rain_mm\n13,1,2,3\nNaN,1e999,-0x1p4,\n")
	f.Fuzz(func(t *testing.T, text string) {
		n := normalTable{text: text, n: &yard.Normals{RainDayMM: 1}}
		if err := n.read(); err != nil {
			if err.Error() == "" || len(err.Error()) > 600 {
				t.Fatalf("%q: %d letters: %.200s", text, len(err.Error()), err)
			}
			return
		}
		for m := range 12 {
			if !(n.n.TMin[m] <= n.n.TMax[m] && n.n.TMin[m] > -100 && n.n.TMax[m] < 100 && n.n.Rain[m] >= 0 && n.n.Rain[m] < 1e5) {
				t.Fatalf("%q: month %d: %+v", text, m+1, n.n)
			}
		}
	})
}
