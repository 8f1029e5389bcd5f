package data

import (
	"math"
	"strings"
	"testing"
)

// Miles and Smith 2009 (NRS-38), as carried in the Forest Inventory and
// Analysis table REF_SPECIES, field DRYWT_TO_GREENWT_CONVERSION: green over
// dry mass of wood with bark. The values of woods.toml must give it.
func TestAgainstPublishedGreenRatios(t *testing.T) {
	published := map[string]float64{
		"white oak":           1.7094,
		"bur oak":             1.7612,
		"Oregon white oak":    1.5878,
		"chestnut oak":        1.7411,
		"northern red oak":    1.8466,
		"black oak":           1.8422,
		"scarlet oak":         1.6640,
		"American beech":      1.5684,
		"American chestnut":   2.1542,
		"American hornbeam":   1.4969,
		"eastern hophornbeam": 1.5650,
		"yellow birch":        1.7075,
		"sweet birch":         1.7111,
		"river birch":         1.8239,
		"paper birch":         1.7079,
		"sugar maple":         1.6165,
		"red maple":           1.6500,
		"silver maple":        1.6879,
		"boxelder":            1.9093,
		"Norway maple":        1.7251,
		"bigleaf maple":       1.7536,
		"red alder":           1.9545,
		"European alder":      1.9544,
		"white ash":           1.5120,
		"black ash":           1.8583,
		"green ash":           1.5888,
		"sweetgum":            1.7619,
		"black cherry":        1.5755,
		"black willow":        2.2188,
		"willow":              2.2191,
		"quaking aspen":       2.2433,
		"bigtooth aspen":      1.9117,
		"eastern cottonwood":  2.0541,
		"balsam poplar":       2.0131,
		"yellow-poplar":       1.9917,
		"shagbark hickory":    1.5618,
		"bitternut hickory":   1.6946,
		"mockernut hickory":   1.6244,
		"pignut hickory":      1.6449,
		"American sycamore":   1.8145,
		"American elm":        1.9217,
		"slippery elm":        1.8428,
		"rock elm":            1.5166,
		"American basswood":   2.0330,
		"hackberry":           1.6694,
		"black walnut":        1.8003,
		"black locust":        1.4374,
		"ailanthus":           1.7469,
		"sassafras":           1.7110,
		"blackgum":            1.9748,
		"eastern hemlock":     2.0877,
		"western hemlock":     1.6365,
	}
	s := loaded(t)
	species := 0
	for i := range s.Woods {
		w := &s.Woods[i]
		if w.Quality != Read {
			continue
		}
		species++
		// Moistures of all but five woods are printed to a tenth of a percent.
		if got := greenRatio(w); math.Abs(got-published[w.Name]) > 0.001 {
			t.Errorf("%s: green over dry %.5f, published %.4f", w.Name, got, published[w.Name])
		}
	}
	if species != len(published) || species != 52 {
		t.Errorf("%d woods as printed, %d published ratios", species, len(published))
	}
	// The same field to all its digits, of woods whose moisture is at full
	// precision.
	for name, want := range map[string]float64{
		"white oak": 1.7094431845, "northern red oak": 1.8465804851, "sugar maple": 1.616468427, "red alder": 1.9545104962, "American beech": 1.5684104872,
	} {
		w, ok := s.FindWood(name)
		if !ok {
			t.Fatalf("no %s", name)
		}
		if got := greenRatio(w); math.Abs(got-want) > 5e-7 {
			t.Errorf("%s: green over dry %.10f, published %.10f", name, got, want)
		}
	}
}

// greenRatio weighs wood and bark by volume. Bark is percent of wood volume.
func greenRatio(w *Wood) float64 {
	b := w.Bark / (100 + w.Bark)
	wood, bark := (1-b)*w.Gravity, b*w.BarkGravity
	return (wood*(1+w.Moisture/100) + bark*(1+w.BarkMoist/100)) / (wood + bark)
}

// A mean over a genus lies between its species.
func TestGenusMeansLieBetween(t *testing.T) {
	s := loaded(t)
	for genus, species := range map[string][2]string{
		"oak": {"northern red oak", "Oregon white oak"}, "birch": {"paper birch", "sweet birch"}, "maple": {"boxelder", "sugar maple"},
		"ash": {"black ash", "white ash"}, "poplar": {"balsam poplar", "eastern cottonwood"}, "hickory": {"bitternut hickory", "pignut hickory"}, "elm": {"American elm", "rock elm"},
	} {
		g, _ := s.FindWood(genus)
		light, _ := s.FindWood(species[0])
		dense, _ := s.FindWood(species[1])
		if !g.Genus || g.Gravity < light.Gravity || g.Gravity > dense.Gravity {
			t.Errorf("%s: gravity %v is not from %v to %v", genus, g.Gravity, light.Gravity, dense.Gravity)
		}
	}
}

