package charts

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"unicode/utf16"
	"unicode/utf8"

	"hodaba/data"
	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// The JSON forms are an agreement with other programs: fields may be added,
// never renamed. Field names carry their unit, dates are ISO 8601 days, a date
// that is not reached before the horizon is null.

// Decimals kept in JSON: grams of a kilogram, a hundredth of a gram or
// millilitre, a ten-thousandth of a chance. They are far below what the
// draws can tell apart and keep the text short.
const (
	kgDecimals     = 3
	smallDecimals  = 2
	chanceDecimals = 4
)

// encode writes v as indented JSON with a newline at its end.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return escaped(b.Bytes()), nil
}

// escaped writes the signs that could steer a terminal as JSON escapes them:
// the text is the same to a program, and harmless on a screen.
func escaped(b []byte) []byte {
	if !bytes.ContainsFunc(b, func(r rune) bool { return r != '\n' && r != utf8.RuneError && steers(r) }) {
		return b
	}
	var out bytes.Buffer
	for _, r := range string(b) {
		switch {
		case r == '\n' || r == utf8.RuneError || !steers(r):
			out.WriteRune(r)
		case r > 0xffff:
			high, low := utf16.EncodeRune(r)
			fmt.Fprintf(&out, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&out, `\u%04x`, r)
		}
	}
	return out.Bytes()
}

// jsonNumber is a float that is written with few decimals; what is no number
// is written as null, which JSON can hold.
type jsonNumber struct {
	v        float64
	decimals int
}

// MarshalJSON writes n rounded, or null.
func (n jsonNumber) MarshalJSON() ([]byte, error) {
	if math.IsNaN(n.v) || math.IsInf(n.v, 0) {
		return []byte("null"), nil
	}
	p := math.Pow10(n.decimals)
	r := math.Round(n.v*p) / p
	if r == 0 {
		r = 0 // drops the sign of a negative zero
	}
	return json.Marshal(r)
}

func chanceNumber(v float64) jsonNumber { return jsonNumber{v, chanceDecimals} }
func kgNumber(v float64) jsonNumber     { return jsonNumber{v, kgDecimals} }
func smallNumber(v float64) jsonNumber  { return jsonNumber{v, smallDecimals} }

// isoDay is a date, null where it is not reached.
type isoDay yard.Date

// MarshalJSON writes d as an ISO 8601 day, or null.
func (d isoDay) MarshalJSON() ([]byte, error) {
	if d == 0 {
		return []byte("null"), nil
	}
	return json.Marshal(yard.Date(d).String())
}

type amountJSON struct {
	P10  jsonNumber `json:"p10"`
	P50  jsonNumber `json:"p50"`
	P90  jsonNumber `json:"p90"`
	Mean jsonNumber `json:"mean"`
}

func kgAmount(a forecast.Amount) amountJSON {
	return amountJSON{kgNumber(a.P10), kgNumber(a.P50), kgNumber(a.P90), kgNumber(a.Mean)}
}

func smallAmount(a forecast.Amount) amountJSON {
	return amountJSON{smallNumber(a.P10), smallNumber(a.P50), smallNumber(a.P90), smallNumber(a.Mean)}
}

func planAmount(a tincture.Amount) amountJSON { return smallAmount(forecast.Amount(a)) }

type forecastJSON struct {
	AsOf         isoDay        `json:"as_of"`
	Seed         uint64        `json:"seed"`
	Draws        int           `json:"draws"`
	HorizonYears int           `json:"horizon_years"`
	Horizon      isoDay        `json:"horizon"`
	Site         siteJSON      `json:"site"`
	Piles        []pileJSON    `json:"piles"`
	Species      []speciesJSON `json:"species"`
	LeftOut      []leftOutJSON `json:"left_out"`
}

