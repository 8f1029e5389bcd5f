package charts

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// whyBook is a book as of 4 May 2026 that looks six years ahead.
func whyBook() *book { return newBook(aYard()) }

func three(p10, p50, p90 string) (d forecast.Dates) {
	for _, x := range []struct {
		to *yard.Date
		s  string
	}{{&d.P10, p10}, {&d.P50, p50}, {&d.P90, p90}} {
		if x.s != "" {
			*x.to = day(x.s)
		}
	}
	return d
}

func TestHalfWords(t *testing.T) {
	for _, c := range []struct {
		dates forecast.Dates
		now   float64
		want  string
	}{
		{three("2026-06-01", "2026-09-01", "2027-03-01"), 0.31,
			"Half of its logs will most likely be run through in September 2026, 8 times in 10 between June 2026 and March 2027; the chance that they are by today is 31 %."},
		{three("2025-06-01", "2026-05-04", "2026-07-01"), 0.5,
			"Half of its logs were most likely run through in May 2026, 8 times in 10 between June 2025 and July 2026; the chance that they are by today is 50 %."},
		{three("2029-06-01", "2031-09-01", ""), 0,
			"Half of its logs will most likely be run through in September 2031, as early as June 2029, but sometimes not in the years looked at; the chance that they are by today is 0 %."},
		{three("2029-06-01", "", ""), 0,
			"It is more likely than not that half of its logs are not run through within the 6 years looked at, though it may be as early as June 2029; the chance that they are by today is 0 %."},
		{forecast.Dates{}, 0.001,
			"It is not likely that half of its logs are run through within the 6 years looked at; the chance that they are by today is <1 %."},
	} {
		f := &forecast.Pile{Colonised: &forecast.Colonised{Dates: c.dates, ChanceNow: c.now}}
		if got := whyBook().halfWords(f); got != c.want {
			t.Errorf("%v:\n got %s\nwant %s", c.dates, got, c.want)
		}
	}
}

func TestSeasonSaid(t *testing.T) {
	day1 := day("2026-01-01")
	measured := climate.Record{TempDays: 200, To: day("2026-05-03")}
	for _, c := range []struct {
		name        string
		soFar, norm float64
		from        yard.Date
		record      climate.Record
		want        string
	}{
		{"ahead", 96, 88, day1, measured, "This year has brought it about 96 growing days so far, 8 more than usual by this day (88)."},
		{"behind", 1, 12, day1, measured, "This year has brought it about 1 growing day so far, 11 fewer than usual by this day (12)."},
		{"the same", 89, 88, day1, measured, "This year has brought it about 89 growing days so far, as many as usual by this day."},
		{"hardly begun", 1.6, 1, day1, measured, "This year has brought it about 1.6 growing days so far, as many as usual by this day."},
		{"begun this year", 6, 6, day("2026-03-20"), measured,
			"Since its beginning on 20 March 2026 this year has brought it about 6 growing days, as many as usual by this day."},
		{"nothing measured", 96, 88, day1, climate.Record{},
			"This year has brought it about 96 growing days so far, 8 more than usual by this day (88); no temperature of this time is written down, so little is known of it."},
		{"measured last year only", 88, 88, day1, climate.Record{TempDays: 300, To: day("2025-12-31")},
			"This year has brought it about 88 growing days so far, as many as usual by this day; no temperature of this time is written down, so little is known of it."},
		{"not known", 0, 0, day1, measured, ""},
	} {
		b := whyBook()
		b.Result.Site.Record = c.record
		f := &forecast.Pile{Colonised: &forecast.Colonised{ChanceNow: 0.5}, Why: &forecast.Why{From: c.from,
			Season: forecast.Amount{P50: c.soFar}, Usual: forecast.Amount{P50: c.norm}}}
		if got := strings.Join(b.seasonSaid(f), " "); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
		f.Colonised.ChanceNow = 1
		if got := b.seasonSaid(f); len(got) != 0 {
			t.Errorf("%s: of a pile that is through it says %q", c.name, got)
		}
	}
}

