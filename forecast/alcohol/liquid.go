package alcohol

import (
	"fmt"
	"math"
)

// Liquid is a mixture of ethanol and water by mass. The zero Liquid is
// nothing. Grams are never negative in a Liquid made by this package.
type Liquid struct {
	EthanolG float64
	WaterG   float64
}

// Spirit returns ml millilitres, measured at 20 °C, of spirit of abv % by
// volume at 20 °C.
func Spirit(ml, abv float64) (Liquid, error) {
	if !(ml >= 0) || math.IsInf(ml, 0) {
		return Liquid{}, fmt.Errorf("%g ml of spirit: an amount of zero or more is needed", ml)
	}
	p, err := MassFraction(abv)
	if err != nil {
		return Liquid{}, err
	}
	return ofMass(ml*density(p, ReferenceC)/1000, p), nil
}

// Water returns ml millilitres of water, measured at 20 °C; of less than
// nothing it returns none.
func Water(ml float64) Liquid { return Liquid{WaterG: math.Max(ml, 0) * rhoWater} }

func ofMass(g, p float64) Liquid { return Liquid{EthanolG: g * p, WaterG: g * (1 - p)} }

// MassG is the mass of l in grams.
func (l Liquid) MassG() float64 { return l.EthanolG + l.WaterG }

// MassFraction is the mass of ethanol over the mass of l; 0 for nothing.
func (l Liquid) MassFraction() float64 {
	if l.EthanolG <= 0 {
		return 0
	}
	return math.Min(l.EthanolG/l.MassG(), 1)
}

// VolumeML is the volume of l in ml at 20 °C.
func (l Liquid) VolumeML() float64 {
	if l.MassG() <= 0 {
		return 0
	}
	return l.MassG() * 1000 / density(l.MassFraction(), ReferenceC)
}

// EthanolML is the volume in ml at 20 °C that the ethanol in l would fill
// alone.
func (l Liquid) EthanolML() float64 { return l.EthanolG / rhoEthanol }

// ABV is the strength of l in % by volume at 20 °C; 0 for nothing.
func (l Liquid) ABV() float64 {
	p := l.MassFraction()
	return 100 * p * density(p, ReferenceC) / (1000 * rhoEthanol)
}

// Plus is l and m poured together.
func (l Liquid) Plus(m Liquid) Liquid {
	return Liquid{EthanolG: l.EthanolG + m.EthanolG, WaterG: l.WaterG + m.WaterG}
}

// Blend is all of the liquids poured together.
func Blend(ls ...Liquid) Liquid {
	var sum Liquid
	for _, l := range ls {
		sum = sum.Plus(l)
	}
	return sum
}

// Contraction is the volume in ml at 20 °C by which the liquids poured
// together fall short of the sum of their volumes.
func Contraction(ls ...Liquid) float64 {
	sum := 0.0
	for _, l := range ls {
		sum += l.VolumeML()
	}
	return sum - Blend(ls...).VolumeML()
}

// Part divides l by volume: ml millilitres of it at 20 °C, and what is left.
// Asked for more than there is, it gives all; for less than nothing, none.
func (l Liquid) Part(ml float64) (part, rest Liquid) {
	all := l.VolumeML()
	if ml >= all {
		return l, Liquid{}
	}
	if !(ml > 0) {
		return Liquid{}, l
	}
	f := ml / all
	part = Liquid{EthanolG: l.EthanolG * f, WaterG: l.WaterG * f}
	return part, Liquid{EthanolG: l.EthanolG - part.EthanolG, WaterG: l.WaterG - part.WaterG}
}

// Dilute returns the grams of water that bring l down to abv % by volume at
// 20 °C:
//
//	m(water) = m(l) (p / p(abv) − 1)
//
// with p the mass fraction of ethanol; the method of 27 CFR 30.64. Water does
// not make a liquid stronger, and no amount of it makes it 0 %: both are
// errors.
func Dilute(l Liquid, abv float64) (waterG float64, err error) {
	if err := checkPercent(abv); err != nil {
		return 0, err
	}
	have := l.ABV()
	switch {
	case l.MassG() <= 0:
		return 0, fmt.Errorf("nothing to dilute to %g %%", abv)
	case isClose(have, abv):
		return 0, nil
	case abv > have:
		return 0, fmt.Errorf("water does not make %.2f %% by volume into %g %%: use stronger spirit", have, abv)
	case abv == 0:
		return 0, fmt.Errorf("no amount of water makes %.2f %% by volume into 0 %%", have)
	}
	p, err := MassFraction(abv)
	if err != nil {
		return 0, err
	}
	return l.MassG() * (l.MassFraction()/p - 1), nil
}

// DriveOff is what is left of l when all ethanol has boiled off, and the grams
// of ethanol that went into the air. Boiled down to a third in an open pot a
// weak liquid keeps next to none, since its vapour is about ten times as
// strong as itself (from memory). The vapour burns.
func (l Liquid) DriveOff() (rest Liquid, ethanolG float64) {
	return Liquid{WaterG: l.WaterG}, l.EthanolG
}

// Proportion returns the share by mass of the stronger of two liquids (% by
// volume at 20 °C) in a blend of want % by volume:
//
//	share = (p(want) − p(weak)) / (p(strong) − p(weak))
//
// with p the mass fraction of ethanol. This is the alligation rule, or Pearson's
// square, of the trade; by mass it holds exactly, by volume only as far as
// nothing contracts. A strength that does not lie between the two is an error.
func Proportion(strong, weak, want float64) (share float64, err error) {
	var p [3]float64
	for i, abv := range []float64{strong, weak, want} {
		if p[i], err = MassFraction(abv); err != nil {
			return 0, err
		}
	}
	if !(weak < want && want < strong) {
		return 0, fmt.Errorf("%g %% cannot be mixed from %g and %g %%: it must lie between the two", want, strong, weak)
	}
	return (p[2] - p[1]) / (p[0] - p[1]), nil
}
