package tincture

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/forecast/alcohol"
	"hodaba/yard"
)

// Pot is what goes into the pot of a batch and what becomes of it, by mass.
type Pot struct {
	Brought alcohol.Liquid // in the goods as they go in: the marc's liquor, or the water of goods that saw no spirit
	Water   alcohol.Liquid // to put in
	Steam   alcohol.Liquid // boils away: all spirit of the marc, and water
	Held    alcohol.Liquid // by the marc after pressing
	Free    alcohol.Liquid // runs off and is pressed out: the decoction
	Hours   float64        // of simmering; 0 where nobody says and nothing tells
}

// Boiling is what a kitchen does to a pot.
type Boiling struct {
	LitresPerHour float64 // boiled away
	HeldMLG       float64 // water held by the marc after pressing, ml per g of dried goods
}

// PotOf works out the water of a batch's pot.
//
// Purpose: how much water to put in, so that the decoction the recipe wants is
// there as free liquid after pressing; how long a pot takes.
//
// Equation:
//
//	water = free + held by the marc + evaporated − liquid already in the marc
//
// of which the spirit boils off: of the liquid in the marc its water counts.
// Where the recipe gives water and no time, the time is what the water takes.
//
// Parameters: water held by the marc, ml per g of dried goods
// (data.Practice.MarcWater), litres boiled away in an hour (LearnBoil).
//
// State: none. Inputs from others: the batch's liquids ([Balance]), its goods.
//
// Taken for granted: spirit boils off before the water and takes none of the
// time; what the goods give off weighs nothing.
func PotOf(b Liquids, r yard.Recipe, goods Goods, k Boiling) Pot {
	p := Pot{Free: b.Decoction, Hours: r.SimmerHours}
	if !decocts(r) {
		return Pot{}
	}
	goods, p.Brought = potGoods(b, r, goods)
	p.Held = alcohol.Water(k.HeldMLG * goods.DriedG)
	left, spirit := p.Brought.DriveOff()
	without := p.Free.WaterG + p.Held.WaterG - left.WaterG // water to put in, if none boiled away
	rate := alcohol.Water(k.LitresPerHour * mlPerLitre).WaterG
	if p.Hours == 0 && r.WaterML > 0 && rate > 0 {
		p.Hours = math.Max(alcohol.Water(r.WaterML).WaterG-without, 0) / rate
	}
	p.Water.WaterG = math.Max(without+p.Hours*rate, 0)
	// What the marc brings beyond all that has to boil away too.
	p.Steam = alcohol.Liquid{EthanolG: spirit, WaterG: p.Water.WaterG - without}
	return p
}

// potGoods is what is boiled, and the liquid that it brings.
func potGoods(b Liquids, r yard.Recipe, goods Goods) (Goods, alcohol.Liquid) {
	switch r.Method {
	case MarcDecocted:
		return goods, b.Marc
	case Split:
		goods.DriedG, goods.WaterG = goods.DriedG/2, goods.WaterG/2
	}
	return goods, alcohol.Liquid{WaterG: goods.WaterG}
}

// boiling is what the kitchen does to the pot of the next batch.
func (s *scheduler) boiling() (low, likely, high Boiling) {
	press := s.terms.Kitchen.Press
	if press == "" {
		press = "hand"
	}
	held, rate := s.set.Practice.MarcWater[press], s.plan.Boil.Next
	return Boiling{rate.Low, held.Low}, Boiling{rate.Typical, held.Typical}, Boiling{rate.High, held.High}
}

// potNotes says how much water to put in, or how long the recipe's takes.
func (s *scheduler) potNotes(b Liquids, r yard.Recipe, goods Goods) []string {
	low, likely, high := s.boiling()
	p := PotOf(b, r, goods, likely)
	if !decocts(r) || p.Free.MassG() == 0 || likely.LitresPerHour <= 0 {
		return nil
	}
	free, need := p.Free.VolumeML(), p.Water.VolumeML()
	if r.SimmerHours == 0 && r.WaterML > 0 {
		if p.Hours > 0 {
			return []string{hoursNote(b, r, goods, p, low, high, s.plan.Boil.Next)}
		}
		return []string{fmt.Sprintf("%.0f ml of water cannot leave %.0f ml: put in about %.0f ml more, and what boils away.", r.WaterML, free, need-r.WaterML)}
	}
	if r.SimmerHours == 0 {
		return []string{fmt.Sprintf("For %.0f ml of decoction put in about %.0f ml of water, and what boils away.", free, need)}
	}
	between := fmt.Sprintf("%.0f to %.0f", PotOf(b, r, goods, low).Water.VolumeML(), PotOf(b, r, goods, high).Water.VolumeML())
	parts := fmt.Sprintf("%.0f ml to run off, %.0f held by the marc, %.0f boiled away in %g hours, less %.0f that the goods bring",
		free, p.Held.VolumeML(), alcohol.Liquid{WaterG: p.Steam.WaterG}.VolumeML(), r.SimmerHours, alcohol.Liquid{WaterG: p.Brought.WaterG}.VolumeML())
	slack := math.Max(spareML, potSlack*need)
	switch {
	case r.WaterML == 0:
		return []string{fmt.Sprintf("Put about %.0f ml of water into the pot (%s): %s.", need, between, parts)}
	case need-r.WaterML >= slack:
		return []string{fmt.Sprintf("%.0f ml of water are too little: put in about %.0f ml more, %.0f in all (%s): %s.", r.WaterML, need-r.WaterML, need, between, parts)}
	case r.WaterML-need >= slack || s.plan.Boil.Batches > 0:
		return []string{hoursNote(b, r, goods, PotOf(b, untimed(r), goods, likely), low, high, s.plan.Boil.Next)}
	}
	return nil
}

// potSlack is the share of the water within which a recipe's is taken as right:
// nobody sets a plate more exactly.
const potSlack = 0.05

func untimed(r yard.Recipe) yard.Recipe {
	r.SimmerHours = 0
	return r
}

// hoursNote says how long the recipe's water takes.
func hoursNote(b Liquids, r yard.Recipe, goods Goods, p Pot, low, high Boiling, rate data.Range) string {
	r = untimed(r)
	return fmt.Sprintf("%.0f ml take about %.1f hours to boil down to %.0f ml (%.1f to %.1f), %s.", r.WaterML, p.Hours, p.Free.VolumeML(),
		PotOf(b, r, goods, high).Hours, PotOf(b, r, goods, low).Hours, says(rate))
}

// room says where goods and spirit do not fit the jar with room to swell.
func room(r yard.Recipe, goods Goods, jarML float64, set *data.Set) string {
	if !macerates(r) || jarML <= 0 {
		return ""
	}
	if r.Method == Split {
		goods.DriedG, goods.WaterG = goods.DriedG/2, goods.WaterG/2
	}
	take := r.SpiritMLJar + (goods.DriedG*set.Practice.Room.Goods.Value+goods.WaterG)/float64(r.Jars)
	fits := jarML * (1 - set.Practice.Room.Free.Value)
	if take <= fits {
		return ""
	}
	return fmt.Sprintf("%.0f ml of spirit and the goods take about %.0f ml a jar and do not fit jars of %.0f ml, of which %.0f %% stay free for swelling and shaking: larger jars, or less in each.",
		r.SpiritMLJar, take, jarML, 100*set.Practice.Room.Free.Value)
}