func TestWhatWasSeenInWords(t *testing.T) {
	look := func(at, with, spots, springy, dull int) yard.Seen {
		return yard.Seen{Kind: "checked", LookedAt: at, With: with, Spots: spots, Springy: springy, Dull: dull}
	}
	for _, c := range []struct {
		seen    yard.Seen
		count   int
		fruited bool
		want    string
	}{
		{look(10, 4, -1, -1, -1), 1, false, "white ring on 4 of 10"},
		{look(10, 0, 3, -1, -1), 1, false, "white ring on none of 10 and spots at the rim on 3 of 10"},
		{look(1, -1, -1, 1, 1), 1, false, "bark that gives on 1 of 1 and dull knock on 1 of 1"},
		{look(10, -1, -1, -1, -1), 1, false, "a look, of which nothing is written"},
		{look(0, 0, -1, -1, -1), 1, false, "a look, of which nothing is written"},
		{yard.Seen{Kind: "walked"}, 1, false, "a round, nothing up"},
		{yard.Seen{Kind: "walked"}, 5, false, "the last of 5 rounds, nothing up"},
		{yard.Seen{Kind: "walked"}, 5, true, "the last of 5 rounds before it fruited, nothing up"},
		{yard.Seen{Kind: "harvested", Logs: 1}, 1, true, "first picking, from 1 log"},
		{yard.Seen{Kind: "harvested"}, 1, true, "first picking"},
		{yard.Seen{Kind: "pinned", Logs: 3}, 1, true, "first pins, on 3 logs"},
		{yard.Seen{Kind: "noticed", What: "slugs", Logs: 4}, 1, false, "slugs on 4 logs"},
		{yard.Seen{Kind: "noticed"}, 1, false, "something was noticed"},
	} {
		w := &forecast.Why{Effects: []forecast.Effect{{Seen: &c.seen, Count: c.count}}}
		if c.fruited {
			w.Effects = append(w.Effects, forecast.Effect{Seen: &yard.Seen{Kind: "harvested"}})
		}
		if got := seenOf(&w.Effects[0], w); got != c.want {
			t.Errorf("%+v: got %q, want %q", c.seen, got, c.want)
		}
	}
}

func TestWhatItDoes(t *testing.T) {
	ahead, past, never := day("2027-01-01"), day("2026-05-04"), yard.Date(0)
	look := yard.Seen{Kind: "checked", On: on("2026-03-01"), LookedAt: 10, With: 4}
	empty := yard.Seen{Kind: "checked", On: on("2026-03-01"), LookedAt: 10, With: -1, Spots: -1, Springy: -1, Dull: -1}
	vague := look
	vague.On.To = vague.On.From + 60
	for _, c := range []struct {
		seen        yard.Seen
		told        bool
		days        int
		now, others yard.Date
		want        string
	}{
		{look, true, -23, ahead, ahead, "brings it 23 days nearer"},
		{look, true, -23, past, past, "puts it 23 days earlier"},
		{look, true, 12, ahead, ahead, "puts it off by 12 days"},
		{look, true, 12, past, past, "puts it 12 days later"},
		{look, true, -3, ahead, ahead, "brings it 3 days nearer"},
		{look, true, -2, ahead, ahead, "fits what was expected: no change"},
		{look, true, 0, ahead, ahead, "fits what was expected: no change"},
		{look, true, 0, never, ahead, "cannot be told in days: the day is too far off"},
		{look, true, 0, ahead, never, "cannot be told in days: the day is too far off"},
		{look, true, -40, ahead, never, "brings it 40 days nearer"}, // with another look's help the day is in reach
		{look, false, 0, ahead, ahead, "cannot be told apart from the rest"},
		{empty, false, 0, ahead, ahead, "says nothing of how far it is"},
		{vague, false, 0, ahead, ahead, "says nothing of how far it is: too vague a day"},
		{yard.Seen{Kind: "noticed"}, false, 0, ahead, ahead, "says nothing of how far it is"},
		{yard.Seen{Kind: "harvested"}, false, 0, ahead, ahead, "cannot be told apart from the rest"},
	} {
		e := forecast.Effect{Seen: &c.seen, Told: c.told, Days: c.days}
		w := &forecast.Why{Now: forecast.Dates{P50: c.now}, Others: forecast.Dates{P50: c.others}}
		if got := whyBook().does(&e, w); got != c.want {
			t.Errorf("%s, told %t, %d days, now %s, without %s:\n got %q\nwant %q", c.seen.Kind, c.told, c.days, c.now, c.others, got, c.want)
		}
	}
	if got := whyBook().shifts(10, ahead); got != "puts it off by 10 days" {
		t.Error(got)
	}
}

