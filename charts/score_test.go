package charts

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"hodaba/forecast"
	"hodaba/forecast/score"
	"hodaba/yard"
)

// scored gives a yard an invented past: two first harvests and one that has
// not come, two looks and two years of kilograms, and a forecast that missed.
func scored(in Input) Input {
	names := []string{"oak-north", "oak-old", "elm-2024"}
	for i, p := range in.State.Piles[:min(len(in.State.Piles), 3)] {
		names[i] = p.Name
	}
	nan := math.NaN()
	f := func(made string, p10, p50, p90, ours, rule, normals, below, upTo float64) score.Forecast {
		return score.Forecast{Made: day(made), P10: p10, P50: p50, P90: p90, Ours: ours, Rule: rule, Normals: normals, Below: below, UpTo: upTo,
			Held: score.Held(below, upTo, 0.8), PIT: (below + upTo) / 2, Zero: nan, Some: nan}
	}
	d := func(s string) float64 { return float64(day(s)) }
	some := f("2025-01-01", 2, 8, 14, 2.5, nan, 4.1, 0.7, 0.7)
	some.Zero, some.Some = 0.01, 2.3
	none := f("2025-01-01", 0, 0.4, 2.2, 0.3, nan, 0.6, 0, 0.35)
	none.Zero = 0.42
	about := func(pile string, k score.Kind, on string) score.Outcome {
		return score.Outcome{Yard: "Beech bottom", Climate: "Oxford", Pile: pile, Species: "shiitake", Kind: k, On: day(on)}
	}
	first := about(names[1], score.FirstHarvest, "2025-10-04")
	first.From, first.To = day("2025-08-31"), day("2025-10-04")
	exact := about(names[0], score.FirstHarvest, "2026-04-19")
	exact.From, exact.To, exact.Odd = day("2026-04-19"), day("2026-04-19"), true
	open := about(names[2], score.FirstHarvest, "2026-04-25")
	open.From = day("2026-04-26")
	look, again := about(names[0], score.Look, "2025-11-08"), about(names[0], score.Look, "2026-04-11")
	look.With, look.LookedAt, again.With, again.LookedAt = 3, 10, 8, 8
	kg, zero := about(names[1], score.Kilograms, "2025-12-31"), about(names[2], score.Kilograms, "2025-12-31")
	kg.Year, kg.LowKG, kg.HighKG, zero.Year = 2025, 10.5, 11.5, 2025
	in.Score = &score.Report{Yards: 1, Draws: 120, Every: 6, Replays: []yard.Date{day("2025-01-01"), day("2025-07-01"), day("2026-01-01")},
		Outcomes: []score.Scored{
			{Outcome: first, Forecasts: []score.Forecast{f("2025-01-01", d("2025-05-10"), d("2025-09-20"), d("2026-05-12"), 21, 34, 40, 0.3, 0.6), f("2025-07-01", d("2025-09-01"), d("2025-09-25"), d("2026-04-28"), 14, 41, 33, 0.2, 0.6)}},
			{Outcome: exact, Forecasts: []score.Forecast{f("2025-07-01", d("2026-05-10"), d("2026-09-20"), d("2027-05-12"), 80, 44, 60, 0.04, 0.05)}},
			{Outcome: open, Forecasts: []score.Forecast{f("2026-01-01", d("2026-09-10"), nan, nan, 0, 20, 0, 0.01, 1)}},
			{Outcome: look, Forecasts: []score.Forecast{f("2025-07-01", 1, 4, 7, 0.08, 0.2, 0.15, 0.3, 0.42)}},
			{Outcome: again, Forecasts: []score.Forecast{f("2026-01-01", 2, 4, 6, 0.31, 0.2, 0.25, 0.97, 1)}},
			{Outcome: kg, Forecasts: []score.Forecast{some}},
			{Outcome: zero, Forecasts: []score.Forecast{none}},
		}}
	in.Missed = []score.Miss{{Pile: names[0], Kind: score.NothingCame, Made: day("2025-11-01"), First: true, By: day("2026-04-20"), Chance: 0.86,
		Now: forecast.FirstHarvest{Dates: forecast.Dates{P50: day("2026-09-12")}}, Why: score.Why{Kind: score.WhyRain, Month: day("2026-03-01"), RainMM: 6, UsualMM: 58}}}
	return in
}

