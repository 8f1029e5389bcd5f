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
