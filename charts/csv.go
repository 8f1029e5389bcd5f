package charts

import (
	"bytes"
	"encoding/csv"
	"strconv"

	"hodaba/forecast"
	"hodaba/forecast/tincture"
	"hodaba/yard"
)

// ForecastCSV is the forecast month by month: a row per pile or bed and
// month, then a row per species and month. Masses are in kilograms.
func ForecastCSV(r *forecast.Result) ([]byte, error) {
	rows := [][]string{{"kind", "name", "species", "month", "colonised_chance", "share_through", "harvest_chance",
		"fresh_kg_p10", "fresh_kg_p50", "fresh_kg_p90", "fresh_kg_mean", "dry_kg_p10", "dry_kg_p50", "dry_kg_p90", "dry_kg_mean"}}
	for _, p := range r.Piles {
		for _, m := range p.Months {
			row := []string{p.Kind, text(p.Name), text(p.Species), m.Month.MonthString(), "", "", decimals(m.HarvestChance, chanceDecimals)}
			if p.Colonised != nil {
				row[4], row[5] = decimals(m.ColonisedChance, chanceDecimals), decimals(m.ShareThrough, chanceDecimals)
			}
			rows = append(rows, append(append(row, amounts(m.Fresh)...), "", "", "", ""))
		}
	}
	for _, s := range r.Species {
		for _, m := range s.Months {
			row := []string{"species", text(s.Species), text(s.Species), m.Month.MonthString(), "", "", decimals(m.HarvestChance, chanceDecimals)}
			rows = append(rows, append(append(row, amounts(m.Fresh)...), amounts(m.Dry)...))
		}
	}
	return records(rows)
}

func amounts(a forecast.Amount) []string {
	return []string{decimals(a.P10, kgDecimals), decimals(a.P50, kgDecimals), decimals(a.P90, kgDecimals), decimals(a.Mean, kgDecimals)}
}

// BatchesCSV is the tincture calendar, a row per batch; a date that is not
// reached is blank.
func BatchesCSV(p *tincture.Plan) ([]byte, error) {
	rows := [][]string{{"lot", "recipe", "standing", "start", "start_chance", "shake_until", "strain", "decoct", "blend", "bottled",
		"bottles_p10", "bottles_p50", "bottles_p90", "bottle_ml", "abv_percent_p50"}}
	row := func(b tincture.Batch, stands string) {
		rows = append(rows, []string{text(b.Lot), text(b.Recipe), stands, b.Start.String(), decimals(b.StartChance, chanceDecimals),
			b.ShakeUntil.String(), b.Strain.String(), b.Decoct.String(), b.Blend.String(), b.Bottled.String(),
			decimals(b.Bottles.P10, smallDecimals), decimals(b.Bottles.P50, smallDecimals), decimals(b.Bottles.P90, smallDecimals),
			decimals(b.BottleML, smallDecimals), decimals(b.ABV.P50, smallDecimals)})
	}
	if p != nil {
		for _, b := range p.Standing {
			row(b, "yes")
		}
		for _, b := range p.Batches {
			row(b, "no")
		}
	}
	return records(rows)
}

// StockCSV is the dried stock, a row per lot.
func StockCSV(s *yard.State) ([]byte, error) { return StockTable(s).CSV(CSVStyle{}) }

func records(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// text is typed text for a cell, on one line and harmless to a spreadsheet.
func text(s string) string { return yard.Guard(Clean(s)) }

// decimals writes v with at most n decimals, and not a number as blank.
func decimals(v float64, n int) string {
	out, err := jsonNumber{v, n}.MarshalJSON()
	if err != nil || string(out) == "null" {
		return ""
	}
	if f, err := strconv.ParseFloat(string(out), 64); err == nil {
		return strconv.FormatFloat(f, 'f', -1, 64)
	}
	return ""
}