func TestOthersWords(t *testing.T) {
	june, october := three("2026-05-01", "2026-06-10", "2026-08-01"), three("2026-07-01", "2026-10-10", "2026-12-01")
	near := june
	near.P90++
	for _, c := range []struct {
		before, others forecast.Dates
		days           int
		want           string
	}{
		{june, june, 0, "Nothing that was seen on other piles changes it."},
		{forecast.Dates{}, forecast.Dates{}, 0, "Nothing that was seen on other piles changes it."},
		{june, near, 0, "Before anything was seen in the yard, June 2026 was most likely; what was seen on the other piles fits that."},
		{june, october, 122, "Before anything was seen in the yard, June 2026 was most likely; what was seen on the other piles puts it off by 122 days."},
		{october, june, -122, "Before anything was seen in the yard, October 2026 was most likely; what was seen on the other piles brings it 122 days nearer."},
		{forecast.Dates{}, june, 0, "Before anything was seen in the yard, it was not likely within the 6 years looked at; what was seen on the other piles brings it to June 2026."},
		{june, three("2029-01-01", "", ""), 0, "Before anything was seen in the yard, June 2026 was most likely; what was seen on the other piles puts it off beyond the 6 years looked at."},
		{forecast.Dates{}, three("2029-01-01", "", ""), 0,
			"Neither before anything was seen in the yard nor with what was seen on the other piles is half likely to be through within the 6 years looked at."},
	} {
		if got := whyBook().othersWords(&forecast.Why{Unlearned: c.before, Others: c.others, OthersDays: c.days}); got != c.want {
			t.Errorf("%v, %v:\n got %s\nwant %s", c.before, c.others, got, c.want)
		}
	}
}