type siteJSON struct {
	Station    string     `json:"station,omitempty"`
	Name       string     `json:"name"`
	DistanceKM jsonNumber `json:"distance_km"`
	HeightM    jsonNumber `json:"height_difference_m"`
	Period     string     `json:"period"`
	Warming    jsonNumber `json:"warming_c_per_decade"`
	WarmerNow  jsonNumber `json:"warmer_now_c"`
	Borrowed   []string   `json:"borrowed,omitempty"`
	Quality    string     `json:"quality"`
	Source     string     `json:"source"`
	Licence    string     `json:"licence,omitempty"`

	Notes     []string       `json:"notes"`
	Resampled bool           `json:"resampled"`
	Record    *recordJSON    `json:"record"`
	Normals   []normalJSON   `json:"normals"`
	Ahead     *siteAheadJSON `json:"ahead"`
}

type leftOutJSON struct {
	Pile string `json:"pile"`
	Why  string `json:"why"`
}

type pileJSON struct {
	Pile         string         `json:"pile"`
	Code         string         `json:"code,omitempty"`
	Kind         string         `json:"kind"`
	Species      string         `json:"species"`
	Strain       string         `json:"strain,omitempty"`
	Since        isoDay         `json:"since"`
	SinceFrom    *isoDay        `json:"since_from,omitempty"`
	SinceTo      *isoDay        `json:"since_to,omitempty"`
	SinceWritten string         `json:"since_written,omitempty"`
	Logs         int            `json:"logs"`
	LogsKnown    bool           `json:"logs_known"`
	Colonised    *colonisedJSON `json:"colonised"`
	First        firstJSON      `json:"first_harvest"`
	Fruited      bool           `json:"has_fruited"`
	GrowingDays  amountJSON     `json:"physiological_days_so_far"`
	NeedDays     amountJSON     `json:"physiological_days_needed"`
	Unpublished  bool           `json:"yield_unpublished"`
	Yield        basisJSON      `json:"yield_basis"`
	Months       []monthJSON    `json:"months"`
	Years        []yearJSON     `json:"years"`
	Past         []throughJSON  `json:"past_months"`
	Notes        []noteJSON     `json:"notes"`
	Moisture     *moistureJSON  `json:"moisture"`
	Why          **whyJSON      `json:"why,omitempty"` // nil where nobody asked; of nil where there is nothing to explain
}

// basisJSON is what a pile's kilograms rest on.
type basisJSON struct {
	DryWood    amountJSON     `json:"dry_wood_kg_per_log"`
	Efficiency efficiencyJSON `json:"efficiency"`
	Level      *amountJSON    `json:"by_own_record"` // times as much, given the yard's own crops; null where none teaches
	Caution    string         `json:"caution,omitempty"`
	Conflict   string         `json:"conflict,omitempty"`
}

// efficiencyJSON is fresh mushrooms over a log's life by weight of wood.
type efficiencyJSON struct {
	Low     jsonNumber `json:"low"`
	Typical jsonNumber `json:"typical"`
	High    jsonNumber `json:"high"`
	Per     string     `json:"per"`            // "inoculated" or "fruiting" logs
	Over    string     `json:"over"`           // "dry" or "green" wood
	Wood    string     `json:"wood,omitempty"` // of which it is published, where not of all
	Basis   string     `json:"basis"`
	Quality string     `json:"quality"`
	Source  string     `json:"source"`
	Note    string     `json:"note,omitempty"`
}

func efficiencyNumber(x float64) jsonNumber { return jsonNumber{x, 6} }

func basisOf(y forecast.YieldBasis) basisJSON {
	e := y.Efficiency
	out := basisJSON{
		DryWood: kgAmount(y.DryWoodKG), Caution: y.Wide, Conflict: y.Conflict,
		Efficiency: efficiencyJSON{efficiencyNumber(e.Low), efficiencyNumber(e.Typical), efficiencyNumber(e.High), y.Per, y.Over, y.Wood, e.Basis, string(e.Quality), e.Source, e.Note},
	}
	if y.Level.P50 > 0 {
		level := smallAmount(y.Level)
		out.Level = &level
	}
	return out
}

type colonisedJSON struct {
	ShareNow  jsonNumber `json:"share_now"`
	ShareP10  jsonNumber `json:"share_now_p10"`
	ShareP90  jsonNumber `json:"share_now_p90"`
	ChanceNow jsonNumber `json:"chance_now"`
	P10       isoDay     `json:"p10"`
	P50       isoDay     `json:"p50"`
	P90       isoDay     `json:"p90"`
}

