package charts

import (
	"strconv"
	"strings"

	"hodaba/forecast"
)

type soaksJSON struct {
	AsOf  isoDay      `json:"as_of"`
	Loads []loadJSON  `json:"loads"`
	Tank  *tankJSON   `json:"tank"`
	Plans []plansJSON `json:"planned"`
	Past  []pastLoad  `json:"past"`
	Notes []string    `json:"notes"`
	Skip  *skipJSON   `json:"skip,omitempty"`
}

type tankJSON struct {
	Logs     int    `json:"logs"`
	Room     int    `json:"logs_a_load"`
	Loads    int    `json:"loads_a_cycle"`
	Cycle    int    `json:"cycle_weeks"`
	Comes    int    `json:"comes_round_weeks"`
	LastSafe isoDay `json:"last_safe_week"`
}

type plansJSON struct {
	Pile  string `json:"pile"`
	Part  string `json:"part"`
	From  isoDay `json:"from"`
	To    isoDay `json:"to"`
	State string `json:"state"`
	Why   string `json:"why"`
}

type loadJSON struct {
	Week     isoDay         `json:"week"`
	In       isoDay         `json:"in"`
	Out      isoDay         `json:"out"`
	Parts    []loadPartJSON `json:"parts"`
	Logs     int            `json:"logs"`
	Skipped  *string        `json:"skipped"`
	Fresh    amountJSON     `json:"fresh_kg"`
	Chance   jsonNumber     `json:"chance"`
	PickFrom isoDay         `json:"pick_from"`
	PickTo   isoDay         `json:"pick_to"`
}

type loadPartJSON struct {
	Pile   string `json:"pile"`
	Part   string `json:"part"`
	Of     int    `json:"of"`
	Logs   int    `json:"logs"`
	Colour string `json:"tag_colour"`
	Last   isoDay `json:"last"`
	Blank  bool   `json:"blank"`

	Planned bool   `json:"planned"`
	Note    string `json:"note"`
}

// pastLoad is a soak on record. What was picked is null where nothing is set
// against it.
type pastLoad struct {
	Pile  string      `json:"pile"`
	Part  string      `json:"part"`
	In    isoDay      `json:"in"`
	Out   isoDay      `json:"out"`
	Logs  int         `json:"logs"`
	Due   isoDay      `json:"due"`
	Got   *jsonNumber `json:"got_kg"`
	Said  string      `json:"got"`
	Blank isoDay      `json:"blank"`
}

type skipJSON struct {
	Week  isoDay         `json:"week"`
	Years []skipYearJSON `json:"years"`
	Moved []movedJSON    `json:"moved"`
	Loads []loadJSON     `json:"loads"`
	Short []isoDay       `json:"promised_weeks_missed"`
}

type skipYearJSON struct {
	Year    int        `json:"year"`
	With    jsonNumber `json:"fresh_kg_with"`
	Without jsonNumber `json:"fresh_kg_without"`
	Error   jsonNumber `json:"difference_standard_error_kg"`
	Told    bool       `json:"beyond_chance"`
}

type movedJSON struct {
	Pile string `json:"pile"`
	Part string `json:"part"`
	From isoDay `json:"from"`
	To   isoDay `json:"to"`
}

type rotaSupplyJSON struct {
	PerFlush jsonNumber `json:"flush_kg_per_log"`
	PerWeek  int        `json:"logs_a_week"`
	Groups   int        `json:"groups"`
	Logs     int        `json:"logs"`
	Loads    *int       `json:"tank_loads_a_week"`
	Weekly   jsonNumber `json:"fresh_kg_a_week"`
	Soaks    jsonNumber `json:"soaks_in_a_life"`
	Lasts    jsonNumber `json:"years_until_spent"`
	KeptUp   jsonNumber `json:"fresh_kg_a_week_kept_up"`
	Renewal  jsonNumber `json:"new_logs_a_year"`
}

type logLifeJSON struct {
	Low     jsonNumber `json:"fresh_kg_low"`
	Typical jsonNumber `json:"fresh_kg_typical"`
	High    jsonNumber `json:"fresh_kg_high"`
	Years   jsonNumber `json:"years"`
	Season  int        `json:"season_weeks_a_year"`
	KeepUp  *int       `json:"logs_to_keep_up"`
}

// SoaksJSON is the tank book; with skip, what leaving out a week costs too.
func SoaksJSON(in Input, skip *Skip) ([]byte, error) {
	b := newBook(in)
	out := soaksJSON{AsOf: isoDay(b.today()), Loads: loadsOf(b.Result.Loads), Past: []pastLoad{},
		Plans: []plansJSON{}, Notes: append(append([]string{}, b.tankNotes()...), b.soakNotes()...)}
	if t := b.Result.Tank; t != nil {
		out.Tank = &tankJSON{t.Logs, t.Room, t.Loads, t.Cycle, t.Comes, isoDay(t.LastSafe)}
		for _, p := range t.Plans {
			out.Plans = append(out.Plans, plansJSON{p.Pile, p.Part, isoDay(p.Week.From), isoDay(p.Week.To), p.State, p.Why})
		}
	}
	past := b.pastSoaks()
	for i := range past {
		out.Past = append(out.Past, b.pastOf(&past[i]))
	}
	if skip != nil {
		out.Skip = b.skipOf(skip)
	}
	return encode(out)
}

