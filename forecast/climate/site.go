package climate

import (
	"fmt"
	"math"

	"hodaba/data"
	"hodaba/yard"
)

// Site is the weather of a place in twelve normals a year and a region's
// day-to-day statistics.
type Site struct {
	Station  *data.Station // nil for own normals
	Region   *data.Region
	Latitude float64
	Height   float64 // m by which the yard lies above the station
	Distance float64 // km from the station, 0 where not known
	TMin     [12]float64
	TMax     [12]float64
	Rain     [12]float64 // mm a month
	WetDays  [12]float64 // days of 1 mm or more a month
	MidYear  float64     // middle of the normals' period
	Warming  float64     // °C a decade since then
	Borrowed []string    // what came from the region, in words
}

// The limits within which a station speaks for a yard.
const (
	NearKM     = 150
	NearHeight = 300
)

// Resolve finds the weather of a yard: its own normals, the station it names,
// or the nearest one. The error says what to write into yard.toml.
func Resolve(cfg yard.Site, set *data.Set) (*Site, error) {
	if cfg.Normals != nil {
		return ownSite(cfg, set)
	}
	st, err := station(cfg, set)
	if err != nil {
		return nil, err
	}
	region, ok := set.FindRegion(st.Region)
	if !ok {
		return nil, fmt.Errorf("station %s names the region %q, which is not embedded", st.Key, st.Region)
	}
	s := &Site{
		Station: st, Region: region, Latitude: st.Latitude,
		MidYear: float64(st.From+st.To) / 2, Warming: cfg.Warming,
		Borrowed: []string{"day-to-day temperature, and how rain comes in spells: " + region.Name},
	}
	if cfg.Latitude != 0 || cfg.Longitude != 0 {
		s.Latitude = cfg.Latitude
		s.Distance = Distance(cfg.Latitude, cfg.Longitude, st.Latitude, st.Longitude)
	}
	if !math.IsNaN(cfg.Elevation) && cfg.Elevation != 0 {
		s.Height = cfg.Elevation - st.Elevation
	}
	fall := s.Height / 1000 * set.Practice.LapseRate.Value
	for m := range 12 {
		s.TMin[m] = st.TMin[m] - fall
		s.TMax[m] = st.TMax[m] - fall
		s.Rain[m] = st.Rain[m]
	}
	s.setWetDays(st.RainDays, st.RainDayMM)
	return s, nil
}

func station(cfg yard.Site, set *data.Set) (*data.Station, error) {
	if cfg.Station != "" {
		st, ok := set.FindStation(cfg.Station)
		if !ok {
			return nil, fmt.Errorf("yard.toml: [site] station %q is not an embedded station: name one of them, or write [site.normals]", cfg.Station)
		}
		return st, nil
	}
	if math.IsNaN(cfg.Latitude) || math.IsNaN(cfg.Longitude) || cfg.Latitude == 0 && cfg.Longitude == 0 {
		return nil, fmt.Errorf("yard.toml: [site] says neither a station nor latitude and longitude: write station = \"oxford\" or the yard's position")
	}
	st, km := Nearest(cfg.Latitude, cfg.Longitude, cfg.Elevation, set)
	if st == nil {
		return nil, fmt.Errorf("yard.toml: [site] no embedded station to speak for %.2f, %.2f: write [site.normals]", cfg.Latitude, cfg.Longitude)
	}
	if km > NearKM {
		return nil, fmt.Errorf("yard.toml: [site] the nearest station, %s, is %.0f km away: write [site.normals] with the monthly means of a station near you (the national weather service publishes them)", st.Name, km)
	}
	return st, nil
}

// Nearest returns the station that speaks best for a place, and its distance
// in km; a hundred metres of height count as ten kilometres of way. An
// elevation of NaN is not counted.
func Nearest(lat, lon, elevation float64, set *data.Set) (*data.Station, float64) {
	var best *data.Station
	bestKM, bestScore := 0.0, math.Inf(1)
	for i := range set.Stations {
		st := &set.Stations[i]
		km := Distance(lat, lon, st.Latitude, st.Longitude)
		score := km
		if !math.IsNaN(elevation) && elevation != 0 {
			score += math.Abs(elevation-st.Elevation) / 10
		}
		if score < bestScore {
			best, bestKM, bestScore = st, km, score
		}
	}
	return best, bestKM
}

