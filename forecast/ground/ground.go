package ground

import (
	"math"

	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// Place is where logs stand or lie.
type Place struct {
	Buried   bool
	Shade    float64 // fraction
	Radius   float64 // m, of the log
	Depth    float64 // m, soil over the log; buried only
	Latitude float64 // degrees
	Night    float64 // °C by which nights there differ from the site's
	Day      float64 // °C by which days do
	Dry      float64 // share of the rain that is kept off
	Calm     float64 // share of the evaporative demand that is kept off
}

// Series is the temperature of the wood by day: its mean, and half the
// distance between its coldest and warmest hour, °C.
type Series struct{ Mean, Swing []float32 }

// Resize gives s room for n days.
func (s *Series) Resize(n int) {
	if cap(s.Mean) < n {
		s.Mean, s.Swing = make([]float32, n), make([]float32, n)
	}
	s.Mean, s.Swing = s.Mean[:n], s.Swing[:n]
}

// Model turns air into wood temperature at one place. It is safe for use by
// several goroutines, each with its own Series.
type Model struct {
	place Place
	sun   [366]float32 // °C by which a log there is warmer than in reference shade, by day of year
	lag   float64      // time constant of the log, days
	soil  *soil        // nil above ground
}

// NewModel prepares a place from the practice values.
func NewModel(p Place, pr *data.Practice) *Model {
	m := &Model{place: p}
	open := (pr.ReferenceShade.Value/100 - p.Shade) * pr.SunWarmth.Value * pr.ShadeDamp.Value
	for d := range m.sun {
		m.sun[d] = float32(open * sunHeight(d, p.Latitude))
	}
	density := pr.WoodDensity.Value
	heat := density * pr.WoodHeat.Value
	diffusivity := pr.WoodConductivity.Value / heat
	m.lag = LogLag(p.Radius, pr.SurfaceExchange.Value, heat, diffusivity) / 86400
	if p.Buried {
		m.soil = newSoil(p.Depth+p.Radius, pr.SoilDiffusivity.Value)
	}
	return m
}

// LogLag is the time constant in seconds with which a log follows the air:
// τ = ρc·r/(2h) + r²/(8α), the sum of what the surface film and the wood
// resist (lumped cylinder with the mean internal resistance of uniform
// heating; Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, from
// memory). r in m, h in W/m²K, heat ρc in J/m³K, diffusivity α in m²/s.
func LogLag(r, h, heat, diffusivity float64) float64 {
	return heat*r/(2*h) + r*r/(8*diffusivity)
}

// Damping is the share of a daily swing that comes through a first-order lag
// of τ days: 1/√(1+(ωτ)²), ω = 2π per day.
func Damping(lag float64) float64 {
	w := 2 * math.Pi * lag
	return 1 / math.Sqrt(1+w*w)
}

// sunHeight is the sine of the noon sun's height above the horizon on a day
// of the year, zero where it does not rise (declination after Cooper 1969,
// Solar Energy 12:333–346).
func sunHeight(day int, latitude float64) float64 {
	rad := math.Pi / 180
	declination := 23.45 * rad * math.Sin(2*math.Pi*(284+float64(day+1))/365)
	return math.Max(0, math.Cos(latitude*rad-declination))
}

// Fill computes the wood's temperature on each of the days of air, of which
// the first is from.
//
// Purpose: temperature where the mycelium lives. Equations: above ground a
// first-order lag τ (LogLag), swing damped by Damping; in a bed conduction
// into soil (see soil). Parameters: practice values, place. State: the
// temperature at the end of yesterday. Needs air from climate. Errors: none.
func (m *Model) Fill(s *Series, air []climate.Day, from yard.Date) {
	s.Resize(len(air))
	if len(air) == 0 {
		return
	}
	day := from.YearDay() - 1
	year := from.Year()
	length := daysIn(year)
	shift, widen := (m.place.Night+m.place.Day)/2, (m.place.Day-m.place.Night)/2
	surface := func(i int) (mean, swing float64) {
		return air[i].Mean() + float64(m.sun[day]) + shift, max(float64(air[i].TMax-air[i].TMin)/2+widen, 0)
	}
	step := func() {
		if day++; day == length {
			day, year = 0, year+1
			length = daysIn(year)
		}
	}
	if m.soil != nil {
		m.soil.fill(s, len(air), surface, step)
		return
	}
	damp := Damping(m.lag)
	// Over a day of constant air the log's mean is the air plus what is left
	// of the difference at the day's start.
	decay := math.Exp(-1 / m.lag)
	part := m.lag * (1 - decay)
	wood, _ := surface(0)
	for i := range air {
		mean, swing := surface(i)
		s.Mean[i] = float32(mean + (wood-mean)*part)
		s.Swing[i] = float32(swing * damp)
		wood = mean + (wood-mean)*decay
		step()
	}
}

func daysIn(year int) int {
	if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
		return 366
	}
	return 365
}