// Limits of growth in print; the source stands beside each.
func TestAgainstPublishedTemperatures(t *testing.T) {
	for _, c := range []struct {
		species                        string
		minFrom, minTo, optFrom, optTo float64
		maxFrom, maxTo                 float64
		source                         string
	}{
		{"shiitake", 2.99, 5, 24, 25, 32, 35, "Japanese prefectural manual: 5, slight growth at 3 to 4, best 24 to 25; a grower's page: 32, dies above 35"},
		{"lion's mane", 3, 6, 25, 26, 33, 37, "Grigansky, Solomko and Kirchhoff 1999: no growth at 3 and at 37, best 26"},
		{"turkey tail", 0, 10, 24, 33, 34, 40, "Schmidt 2006, Table 3.8: best 24 to 33, at most 34 to 40"},
		{"nameko", 0, 10, 20, 29, 30, 32, "trade news: growth stops at 32; Italian site: best 24 to 29"},
		{"reishi", 0, 15, 25, 30, 35, 38, "Chinese growers' pages: 15, 25 to 30, 35"},
		{"oyster", 0, 10, 22, 30, 32, 40, "Zervakis et al. 2001: 30; Hu et al. 2023: 22"},
		{"piopino", 0, 10, 25, 30, 32, 40, "Zervakis et al. 2001: 25 or 30"},
		{"maitake", 0, 10, 21, 25, 30, 38, "two sellers' pages: 21 to 24; from memory 25"},
	} {
		sp, ok := loaded(t).FindSpecies(c.species)
		if !ok {
			t.Fatalf("no %s", c.species)
		}
		for _, st := range sp.Strains {
			g := st.Growth
			if !within(g.TMin.Value, c.minFrom, c.minTo) || !within(g.TOpt.Value, c.optFrom, c.optTo) || !within(g.TMax.Value, c.maxFrom, c.maxTo) {
				t.Errorf("%s %s: %v, %v, %v °C; %s", c.species, st.Name, g.TMin.Value, g.TOpt.Value, g.TMax.Value, c.source)
			}
		}
	}
}

// Maryland RES-11: years 2 and 3 of four each bear about double of years 1
// and 4. Grace and Mudge 2015: lion's mane peaks in years 3 and 4 after
// inoculation, so in fruiting years 2 and 3 after a first crop in year 2.
func TestAgainstPublishedYearShares(t *testing.T) {
	s := loaded(t)
	sp, _ := s.FindSpecies("shiitake")
	for _, st := range sp.Strains {
		for i, want := range []float64{1. / 6, 2. / 6, 2. / 6, 1. / 6} {
			if math.Abs(st.Yield.YearWeights[i]-want) > 5e-5 {
				t.Errorf("%s, year %d: %v, want %.4f", st.Name, i+1, st.Yield.YearWeights[i], want)
			}
		}
	}
	sp, _ = s.FindSpecies("lion's mane")
	w := sp.Strains[0].Yield.YearWeights
	if w[1] != w[2] || w[1] <= w[0] || w[2] <= w[3] {
		t.Errorf("lion's mane does not peak in fruiting years 2 and 3: %v", w)
	}
}

// Journal of Forest Science, January 2013: 29.05 % of dry wood on beech,
// 21.69 % on aspen. Cornell unit 4: shiitake 0.9 to 1.8 kg a log of 10 to
// 15 cm by about 1 m in 3 to 5 years; here of white oak, gravity 0.60.
func TestAgainstPublishedYields(t *testing.T) {
	s := loaded(t)
	oyster, _ := s.FindSpecies("oyster")
	if e := oyster.Strains[0].Yield.Efficiency; math.Abs(e.Typical-(0.2169+0.2905)/2) > 0.005 || e.Quality != Judgement {
		t.Errorf("oyster: %v, %v; want the middle of two woods, said to be a judgement", e.Typical, e.Quality)
	}
	shiitake, _ := s.FindSpecies("shiitake")
	oak, _ := s.FindWood("white oak")
	dry := 1000 * oak.Gravity * math.Pi / 4 * 0.125 * 0.125 // kg of a log of 12.5 cm by 1 m
	if got := dry * shiitake.Strains[0].Yield.Efficiency.Typical; !within(got, 0.9, 1.8) {
		t.Errorf("shiitake: %.2f kg in a log's life", got)
	}
	for wood, want := range map[string]float64{"beech": 0.2905, "Fagus sylvatica": 0.2905, "aspen": 0.2169, "Populus tremula": 0.2169} {
		on, own := s.YieldOn(&oyster.Strains[0].Yield, wood)
		if e := on.Efficiency; !own || math.Abs(e.Typical-want) > 0.005 || e.Quality != Judgement {
			t.Errorf("oyster on %s: %v, %v, want %.4f", wood, e.Typical, e.Quality, want)
		}
	}
	if on, own := s.YieldOn(&oyster.Strains[0].Yield, "oak"); own || on.Efficiency != oyster.Strains[0].Yield.Efficiency {
		t.Errorf("oyster on oak, of which nothing is published: %+v", on)
	}
	for _, name := range []string{"piopino", "turkey tail", "maitake", "nameko", "reishi"} {
		sp, _ := s.FindSpecies(name)
		for _, st := range sp.Strains {
			y := st.Yield
			if !y.Unpublished || y.Efficiency.Quality != Judgement || y.Wide() == "" {
				t.Errorf("%s %s: no log yield is published, but it does not say so", name, st.Name)
			}
			// 20 to 30 kg dry a cubic metre are of short logs sterilised in bags (a trade article).
			if bags := strings.Contains(y.Wide(), "sterilised in bags"); bags != (name == "reishi") {
				t.Errorf("%s %s: %q", name, st.Name, y.Wide())
			}
		}
	}
}

