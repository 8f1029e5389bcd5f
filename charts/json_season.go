package charts

import (
	"strconv"

	"hodaba/forecast/season"
)

type seasonPlanJSON struct {
	AsOf       isoDay           `json:"as_of"`
	Seed       uint64           `json:"seed"`
	Draws      int              `json:"draws"`
	Fresh      int              `json:"draws_judged"`
	Year       int              `json:"year"`
	Confidence jsonNumber       `json:"confidence_percent"`
	Windfall   bool             `json:"windfall"`
	Margin     bool             `json:"most_margin"`
	Met        bool             `json:"met"`
	Plan       []seasonLineJSON `json:"plan"`
	Cost       jsonNumber       `json:"cost"`
	Cash       jsonNumber       `json:"cash"`
	Earns      jsonNumber       `json:"earns"`
	Currency   string           `json:"currency"`
	Bound      *jsonNumber      `json:"bound"` // no plan costs less; null: no valid bound
	Hours      jsonNumber       `json:"hours"`
	Meets      []meetJSON       `json:"meets"`
	Joint      jsonNumber       `json:"joint_chance"`
	JointLess  jsonNumber       `json:"joint_chance_at_less_crop"`
	JointAlone jsonNumber       `json:"joint_chance_without_plan"`
	Shopping   []shoppingJSON   `json:"shopping"`
	Takes      []takesJSON      `json:"takes"`
	Weeks      []seasonWeekJSON `json:"hours_by_week"`
	Limits     []limitJSON      `json:"limits"`
	Lacking    []lackJSON       `json:"lacking"`
	Years      []seasonYearJSON `json:"years"`
	Ifs        []ifJSON         `json:"what_if"`
	Sways      []swayJSON       `json:"sway"`
	Renewal    renewalJSON      `json:"renewal"`
	LeftOut    []leftOutJSON    `json:"left_out"`
	Notes      []string         `json:"notes"`
	Accepted   []acceptedJSON   `json:"accepted,omitempty"`
}

type seasonLineJSON struct {
	Pile      string     `json:"pile"`
	Kind      string     `json:"kind"`
	Species   string     `json:"species"`
	Strain    string     `json:"strain"`
	Wood      string     `json:"wood"`
	DiameterL jsonNumber `json:"diameter_cm_low"`
	DiameterH jsonNumber `json:"diameter_cm_high"`
	LengthL   jsonNumber `json:"length_cm_low"`
	LengthH   jsonNumber `json:"length_cm_high"`
	Spawn     string     `json:"spawn"`
	Method    string     `json:"method"`
	Place     string     `json:"place"`
	Month     string     `json:"month"`
	Logs      int        `json:"logs"`
	BuyG      jsonNumber `json:"buy_dry_g"`
	Cost      jsonNumber `json:"cost"`
	Hours     jsonNumber `json:"hours"`
	First     firstJSON  `json:"first_harvest"`
	Years     []yearJSON `json:"years"`
	Guess     bool       `json:"yield_unpublished"`
}

type meetJSON struct {
	Year     int        `json:"year"`
	Target   string     `json:"target"`
	Chance   jsonNumber `json:"chance"`
	Kind     string     `json:"kind"`
	What     string     `json:"what"`
	Amount   jsonNumber `json:"amount"`
	Unit     string     `json:"amount_unit"`
	Asked    jsonNumber `json:"asked_chance"`
	Planning jsonNumber `json:"chance_in_planning_draws"`
	Less     jsonNumber `json:"chance_at_less_crop"`
	Alone    jsonNumber `json:"chance_without_plan"`
	Short    jsonNumber `json:"mean_share_short"`
	Worst    string     `json:"short_of,omitempty"`
}

// targetUnits are the units of a target's amount, by its kind.
var targetUnits = map[string]string{season.Bottles: "bottles", season.Fresh: "kg_per_week", season.Hold: "g", season.Crop: "kg"}