// Distance is the great-circle distance in km between two places in degrees
// (haversine formula, mean Earth radius 6371 km).
func Distance(lat1, lon1, lat2, lon2 float64) float64 {
	rad := math.Pi / 180
	dLat, dLon := (lat2-lat1)*rad, (lon2-lon1)*rad
	a := math.Pow(math.Sin(dLat/2), 2) + math.Cos(lat1*rad)*math.Cos(lat2*rad)*math.Pow(math.Sin(dLon/2), 2)
	return 2 * 6371 * math.Asin(math.Min(1, math.Sqrt(a)))
}

func ownSite(cfg yard.Site, set *data.Set) (*Site, error) {
	region, km := nearestRegion(cfg, set)
	if region == nil {
		return nil, fmt.Errorf("no regional statistics are embedded")
	}
	name := region.Name
	if km > farRegion {
		name = fmt.Sprintf("%s, %.0f km away, for want of a nearer one", name, km)
	}
	s := &Site{
		Region: region, Latitude: cfg.Latitude, Warming: cfg.Warming,
		TMin: cfg.Normals.TMin, TMax: cfg.Normals.TMax, Rain: cfg.Normals.Rain,
		MidYear:  2005.5, // of the standard period 1991–2020
		Borrowed: []string{"day-to-day temperature, and how rain comes in spells: " + name},
	}
	s.setWetDays(cfg.Normals.RainDays[:], cfg.Normals.RainDayMM)
	return s, nil
}

// farRegion is the distance in km from which it is said that a region is not
// one's own.
const farRegion = 1000

// nearestRegion lends own normals the statistics of the nearest station's
// region, and says how far away that is in km.
func nearestRegion(cfg yard.Site, set *data.Set) (*data.Region, float64) {
	st, km := Nearest(cfg.Latitude, cfg.Longitude, math.NaN(), set)
	if st == nil {
		return nil, 0
	}
	r, _ := set.FindRegion(st.Region)
	return r, km
}

// setWetDays turns rain days counted at some threshold into days of 1 mm or
// more, by the region's ratio of days of 0.1 mm to days of 1 mm, taken
// geometrically between the two; without rain days the region's mean amount
// of a wet day serves.
func (s *Site) setWetDays(days []float64, threshold float64) {
	counted := false
	for _, d := range days {
		counted = counted || d > 0
	}
	if len(days) < 12 || !counted {
		for m := range 12 {
			s.WetDays[m] = s.Rain[m] / s.Region.WetDayMM
		}
		s.Borrowed = append(s.Borrowed, "how much falls on a wet day: "+s.Region.Name)
	} else {
		if threshold <= 0 {
			threshold = 1
		}
		ratio := math.Pow(s.Region.DaysRatio, -math.Log10(threshold))
		for m := range 12 {
			s.WetDays[m] = days[m] / ratio
		}
	}
	for m := range 12 {
		// A wet day has at least 1 mm, and a chain needs both kinds of day.
		most := math.Min(0.9*float64(monthLength[m]), s.Rain[m]/1.05)
		s.WetDays[m] = math.Max(math.Min(s.WetDays[m], most), 0)
	}
}

// Warmer is the °C by which a day is taken to be warmer than the normals.
func (s *Site) Warmer(d yard.Date) float64 {
	middle := (s.MidYear - 1970 + 0.5) * 365.25 // the middle of the middle year, days since 1970
	return s.Warming * (float64(d) - middle) / 3652.5
}

// MeanTemperature is the normal mean air temperature of a month, January 0.
func (s *Site) MeanTemperature(month int) float64 { return (s.TMin[month] + s.TMax[month]) / 2 }
