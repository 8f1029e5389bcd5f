package charts

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"hodaba/forecast/alcohol"
)

// leastSaid is the smallest volume that is said, ml: half of the last digit.
const leastSaid = 0.005

// Strength says in a sentence what was worked out, and then the figures.
func (t Terminal) Strength(s Strength) string {
	rows := []string{wrap("Strength     ", "             ", fmt.Sprintf("%s by volume at 20 °C, %s by mass, US proof %s",
		percentOf(s.Out.ABV()), percentOf(100*s.Out.MassFraction()), shortest(s.Proof, 1)))}
	if len(s.Pours) > 0 {
		rows = append(rows, wrap("Amount       ", "             ", fmt.Sprintf("%s at 20 °C, %s", t.poured(s.Out), t.weighed(s.Out))))
	}
	if c := s.contraction(); math.Abs(c) >= leastSaid {
		than := "less"
		if c < 0 {
			than = "more"
		}
		rows = append(rows, wrap("Contraction  ", "             ", fmt.Sprintf("%s ml: together they fill %s than apart", shortest(c, 2), than)))
	}
	if s.Warm != nil {
		rows = append(rows, wrap(fmt.Sprintf("%-12s ", "At "+t.degrees(s.Warm.C)), "             ", t.warmWords(s)))
	}
	return t.write(wrap("", "", t.strengthSentence(s)), strings.Join(rows, ""))
}

// warmWords are about what comes out at another temperature.
func (t Terminal) warmWords(s Strength) string {
	shows := "a hydrometer for 20 °C shows " + percentOf(s.Warm.Shows)
	if s.Warm.Shows < 0 {
		shows = "it is off the scale of a hydrometer for 20 °C"
	}
	return fmt.Sprintf("%s; %s kg/m³, %s", shows, shortest(s.Warm.Density, 2), t.filled(s.warmML()))
}

func (t Terminal) strengthSentence(s Strength) string {
	comesOut := percentOf(s.Out.ABV()) + " by volume"
	if len(s.Pours) == 0 {
		return fmt.Sprintf("Spirit at %s in which a hydrometer for 20 °C shows %s is of %s.", t.degrees(s.AtC), percentOf(s.Shown), comesOut)
	}
	var names []string
	for _, p := range s.Pours {
		names = append(names, t.pour(p))
	}
	from := listing(names)
	switch {
	case s.sought():
		return t.soughtSentence(s, names, comesOut)
	case s.WaterG == nil && len(names) == 1:
		return fmt.Sprintf("%s is %s of %s.", from, t.poured(s.Out), comesOut)
	case s.WaterG == nil:
		return fmt.Sprintf("%s make %s of %s.", from, t.poured(s.Out), comesOut)
	case *s.WaterG == 0:
		return fmt.Sprintf("%s is that already: add no water.", from)
	}
	water := alcohol.Liquid{WaterG: *s.WaterG}
	return fmt.Sprintf("Add %s of water (%s) to %s: that makes %s of %s.", t.poured(water), scaled(water.MassG(), "g", "kg"), from, t.poured(s.Out), comesOut)
}

// soughtSentence says how much to pour of two liquids, or of the second to the
// first.
func (t Terminal) soughtSentence(s Strength, names []string, comesOut string) string {
	how := "Pour " + listing(names) + " together"
	for i, p := range s.Pours {
		if !p.Sought {
			how = "Add " + names[1-i] + " to " + names[i]
		}
	}
	return fmt.Sprintf("%s: that makes %s of %s.", how, t.poured(s.Out), comesOut)
}

// pour names a liquid in the way it was measured.
func (t Terminal) pour(p Pour) string {
	amount := t.poured(p.Liquid)
	if p.Weighed {
		amount = t.weighed(p.Liquid)
	}
	if p.Liquid.EthanolG == 0 {
		return amount + " of water"
	}
	return amount + " of " + percentOf(p.Liquid.ABV())
}

// poured is the volume of a liquid, as finely as a kitchen measures.
func (t Terminal) poured(l alcohol.Liquid) string { return t.filled(l.VolumeML()) }

func (t Terminal) filled(ml float64) string {
	metric := scaled(ml, "ml", "l")
	if t.US {
		return shortest(ml/fluidOunceML, 2) + " fl oz (" + metric + ")"
	}
	return metric
}

// weighed is the mass of a liquid, as finely as a kitchen weighs.
func (t Terminal) weighed(l alcohol.Liquid) string {
	metric := scaled(l.MassG(), "g", "kg")
	if t.US {
		return shortest(l.MassG()/1000/poundKG, 3) + " lb (" + metric + ")"
	}
	return metric
}

func (t Terminal) degrees(c float64) string {
	if t.US {
		return shortest(c*9/5+32, 1) + " °F"
	}
	return shortest(c, 1) + " °C"
}

// scaled writes an amount in its small unit, from a thousand on in the large.
func scaled(v float64, small, large string) string {
	switch {
	case v < 9.995:
		return shortest(v, 2) + " " + small
	case v < 999.95:
		return shortest(v, 1) + " " + small
	}
	return shortest(v/1000, 3) + " " + large
}

// percentOf writes a strength in hundredths of a percent at most.
func percentOf(v float64) string { return shortest(v, 2) + " %" }

// shortest rounds to so many decimals and leaves noughts at the end away.
func shortest(v float64, decimals int) string {
	p := math.Pow10(decimals)
	r := math.Round(v*p) / p
	if r == 0 {
		r = 0 // drops the sign of a negative zero
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
