package linear

// Programme asks for whole numbers of units, none below zero, at least cost,
// so that every target is met with its chance and no limit is passed.
type Programme struct {
	Cost    []float64 // of one unit, by variable; below zero it earns
	Most    []float64 // units at most, by variable; +Inf none
	Limits  []Limit
	Targets []Target
	Weight  []float64 // by draw, none below zero
}

// Limit is Σ Use[j]·x[j] ≤ Room, Use none below zero.
type Limit struct {
	Name string
	Use  []float64 // by variable
	Room float64
}

// Target is met in a draw where all of its rows hold; it must be so in draws
// of at least Chance of all weight.
type Target struct {
	Name   string
	Chance float64 // fraction, above 0 and under 1
	Rows   []Row
}

// Row holds in a draw d where Have[d] + Σ Gives[j][d]·x[j] ≥ Need.
type Row struct {
	Name  string
	Need  float64
	Have  []float64   // by draw
	Gives [][]float32 // by variable and draw, none below zero; nil gives nothing
}
