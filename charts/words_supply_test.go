package charts

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"hodaba/forecast"
	"hodaba/yard"
)

// aSupply is an invented year of the invented yard: a glut in June, short in
// August.
func aSupply(st *yard.State) *forecast.Supply {
	s := &forecast.Supply{Drier: true, Cold: true, LoadKG: 2, Hours: 12, LoadsADay: 2, Nights: 1, HoldsKG: 5,
		Due:   []forecast.Due{{Day: day("2026-06-12"), To: "the inn", Species: "shiitake", KG: 2, Open: 2, Met: 0.9}, {Day: day("2026-08-14"), To: "the inn", KG: 2, Open: 2, Met: 0.4}},
		Other: []yard.Promise{{To: "the fair", What: "five mushrooms", Amount: yard.Quantity{Low: 20, High: 20, Text: "20"}, By: day("2026-11-14")}}}
	for w := range 52 {
		week := day("2026-05-04") + yard.Date(7*w)
		x := forecast.SupplyWeek{Week: week, Met: 1, Room: 28}
		if week < day("2026-11-01") {
			x.Came = forecast.Amount{P10: 0.5, P50: 2, P90: 6, Mean: 2.5}
			x.Left = forecast.Amount{P10: 0.5, P50: 2, P90: 6, Mean: 2.5}
			x.Book = forecast.WeekBook{Came: 2.5, Dried: 2.5}
			x.Species = []forecast.SpeciesSupply{{Species: "shiitake", Came: x.Came, Chance: 0.8}}
		}
		switch week {
		case day("2026-06-08"):
			x.Promised, x.Met, x.Glut, x.OverChance, x.Over = 2, 0.9, true, 0.34, forecast.Amount{P50: 0, P90: 4, Mean: 1}
			x.Book = forecast.WeekBook{Before: 1, Came: 9, Sold: 2, Dried: 4, Over: 1, Kept: 3}
		case day("2026-08-10"):
			x.Promised, x.Met, x.Short = 2, 0.4, true
		}
		s.Weeks = append(s.Weeks, x)
	}
	s.Gluts = []forecast.Glut{{From: day("2026-06-08"), To: day("2026-06-14"), Chance: 0.34, Over: forecast.Amount{P10: 1, P50: 3.2, P90: 6}, Book: forecast.WeekBook{Before: 1, Came: 9, Sold: 2, Dried: 4, Over: 1, Kept: 3},
		Leave: &forecast.LeaveOut{In: day("2026-05-28"), Logs: 12, Piles: []string{"oak-north A"}, Fresh: forecast.Amount{P10: 0.5, P50: 2.5, P90: 5}, PickFrom: day("2026-06-05"), PickTo: day("2026-06-12")},
		Days: []forecast.GlutDay{
			{Day: day("2026-06-08"), Pick: []forecast.Kilos{{Species: "lion's mane", KG: 1}, {Species: "shiitake", KG: 2}}, Dry: []forecast.DrierLoad{
				{Day: day("2026-06-08"), Hours: 12, Parts: []forecast.Kilos{{Species: "lion's mane", KG: 1}, {Species: "shiitake", KG: 1}}},
				{Day: day("2026-06-08"), Hours: 12, After: 12, Parts: []forecast.Kilos{{Species: "shiitake", KG: 2}}}}, Kept: 5},
			{Day: day("2026-06-09"), Pick: []forecast.Kilos{{Species: "shiitake", KG: 2}}, Sell: []forecast.SellBy{{Species: "shiitake", KG: 1, By: day("2026-06-15")}}, Kept: 5, Away: true},
			{Day: day("2026-06-12"), Deliver: []forecast.Kilos{{Species: "shiitake", KG: 2}}, Sell: []forecast.SellBy{{Species: "oyster", KG: 0.4, By: day("2026-06-12")}}, Kept: 3},
		}}}
	return s
}