type shoppingJSON struct {
	Item     string     `json:"item"`
	Amount   jsonNumber `json:"amount"`
	Unit     string     `json:"unit"`
	Packs    []packJSON `json:"packs"`
	OrderBy  isoDay     `json:"order_by"`
	NotUntil isoDay     `json:"not_before"`
	Note     string     `json:"note,omitempty"`
}

type packJSON struct {
	Holds jsonNumber `json:"holds"`
	Count int        `json:"count"`
}

type takesJSON struct {
	Pile      string     `json:"pile"`
	Logs      int        `json:"logs"`
	Holes     int        `json:"holes"`
	PerLog    int        `json:"holes_per_log"`
	SpawnKG   jsonNumber `json:"spawn_kg"`
	Pieces    jsonNumber `json:"spawn_pieces"`
	WaxKG     jsonNumber `json:"wax_kg"`
	LogKG     jsonNumber `json:"log_green_kg"`
	Hours     jsonNumber `json:"hours"`
	From      isoDay     `json:"inoculate_from"`
	To        isoDay     `json:"inoculate_to"`
	FellFrom  isoDay     `json:"fell_from"`
	FellTo    isoDay     `json:"fell_to"`
	InSeason  bool       `json:"in_usual_window"`
	FellsRest bool       `json:"trees_dormant"`
}

type seasonWeekJSON struct {
	Week        isoDay     `json:"week"`
	Felling     jsonNumber `json:"felling_hours"`
	Inoculating jsonNumber `json:"inoculating_hours"`
	Soaking     jsonNumber `json:"soaking_hours"`
	Room        jsonNumber `json:"room_hours"` // null: not said
	Collides    bool       `json:"collides"`
	Over        bool       `json:"over"`
}

type limitJSON struct {
	Name  string     `json:"name"`
	Unit  string     `json:"unit"`
	Takes jsonNumber `json:"takes"`
	Room  jsonNumber `json:"room"`
	Saves jsonNumber `json:"one_more_saves"`
}

type lackJSON struct {
	Text string      `json:"text"`
	Cost *jsonNumber `json:"cost"` // null: not known
}

type seasonYearJSON struct {
	Year    int        `json:"year"`
	Species string     `json:"species"`
	Alone   amountJSON `json:"standing_fresh_kg"`
	With    amountJSON `json:"with_plan_fresh_kg"`
	Wanted  jsonNumber `json:"wanted_fresh_kg"`
}

type ifJSON struct {
	Name    string       `json:"name"`
	Chances []jsonNumber `json:"chances"` // in the order of meets
	Joint   jsonNumber   `json:"joint_chance"`
}

type swayJSON struct {
	Pile     string       `json:"pile"`
	More     []jsonNumber `json:"one_more_chances"`
	MoreCost jsonNumber   `json:"one_more_cost"`
	Less     []jsonNumber `json:"ten_fewer_chances"`
	LessCost jsonNumber   `json:"ten_fewer_cost"`
}

type renewalJSON struct {
	Lines []renewalLineJSON `json:"every_year"`
	Cost  jsonNumber        `json:"cost_per_year"`
	Met   bool              `json:"met"`
	Short *int              `json:"short_from_year"` // null: what stands does for all that is wanted
	Spent *int              `json:"half_spent_year"`
}

type renewalLineJSON struct {
	Species string `json:"species"`
	Strain  string `json:"strain"`
	Wood    string `json:"wood"`
	Spawn   string `json:"spawn"`
	Logs    int    `json:"logs"`
}

type acceptedJSON struct {
	Entry string `json:"entry"`
	Pile  string `json:"pile"`
}