// Cornell unit 4 says 0.9 to 1.8 kg a log, two more Cornell pages 3 times 1.04 lb
// and 4 to 5 lb over three seasons; Sabota 1996 found at most 8.8 %. Whoever
// reads one reads the others.
func TestConflictsNameWhatIsPublished(t *testing.T) {
	s := loaded(t)
	for name, wants := range map[string][]string{
		"shiitake": {"0.9 to 1.8 kg", "1.4 kg", "1.8 to 2.3 kg", "8.8 %", "Sabota 1996", "Cornell"},
		"oyster":   {"29 %", "beech", "22 %", "aspen", "poplar"},
	} {
		sp, _ := s.FindSpecies(name)
		for _, st := range sp.Strains {
			for _, want := range wants {
				if !strings.Contains(st.Yield.Conflict, want) {
					t.Errorf("%s %s: no %q in %q", name, st.Name, want, st.Yield.Conflict)
				}
			}
		}
	}
	const pound = 0.45359237
	for _, c := range []struct{ lb, kg float64 }{{2, 0.9}, {4, 1.8}, {3 * 1.04, 1.4}, {5, 2.3}} {
		if math.Abs(c.lb*pound-c.kg) > 0.05 {
			t.Errorf("%g lb are %.2f kg, the text says %g", c.lb, c.lb*pound, c.kg)
		}
	}
}

// What is said of a wood itself goes before what is said of its genus.
func TestSuitsOnAWood(t *testing.T) {
	s := loaded(t)
	sp, _ := s.FindSpecies("shiitake")
	for wood, want := range map[string]string{
		"American sycamore": "poor", "plane": "poor", "black cherry": "poor", "wild cherry": "poor", "red maple": "poor",
		"English oak": "best", "sugar maple": "best", "silver maple": "usable", "lime": "", "pine": "", "": "",
	} {
		seen, hows := map[string]bool{}, []string{}
		for _, suit := range s.SuitsOn(sp, wood) {
			if !seen[suit.How] {
				seen[suit.How] = true
				hows = append(hows, suit.How)
			}
		}
		if got := strings.Join(hows, " "); got != want {
			t.Errorf("%s: %q, want %q", wood, got, want)
		}
	}
}

// Foods 2021, 10(1):95, Table 1: seven samples of maitake, mean 90.1 % water.
func TestAgainstPublishedMaitakeMoisture(t *testing.T) {
	sp, _ := loaded(t).FindSpecies("maitake")
	samples := []float64{83.1, 86.1, 89.1, 90.4, 90.9, 95.2, 95.6}
	sum := 0.0
	for _, x := range samples {
		sum += x
	}
	if mean := sum / 7; math.Abs(100*sp.Fresh.Typical-mean) > 0.1 || 100*sp.Fresh.Low != samples[0] || 100*sp.Fresh.High != samples[6] {
		t.Errorf("maitake: %+v, samples' mean %.2f", sp.Fresh, mean)
	}
}

