package score

import (
	"math"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

// The two simple forecasters against which a forecast is set.

// daysInMonth is the mean length of a month.
const daysInMonth = 365.25 / 12

// window is the trade's window of a strain, in months from inoculating. That
// of a strain that is only said to be slower than another is the other's times
// the same factor: what the factor is meant for are growing days, so this is
// no more than a rule of thumb, as it should be.
func window(sp *data.Species, st *data.Strain) (low, high float64, ok bool) {
	w, factor := &st.Window, 1.0
	if w.RelativeTo != "" {
		base, found := sp.FindStrain(w.RelativeTo)
		if !found {
			return 0, 0, false
		}
		factor, w = w.Factor, &base.Window
	}
	return factor * w.Low, factor * w.High, w.High > w.Low
}

// ruleOfThumb is the day of the first harvest, and that on which half of the
// logs are through, by the trade's rule: any day of the strain's window (12 to
// 18 months for most shiitake) is as likely as another. Logs that came run
// through have no such window: any day of their time of settling, as it stands
// in the reference values, counted from their burying or coming. ok is false
// where no window is known.
func ruleOfThumb(p *yard.Pile, sp *data.Species, st *data.Strain, pr *data.Practice) (s Steps, ok bool) {
	low, high, ok := window(sp, st)
	since := p.Since.Mid()
	if through(p) {
		low, high, ok = pr.SettleMonths.Low, pr.SettleMonths.High, true
		if !p.Arrived.IsZero() {
			since = p.Arrived.Mid()
		}
	}
	if !ok {
		return Steps{}, false
	}
	day := func(months float64) int { return int(since) + int(math.Round(months*daysInMonth)) }
	return even(day(low), day(high)), true
}

// through reports whether a pile's logs were run through when they came.
func through(p *yard.Pile) bool { return p.Colonised || p.State == "through" }

// ruleOfThumbLook are the chances of 0, 1, … white rings of n on a day, each
// log being through with the chance that the window gives, for itself.
func ruleOfThumbLook(s Steps, on yard.Date, n int) []float64 {
	return binomial(n, s.P(float64(on)))
}

func binomial(n int, p float64) []float64 {
	chances := make([]float64, n+1)
	logs := func(k int) float64 {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(k + 1))
		c, _ := math.Lgamma(float64(n - k + 1))
		return a - b - c
	}
	for k := range chances {
		switch {
		case p <= 0:
			chances[0] = 1
		case p >= 1:
			chances[n] = 1
		default:
			chances[k] = math.Exp(logs(k) + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
		}
	}
	return chances
}

// thermalTime is the day of the first harvest by thermal time on monthly
// normals alone: the day on which half of the logs are through in mean years,
// or tomorrow if that is past, then the first month of the strain's season by
// the same normals, then its days from trigger to picking at that month's
// mean. Nothing measured, nothing seen, no draws of weather.
func thermalTime(half Steps, made yard.Date, st *data.Strain, normals *[12]forecast.SiteNormal) Steps {
	var days, chances []float64
	before := 0.0
	for i, x := range half.At {
		p := half.UpTo[i] - before
		before = half.UpTo[i]
		if on, ok := inSeason(max(yard.Date(x), made+1), st, normals); ok {
			days, chances = append(days, float64(on)), append(chances, p)
		}
	}
	return stepsOf(days, chances)
}

// yearsSearched is how far the next month of a season is looked for.
const yearsSearched = 2

// inSeason is the first day of picking of logs that are ready on a day.
func inSeason(ready yard.Date, st *data.Strain, normals *[12]forecast.SiteNormal) (yard.Date, bool) {
	f := &st.Fruit
	for range 12*yearsSearched + 1 {
		if m := int(ready.Month()) - 1; season(m, f, normals) {
			warm := (mean(normals, m) - f.BandLow.Value) / math.Max(f.BandHigh.Value-f.BandLow.Value, 1)
			days := f.DaysCool.Value + (f.DaysWarm.Value-f.DaysCool.Value)*min(max(warm, 0), 1)
			return ready + yard.Date(math.Round(days)), true
		}
		ready = ready.MonthStart().AddMonths(1)
	}
	return 0, false
}

// season reports whether a strain fruits in a month of a mean year. A strain
// of the falling side of the year needs a month colder than the one before.
func season(m int, f *data.Fruit, normals *[12]forecast.SiteNormal) bool {
	t := mean(normals, m)
	if t < f.BandLow.Value || t > f.BandHigh.Value {
		return false
	}
	return f.Season != "falling" || (t < mean(normals, (m+11)%12) && t < f.StartBelow.Value)
}

func mean(normals *[12]forecast.SiteNormal, m int) float64 {
	return (normals[m].TMin + normals[m].TMax) / 2
}