func TestSupplyInWords(t *testing.T) {
	b := newBook(aYard())
	s := b.Result.Supply
	said := b.supplySaid(s)
	for _, want := range []string{
		"In the week of 8 June more may come than can be sold, kept or dried: chance 34 %, then about 3.2 kg too much.",
		"What is promised for the week of 10 August, 2.0 kg, can be met with a chance of 40 %.",
		"The drier takes 2.0 kg, 2 loads a day, one after the other; the cold room holds 5.0 kg.",
	} {
		if !slices.Contains(said, want) {
			t.Errorf("not said: %q\nof %q", want, said)
		}
	}
	for _, row := range []struct {
		change func(*forecast.Supply, *book)
		want   string
	}{
		{func(s *forecast.Supply, _ *book) { s.Drier, s.Cold = false, false }, noCapacity},
		{func(s *forecast.Supply, _ *book) { s.Gluts = nil }, "In no week of the year ahead is it likely that more comes than can be sold, kept or dried: the chance stays under 20 %."},
		{func(s *forecast.Supply, _ *book) { s.Gluts[0].To += 7; s.Gluts = append(s.Gluts, s.Gluts[0]) }, "In the weeks from 8 June to 21 June more may come than can be sold, kept or dried: chance 34 %, then about 3.2 kg too much; later 1 such time more."},
		{func(s *forecast.Supply, _ *book) { s.Due = nil; s.Weeks = nil }, "No fresh mushrooms are promised in yard.toml."},
		{func(s *forecast.Supply, _ *book) { s.Weeks = nil }, "Every promise of the year ahead is at least 80 % sure."},
		{func(s *forecast.Supply, _ *book) { s.Nights = 3; s.HoldsKG = 0 }, "The drier takes 2.0 kg, once in 3 nights; what the cold room holds is not written down and taken to be enough."},
		{func(s *forecast.Supply, _ *book) { s.LoadsADay = 1 }, "The drier takes 2.0 kg, one load a night; the cold room holds 5.0 kg."},
		{func(s *forecast.Supply, _ *book) { s.Drier = false }, "No drier is written down; the cold room holds 5.0 kg."},
		{func(_ *forecast.Supply, b *book) {
			b.State.Broken = []yard.Breakage{{What: "drier", On: on("2026-05-01"), Until: on("2026-05-20")}}
		}, "The drier is broken until 20 May 2026: no load is planned until then."},
		{func(_ *forecast.Supply, b *book) {
			b.State.Broken = []yard.Breakage{{What: "drier", On: on("2026-05-01")}}
		}, "The drier is broken until further notice: no load is planned."},
	} {
		b := newBook(aYard())
		row.change(b.Result.Supply, b)
		if said := b.supplySaid(b.Result.Supply); !slices.Contains(said, row.want) {
			t.Errorf("not said: %q\nof %q", row.want, said)
		}
	}
}

func TestGlutInWords(t *testing.T) {
	b := newBook(aYard())
	g := b.Result.Supply.Gluts[0]
	p := b.glutPart("g1", g)
	if p.Order != "Pick first what keeps least: lion's mane, then shiitake." {
		t.Error(p.Order)
	}
	if want := "Put off the soak of Thu 28 May (oak-north A): 0.5 to 5.0 kg come of it, likely 2.5 kg, picked mostly 5–12 Jun; put off, they come that much later."; p.Leave != want {
		t.Errorf("%q", p.Leave)
	}
	if p.Close != "hodaba record put_off 'soak oak-north A' until=2026-06-04" {
		t.Error(p.Close)
	}
	var got []string
	for _, d := range p.Days {
		got = append(got, d.When+": "+strings.Join(d.Do, " "))
	}
	want := []string{
		"Mon 8 Jun: Load the drier in the evening with 1.0 kg of lion's mane and 1.0 kg of shiitake. Load the drier again 12 hours after that evening, when the one before is out, with 2.0 kg of shiitake.",
		"Tue 9 Jun: Sell or give away 1.0 kg of shiitake: there is no room for it, and it is fresh until Mon 15 Jun. Nobody is there on that day, says yard.toml: ask somebody.",
		"Fri 12 Jun: Deliver 2.0 kg of shiitake, as promised. Sell or give away 0.4 kg of oyster: there is no room for it, and it is fresh today only.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	for look, w := range map[string]forecast.SupplyWeek{"": {}, "glut, 34 %": {Glut: true, OverChance: 0.34}, "glut, 34 %; short; no drier": {Glut: true, OverChance: 0.34, Short: true, DrierOut: true}} {
		if got := lookAt(w); got != look {
			t.Errorf("%q, want %q", got, look)
		}
	}
}

// freshYard has something in the cold, in the drier and promised.
func freshYard() Input {
	in := aYard()
	st := in.State
	st.Config.Drier = yard.Drier{LoadKG: 2, HoursPerLoad: 14, Share: 1}
	st.Config.Cold = yard.Cold{HoldsKG: 5, Days: 10}
	st.Config.Promised = []yard.Promise{{To: "the inn", What: "shiitake", Amount: yard.Quantity{Low: 1, High: 1, Unit: yard.Kilogram, Text: "1 kg"}, By: day("2026-05-08"), Every: 7}}
	st.Picks = append(st.Picks, &yard.Pick{On: on("2026-05-03"), Piles: []string{"oak-old"}, Species: "shiitake", Lot: "L-26-2", Weighed: true, Fresh: yard.Span{Low: 2, High: 2}})
	span := yard.Span{Low: 1.5, High: 1.5}
	e := &yard.Entry{ID: "kitchen-301"}
	st.Loads = []yard.Load{{Name: "26-14", Species: "shiitake", FreshKG: span, On: on("2026-05-03"), Entry: e}}
	st.Went = []yard.Went{{Kind: "sold", On: on("2026-05-04"), Species: "shiitake", To: "the inn", FreshKG: yard.Span{Low: 0.3, High: 0.3}, Entry: &yard.Entry{ID: "kitchen-302"}}}
	in.Result.Supply.Due = slices.Concat([]forecast.Due{{Day: day("2026-05-08"), To: "the inn", Species: "shiitake", KG: 1, Open: 0.6, Met: 0.7}}, in.Result.Supply.Due)
	return in
}

