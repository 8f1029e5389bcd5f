package charts

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	echarts "github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

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
	s.Gluts = []forecast.Glut{{From: day("2026-06-08"), To: day("2026-06-14"), Chance: 0.34, Over: forecast.Amount{P10: 1, P50: 3.2, P90: 6},
		Leave: forecast.Leave{Until: day("2026-06-11"), Less: 1.4, Loads: []forecast.LeaveOut{
			{In: day("2026-05-28"), Logs: 12, Piles: []string{"oak-north A"}, Fresh: forecast.Amount{P10: 0.5, P50: 2.5, P90: 5}, PickFrom: day("2026-06-05"), PickTo: day("2026-06-12")}}},
		Plan: forecast.GlutPlan{From: day("2026-06-08"), To: day("2026-06-14"), Chance: 0.34, Over: forecast.Amount{P10: 1, P50: 3.2, P90: 6}, Order: []string{"lion's mane", "oyster", "shiitake"},
			Book: forecast.WeekBook{Before: 1, Came: 9, Sold: 2, Dried: 4, Over: 1, Kept: 3}, Days: []forecast.GlutDay{
				{Day: day("2026-06-08"), Pick: []forecast.Kilos{{Species: "lion's mane", KG: 1}, {Species: "shiitake", KG: 2}}, Dry: []forecast.DrierLoad{
					{Day: day("2026-06-08"), Hours: 12, Parts: []forecast.Kilos{{Species: "lion's mane", KG: 1}, {Species: "shiitake", KG: 1}}},
					{Day: day("2026-06-08"), Hours: 12, After: 12, Parts: []forecast.Kilos{{Species: "shiitake", KG: 2}}}}, Kept: 5},
				{Day: day("2026-06-09"), Pick: []forecast.Kilos{{Species: "shiitake", KG: 2}}, Sell: []forecast.SellBy{{Species: "shiitake", KG: 1, By: day("2026-06-15")}}, Cold: []forecast.Kilos{{Species: "lion's mane", KG: 0.03}, {Species: "shiitake", KG: 4.97}}, Kept: 5, Away: true},
				{Day: day("2026-06-12"), Deliver: []forecast.Kilos{{Species: "shiitake", KG: 2}}, Sell: []forecast.SellBy{{Species: "oyster", KG: 0.4, By: day("2026-06-12")}}, Kept: 3},
			}}}}
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
	if p.Order != "Pick first what keeps least: lion's mane, then oyster, then shiitake." || p.First != "" {
		t.Error(p.Order, p.First)
	}
	if want := []string{"What goes into the tank on Thu 28 May would be picked in it: see when it is due."}; !slices.Equal(p.Leave, want) || p.Close != nil {
		t.Errorf("not due yet: %q %q", p.Leave, p.Close)
	}
	g.Leave.Loads[0].Soon = true
	g.Leave.Loads = append(g.Leave.Loads, forecast.LeaveOut{In: day("2026-06-01"), Piles: []string{"oak-north B", "beech"}, Fresh: forecast.Amount{P90: 3}, PickFrom: day("2026-06-10"), PickTo: day("2026-06-10"), Soon: true},
		forecast.LeaveOut{In: day("2026-06-04"), Piles: []string{"oak-north C"}})
	p = b.glutPart("g1", g)
	if want := []string{
		"Put off the soak of Thu 28 May (oak-north A): 0.5 to 5.0 kg come of it, likely 2.5 kg, picked mostly 5–12 Jun, in the glut.",
		"Put off the soak of Mon 1 Jun (oak-north B and beech): 0 to 3.0 kg come of it, likely 0 kg, picked mostly Wed 10 Jun, in the glut.",
		"What goes in on 11 June 2026 or later is picked after it. The soak of Thu 4 Jun would be picked in it too: see when it is due. That takes up to 1.4 kg off what is too much, less if the logs then flush of themselves.",
	}; !slices.Equal(p.Leave, want) {
		t.Errorf("%q", p.Leave)
	}
	if want := []string{"hodaba record put_off 'soak oak-north A' until=2026-06-11", "hodaba record put_off 'soak oak-north B' until=2026-06-11", "hodaba record put_off 'soak beech' until=2026-06-11"}; !slices.Equal(p.Close, want) {
		t.Errorf("%q", p.Close)
	}
	g.Leave.Empty = true
	if p = b.glutPart("g1", g); !slices.Equal(p.Close, []string{"hodaba record put_off soak until=2026-06-11"}) || !strings.Contains(p.Leave[2], "leave the tank empty") {
		t.Errorf("others are rested: %q %q", p.Leave, p.Close)
	}
	var got []string
	for _, d := range p.Days {
		got = append(got, d.When+": "+strings.Join(d.Do, " "))
	}
	want := []string{
		"Mon 8 Jun: Pick 1.0 kg of lion's mane, then 2.0 kg of shiitake (oak-old). Load the drier in the evening with 1.0 kg of lion's mane and 1.0 kg of shiitake, out after 12 hours. Load it again 12 hours after that evening with 2.0 kg of shiitake.",
		"Tue 9 Jun: Pick 2.0 kg of shiitake (oak-old). Sell or give away 1.0 kg of shiitake by Mon 15 Jun: there is no room for it. Keep 5.0 kg of shiitake in the cold. Nobody is there on that day, says yard.toml: ask somebody.",
		"Fri 12 Jun: Deliver 2.0 kg of shiitake, as promised. Sell or give away 0.4 kg of oyster the same day: there is no room for it.",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %q\nwant %q", got, want)
	}
	// A plan of the first of two weeks says so, and the whole is more.
	g.To += 7
	g.Over.P50 = 5
	if p = b.glutPart("g1", g); p.First != "Day by day in the week of 8 June: more comes in it with a chance of 34 %, then about 3.2 kg too much, 8 times in 10 between 1.0 and 6.0 kg. The weeks after it are planned when they come." ||
		!strings.Contains(p.Lead, "about 5.0 kg too much in all") {
		t.Error(p.First, p.Lead)
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
}