type firstJSON struct {
	Chance jsonNumber `json:"chance_by_horizon"`
	P10    isoDay     `json:"p10"`
	P50    isoDay     `json:"p50"`
	P90    isoDay     `json:"p90"`
}

type monthJSON struct {
	Month     string      `json:"month"`
	Colonised *jsonNumber `json:"colonised_chance"`
	Through   *jsonNumber `json:"share_through"`
	Harvest   jsonNumber  `json:"harvest_chance"`
	Fresh     amountJSON  `json:"fresh_kg"`
	Winter    bool        `json:"winter"`
}

type yearJSON struct {
	Year  int        `json:"year"`
	Fresh amountJSON `json:"fresh_kg"`
}

type throughJSON struct {
	Month string     `json:"month"`
	Share jsonNumber `json:"share_through"`
	P10   jsonNumber `json:"p10"`
	P90   jsonNumber `json:"p90"`
}

type noteJSON struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
}

type speciesJSON struct {
	Species     string             `json:"species"`
	Unpublished bool               `json:"yield_unpublished"`
	Wide        string             `json:"yield_caution,omitempty"`
	FreshPerDry amountJSON         `json:"fresh_kg_per_dry_kg"`
	Months      []speciesMonthJSON `json:"months"`
	Years       []speciesYearJSON  `json:"years"`
}

type speciesMonthJSON struct {
	Month   string     `json:"month"`
	Harvest jsonNumber `json:"harvest_chance"`
	Fresh   amountJSON `json:"fresh_kg"`
	Dry     amountJSON `json:"dry_kg"`
}

type speciesYearJSON struct {
	Year  int        `json:"year"`
	Fresh amountJSON `json:"fresh_kg"`
	Dry   amountJSON `json:"dry_kg"`
	Sum   amountJSON `json:"fresh_kg_since_as_of"`
}

// ForecastJSON returns a forecast in the agreed form. The same Result gives
// the same bytes.
func ForecastJSON(r *forecast.Result) ([]byte, error) { return encode(forecastOf(r)) }

func forecastOf(r *forecast.Result) *forecastJSON {
	out := &forecastJSON{
		AsOf: isoDay(r.AsOf), Seed: r.Seed, Draws: r.Draws,
		HorizonYears: r.Years, Horizon: isoDay(r.Horizon), Site: siteOf(r.Site),
		Piles: []pileJSON{}, Species: []speciesJSON{}, LeftOut: []leftOutJSON{},
	}
	for _, p := range r.Piles {
		out.Piles = append(out.Piles, pileOf(p))
	}
	for _, s := range r.Species {
		out.Species = append(out.Species, speciesOf(s))
	}
	for _, l := range r.LeftOut {
		out.LeftOut = append(out.LeftOut, leftOutJSON(l))
	}
	return out
}

func siteOf(s forecast.Site) siteJSON {
	return siteJSON{
		Notes: append([]string{}, s.Notes...), Resampled: s.Resampled, Record: recordOf(&s.Record),
		Normals: normalsOf(&s.Normals), Ahead: aheadOf(&s.Ahead), Station: s.Key, Name: s.Name, DistanceKM: jsonNumber{s.DistanceKM, 1}, HeightM: jsonNumber{s.HeightM, 0},
		Period: s.Period, Warming: smallNumber(s.Warming), WarmerNow: smallNumber(s.WarmerNow),
		Borrowed: s.Borrowed, Quality: string(s.Quality), Source: s.Source, Licence: s.Licence,
	}
}

