package linear

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// seasonOf makes up a programme like a grower's: kinds of log by species and
// month that bear in one to four years after, targets by year, logs and hours
// as limits. Every year has its weather, every kind its luck.
func seasonOf(rng *rand.Rand, kinds, years, rows, draws int) *Programme {
	p := &Programme{}
	for range draws {
		p.Weight = append(p.Weight, 1)
	}
	weather := make([][]float64, years*rows)
	for y := range weather {
		for range draws {
			weather[y] = append(weather[y], math.Exp(.25*rng.NormFloat64()))
		}
	}
	luck := make([][]float64, kinds)
	for j := range luck {
		sd := .1 + .3*rng.Float64()
		for range draws {
			luck[j] = append(luck[j], math.Exp(sd*rng.NormFloat64()))
		}
	}
	yields := make([][]float64, kinds)
	for j := range kinds {
		sum := 0.0
		for k := range years * rows {
			v := 0.0
			if k%kinds == j || rng.IntN(2) == 0 {
				v = .02 + .3*rng.Float64()
			}
			yields[j], sum = append(yields[j], v), sum+v
		}
		p.Cost = append(p.Cost, math.Round(100*(2+4*sum*(.5+rng.Float64())))/100)
		p.Most = append(p.Most, math.Inf(1))
	}
	for y := range years {
		t := Target{Name: fmt.Sprint("year ", y), Chance: []float64{.8, .8, .9, .7}[rng.IntN(4)]}
		for r := range rows {
			k := y*rows + r
			row := Row{Name: fmt.Sprint("row ", r), Need: 3 + 20*rng.Float64(), Have: make([]float64, draws), Gives: make([][]float32, kinds)}
			for d := range row.Have {
				row.Have[d] = row.Need * .5 * rng.Float64()
			}
			for j := range kinds {
				if yields[j][k] > 0 {
					g := make([]float32, draws)
					for d := range g {
						g[d] = float32(yields[j][k] * weather[k][d] * luck[j][d])
					}
					row.Gives[j] = g
				}
			}
			t.Rows = append(t.Rows, row)
		}
		p.Targets = append(p.Targets, t)
	}
	return p
}

// limited adds limits that a cheap plan of the programme without them just
// keeps, or just fails to, and greatest numbers of some kinds.
func limited(rng *rand.Rand, p *Programme) *Programme {
	free, err := p.Solve(Options{Seed: 1, Effort: .01})
	if err != nil || !free.Met {
		panic(fmt.Sprint("no plan for what has no limits: ", err))
	}
	for k := range 2 {
		l := Limit{Name: fmt.Sprint("limit ", k), Use: make([]float64, len(p.Cost))}
		for j := range l.Use {
			if rng.IntN(3) > 0 {
				l.Use[j] = math.Round(100*(.1+rng.Float64())) / 100
			}
			l.Room += l.Use[j] * float64(free.X[j])
		}
		l.Room = math.Round(l.Room*(.9+.3*rng.Float64())*10) / 10
		p.Limits = append(p.Limits, l)
	}
	for j := range p.Most {
		if rng.IntN(4) == 0 {
			p.Most[j] = math.Floor(float64(free.X[j])*(.7+rng.Float64())) + float64(rng.IntN(9))
		}
	}
	return p
}

// tiny is a programme so small that all its plans can be gone through: two or
// three variables of at most seven units.
func tiny(rng *rand.Rand) *Programme {
	p := seasonOf(rng, 2+rng.IntN(2), 1+rng.IntN(3), 1+rng.IntN(2), 5+rng.IntN(16))
	for d := range p.Weight {
		p.Weight[d] = float64(1 + rng.IntN(3))
	}
	for j := range p.Most {
		p.Most[j] = 7
	}
	for _, t := range p.Targets {
		for r := range t.Rows {
			sum := 0.0
			for _, g := range t.Rows[r].Gives {
				if g != nil {
					sum += float64(g[0])
				}
			}
			scale := (1 + 4*rng.Float64()) * sum / t.Rows[r].Need // in reach, or nearly
			t.Rows[r].Need *= scale
			for d := range t.Rows[r].Have {
				t.Rows[r].Have[d] *= scale
			}
		}
	}
	if rng.IntN(2) == 0 {
		l := Limit{Name: "hours", Use: make([]float64, len(p.Cost)), Room: 4 + 10*rng.Float64()}
		for j := range l.Use {
			l.Use[j] = rng.Float64()
		}
		p.Limits = []Limit{l}
	}
	if rng.IntN(4) == 0 {
		p.Cost[rng.IntN(len(p.Cost))] *= -.5 // it earns
	}
	return p
}

// plans calls do for every plan within the limits.
func (p *Programme) plans(do func(x []int)) {
	x := make([]int, len(p.Cost))
	var from func(j int)
	from = func(j int) {
		if j == len(x) {
			for _, l := range p.Limits {
				used := 0.0
				for k, u := range l.Use {
					used += u * float64(x[k])
				}
				if used > l.Room {
					return
				}
			}
			do(x)
			return
		}
		for x[j] = 0; float64(x[j]) <= p.Most[j]; x[j]++ {
			from(j + 1)
		}
		x[j] = 0
	}
	from(0)
}

// chanceOf is the weight, of 1, of the draws in which a target is met, reckoned
// as plainly as can be.
func (p *Programme) chanceOf(t Target, x []int) float64 {
	met, total := 0.0, 0.0
	for d, w := range p.Weight {
		total += w
		all := true
		for _, r := range t.Rows {
			sum := r.Have[d]
			for j, g := range r.Gives {
				if g != nil {
					sum += float64(x[j]) * float64(g[d])
				}
			}
			all = all && sum >= r.Need-1e-9*math.Max(1, math.Abs(r.Need))
		}
		if all {
			met += w
		}
	}
	return met / total
}

func (p *Programme) meets(x []int) bool {
	for _, t := range p.Targets {
		if p.chanceOf(t, x) < t.Chance-1e-9 {
			return false
		}
	}
	return true
}

func (p *Programme) costs(x []int) float64 {
	sum := 0.0
	for j, v := range x {
		sum += p.Cost[j] * float64(v)
	}
	return sum
}

// cheapest is the least cost of a plan that meets all, +Inf if there is none.
func (p *Programme) cheapest() float64 {
	best := math.Inf(1)
	p.plans(func(x []int) {
		if c := p.costs(x); c < best && p.meets(x) {
			best = c
		}
	})
	return best
}