// A drier that takes far more than ever comes is said and not drawn; a first
// week that has begun draws no slope.
func TestSupplyChartAndTheDrier(t *testing.T) {
	b := newBook(aYard())
	s := b.Result.Supply
	has := func() (points int) {
		for _, x := range b.supplyWeeksOption("", s, telling(s))["series"].(echarts.MultiSeries) {
			if x.Name == "drier takes" {
				points = len(x.Data.([]opts.LineData))
			}
		}
		return points
	}
	weeks := len(telling(s))
	if said := b.supplyDrawing(s).Said; has() != 0 || said != "Fresh, by week: what should come and what was promised. The drier takes far more than that, up to 28 kg a week." {
		t.Errorf("28 kg a week where 6 come: %d points, %q", has(), said)
	}
	for i := range s.Weeks {
		s.Weeks[i].Room = 11.9
	}
	if said := b.supplyDrawing(s).Said; has() != weeks || said != "Fresh, by week: what should come, what was promised, and what the drier takes." {
		t.Errorf("11.9 kg a week where 6 come: %d points of %d, %q", has(), weeks, said)
	}
	b.State.AsOf++
	if has() != weeks-1 {
		t.Errorf("on a Tuesday: %d points of %d weeks", has(), weeks)
	}
}

// A glut in the week after next, whose soak is due before: left out first, and
// the soak's own line asks for it.
func TestGlutWork(t *testing.T) {
	in := freshYard()
	g := &in.Result.Supply.Gluts[0]
	if k := kinds(Work(in)); slices.Contains(k, "glut") {
		t.Errorf("a glut a month away: %v", k)
	}
	g.Leave.Loads[0].In, g.Leave.Loads[0].Soon = day("2026-05-14"), true
	in.Result.Loads = []forecast.Load{{Week: day("2026-05-11"), In: day("2026-05-14"), Out: day("2026-05-15"), Parts: []forecast.LoadPart{{Pile: "oak-north", Part: "A", Of: 3, Logs: 12}}, Logs: 12, Fresh: forecast.Amount{P90: 2, Mean: 1}, Chance: 0.5}}
	off := "hodaba record put_off 'soak oak-north A' until=2026-06-11"
	x := oneOf(t, Work(in), "glut")
	if x.Do != "Put off the soak of Thu 14 May (oak-north A) until 11 June 2026, or find buyers for what it brings." || !slices.Equal(x.Close, []string{off}) || x.To != day("2026-05-13") ||
		!strings.Contains(x.Why, "then about 3.2 kg too much; without that soak up to 1.4 kg less. As planned, 1.0 kg of shiitake and 0.4 kg of oyster find no room in the week of 8 June.") {
		t.Errorf("%+v", x)
	}
	if x = oneOf(t, Work(in), "soak"); !strings.HasPrefix(x.Why, "It would be picked in a glut: put off until 11 June 2026? ") || len(x.Close) != 2 || x.Close[0] != off || !strings.HasPrefix(x.Close[1], "hodaba record soaked oak-north part=A") {
		t.Errorf("%+v", x)
	}
	g.Leave.Empty = true
	if x = oneOf(t, Work(in), "glut"); x.Do != "Leave the tank empty until 11 June 2026, or find buyers for what the soak of Thu 14 May (oak-north A) would bring." || x.Close[0] != "hodaba record put_off soak until=2026-06-11" {
		t.Errorf("%+v", x)
	}
	// On its days: what finds no room today and tomorrow, and today's loads, each
	// species with a command of its own; a broken drier is named.
	g.Leave = forecast.Leave{}
	g.From, g.Plan.Days[0].Day, g.Plan.Days[1].Day = day("2026-05-04"), day("2026-05-04"), day("2026-05-05")
	g.Plan.Days[1].Sell = append(g.Plan.Days[1].Sell, forecast.SellBy{Species: "oyster", KG: 2.5, By: day("2026-05-08")}, forecast.SellBy{Species: "lion's mane", KG: 1, By: day("2026-05-05")})
	in.State.Broken = []yard.Breakage{{What: "drier", On: on("2026-05-04"), Until: on("2026-05-20")}}
	list := Work(in)
	if x := oneOf(t, list, "load"); x.Do != "Load the drier this evening with 1.0 kg of lion's mane and 1.0 kg of shiitake, out after 12 hours, again 12 hours later with 2.0 kg of shiitake." ||
		!slices.Equal(x.Close, []string{`hodaba record loaded species='lion'\''s mane' fresh=…kg`, "hodaba record loaded species=shiitake fresh=…kg"}) {
		t.Errorf("%+v", x)
	}
	if x := oneOf(t, list, "glut"); !strings.HasSuffix(x.Why, "The drier is broken until 20 May 2026: no load is planned until then.") {
		t.Errorf("%+v", x)
	}
	i := slices.IndexFunc(list, func(x Task) bool { return strings.HasPrefix(x.Do, "Sell or give away") })
	if i < 0 || list[i].Do != "Sell or give away 1.0 kg of shiitake by Mon 15 Jun and 2.5 kg of oyster by Fri 8 May." || list[i].From != day("2026-05-05") ||
		!slices.Equal(list[i].Close, []string{"hodaba record sold shiitake …kg to=…", "hodaba record sold oyster …kg to=…"}) || !strings.Contains(list[i].Why, "The drier is broken") {
		t.Errorf("%d of %+v", i, list)
	}
}

