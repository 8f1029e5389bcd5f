package charts

import "hodaba/forecast"

type whyJSON struct {
	GrowingDays amountJSON   `json:"growing_days_so_far"`
	NeedDays    amountJSON   `json:"growing_days_needed"`
	Season      *seasonJSON  `json:"season"`
	Before      datesJSON    `json:"before"`
	Others      othersJSON   `json:"other_piles"`
	Now         datesJSON    `json:"now"`
	Seen        []effectJSON `json:"seen"`
	Contradicts bool         `json:"contradicts"`
	Visit       *visitJSON   `json:"visit"`
}

type seasonJSON struct {
	From  isoDay     `json:"from"`
	SoFar amountJSON `json:"so_far"`
	Usual amountJSON `json:"usual"`
}

type datesJSON struct {
	P10 isoDay `json:"p10"`
	P50 isoDay `json:"p50"`
	P90 isoDay `json:"p90"`
}

type othersJSON struct {
	datesJSON
	Moves *int `json:"moves_days"`
}

type effectJSON struct {
	On    isoDay `json:"on"`
	Kind  string `json:"kind"`
	Says  string `json:"says"`
	Moves *int   `json:"moves_days"`
}

type visitJSON struct {
	On   isoDay `json:"on"` // null: no day of its own
	What string `json:"what"`
	Ends *int   `json:"ends"`
	Now  int    `json:"range_days_now"`
	Then *int   `json:"range_days_then"`
}

// WhyJSON is ForecastJSON with why each pile's forecast is what it is: null
// for logs that were through when they came.
func WhyJSON(r *forecast.Result) ([]byte, error) {
	out := forecastOf(r)
	for i, p := range r.Piles {
		w := whyFields(p)
		out.Piles[i].Why = &w
	}
	return encode(out)
}

func whyFields(p *forecast.Pile) *whyJSON {
	w := p.Why
	if w == nil {
		return nil
	}
	out := &whyJSON{
		GrowingDays: smallAmount(p.GrowingDays), NeedDays: smallAmount(p.NeedDays),
		Before: datesOf(w.Unlearned), Others: othersJSON{datesJSON: datesOf(w.Others)}, Now: datesOf(w.Now),
		Seen: []effectJSON{}, Contradicts: w.Contradicts,
	}
	if w.Season != (forecast.Amount{}) || w.Usual != (forecast.Amount{}) {
		out.Season = &seasonJSON{isoDay(w.From), smallAmount(w.Season), smallAmount(w.Usual)}
	}
	if w.Unlearned.P50 != 0 && w.Others.P50 != 0 {
		out.Others.Moves = &w.OthersDays
	}
	for i := range w.Effects {
		e := &w.Effects[i]
		j := effectJSON{On: isoDay(e.Seen.On.Mid()), Kind: e.Seen.Kind, Says: seenOf(e, w)}
		if n, ok := effectDays(e, w); ok {
			j.Moves = &n
		}
		out.Seen = append(out.Seen, j)
	}
	if v := w.Visit; v != nil {
		out.Visit = &visitJSON{On: isoDay(v.On), What: "go round", Now: v.NowDays}
		if !v.Round {
			ends := endsOf(p)
			out.Visit.What, out.Visit.Ends, out.Visit.Then = "look at ends", &ends, &v.Then
		}
	}
	return out
}

func datesOf(d forecast.Dates) datesJSON {
	return datesJSON{isoDay(d.P10), isoDay(d.P50), isoDay(d.P90)}
}
