// Package alcohol is the arithmetic of mixtures of ethanol and water: density,
// strength by mass and by volume, dilution, blending, US proof and the reading
// of a hydrometer.
//
// Volumes of spirit and water do not add up: half a litre of each makes some
// 17 ml less than a litre at 95 % by volume. Masses do. So everything here is
// kept as grams of ethanol and grams of water (a [Liquid]), and a volume or a
// strength is only worked out when one is asked for.
//
// Density is the general formula of the International Alcoholometric Tables
// (OIML R 22), good for every strength from water to pure ethanol between
// −20 and +40 °C. Strength "% vol" without a temperature is at 20 °C, as in
// the International Recommendation; [ByVolumeAt] and [ProofUS] take others.
//
// What is dissolved out of mushrooms is not counted: a decoction is water
// here. A hydrometer in a finished tincture reads false for the same reason,
// so its strength is worked out, not measured.
//
// The package imports nothing of the project, and knows no mushroom.
package alcohol