// Year's mean temperature and rain of the same normals, summed before by
// others' arithmetic: Met Office historic station data and NOAA files.
func TestAgainstYearlyMeans(t *testing.T) {
	s := loaded(t)
	for key, want := range map[string][2]float64{
		"oxford": {11.0, 681}, "heathrow": {11.7, 616}, "leuchars": {9.0, 714}, "armagh": {9.9, 825}, "eskdalemuir": {7.7, 1829}, "stornoway": {8.8, 1236},
		"madison": {8.4, 943}, "ann_arbor": {10.0, 972}, "new_york": {13.1, 1258}, "landsburg": {10.1, 1523}, "murfreesboro": {14.8, 1415},
		"lebanon_nh": {7.8, 967}, "richmond_va": {14.9, 1108}, "chicago_botanic": {9.8, 1004},
	} {
		st, ok := s.FindStation(key)
		if !ok {
			t.Errorf("no station %s", key)
			continue
		}
		mean, rain := 0.0, 0.0
		for m := range 12 {
			mean += (st.TMin[m] + st.TMax[m]) / 24
			rain += st.Rain[m]
		}
		if math.Abs(mean-want[0]) > 0.11 || math.Abs(rain-want[1]) > 1 {
			t.Errorf("%s: %.2f °C and %.0f mm, want %v", key, mean, rain, want)
		}
	}
}

// Day-to-day statistics lie where daily series of Europe, North America and
// New Zealand lie: lag 1 from 0.50 (Canterbury) to 0.82 (Basel), persistence
// from 0.16 (New York) to 0.40 (Seattle), 1.39 (Ljubljana) to 1.63
// (Stockholm) days of 0.1 mm for one of 1 mm.
func TestRegionsLieWhereSeriesLie(t *testing.T) {
	for _, r := range loaded(t).Regions {
		if !within(r.Lag1, 0.50, 0.82) || !within(r.Persistence, 0.155, 0.40) || !within(r.DaysRatio, 1.39, 1.63) {
			t.Errorf("%s: lag %v, persistence %v, days %v", r.Key, r.Lag1, r.Persistence, r.DaysRatio)
		}
	}
}

// Standard deviation of yearly mean temperature about its trend, 1991-2020:
// Met Office (Heathrow), KNMI (Hoogeveen, Nieuw Beerta), NOAA (New York), daily
// series of Ames 2000-2018 and Lincoln. What the anomalies leave of it is the
// offset's: an AR(1) series of n days has a mean with variance
// s^2 (1+r) / (1-r) / n, and the mean of two half-years' offsets half of one's.
func TestAgainstYearlySpread(t *testing.T) {
	for key, want := range map[string]float64{
		"british-isles": 0.50, "north-sea": 0.64, "north-american-east": 0.65, "north-american-interior": 0.99, "new-zealand-east": 0.46,
	} {
		r, ok := loaded(t).FindRegion(key)
		if !ok {
			t.Fatalf("no region %s", key)
		}
		variance := 0.0
		for _, sd := range r.SD {
			variance += sd * sd / 12
		}
		got := math.Sqrt(variance*(1+r.Lag1)/(1-r.Lag1)/365 + r.Offset*r.Offset/2)
		if math.Abs(got-want) > 0.07 {
			t.Errorf("%s: yearly means vary by %.2f °C, measured %.2f", key, got, want)
		}
	}
}

// The constants of heat were chosen to give a lag of about three hours at 6 cm
// radius, and to damp the day's swing to about 65 % at 5 cm of soil.
func TestHeatConstantsFit(t *testing.T) {
	p := loaded(t).Practice
	const r = 0.06
	heat := p.WoodDensity.Value * p.WoodHeat.Value
	lag := heat*r/(2*p.SurfaceExchange.Value) + r*r*heat/(8*p.WoodConductivity.Value)
	if hours := lag / 3600; !within(hours, 2.7, 3.3) {
		t.Errorf("a log of 6 cm radius lags %.2f hours", hours)
	}
	depth := math.Sqrt(p.SoilDiffusivity.Value * 86400 / math.Pi)
	if left := math.Exp(-p.BedDepth.Value / 100 / depth); !within(left, 0.63, 0.67) {
		t.Errorf("%.3f of the day's swing is left in a bed", left)
	}
}

// A kilowatt that reaches the water boils away 1.595 kg an hour: water at 100 °C
// takes 2257 kJ/kg (steam tables, from memory); half a kilowatt in two hours so
// boils away 1.595 kg. What is taken where the grower says nothing lies within
// what a small plate and a large one can do.
func TestAgainstTheHeatOfSteam(t *testing.T) {
	const perKilowatt = 3600 / 2257.0 // kg/h
	if kg := 0.5 * 2 * perKilowatt; math.Abs(kg-1.595) > 0.0005 {
		t.Errorf("%.4f kg, want 1.595", kg)
	}
	set, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	if b := set.Practice.Boils; b.Low < 0.1*perKilowatt || b.High > perKilowatt {
		t.Errorf("%g to %g litres an hour are beyond what 100 W to 1 kW boil away", b.Low, b.High)
	}
}
