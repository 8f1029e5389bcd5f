package charts

import (
	"reflect"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/yard"
)

// weighedOn is a picking of so many kg, a season's where its days say so.
func weighedOn(species, when string, kg float64) *yard.Pick {
	w, err := yard.ParseWhen(when)
	if err != nil {
		panic(err)
	}
	return &yard.Pick{On: w, Species: species, Fresh: yard.Span{Low: kg, High: kg}, Weighed: kg > 0, Season: w.To-w.From >= 31}
}

// bookOfMonths is a book of 4 May 2026 with some pickings.
func bookOfMonths(picks ...*yard.Pick) *book {
	st := &yard.State{AsOf: day("2026-05-04"), Picks: picks}
	return newBook(Input{State: st, Result: &forecast.Result{AsOf: st.AsOf}, Data: aSet()})
}

func monthsAheadOf(species string, kg ...float64) forecast.Species {
	f := forecast.Species{Species: species}
	for i, x := range kg {
		f.Months = append(f.Months, forecast.SpeciesMonth{Month: day("2026-05-01").AddMonths(i), Fresh: forecast.Amount{P10: x / 2, P50: x, P90: 2 * x}})
	}
	return f
}

// Past and expected stand on one axis: each month once, one that is gone with
// what was picked, this one with that and with what is still to come.
func TestHarvestMonths(t *testing.T) {
	picks := []*yard.Pick{
		weighedOn("shiitake", "2026-03-28", 1), weighedOn("shiitake", "2026-03-29", 0.5), weighedOn("shiitake", "2026-05-02", 2),
		weighedOn("oyster", "2026-04-02", 9), weighedOn("shiitake", "2026-04-20", 0), // another species; nobody weighed it
		weighedOn("shiitake", "2024-05-02", 7), // too long ago for months
	}
	b := bookOfMonths(picks...)
	d := b.harvestMonths("s1months", monthsAheadOf("shiitake", 3, 4))
	want := [][]string{
		{"March 2026", "1.5 kg", "", "", ""},
		{"April 2026", "0 kg", "", "", ""},
		{"rest of May 2026", "2.0 kg", "1.5 kg", "3.0 kg", "6.0 kg"},
		{"June 2026", "", "2.0 kg", "4.0 kg", "8.0 kg"},
	}
	if !reflect.DeepEqual(d.Table.Rows, want) || strings.Contains(d.Said, "season") {
		t.Errorf("%q\n%q", d.Said, d.Table.Rows)
	}
	bar := b.monthBar(day("2026-05-01"), 2, &forecast.Amount{P10: 1.5, P50: 3, P90: 6})
	if bar.picked != 2 || bar.expected != 3 || !strings.Contains(bar.said, "2.0 kg picked") || !strings.Contains(bar.saidAhead, "likely 3.0 kg to come") {
		t.Errorf("%+v", bar)
	}
	if bar := b.monthBar(day("2026-03-01"), 1.5, nil); bar.picked != 1.5 || bar.expected != 0 || bar.saidAhead != "" {
		t.Errorf("a month that is gone: %+v", bar)
	}
	// A season's kilograms can be given to no month, and are not hidden.
	d = bookOfMonths(append(picks, weighedOn("shiitake", "2025", 12))...).harvestMonths("s1months", monthsAheadOf("shiitake", 3, 4))
	if !reflect.DeepEqual(d.Table.Rows, want) || !strings.Contains(d.Said, "What was noted for a whole season at once is not in it.") {
		t.Errorf("%q\n%q", d.Said, d.Table.Rows)
	}
	// Nothing to come: the past up to and with this month.
	d = b.harvestMonths("s1months", forecast.Species{Species: "shiitake"})
	if want := [][]string{{"March 2026", "1.5 kg"}, {"April 2026", "0 kg"}, {"May 2026", "2.0 kg"}}; !reflect.DeepEqual(d.Table.Rows, want) || strings.Contains(d.Said, "should come") {
		t.Errorf("%q\n%q", d.Said, d.Table.Rows)
	}
	if d := b.harvestMonths("s1months", forecast.Species{Species: "maitake"}); d != nil {
		t.Errorf("of nothing: %+v", d)
	}
}

// A species whose piles are all retired keeps its past on the page, and what
// rests on no published yield says so over its numbers.
func TestHarvestPageKeepsThePast(t *testing.T) {
	in := aYard()
	in.State.Picks = append(in.State.Picks, weighedOn("nameko", "2025-10-20", 3.2), weighedOn("nameko", "2026-05-01", 0.7))
	page := string(pages(t, in)["harvest.html"].Data)
	for _, want := range []string{
		">Nameko</h2>", "Nothing more is expected: none of its piles has a forecast. This is what was weighed.",
		"Fresh nameko by month", "Fresh, by calendar year: what was weighed.", "The kilograms are a wide guess: no log yield of this species is published.",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q on the page of the harvest", want)
		}
	}
	_, nameko, _ := strings.Cut(page, ">Nameko</h2>")
	nameko, _, _ = strings.Cut(nameko, "</section>")
	for _, not := range []string{"Every month as a table", `class="strip"`, "should come", "it should be"} {
		if strings.Contains(nameko, not) {
			t.Errorf("%q stands beside what is past", not)
		}
	}
	for _, want := range []string{"3.2 kg", "0.7 kg", "October 2025", "2025"} {
		if !strings.Contains(strings.ReplaceAll(nameko, "\u00a0", " "), want) {
			t.Errorf("no %q of nameko", want)
		}
	}
	if strings.Index(page, ">Shiitake</h2>") > strings.Index(page, ">Nameko</h2>") {
		t.Error("what is past stands before what is to come")
	}
}
