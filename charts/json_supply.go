package charts

import (
	"hodaba/data"
	"hodaba/forecast"
	"hodaba/yard"
)

type supplyJSON struct {
	AsOf    isoDay           `json:"as_of"`
	Seed    uint64           `json:"seed"`
	Draws   int              `json:"draws"`
	Planned bool             `json:"capacity_known"`
	Drier   *drierJSON       `json:"drier"`
	HoldsKG *jsonNumber      `json:"cold_holds_kg"`
	Waiting []waitingJSON    `json:"in_the_cold"`
	Due     []dueJSON        `json:"promised"`
	Weeks   []supplyWeekJSON `json:"weeks"`
	Gluts   []glutJSON       `json:"gluts"`
}

type drierJSON struct {
	LoadKG    jsonNumber `json:"load_kg"`
	Hours     jsonNumber `json:"hours_per_load"`
	LoadsADay int        `json:"loads_per_day"`
	Nights    int        `json:"nights_per_load"`
}

type waitingJSON struct {
	Species string     `json:"species"`
	KG      jsonNumber `json:"fresh_kg"`
	Picked  isoDay     `json:"picked"`
	Until   isoDay     `json:"fresh_until"`
	Lot     string     `json:"lot,omitempty"`
	Piles   []string   `json:"piles"`
}

type dueJSON struct {
	Day     isoDay      `json:"on"`
	To      string      `json:"to,omitempty"`
	Species string      `json:"species,omitempty"` // left out: any fresh
	KG      jsonNumber  `json:"promised_kg"`
	Open    jsonNumber  `json:"open_kg"`
	Met     *jsonNumber `json:"met_chance,omitempty"`
}

type supplyWeekJSON struct {
	Week     isoDay              `json:"week"`
	Fresh    amountJSON          `json:"fresh_kg"`
	Promised jsonNumber          `json:"promised_kg"`
	Met      *jsonNumber         `json:"met_chance"` // null: nothing is promised
	Left     amountJSON          `json:"left_for_drier_kg"`
	Room     jsonNumber          `json:"drier_room_kg"`
	Over     amountJSON          `json:"over_kg"`
	OverP    jsonNumber          `json:"over_chance"`
	Short    bool                `json:"short"`
	Glut     bool                `json:"glut"`
	Book     weekBookJSON        `json:"book_mean_kg"`
	Species  []supplySpeciesJSON `json:"species"`
}

type weekBookJSON struct {
	Before jsonNumber `json:"before"`
	Came   jsonNumber `json:"came"`
	Sold   jsonNumber `json:"promised_delivered"`
	Usual  jsonNumber `json:"as_usual"`
	Dried  jsonNumber `json:"dried"`
	Over   jsonNumber `json:"over"`
	Kept   jsonNumber `json:"kept"`
}

type supplySpeciesJSON struct {
	Species  string      `json:"species"`
	Fresh    amountJSON  `json:"fresh_kg"`
	Chance   jsonNumber  `json:"harvest_chance"`
	Promised jsonNumber  `json:"promised_kg"`
	Met      *jsonNumber `json:"met_chance"`
}

type glutJSON struct {
	From   isoDay        `json:"from"`
	To     isoDay        `json:"to"`
	Chance jsonNumber    `json:"chance"`
	Over   amountJSON    `json:"over_kg"`
	First  *leaveOutJSON `json:"put_off_soak"`  // the first of them
	Leave  *leaveJSON    `json:"put_off_soaks"` // null: no load of the tank is picked in it
	Plan   glutPlanJSON  `json:"plan"`
	Days   []glutDayJSON `json:"days"` // of the plan
}

type leaveJSON struct {
	Loads []leaveOutJSON `json:"loads"`
	Until isoDay         `json:"until"`
	Empty bool           `json:"leave_tank_empty"` // other logs would take their place
	Less  jsonNumber     `json:"less_over_kg"`     // mean, without those that are due soon
}

type leaveOutJSON struct {
	In       isoDay     `json:"in"`
	Logs     int        `json:"logs"`
	Piles    []string   `json:"piles"`
	Fresh    amountJSON `json:"fresh_kg"`
	PickFrom isoDay     `json:"picked_p10"`
	PickTo   isoDay     `json:"picked_p90"`
	Soon     bool       `json:"due_soon"` // this week or next
}

type glutPlanJSON struct {
	From   isoDay       `json:"from"`
	To     isoDay       `json:"to"`
	Chance jsonNumber   `json:"chance"`
	Over   amountJSON   `json:"over_kg"`
	Order  []string     `json:"pick_order"`
	Book   weekBookJSON `json:"book_kg"` // of the course in the middle
}