func pileOf(p *forecast.Pile) pileJSON {
	out := pileJSON{
		Pile: p.Name, Code: p.Code, Kind: p.Kind, Species: p.Species, Strain: p.Strain,
		Logs: p.Logs, LogsKnown: p.LogsKnown, Fruited: p.Picked, Unpublished: p.Yield.Unpublished,
		Yield:       basisOf(p.Yield),
		First:       firstJSON{chanceNumber(p.First.Chance), isoDay(p.First.P10), isoDay(p.First.P50), isoDay(p.First.P90)},
		GrowingDays: smallAmount(p.GrowingDays), NeedDays: smallAmount(p.NeedDays),
		Months: []monthJSON{}, Years: []yearJSON{}, Past: []throughJSON{}, Notes: []noteJSON{},
	}
	out.since(p.Since)
	if c := p.Colonised; c != nil {
		out.Colonised = &colonisedJSON{chanceNumber(c.ShareNow), chanceNumber(c.ShareP10), chanceNumber(c.ShareP90),
			chanceNumber(c.ChanceNow), isoDay(c.P10), isoDay(c.P50), isoDay(c.P90)}
	}
	for _, m := range p.Months {
		out.Months = append(out.Months, monthOf(m, p.Colonised != nil))
	}
	for _, y := range p.YearsAhead {
		out.Years = append(out.Years, yearJSON{y.Year, kgAmount(y.Fresh)})
	}
	for _, t := range p.Past {
		out.Past = append(out.Past, throughJSON{t.Month.MonthString(),
			chanceNumber(t.Share), chanceNumber(t.Low), chanceNumber(t.High)})
	}
	for _, n := range p.Notes {
		out.Notes = append(out.Notes, noteJSON(n))
	}
	out.Moisture = moistureOf(p.Moisture)
	return out
}

// since keeps the plain field a single day, for programs, and puts a vague
// one beside it.
func (p *pileJSON) since(w yard.When) {
	p.Since = isoDay(w.Mid())
	if w.Exact() {
		return
	}
	from, to := isoDay(w.From), isoDay(w.To)
	p.SinceFrom, p.SinceTo, p.SinceWritten = &from, &to, w.Text
}

func monthOf(m forecast.Month, colonised bool) monthJSON {
	out := monthJSON{
		Month: m.Month.MonthString(), Harvest: chanceNumber(m.HarvestChance),
		Fresh: kgAmount(m.Fresh), Winter: m.Winter,
	}
	if colonised { // a bed of ready-colonised logs has nothing left to colonise
		c, t := chanceNumber(m.ColonisedChance), chanceNumber(m.ShareThrough)
		out.Colonised, out.Through = &c, &t
	}
	return out
}

func speciesOf(s forecast.Species) speciesJSON {
	out := speciesJSON{
		Species: s.Species, Unpublished: s.Unpublished, Wide: s.Wide, FreshPerDry: smallAmount(s.DryRatio),
		Months: []speciesMonthJSON{}, Years: []speciesYearJSON{},
	}
	for _, m := range s.Months {
		out.Months = append(out.Months, speciesMonthJSON{
			m.Month.MonthString(), chanceNumber(m.HarvestChance), kgAmount(m.Fresh), kgAmount(m.Dry)})
	}
	for _, y := range s.Years {
		out.Years = append(out.Years, speciesYearJSON{y.Year, kgAmount(y.Fresh), kgAmount(y.Dry), kgAmount(y.Sum)})
	}
	return out
}

type batchesJSON struct {
	AsOf       isoDay      `json:"as_of"`
	Confidence jsonNumber  `json:"confidence_percent"`
	Holds      jsonNumber  `json:"all_hold_chance"`
	Batches    []batchJSON `json:"batches"`
	Standing   []batchJSON `json:"standing"`
	Promises   []keptJSON  `json:"promises"`
	Keeps      jsonNumber  `json:"all_promises_chance"`
	Made       []madeJSON  `json:"made"`
	Back       *backJSON   `json:"plan_back,omitempty"`
	Notes      []string    `json:"notes"`
}

