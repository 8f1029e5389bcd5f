package score

import (
	"math"
	"testing"

	"hodaba/yard"
)

// made is a report of n first harvests in which we are off by ours days and
// the rule of thumb by rule, give or take.
func made(n int, ours, rule float64) *Report {
	r := &Report{Yards: 1}
	for i := range n {
		d := float64(i % 5)
		on := day("2025-01-15") + yard.Date(30*i)
		f := Forecast{Made: on - 60, Ours: ours + d, Rule: rule + 2*d, Normals: ours + math.Abs(d-2)*4 - 2.8, Held: d / 4, Below: d / 40, UpTo: 0.1 + d/40, PIT: (float64(i) + 0.5) / float64(n), Zero: math.NaN(), Some: math.NaN()}
		g := f
		g.Made, g.Ours = on-300, ours+d+2
		r.Outcomes = append(r.Outcomes, Scored{Outcome{Kind: FirstHarvest, Pile: "a", Climate: "Oxford", On: on, To: on}, []Forecast{g, f}})
	}
	return r
}

// Nothing is judged by 19 outcomes, and by 20 there is a verdict.
func TestTooFewToJudge(t *testing.T) {
	few := made(19, 10, 20).SumOf(nil, nil)
	if few.Judged() || few.AgainstRule != TooFew || few.AgainstNormals != TooFew {
		t.Errorf("19: %+v", few)
	}
	enough := made(20, 10, 20).SumOf(nil, nil)
	if !enough.Judged() || enough.AgainstRule != Better || enough.AgainstNormals != Alike {
		t.Errorf("20: %+v", enough)
	}
	if worse := made(20, 20, 10).SumOf(nil, nil); worse.AgainstRule != Worse {
		t.Errorf("20, worse: %+v", worse)
	}
	if same := made(20, 10, 9).SumOf(nil, nil); same.AgainstRule != Alike {
		t.Errorf("20, about alike: %+v", same)
	}
}

// An outcome counts once, however many forecasts were made of it.
func TestSums(t *testing.T) {
	r := made(5, 10, 20)
	r.Outcomes[0].Forecasts = r.Outcomes[0].Forecasts[:1]
	s := r.SumOf(Of(FirstHarvest), nil)
	// Ours: 12, and then the means of 10+d+2 and 10+d, 12, 13, 14, 15.
	if s.Outcomes != 5 || s.Forecasts != 9 || math.Abs(s.Ours-(12+12+13+14+15)/5.0) > 1e-12 || math.Abs(s.Hits-2.5) > 1e-12 {
		t.Errorf("%+v", s)
	}
	if math.Abs(s.Under+s.Hits+s.Over-5) > 1e-12 {
		t.Errorf("below, in and above the range: %g, %g, %g", s.Under, s.Hits, s.Over)
	}
	near := r.SumOf(nil, Bands[0].Holds)
	if near.Outcomes != 4 || near.Forecasts != 4 {
		t.Errorf("up to three months before: %+v", near)
	}
	if s := r.SumOf(Of(Look), nil); s.Outcomes != 0 || !math.IsNaN(s.Ours) || !math.IsNaN(s.Coverage()) {
		t.Errorf("none: %+v", s)
	}
	sum := 0.0
	for _, p := range s.PIT {
		sum += p
	}
	if math.Abs(sum-1) > 1e-12 {
		t.Errorf("shares of the PIT add up to %g", sum)
	}
}

func TestGroupsAndPools(t *testing.T) {
	a, b := made(4, 10, 20), made(3, 10, 20)
	for i := range b.Outcomes {
		b.Outcomes[i].Climate = "Cork"
	}
	pool := Pool(a, b)
	if pool.Yards != 2 || len(pool.Outcomes) != 7 {
		t.Errorf("%d yards, %d outcomes", pool.Yards, len(pool.Outcomes))
	}
	got := map[string]int{}
	for _, g := range pool.Groups() {
		got[g.By+" "+g.Name] += g.Sum.Outcomes
	}
	// 15 January, 14 February, 16 March and 15 April: two of them in winter.
	want := map[string]int{"season December to February": 4, "season March to May": 3, "climate Oxford": 4, "climate Cork": 3}
	if len(got) != len(want) {
		t.Errorf("got %v", got)
	}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%s: %d, want %d", k, got[k], n)
		}
	}
}

// The forecast that is shown beside what came is that of about half a year
// before, and where it fell is told by the middle of what is known.
func TestAboutHalfAYearBefore(t *testing.T) {
	s := &Scored{Outcome: Outcome{On: day("2025-10-04")}}
	for _, d := range []string{"2024-10-01", "2025-01-01", "2025-04-01", "2025-07-01"} {
		s.Forecasts = append(s.Forecasts, Forecast{Made: day(d)})
	}
	if got := s.About().Made; got != day("2025-04-01") {
		t.Error(got)
	}
	for _, c := range []struct {
		below, upTo float64
		want        int
	}{{0, 0.1, -1}, {0, 0.3, 0}, {0.5, 0.5, 0}, {0.85, 1, 1}, {0, 1, 0}} {
		if got := (&Forecast{Below: c.below, UpTo: c.upTo}).Fell(); got != c.want {
			t.Errorf("from %g to %g: %d, want %d", c.below, c.upTo, got, c.want)
		}
	}
}
