package charts

import (
	"fmt"
	"math"
	"time"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/harvest"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// An invented yard with an invented forecast: the pages are tested for what
// they make of numbers, not for the numbers.

func on(s string) yard.When {
	d, err := yard.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return yard.When{From: d, To: d}
}

func day(s string) yard.Date { return on(s).From }

// aYard is Fernbrook as of 4 May 2026, a Monday.
func aYard() Input {
	asOf := day("2026-05-04")
	st := &yard.State{AsOf: asOf, Config: yard.Config{Name: "Fernbrook", Confidence: 0.8, Kitchen: yard.Kitchen{Jars: 4, JarML: 1000}}}
	north := aPile("oak-north", "ON", "2025-04-12", 40)
	north.Seen = []yard.Seen{
		{On: on("2025-11-20"), Kind: "checked", LookedAt: 10, With: 1, Springy: -1, Spots: -1, Dull: -1},
		{On: on("2026-03-02"), Kind: "checked", LookedAt: 10, With: 4, Springy: -1, Spots: -1, Dull: -1},
	}
	old := aPile("oak-old", "OO", "2023-04-20", 25)
	old.Started = 30
	elm := aPile("elm-2024", "EL", "2024-05-01", 0)
	elm.LogsKnown, elm.Diameter = false, yard.Span{}
	elm.Since.Text = "2024"
	young := aPile("birch-new", "BN", "2026-03-20", 30)
	bed := aPile("reishi-bed", "RB", "2025-11-15", 12)
	bed.Kind, bed.Species, bed.Like, bed.Strain, bed.Origin, bed.Colonised = "bed", "reishi", "reishi", "", "buried", true
	bed.Depth = yard.Span{Low: 5, High: 5}
	st.Piles = []*yard.Pile{north, old, elm, young, bed}
	for i, k := range []struct {
		day string
		kg  float64
	}{{"2024-09-28", 1.2}, {"2024-10-12", 2.1}, {"2025-05-18", 3.4}, {"2025-06-02", 0.8}, {"2025-09-21", 4.2}, {"2025-10-11", 2.6}, {"2026-04-26", 1.9}} {
		pick := &yard.Pick{On: on(k.day), Piles: []string{"oak-old"}, Species: "shiitake", Fresh: yard.Span{Low: k.kg, High: k.kg}, Weighed: true}
		st.Picks, old.Picks = append(st.Picks, pick), append(old.Picks, pick)
		e := &yard.Entry{ID: fmt.Sprintf("kitchen-%d", 200+i), Kind: "harvested", Line: 300 + 10*i, On: on(k.day),
			Text: fmt.Sprintf("[[harvested]]\nwritten = %sT18:02:00\non = %s\npile = \"oak-old\"\nfresh = \"%g kg\"\nentry = \"kitchen-%d\"\n", k.day, k.day, k.kg, 200+i)}
		old.Entries = append(old.Entries, e)
	}
	old.Seen = []yard.Seen{{On: on("2026-04-26"), Kind: "harvested", With: -1}}
	st.Dry = []*yard.DryLot{
		{Lot: "D-25-03", Species: "shiitake", Form: "pieces", On: on("2025-10-12"), From: "own", InG: 780, LeftG: 330},
		{Lot: "R-26-01", Species: "lion's mane", Form: "powder", On: on("2026-01-15"), From: "indoor", InG: 200, LeftG: 150},
		{Lot: "R-26-02", Species: "turkey tail", Form: "pieces", On: on("2026-02-01"), From: "gathered", InG: 100, LeftG: -20},
	}
	st.Bottles = []yard.BottleStock{{Recipe: "five mushrooms", Lot: "T-25-02", Bottles: []yard.BottleCount{{SizeML: 100, Count: 7}}}}
	st.Batches = []*yard.Batch{{Lot: "T-26-01", Recipe: "five mushrooms", On: on("2026-04-13"), Jars: 2, SpiritML: 1000, SpiritABV: 40, SpiritLot: "SP-1",
		Ingredients: []yard.Taken{{Species: "shiitake", Lot: "D-25-03", Grams: 50}, {Species: "lion's mane", Lot: "R-26-01", Grams: 50}}}}
	st.Bought = []yard.Purchase{{On: on("2026-02-20"), Item: "spirit", Amount: yard.Quantity{Low: 3000, High: 3000, Unit: yard.Millilitre, Text: "3 l"}, Lot: "SP-1"}}
	st.Sort = []*yard.Entry{{ID: "kitchen-214", Kind: "harvested", On: on("2026-05-01")}}
	return Input{State: st, Result: aResult(st), Data: aSet(), Written: entriesOf(st)}
}

func aPile(name, code, since string, logs int) *yard.Pile {
	p := &yard.Pile{Name: name, Code: code, Kind: "pile", Species: "shiitake", Like: "shiitake", Strain: "wide-range", Wood: "white oak",
		Place: "north side", Since: on(since), Origin: "inoculated", Started: logs, Logs: logs, LogsKnown: true,
		Diameter: yard.Span{Low: 10, High: 14}, Length: yard.Span{Low: 100, High: 100}, Spawn: "sawdust", SpawnLot: "S-25-04"}
	p.Entries = []*yard.Entry{{ID: "kitchen-" + code, Kind: "inoculated", Line: 12, On: p.Since, Note: "under the firs",
		Text: "[[inoculated]]\nwritten = 2025-04-12T18:02:00\non = 2025-04-12\npile = \"" + name + "\"\nspecies = \"shiitake\"\nlogs = 40\nentry = \"kitchen-" + code + "\"\n"}}
	return p
}

func aResult(st *yard.State) *forecast.Result {
	r := &forecast.Result{AsOf: st.AsOf, Seed: 1, Draws: 2000, Years: 6, Horizon: st.AsOf.AddMonths(72)}
	r.Site = forecast.Site{Name: "Oxford", Key: "oxford", DistanceKM: 12, Period: "1991-2020", Source: "Met Office, historic station data",
		Licence: "Open Government Licence v3.0", Borrowed: []string{"day-to-day variation"}, Warming: 0.3, WarmerNow: 0.6, Quality: data.Derived}
	r.Site.Normals, r.Site.Ahead = someNormals(), anAhead(st.AsOf)
	r.Piles = []*forecast.Pile{
		aForecast(st, "oak-north", 16.5, 0.55), aForecast(st, "oak-old", -20, 0.7), aForecast(st, "elm-2024", 4, 0.5),
		aForecast(st, "birch-new", 26, 0.6), aBed(st),
	}
	r.Piles[0].Why = aWhy(st.Pile("oak-north"))
	r.Piles[1].Picked = true
	r.Piles[2].Notes = []forecast.Note{{Kind: "guess", Text: "Nobody counted its logs: the kilograms are for one log."}}
	r.Species = []forecast.Species{aCrop(st, "shiitake", 8.7, 9), aCrop(st, "reishi", 3, 1.2)}
	r.Species[1].Unpublished, r.Species[1].Wide = true, data.NoLogYield
	r.Plan, r.Supply = aPlan(), aSupply(st)
	r.Stock = aStock(st)
	r.LeftOut = []forecast.LeftOut{{Pile: "mystery", Why: "its species is not known"}}
	return r
}

// humps is the shape of an invented year: two humps.
func humps(m time.Month) float64 {
	return []float64{0, 0, 0.05, 0.5, 0.9, 0.6, 0.3, 0.35, 1, 0.8, 0.15, 0}[m-1]
}

// aForecast makes a pile of which half is through some months after today.
func aForecast(st *yard.State, name string, months, height float64) *forecast.Pile {
	p := st.Pile(name)
	f := &forecast.Pile{Name: name, Code: p.Code, Kind: p.Kind, Species: p.Species, Strain: p.Strain, Since: p.Since, Logs: p.Logs, LogsKnown: p.LogsKnown, GrowthNeeded: true}
	months -= 12
	at := func(i float64) float64 { return 1 / (1 + math.Exp(-(i-months)/1.8)) }
	f.Colonised = &forecast.Colonised{ShareNow: at(0) * 0.9, ChanceNow: at(0), ShareP10: at(-2) * 0.85, ShareP90: at(2) * 0.95,
		Dates: forecast.Dates{P10: st.AsOf + yard.Date(30*(months-3)), P50: st.AsOf + yard.Date(30*months), P90: st.AsOf + yard.Date(30*(months+6))}}
	for m := p.Since.Mid().MonthStart(); m < st.AsOf; m = m.AddMonths(1) {
		i := float64(m-st.AsOf)/30.4 + 1
		f.Past = append(f.Past, forecast.Through{Month: m, Share: at(i) * 0.9, Low: at(i-2) * 0.85, High: at(i+2) * 0.95})
	}
	best := yard.Date(0)
	for i := range 72 {
		month := st.AsOf.MonthStart().AddMonths(i)
		p := at(float64(i) + 1)
		h := p * height * humps(month.Month())
		if best == 0 && h > 0.3 {
			best = month + 14
		}
		f.Months = append(f.Months, forecast.Month{Month: month, ColonisedChance: p, ShareThrough: p * 0.9, HarvestChance: h,
			ShareLow: at(float64(i)-1) * 0.85, ShareHigh: at(float64(i)+3) * 0.95,
			Fresh: forecast.Amount{P90: 4 * h, Mean: 1.5 * h}, Winter: month.Month() <= 2 || month.Month() == 12})
	}
	f.First = forecast.FirstHarvest{Chance: 0.97, Dates: forecast.Dates{P10: best - 20, P50: best, P90: best + 250}}
	for i := range 6 {
		k := height * float64([]int{3, 7, 8, 5, 3, 1}[i])
		f.YearsAhead = append(f.YearsAhead, forecast.Year{Year: 2026 + i, Fresh: forecast.Amount{P10: k * 0.4, P50: k, P90: k * 1.9, Mean: k * 1.05}})
	}
	f.Moisture = &forecast.Moisture{Now: forecast.Amount{P10: 0.35, P50: 0.38, P90: 0.42}, DryChance: 0.02}
	f.GrowingDays = forecast.Amount{P10: 120, P50: 131, P90: 142, Mean: 131}
	f.NeedDays = forecast.Amount{P10: 110, P50: 150, P90: 196, Mean: 152}
	f.Yield = forecast.YieldBasis{DryWoodKG: forecast.Amount{P10: 5.1, P50: 6.9, P90: 9.2}, Per: data.PerInoculated, Over: data.OverDry,
		Efficiency: data.Range{Low: 0.09, Typical: 0.2, High: 0.3, Quality: data.Derived, Source: "a bulletin"}}
	return f
}

// aWhy is of a pile of which one look told something, another nothing.
func aWhy(p *yard.Pile) *forecast.Why {
	return &forecast.Why{
		Season: forecast.Amount{P10: 12, P50: 14, P90: 15, Mean: 14}, Usual: forecast.Amount{P10: 8, P50: 11, P90: 14, Mean: 11}, From: day("2026-01-01"),
		Unlearned: forecast.Dates{P10: day("2026-06-20"), P50: day("2026-10-10"), P90: day("2027-07-01")},
		Others:    forecast.Dates{P10: day("2026-06-20"), P50: day("2026-10-16"), P90: day("2027-06-01")}, OthersDays: 6,
		Now: forecast.Dates{P10: day("2026-06-03"), P50: day("2026-09-16"), P90: day("2027-03-15")},
		Effects: []forecast.Effect{{Seen: &p.Seen[0], Count: 1, Told: true, Days: -1}, {Seen: &p.Seen[1], Count: 1, Told: true, Days: -23},
			{Seen: &yard.Seen{On: on("2026-04-20"), Kind: "noticed", What: "slugs", Logs: 2}, Count: 1}},
		Visit: &forecast.Visit{On: day("2026-06-12"), Ends: 10, NowDays: 285, Then: 120},
	}
}

func aBed(st *yard.State) *forecast.Pile {
	f := aForecast(st, "reishi-bed", 0, 0.5)
	f.Colonised, f.Moisture = nil, nil
	f.Yield.Unpublished, f.Yield.Wide = true, data.NoLogYield
	for i := range f.Months {
		m := f.Months[i].Month.Month()
		f.Months[i].HarvestChance = map[time.Month]float64{7: 0.44, 8: 0.52, 9: 0.12}[m]
	}
	f.First.Dates = forecast.Dates{P10: day("2026-07-20"), P50: day("2026-08-11"), P90: day("2027-08-30")}
	f.Notes = []forecast.Note{{Kind: "caution", Text: "Its summers here are near the cool end of what it fruits in."}}
	return f
}

func aCrop(st *yard.State, name string, ratio, kg float64) forecast.Species {
	s := forecast.Species{Species: name, DryRatio: forecast.Amount{P10: ratio * 0.8, P50: ratio, P90: ratio * 1.2}}
	for i := range 72 {
		month := st.AsOf.MonthStart().AddMonths(i)
		h := 0.8 * humps(month.Month())
		fresh := forecast.Amount{P50: kg * h / 8, P90: kg * h / 2, Mean: kg * h / 5}
		s.Months = append(s.Months, forecast.SpeciesMonth{Month: month, HarvestChance: h, Fresh: fresh,
			Dry: forecast.Amount{P50: fresh.P50 / ratio, P90: fresh.P90 / ratio, Mean: fresh.Mean / ratio}})
	}
	sum := 0.0
	for i := range 6 {
		k := kg * []float64{0.6, 1.2, 1.3, 1, 0.7, 0.4}[i]
		sum += k
		s.Years = append(s.Years, forecast.SpeciesYear{Year: 2026 + i, Fresh: forecast.Amount{P10: k * 0.5, P50: k, P90: k * 1.7, Mean: k},
			Dry:    forecast.Amount{P10: k * 0.5 / ratio, P50: k / ratio, P90: k * 1.7 / ratio, Mean: k / ratio},
			Sum:    forecast.Amount{P10: sum * 0.6, P50: sum, P90: sum * 1.5, Mean: sum},
			DrySum: forecast.Amount{P10: sum * 0.6 / ratio, P50: sum / ratio, P90: sum * 1.5 / ratio, Mean: sum / ratio}})
	}
	return s
}

// aStock has what is on hand, and a picking of shiitake now and then.
func aStock(st *yard.State) *harvest.Stock {
	s := harvest.NewStock(50)
	for _, l := range st.Dry {
		s.Hold(l.Species, l.Form, max(l.LeftG, 0))
	}
	for d := range s.Draws() {
		for i := range 4 {
			s.Add("shiitake", d, st.AsOf+yard.Date(40+110*i+d), float64(20+2*d))
		}
	}
	s.Close()
	return s
}

func aPlan() *tincture.Plan {
	need := func(species string, hand, short float64) tincture.Need {
		return tincture.Need{Species: species, Grams: 50, OnHand: hand, ShortChance: short}
	}
	batch := func(lot, start, strain, bottled string, jars ...int) tincture.Batch {
		b := tincture.Batch{Lot: lot, Recipe: "five mushrooms", Start: day(start), StartChance: 0.82, Strain: day(strain), Decoct: day(strain),
			Blend: day(strain), Bottled: day(bottled), ShakeUntil: day(start) + 14, Jars: jars, BottleML: 100,
			Bottles: tincture.Amount{P10: 17, P50: 18, P90: 20}, ABV: tincture.Amount{P10: 18.2, P50: 19.1, P90: 20.3}, SpiritML: 1000}
		b.Needs = []tincture.Need{need("shiitake", 330, 0), need("reishi", 0, 0.12), need("lion's mane", 150, 0.05)}
		return b
	}
	standing := batch("T-26-01", "2026-04-13", "2026-05-13", "2026-05-14", 1, 2)
	standing.StartChance = 1
	fresh := batch("T-26-02", "2026-05-01", "2026-06-02", "2026-06-03", 3)
	next := batch("T-26-03", "2026-05-14", "2026-06-15", "2026-06-16", 1, 2)
	late := batch("T-26-04", "2026-09-21", "2026-10-22", "2026-10-23", 1, 2)
	late.Early, late.Late = day("2026-08-20"), day("2026-10-30")
	late.Cautions = []string{"At 19 % by volume it stands between the strengths on which sources disagree whether it keeps."}
	never := tincture.Batch{Lot: "T-26-05", Recipe: "maitake simple", Reached: 0.34, Why: "maitake is short in most years", Needs: []tincture.Need{need("maitake", 0, 0.66)}}
	return &tincture.Plan{Standing: []tincture.Batch{standing, fresh}, Batches: []tincture.Batch{next, late, never}, Holds: 0.71}
}

func aSet() *data.Set {
	return &data.Set{
		Species: []data.Species{{Name: "shiitake", Latin: "Lentinula edodes", Grown: true, Look: []string{"jack-o'-lantern", "deadly galerina"},
			Dried:   data.Number{Value: 0.1, Quality: data.Judgement, Source: "our own guess"},
			Strains: []data.Strain{{Name: "wide-range", Growth: data.Growth{TOpt: data.Number{Value: 24, Quality: data.Read, Source: "A handbook of log growing"}}}}},
			{Name: "reishi", Grown: true, Strains: []data.Strain{{Name: "european"}}}},
		Practice: data.Practice{HardFrost: data.Number{Value: -2.2}, HotDay: data.Number{Value: 30}, WaterBelow: data.Number{Value: 30},
			SpawnLost: data.Number{Value: 23}, WateringGain: data.Number{Value: 0.01}, ReferenceDiameter: data.Number{Value: 12, Quality: data.Judgement, Source: "within the range of the bulletins"},
			Windows: []data.TradeWindow{{Name: "inoculating", Says: "from the last hard frost to early summer", Quality: data.Practised}}},
	}
}
