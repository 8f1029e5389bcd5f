package yard

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
)

// TableImport is what a table of piles or harvests would bring: nothing is
// written yet.
type TableImport struct {
	Texts    []string  // entries to record, for RecordAll
	Rows     int       // rows that were read
	New      int       // rows that are new
	Same     int       // rows of which the journal has an entry already
	Problems []Problem // what was left out or is odd; File is "table"
}

// PileColumns are those of a table of piles, as it is exported.
var PileColumns = []string{"name", "code", "kind", "species", "strain", "wood", "place", "when", "arrived", "state", "logs then", "logs now",
	"gone", "diameter", "length", "depth", "spawn", "method", "spawn lot"}

// HarvestColumns are those of a table of harvests, as it is exported.
var HarvestColumns = []string{"on", "pile", "species", "logs", "fresh_kg", "fresh", "eaten_percent", "lot", "by", "hours", "people", "place", "note"}

// Cells are what a table of piles says of a pile, in the order of PileColumns.
func (p *Pile) Cells() []string {
	cell := map[string]string{"name": p.Name, "code": p.Code, "kind": p.Kind, "species": p.Species, "strain": p.Strain, "wood": p.Wood, "place": p.Place,
		"arrived": p.Arrived.cell(), "state": p.State, "gone": p.Closed.String(),
		"diameter": p.Diameter.cell("cm"), "length": p.Length.cell("cm")}
	if p.Since.Text != notSaid {
		cell["when"] = p.Since.cell()
	}
	if p.Started > 0 {
		cell["logs then"] = strconv.Itoa(p.Started)
	}
	if p.LogsKnown {
		cell["logs now"] = strconv.Itoa(p.Logs)
	}
	switch {
	case p.Kind != "bed":
		cell["spawn"], cell["method"], cell["spawn lot"] = p.Spawn, p.Method, p.SpawnLot
	default:
		cell["depth"] = p.Depth.cell("cm")
		if !p.Colonised {
			cell["state"] = stateNew
		}
	}
	return inOrder(cell, PileColumns)
}

// Came is the first day on which a pile can have come to the yard: arrived,
// else inoculated or buried; the last of all days where nobody knows.
func (p *Pile) Came() Date {
	switch {
	case !p.Arrived.IsZero():
		return p.Arrived.From
	case p.Since.Text == notSaid:
		return math.MaxInt32
	}
	return p.Since.From
}

// stateNew is the state of logs that are not run through.
const stateNew = "new"

func inOrder(cell map[string]string, columns []string) []string {
	out := make([]string, len(columns))
	for i, c := range columns {
		out[i] = cell[c]
	}
	return out
}

func (w When) cell() string {
	if w.IsZero() {
		return ""
	}
	return w.String()
}

func (s Span) cell(unit string) string {
	if !s.Known() {
		return ""
	}
	return spanWords(s) + " " + unit
}

// Cells are what a table of harvests says of a picking, in the order of
// HarvestColumns.
func (k *Pick) Cells() []string {
	h, ok := k.Entry.Event.(*Harvested)
	if !ok {
		return make([]string, len(HarvestColumns))
	}
	return h.cells(k.Entry, k.Piles, k.Species)
}

func (h *Harvested) cells(e *Entry, piles []string, species string) []string {
	cell := map[string]string{"on": e.On.String(), "pile": strings.Join(piles, ", "), "species": species, "lot": h.Lot,
		"by": e.By, "place": e.Place, "note": e.Note}
	if h.Logs >= 0 {
		cell["logs"] = strconv.Itoa(h.Logs)
	}
	if h.Eaten >= 0 {
		cell["eaten_percent"] = decimal(h.Eaten)
	}
	if e.Hours > 0 {
		cell["hours"] = decimal(e.Hours)
	}
	if e.People > 0 {
		cell["people"] = strconv.Itoa(e.People)
	}
	if h.Fresh.Text != "" {
		cell["fresh_kg"] = decimal(h.Fresh.Mid())
		if plain := cell["fresh_kg"] + " kg"; h.Fresh.Text != plain {
			cell["fresh"] = h.Fresh.Text
		}
	}
	return inOrder(cell, HarvestColumns)
}

