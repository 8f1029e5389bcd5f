package charts

import (
	"slices"

	"hodaba/forecast/alcohol"
)

// Pour is a liquid as it was given.
type Pour struct {
	Liquid  alcohol.Liquid
	Weighed bool // by mass and not by volume
	Sought  bool // the amount was not given: it was worked out
}

// Strength is what was worked out about spirit and water.
type Strength struct {
	Pours  []Pour   // what is poured together; none for a reading
	WaterG *float64 // the water to add to them; nil where that was not asked

	Shown float64 // % by volume that a hydrometer shows, where nothing is poured
	AtC   float64 // and the temperature of the spirit in it, °C

	Out   alcohol.Liquid // what comes out; of a reading only the proportions mean something
	Proof float64        // its US proof
	Warm  *Warm          // what comes out at another temperature than 20 °C; nil where that was not asked
}

// Warm is a liquid at a temperature.
type Warm struct {
	C       float64 // °C
	Shows   float64 // % by volume that a hydrometer for 20 °C shows in it; below 0 where it is off the scale
	Density float64 // kg/m³
}

// sought reports whether amounts were worked out.
func (s Strength) sought() bool {
	return slices.ContainsFunc(s.Pours, func(p Pour) bool { return p.Sought })
}

// warmML is the volume of what comes out at the temperature of Warm, ml.
func (s Strength) warmML() float64 { return s.Out.MassG() * 1000 / s.Warm.Density }

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
	Pours       []pourJSON  `json:"pours,omitempty"`
	AtC         *jsonNumber `json:"at_c,omitempty"`
	Shows       *jsonNumber `json:"hydrometer_percent,omitempty"`
	Density     *jsonNumber `json:"density_kg_m3,omitempty"`
	WarmML      *jsonNumber `json:"volume_at_ml,omitempty"`
}

type pourJSON struct {
	ABV      jsonNumber `json:"abv_percent_20c"`
	MassG    jsonNumber `json:"mass_g"`
	VolumeML jsonNumber `json:"volume_ml"`
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
	if s.sought() {
		for _, p := range s.Pours {
			out.Pours = append(out.Pours, pourJSON{smallNumber(p.Liquid.ABV()), smallNumber(p.Liquid.MassG()), smallNumber(p.Liquid.VolumeML())})
		}
	}
	if w := s.Warm; w != nil {
		out.AtC, out.Density, out.WarmML = set(w.C), set(w.Density), set(s.warmML())
		if w.Shows >= 0 {
			out.Shows = set(w.Shows)
		}
	}
	return encode(out)
}
