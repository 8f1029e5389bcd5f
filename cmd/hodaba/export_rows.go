package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strings"

	"hodaba/charts"
)

// addedRows counts the rows of an earlier table that the new one has not. A row
// of harvests is the same where every cell is; of piles, entries and stock,
// which change from day to day, where it has the same names in front.
func addedRows(old []byte, what string, t charts.Table) (n int) {
	style := charts.CSVStyle{Semicolon: strings.Contains(strings.SplitN(string(old), "\n", 2)[0], ";")}
	write, rows := func() ([]byte, error) { return t.CSV(style) }, func(b []byte) [][]string { return tableRows(b, style) }
	if bytes.HasPrefix(old, []byte("[")) {
		write, rows = t.JSON, func(b []byte) [][]string { return objectRows(b, t.Head) }
	}
	now, err := write()
	if err != nil {
		return 0
	}
	has := map[string]int{}
	for _, row := range rows(now) {
		has[rowName(row, what)]++
	}
	for _, row := range rows(old) {
		name := rowName(row, what)
		if has[name]--; has[name] < 0 && name != "" {
			n++
		}
	}
	return n
}

// rowName is what makes a row of a table the same.
func rowName(row []string, what string) string {
	if n, ok := map[string]int{"piles": 1, "entries": 1, "stock": 3}[what]; ok {
		row = row[:min(n, len(row))]
	}
	return strings.Trim(strings.Join(row, "\x00"), "\x00 ")
}

// tableRows are the rows of a table as it lies on the disk.
func tableRows(b []byte, style charts.CSVStyle) (rows [][]string) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(b, []byte("\ufeff"))))
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	if style.Semicolon {
		r.Comma = ';'
	}
	for {
		row, err := r.Read()
		if err != nil {
			return rows
		}
		rows = append(rows, row)
	}
}

// objectRows are the rows of a table that was written as JSON.
func objectRows(b []byte, head []string) (rows [][]string) {
	var list []map[string]any
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	if d.Decode(&list) != nil {
		return [][]string{{string(b)}} // it is something else
	}
	for _, object := range list {
		row := make([]string, len(head))
		for i, key := range head {
			if v, ok := object[key]; ok {
				row[i] = fmt.Sprint(v)
			}
		}
		rows = append(rows, row)
	}
	return rows
}