// harvestWords are other headings of a table of harvests that are understood.
var harvestWords = map[string]string{"date": "on", "day": "on", "picked": "on", "when": "on", "piles": "pile", "bed": "pile", "name": "pile",
	"mushroom": "species", "logs that bore": "logs", "kg": "fresh_kg", "kilograms": "fresh_kg", "fresh kg": "fresh_kg", "weight": "fresh",
	"mass": "fresh", "eaten": "eaten_percent", "eaten percent": "eaten_percent", "who": "by", "initials": "by", "notes": "note", "remark": "note"}

func harvestColumn(name string) string {
	if slices.Contains(HarvestColumns, name) {
		return name
	}
	return harvestWords[name]
}

// ReadHarvests reads a table of pickings, one a row, as export writes it or
// under headings of the grower's own. A row of which the journal has an entry
// with the same content, also one that was corrected since, is not taken
// again: of several equal rows as many as are there. A row that cannot be read
// is left out and pointed at by its line.
func ReadHarvests(f *Folder, r io.Reader) (*TableImport, error) {
	s, err := readSheet(r, harvestColumn, HarvestColumns)
	if err != nil {
		return nil, err
	}
	if slices.Contains(s.raw, "logs now") {
		return nil, mistake{"this is a table of piles", "take it over with import piles"}
	}
	if !slices.Contains(s.head, "on") || !slices.Contains(s.head, "pile") && !slices.Contains(s.head, "species") {
		return nil, mistake{"the heading names no column `on`, or neither `pile` nor `species`", "write a heading such as " + strings.Join(HarvestColumns, ",")}
	}
	h := &harvestReader{f: f, s: s, out: &TableImport{Problems: s.problems, Rows: len(s.rows)}, have: map[string][]pickRow{}, terms: f.Terms()}
	h.state, _ = f.State(f.today, 0)
	entries, _ := f.Entries()
	for _, e := range entries {
		if row, ok := h.rowOf(e); ok {
			h.have[row.what] = append(h.have[row.what], row)
		}
	}
	for _, row := range s.rows {
		h.row(row)
	}
	return h.out, nil
}

// harvestReader turns rows of a table into entries.
type harvestReader struct {
	f     *Folder
	s     *sheet
	state *State
	terms Terms
	have  map[string][]pickRow // entries of the journal that no row has met yet, by what they say
	out   *TableImport
}

// pickRow is a picking as a row of the table.
type pickRow struct {
	id   string
	what string   // day, piles, species and weight
	more []string // the other cells
}

// rowOf is what an entry says as a row of the table; ok is false for other
// kinds of events.
func (h *harvestReader) rowOf(e *Entry) (row pickRow, ok bool) {
	x := e.effective()
	if x == nil {
		return row, false
	}
	event, ok := x.Event.(*Harvested)
	if !ok {
		return row, false
	}
	piles, species := event.all(), event.Species
	for i, name := range piles {
		if p := h.state.Pile(name); p != nil {
			piles[i] = p.Name
			species = cmp.Or(species, p.Species)
		}
		piles[i] = folded(piles[i])
	}
	species, _, _ = h.state.resolve(species, h.f.data)
	row = pickRow{id: e.ID, what: fmt.Sprintf("%d %d %q %q %g %g %t", x.On.From, x.On.To, piles, folded(species), event.Fresh.Low, event.Fresh.High, event.Fresh.Text != "")}
	for i, c := range event.cells(x, piles, species) {
		if !slices.Contains([]string{"on", "pile", "species", "fresh_kg", "fresh"}, HarvestColumns[i]) {
			row.more = append(row.more, c)
		}
	}
	return row, true
}

// here reports whether the journal has an entry that says what a row says, or
// more. Each entry meets one row.
func (h *harvestReader) here(row pickRow) bool {
	list := h.have[row.what]
	i := slices.IndexFunc(list, func(o pickRow) bool { return slices.Equal(o.more, row.more) })
	if i < 0 {
		i = slices.IndexFunc(list, row.within)
	}
	if i < 0 {
		return false
	}
	h.have[row.what] = slices.Delete(slices.Clone(list), i, i+1)
	return true
}