// SeasonJSON returns the plan in Input.Season in the agreed form, and the
// entries and piles that it was written down in, if it was. The same Input
// gives the same bytes.
func SeasonJSON(in Input, entries, piles []string) ([]byte, error) {
	b := newBook(in)
	if b.Season == nil {
		b.Season = &season.Result{AsOf: b.today()}
	}
	s := b.seasonBook(percent)
	r := s.plan
	out := seasonPlanJSON{AsOf: isoDay(r.AsOf), Seed: r.Seed, Draws: r.Draws, Fresh: r.Fresh, Year: r.Year, Confidence: smallNumber(100 * r.Confidence),
		Windfall: r.Windfall, Margin: r.Margin, Met: r.Met, Cost: smallNumber(r.Cost), Cash: smallNumber(r.Cash), Earns: smallNumber(r.Earns),
		Currency: r.Currency, Hours: smallNumber(r.Hours), Joint: chanceNumber(r.Joint), JointLess: chanceNumber(r.JointWeaker), JointAlone: chanceNumber(r.JointAlone),
		Plan: []seasonLineJSON{}, Meets: []meetJSON{}, Limits: []limitJSON{}, Lacking: []lackJSON{}, Years: []seasonYearJSON{}, Ifs: []ifJSON{}, Sways: []swayJSON{},
		LeftOut: []leftOutJSON{}, Notes: append([]string{}, r.Notes...), Renewal: renewalOf(&r.Renewal)}
	if r.Bounded {
		n := smallNumber(r.Bound)
		out.Bound = &n
	}
	for i := range r.Lines {
		out.Plan = append(out.Plan, seasonLineOf(&r.Lines[i]))
	}
	for i := range r.Meets {
		out.Meets = append(out.Meets, meetOf(&r.Meets[i]))
	}
	for _, l := range r.Limits {
		out.Limits = append(out.Limits, limitJSON{l.Name, l.Unit, smallNumber(l.Takes), smallNumber(l.Room), smallNumber(l.Saves)})
	}
	for _, l := range r.Lacking {
		out.Lacking = append(out.Lacking, lackOf(l))
	}
	for _, y := range r.Years {
		out.Years = append(out.Years, seasonYearJSON{y.Year, y.Species, kgAmount(y.Alone), kgAmount(y.With), kgNumber(y.Wanted)})
	}
	for _, x := range r.Ifs {
		out.Ifs = append(out.Ifs, ifJSON{x.Name, chanceNumbers(x.Chances), chanceNumber(x.Joint)})
	}
	for _, x := range r.Sways {
		out.Sways = append(out.Sways, swayJSON{x.Pile, chanceNumbers(x.More), smallNumber(x.MoreCost), chanceNumbers(x.Less), smallNumber(x.LessCost)})
	}
	for _, l := range r.LeftOut {
		out.LeftOut = append(out.LeftOut, leftOutJSON(l))
	}
	for i := range entries {
		out.Accepted = append(out.Accepted, acceptedJSON{entries[i], piles[i]})
	}
	s.takesInto(&out)
	return encode(out)
}

// takesInto adds what the plan takes.
func (s *seasonBook) takesInto(out *seasonPlanJSON) {
	out.Shopping, out.Takes, out.Weeks = []shoppingJSON{}, []takesJSON{}, []seasonWeekJSON{}
	for _, x := range s.buying() {
		j := shoppingJSON{Item: x.Item, Amount: smallNumber(x.Amount), Unit: x.Unit, Packs: []packJSON{}, OrderBy: isoDay(x.OrderBy), NotUntil: isoDay(x.NotUntil), Note: x.Note}
		for _, p := range x.Packs {
			j.Packs = append(j.Packs, packJSON{smallNumber(p.Holds), p.Count})
		}
		out.Shopping = append(out.Shopping, j)
	}
	for i := range s.takes.Lines {
		l := &s.takes.Lines[i]
		out.Takes = append(out.Takes, takesJSON{l.Pile, l.Logs, l.All.Holes, l.PerLog.Holes, smallNumber(l.All.SpawnKG), smallNumber(l.All.Pieces), smallNumber(l.All.WaxKG),
			smallNumber(l.LiftKG), smallNumber(l.All.Hours.Start()), isoDay(l.Work.From), isoDay(l.Work.To), isoDay(l.Work.FellFrom), isoDay(l.Work.FellTo), l.Work.Usual, l.Work.Dormant})
	}
	for _, w := range s.busyWeeks() {
		out.Weeks = append(out.Weeks, seasonWeekJSON{isoDay(w.Monday), smallNumber(w.Felling), smallNumber(w.Inoculating), smallNumber(w.Soaking), smallNumber(w.Room), w.Collides, w.Over})
	}
}