type glutDayJSON struct {
	Day     isoDay          `json:"day"`
	Pick    []kilosJSON     `json:"pick"`
	Deliver []kilosJSON     `json:"deliver"`
	Usual   []kilosJSON     `json:"as_usual"`
	Loads   []drierLoadJSON `json:"drier_loads"`
	Sell    []kilosJSON     `json:"no_room"`
	Cold    []kilosJSON     `json:"in_the_cold"`
	Kept    jsonNumber      `json:"kept_kg"`
}

type kilosJSON struct {
	Species string     `json:"species"`
	KG      jsonNumber `json:"kg"`
	By      *isoDay    `json:"fresh_until,omitempty"`
}

type drierLoadJSON struct {
	After jsonNumber  `json:"hours_after_evening"`
	Hours jsonNumber  `json:"hours"`
	Parts []kilosJSON `json:"parts"`
}

// SupplyJSON returns what comes fresh against what was promised and can be kept
// and dried. The same Result gives the same bytes.
func SupplyJSON(r *forecast.Result) ([]byte, error) {
	out := supplyJSON{AsOf: isoDay(r.AsOf), Seed: r.Seed, Draws: r.Draws, Waiting: []waitingJSON{}, Due: []dueJSON{},
		Weeks: []supplyWeekJSON{}, Gluts: []glutJSON{}}
	s := r.Supply
	if s == nil {
		return encode(out)
	}
	out.Planned, out.Waiting, out.Due = s.Planned(), waitingOf(s.Waiting), duesOf(s.Due, r.AsOf)
	if s.Drier {
		out.Drier = &drierJSON{kgNumber(s.LoadKG), smallNumber(s.Hours), s.LoadsADay, s.Nights}
	}
	if s.Cold {
		n := kgNumber(s.HoldsKG)
		out.HoldsKG = &n
	}
	for _, w := range s.Weeks {
		out.Weeks = append(out.Weeks, supplyWeekOf(w))
	}
	for _, g := range s.Gluts {
		out.Gluts = append(out.Gluts, glutOf(g))
	}
	return encode(out)
}

func waitingOf(list []forecast.Waiting) []waitingJSON {
	out := []waitingJSON{}
	for _, w := range list {
		out = append(out, waitingJSON{w.Species, kgNumber(w.KG), isoDay(w.Picked), isoDay(w.Until), w.Lot, append([]string{}, w.Piles...)})
	}
	return out
}

// duesOf are promises with their chances; without, where asOf is 0, and where
// the day is past.
func duesOf(list []forecast.Due, asOf yard.Date) []dueJSON {
	out := []dueJSON{}
	for _, d := range list {
		j := dueJSON{Day: isoDay(d.Day), To: d.To, Species: d.Species, KG: kgNumber(d.KG), Open: kgNumber(d.Open)}
		if asOf != 0 && d.Day >= asOf {
			n := chanceNumber(d.Met)
			j.Met = &n
		}
		out = append(out, j)
	}
	return out
}

// metOf is null where nothing is promised.
func metOf(promised, met float64) *jsonNumber {
	if promised == 0 {
		return nil
	}
	n := chanceNumber(met)
	return &n
}

func supplyWeekOf(w forecast.SupplyWeek) supplyWeekJSON {
	out := supplyWeekJSON{
		Week: isoDay(w.Week), Fresh: kgAmount(w.Came), Promised: kgNumber(w.Promised), Met: metOf(w.Promised, w.Met), Left: kgAmount(w.Left),
		Room: kgNumber(w.Room), Over: kgAmount(w.Over), OverP: chanceNumber(w.OverChance), Short: w.Short, Glut: w.Glut,
		Book: weekBookOf(w.Book),
	}
	for _, s := range w.Species {
		out.Species = append(out.Species, supplySpeciesJSON{s.Species, kgAmount(s.Came), chanceNumber(s.Chance), kgNumber(s.Promised), metOf(s.Promised, s.Met)})
	}
	return out
}

func weekBookOf(x forecast.WeekBook) weekBookJSON {
	return weekBookJSON{kgNumber(x.Before), kgNumber(x.Came), kgNumber(x.Sold), kgNumber(x.Usual), kgNumber(x.Dried), kgNumber(x.Over), kgNumber(x.Kept)}
}

func leaveOf(l forecast.Leave) *leaveJSON {
	if len(l.Loads) == 0 {
		return nil
	}
	out := &leaveJSON{Until: isoDay(l.Until), Empty: l.Empty, Less: kgNumber(l.Less)}
	for _, x := range l.Loads {
		out.Loads = append(out.Loads, leaveOutJSON{isoDay(x.In), x.Logs, append([]string{}, x.Piles...), kgAmount(x.Fresh), isoDay(x.PickFrom), isoDay(x.PickTo), x.Soon})
	}
	return out
}

