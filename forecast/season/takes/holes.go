package takes

import (
	"math"
	"slices"

	"hodaba/data"
	"hodaba/yard"
)

// hair is what a ratio may miss a whole number by and still be taken for it.
const hair = 1e-9

// mostHoles is beyond what any log has; a size that makes more is a slip.
const mostHoles = 1e6

// Pattern is the pattern p with what it leaves open filled in: the distances
// that the reference values give.
func Pattern(p yard.HolePattern, in *data.Inoculating) yard.HolePattern {
	if !positive(p.AlongCM) {
		p.AlongCM = in.Along.Value
	}
	if !positive(p.RowsCM) {
		p.RowsCM = in.Rows.Value
	}
	if !positive(p.PerKG) {
		p.PerKG = 0
	}
	return p
}

// Holes is how many holes a log of a diameter and length in cm and a green mass
// in kg gets by a pattern whose distances are given. By distances, as the
// bulletins imply:
//
//	rows = round(π·D / distance of rows), a row = floor(L / distance along it)
//
// every other row shifted by half. By inch, rows are the inches of the
// diameter; by weight, holes go with the mass. A log has one row at least; a
// size or pattern of nothing has no holes.
func Holes(p yard.HolePattern, diameter, length, green float64) int {
	if p.PerKG > 0 {
		return count(math.Round(p.PerKG * green))
	}
	rows := math.Round(math.Pi * diameter / p.RowsCM)
	if p.ByInch {
		rows = math.Round(diameter / cmPerInch)
	}
	if !sized(diameter, length) || !positive(p.AlongCM) {
		return 0
	}
	return count(math.Max(rows, 1) * math.Floor(length/p.AlongCM+hair))
}

// cmPerInch is exact.
const cmPerInch = 2.54

// count turns a whole number into an int, and what is no number into none.
func count(x float64) int {
	if !positive(x) {
		return 0
	}
	return int(math.Min(x, mostHoles))
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// sized reports whether lengths in cm can be those of a log.
func sized(cm ...float64) bool {
	for _, x := range cm {
		if !positive(x) || x > longestCM {
			return false
		}
	}
	return true
}

// longestCM is beyond any log: what is longer is a slip.
const longestCM = 1e4

// form is the form of spawn of a line: where it is stacked or wedged or the
// form is not known, the first, which is loose.
func form(l *Line, in *data.Inoculating) *data.SpawnForm {
	if f, ok := in.Form(l.Spawn); ok && l.drilled() {
		return f
	}
	if i := slices.IndexFunc(in.Forms, func(f data.SpawnForm) bool { return f.Weighed() }); i >= 0 {
		return &in.Forms[i]
	}
	return &data.SpawnForm{Unit: "kg"}
}

// spawn is what a log takes of its form of spawn, kg or pieces, nothing spilt.
func spawn(l *Line, holes int, in *data.Inoculating) float64 {
	switch {
	case l.Method == methodTotem:
		return float64(joints(l.LengthCM, in)) * in.Totem.Joint.Value
	case l.Method == methodWedge:
		return float64(cuts(l.LengthCM, in)) * in.Wedge.Cut.Value
	}
	return float64(holes) * form(l, in).PerHole.Value
}

// joints is how many layers of spawn a totem of a length in cm has: below,
// between its rounds and on top.
func joints(length float64, in *data.Inoculating) int {
	if !sized(length) || !positive(in.Totem.Piece.Value) {
		return 0
	}
	return max(1, count(math.Round(length/in.Totem.Piece.Value))) + 1
}

// cuts is how many wedges a log of a length in cm gets.
func cuts(length float64, in *data.Inoculating) int {
	if !sized(length) || !positive(in.Wedge.Every.Value) {
		return 0
	}
	return max(1, count(math.Floor(length/in.Wedge.Every.Value+hair)))
}
