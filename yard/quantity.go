package yard

// Quantity is an amount with its unit, as written.
type Quantity struct {
	Low, High float64 // in Unit; equal for a point
	Unit      Unit
	About     bool   // "about 2 kg"
	Text      string // as written
}

// Unit is the base unit of a dimension: every quantity is held in it.
type Unit string

// The base units.
const (
	Kilogram   Unit = "kg"
	Millilitre Unit = "ml"
	Centimetre Unit = "cm"
	Hour       Unit = "h"
	Millimetre Unit = "mm" // of rain
	Piece      Unit = ""
)

// Mid is the middle of q.
func (q Quantity) Mid() float64 { return (q.Low + q.High) / 2 }

// Span drops the unit.
func (q Quantity) Span() Span { return Span{q.Low, q.High} }
