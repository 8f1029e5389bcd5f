package ground

import "math"

// Radiation is the extraterrestrial radiation of a day in MJ/m²: FAO-56
// (Allen, Pereira, Raes & Smith 1998, Crop evapotranspiration, FAO Irrigation
// and Drainage Paper 56), equation 21, with equations 23–25 for the sun.
// Latitude in degrees, day of the year from 1. Where the sun does not rise it
// is zero; where it does not set, that of a full day.
func Radiation(latitude float64, day int) float64 {
	const solar = 0.0820 // MJ/m² a minute
	angle := 2 * math.Pi * float64(day) / 365
	distance := 1 + 0.033*math.Cos(angle)
	declination := 0.409 * math.Sin(angle-1.39)
	phi := latitude * math.Pi / 180
	sunset := math.Acos(min(max(-math.Tan(phi)*math.Tan(declination), -1), 1))
	return 24 * 60 / math.Pi * solar * distance *
		(sunset*math.Sin(phi)*math.Sin(declination) + math.Cos(phi)*math.Cos(declination)*math.Sin(sunset))
}

// waterPerMJ turns MJ/m² into mm of water evaporated (FAO-56 equation 20).
const waterPerMJ = 0.408

// Hargreaves is the reference evapotranspiration of a day in mm:
// 0.0023 (T̄+17.8) √(Tmax−Tmin) Ra, Ra in mm (FAO-56 equation 52); none where
// it would be negative. Temperatures in °C, radiation in MJ/m².
func Hargreaves(tmin, tmax, radiation float64) float64 {
	mean := (tmin + tmax) / 2
	return max(0, 0.0023*(mean+17.8)*math.Sqrt(max(tmax-tmin, 0))*radiation*waterPerMJ)
}