// within reports whether another row says all that r says.
func (r pickRow) within(o pickRow) bool {
	for i, c := range r.more {
		if c != "" && c != o.more[i] {
			return false
		}
	}
	return true
}

func (h *harvestReader) say(line int, g Grade, text, remedy string) {
	h.out.Problems = append(h.out.Problems, Problem{File: "table", Line: line, Grade: g, Text: text, Remedy: remedy})
}

func (h *harvestReader) row(row sheetRow) {
	text, problems := Compose("harvested", h.values(row), h.terms)
	for _, p := range problems {
		p.File, p.Line = "table", row.line
		if text == "" {
			p.Text += ": the row is left out"
		}
		h.out.Problems = append(h.out.Problems, p)
	}
	if text == "" {
		return
	}
	entries, _ := readText(text, &h.terms)
	picked, _ := h.rowOf(entries[0])
	if h.here(picked) {
		h.out.Same++
		return
	}
	if like := h.have[picked.what]; len(like) > 0 {
		h.say(row.line, Odd, fmt.Sprintf("entry %s is of the same day, pile and weight, and says other things besides: both count", like[0].id),
			"if it was one picking: hodaba correct "+like[0].id+" void=true")
	}
	h.out.New++
	h.out.Texts = append(h.out.Texts, text)
}

// values are the keys of the entry that a row becomes.
func (h *harvestReader) values(row sheetRow) map[string]string {
	v := map[string]string{"on": isoDay(row.cell["on"])}
	for _, key := range []string{"species", "lot", "by", "place", "note"} {
		v[key] = row.cell[key]
	}
	for _, key := range []string{"logs", "eaten_percent", "hours", "people"} {
		v[key] = h.s.number(row.cell[key])
	}
	if piles := row.cell["pile"]; strings.Contains(piles, ",") {
		v["piles"] = piles
	} else {
		v["pile"] = piles
	}
	v["fresh"] = h.fresh(row)
	if v["on"] == "" {
		v["on"] = "no day" // Compose would take today
	}
	for k, s := range v {
		if s == "" {
			delete(v, k)
		}
	}
	return v
}

// sameWeight is how far the number of kilograms and the weight as written may
// be apart, as a share: our judgement, for what a spreadsheet rounds.
const sameWeight = 0.01

// fresh is the weight as it was written, where the number of kilograms says
// the same; else the number counts, for that is what a spreadsheet changes.
func (h *harvestReader) fresh(row sheetRow) string {
	written, number := row.cell["fresh"], h.s.number(row.cell["fresh_kg"])
	if number == "" {
		return written
	}
	if _, err := strconv.ParseFloat(number, 64); err == nil {
		number += " kg"
	}
	if written == "" {
		return number
	}
	a, errA := ParseQuantity(number, Kilogram, h.terms.Measures)
	b, errB := ParseQuantity(written, Kilogram, h.terms.Measures)
	switch {
	case errA != nil:
		return number // its mistake is told
	case errB != nil || math.Abs(a.Mid()-b.Mid()) > sameWeight*a.Mid():
		h.say(row.line, Odd, fmt.Sprintf("fresh_kg says %s and fresh says %s: the first counts", number, shown(written)), "make them agree, or leave one of the two blank")
		return number
	}
	return written
}

// pileWords are further columns of a table of piles.
func pileColumn(name string) string {
	if slices.Contains(PileColumns, name) {
		return name
	}
	if name == "lot" {
		return "spawn lot"
	}
	return columnOf(name)
}

