package main

import (
	"strings"

	"hodaba/charts"
)

// answerICS prints the tincture calendar for other calendars, and says beside
// it which batches are not in it.
func (a *app) answerICS(in charts.Input) error {
	calendar, err := charts.BatchesICS(in)
	if err != nil {
		return err
	}
	if lots := charts.Undated(in.Result.Plan); len(lots) > 0 {
		a.note("without a day yet, and so not in the calendar: %s", strings.Join(lots, ", "))
	}
	return a.write(calendar)
}