func TestVisitWords(t *testing.T) {
	first := three("2026-09-20", "2026-10-10", "2027-05-01")
	soon := three("2026-05-08", "2026-06-01", "2026-08-01")
	look := func(on string, ends, now, then int) *forecast.Visit {
		return &forecast.Visit{On: day(on), Ends: ends, NowDays: now, Then: then}
	}
	for _, c := range []struct {
		name  string
		visit *forecast.Visit
		first forecast.Dates
		want  string
	}{
		{"months", look("2027-03-12", 10, 213, 122), first, "Worth a visit: look at 10 log ends about 12 March 2027; it would narrow the range from 7 months to about 4."},
		{"today", look("2026-05-04", 1, 213, 122), first, "Worth a visit: look at 1 log end now; it would narrow the range from 7 months to about 4."},
		{"weeks", look("2026-05-04", 8, 106, 84), first, "Worth a visit: look at 8 log ends now; it would narrow the range from 15 weeks to about 12."},
		{"days", look("2026-05-04", 8, 45, 43), first, "Worth a visit: look at 8 log ends now; it would narrow the range from 45 days to about 43."},
		{"more than stand", look("2026-05-04", 20, 213, 122), first, "Worth a visit: look at 12 log ends now; it would narrow the range from 7 months to about 4."},
		{"round", &forecast.Visit{Round: true, NowDays: 90}, first, "Worth a visit: go round for mushrooms from September 2026 on; most likely something is up in October 2026."},
		{"round now", &forecast.Visit{Round: true}, soon, "Worth a visit: go round for mushrooms from now on; most likely something is up in June 2026."},
		{"round, seldom", &forecast.Visit{Round: true}, three("2026-09-20", "", ""), "Worth a visit: go round for mushrooms from September 2026 on."},
		{"round, never", &forecast.Visit{Round: true}, forecast.Dates{}, "No round is worth making for it yet: the chance that anything comes before May 2032 is 4 %."},
		{"none", nil, first, "No look in the next four months would tell much."},
	} {
		f := &forecast.Pile{Logs: 12, LogsKnown: true, Why: &forecast.Why{Visit: c.visit}, First: forecast.FirstHarvest{Chance: 0.04, Dates: c.first}}
		if got := whyBook().visitWords(f); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

func TestHeldWords(t *testing.T) {
	pr := data.Practice{GrowsFrom: data.Number{Value: 25}, GrowsFully: data.Number{Value: 33}, FruitsFrom: data.Number{Value: 30}}
	for _, c := range []struct {
		now, lost, through float64
		want               string
	}{
		{0.38, 0, 0.1, ""},
		{0.31, 0, 0.1, "Its logs hold about 31 % water: dry enough to hold growth back, which is at its best from 33 %."},
		{0.24, 0.2, 0.1, "Its logs hold about 24 % water: too dry to grow, which needs 25 %. The chance that its spawn was lost to drought is 20 %."},
		{0.31, 0.04, 0.9, ""},
		{0.29, 0, 0.9, "Its logs hold about 29 % water: too dry for a flush, which needs 30 %."},
	} {
		b := whyBook()
		b.Data.Practice = pr
		f := &forecast.Pile{Colonised: &forecast.Colonised{ChanceNow: c.through}, Moisture: &forecast.Moisture{Now: forecast.Amount{P50: c.now}, Lost: c.lost}}
		if got := strings.Join(b.heldWords(f), " "); got != c.want {
			t.Errorf("%+v:\n got %s\nwant %s", c, got, c.want)
		}
	}
	if got := whyBook().heldWords(&forecast.Pile{}); got != nil {
		t.Errorf("of a bed it says %q", got)
	}
}

// Logs that were through when they came have nothing to explain but settling
// and the season.
func TestWhyOfABed(t *testing.T) {
	b := whyBook()
	b.Data.Practice.SettleMonths = data.Range{Low: 1, Typical: 3, High: 5}
	w := b.whyOf(b.ahead["reishi-bed"], b.State.Pile("reishi-bed"))
	want := "Its logs were run through when they were buried (15 Nov 2025), so nothing has to grow: they settle in the soil for 1 to 5 months, and then wait for their season."
	if len(w.Before) != 1 || w.Before[0] != want {
		t.Errorf("got %q\nwant %q", w.Before, want)
	}
	after := strings.Join(w.After, "\n")
	if !strings.Contains(after, "most likely in July 2026 (44 %) and August 2026 (52 %).") || !strings.Contains(after, "a wide guess") {
		t.Error(after)
	}
	if len(w.Seen) != 0 || !strings.HasPrefix(w.Visit, "Worth a visit: go round for mushrooms from July 2026 on") {
		t.Errorf("%v %q", w.Seen, w.Visit)
	}
	came := &forecast.Pile{Name: "a", Kind: "pile", Colonised: &forecast.Colonised{ChanceNow: 1}}
	if got := b.whyOf(came, nil).Before; len(got) != 1 || !strings.Contains(got[0], "run through when they came") {
		t.Error(got)
	}
}

func TestWhatAFlushWaitsFor(t *testing.T) {
	for _, c := range []struct {
		fruit  data.Fruit
		picked bool
		want   string
	}{
		{data.Fruit{Season: "any", Trigger: "rain", RainMM: data.Number{Value: 25}}, false,
			"It waits for a week in which its logs are between 10 and 25 °C on average, with 25 mm of rain to set it off."},
		{data.Fruit{Season: "any", Trigger: "cooling", CoolBy: data.Number{Value: 4}, RestWeeks: data.Range{Low: 4, High: 13}}, true,
			"It waits for a week in which its logs are between 10 and 25 °C on average, with a drop of 4 °C to set it off; after a picking its logs rest 4 to 13 weeks of growing weather."},
		{data.Fruit{Season: "falling", Trigger: "band"}, false,
			"It waits for a week in which its logs are between 10 and 25 °C on average; it comes only after the year's warmest weeks."},
		{data.Fruit{Season: "any", Once: true, Trigger: "band", RestWeeks: data.Range{Low: 4, High: 13}}, true,
			"It waits for a week in which its logs are between 10 and 25 °C on average; it comes once a season."},
	} {
		b := whyBook()
		c.fruit.BandLow, c.fruit.BandHigh = data.Number{Value: 10}, data.Number{Value: 25}
		b.Data.Species[0].Strains[0].Fruit = c.fruit
		if got := strings.Join(b.waitsFor(&forecast.Pile{Picked: c.picked}, b.State.Pile("oak-old")), " "); got != c.want {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
	}
	winter := &forecast.Pile{Months: []forecast.Month{{Winter: true}}}
	b := whyBook()
	b.Data.Species[0].Strains[0].Fruit = data.Fruit{BandHigh: data.Number{Value: 25}}
	if got := strings.Join(b.waitsFor(winter, b.State.Pile("oak-old")), " "); !strings.HasSuffix(got, "; now it is too cold to grow.") {
		t.Error(got)
	}
}

func TestYearsWords(t *testing.T) {
	years := func(p10, p50, p90 float64) []forecast.Year {
		return []forecast.Year{{Year: 2026, Fresh: forecast.Amount{P10: p10, P50: p50, P90: p90}}, {Year: 2027, Fresh: forecast.Amount{P10: 1, P50: 2, P90: 3}}, {Year: 2028}}
	}
	for _, c := range []struct {
		f    forecast.Pile
		want string
	}{
		{forecast.Pile{LogsKnown: true, YearsAhead: years(0.4, 1.1, 2)},
			"It should bring, fresh: in the rest of 2026 about 1.1 kg (8 years in 10 between 0.4 and 2.0 kg) and in 2027 about 2.0 kg (8 years in 10 between 1.0 and 3.0 kg)."},
		{forecast.Pile{LogsKnown: true, YearsAhead: years(0, 0, 0.5)},
			"It should bring, fresh: in the rest of 2026 most likely nothing to speak of (9 years in 10 under 0.5 kg) and in 2027 about 2.0 kg (8 years in 10 between 1.0 and 3.0 kg)."},
		{forecast.Pile{YearsAhead: years(0, 0, 0)},
			"It should bring, fresh: in 2027 about 2.0 kg (8 years in 10 between 1.0 and 3.0 kg); that is for one log, nobody having counted them."},
		{forecast.Pile{}, ""},
	} {
		if got := strings.Join(whyBook().yearsWords(&c.f), " "); got != c.want {
			t.Errorf("got %s\nwant %s", got, c.want)
		}
	}
}

func TestContradictionIsSaid(t *testing.T) {
	b := whyBook()
	f := b.ahead["oak-north"]
	said := func() string { return strings.Join(b.whyOf(f, b.State.Pile("oak-north")).After, " ") }
	if strings.Contains(said(), "does not fit together") {
		t.Error("said without cause")
	}
	f.Why.Contradicts = true
	if !strings.Contains(said(), "does not fit together") {
		t.Error("not said")
	}
}

// Page and terminal say the same sentences, and no date without its range or
// its chance.
func TestWhyFitsTheTerminal(t *testing.T) {
	in := aYard()
	for _, plain := range []bool{false, true} {
		for _, f := range in.Result.Piles {
			text := Terminal{Plain: plain}.Why(in, f)
			if err := fits(text, plain); err != nil {
				t.Errorf("%s: %s", f.Name, err)
			}
			if !strings.HasPrefix(text, f.Name+": ") {
				t.Errorf("%s: %q", f.Name, text)
			}
		}
	}
	files, err := Pages(in)
	if err != nil {
		t.Fatal(err)
	}
	fold := func(s string) string { return strings.Join(strings.Fields(strings.ReplaceAll(s, "\u00a0", " ")), " ") }
	text := fold(Terminal{}.Why(in, in.Result.Piles[0]))
	b := newBook(in)
	w := b.whyOf(b.ahead["oak-north"], in.State.Pile("oak-north"))
	for _, f := range files {
		if f.Name != "pile-oak-north.html" {
			continue
		}
		page := fold(parse(t, f).words())
		list := append(append([]string{w.Visit, seenCaption}, w.Before...), w.After...)
		for _, s := range w.Seen {
			list = append(list, s.When, s.What, s.Does)
		}
		for _, s := range list {
			if !strings.Contains(page, s) || !strings.Contains(text, s) {
				t.Errorf("not on both page and terminal: %q", s)
			}
		}
	}
}

func TestWhyJSON(t *testing.T) {
	in := aYard()
	never := &in.Result.Piles[0].Why.Unlearned
	never.P90 = 0
	b, err := WhyJSON(in.Result)
	v := decoded(t, b, err)
	piles := v["piles"].([]any)
	why := piles[0].(map[string]any)["why"].(map[string]any)
	seen := why["seen"].([]any)
	look, slugs := seen[1].(map[string]any), seen[2].(map[string]any)
	if look["moves_days"] != -23.0 || look["on"] != "2026-03-02" || look["kind"] != "checked" || look["says"] != "white ring on 4 of 10" {
		t.Errorf("a look: %v", look)
	}
	if moves, there := slugs["moves_days"]; !there || moves != nil {
		t.Errorf("slugs: %v", slugs)
	}
	if before := why["before"].(map[string]any); before["p90"] != nil || before["p50"] != "2026-10-10" {
		t.Errorf("before: %v", before)
	}
	if others := why["other_piles"].(map[string]any); others["moves_days"] != 6.0 || others["p50"] != "2026-10-16" {
		t.Errorf("other piles: %v", others)
	}
	want := map[string]any{"on": "2026-06-12", "what": "look at ends", "ends": 10.0, "range_days_now": 285.0, "range_days_then": 120.0}
	if got := why["visit"].(map[string]any); fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("visit: %v", got)
	}
	if bed, there := piles[4].(map[string]any)["why"]; !there || bed != nil {
		t.Errorf("a bed has %v", bed)
	}
	in.Result.Piles[0].Why.Visit = &forecast.Visit{Round: true, NowDays: 90}
	b, err = WhyJSON(in.Result)
	visit := decoded(t, b, err)["piles"].([]any)[0].(map[string]any)["why"].(map[string]any)["visit"].(map[string]any)
	if visit["what"] != "go round" || visit["on"] != nil || visit["ends"] != nil || visit["range_days_then"] != nil {
		t.Errorf("a round: %v", visit)
	}
	plain, err := ForecastJSON(in.Result)
	if err != nil || strings.Contains(string(plain), `"why"`+": {") || !json.Valid(plain) {
		t.Error("the forecast says why though nobody asked")
	}
}