type batchJSON struct {
	Lot         string     `json:"lot"`
	Recipe      string     `json:"recipe"`
	Start       isoDay     `json:"start"`
	StartChance jsonNumber `json:"start_chance"`
	Early       isoDay     `json:"start_p10"`
	Late        isoDay     `json:"start_p90"`
	Reached     jsonNumber `json:"chance_by_horizon"`
	Strain      isoDay     `json:"strain"`
	Decoct      isoDay     `json:"decoct"`
	Blend       isoDay     `json:"blend"`
	Bottled     isoDay     `json:"bottled"`
	ShakeUntil  isoDay     `json:"shake_until"`
	Jars        []int      `json:"jars"`
	Bottles     amountJSON `json:"bottles"`
	BottleML    jsonNumber `json:"bottle_ml"`
	Sizes       []sizeJSON `json:"bottle_sizes,omitempty"`
	ABV         amountJSON `json:"abv_percent"`
	MeasuredML  bool       `json:"volume_measured,omitempty"`
	MeasuredABV bool       `json:"abv_measured,omitempty"`
	SpiritML    jsonNumber `json:"spirit_ml"`
	StrainedML  amountJSON `json:"strained_ml"`
	BlendedML   amountJSON `json:"blended_ml"`
	DriedG      jsonNumber `json:"dried_g"`
	Ratio       amountJSON `json:"finished_ml_per_dried_g"`
	Solvent     jsonNumber `json:"spirit_ml_per_dried_g"`
	Pot         *potJSON   `json:"pot,omitempty"`
	Needs       []needJSON `json:"needs"`
	Without     []gainJSON `json:"without"`
	Cautions    []string   `json:"cautions"`
	Notes       []string   `json:"notes"`
	Why         string     `json:"held_up_by,omitempty"`
}

type needJSON struct {
	Species string      `json:"species"`
	Dry     jsonNumber  `json:"dry_g"`
	OnHand  jsonNumber  `json:"on_hand_g"`
	Short   jsonNumber  `json:"short_chance"`
	Option  bool        `json:"optional"`
	Form    string      `json:"form"`  // "pieces", "powder" or "fresh"; fresh grams where it is fresh
	Grind   []grindJSON `json:"grind"` // pieces to be ground for it first
}

type grindJSON struct {
	Species string     `json:"species"`
	Lot     string     `json:"lot"` // "": of what is still to be dried
	Dry     jsonNumber `json:"dry_g"`
	Command string     `json:"command"`
}

// BatchesJSON returns the tincture calendar in the agreed form; confidence is
// the chance at which its dates are printed, a fraction.
func BatchesJSON(asOf yard.Date, confidence float64, p *tincture.Plan) ([]byte, error) {
	out := batchesJSON{AsOf: isoDay(asOf), Confidence: smallNumber(confidence * 100),
		Batches: []batchJSON{}, Standing: []batchJSON{}, Notes: []string{}, Promises: []keptJSON{}, Made: []madeJSON{}}
	if p != nil {
		out.Promises, out.Keeps, out.Made, out.Back = keptOf(p.Promises), chanceNumber(p.Keeps), madeOf(p.Made), backOf(p.Back)
		out.Holds = chanceNumber(p.Holds)
		out.Batches, out.Standing = batchesOf(p.Batches), batchesOf(p.Standing)
		out.Notes = append(out.Notes, p.Notes...)
	}
	return encode(out)
}

func batchesOf(bs []tincture.Batch) []batchJSON {
	out := []batchJSON{}
	for _, b := range bs {
		j := batchJSON{
			Lot: b.Lot, Recipe: b.Recipe, Start: isoDay(b.Start), StartChance: chanceNumber(b.StartChance),
			Early: isoDay(b.Early), Late: isoDay(b.Late), Reached: chanceNumber(b.Reached),
			Strain: isoDay(b.Strain), Decoct: isoDay(b.Decoct), Blend: isoDay(b.Blend), Bottled: isoDay(b.Bottled),
			ShakeUntil: isoDay(b.ShakeUntil), Jars: append([]int{}, b.Jars...),
			Bottles: planAmount(b.Bottles), BottleML: smallNumber(b.BottleML), Sizes: sizesJSON(b.Sizes), ABV: planAmount(b.ABV), MeasuredML: b.MeasuredML, MeasuredABV: b.MeasuredABV,
			SpiritML: smallNumber(b.SpiritML), StrainedML: planAmount(b.Strained), BlendedML: planAmount(b.Blended),
			DriedG: smallNumber(b.DriedG), Ratio: planAmount(b.Ratio), Solvent: smallNumber(b.Solvent), Pot: potOf(b.Pot),
			Needs: []needJSON{}, Without: gainsOf(b.Without), Why: b.Why,
			Cautions: append([]string{}, b.Cautions...), Notes: append([]string{}, b.Notes...),
		}
		for _, n := range b.Needs {
			j.Needs = append(j.Needs, needOf(n))
		}
		out = append(out, j)
	}
	return out
}

