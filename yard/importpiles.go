package yard

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// pileColumn is the column that a heading of a table of piles names.
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
		e.say(Odd, mistake{fmt.Sprintf("%s has %s here, and %d in the table", p.Name, logWord(p.Logs), n), fmt.Sprintf("record it if it is so: hodaba record counted %s %d logs", CommandWord(p.Name), n)})
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
