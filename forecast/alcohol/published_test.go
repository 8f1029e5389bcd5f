package alcohol

import (
	"math"
	"strings"
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
	Mix    []mixture `toml:"check_mix"`
	Blend  []mixture `toml:"check_blend"`
	MakeUp []struct {
		SpiritML  float64 `toml:"spirit_ml"`
		ABV       float64 `toml:"abv"`
		ToML      float64 `toml:"to_ml"`
		To        float64 `toml:"to_abv"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check_make_up"`
	Alligation []struct {
		Strong      float64 `toml:"strong"`
		Weak        float64 `toml:"weak"`
		Want        float64 `toml:"want"`
		PartsStrong float64 `toml:"parts_strong"`
		PartsWeak   float64 `toml:"parts_weak"`
		Source      string  `toml:"source"`
	} `toml:"check_alligation"`
	ProofSpirit []struct {
		Mass      float64 `toml:"mass_percent"`
		Weighs    float64 `toml:"weighs"`
		F         float64 `toml:"temperature_f"`
		Volume    float64 `toml:"volume_percent"`
		Tolerance float64 `toml:"tolerance"`
		Source    string  `toml:"source"`
	} `toml:"check_proof_spirit"`
	ProofUS []struct {
		Proof  float64 `toml:"proof"`
		Volume float64 `toml:"volume_percent_60f"`
		Source string  `toml:"source"`
	} `toml:"check_us_proof"`
}

// mixture is poured together; what it fills or comes to is printed.
type mixture struct {
	Parts     []float64 `toml:"parts_ml"`
	ABV       []float64 `toml:"abv"`
	Volume    float64   `toml:"volume_ml"`
	ComesTo   float64   `toml:"comes_to"`
	Tolerance float64   `toml:"tolerance"`
	Source    string    `toml:"source"`
}

func (m mixture) made() Liquid {
	var ls []Liquid
	for i, ml := range m.Parts {
		ls = append(ls, must(Spirit(ml, m.ABV[i])))
	}
	return Blend(ls...)
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
	r22, older := worst{name: "density kg/m³, R 22"}, worst{name: "density kg/m³, an older handbook"}
	for _, r := range p.Density {
		w := &older
		if strings.Contains(r.Source, "R 22") {
			w = &r22
		}
		w.check(t, must(Density(r.P, r.C)), r.Density, r.Tolerance, r.Source, r.P, r.C)
	}
	r22.log(t)
	older.log(t)
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
// at 60 °F; a school-chemistry page, a trade page and a pharmacy course what two
// liquids make together, teaching slides what makes up to a volume.
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
		mix.check(t, r.made().VolumeML(), r.Volume, r.Tolerance, r.Source, r.Parts, r.ABV)
	}
	mix.log(t)
	blend := worst{name: "% by volume of a mixture"}
	for _, r := range p.Blend {
		blend.check(t, r.made().ABV(), r.ComesTo, r.Tolerance, r.Source, r.Parts, r.ABV)
	}
	blend.log(t)
	up := worst{name: "ml of spirit made up with water"}
	for _, r := range p.MakeUp {
		made := must(Spirit(r.ToML, r.To))
		up.check(t, made.EthanolG/must(Spirit(1, r.ABV)).EthanolG, r.SpiritML, r.Tolerance, r.Source, r.ABV, r.To)
	}
	up.log(t)
}

// The alligation rule of the trade reckons by volume, as if nothing contracted:
// its parts give exactly the strength wanted where the volumes are added up.
// What truly comes of them lies above that by the contraction, and by mass a
// little less of the stronger does.
func TestAgainstTheAlligationRule(t *testing.T) {
	rule, off := worst{name: "% as if volumes added up"}, worst{name: "% by mass from the rule's parts"}
	for _, r := range readPublished(t).Alligation {
		strong, weak := must(Spirit(r.PartsStrong, r.Strong)), must(Spirit(r.PartsWeak, r.Weak))
		made := Blend(strong, weak)
		rule.check(t, 100*made.EthanolML()/(strong.VolumeML()+weak.VolumeML()), r.Want, 1e-9, r.Source, r)
		off.check(t, made.ABV(), r.Want*(1+Contraction(strong, weak)/made.VolumeML()), 1e-9, r.Source, r)
		share := must(Proportion(r.Strong, r.Weak, r.Want))
		if byRule := strong.MassG() / made.MassG(); !(share < byRule && share > 0.95*byRule) {
			t.Errorf("%v: %.4f of the stronger by mass, %.4f by the rule", r, share, byRule)
		}
	}
	rule.log(t)
	off.log(t)
}

// UK proof spirit weighs 12/13 of as much water at 51 °F, or is of 49.28 % by
// mass; US proof is twice the % by volume at 60 °F. Sources beside the rows.
func TestAgainstProofSpirits(t *testing.T) {
	p := readPublished(t)
	uk := worst{name: "UK proof spirit, % by volume"}
	for _, r := range p.ProofSpirit {
		mass := r.Mass / 100
		if r.Weighs > 0 {
			const c51 = (51.0 - 32) * 5 / 9
			mass = must(FromDensity(r.Weighs*must(Density(0, c51)), c51))
		}
		uk.check(t, must(ByVolumeAt(mass, (r.F-32)*5/9)), r.Volume, r.Tolerance, r.Source, r)
	}
	uk.log(t)
	us := worst{name: "US proof"}
	for _, r := range p.ProofUS {
		abv := must(ByVolume(must(MassFractionAt(r.Volume, proofC))))
		us.check(t, must(ProofUS(abv)), r.Proof, 1e-9, r.Source, r)
		us.check(t, must(FromProofUS(r.Proof)), abv, 1e-9, r.Source, r)
	}
	us.log(t)
}
