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
	radiation       [366]float64 // MJ/m² by day of year
}

// NewWater prepares the moisture of logs at a place.
func NewWater(p Place, pr *data.Practice) *Water {
	thin := pr.ReferenceDiameter.Value / 200 / p.Radius
	w := &Water{
		take: pr.RainTaken.Value * thin, lose: pr.WaterLost.Value * thin * (1 - pr.ShadeSaves.Value*p.Shade),
		wettest: pr.WettestLog.Value, driest: pr.DriestLog.Value, green: pr.GreenLog.Value, gain: pr.WateringGain.Value,
	}
	for d := range w.radiation {
		w.radiation[d] = Radiation(p.Latitude, d+1)
	}
	return w
}

// Fill computes the moisture at the end of each day of air, of which the
// first is from; logs begin green. waterings are in order of day.
func (w *Water) Fill(dst []float32, air []climate.Day, from yard.Date, waterings []Watering) []float32 {
	dst = dst[:0]
	m := w.green
	day, year := from.YearDay()-1, from.Year()
	length := daysIn(year)
	for i := range air {
		lo, hi := float64(air[i].TMin), float64(air[i].TMax)
		demand := Hargreaves(lo, hi, w.radiation[day])
		m += w.take*float64(air[i].Rain)*max(0, 1-m/w.wettest) - w.lose*demand*(m-w.driest)
		for len(waterings) > 0 && waterings[0].Day <= i {
			if x := waterings[0]; x.Weighed {
				m = x.Moisture
			} else {
				m = min(m+w.gain*x.Hours, max(m, w.wettest))
			}
			waterings = waterings[1:]
		}
		m = max(m, w.driest)
		dst = append(dst, float32(m))
		if day++; day == length {
			day, year = 0, year+1
			length = daysIn(year)
		}
	}
	return dst
}
