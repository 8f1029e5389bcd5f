package forecast

import (
	"fmt"
	"strings"

	"hodaba/data"
	"hodaba/forecast/harvest"
)

// efficiency is what the logs of a pile give over their life, by weight of
// their wood.
type efficiency struct {
	data.Range            // fresh kg per kg of dry wood
	fruiting   bool       // only logs that bear count
	own        bool       // it is published of the pile's wood, not of its species
	on         data.Yield // as it stands in the data, with that wood's figures in place of the species'
}

// efficiencyOf is that of a strain on a wood, brought to dry wood where it is
// over green.
func (r *run) efficiencyOf(t *task) efficiency {
	on, own := r.data.YieldOn(&t.strain.Yield, t.pile.Wood)
	e := efficiency{Range: on.Efficiency, fruiting: on.Per == data.PerFruiting, own: own, on: t.strain.Yield}
	e.on.Efficiency, e.on.Per, e.on.Over = on.Efficiency, on.Per, on.Over
	if on.Over == data.OverGreen {
		e.Range = harvest.OverDry(e.Range, r.greenMoisture(t))
	}
	return e
}

// perLog is the efficiency of all logs inoculated, given the share of them
// that never take.
func (e *efficiency) perLog(takeFail data.Range) data.Range {
	if !e.fruiting {
		return e.Range
	}
	return harvest.Times(e.Range, 1-takeFail.Typical)
}

// woodNote says what must be known of a pile's wood: that it is a poor one,
// that it is a conifer, or that no source names it for the species.
func (r *run) woodNote(t *task) string {
	wood := strings.TrimSpace(t.pile.Wood)
	if wood == "" {
		return ""
	}
	suits := r.data.SuitsOn(t.species, wood)
	poor := ""
	for _, s := range suits {
		if s.How != "poor" {
			return ""
		}
		if poor == "" || s.Note != "" {
			poor = s.Source
			if s.Note != "" {
				poor = s.Note + " (" + s.Source + ")"
			}
		}
	}
	const usual = "the kilograms are those of woods that suit it"
	switch name := t.species.Name; {
	case poor != "":
		return fmt.Sprintf("%s counts as poor wood for %s: %s. By how much is not told, so %s: expect less.", capitalised(wood), name, poor, usual)
	case r.data.Practice.Conifers.In(wood):
		return fmt.Sprintf("%s is a conifer, and no usual wood for %s: no source that was read tells of a crop on it, and %s. Do not count on them.", capitalised(wood), name, usual)
	case suits == nil:
		return fmt.Sprintf("No source that was read says how %s does on %s: %s.", name, wood, usual)
	}
	return ""
}

func capitalised(s string) string {
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