// ReadPiles reads a table of piles and beds, one a row, as export writes it or
// as ReadTable takes it. A pile whose name the yard knows already is not taken
// again. A row becomes the entry with which the pile began, and further ones
// where its logs were counted or it was picked.
func ReadPiles(f *Folder, r io.Reader) (*TableImport, error) {
	s, err := readSheet(r, pileColumn, PileColumns)
	if err != nil {
		return nil, err
	}
	if slices.Contains(s.raw, "fresh_kg") && slices.Contains(s.raw, "on") {
		return nil, mistake{"this is a table of harvests", "take it over with import harvests"}
	}
	for _, column := range []string{"name", "species"} {
		if !slices.Contains(s.head, column) {
			return nil, mistake{fmt.Sprintf("the heading names no column `%s`", column), "write a heading such as " + strings.Join(PileColumns, ",")}
		}
	}
	state, _ := f.State(f.today, 0)
	out := &TableImport{Rows: len(s.rows)}
	e := &evening{terms: f.Terms(), names: map[string]int{}, problems: s.problems}
	for _, row := range s.rows {
		e.lineNo = row.line
		switch p := state.Pile(row.cell["name"]); {
		case p != nil:
			out.Same++
			e.differs(p, row.cell)
		case e.named(row.cell):
			before := len(e.texts)
			e.imported(row.cell)
			if len(e.texts) > before {
				out.New++
			}
		}
	}
	out.Texts, out.Problems = e.texts, e.problems
	return out, nil
}

// differs points at a row that says something else than the yard.
func (e *evening) differs(p *Pile, cell map[string]string) {
	if sp, _, _ := resolveSpecies(cell["species"], e.terms.Own, e.terms.Data); cell["species"] != "" && folded(sp) != folded(p.Species) {
		e.say(Odd, mistake{fmt.Sprintf("%s is a pile of %s here, and of %s in the table", p.Name, p.Species, sp), "what stands here is left as it is"})
	}
	if n, err := strconv.Atoi(cell["logs now"]); err == nil && p.LogsKnown && n != p.Logs {
		e.say(Odd, mistake{fmt.Sprintf("%s has %s here, and %d in the table", p.Name, logWord(p.Logs), n), fmt.Sprintf("record it if it is so: hodaba record counted %s %d logs", quoteName(p.Name), n)})
	}
}

// imported turns a row into entries.
func (e *evening) imported(cell map[string]string) {
	p := e.pile(cell)
	kind, v := p.began(e.day(cell, "arrived"))
	before := len(e.texts)
	e.add(kind, v)
	if len(e.texts) == before && kind != "" {
		return // said why; counts of a pile that never began would go astray
	}
	now := p.now
	if kind == "counted" && p.then <= now || p.then == now {
		now = NotSaid // said already
	}
	if now >= 0 {
		on := On(p.today)
		if gone := e.day(cell, "gone"); now == 0 && !gone.IsZero() {
			on = gone
		}
		e.add("counted", map[string]string{"on": on.String(), "pile": p.cell["name"], "logs": strconv.Itoa(now)})
	}
	e.add(p.harvested())
}

// began is the entry with which a pile began: logs that arrived, a bed, a
// count where nobody knows when it was inoculated, else an inoculation.
func (p *oldPile) began(arrived When) (string, map[string]string) {
	kind, v := p.begins()
	switch {
	case p.bed:
		if p.cell["state"] != "" && p.cell["state"] != "through" {
			v["colonised"] = "false"
		}
		v["depth"] = p.cell["depth"]
	case !arrived.IsZero() || p.cell["state"] != "":
		kind = "arrived"
		delete(v, "method")
		v["state"], v["lot"] = p.cell["state"], p.cell["spawn lot"]
		v["inoculated"] = p.when.cell()
		v["on"] = arrived.cell()
		if arrived.IsZero() {
			v["on"] = cmp.Or(p.when.cell(), p.today.String())
		}
	case p.when.IsZero() && p.fruited.IsZero() && max(p.then, p.now) >= 0:
		kind = "counted"
		v["logs"] = strconv.Itoa(max(p.then, p.now))
		v["on"] = p.today.String()
		for _, k := range []string{"spawn", "method", "code"} {
			delete(v, k)
		}
	default:
		v["spawn_lot"] = p.cell["spawn lot"]
	}
	return kind, v
}
