package yard

import (
	"math"
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
