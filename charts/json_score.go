package charts

import (
	"math"

	"hodaba/forecast/score"
	"hodaba/yard"
)

// scoreJSON is how right past forecasts were; what was not scored is null.
type scoreJSON struct {
	Forecasts    int        `json:"forecasts"`
	Days         jsonNumber `json:"crps_days"`
	DaysRule     jsonNumber `json:"crps_days_rule_of_thumb"`
	DaysNormals  jsonNumber `json:"crps_days_normals_only"`
	Coverage     jsonNumber `json:"coverage_p10_p90"`
	Fresh        jsonNumber `json:"fresh_kg_crps"`
	FreshNormals jsonNumber `json:"fresh_kg_crps_normals_only"`
	FreshSome    jsonNumber `json:"fresh_kg_crps_given_some"`
	FreshZero    jsonNumber `json:"fresh_kg_zero_brier"`
	Looks        jsonNumber `json:"looks_rps"`
	LooksRule    jsonNumber `json:"looks_rps_rule_of_thumb"`
	LooksNormals jsonNumber `json:"looks_rps_normals_only"`

	Outcomes    int              `json:"outcomes"`
	Few         int              `json:"outcomes_to_judge"`
	Judged      bool             `json:"judged"`
	OddClimate  int              `json:"outcomes_in_odd_climates"`
	Replays     []isoDay         `json:"replayed_on"`
	EveryMonths int              `json:"replayed_every_months"`
	Draws       int              `json:"draws"`
	Kinds       []scoreGroupJSON `json:"kinds"`
	Groups      []scoreGroupJSON `json:"groups"`
	Leads       []scoreGroupJSON `json:"leads"`
	Scored      []scoredJSON     `json:"scored"`
}

// scoreGroupJSON is a group of outcomes of one kind. Scores are CRPS in days,
// ranked probability from 0 to 1, or CRPS in kg.
type scoreGroupJSON struct {
	Kind           string       `json:"kind"`
	By             string       `json:"by,omitempty"` // "season", "climate" or "months_before"
	Name           string       `json:"name,omitempty"`
	Outcomes       int          `json:"outcomes"`
	Forecasts      int          `json:"forecasts"`
	Score          jsonNumber   `json:"score"`
	Rule           jsonNumber   `json:"score_rule_of_thumb"`
	Normals        jsonNumber   `json:"score_normals_only"`
	AgainstRule    string       `json:"against_rule_of_thumb"`
	AgainstNormals string       `json:"against_normals_only"`
	Hits           jsonNumber   `json:"hits_p10_p90"`
	HitsLow        int          `json:"hits_right_from"`
	HitsHigh       int          `json:"hits_right_to"`
	PIT            []jsonNumber `json:"pit"`
}

// scoredJSON is one outcome with the forecasts that were made of it.
type scoredJSON struct {
	Kind      string              `json:"kind"`
	Yard      string              `json:"yard"`
	Climate   string              `json:"climate"`
	Pile      string              `json:"pile"`
	Species   string              `json:"species"`
	On        isoDay              `json:"on"`
	NotBefore *isoDay             `json:"not_before,omitempty"`
	By        *isoDay             `json:"by,omitempty"` // absent where it had not come
	With      *int                `json:"with_mycelium,omitempty"`
	LookedAt  int                 `json:"looked_at,omitempty"`
	LowKG     *jsonNumber         `json:"fresh_kg_low,omitempty"`
	HighKG    *jsonNumber         `json:"fresh_kg_high,omitempty"`
	Forecasts []scoreForecastJSON `json:"forecasts"`
}

type scoreForecastJSON struct {
	Made    isoDay     `json:"made"`
	P10     any        `json:"p10"` // a day, a number of log ends or kg
	P50     any        `json:"p50"`
	P90     any        `json:"p90"`
	Score   jsonNumber `json:"score"`
	Rule    jsonNumber `json:"score_rule_of_thumb"`
	Normals jsonNumber `json:"score_normals_only"`
	PIT     jsonNumber `json:"pit"`
	Held    jsonNumber `json:"held"`
}