func TestFreshWork(t *testing.T) {
	in := freshYard()
	got := Work(in)
	want := []string{"drier", "sell", "promise"}
	if k := kinds(got); !slices.Equal(k[:3], want) {
		t.Fatalf("%v", k)
	}
	for kind, says := range map[string]string{
		"drier":   "Take load 26-14 out of the drier today and weigh it. It is in since yesterday evening: 1.5 kg of shiitake went in.",
		"sell":    "Sell, dry or eat 0.1 kg of shiitake (until Wed 6 May). After that it is no longer fresh; what sat warm or smells is thrown away, not dried.",
		"promise": "Deliver 0.6 kg of shiitake to the inn on Fri 8 May. It is promised, 0.6 kg of 1.0 kg is still open; the chance that there is enough is 70 %: say so in time.",
	} {
		if x := oneOf(t, got, kind); x.Do+" "+x.Why != says {
			t.Errorf("%s:\n got %q\nwant %q", kind, x.Do+" "+x.Why, says)
		}
	}
	if c := oneOf(t, got, "drier").Close[0]; c != "hodaba record dried load=26-14 dry=…g" {
		t.Error(c)
	}
	// A glut in the week after next, whose soak is due before: left out first.
	g := &in.Result.Supply.Gluts[0]
	g.Leave.In = day("2026-05-14")
	x := oneOf(t, Work(in), "glut")
	if x.Do != "Put off the soak of Thu 14 May (oak-north A), or find buyers for what it brings." || x.Close[0] != "hodaba record put_off 'soak oak-north A' until=2026-05-21" || x.To != day("2026-05-13") {
		t.Errorf("%+v", x)
	}
	g.Leave, g.From, g.Days[0].Day = nil, day("2026-05-04"), day("2026-05-04")
	if x := oneOf(t, Work(in), "load"); x.Do != "Load the drier this evening with 1.0 kg of lion's mane and 3.0 kg of shiitake." {
		t.Errorf("%+v", x)
	}
}

func TestSupplyFitsTheTerminal(t *testing.T) {
	for _, in := range []Input{freshYard(), aYard(), {}} {
		for _, plain := range []bool{false, true} {
			term := Terminal{Plain: plain}
			for _, text := range []string{term.Supply(in), term.Stock(newBook(in).State, in.Data)} {
				if err := fits(text, plain); err != nil {
					t.Error(err)
				}
			}
		}
	}
	text := Terminal{}.Stock(freshYard().State, freshYard().Data)
	for _, want := range []string{"Fresh in the cold, by the record", "In the drier", "26-14", "promised for this week", "Dried, by species and form"} {
		if !strings.Contains(text, want) {
			t.Errorf("stock does not say %q", want)
		}
	}
}

func TestSupplyJSON(t *testing.T) {
	in := freshYard()
	b, err := SupplyJSON(in.Result)
	if err != nil {
		t.Fatal(err)
	}
	var v struct {
		Weeks []struct {
			Glut, Short bool
			Met         *float64 `json:"met_chance"`
		}
		Gluts []struct {
			Leave struct{ In string } `json:"put_off_soak"`
			Days  []struct {
				Loads []struct {
					After float64 `json:"hours_after_evening"`
				} `json:"drier_loads"`
			}
		}
		Promised []struct{ On string }
	}
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Weeks) != 52 || !v.Weeks[5].Glut || v.Weeks[5].Met == nil || *v.Weeks[5].Met != 0.9 || v.Weeks[0].Met != nil {
		t.Errorf("weeks: %+v", v.Weeks[:6])
	}
	if v.Gluts[0].Leave.In != "2026-05-28" || v.Gluts[0].Days[0].Loads[1].After != 12 || v.Promised[0].On != "2026-05-08" {
		t.Errorf("%+v %+v", v.Gluts, v.Promised)
	}
	if b, err = StockJSON(in.State, in.Data); err != nil {
		t.Fatal(err)
	}
	var stock struct {
		Cold []struct {
			KG float64 `json:"fresh_kg"`
		} `json:"in_the_cold"`
		Drier    []struct{ Load string } `json:"in_the_drier"`
		Promised []struct {
			Open float64 `json:"open_kg"`
		} `json:"promised_this_week"`
	}
	if err := json.Unmarshal(b, &stock); err != nil {
		t.Fatal(err)
	}
	if len(stock.Drier) != 1 || len(stock.Promised) != 1 || stock.Promised[0].Open != 0.7 || len(stock.Cold) == 0 {
		t.Errorf("%+v", stock)
	}
}