func needOf(n tincture.Need) needJSON {
	j := needJSON{n.Species, smallNumber(n.Grams), smallNumber(n.OnHand), chanceNumber(n.ShortChance), n.Optional,
		cmp.Or(n.Form, "pieces"), []grindJSON{}}
	for _, g := range n.Grind {
		j.Grind = append(j.Grind, grindJSON{g.Species, g.Lot, smallNumber(g.Grams), g.Command()})
	}
	return j
}

type stockJSON struct {
	AsOf    isoDay        `json:"as_of"`
	Dry     []dryJSON     `json:"dry"`
	Fresh   []freshJSON   `json:"fresh"`
	Bought  []boughtJSON  `json:"bought"`
	Jars    jarsJSON      `json:"jars"`
	Bottles []bottlesJSON `json:"bottles"`
	freshStockJSON
}

type dryJSON struct {
	Lot     string     `json:"lot"`
	Species string     `json:"species"`
	Form    string     `json:"form"`
	On      isoDay     `json:"on"`
	From    string     `json:"from"`
	In      jsonNumber `json:"in_g"`
	Left    jsonNumber `json:"left_g"`
	By      string     `json:"identified_by,omitempty"`
}

type freshJSON struct {
	Lot     string     `json:"lot"`
	Species string     `json:"species"`
	On      isoDay     `json:"on"`
	Piles   []string   `json:"piles"`
	Low     jsonNumber `json:"picked_kg_low"`
	High    jsonNumber `json:"picked_kg_high"`
}

type boughtJSON struct {
	On     isoDay     `json:"on"`
	Item   string     `json:"item"`
	Amount jsonNumber `json:"amount"`
	Unit   string     `json:"unit"`
	Lot    string     `json:"lot,omitempty"`
}

type jarsJSON struct {
	Total int           `json:"total"`
	InUse []jarUserJSON `json:"in_use"`
}

type jarUserJSON struct {
	Batch  string `json:"batch"`
	Recipe string `json:"recipe"`
	Since  isoDay `json:"since"`
	Jars   int    `json:"jars"`
}

type bottlesJSON struct {
	Recipe string     `json:"recipe"`
	Lot    string     `json:"lot,omitempty"`
	Size   jsonNumber `json:"size_ml"`
	Count  int        `json:"count"`
}

// StockJSON returns what is on hand by lot, what is fresh by the record, and
// what was picked in the days before that it may still be there fresh. d says
// how long fresh mushrooms keep.
func StockJSON(s *yard.State, d *data.Set) ([]byte, error) {
	out := stockJSON{AsOf: isoDay(s.AsOf), Dry: []dryJSON{}, Fresh: []freshJSON{}, Bought: []boughtJSON{},
		Jars: jarsJSON{Total: s.Config.Kitchen.Jars, InUse: []jarUserJSON{}}, Bottles: []bottlesJSON{}}
	for _, l := range s.Dry {
		out.Dry = append(out.Dry, dryJSON{l.Lot, l.Species, l.Form, isoDay(l.On.Mid()), l.From,
			smallNumber(l.InG), smallNumber(l.LeftG), l.IdentifiedBy})
	}
	for _, p := range recentPicks(s) {
		out.Fresh = append(out.Fresh, freshJSON{p.Lot, p.Species, isoDay(p.On.Mid()),
			append([]string{}, p.Piles...), kgNumber(p.Fresh.Low), kgNumber(p.Fresh.High)})
	}
	for _, b := range s.Bought {
		out.Bought = append(out.Bought, boughtJSON{isoDay(b.On.Mid()), b.Item,
			smallNumber(b.Amount.Mid()), string(b.Amount.Unit), b.Lot})
	}
	for _, b := range standingBatches(s) {
		out.Jars.InUse = append(out.Jars.InUse, jarUserJSON{b.Lot, b.Recipe, isoDay(b.On.Mid()), b.JarsStanding()})
	}
	for _, b := range s.Bottles {
		for _, n := range b.Bottles {
			out.Bottles = append(out.Bottles, bottlesJSON{b.Recipe, b.Lot, smallNumber(n.SizeML), n.Count})
		}
	}
	out.freshStockJSON = freshStockOf(s, d)
	return encode(out)
}

