package alcohol

import "fmt"

// proofC is 60 °F, at which US proof is stated (27 CFR 30.11), in °C.
const proofC = (60.0 - 32) * 5 / 9

// ProofUS returns the US proof of a mixture of abv % by volume at 20 °C: twice
// its % by volume at 60 °F (27 CFR 5.1, 30.11).
func ProofUS(abv float64) (float64, error) {
	p, err := MassFraction(abv)
	if err != nil {
		return 0, err
	}
	q, err := ByVolumeAt(p, proofC)
	return 2 * q, err
}

// FromProofUS returns the strength in % by volume at 20 °C of a spirit of a US
// proof.
func FromProofUS(proof float64) (float64, error) {
	if !(proof >= 0 && proof <= 200) {
		return 0, fmt.Errorf("US proof of %g is outside 0 to 200", proof)
	}
	p, err := MassFractionAt(proof/2, proofC)
	if err != nil {
		return 0, err
	}
	return ByVolume(p)
}

// glassExpansion is the cubic expansion per °C of the soda-lime glass of a
// hydrometer, as used in OIML R 22 (tables VIII and IX).
const glassExpansion = 25e-6

// Reading returns what a hydrometer made for 20 °C shows, in % by volume, in
// spirit of abv % by volume that is tC °C warm. It is an error where the scale
// ends before: a warm strong spirit reads above 100, cold water below 0.
func Reading(abv, tC float64) (float64, error) {
	p, err := MassFraction(abv)
	if err != nil {
		return 0, err
	}
	rho, err := Density(p, tC)
	if err != nil {
		return 0, err
	}
	shown, err := FromDensity(rho/(1-glassExpansion*(tC-ReferenceC)), ReferenceC)
	if err != nil {
		return 0, fmt.Errorf("a hydrometer cannot show %g %% by volume at %g °C: %w", abv, tC, err)
	}
	return ByVolume(shown)
}

// FromReading returns the true strength in % by volume at 20 °C of a plain
// spirit in which a hydrometer made for 20 °C shows reading % by volume at
// tC °C. What is dissolved in a tincture falsifies the reading, and nothing
// corrects for it.
func FromReading(reading, tC float64) (float64, error) {
	p, err := MassFraction(reading)
	if err != nil {
		return 0, err
	}
	rho := density(p, ReferenceC) * (1 - glassExpansion*(tC-ReferenceC))
	actual, err := FromDensity(rho, tC)
	if err != nil {
		return 0, fmt.Errorf("a reading of %g %% at %g °C: %w", reading, tC, err)
	}
	return ByVolume(actual)
}