func glutOf(g forecast.Glut) glutJSON {
	p := g.Plan
	out := glutJSON{From: isoDay(g.From), To: isoDay(g.To), Chance: chanceNumber(g.Chance), Over: kgAmount(g.Over), Leave: leaveOf(g.Leave),
		Plan: glutPlanJSON{isoDay(p.From), isoDay(p.To), chanceNumber(p.Chance), kgAmount(p.Over), append([]string{}, p.Order...), weekBookOf(p.Book)}, Days: []glutDayJSON{}}
	if out.Leave != nil {
		out.First = &out.Leave.Loads[0]
	}
	for _, d := range p.Days {
		day := glutDayJSON{Day: isoDay(d.Day), Pick: kilosOf(d.Pick), Deliver: kilosOf(d.Deliver), Usual: kilosOf(d.Usual),
			Loads: []drierLoadJSON{}, Sell: []kilosJSON{}, Cold: kilosOf(d.Cold), Kept: kgNumber(d.Kept)}
		for _, l := range d.Dry {
			day.Loads = append(day.Loads, drierLoadJSON{smallNumber(l.After), smallNumber(l.Hours), kilosOf(l.Parts)})
		}
		for _, x := range d.Sell {
			by := isoDay(x.By)
			day.Sell = append(day.Sell, kilosJSON{x.Species, kgNumber(x.KG), &by})
		}
		out.Days = append(out.Days, day)
	}
	return out
}

func kilosOf(list []forecast.Kilos) []kilosJSON {
	out := []kilosJSON{}
	for _, k := range list {
		out = append(out, kilosJSON{Species: k.Species, KG: kgNumber(k.KG)})
	}
	return out
}

// The parts of the stock that concern fresh mushrooms and differences.

type loadInJSON struct {
	Load    string      `json:"load"`
	Species string      `json:"species"`
	Since   isoDay      `json:"since"`
	KG      *jsonNumber `json:"fresh_kg"` // null: not weighed
}

type dryKindJSON struct {
	Species string     `json:"species"`
	Form    string     `json:"form"`
	Left    jsonNumber `json:"left_g"`
}

type freshBookJSON struct {
	Species    string     `json:"species"`
	Picked     jsonNumber `json:"picked_kg"`
	Sold       jsonNumber `json:"sold_kg"`
	Given      jsonNumber `json:"given_kg"`
	Eaten      jsonNumber `json:"eaten_kg"`
	Dried      jsonNumber `json:"dried_kg"`
	Spoiled    jsonNumber `json:"spoiled_kg"`
	NotWritten jsonNumber `json:"not_written_kg"`
}

type unexplainedJSON struct {
	On      isoDay     `json:"on"`
	What    string     `json:"what"`
	Grams   jsonNumber `json:"dry_g"`
	Bottles int        `json:"bottles"`
	Logs    int        `json:"logs"`
	Entry   string     `json:"entry,omitempty"`
}

// freshStockJSON is embedded in the stock.
type freshStockJSON struct {
	Cold        []waitingJSON     `json:"in_the_cold"`
	Older       []waitingJSON     `json:"not_written_down"`
	Drier       []loadInJSON      `json:"in_the_drier"`
	Kinds       []dryKindJSON     `json:"dry_by_form"`
	Year        []freshBookJSON   `json:"fresh_this_year"`
	Promised    []dueJSON         `json:"promised_this_week"`
	Unexplained []unexplainedJSON `json:"unexplained"`
}

func freshStockOf(s *yard.State, d *data.Set) freshStockJSON {
	fresh, older := inTheCold(s, d)
	out := freshStockJSON{Cold: waitingOf(fresh), Older: waitingOf(older), Drier: []loadInJSON{}, Kinds: []dryKindJSON{}, Year: []freshBookJSON{},
		Promised: duesOf(promisedThisWeek(s, d), 0), Unexplained: []unexplainedJSON{}}
	for _, l := range inTheDrier(s) {
		j := loadInJSON{Load: l.Name, Species: l.Species, Since: isoDay(l.On.Mid())}
		if l.FreshKG.Known() {
			n := kgNumber(l.FreshKG.Mid())
			j.KG = &n
		}
		out.Drier = append(out.Drier, j)
	}
	for _, k := range dryKinds(s) {
		out.Kinds = append(out.Kinds, dryKindJSON{k.species, k.form, smallNumber(k.grams)})
	}
	for _, t := range s.FreshBook(yard.NewDate(s.AsOf.Year(), 1, 1), s.AsOf) {
		out.Year = append(out.Year, freshBookJSON{t.Species, kgNumber(t.Picked), kgNumber(t.Sold), kgNumber(t.Given), kgNumber(t.Eaten),
			kgNumber(t.Dried), kgNumber(t.Spoiled), kgNumber(t.NotWritten)})
	}
	for _, x := range differences(s, func(float64) string { return "" }) {
		out.Unexplained = append(out.Unexplained, unexplainedJSON{isoDay(x.on.Mid()), x.what, smallNumber(x.grams), x.bottles, x.logs, x.entry})
	}
	return out
}
