package ground

import (
	"hodaba/data"
	"hodaba/forecast/climate"
	"hodaba/yard"
)

// WetBasis turns moisture as a share of the dry mass into one of the whole
// mass: m/(1+m).
func WetBasis(dry float64) float64 { return dry / (1 + dry) }

// DryBasis turns moisture as a share of the whole mass into one of the dry
// mass: w/(1−w).
func DryBasis(wet float64) float64 { return wet / (1 - wet) }

// Reweighed is the moisture, dry basis, of a log that had moisture m0 when it
// weighed w0 and weighs w now: (1+m0)·w/w0 − 1. As the fungus eats wood it
// reads too dry in later years.
func Reweighed(m0, w0, w float64) float64 { return (1+m0)*w/w0 - 1 }

// Watering is what is known of a log's moisture beside the weather.
type Watering struct {
	Day      int     // of the weather
	Hours    float64 // watered for so long
	Weighed  bool
	Moisture float64 // dry basis, where Weighed
}

// Water is the moisture of logs above ground at one place.
//
// Purpose: moisture of the wood by day, dry basis; coarse. Equation:
// dm = a·P·(1−m/M) − b·E·(1−c·shade)·(m−m₀), P rain and E evaporative demand
// of the day in mm, a and b falling with the log's radius; a weighing sets m,
// watering adds to it. Parameters: data.Practice RainTaken, WaterLost,
// ShadeSaves, WettestLog, DriestLog, GreenLog, WateringGain. State: m. Needs
// rain and temperatures from climate. Errors: none.
type Water struct {
	take, lose      float64
	wettest, driest float64
	green, gain     float64
}

// NewWater prepares the moisture of logs at a place.
func NewWater(p Place, pr *data.Practice) *Water {
	thin := pr.ReferenceDiameter.Value / 200 / p.Radius
	w := &Water{
		take:    pr.RainTaken.Value * thin * (1 - p.Dry),
		lose:    pr.WaterLost.Value * thin * (1 - pr.ShadeSaves.Value*p.Shade) * (1 - p.Calm),
		wettest: pr.WettestLog.Value, driest: pr.DriestLog.Value, green: pr.GreenLog.Value, gain: pr.WateringGain.Value,
	}
	return w
}

// Fill computes the moisture at the end of each day of air, which asked for
// demand mm of evaporation; logs begin green. waterings are in order of day.
func (w *Water) Fill(dst []float32, air []climate.Day, demand []float32, waterings []Watering) []float32 {
	dst = dst[:0]
	m := w.green
	full := 1 / w.wettest
	for i := range air {
		wets, dries := w.take*float64(air[i].Rain), w.lose*float64(demand[i])
		m += wets + dries*w.driest - m*(wets*full+dries)
		for len(waterings) > 0 && waterings[0].Day <= i {
			m = w.after(m, waterings[0])
			waterings = waterings[1:]
		}
		m = max(m, w.driest)
		dst = append(dst, float32(m))
	}
	return dst
}

// after is the moisture after watering or weighing.
func (w *Water) after(m float64, x Watering) float64 {
	if x.Weighed {
		return x.Moisture
	}
	return min(m+w.gain*x.Hours, max(m, w.wettest))
}

// Demand is the evaporative demand of days of air by Hargreaves's equation.
type Demand struct {
	radiation [366]float64 // MJ/m² by day of year
}

// NewDemand prepares the evaporative demand at a latitude in degrees.
func NewDemand(latitude float64) *Demand {
	d := &Demand{}
	for i := range d.radiation {
		d.radiation[i] = Radiation(latitude, i+1)
	}
	return d
}

// Fill computes the demand in mm of each day of air, of which the first is
// from.
func (d *Demand) Fill(dst []float32, air []climate.Day, from yard.Date) []float32 {
	dst = dst[:0]
	day, year := from.YearDay()-1, from.Year()
	length := daysIn(year)
	for i := range air {
		dst = append(dst, float32(Hargreaves(float64(air[i].TMin), float64(air[i].TMax), d.radiation[day])))
		if day++; day == length {
			day, year = 0, year+1
			length = daysIn(year)
		}
	}
	return dst
}
