package alcohol

import (
	"math"
	"testing"

	"github.com/BurntSushi/toml"
)

// published are the rows of testdata/published.toml: values printed by others,
// with their sources.
type published struct {
	Density []struct {
		P         float64 `toml:"mass_fraction"`
		C         float64 `toml:"temperature_c"`
		Density   float64 `toml:"density"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check"`
	Inverse []struct {
		Density   float64 `toml:"density"`
		C         float64 `toml:"temperature_c"`
		P         float64 `toml:"mass_fraction"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check_inverse"`
	VolumeMass []percents `toml:"check_volume_mass"`
	MassVolume []percents `toml:"check_mass_volume"`
	Gravity    []struct {
		Mass      float64 `toml:"mass_percent"`
		SG        float64 `toml:"sg"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check_sg60"`
	Proof []struct {
		Proof     float64 `toml:"proof"`
		Alcohol   float64 `toml:"alcohol_volumes"`
		Water     float64 `toml:"water_volumes"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check_proof"`
	Mix []struct {
		Parts     []float64 `toml:"parts_ml"`
		ABV       []float64 `toml:"abv"`
		Volume    float64   `toml:"volume_ml"`
		Tolerance float64   `toml:"tolerance"`
		Source    string    `toml:"source"`
	} `toml:"check_mix"`
}

type percents struct {
	Volume    float64 `toml:"volume_percent"`
	Mass      float64 `toml:"mass_percent"`
	C         float64 `toml:"temperature_c"`
	Tolerance float64 `toml:"tolerance"`
	Source    string  `toml:"source"`
}

func readPublished(t *testing.T) (p published) {
	t.Helper()
	meta, err := toml.DecodeFile("testdata/published.toml", &p)
	if err != nil {
		t.Fatal(err)
	}
	if left := meta.Undecoded(); len(left) > 0 {
		t.Fatalf("rows of published.toml that no test reads: %v", left)
	}
	return p
}

// worst keeps the largest deviation of a table, for the log.
type worst struct {
	name string
	n    int
	off  float64
}

// check fails where got is further from want than the tolerance.
func (w *worst) check(t *testing.T, got, want, tolerance float64, source string, what ...any) {
	t.Helper()
	off := math.Abs(got - want)
	w.n++
	w.off = math.Max(w.off, off)
	if !(off <= tolerance) {
		t.Errorf("%s %v: got %.6g, want %.6g ± %g (%s)", w.name, what, got, want, tolerance, source)
	}
}

func (w *worst) log(t *testing.T) {
	t.Helper()
	t.Logf("%s: %d values, worst deviation %.2g", w.name, w.n, w.off)
	if w.n == 0 {
		t.Errorf("%s: nothing was checked", w.name)
	}
}

// must returns v, and panics in a test that expected no error.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// Sources beside each row in testdata/published.toml: OIML R 22 tables I and
// Va, Perry's Chemical Engineers' Handbook (7th ed.), the alcoholometric table
// of USP 29 (after NBS Bulletin 9), Encyclopaedia Britannica vol. 18, 27 CFR
// 30.11 and 30.66.
func TestAgainstPublishedTables(t *testing.T) {
	p := readPublished(t)
	density := worst{name: "density kg/m³"}
	for _, r := range p.Density {
		density.check(t, must(Density(r.P, r.C)), r.Density, r.Tolerance, r.Source, r.P, r.C)
	}
	density.log(t)
	inverse := worst{name: "mass fraction from density"}
	for _, r := range p.Inverse {
		inverse.check(t, must(FromDensity(r.Density, r.C)), r.P, r.Tolerance, r.Source, r.Density)
	}
	inverse.log(t)
	mass := worst{name: "% mass from % by volume at 15.56 °C"}
	for _, r := range p.VolumeMass {
		mass.check(t, 100*must(MassFractionAt(r.Volume, r.C)), r.Mass, r.Tolerance, r.Source, r.Volume)
	}
	mass.log(t)
	volume := worst{name: "% by volume at 15.56 °C from % mass"}
	for _, r := range p.MassVolume {
		volume.check(t, must(ByVolumeAt(r.Mass/100, r.C)), r.Volume, r.Tolerance, r.Source, r.Mass)
	}
	volume.log(t)
	gravity := worst{name: "specific gravity 60/60 °F"}
	for _, r := range p.Gravity {
		sg := must(Density(r.Mass/100, proofC)) / must(Density(0, proofC))
		gravity.check(t, sg, r.SG, r.Tolerance, r.Source, r.Mass)
	}
	gravity.log(t)
}

// 27 CFR 30.66 gives the parts of water in 100 parts of spirit by proof, all
// at 60 °F; a school-chemistry page and a pharmacy course the volumes that two
// liquids make together.
func TestAgainstPublishedMixtures(t *testing.T) {
	p := readPublished(t)
	water := worst{name: "volumes of water in 100 of spirit"}
	for _, r := range p.Proof {
		m := must(MassFractionAt(r.Proof/2, proofC))
		mass := 100 * must(Density(m, proofC))
		got := (mass - r.Alcohol*must(Density(1, proofC))) / must(Density(0, proofC))
		water.check(t, got, r.Water, r.Tolerance, r.Source, r.Proof)
	}
	water.log(t)
	mix := worst{name: "ml of a mixture"}
	for _, r := range p.Mix {
		var ls []Liquid
		for i, ml := range r.Parts {
			ls = append(ls, must(Spirit(ml, r.ABV[i])))
		}
		mix.check(t, Blend(ls...).VolumeML(), r.Volume, r.Tolerance, r.Source, r.Parts, r.ABV)
	}
	mix.log(t)
	// The same course says 49 % for 50 ml of 95 % and 50 ml of water.
	half := Blend(must(Spirit(50, 95)), Water(50)).ABV()
	if math.Abs(half-49) > 0.1 {
		t.Errorf("50 ml of 95 %% and 50 ml of water: %.2f %%, published 49 %%", half)
	}
}

// The alligation examples of a pharmacy calculation collection (95 and 50 %
// to make 70 %: 4 to 5) and of a public calculation specification (70 and 20 %
// to make 30 %: 1 to 4); 0.5 kW of net heat over two hours is plain arithmetic
// on the latent heat of steam tables (2257 kJ/kg): 1.595 kg.
func TestAgainstWorkedExamples(t *testing.T) {
	for _, c := range []struct{ strong, weak, want, parts, to float64 }{
		{95, 50, 70, 4, 5},
		{70, 20, 30, 1, 4},
	} {
		a, b, err := Alligation(c.strong, c.weak, c.want)
		if err != nil || a*c.to != b*c.parts {
			t.Errorf("%g and %g %% to make %g %%: %g to %g (%v), want %g to %g",
				c.strong, c.weak, c.want, a, b, err, c.parts, c.to)
		}
	}
	for _, want := range []float64{50, 95, 20, 99} {
		if _, _, err := Alligation(95, 50, want); err == nil {
			t.Errorf("95 and 50 %% made into %g %%", want)
		}
	}
	for _, c := range []struct{ kW, kg float64 }{{0.25, 0.80}, {0.5, 1.595}, {0.75, 2.39}, {1, 3.19}} {
		if kg := Evaporated(c.kW, 2); math.Abs(kg-c.kg) > 0.005 {
			t.Errorf("%g kW over two hours: %.3f kg, want %g", c.kW, kg, c.kg)
		}
	}
}

// The UK proof point: spirit of 49.28 % mass is 57.10 % by volume at 60 °F
// (Encyclopaedia Britannica vol. 18).
func TestAgainstProofSpirit(t *testing.T) {
	if q := must(ByVolumeAt(0.4928, proofC)); math.Abs(q-57.10) > 0.01 {
		t.Errorf("UK proof spirit: %.3f %% by volume at 60 °F, want 57.10", q)
	}
}