// unscored has looked for a past and found none.
func unscored(in Input) Input {
	in.Score = &score.Report{Yards: 1, Draws: 120, Every: 6}
	return in
}

// many is a report with n first harvests, each foretold within a day.
func many(n int) *score.Report {
	r := &score.Report{Yards: 1, Draws: 300, Every: 3, Replays: []yard.Date{day("2024-01-01")}}
	for i := range n {
		on := day("2024-03-01") + yard.Date(i)
		r.Outcomes = append(r.Outcomes, score.Scored{
			Outcome:   score.Outcome{Climate: "Oxford", Pile: "a", Kind: score.FirstHarvest, On: on, From: on, To: on},
			Forecasts: []score.Forecast{{Made: day("2024-01-01"), P10: float64(on - 9), P50: float64(on), P90: float64(on + 9), Ours: 1 + float64(i%3)/10, Rule: 30 + float64(i%5), Normals: 1 + float64(i%2)/5, Below: 0.5, UpTo: 0.5, Held: 1, PIT: 0.5, Zero: math.NaN(), Some: math.NaN()}}})
	}
	return r
}

// With 19 outcomes nothing is judged, in words or in figures; with 20 it is.
func TestTooFewAreNotJudged(t *testing.T) {
	said := func(n int) string { return strings.Join(strings.Fields(Terminal{}.Score("Fernbrook", many(n))), " ") }
	few, enough := said(19), said(20)
	for _, want := range []string{"19 fell into the range that we said 8 times in 10: too few to judge.", "19 harvests, too few to judge", "19 of 19: too few"} {
		if !strings.Contains(few, want) {
			t.Errorf("no %q in\n%s", want, few)
		}
	}
	for _, want := range []string{"wider than they need be", "we are better than the rule of thumb", "no clearly better or worse than thermal time", "20 of 20 (12 to 19)"} {
		if !strings.Contains(enough, want) {
			t.Errorf("no %q in\n%s", want, enough)
		}
	}
	if strings.Contains(few, "better than") || strings.Contains(few, "wider") {
		t.Errorf("judged by 19:\n%s", few)
	}
}

func TestScoreFitsTheTerminal(t *testing.T) {
	for name, in := range yards() {
		for _, term := range []Terminal{{}, {Plain: true}, {US: true}} {
			text := term.Score("Fernbrook", in.Score)
			for _, l := range strings.Split(text, "\n") {
				if utf8.RuneCountInString(l) > TerminalWidth {
					t.Errorf("%s: %q is too long", name, l)
				}
			}
			for _, bad := range []string{"NaN", "CRPS", "P10", "PIT", "draws"} {
				if strings.Contains(text, bad) {
					t.Errorf("%s says %s:\n%s", name, bad, text)
				}
			}
		}
	}
}

