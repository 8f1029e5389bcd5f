package charts

import "hodaba/forecast/alcohol"

// Pour is a liquid as it was given.
type Pour struct {
	Liquid  alcohol.Liquid
	Weighed bool // by mass and not by volume
}

// Strength is what was worked out about spirit and water.
type Strength struct {
	Pours  []Pour   // what is poured together; none for a reading
	WaterG *float64 // the water to add to them; nil where that was not asked

	Shown float64 // % by volume that a hydrometer shows, where nothing is poured
	AtC   float64 // and the temperature of the spirit in it, °C

	Out   alcohol.Liquid // what comes out; of a reading only the proportions mean something
	Proof float64        // its US proof
}

// liquids are all that is poured together, the water added included.
func (s Strength) liquids() []alcohol.Liquid {
	var ls []alcohol.Liquid
	for _, p := range s.Pours {
		ls = append(ls, p.Liquid)
	}
	if s.WaterG != nil {
		ls = append(ls, alcohol.Liquid{WaterG: *s.WaterG})
	}
	return ls
}

// contraction is in ml at 20 °C, below 0 where the liquids fill more together
// than apart.
func (s Strength) contraction() float64 { return alcohol.Contraction(s.liquids()...) }

type strengthJSON struct {
	ABV         jsonNumber  `json:"abv_percent_20c"`
	Mass        jsonNumber  `json:"alcohol_mass_percent"`
	MassG       *jsonNumber `json:"mass_g,omitempty"`
	VolumeML    *jsonNumber `json:"volume_ml,omitempty"`
	Contraction *jsonNumber `json:"contraction_ml,omitempty"`
	AddWaterG   *jsonNumber `json:"add_water_g,omitempty"`
	AddWaterML  *jsonNumber `json:"add_water_ml,omitempty"`
	Proof       jsonNumber  `json:"proof_us"`
}

// StrengthJSON is s as JSON. Fields that do not apply are left out.
func StrengthJSON(s Strength) ([]byte, error) {
	set := func(v float64) *jsonNumber { n := smallNumber(v); return &n }
	out := strengthJSON{ABV: smallNumber(s.Out.ABV()), Mass: smallNumber(100 * s.Out.MassFraction()), Proof: smallNumber(s.Proof)}
	if len(s.Pours) > 0 {
		out.MassG, out.VolumeML, out.Contraction = set(s.Out.MassG()), set(s.Out.VolumeML()), set(s.contraction())
	}
	if s.WaterG != nil {
		out.AddWaterG, out.AddWaterML = set(*s.WaterG), set(alcohol.Liquid{WaterG: *s.WaterG}.VolumeML())
	}
	return encode(out)
}