func seasonLineOf(l *season.Line) seasonLineJSON {
	out := seasonLineJSON{Pile: l.Pile, Kind: l.Kind, Species: l.Species, Strain: l.Strain, Wood: l.Wood, DiameterL: smallNumber(l.Diameter.Low), DiameterH: smallNumber(l.Diameter.High),
		LengthL: smallNumber(l.Length.Low), LengthH: smallNumber(l.Length.High), Spawn: l.Spawn, Method: l.Method, Place: l.Place, Month: l.Month.MonthString(), Logs: l.Logs,
		BuyG: smallNumber(l.BuyG), Cost: smallNumber(l.Cost), Hours: smallNumber(l.Hours), Guess: l.Guess, Years: []yearJSON{},
		First: firstJSON{chanceNumber(l.First.Chance), isoDay(l.First.P10), isoDay(l.First.P50), isoDay(l.First.P90)}}
	for _, y := range l.Fresh {
		out.Years = append(out.Years, yearJSON{y.Year, kgAmount(y.Fresh)})
	}
	return out
}

func meetOf(m *season.Meet) meetJSON {
	return meetJSON{Year: m.Year, Target: m.Text, Chance: chanceNumber(m.Chance), Kind: m.Kind, What: m.What, Amount: smallNumber(m.Amount), Unit: targetUnits[m.Kind],
		Asked: chanceNumber(m.Confidence), Planning: chanceNumber(m.Planning), Less: chanceNumber(m.Weaker), Alone: chanceNumber(m.Alone),
		Short: chanceNumber(m.Short), Worst: m.Worst}
}

func lackOf(l season.Lack) lackJSON {
	out := lackJSON{Text: l.Text}
	if l.Cost > 0 {
		n := smallNumber(l.Cost)
		out.Cost = &n
	}
	return out
}

func renewalOf(r *season.Renewal) renewalJSON {
	out := renewalJSON{Lines: []renewalLineJSON{}, Cost: smallNumber(r.Cost), Met: r.Met}
	for _, l := range r.Lines {
		out.Lines = append(out.Lines, renewalLineJSON{l.Species, l.Strain, l.Wood, l.Spawn, l.Logs})
	}
	year := func(y int) *int {
		if y == 0 {
			return nil
		}
		return &y
	}
	out.Short, out.Spent = year(r.Short), year(r.Spent)
	return out
}

func chanceNumbers(list []float64) []jsonNumber {
	out := make([]jsonNumber, len(list))
	for i, p := range list {
		out[i] = chanceNumber(p)
	}
	return out
}

// SeasonCSV returns the lines of a plan as a table for a spreadsheet.
func SeasonCSV(r *season.Result) ([]byte, error) {
	rows := [][]string{{"pile", "kind", "species", "strain", "wood", "diameter_cm", "length_cm", "spawn", "method", "place", "month", "logs", "buy_dry_g", "cost", "hours",
		"first_harvest_p10", "first_harvest_p50", "first_harvest_p90"}}
	for i := range r.Lines {
		l := &r.Lines[i]
		small := func(v float64) string { return decimals(v, smallDecimals) }
		rows = append(rows, []string{text(l.Pile), l.Kind, text(l.Species), text(l.Strain), text(l.Wood), small(l.Diameter.Mid()), small(l.Length.Mid()), l.Spawn, l.Method,
			text(l.Place), l.Month.MonthString(), strconv.Itoa(l.Logs), small(l.BuyG), small(l.Cost), small(l.Hours), l.First.P10.String(), l.First.P50.String(), l.First.P90.String()})
	}
	return records(rows)
}
