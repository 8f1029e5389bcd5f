package charts

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"slices"
	"strings"

	"hodaba/yard"
)

// Table is a table for a spreadsheet. Its cells are text as it was typed, and
// numbers with a decimal point.
type Table struct {
	Head    []string
	Numbers []string // columns that hold numbers
	Rows    [][]string
}

// CSVStyle is how a table is written for spreadsheets of different lands.
type CSVStyle struct {
	Semicolon bool // semicolons between cells, and decimal commas
	BOM       bool // begin with a byte order mark
}

// CSV is the table as CSV (RFC 4180, line feeds). A text that a spreadsheet
// would take for a formula gets an apostrophe before it.
func (t Table) CSV(style CSVStyle) ([]byte, error) {
	var b bytes.Buffer
	if style.BOM {
		b.WriteString("\ufeff")
	}
	w := csv.NewWriter(&b)
	if style.Semicolon {
		w.Comma = ';'
	}
	if err := w.Write(t.Head); err != nil {
		return nil, err
	}
	for _, row := range t.Rows {
		out := make([]string, len(row))
		for i, cell := range row {
			switch {
			case !slices.Contains(t.Numbers, t.Head[i]):
				out[i] = yard.Guard(tidy(cell))
			case style.Semicolon:
				out[i] = strings.Replace(cell, ".", ",", 1)
			default:
				out[i] = cell
			}
		}
		if err := w.Write(out); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// JSON is the table as a list of objects; blank cells are left out.
func (t Table) JSON() ([]byte, error) {
	list := []map[string]any{}
	for _, row := range t.Rows {
		object := map[string]any{}
		for i, cell := range row {
			switch {
			case cell == "":
			case slices.Contains(t.Numbers, t.Head[i]) && json.Valid([]byte(cell)):
				object[t.Head[i]] = json.Number(cell)
			default:
				object[t.Head[i]] = cell
			}
		}
		list = append(list, object)
	}
	return encode(list)
}

// tidy takes signs out of typed text that could steer a terminal; line ends
// and tabs inside stay, so that it comes back as it was.
func tidy(s string) string {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return r
		}
		if steers(r) {
			return -1
		}
		return r
	}, s))
}

// PilesTable is a row for each pile and bed, those that are gone included, in
// the order in which they came to the yard, those of which nobody knows last.
func PilesTable(s *yard.State) Table {
	t := Table{Head: yard.PileColumns, Numbers: []string{"logs then", "logs now"}}
	piles := slices.Clone(s.Piles)
	slices.SortStableFunc(piles, func(a, b *yard.Pile) int { return cmp.Compare(a.Came(), b.Came()) })
	for _, p := range piles {
		t.Rows = append(t.Rows, p.Cells())
	}
	return t
}

// HarvestsTable is a row for each picking.
func HarvestsTable(s *yard.State) Table {
	t := Table{Head: yard.HarvestColumns, Numbers: []string{"logs", "fresh_kg", "eaten_percent", "hours", "people"}}
	for _, k := range s.Picks {
		t.Rows = append(t.Rows, k.Cells())
	}
	return t
}

// StockTable is the dried stock, a row per lot.
func StockTable(s *yard.State) Table {
	t := Table{Head: []string{"lot", "species", "form", "on", "from", "in_g", "left_g"}, Numbers: []string{"in_g", "left_g"}}
	for _, l := range s.Dry {
		t.Rows = append(t.Rows, []string{l.Lot, l.Species, l.Form, l.On.Mid().String(), l.From, decimals(l.InG, smallDecimals), decimals(l.LeftG, smallDecimals)})
	}
	return t
}

// entryColumns stand before the keys of the entries.
var entryColumns = []string{"entry", "written", "kind", "right_kind", "counts", "replaced_by"}

// EntriesTable is a row for each entry of the journal, in the order of the
// journal, with a column for each key that any of them has.
func EntriesTable(entries []*yard.Entry) Table {
	values := make([]map[string]string, len(entries))
	used := map[string]bool{}
	for i, e := range entries {
		values[i] = e.Values()
		for k := range values[i] {
			used[k] = true
		}
	}
	keys := keysInUse(used)
	t := Table{Head: slices.Concat(entryColumns, keys)}
	for i, e := range entries {
		row := []string{e.ID, string(e.Written), e.Kind, values[i]["kind"], "yes", ""}
		if e.Replaced != nil {
			row[4], row[5] = "no", e.Replaced.ID
		}
		for _, k := range keys {
			row = append(row, values[i][k])
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// keysInUse are the keys that stand in any entry, the common ones first, then
// in the order of the kinds.
func keysInUse(used map[string]bool) (keys []string) {
	add := func(name string) {
		if used[name] && !slices.Contains(keys, name) && !slices.Contains(entryColumns, name) {
			keys = append(keys, name)
		}
	}
	add("on")
	for _, k := range yard.Kinds() {
		for _, key := range k.Keys {
			if !key.Common {
				add(key.Name)
			}
		}
	}
	for _, name := range []string{"place", "by", "hours", "people", "note"} {
		add(name)
	}
	return keys
}