// A load that was in the drier when it broke is looked at, not taken out; one of
// several alike is called by its entry.
func TestLoadsInTheDrier(t *testing.T) {
	in := freshYard()
	st := in.State
	span := yard.Span{Low: 1, High: 1}
	st.Loads = []yard.Load{{Name: "kitchen-301", Species: "shiitake", FreshKG: span, On: on("2026-05-02"), Entry: &yard.Entry{ID: "kitchen-301"}},
		{Name: "kitchen-303", Species: "oyster", FreshKG: span, On: on("2026-05-03"), Entry: &yard.Entry{ID: "kitchen-303"}},
		{Name: "kitchen-305", Species: "shiitake", FreshKG: span, On: on("2026-05-03"), Entry: &yard.Entry{ID: "kitchen-305"}}}
	drier := func() (did []string) {
		for _, x := range Work(in) {
			if x.Kind == "drier" {
				did = append(did, x.Do+" "+strings.Join(x.Close, " or "))
			}
		}
		return did
	}
	want := []string{
		"Take the load of shiitake of Sat 2 May out of the drier now (it was due on Sun 3 May) and weigh it. hodaba record dried load=kitchen-301 dry=…g",
		"Take the load of oyster out of the drier today and weigh it. hodaba record dried oyster dry=…g",
		"Take the load of shiitake of Sun 3 May out of the drier today and weigh it. hodaba record dried load=kitchen-305 dry=…g",
	}
	if got := drier(); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	// It broke on 4 May: the first load was done by then.
	st.Broken = []yard.Breakage{{What: "drier", On: on("2026-05-04")}}
	want[1] = "Look whether the load of oyster is dry through; finish it elsewhere if not, then weigh it. hodaba record dried oyster dry=…g"
	want[2] = "Look whether the load of shiitake of Sun 3 May is dry through; finish it elsewhere if not, then weigh it. hodaba record dried load=kitchen-305 dry=…g"
	if got := drier(); !slices.Equal(got, want) {
		t.Errorf("broken: %q", got)
	}
	st.Broken[0].On = on("2026-05-05") // from tomorrow on
	if got := drier(); strings.Contains(strings.Join(got, " "), "Look whether") {
		t.Errorf("broken from tomorrow on: %q", got)
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
			Leave struct {
				Loads []struct{ In string }
				Until string
			} `json:"put_off_soaks"`
			Plan struct {
				Order []string `json:"pick_order"`
			}
			Days []struct {
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
	if v.Gluts[0].Leave.Loads[0].In != "2026-05-28" || v.Gluts[0].Leave.Until != "2026-06-11" || len(v.Gluts[0].Plan.Order) != 3 || v.Gluts[0].Days[0].Loads[1].After != 12 || v.Promised[0].On != "2026-05-08" {
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
