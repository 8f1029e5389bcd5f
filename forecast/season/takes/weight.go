package takes

import (
	"hodaba/data"
	"hodaba/forecast/harvest"
)

// lift is what is lifted of a log at a time.
func lift(l *Line, green float64, in *data.Inoculating) float64 {
	if n := joints(l.LengthCM, in) - 1; l.Method == methodTotem && n > 0 {
		return green / float64(n)
	}
	return green
}

// GreenKG is what a freshly felled log weighs, wood and bark, of a diameter over
// the bark and a length in cm: the dry wood and the bark on it, in the ratio of
// their volumes and gravities, times green over dry (Miles & Smith 2009,
// NRS-38). To ten percent at best. Where the wood is not known, the middle of
// that table by volume.
func GreenKG(w *data.Wood, diameter, length float64, in *data.Inoculating) float64 {
	if !sized(diameter, length) {
		return 0
	}
	if w == nil || !positive(w.Gravity) {
		return in.Carry.Green.Value * harvest.Huber(diameter/100, length/100)
	}
	bark := w.Bark / 100 * w.BarkGravity / w.Gravity // dry bark over dry wood
	return harvest.DryWood(w, diameter, length) * (1 + bark) * harvest.GreenOverDry(w)
}
