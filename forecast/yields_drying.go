package forecast

import (
	"math"

	"hodaba/data"
	"hodaba/forecast/chance"
	"hodaba/forecast/harvest"
)

// dryings is what loads weighed before and after drying tell of one species.
type dryings struct {
	seen     int
	mean, sd float64 // of ln dry over fresh weight, before any load was weighed
	off, by  float64 // deviations by which it lies off given them, and their spread
}

// learnDrying learns from loads weighed before and after how much of each
// species is left when dried.
//
// Purpose: dry over fresh weight. Equations: the logarithm of a load's is
// normal about that of its species, with a deviation that is known; that of
// the species is normal before, as its range of water in the fresh says one
// deviation on both sides of its middle; harvest.Learn with one factor is the
// conjugate update. Parameters: Fresh and Dried of data.Species, DryingSpread
// of data.Practice. State: none. Needs nothing from others. Errors: none;
// weights that do not fit together are passed over.
func (r *run) learnDrying() {
	r.dryings = map[string]*dryings{}
	for _, t := range r.tasks {
		if r.dryings[t.name] != nil {
			continue
		}
		low, high := lnDry(t.species, waterBefore(t.species, 1)), lnDry(t.species, waterBefore(t.species, -1))
		d := &dryings{mean: (low + high) / 2, sd: (high - low) / 2}
		if !(d.sd > 0) {
			continue
		}
		var cells []harvest.Cell
		for _, x := range r.state.Dryings {
			if r.plain {
				break
			}
			dry := x.DryG / gramsPerKG
			if r.like(x.Species) != t.name || x.On.From > r.asOf || !(dry > 0 && dry < x.FreshKG) {
				continue
			}
			cells = append(cells, harvest.Cell{
				Loads: []harvest.Load{{Factor: 0, By: d.sd}},
				Above: math.Log(dry/x.FreshKG) - d.mean, Noise: r.data.Practice.DryingSpread.Value,
			})
		}
		if d.seen = len(cells); d.seen > 0 {
			d.off, d.by = harvest.Learn(1, cells).Of(harvest.Load{Factor: 0, By: 1})
			r.dryings[t.name] = d
		}
	}
}

const gramsPerKG = 1000

// waterBefore is the water in the fresh of a species before any load was
// weighed, by how many deviations it differs. What is not water is drawn, as
// the range says by its other ends, so that something is always left.
func waterBefore(sp *data.Species, z float64) float64 {
	return 1 - math.Min(chance.Skewed(1-sp.Fresh.High, 1-sp.Fresh.Typical, 1-sp.Fresh.Low, -z), 1)
}

// waterIn is the same given the loads weighed. name is that on the yard's
// books.
func (r *run) waterIn(name string, sp *data.Species, z float64) float64 {
	water := waterBefore(sp, z)
	d := r.dryings[name]
	if d == nil {
		return water
	}
	before := (lnDry(sp, water) - d.mean) / d.sd
	dry := math.Exp(math.Min(d.mean+d.sd*(d.off+d.by*before), 0))
	return 1 - dry*(1-sp.Dried.Value)
}

// lnDry is the logarithm of what is left of a mass when dried.
func lnDry(sp *data.Species, water float64) float64 {
	return math.Log(harvest.Dried(1, water, sp.Dried.Value))
}
