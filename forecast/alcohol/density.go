package alcohol

import (
	"fmt"
	"math"
)

// Limits of the density formula.
const (
	MinC       = -20.0 // °C
	MaxC       = 40.0  // °C
	ReferenceC = 20.0  // °C, at which strength by volume is stated
)

// Coefficients of the general formula for the density of mixtures of ethanol
// and water, in kg/m³:
//
//	ρ(p,t) = Σ A_k p^(k−1) + Σ B_k (t−20)^k + Σ Σ C_ik p^k (t−20)^i
//
// with p the mass of ethanol over the mass of the mixture and t in °C.
//
// Source: OIML R 22, International Alcoholometric Tables (1973, edition 1975);
// the formula, its range, A_1 to A_4 and B_1 to B_4 also in Council Directive
// 76/766/EEC of 27 July 1976, Annex, section 4 (OJ L 262, 27.9.1976,
// p. 149–152). The other coefficients were taken as the majority value of
// eight published transcriptions; where these differ, the effect on the
// density is below 0.00005 kg/m³.
var (
	coeffA = [...]float64{
		998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388,
		306287.4042, -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426,
	}
	coeffB = [...]float64{
		-0.20618513, -0.0052682542, 3.6130013e-05, -3.8957702e-07, 7.169354e-09, -9.9739231e-11,
	}
	coeffC = [...][]float64{
		{
			0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792,
			3924.090430035045, -12101.64659068747, 22486.46550400788, -26055.62982188164,
			18523.73922069467, -7420.201433430137, 1285.617841998974,
		},
		{
			-0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029,
			-50.29988758547014, 109.635566657757, -142.2753946421155, 108.043594285623,
			-44.14153236817392, 7.442971530188783,
		},
		{
			-0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922,
			-2.895696483903638, 4.810060584300675, -4.672147440794683, 2.458043105903461,
			-0.5411227621436812,
		},
		{4.075376675622027e-06, -8.76305857347111e-06, 6.515031360099368e-06, -1.51578483698721e-06},
		{-2.788074354782409e-08, 1.345612883493354e-08},
	}
)

// Density returns the density in kg/m³ of a mixture with mass fraction p of
// ethanol (0 to 1) at tC °C (−20 to 40), by the general formula of OIML R 22.
// It is an error to ask outside this range. Below its freezing point a mixture
// is no longer liquid, and the figure means nothing; the formula cannot tell.
func Density(p, tC float64) (float64, error) {
	if err := checkFraction(p); err != nil {
		return 0, err
	}
	if err := checkC(tC); err != nil {
		return 0, err
	}
	return density(p, tC), nil
}

func checkFraction(p float64) error {
	if !(p >= 0 && p <= 1) {
		return fmt.Errorf("mass fraction of ethanol %g is outside 0 to 1", p)
	}
	return nil
}

func checkC(tC float64) error {
	if !(tC >= MinC && tC <= MaxC) {
		return fmt.Errorf("%g °C is outside the alcohol tables, which run from %g to %g °C", tC, MinC, MaxC)
	}
	return nil
}

func checkPercent(q float64) error {
	if !(q >= 0 && q <= 100) {
		return fmt.Errorf("strength of %g %% by volume is outside 0 to 100", q)
	}
	return nil
}

// density is Density without the checks.
func density(p, tC float64) float64 {
	d := tC - ReferenceC
	rho := horner(coeffA[:], p)
	if d == 0 {
		return rho
	}
	rho += d * horner(coeffB[:], d)
	dn := d
	for _, c := range coeffC {
		rho += dn * p * horner(c, p)
		dn *= d
	}
	return rho
}

// horner is Σ c_k x^k, k from 0.
func horner(c []float64, x float64) float64 {
	s := 0.0
	for i := len(c) - 1; i >= 0; i-- {
		s = s*x + c[i]
	}
	return s
}

// FromDensity returns the mass fraction of ethanol of a mixture whose density
// at tC °C is rho kg/m³. A density that no mixture has at that temperature is
// an error.
func FromDensity(rho, tC float64) (float64, error) {
	if err := checkC(tC); err != nil {
		return 0, err
	}
	low, high := density(1, tC), density(0, tC)
	if !(rho >= low-densityRound && rho <= high+densityRound) {
		return 0, fmt.Errorf("no mixture of ethanol and water has a density of %g kg/m³ at %g °C: it lies between %.2f and %.2f",
			rho, tC, low, high)
	}
	return falling(func(p float64) float64 { return density(p, tC) - rho }), nil
}

// densityRound is how far beyond its ends the table may be asked, kg/m³: a
// density printed to two decimals is rounded by half of that.
const densityRound = 0.005

// falling returns the zero in [0, 1] of a function that falls from above zero
// to below, by bisection down to the last bit; an end where it has none.
func falling(f func(float64) float64) float64 {
	low, high := 0.0, 1.0
	for {
		mid := low + (high-low)/2
		if mid <= low || mid >= high || high-low < 1e-15 {
			return mid
		}
		if f(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
}

// ByVolumeAt returns the strength in % by volume at tC °C of a mixture with
// mass fraction p: the volume that its ethanol would fill alone over the
// volume of the mixture, both at tC.
func ByVolumeAt(p, tC float64) (float64, error) {
	rho, err := Density(p, tC)
	if err != nil {
		return 0, err
	}
	return math.Min(100*p*rho/density(1, tC), 100), nil // never above, by rounding
}

// ByVolume returns the strength in % by volume at 20 °C of a mixture with mass
// fraction p (OIML R 22: q = p ρ(p,20) / ρ(1,20)).
func ByVolume(p float64) (float64, error) { return ByVolumeAt(p, ReferenceC) }

// MassFractionAt returns the mass fraction of ethanol of a mixture of percent
// % by volume at tC °C.
func MassFractionAt(percent, tC float64) (float64, error) {
	if err := checkPercent(percent); err != nil {
		return 0, err
	}
	if err := checkC(tC); err != nil {
		return 0, err
	}
	switch percent {
	case 0:
		return 0, nil
	case 100:
		return 1, nil
	}
	want := percent / 100 * density(1, tC)
	return falling(func(p float64) float64 { return want - p*density(p, tC) }), nil
}

// MassFraction returns the mass fraction of ethanol of a mixture of abv % by
// volume at 20 °C.
func MassFraction(abv float64) (float64, error) { return MassFractionAt(abv, ReferenceC) }

// Densities at 20 °C of the pure liquids, for every volume of them.
var (
	rhoWater   = density(0, ReferenceC) / 1000 // g/ml
	rhoEthanol = density(1, ReferenceC) / 1000 // g/ml
)

// isClose reports whether a and b differ by rounding only.
func isClose(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}