// ScoreJSON is a report for programs.
func ScoreJSON(r *score.Report) ([]byte, error) {
	sum := r.SumOf(nil, nil)
	first, look, kg := r.SumOf(score.Of(score.FirstHarvest), nil), r.SumOf(score.Of(score.Look), nil), r.SumOf(score.Of(score.Kilograms), nil)
	out := scoreJSON{
		Forecasts: sum.Forecasts, Days: smallNumber(first.Ours), DaysRule: smallNumber(first.Rule), DaysNormals: smallNumber(first.Normals),
		Coverage: chanceNumber(sum.Coverage()), Fresh: kgNumber(kg.Ours), FreshNormals: kgNumber(kg.Normals),
		FreshSome: kgNumber(kg.Some), FreshZero: chanceNumber(kg.Zero),
		Looks: chanceNumber(look.Ours), LooksRule: chanceNumber(look.Rule), LooksNormals: chanceNumber(look.Normals),
		Outcomes: sum.Outcomes, Few: score.FewOutcomes, Judged: sum.Judged(), OddClimate: r.Odd(),
		Replays: []isoDay{}, EveryMonths: r.Every, Draws: r.Draws,
		Kinds: []scoreGroupJSON{}, Groups: []scoreGroupJSON{}, Leads: []scoreGroupJSON{}, Scored: []scoredJSON{},
	}
	for _, d := range r.Replays {
		out.Replays = append(out.Replays, isoDay(d))
	}
	for _, k := range score.Kinds {
		s := r.SumOf(score.Of(k), nil)
		if s.Outcomes == 0 {
			continue
		}
		out.Kinds = append(out.Kinds, scoreGroupOf(k, "", "", s))
		for i, band := range score.Bands {
			if s := r.SumOf(score.Of(k), band.Holds); s.Outcomes > 0 {
				out.Leads = append(out.Leads, scoreGroupOf(k, "months_before", bandWords[i], s))
			}
		}
	}
	for _, g := range r.Groups() {
		out.Groups = append(out.Groups, scoreGroupOf(g.Kind, g.By, g.Name, g.Sum))
	}
	for i := range r.Outcomes {
		out.Scored = append(out.Scored, scoredOf(&r.Outcomes[i]))
	}
	return encode(out)
}

func scoreGroupOf(k score.Kind, by, name string, s *score.Sum) scoreGroupJSON {
	g := scoreGroupJSON{Kind: string(k), By: by, Name: name, Outcomes: s.Outcomes, Forecasts: s.Forecasts,
		Score: chanceNumber(s.Ours), Rule: chanceNumber(s.Rule), Normals: chanceNumber(s.Normals),
		AgainstRule: string(s.AgainstRule), AgainstNormals: string(s.AgainstNormals),
		Hits: smallNumber(s.Hits), HitsLow: s.HitsLow, HitsHigh: s.HitsHigh}
	for _, p := range s.PIT {
		g.PIT = append(g.PIT, chanceNumber(p))
	}
	return g
}

func scoredOf(s *score.Scored) scoredJSON {
	out := scoredJSON{Kind: string(s.Kind), Yard: s.Yard, Climate: s.Climate, Pile: s.Pile, Species: s.Species, On: isoDay(s.On)}
	switch s.Kind {
	case score.FirstHarvest:
		from, to := isoDay(s.From), isoDay(s.To)
		out.NotBefore = &from
		if !s.Open() {
			out.By = &to
		}
	case score.Look:
		out.With, out.LookedAt = &s.With, s.LookedAt
	case score.Kilograms:
		low, high := kgNumber(s.LowKG), kgNumber(s.HighKG)
		out.LowKG, out.HighKG = &low, &high
	}
	for _, f := range s.Forecasts {
		out.Forecasts = append(out.Forecasts, scoreForecastJSON{Made: isoDay(f.Made), P10: saidJSON(s, f.P10), P50: saidJSON(s, f.P50), P90: saidJSON(s, f.P90),
			Score: chanceNumber(f.Ours), Rule: chanceNumber(f.Rule), Normals: chanceNumber(f.Normals), PIT: chanceNumber(f.PIT), Held: chanceNumber(f.Held)})
	}
	return out
}

// saidJSON is one value that was said; null where it was not reached.
func saidJSON(s *score.Scored, x float64) any {
	if math.IsNaN(x) {
		return nil
	}
	if s.Kind == score.FirstHarvest {
		return isoDay(yard.Date(x))
	}
	return kgNumber(x)
}
