package alcohol

import (
	"math"
	"testing"

	"github.com/BurntSushi/toml"
)

// computed are the tables of testdata/computed.toml, worked out once by
// another program from the same formula.
type computed struct {
	ByMass      [][]float64 `toml:"by_mass"`
	ByVolume    [][]float64 `toml:"by_volume"`
	OtherT      [][]float64 `toml:"other_t"`
	Hydrometer  [][]float64 `toml:"hydrometer"`
	Dilution    [][]float64 `toml:"dilution"`
	HalfAndHalf [][]float64 `toml:"half_and_half"`
}

func readComputed(t *testing.T) (c computed) {
	t.Helper()
	if _, err := toml.DecodeFile("testdata/computed.toml", &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// Tolerances below are half of the last digit printed.
const source = "computed apart"

func TestComputedDensities(t *testing.T) {
	c := readComputed(t)
	w := worst{name: "tables of densities and strengths"}
	for _, r := range c.ByMass {
		w.check(t, must(Density(r[0]/100, 20)), r[1], 0.0006, source, r)
		w.check(t, must(ByVolume(r[0]/100)), r[2], 0.0006, source, r)
	}
	for _, r := range c.ByVolume {
		w.check(t, 100*must(MassFraction(r[0])), r[1], 0.0006, source, r)
		w.check(t, must(Density(must(MassFraction(r[0])), 20)), r[2], 0.0006, source, r)
	}
	for _, r := range c.OtherT {
		w.check(t, must(Density(r[0]/100, r[1])), r[2], 0.0006, source, r)
	}
	w.log(t)
}

func TestComputedHydrometer(t *testing.T) {
	w := worst{name: "hydrometer, % by volume"}
	for _, r := range readComputed(t).Hydrometer {
		for i, shown := range r[1:] {
			c := float64(5 + 5*i)
			w.check(t, must(Reading(r[0], c)), shown, 0.006, source, r[0], c)
			w.check(t, must(FromReading(shown, c)), r[0], 0.01, source, shown, c)
		}
	}
	w.log(t)
}

func TestComputedDilutions(t *testing.T) {
	c := readComputed(t)
	w := worst{name: "dilution, ml"}
	for _, r := range c.Dilution {
		spirit := must(Spirit(100, r[0]))
		g := must(Dilute(spirit, r[1]))
		made := spirit.Plus(Liquid{WaterG: g})
		w.check(t, g/rhoWater, r[2], 0.051, source, r)
		w.check(t, made.VolumeML(), r[3], 0.051, source, r)
		w.check(t, made.ABV(), r[1], 1e-9, source, r)
	}
	for _, r := range c.HalfAndHalf {
		w.check(t, Blend(must(Spirit(500, r[0])), Water(500)).ABV(), r[1], 0.0051, source, r)
	}
	w.log(t)
}

func TestComputedMixtures(t *testing.T) {
	w := worst{name: "mixtures"}
	ethanol, water := must(Spirit(50, 100)), Water(50)
	w.check(t, Blend(ethanol, water).VolumeML(), 96.46, 0.005, source)
	w.check(t, Blend(ethanol, water).ABV(), 51.8, 0.05, source)
	w.check(t, Contraction(must(Spirit(52.5, 100)), Water(47.5)), 3.55, 0.005, source)
	w.check(t, Blend(must(Spirit(50, 95)), water).VolumeML(), 97.06, 0.005, source)
	w.check(t, Blend(must(Spirit(50, 95)), water).ABV(), 48.94, 0.005, source)
	w.check(t, must(Spirit(1000, 40)).EthanolG, 315.7, 0.05, source)
	for proof, abv := range map[float64]float64{80: 40.07, 100: 50.06, 190: 95.01} {
		w.check(t, must(FromProofUS(proof)), abv, 0.005, source, proof)
		w.check(t, must(ProofUS(must(FromProofUS(proof)))), proof, 1e-9, source, proof)
	}
	w.log(t)
}

// 200 ml of 86 % from 96 %: teaching slides reckon 179 ml of spirit and 21 ml
// of water; by mass it takes 23.7 ml of water.
func TestComputedMakingUp(t *testing.T) {
	w := worst{name: "200 ml of 86 %"}
	spirit := must(Spirit(200.0*86/96, 96))
	g := must(Dilute(spirit, 86))
	w.check(t, spirit.VolumeML(), 179.2, 0.05, source)
	w.check(t, g/rhoWater, 23.7, 0.05, source)
	w.check(t, spirit.Plus(Liquid{WaterG: g}).VolumeML(), 200, 1e-9, source)
	w.log(t)
}

func TestOutsideTheTablesIsRefused(t *testing.T) {
	nan := math.NaN()
	for name, err := range map[string]error{
		"41 °C":               second(Density(0.4, 41)),
		"-21 °C":              second(Density(0.4, -21)),
		"fraction 1.01":       second(Density(1.01, 20)),
		"fraction -0.01":      second(Density(-0.01, 20)),
		"no fraction":         second(Density(nan, 20)),
		"no temperature":      second(Density(0.4, nan)),
		"101 % by volume":     second(MassFraction(101)),
		"-1 % by volume":      second(MassFraction(-1)),
		"no strength":         second(MassFraction(nan)),
		"proof 201":           second(FromProofUS(201)),
		"too light":           second(FromDensity(780, 20)),
		"too heavy":           second(FromDensity(1000, 20)),
		"density at 50 °C":    second(FromDensity(900, 50)),
		"less than no spirit": second(Spirit(-1, 40)),
		"endless spirit":      second(Spirit(math.Inf(1), 40)),
		"stronger by water":   second(Dilute(must(Spirit(100, 40)), 41)),
		"to 0 %":              second(Dilute(must(Spirit(100, 40)), 0)),
		"nothing diluted":     second(Dilute(Liquid{}, 20)),
		"neither between":     second(Proportion(95, 50, 40)),
		"at the weaker":       second(Proportion(95, 50, 50)),
		"two alike":           second(Proportion(50, 50, 50)),
		"blend of 101 %":      second(Proportion(101, 50, 60)),
		"warm pure ethanol":   second(Reading(100, 30)),
		"reading at 60 °C":    second(FromReading(40, 60)),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }
