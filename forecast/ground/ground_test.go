package ground

import (
	"math"
	"testing"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

func practice(t testing.TB) *data.Practice {
	t.Helper()
	set, err := data.Load()
	if err != nil {
		t.Fatal(err)
	}
	return &set.Practice
}

var start = yard.NewDate(2020, 1, 1)

// wave is n days of air about 10 °C with a yearly wave of 8 °C and a daily
// range.
func wave(n int, span float64) []climate.Day {
	air := make([]climate.Day, n)
	for i := range air {
		m := 10 + 8*math.Sin(2*math.Pi*float64(i)/365.25)
		air[i] = climate.Day{TMin: float32(m - span/2), TMax: float32(m + span/2)}
	}
	return air
}

// A log of 6 cm radius lags about three hours behind the air (judgement; log
// temperature about an hour behind on a grower's page).
func TestLogLag(t *testing.T) {
	pr := practice(t)
	heat := pr.WoodDensity.Value * pr.WoodHeat.Value
	hours := LogLag(0.06, pr.SurfaceExchange.Value, heat, pr.WoodConductivity.Value/heat) / 3600
	if hours < 2 || hours > 4.5 {
		t.Errorf("lag %.2f hours", hours)
	}
	if thin, thick := LogLag(0.04, 10, heat, 1e-7), LogLag(0.1, 10, heat, 1e-7); thin >= thick {
		t.Error("a thin log lags more than a thick one")
	}
}

func TestDamping(t *testing.T) {
	if d := Damping(0); d != 1 {
		t.Errorf("no lag damps to %g", d)
	}
	// ωτ = 1: the amplitude of a first-order lag at its corner is 1/√2.
	if d := Damping(1 / (2 * math.Pi)); math.Abs(d-1/math.Sqrt2) > 1e-12 {
		t.Errorf("at the corner %g", d)
	}
}

// In reference shade a log's days have the air's mean over the year and a
// smaller swing.
func TestLogFollowsAir(t *testing.T) {
	pr := practice(t)
	air := wave(730, 10)
	var s Series
	NewModel(Place{Shade: pr.ReferenceShade.Value / 100, Radius: 0.06, Latitude: 52}, pr).Fill(&s, air, start)
	sum := 0.0
	for i := range s.Mean {
		sum += float64(s.Mean[i]) - air[i].Mean()
		if s.Swing[i] >= 5 || s.Swing[i] <= 2 {
			t.Fatalf("day %d: swing %.2f of 5 °C", i, s.Swing[i])
		}
	}
	if m := sum / float64(len(air)); math.Abs(m) > 0.02 {
		t.Errorf("the log is %.3f °C warmer than the air over two years", m)
	}
}

func TestShadeKeepsCool(t *testing.T) {
	pr := practice(t)
	air := wave(365, 10)
	mean := func(shade float64) float64 {
		var s Series
		NewModel(Place{Shade: shade, Radius: 0.06, Latitude: 52}, pr).Fill(&s, air, start)
		sum := 0.0
		for _, x := range s.Mean {
			sum += float64(x)
		}
		return sum
	}
	if !(mean(0) > mean(0.5) && mean(0.5) > mean(1)) {
		t.Error("a log in the open is not warmer than one in shade")
	}
}

// A frost pocket has colder nights, a south slope warmer days.
func TestExposure(t *testing.T) {
	pr := practice(t)
	air := wave(365, 10)
	coldest := func(night, day float64) (lo, hi float64) {
		var s Series
		NewModel(Place{Shade: 0.8, Radius: 0.06, Latitude: 52, Night: night, Day: day}, pr).Fill(&s, air, start)
		return float64(s.Mean[100] - s.Swing[100]), float64(s.Mean[100] + s.Swing[100])
	}
	lo, hi := coldest(0, 0)
	if l, h := coldest(-2, 0); l > lo-1 || h > hi+1e-6 {
		t.Errorf("a frost pocket: %.2f to %.2f, elsewhere %.2f to %.2f", l, h, lo, hi)
	}
	if _, h := coldest(0, 1.5); h < hi+1 {
		t.Errorf("a south slope reaches %.2f, elsewhere %.2f", h, hi)
	}
}

// The yearly wave in soil against its analytic solution A·e^(−z/d) sin(ωt −
// z/d), d = √(2κ/ω) (Carslaw & Jaeger, Conduction of Heat in Solids, section
// 2.6, from memory): amplitude within 1 %, lag within a day, at three depths.
func TestAgainstYearlyWave(t *testing.T) {
	kappa := practice(t).SoilDiffusivity.Value
	d := DampingDepth(kappa, 365.25)
	for _, z := range []float64{0.1, 0.5, 1.5} {
		s := newSoil(z, kappa)
		n := 365 * 12
		var out Series
		out.Resize(n)
		surface := func(i int) (float64, float64) {
			return 10 + 8*math.Sin(2*math.Pi*(float64(i)+0.5)/365.25), 5
		}
		s.fill(&out, n, surface, func() {})
		amplitude, phase := fitWave(out.Mean[n-4*365:], n-4*365)
		if want := 8 * math.Exp(-z/d); math.Abs(amplitude/want-1) > 0.01 {
			t.Errorf("%.1f m: amplitude %.4f, want %.4f", z, amplitude, want)
		}
		lag, want := phase*365.25/(2*math.Pi), z/d*365.25/(2*math.Pi)
		if math.Abs(lag-want) > 1 {
			t.Errorf("%.1f m: lag %.2f days, want %.2f", z, lag, want)
		}
	}
}

// fitWave is the amplitude and lag in radians of a yearly wave through whole
// years of days from first on.
func fitWave(x []float32, first int) (amplitude, lag float64) {
	var a, b float64
	n := 0
	for i, v := range x {
		if i >= 1461-1 {
			break
		}
		w := 2 * math.Pi * (float64(first+i) + 0.5) / 365.25
		a += float64(v) * math.Sin(w)
		b += float64(v) * math.Cos(w)
		n++
	}
	a, b = 2*a/float64(n), 2*b/float64(n)
	return math.Hypot(a, b), math.Atan2(-b, a)
}

// The daily swing at 5 cm keeps about 65 % of the surface's, for a daily
// damping depth of 0.12 m (e^(−0.05/0.12) = 0.659).
func TestDailySwingInSoil(t *testing.T) {
	kappa := practice(t).SoilDiffusivity.Value
	if d := DampingDepth(kappa, 1); math.Abs(d-0.12) > 0.01 {
		t.Errorf("daily damping depth %.3f m", d)
	}
	if s := newSoil(0.05, kappa); math.Abs(s.daily-0.659) > 0.03 {
		t.Errorf("at 5 cm %.3f of the daily swing", s.daily)
	}
}

// A column of one temperature stays at it, and a step of the surface comes
// through in the end.
func TestSoilAtRest(t *testing.T) {
	s := newSoil(0.1, practice(t).SoilDiffusivity.Value)
	x := make([]float64, len(s.fade))
	s.rest(x, 12)
	for range 100 {
		s.advance(x, 12)
	}
	if got := s.at(x, 12); math.Abs(got-12) > 1e-9 {
		t.Errorf("at rest at 12 °C it comes to %.6f", got)
	}
	for range 40 * 365 {
		s.advance(x, 20)
	}
	if got := s.at(x, 20); math.Abs(got-20) > 1e-3 {
		t.Errorf("after forty years at 20 °C it is %.4f", got)
	}
}

// Warmth put into an insulated column stays in it: over a step the gain of
// the column is what flows in at the surface. The column is put together from
// its modes and stepped beside a plain elimination.
func TestSoilKeepsHeat(t *testing.T) {
	s := newSoil(0.1, 5e-7)
	n := len(s.z)
	column, heat, flow := make([]float64, n), 0.0, 0.0
	x := make([]float64, len(s.fade))
	for range 50 {
		column = stepColumn(s, column, 10)
		s.advance(x, 10)
		flow += s.lower[1] * s.width(1) * (column[0] - column[1])
	}
	for i := 1; i < n; i++ {
		heat += s.width(i) * column[i]
	}
	if math.Abs(heat-flow) > 1e-9*flow {
		t.Errorf("the column gained %.6f K·m, %.6f flowed in", heat, flow)
	}
	below := 0
	for s.z[below+1] <= 0.1 {
		below++
	}
	share := (0.1 - s.z[below]) / (s.z[below+1] - s.z[below])
	if want := column[below]*(1-share) + column[below+1]*share; math.Abs(s.at(x, 10)-want) > 1e-9 {
		t.Errorf("the modes give %.9f, elimination %.9f", s.at(x, 10), want)
	}
}

// stepColumn solves one implicit step by elimination.
func stepColumn(s *soil, old []float64, surface float64) []float64 {
	n := len(old)
	t, factor := append([]float64(nil), old...), make([]float64, n)
	t[0] = surface
	for i := 1; i < n; i++ {
		pivot := 1 + s.lower[i] + s.upper[i] - s.lower[i]*factor[i-1]
		factor[i] = s.upper[i] / pivot
		t[i] = (t[i] + s.lower[i]*t[i-1]) / pivot
	}
	for i := n - 2; i >= 1; i-- {
		t[i] += factor[i] * t[i+1]
	}
	return t
}

func TestNoDays(t *testing.T) {
	var s Series
	NewModel(Place{Radius: 0.06}, practice(t)).Fill(&s, nil, start)
	NewModel(Place{Radius: 0.06, Buried: true, Depth: 0.05}, practice(t)).Fill(&s, wave(3, 5), start)
	if len(s.Mean) != 3 {
		t.Errorf("%d days", len(s.Mean))
	}
}
