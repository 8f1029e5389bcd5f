package harvest

import (
	"math"

	"hodaba/data"
)

// Volumes of a log in m³ from diameters and length in m. Smalian, the cone
// and the neiloid frustum take the two ends (University of Missouri Extension,
// Forestry functions: cubic log volume), Huber the middle, Newton all three.

// Smalian is L/2·(As+Al): the paraboloid's frustum.
func Smalian(small, large, length float64) float64 {
	return length / 2 * (disc(small) + disc(large))
}

// Cone is L/3·(As+√(As·Al)+Al): the cone's frustum.
func Cone(small, large, length float64) float64 {
	a, b := disc(small), disc(large)
	return length / 3 * (a + math.Sqrt(a*b) + b)
}

// Neiloid is L/4·(As+∛(As²·Al)+∛(As·Al²)+Al): the frustum of a butt swell.
func Neiloid(small, large, length float64) float64 {
	a, b := disc(small), disc(large)
	return length / 4 * (a + math.Cbrt(a*a*b) + math.Cbrt(a*b*b) + b)
}

// Huber is L·Am.
func Huber(middle, length float64) float64 { return length * disc(middle) }

// Newton is L/6·(As+4Am+Al) (form from memory).
func Newton(small, middle, large, length float64) float64 {
	return length / 6 * (disc(small) + 4*disc(middle) + disc(large))
}

func disc(d float64) float64 { return math.Pi * d * d / 4 }

// DryWood is the oven-dry mass in kg of the wood of a log measured over its
// bark, of a diameter and length in cm: 1000·G·V/(1+B), G the basic gravity,
// B the bark's volume over the wood's (Miles & Smith 2009, NRS-38).
func DryWood(w *data.Wood, diameter, length float64) float64 {
	return 1000 * w.Gravity * Huber(diameter/100, length/100) / (1 + w.Bark/100)
}

// OverBark is the diameter over the bark of a log measured under it, the bark's
// volume in percent of the wood's: d·√(1+B), the bark being as long as the log.
func OverBark(diameter, bark float64) float64 { return diameter * math.Sqrt(1+bark/100) }

// GreenOverDry is the mass of green wood with bark over that of the same
// oven-dry: with b the bark's share of the volume,
//
//	[(1−b)·G·(1+M) + b·Gb·(1+Mb)] / [(1−b)·G + b·Gb]
//
// (Miles & Smith 2009, NRS-38, as recovered from the reference table of the
// United States forest inventory).
func GreenOverDry(w *data.Wood) float64 {
	b := w.Bark / (100 + w.Bark)
	wood, bark := (1-b)*w.Gravity, b*w.BarkGravity
	return (wood*(1+w.Moisture/100) + bark*(1+w.BarkMoist/100)) / (wood + bark)
}

// Dried is what a mass of fresh mushrooms weighs when dried, given the water
// of both as fractions of their mass: fresh·(1−wf)/(1−wd).
func Dried(fresh, waterFresh, waterDried float64) float64 {
	return fresh * (1 - waterFresh) / (1 - waterDried)
}

// OverDry is an efficiency over green wood, without bark, as one over the same
// wood oven-dry: times 1+M, M the green moisture as a fraction of oven-dry mass.
func OverDry(e data.Range, moisture float64) data.Range { return Times(e, 1+moisture) }

// Times is a range so many times as large.
func Times(e data.Range, by float64) data.Range {
	e.Low, e.Typical, e.High = e.Low*by, e.Typical*by, e.High*by
	return e
}