// freshDays is for how many days a picking is listed as perhaps still fresh:
// a week in the cold is about what picked mushrooms keep (common practice, no
// source).
const freshDays = 7

func recentPicks(s *yard.State) []*yard.Pick {
	var out []*yard.Pick
	for _, p := range s.Picks {
		if !p.Season && p.On.To > s.AsOf-freshDays {
			out = append(out, p)
		}
	}
	return out
}

func standingBatches(s *yard.State) []*yard.Batch {
	var out []*yard.Batch
	for _, b := range s.Batches {
		if b.Bottled.IsZero() && (b.Strained.IsZero() || b.JarsStanding() > 0) {
			out = append(out, b)
		}
	}
	return out
}

// EntryForm is an entry of the journal as JSON.
type EntryForm struct {
	Entry    string   `json:"entry"`
	Name     string   `json:"own_name,omitempty"` // where other entries have the identifier, too
	Kind     string   `json:"kind"`
	Line     int      `json:"line,omitempty"`
	On       isoDay   `json:"on"`
	OnTo     *isoDay  `json:"on_to,omitempty"`
	Written  string   `json:"written,omitempty"`
	By       string   `json:"by,omitempty"`
	Text     string   `json:"text"`
	Replaced string   `json:"replaced_by,omitempty"`
	Astray   bool     `json:"astray,omitempty"` // a correction that replaces no entry
	Problems []string `json:"problems,omitempty"`
}

// EntryOf returns an entry in the form that is written as JSON.
func EntryOf(e *yard.Entry) EntryForm {
	out := EntryForm{Entry: e.ID, Kind: e.Kind, Line: e.Line, On: isoDay(e.On.From),
		Written: string(e.Written), By: e.By, Text: e.Text}
	if !e.On.Exact() {
		to := isoDay(e.On.To)
		out.OnTo = &to
	}
	if e.Replaced != nil {
		out.Replaced = e.Replaced.ID
	}
	out.Astray = e.Astray
	for _, p := range e.Trouble() {
		if e.Event == nil {
			out.Problems = append(out.Problems, p.String())
		}
	}
	if e.Name() != e.ID {
		out.Name = e.Name()
	}
	return out
}

// HistoryJSON returns entries of the journal.
func HistoryJSON(entries []*yard.Entry) ([]byte, error) {
	list := []EntryForm{}
	for _, e := range entries {
		list = append(list, EntryOf(e))
	}
	return encode(struct {
		Entries []EntryForm `json:"entries"`
	}{list})
}

type problemJSON struct {
	File   string `json:"file"`
	Line   int    `json:"line,omitempty"`
	Entry  string `json:"entry,omitempty"`
	Grade  string `json:"grade"`
	Text   string `json:"text"`
	Remedy string `json:"remedy,omitempty"`
}

// VerifyJSON returns what is wrong or odd in a folder.
func VerifyJSON(problems []yard.Problem) ([]byte, error) {
	out := struct {
		Errors   int           `json:"errors"`
		Warnings int           `json:"warnings"`
		Problems []problemJSON `json:"problems"`
	}{Problems: []problemJSON{}}
	for _, p := range problems {
		if p.Grade == yard.Odd {
			out.Warnings += 1 + p.More
		} else {
			out.Errors += 1 + p.More
		}
		out.Problems = append(out.Problems, problemJSON{p.File, p.Line, p.Entry, GradeWord(p.Grade), p.Text, p.Remedy})
	}
	return encode(out)
}

// GradeWord names a grade: "odd", "aside" or "broken".
func GradeWord(g yard.Grade) string {
	switch g {
	case yard.Odd:
		return "odd"
	case yard.Aside:
		return "aside"
	default:
		return "broken"
	}
}

// JSON returns any small answer of a command, such as the identifier of what
// was recorded, in the same layout.
func JSON(v any) ([]byte, error) { return encode(v) }
