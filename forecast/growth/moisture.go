package growth

import (
	"hodaba/data"
	"hodaba/forecast/ground"
)

// Moist is what the moisture of the wood allows of growth.
//
// Purpose: share of growth by day. Equation: none under GrowsFrom, all from
// GrowsFully, a straight line between, in wet-basis percent; once the wood has
// been under SpawnLost for SpawnLostDays the spawn is dead and nothing grows
// any more. Parameters: data.Practice. State: days under SpawnLost. Needs
// moisture from ground. Errors: none.
type Moist struct {
	from, full float64 // wet-basis fractions
	lost       float32 // dry basis
	enough     float32 // full on the dry basis
	lostDays   int
}

// NewMoist takes the limits of the practice values.
func NewMoist(pr *data.Practice) Moist {
	return Moist{
		from: pr.GrowsFrom.Value / 100, full: pr.GrowsFully.Value / 100,
		lost: float32(ground.DryBasis(pr.SpawnLost.Value / 100)), enough: float32(ground.DryBasis(pr.GrowsFully.Value / 100)),
		lostDays: int(pr.SpawnLostDays.Value),
	}
}

// Share is what a moisture, dry basis, allows of growth.
func (m Moist) Share(dry float64) float64 {
	return min(max((ground.WetBasis(dry)-m.from)/(m.full-m.from), 0), 1)
}

// Fill fills dst with the share of growth allowed on each day of wet, dry
// basis, and returns the day on which the spawn is lost, or −1.
func (m Moist) Fill(dst []float32, wet []float32) (held []float32, lost int) {
	dst, lost = dst[:0], -1
	under := 0
	for i, w := range wet {
		if w < m.lost {
			under++
		} else {
			under = 0
		}
		if lost < 0 && under > m.lostDays {
			lost = i
		}
		switch {
		case lost >= 0:
			dst = append(dst, 0)
		case w >= m.enough:
			dst = append(dst, 1)
		default:
			dst = append(dst, float32(m.Share(float64(w))))
		}
	}
	return dst, lost
}
