package charts

import (
	"hodaba/forecast"
	"hodaba/forecast/climate"
)

// recordJSON is the own weather; null where there is none.
type recordJSON struct {
	From      isoDay       `json:"from"`
	To        isoDay       `json:"to"`
	TempDays  int          `json:"temperature_days"`
	RainDays  int          `json:"rain_days"`
	Years     jsonNumber   `json:"temperature_years"`
	TMin      []jsonNumber `json:"tmin_c"`
	TMax      []jsonNumber `json:"tmax_c"`
	Rain      []jsonNumber `json:"rain_mm"`
	Corrected bool         `json:"corrects_normals"`
	Strange   string       `json:"looks_like_another_place,omitempty"`
}

// normalJSON is one month of a mean year.
type normalJSON struct {
	Month   int        `json:"month"`
	TMin    jsonNumber `json:"tmin_c"`
	TMax    jsonNumber `json:"tmax_c"`
	Rain    jsonNumber `json:"rain_mm"`
	WetDays jsonNumber `json:"wet_days"`
}

// siteAheadJSON is what the weather ahead is like; null where nothing is
// forecast.
type siteAheadJSON struct {
	HardFrost hardFrostJSON   `json:"hard_frost"`
	LastFrost lastFrostJSON   `json:"last_frost"`
	HotDays   amountJSON      `json:"hot_days_year_ahead"`
	Months    []siteMonthJSON `json:"months"`
	Weeks     []siteWeekJSON  `json:"reference_log_weeks"`
	Growth    siteGrowthJSON  `json:"growth"`
}

type hardFrostJSON struct {
	Chance jsonNumber `json:"chance_within_year"`
	P10    isoDay     `json:"p10"`
	P50    isoDay     `json:"p50"`
	P90    isoDay     `json:"p90"`
}

type lastFrostJSON struct {
	Chance jsonNumber `json:"chance_before_summer"`
	P10    isoDay     `json:"p10"`
	P50    isoDay     `json:"p50"`
	P90    isoDay     `json:"p90"`
}

type siteMonthJSON struct {
	Month string     `json:"month"`
	Air   amountJSON `json:"air_c"`
	Log   amountJSON `json:"log_c"`
	Soil  amountJSON `json:"soil_c"`
	Rain  amountJSON `json:"rain_mm"`
}

type siteWeekJSON struct {
	Day       isoDay     `json:"day"`
	Moisture  amountJSON `json:"moisture_percent_wet_basis"`
	DryChance jsonNumber `json:"water_due_chance"`
}

type siteGrowthJSON struct {
	Species string          `json:"species"`
	Strain  string          `json:"strain,omitempty"`
	SoFar   amountJSON      `json:"physiological_days_so_far"`
	Usual   amountJSON      `json:"physiological_days_usual"`
	Past    []yearSoFarJSON `json:"measured_years"`
}

type yearSoFarJSON struct {
	Year int        `json:"year"`
	Days jsonNumber `json:"physiological_days"`
}

// moistureJSON is that of a pile's logs; null for a bed.
type moistureJSON struct {
	Now  amountJSON `json:"now_percent_wet_basis"`
	Dry  jsonNumber `json:"water_due_chance_two_weeks"`
	Lost jsonNumber `json:"spawn_lost_chance"`
}

func moistureOf(m *forecast.Moisture) *moistureJSON {
	if m == nil {
		return nil
	}
	return &moistureJSON{percentAmount(m.Now), chanceNumber(m.DryChance), chanceNumber(m.Lost)}
}

// percentAmount writes fractions as percent.
func percentAmount(a forecast.Amount) amountJSON {
	return smallAmount(forecast.Amount{P10: 100 * a.P10, P50: 100 * a.P50, P90: 100 * a.P90, Mean: 100 * a.Mean})
}

func recordOf(r *climate.Record) *recordJSON {
	if r.TempDays == 0 && r.RainDays == 0 {
		return nil
	}
	months := func(values [12]float64) []jsonNumber {
		out := make([]jsonNumber, len(values))
		for i, v := range values {
			out[i] = smallNumber(v)
		}
		return out
	}
	return &recordJSON{
		From: isoDay(r.From), To: isoDay(r.To), TempDays: r.TempDays, RainDays: r.RainDays, Years: smallNumber(r.Years),
		TMin: months(r.TMin), TMax: months(r.TMax), Rain: months(r.Rain), Corrected: r.Corrected, Strange: r.Strange,
	}
}

func normalsOf(n *[12]forecast.SiteNormal) []normalJSON {
	out := []normalJSON{}
	if *n == [12]forecast.SiteNormal{} {
		return out
	}
	for i, m := range n {
		out = append(out, normalJSON{i + 1, smallNumber(m.TMin), smallNumber(m.TMax), smallNumber(m.Rain), smallNumber(m.WetDays)})
	}
	return out
}

func aheadOf(a *forecast.SiteAhead) *siteAheadJSON {
	if len(a.Months) == 0 {
		return nil
	}
	h, l := a.HardFrost, a.LastFrost
	out := &siteAheadJSON{
		HardFrost: hardFrostJSON{chanceNumber(h.Chance), isoDay(h.P10), isoDay(h.P50), isoDay(h.P90)},
		LastFrost: lastFrostJSON{chanceNumber(l.Chance), isoDay(l.P10), isoDay(l.P50), isoDay(l.P90)},
		HotDays:   smallAmount(a.HotDays), Months: []siteMonthJSON{}, Weeks: []siteWeekJSON{},
		Growth: siteGrowthJSON{a.Species, a.Strain, smallAmount(a.SoFar), smallAmount(a.Usual), []yearSoFarJSON{}},
	}
	for _, m := range a.Months {
		out.Months = append(out.Months, siteMonthJSON{m.Month.MonthString(), smallAmount(m.Air), smallAmount(m.Log), smallAmount(m.Soil), smallAmount(m.Rain)})
	}
	for _, w := range a.Weeks {
		out.Weeks = append(out.Weeks, siteWeekJSON{isoDay(w.Day), percentAmount(w.Moisture), chanceNumber(w.DryChance)})
	}
	for _, y := range a.Past {
		out.Growth.Past = append(out.Growth.Past, yearSoFarJSON{y.Year, smallNumber(y.Days)})
	}
	return out
}