// The names are those agreed on, and what was not scored is null.
func TestScoreJSON(t *testing.T) {
	read := func(r *score.Report) map[string]any {
		b, err := ScoreJSON(r)
		if err != nil {
			t.Fatal(err)
		}
		var m map[string]any
		if err := json.Unmarshal(b, &m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	none := read(unscored(aYard()).Score)
	for _, key := range []string{"crps_days", "crps_days_rule_of_thumb", "coverage_p10_p90", "fresh_kg_crps"} {
		if v, ok := none[key]; !ok || v != nil {
			t.Errorf("%s is %v, want null", key, v)
		}
	}
	if none["forecasts"] != 0.0 {
		t.Errorf("%v forecasts", none["forecasts"])
	}
	got := read(scored(aYard()).Score)
	for key, want := range map[string]float64{
		"forecasts": 8, "outcomes": 7, "crps_days": (17.5 + 80 + 0) / 3, "crps_days_rule_of_thumb": (37.5 + 44 + 20) / 3,
		"fresh_kg_crps": 1.4, "fresh_kg_crps_given_some": 2.3, "looks_rps": 0.195,
	} {
		if v, ok := got[key].(float64); !ok || math.Abs(v-want) > 0.006 {
			t.Errorf("%s is %v, want %g", key, got[key], want)
		}
	}
	one := got["scored"].([]any)[2].(map[string]any)
	if one["not_before"] != "2026-04-26" || one["by"] != nil {
		t.Errorf("a harvest that had not come: %v", one)
	}
}

// Every way of being wrong and every reason has its sentence.
func TestSentencesOfWhereWeWereWrong(t *testing.T) {
	may, next := day("2025-05-01"), forecast.FirstHarvest{Dates: forecast.Dates{P50: day("2026-05-20")}}
	late := func(why score.Why) score.Miss {
		return score.Miss{Pile: "oak-north", Kind: score.NothingCame, Made: may, First: true, By: day("2025-10-21"), Chance: 0.9, Now: next, Why: why}
	}
	early := func(why score.Why) score.Miss {
		return score.Miss{Pile: "oak-old", Kind: score.CameEarly, Made: may, By: day("2025-08-11"), On: day("2025-07-20"), Chance: 0.04, Now: next, Why: why}
	}
	off := func(with int, why score.Why) score.Miss {
		return score.Miss{Pile: "oak-north", Kind: score.LookOff, Made: may, On: day("2025-08-30"), With: with, LookedAt: 10, Low: 4, High: 8, Chance: 0.06, Why: why}
	}
	for _, c := range []struct {
		name       string
		miss       score.Miss
		said, more string
	}{
		{"dry", late(score.Why{Kind: score.WhyRain, Month: day("2025-08-01"), RainMM: 6, UsualMM: 58}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026, because August was dry.",
			"We had given it 90 % by today. In August fell 6 mm; 58 mm are normal."},
		{"a look", late(score.Why{Kind: score.WhyLook, On: day("2025-08-30"), With: 2, LookedAt: 10}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026, because the look on 30 August found only 2 of 10 log ends with a white ring.",
			"We had given it 90 % by today. Such a look counts for more than the season."},
		{"other piles", late(score.Why{Kind: score.WhyOthers, Pile: "oak-old", On: day("2025-08-30"), With: 1, LookedAt: 8, Days: 182, Before: 151}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026, because its logs need more growing days than we thought.",
			"We had given it 90 % by today. About 182, not 151: the log ends of oak-old told so on 30 August (1 of 8 with a white ring)."},
		{"a cool year", late(score.Why{Kind: score.WhyGrowth, Days: 98, Before: 122}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026, because the year has had fewer growing days than nine years in ten.",
			"We had given it 90 % by today. 98 so far; by now 122 are usual."},
		{"dry logs", late(score.Why{Kind: score.WhyDryLogs, Moisture: 0.28, MoistureThen: 0.36}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026, because its logs are dry.",
			"We had given it 90 % by today. They hold 28 % water, and held 36 % then; so we reckon, the scales know better."},
		{"no reason", late(score.Why{Kind: score.WhyNone}),
			"Oak-north: in May we said it would first fruit by October; nothing came; now most likely May 2026.",
			"We had given it 90 % by today. No reason that we know: one time in ten it goes so."},
		{"early", early(score.Why{Kind: score.WhyRain, Month: day("2025-06-01"), RainMM: 120, UsualMM: 50}),
			"Oak-old: in May we said it would hardly fruit again before 11 August; something was up by 20 July, because June was wet.",
			"We had given 4 % to its coming so early. In June fell 120 mm; 50 mm are normal."},
		{"early, a warm year", early(score.Why{Kind: score.WhyGrowth, Days: 140, Before: 122}),
			"Oak-old: in May we said it would hardly fruit again before 11 August; something was up by 20 July, because the year has had more growing days than nine years in ten.",
			"We had given 4 % to its coming so early. 140 so far; by now 122 are usual."},
		{"few through", off(0, score.Why{Kind: score.WhyNone}),
			"Oak-north: in May we said that 4 to 8 of 10 log ends would show a white ring on 30 August; none did.",
			"We had given 6 % to so few. No reason that we know: one time in twenty it goes so."},
		{"many through", off(9, score.Why{Kind: score.WhyGrowth, Days: 140, Before: 122}),
			"Oak-north: in May we said that 4 to 8 of 10 log ends would show a white ring on 30 August; 9 did, because the year has had more growing days than nine years in ten.",
			"We had given 6 % to so many. 140 so far; by now 122 are usual."},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := aYard()
			in.State.AsOf, in.Missed = day("2025-11-15"), []score.Miss{c.miss}
			got := Wrong(in)
			if len(got) != 1 || got[0].Said != c.said || got[0].More != c.more {
				t.Errorf("got  %+v\nwant %q %q", got, c.said, c.more)
			}
		})
	}
}

// At most three sentences are said, and piles of which nothing is written
// share one.
func TestThreeSentencesAtMost(t *testing.T) {
	in := aYard()
	in.State.AsOf = day("2025-11-15")
	silent := func(pile string, by string) score.Miss {
		return score.Miss{Pile: pile, Kind: score.NothingWritten, Made: day("2025-05-01"), First: true, By: day(by), Chance: 0.9, Why: score.Why{Kind: score.WhyNone}}
	}
	loud := score.Miss{Pile: "oak-north", Kind: score.NothingCame, Made: day("2025-05-01"), By: day("2025-10-21"), Chance: 0.9, Why: score.Why{Kind: score.WhyNone}}
	in.Missed = []score.Miss{loud, silent("oak-old", "2025-10-21"), silent("elm-2024", "2025-09-02")}
	got := Wrong(in)
	if len(got) != 2 || got[1].Said != "In May we said that oak-old (by October) and elm-2024 (by September) would fruit; nothing is written down: went round?" {
		t.Errorf("%+v", got)
	}
	if got[1].Close[0] != "hodaba record harvested oak-old …kg" || got[1].Close[1] != "hodaba record walked oak-old elm-2024" {
		t.Errorf("%q", got[1].Close)
	}
	in.Missed = []score.Miss{silent("oak-old", "2025-10-21")}
	if got := Wrong(in)[0].Said; got != "Oak-old: in May we said it would first fruit by October; nothing is written down: went round?" {
		t.Error(got)
	}
	in.Missed = []score.Miss{loud, loud, loud, loud, silent("oak-old", "2025-10-21")}
	if got := Wrong(in); len(got) != 3 {
		t.Errorf("%d sentences", len(got))
	}
}

// Where we were wrong comes first on the page of today and in the list of work.
func TestWrongComesFirst(t *testing.T) {
	in := scored(aYard())
	page := string(pages(t, in)["index.html"].Data)
	wrong, work := strings.Index(page, `id="wrong"`), strings.Index(page, `id="work"`)
	if wrong < 0 || work < wrong {
		t.Errorf("wrong at %d, work at %d", wrong, work)
	}
	text := Terminal{}.Work(in.State, Wrong(in), Work(in), nil, nil)
	if !strings.HasPrefix(strings.SplitN(text, "\n\n", 2)[1], "Where we were wrong\n- Oak-north: in November 2025 we said") {
		t.Errorf("the list begins\n%.300s", text)
	}
	if strings.Contains(string(pages(t, aYard())["index.html"].Data), `id="wrong"`) {
		t.Error("something is wrong where nothing was")
	}
}