func loadsOf(loads []forecast.Load) []loadJSON {
	out := []loadJSON{}
	for i := range loads {
		l := &loads[i]
		x := loadJSON{Week: isoDay(l.Week), In: isoDay(l.In), Out: isoDay(l.Out), Logs: l.Logs, Fresh: kgAmount(l.Fresh),
			Chance: chanceNumber(l.Chance), PickFrom: isoDay(l.PickFrom), PickTo: isoDay(l.PickTo), Parts: []loadPartJSON{}}
		if l.Skipped != "" {
			x.Skipped = &l.Skipped
		}
		for _, p := range l.Parts {
			x.Parts = append(x.Parts, loadPartJSON{p.Pile, p.Part, p.Of, p.Logs, colourOf(p.Part), isoDay(p.Last), p.Blank, p.Planned, p.Note})
		}
		out = append(out, x)
	}
	return out
}

func (b *book) pastOf(s *forecast.PastSoak) pastLoad {
	out := pastLoad{Pile: s.Pile.Name, Part: s.Soaking.Part, In: isoDay(s.In), Out: isoDay(s.Out), Logs: s.Logs, Due: isoDay(s.Due), Said: b.got(s), Blank: isoDay(s.Blank)}
	kg, weighed := 0.0, false
	for _, k := range s.Picks {
		kg, weighed = kg+k.Fresh.Mid(), weighed || k.Weighed
	}
	if weighed || s.Blank != 0 {
		n := kgNumber(kg)
		out.Got = &n
	}
	return out
}

func (b *book) skipOf(k *Skip) *skipJSON {
	out := &skipJSON{Week: isoDay(k.Week), Years: []skipYearJSON{}, Moved: []movedJSON{}, Loads: loadsOf(k.Without.Loads), Short: []isoDay{}}
	for _, y := range k.Years {
		out.Years = append(out.Years, skipYearJSON{y.Year, kgNumber(y.With), kgNumber(y.Without), kgNumber(y.Error), y.Told})
	}
	for _, m := range b.moved(k) {
		out.Moved = append(out.Moved, movedJSON{m.pile, m.part, isoDay(m.from), isoDay(m.to)})
	}
	for _, p := range b.newlyShort(k) {
		out.Short = append(out.Short, isoDay(p.week))
	}
	return out
}

// RotaSupplyJSON is the arithmetic of a weekly supply, at the low and the high
// flush that is printed.
func RotaSupplyJSON(in Input, ask SupplyAsk) ([]byte, error) {
	b := newBook(in)
	s := b.supplyAnswer(ask)
	out := struct {
		AsOf  isoDay           `json:"as_of"`
		KG    *jsonNumber      `json:"asked_kg_a_week"`
		Logs  *int             `json:"asked_logs"`
		Cycle int              `json:"cycle_weeks"`
		Life  logLifeJSON      `json:"log_life"`
		Rotas []rotaSupplyJSON `json:"supply"`
	}{AsOf: isoDay(b.today()), Cycle: s.cycle,
		Life:  logLifeJSON{kgNumber(s.life.Low), kgNumber(s.life.Typical), kgNumber(s.life.High), smallNumber(s.life.Years), s.season, nil},
		Rotas: []rotaSupplyJSON{rotaSupplyJSONOf(s.low, s.tank), rotaSupplyJSONOf(s.high, s.tank)}}
	if ask.KG > 0 {
		n := kgNumber(ask.KG)
		out.KG, out.Life.KeepUp = &n, &s.keepUp
	} else {
		out.Logs = &ask.Logs
	}
	return encode(out)
}

func rotaSupplyJSONOf(s forecast.RotaSupply, tank int) rotaSupplyJSON {
	out := rotaSupplyJSON{kgNumber(s.PerFlush), s.PerGroup, s.Groups, s.Logs, nil, kgNumber(s.Weekly), smallNumber(s.Soaks), smallNumber(s.Lasts),
		kgNumber(s.KeptUp), smallNumber(s.Renewal)}
	if tank > 0 {
		n := s.Rota.Loads(tank)
		out.Loads = &n
	}
	return out
}

// SoaksCSV is the tank book ahead, a row per week; the parts of a load stand
// in one cell. Masses are in kilograms.
func SoaksCSV(r *forecast.Result) ([]byte, error) {
	rows := [][]string{{"week", "in", "out", "parts", "logs", "skipped", "chance",
		"fresh_kg_p10", "fresh_kg_p50", "fresh_kg_p90", "fresh_kg_mean", "pick_from", "pick_to"}}
	for _, l := range r.Loads {
		var parts []string
		for _, p := range l.Parts {
			parts = append(parts, strings.TrimSpace(p.Pile+" "+p.Part)+" "+strconv.Itoa(p.Logs)+plannedTag(p))
		}
		row := []string{l.Week.String(), l.In.String(), l.Out.String(), text(strings.Join(parts, "; ")), strconv.Itoa(l.Logs), text(l.Skipped),
			decimals(l.Chance, chanceDecimals)}
		rows = append(rows, append(append(row, amounts(l.Fresh)...), l.PickFrom.String(), l.PickTo.String()))
	}
	return records(rows)
}
