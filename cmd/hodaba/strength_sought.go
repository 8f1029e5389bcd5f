package main

import (
	"math"
	"strings"

	"hodaba/charts"
	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

const asSought = "as in: hodaba strength blend 96 40 --to 60 --make 1l, or: hodaba strength blend 1l@40 96 --to 60"

// soughtBlend answers how much of two liquids makes a third.
func (a *app) soughtBlend(args []string, to, made, at string) error {
	abv, err := strengthOf(to)
	if err != nil {
		return err
	}
	ls, given, err := soughtOf(args)
	if err != nil {
		return err
	}
	want := yard.Quantity{Low: 1000, High: 1000, Unit: yard.Millilitre}
	switch {
	case made != "" && given >= 0:
		return lineWrong("leave --make out, or the amount of "+args[given], "both %s and --make say how much", args[given])
	case made != "":
		if want, err = amountOf(made); err != nil {
			return err
		}
		ls[0].us = holdsAny(made, "fl", "lb", "pound")
	}
	return a.answerStrength(ls, at, func() (charts.Strength, error) { return sought(ls, given, abv, want) })
}

// soughtOf reads two liquids, of which one at most has an amount; given is
// which, or -1. Of one without, a litre stands for its strength.
func soughtOf(args []string) (ls []liquid, given int, err error) {
	if len(args) != 2 {
		return nil, 0, lineWrong(asSought, "with --to, blend takes two liquids, not %d", len(args))
	}
	given = -1
	for i, text := range args {
		if strings.Contains(text, "@") {
			if given >= 0 {
				return nil, 0, lineWrong("give one of the two as a strength alone, such as 96", "both have an amount: what comes of them says blend without --to")
			}
			given = i
			l, err := liquidOf(text)
			if err != nil {
				return nil, 0, err
			}
			ls = append(ls, l)
			continue
		}
		abv, err := strengthOf(text)
		if err != nil {
			return nil, 0, err
		}
		l := liquid{}
		l.pour.Sought = true
		if l.pour.Liquid, err = alcohol.Spirit(1000, abv); err != nil {
			return nil, 0, lineWrong(asSought, "%s", err)
		}
		ls = append(ls, l)
	}
	return ls, given, nil
}

// sought brings two liquids to abv % by volume: as much of both as makes want,
// or to the given one as much of the other as it takes.
func sought(ls []liquid, given int, abv float64, want yard.Quantity) (charts.Strength, error) {
	strong, weak := 0, 1
	if ls[1].pour.Liquid.ABV() > ls[0].pour.Liquid.ABV() {
		strong, weak = 1, 0
	}
	share, err := alcohol.Proportion(strengthIn(ls[strong]), strengthIn(ls[weak]), abv)
	if err != nil {
		return charts.Strength{}, lineWrong("look at --to and at the two strengths", "%s", err)
	}
	out, err := poured(want, abv)
	if err != nil {
		return charts.Strength{}, lineWrong(asSought, "%s", err)
	}
	shares := map[int]float64{strong: share, weak: 1 - share}
	grams := out.MassG()
	if given >= 0 {
		grams = ls[given].pour.Liquid.MassG() / shares[given]
	}
	if !(grams <= mostMade) {
		return charts.Strength{}, lineWrong("look at --to and at the amount", "for %g %% it would take more than 1,000 t", abv)
	}
	for i := range ls {
		p := &ls[i].pour
		p.Weighed = given >= 0 && ls[given].pour.Weighed || given < 0 && want.Unit == yard.Kilogram
		if p.Sought {
			f := p.Liquid.MassFraction()
			g := grams * shares[i]
			p.Liquid = alcohol.Liquid{EthanolG: g * f, WaterG: g * (1 - f)}
		}
	}
	return blended(ls)
}

// strengthIn is the strength of a liquid, % by volume at 20 °C, as it was typed:
// going by mass and back leaves it a hair beside.
func strengthIn(l liquid) float64 { return min(math.Round(l.pour.Liquid.ABV()*1e9)/1e9, 100) }
